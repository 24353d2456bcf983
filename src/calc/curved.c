/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/curved.h>

#include <math.h>

#include "calc/numbers.h"

static bool is_curved(const struct curved *c)
{
	return is_above_0(c->radius_mm) && is_above_0(c->bend_Nmm2) && is_above_0(c->twist_Nmm2) &&
	       is_from_0(c->shear_N);
}

/* plain sin p + twice sin 2p, from the term p^3/6 on: the sums below cancel their first terms,
 * and for short arcs nothing would be left of the digits. Good to p = 0.5 and more. */
static double sines_rest(double p, double plain, double twice)
{
	double term = p, power = 2, sum = 0;
	for (int m = 3; m <= 25; m += 2) {
		term *= -p * p / (m * (m - 1));
		power *= 4;
		sum += (plain + twice * power) * term;
	}
	return sum;
}

/* Integral of sin^2 t from 0 to p. */
static double bend_integral(double p)
{
	return p < 0.5 ? sines_rest(p, 0, -0.25) : p / 2 - sin(2 * p) / 4;
}

/* Integral of (1 - cos t)^2 from 0 to p. */
static double twist_integral(double p)
{
	return p < 0.5 ? sines_rest(p, -2, 0.25) : 1.5 * p - 2 * sin(p) + sin(2 * p) / 4;
}

enum bad curved_cantilever(
	const struct curved *c, double angle_rad, double force_N, struct curved_cantilever *out)
{
	if (!is_curved(c) || !(angle_rad > 0) || !(angle_rad <= 2 * pi) || !isfinite(force_N))
		return BAD_RANGE;
	double r = c->radius_mm, moment = force_N * r, cube = moment * r * r;
	struct curved_cantilever a = {
		.bend_mm = cube / c->bend_Nmm2 * bend_integral(angle_rad),
		.twist_mm = cube / c->twist_Nmm2 * twist_integral(angle_rad),
		.shear_mm = c->shear_N > 0 ? moment * angle_rad / c->shear_N : 0,
		.root_moment_Nmm = moment * sin(angle_rad),
		.root_torque_Nmm = moment * (1 - cos(angle_rad)),
	};
	a.drop_mm = a.bend_mm + a.twist_mm + a.shear_mm;
	if (!isfinite(a.drop_mm) || !isfinite(moment))
		return BAD_RANGE;
	*out = a;
	return FINE;
}

/* Half of the bar, from the crown (t = 0) with half the force and the moment X = P R/pi there: M
 * = X cos t - (P R/2) sin t, T = X sin t - (P R/2)(1 - cos t); the torque at the crown is
 * nothing by symmetry, and X is what keeps the crown level, whatever the stiffnesses, since both
 * parts ask for the same. Castigliano for the drop. */
enum bad curved_semicircle(const struct curved *c, double force_N, struct curved_semicircle *out)
{
	if (!is_curved(c) || !isfinite(force_N))
		return BAD_RANGE;
	double r = c->radius_mm, moment = force_N * r;
	double bend = pi / 8 - 1 / (2 * pi);
	double twist = 3 * pi / 8 - 1 - 1 / (2 * pi);
	struct curved_semicircle a = {
		.crown_moment_Nmm = moment / pi,
		.end_moment_Nmm = moment / 2,
		.end_torque_Nmm = moment * (0.5 - 1 / pi),
		.drop_mm = moment * r * r * (bend / c->bend_Nmm2 + twist / c->twist_Nmm2),
	};
	if (!isfinite(a.drop_mm) || !isfinite(moment))
		return BAD_RANGE;
	*out = a;
	return FINE;
}

enum bad curved_ring(unsigned n, struct curved_ring *out)
{
	if (n < 2 || n > CURVED_SUPPORTS)
		return BAD_COUNT;
	double a = pi / n, t = acos(sin(a) / a);
	*out = (struct curved_ring){
		.support = 1 - a / tan(a),
		.midway = a / sin(a) - 1,
		.torque = a * sin(t) / sin(a) - t,
		.torque_at_rad = a - t,
	};
	return FINE;
}
