/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scoring what somebody typed, and naming the mistake a wrong number betrays. */
#ifndef BARWRIGHT_ITEM_SCORE_H
#define BARWRIGHT_ITEM_SCORE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>
#include <barwright/item/instance.h>

#define OUTCOMES(X) \
	X(UNREAD, "unread")     /* cannot be read as an answer: ask again, nothing is scored */ \
	X(RIGHT, "right")       /* within tolerance */ \
	X(SLIP, "slip")         /* the number a named slip gives */ \
	X(UNIT, "unit")         /* the right number in a wrong unit, or turned the wrong way */ \
	X(SIGN, "sign")         /* the right number with the wrong sign */ \
	X(TENFOLD, "tenfold")   /* the decimal sign slipped by one place */ \
	X(SWAPPED, "swapped")   /* two neighbouring digits changed places, here or in a reading */ \
	X(ROUNDED, "rounded")   /* rounded on the way, or to fewer places than asked for */ \
	X(RADIUS, "radius")     /* a diameter taken for a radius, or the other way round */ \
	X(HALF_DAY, "half-day") /* 12 or 24 hours off */ \
	X(TWO_SLIPS, "two-slips")       /* the number that two named slips give together */ \
	X(WRONG, "wrong")               /* wrong, and no mistake fits */ \
	X(NOT_REFERRED, "not-referred") /* a value where nothing fits: referring back was right */ \
	X(REFERRED, "referred")         /* referred back although something fits */

enum outcome {
#define X(name, word) OUTCOME_##name,
	OUTCOMES(X)
#undef X
		OUTCOME_COUNT
};
const char *outcome_word(enum outcome o);
enum bad outcome_read(const char *word, enum outcome *out); /* BAD_UNKNOWN */

enum { NO_SLIP_FITS = -1 };

struct score {
	enum outcome outcome;
	/* OUTCOME_SLIP, TWO_SLIPS or NOT_REFERRED: which slip of the ask, or which option betrays one;
	 * else NO_SLIP_FITS */
	long slip;
	/* OUTCOME_TWO_SLIPS: the other one; OUTCOME_SLIP: another one that gives the same number, so
	 * that it was one of the two; else NO_SLIP_FITS */
	long second;
	double value; /* as read, inside units; "nothing" when referred back or unread */
	/* OUTCOME_UNIT: the unit that was typed though the number is right in the one asked for (then
	 * unit_typed), or the unit in which a bare number would be right; in the typed text or static. */
	const char *unit;
	size_t unit_len;
	bool unit_typed;
	bool unit_twice; /* it was turned into the unit asked for the wrong way round */
	bool or_tenfold; /* OUTCOME_UNIT: or it was the decimal sign; both come to a factor of ten */
	/* OUTCOME_UNIT: the given value that was taken in this unit; RADIUS: the diameter or radius;
	 * SWAPPED: the reading whose digits changed places; a slot; else NO_SLIP_FITS */
	long slot;
	size_t place;    /* SWAPPED, of a list: which value of it, from 1; else 0 */
	bool several;    /* with another value than that of `slot` the same number comes out */
	const char *why; /* OUTCOME_UNREAD: a sentence for the person; static text */
	/* Of the kinds with options: what was picked, as places in the file, in the order given; of
	 * a match, for each pair what was put with it. */
	unsigned char picked[INSTANCE_OFFERS];
	size_t npicked;
};

/* Scores a typed text against one ask. "refer" (also "none", "refer back") refers back where the
 * ask allows it. A bare number takes the unit asked for. Times are typed "14:35", "day 2 06:10" or
 * "Fri 06:10"; options by the letters beside them, "b", "a d", "c a b", "1c 2a". Never fails: what
 * cannot be read is OUTCOME_UNREAD. Order for numbers: right; a named slip; wrong unit, sign, swapped
 * digits, decimal place, too coarse, radius for diameter, unit of a given value, rounded on the way; two
 * named slips together; swapped digits of a reading. What fits none of them cannot be told. */
void score_typed(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out);
/* In an assessment nothing may tell before the end whether a number was right. With a unit of another kind
 * behind it practice says so where it was; here such an answer is not read, whatever its number. */
void score_hide_unit(struct score *s);

/* How it was read: "12.35 mm", "refer back", "" when unread. Always with a decimal point. */
void score_read_as(const struct instance *i, size_t ask, const struct score *s, struct text *out);
/* Scores what was filled in for a step of the worked solution: right, or wrong, or unread. */
void score_step(const struct instance *i, const struct step *step, const char *typed, size_t len,
	struct score *out);
/* How it was read, and what would have been right and within what, for the record; as below. */
void score_step_record(const struct instance *i, const struct step *step, const struct score *s,
	struct text *read_as, struct text *expected, struct text *tolerance);
/* The code of the slip; of two made together with "+" between, of one of two with "/"; nothing when
 * none fits. */
void score_slip_add(const struct instance *i, size_t ask, const struct score *s, struct text *out);
/* What to tell about a wrong answer: the slip's words or ours. Empty for right. */
void score_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out);
/* Expected value and tolerance in the asked unit as decimals for the record: enough places to score
 * again by, "none" where nothing fits; of options the letters that are right, and no tolerance. */
void score_expected(
	const struct instance *i, size_t ask, struct text *expected, struct text *tolerance);

#endif
