/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/item/instance.h>

#include <math.h>
#include <string.h>

#include "course/course.h"
#include "item/plan.h"

static enum bad ask_new(
	struct arena *a, const struct plan_ask *plan, size_t nslip, struct instance_ask *out)
{
	out->slip = arena_many(a, nslip + 1, double);
	out->pair = arena_many(a, plan->npair + 1, struct slip_pair);
	out->npair = plan->npair;
	if (!out->slip || !out->pair)
		return BAD_MEMORY;
	for (size_t k = 0; k < plan->npair; k++)
		out->pair[k] = (struct slip_pair){.first = plan->pair[k].first,
			.second = plan->pair[k].second,
			.value = formula_nothing()};
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
	i->drawn = arena_many(a, p->ndraw + 1, uint32_t);
	i->work = arena_new(a, struct formula_work);
	if (!i->value || !i->ask || !i->room || !i->drawn || !i->work || plan_new(a, p, &i->plan))
		return BAD_MEMORY;
	for (size_t k = 0; k < p->nask; k++)
		if (ask_new(a, &i->plan->ask[k], p->ask[k].nslip, &i->ask[k]))
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
	return inside(
		d, decimal_value((struct decimal){d->from + (int64_t)k * d->step, d->places}));
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
		while (d->different && d->n >= n && is_taken(k, j));
		room[j] = draw_one(d, k[j]);
	}
	i->value[d->slot] = (struct formula_value){0, room, n};
}

static void draw_set(struct instance *i, const struct draw *d, uint32_t k, double *room)
{
	for (size_t j = 0; j < d->set_len[k]; j++)
		room[j] = inside(d, decimal_value(d->set[k][j]));
	i->value[d->slot] = (struct formula_value){0, room, d->set_len[k]};
}

/* Which of its values a draw takes: that of the draw it goes together with, if there is one. */
static uint32_t take_one(struct instance *i, size_t n, struct stream *s)
{
	const struct draw *d = &i->problem->draw[n];
	uint32_t k = d->together ? i->drawn[d->together - i->problem->draw] : stream_below(s, d->n);
	return i->drawn[n] = k;
}

static void draw_all(struct instance *i, struct stream *s)
{
	const struct problem *p = i->problem;
	for (size_t n = 0; n < p->ndraw; n++) {
		const struct draw *d = &p->draw[n];
		double *room = i->room + d->slot * FORMULA_LENGTH;
		if (d->kind == DRAW_SET)
			draw_set(i, d, take_one(i, n, s), room);
		else if (d->is_list)
			draw_list(i, d, s, room);
		else
			i->value[d->slot].number = draw_one(d, take_one(i, n, s));
	}
}

/* ---- working out ----------------------------------------------------------------------------- */

static enum unfair run_lets(struct instance *i, struct unfair_at *at)
{
	const struct problem *p = i->problem;
	for (size_t n = 0; n < p->nlet; n++) {
		const struct let *l = &p->let[n];
		struct formula_value v;
		if (formula_run(l->formula, i->value, i->work, &v)) {
			at->first = n;
			formula_failed(l->formula, i->work, &at->failure);
			return UNFAIR_LET;
		}
		if (v.list) { /* it stands in `work` until the next run: keep it */
			double *room = i->room + l->slot * FORMULA_LENGTH;
			memmove(room, v.list, v.n * sizeof *room);
			v.list = room;
		}
		i->value[l->slot] = v;
	}
	return UNFAIR_NOT;
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

/* ---- fairness -------------------------------------------------------------------------------- */

static enum unfair judge(struct instance *i, struct unfair_at *at)
{
	enum unfair why = run_lets(i, at);
	i->all_clear = true;
	if (!why)
		why = meets_requirements(i, at);
	if (!why)
		why = decides_clearly(i, at);
	for (at->ask = 0; !why && at->ask < i->problem->nask; at->ask++) {
		why = ask_is_fair(i, at);
		if (why)
			break;
	}
	return why;
}

/* ---- shuffling ------------------------------------------------------------------------------- */

static void shuffle(struct stream *s, uint32_t *place, size_t n, bool keep)
{
	for (uint32_t k = 0; k < n; k++)
		place[k] = k;
	if (!keep)
		stream_shuffle(s, place, n);
}

static void shuffle_all(struct instance *i, struct stream *s)
{
	for (size_t k = 0; k < i->problem->nask; k++) {
		const struct ask *q = &i->problem->ask[k];
		struct instance_ask *made = &i->ask[k];
		if (!q->noffer)
			continue;
		shuffle(s, made->place, q->noffer, q->keep_order);
		if (q->kind == ASKED_MATCH)
			shuffle(s, made->with, q->noffer + q->nother, false);
	}
}

enum unfair instance_try(struct instance *i, struct stream *s, struct unfair_at *at)
{
	*at = (struct unfair_at){0};
	draw_all(i, s);
	at->why = judge(i, at);
	if (!at->why)
		shuffle_all(i, s);
	return at->why;
}

/* The first fair draw that is clear too; if there is none among a few, the last of them. */
enum bad instance_draw(struct instance *i, struct stream *s)
{
	struct unfair_at at;
	int unclear = 0;
	for (i->tries = 1; i->tries <= INSTANCE_TRIES; i->tries++)
		if (!instance_try(i, s, &at) && (i->all_clear || ++unclear == INSTANCE_CLEAR_TRIES))
			return FINE;
	return BAD_UNFAIR;
}
