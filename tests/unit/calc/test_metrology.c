/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/calc/metrology.h>

/* Worked by hand. */
static void vernier_is_read_and_its_zero_error_taken_off_with_its_sign(void **state)
{
	static const struct {
		double main, line, division, zero, read, length, trap;
	} rows[] = {
		/* trap: the zero error added */
		{12, 7, 0.05, +0.05, 12.35, 12.30, 12.40},
		{8, 19, 0.02, -0.04, 8.38, 8.42, 8.34},
		/* trap: lines counted from 1 */
		{3, 5, 0.1, 0, 3.5, 3.5, 3.6},
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double read, length;

		code_is(metrology_vernier(rows[i].main, rows[i].line, rows[i].division, &read),
			FINE);
		near("read", read, rows[i].read, 1e-12);
		code_is(metrology_corrected(read, rows[i].zero, &length), FINE);
		near("length", length, rows[i].length, 1e-12);
		assert_true(fabs(length - rows[i].trap) > rows[i].division / 2);
	}
	double got = 7;
	code_is(metrology_vernier(8, 2.5, 0.02, &got), BAD_RANGE);
	code_is(metrology_vernier(8, -1, 0.02, &got), BAD_RANGE);
	code_is(metrology_vernier(8, 51, 0.02, &got), BAD_RANGE);
	code_is(metrology_vernier(8, 5, 0, &got), BAD_RANGE);
	code_is(metrology_vernier(8, NAN, 0.02, &got), BAD_RANGE);
	code_is(metrology_corrected(NAN, 0, &got), BAD_RANGE);
	near("untouched", got, 7, 0);
}

/* Course values, worked by hand. */
static void lowest_reading_decides_and_not_the_mean(void **state)
{
	static const double reading[] = {3.52, 3.47, 3.50};
	struct metrology_set set;
	enum metrology_verdict by_lowest, by_mean;

	(void)state;
	code_is(metrology_readings(reading, 3, &set), FINE);
	near("mean", set.mean, 3.497, 5e-4);
	near("range", set.range, 0.05, 1e-12);
	near("lowest", set.lowest, 3.47, 0);
	assert_int_equal(set.lowest_at, 1);
	assert_int_equal(set.highest_at, 0);
	/* By hand: deviations 0.07/3, -0.08/3, 0.01/3; sum of squares 0.0114/9; over 2. */
	near("deviation", set.deviation, sqrt(0.0114 / 9 / 2), 1e-12);
	near("of the mean", set.u_mean, sqrt(0.0114 / 9 / 6), 1e-12);
	code_is(metrology_judge(set.lowest, 3.495, INFINITY, 0, &by_lowest), FINE);
	code_is(metrology_judge(set.mean, 3.495, INFINITY, 0, &by_mean), FINE);
	assert_int_equal(by_lowest, METROLOGY_REJECT);
	assert_int_equal(by_mean, METROLOGY_ACCEPT); /* the trap */
	code_is(metrology_readings(reading, 1, &set), FINE);
	near("one reading has no spread", set.deviation, 0, 0);
	code_is(metrology_readings(reading, 0, &set), BAD_COUNT);
	code_is(metrology_readings((double[]){1, NAN}, 2, &set), BAD_RANGE);
	code_is(metrology_readings((double[]){1e300, -1e300}, 2, &set), BAD_RANGE);
}

/* Course value: instrument error +-0.03 mm, limit 3.50 mm, rule "limit + error". */
static void bench_rule_needs_the_limit_and_the_error(void **state)
{
	static const struct {
		double reading;
		enum metrology_verdict want;
	} rows[] = {
		{3.60, METROLOGY_ACCEPT},
		{3.53, METROLOGY_ACCEPT}, /* 3.50 + 0.03 is not exactly 3.53 in binary */
		{3.52, METROLOGY_CANNOT_TELL},
		{3.50, METROLOGY_CANNOT_TELL},
		{3.47, METROLOGY_CANNOT_TELL},
		{3.46, METROLOGY_REJECT},
	};
	double from, to;
	enum metrology_verdict got;

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		code_is(metrology_judge(rows[i].reading, 3.50, INFINITY, 0.03, &got), FINE);
		assert_int_equal(got, rows[i].want);
	}
	code_is(metrology_band(3.50, INFINITY, 0.03, &from, &to), FINE);
	near("accept from", from, 3.53, 1e-12);
	assert_true(isinf(to));
	code_is(metrology_judge(0.08, -INFINITY, 0.10, 0.03, &got), FINE);
	assert_int_equal(got, METROLOGY_CANNOT_TELL);
	code_is(metrology_judge(0.07, -INFINITY, 0.10, 0.03, &got), FINE);
	assert_int_equal(got, METROLOGY_ACCEPT);
	code_is(metrology_judge(0.13, -INFINITY, 0.10, 0.03, &got), FINE);
	assert_int_equal(got, METROLOGY_CANNOT_TELL);
	code_is(metrology_judge(0.14, -INFINITY, 0.10, 0.03, &got), FINE);
	assert_int_equal(got, METROLOGY_REJECT);
}

/* JCGM 100:2008 (GUM) H.1, end gauge, nm: published u_c 32, nu_eff 16, U99 93 (from memory); with
 * unrounded inputs 31.7105 and 16.656, computed twice elsewhere. */
static void gum_end_gauge_example(void **state)
{
	static const struct metrology_part part[] = {
		{1, 25, 18}, {1, 9.7, 25.6}, {1, 2.9, 50}, {1, 16.675, 2}};
	double u, degrees, k;

	(void)state;
	code_is(metrology_combine(part, 4, &u, &degrees), FINE);
	near("u_c", u, 31.7105, 1e-3);
	near("effective degrees", degrees, 16.656, 1e-2);
	code_is(metrology_coverage(0.99, degrees, &k), FINE);
	near("k99 for 16 degrees", k, 2.92078, 1e-5);
	near("U99", k * u, 92.6, 0.05);
}

/* A caliper's budget, mm: repeatability 0.012 of 5, error +-0.03, step 0.01, zero +-0.01, and
 * temperature. Checked against an independent computation in another language. */
static void caliper_budget(void **state)
{
	double error, step, zero, u, degrees;
	struct metrology_part part[5] = {{1, 0.012 / sqrt(5), 4}};

	(void)state;
	code_is(metrology_rectangular(0.03, &error), FINE);
	code_is(metrology_rectangular(0.005, &step), FINE);
	code_is(metrology_rectangular(0.01, &zero), FINE);
	near("error", error, 0.0173205, 1e-7);
	near("step", step, 0.0028868, 1e-7);
	near("zero", zero, 0.0057735, 1e-7);
	part[1] = (struct metrology_part){1, error, INFINITY};
	part[2] = (struct metrology_part){1, step, INFINITY};
	part[3] = (struct metrology_part){1, zero, INFINITY};
	part[4] = (struct metrology_part){1, 0.000332, INFINITY};
	code_is(metrology_combine(part, 5, &u, &degrees), FINE);
	near("u_c", u, 0.0192504, 1e-7);
	near("effective degrees", degrees, 662.26, 0.05);
	near("share of the instrument's error", error * error / (u * u), 0.81, 0.005);
}

/* Metal mass = wax mass * alloy density / wax density, by sensitivities; checked against an
 * independent computation. */
static void products_go_by_sensitivities(void **state)
{
	double wax = 1.250, alloy = 8.6, wax_density = 0.96, mass = wax * alloy / wax_density;
	const struct metrology_part part[] = {
		{alloy / wax_density, 0.0058, INFINITY},
		{wax / wax_density, 0.05, INFINITY},
		{-mass / wax_density, 0.01, INFINITY},
	};
	double u, degrees;

	(void)state;
	code_is(metrology_combine(part, 3, &u, &degrees), FINE);
	near("mass", mass, 11.1979167, 1e-7);
	near("u", u, 0.1433327, 1e-7);
	assert_true(isinf(degrees));
}

/* JCGM 106:2012 clause 7 and table 1 (table from memory); the example y = -5.47, u = 0.05, limit
 * -5.40 is published as 0.92 (from memory). */
static void conformance_probability_and_its_guard(void **state)
{
	static const double u = 0.0192504;
	static const struct {
		double y, p;
	} rows[] = {{1.500, 0.5000000}, {1.520, 0.8505839}, {1.535, 0.9654791}, {1.550, 0.9953027},
		{1.600, 0.9999998}, {1.640, 0.9990859}, {1.680, 0.8505839}, {1.720, 0.1494161}};
	static const struct {
		double p, z;
	} table[] = {{0.80, 0.84162}, {0.90, 1.28155}, {0.95, 1.64485}, {0.99, 2.32635},
		{0.999, 3.09023}};
	double got, from, to;

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		code_is(metrology_conformance(rows[i].y, u, 1.50, 1.70, &got), FINE);
		near("p_c", got, rows[i].p, 2e-6);
	}
	for (size_t i = 0; i < sizeof table / sizeof *table; i++) {
		code_is(metrology_guard(1, table[i].p, &got), FINE);
		near("z", got, table[i].z, 1e-5);
	}
	code_is(metrology_conformance(-5.47, 0.05, -INFINITY, -5.40, &got), FINE);
	near("one limit", got, 0.919243, 1e-6);
	code_is(metrology_guard(u, 0.95, &got), FINE);
	near("guard", got, 0.0316640, 1e-6);
	code_is(metrology_band(1.50, 1.70, got, &from, &to), FINE);
	near("accept from", from, 1.5316640, 1e-6);
	near("accept to", to, 1.6683360, 1e-6);
	code_is(metrology_band(1.50, 1.70, 2 * u, &from, &to), FINE);
	near("with the older guard U, from", from, 1.5385007, 1e-6);
	near("with the older guard U, to", to, 1.6614993, 1e-6);
}

/* At the edge of the guarded band of one limit the probability is the confidence asked for. */
static void guard_and_probability_fit(void **state)
{
	(void)state;
	for (double p = 0.5; p < 0.999; p += 0.05) {
		double guard, got;

		code_is(metrology_guard(0.02, p, &guard), FINE);
		code_is(metrology_conformance(3.5 + guard, 0.02, 3.5, INFINITY, &got), FINE);
		near("probability at the guard", got, p, 1e-9);
	}
	double certain;
	code_is(metrology_conformance(3.5, 0, 3.5, 4, &certain), FINE);
	near("no uncertainty, on the limit", certain, 1, 0);
	code_is(metrology_conformance(3.4, 0, 3.5, 4, &certain), FINE);
	near("no uncertainty, outside", certain, 0, 0);
	code_is(metrology_conformance(0, 0.02, 3.5, 4, &certain), FINE);
	assert_true(certain >= 0 && certain < 1e-300);
}

static void student_factors_of_the_published_table(void **state)
{
	/* GUM table G.2. */
	static const struct {
		double confidence, degrees, k;
	} rows[] = {{0.95, 1, 12.71}, {0.95, 2, 4.30}, {0.95, 5, 2.57}, {0.95, 10, 2.23},
		{0.99, 10, 3.17}, {0.95, 50, 2.01}, {0.95, INFINITY, 1.960},
		{0.99, INFINITY, 2.576}, {0.95, 10.9, 2.23}};
	double k;

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		code_is(metrology_coverage(rows[i].confidence, rows[i].degrees, &k), FINE);
		near("k", k, rows[i].k, 0.005);
	}
}

static void metrology_refuses_bad_numbers(void **state)
{
	double a = 7, b = 7;
	enum metrology_verdict v = METROLOGY_CANNOT_TELL;

	(void)state;
	code_is(metrology_rectangular(-1, &a), BAD_RANGE);
	code_is(metrology_combine(NULL, 0, &a, &b), BAD_COUNT);
	code_is(metrology_combine(&(struct metrology_part){1, -1, 5}, 1, &a, &b), BAD_RANGE);
	code_is(metrology_combine(&(struct metrology_part){1, 1, 0.5}, 1, &a, &b), BAD_RANGE);
	code_is(metrology_combine(&(struct metrology_part){NAN, 1, 5}, 1, &a, &b), BAD_RANGE);
	const struct metrology_part large[] = {{1e154, 1e154, 5}, {1e154, 1e154, 5}};
	code_is(metrology_combine(large, 2, &a, &b), FINE);
	near("no square overflows", a / 1e308, sqrt(2), 1e-12);
	near("degrees of two alike", b, 10, 1e-12);
	const struct metrology_part larger[] = {{1e154, 1.5e154, 5}, {1e154, 1.5e154, 5}};
	a = b = 7;
	code_is(metrology_combine(larger, 2, &a, &b), BAD_RANGE);
	code_is(metrology_coverage(1, 5, &a), BAD_RANGE);
	code_is(metrology_coverage(0.95, 0, &a), BAD_RANGE);
	code_is(metrology_coverage(0.95, NAN, &a), BAD_RANGE);
	code_is(metrology_guard(-1, 0.95, &a), BAD_RANGE);
	code_is(metrology_judge(1, 2, 2, 0, &v), BAD_ORDER);
	code_is(metrology_judge(1, 1, 2, -1, &v), BAD_RANGE);
	code_is(metrology_judge(NAN, 1, 2, 0, &v), BAD_RANGE);
	code_is(metrology_band(1, 2, 0.6, &a, &b), BAD_NOTHING);
	code_is(metrology_band(2, 1, 0.1, &a, &b), BAD_ORDER);
	code_is(metrology_conformance(1, NAN, 0, 2, &a), BAD_RANGE);
	code_is(metrology_conformance(1, 1, 3, 2, &a), BAD_ORDER);
	near("untouched", a + b, 14, 0);
	code_is(metrology_combine(&(struct metrology_part){-2, 3, 1}, 1, &a, &b), FINE);
	near("one part", a, 6, 1e-12);
	near("its degrees", b, 1, 1e-12);
	struct metrology_part none = {1, 0, INFINITY};
	code_is(metrology_combine(&none, 1, &a, &b), FINE);
	near("nothing uncertain", a, 0, 0);
	assert_true(isinf(b));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(vernier_is_read_and_its_zero_error_taken_off_with_its_sign),
		cmocka_unit_test(lowest_reading_decides_and_not_the_mean),
		cmocka_unit_test(bench_rule_needs_the_limit_and_the_error),
		cmocka_unit_test(gum_end_gauge_example),
		cmocka_unit_test(caliper_budget),
		cmocka_unit_test(products_go_by_sensitivities),
		cmocka_unit_test(conformance_probability_and_its_guard),
		cmocka_unit_test(guard_and_probability_fit),
		cmocka_unit_test(student_factors_of_the_published_table),
		cmocka_unit_test(metrology_refuses_bad_numbers),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
