/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gypsum: water, slurry, powder for a mould, setting expansion, the water that is bound.
 *
 * Pure: no state, no memory, no input or output. Masses in tonnes, volumes in mm3, densities in
 * tonne/mm3 (1 g/cm3 = 1e-9), so that no formula needs a factor; shares and strains are plain
 * numbers (0.1 % = 0.001). Every function gives BAD_RANGE for a number or result that is not finite
 * or a number outside its range, and leaves its result alone when it fails.
 *
 * Water-powder ratios, densities and expansions go in: they are the supplier's. Ranges as
 * published: R. Sakaguchi and J. Powers, Craig's Restorative Dental Materials, and ISO 6873:2013
 * (both from memory, not verified); tables of different years differ, so a question names its
 * own. */
#ifndef BARWRIGHT_CALC_GYPSUM_H
#define BARWRIGHT_CALC_GYPSUM_H

#include <barwright/base/bad.h>

/* 1 mL of water is counted as 1 g, as everywhere in the trade (0.3 % off at 25 degrees C). */
#define GYPSUM_WATER_tonne_mm3 1e-9

/* Water of CaSO4 . 1/2 H2O to CaSO4 . 2 H2O, per mass of hemihydrate: stoichiometry with molar
 * masses 18.015 and 145.15 g/mol. */
#define GYPSUM_BOUND_WATER (1.5 * 18.015 / 145.15)

/* Volume of water: powder * ratio; both above 0. Ratio: mass of water over mass of powder, which is
 * mL per g. */
enum bad gypsum_water(double powder_tonne, double ratio, double *water_mm3);
/* The ratio that was used. */
enum bad gypsum_ratio(double powder_tonne, double water_mm3, double *ratio);

/* Volume of the slurry, true volumes add: powder/density + water. Density of the powder's grains,
 * not of the heap. */
enum bad gypsum_slurry(
	double powder_tonne, double density_tonne_mm3, double water_mm3, double *slurry_mm3);
/* Powder whose slurry fills a volume with a share of waste (0.1 = 10 %) to spare. */
enum bad gypsum_powder(double volume_mm3, double waste, double ratio, double density_tonne_mm3,
	double *powder_tonne);

/* Change of a length by a strain; the strain may be negative. */
enum bad gypsum_expansion(double length_mm, double strain, double *change_mm);

/* Water over what is bound, per mass of powder; negative: too little to set in full. */
enum bad gypsum_excess(double ratio, double *excess);
/* Mass of dihydrate from a mass of hemihydrate: times 172.17/145.15. */
enum bad gypsum_dihydrate(double hemihydrate_tonne, double *dihydrate_tonne);

#endif
