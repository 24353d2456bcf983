/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Straight beams on paper: single spans, continuous beams on unyielding supports, beams on
 * springs, what a change of size does, sizes for a wanted strength or stiffness. mm, N, MPa;
 * pure: no I/O, no memory, no state. Small movements, linear material; drops count downward.
 *
 * Every function gives BAD_RANGE for a number or result that is not finite and leaves its results
 * alone when it fails. */
#ifndef BARWRIGHT_CALC_BEAM_H
#define BARWRIGHT_CALC_BEAM_H

#include <stddef.h>

#include <barwright/base/bad.h>

/* Single spans. Sources: Young and Budynas, Roark's Formulas for Stress and Strain, 7th ed.
 * 2002, table 8.1; AISC Manual, beam tables (both from memory). Shear part: Timoshenko's beam
 * (from memory). */
enum beam_case {
	BEAM_CANTILEVER_END, /* force at the free end */
	BEAM_CANTILEVER_UNIFORM,
	BEAM_SIMPLE_CENTRE, /* on two supports */
	BEAM_SIMPLE_UNIFORM,
	BEAM_FIXED_CENTRE, /* both ends fixed */
	BEAM_FIXED_UNIFORM,
	BEAM_PROPPED_CENTRE, /* one end fixed, one on a support */
	BEAM_PROPPED_UNIFORM,
	BEAM_CASES
};

struct beam {
	double length_mm; /* above 0 */
	double bend_Nmm2; /* E I, above 0 */
	double shear_N;   /* k G A; 0: no shear deformation */
};

struct beam_answer {
	double hogging_Nmm; /* greatest moment with tension above, at the fixed end; as magnitude */
	double sagging_Nmm; /* greatest with tension below; as magnitude */
	double prop_N;      /* reaction of a simple support or prop; 0 for the other cases */
	double slope_rad; /* at the free end or at a simple support; 0 where both ends are fixed */
	double bend_mm;   /* greatest drop, the part of bending */
	double shear_mm;  /* and of shear, at the same place */
	double at_mm; /* where: from the fixed end of a cantilever, from the prop, from an end */
	double middle_mm; /* drop at mid length, the part of bending */
};

/* `total_N` is the whole load: F, or w times the length; one upward (below 0) turns every sign.
 * BAD_RANGE: length or stiffness not above 0; shear with a propped beam, whose reactions it would
 * change (use grillage.h). */
enum bad beam_single(
	enum beam_case which, const struct beam *b, double total_N, struct beam_answer *out);

/* Continuous beams of one section on unyielding supports, by the three-moment equation
 * (Clapeyron 1857). */
enum { BEAM_SPANS = 16 };
struct beam_span {
	double length_mm;        /* above 0 */
	double uniform_N_per_mm; /* over the whole span */
	double point_N;          /* one force, */
	double point_at_mm;      /* this far from the left end of the span, 0 to length */
};
struct beam_end {
	double length_mm; /* overhang beyond the last support, 0: none */
	double force_N;   /* at its tip */
};
struct beam_line {
	const struct beam_span *span;
	size_t nspan; /* 1 to BEAM_SPANS */
	double bend_Nmm2;
	struct beam_end left, right;
};
struct beam_line_answer {
	double carried_N[BEAM_SPANS + 1];  /* by each support, pressure positive */
	double moment_Nmm[BEAM_SPANS + 1]; /* over each support, sagging positive */
	struct {
		double sagging_Nmm,
			sagging_at_mm; /* greatest sagging moment; the larger end if none inside */
		double drop_mm, drop_at_mm; /* the drop of greatest magnitude; rise is negative */
	} span[BEAM_SPANS];
	double left_tip_mm, right_tip_mm; /* drop of the tips */
};
/* BAD_COUNT: no span or too many; BAD_RANGE: a length or stiffness not above 0, a force outside its
 * span, an overhang force without an overhang. */
enum bad beam_continuous(const struct beam_line *b, struct beam_line_answer *out);

/* Two equal spans on three equal springs, force over the middle one. lambda = k L^3/(3 E I) is
 * the index of rigidity: 0 is a rigid bar (each carries a third), large a soft one (the middle
 * carries all). All above 0, else BAD_RANGE. Computed from bending alone. */
struct beam_springs {
	double lambda, end_N, middle_N;
};
enum bad beam_three_springs(double force_N, double span_mm, double bend_Nmm2,
	double spring_N_per_mm, struct beam_springs *out);

/* A long beam on a bed of springs, k in N/mm per mm of length. Long means lambda * length > pi.
 * Source: M. Hetenyi, Beams on Elastic Foundation, 1946 (from memory). BAD_RANGE unless all
 * above 0. */
struct beam_bed {
	double lambda_per_mm;
	double drop_mm, moment_Nmm; /* under a force far from the ends */
	double end_drop_mm;         /* under a force at an end */
};
enum bad beam_on_bed(double force_N, double bend_Nmm2, double bed_N_per_mm2, struct beam_bed *out);

/* What a change of span, height, width and modulus (new over old, all above 0 else BAD_RANGE)
 * does to drop and bending stress under the same force and supports: L^3/(h^3 b E) and L/(h^2
 * b). Bending alone; with shear, short spans change less. Source: A. M. Rodriguez, S. A.
 * Aquilino and P. S. Lund, J Prosthodont 3:41-46, 1994, for both cubes. */
struct beam_change {
	double span, height, width, modulus;
};
enum bad beam_change_factors(const struct beam_change *c, double *drop, double *stress);

/* Sizes of a rectangular cantilever under a force at its end; every argument above 0, else
 * BAD_RANGE. Plain statics. */
/* sqrt(6 F L SF/(b s)) */
enum bad beam_height_for_strength(double force_N, double length_mm, double width_mm,
	double allowed_MPa, double safety, double *height_mm);
/* (4 F L^3/(E b d))^(1/3) */
enum bad beam_height_for_drop(double force_N, double length_mm, double width_mm, double modulus_MPa,
	double allowed_mm, double *height_mm);
/* b h^2 s/(6 F SF) */
enum bad beam_length_for_strength(double force_N, double width_mm, double height_mm,
	double allowed_MPa, double safety, double *length_mm);
/* The height in another modulus that is as stiff: h (E/E_other)^(1/3). */
enum bad beam_height_as_stiff(
	double height_mm, double modulus_MPa, double other_MPa, double *height_mm_other);

#endif
