/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <string.h>

#include <barwright/base/number.h>
#include <barwright/base/unit.h>

/* ---- decimals -------------------------------------------------------------------------------- */

static void decimals_are_exact_or_refused(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum bad code;
		int64_t digits;
		int places;
	} cases[] = {
		{"0", FINE, 0, 0},
		{"3.50", FINE, 350, 2},
		{"-17.05", FINE, -1705, 2},
		{"+2", FINE, 2, 0},
		{"0.000000001", FINE, 1, 9},
		{"999999999999999", FINE, 999999999999999, 0},
		{"1000000000000000", BAD_SIZE, 0, 0},
		{"0.0000000001", BAD_SIZE, 0, 0},
		{"", BAD_SYNTAX, 0, 0},
		{"-", BAD_SYNTAX, 0, 0},
		{"1.", BAD_SYNTAX, 0, 0},
		{".5", BAD_SYNTAX, 0, 0},
		{"1,5", BAD_SYNTAX, 0, 0},
		{"1e3", BAD_SYNTAX, 0, 0},
		{"0x10", BAD_SYNTAX, 0, 0},
		{"1 ", BAD_SYNTAX, 0, 0},
		{"nan", BAD_SYNTAX, 0, 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct decimal d = {77, 7};
		enum bad code = decimal_read(cases[i].text, strlen(cases[i].text), &d);
		if (code != cases[i].code)
			fail_msg("'%s': want %s, got %s", cases[i].text, bad_word(cases[i].code), bad_word(code));
		assert_int_equal(d.digits, code ? 77 : cases[i].digits);
		assert_int_equal(d.places, code ? 7 : cases[i].places);
	}
}

static void more_places_keep_the_value_or_are_refused(void **state)
{
	(void)state;
	static const struct {
		struct decimal from;
		int places;
		enum bad code;
		int64_t digits;
	} cases[] = {
		{{35, 1}, 2, FINE, 350},
		{{-35, 1}, 9, FINE, -3500000000},
		{{35, 1}, 1, FINE, 35},
		{{35, 1}, 0, BAD_SIZE, 0},
		{{35, 1}, 10, BAD_SIZE, 0},
		{{9999999999999, 0}, 2, FINE, 999999999999900},
		{{-9999999999999, 0}, 2, FINE, -999999999999900},
		{{10000000000000, 0}, 2, BAD_SIZE, 0}, /* would have 16 digits */
		{{-10000000000000, 0}, 2, BAD_SIZE, 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct decimal d = cases[i].from;
		code_is(decimal_scale(&d, cases[i].places), cases[i].code);
		assert_int_equal(d.digits, cases[i].code ? cases[i].from.digits : cases[i].digits);
		assert_int_equal(d.places, cases[i].code ? cases[i].from.places : cases[i].places);
	}
}

static void numbers_round_as_a_person_rounds(void **state)
{
	(void)state;
	static const struct {
		double value;
		int places;
		char sign;
		const char *text;
	} cases[] = {
		{13.44066, 2, '.', "13.44"},
		{13.44066, 2, ',', "13,44"},
		{1.5e20, 2, '.', "1.500000e+20"},
		{-1.5e20, 2, ',', "-1,500000e+20"},
		{1.005, 2, '.', "1.01"}, /* the nearest double lies below 1.005 */
		{2.675, 2, '.', "2.68"},
		{-2.675, 2, '.', "-2.68"},
		{0.125, 2, '.', "0.13"}, /* halves away from zero */
		{-0.004, 2, '.', "0.00"},
		{0.5, 0, '.', "1"},
		{-0.25, 1, ',', "-0,3"},
		{99.999, 2, '.', "100.00"},
		{(double)INFINITY, 2, '.', "none"},
		{(double)NAN, 2, '.', "none"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct text t;
		text_init(&t);
		number_add_to(cases[i].value, cases[i].places, cases[i].sign, &t);
		assert_string_equal(t.at, cases[i].text);
		text_release(&t);
	}
}

static void every_written_decimal_comes_back(void **state)
{
	(void)state;
	for (int64_t k = -20000; k <= 20000; k++) {
		struct decimal d = {k, 2}, back;
		struct text t, again;
		text_init(&t);
		text_init(&again);
		decimal_add_to(d, '.', &t);
		assert_int_equal(decimal_read(t.at, t.len, &back), FINE);
		assert_int_equal(back.digits, k);
		number_add_to(decimal_value(d), 2, '.', &again);
		if (k) /* there is no -0.00 */
			assert_string_equal(again.at, t.at);
		text_release(&t);
		text_release(&again);
	}
}

/* ---- what somebody types --------------------------------------------------------------------- */

static void typed_numbers_are_read_as_they_are_meant(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		double value;
		const char *unit;
	} cases[] = {
		{"3.5", 3.5, ""},
		{"3,5", 3.5, ""},
		{"  3.5 mm  ", 3.5, "mm"},
		{"0,138in", 0.138, "in"},
		{"+.5", 0.5, ""},
		{"-2", -2, ""},
		{"\xE2\x88\x92" "2,50 mm", -2.5, "mm"},  /* true minus */
		{"12\xC2\xA0mm", 12, "mm"},              /* no-break space */
		{"12\xE2\x80\xAFmm", 12, "mm"},          /* narrow no-break space */
		{"5.", 5, ""},
		{"25 %", 25, "%"},
		{"30\xC2\xB0", 30, "\xC2\xB0"},
		{"7 N/mm", 7, "N/mm"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct typed t;
		const char *why = NULL;
		if (typed_read(cases[i].text, strlen(cases[i].text), &t, &why))
			fail_msg("'%s': refused: %s", cases[i].text, why);
		near(cases[i].text, decimal_value(t.value), cases[i].value, 0);
		assert_int_equal(t.unit_len, strlen(cases[i].unit));
		assert_memory_equal(t.unit, cases[i].unit, t.unit_len);
	}
}

static void what_leaves_open_what_is_meant_is_asked_again(void **state)
{
	(void)state;
	static const char *const cases[] = {"", "   ", "mm", "1,234.5", "1.2.3", "1,2,3", "3 4", "--3", "abc",
		"1234567890123456789", "0.00000000001", "+", ".", "- 3",
		"\xE2\x88\x92-3", "\xE2\x88\x92+3", "\xE2\x88\x92\xE2\x88\x92" "3"};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct typed t;
		const char *why = NULL;
		enum bad code = typed_read(cases[i], strlen(cases[i]), &t, &why);
		if (code != BAD_SYNTAX || !why || strlen(why) < 10)
			fail_msg("'%s': want a refusal in words, got %s", cases[i], bad_word(code));
	}
}

/* ---- units ----------------------------------------------------------------------------------- */

static struct unit unit_of(const char *text)
{
	struct unit u = {0};
	size_t at, len;
	if (unit_read(text, strlen(text), &u, &at, &len))
		fail_msg("unit '%s' is refused", text);
	return u;
}

static double converted(double value, const char *from, const char *to)
{
	struct unit a = unit_of(from), b = unit_of(to);
	assert_true(dim_is_equal(a.dim, b.dim));
	return (value * a.factor + a.offset - b.offset) / b.factor;
}

static void units_convert_as_published(void **state)
{
	(void)state;
	static const struct {
		double value;
		const char *from, *to;
		double want, tolerance;
		const char *source;
	} cases[] = {
		{1, "in", "mm", 25.4, 0, "NIST SP 811 (2008) B.8: inch, exact"},
		{1, "psi", "Pa", 6894.757, 5e-4, "NIST SP 811 B.8: psi 6.894757 E+03 Pa"},
		{1, "lbf", "N", 4.448222, 5e-7, "NIST SP 811 B.8: 4.448222 E+00"},
		{1, "kgf", "N", 9.80665, 0, "NIST SP 811 B.8: exact"},
		{1, "bar", "Pa", 1e5, 1e-9, "SI Brochure 9th ed., table 8 (bar, earlier editions): exact"},
		{1, "mmHg", "Pa", 133.3224, 5e-5, "NIST SP 811 B.8: 1.333224 E+02"},
		{1, "kcal", "J", 4184, 1e-9, "NIST SP 811 B.8: thermochemical calorie, exact"},
		{1, "lb", "kg", 0.45359237, 1e-16, "NIST SP 811 B.8: exact"},
		{1, "rpm", "rad/s", 0.1047198, 5e-8, "NIST SP 811 B.8: 1.047198 E-01"},
		{1, "deg", "rad", 0.01745329, 5e-9, "NIST SP 811 B.8: 1.745329 E-02"},
		{60, "psi", "MPa", 0.4137, 5e-5, "computed from the definition"},
		{2, "bar", "psi", 29.008, 5e-4, "computed from the definition"},
		{20, "MPa", "psi", 2900.8, 0.05, "computed from the definition"},
		{3.5, "mm", "in", 0.1378, 5e-5, "computed from the definition"},
		{0.1380, "in", "mm", 3.5052, 1e-12, "computed from the definition"},
		{15, "N cm", "N m", 0.15, 1e-16, "definition"},
		{15, "N*cm", "N mm", 150, 1e-12, "definition"},
		{74, "degC", "degF", 165.2, 1e-9, "NIST SP 811 B.8: t/degF = 1.8 t/degC + 32"},
		{100.8, "degC", "degF", 213.44, 1e-9, "as above"},
		{0, "degC", "K", 273.15, 0, "SI Brochure 9th ed., 2.3.1: exact"},
		{5000, "N/mm", "N/m", 5e6, 1e-6, "definition"},
		{1, "g/cm^3", "kg/m3", 1000, 1e-9, "definition"},
		{1, "mL", "cm3", 1, 1e-15, "SI Brochure 9th ed., table 8: litre"},
		{1, "N/mm\xC2\xB2", "MPa", 1, 0, "definition"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char why[160];
		snprintf(why, sizeof why, "%g %s in %s (%s)", cases[i].value, cases[i].from, cases[i].to,
			cases[i].source);
		near(why, converted(cases[i].value, cases[i].from, cases[i].to), cases[i].want,
			cases[i].tolerance + 1e-12 * fabs(cases[i].want));
	}
}

static void a_wrong_unit_is_shown_where_it_is_wrong(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum bad code;
		size_t at, len;
	} cases[] = {
		{"furlong", BAD_UNKNOWN, 0, 7},
		{"N/mmm", BAD_UNKNOWN, 2, 3},
		{"mm/", BAD_SYNTAX, 0, 0},
		{"/mm", BAD_SYNTAX, 0, 1},
		{"mm^", BAD_SYNTAX, 0, 2},
		{"3 mm", BAD_SYNTAX, 0, 1},
		{"degC/mm", BAD_SYNTAX, 0, 4},
		{"mm degF", BAD_SYNTAX, 3, 4},
		{"mm2mm", BAD_SYNTAX, 0, 0},
		{"mm\xC2\xB2N", BAD_SYNTAX, 0, 0},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct unit u;
		size_t at = 99, len = 99;
		enum bad code = unit_read(cases[i].text, strlen(cases[i].text), &u, &at, &len);
		if (code != cases[i].code || (cases[i].len && (at != cases[i].at || len != cases[i].len)))
			fail_msg("'%s': want %s at %zu+%zu, got %s at %zu+%zu", cases[i].text,
				bad_word(cases[i].code), cases[i].at, cases[i].len, bad_word(code), at, len);
	}
	assert_string_equal(unit_nearest("mpa", 3), "MPa");
	assert_null(unit_nearest("furlong", 7));
}

static void dimensions_have_names_people_know(void **state)
{
	(void)state;
	static const struct {
		const char *unit, *name;
	} cases[] = {{"mm", "a length"}, {"N", "a force"}, {"bar", "a stress or pressure"}, {"", "a plain number"},
		{"%", "a plain number"}, {"deg", "an angle"}, {"N mm", "a moment or energy"},
		{"mm/K", "a quantity in mm K-1"}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct text t;
		text_init(&t);
		dim_add_name(unit_of(cases[i].unit).dim, &t);
		assert_string_equal(t.at, cases[i].name);
		text_release(&t);
	}
}

static void every_unit_of_the_table_reads_as_itself(void **state)
{
	(void)state;
	struct unit want;
	const char *name;
	for (size_t i = 0; (name = unit_name(i, &want)); i++) {
		struct unit got = unit_of(name);
		near(name, got.factor, want.factor, 0);
		near(name, got.offset, want.offset, 0);
		assert_true(dim_is_equal(got.dim, want.dim));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(decimals_are_exact_or_refused),
		cmocka_unit_test(more_places_keep_the_value_or_are_refused),
		cmocka_unit_test(numbers_round_as_a_person_rounds),
		cmocka_unit_test(every_written_decimal_comes_back),
		cmocka_unit_test(typed_numbers_are_read_as_they_are_meant),
		cmocka_unit_test(what_leaves_open_what_is_meant_is_asked_again),
		cmocka_unit_test(units_convert_as_published),
		cmocka_unit_test(a_wrong_unit_is_shown_where_it_is_wrong),
		cmocka_unit_test(dimensions_have_names_people_know),
		cmocka_unit_test(every_unit_of_the_table_reads_as_itself),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
