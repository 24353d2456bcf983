/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Instances: a problem with its numbers drawn. The same problem file, key and program version give
 * the same instance on every machine: draws are whole numbers on an instrument's grid, taken from
 * a ChaCha20 stream (base/random.h).
 *
 * The rule of the fair instance. A draw is taken only if
 *   - every formula of the problem gives a result, and every condition of its author holds;
 *   - no decision hangs on the last digit (course/course.h, struct decision);
 *   - answer and slips of each ask differ pairwise by at least two tolerances, so that a wrong
 *     number betrays one mistake. Where an answer is exact, no slip may equal it.
 *
 * Tolerance. Where the author states none, it is half the last digit of each reading, carried
 * through the formula and summed in quadrature (JCGM 100:2008, 5.1.2, with the effect of each
 * reading taken as half the difference of the results at its two ends), plus half the last digit
 * asked for. */
#ifndef BARWRIGHT_ITEM_INSTANCE_H
#define BARWRIGHT_ITEM_INSTANCE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/random.h>
#include <barwright/base/text.h>
#include <barwright/formula/formula.h>

struct problem;
struct template;
struct shown;
struct step;

struct instance_ask {
	double answer;    /* inside units; "nothing" (formula_is_nothing): refer back */
	double tolerance; /* inside units; 0: exact */
	double *slip;     /* what each slip of the ask gives; "nothing" where it gives nothing */
};

/* Made once for a problem by instance_new, filled again by every draw. */
struct instance {
	const struct problem *problem;
	struct formula_value *value; /* one a slot */
	struct instance_ask *ask;    /* one an ask of the problem */
	unsigned long tries;         /* draws the last instance took, itself included */
	double *room;                /* FORMULA_LENGTH numbers a slot, for lists */
	struct formula_work *work;
};

/* Why a draw was not taken. */
enum unfair {
	UNFAIR_NOT,         /* it is fair */
	UNFAIR_NO_RESULT,   /* a formula of let, an answer or a condition gave no result */
	UNFAIR_REQUIREMENT, /* a condition does not hold */
	UNFAIR_DECISION,    /* too near a limit */
	UNFAIR_ANSWER,      /* a slip lies too near the answer */
	UNFAIR_SLIPS,       /* two slips lie too near each other */
	UNFAIR_COUNT
};
/* What stood in the way, for reports: which condition, decision, let or slip, counted from 0. */
struct unfair_at {
	enum unfair why;
	size_t ask, first, second;
};

enum { INSTANCE_TRIES = 2000 };

/* An empty instance of a problem with all the room it needs, in `a`; BAD_MEMORY. */
enum bad instance_new(struct arena *a, const struct problem *p, struct instance **out);
/* Takes one draw, fair or not. Allocates nothing. */
enum unfair instance_try(struct instance *i, struct stream *s, struct unfair_at *at);
/* Draws until it is fair; BAD_UNFAIR after INSTANCE_TRIES. Allocates nothing. */
enum bad instance_draw(struct instance *i, struct stream *s);

/* ---- in words ---------------------------------------------------------------------------------
 * `sign` is the decimal sign to write, '.' or ','. All add to `out`. */

/* An inside value with its unit as `shown` says, "-17.00 mm"; places -1: as shown. Nothing: "none". */
void shown_add(const struct shown *shown, double value, int places, char sign, struct text *out);
/* The value of a slot; a list as "16.0, 14.6, 13.9 mm". */
void instance_value_add(
	const struct instance *i, size_t slot, int places, char sign, struct text *out);
void instance_text_add(
	const struct instance *i, const struct template *t, char sign, struct text *out);
/* One step of a worked solution: "A-P = centres + r = 11.40 mm + 2.05 mm = 13.45 mm". Nothing for
 * a step of words only. */
void instance_step_add(
	const struct instance *i, const struct step *step, char sign, struct text *out);
/* The answer of an ask with its unit, or "none: refer back". */
void instance_answer_add(const struct instance *i, size_t ask, char sign, struct text *out);

#endif
