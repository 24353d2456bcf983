/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of several rules somebody follows, from answers: each rule (the right one is one of them)
 * predicts an answer within a tolerance, or none.
 *
 * That procedural errors are often systematic rules: J. S. Brown, R. R. Burton, Cogn. Sci. 2 (1978);
 * that many are unstable from day to day, so that a diagnosis needs repetition: K. VanLehn, Mind Bugs
 * (1990), from memory. Bayes' rule; its constants are course values.
 *
 * Pure: no state, no memory, no input or output. */
#ifndef BARWRIGHT_MEASURE_EVIDENCE_H
#define BARWRIGHT_MEASURE_EVIDENCE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>

/* Share of answers that do not follow the rule somebody has, and over how many other values those
 * spread: course values. */
#define EVIDENCE_STRAY 0.10
enum { EVIDENCE_VALUES = 1000 };

/* A rule is reported when it is this sure, and was seen so often and in so many sittings: course
 * values. */
#define EVIDENCE_SURE 0.95
enum { EVIDENCE_ANSWERS = 2, EVIDENCE_SITTINGS = 2 };

/* The smallest of |a - b| / (tolerance of a + tolerance of b) over all pairs of rules. NaN as an
 * answer: the rule gives none, and differs from all that do. Infinite when no two rules give one.
 * BAD_COUNT: fewer than 2; BAD_RANGE: a tolerance not above 0. */
enum bad evidence_separation(const double *answer, const double *tolerance, size_t n, double *out);

/* How much one answer is expected to tell, in bits: the entropy of the classes of rules whose answers
 * may coincide (nearer to the first of a class than both tolerances together), by their belief.
 * BAD_COUNT: n is 0; BAD_RANGE: a belief below 0, or a sum that is not 1 within 1e-9. */
enum bad evidence_information(
	const double *belief, const double *answer, const double *tolerance, size_t n, double *out);

/* Beliefs before the first answer: the right rule, in belief[0], half; all others alike. n at least
 * 1. */
void evidence_prior(double *belief, size_t n);
/* Beliefs after an answer: fits[k] tells whether it is the one of rule k. Beliefs stay above 0 for
 * any number of answers that a strand can hold. BAD_COUNT: n is 0. */
enum bad evidence_update(double *belief, const bool *fits, size_t n);

/* Is it to be reported? */
bool evidence_is_enough(double belief, unsigned long answers, unsigned long sittings);

#endif
