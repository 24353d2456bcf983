/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: the parts of scoring. */
#ifndef BARWRIGHT_ITEM_JUDGE_H
#define BARWRIGHT_ITEM_JUDGE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/number.h>
#include <barwright/item/score.h>

/* A number as it was typed. */
struct number {
	double value; /* inside units */
	double typed; /* the bare number */
	double half;  /* half its last digit, inside units */
	struct decimal decimal;
	bool bare;     /* no unit was written behind it */
	bool as_asked; /* none, or the one asked for */
};

/* The edge of a tolerance belongs to it; the last bits of a double do not decide. */
bool is_within(const struct instance *i, size_t ask, double value, double target, double tolerance);
/* How far from a wrong way's number an answer may stand that is taken for it: the answer's tolerance, less
 * where that number is smaller than the answer, but half the last digit asked for. */
double wrong_tolerance(const struct instance *i, size_t ask, double wrong);
void unread(struct score *out, const char *why);

/* diagnose.c: which mistake of the general kinds gives this wrong number; OUTCOME_WRONG: none. */
enum outcome diagnose(
	const struct instance *i, size_t ask, const struct number *n, struct score *out);
/* Is it what two slips give together, to the last digit asked for? Fills slip and second. */
bool fits_pair_exactly(
	const struct instance *i, size_t ask, const struct number *n, struct score *out);
/* tell.c */
void diagnosis_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out);

/* letters.c: the kinds with options. */
void letters_judge(
	const struct instance *i, size_t ask, const char *typed, size_t len, struct score *out);
void letters_read_as(const struct instance *i, size_t ask, const struct score *s, struct text *out);
void letters_tell(
	const struct instance *i, size_t ask, const struct score *s, char sign, struct text *out);

#endif
