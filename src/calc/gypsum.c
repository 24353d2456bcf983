/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdbool.h>

#include <barwright/calc/gypsum.h>

static bool is_above_0(double x)
{
	return isfinite(x) && x > 0;
}

enum bad gypsum_water(double powder_tonne, double ratio, double *water_mm3)
{
	if (!is_above_0(powder_tonne) || !is_above_0(ratio))
		return BAD_RANGE;
	*water_mm3 = powder_tonne * ratio / GYPSUM_WATER_tonne_mm3;
	return FINE;
}

enum bad gypsum_ratio(double powder_tonne, double water_mm3, double *ratio)
{
	if (!is_above_0(powder_tonne) || !is_above_0(water_mm3))
		return BAD_RANGE;
	*ratio = water_mm3 * GYPSUM_WATER_tonne_mm3 / powder_tonne;
	return FINE;
}

enum bad gypsum_slurry(
	double powder_tonne, double density_tonne_mm3, double water_mm3, double *slurry_mm3)
{
	if (!is_above_0(powder_tonne) || !is_above_0(density_tonne_mm3) || !is_above_0(water_mm3))
		return BAD_RANGE;
	*slurry_mm3 = powder_tonne / density_tonne_mm3 + water_mm3;
	return FINE;
}

enum bad gypsum_powder(double volume_mm3, double waste, double ratio, double density_tonne_mm3,
	double *powder_tonne)
{
	if (!is_above_0(volume_mm3) || !is_above_0(ratio) || !is_above_0(density_tonne_mm3) ||
		!isfinite(waste) || waste < 0)
		return BAD_RANGE;
	*powder_tonne =
		volume_mm3 * (1 + waste) / (1 / density_tonne_mm3 + ratio / GYPSUM_WATER_tonne_mm3);
	return FINE;
}

enum bad gypsum_expansion(double length_mm, double strain, double *change_mm)
{
	if (!isfinite(length_mm) || length_mm < 0 || !isfinite(strain))
		return BAD_RANGE;
	*change_mm = length_mm * strain;
	return FINE;
}

enum bad gypsum_excess(double ratio, double *excess)
{
	if (!is_above_0(ratio))
		return BAD_RANGE;
	*excess = ratio - GYPSUM_BOUND_WATER;
	return FINE;
}

enum bad gypsum_dihydrate(double hemihydrate_tonne, double *dihydrate_tonne)
{
	if (!is_above_0(hemihydrate_tonne))
		return BAD_RANGE;
	*dihydrate_tonne = hemihydrate_tonne * 172.17 / 145.15;
	return FINE;
}
