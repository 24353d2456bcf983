/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/cement.h>
#include <barwright/calc/joint.h>

/* Plane geometry on course inputs. */
static void film_volume_and_area(void **state)
{
	double got;

	(void)state;
	code_is(cement_film(4.62, 4.50, &got), FINE);
	near("film per side, um", got * 1000, 60, 1e-9);
	assert_true(fabs((4.62 - 4.50) * 1000 - 60) > 10); /* wrong: both sides, 120 */
	code_is(cement_volume(4.7, 4.5, 4.5, 1, 0, &got), FINE);
	near("one site, mm3", got, 6.5031, 5e-5);
	code_is(cement_volume(4.7, 4.5, 4.5, 5, 1, &got), FINE);
	near("five sites, twice for waste, mm3", got, 65.03, 0.005);
	assert_true(fabs(0.2 * 0.2 * 4.5 * 5 * 2 - got) > 1); /* wrong: (D - d)^2 */
	code_is(cement_area_lost(4.5, 4.0, &got), FINE);
	near("0.5 mm short, %", 100 * got, 11.11, 0.005);
}

/* ISO 10477:2020, 5.5.1: bond of at least 5 MPa. */
static void joint_at_the_floor_of_the_standard(void **state)
{
	double area, force;

	(void)state;
	code_is(joint_area(4.5, 4.5, &area), FINE);
	near("bonded area, mm2", area, 63.617, 5e-4);
	assert_true(fabs(3.14159265 * 4.5 * 4.5 / 4 - area) > 10); /* wrong: the cross-section */
	assert_true(fabs(4.5 * 4.5 - area) > 10);                  /* wrong: projected */
	code_is(joint_capacity(4.5, 4.5, 5, 1, &force), FINE);
	near("capacity, N", force, 318.1, 0.05);
}

/* Dose of 10 s per cm2: course value. */
static void time_under_the_blaster(void **state)
{
	double area, time;

	(void)state;
	code_is(cement_blast_area(4.7, 4.5, 4.5, 5, &area), FINE);
	near("area, mm2", area, 650.3, 0.05);
	code_is(cement_blast_time(area, 0.1, &time), FINE);
	near("time, s", time, 65.0, 0.05);
}

static void cement_refuses_bad_numbers(void **state)
{
	double got = 7;

	(void)state;
	code_is(cement_film(4.4, 4.5, &got), BAD_ORDER);
	code_is(cement_film(NAN, 4.5, &got), BAD_RANGE);
	code_is(cement_volume(4.4, 4.5, 4, 1, 0, &got), BAD_ORDER);
	code_is(cement_volume(4.7, 4.5, 4, 1.5, 0, &got), BAD_RANGE);
	code_is(cement_volume(4.7, 4.5, 4, 0, 0, &got), BAD_RANGE);
	code_is(cement_volume(4.7, 4.5, 4, 1, -1, &got), BAD_RANGE);
	code_is(cement_area_lost(4, 4.5, &got), BAD_ORDER);
	code_is(cement_area_lost(0, 0, &got), BAD_RANGE);
	code_is(cement_blast_area(-1, 4, 4, 1, &got), BAD_RANGE);
	code_is(cement_blast_time(1, INFINITY, &got), BAD_RANGE);
	near("untouched", got, 7, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(film_volume_and_area),
		cmocka_unit_test(joint_at_the_floor_of_the_standard),
		cmocka_unit_test(time_under_the_blaster),
		cmocka_unit_test(cement_refuses_bad_numbers),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
