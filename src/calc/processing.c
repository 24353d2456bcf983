/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/processing.h>

#include <math.h>

#include "calc/numbers.h"

#define CELSIUS(t) ((t) + 273.15)
#define SLACK      1e-9 /* of degrees and seconds: only rounding */

const struct processing_rules processing_common = {
	.slow_from_K = CELSIUS(60),
	.slow_to_K = CELSIUS(74),
	.slow_before_boil_s = 2 * 3600,
	.slow_alone_s = 8 * 3600,
	.boil_from_K = CELSIUS(99),
	.boil_s = 3600,
	.most_K = CELSIUS(100),
	.heat_most_K_s = 2.0 / 60,
	.cool_most_K_s = 3.0 / 60,
	.open_most_K = CELSIUS(40),
};

/* ---- schedule -------------------------------------------------------------------------------- */

enum bad processing_ramp(double from_K, double to_K, double rate_K_s, double *ramp_s)
{
	if (!is_above_0(from_K) || !is_above_0(to_K) || !is_above_0(rate_K_s))
		return BAD_RANGE;
	return result_give(fabs(to_K - from_K) / rate_K_s, ramp_s);
}

static enum bad steps_check(double start_K, const struct processing_step *step, size_t n)
{
	if (n == 0)
		return BAD_COUNT;
	if (!is_above_0(start_K))
		return BAD_RANGE;
	for (size_t i = 0; i < n; i++)
		if (!is_above_0(step[i].temperature_K) || !is_from_0(step[i].ramp_s) ||
			!is_from_0(step[i].hold_s))
			return BAD_RANGE;
	return FINE;
}

enum bad processing_times(
	double start_K, const struct processing_step *step, size_t n, struct processing_times *out)
{
	struct processing_times sum = {.hottest_K = start_K};
	enum bad code = steps_check(start_K, step, n);

	if (code)
		return code;
	for (size_t i = 0; i < n; i++) {
		sum.ramp_s += step[i].ramp_s;
		sum.hold_s += step[i].hold_s;
		sum.hottest_K = fmax(sum.hottest_K, step[i].temperature_K);
	}
	sum.total_s = sum.ramp_s + sum.hold_s;
	if (!isfinite(sum.total_s))
		return BAD_RANGE;
	*out = sum;
	return FINE;
}

static bool rules_are_sound(const struct processing_rules *r)
{
	return r->slow_from_K >= 0 && r->slow_to_K >= r->slow_from_K &&
	       is_from_0(r->slow_before_boil_s) && is_from_0(r->slow_alone_s) &&
	       r->boil_from_K >= r->slow_to_K && is_from_0(r->boil_s) && r->most_K > 0 &&
	       r->heat_most_K_s >= 0 && r->cool_most_K_s >= 0 && r->open_most_K > 0;
}

/* What the schedule has done so far. */
struct progress {
	double at_K, hottest_K, slow_s, boil_s;
	bool boiled;
};

/* Faster than `most`? A change in no time at all is faster than any limit but infinity. */
static bool is_faster(double change_K, double time_s, double most_K_s)
{
	return change_K > SLACK && most_K_s < INFINITY &&
	       change_K > most_K_s * time_s * (1 + SLACK) + SLACK;
}

static enum processing_fault step_judge(
	struct progress *p, const struct processing_step *s, const struct processing_rules *r)
{
	if (s->temperature_K > r->most_K + SLACK)
		return PROCESSING_TOO_HOT;
	if (is_faster(s->temperature_K - p->at_K, s->ramp_s, r->heat_most_K_s))
		return PROCESSING_HEATED_FAST;
	if (is_faster(p->at_K - s->temperature_K, s->ramp_s, r->cool_most_K_s))
		return PROCESSING_COOLED_FAST;
	if (s->temperature_K > r->slow_to_K + SLACK) {
		if (!p->boiled && p->slow_s < r->slow_before_boil_s - SLACK)
			return PROCESSING_BOILED_EARLY;
		p->boiled = true;
	} else if (!p->boiled && s->temperature_K >= r->slow_from_K - SLACK) {
		p->slow_s += s->hold_s;
	}
	if (s->temperature_K >= r->boil_from_K - SLACK)
		p->boil_s += s->hold_s;
	p->at_K = s->temperature_K;
	p->hottest_K = fmax(p->hottest_K, p->at_K);
	return PROCESSING_ALLOWED;
}

static enum processing_fault end_judge(const struct progress *p, const struct processing_rules *r)
{
	if (p->boiled && p->boil_s < r->boil_s - SLACK)
		return PROCESSING_BOILED_SHORT;
	if (!p->boiled && p->slow_s < r->slow_alone_s - SLACK)
		return PROCESSING_SLOW_SHORT;
	if (p->at_K < p->hottest_K - SLACK && p->at_K > r->open_most_K + SLACK)
		return PROCESSING_OPENED_HOT;
	return PROCESSING_ALLOWED;
}

enum bad processing_judge(double start_K, const struct processing_step *step, size_t n,
	const struct processing_rules *rules, enum processing_fault *fault, size_t *at)
{
	struct progress p = {.at_K = start_K, .hottest_K = start_K};
	enum processing_fault found = PROCESSING_ALLOWED;
	enum bad code = steps_check(start_K, step, n);
	size_t i;

	if (code)
		return code;
	if (!rules_are_sound(rules))
		return BAD_RANGE;
	for (i = 0; i < n; i++) {
		found = step_judge(&p, &step[i], rules);
		if (found)
			break;
	}
	if (i == n) {
		found = end_judge(&p, rules);
		i = n - 1;
	}
	*fault = found;
	*at = i;
	return FINE;
}

/* ---- heat ------------------------------------------------------------------------------------ */

enum bad processing_exotherm(double heat_Nmm_mol, double molar_tonne_mol, double monomer_share,
	double specific_Nmm_tonne_K, double *rise_K)
{
	if (!is_above_0(heat_Nmm_mol) || !is_above_0(molar_tonne_mol) ||
		!(monomer_share >= 0 && monomer_share <= 1) || !is_above_0(specific_Nmm_tonne_K))
		return BAD_RANGE;
	return result_give(
		heat_Nmm_mol / molar_tonne_mol * monomer_share / specific_Nmm_tonne_K, rise_K);
}

enum bad processing_heat_to_leave(double bath_K, double rise_K, double limit_K, double *share)
{
	if (!is_above_0(bath_K) || !is_above_0(rise_K) || !is_above_0(limit_K))
		return BAD_RANGE;
	if (bath_K > limit_K)
		return BAD_ORDER;
	return result_give(fmax((bath_K + rise_K - limit_K) / rise_K, 0), share);
}

/* ---- press ----------------------------------------------------------------------------------- */

enum bad processing_press_force(double gauge_MPa, double ram_diameter_mm, double *force_N)
{
	if (!is_from_0(gauge_MPa) || !is_above_0(ram_diameter_mm))
		return BAD_RANGE;
	return result_give(gauge_MPa * pi / 4 * ram_diameter_mm * ram_diameter_mm, force_N);
}

enum bad processing_flask_pressure(double force_N, double area_mm2, double *pressure_MPa)
{
	if (!is_from_0(force_N) || !is_above_0(area_mm2))
		return BAD_RANGE;
	return result_give(force_N / area_mm2, pressure_MPa);
}

enum bad processing_flask_area(double force_N, double pressure_MPa, double *area_mm2)
{
	if (!is_from_0(force_N) || !is_above_0(pressure_MPa))
		return BAD_RANGE;
	return result_give(force_N / pressure_MPa, area_mm2);
}
