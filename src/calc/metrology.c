/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/metrology.h>

#include <math.h>

#include "calc/gsl_door.h"
#include "calc/numbers.h"

#define SLACK 1e-9 /* rounding of decimals; below any instrument */

/* ---- readings -------------------------------------------------------------------------------- */

enum bad metrology_vernier(double main_mm, double line, double division_mm, double *reading_mm)
{
	if (!isfinite(main_mm) || !(line >= 0) || line != floor(line) || !(division_mm > 0) ||
		!(line * division_mm <= 1 + SLACK))
		return BAD_RANGE;
	return result_give(main_mm + line * division_mm, reading_mm);
}

enum bad metrology_corrected(double reading_mm, double zero_error_mm, double *length_mm)
{
	if (!isfinite(reading_mm) || !isfinite(zero_error_mm))
		return BAD_RANGE;
	return result_give(reading_mm - zero_error_mm, length_mm);
}

enum bad metrology_readings(const double *reading, size_t n, struct metrology_set *out)
{
	struct metrology_set set = {.lowest = INFINITY, .highest = -INFINITY};
	double squares = 0;

	if (n == 0)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		double x = reading[i], from_mean = x - set.mean;

		if (!isfinite(x))
			return BAD_RANGE;
		/* Welford: the mean as it grows, so that nothing cancels. */
		set.mean += from_mean / (double)(i + 1);
		squares += from_mean * (x - set.mean);
		if (x < set.lowest) {
			set.lowest = x;
			set.lowest_at = i;
		}
		if (x > set.highest) {
			set.highest = x;
			set.highest_at = i;
		}
	}
	if (!isfinite(squares))
		return BAD_RANGE;
	set.range = set.highest - set.lowest;
	if (n > 1)
		set.deviation = sqrt(squares / (double)(n - 1));
	set.u_mean = set.deviation / sqrt((double)n);
	*out = set;
	return FINE;
}

/* ---- uncertainty ----------------------------------------------------------------------------- */

enum bad metrology_rectangular(double half_width, double *u)
{
	if (!is_from_0(half_width))
		return BAD_RANGE;
	return result_give(half_width / sqrt(3), u);
}

enum bad metrology_combine(const struct metrology_part *part, size_t n, double *u, double *degrees)
{
	double total = 0, limited = 0;

	if (n == 0)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		double share = part[i].sensitivity * part[i].u;

		if (!isfinite(share) || part[i].u < 0 || !(part[i].degrees >= 1))
			return BAD_RANGE;
		total = hypot(total, share);
	}
	if (!isfinite(total))
		return BAD_RANGE;
	/* Shares of the total, so that no fourth power runs out of range. */
	for (size_t i = 0; i < n && total > 0; i++) {
		double share = part[i].sensitivity * part[i].u / total;

		limited += share * share * share * share / part[i].degrees;
	}
	*u = total;
	*degrees = limited > 0 ? 1 / limited : INFINITY;
	return FINE;
}

static bool is_confidence(double p)
{
	return p >= 0.5 && p <= 0.9999;
}

enum bad metrology_coverage(double confidence, double degrees, double *k)
{
	if (!is_confidence(confidence) || !(degrees >= 1))
		return BAD_RANGE;
	return result_give(student_quantile((1 + confidence) / 2, floor(degrees)), k);
}

/* ---- verdicts -------------------------------------------------------------------------------- */

static enum bad limits_check(double lower, double upper, double guard)
{
	if (isnan(lower) || isnan(upper) || !is_from_0(guard))
		return BAD_RANGE;
	return lower < upper ? FINE : BAD_ORDER;
}

enum bad metrology_judge(
	double reading, double lower, double upper, double guard, enum metrology_verdict *verdict)
{
	enum bad code = limits_check(lower, upper, guard);

	if (!isfinite(reading))
		return BAD_RANGE;
	if (code)
		return code;
	if (reading >= lower + guard - SLACK && reading <= upper - guard + SLACK)
		*verdict = METROLOGY_ACCEPT;
	else if (reading < lower - guard - SLACK || reading > upper + guard + SLACK)
		*verdict = METROLOGY_REJECT;
	else
		*verdict = METROLOGY_CANNOT_TELL;
	return FINE;
}

enum bad metrology_band(
	double lower, double upper, double guard, double *accept_from, double *accept_to)
{
	enum bad code = limits_check(lower, upper, guard);

	if (code)
		return code;
	if (lower + guard > upper - guard + SLACK)
		return BAD_NOTHING;
	*accept_from = lower + guard;
	*accept_to = upper - guard;
	return FINE;
}

enum bad metrology_guard(double u, double confidence, double *guard)
{
	if (!is_from_0(u) || !is_confidence(confidence))
		return BAD_RANGE;
	return result_give(u * student_quantile(confidence, INFINITY), guard);
}

/* Of the standard normal distribution, from erfc so that small tails keep their digits. */
static double normal_below(double z)
{
	return erfc(-z / sqrt(2)) / 2;
}

enum bad metrology_conformance(
	double reading, double u, double lower, double upper, double *probability)
{
	enum bad code = limits_check(lower, upper, 0);

	if (!isfinite(reading) || !is_from_0(u))
		return BAD_RANGE;
	if (code)
		return code;
	if (u == 0)
		*probability = reading >= lower && reading <= upper ? 1 : 0;
	else if (lower > reading) /* both in the upper tail: swap sides to keep the digits */
		*probability =
			normal_below((reading - lower) / u) - normal_below((reading - upper) / u);
	else
		*probability =
			normal_below((upper - reading) / u) - normal_below((lower - reading) / u);
	return FINE;
}
