/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/item/score.h>

#include <math.h>
#include <string.h>
#include <strings.h>

#include <barwright/base/number.h>
#include <barwright/base/unit.h>

#include "course/course.h"

static const char *const outcome_words[OUTCOME_COUNT] = {
#define X(name, word) [OUTCOME_##name] = word,
	OUTCOMES(X)
#undef X
};

const char *outcome_word(enum outcome o)
{
	return (unsigned)o < OUTCOME_COUNT ? outcome_words[o] : "unread";
}

enum bad outcome_read(const char *word, enum outcome *out)
{
	for (int o = 0; o < OUTCOME_COUNT; o++)
		if (strcmp(outcome_words[o], word) == 0) {
			*out = (enum outcome)o;
			return FINE;
		}
	return BAD_UNKNOWN;
}

/* ---- reading --------------------------------------------------------------------------------- */

static bool is_word(const char *s, size_t len, const char *word)
{
	return len == strlen(word) && strncasecmp(s, word, len) == 0;
}

static bool means_refer(const char *s, size_t len)
{
	while (len && (*s == ' ' || *s == '\t')) {
		s++;
		len--;
	}
	while (len && (s[len - 1] == ' ' || s[len - 1] == '\t'))
		len--;
	return is_word(s, len, "refer") || is_word(s, len, "refer back") || is_word(s, len, "none");
}

static void unread(struct score *out, const char *why)
{
	out->outcome = OUTCOME_UNREAD;
	out->why = why;
}

/* ---- comparing ------------------------------------------------------------------------------- */

/* The edge of a tolerance belongs to it; the last bits of a double do not decide. */
static bool is_within(double value, double target, double tolerance)
{
	double slack = 1e-9 * (1 + fabs(target));
	return !formula_is_nothing(target) && fabs(value - target) <= tolerance + slack;
}

static long nearest_slip(const struct instance *i, size_t ask, double value)
{
	const struct instance_ask *q = &i->ask[ask];
	long best = NO_SLIP_FITS;
	double distance = INFINITY;
	for (size_t n = 0; n < i->problem->ask[ask].nslip; n++)
		if (is_within(value, q->slip[n], q->tolerance) &&
			fabs(value - q->slip[n]) < distance) {
			best = (long)n;
			distance = fabs(value - q->slip[n]);
		}
	return best;
}

/* What was typed, in the unit asked for and to how many places. */
struct number {
	double value; /* inside units */
	double typed; /* the bare number */
	double half;  /* half its last digit, bare */
	struct decimal decimal;
};

/* Units somebody may have worked in by mistake; those of the asked dimension are tried. */
static const char *const other_units[] = {"in", "cm", "m", "um", "mm", "bar", "psi", "MPa", "kPa",
	"N", "kN", "kgf", "g", "kg", "mL", "deg", "rad", "min", "h", "s", "%"};

/* A number written so coarsely in another unit fits too much to betray anything. */
#define CLOSE_ENOUGH 0.025

/* Is the bare number right in another unit of the same dimension? Or was the factor used twice? */
static const char *fits_other_unit(const struct instance *i, size_t ask, const struct number *n)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	const struct instance_ask *q = &i->ask[ask];
	for (size_t k = 0; k < sizeof other_units / sizeof *other_units; k++) {
		struct unit u;
		size_t at, len;
		if (unit_read(other_units[k], strlen(other_units[k]), &u, &at, &len) ||
			u.offset != 0 || !dim_is_equal(u.dim, shown->unit.dim))
			continue;
		if (fabs(u.factor - shown->unit.factor) < 1e-12 * u.factor)
			continue;
		double half = n->half * u.factor;
		if (half <= CLOSE_ENOUGH * fabs(q->answer) &&
			is_within(n->typed * u.factor, q->answer, q->tolerance + half))
			return other_units[k];
	}
	return NULL;
}

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
	shown_add(&(struct shown){.unit = shown->unit, .unit_text = "", .places = shown->places}, i->ask[ask].answer, -1, '.',
		&right);
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

static bool is_tenfold(double value, double target, double tolerance)
{
	return is_within(value, 10 * target, 10 * tolerance) ||
	       is_within(value, target / 10, tolerance / 10 + 1e-12);
}

/* ---- judging --------------------------------------------------------------------------------- */

static enum outcome general_mistake(
	const struct instance *i, size_t ask, const struct number *n, bool bare, struct score *out)
{
	const struct instance_ask *q = &i->ask[ask];
	const char *unit = bare ? fits_other_unit(i, ask, n) : NULL;
	if (unit) {
		out->unit = unit;
		out->unit_len = strlen(unit);
		return OUTCOME_UNIT;
	}
	if (is_within(-n->value, q->answer, q->tolerance))
		return OUTCOME_SIGN;
	if (is_swapped(i, ask, n))
		return OUTCOME_SWAPPED;
	if (i->problem->ask[ask].tolerance != TOLERANCE_EXACT &&
		is_tenfold(n->value, q->answer, q->tolerance))
		return OUTCOME_TENFOLD;
	return OUTCOME_WRONG;
}

static void judge_number(
	const struct instance *i, size_t ask, const struct number *n, bool bare, struct score *out)
{
	const struct instance_ask *q = &i->ask[ask];
	out->value = n->value;
	if (is_within(n->value, q->answer, q->tolerance)) {
		out->outcome = OUTCOME_RIGHT;
		return;
	}
	out->slip = nearest_slip(i, ask, n->value);
	if (formula_is_nothing(q->answer))
		out->outcome = OUTCOME_NOT_REFERRED;
	else if (out->slip != NO_SLIP_FITS)
		out->outcome = OUTCOME_SLIP;
	else
		out->outcome = general_mistake(i, ask, n, bare, out);
}

static void judge_refer(const struct instance *i, size_t ask, struct score *out)
{
	if (formula_is_nothing(i->ask[ask].answer)) {
		out->outcome = OUTCOME_RIGHT;
		return;
	}
	out->outcome = OUTCOME_REFERRED;
}

/* The number is right in the unit asked for, but another unit was written. */
static bool is_right_but_for_unit(const struct instance *i, size_t ask, double typed)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	double value = typed * shown->unit.factor + shown->unit.offset;
	return is_within(value, i->ask[ask].answer, i->ask[ask].tolerance);
}

static void wrong_unit(const struct typed *t, double value, struct score *out)
{
	out->outcome = OUTCOME_UNIT;
	out->unit = t->unit;
	out->unit_len = t->unit_len;
	out->unit_typed = true;
	out->value = value;
}

static void judge_typed(
	const struct instance *i, size_t ask, const struct typed *t, struct score *out)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	struct unit u = shown->unit;
	size_t at, len;
	double typed = decimal_value(t->value);
	if (t->unit_len && unit_read(t->unit, t->unit_len, &u, &at, &len)) {
		unread(out, "the unit behind the number is not known here");
		return;
	}
	bool same = dim_is_equal(u.dim, shown->unit.dim);
	if (!same && !is_right_but_for_unit(i, ask, typed)) {
		unread(out, "the unit behind the number is of another kind than the one asked for");
		return;
	}
	double value = typed * u.factor + u.offset;
	if (!same || (is_right_but_for_unit(i, ask, typed) &&
			     !is_within(value, i->ask[ask].answer, i->ask[ask].tolerance))) {
		wrong_unit(t, same ? value : formula_nothing(), out);
		return;
	}
	double half =
		0.5 / (double[]){1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9}[t->value.places];
	struct number n = {value, typed, half, t->value};
	judge_number(i, ask, &n, t->unit_len == 0, out);
}

void score_typed(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out)
{
	struct typed t;
	const char *why;
	*out = (struct score){.slip = NO_SLIP_FITS, .value = formula_nothing()};
	if (means_refer(typed, len)) {
		if (i->problem->ask[ask].may_refer)
			judge_refer(i, ask, out);
		else
			unread(out, "a number is asked for here");
	} else if (typed_read(typed, len, &t, &why)) {
		unread(out, why);
	} else {
		judge_typed(i, ask, &t, out);
	}
}

/* ---- in words -------------------------------------------------------------------------------- */

void score_read_as(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	if (s->outcome == OUTCOME_UNREAD)
		return;
	if (!formula_is_nothing(s->value))
		shown_add(&i->problem->ask[ask].shown, s->value,
			i->problem->ask[ask].shown.places + 2, '.', out);
	else if (s->outcome != OUTCOME_UNIT)
		text_add(out, "refer back");
}

static void tell_unit(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	const char *asked = i->problem->ask[ask].shown.unit_text;
	int len = (int)s->unit_len;
	if (s->unit_typed)
		text_addf(out, "The number is right in %s, not in %.*s.", asked, len, s->unit);
	else
		text_addf(
			out, "In %.*s this would be right; asked for is %s.", len, s->unit, asked);
}

static void tell_general(
	const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	switch (s->outcome) {
	case OUTCOME_UNIT:
		tell_unit(i, ask, s, out);
		break;
	case OUTCOME_SIGN:
		text_add(out, "The size is right, the sign is not. Look which of the two is taken "
			      "from which.");
		break;
	case OUTCOME_TENFOLD:
		text_add(out, "The digits are right; the decimal sign stands one place off.");
		break;
	case OUTCOME_SWAPPED:
		text_add(out, "Two neighbouring digits changed places. Read the value again before "
			      "writing it down.");
		break;
	case OUTCOME_REFERRED:
		text_add(out, "Something of the list fits here, so the case need not go back.");
		break;
	case OUTCOME_NOT_REFERRED:
		text_add(out, "Nothing of the list fits here. Stop, and refer the case back to the "
			      "prescriber.");
		break;
	case OUTCOME_WRONG:
		text_add(out, "None of the usual mistakes gives this number; what went wrong "
			      "cannot be told from "
			      "it. Go through the steps and compare.");
		break;
	default:
		break;
	}
}

void score_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	if (s->outcome == OUTCOME_UNREAD) {
		text_add(out, s->why);
		return;
	}
	tell_general(i, ask, s, out);
	if (s->slip == NO_SLIP_FITS)
		return;
	if (out->len)
		text_add_char(out, ' ');
	instance_text_add(i, &q->slip[s->slip].say, sign, out);
}

void score_expected(
	const struct instance *i, size_t ask, struct text *expected, struct text *tolerance)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	int places = shown->places + 4 > DECIMAL_PLACES ? DECIMAL_PLACES : shown->places + 4;
	struct shown bare = {.unit = shown->unit, .unit_text = "", .places = places};
	shown_add(&bare, i->ask[ask].answer, -1, '.', expected);
	bare.unit.offset = 0;
	shown_add(&bare, i->ask[ask].tolerance, -1, '.', tolerance);
}
