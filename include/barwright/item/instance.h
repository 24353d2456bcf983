/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Instances: a problem with its numbers drawn. The same problem file, key and program version give
 * the same instance on every machine: draws are whole numbers on an instrument's grid, taken from
 * a ChaCha20 stream (base/random.h).
 *
 * The rule of the fair instance. A draw is taken only if
 *   - every formula of the problem gives a result, and every condition of its author holds;
 *   - no decision hangs on the last digit (course/course.h, struct decision);
 *   - answer and slips of each ask differ pairwise by at least two tolerances, so that a wrong
 *     number betrays one mistake. Where an answer is exact, no slip may equal it;
 *   - two slips made together do not bring the answer back;
 *   - of options exactly one is right (at least one, where several may be chosen), and no two look
 *     the same.
 * Beyond that, a few more draws are spent on one in which pairs of slips too differ from each other
 * and from single slips, and in which slips differ where the answer is exact.
 *
 * Tolerance. Where the author states none, it is half the last digit of each reading, carried
 * through the formula and summed in quadrature (JCGM 100:2008, 5.1.2, with the effect of each
 * reading taken as half the difference of the results at its two ends), plus half the last digit
 * asked for. */
#ifndef BARWRIGHT_ITEM_INSTANCE_H
#define BARWRIGHT_ITEM_INSTANCE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/random.h>
#include <barwright/base/text.h>
#include <barwright/formula/formula.h>

struct problem;
struct template;
struct shown;
struct step;
struct plan;

enum { INSTANCE_PAIRS = 32, INSTANCE_OFFERS = 32 };

/* Two slips of one ask made together, in the order of the file. */
struct slip_pair {
	size_t first, second;
	double value;  /* "nothing" where it gives nothing or what one of them gives alone */
	bool is_clear; /* it differs from every single slip and every other pair */
};

struct instance_ask {
	/* numbers and times */
	double answer;    /* inside units; "nothing" (formula_is_nothing): refer back */
	double tolerance; /* inside units; 0: exact */
	double *slip;     /* what each slip of the ask gives; "nothing" where it gives nothing */
	struct slip_pair *pair;
	size_t npair;
	/* the kinds with options; bit k stands for option k */
	uint32_t right;                  /* is right, or belongs to the order */
	uint32_t after[INSTANCE_OFFERS]; /* what must stand before option k */
	uint32_t place[INSTANCE_OFFERS]; /* which option is shown at place 0, 1, ... */
	uint32_t with[INSTANCE_OFFERS];  /* match: whose counterpart is shown there; from noffer on:
					    the others */
};

/* Made once for a problem by instance_new, filled again by every draw. */
struct instance {
	const struct problem *problem;
	struct formula_value *value; /* one a slot */
	struct instance_ask *ask;    /* one an ask of the problem */
	unsigned long tries;         /* draws the last instance took, itself included */
	bool all_clear;    /* pairs of slips differ from each other and from single slips */
	double *room;      /* FORMULA_LENGTH numbers a slot, for lists */
	uint32_t *drawn;   /* one a draw: which of its values, for those drawn together */
	struct plan *plan; /* what has to be worked out again for what */
	struct formula_work *work;
};

/* Why a draw was not taken. */
enum unfair {
	UNFAIR_NOT,         /* it is fair */
	UNFAIR_LET,         /* a formula of let gave no result */
	UNFAIR_NO_RESULT,   /* an answer or a condition gave none */
	UNFAIR_REQUIREMENT, /* a condition does not hold */
	UNFAIR_DECISION,    /* too near a limit */
	UNFAIR_ANSWER,      /* a slip lies too near the answer */
	UNFAIR_SLIPS,       /* two slips lie too near each other */
	UNFAIR_PAIR,        /* two slips together lie too near the answer */
	UNFAIR_RIGHT,       /* not one option is right (or none, where there may be several) */
	UNFAIR_SAME,        /* two options look the same */
	UNFAIR_COUNT
};
/* What stood in the way, for reports: which condition, decision, let, slip or option, counted from
 * 0. */
struct unfair_at {
	enum unfair why;
	size_t ask, first, second;
	struct formula_failure failure; /* UNFAIR_LET */
};

enum { INSTANCE_TRIES = 2000, INSTANCE_CLEAR_TRIES = 16 };

/* An empty instance of a problem with all the room it needs, in `a`; BAD_MEMORY. */
enum bad instance_new(struct arena *a, const struct problem *p, struct instance **out);
/* Takes one draw, fair or not; if fair, shuffles its options. Allocates nothing. */
enum unfair instance_try(struct instance *i, struct stream *s, struct unfair_at *at);
/* Draws until it is fair; BAD_UNFAIR after INSTANCE_TRIES. Allocates nothing. */
enum bad instance_draw(struct instance *i, struct stream *s);
/* Sentence without full stop about what stood in the way, for authors: "the answer and slip
 * 'chord' lie too near each other". */
void unfair_add(const struct problem *p, const struct unfair_at *at, struct text *out);

/* How hard an instance is likely to be, in what can be seen of it. */
struct features {
	unsigned long readings; /* values drawn, each element of a list */
	unsigned long digits;   /* digits of all of them as shown, zeros in front left out */
	unsigned long steps;    /* formulas of the worked solutions */
	unsigned long tries;    /* as in struct instance */
	double largest;         /* of the readings, as shown, without sign */
	double skew; /* of those that have a sign: |sum| / sum of sizes, 0 to 1: how far from even */
	double gap;  /* between answers and slips, the smallest, in tolerances; 0: no such */
};
void instance_features(const struct instance *i, struct features *out);

/* What one step of a worked solution comes to, and within what it is right: as for an answer.
 * BAD_NOTHING when it gives no number. Changes nothing that can be seen. */
enum bad instance_step(
	const struct instance *i, const struct step *step, double *value, double *tolerance);

/* ---- in words ---------------------------------------------------------------------------------
 * `sign` is the decimal sign to write, '.' or ','. All add to `out`. */

/* An inside value with its unit as `shown` says, "-17.00 mm"; places -1: as shown. Nothing: "none". */
void shown_add(const struct shown *shown, double value, int places, char sign, struct text *out);
/* The same for a record: a point, and the unit as the course writes it, "12.5 um". */
void shown_record(const struct shown *shown, double value, int places, struct text *out);
/* The value of a slot; a list as "16.0, 14.6, 13.9 mm". */
void instance_value_add(
	const struct instance *i, size_t slot, int places, char sign, struct text *out);
void instance_text_add(
	const struct instance *i, const struct template *t, char sign, struct text *out);
/* One step of a worked solution: "A-P = centres + r = 11.40 mm + 2.05 mm = 13.45 mm". Nothing for
 * a step of words only. What was worked out before has places enough for the line to hold with the
 * numbers it shows, within half the last digit of what comes out. */
void instance_step_add(
	const struct instance *i, const struct step *step, char sign, struct text *out);
/* What is shown at a place of the options, or of what they are to be matched with. */
void instance_offer_add(
	const struct instance *i, size_t ask, size_t place, char sign, struct text *out);
void instance_with_add(
	const struct instance *i, size_t ask, size_t place, char sign, struct text *out);
/* The letters by which options are answered, as they are right: "b", "a d", "c a b", "1c 2a". */
void instance_letters_add(const struct instance *i, size_t ask, struct text *out);
/* The answer of an ask: with its unit, "none: refer back", or letters and what they stand for. */
void instance_answer_add(const struct instance *i, size_t ask, char sign, struct text *out);

#endif
