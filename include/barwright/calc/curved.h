/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bars curved in a circle and loaded across their plane, in closed form: they bend and twist
 * together. mm, N, rad; pure: no I/O, no memory, no state. Validity: radius of the centre line
 * at least about five times the depth, no warping, a principal axis of the section across the
 * plane. Sources: A. Castigliano's theorem; S. Timoshenko, Strength of Materials, part I, 3rd
 * ed. 1955; Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed. 2002, table 9.4
 * (from memory).
 *
 * BAD_RANGE for a number or result that is not finite; what fails leaves its result alone. */
#ifndef BARWRIGHT_CALC_CURVED_H
#define BARWRIGHT_CALC_CURVED_H

#include <barwright/base/bad.h>

/* Radius of the centre line, above 0, and the stiffnesses; shear_N 0: no shear deformation. */
struct curved {
	double radius_mm;
	double bend_Nmm2;  /* E I, above 0 */
	double twist_Nmm2; /* G J, above 0 */
	double shear_N;    /* k G A */
};

/* Fixed at one end, the arc of this angle (above 0, at most 2 pi), a force at the free end. At
 * angle t from the free end the moment is P R sin t, the torque P R (1 - cos t). BAD_RANGE for any
 * other angle. */
struct curved_cantilever {
	double bend_mm, twist_mm, shear_mm; /* the drop at the free end is their sum */
	double drop_mm;
	double root_moment_Nmm, root_torque_Nmm;
};
enum bad curved_cantilever(
	const struct curved *c, double angle_rad, double force_N, struct curved_cantilever *out);

/* A half circle fixed at both ends, a force at its crown: moments and torque do not depend on
 * the stiffnesses. No shear part (shear_N is not looked at). */
struct curved_semicircle {
	double crown_moment_Nmm; /* sagging: P R/pi */
	double end_moment_Nmm;   /* hogging, as magnitude: P R/2 */
	double end_torque_Nmm;   /* magnitude: P R (1/2 - 1/pi) */
	double drop_mm;          /* at the crown */
};
enum bad curved_semicircle(const struct curved *c, double force_N, struct curved_semicircle *out);

/* A closed ring on n = 2 to CURVED_SUPPORTS equal supports (BAD_COUNT) under a uniform load w:
 * moment over a support -K1 w R^2, midway +K2 w R^2, greatest torque K3 w R^2 at an angle from
 * the support. Independent of the stiffnesses. Source of the form: M. N. Hassoun, Structural
 * Concrete, circular beams. */
struct curved_ring {
	double support, midway, torque; /* K1, K2, K3 */
	double torque_at_rad;
};
enum { CURVED_SUPPORTS = 360 };
enum bad curved_ring(unsigned n, struct curved_ring *out);

#endif
