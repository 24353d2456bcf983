/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <math.h>
#include <string.h>

#include "rating/measured.h"

static struct measure measure_of(const char *unit, double error)
{
	struct measure m = {.is_there = true, .unit_text = unit, .error = error};
	size_t at, len;
	code_is(unit_read(unit, strlen(unit), &m.unit, &at, &len), FINE);
	for (int k = 0; k < RUBRIC_LEVELS; k++) {
		m.lower[k] = -INFINITY;
		m.upper[k] = INFINITY;
	}
	return m;
}

/* Limit 3.50 with a caliper that is right within 0.03: accepted from 3.53, the bench rule
 * "limit + instrument error"; ISO 14253-1 for what lies between. */
static void a_guard_band_decides_what_a_reading_proves(void **state)
{
	static const struct {
		const char *typed;
		int proved;
		enum metrology_verdict level_2;
	} rows[] = {
		{"3.53", 2, METROLOGY_ACCEPT},
		{"3,53", 2, METROLOGY_ACCEPT},
		{"3.52", 1, METROLOGY_CANNOT_TELL},
		{"3.46", 1, METROLOGY_REJECT},
		{"3.63 mm", 3, METROLOGY_ACCEPT},
		{"3.70 3.53 3.66", 2, METROLOGY_ACCEPT},
		{"3.70; 3.52 3.46", 1, METROLOGY_REJECT},
		{"3.46 3.52", 1, METROLOGY_REJECT},
		{"0.143 in 3.70", 3, METROLOGY_ACCEPT},
		{"2.9", 0, METROLOGY_REJECT},
	};
	struct measure m = measure_of("mm", 0.03);
	m.lower[1] = 3.0;
	m.lower[2] = 3.5;
	m.lower[3] = 3.6;
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct measured_set s;
		const char *why = "";
		code_is(measured_read(&m, rows[i].typed, &s, &why), FINE);
		if (s.proved != rows[i].proved || s.verdict[2] != rows[i].level_2)
			print_error("%s: proved %d, level 2 %d\n", rows[i].typed, s.proved,
				(int)s.verdict[2]);
		assert_int_equal(s.proved, rows[i].proved);
		assert_int_equal(s.verdict[2], rows[i].level_2);
	}
}

static void what_is_no_reading_is_said(void **state)
{
	static const struct {
		const char *typed;
		enum bad code;
	} rows[] = {
		{"", BAD_COUNT},
		{" ; ", BAD_COUNT},
		{"about 3", BAD_SYNTAX},
		{"3.5 parsec", BAD_UNIT},
		{"3.5 bar", BAD_UNIT},
		{"0.1 -0.3", BAD_RANGE}, /* a difference without its sign */
		{"1 2 3 4 5 6 7 8 9 1 2 3 4 5 6 7 8 9 1 2 3 4 5 6 7 8 9 1 2 3 4 5 6", BAD_COUNT},
	};
	struct measure m = measure_of("mm", 0.03);
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct measured_set s = {.n = 77};
		const char *why = NULL;
		print_message("'%s'\n", rows[i].typed);
		code_is(measured_read(&m, rows[i].typed, &s, &why), rows[i].code);
		assert_non_null(why);
		assert_int_equal(s.n, 77);
	}
}

static void the_words_name_the_limit_and_what_cannot_be_told(void **state)
{
	struct measure m = measure_of("mm", 0.03);
	struct measured_set s;
	struct arena a = {0};
	const char *why;
	m.upper[1] = 0.5;
	m.upper[2] = 0.3;
	m.upper[3] = 0.2;
	(void)state;
	code_is(measured_read(&m, "0.24 0.28", &s, &why), FINE);
	assert_string_equal(measured_words(&m, &s, &a),
		"below (at most 0.50 mm) is proved; whether competent (at most 0.30 mm) is kept "
		"cannot be told: the reading lies within the error of the instrument, 0.03 mm, of "
		"the limit");
	code_is(measured_read(&m, "0.1", &s, &why), FINE);
	assert_string_equal(measured_words(&m, &s, &a), "excellent (at most 0.20 mm) is proved");
	code_is(measured_read(&m, "0.6", &s, &why), FINE);
	assert_string_equal(measured_words(&m, &s, &a),
		"no level is proved; below (at most 0.50 mm) is not kept");
	arena_release(&a);
}

static void units_stand_with_their_signs(void **state)
{
	struct measure m = measure_of("deg", 0.005);
	struct measured_set s;
	struct arena a = {0};
	const char *why;
	(void)state;
	for (int k = 1; k < RUBRIC_LEVELS; k++)
		m.upper[k] = 2 * m.unit.factor;
	code_is(measured_read(&m, "1", &s, &why), FINE);
	assert_string_equal(
		measured_words(&m, &s, &a), "excellent (at most 2.00\xC2\xB0) is proved");
	arena_release(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_guard_band_decides_what_a_reading_proves),
		cmocka_unit_test(what_is_no_reading_is_said),
		cmocka_unit_test(the_words_name_the_limit_and_what_cannot_be_told),
		cmocka_unit_test(units_stand_with_their_signs),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
