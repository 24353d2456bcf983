/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/item/sample.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "course/course.h"
#include "item/plan.h"

/* ---- counting -------------------------------------------------------------------------------- */

static enum bad ask_new(struct arena *a, const struct ask *q, const struct instance_ask *made,
	unsigned long fair, struct sample_ask *out)
{
	out->npair = made->npair;
	out->pair = made->pair;
	out->unclear = arena_many(a, made->npair + 1, unsigned long);
	out->slip = arena_many(a, q->nslip + 1, unsigned long);
	out->same = arena_many(a, q->nslip * q->nslip + 1, unsigned long);
	out->right = arena_many(a, q->noffer + 1, unsigned long);
	out->step = arena_many(a, q->nstep + 1, unsigned long);
	out->answer = arena_many(a, fair + 1, double);
	return out->unclear && out->slip && out->same && out->right && out->step && out->answer
		       ? FINE
		       : BAD_MEMORY;
}

static bool is_same(double a, double b)
{
	return !formula_is_nothing(a) && fabs(a - b) <= 1e-9 * (fabs(a) + fabs(b));
}

static void count_slips(const struct ask *q, const struct instance_ask *made, struct sample_ask *s)
{
	for (size_t n = 0; n < q->nslip; n++) {
		s->slip[n] += !formula_is_nothing(made->slip[n]);
		for (size_t m = 0; m < n; m++)
			s->same[n * q->nslip + m] += is_same(made->slip[n], made->slip[m]);
	}
}

static void count_pairs(const struct instance_ask *made, struct sample_ask *s)
{
	for (size_t k = 0; k < made->npair; k++)
		s->unclear[k] += !made->pair[k].is_clear;
}

/* The last step of a number should come to its answer, if they are of one kind. */
static void count_last(
	const struct instance *i, size_t ask, const struct step *last, struct sample_ask *s)
{
	const struct ask *q = &i->problem->ask[ask];
	if (!last->formula || formula_result(last->formula).kind != FORMULA_NUMBER ||
		!dim_is_equal(last->shown.unit.dim, q->shown.unit.dim))
		return;
	double value = number_of(i, last->formula), answer = i->ask[ask].answer;
	if (formula_is_nothing(value) || formula_is_nothing(answer))
		return;
	double most = fmax(i->ask[ask].tolerance, half_shown_digit(&q->shown));
	s->last_off += answer_gap(i, ask, value, answer) > most * (1 + 1e-9);
}

static void count_steps(const struct instance *i, size_t ask, struct sample_ask *s)
{
	const struct ask *q = &i->problem->ask[ask];
	struct formula_value v;
	for (size_t n = 0; n < q->nstep; n++)
		if (q->step[n].formula)
			s->step[n] +=
				formula_run(q->step[n].formula, i->value, i->work, &v) != FINE;
	if (q->answer && q->nstep)
		count_last(i, ask, &q->step[q->nstep - 1], s);
}

static void count_fair(const struct instance *i, struct sample *s)
{
	s->fair++;
	s->all_clear += i->all_clear;
	for (size_t k = 0; k < i->problem->nask; k++) {
		const struct ask *q = &i->problem->ask[k];
		const struct instance_ask *made = &i->ask[k];
		struct sample_ask *sum = &s->ask[k];
		count_slips(q, made, sum);
		count_pairs(made, sum);
		count_steps(i, k, sum);
		for (size_t n = 0; n < q->noffer; n++)
			sum->right[n] += made->right >> n & 1;
		if (q->answer && !formula_is_nothing(made->answer))
			sum->answer[sum->nanswer++] =
				(made->answer - q->shown.unit.offset) / q->shown.unit.factor;
	}
}

static void count_obstacle(struct sample *s, const struct unfair_at *at)
{
	for (size_t k = 0; k < s->nobstacle; k++) {
		struct obstacle *o = &s->obstacle[k];
		if (o->at.why != at->why || o->at.ask != at->ask || o->at.first != at->first ||
			o->at.second != at->second)
			continue;
		o->n++;
		return;
	}
	if (s->nobstacle < SAMPLE_OBSTACLES)
		s->obstacle[s->nobstacle++] = (struct obstacle){*at, 1};
}

static int more_first(const void *a, const void *b)
{
	const struct obstacle *x = a, *y = b;
	return (x->n < y->n) - (x->n > y->n);
}

static double different_draws(const struct problem *p)
{
	double n = 1;
	for (size_t k = 0; k < p->ndraw; k++) {
		const struct draw *d = &p->draw[k];
		if (!d->together)
			n *= pow(d->n, d->is_list ? (d->as_many == NO_SLOT ? d->least : 1) : 1);
	}
	return n;
}

enum bad sample_take(struct arena *a, const struct problem *p, unsigned long fair,
	unsigned long tries, struct sample *out)
{
	struct sample s = {.problem = p, .different = different_draws(p)};
	struct instance *i;
	struct stream stream;
	struct unfair_at at;
	enum bad code = instance_new(a, p, &i);
	s.ask = arena_many(a, p->nask, struct sample_ask);
	for (size_t k = 0; !code && s.ask && k < p->nask; k++)
		code = ask_new(a, &p->ask[k], &i->ask[k], fair, &s.ask[k]);
	if (code || !s.ask)
		return BAD_MEMORY;
	stream_open(&stream, &(struct draw_key){"sample", p->code, "", "", 1});
	for (; s.tries < tries && s.fair < fair; s.tries++)
		if (instance_try(i, &stream, &at))
			count_obstacle(&s, &at);
		else
			count_fair(i, &s);
	qsort(s.obstacle, s.nobstacle, sizeof *s.obstacle, more_first);
	*out = s;
	return FINE;
}

/* ---- telling --------------------------------------------------------------------------------- */

enum {
	SURVIVAL_LEAST = 20,   /* per cent of the draws; policy of the course format */
	DIFFERENT_LEAST = 100, /* draws, so that neighbours rarely get the same */
	CLEAR_LEAST = 15,      /* per cent of the fair draws: then one is nearly always found */
	FAIR_LEAST = 20        /* fewer fair draws say nothing about what never happens */
};

static struct place place_of(const struct problem *p, const struct unfair_at *at)
{
	const struct ask *q = &p->ask[at->ask < p->nask ? at->ask : 0];
	switch (at->why) {
	case UNFAIR_LET:
		return p->let[at->first].place;
	case UNFAIR_REQUIREMENT:
		return p->require[at->first].place;
	case UNFAIR_DECISION:
		return p->decision[at->first].place;
	case UNFAIR_ANSWER:
	case UNFAIR_SLIPS:
	case UNFAIR_PAIR:
		return q->slip[at->first].place;
	case UNFAIR_SAME:
		return q->offer[at->first].place;
	default:
		return q->place;
	}
}

static void tell_survival(const struct sample *s, struct diags *d)
{
	struct text words;
	if (!s->nobstacle || s->fair * 100 >= s->tries * SURVIVAL_LEAST)
		return;
	const struct obstacle *most = &s->obstacle[0];
	struct place at = place_of(s->problem, &most->at);
	text_init(&words);
	unfair_add(s->problem, &most->at, &words);
	if (s->fair)
		diag_warn(d, BAD_UNFAIR, at, 1,
			"of %lu draws only %lu make a fair task; in %lu of them %s", s->tries,
			s->fair, most->n, words.at);
	else
		diag_error(d, BAD_UNFAIR, at, 1,
			"none of %lu draws makes a fair task; in %lu of them %s", s->tries, most->n,
			words.at);
	diag_hint(d, "widen or move the ranges of the draws, or change what stands in the way");
	d->out = d->out || words.out;
	text_release(&words);
}

static void tell_slips(
	const struct sample *s, const struct ask *q, const struct sample_ask *sum, struct diags *d)
{
	for (size_t n = 0; n < q->nslip; n++) {
		if (!sum->slip[n])
			diag_warn(d, BAD_UNUSED, q->slip[n].place, 1,
				"slip '%s' gave no number in any of %lu fair tasks",
				q->slip[n].name, s->fair);
		for (size_t m = 0; m < n; m++)
			if (sum->slip[n] && sum->same[n * q->nslip + m] == sum->slip[n] &&
				sum->slip[n] == sum->slip[m])
				diag_warn(d, BAD_REPEATED, q->slip[n].place, 1,
					"slip '%s' gave the same number as '%s' in all fair tasks",
					q->slip[n].name, q->slip[m].name);
	}
}

static void tell_pairs(
	const struct sample *s, const struct ask *q, const struct sample_ask *sum, struct diags *d)
{
	for (size_t k = 0; k < sum->npair; k++) {
		const struct slip *first = &q->slip[sum->pair[k].first];
		const struct slip *second = &q->slip[sum->pair[k].second];
		if (s->all_clear * 100 >= s->fair * CLEAR_LEAST || sum->unclear[k] * 2 < s->fair)
			continue;
		diag_warn(d, BAD_REPEATED, second->place, 1,
			"in %lu of %lu fair tasks slips '%s' and '%s' made together give nearly "
			"the "
			"number of something else",
			sum->unclear[k], s->fair, first->name, second->name);
		diag_hint(d, "change the draws, or say 'alone: true' for a slip that nobody makes "
			     "together with another");
	}
}

static void tell_options(
	const struct sample *s, const struct ask *q, const struct sample_ask *sum, struct diags *d)
{
	for (size_t n = 0; n < q->noffer; n++)
		if (q->offer[n].right && (!sum->right[n] || sum->right[n] == s->fair))
			diag_warn(d, BAD_UNUSED, q->offer[n].place, 1,
				"this was %s right in %lu fair tasks, whatever was drawn",
				sum->right[n] ? "always" : "never", s->fair);
}

static void tell_steps(
	const struct sample *s, const struct ask *q, const struct sample_ask *sum, struct diags *d)
{
	for (size_t n = 0; n < q->nstep; n++)
		if (sum->step[n])
			diag_warn(d, BAD_NOTHING, q->step[n].place, 1,
				"the formula of this step gave no result in %lu of %lu fair tasks",
				sum->step[n], s->fair);
	if (sum->last_off) {
		diag_warn(d, BAD_ORDER, q->step[q->nstep - 1].place, 1,
			"in %lu of %lu fair tasks this last step came to something else than the "
			"answer",
			sum->last_off, s->fair);
		diag_hint(d, "the last step of a worked solution gives the answer");
	}
}

void sample_tell(const struct sample *s, struct diags *d)
{
	const struct problem *p = s->problem;
	tell_survival(s, d);
	if (!p->is_fixed && s->different < DIFFERENT_LEAST) {
		diag_warn(d, BAD_COUNT, p->ndraw ? p->draw[0].place : p->ask[0].place, 1,
			"there are only %.0f different draws", s->different);
		diag_hint(d, "students beside each other will get the same task: widen the draws");
	}
	for (size_t k = 0; k < p->nask && s->fair >= FAIR_LEAST; k++) {
		tell_slips(s, &p->ask[k], &s->ask[k], d);
		tell_pairs(s, &p->ask[k], &s->ask[k], d);
		tell_options(s, &p->ask[k], &s->ask[k], d);
		tell_steps(s, &p->ask[k], &s->ask[k], d);
	}
}

enum bad sample_check(void *to, const struct problem *p, struct diags *d)
{
	enum { FAIR = 200, TRIES = 1000 };
	struct arena a = {0};
	struct sample s;
	(void)to;
	enum bad code = sample_take(&a, p, FAIR, TRIES, &s);
	if (!code)
		sample_tell(&s, d);
	arena_release(&a);
	return code;
}
