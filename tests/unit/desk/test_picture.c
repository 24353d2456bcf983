/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawings of the demo course's problems: each can be made with every instance, and those of cross-
 * sections and schedules do not tell what is asked for. */
#include "../item/demo.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/random.h>
#include <barwright/item/instance.h>

#include "desk/picture.h"

enum { DRAWS = 100 };

/* What a number with this behind it is inside; 0: no unit of the drawings. */
static double unit_after(const char *s)
{
	static const struct {
		const char *text;
		double factor;
	} units[] = {
		{" mm", 1}, {" \xC2\xB5m", 1e-3}, {" min", 60}, {" degrees", 0.017453292519943295}};

	for (size_t i = 0; i < sizeof units / sizeof *units; i++)
		if (strncmp(s, units[i].text, strlen(units[i].text)) == 0)
			return units[i].factor;
	return 0;
}

/* Reads the quantity at *at and goes past it: "2.55 mm", "15:30". */
static bool quantity_next(const char **at, double *out, bool *clock)
{
	char *end;
	while (**at) {
		if (**at < '0' || **at > '9') {
			++*at;
			continue;
		}
		double n = strtod(*at, &end);
		*clock = *end == ':';
		double factor = *clock ? 3600 : unit_after(end);
		if (*clock)
			n += strtod(end + 1, &end) / 60;
		*at = end;
		*out = n * factor;
		if (factor > 0)
			return true;
	}
	return false;
}

/* A value that was drawn stands in the task, so it may stand in the drawing too. */
static bool is_drawn(const struct instance *i, double value)
{
	for (size_t k = 0; k < i->problem->ndraw; k++)
		if (!i->value[k].list && fabs(i->value[k].number - value) < 1e-6)
			return true;
	return false;
}

static void word_tells_nothing(const struct instance *i, const char *word, uint64_t n)
{
	const char *at = word;
	double value;
	bool clock;
	while (quantity_next(&at, &value, &clock))
		for (size_t k = 0; k < i->problem->nask; k++) {
			double answer = i->ask[k].answer;
			enum asked kind = i->problem->ask[k].kind;
			if (kind != (clock ? ASKED_TIME : ASKED_NUMBER))
				continue;
			answer = clock ? fmod(answer, 86400) : fabs(answer);
			if (fabs(answer - value) < 1e-3 * value && !is_drawn(i, value))
				fail_msg("%s, draw %d, ask %zu: the drawing tells '%s'",
					i->problem->code, (int)n, k + 1, word);
		}
}

static void figure_is_good(const struct instance *i, const struct block *b, uint64_t n)
{
	if (!b || b->kind != BLOCK_FIGURE)
		fail_msg("%s, draw %d: %s", i->problem->code, (int)n, b ? b->text : "no drawing");
	if (i->problem->figure.kind < FIGURE_SECTION)
		return;
	for (size_t k = 0; k < b->figure->nword; k++)
		word_tells_nothing(i, b->figure->words[k], n);
}

static void figures_of(const struct problem *p)
{
	struct arena a = {0};
	struct instance *i;
	assert_int_equal(instance_new(&a, p, &i), FINE);
	for (uint64_t n = 1; n <= DRAWS; n++) {
		struct arena own = {0};
		struct page page;
		struct stream s;
		stream_open(&s, &(struct draw_key){"hand-made-bar", p->code, "who", "figure", n});
		assert_int_equal(instance_draw(i, &s), FINE);
		page_init(&page, &own, "", NULL);
		picture_add(&page, &p->figure, i->value, i->work, n % 2 ? 80 : 50, '.');
		figure_is_good(i, page.first, n);
		arena_release(&own);
	}
	arena_release(&a);
}

static void every_instance_has_its_drawing_and_it_tells_no_answer(void **state)
{
	int drawn[FIGURE_SCHEDULE + 1] = {0};
	(void)state;
	for (size_t m = 0; m < demo.nmodule; m++)
		for (size_t k = 0; k < demo.module[m].nproblem; k++) {
			const struct problem *p = &demo.module[m].problem[k];
			if (p->figure.kind != FIGURE_NONE)
				figures_of(p);
			drawn[p->figure.kind]++;
		}
	for (int kind = FIGURE_ARCH; kind <= FIGURE_SCHEDULE; kind++)
		assert_int_not_equal(drawn[kind], 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_instance_has_its_drawing_and_it_tells_no_answer),
	};
	return cmocka_run_group_tests(tests, demo_open, demo_close);
}
