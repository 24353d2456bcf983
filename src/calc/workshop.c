/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/workshop.h>

#include <math.h>

#include "calc/numbers.h"

#define SLACK 1e-9 /* the rounding of decimals must not lose or gain a piece */

static bool is_count(double n)
{
	return isfinite(n) && n >= 0 && n == floor(n);
}

enum bad workshop_rim_speed(double diameter_mm, double rotation_rad_s, double *speed_mm_s)
{
	if (!is_from_0(diameter_mm) || !is_from_0(rotation_rad_s))
		return BAD_RANGE;
	return result_give(diameter_mm / 2 * rotation_rad_s, speed_mm_s);
}

enum bad workshop_dilution(double stock_strength, double wanted_strength, double volume_mm3,
	double *stock_mm3, double *water_mm3)
{
	if (!is_above_0(stock_strength) || !is_above_0(wanted_strength) || !is_above_0(volume_mm3))
		return BAD_RANGE;
	if (wanted_strength > stock_strength)
		return BAD_ORDER;
	double stock = volume_mm3 * (wanted_strength / stock_strength);
	*stock_mm3 = stock;
	*water_mm3 = volume_mm3 - stock;
	return FINE;
}

enum bad workshop_blanks(double sheet_length_mm, double sheet_width_mm, double blank_length_mm,
	double blank_width_mm, double kerf_mm, double *blanks)
{
	if (!is_above_0(sheet_length_mm) || !is_above_0(sheet_width_mm) ||
		!is_above_0(blank_length_mm) || !is_above_0(blank_width_mm) || !is_from_0(kerf_mm))
		return BAD_RANGE;
	double length = blank_length_mm + kerf_mm, width = blank_width_mm + kerf_mm;
	double along =
		floor(sheet_length_mm / length + SLACK) * floor(sheet_width_mm / width + SLACK);
	double turned =
		floor(sheet_length_mm / width + SLACK) * floor(sheet_width_mm / length + SLACK);
	return result_give(fmax(along, turned), blanks);
}

enum bad workshop_use(double piece_mm2, double pieces, double sheet_mm2, double *share)
{
	if (!is_above_0(piece_mm2) || !is_count(pieces) || !is_above_0(sheet_mm2))
		return BAD_RANGE;
	if (piece_mm2 * pieces > sheet_mm2 * (1 + SLACK))
		return BAD_ORDER;
	return result_give(piece_mm2 * pieces / sheet_mm2, share);
}

enum bad workshop_cost(double price, double pieces, double spoiled, double *cost)
{
	if (!is_from_0(price) || !is_count(pieces) || !is_count(spoiled))
		return BAD_RANGE;
	if (spoiled >= pieces)
		return BAD_NOTHING;
	return result_give(price / (pieces - spoiled), cost);
}

enum bad workshop_rolled_yield(const double *stage, size_t n, double *yield)
{
	double product = 1;

	if (n == 0)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		if (!(stage[i] >= 0 && stage[i] <= 1))
			return BAD_RANGE;
		product *= stage[i];
	}
	return result_give(product, yield);
}

enum bad workshop_starts(double target, double yield, double *starts)
{
	if (!is_count(target) || !(yield > 0 && yield <= 1))
		return BAD_RANGE;
	return result_give(ceil(target / yield - SLACK), starts);
}
