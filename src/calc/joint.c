/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/joint.h>

#include <math.h>
#include <stdbool.h>

static const double pi = 3.14159265358979323846;

static bool is_size(double v)
{
	return isfinite(v) && v > 0;
}

static bool is_share(double v)
{
	return v > 0 && v <= 1;
}

enum bad joint_area(double diameter_mm, double engaged_mm, double *area_mm2)
{
	if (!is_size(diameter_mm) || !is_size(engaged_mm))
		return BAD_RANGE;
	*area_mm2 = pi * diameter_mm * engaged_mm;
	return FINE;
}

enum bad joint_shear(double force_N, double diameter_mm, double engaged_mm, double *average_MPa)
{
	double area_mm2;
	if (!isfinite(force_N) || joint_area(diameter_mm, engaged_mm, &area_mm2))
		return BAD_RANGE;
	*average_MPa = fabs(force_N) / area_mm2;
	return FINE;
}

enum bad joint_capacity(
	double diameter_mm, double engaged_mm, double bond_MPa, double eta, double *force_N)
{
	double area_mm2;
	if (!is_size(bond_MPa) || !is_share(eta) || joint_area(diameter_mm, engaged_mm, &area_mm2))
		return BAD_RANGE;
	*force_N = area_mm2 * bond_MPa * eta;
	return FINE;
}

enum bad joint_torque(
	double diameter_mm, double engaged_mm, double bond_MPa, double eta, double *torque_Nmm)
{
	double force_N;
	enum bad code = joint_capacity(diameter_mm, engaged_mm, bond_MPa, eta, &force_N);
	if (!code)
		*torque_Nmm = force_N * diameter_mm / 2;
	return code;
}

enum bad joint_height_for(double force_N, double safety, double diameter_mm, double bond_MPa,
	double eta, double *engaged_mm)
{
	if (!is_size(force_N) || !is_size(safety) || !is_size(diameter_mm) || !is_size(bond_MPa) ||
		!is_share(eta))
		return BAD_RANGE;
	*engaged_mm = force_N * safety / (pi * diameter_mm * bond_MPa * eta);
	return FINE;
}

/* omega^2 = (G pi d/t)(1/E1A1 + 1/E2A2); at the end where a member is loaded the stress is omega
 * l (f cosh omega l + 1 - f)/sinh omega l of the average, f that member's share of the
 * compliance. */
enum bad joint_lag_peaks(const struct joint_lag *j, struct joint_peaks *out)
{
	if (!is_size(j->diameter_mm) || !is_size(j->engaged_mm) || !is_size(j->cement_mm) ||
		!is_size(j->cement_shear_MPa) || !is_size(j->sleeve_N) || !is_size(j->bar_N))
		return BAD_RANGE;
	double layer = j->cement_shear_MPa * pi * j->diameter_mm / j->cement_mm;
	double length = j->engaged_mm * sqrt(layer * (1 / j->sleeve_N + 1 / j->bar_N));
	if (!is_size(length))
		return BAD_RANGE;
	double bar = j->sleeve_N / (j->sleeve_N + j->bar_N);
	double sleeve = j->bar_N / (j->sleeve_N + j->bar_N);
	/* Divided through by sinh: cosh overflows in long joints. */
	*out = (struct joint_peaks){
		.length = length,
		.sleeve_end = length * (sleeve / tanh(length) + bar / sinh(length)),
		.bar_end = length * (bar / tanh(length) + sleeve / sinh(length)),
		.sleeve_share = bar,
	};
	return FINE;
}

enum bad joint_tube_stiffness(
	double modulus_MPa, double outer_mm, double inner_mm, double *stiffness_N)
{
	if (!is_size(modulus_MPa) || !is_size(outer_mm) || !(inner_mm >= 0) ||
		!(inner_mm < outer_mm))
		return BAD_RANGE;
	*stiffness_N = modulus_MPa * pi / 4 * (outer_mm * outer_mm - inner_mm * inner_mm);
	return FINE;
}

enum bad joint_block_stiffness(
	double modulus_MPa, double width_mm, double depth_mm, double hole_mm, double *stiffness_N)
{
	if (!is_size(modulus_MPa) || !is_size(width_mm) || !is_size(depth_mm) || !(hole_mm >= 0) ||
		!(hole_mm < width_mm) || !(hole_mm < depth_mm))
		return BAD_RANGE;
	*stiffness_N = modulus_MPa * (width_mm * depth_mm - pi / 4 * hole_mm * hole_mm);
	return FINE;
}

enum bad joint_preload(double torque_Nmm, double nut_factor, double diameter_mm, double *preload_N)
{
	if (!is_size(torque_Nmm) || !is_size(nut_factor) || !is_size(diameter_mm))
		return BAD_RANGE;
	*preload_N = torque_Nmm / (nut_factor * diameter_mm);
	return FINE;
}

enum bad joint_nut_factor(double torque_Nmm, double preload_N, double diameter_mm, double *factor)
{
	return joint_preload(torque_Nmm, preload_N, diameter_mm, factor);
}

enum bad joint_opening_load(double preload_N, double load_N, double pull_N, double *opening_N)
{
	if (!is_size(preload_N) || !is_size(load_N) || !is_size(pull_N))
		return BAD_RANGE;
	*opening_N = preload_N / pull_N * load_N;
	return FINE;
}

enum bad joint_preload_loss(double first_N, double later_N, double *loss)
{
	if (!is_size(first_N) || !is_size(later_N))
		return BAD_RANGE;
	*loss = (first_N - later_N) / first_N;
	return FINE;
}
