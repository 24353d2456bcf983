/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/progress.h"

#include <string.h>

#include <barwright/record/lines.h>

enum bad progress_init(struct progress *p, struct arena *a, const struct course *c)
{
	struct progress made = {.course = c, .arena = a};
	made.item = arena_many(a, c->nmodule + 1, struct progress_item *);
	if (!made.item)
		return BAD_MEMORY;
	for (size_t m = 0; m < c->nmodule; m++) {
		made.item[m] = arena_many(a, c->module[m].nproblem + 1, struct progress_item);
		if (!made.item[m])
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

static void count_answered(
	struct progress *p, const char *code, bool first_try, enum outcome outcome, int64_t ms)
{
	struct spot s = find_code(p, code);
	if (!s.item)
		return;
	if (first_try) {
		s.item->answered++;
		s.item->right += outcome == OUTCOME_RIGHT;
	}
	s.item->last_ms = ms;
	s.item->last_right = outcome == OUTCOME_RIGHT;
	p->last_ms = ms;
	p->last_module = s.module;
	p->last_problem = s.problem;
	p->last_outcome = outcome;
}

/* ---- from a strand --------------------------------------------------------------------------- */

static enum bad count_line(struct progress *p, const struct strand_line *line)
{
	union {
		struct line_open open;
		struct line_draw draw;
		struct line_answer answer;
	} x;
	enum outcome outcome;
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
			count_drawn(p, x.draw.item, x.draw.attempt);
		return FINE;
	case LINE_ANSWER:
		if (p->counting && !line_answer_read(line, p->arena, &x.answer) &&
			!outcome_read(x.answer.outcome, &outcome))
			count_answered(p, x.answer.item, x.answer.turn == 1, outcome, line->at_ms);
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

void progress_answered(struct progress *p, const struct problem *problem, bool first_try,
	enum outcome outcome, int64_t now_ms)
{
	count_answered(p, problem->code, first_try, outcome, now_ms);
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
		if (item[k].drawn < least) {
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
		if (m == but || !m->nproblem || !is_better(why, sum.last_ms, best.why, best_ms))
			continue;
		best = (struct next){why, m, progress_pick(p, m)};
		best_ms = sum.last_ms;
	}
	return best;
}

struct next progress_next(const struct progress *p, const struct module *but)
{
	struct next best = best_module(p, but);
	return best.why || !but ? best : best_module(p, NULL);
}
