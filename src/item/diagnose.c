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

static bool fits_closely(
	const struct instance *i, size_t ask, double value, double target, double half)
{
	double tolerance = fmin(i->ask[ask].tolerance, CLOSE_ENOUGH * fabs(target)) + half;
	return !formula_is_nothing(target) && half <= CLOSE_ENOUGH * fabs(target) &&
	       is_within(i, ask, value, target, tolerance);
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
	       dim_is_equal(out->dim, of->dim) &&
	       fabs(out->factor - of->factor) >= 1e-12 * out->factor;
}

static bool is_in_use(const struct problem *p, const struct unit *u)
{
	for (size_t slot = 0; slot < p->scope.n; slot++)
		if (dim_is_equal(p->shown[slot].unit.dim, u->dim) &&
			fabs(p->shown[slot].unit.factor - u->factor) < 1e-12 * u->factor)
			return true;
	return false;
}

static bool is_bare_in(const struct instance *i, size_t ask, const struct number *n, double factor)
{
	double half = n->half * factor;
	return half <= CLOSE_ENOUGH * fabs(i->ask[ask].answer) &&
	       is_within(
		       i, ask, n->typed * factor, i->ask[ask].answer, i->ask[ask].tolerance + half);
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
		out->unit = other_units[k];
		out->unit_len = strlen(other_units[k]);
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

/* Was a given value taken as it stands, but in another unit? */
static bool fits_unit_of_draw(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct problem *p = i->problem;
	for (size_t d = 0; d < p->ndraw; d++)
		for (size_t k = 0; k < OTHER_UNITS; k++) {
			const struct unit *of = &p->draw[d].shown.unit;
			struct unit u;
			size_t slot = p->draw[d].slot;
			if (!other_unit(i, k, of, &u))
				continue;
			double value = i->value[slot].number / of->factor * u.factor;
			if (!fits_closely(i, ask, n->value, with_slot(i, ask, slot, value),
				    n->half * p->ask[ask].shown.unit.factor))
				continue;
			out->slot = (long)slot;
			out->unit = other_units[k];
			out->unit_len = strlen(other_units[k]);
			return true;
		}
	return false;
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
	double half = n->half * p->ask[ask].shown.unit.factor;
	for (size_t slot = 0; slot < p->scope.n; slot++) {
		bool radius = name_has(&p->scope.name[slot], "radius");
		if (!radius && !name_has(&p->scope.name[slot], "diameter"))
			continue;
		double as = i->value[slot].number * (radius ? 2 : 0.5),
		       other = i->value[slot].number * (radius ? 0.5 : 2);
		if (!fits_closely(i, ask, n->value, with_slot(i, ask, slot, as), half) &&
			!fits_closely(i, ask, n->value, with_slot(i, ask, slot, other), half))
			continue;
		out->slot = (long)slot;
		return true;
	}
	return false;
}

/* ---- digits ---------------------------------------------------------------------------------- */

/* As many digits as the answer shows, two neighbours changed. */
static bool is_swapped(const struct instance *i, size_t ask, const struct number *n)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	struct text right, typed;
	bool found = false;
	struct decimal d = n->decimal;
	if (d.places > shown->places || decimal_scale(&d, shown->places))
		return false;
	text_init(&right);
	text_init(&typed);
	number_add_to((i->ask[ask].answer - shown->unit.offset) / shown->unit.factor, shown->places,
		'.', &right);
	decimal_add_to(d, '.', &typed);
	for (size_t k = 0; right.len == typed.len && k + 1 < right.len && !found; k++) {
		size_t next = right.at[k + 1] == '.' ? k + 2 : k + 1;
		if (right.at[k] == '.' || next >= right.len || right.at[k] == right.at[next])
			continue;
		char kept = right.at[k];
		right.at[k] = right.at[next];
		right.at[next] = kept;
		found = !right.out && !typed.out && strcmp(right.at, typed.at) == 0;
		right.at[next] = right.at[k];
		right.at[k] = kept;
	}
	text_release(&right);
	text_release(&typed);
	return found;
}

static bool is_tenfold(const struct instance *i, size_t ask, const struct number *n)
{
	double target = i->ask[ask].answer, tolerance = i->ask[ask].tolerance;
	double half = n->half * i->problem->ask[ask].shown.unit.factor;
	bool fine = half <= CLOSE_ENOUGH * fabs(target / 10);
	return is_within(i, ask, n->value, 10 * target, 10 * tolerance) ||
	       is_within(i, ask, n->value, target / 10,
		       fine ? fmax(half, tolerance / 10) : tolerance / 10);
}

/* ---- rounding -------------------------------------------------------------------------------- */

/* The answer itself, written with fewer places than asked for. */
static bool is_coarse(const struct instance *i, size_t ask, const struct number *n)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	return n->decimal.places < shown->places && n->bare &&
	       is_within(i, ask, n->value, i->ask[ask].answer, n->half * shown->unit.factor) &&
	       n->half * shown->unit.factor <= 0.25 * fabs(i->ask[ask].answer);
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

static bool fits_rounding(const struct instance *i, size_t ask, const struct number *n)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	if (i->problem->ask[ask].tolerance == TOLERANCE_EXACT)
		return false;
	for (int places = 2; places >= 0; places--) {
		double value = rounding_on_the_way(i, ask, places);
		double half = half_shown_digit(shown) + n->half * shown->unit.factor;
		if (!formula_is_nothing(value) && half <= CLOSE_ENOUGH * fabs(value) &&
			is_within(i, ask, n->value, value, half))
			return true;
	}
	return false;
}

/* ---- times ----------------------------------------------------------------------------------- */

static bool is_half_day_off(const struct instance *i, size_t ask, double value)
{
	static const double off_s[] = {43200, -43200, 86400, -86400};
	const struct instance_ask *q = &i->ask[ask];
	for (size_t k = 0; k < sizeof off_s / sizeof *off_s; k++)
		if (is_within(i, ask, value + off_s[k], q->answer, q->tolerance))
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

/* ---- all of it ------------------------------------------------------------------------------- */

enum outcome diagnose(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct instance_ask *q = &i->ask[ask];
	if (i->problem->ask[ask].kind == ASKED_TIME) {
		if (is_half_day_off(i, ask, n->value))
			return OUTCOME_HALF_DAY;
		return fits_pair(i, ask, n, q->tolerance, out) ? OUTCOME_TWO_SLIPS : OUTCOME_WRONG;
	}
	if (fits_other_unit(i, ask, n, out))
		return OUTCOME_UNIT;
	if (is_within(i, ask, -n->value, q->answer, q->tolerance))
		return OUTCOME_SIGN;
	if (is_swapped(i, ask, n))
		return OUTCOME_SWAPPED;
	if (i->problem->ask[ask].tolerance != TOLERANCE_EXACT && is_tenfold(i, ask, n))
		return OUTCOME_TENFOLD;
	if (i->problem->ask[ask].tolerance != TOLERANCE_EXACT && is_coarse(i, ask, n))
		return OUTCOME_ROUNDED;
	if (fits_radius(i, ask, n, out))
		return OUTCOME_RADIUS;
	if (fits_unit_of_draw(i, ask, n, out))
		return OUTCOME_UNIT;
	if (fits_rounding(i, ask, n))
		return OUTCOME_ROUNDED;
	return fits_pair(i, ask, n, q->tolerance, out) ? OUTCOME_TWO_SLIPS : OUTCOME_WRONG;
}

/* ---- in words -------------------------------------------------------------------------------- */

/* A name of the author's, "bar_width", as words. */
static void name_add(const struct instance *i, long slot, struct text *out)
{
	const struct formula_name *name = &i->problem->scope.name[slot];
	for (size_t k = 0; k < name->len; k++)
		text_add_char(out, name->name[k] == '_' ? ' ' : name->name[k]);
}

static void tell_unit(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	const char *asked = i->problem->ask[ask].shown.unit_text;
	int len = (int)s->unit_len;
	if (s->slot != NO_SLIP_FITS) {
		text_add(out, "This comes out when the ");
		name_add(i, s->slot, out);
		text_addf(out, " is taken as if it were given in %.*s.", len, s->unit);
	} else if (s->unit_twice) {
		text_addf(out,
			"Between %.*s and %s it was divided where it is multiplied, or the "
			"other way round.",
			len, s->unit, asked);
	} else if (s->unit_typed) {
		text_addf(out, "The number is right in %s, not in %.*s.", asked, len, s->unit);
	} else {
		text_addf(
			out, "In %.*s this would be right; asked for is %s.", len, s->unit, asked);
	}
}

static void tell_radius(const struct instance *i, long slot, struct text *out)
{
	text_add(out, "This comes out when for the ");
	name_add(i, slot, out);
	text_add(out,
		" a value twice or half as large is taken: look whether radius or diameter is "
		"meant.");
}

static void tell_pair(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	text_add(out, "Two things at once. First: ");
	instance_text_add(i, &q->slip[s->slip].say, sign, out);
	text_add(out, " And: ");
	instance_text_add(i, &q->slip[s->second].say, sign, out);
}

static const char *const told[OUTCOME_COUNT] = {
	[OUTCOME_SIGN] = "The size is right, the sign is not. Look which of the two is taken from "
			 "which.",
	[OUTCOME_TENFOLD] = "The digits are right; the decimal sign stands one place off.",
	[OUTCOME_SWAPPED] = "Two neighbouring digits changed places. Read the value again before "
			    "writing it down.",
	[OUTCOME_ROUNDED] =
		"The way is right, but something was rounded too early or too coarsely. "
		"Keep all digits until the end, and give as many as are asked for.",
	[OUTCOME_HALF_DAY] = "The minutes are right; the hour is 12 or 24 off. Look at noon, at "
			     "midnight and at the day.",
	[OUTCOME_REFERRED] = "Something of the list fits here, so the case need not go back.",
	[OUTCOME_NOT_REFERRED] =
		"Nothing of the list fits here. Stop, and refer the case back to the "
		"prescriber.",
	[OUTCOME_WRONG] = "None of the usual mistakes gives this number; what went wrong cannot be "
			  "told from it. Go through the steps and compare.",
};

void diagnosis_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out)
{
	if (s->outcome == OUTCOME_UNIT)
		tell_unit(i, ask, s, out);
	else if (s->outcome == OUTCOME_RADIUS)
		tell_radius(i, s->slot, out);
	else if (s->outcome == OUTCOME_TWO_SLIPS)
		tell_pair(i, ask, s, sign, out);
	else if (told[s->outcome])
		text_add(out, told[s->outcome]);
}
