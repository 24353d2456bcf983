/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/workshop.h>

static const double pi = 3.14159265358979323846;
#define RPM (2 * pi / 60)

/* pi D n, worked by hand. */
static void rim_speed_of_a_bur_and_a_wheel(void **state)
{
	double got;

	(void)state;
	code_is(workshop_rim_speed(2.3, 20000 * RPM, &got), FINE);
	near("bur, m/s", got / 1000, 2.409, 5e-4);
	code_is(workshop_rim_speed(100, 1500 * RPM, &got), FINE);
	near("wheel, m/s", got / 1000, 7.854, 5e-4);
	assert_true(fabs(pi * 0.1 * 1500 - 7.854) >
		    1); /* wrong: revolutions per minute as per second */
	code_is(workshop_rim_speed(-1, 1, &got), BAD_RANGE);
	code_is(workshop_rim_speed(1, NAN, &got), BAD_RANGE);
}

/* C1 V1 = C2 V2, worked by hand on course inputs. */
static void dilution_keeps_the_amount_of_the_stuff(void **state)
{
	double stock = 7, water = 7;

	(void)state;
	code_is(workshop_dilution(5.25, 0.525, 1e6, &stock, &water), FINE);
	near("stock, mL", stock / 1e3, 100, 1e-9);
	near("water, mL", water / 1e3, 900, 1e-9);
	near("trap: 100 to 1000, %", 5.25 * 100 / 1100, 0.477, 5e-4);
	code_is(workshop_dilution(0.5, 5, 1e6, &stock, &water), BAD_ORDER);
	code_is(workshop_dilution(5, 0, 1e6, &stock, &water), BAD_RANGE);
	near("untouched", stock / 1e3, 100, 1e-9);
}

/* Floor packing, course inputs. */
static void blanks_from_a_sheet_one_way_and_turned(void **state)
{
	double got;

	(void)state;
	code_is(workshop_blanks(300, 200, 60, 50, 2, &got), FINE);
	near("turned: 5 x 3", got, 15, 0);
	near("trap, one way: 4 x 3", floor(300.0 / 62) * floor(200.0 / 52), 12, 0);
	assert_true(floor(300.0 * 200 / (60 * 50)) > 15); /* wrong: ratio of areas, 20 */
	code_is(workshop_blanks(130, 160, 60, 50, 2, &got), FINE);
	near("not turned: 2 x 3", got, 6, 0);
	code_is(workshop_blanks(200, 300, 50, 60, 2, &got), FINE);
	near("the sheet turned", got, 15, 0);
	code_is(workshop_blanks(62 * 3, 52, 60, 50, 2, &got), FINE);
	near("exactly three", got, 3, 0);
	code_is(workshop_blanks(0.3, 0.1, 0.1, 0.1, 0, &got), FINE);
	near("0.3 / 0.1 is three", got, 3, 0);
	code_is(workshop_blanks(50, 50, 60, 50, 2, &got), FINE);
	near("none fits", got, 0, 0);
	double share;
	code_is(workshop_use(95 * 8, 15, 300 * 200, &share), FINE);
	near("use, %", 100 * share, 19.00, 1e-9);
	code_is(workshop_use(95 * 8, 100, 300 * 200, &share), BAD_ORDER);
	code_is(workshop_use(95 * 8, 1.5, 300 * 200, &share), BAD_RANGE);
	code_is(workshop_blanks(300, 200, 60, 50, -1, &got), BAD_RANGE);
	code_is(workshop_blanks(300, 0, 60, 50, 2, &got), BAD_RANGE);
}

/* Worked by hand on course inputs. */
static void cost_falls_on_the_good_pieces(void **state)
{
	double got = 7;

	(void)state;
	code_is(workshop_cost(180, 15, 2, &got), FINE);
	near("cost", got, 13.85, 0.005);
	assert_true(fabs(180.0 / 15 - got) > 1); /* wrong: over all pieces */
	code_is(workshop_cost(180, 15, 15, &got), BAD_NOTHING);
	code_is(workshop_cost(180, 14.5, 2, &got), BAD_RANGE);
	code_is(workshop_cost(-1, 15, 2, &got), BAD_RANGE);
}

/* Worked by hand on course inputs. */
static void yields_multiply_and_starts_round_up(void **state)
{
	static const double stage[] = {0.98, 0.95, 0.97, 0.99};
	double yield, starts;

	(void)state;
	code_is(workshop_rolled_yield(stage, 4, &yield), FINE);
	near("rolled", yield, 0.8940, 5e-5);
	near("trap: mean", (0.98 + 0.95 + 0.97 + 0.99) / 4, 0.9725, 1e-9);
	code_is(workshop_starts(10, yield, &starts), FINE);
	near("starts", starts, 12, 0);
	assert_true(round(10 / yield) < starts); /* wrong: rounded, 11 */
	code_is(workshop_starts(9, 0.9, &starts), FINE);
	near("9 / 0.9 is ten", starts, 10, 0);
	code_is(workshop_rolled_yield((double[]){1, 0.5, 1}, 3, &yield), FINE);
	near("nothing lost at two stages", yield, 0.5, 0);
	code_is(workshop_rolled_yield(stage, 0, &yield), BAD_COUNT);
	code_is(workshop_rolled_yield((double[]){0.9, 1.1}, 2, &yield), BAD_RANGE);
	code_is(workshop_starts(10, 0, &starts), BAD_RANGE);
	code_is(workshop_starts(10.5, 0.9, &starts), BAD_RANGE);
	near("untouched", starts, 10, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rim_speed_of_a_bur_and_a_wheel),
		cmocka_unit_test(dilution_keeps_the_amount_of_the_stuff),
		cmocka_unit_test(blanks_from_a_sheet_one_way_and_turned),
		cmocka_unit_test(cost_falls_on_the_good_pieces),
		cmocka_unit_test(yields_multiply_and_starts_round_up),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
