/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/item/score.h>

#include <math.h>
#include <string.h>

#include <barwright/base/number.h>
#include <barwright/base/unit.h>

#include "course/course.h"
#include "item/clock.h"
#include "item/judge.h"
#include "item/plan.h"

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

static bool is_typed_word(const char *s, size_t len, const char *word)
{
	return len == strlen(word) && text_is_same(s, word, len);
}

static bool means_refer(const char *s, size_t len)
{
	while (len && (*s == ' ' || *s == '\t')) {
		s++;
		len--;
	}
	while (len && (s[len - 1] == ' ' || s[len - 1] == '\t'))
		len--;
	return is_typed_word(s, len, "refer") || is_typed_word(s, len, "refer back") ||
	       is_typed_word(s, len, "none");
}

void unread(struct score *out, const char *why)
{
	out->outcome = OUTCOME_UNREAD;
	out->why = why;
}

/* The unit written behind a number, if there is one, into *u; else why it cannot be read. */
static const char *unit_typed(const struct typed *t, struct unit *u)
{
	size_t at, len;
	if (!t->unit_len || !unit_read(t->unit, t->unit_len, u, &at, &len))
		return NULL;
	if (t->unit_len > 1 && (*t->unit | 0x20) == 'e' && strchr("+-0123456789", t->unit[1]))
		return "write the number out, without an exponent";
	return "the unit behind the number is not known here";
}

/* ---- comparing ------------------------------------------------------------------------------- */

bool is_within(const struct instance *i, size_t ask, double value, double target, double tolerance)
{
	double slack = 1e-9 * (i->problem->ask[ask].shown.unit.factor + fabs(target));
	return !formula_is_nothing(target) &&
	       answer_gap(i, ask, value, target) <= tolerance + slack;
}

/* fmin takes the number where the share is none: the answer is 0, or nothing fits. */
double wrong_tolerance(const struct instance *i, size_t ask, double wrong)
{
	const struct instance_ask *q = &i->ask[ask];
	double share = fmin(fabs(wrong / q->answer), 1);
	return fmax(q->tolerance * share, half_shown_digit(&i->problem->ask[ask].shown));
}

static long nearest_slip(const struct instance *i, size_t ask, double value)
{
	const struct instance_ask *q = &i->ask[ask];
	long best = NO_SLIP_FITS;
	double distance = INFINITY;
	for (size_t n = 0; n < i->problem->ask[ask].nslip; n++) {
		double gap = answer_gap(i, ask, value, q->slip[n]);
		double tolerance = wrong_tolerance(i, ask, q->slip[n]);
		if (is_within(i, ask, value, q->slip[n], tolerance) && gap < distance) {
			best = (long)n;
			distance = gap;
		}
	}
	return best;
}

/* Is it the slip's number to the last digit asked for? */
static bool is_exactly(const struct instance *i, size_t ask, double value, long slip)
{
	return is_within(i, ask, value, i->ask[ask].slip[slip],
		half_shown_digit(&i->problem->ask[ask].shown));
}

/* Another slip that gives the very same number: which of the two it was cannot be told. */
static long same_slip(const struct instance *i, size_t ask, long slip)
{
	const struct instance_ask *q = &i->ask[ask];
	for (size_t n = 0; slip >= 0 && n < i->problem->ask[ask].nslip; n++)
		if ((long)n != slip && is_within(i, ask, q->slip[slip], q->slip[n], 0))
			return (long)n;
	return NO_SLIP_FITS;
}

/* ---- judging --------------------------------------------------------------------------------- */

static void judge_number(
	const struct instance *i, size_t ask, const struct number *n, struct score *out)
{
	const struct instance_ask *q = &i->ask[ask];
	out->value = n->value;
	if (is_within(i, ask, n->value, q->answer, q->tolerance)) {
		out->outcome = OUTCOME_RIGHT;
		return;
	}
	out->slip = nearest_slip(i, ask, n->value);
	out->second = same_slip(i, ask, out->slip);
	if (formula_is_nothing(q->answer))
		out->outcome = OUTCOME_NOT_REFERRED;
	else if (out->slip != NO_SLIP_FITS && !is_exactly(i, ask, n->value, out->slip) &&
		 fits_pair_exactly(i, ask, n, out))
		out->outcome = OUTCOME_TWO_SLIPS;
	else if (out->slip != NO_SLIP_FITS)
		out->outcome = OUTCOME_SLIP;
	else
		out->outcome = diagnose(i, ask, n, out);
}

static void judge_refer(const struct instance *i, size_t ask, struct score *out)
{
	if (formula_is_nothing(i->ask[ask].answer)) {
		out->outcome = OUTCOME_RIGHT;
		return;
	}
	out->outcome = OUTCOME_REFERRED;
}

static const struct score nothing_yet = {
	.slip = NO_SLIP_FITS, .second = NO_SLIP_FITS, .slot = NO_SLIP_FITS};

/* The number is right in the unit asked for, but another unit was written. */
static bool is_right_but_for_unit(const struct instance *i, size_t ask, double typed)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	double value = typed * shown->unit.factor + shown->unit.offset;
	return is_within(i, ask, value, i->ask[ask].answer, i->ask[ask].tolerance);
}

static const char other_kind[] =
	"the unit behind the number is of another kind than the one asked for";

void score_hide_unit(struct score *s)
{
	if (s->outcome != OUTCOME_UNIT || !s->unit_typed || !formula_is_nothing(s->value))
		return;
	*s = nothing_yet;
	s->value = formula_nothing();
	unread(s, other_kind);
}

static void wrong_unit(const struct typed *t, double value, struct score *out)
{
	out->outcome = OUTCOME_UNIT;
	out->unit = t->unit;
	out->unit_len = t->unit_len;
	out->unit_typed = true;
	out->value = value;
}

/* The unit of a number: the one typed, else the one asked for. Where the number of a unit is asked for,
 * that unit may stand behind it, and no other: turning one into the other is what is asked. */
static const char *unit_of(const struct ask *q, const struct typed *t, struct unit *out)
{
	*out = q->shown.unit;
	const char *why = unit_typed(t, out);
	if (why || !q->is_number_of || !t->unit_len)
		return why;
	if (!unit_is_same(out, &q->counted))
		return "the number is asked for in one unit, and another stands behind it";
	*out = q->shown.unit;
	return NULL;
}

static void judge_typed(
	const struct instance *i, size_t ask, const struct typed *t, struct score *out)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	struct unit u;
	double typed = decimal_value(t->value);
	const char *why = unit_of(&i->problem->ask[ask], t, &u);
	if (why) {
		unread(out, why);
		return;
	}
	bool same = dim_is_equal(u.dim, shown->unit.dim);
	if (!same && !is_right_but_for_unit(i, ask, typed)) {
		unread(out, other_kind);
		return;
	}
	double value = typed * u.factor + u.offset;
	if (!same ||
		(is_right_but_for_unit(i, ask, typed) &&
			!is_within(i, ask, value, i->ask[ask].answer, i->ask[ask].tolerance))) {
		wrong_unit(t, same ? value : formula_nothing(), out);
		return;
	}
	struct number n = {.value = value,
		.typed = typed,
		.half = 0.5 * decimal_value((struct decimal){1, t->value.places}) * u.factor,
		.decimal = t->value,
		.bare = t->unit_len == 0,
		.as_asked = u.factor == shown->unit.factor && u.offset == shown->unit.offset};
	judge_number(i, ask, &n, out);
}

static void judge_time(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out)
{
	struct number n = {0};
	const char *why;
	if (clock_read(i->problem->ask[ask].shown.clock, typed, len, &n.value, &why))
		unread(out, why);
	else
		judge_number(i, ask, &n, out);
}

static void judge_line(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out)
{
	struct typed t;
	const char *why;
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

void score_typed(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out)
{
	enum asked kind = i->problem->ask[ask].kind;
	*out = nothing_yet;
	out->value = formula_nothing();
	if (kind == ASKED_NUMBER)
		judge_line(i, ask, typed, len, out);
	else if (kind == ASKED_TIME)
		judge_time(i, ask, typed, len, out);
	else
		letters_judge(i, ask, typed, len, out);
}

/* A number or time of a step, in its own unit. */
static const char *step_read(const struct step *step, const char *typed, size_t len, double *value)
{
	struct typed t;
	const char *why;
	struct unit u = step->shown.unit;
	if (step->shown.clock)
		return clock_read(step->shown.clock, typed, len, value, &why) ? why : NULL;
	if (typed_read(typed, len, &t, &why))
		return why;
	why = unit_typed(&t, &u);
	if (why)
		return why;
	if (!dim_is_equal(u.dim, step->shown.unit.dim))
		return other_kind;
	*value = decimal_value(t.value) * u.factor + u.offset;
	return NULL;
}

void score_step(const struct instance *i, const struct step *step, const char *typed, size_t len,
	struct score *out)
{
	double value, right, tolerance;
	*out = nothing_yet;
	out->value = formula_nothing();
	const char *why = step_read(step, typed, len, &value);
	if (why) {
		unread(out, why);
		return;
	}
	out->value = value;
	out->outcome = OUTCOME_WRONG;
	if (instance_step(i, step, &right, &tolerance))
		return;
	double slack = 1e-9 * (step->shown.unit.factor + fabs(right));
	if (fabs(value - right) <= tolerance + slack)
		out->outcome = OUTCOME_RIGHT;
}

/* ---- in words -------------------------------------------------------------------------------- */

void score_slip_add(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	if (s->slip == NO_SLIP_FITS)
		return;
	text_add(out, q->noffer ? q->offer[s->slip].slip : q->slip[s->slip].name);
	if (s->second != NO_SLIP_FITS)
		text_addf(out, "%c%s", s->outcome == OUTCOME_TWO_SLIPS ? '+' : '/',
			q->slip[s->second].name);
}

/* Two more than are asked for, so that what was typed can be seen again. */
static int read_places(const struct shown *shown)
{
	return shown->places + 2 < DECIMAL_PLACES ? shown->places + 2 : DECIMAL_PLACES;
}

void score_read_as(const struct instance *i, size_t ask, const struct score *s, struct text *out)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	if (s->outcome == OUTCOME_UNREAD)
		return;
	if (i->problem->ask[ask].noffer)
		letters_read_as(i, ask, s, out);
	else if (!formula_is_nothing(s->value))
		shown_record(shown, s->value, shown->clock ? 0 : read_places(shown), out);
	else if (s->outcome != OUTCOME_UNIT)
		text_add(out, "refer back");
}

void score_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out)
{
	const struct ask *q = &i->problem->ask[ask];
	if (s->outcome == OUTCOME_UNREAD) {
		text_add(out, s->why);
		return;
	}
	if (q->noffer) {
		letters_tell(i, ask, s, sign, out);
		return;
	}
	diagnosis_tell(i, ask, s, sign, out);
	if (s->slip == NO_SLIP_FITS || s->outcome == OUTCOME_TWO_SLIPS)
		return;
	if (out->len)
		text_add_char(out, ' ');
	text_add(out, s->second == NO_SLIP_FITS ? "" : "One of two things. Either: ");
	instance_text_add(i, &q->slip[s->slip].say, sign, out);
	if (s->second == NO_SLIP_FITS)
		return;
	text_add(out, " Or: ");
	instance_text_add(i, &q->slip[s->second].say, sign, out);
}

void score_expected(
	const struct instance *i, size_t ask, struct text *expected, struct text *tolerance)
{
	const struct shown *shown = &i->problem->ask[ask].shown;
	int places = shown->places + 4 > DECIMAL_PLACES ? DECIMAL_PLACES : shown->places + 4;
	struct shown bare = {.unit = shown->unit, .unit_text = "", .places = places};
	if (i->problem->ask[ask].noffer) {
		instance_letters_add(i, ask, expected);
		return;
	}
	shown_record(&bare, i->ask[ask].answer, -1, expected);
	bare.unit.offset = 0;
	shown_record(&bare, i->ask[ask].tolerance, -1, tolerance);
}

void score_step_record(const struct instance *i, const struct step *step, const struct score *s,
	struct text *read_as, struct text *expected, struct text *tolerance)
{
	struct shown bare = step->shown;
	double value = formula_nothing(), allowed = 0;
	instance_step(i, step, &value, &allowed);
	if (!formula_is_nothing(s->value))
		shown_record(&step->shown, s->value,
			step->shown.clock ? 0 : read_places(&step->shown), read_as);
	bare.places = bare.places + 4 > DECIMAL_PLACES ? DECIMAL_PLACES : bare.places + 4;
	bare.unit_text = "";
	bare.clock = NULL;
	shown_record(&bare, value, -1, expected);
	bare.unit.offset = 0;
	shown_record(&bare, allowed, -1, tolerance);
}
