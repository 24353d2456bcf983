/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/joint.h>

#include <math.h>

#include "calc/numbers.h"

static bool is_share(double v)
{
	return v > 0 && v <= 1;
}

enum bad joint_area(double diameter_mm, double engaged_mm, double *area_mm2)
{
	if (!is_above_0(diameter_mm) || !is_above_0(engaged_mm))
		return BAD_RANGE;
	return result_give(pi * diameter_mm * engaged_mm, area_mm2);
}

enum bad joint_shear(double force_N, double diameter_mm, double engaged_mm, double *average_MPa)
{
	double area_mm2;
	if (!isfinite(force_N) || joint_area(diameter_mm, engaged_mm, &area_mm2))
		return BAD_RANGE;
	return result_give(fabs(force_N) / area_mm2, average_MPa);
}

enum bad joint_capacity(
	double diameter_mm, double engaged_mm, double bond_MPa, double eta, double *force_N)
{
	double area_mm2;
	if (!is_above_0(bond_MPa) || !is_share(eta) ||
		joint_area(diameter_mm, engaged_mm, &area_mm2))
		return BAD_RANGE;
	return result_give(area_mm2 * bond_MPa * eta, force_N);
}

enum bad joint_torque(
	double diameter_mm, double engaged_mm, double bond_MPa, double eta, double *torque_Nmm)
{
	double force_N;
	enum bad code = joint_capacity(diameter_mm, engaged_mm, bond_MPa, eta, &force_N);
	return code ? code : result_give(force_N * diameter_mm / 2, torque_Nmm);
}

enum bad joint_height_for(double force_N, double safety, double diameter_mm, double bond_MPa,
	double eta, double *engaged_mm)
{
	if (!is_above_0(force_N) || !is_above_0(safety) || !is_above_0(diameter_mm) ||
		!is_above_0(bond_MPa) || !is_share(eta))
		return BAD_RANGE;
	return result_give(force_N * safety / (pi * diameter_mm * bond_MPa * eta), engaged_mm);
}

/* omega^2 = (G pi d/t)(1/E1A1 + 1/E2A2); at the end where a member is loaded the stress is omega
 * l (f cosh omega l + 1 - f)/sinh omega l of the average, f that member's share of the
 * compliance. */
enum bad joint_lag_peaks(const struct joint_lag *j, struct joint_peaks *out)
{
	if (!is_above_0(j->diameter_mm) || !is_above_0(j->engaged_mm) ||
		!is_above_0(j->cement_mm) || !is_above_0(j->cement_shear_MPa) ||
		!is_above_0(j->sleeve_N) || !is_above_0(j->bar_N))
		return BAD_RANGE;
	double layer = j->cement_shear_MPa * pi * j->diameter_mm / j->cement_mm;
	double length = j->engaged_mm * sqrt(layer * (1 / j->sleeve_N + 1 / j->bar_N));
	if (!is_above_0(length))
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
	if (!is_above_0(modulus_MPa) || !is_above_0(outer_mm) || !(inner_mm >= 0) ||
		!(inner_mm < outer_mm))
		return BAD_RANGE;
	return result_give(
		modulus_MPa * pi / 4 * (outer_mm * outer_mm - inner_mm * inner_mm), stiffness_N);
}

enum bad joint_block_stiffness(
	double modulus_MPa, double width_mm, double depth_mm, double hole_mm, double *stiffness_N)
{
	if (!is_above_0(modulus_MPa) || !is_above_0(width_mm) || !is_above_0(depth_mm) ||
		!(hole_mm >= 0) || !(hole_mm < width_mm) || !(hole_mm < depth_mm))
		return BAD_RANGE;
	return result_give(
		modulus_MPa * (width_mm * depth_mm - pi / 4 * hole_mm * hole_mm), stiffness_N);
}

enum bad joint_preload(double torque_Nmm, double nut_factor, double diameter_mm, double *preload_N)
{
	if (!is_above_0(torque_Nmm) || !is_above_0(nut_factor) || !is_above_0(diameter_mm))
		return BAD_RANGE;
	return result_give(torque_Nmm / (nut_factor * diameter_mm), preload_N);
}

enum bad joint_nut_factor(double torque_Nmm, double preload_N, double diameter_mm, double *factor)
{
	return joint_preload(torque_Nmm, preload_N, diameter_mm, factor);
}

enum bad joint_opening_load(double preload_N, double load_N, double pull_N, double *opening_N)
{
	if (!is_above_0(preload_N) || !is_above_0(load_N) || !is_above_0(pull_N))
		return BAD_RANGE;
	return result_give(preload_N / pull_N * load_N, opening_N);
}

enum bad joint_preload_loss(double first_N, double later_N, double *loss)
{
	if (!is_above_0(first_N) || !is_above_0(later_N))
		return BAD_RANGE;
	return result_give((first_N - later_N) / first_N, loss);
}
