/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/gypsum.h>

static const double g = 1e-6, mL = 1e3, g_cm3 = 1e-9; /* to tonne, mm3, tonne/mm3 */
static const double grains = 2.76e-9;                 /* hemihydrate 2.76 g/cm3: from memory */

/* Definition of the water-powder ratio; 0.25 to 0.30 for stone is published (textbook tables). */
static void water_for_stone(void **state)
{
	double water, ratio;

	(void)state;
	code_is(gypsum_water(300 * g, 0.28, &water), FINE);
	near("water, mL", water / mL, 84.0, 1e-9);
	assert_true(fabs(300 / 0.28 - 84) > 100);            /* wrong: divided */
	assert_true(fabs(300 * 0.28 / (1 - 0.28) - 84) > 2); /* wrong: share of the whole */
	code_is(gypsum_ratio(300 * g, 100 * mL, &ratio), FINE);
	near("ratio used", ratio, 0.3333, 1e-4);
	assert_true(fabs(300.0 / 100 - ratio) > 0.1);          /* wrong: upside down */
	assert_true(fabs(100.0 / (100 + 300) - ratio) > 0.05); /* wrong: share of the whole */
	code_is(gypsum_ratio(300 * g, water, &ratio), FINE);
	near("there and back", ratio, 0.28, 1e-12);
}

/* True volumes add; worked by hand: 300/2.76 + 84 = 192.70. */
static void slurry_and_powder_for_a_mould(void **state)
{
	double slurry, powder, water;

	(void)state;
	code_is(gypsum_slurry(300 * g, grains, 84 * mL, &slurry), FINE);
	near("slurry, cm3", slurry / mL, 192.70, 0.005);
	assert_true(fabs(300 + 84 - 192.70) > 10); /* wrong: grams added to millilitres */
	code_is(gypsum_powder(250 * mL, 0.10, 0.28, grains, &powder), FINE);
	near("powder, g", powder / g, 428.1, 0.05);
	assert_true(fabs(250 * 2.76 - 428.1) > 100); /* wrong: volume times density */
	assert_true(fabs(428.1 / 1.1 - 428.1) > 30); /* wrong: no waste */
	code_is(gypsum_water(powder, 0.28, &water), FINE);
	near("water, mL", water / mL, 119.9, 0.05);
	for (double ratio = 0.18; ratio < 0.75; ratio += 0.03) {
		code_is(gypsum_powder(250 * mL, 0, ratio, grains, &powder), FINE);
		code_is(gypsum_water(powder, ratio, &water), FINE);
		code_is(gypsum_slurry(powder, grains, water, &slurry), FINE);
		near("powder and water fill the mould", slurry / mL, 250, 1e-9);
	}
}

/* Stoichiometry: CaSO4 . 1/2 H2O 145.15 + 1.5 H2O (18.015) -> CaSO4 . 2 H2O 172.17 g/mol. */
static void bound_water_follows_from_the_molar_masses(void **state)
{
	double got;

	(void)state;
	near("per 100 g", 100 * GYPSUM_BOUND_WATER, 18.62, 0.005);
	code_is(gypsum_excess(0.28, &got), FINE);
	near("excess at 0.28, per 100 g", 100 * got, 9.38, 0.005);
	code_is(gypsum_excess(0.50, &got), FINE);
	near("excess at 0.50, per 100 g", 100 * got, 31.38, 0.005);
	code_is(gypsum_excess(0.15, &got), FINE);
	assert_true(got < 0);
	code_is(gypsum_dihydrate(100 * g, &got), FINE);
	near("dihydrate, g", got / g, 118.62, 0.005);
	near("hemihydrate and bound water", got / g, 100 * (1 + GYPSUM_BOUND_WATER), 0.005);
}

static void setting_expansion_over_an_arch(void **state)
{
	double got;

	(void)state;
	code_is(gypsum_expansion(60, 0.10e-2, &got), FINE);
	near("0.10 %", got, 0.060, 1e-12);
	code_is(gypsum_expansion(60, 0.30e-2, &got), FINE);
	near("0.30 %", got, 0.180, 1e-12);
	assert_true(fabs(60 * 0.30 - got) > 1); /* wrong: per cent taken as a plain number */
}

static void gypsum_refuses_bad_numbers(void **state)
{
	double got = 7;

	(void)state;
	code_is(gypsum_water(0, 0.28, &got), BAD_RANGE);
	code_is(gypsum_water(300 * g, NAN, &got), BAD_RANGE);
	code_is(gypsum_ratio(300 * g, -1, &got), BAD_RANGE);
	code_is(gypsum_slurry(300 * g, 0, 84 * mL, &got), BAD_RANGE);
	code_is(gypsum_powder(250 * mL, -0.1, 0.28, g_cm3, &got), BAD_RANGE);
	code_is(gypsum_powder(INFINITY, 0.1, 0.28, g_cm3, &got), BAD_RANGE);
	code_is(gypsum_expansion(-1, 0.1, &got), BAD_RANGE);
	code_is(gypsum_excess(0, &got), BAD_RANGE);
	code_is(gypsum_dihydrate(-1, &got), BAD_RANGE);
	near("untouched", got, 7, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(water_for_stone),
		cmocka_unit_test(slurry_and_powder_for_a_mould),
		cmocka_unit_test(bound_water_follows_from_the_molar_masses),
		cmocka_unit_test(setting_expansion_over_an_arch),
		cmocka_unit_test(gypsum_refuses_bad_numbers),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
