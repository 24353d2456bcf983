/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/processing.h>

#define C(t)   ((t) + 273.15)
#define MIN(t) ((t)*60.0)
#define H(t)   ((t)*3600.0)

/* 74 degrees C for 8 h, and the two cycles with a boil: public teaching notes, second-hand. The
 * ramps and the cooling are course values. */
static const struct processing_step long_cure[] = {{C(74), MIN(51), H(8)}};
static const struct processing_step long_boil[] = {
	{C(74), MIN(51), H(8)}, {C(100), MIN(30), H(1)}, {C(30), MIN(30), 0}, {C(20), MIN(15), 0}};
static const struct processing_step short_cycle[] = {
	{C(74), MIN(30), H(2)}, {C(100), MIN(30), H(1)}, {C(30), MIN(30), 0}, {C(20), MIN(15), 0}};

static void totals_count_ramps_holds_and_cooling(void **state)
{
	struct processing_times t;
	double ramp;

	(void)state;
	code_is(processing_ramp(C(23), C(74), 1.0 / 60, &ramp), FINE);
	near("23 to 74 at 1 K/min, min", ramp / 60, 51, 1e-9);
	code_is(processing_times(C(23), long_cure, 1, &t), FINE);
	near("long cure, min", t.total_s / 60, 531, 1e-9);
	assert_true(fabs(480 - t.total_s / 60) > 30); /* wrong: ramp forgotten */
	code_is(processing_times(C(23), short_cycle, 4, &t), FINE);
	near("short cycle, min", t.total_s / 60, 285, 1e-9);
	near("ramps and holds", t.ramp_s + t.hold_s, t.total_s, 1e-9);
	near("holds, min", t.hold_s / 60, 180, 1e-9);
	near("hottest", t.hottest_K, C(100), 0);
	assert_true(fabs(240 - t.total_s / 60) > 30); /* wrong: cooling forgotten */
}

static void schedule_is_judged_by_its_first_fault(void **state)
{
	static const struct {
		const char *why;
		struct processing_step step[4];
		size_t n;
		enum processing_fault want;
		size_t at;
	} rows[] = {
		{"plunged into boiling water for 30 min", {{C(100), 0, MIN(30)}}, 1,
			PROCESSING_HEATED_FAST, 0},
		{"heated at 5 K/min", {{C(74), MIN(10), H(8)}}, 1, PROCESSING_HEATED_FAST, 0},
		{"heated at exactly 2 K/min", {{C(74), MIN(25.5), H(8)}}, 1, PROCESSING_ALLOWED, 0},
		{"straight to the boil, slowly", {{C(100), MIN(60), H(3)}}, 1,
			PROCESSING_BOILED_EARLY, 0},
		{"boiled after 1 h", {{C(74), MIN(51), H(1)}, {C(100), MIN(30), H(2)}}, 2,
			PROCESSING_BOILED_EARLY, 1},
		{"held too cool to count", {{C(50), MIN(51), H(2)}, {C(100), MIN(30), H(1)}}, 2,
			PROCESSING_BOILED_EARLY, 1},
		{"held too warm to count", {{C(80), MIN(51), H(2)}, {C(100), MIN(30), H(1)}}, 2,
			PROCESSING_BOILED_EARLY, 0},
		{"boiled for 30 min", {{C(74), MIN(51), H(2)}, {C(100), MIN(30), MIN(30)}}, 2,
			PROCESSING_BOILED_SHORT, 1},
		{"never boiled, 2 h", {{C(74), MIN(51), H(2)}}, 1, PROCESSING_SLOW_SHORT, 0},
		{"two slow holds add up", {{C(70), MIN(51), H(5)}, {C(74), MIN(4), H(3)}}, 2,
			PROCESSING_ALLOWED, 1},
		{"slow hold after the boil does not count",
			{{C(74), MIN(51), H(2)}, {C(100), MIN(30), H(1)}, {C(70), MIN(30), H(8)}},
			3, PROCESSING_OPENED_HOT, 2},
		{"too hot", {{C(74), MIN(51), H(2)}, {C(121), MIN(60), H(1)}}, 2,
			PROCESSING_TOO_HOT, 1},
		{"quenched", {{C(74), MIN(51), H(2)}, {C(100), MIN(30), H(1)}, {C(20), MIN(2), 0}},
			3, PROCESSING_COOLED_FAST, 2},
		{"opened at exactly 40",
			{{C(74), MIN(51), H(2)}, {C(100), MIN(30), H(1)}, {C(40), MIN(20), 0}}, 3,
			PROCESSING_ALLOWED, 2},
		{"opened warm",
			{{C(74), MIN(51), H(2)}, {C(100), MIN(30), H(1)}, {C(60), MIN(30), 0}}, 3,
			PROCESSING_OPENED_HOT, 2},
	};
	enum processing_fault got;
	size_t at;

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		code_is(processing_judge(
				C(23), rows[i].step, rows[i].n, &processing_common, &got, &at),
			FINE);
		if (got != rows[i].want || at != rows[i].at)
			fail_msg("%s: want fault %d at %zu, got %d at %zu", rows[i].why,
				rows[i].want, rows[i].at, got, at);
	}
	code_is(processing_judge(C(23), long_cure, 1, &processing_common, &got, &at), FINE);
	assert_int_equal(got, PROCESSING_ALLOWED);
	code_is(processing_judge(C(23), long_boil, 4, &processing_common, &got, &at), FINE);
	assert_int_equal(got, PROCESSING_ALLOWED);
	code_is(processing_judge(C(23), short_cycle, 4, &processing_common, &got, &at), FINE);
	assert_int_equal(got, PROCESSING_ALLOWED);
}

static void rule_that_is_infinite_rules_nothing_out(void **state)
{
	static const struct processing_step plunge[] = {{C(121), 0, MIN(5)}, {C(20), 0, 0}};
	struct processing_rules r = {.slow_from_K = 0,
		.slow_to_K = INFINITY,
		.boil_from_K = INFINITY,
		.most_K = INFINITY,
		.heat_most_K_s = INFINITY,
		.cool_most_K_s = INFINITY,
		.open_most_K = INFINITY};
	enum processing_fault got;
	size_t at;

	(void)state;
	code_is(processing_judge(C(23), plunge, 2, &r, &got, &at), FINE);
	assert_int_equal(got, PROCESSING_ALLOWED);
	r.heat_most_K_s = 1;
	code_is(processing_judge(C(23), plunge, 2, &r, &got, &at), FINE);
	assert_int_equal(got, PROCESSING_HEATED_FAST);
}

/* 12.9 kcal/mol and 100.8 degrees C from public teaching notes; 1.47 J/(g K) from memory. */
static void exotherm_bound_shows_why_the_bath_stays_low(void **state)
{
	double heat = 12.9 * 4184e3, molar = 100.12e-6, rise, share;

	(void)state;
	code_is(processing_exotherm(heat, molar, 1 / 3.5, 1.47e9, &rise), FINE);
	near("heat per mass of monomer, J/g", heat / molar / 1e9, 539.1, 0.05);
	near("rise, K", rise, 104.8, 0.05);
	assert_true(539.1 / 1.47 - rise > 200); /* wrong: as if all were monomer */
	near("bound, degrees C", 74 + rise, 178.8, 0.05);
	code_is(processing_heat_to_leave(C(74), rise, C(100.8), &share), FINE);
	near("must leave, %", 100 * share, 74.4, 0.05);
	code_is(processing_heat_to_leave(C(50), 20, C(100.8), &share), FINE);
	near("nothing must leave", share, 0, 0);
}

static void gauge_pressure_is_not_the_pressure_on_the_flask(void **state)
{
	double gauge = 3500 * 0.006894757293168361, force, pressure, area;

	(void)state;
	near("line, MPa", gauge, 24.132, 5e-4);
	code_is(processing_press_force(gauge, 40, &force), FINE);
	near("force, kN", force / 1000, 30.325, 5e-4);
	code_is(processing_flask_pressure(force, 100 * 100, &pressure), FINE);
	near("flask, MPa", pressure, 3.032, 6e-4);
	assert_true(gauge > 7 * pressure); /* wrong: gauge taken for the flask */
	/* A press maker's page (second-hand): 14.71 kN, 20 bar. */
	near("kgf", 14710 / 9.80665, 1500, 0.5);
	code_is(processing_flask_area(14710, 2.0, &area), FINE);
	near("plate, mm2", area, 7355, 0.5);
}

static void processing_refuses_bad_numbers(void **state)
{
	struct processing_times t = {.total_s = 7};
	struct processing_rules r = processing_common;
	struct processing_step bad[] = {{C(74), -1, 0}};
	enum processing_fault fault = PROCESSING_TOO_HOT;
	double got = 7;
	size_t at = 7;

	(void)state;
	code_is(processing_ramp(C(23), C(74), 0, &got), BAD_RANGE);
	code_is(processing_ramp(-1, C(74), 1, &got), BAD_RANGE);
	code_is(processing_times(C(23), long_cure, 0, &t), BAD_COUNT);
	code_is(processing_times(NAN, long_cure, 1, &t), BAD_RANGE);
	code_is(processing_times(C(23), bad, 1, &t), BAD_RANGE);
	code_is(processing_judge(C(23), bad, 1, &r, &fault, &at), BAD_RANGE);
	code_is(processing_judge(C(23), long_cure, 0, &r, &fault, &at), BAD_COUNT);
	r.heat_most_K_s = NAN;
	code_is(processing_judge(C(23), long_cure, 1, &r, &fault, &at), BAD_RANGE);
	code_is(processing_exotherm(1, 1, 1.5, 1, &got), BAD_RANGE);
	code_is(processing_exotherm(1, 0, 0.5, 1, &got), BAD_RANGE);
	code_is(processing_heat_to_leave(C(101), 20, C(100.8), &got), BAD_ORDER);
	code_is(processing_heat_to_leave(C(74), 0, C(100.8), &got), BAD_RANGE);
	code_is(processing_press_force(-1, 40, &got), BAD_RANGE);
	code_is(processing_flask_pressure(1, 0, &got), BAD_RANGE);
	code_is(processing_flask_area(NAN, 1, &got), BAD_RANGE);
	near("untouched", got + t.total_s + (double)at, 21, 0);
	assert_int_equal(fault, PROCESSING_TOO_HOT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(totals_count_ramps_holds_and_cooling),
		cmocka_unit_test(schedule_is_judged_by_its_first_fault),
		cmocka_unit_test(rule_that_is_infinite_rules_nothing_out),
		cmocka_unit_test(exotherm_bound_shows_why_the_bath_stays_low),
		cmocka_unit_test(gauge_pressure_is_not_the_pressure_on_the_flask),
		cmocka_unit_test(processing_refuses_bad_numbers),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
