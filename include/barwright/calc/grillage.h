/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flexible bar: straight elements joined at nodes in a plane, loaded across it, on springs
 * or held nodes (a grillage). Elements bend with shear (Timoshenko) and twist (Saint-Venant);
 * warping, axial force and bending in the plane are left out. mm, N, MPa, rad; pure: no I/O, no
 * state; all memory is the caller's.
 *
 * Axes: x and y in the plane, z up out of it, right-handed. Forces and movements along z count
 * DOWNWARD (a bite is positive); turns and moments are right-handed about x and y.
 *
 * Sources: stiffness matrix of the grid element, e.g. P. I. Kattan, guide to finite elements,
 * 2nd ed. 2007, ch. 9 (there with y up, so its moments have other signs); shear factor 12
 * EI/(kGA L^2), S. P. Timoshenko's beam (from memory, not verified). */
#ifndef BARWRIGHT_CALC_GRILLAGE_H
#define BARWRIGHT_CALC_GRILLAGE_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/calc/section.h>

/* Directions a node may be held in, to be or-ed. */
enum grillage_hold { HOLD_NONE = 0, HOLD_DROP = 1, HOLD_TURN_X = 2, HOLD_TURN_Y = 4, HOLD_ALL = 7 };

struct grillage_node {
	double x_mm, y_mm;
	double down_N;                   /* load, downward positive */
	double about_x_Nmm, about_y_Nmm; /* moments put on the node */
	double spring_N_per_mm;          /* under the node, against drop; 0: none */
	double turn_spring_Nmm_per_rad;  /* against turns about x and about y; 0: none */
	unsigned hold;                   /* HOLD_... that do not move at all */
};

struct grillage_bar {
	size_t from, to;   /* nodes; the bar's own axis x' runs from -> to */
	double bend_Nmm2;  /* E I, above 0 */
	double twist_Nmm2; /* G J, above 0 */
	double shear_N;    /* k G A; 0: no shear deformation */
};

/* The stiffnesses of a bar of this section, shear with the energy factor 5/6; from and to
 * unchanged. */
void grillage_bar_fill(const struct profile *s, double modulus_MPa, double shear_modulus_MPa,
	struct grillage_bar *bar);

struct grillage {
	const struct grillage_node *node;
	size_t nnode; /* 2 to GRILLAGE_NODES */
	const struct grillage_bar *bar;
	size_t nbar; /* at least 1 */
};
enum { GRILLAGE_NODES = 4096 };

/* How a node moves and what its spring or hold gives back to the bar. */
struct grillage_move {
	double drop_mm, turn_x_rad, turn_y_rad;
	double carried_N;                          /* by spring or hold, pressure positive */
	double held_about_x_Nmm, held_about_y_Nmm; /* moments of hold or turn spring on the bar */
};

/* Inside a bar; loads stand at nodes only, so shear and torque are the same all along. */
struct grillage_force {
	double shear_N;                        /* d moment / d x': upward on the `from` end */
	double moment_from_Nmm, moment_to_Nmm; /* sagging positive */
	double torque_Nmm;                     /* right-handed about x' on the `to` end */
};

/* Doubles of workspace that grillage_solve wants for this many nodes, as a constant. `apart` is the
 * largest difference of node numbers at the ends of a bar: nodes numbered along the bar keep it
 * small. */
#define GRILLAGE_ROOM(nnode, apart) (3 * (size_t)(nnode) * (3 * ((size_t)(apart) + 1) + 2))
/* For nodes in a row, bar i from node i to i + 1. */
#define GRILLAGE_ROW_ROOM(nnode) GRILLAGE_ROOM(nnode, 1)

/* Solves for all loads together. `work` has `room` doubles; move has nnode places, force nbar
 * (null: not wanted). *residual (null: not wanted) is the largest lack of balance, of the whole
 * and of each node, against the loads: 1e-12 to 1e-9 as a rule; more than 1e-6 is refused.
 * BAD_SINGULAR: the supports leave the bar free to move (a straight bar on springs alone may
 * roll about its axis: hold that turn at one node), or the numbers are too far apart to tell;
 * BAD_COUNT: too few or too many nodes or bars; BAD_RANGE: a value that is not finite, a stiffness
 * out of its range, a bar without length or one that names a node that is not there or one node
 * twice; BAD_SIZE: workspace too small. On failure only `work` has changed. */
enum bad grillage_solve(const struct grillage *g, double *work, size_t room,
	struct grillage_move *move, struct grillage_force *force, double *residual);

#endif
