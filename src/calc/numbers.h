/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: finite numbers in, finite numbers out. NaN is above, below and equal to nothing,
 * so each of these refuses it. */
#ifndef BARWRIGHT_CALC_NUMBERS_H
#define BARWRIGHT_CALC_NUMBERS_H

#include <math.h>
#include <stdbool.h>

#include <barwright/base/bad.h>

static const double pi = 3.14159265358979323846;

static inline bool is_above_0(double x)
{
	return x > 0 && x < INFINITY;
}

static inline bool is_from_0(double x)
{
	return x >= 0 && x < INFINITY;
}

/* Writes a result; one that has overflowed is BAD_RANGE, as the arguments were that made it. */
static inline enum bad result_give(double result, double *out)
{
	if (!isfinite(result))
		return BAD_RANGE;
	*out = result;
	return FINE;
}

#endif
