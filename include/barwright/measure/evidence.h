/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which of several rules somebody follows, from answers: the right one is one of them, and every
 * answer fits some and not the others.
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

/* Beliefs before the first answer: the right rule, in belief[0], half; all others alike. n at least
 * 1. */
void evidence_prior(double *belief, size_t n);
/* Beliefs after an answer: fits[k] tells whether it is the one of rule k. Beliefs stay above 0 for
 * any number of answers that a strand can hold. BAD_COUNT: n is 0. */
enum bad evidence_update(double *belief, const bool *fits, size_t n);

/* Is it to be reported? */
bool evidence_is_enough(double belief, unsigned long answers, unsigned long sittings);

#endif
