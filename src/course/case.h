/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A case: one prosthesis as it lies on the bench. Everything in mm, N, MPa and rad, whatever the file
 * writes; x to the patient's left, y to the front, whatever axes the file names; sites from the
 * patient's right to left.
 *
 *	case         its code
 *	jaw          upper or lower
 *	axes         x: left or right, y: front or back ({x: left, y: front})
 *	sites        3 to 16, from the patient's right to left:
 *	  tooth        number of ISO 3950
 *	  x, y         centre of the platform, seen from the occlusal side (mm)
 *	  diameter     of the platform (mm)
 *	  platform     its height above the datum (mm)
 *	  tissue       height of the tissue's top (mm)
 *	  matrix       height of the matrix' inner surface (mm)
 *	  cylinder     stock height above the platform, along its axis (mm)
 *	  tilt         of the cylinder from the vertical (degrees; 0)
 *	space        clearance, opaque, resin, tooth, cover; protrusion of the cylinder over the bar (0) (mm)
 *	bar          stock: a list of thicknesses, width (mm); modulus, shear_modulus, strength
 *	             (20 GPa, 400 MPa); wet: what water leaves of the strength (0.73)
 *	extension    right, left: along the bar from the distal surface of the terminal site (mm)
 *	rules        spread: distal-surface or centres; factor; cap; minimum_thickness; engagement;
 *	             safety: wanted under the loads; everyday: share of the loads that comes a million
 *	             times (0.5); everyday_safety: wanted then (1.5)
 *	loads        a list (none) of force (N), at: left-end, right-end, a tooth number of the sites or
 *	             {x: , y: }
 *	supports     stiffness of a site against pressure (N/mm)
 *	joint        if the cemented sleeves are to be looked at: diameter of the cylinder (mm), bond
 *	             (MPa), share of it that is counted on (0.5)
 *
 * A value far outside what a mouth or a workshop holds is an error, an unusual one a warning. */
#ifndef BARWRIGHT_COURSE_CASE_H
#define BARWRIGHT_COURSE_CASE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/calc/arch.h>
#include <barwright/calc/space.h>

enum { CASE_FILE_BYTES = 1 << 18, CASE_STOCK = 32, CASE_LOADS = 64 };

struct case_site {
	const char *tooth; /* "45" */
	struct arch_site at;
	struct space_site space;
};

enum case_where { CASE_LEFT_END, CASE_RIGHT_END, CASE_AT_SITE, CASE_AT_POINT };

struct case_load {
	double force_N; /* downward positive */
	enum case_where where;
	size_t site;       /* of CASE_AT_SITE */
	double x_mm, y_mm; /* where it is, whatever `where` says */
};

struct case_file {
	const char *code;
	bool lower_jaw;
	struct case_site *site;
	size_t nsite;
	struct space_layers layers;
	double stock_mm[CASE_STOCK]; /* as written */
	size_t nstock;
	double width_mm, modulus_MPa, shear_modulus_MPa, strength_MPa, wet;
	double right_mm, left_mm; /* extensions */
	enum arch_rule spread;
	double factor, cap_mm, minimum_mm, engagement_mm, safety, everyday, everyday_safety;
	struct case_load *load;
	size_t nload;
	double stiffness_N_per_mm;
	bool has_joint;
	double sleeve_mm, bond_MPa, bond_share;
};

/* The sites' places as the calculation core wants them, nsite of them. */
void case_arch(const struct case_file *c, struct arch_site *out);

/* The hole that a site leaves in the bar, at least: the sleeve's where the case has joints, else as wide
 * as the platform that the cylinder stands on. */
double case_hole_mm(const struct case_file *c, size_t site);

/* Reads a whole case; texts in it live in `a` or in the source, which must outlive it. Every fault
 * and every unusual value goes to `d`. On any error the code of one and *out untouched; warnings
 * alone are FINE. */
enum bad case_read(struct arena *a, const struct source *s, struct diags *d, struct case_file *out);

/* The faults alone, of a file whose tree is there already. BAD_MEMORY. */
struct tree;
enum bad case_root_check(struct arena *a, struct tree *root, struct diags *d);

/* Opens, reads and checks a file. `source` is the caller's and is filled, so that the diags can be
 * printed; its bytes are in `a`. Codes of file_read (nothing in `d` then) and of case_read. */
enum bad case_load_file(struct arena *a, const char *path, struct source *source, struct diags *d,
	struct case_file *out);

#endif
