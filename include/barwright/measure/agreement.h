/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far raters agree: kappa of two raters, intraclass correlations of several.
 *
 * Pure: no state, no memory, no input or output. Tables are rows one behind the other. Every
 * function gives BAD_RANGE for a number that is not finite or a count below 0, and leaves its
 * results alone when it fails. What is not defined is a code, never a number. */
#ifndef BARWRIGHT_MEASURE_AGREEMENT_H
#define BARWRIGHT_MEASURE_AGREEMENT_H

#include <stddef.h>

#include <barwright/base/bad.h>

enum { AGREEMENT_CATEGORIES = 16 };

/* ---- two raters ------------------------------------------------------------------------------ */

struct agreement {
	double n;                  /* pieces judged by both */
	double observed, expected; /* share of agreement, weighted where weights are given */
	double kappa;              /* (observed - expected) / (1 - expected) */
	double se, low, high; /* standard error, and 95 % of the normal distribution about kappa */
	double se_null;       /* standard error if only chance were at work */
	double pabak;         /* (k s - 1) / (k - 1), s the plain share of agreement */
};
/* counts[i*k + j]: pieces that the first rater put into category i and the second into j; 2 to
 * AGREEMENT_CATEGORIES categories. `weight`: how bad it is to disagree by i and j, 0 on the diagonal
 * (k*k, none below 0); null: all alike. BAD_COUNT: k; BAD_NOTHING: no piece; BAD_SINGULAR: both
 * always chose the same category, so that chance explains everything: *observed (may be null) then
 * still gives the share of agreement. Sources: J. Cohen, Educ. Psychol. Meas. 20 (1960); Psychol.
 * Bull. 70 (1968); errors: J. L. Fleiss, J. Cohen, B. S. Everitt, Psychol. Bull. 72 (1969); PABAK:
 * T. Byrt et al., J. Clin. Epidemiol. 46 (1993), from memory. */
enum bad agreement_kappa(const double *counts, size_t k, const double *weight,
	struct agreement *out, double *observed);
/* Disagreement weights |i - j| (power 1) or (i - j)^2 (power 2) for ordered categories. */
void agreement_weights(size_t k, int power, double *weight);

/* ---- several raters -------------------------------------------------------------------------- */

/* Intraclass correlations of n pieces (rows) judged by k raters (columns) each, in the six forms of
 * P. E. Shrout and J. L. Fleiss, Psychol. Bull. 86 (1979). single[f] is one rater's, mean[f] that of
 * the mean of all k: ICC_ANY for raters that differ from piece to piece, ICC_RANDOM where any rater
 * might have judged, ICC_FIXED for these very raters. Below 0 is possible. BAD_COUNT: n or k below
 * 2; BAD_SINGULAR: the pieces do not differ. */
enum icc { ICC_ANY, ICC_RANDOM, ICC_FIXED, ICC_FORMS };
struct agreement_icc {
	double between, within, raters, rest; /* mean squares */
	double single[ICC_FORMS], mean[ICC_FORMS];
};
enum bad agreement_icc(const double *rating, size_t n, size_t k, struct agreement_icc *out);

#endif
