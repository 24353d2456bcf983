/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Small sums of the workshop: surface speed, dilution, blanks from a sheet, cost, yield.
 *
 * Pure: no state, no memory, no input or output. mm, s, rad; money in any one currency; counts are
 * whole numbers held in a double. Every function gives BAD_RANGE for a number or result that is not
 * finite or a number outside its range (sizes above 0, counts from 0, the rest from 0 unless said),
 * and leaves its results alone when it fails. Plain arithmetic. */
#ifndef BARWRIGHT_CALC_WORKSHOP_H
#define BARWRIGHT_CALC_WORKSHOP_H

#include <stddef.h>

#include <barwright/base/bad.h>

/* Speed of the rim of a bur or wheel: diameter/2 * speed of rotation (1 rpm = 2 pi/60 rad/s). */
enum bad workshop_rim_speed(double diameter_mm, double rotation_rad_s, double *speed_mm_s);

/* Stock and water that make `volume` of the wanted strength: C1 V1 = C2 V2. Strengths above 0, in
 * any one unit. BAD_ORDER: the stock is the weaker. */
enum bad workshop_dilution(double stock_strength, double wanted_strength, double volume_mm3,
	double *stock_mm3, double *water_mm3);

/* Most blanks from a sheet, cut from edge to edge, each taking the kerf with it in both directions;
 * lengthwise or turned, whichever gives more. 0 when none fits. */
enum bad workshop_blanks(double sheet_length_mm, double sheet_width_mm, double blank_length_mm,
	double blank_width_mm, double kerf_mm, double *blanks);
/* Share of the sheet that ends up in the pieces: net area of one * pieces / sheet. BAD_ORDER:
 * above 1. */
enum bad workshop_use(double piece_mm2, double pieces, double sheet_mm2, double *share);

/* Price over good pieces. BAD_NOTHING: none is good. */
enum bad workshop_cost(double price, double pieces, double spoiled, double *cost);
/* Yield through all stages: their product. Each 0 to 1; BAD_COUNT: no stage. */
enum bad workshop_rolled_yield(const double *stage, size_t n, double *yield);
/* How many to start to expect `target` good ones: target/yield, rounded up. Yield above 0 to 1. */
enum bad workshop_starts(double target, double yield, double *starts);

#endif
