/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/resin.h>

#include <math.h>

#include "calc/numbers.h"

/* ---- proportions ----------------------------------------------------------------------------- */

enum bad resin_batch(double volume_mm3, double excess, double ratio, double polymer_tonne_mm3,
	double monomer_tonne_mm3, struct resin_batch *out)
{
	if (!is_above_0(volume_mm3) || !is_above_0(ratio) || !is_above_0(polymer_tonne_mm3) ||
		!is_above_0(monomer_tonne_mm3) || !is_from_0(excess))
		return BAD_RANGE;
	double total = volume_mm3 * polymer_tonne_mm3 * (1 + excess);
	double monomer = total / (1 + ratio);
	struct resin_batch b = {
		.total_tonne = total,
		.polymer_tonne = total - monomer,
		.monomer_tonne = monomer,
		.monomer_mm3 = monomer / monomer_tonne_mm3,
	};
	if (!isfinite(b.total_tonne) || !isfinite(b.monomer_mm3))
		return BAD_RANGE;
	*out = b;
	return FINE;
}

enum bad resin_powder_volume(double monomer_mm3, double ratio_by_volume, double *powder_mm3)
{
	if (!is_above_0(monomer_mm3) || !is_above_0(ratio_by_volume))
		return BAD_RANGE;
	return result_give(ratio_by_volume * monomer_mm3, powder_mm3);
}

enum bad resin_ratio_by_mass(double ratio_by_volume, double bulk_tonne_mm3,
	double monomer_tonne_mm3, double *ratio_by_mass)
{
	if (!is_above_0(ratio_by_volume) || !is_above_0(bulk_tonne_mm3) ||
		!is_above_0(monomer_tonne_mm3))
		return BAD_RANGE;
	return result_give(ratio_by_volume * bulk_tonne_mm3 / monomer_tonne_mm3, ratio_by_mass);
}

enum bad resin_bulk_density(double ratio_by_volume, double ratio_by_mass, double monomer_tonne_mm3,
	double *bulk_tonne_mm3)
{
	if (!is_above_0(ratio_by_volume) || !is_above_0(ratio_by_mass) ||
		!is_above_0(monomer_tonne_mm3))
		return BAD_RANGE;
	return result_give(ratio_by_mass * monomer_tonne_mm3 / ratio_by_volume, bulk_tonne_mm3);
}

/* ---- shrinkage ------------------------------------------------------------------------------- */

enum bad resin_monomer_share(
	double ratio, double monomer_tonne_mm3, double polymer_tonne_mm3, double *share)
{
	if (!is_above_0(ratio) || !is_above_0(monomer_tonne_mm3) || !is_above_0(polymer_tonne_mm3))
		return BAD_RANGE;
	return result_give(1 / (1 + ratio * monomer_tonne_mm3 / polymer_tonne_mm3), share);
}

enum bad resin_monomer_shrinkage(
	double monomer_tonne_mm3, double polymer_tonne_mm3, double *shrinkage)
{
	if (!is_above_0(monomer_tonne_mm3) || !is_above_0(polymer_tonne_mm3))
		return BAD_RANGE;
	if (polymer_tonne_mm3 < monomer_tonne_mm3)
		return BAD_ORDER;
	return result_give(1 - monomer_tonne_mm3 / polymer_tonne_mm3, shrinkage);
}

enum bad resin_mix_shrinkage(
	double monomer_share, double monomer_tonne_mm3, double polymer_tonne_mm3, double *shrinkage)
{
	double pure;

	if (!(monomer_share >= 0 && monomer_share <= 1))
		return BAD_RANGE;
	enum bad code = resin_monomer_shrinkage(monomer_tonne_mm3, polymer_tonne_mm3, &pure);
	if (!code)
		*shrinkage = monomer_share * pure; /* the polymer in the mix keeps its volume */
	return code;
}

enum bad resin_linear(double volumetric, double *linear)
{
	if (!(volumetric >= 0 && volumetric < 1))
		return BAD_RANGE;
	return result_give(1 - cbrt(1 - volumetric), linear);
}

enum bad resin_movement(double length_mm, double strain, double *movement_mm)
{
	if (!is_from_0(length_mm) || !isfinite(strain))
		return BAD_RANGE;
	return result_give(length_mm * strain, movement_mm);
}

enum bad resin_cooling(double alpha_per_K, double from_K, double to_K, double *strain)
{
	if (!is_above_0(alpha_per_K) || !is_above_0(from_K) || !is_above_0(to_K))
		return BAD_RANGE;
	if (from_K < to_K)
		return BAD_ORDER;
	return result_give(alpha_per_K * (from_K - to_K), strain);
}

/* ---- what is in it --------------------------------------------------------------------------- */

enum bad resin_residual(double mass_tonne, double share, double *residual_tonne)
{
	if (!is_above_0(mass_tonne) || !(share >= 0 && share <= 1))
		return BAD_RANGE;
	return result_give(mass_tonne * share, residual_tonne);
}

enum bad resin_uptake(double volume_mm3, double sorption_tonne_mm3, double *water_tonne)
{
	if (!is_above_0(volume_mm3) || !is_from_0(sorption_tonne_mm3))
		return BAD_RANGE;
	return result_give(volume_mm3 * sorption_tonne_mm3, water_tonne);
}

enum bad resin_uptake_share(double sorption_tonne_mm3, double density_tonne_mm3, double *share)
{
	if (!is_above_0(density_tonne_mm3) || !is_from_0(sorption_tonne_mm3))
		return BAD_RANGE;
	return result_give(sorption_tonne_mm3 / density_tonne_mm3, share);
}
