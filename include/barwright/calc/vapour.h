/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Monomer in the air: parts per million and mass per volume, a spill, saturation.
 *
 * Pure: no state, no memory, no input or output. Concentrations in tonne/mm3 (1 mg/m3 = 1e-18),
 * parts as a plain share (1 ppm = 1e-6), molar mass in tonne/mol (1 g/mol = 1e-6), molar volume in
 * mm3/mol, pressures in MPa. Mass balances, ideal gas. They show sizes; they are no exposure
 * assessment: that is for a measurement and the local rules. Every function gives BAD_RANGE for a
 * number or result that is not finite, a number not above 0 (a share or concentration may be 0) or
 * a share above 1, and leaves its result alone when it fails. */
#ifndef BARWRIGHT_CALC_VAPOUR_H
#define BARWRIGHT_CALC_VAPOUR_H

#include <barwright/base/bad.h>

/* 24.45 L/mol, at 25 degrees C and 1 atm, as occupational tables use it (the exact gas law gives
 * 24.465). */
#define VAPOUR_MOLAR_25C_mm3_mol 24.45e6

/* share * molar mass / molar volume, and back. */
enum bad vapour_concentration(double share, double molar_tonne_mol, double molar_mm3_mol,
	double *concentration_tonne_mm3);
enum bad vapour_share(double concentration_tonne_mm3, double molar_tonne_mol, double molar_mm3_mol,
	double *share);

/* Still air, everything evaporates, no ventilation: volume * density / room. */
enum bad vapour_spill(double volume_mm3, double density_tonne_mm3, double room_mm3,
	double *concentration_tonne_mm3);

/* Share of vapour in air saturated with it: vapour pressure over ambient. BAD_ORDER: it boils. */
enum bad vapour_saturated(double vapour_MPa, double ambient_MPa, double *share);

#endif
