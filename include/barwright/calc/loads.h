/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a load spreads over the sites when the bridge is taken as rigid and every site as a
 * spring: the classical elastic bolt or pile group. mm and N; pure: no I/O, no memory, no state.
 *
 * Springs carry pressure and pull alike, for each joint is screwed. Validity: a bridge much
 * stiffer than its supports, small movements, springs along their axis only (bending of
 * implants, tilt and differences of bone are left out). Where the bar is flexible see
 * grillage.h; the truth lies between the two, so show both. What the springs cannot carry is
 * refused, never guessed.
 *
 * Sources: R. Skalak, J Prosthet Dent 49:843-848, 1983, for the idea (equations from memory, not
 * verified there); the same equations as in common practice for pile groups with a product of
 * inertia. */
#ifndef BARWRIGHT_CALC_LOADS_H
#define BARWRIGHT_CALC_LOADS_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>

/* One site. In the rigid model only the ratios of the stiffnesses matter: all 1 will do. */
struct loads_support {
	double x_mm, y_mm;
	double stiffness_N_per_mm; /* above 0 */
};

/* A force on the bridge along the axes of the springs, towards the supports when positive. */
struct loads_force {
	double x_mm, y_mm;
	double down_N;
};

/* A force in the plane of the sites. */
struct loads_push {
	double x_mm, y_mm;
	double x_N, y_N;
};

/* What the sites are to a rigid bridge. */
struct loads_group {
	double stiffness_N_per_mm;     /* sum of all */
	double x_mm, y_mm;             /* centre of stiffness */
	double xx_Nmm, yy_Nmm, xy_Nmm; /* sums of k dx dx, k dy dy, k dx dy about the centre */
	double angle_rad;              /* from x to the first principal axis, -pi/2 to pi/2 */
	double first_Nmm, second_Nmm;  /* principal sums, first >= second >= 0 */
	bool in_line;                  /* the sites stand on one line, the first axis */
};

/* n >= 2 sites, else BAD_COUNT. A value that is not finite or a stiffness not above 0:
 * BAD_RANGE. All sites at one place: BAD_SINGULAR. In line means xx*yy - xy^2 < 1e-9 (xx +
 * yy)^2. */
enum bad loads_group_find(const struct loads_support *s, size_t n, struct loads_group *out);

/* What each site carries, n numbers, pressure positive, of all loads together; by the 2x2 form
 *     R = k [F/K + a dx + b dy],  a = (Mx yy - My xy)/D,  b = (My xx - Mx xy)/D.
 * Sites in line carry loads on that line (within 1e-6 of their spread) and no others:
 * BAD_SINGULAR. Else as loads_group_find. No load at all gives zeros. The three sums R = F, R x
 * = F x, R y = F y are checked before the result is written (BAD_SINGULAR should rounding have
 * spoilt them). */
enum bad loads_share(const struct loads_support *s, size_t n, const struct loads_force *load,
	size_t nload, double *carried_N);

/* What each site carries of forces in the plane, as a bolt group does (sites equally stiff in
 * both directions, in the ratio of their stiffnesses): n numbers along x and n along y. Sites in
 * line will do. Codes as loads_group_find. Source: eccentric shear of bolt groups, e.g. Budynas
 * and Nisbett, Shigley's Mechanical Engineering Design (from memory, not verified). */
enum bad loads_push_share(const struct loads_support *s, size_t n, const struct loads_push *push,
	size_t npush, double *carried_x_N, double *carried_y_N);

/* How far the carried forces are from balance: the largest of |sum R - sum F| over the sum of all
 * magnitudes, and of the same for R x and R y about the middle of the sites, with the greatest
 * distance in it as the arm. 0 is perfect, also when there is nothing to balance. */
double loads_imbalance(const struct loads_support *s, size_t n, const struct loads_force *load,
	size_t nload, const double *carried_N);

/* Does the point lie inside the convex outline of the sites or on it? A single load outside
 * pulls at least one site up, however stiff bridge and sites are: this is statics, not a model. */
bool loads_is_inside(const struct loads_support *s, size_t n, double x_mm, double y_mm);

#endif
