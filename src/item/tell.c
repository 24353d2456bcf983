/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is told about a wrong number. */
#include <string.h>

#include <barwright/base/unit.h>

#include "course/course.h"
#include "item/judge.h"

/* The value it was found with: a name of the author's as words, "bar width", in a list with its place,
 * and not alone where others do as well. */
static void value_add(const struct instance *i, const struct score *s, struct text *out)
{
	const struct formula_name *name = &i->problem->scope.name[s->slot];
	for (size_t k = 0; k < name->len; k++)
		text_add_char(out, name->name[k] == '_' ? ' ' : name->name[k]);
	if (s->place)
		text_addf(out, " number %zu", s->place);
	if (s->several)
		text_add(out, " (or another of the values)");
}

/* A unit in a sentence: nobody reads "in in" with ease. */
static void unit_add_word(const char *s, size_t len, struct text *out)
{
	if (len == 2 && memcmp(s, "in", 2) == 0)
		text_add(out, "inches");
	else
		unit_add_printed(s, len, out);
}

static void tell_unit(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	const char *unit_text = i->problem->ask[ask].shown.unit_text;
	struct text unit, asked;
	text_init(&unit);
	text_init(&asked);
	unit_add_word(s->unit, s->unit_len, &unit);
	unit_add_word(unit_text, strlen(unit_text), &asked);
	if (s->slot != NO_SLIP_FITS) {
		text_add(out, "This comes out when the ");
		value_add(i, s, out);
		text_addf(out, " is taken as if it were given in %s.", unit.at);
	} else if (s->unit_twice) {
		text_addf(out,
			"Between %s and %s it was divided where it is multiplied, or the other way "
			"round.",
			unit.at, asked.at);
	} else if (s->unit_typed && !*unit_text) {
		text_add(out, "The number is right, and has no unit.");
	} else if (s->unit_typed) {
		text_addf(out, "The number is right in %s, not in %s.", asked.at, unit.at);
	} else {
		text_addf(out, "In %s this would be right; asked for is %s.", unit.at, asked.at);
	}
	if (s->or_tenfold)
		text_add(out, " Or the decimal sign stands one place off: both come to a factor "
			      "of ten.");
	out->out |= unit.out | asked.out;
	text_release(&unit);
	text_release(&asked);
}

static void tell_radius(const struct instance *i, const struct score *s, struct text *out)
{
	text_add(out, "This comes out when for the ");
	value_add(i, s, out);
	text_add(out,
		" a value twice or half as large is taken: look whether radius or diameter is "
		"meant.");
}

static void tell_swapped(const struct instance *i, const struct score *s, struct text *out)
{
	text_add(out, "Two neighbouring digits changed places");
	if (s->slot != NO_SLIP_FITS) {
		text_add(out, " in the ");
		value_add(i, s, out);
	}
	text_add(out, ". Read the value again before writing it down.");
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
			  "told from it.",
};

static bool is_worked(const struct ask *q)
{
	for (size_t n = 0; n < q->nstep; n++)
		if (q->step[n].formula)
			return true;
	return false;
}

void diagnosis_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out)
{
	if (s->outcome == OUTCOME_UNIT)
		tell_unit(i, ask, s, out);
	else if (s->outcome == OUTCOME_RADIUS)
		tell_radius(i, s, out);
	else if (s->outcome == OUTCOME_SWAPPED)
		tell_swapped(i, s, out);
	else if (s->outcome == OUTCOME_TWO_SLIPS)
		tell_pair(i, ask, s, sign, out);
	else if (told[s->outcome])
		text_add(out, told[s->outcome]);
	if (s->outcome == OUTCOME_WRONG)
		text_add(out, is_worked(&i->problem->ask[ask])
				      ? " Compare your way with the worked solution."
				      : " Read the task again, and work it out once more.");
}
