/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/plan.h"

#include <stdlib.h>
#include <string.h>

struct collect {
	const struct procedure *p;
	struct arena *a;
	struct plan_need *need; /* null: only counting */
	size_t n;
	uint16_t *worked; /* slots that are worked out */
	size_t nworked;
	bool out;
};

static void needs_find(struct collect *c, const struct formula *f, struct plan_need *need)
{
	uint16_t slot[512];
	size_t n = 0;
	for (size_t i = 0; i < c->nworked && n < 512; i++)
		if (formula_uses(f, c->worked[i]))
			slot[n++] = c->worked[i];
	uint16_t *kept = arena_many(c->a, n ? n : 1, uint16_t);
	c->out |= !kept;
	if (kept)
		memcpy(kept, slot, n * sizeof *slot);
	*need = (struct plan_need){f, kept, (uint16_t)(kept ? n : 0)};
}

static void take(struct collect *c, const struct formula *f)
{
	if (!f)
		return;
	if (c->need)
		needs_find(c, f, &c->need[c->n]);
	c->n++;
}

static void take_sets(struct collect *c, const struct set_values *s)
{
	for (size_t i = 0; i < s->n; i++)
		take(c, s->at[i].formula);
}

static void take_uses(struct collect *c, const struct use_stuffs *u)
{
	for (size_t i = 0; i < u->n; i++)
		take(c, u->at[i].amount);
}

static void take_cans(struct collect *c, const struct can_dos *can)
{
	for (size_t i = 0; i < can->n; i++)
		take(c, can->at[i].when);
}

static void take_step(struct collect *c, const struct work_step *s)
{
	take(c, s->only);
	take(c, s->time);
	take(c, s->wait);
	take_cans(c, &s->can);
	take_sets(c, &s->does);
	take_uses(c, &s->uses);
	for (size_t i = 0; i < s->nask; i++)
		take(c, s->ask[i].usual);
}

static void take_fault(struct collect *c, const struct fault *f)
{
	take(c, f->when);
	take(c, f->number.is);
	take(c, f->number.least);
	take(c, f->number.most);
	take_sets(c, &f->remedy.then);
	take_uses(c, &f->remedy.uses);
	for (size_t i = 0; i < f->nbring; i++)
		take(c, f->bring[i].value);
}

static void take_all(struct collect *c)
{
	const struct procedure *p = c->p;
	c->n = 0;
	for (size_t i = 0; i < p->nproperty; i++)
		take(c, p->property[i].start);
	for (size_t i = 0; i < p->nlet; i++)
		take(c, p->let[i].formula);
	for (size_t i = 0; i < p->nstep; i++)
		take_step(c, &p->step[i]);
	for (size_t i = 0; i < p->nlook; i++) {
		take_cans(c, &p->look[i].can);
		take(c, p->look[i].reads);
	}
	for (size_t i = 0; i < p->nback; i++) {
		take_cans(c, &p->back[i].can);
		take_sets(c, &p->back[i].then);
		take_uses(c, &p->back[i].uses);
	}
	for (size_t i = 0; i < p->norder; i++)
		take_sets(c, &p->order[i].does);
	for (size_t i = 0; i < p->nwindow; i++)
		take_sets(c, &p->window[i].does);
	for (size_t i = 0; i < p->nfault; i++)
		take_fault(c, &p->fault[i]);
	for (size_t i = 0; i < p->nrates; i++)
		for (int k = 0; k < RUBRIC_LEVELS; k++)
			take(c, p->rates[i].level[k]);
	take(c, p->refer);
}

static int by_formula(const void *x, const void *y)
{
	const struct plan_need *a = x, *b = y;
	uintptr_t p = (uintptr_t)a->formula, q = (uintptr_t)b->formula;
	return (p > q) - (p < q);
}

const struct plan_need *plan_find(const struct bench_plan *plan, const struct formula *f)
{
	struct plan_need key = {.formula = f};
	return bsearch(&key, plan->need, plan->n, sizeof key, by_formula);
}

static bool worked_list(struct collect *c, struct bench_plan *plan)
{
	const struct procedure *p = c->p;
	size_t n = p->scope.n;
	c->worked = arena_many(c->a, GIVEN_COUNT + p->nlet, uint16_t);
	plan->let_of = arena_many(c->a, n, const struct let *);
	plan->let_need = arena_many(c->a, n, const struct plan_need *);
	if (!c->worked || !plan->let_of || !plan->let_need)
		return false;
	for (int i = GIVEN_CLOCK + 1; i < GIVEN_COUNT; i++)
		c->worked[c->nworked++] = (uint16_t)i;
	for (size_t i = 0; i < p->nlet; i++) {
		c->worked[c->nworked++] = (uint16_t)p->let[i].slot;
		plan->let_of[p->let[i].slot] = &p->let[i];
	}
	return true;
}

enum bad plan_make(struct arena *a, const struct procedure *p, struct bench_plan **out)
{
	struct collect c = {.p = p, .a = a};
	struct bench_plan *plan = arena_new(a, struct bench_plan);
	if (!plan || !worked_list(&c, plan))
		return BAD_MEMORY;
	take_all(&c);
	plan->need = arena_many(a, c.n ? c.n : 1, struct plan_need);
	if (!plan->need)
		return BAD_MEMORY;
	c.need = plan->need;
	take_all(&c);
	plan->n = c.n;
	if (c.out)
		return BAD_MEMORY;
	qsort(plan->need, plan->n, sizeof *plan->need, by_formula);
	for (size_t i = 0; i < p->nlet; i++)
		plan->let_need[p->let[i].slot] = plan_find(plan, p->let[i].formula);
	*out = plan;
	return FINE;
}
