/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/habit.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/measure/evidence.h>

/* Mistakes that can be made anywhere, told by their outcome. */
static bool is_general(enum outcome o)
{
	return o == OUTCOME_UNIT || o == OUTCOME_SIGN || o == OUTCOME_TENFOLD ||
	       o == OUTCOME_SWAPPED || o == OUTCOME_ROUNDED || o == OUTCOME_RADIUS ||
	       o == OUTCOME_HALF_DAY;
}

/* ---- which mistakes there are ---------------------------------------------------------------- */

/* All answers that are remembered, and the codes of all mistakes in them. */
struct gathering {
	struct habit *habit;
	size_t n;
};

static const char *slip_code(const struct ask *q, short slip)
{
	if (slip < 0)
		return "";
	return q->noffer ? q->offer[slip].slip : q->slip[slip].name;
}

static void note_code(struct gathering *g, const char *code)
{
	for (size_t k = 0; k < g->n; k++)
		if (strcmp(g->habit[k].code, code) == 0)
			return;
	if (*code && g->n < HABITS_MOST)
		g->habit[g->n++] = (struct habit){.code = code};
}

static void note_past(struct gathering *g, const struct ask *q, const struct progress_past *past)
{
	if (is_general(past->outcome))
		note_code(g, outcome_word(past->outcome));
	note_code(g, slip_code(q, past->slip));
	note_code(g, slip_code(q, past->second));
}

/* ---- one mistake ----------------------------------------------------------------------------- */

/* Does the ask leave room for it? */
static bool offers(const struct ask *q, const char *code)
{
	enum outcome o;
	for (size_t n = 0; n < q->nslip; n++)
		if (strcmp(q->slip[n].name, code) == 0)
			return true;
	for (size_t n = 0; n < q->noffer; n++)
		if (strcmp(q->offer[n].slip, code) == 0)
			return true;
	return q->answer && !outcome_read(code, &o) && is_general(o);
}

static bool shows(const struct ask *q, const struct progress_past *past, const char *code)
{
	return strcmp(slip_code(q, past->slip), code) == 0 ||
	       strcmp(slip_code(q, past->second), code) == 0 ||
	       (is_general(past->outcome) && strcmp(outcome_word(past->outcome), code) == 0);
}

/* An answer that could have shown the mistake. */
struct seen {
	const struct progress_past *past;
	const struct ask *ask;
	const struct problem *problem;
};
struct answers {
	struct seen list[HABIT_ANSWERS];
	size_t n;
};

/* Keeps the last HABIT_ANSWERS, the oldest first. */
static void keep_answer(struct answers *a, const struct seen *s)
{
	size_t k = a->n;
	if (a->n == HABIT_ANSWERS) {
		if (s->past->at_ms <= a->list[0].past->at_ms)
			return;
		memmove(a->list, a->list + 1, (HABIT_ANSWERS - 1) * sizeof *a->list);
		k--;
	} else {
		a->n++;
	}
	for (; k && a->list[k - 1].past->at_ms > s->past->at_ms; k--)
		a->list[k] = a->list[k - 1];
	a->list[k] = *s;
}

typedef void each_past(void *to, const struct seen *s);

static void each_of_problem(
	const struct problem *p, const struct progress_item *item, each_past *look, void *to)
{
	for (size_t ask = 0; ask < p->nask; ask++)
		for (size_t k = 0; k < item->ask[ask].npast; k++)
			look(to, &(struct seen){&item->ask[ask].past[k], &p->ask[ask], p});
}

static void each(const struct progress *p, each_past *look, void *to)
{
	for (size_t m = 0; m < p->course->nmodule; m++)
		for (size_t k = 0; k < p->course->module[m].nproblem; k++)
			each_of_problem(&p->course->module[m].problem[k], &p->item[m][k], look, to);
}

static void gather_codes(void *to, const struct seen *s)
{
	note_past(to, s->ask, s->past);
}

struct wanted {
	const char *code;
	struct answers answers;
};

static void gather_answers(void *to, const struct seen *s)
{
	struct wanted *w = to;
	if (offers(s->ask, w->code))
		keep_answer(&w->answers, s);
}

/* Rules: to be right; this mistake; and all others taken together, which predict nothing. */
static void judge(struct habit *h, const struct answers *a)
{
	enum { RIGHT, THIS, OTHERS, RULES };
	double belief[RULES];
	uint32_t last = 0;
	evidence_prior(belief, RULES);
	for (size_t k = 0; k < a->n; k++) {
		const struct progress_past *past = a->list[k].past;
		bool fits[RULES] = {
			past->outcome == OUTCOME_RIGHT, shows(a->list[k].ask, past, h->code)};
		fits[OTHERS] = !fits[RIGHT] && !fits[THIS];
		evidence_update(belief, fits, RULES);
		h->of++;
		if (!fits[THIS])
			continue;
		h->seen++;
		h->sittings += past->sitting != last;
		last = past->sitting;
		h->last_ms = past->at_ms;
		h->problem = a->list[k].problem;
	}
	h->belief = belief[THIS];
}

static int surest_first(const void *a, const void *b)
{
	const struct habit *x = a, *y = b;
	if (x->belief != y->belief)
		return x->belief < y->belief ? 1 : -1;
	return (x->last_ms < y->last_ms) - (x->last_ms > y->last_ms);
}

enum bad habits_find(const struct progress *p, struct arena *a, struct habit **out, size_t *n)
{
	struct gathering g = {.habit = arena_many(a, HABITS_MOST, struct habit)};
	size_t kept = 0;
	if (!g.habit)
		return BAD_MEMORY;
	each(p, gather_codes, &g);
	for (size_t k = 0; k < g.n; k++) {
		struct wanted w = {.code = g.habit[k].code};
		struct habit h = g.habit[k];
		each(p, gather_answers, &w);
		judge(&h, &w.answers);
		if (evidence_is_enough(h.belief, h.seen, h.sittings))
			g.habit[kept++] = h;
	}
	qsort(g.habit, kept, sizeof *g.habit, surest_first);
	*out = g.habit;
	*n = kept;
	return FINE;
}

/* ---- in words -------------------------------------------------------------------------------- */

/* What the mistakes are that can be made anywhere; a slip is called by its code, "cap-forgotten". */
static const char *name_of(struct arena *a, const char *code)
{
	static const char *const general[OUTCOME_COUNT] = {
		[OUTCOME_UNIT] = "a wrong unit",
		[OUTCOME_SIGN] = "the wrong sign",
		[OUTCOME_TENFOLD] = "the decimal sign one place off",
		[OUTCOME_SWAPPED] = "digits that changed places",
		[OUTCOME_ROUNDED] = "rounded too early or too coarsely",
		[OUTCOME_RADIUS] = "radius and diameter",
		[OUTCOME_HALF_DAY] = "12 or 24 hours off",
	};
	enum outcome o;
	if (!outcome_read(code, &o) && general[o])
		return general[o];
	char *words = arena_copy(a, code, strlen(code));
	for (char *c = words; c && *c; c++)
		*c = (char)(*c == '-' || *c == '_' || *c == '.' ? ' ' : *c);
	return words ? words : "";
}

void habits_add(struct page *page, const struct progress *p)
{
	struct habit *h;
	size_t n;
	if (habits_find(p, page->arena, &h, &n)) {
		page->out = 1;
		return;
	}
	if (n)
		page_add(page, BLOCK_HEADING, "What keeps going wrong");
	for (size_t k = 0; k < n; k++)
		page_row(page, name_of(page->arena, h[k].code),
			"in %u of the last %u answers where it can happen, in %u %s; last in: %s",
			h[k].seen, h[k].of, h[k].sittings,
			text_plural(h[k].sittings, "sitting", "sittings"), h[k].problem->title);
}
