/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a run begins: room for it, the case, the work before the part, the seeded fault; and somebody
 * who knows, who does all that. */
#include <math.h>
#include <string.h>

#include "bench/plan.h"

#define TIMED_FACTOR 1.25 /* of what somebody who knows takes; course value */

enum bad bench_new(struct arena *a, const struct procedure *p, struct bench **out)
{
	struct bench *b = arena_new(a, struct bench);
	struct bench_plan *plan;
	if (!b || plan_make(a, p, &plan))
		return BAD_MEMORY;
	b->procedure = p;
	b->plan = plan;
	b->work = arena_new(a, struct formula_work);
	b->value = arena_many(a, p->scope.n, struct formula_value);
	b->room = arena_many(a, p->scope.n * BENCH_VALUES, double);
	b->fresh = arena_many(a, p->scope.n, uint64_t);
	b->bar_room = arena_new(a, struct bar_room);
	b->step = arena_many(a, p->nstep, struct step_mark);
	b->fault = arena_many(a, p->nfault + 1, struct fault_mark);
	b->stock = arena_many(a, p->nstuff + 1, double);
	b->used = arena_many(a, p->nstuff + 1, double);
	if (!b->work || !b->value || !b->room || !b->fresh || !b->bar_room || !b->step ||
		!b->fault || !b->stock || !b->used)
		return BAD_MEMORY;
	*out = b;
	return FINE;
}

/* ---- the case -------------------------------------------------------------------------------- */

static double draw_one(const struct draw *d, struct stream *s)
{
	uint32_t k = stream_below(s, d->n);
	struct decimal x = {d->from + (int64_t)k * d->step, d->places};
	if (d->kind == DRAW_CHOICE)
		x = d->choice[k];
	return decimal_value(x) * d->shown.unit.factor + d->shown.unit.offset;
}

static void property_start(struct bench *b, const struct property *x, struct stream *s)
{
	double list[BENCH_VALUES] = {0};
	size_t n = values_count(b, x->slot);
	struct formula_value v;
	if (x->start) {
		if (!values_run(b, x->start, &v))
			values_set(b, x->slot, &v);
		return;
	}
	for (size_t i = 0; i < n; i++)
		list[i] = x->draw ? draw_one(x->draw, s) : 0;
	v = (struct formula_value){list[0], x->each == EACH_ONE ? NULL : list, n};
	values_set(b, x->slot, &v);
}

static void values_zero(struct bench *b)
{
	const struct procedure *p = b->procedure;
	double none[BENCH_VALUES] = {0};
	memset(b->fresh, 0, p->scope.n * sizeof *b->fresh);
	b->age = 1;
	for (size_t i = 0; i < p->scope.n; i++)
		if (p->each[i] == EACH_ONE)
			b->value[i] = (struct formula_value){0, NULL, 0};
		else
			values_set(b, i, &(struct formula_value){0, none, values_count(b, i)});
}

static void case_draw(struct bench *b)
{
	const struct procedure *p = b->procedure;
	struct stream s;
	bench_stream(b, PURPOSE_CASE, 0, b->redrawn, &s);
	b->bench_case = stream_below(&s, (uint32_t)p->ncase);
	const struct bench_case *c = &p->cases[b->bench_case];
	b->nsite = c->nsite;
	values_zero(b);
	for (size_t i = 0; i < p->nproperty; i++) {
		const struct case_value *given = NULL;
		for (size_t k = 0; k < c->nvalue; k++)
			if (c->value[k].property == i)
				given = &c->value[k];
		if (!given) {
			property_start(b, &p->property[i], &s);
			continue;
		}
		struct formula_value v = {given->value[0],
			p->property[i].each == EACH_ONE ? NULL : given->value, given->n};
		values_set(b, p->property[i].slot, &v);
	}
}

static void marks_clear(struct bench *b)
{
	const struct procedure *p = b->procedure;
	memset(b->fault, 0, p->nfault * sizeof *b->fault);
	for (size_t i = 0; i < p->nfault; i++) {
		struct fault_mark *m = &b->fault[i];
		m->made_s = m->could_s = m->found_s = m->shown_s = m->mended_s = -1;
	}
	for (size_t i = 0; i < p->nstep; i++) {
		const struct formula *only = p->step[i].only;
		/* below -1: it does not apply */
		b->step[i] = (struct step_mark){.done_s = only && !bench_truth(b, only) ? -2 : -1};
	}
	for (size_t i = 0; i < p->nstuff; i++) {
		b->stock[i] = p->stuff[i].stock;
		b->used[i] = 0;
	}
}

static void counts_clear(struct bench *b)
{
	b->money = b->attended_s = 0;
	b->decisions = b->looks = 0;
	b->reasons = b->reasons_right = 0;
	b->orders = b->windows = 0;
	b->critical_order = b->time_is_up = false;
	b->nlog = b->lost = b->first_new = 0;
	b->why = NULL;
}

/* ---- somebody who knows ---------------------------------------------------------------------- */

static const struct bring *brought(
	const struct procedure *p, size_t fault, size_t step, const struct hand_ask *ask)
{
	for (size_t i = 0; fault != SIZE_MAX && i < p->fault[fault].nbring; i++) {
		const struct bring *x = &p->fault[fault].bring[i];
		if (x->step == step && x->ask == ask && x->value)
			return x;
	}
	return NULL;
}

bool bench_brought_skips(const struct bench *b, size_t step, size_t fault)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; fault != SIZE_MAX && i < p->fault[fault].nbring; i++)
		if (p->fault[fault].bring[i].skip && p->fault[fault].bring[i].step == step)
			return true;
	return false;
}

double bench_brought_waits(const struct bench *b, size_t step, size_t fault)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; fault != SIZE_MAX && i < p->fault[fault].nbring; i++)
		if (p->fault[fault].bring[i].wait_s > 0 && p->fault[fault].bring[i].step == step)
			return p->fault[fault].bring[i].wait_s;
	return 0;
}

static double within(const struct hand_ask *x, double value)
{
	if (x->kind != HAND_NUMBER)
		return value;
	return fmin(x->high, fmax(x->low, formula_is_nothing(value) ? x->low : value));
}

static void answer(struct bench *b, size_t step, size_t k, size_t fault, double *out)
{
	const struct procedure *p = b->procedure;
	const struct hand_ask *x = &p->step[step].ask[k];
	const struct bring *bring = brought(p, fault, step, x);
	const struct formula *f = bring ? bring->value : x->usual;
	struct formula_value v = {0};
	if (values_run(b, f, &v))
		v = (struct formula_value){formula_nothing(), NULL, 0};
	for (size_t i = 0; i < each_count(x->each, b->nsite); i++)
		out[i] = within(x, v.list ? i < v.n ? v.list[i] : v.list[v.n - 1] : v.number);
}

/* Later answers may hang on earlier ones of the same step: each stands in its slot while the others
 * are thought out. */
void bench_usual(struct bench *b, size_t step, size_t fault, struct bench_input *out)
{
	const struct work_step *s = &b->procedure->step[step];
	struct bench_input before;
	for (size_t i = 0; i < s->nask; i++) {
		const struct formula_value *v = &b->value[s->ask[i].slot];
		if (v->list)
			memcpy(before.value[i], v->list, v->n * sizeof *v->list);
		else
			before.value[i][0] = v->number;
		answer(b, step, i, fault, out->value[i]);
		values_set(b, s->ask[i].slot,
			&(struct formula_value){out->value[i][0],
				s->ask[i].each == EACH_ONE ? NULL : out->value[i],
				each_count(s->ask[i].each, b->nsite)});
	}
	for (size_t i = 0; i < s->nask; i++)
		values_set(b, s->ask[i].slot,
			&(struct formula_value){before.value[i][0],
				s->ask[i].each == EACH_ONE ? NULL : before.value[i],
				each_count(s->ask[i].each, b->nsite)});
}

bool bench_work_on(struct bench *b, size_t from, size_t to, size_t fault, size_t *at)
{
	for (size_t i = from; i <= to; i++) {
		struct bench_input input;
		double wait_s = bench_brought_waits(b, i, fault);
		*at = i;
		if (!bench_applies(b, i) || bench_brought_skips(b, i, fault))
			continue;
		if (wait_s > 0 && bench_wait(b, wait_s))
			return false;
		bench_usual(b, i, fault, &input);
		if (bench_do(b, i, &input))
			return false;
	}
	return true;
}

/* ---- starting -------------------------------------------------------------------------------- */

enum { CASE_DRAWS = 64 };

/* The case, and the work up to the part as by somebody who knows; false when that cannot be done. */
static bool case_begin(struct bench *b)
{
	const struct part *part = &b->procedure->part[b->part];
	enum bench_mode mode = b->mode;
	size_t at;
	b->mode = BENCH_FREE;
	b->end = END_NONE;
	b->limit_s = INFINITY;
	b->seeded = SIZE_MAX;
	b->named = (struct hunt_answer){SIZE_MAX, SIZE_MAX, SIZE_MAX};
	b->shown_by = SIZE_MAX;
	b->unmet = 0;
	b->bar_known = false;
	case_draw(b);
	marks_clear(b);
	counts_clear(b);
	b->from = 0;
	b->to = b->procedure->nstep - 1;
	bool is_ready = !part->from || bench_work_on(b, 0, part->from - 1, SIZE_MAX, &at);
	b->from = part->from;
	b->to = part->to;
	b->start_s = bench_clock_s(b);
	counts_clear(b);
	b->mode = mode;
	return is_ready;
}

static double step_time_s(struct bench *b, size_t step)
{
	const struct work_step *s = &b->procedure->step[step];
	return fmax(0, bench_number(b, s->time)) +
	       (s->wait ? fmax(0, bench_number(b, s->wait)) : 0);
}

/* What the steps take that could not be done: a case that is to be referred back has the same limit, or
 * the clock would tell it. */
static double rest_s(struct bench *b, size_t from)
{
	double sum = 0;
	for (size_t i = from; i <= b->to; i++)
		if (bench_applies(b, i))
			sum += step_time_s(b, i);
	return sum;
}

/* To look once at all there is. */
static double looks_s(const struct bench *b)
{
	const struct procedure *p = b->procedure;
	double sum = 0;
	for (size_t i = 0; i < p->nlook; i++)
		if (p->look[i].from == SIZE_MAX ||
			(p->look[i].from >= b->from && p->look[i].from <= b->to))
			sum += p->look[i].time_s;
	return sum;
}

/* How long somebody who knows would take, and some more, and time to measure. */
static void limit_set(struct bench *b)
{
	size_t at;
	b->mode = BENCH_FREE;
	bool is_done = bench_work_on(b, b->from, b->to, SIZE_MAX, &at);
	double took_s = bench_clock_s(b) - b->start_s + (is_done ? 0 : rest_s(b, at));
	case_begin(b);
	b->mode = BENCH_TIMED;
	b->limit_s = b->start_s + TIMED_FACTOR * took_s + looks_s(b);
}

/* ---- hunts ----------------------------------------------------------------------------------- */

/* A fault that is made in the part, lies hidden for a while and can be looked for. */
static bool may_seed(const struct bench *b, size_t fault)
{
	const struct procedure *p = b->procedure;
	const struct part *part = &p->part[b->part];
	const struct fault *f = &p->fault[fault];
	return f->made >= part->from && f->made <= part->to && f->shows != f->made &&
	       f->look != SIZE_MAX && f->nbring && bench_applies(b, f->made);
}

static size_t seed_pick(struct bench *b, struct stream *s)
{
	size_t may[PROCEDURE_FAULTS], n = 0;
	for (size_t i = 0; i < b->procedure->nfault; i++)
		if (may_seed(b, i))
			may[n++] = i;
	return n ? may[stream_below(s, (uint32_t)n)] : SIZE_MAX;
}

/* The work as it stands after `stop` with the fault brought in: is it there, alone and unseen? */
static bool seed_stands(struct bench *b, size_t fault, size_t stop)
{
	size_t at;
	if (!case_begin(b) || !bench_work_on(b, b->from, stop, fault, &at) ||
		b->fault[fault].is_shown)
		return false;
	for (size_t k = 0; k < b->procedure->nfault; k++)
		if (b->fault[k].is_there != (k == fault))
			return false;
	return true;
}

static bool seed_is_found(struct bench *b, size_t fault)
{
	struct bench_reading reading;
	size_t look = b->procedure->fault[fault].look;
	return bench_can_look(b, look) && !bench_look(b, look, SIZE_MAX, &reading) &&
	       b->fault[fault].is_found;
}

static bool seed_hides(struct bench *b, size_t fault, size_t stop)
{
	return seed_stands(b, fault, stop) && seed_is_found(b, fault) &&
	       seed_stands(b, fault, stop); /* as before the look */
}

/* The work stops somewhere between the step after the one where the fault was made and the one before
 * it shows, where a look finds it; else right where it was made. */
static bool seed_at(struct bench *b, size_t fault, struct stream *s)
{
	const struct fault *f = &b->procedure->fault[fault];
	size_t last = f->shows <= b->to ? f->shows - 1 : b->to;
	size_t n = last - f->made, turn = n ? stream_below(s, (uint32_t)n) : 0;
	for (size_t i = 0; i < n; i++)
		if (seed_hides(b, fault, f->made + 1 + (turn + i) % n))
			return true;
	return seed_hides(b, fault, f->made);
}

static void seed(struct bench *b, size_t wanted)
{
	struct stream s;
	size_t fault = SIZE_MAX;
	bool is_hidden = false;
	b->mode = BENCH_FREE;
	for (b->redrawn = 0; !is_hidden && b->redrawn < CASE_DRAWS; b->redrawn += !is_hidden) {
		case_begin(b);
		bench_stream(b, PURPOSE_SEED, 0, b->redrawn, &s);
		fault = wanted == SIZE_MAX ? seed_pick(b, &s) : wanted;
		is_hidden = fault != SIZE_MAX && may_seed(b, fault) && seed_at(b, fault, &s);
	}
	b->mode = BENCH_HUNT;
	b->seeded = is_hidden ? fault : SIZE_MAX;
}

static void start(struct bench *b, const unsigned char key[static BENCH_KEY], size_t part,
	enum bench_mode mode, size_t fault)
{
	memcpy(b->key, key, BENCH_KEY);
	b->part = part;
	b->mode = mode;
	for (b->redrawn = 0; !case_begin(b) && b->redrawn < CASE_DRAWS; b->redrawn++)
		;
	if (mode == BENCH_TIMED)
		limit_set(b);
	if (mode == BENCH_HUNT) {
		seed(b, fault);
		b->nlog = b->first_new = 0; /* nobody saw it being made */
		b->reasons = b->reasons_right = 0;
	}
	b->decisions = 0;
}

void bench_start(struct bench *b, const unsigned char key[static BENCH_KEY], size_t part,
	enum bench_mode mode)
{
	start(b, key, part, mode, SIZE_MAX);
}

void bench_start_hunt(
	struct bench *b, const unsigned char key[static BENCH_KEY], size_t part, size_t fault)
{
	start(b, key, part, BENCH_HUNT, fault);
}
