/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/progress.h"

#include <string.h>

#include <barwright/record/lines.h>

#include "desk/lead.h"

static enum bad items_init(struct arena *a, const struct module *m, struct progress_item *item)
{
	for (size_t k = 0; k < m->nproblem; k++) {
		const struct problem *p = &m->problem[k];
		item[k].ask = arena_many(a, p->nask, struct progress_ask);
		if (!item[k].ask)
			return BAD_MEMORY;
		for (size_t n = 0; n < p->nask; n++)
			item[k].ask[n].led = lead_first(&p->ask[n]);
	}
	return FINE;
}

enum bad progress_init(struct progress *p, struct arena *a, const struct course *c)
{
	struct progress made = {.course = c, .arena = a};
	made.item = arena_many(a, c->nmodule + 1, struct progress_item *);
	if (!made.item)
		return BAD_MEMORY;
	for (size_t m = 0; m < c->nmodule; m++) {
		made.item[m] = arena_many(a, c->module[m].nproblem + 1, struct progress_item);
		if (!made.item[m] || items_init(a, &c->module[m], made.item[m]))
			return BAD_MEMORY;
	}
	*p = made;
	return FINE;
}

/* Where a problem stands in the course. */
struct spot {
	struct progress_item *item; /* null: it is not in the course */
	const struct module *module;
	const struct problem *problem;
};

static struct spot find_code(const struct progress *p, const char *code)
{
	for (size_t m = 0; m < p->course->nmodule; m++) {
		const struct module *module = &p->course->module[m];
		for (size_t k = 0; k < module->nproblem; k++)
			if (strcmp(module->problem[k].code, code) == 0)
				return (struct spot){&p->item[m][k], module, &module->problem[k]};
	}
	return (struct spot){0};
}

static void count_drawn(struct progress *p, const char *code, uint64_t attempt)
{
	struct spot s = find_code(p, code);
	if (s.item && attempt > s.item->drawn)
		s.item->drawn = attempt;
}

static void count_example(struct progress *p, const char *code)
{
	struct spot s = find_code(p, code);
	if (s.item)
		s.item->is_begun = true;
}

/* Which slip of an ask, or which option that betrays one, has this code? */
static short slip_of(const struct ask *q, const char *code, size_t len)
{
	for (size_t n = 0; len && n < q->nslip; n++)
		if (strlen(q->slip[n].name) == len && !memcmp(q->slip[n].name, code, len))
			return (short)n;
	for (size_t n = 0; len && n < q->noffer; n++)
		if (strlen(q->offer[n].slip) == len && !memcmp(q->offer[n].slip, code, len))
			return (short)n;
	return NO_SLIP_FITS;
}

static void keep_past(struct progress *p, const struct ask *q, struct progress_ask *ask,
	const struct progress_answer *a)
{
	size_t first = strcspn(a->slip, "+/");
	const char *second = a->slip[first] ? a->slip + first + 1 : "";
	ask->past[ask->next_past] = (struct progress_past){a->outcome, slip_of(q, a->slip, first),
		slip_of(q, second, strlen(second)), (uint32_t)p->sittings, a->at_ms};
	ask->next_past = (unsigned char)((ask->next_past + 1) % PAST_KEPT);
	if (ask->npast < PAST_KEPT)
		ask->npast++;
}

/* Is no more known of it than course_heads gives? */
static bool is_head(const struct problem *p)
{
	return !p->nask;
}

static void count_first(struct progress *p, const struct spot *s, const struct progress_answer *a)
{
	bool right = a->outcome == OUTCOME_RIGHT;
	if (a->is_alone) {
		s->item->answered++;
		s->item->right += right;
	}
	if (is_head(s->problem))
		return;
	const struct ask *q = &s->problem->ask[a->ask];
	struct progress_ask *ask = &s->item->ask[a->ask];
	keep_past(p, q, ask, a);
	lead_on(q, a->led, right, ask);
}

static void count_answered(struct progress *p, const char *code, const struct progress_answer *a)
{
	struct spot s = find_code(p, code);
	if (!s.item || (!is_head(s.problem) && a->ask >= s.problem->nask))
		return;
	if (a->first_try)
		count_first(p, &s, a);
	s.item->is_begun = true;
	s.item->last_ms = a->at_ms;
	s.item->last_right = a->outcome == OUTCOME_RIGHT;
	p->last_ms = a->at_ms;
	p->last_module = s.module;
	p->last_problem = s.problem;
	p->last_outcome = a->outcome;
}

/* ---- from a strand --------------------------------------------------------------------------- */

static void count_draw_line(struct progress *p, const struct line_draw *draw)
{
	if (draw->attempt)
		count_drawn(p, draw->item, draw->attempt);
	else
		count_example(p, draw->item);
}

/* Steps that were filled in are no answers of their own. */
static void count_answer_line(struct progress *p, const struct line_answer *x, int64_t at_ms)
{
	struct progress_answer a = {.ask = (size_t)x->ask - 1,
		.first_try = x->turn == 1,
		.is_alone = !x->led && !x->hints,
		.led = x->led,
		.slip = x->slip,
		.at_ms = at_ms};
	if (x->ask && !x->step && !outcome_read(x->outcome, &a.outcome))
		count_answered(p, x->item, &a);
}

static enum bad count_line(struct progress *p, const struct strand_line *line)
{
	union {
		struct line_open open;
		struct line_draw draw;
		struct line_answer answer;
	} x;
	switch (line_kind(line->kind)) {
	case LINE_OPEN:
		if (line_open_read(line, p->arena, &x.open))
			return FINE;
		/* what is assessed is not practice, and says nothing before it is over */
		p->counting = strcmp(x.open.course, p->course->code) == 0 &&
			      strcmp(x.open.mode, "sit") != 0;
		p->sittings += p->counting;
		return FINE;
	case LINE_DRAW:
		if (p->counting && !line_draw_read(line, p->arena, &x.draw))
			count_draw_line(p, &x.draw);
		return FINE;
	case LINE_ANSWER:
		if (p->counting && !line_answer_read(line, p->arena, &x.answer))
			count_answer_line(p, &x.answer, line->at_ms);
		return FINE;
	default:
		return FINE;
	}
}

enum bad progress_line(void *progress, const struct strand_line *line)
{
	return line->erased ? FINE : count_line(progress, line);
}

/* ---- now ------------------------------------------------------------------------------------- */

void progress_drawn(struct progress *p, const struct problem *problem)
{
	count_drawn(p, problem->code, progress_of(p, problem)->drawn + 1);
}

void progress_answered(
	struct progress *p, const struct problem *problem, const struct progress_answer *a)
{
	count_answered(p, problem->code, a);
}

void progress_leave_out(struct progress *p, const struct problem *problem)
{
	struct spot s = find_code(p, problem->code);
	if (s.item)
		s.item->left_out = true;
}

void progress_example(struct progress *p, const struct problem *problem)
{
	count_example(p, problem->code);
}

const struct progress_item *progress_of(const struct progress *p, const struct problem *problem)
{
	static const struct progress_item none;
	struct spot s = find_code(p, problem->code);
	return s.item ? s.item : &none;
}

struct progress_sum progress_module(const struct progress *p, const struct module *m)
{
	struct progress_sum sum = {0};
	const struct progress_item *item = p->item[m - p->course->module];
	for (size_t k = 0; k < m->nproblem; k++) {
		sum.drawn += item[k].drawn;
		sum.answered += item[k].answered;
		sum.right += item[k].right;
		if (item[k].last_ms > sum.last_ms) {
			sum.last_ms = item[k].last_ms;
			sum.last_right = item[k].last_right;
		}
	}
	return sum;
}

/* ---- what next ------------------------------------------------------------------------------- */

const struct problem *progress_pick(const struct progress *p, const struct module *m)
{
	const struct progress_item *item = p->item[m - p->course->module];
	const struct problem *best = NULL;
	uint64_t least = UINT64_MAX;
	for (size_t k = 0; k < m->nproblem; k++)
		if (!item[k].left_out && item[k].drawn < least) {
			least = item[k].drawn;
			best = &m->problem[k];
		}
	return best;
}

static enum next_why why_next(struct progress_sum sum)
{
	if (!sum.last_ms)
		return NEXT_NEW;
	return sum.last_right ? NEXT_OLDEST : NEXT_MISTAKE;
}

/* Is `a` worth more than `b`? The reasons stand in the order of their worth. */
static bool is_better(enum next_why a, int64_t a_ms, enum next_why b, int64_t b_ms)
{
	return b == NEXT_NOTHING || a < b || (a == b && a_ms < b_ms);
}

static struct next best_module(const struct progress *p, const struct module *but)
{
	struct next best = {0};
	int64_t best_ms = 0;
	for (size_t k = 0; k < p->course->nmodule; k++) {
		const struct module *m = &p->course->module[k];
		struct progress_sum sum = progress_module(p, m);
		enum next_why why = why_next(sum);
		const struct problem *pick = progress_pick(p, m);
		if (m == but || !pick || !is_better(why, sum.last_ms, best.why, best_ms))
			continue;
		best = (struct next){why, m, pick};
		best_ms = sum.last_ms;
	}
	return best;
}

struct next progress_next(const struct progress *p, const struct module *but)
{
	struct next best = best_module(p, but);
	return best.why || !but ? best : best_module(p, NULL);
}
