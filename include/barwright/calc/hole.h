/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Holes for the cylinders: diameter, walls, width of bar, stock to remove.
 *
 * Pure, mm and rad. Plane geometry; the clearances and walls that go in are course values. Every
 * function gives BAD_RANGE for a number or result that is not finite or a length below 0, and leaves
 * its result alone when it fails. A wall or ligament that comes out negative is given as it is: the
 * hole breaks out, or two holes run into each other. */
#ifndef BARWRIGHT_CALC_HOLE_H
#define BARWRIGHT_CALC_HOLE_H

#include <barwright/base/bad.h>

/* Hole for a cylinder square to the bar: cylinder + 2 * gap, gap radial. */
enum bad hole_diameter(double cylinder_mm, double gap_mm, double *diameter_mm);
/* Hole, square to the bar, that lets a tilted cylinder through a bar of this thickness:
 * cylinder/cos(tilt) + thickness * tan|tilt| + 2 * gap. Tilt at most 60 degrees. */
enum bad hole_diameter_tilted(double cylinder_mm, double thickness_mm, double tilt_rad,
	double gap_mm, double *diameter_mm);

/* Walls beside a hole whose centre is `offset` from the bar's centreline (its sign does not
 * matter): (width - diameter)/2 less and plus offset. */
enum bad hole_wall_near(double width_mm, double diameter_mm, double offset_mm, double *wall_mm);
enum bad hole_wall_far(double width_mm, double diameter_mm, double offset_mm, double *wall_mm);
/* Bar width that keeps this wall on both sides: diameter + 2 * (wall + |offset|). */
enum bad hole_bar_width(double diameter_mm, double wall_mm, double offset_mm, double *width_mm);
/* What stands between two holes: pitch - (first + second)/2. */
enum bad hole_ligament(double pitch_mm, double first_mm, double second_mm, double *ligament_mm);

/* Offset of a hole from two readings, each from the bar's edge to the hole's near edge on that
 * side: half their difference, towards the smaller; the sign tells the side: (right - left)/2. */
enum bad hole_offset(double left_mm, double right_mm, double *offset_mm);

/* Still to remove on each side from a pilot hole: (diameter - pilot)/2. BAD_ORDER: the pilot is
 * larger. */
enum bad hole_residual(double diameter_mm, double pilot_mm, double *residual_mm);
/* Material one hole removes: pi/4 * diameter^2 * thickness. */
enum bad hole_volume(double diameter_mm, double thickness_mm, double *volume_mm3);

#endif
