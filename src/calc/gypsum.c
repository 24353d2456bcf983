/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/gypsum.h>

#include <math.h>

#include "calc/numbers.h"

enum bad gypsum_water(double powder_tonne, double ratio, double *water_mm3)
{
	if (!is_above_0(powder_tonne) || !is_above_0(ratio))
		return BAD_RANGE;
	return result_give(powder_tonne * ratio / GYPSUM_WATER_tonne_mm3, water_mm3);
}

enum bad gypsum_ratio(double powder_tonne, double water_mm3, double *ratio)
{
	if (!is_above_0(powder_tonne) || !is_above_0(water_mm3))
		return BAD_RANGE;
	return result_give(water_mm3 * GYPSUM_WATER_tonne_mm3 / powder_tonne, ratio);
}

enum bad gypsum_slurry(
	double powder_tonne, double density_tonne_mm3, double water_mm3, double *slurry_mm3)
{
	if (!is_above_0(powder_tonne) || !is_above_0(density_tonne_mm3) || !is_above_0(water_mm3))
		return BAD_RANGE;
	return result_give(powder_tonne / density_tonne_mm3 + water_mm3, slurry_mm3);
}

enum bad gypsum_powder(double volume_mm3, double waste, double ratio, double density_tonne_mm3,
	double *powder_tonne)
{
	if (!is_above_0(volume_mm3) || !is_above_0(ratio) || !is_above_0(density_tonne_mm3) ||
		!is_from_0(waste))
		return BAD_RANGE;
	return result_give(
		volume_mm3 * (1 + waste) / (1 / density_tonne_mm3 + ratio / GYPSUM_WATER_tonne_mm3),
		powder_tonne);
}

enum bad gypsum_expansion(double length_mm, double strain, double *change_mm)
{
	if (!is_from_0(length_mm) || !isfinite(strain))
		return BAD_RANGE;
	return result_give(length_mm * strain, change_mm);
}

enum bad gypsum_excess(double ratio, double *excess)
{
	if (!is_above_0(ratio))
		return BAD_RANGE;
	return result_give(ratio - GYPSUM_BOUND_WATER, excess);
}

enum bad gypsum_dihydrate(double hemihydrate_tonne, double *dihydrate_tonne)
{
	if (!is_above_0(hemihydrate_tonne))
		return BAD_RANGE;
	return result_give(hemihydrate_tonne * 172.17 / 145.15, dihydrate_tonne);
}
