/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings, their uncertainty, and what they prove.
 *
 * Pure: no state, no memory, no input or output. Lengths in mm where a name says so;
 * uncertainties and limits in any one unit. Every function that returns a code gives BAD_RANGE
 * for a number or result that is not finite (unless its comment allows infinity), and leaves its
 * results alone when it fails.
 *
 * Sources: JCGM 100:2008 (GUM); JCGM 106:2012; ISO 14253-1:2017 (its 95 % from secondary
 * sources). The error of a caliper is what its maker or its certificate states: +-0.03 mm is from
 * memory (ISO 13385-1), not verified. */
#ifndef BARWRIGHT_CALC_METROLOGY_H
#define BARWRIGHT_CALC_METROLOGY_H

#include <stddef.h>

#include <barwright/base/bad.h>

/* ---- readings -------------------------------------------------------------------------------- */

/* What a vernier shows: main scale + line * division, where `line` counts from 0 and is the one
 * that stands in line with the main scale. BAD_RANGE: line not whole or below 0, division not
 * above 0, or the two together more than the 1 mm between marks of the main scale. */
enum bad metrology_vernier(double main_mm, double line, double division_mm, double *reading_mm);
/* The zero error is what the closed instrument shows; it is taken off with its sign. */
enum bad metrology_corrected(double reading_mm, double zero_error_mm, double *length_mm);

struct metrology_set {
	double mean, lowest, highest, range;
	double deviation;             /* of the sample, n - 1; 0 for one reading */
	double u_mean;                /* deviation / sqrt(n): GUM 4.2.3; 0 for one reading */
	size_t lowest_at, highest_at; /* from 0; the earlier one on a tie */
};
/* At least one reading, else BAD_COUNT. */
enum bad metrology_readings(const double *reading, size_t n, struct metrology_set *out);

/* ---- uncertainty ----------------------------------------------------------------------------- */

/* Standard uncertainty of what is only known to lie within +-half_width: half_width/sqrt(3)
 * (GUM 4.3.7). For a digital display half_width is half of its last step. */
enum bad metrology_rectangular(double half_width, double *u);

/* One input of a result: how much the result changes per unit of it, its standard uncertainty and
 * the degrees of freedom of that, INFINITY when it is taken as known exactly. */
struct metrology_part {
	double sensitivity, u, degrees;
};
/* Combined standard uncertainty of uncorrelated inputs (GUM 5.1.2) and its effective degrees of
 * freedom (Welch-Satterthwaite, GUM G.2b), not cut to a whole number; INFINITY when no part
 * limits them. BAD_COUNT: no part. BAD_RANGE: u below 0 or degrees below 1. */
enum bad metrology_combine(const struct metrology_part *part, size_t n, double *u, double *degrees);

/* Coverage factor k of the two-sided interval with this confidence (0.5 to 0.9999): Student's t for
 * the whole part of `degrees` (GUM G.4.1), at least 1; INFINITY gives the normal distribution. */
enum bad metrology_coverage(double confidence, double degrees, double *k);

/* ---- verdicts -------------------------------------------------------------------------------- */

enum metrology_verdict {
	METROLOGY_CANNOT_TELL, /* the reading proves neither */
	METROLOGY_ACCEPT,      /* proved within the limits */
	METROLOGY_REJECT       /* proved outside */
};

/* A reading against limits, of which either may be infinite, with a guard band of `guard`:
 * accepted from lower + guard to upper - guard (these included, to 1e-9), rejected below lower -
 * guard or above upper + guard. The guard is the instrument's error ("limit + error", the bench
 * rule), or z * u from metrology_guard (ISO 14253-1, JCGM 106 clause 8). BAD_ORDER: lower not
 * below upper. */
enum bad metrology_judge(
	double reading, double lower, double upper, double guard, enum metrology_verdict *verdict);
/* The band of acceptance. BAD_NOTHING: the guard leaves none: the instrument is not fit for these
 * limits. */
enum bad metrology_band(
	double lower, double upper, double guard, double *accept_from, double *accept_to);

/* z * u for one limit and this confidence (0.5 to 0.9999): 95 % gives 1.644854 u. */
enum bad metrology_guard(double u, double confidence, double *guard);
/* Probability that the true value lies within the limits, of which either may be infinite, when
 * the reading has standard uncertainty u and nothing else is known (JCGM 106 clause 7). u = 0: 1
 * or 0. */
enum bad metrology_conformance(
	double reading, double u, double lower, double upper, double *probability);

#endif
