/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What operators and calls do to numbers; the compiler uses it for constants, a run for all that
 * has no code of its own. */
#ifndef BARWRIGHT_FORMULA_VALUE_H
#define BARWRIGHT_FORMULA_VALUE_H

#include <math.h>

#include "formula/function.h"
#include "formula/scan.h"

/* Why a value was refused; static phrases for "it ...". */
extern const char value_by_zero[], value_too_large[], value_met_nothing[];

/* People compare decimals, machines binary fractions: 16 - 14.6 - 1.4 is not 0 in them. So values
 * count as equal when they differ by less than VALUE_SHARE of their sizes, or by less than
 * VALUE_SLACK (in mm, N, MPa, rad, s, ...: far below any instrument). Masses and densities are
 * small numbers in tonnes and go without VALUE_SLACK. */
#define VALUE_SHARE 1e-12
#define VALUE_SLACK 1e-11
double value_slack(struct dim dim);
static inline double value_margin(double a, double b, double slack)
{
	return VALUE_SHARE * fabs(a) + VALUE_SHARE * fabs(b) + slack;
}

/* One operator on numbers or truths (b is not looked at for one operand; slack only by
 * comparisons). Codes and words as formula_run. */
enum bad value_apply(enum op op, double a, double b, double slack, double *out, const char **why);
/* base^exponent. Whole powers up to 64 by multiplication and 1/2 by sqrt: the same bits
 * everywhere. */
enum bad value_power(double base, double exponent, double *out, const char **why);
/* Calls a function, carrying "nothing" past those that do not look at it. */
enum bad value_call(const struct function *f, struct call *c);

#endif
