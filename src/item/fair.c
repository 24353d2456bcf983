/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The fairness of one ask: its tolerance, its slips, its options. */
#include <math.h>
#include <string.h>

#include <barwright/base/number.h>
#include <barwright/item/instance.h>

#include "course/course.h"
#include "item/plan.h"

/* ---- tolerance ------------------------------------------------------------------------------- */

static double with_reading(const struct instance *i, const struct detour *d, double *reading,
	double value, double otherwise)
{
	double kept = *reading;
	*reading = value;
	double got = detour_run(i, d);
	*reading = kept;
	return formula_is_nothing(got) ? otherwise : got;
}

static double effect(
	const struct instance *i, const struct plan_reading *r, double *reading, double as_it_is)
{
	double half = i->problem->draw[r->draw].half_digit;
	double high = with_reading(i, &r->detour, reading, *reading + half, as_it_is);
	double low = with_reading(i, &r->detour, reading, *reading - half, as_it_is);
	return (high - low) / 2;
}

/* In quadrature: half digits of readings carried through detours. */
static double readings_effect(
	const struct instance *i, const struct plan_reading *reading, size_t n, double as_it_is)
{
	double sum = 0;
	for (size_t k = 0; k < n; k++) {
		size_t slot = i->problem->draw[reading[k].draw].slot;
		struct formula_value *v = &i->value[slot];
		double *at = v->list ? i->room + slot * FORMULA_LENGTH : &v->number;
		for (size_t j = 0; j < (v->list ? v->n : 1); j++) {
			double e = effect(i, &reading[k], at + j, as_it_is);
			sum += e * e;
		}
	}
	return sqrt(sum);
}

static double digit(const struct shown *shown, int places)
{
	return decimal_value((struct decimal){1, places}) * shown->unit.factor;
}

double half_shown_digit(const struct shown *shown)
{
	return digit(shown, shown->places) / 2;
}

static double tolerance(const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	const struct plan_ask *plan = &i->plan->ask[ask];
	double answer = i->ask[ask].answer;
	if (q->tolerance == TOLERANCE_EXACT || formula_is_nothing(answer))
		return 0;
	if (q->tolerance == TOLERANCE_STATED)
		return q->stated;
	return readings_effect(i, plan->reading, plan->nreading, answer) +
	       half_shown_digit(&q->shown);
}

enum bad instance_step(
	const struct instance *i, const struct step *step, double *value, double *tolerance)
{
	struct arena aside = {0};
	struct plan_ask plan = {0};
	double v = number_of(i, step->formula);
	enum bad code = formula_is_nothing(v) ? BAD_NOTHING : FINE;
	if (!code)
		code = plan_readings(&aside, i->problem, i->plan, step->formula, &plan);
	if (!code) {
		*value = v;
		*tolerance = readings_effect(i, plan.reading, plan.nreading, v) +
			     half_shown_digit(&step->shown);
	}
	arena_release(&aside);
	return code;
}

/* ---- how far apart --------------------------------------------------------------------------- */

double answer_gap(const struct instance *i, size_t ask, double a, double b)
{
	const struct clock *clock = i->problem->ask[ask].shown.clock;
	double gap = fabs(a - b), round = 86400;
	if (!clock || (clock->with_days && !clock->nday))
		return gap;
	if (clock->with_days)
		round *= (double)clock->nday;
	gap = fmod(gap, round);
	return gap > round / 2 ? round - gap : gap;
}

static bool is_equal(const struct instance *i, size_t ask, double a, double b)
{
	return answer_gap(i, ask, a, b) <= 1e-9 * (fabs(a) + fabs(b));
}

static bool is_apart(const struct instance *i, size_t ask, double a, double b)
{
	bool none_a = formula_is_nothing(a), none_b = formula_is_nothing(b);
	if (none_a || none_b)
		return none_a != none_b;
	return answer_gap(i, ask, a, b) >= 2 * i->ask[ask].tolerance && !is_equal(i, ask, a, b);
}

/* ---- slips ----------------------------------------------------------------------------------- */

/* Does the n-th slip keep clear of the answer and of the slips before it? Slips that give nothing
 * betray nothing and are left out, but where the answer is "nothing" a slip may not be. */
static enum unfair slip_is_clear(const struct instance *i, struct unfair_at *at, size_t n)
{
	const struct instance_ask *q = &i->ask[at->ask];
	at->first = n;
	if (!is_apart(i, at->ask, q->answer, q->slip[n]))
		return UNFAIR_ANSWER;
	for (size_t m = 0; m < n && q->tolerance > 0; m++) {
		at->second = m;
		if (!formula_is_nothing(q->slip[n]) &&
			!is_apart(i, at->ask, q->slip[n], q->slip[m]))
			return UNFAIR_SLIPS;
	}
	return UNFAIR_NOT;
}

/* Where an answer is exact, a few values are all there are, and slips may have to share them. */
static bool shares_a_number(const struct instance *i, size_t ask, size_t n)
{
	const struct instance_ask *q = &i->ask[ask];
	for (size_t m = 0; m < n && !formula_is_nothing(q->slip[n]); m++)
		if (!is_apart(i, ask, q->slip[n], q->slip[m]))
			return true;
	return false;
}

static enum unfair slips_are_clear(struct instance *i, struct unfair_at *at)
{
	struct instance_ask *made = &i->ask[at->ask];
	for (size_t n = 0; n < i->problem->ask[at->ask].nslip; n++) {
		made->slip[n] = detour_run(i, &i->plan->ask[at->ask].slip[n]);
		enum unfair why = slip_is_clear(i, at, n);
		if (why)
			return why;
		i->all_clear = i->all_clear && !shares_a_number(i, at->ask, n);
	}
	return UNFAIR_NOT;
}

/* ---- pairs of slips -------------------------------------------------------------------------- */

/* Two that undo each other, or one that hides the other, betray no pair. */
static double pair_run(const struct instance *i, size_t ask, size_t k)
{
	const struct instance_ask *q = &i->ask[ask];
	double first = q->slip[q->pair[k].first], second = q->slip[q->pair[k].second];
	if (formula_is_nothing(first) || formula_is_nothing(second) ||
		formula_is_nothing(q->answer))
		return formula_nothing();
	double both = detour_run(i, &i->plan->ask[ask].pair[k].detour);
	if (formula_is_nothing(both) || is_equal(i, ask, both, first) ||
		is_equal(i, ask, both, second) || is_equal(i, ask, both, q->answer))
		return formula_nothing();
	return both;
}

/* Can it be told from something else, when both are written with the digits asked for? */
static bool is_told_from(const struct instance *i, size_t ask, double value, double other)
{
	return formula_is_nothing(other) ||
	       answer_gap(i, ask, value, other) >=
		       4 * half_shown_digit(&i->problem->ask[ask].shown);
}

/* Would it be taken for a slip of the sign or of the decimal sign? */
static bool looks_general(const struct instance_ask *q, double value)
{
	return fabs(value + q->answer) <= 2 * q->tolerance ||
	       fabs(value - 10 * q->answer) <= 20 * q->tolerance ||
	       fabs(10 * value - q->answer) <= 2 * q->tolerance;
}

static bool pair_is_clear(const struct instance *i, size_t ask, size_t k)
{
	const struct instance_ask *q = &i->ask[ask];
	double value = q->pair[k].value;
	if (formula_is_nothing(value))
		return true;
	if (looks_general(q, value))
		return false;
	for (size_t n = 0; n < i->problem->ask[ask].nslip; n++)
		if (!is_told_from(i, ask, value, q->slip[n]))
			return false;
	for (size_t m = 0; m < q->npair; m++)
		if (m != k && !is_told_from(i, ask, value, q->pair[m].value))
			return false;
	return true;
}

static enum unfair pairs_are_clear(struct instance *i, struct unfair_at *at)
{
	struct instance_ask *q = &i->ask[at->ask];
	for (size_t k = 0; k < q->npair; k++) {
		q->pair[k].value = pair_run(i, at->ask, k);
		at->first = q->pair[k].first;
		at->second = q->pair[k].second;
		if (!formula_is_nothing(q->pair[k].value) &&
			!is_apart(i, at->ask, q->pair[k].value, q->answer))
			return UNFAIR_PAIR;
	}
	for (size_t k = 0; k < q->npair; k++) {
		q->pair[k].is_clear = pair_is_clear(i, at->ask, k);
		i->all_clear = i->all_clear && q->pair[k].is_clear;
	}
	return UNFAIR_NOT;
}

/* ---- options --------------------------------------------------------------------------------- */

/* Which are right; false when a formula gives no result. */
static bool find_right(struct instance *i, const struct ask *q, struct instance_ask *made)
{
	made->right = 0;
	for (size_t k = 0; k < q->noffer; k++) {
		double right = q->offer[k].is_right;
		if (q->offer[k].right)
			right = number_of(i, q->offer[k].right);
		if (formula_is_nothing(right))
			return false;
		if (right != 0)
			made->right |= (uint32_t)1 << k;
	}
	return true;
}

/* What has no rank does not belong. */
static void find_order(struct instance *i, const struct ask *q, struct instance_ask *made)
{
	double rank[INSTANCE_OFFERS];
	for (size_t k = 0; k < q->noffer; k++) {
		made->after[k] = q->offer[k].after;
		if (!q->offer[k].rank)
			continue;
		rank[k] = number_of(i, q->offer[k].rank);
		if (formula_is_nothing(rank[k]))
			made->right &= ~((uint32_t)1 << k);
	}
	for (size_t k = 0; k < q->noffer && q->offer[k].rank; k++)
		for (size_t j = 0; j < q->noffer; j++)
			if (rank[j] < rank[k] && rank[k] - rank[j] > 1e-9 * fabs(rank[k]))
				made->after[k] |= (uint32_t)1 << j;
	for (size_t k = 0; k < q->noffer; k++)
		made->after[k] &= made->right;
}

static size_t count_bits(uint32_t bits)
{
	size_t n = 0;
	for (; bits; bits &= bits - 1)
		n++;
	return n;
}

static bool pieces_look_same(const struct instance *i, const struct piece *a, const struct piece *b)
{
	if (a->slot == NO_SLOT || b->slot == NO_SLOT)
		return a->slot == b->slot && a->len == b->len &&
		       memcmp(a->text, b->text, a->len) == 0;
	const struct formula_value *x = &i->value[a->slot], *y = &i->value[b->slot];
	const struct shown *shown = &i->problem->shown[a->slot];
	int places = a->places < 0 ? shown->places : a->places;
	if (x->list || y->list)
		return a->slot == b->slot;
	return fabs(x->number - y->number) < digit(shown, places) * (1 - 1e-9);
}

static bool look_same(const struct instance *i, const struct template *a, const struct template *b)
{
	if (a->n != b->n)
		return false;
	for (size_t k = 0; k < a->n; k++)
		if (!pieces_look_same(i, &a->piece[k], &b->piece[k]))
			return false;
	return true;
}

static bool all_look_different(struct instance *i, const struct ask *q, struct unfair_at *at)
{
	for (size_t k = 0; k < q->noffer; k++)
		for (size_t j = 0; j < k; j++)
			if (look_same(i, &q->offer[k].text, &q->offer[j].text) ||
				(q->kind == ASKED_MATCH &&
					look_same(i, &q->offer[k].with, &q->offer[j].with))) {
				at->first = k;
				at->second = j;
				return false;
			}
	return true;
}

static enum unfair offers_are_fair(struct instance *i, struct unfair_at *at)
{
	const struct ask *q = &i->problem->ask[at->ask];
	struct instance_ask *made = &i->ask[at->ask];
	if (!find_right(i, q, made))
		return UNFAIR_NO_RESULT;
	if (q->kind == ASKED_ORDER)
		find_order(i, q, made);
	size_t n = count_bits(made->right);
	if (n < (q->kind == ASKED_ORDER ? 2 : 1) || (q->kind == ASKED_CHOICE && n != 1))
		return UNFAIR_RIGHT;
	return all_look_different(i, q, at) ? UNFAIR_NOT : UNFAIR_SAME;
}

/* ---- an ask ---------------------------------------------------------------------------------- */

enum unfair ask_is_fair(struct instance *i, struct unfair_at *at)
{
	const struct ask *q = &i->problem->ask[at->ask];
	struct instance_ask *made = &i->ask[at->ask];
	if (!q->answer)
		return offers_are_fair(i, at);
	struct formula_value v;
	if (formula_run(q->answer, i->value, i->work, &v) ||
		(formula_is_nothing(v.number) && !q->may_refer))
		return UNFAIR_NO_RESULT;
	made->answer = v.number;
	made->tolerance = tolerance(i, at->ask);
	enum unfair why = slips_are_clear(i, at);
	return why ? why : pairs_are_clear(i, at);
}
