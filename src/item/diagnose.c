/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Mistakes that can be made in any problem, found by working the answer out with each of them. What
 * is tried is little on purpose: each try could fit a wrong number by chance. */
#include <math.h>
#include <string.h>

#include <barwright/base/unit.h>

#include "course/course.h"
#include "item/judge.h"
#include "item/plan.h"

/* A number written so coarsely, or a tolerance so wide, that it fits too much to betray anything. */
#define CLOSE_ENOUGH 0.025

/* Does the number come out this way? Where the way leads to the answer all the same, it is none that
 * went wrong. */
static bool fits_closely(
	const struct instance *i, size_t ask, double value, double target, double half)
{
	if (is_within(i, ask, target, i->ask[ask].answer, i->ask[ask].tolerance))
		return false;
	double tolerance = fmin(i->ask[ask].tolerance, CLOSE_ENOUGH * fabs(target)) + half;
	return !formula_is_nothing(target) && half <= CLOSE_ENOUGH * fabs(target) &&
	       is_within(i, ask, value, target, tolerance);
}

/* ---- sign, and a factor of ten ---------------------------------------------------------------- */

static bool is_other_sign(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	(void)out;
	return is_within(i, ask, -n->value, i->ask[ask].answer, i->ask[ask].tolerance);
}

static bool is_tenfold(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	(void)out;
	double target = i->ask[ask].answer, tolerance = i->ask[ask].tolerance;
	bool fine = n->half <= CLOSE_ENOUGH * fabs(target / 10);
	return is_within(i, ask, n->value, 10 * target, 10 * tolerance) ||
	       is_within(i, ask, n->value, target / 10,
		       fine ? fmax(n->half, tolerance / 10) : tolerance / 10);
}

/* ---- units ----------------------------------------------------------------------------------- */

/* Units somebody may have worked in by mistake; those of the asked dimension are tried. */
static const char *const other_units[OTHER_UNITS] = {"in", "cm", "m", "um", "mm", "bar", "psi",
	"MPa", "kPa", "N", "kN", "kgf", "g", "kg", "mL", "L", "deg", "rad", "min", "h", "s", "%",
	"mm2", "cm2", "mm3", "cm3", "N mm", "N cm", "N m", "m/s"};

void other_units_read(struct unit *out)
{
	size_t at, len;
	for (size_t k = 0; k < OTHER_UNITS; k++)
		if (unit_read(other_units[k], strlen(other_units[k]), &out[k], &at, &len))
			out[k] = (struct unit){.factor = 0};
}

/* The k-th of them, if it has the dimension of `of` and is another unit. */
static bool other_unit(const struct instance *i, size_t k, const struct unit *of, struct unit *out)
{
	*out = i->plan->other[k];
	return out->factor > 0 && out->offset == 0 && of->offset == 0 &&
	       dim_is_equal(out->dim, of->dim) && !unit_is_same(of, out);
}

static bool is_in_use(const struct problem *p, const struct unit *u)
{
	for (size_t slot = 0; slot < p->scope.n; slot++)
		if (unit_is_same(&p->shown[slot].unit, u))
			return true;
	return false;
}

static void unit_found(struct score *out, size_t k)
{
	out->unit = other_units[k];
	out->unit_len = strlen(other_units[k]);
}

static bool is_bare_in(const struct instance *i, size_t ask, const struct number *n, double factor)
{
	const struct instance_ask *q = &i->ask[ask];
	double half = n->half / i->problem->ask[ask].shown.unit.factor * factor;
	if (half > CLOSE_ENOUGH * fabs(q->answer))
		half = 0; /* 0.1 is 100 to the point, or it is nothing */
	return is_within(i, ask, n->typed * factor, q->answer, q->tolerance + half);
}

/* Is the bare number right in another unit of the same dimension? Or was a given value turned into
 * the unit asked for the wrong way round? */
static bool fits_other_unit(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct unit *asked = &i->problem->ask[ask].shown.unit;
	for (size_t k = 0; n->bare && k < OTHER_UNITS; k++) {
		struct unit u;
		if (!other_unit(i, k, asked, &u))
			continue;
		out->unit_twice = false;
		if (!is_bare_in(i, ask, n, u.factor)) {
			out->unit_twice = true;
			if (!is_in_use(i->problem, &u) ||
				!is_bare_in(i, ask, n, u.factor * u.factor / asked->factor))
				continue;
		}
		unit_found(out, k);
		out->or_tenfold = is_tenfold(i, ask, n, out);
		return true;
	}
	out->unit_twice = false;
	return false;
}

/* The answer when the number in a slot is another one. */
static double with_slot(const struct instance *i, size_t ask, size_t slot, double value)
{
	const struct detour *d = &i->plan->ask[ask].change[slot];
	double kept = i->value[slot].number;
	if (!d->end || i->value[slot].list)
		return formula_nothing();
	i->value[slot].number = value;
	double result = detour_run(i, d);
	i->value[slot].number = kept;
	return result;
}

/* Notes a given value with which the number comes out; the second one that would do as well is only
 * counted. */
static void note_given(struct score *out, size_t slot)
{
	if (out->slot == NO_SLIP_FITS)
		out->slot = (long)slot;
	else
		out->several = true;
}

/* Does the number come out when a draw is taken as it stands, but in the k-th other unit? */
static bool fits_draw_in(const struct instance *i, size_t ask, const struct number *n,
	const struct draw *d, size_t k)
{
	const struct unit *of = &d->shown.unit;
	struct unit u;
	if (!other_unit(i, k, of, &u))
		return false;
	double value = i->value[d->slot].number / of->factor * u.factor;
	return fits_closely(i, ask, n->value, with_slot(i, ask, d->slot, value), n->half);
}

/* Was a given value taken as it stands, but in another unit? */
static bool fits_unit_of_draw(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct problem *p = i->problem;
	for (size_t d = 0; d < p->ndraw; d++)
		for (size_t k = 0; k < OTHER_UNITS; k++) {
			if (!fits_draw_in(i, ask, n, &p->draw[d], k))
				continue;
			if (out->slot == NO_SLIP_FITS)
				unit_found(out, k);
			note_given(out, p->draw[d].slot);
			break;
		}
	return out->slot != NO_SLIP_FITS;
}

/* ---- radius and diameter --------------------------------------------------------------------- */

static bool name_has(const struct formula_name *name, const char *word)
{
	size_t len = strlen(word);
	for (size_t at = 0; at + len <= name->len; at++)
		if (memcmp(name->name + at, word, len) == 0)
			return true;
	return false;
}

static bool fits_radius(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct problem *p = i->problem;
	for (size_t slot = 0; slot < p->scope.n; slot++) {
		const struct formula_name *name = &p->scope.name[slot];
		double as_it_is = i->value[slot].number;
		if (!name_has(name, "radius") && !name_has(name, "diameter"))
			continue;
		if (fits_closely(
			    i, ask, n->value, with_slot(i, ask, slot, 2 * as_it_is), n->half) ||
			fits_closely(
				i, ask, n->value, with_slot(i, ask, slot, as_it_is / 2), n->half))
			note_given(out, slot);
	}
	return out->slot != NO_SLIP_FITS;
}

/* ---- digits ---------------------------------------------------------------------------------- */

/* A value as it stands on the page. */
static enum bad as_shown(const struct shown *shown, double value, struct decimal *out)
{
	struct text t;
	text_init(&t);
	number_add_to((value - shown->unit.offset) / shown->unit.factor, shown->places, '.', &t);
	enum bad code = t.out ? BAD_MEMORY : decimal_read(t.at, t.len, out);
	text_release(&t);
	return code;
}

enum { DIGITS = 15 }; /* of a decimal, at most */

/* With the k-th digit from the right and the one before it changed over, as `right` is shown; the
 * same where there are no two such digits, or where nobody would write what comes out: 04 for 40. */
static struct decimal swapped(struct decimal right, int k)
{
	int64_t size = right.digits < 0 ? -right.digits : right.digits, ten = 1;
	for (int n = 0; n < k; n++)
		ten *= 10;
	int64_t low = size / ten % 10, high = size / ten / 10 % 10;
	bool is_first = size / ten / 100 == 0 && k + 1 > right.places;
	if (is_first && (low == 0 || high == 0))
		return right;
	size += (low - high) * 9 * ten;
	return (struct decimal){right.digits < 0 ? -size : size, right.places};
}

/* As many digits as the answer shows, two neighbours changed. */
static bool is_swapped(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	(void)out;
	const struct shown *shown = &i->problem->ask[ask].shown;
	struct decimal typed = n->decimal, right;
	if (!n->as_asked || typed.places > shown->places || decimal_scale(&typed, shown->places) ||
		as_shown(shown, i->ask[ask].answer, &right))
		return false;
	for (int k = 0; k < DIGITS && typed.digits != right.digits; k++)
		if (swapped(right, k).digits == typed.digits)
			return true;
	return false;
}

/* Does the number come out, to the last digit asked for, when two digits of one reading are changed
 * over before it is used? */
static bool fits_swapped_at(const struct instance *i, size_t ask, const struct number *n,
	const struct draw *d, double *reading)
{
	double kept = *reading, half = half_shown_digit(&i->problem->ask[ask].shown);
	struct decimal right;
	bool found = false;
	if (as_shown(&d->shown, kept, &right))
		return false;
	for (int k = 0; k < DIGITS && !found; k++) {
		struct decimal read = swapped(right, k);
		if (read.digits == right.digits)
			continue;
		*reading = decimal_value(read) * d->shown.unit.factor + d->shown.unit.offset;
		double result = detour_run(i, &i->plan->ask[ask].change[d->slot]);
		found = is_within(i, ask, n->value, result, half);
	}
	*reading = kept;
	return found;
}

/* Only a number written with all digits asked for, and with enough of them, says so much. */
static bool fits_swapped_reading(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct problem *p = i->problem;
	double half = half_shown_digit(&p->ask[ask].shown);
	if (n->half > half * (1 + 1e-9) || half > CLOSE_ENOUGH * fabs(n->value))
		return false;
	for (size_t k = 0; k < p->ndraw; k++) {
		const struct draw *d = &p->draw[k];
		struct formula_value *v = &i->value[d->slot];
		double *reading = v->list ? i->room + d->slot * FORMULA_LENGTH : &v->number;
		size_t nreading = v->list ? v->n : 1;
		if (!i->plan->ask[ask].change[d->slot].end || d->shown.clock)
			continue;
		for (size_t j = 0; j < nreading; j++)
			if (fits_swapped_at(i, ask, n, d, reading + j)) {
				out->place =
					out->slot == NO_SLIP_FITS && v->list ? j + 1 : out->place;
				note_given(out, d->slot);
			}
	}
	return out->slot != NO_SLIP_FITS;
}

/* ---- bar and MPa ----------------------------------------------------------------------------- */

static const struct unit bar = {0.1, 0, {{[DIM_LENGTH] = -1, [DIM_MASS] = 1, [DIM_TIME] = -2}}};

static bool shows_bar(const struct problem *p, size_t ask)
{
	return is_in_use(p, &bar) || unit_is_same(&p->ask[ask].shown.unit, &bar);
}

/* Bar and MPa are a factor of ten apart, and gauges show either: where bar is in play, a given pressure
 * taken in the other unit is likelier than the decimal sign. It may have been both, and is told so. */
static bool fits_bar_for_MPa(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	struct score found = *out;
	if (!is_tenfold(i, ask, n, out) || !shows_bar(i->problem, ask) ||
		!fits_unit_of_draw(i, ask, n, &found) ||
		!dim_is_equal(i->problem->shown[found.slot].unit.dim, bar.dim))
		return false;
	*out = found;
	out->or_tenfold = true;
	return true;
}

/* ---- rounding -------------------------------------------------------------------------------- */

/* The answer itself, written with fewer places than asked for. */
static bool is_coarse(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	(void)out;
	const struct shown *shown = &i->problem->ask[ask].shown;
	return n->decimal.places < shown->places && n->as_asked &&
	       is_within(i, ask, n->value, i->ask[ask].answer, n->half) &&
	       n->half <= 0.25 * fabs(i->ask[ask].answer);
}

static double rounded(double value, const struct shown *shown, int places)
{
	double ten = pow(10, places < shown->places ? places : shown->places);
	double bare = (value - shown->unit.offset) / shown->unit.factor;
	return round(bare * ten) / ten * shown->unit.factor + shown->unit.offset;
}

/* The answer when every value on the way is rounded to so many places before it is used. */
static double rounding_on_the_way(const struct instance *i, size_t ask, int places)
{
	const struct detour *d = &i->plan->ask[ask].whole;
	enum bad code = FINE;
	size_t n;
	for (n = 0; n < d->n && !code; n++) {
		size_t slot = d->step[n].slot;
		struct formula_value v;
		i->plan->kept[n] = i->value[slot];
		if (i->value[slot].list)
			continue; /* lists stay as they are */
		code = formula_run(d->step[n].formula, i->value, i->work, &v);
		if (!code && i->problem->scope.name[slot].type.kind == FORMULA_NUMBER)
			v.number = rounded(v.number, &i->problem->shown[slot], places);
		if (!code)
			i->value[slot] = v;
	}
	double result = code ? formula_nothing() : number_of(i, d->end);
	while (n-- > 0)
		i->value[d->step[n].slot] = i->plan->kept[n];
	return result;
}

static bool fits_rounding(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	(void)out;
	const struct shown *shown = &i->problem->ask[ask].shown;
	for (int places = 2; places >= 0; places--) {
		double value = rounding_on_the_way(i, ask, places);
		double half = half_shown_digit(shown) + n->half;
		if (!formula_is_nothing(value) && half <= CLOSE_ENOUGH * fabs(value) &&
			is_within(i, ask, n->value, value, half))
			return true;
	}
	return false;
}

/* ---- times ----------------------------------------------------------------------------------- */

static bool is_half_day_off(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	(void)out;
	static const double off_s[] = {43200, -43200, 86400, -86400};
	const struct instance_ask *q = &i->ask[ask];
	for (size_t k = 0; k < sizeof off_s / sizeof *off_s; k++)
		if (is_within(i, ask, n->value + off_s[k], q->answer, q->tolerance))
			return true;
	return false;
}

/* ---- pairs ----------------------------------------------------------------------------------- */

/* The pair that comes nearest to this number, within `tolerance`. Where another comes as near but for
 * the last digit asked for, it cannot be told which of them it was. */
static bool fits_pair(const struct instance *i, size_t ask, const struct number *n,
	double tolerance, struct score *out)
{
	const struct instance_ask *q = &i->ask[ask];
	double digit = 2 * half_shown_digit(&i->problem->ask[ask].shown);
	double nearest = INFINITY, next = INFINITY;
	const struct slip_pair *found = NULL;
	for (size_t k = 0; k < q->npair; k++) {
		double gap = answer_gap(i, ask, n->value, q->pair[k].value);
		if (formula_is_nothing(q->pair[k].value))
			continue;
		if (gap >= nearest) {
			next = fmin(next, gap);
			continue;
		}
		next = nearest;
		nearest = gap;
		found = &q->pair[k];
	}
	if (!found || !is_within(i, ask, n->value, found->value, tolerance) ||
		next < nearest + digit)
		return false;
	out->slip = (long)found->first;
	out->second = (long)found->second;
	return true;
}

bool fits_pair_exactly(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	return fits_pair(i, ask, n, half_shown_digit(&i->problem->ask[ask].shown), out);
}

static bool fits_pair_nearly(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	return fits_pair(i, ask, n, wrong_tolerance(i, ask, n->value), out);
}

/* ---- all of it ------------------------------------------------------------------------------- */

/* Ways to go wrong, tried in this order: does it give this number? What is found goes into *out. Of
 * an answer that has to be exact there are a few values only: what is `measured` would fit each of
 * them soon. */
static const struct way {
	enum outcome outcome;
	bool measured;
	bool (*fits)(
		const struct instance *i, size_t ask, const struct number *n, struct score *out);
} of_numbers[] =
	{
		{OUTCOME_UNIT, false, fits_other_unit},
		{OUTCOME_SIGN, false, is_other_sign},
		{OUTCOME_SWAPPED, false, is_swapped},
		{OUTCOME_UNIT, true, fits_bar_for_MPa},
		{OUTCOME_TENFOLD, true, is_tenfold},
		{OUTCOME_ROUNDED, true, is_coarse},
		{OUTCOME_RADIUS, false, fits_radius},
		{OUTCOME_UNIT, false, fits_unit_of_draw},
		{OUTCOME_ROUNDED, true, fits_rounding},
		{OUTCOME_TWO_SLIPS, false, fits_pair_nearly},
		{OUTCOME_SWAPPED, true, fits_swapped_reading},
},
  of_times[] = {
	  {OUTCOME_HALF_DAY, false, is_half_day_off},
	  {OUTCOME_TWO_SLIPS, false, fits_pair_nearly},
};

enum outcome diagnose(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	bool is_time = i->problem->ask[ask].kind == ASKED_TIME;
	bool exact = i->problem->ask[ask].tolerance == TOLERANCE_EXACT;
	const struct way *way = is_time ? of_times : of_numbers;
	size_t nway = is_time ? sizeof of_times / sizeof *way : sizeof of_numbers / sizeof *way;
	for (size_t k = 0; k < nway; k++)
		if (!(exact && way[k].measured) && way[k].fits(i, ask, n, out))
			return way[k].outcome;
	return OUTCOME_WRONG;
}
