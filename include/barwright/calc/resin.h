/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Denture-base resin: batches, shrinkage, residual monomer, water.
 *
 * Pure: no state, no memory, no input or output. Masses in tonnes, volumes in mm3, densities in
 * tonne/mm3 (1 g/cm3 = 1e-9), temperatures in K; shares and strains are plain numbers. Every
 * function gives BAD_RANGE for a number or result that is not finite or a number outside its range
 * (masses, volumes, densities, ratios above 0; shares from 0 to 1, but below 1 in resin_linear) and
 * leaves its result alone when it fails.
 *
 * The supplier's instructions give the ratio. Densities of methyl methacrylate 0.94 and of its
 * polymer 1.18 to 1.19 g/cm3: data sheets, and textbooks from memory, not verified. */
#ifndef BARWRIGHT_CALC_RESIN_H
#define BARWRIGHT_CALC_RESIN_H

#include <barwright/base/bad.h>

/* ---- proportions ----------------------------------------------------------------------------- */

struct resin_batch {
	double total_tonne, polymer_tonne, monomer_tonne, monomer_mm3;
};
/* For a cured volume: total = volume * density of the polymer * (1 + excess), of which 1/(1 +
 * ratio) is monomer; ratio is polymer to monomer by mass. Excess at least 0. Mass balance. */
enum bad resin_batch(double volume_mm3, double excess, double ratio, double polymer_tonne_mm3,
	double monomer_tonne_mm3, struct resin_batch *out);

/* Powder as it lies in the measuring cup for a volume of monomer: ratio by volume * monomer. */
enum bad resin_powder_volume(double monomer_mm3, double ratio_by_volume, double *powder_mm3);
/* The ratio by mass that a ratio by volume is, and the bulk density (of the heap, with its air)
 * at which the two are the same: ratio_by_volume * bulk / monomer. */
enum bad resin_ratio_by_mass(double ratio_by_volume, double bulk_tonne_mm3,
	double monomer_tonne_mm3, double *ratio_by_mass);
enum bad resin_bulk_density(double ratio_by_volume, double ratio_by_mass, double monomer_tonne_mm3,
	double *bulk_tonne_mm3);

/* ---- shrinkage ------------------------------------------------------------------------------- */

/* Share of the true volume of the mix that is monomer; ratio polymer to monomer by mass. */
enum bad resin_monomer_share(
	double ratio, double monomer_tonne_mm3, double polymer_tonne_mm3, double *share);
/* By volume, of pure monomer: 1 - monomer/polymer density (textbooks: 21 %). BAD_ORDER: the
 * polymer is the lighter one. */
enum bad resin_monomer_shrinkage(
	double monomer_tonne_mm3, double polymer_tonne_mm3, double *shrinkage);
/* By volume, of a mix of which this share of the true volume is monomer (textbooks, from memory:
 * 7 % at 2.5 : 1 by mass). Share 0 to 1. */
enum bad resin_mix_shrinkage(double monomer_share, double monomer_tonne_mm3,
	double polymer_tonne_mm3, double *shrinkage);
/* Linear from volumetric, equal in all directions: 1 - cbrt(1 - v). What is measured on processed
 * dentures is far less, 0.42 to 0.58 % (J Prosthet Dent 1999;81:300-304), because the mould and the
 * pressure hold them. */
enum bad resin_linear(double volumetric, double *linear);
/* How far a length moves: length * strain. */
enum bad resin_movement(double length_mm, double strain, double *movement_mm);
/* Linear contraction on cooling: alpha * (from - to). BAD_ORDER when it does not cool. */
enum bad resin_cooling(double alpha_per_K, double from_K, double to_K, double *strain);

/* ---- what is in it --------------------------------------------------------------------------- */

/* Mass of residual monomer: mass * share. The limits of ISO 20795-1, 2.2 % (types 1, 3, 4, 5;
 * second-hand) and 4.5 % (type 2; from memory), are shares of the resin's mass. */
enum bad resin_residual(double mass_tonne, double share, double *residual_tonne);
/* Water taken up at a sorption given per volume (limit of ISO 20795-1, from memory: 32 ug/mm3), and
 * that as a share of the dry mass. */
enum bad resin_uptake(double volume_mm3, double sorption_tonne_mm3, double *water_tonne);
enum bad resin_uptake_share(double sorption_tonne_mm3, double density_tonne_mm3, double *share);

#endif
