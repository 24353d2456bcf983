/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/vapour.h>

#include <math.h>

#include "calc/numbers.h"

enum bad vapour_concentration(
	double share, double molar_tonne_mol, double molar_mm3_mol, double *concentration_tonne_mm3)
{
	if (!(share >= 0 && share <= 1) || !is_above_0(molar_tonne_mol) ||
		!is_above_0(molar_mm3_mol))
		return BAD_RANGE;
	return result_give(share * molar_tonne_mol / molar_mm3_mol, concentration_tonne_mm3);
}

enum bad vapour_share(
	double concentration_tonne_mm3, double molar_tonne_mol, double molar_mm3_mol, double *share)
{
	if (!is_from_0(concentration_tonne_mm3) || !is_above_0(molar_tonne_mol) ||
		!is_above_0(molar_mm3_mol))
		return BAD_RANGE;
	return result_give(concentration_tonne_mm3 / molar_tonne_mol * molar_mm3_mol, share);
}

enum bad vapour_spill(double volume_mm3, double density_tonne_mm3, double room_mm3,
	double *concentration_tonne_mm3)
{
	if (!is_above_0(volume_mm3) || !is_above_0(density_tonne_mm3) || !is_above_0(room_mm3))
		return BAD_RANGE;
	return result_give(volume_mm3 * density_tonne_mm3 / room_mm3, concentration_tonne_mm3);
}

enum bad vapour_saturated(double vapour_MPa, double ambient_MPa, double *share)
{
	if (!is_above_0(vapour_MPa) || !is_above_0(ambient_MPa))
		return BAD_RANGE;
	if (vapour_MPa > ambient_MPa)
		return BAD_ORDER;
	return result_give(vapour_MPa / ambient_MPa, share);
}
