/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cementing the sleeves: film, volume, area lost, time under the blaster.
 *
 * Pure, mm and s: no state, no memory, no input or output. Area and strength of a joint are in
 * calc/joint.h. Plane geometry; doses and waste are course values. Every function gives BAD_RANGE
 * for a number or result that is not finite, a number below 0 or a count that is not whole and above
 * 0, and leaves its result alone when it fails. */
#ifndef BARWRIGHT_CALC_CEMENT_H
#define BARWRIGHT_CALC_CEMENT_H

#include <barwright/base/bad.h>

/* Film per side: (hole - cylinder)/2, in mm (0.06 mm = 60 um). BAD_ORDER: the hole is smaller. */
enum bad cement_film(double hole_mm, double cylinder_mm, double *film_mm);

/* For `sites` sleeves: sites * pi/4 * (hole^2 - cylinder^2) * height * (1 + waste); waste 1 is
 * twice the net volume. BAD_ORDER: the hole is smaller. */
enum bad cement_volume(double hole_mm, double cylinder_mm, double height_mm, double sites,
	double waste, double *volume_mm3);

/* Share of the bonded area that is lost when `engaged` is left of `full` height: 1 - engaged/full.
 * BAD_ORDER: engaged is the larger. BAD_RANGE: full not above 0. */
enum bad cement_area_lost(double full_mm, double engaged_mm, double *share);

/* Surfaces to blast: cylinders and hole walls of `sites` sleeves, sites * pi * (hole + cylinder)
 * * height. */
enum bad cement_blast_area(
	double hole_mm, double cylinder_mm, double height_mm, double sites, double *area_mm2);
/* Time at a dose per area (10 s per cm2 = 0.1 s/mm2). */
enum bad cement_blast_time(double area_mm2, double dose_s_per_mm2, double *time_s);

#endif
