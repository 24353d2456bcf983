/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bench by lines: ordinary words of the trade, typed. */
#include <string.h>

#include "bench/session_parts.h"

static void tell_help(struct page *p, const struct bench_view *v);

static void tell_clock(struct page *p, const struct bench_view *v)
{
	page_row(p, "Clock", "%s", view_time(p->arena, v->bench));
}

static void tell_undo(struct page *p, const struct bench_view *v)
{
	(void)v;
	page_add(p, BLOCK_TEXT,
		"Nothing is undone at the bench: mend what has shown, or remake some of it.");
}

/* Words that only tell something. */
static const struct {
	const char *word, *does;
	session_fill *with;
} tells[] = {
	{"next", "what comes next in the order of the work", view_next},
	{"steps", "all steps of this part, and what is done", view_steps},
	{"known", "the prescription, and what was measured so far", view_known},
	{"work", "the work on the bench", view_bench},
	{"clock", "how late it is", tell_clock},
	{"help", "these words", tell_help},
};
enum { TELLS = sizeof tells / sizeof *tells };

/* What the word of a decision tells when it stands alone. */
static session_fill *const listed[DECISION_KINDS] = {[DECIDE_LOOK] = view_looks,
	[DECIDE_MEND] = view_mends,
	[DECIDE_REMAKE] = view_backs,
	[DECIDE_ORDER] = view_stuffs,
	[DECIDE_DO] = view_next,
	[DECIDE_NAME] = view_names};

/* A hunt ends with a name, other work with its release. */
static bool is_for(const struct bench *b, enum decision_kind kind)
{
	bool is_hunt = b->mode == BENCH_HUNT;
	return kind == DECIDE_NAME                             ? is_hunt
	       : kind == DECIDE_MEND || kind == DECIDE_RELEASE ? !is_hunt
							       : decision_words[kind].does != NULL;
}

static void tell_help(struct page *p, const struct bench_view *v)
{
	page_add(p, BLOCK_HEADING, "What can be typed");
	for (int i = 0; i < DECISION_KINDS; i++)
		if (is_for(v->bench, (enum decision_kind)i))
			page_add(p, BLOCK_ITEM, "%s%s%s: %s", decision_words[i].word,
				*decision_words[i].takes ? " " : "", decision_words[i].takes,
				decision_words[i].does);
	for (int i = 0; i < TELLS; i++)
		page_add(p, BLOCK_ITEM, "%s: %s", tells[i].word, tells[i].does);
	page_add(p, BLOCK_ITEM, "leave: go; the work stays as it is until you come back");
}

static bool is_typed(const char *typed, const char *word)
{
	size_t i = 0;
	for (; typed[i] && word[i]; i++)
		if ((typed[i] | 0x20) != word[i])
			return false;
	return !typed[i] && !word[i];
}

static session_fill *telling(const char *typed)
{
	for (int i = 0; i < TELLS; i++)
		if (is_typed(typed, tells[i].word))
			return tells[i].with;
	for (int i = 0; i < DECISION_KINDS; i++)
		if (listed[i] && is_typed(typed, decision_words[i].word))
			return listed[i];
	return is_typed(typed, "measure") ? view_looks : is_typed(typed, "undo") ? tell_undo : NULL;
}

void typed_turn(struct session *s)
{
	bool is_hunt = s->bench->mode == BENCH_HUNT;
	struct question q = {.kind = ASK_LINE,
		.prompt = "What do you do?",
		.unit = "",
		.words = is_hunt ? "name, look, known, steps, the word of a step, wait, help"
				 : "the word of a step, next, look, known, steps, mend, remake, "
				   "order, wait, release, refer, scrap, help"};
	struct reply r;
	struct deed d;
	char why[DECISION_WHY];
	if (!session_ask(s, &q, &r)) {
		if (s->left == REPLY_GO)
			s->left = REPLY_BACK;
		return;
	}
	session_fill *told = telling(r.text);
	if (told)
		session_tell_filled(s, told);
	else if (decision_read(s->bench, r.text, strlen(r.text), &d, why))
		session_say(s, BLOCK_BAD, why);
	else
		asks_decide(s, &d);
}
