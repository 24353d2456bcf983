/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/vapour.h>

static const double mg_m3 = 1e-18, ppm = 1e-6, mL = 1e3, m3 = 1e9;
static const double mma = 100.12e-6; /* methyl methacrylate, tonne/mol */

/* OSHA's page on methyl methacrylate prints 100 ppm as 410 mg/m3; half of it is 205. */
static void parts_per_million_as_the_authority_prints_them(void **state)
{
	double got;

	(void)state;
	code_is(vapour_concentration(100 * ppm, mma, VAPOUR_MOLAR_25C_mm3_mol, &got), FINE);
	near("100 ppm, printed", got / mg_m3, 410, 1);
	near("100 ppm", got / mg_m3, 409.5, 0.05);
	code_is(vapour_concentration(50 * ppm, mma, VAPOUR_MOLAR_25C_mm3_mol, &got), FINE);
	near("50 ppm, printed", got / mg_m3, 205, 1);
	near("50 ppm", got / mg_m3, 204.7, 0.06);
	assert_true(fabs(50 * 100.12 / 22.4 - 204.7) > 15); /* wrong: molar volume of 0 degrees C */
	assert_true(fabs(50 / 100.12 * 24.45 - 204.7) > 15); /* wrong: upside down */
}

/* Mass balance worked by hand: 5 mL of 0.94 g/mL in 60 m3. */
static void spill_in_still_air(void **state)
{
	double mass, share, back;

	(void)state;
	code_is(vapour_spill(5 * mL, 0.94e-9, 60 * m3, &mass), FINE);
	near("mg/m3", mass / mg_m3, 78.3, 0.05);
	code_is(vapour_share(mass, mma, VAPOUR_MOLAR_25C_mm3_mol, &share), FINE);
	near("ppm", share / ppm, 19.13, 0.005);
	code_is(vapour_concentration(share, mma, VAPOUR_MOLAR_25C_mm3_mol, &back), FINE);
	near("there and back", back / mass, 1, 1e-12);
	assert_true(fabs(5e3 / 60 - 78.3) > 4); /* wrong: millilitres as grams */
}

/* Data sheets: 28 mmHg at 20 degrees C; NIOSH IDLH 1000 ppm; lower explosive limit 2.1 %. */
static void saturated_air_is_far_over_every_limit(void **state)
{
	double share;

	(void)state;
	code_is(vapour_saturated(28 * 1.33322387415e-4, 760 * 1.33322387415e-4, &share), FINE);
	near("ppm", share / ppm, 36842, 0.5);
	assert_true(share > 1000 * ppm && share > 0.021);
}

static void vapour_refuses_bad_numbers(void **state)
{
	double got = 7;

	(void)state;
	code_is(vapour_concentration(1.1, mma, 1, &got), BAD_RANGE);
	code_is(vapour_concentration(0.1, 0, 1, &got), BAD_RANGE);
	code_is(vapour_share(-1, mma, 1, &got), BAD_RANGE);
	code_is(vapour_share(1, mma, NAN, &got), BAD_RANGE);
	code_is(vapour_spill(5, 1, 0, &got), BAD_RANGE);
	code_is(vapour_saturated(2, 1, &got), BAD_ORDER);
	code_is(vapour_saturated(-2, 1, &got), BAD_RANGE);
	near("untouched", got, 7, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(parts_per_million_as_the_authority_prints_them),
		cmocka_unit_test(spill_in_still_air),
		cmocka_unit_test(saturated_air_is_far_over_every_limit),
		cmocka_unit_test(vapour_refuses_bad_numbers),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
