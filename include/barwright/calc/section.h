/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cross-sections: areas, second moments, torsion, shear factor, bonded layers, stresses. mm, N,
 * MPa; pure: no I/O, no memory, no state. Width is measured across the bar in the plane of the
 * arch (bucco-lingual), height along the load. */
#ifndef BARWRIGHT_CALC_SECTION_H
#define BARWRIGHT_CALC_SECTION_H

#include <stddef.h>

#include <barwright/base/bad.h>

struct profile {
	double area_mm2;
	double inertia_mm4;       /* I against loads along the height, b h^3/12 */
	double modulus_mm3;       /* S = I/(h/2) */
	double side_inertia_mm4;  /* against loads across, h b^3/12 */
	double twist_mm4;         /* Saint-Venant's J */
	double twist_modulus_mm3; /* torque over greatest shear stress, alpha a b^2 */
};

/* A full rectangle, both sides above 0 and finite, and neither so large nor so small that a
 * property would be infinite or 0, else BAD_RANGE. J and its modulus by the exact series. Source:
 * Timoshenko and Goodier, Theory of Elasticity (formula from memory). */
enum bad section_rectangle(double width_mm, double height_mm, struct profile *out);

/* Bending modulus of a rectangle with a round hole along its height (a sleeve, a screw access):
 * (b - d) h^2/6. BAD_RANGE unless 0 <= hole < width and height above 0. Net section: plain
 * statics. */
enum bad section_net_modulus(
	double width_mm, double height_mm, double hole_mm, double *modulus_mm3);

/* Shear factor of a rectangle from energy. */
#define SECTION_SHEAR_ENERGY (5.0 / 6.0)
/* Cowper's 10(1 + v)/(12 + 11v), -1 < v <= 0.5 else BAD_RANGE. Source: G. R. Cowper, J Appl Mech
 * 33:335-340, 1966 (equation from memory). */
enum bad section_shear_cowper(double poisson, double *factor);

/* Layers of one width each, bonded, from the bottom up. */
struct layer {
	double width_mm, height_mm, modulus_MPa; /* all above 0 */
};
struct layered {
	double axis_mm;    /* neutral axis above the bottom */
	double bend_Nmm2;  /* E I of the whole */
	double loose_Nmm2; /* of the same layers without the bond: the sum of their own */
};
/* The transformed section; n >= 1 (BAD_COUNT), values above 0 and finite (BAD_RANGE). Validity:
 * the bond holds and plane sections stay plane. Source: any text on strength of materials (from
 * memory). */
enum bad section_layered(const struct layer *layer, size_t n, struct layered *out);
/* Stress at height y above the bottom in a material of this modulus under a sagging moment:
 * tension positive. */
double section_layered_stress_MPa(
	const struct layered *s, double modulus_MPa, double moment_Nmm, double y_mm);

/* Greatest magnitudes in a full rectangle. Shear of a transverse force peaks at mid height with
 * 1.5 F/A, that of a torque at the middle of the long sides; their sum, given for both, is an
 * upper bound (exact where the height is the long side). */
double section_bending_MPa(const struct profile *s, double moment_Nmm);
double section_shear_MPa(const struct profile *s, double shear_N, double torque_Nmm);

#endif
