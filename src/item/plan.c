/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "item/plan.h"

#include <string.h>

#include "course/course.h"

/* ---- what depends on what -------------------------------------------------------------------- */

/* Marks what `end` needs, itself or by lets. */
static void mark_needed(const struct problem *p, const struct formula *end, unsigned char *need)
{
	memset(need, 0, p->scope.n + 1);
	formula_mark_used(end, need);
	for (size_t n = p->nlet; n-- > 0;)
		if (need[p->let[n].slot])
			formula_mark_used(p->let[n].formula, need);
}

static enum bad detour_new(struct arena *a, size_t room, struct detour *out)
{
	out->step = arena_many(a, room + 1, struct detour_step);
	return out->step ? FINE : BAD_MEMORY;
}

static void detour_add(struct detour *d, size_t slot, const struct formula *f)
{
	d->step[d->n++] = (struct detour_step){slot, f};
}

/* Makes the detour of `end` when the marked slots change: the lets between. */
static enum bad change_plan(struct arena *a, const struct problem *p, struct plan *plan,
	const struct formula *end, struct detour *out)
{
	*out = (struct detour){.end = end};
	mark_needed(p, end, plan->need);
	if (detour_new(a, p->nlet, out))
		return BAD_MEMORY;
	for (size_t n = 0; n < p->nlet; n++) {
		const struct let *l = &p->let[n];
		if (!formula_uses_any(l->formula, plan->mark))
			continue;
		plan->mark[l->slot] = 1;
		if (plan->need[l->slot])
			detour_add(out, l->slot, l->formula);
	}
	return FINE;
}

/* ---- slips ----------------------------------------------------------------------------------- */

static const struct instead *instead_of(const struct slip *s, size_t slot)
{
	for (size_t k = 0; s && k < s->ninstead; k++)
		if (s->instead[k].slot == slot)
			return &s->instead[k];
	return NULL;
}

/* What one or two slips (`b` may be null) put in the place of a slot. */
static const struct formula *replaced(const struct slip *a, const struct slip *b, size_t slot)
{
	const struct instead *x = instead_of(a, slot);
	if (!x)
		x = instead_of(b, slot);
	return x ? x->formula : NULL;
}

/* The way from changed names to the number of one slip, or of two made together. */
static enum bad slip_detour(struct arena *arena, const struct problem *p, struct plan *plan,
	const struct slip *a, const struct slip *b, struct detour *out)
{
	*out = (struct detour){.end = b && b->is_own ? b->formula : a->formula};
	memset(plan->mark, 0, p->scope.n + 1);
	if (detour_new(arena, p->scope.n, out))
		return BAD_MEMORY;
	for (size_t n = 0; n < p->ndraw; n++) {
		const struct formula *f = replaced(a, b, p->draw[n].slot);
		plan->mark[p->draw[n].slot] = f != NULL;
		if (f)
			detour_add(out, p->draw[n].slot, f);
	}
	for (size_t n = 0; n < p->nlet; n++) {
		size_t slot = p->let[n].slot;
		const struct formula *f = replaced(a, b, slot);
		if (f)
			detour_add(out, slot, f);
		else if (formula_uses_any(p->let[n].formula, plan->mark))
			detour_add(out, slot, p->let[n].formula);
		else
			continue;
		plan->mark[slot] = 1;
	}
	return FINE;
}

/* Two formulas of their own cannot both be followed; nor can one name be two things. */
static bool go_together(const struct slip *a, const struct slip *b)
{
	if (a->is_alone || b->is_alone || (a->is_own && b->is_own) ||
		(!a->ninstead && !b->ninstead))
		return false;
	for (size_t k = 0; k < b->ninstead; k++)
		if (instead_of(a, b->instead[k].slot))
			return false;
	return true;
}

static enum bad pairs_plan(struct arena *a, const struct problem *p, struct plan *plan,
	const struct ask *q, struct plan_ask *out)
{
	out->pair = arena_many(a, INSTANCE_PAIRS, struct plan_pair);
	if (!out->pair)
		return BAD_MEMORY;
	for (size_t n = 0; n < q->nslip; n++)
		for (size_t m = n + 1; m < q->nslip && out->npair < INSTANCE_PAIRS; m++) {
			const struct slip *x = &q->slip[n], *y = &q->slip[m];
			struct plan_pair *made = &out->pair[out->npair];
			if (!go_together(x, y))
				continue;
			*made = (struct plan_pair){.first = n, .second = m};
			if (slip_detour(a, p, plan, x, y, &made->detour))
				return BAD_MEMORY;
			out->npair++;
		}
	return FINE;
}

static enum bad slips_plan(struct arena *a, const struct problem *p, struct plan *plan,
	const struct ask *q, struct plan_ask *out)
{
	out->slip = arena_many(a, q->nslip + 1, struct detour);
	if (!out->slip)
		return BAD_MEMORY;
	for (size_t n = 0; n < q->nslip; n++)
		if (slip_detour(a, p, plan, &q->slip[n], NULL, &out->slip[n]))
			return BAD_MEMORY;
	return FINE;
}

/* ---- readings -------------------------------------------------------------------------------- */

enum bad plan_readings(struct arena *a, const struct problem *p, struct plan *plan,
	const struct formula *end, struct plan_ask *out)
{
	out->reading = arena_many(a, p->ndraw + 1, struct plan_reading);
	if (!out->reading)
		return BAD_MEMORY;
	for (size_t n = 0; n < p->ndraw; n++) {
		struct plan_reading *r = &out->reading[out->nreading];
		if (p->draw[n].half_digit <= 0)
			continue;
		memset(plan->mark, 0, p->scope.n + 1);
		plan->mark[p->draw[n].slot] = 1;
		r->draw = n;
		if (change_plan(a, p, plan, end, &r->detour))
			return BAD_MEMORY;
		out->nreading += plan->need[p->draw[n].slot];
	}
	return FINE;
}

/* For every slot the way from it to the answer, and the whole way. */
static enum bad changes_plan(struct arena *a, const struct problem *p, struct plan *plan,
	const struct formula *end, struct plan_ask *out)
{
	out->change = arena_many(a, p->scope.n + 1, struct detour);
	if (!out->change)
		return BAD_MEMORY;
	for (size_t slot = 0; slot < p->scope.n; slot++) {
		memset(plan->mark, 0, p->scope.n + 1);
		plan->mark[slot] = 1;
		if (change_plan(a, p, plan, end, &out->change[slot]))
			return BAD_MEMORY;
		if (!plan->need[slot])
			out->change[slot].end = NULL;
	}
	mark_needed(p, end, plan->need);
	out->whole.end = end;
	if (detour_new(a, p->nlet, &out->whole))
		return BAD_MEMORY;
	for (size_t n = 0; n < p->nlet; n++)
		if (plan->need[p->let[n].slot])
			detour_add(&out->whole, p->let[n].slot, p->let[n].formula);
	return FINE;
}

static enum bad ask_plan(struct arena *a, const struct problem *p, struct plan *plan,
	const struct ask *q, struct plan_ask *out)
{
	if (!q->answer)
		return FINE;
	enum bad code = q->tolerance == TOLERANCE_INSTRUMENT
				? plan_readings(a, p, plan, q->answer, out)
				: FINE;
	if (!code)
		code = changes_plan(a, p, plan, q->answer, out);
	if (!code)
		code = slips_plan(a, p, plan, q, out);
	return code ? code : pairs_plan(a, p, plan, q, out);
}

enum bad plan_new(struct arena *a, const struct problem *p, struct plan **out)
{
	struct plan *plan = arena_new(a, struct plan);
	size_t n = p->scope.n + 1;
	if (!plan)
		return BAD_MEMORY;
	plan->ask = arena_many(a, p->nask, struct plan_ask);
	plan->spare = arena_many(a, n * FORMULA_LENGTH, double);
	plan->kept = arena_many(a, n, struct formula_value);
	plan->mark = arena_many(a, n, unsigned char);
	plan->need = arena_many(a, n, unsigned char);
	if (!plan->ask || !plan->spare || !plan->kept || !plan->mark || !plan->need)
		return BAD_MEMORY;
	for (size_t k = 0; k < p->nask; k++)
		if (ask_plan(a, p, plan, &p->ask[k], &plan->ask[k]))
			return BAD_MEMORY;
	other_units_read(plan->other);
	*out = plan;
	return FINE;
}

/* ---- running --------------------------------------------------------------------------------- */

double number_of(const struct instance *i, const struct formula *f)
{
	struct formula_value v;
	return formula_run(f, i->value, i->work, &v) ? formula_nothing() : v.number;
}

static enum bad step_run(const struct instance *i, const struct detour_step *step)
{
	struct formula_value v;
	enum bad code = formula_run(step->formula, i->value, i->work, &v);
	if (code)
		return code;
	if (v.list) { /* it stands in `work` until the next run */
		double *room = i->plan->spare + step->slot * FORMULA_LENGTH;
		memmove(room, v.list, v.n * sizeof *room);
		v.list = room;
	}
	i->value[step->slot] = v;
	return FINE;
}

double detour_run(const struct instance *i, const struct detour *d)
{
	size_t n;
	enum bad code = FINE;
	for (n = 0; n < d->n && !code; n++) {
		i->plan->kept[n] = i->value[d->step[n].slot];
		code = step_run(i, &d->step[n]);
	}
	double result = code ? formula_nothing() : number_of(i, d->end);
	while (n-- > 0)
		i->value[d->step[n].slot] = i->plan->kept[n];
	return result;
}
