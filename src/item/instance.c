/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/item/instance.h>

#include <math.h>
#include <string.h>

#include "course/course.h"

static const double ten_to[] = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9};

static enum bad asks_new(struct arena *a, const struct problem *p, struct instance_ask *ask)
{
	for (size_t k = 0; k < p->nask; k++) {
		ask[k].slip = arena_many(a, p->ask[k].nslip + 1, double);
		if (!ask[k].slip)
			return BAD_MEMORY;
	}
	return FINE;
}

enum bad instance_new(struct arena *a, const struct problem *p, struct instance **out)
{
	struct instance *i = arena_new(a, struct instance);
	size_t n = p->scope.n + 1;
	if (!i)
		return BAD_MEMORY;
	*i = (struct instance){.problem = p};
	i->value = arena_many(a, n, struct formula_value);
	i->ask = arena_many(a, p->nask, struct instance_ask);
	i->room = arena_many(a, n * FORMULA_LENGTH, double);
	i->work = arena_new(a, struct formula_work);
	if (!i->value || !i->ask || !i->room || !i->work || asks_new(a, p, i->ask))
		return BAD_MEMORY;
	*out = i;
	return FINE;
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* A number in the draw's unit as an inside value. One multiplication, so the same everywhere. */
static double inside(const struct draw *d, double number)
{
	return number * d->shown.unit.factor + d->shown.unit.offset;
}

static double draw_one(const struct draw *d, uint32_t k)
{
	if (d->kind == DRAW_CHOICE)
		return inside(d, decimal_value(d->choice[k]));
	return inside(d, (double)(d->from + (int64_t)k * d->step) / ten_to[d->places]);
}

static bool is_taken(const uint32_t *k, size_t n)
{
	for (size_t j = 0; j < n; j++)
		if (k[j] == k[n])
			return true;
	return false;
}

static size_t list_length(const struct instance *i, const struct draw *d, struct stream *s)
{
	if (d->as_many != NO_SLOT)
		return i->value[d->as_many].n;
	return d->least + stream_below(s, d->most - d->least + 1);
}

static void draw_list(struct instance *i, const struct draw *d, struct stream *s, double *room)
{
	uint32_t k[FORMULA_LENGTH];
	size_t n = list_length(i, d, s);
	for (size_t j = 0; j < n; j++) {
		do
			k[j] = stream_below(s, d->n);
		while (d->different && d->n > n && is_taken(k, j));
		room[j] = draw_one(d, k[j]);
	}
	i->value[d->slot] = (struct formula_value){0, room, n};
}

static void draw_set(struct instance *i, const struct draw *d, struct stream *s, double *room)
{
	uint32_t k = stream_below(s, d->n);
	for (size_t j = 0; j < d->set_len[k]; j++)
		room[j] = inside(d, decimal_value(d->set[k][j]));
	i->value[d->slot] = (struct formula_value){0, room, d->set_len[k]};
}

static void draw_all(struct instance *i, struct stream *s)
{
	const struct problem *p = i->problem;
	for (size_t n = 0; n < p->ndraw; n++) {
		const struct draw *d = &p->draw[n];
		double *room = i->room + d->slot * FORMULA_LENGTH;
		if (d->kind == DRAW_SET)
			draw_set(i, d, s, room);
		else if (d->is_list)
			draw_list(i, d, s, room);
		else
			i->value[d->slot].number = draw_one(d, stream_below(s, d->n));
	}
}

/* ---- working out ----------------------------------------------------------------------------- */

static enum bad run_lets(struct instance *i, size_t *at)
{
	const struct problem *p = i->problem;
	for (size_t n = 0; n < p->nlet; n++) {
		const struct let *l = &p->let[n];
		struct formula_value v;
		enum bad code = formula_run(l->formula, i->value, i->work, &v);
		*at = n;
		if (code)
			return code;
		if (v.list) { /* it stands in `work` until the next run: keep it */
			double *room = i->room + l->slot * FORMULA_LENGTH;
			memmove(room, v.list, v.n * sizeof *room);
			v.list = room;
		}
		i->value[l->slot] = v;
	}
	return FINE;
}

static enum bad run_number(struct instance *i, const struct formula *f, double *out)
{
	struct formula_value v;
	enum bad code = formula_run(f, i->value, i->work, &v);
	if (!code)
		*out = v.number;
	return code;
}

static enum unfair meets_requirements(struct instance *i, struct unfair_at *at)
{
	const struct problem *p = i->problem;
	for (size_t n = 0; n < p->nrequire; n++) {
		double holds;
		at->first = n;
		if (run_number(i, p->require[n].formula, &holds))
			return UNFAIR_NO_RESULT;
		if (holds == 0)
			return UNFAIR_REQUIREMENT;
	}
	return UNFAIR_NOT;
}

static bool is_near_limit(double value, const struct formula_value *limits, double margin)
{
	if (!limits->list)
		return fabs(value - limits->number) < margin;
	for (size_t j = 0; j < limits->n; j++)
		if (fabs(value - limits->list[j]) < margin)
			return true;
	return false;
}

static enum unfair decides_clearly(struct instance *i, struct unfair_at *at)
{
	const struct problem *p = i->problem;
	for (size_t n = 0; n < p->ndecision; n++) {
		const struct decision *d = &p->decision[n];
		struct formula_value limits;
		double value;
		at->first = n;
		if (run_number(i, d->value, &value) ||
			formula_run(d->limits, i->value, i->work, &limits))
			return UNFAIR_NO_RESULT;
		if (is_near_limit(value, &limits, d->margin))
			return UNFAIR_DECISION;
	}
	return UNFAIR_NOT;
}

/* ---- tolerance ------------------------------------------------------------------------------- */

/* The answer when one reading stands at `value`; the answer as it is when that gives none. */
static double answer_with(struct instance *i, size_t ask, double *reading, double value)
{
	double kept = *reading, result = i->ask[ask].answer, got;
	size_t at;
	*reading = value;
	if (!run_lets(i, &at) && !run_number(i, i->problem->ask[ask].answer, &got) &&
		!formula_is_nothing(got))
		result = got;
	*reading = kept;
	return result;
}

static double effect(struct instance *i, size_t ask, double *reading, double half_digit)
{
	double high = answer_with(i, ask, reading, *reading + half_digit);
	double low = answer_with(i, ask, reading, *reading - half_digit);
	return (high - low) / 2;
}

/* Sum of the squared effects of all that was read on an instrument. */
static double squared_effects(struct instance *i, size_t ask)
{
	const struct problem *p = i->problem;
	double sum = 0;
	for (size_t n = 0; n < p->ndraw; n++) {
		const struct draw *d = &p->draw[n];
		struct formula_value *v = &i->value[d->slot];
		if (d->half_digit <= 0)
			continue;
		double *reading = v->list ? i->room + d->slot * FORMULA_LENGTH : &v->number;
		for (size_t j = 0; j < (v->list ? v->n : 1); j++) {
			double e = effect(i, ask, reading + j, d->half_digit);
			sum += e * e;
		}
	}
	return sum;
}

static double half_asked_digit(const struct shown *shown)
{
	return 0.5 / ten_to[shown->places] * shown->unit.factor;
}

static double tolerance(struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	if (q->tolerance == TOLERANCE_EXACT || formula_is_nothing(i->ask[ask].answer))
		return 0;
	if (q->tolerance == TOLERANCE_STATED)
		return q->stated;
	double sum = squared_effects(i, ask);
	size_t at;
	run_lets(i, &at); /* the values as drawn again */
	return sqrt(sum) + half_asked_digit(&q->shown);
}

/* ---- fairness -------------------------------------------------------------------------------- */

static bool is_apart(double a, double b, double tolerance_of_both)
{
	bool none_a = formula_is_nothing(a), none_b = formula_is_nothing(b);
	if (none_a || none_b)
		return none_a != none_b;
	double least = 2 * tolerance_of_both, scale = fabs(a) + fabs(b);
	return fabs(a - b) >= least && fabs(a - b) > 1e-9 * scale;
}

static void run_slips(struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	for (size_t n = 0; n < q->nslip; n++)
		if (run_number(i, q->slip[n].formula, &i->ask[ask].slip[n]))
			i->ask[ask].slip[n] = formula_nothing();
}

/* Does the n-th slip keep clear of the answer and of the slips before it? Slips that give nothing
 * betray nothing and are left out, but where the answer is "nothing" a slip may not be. */
static enum unfair slip_is_clear(const struct instance *i, struct unfair_at *at, size_t n)
{
	const struct instance_ask *q = &i->ask[at->ask];
	at->first = n;
	if (!is_apart(q->answer, q->slip[n], q->tolerance))
		return UNFAIR_ANSWER;
	for (size_t m = 0; m < n && q->tolerance > 0; m++) {
		at->second = m;
		if (!formula_is_nothing(q->slip[n]) &&
			!is_apart(q->slip[n], q->slip[m], q->tolerance))
			return UNFAIR_SLIPS;
	}
	return UNFAIR_NOT;
}

static enum unfair ask_is_fair(struct instance *i, struct unfair_at *at)
{
	const struct ask *q = &i->problem->ask[at->ask];
	struct instance_ask *made = &i->ask[at->ask];
	if (q->kind >= ASKED_CHOICE)
		return UNFAIR_NOT;
	if (run_number(i, q->answer, &made->answer) ||
		(formula_is_nothing(made->answer) && !q->may_refer))
		return UNFAIR_NO_RESULT;
	made->tolerance = tolerance(i, at->ask);
	run_slips(i, at->ask);
	for (size_t n = 0; n < q->nslip; n++) {
		enum unfair why = slip_is_clear(i, at, n);
		if (why)
			return why;
	}
	return UNFAIR_NOT;
}

static enum unfair judge(struct instance *i, struct unfair_at *at)
{
	if (run_lets(i, &at->first))
		return UNFAIR_NO_RESULT;
	enum unfair why = meets_requirements(i, at);
	if (!why)
		why = decides_clearly(i, at);
	for (at->ask = 0; !why && at->ask < i->problem->nask; at->ask++) {
		why = ask_is_fair(i, at);
		if (why)
			break;
	}
	return why;
}

enum unfair instance_try(struct instance *i, struct stream *s, struct unfair_at *at)
{
	*at = (struct unfair_at){0};
	draw_all(i, s);
	at->why = judge(i, at);
	return at->why;
}

enum bad instance_draw(struct instance *i, struct stream *s)
{
	struct unfair_at at;
	for (i->tries = 1; i->tries <= INSTANCE_TRIES; i->tries++)
		if (!instance_try(i, s, &at))
			return FINE;
	return BAD_UNFAIR;
}
