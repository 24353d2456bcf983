/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be seen of an instance, and of a draw that was not taken. */
#include <math.h>

#include <barwright/base/text.h>
#include <barwright/item/instance.h>

#include "course/course.h"
#include "item/plan.h"

/* ---- features -------------------------------------------------------------------------------- */

/* Digits of a value as it is shown, zeros in front left out: 2 for 0.50 mm. */
static unsigned long digits_of(double bare, int places)
{
	double scaled = round(fabs(bare) * pow(10, places));
	unsigned long n = 1;
	for (; scaled >= 10; scaled /= 10)
		n++;
	return n;
}

struct sums {
	double sum, sizes;
	bool any_below;
};

static void count_reading(
	const struct shown *shown, double value, struct features *f, struct sums *s)
{
	double bare = (value - shown->unit.offset) / shown->unit.factor;
	f->readings++;
	f->digits += digits_of(bare, shown->places);
	f->largest = fmax(f->largest, fabs(bare));
	s->sum += bare;
	s->sizes += fabs(bare);
	s->any_below = s->any_below || bare < 0;
}

/* Skew is about places left and right of something: draws that can be below 0. */
static void count_draw(const struct instance *i, const struct draw *d, struct features *f)
{
	const struct formula_value *v = &i->value[d->slot];
	struct sums s = {0};
	if (v->list)
		for (size_t k = 0; k < v->n; k++)
			count_reading(&d->shown, v->list[k], f, &s);
	else
		count_reading(&d->shown, v->number, f, &s);
	if (s.any_below && v->list)
		f->skew = fmax(f->skew, fabs(s.sum) / s.sizes);
}

static void count_gap(const struct instance *i, size_t ask, struct features *f)
{
	const struct instance_ask *q = &i->ask[ask];
	for (size_t n = 0; n < i->problem->ask[ask].nslip && q->tolerance > 0; n++) {
		double gap = answer_gap(i, ask, q->answer, q->slip[n]) / q->tolerance;
		if (!formula_is_nothing(q->slip[n]) && (f->gap == 0 || gap < f->gap))
			f->gap = gap;
	}
}

void instance_features(const struct instance *i, struct features *out)
{
	const struct problem *p = i->problem;
	struct features f = {.tries = i->tries};
	for (size_t n = 0; n < p->ndraw; n++)
		count_draw(i, &p->draw[n], &f);
	for (size_t k = 0; k < p->nask; k++) {
		for (size_t n = 0; n < p->ask[k].nstep; n++)
			f.steps += p->ask[k].step[n].formula != NULL;
		count_gap(i, k, &f);
	}
	*out = f;
}

/* ---- what stood in the way ------------------------------------------------------------------- */

/* "slip 'chord'" or "option 3". */
static void part_add(const struct ask *q, size_t n, struct text *out)
{
	if (q->noffer)
		text_addf(out, "option %zu", n + 1);
	else
		text_addf(out, "slip '%s'", q->slip[n].name);
}

static void ask_add(const struct problem *p, const struct unfair_at *at, struct text *out)
{
	if (p->nask > 1)
		text_addf(out, "of ask %zu ", at->ask + 1);
}

void unfair_add(const struct problem *p, const struct unfair_at *at, struct text *out)
{
	const struct ask *q = at->ask < p->nask ? &p->ask[at->ask] : &p->ask[0];
	switch (at->why) {
	case UNFAIR_LET:
		text_addf(out, "'%s' cannot be worked out: %s %s", p->let[at->first].name,
			at->failure.word, at->failure.why);
		break;
	case UNFAIR_NO_RESULT:
		text_add(out, "a formula gives no result");
		break;
	case UNFAIR_REQUIREMENT:
		text_addf(out, "condition %zu of 'require' does not hold", at->first + 1);
		break;
	case UNFAIR_DECISION:
		text_addf(out, "the value of decision %zu lies too near a limit", at->first + 1);
		break;
	case UNFAIR_ANSWER:
		text_add(out, "the answer ");
		ask_add(p, at, out);
		text_add(out, "and ");
		part_add(q, at->first, out);
		text_add(out, " lie too near each other");
		break;
	case UNFAIR_SLIPS:
	case UNFAIR_PAIR:
	case UNFAIR_SAME:
		part_add(q, at->first, out);
		text_add(out, " and ");
		part_add(q, at->second, out);
		text_add(out, at->why == UNFAIR_SLIPS  ? " lie too near each other"
			      : at->why == UNFAIR_PAIR ? " together lie too near the answer"
						       : " look the same");
		break;
	case UNFAIR_RIGHT:
		text_add(out, q->kind == ASKED_CHOICE ? "not exactly one option "
						      : "too few of the options ");
		ask_add(p, at, out);
		text_add(out, q->kind == ASKED_CHOICE ? "is right" : "are right");
		break;
	default:
		break;
	}
}
