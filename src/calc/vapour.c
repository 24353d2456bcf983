/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdbool.h>

#include <barwright/calc/vapour.h>

static bool is_above_0(double x)
{
	return isfinite(x) && x > 0;
}

enum bad vapour_concentration(
	double share, double molar_tonne_mol, double molar_mm3_mol, double *concentration_tonne_mm3)
{
	if (!(share >= 0 && share <= 1) || !is_above_0(molar_tonne_mol) ||
		!is_above_0(molar_mm3_mol))
		return BAD_RANGE;
	*concentration_tonne_mm3 = share * molar_tonne_mol / molar_mm3_mol;
	return FINE;
}

enum bad vapour_share(
	double concentration_tonne_mm3, double molar_tonne_mol, double molar_mm3_mol, double *share)
{
	if (!isfinite(concentration_tonne_mm3) || concentration_tonne_mm3 < 0 ||
		!is_above_0(molar_tonne_mol) || !is_above_0(molar_mm3_mol))
		return BAD_RANGE;
	*share = concentration_tonne_mm3 / molar_tonne_mol * molar_mm3_mol;
	return FINE;
}

enum bad vapour_spill(double volume_mm3, double density_tonne_mm3, double room_mm3,
	double *concentration_tonne_mm3)
{
	if (!is_above_0(volume_mm3) || !is_above_0(density_tonne_mm3) || !is_above_0(room_mm3))
		return BAD_RANGE;
	*concentration_tonne_mm3 = volume_mm3 * density_tonne_mm3 / room_mm3;
	return FINE;
}

enum bad vapour_saturated(double vapour_MPa, double ambient_MPa, double *share)
{
	if (!is_above_0(vapour_MPa) || !is_above_0(ambient_MPa))
		return BAD_RANGE;
	if (vapour_MPa > ambient_MPa)
		return BAD_ORDER;
	*share = vapour_MPa / ambient_MPa;
	return FINE;
}
