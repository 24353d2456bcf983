/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cemented sleeve and the screw. mm, N, MPa, N mm (25 N cm = 250 N mm); pure: no I/O, no
 * memory, no state. Arguments above 0 and finite unless said, and results finite, else BAD_RANGE;
 * then the results are left alone.
 *
 * Area times strength ranks designs; it does not promise retention: published pull-off grew
 * faster than the area and more with the cement than with the height (BMC Oral Health 2021, doi
 * 10.1186/s12903-021-01958-6, abstract). So a factor eta for coverage and ageing, 0 < eta <= 1,
 * always goes in. */
#ifndef BARWRIGHT_CALC_JOINT_H
#define BARWRIGHT_CALC_JOINT_H

#include <barwright/base/bad.h>

/* pi d h */
enum bad joint_area(double diameter_mm, double engaged_mm, double *area_mm2);
/* F/(pi d h); the force may have any sign, the result is its magnitude. */
enum bad joint_shear(double force_N, double diameter_mm, double engaged_mm, double *average_MPa);
/* pi d h tau eta */
enum bad joint_capacity(
	double diameter_mm, double engaged_mm, double bond_MPa, double eta, double *force_N);
/* That capacity at the radius: tau eta pi d h d/2. */
enum bad joint_torque(
	double diameter_mm, double engaged_mm, double bond_MPa, double eta, double *torque_Nmm);
/* F SF/(pi d tau eta) */
enum bad joint_height_for(double force_N, double safety, double diameter_mm, double bond_MPa,
	double eta, double *engaged_mm);

/* Shear lag along the cement (O. Volkersen 1938, formula from memory): the stress is greater at
 * the ends than on average, and the more so the longer and thinner the layer. */
struct joint_lag {
	double diameter_mm, engaged_mm;
	double cement_mm, cement_shear_MPa; /* thickness of the layer and its shear modulus */
	double sleeve_N, bar_N;             /* E A of the sleeve and of the bar around it */
};
struct joint_peaks {
	double length;       /* omega h, without unit; beyond about 3 more height helps little */
	double sleeve_end;   /* peak over average where the sleeve is loaded */
	double bar_end;      /* and where the bar is */
	double sleeve_share; /* of the force, far from both ends: sleeve_N/(sleeve_N + bar_N) */
};
enum bad joint_lag_peaks(const struct joint_lag *j, struct joint_peaks *out);

/* E A of a tube and of a rectangular block with a round hole: for joint_lag. */
enum bad joint_tube_stiffness(
	double modulus_MPa, double outer_mm, double inner_mm, double *stiffness_N);
enum bad joint_block_stiffness(
	double modulus_MPa, double width_mm, double depth_mm, double hole_mm, double *stiffness_N);

/* Screws: preload T/(K d), the nut factor K from a measured preload, the load at which the joint
 * opens (in a linear model: preload / pull, times the load that made the pull). Source of the
 * form: common practice of bolted joints; measured preloads: Int J Implant Dent 2023, doi
 * 10.1186/s40729-023-00473-3. */
enum bad joint_preload(double torque_Nmm, double nut_factor, double diameter_mm, double *preload_N);
enum bad joint_nut_factor(double torque_Nmm, double preload_N, double diameter_mm, double *factor);
enum bad joint_opening_load(double preload_N, double load_N, double pull_N, double *opening_N);
/* (first - later)/first; a rise is negative. */
enum bad joint_preload_loss(double first_N, double later_N, double *loss);

#endif
