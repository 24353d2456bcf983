/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/hole.h>

static const double deg = 3.14159265358979323846 / 180;

/* Plane geometry on course inputs; the round bur No 8 of 2.3 mm is from memory (ISO 3823-1). */
static void hole_geometry(void **state)
{
	double got;

	(void)state;
	code_is(hole_diameter(4.5, 0.10, &got), FINE);
	near("plain hole", got, 4.70, 1e-12);
	assert_true(fabs(got - (4.5 + 0.10)) > 0.05); /* wrong: gap on one side only */
	code_is(hole_diameter_tilted(4.5, 4.5, 5 * deg, 0.10, &got), FINE);
	near("tilted hole", got, 5.1109, 1e-4);
	assert_true(fabs(got - (4.5 + 4.5 * sin(5 * deg))) > 0.1); /* wrong: gaps dropped */
	code_is(hole_wall_near(9.0, 4.7, 0.4, &got), FINE);
	near("near wall", got, 1.75, 1e-12);
	code_is(hole_wall_far(9.0, 4.7, 0.4, &got), FINE);
	near("far wall", got, 2.55, 1e-12);
	code_is(hole_bar_width(4.7, 1.5, 0.4, &got), FINE);
	near("width needed", got, 8.50, 1e-12);
	code_is(hole_ligament(8.0, 4.7, 4.7, &got), FINE);
	near("ligament", got, 3.30, 1e-12);
	code_is(hole_residual(4.7, 2.3, &got), FINE);
	near("left per side", got, 1.20, 1e-12);
	code_is(hole_offset(1.55, 2.45, &got), FINE);
	near("offset", got, 0.450, 1e-12);
	code_is(hole_volume(4.7, 4.5, &got), FINE);
	near("laminate removed", got, 78.07, 0.005);
	near("its mass at 1.9 g/cm3 (from memory), mg", got * 1.9, 148.3, 0.05);
}

static void side_of_the_offset_does_not_change_the_walls(void **state)
{
	double a, b;

	(void)state;
	for (double e = 0; e < 2; e += 0.1) {
		code_is(hole_wall_near(9, 4.7, e, &a), FINE);
		code_is(hole_wall_near(9, 4.7, -e, &b), FINE);
		near("mirror", a, b, 0);
		code_is(hole_wall_far(9, 4.7, -e, &b), FINE);
		near("walls and hole make the width", a + b + 4.7, 9, 1e-12);
		code_is(hole_bar_width(4.7, a, e, &b), FINE);
		near("width back from the near wall", b, 9, 1e-12);
		code_is(hole_diameter_tilted(4.5, 4, e * 5 * deg, 0.1, &a), FINE);
		code_is(hole_diameter_tilted(4.5, 4, -e * 5 * deg, 0.1, &b), FINE);
		near("tilt either way", a, b, 0);
	}
	code_is(hole_diameter(4.5, 0.1, &a), FINE);
	code_is(hole_diameter_tilted(4.5, 4, 0, 0.1, &b), FINE);
	near("no tilt is the plain hole", b, a, 0);
}

static void holes_that_break_out_come_out_negative(void **state)
{
	double got;

	(void)state;
	code_is(hole_wall_near(5, 4.7, 0.4, &got), FINE);
	near("wall missing", got, -0.25, 1e-12);
	code_is(hole_ligament(4, 4.7, 4.7, &got), FINE);
	near("holes meet", got, -0.7, 1e-12);
}

static void hole_refuses_bad_numbers(void **state)
{
	double got = 7;

	(void)state;
	code_is(hole_diameter(-4.5, 0.1, &got), BAD_RANGE);
	code_is(hole_diameter(4.5, NAN, &got), BAD_RANGE);
	code_is(hole_diameter_tilted(4.5, 4, 61 * deg, 0.1, &got), BAD_RANGE);
	code_is(hole_diameter_tilted(4.5, 4, NAN, 0.1, &got), BAD_RANGE);
	code_is(hole_wall_near(INFINITY, 4, 0, &got), BAD_RANGE);
	code_is(hole_wall_far(9, 4, NAN, &got), BAD_RANGE);
	code_is(hole_bar_width(4, -1, 0, &got), BAD_RANGE);
	code_is(hole_ligament(4, -1, 0, &got), BAD_RANGE);
	code_is(hole_offset(-1, 0, &got), BAD_RANGE);
	code_is(hole_residual(2.3, 4.7, &got), BAD_ORDER);
	code_is(hole_volume(2.3, -4.7, &got), BAD_RANGE);
	near("untouched", got, 7, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(hole_geometry),
		cmocka_unit_test(side_of_the_offset_does_not_change_the_walls),
		cmocka_unit_test(holes_that_break_out_come_out_negative),
		cmocka_unit_test(hole_refuses_bad_numbers),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
