/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fixed items of the demo course, as a reader who knows nothing would look at them: what can be
 * found without knowing the trade must not give the answer away. The rules are those of Haladyna,
 * Downing and Rodriguez 2002, Applied Measurement in Education 15:309-333 (from memory): options of
 * about equal length, no "all of the above", wrong options that somebody would choose. */
#include "demo.h"

#include <string.h>

#include <ctype.h>

static void for_every_item(void (*look)(const struct problem *p, void *at), void *at)
{
	for (size_t m = 0; m < demo.nmodule; m++)
		for (size_t k = 0; k < demo.module[m].nproblem; k++)
			if (demo.module[m].problem[k].is_fixed)
				look(&demo.module[m].problem[k], at);
}

/* Plain text only: fixed items draw nothing. */
static size_t length(const struct template *t)
{
	size_t n = 0;
	for (size_t k = 0; k < t->n; k++)
		n += t->piece[k].len;
	return n;
}

struct ranks {
	size_t choices, longest, shortest;
};

static void rank(const struct problem *p, void *at)
{
	struct ranks *r = at;
	const struct ask *q = p->ask;
	size_t right = 0, longer = 0, shorter = 0;
	if (q->kind != ASKED_CHOICE)
		return;
	for (size_t k = 0; k < q->noffer; k++)
		if (q->offer[k].is_right)
			right = length(&q->offer[k].text);
	for (size_t k = 0; k < q->noffer; k++) {
		size_t n = length(&q->offer[k].text);
		longer += n > right;
		shorter += n < right;
	}
	r->choices++;
	r->longest += longer == 0;
	r->shortest += shorter == 0;
}

/* Whoever always takes the longest option, or the shortest, must not do much better than one in
 * three or four. */
static void length_does_not_tell_the_right_option(void **state)
{
	(void)state;
	struct ranks r = {0};
	for_every_item(rank, &r);
	assert_true(r.choices >= 100);
	if (r.longest * 10 > r.choices * 4 || r.shortest * 10 > r.choices * 4)
		fail_msg("of %zu right options %zu are the longest and %zu the shortest", r.choices,
			r.longest, r.shortest);
}

static bool has_word(const struct template *t, const char *word)
{
	char text[1024];
	size_t n = 0;
	for (size_t k = 0; k < t->n; k++)
		for (size_t i = 0; i < t->piece[k].len && n + 1 < sizeof text; i++)
			text[n++] = (char)tolower((unsigned char)t->piece[k].text[i]);
	text[n] = '\0';
	return strstr(text, word) != NULL;
}

static void refers_to_no_other(const struct problem *p, void *at)
{
	static const char *const words[] = {
		"of the above", "of these answers", "all of them", "none of them"};
	(void)at;
	for (size_t k = 0; k < p->ask->noffer; k++)
		for (size_t n = 0; n < sizeof words / sizeof *words; n++)
			if (has_word(&p->ask->offer[k].text, words[n]))
				fail_msg("%s: option %zu says '%s'", p->code, k + 1, words[n]);
}

static void options_do_not_speak_of_each_other(void **state)
{
	(void)state;
	for_every_item(refers_to_no_other, NULL);
}

/* Somebody who went wrong is told why, whatever was chosen or left out; in an order or a match it
 * is the entry that stands wrong. */
static void tells_why(const struct problem *p, void *at)
{
	const struct ask *q = p->ask;
	(void)at;
	if (q->nstep == 0 && q->kind != ASKED_MATCH)
		fail_msg("%s is not explained", p->code);
	for (size_t k = 0; k < q->noffer; k++) {
		const struct offer *o = &q->offer[k];
		bool needs = q->kind == ASKED_CHOICES || q->kind == ASKED_MATCH || !o->is_right;
		if (needs && length(&o->say) == 0)
			fail_msg("%s: nothing is said about option %zu", p->code, k + 1);
	}
}

static void whoever_goes_wrong_is_told_why(void **state)
{
	(void)state;
	for_every_item(tells_why, NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(length_does_not_tell_the_right_option),
		cmocka_unit_test(options_do_not_speak_of_each_other),
		cmocka_unit_test(whoever_goes_wrong_is_told_why),
	};
	return cmocka_run_group_tests(tests, demo_open, demo_close);
}
