/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The typed readers: what each takes, and what it says of the rest. */
#include "reading.h"

#include <barwright/base/bad.h>

/* The value of `a`, which the text must have; ends what was read before. */
static struct tree *value(struct reading *r, const char *text)
{
	reading_end(r);
	read_text(r, text);
	code_is(r->code, FINE);
	struct tree *a = tree_find(r->tree, "a");
	assert_non_null(a);
	return a;
}

static void null_and_broken_are_refused_in_silence(void **state)
{
	(void)state;
	struct reading r = {0};
	struct tree *a = value(&r, "a: x\n");
	const char *text = "kept";
	int64_t n = 7;
	double v = 7;
	code_is(tree_text(NULL, &r.d, &text), BAD_MISSING);
	code_is(tree_whole(NULL, 0, 9, &r.d, &n), BAD_MISSING);
	code_is(tree_quantity(NULL, "mm", &r.d, &v), BAD_MISSING);
	code_is(tree_whole(a, 0, 9, &r.d, &n), BAD_TYPE);
	code_is(tree_whole(a, 0, 9, &r.d, &n), BAD_SYNTAX);
	code_is(tree_quantity(a, "mm", &r.d, &v), BAD_SYNTAX);
	code_is(tree_text(a, &r.d, &text), BAD_SYNTAX);
	assert_int_equal(r.d.nerror, 1);
	assert_string_equal(text, "kept");
	near("n", (double)n, 7, 0);
	near("v", v, 7, 0);
	reading_end(&r);
}

static void texts_are_read(void **state)
{
	static const struct {
		const char *text, *want;
	} cases[] = {
		{"a: x\n", "x"},
		{"a: ''\n", ""},
		{"a: 3.5\n", "3.5"},
		{"a: true\n", "true"},
		{"a: |\n  one\n  two\n", "one\ntwo\n"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r = {0};
		const char *got = NULL;
		code_is(tree_text(value(&r, cases[i].text), &r.d, &got), FINE);
		assert_string_equal(got, cases[i].want);
		reading_end(&r);
	}
}

static void truth_is_true_or_false(void **state)
{
	/* The YAML 1.2.2 core schema also takes True and TRUE; here there is one way to write it. */
	static const char *const others[] = {
		"yes", "no", "on", "off", "True", "FALSE", "1", "0", "t", "~", "'true'", "truer"};
	(void)state;
	struct reading r = {0};
	bool got = false;
	code_is(tree_truth(value(&r, "a: true\n"), &r.d, &got), FINE);
	assert_true(got);
	code_is(tree_truth(value(&r, "a: false\n"), &r.d, &got), FINE);
	assert_false(got);
	reading_end(&r);
	for (size_t i = 0; i < sizeof others / sizeof *others; i++) {
		char text[32];
		snprintf(text, sizeof text, "a: %s\n", others[i]);
		code_is(tree_truth(value(&r, text), &r.d, &got), BAD_TYPE);
		reading_end(&r);
	}
	tree_truth(value(&r, "a: yes\n"), &r.d, &got);
	told("yes", &r.d,
		"x.yaml:1:4: error: 'a' is 'yes' where true or false is needed [wrong-type]\n"
		"    1 | a: yes\n"
		"      |    ^~~\n"
		"hint: write true or false\n");
	reading_end(&r);
	tree_truth(value(&r, "a: 'true'\n"), &r.d, &got);
	told("in quotes", &r.d,
		"x.yaml:1:5: error: 'a' is 'true' where true or false is needed [wrong-type]\n"
		"    1 | a: 'true'\n"
		"      |     ^~~~\n"
		"hint: write true or false without quotes\n");
	reading_end(&r);
}

static void whole_numbers_are_read_within_their_range(void **state)
{
	static const struct {
		const char *text;
		int64_t low, high;
		enum bad code;
		int64_t want;
	} cases[] = {
		{"0", 0, 0, FINE, 0}, {"-0", 0, 0, FINE, 0}, {"9", 1, 9, FINE, 9},
		{"10", 1, 9, BAD_RANGE, 0}, {"-1", 0, 9, BAD_RANGE, 0},
		{"9223372036854775807", INT64_MIN, INT64_MAX, FINE, INT64_MAX},
		{"-9223372036854775808", INT64_MIN, INT64_MAX, FINE, INT64_MIN},
		{"9223372036854775808", INT64_MIN, INT64_MAX, BAD_RANGE, 0},
		{"-9223372036854775809", INT64_MIN, INT64_MAX, BAD_RANGE, 0},
		{"99999999999999999999999999", INT64_MIN, INT64_MAX, BAD_RANGE, 0},
		{"+1", 0, 9, BAD_TYPE, 0}, {"01", 0, 9, BAD_TYPE, 0}, {"-01", -9, 9, BAD_TYPE, 0},
		{"1.0", 0, 9, BAD_TYPE, 0}, {"1e3", 0, 9999, BAD_TYPE, 0},
		{"0x1F", 0, 99, BAD_TYPE, 0}, {"0o7", 0, 9, BAD_TYPE, 0},
		{"1_000", 0, 9999, BAD_TYPE, 0}, {"1:30", 0, 9999, BAD_TYPE, 0},
		{"'1'", 0, 9, BAD_TYPE, 0}, {"-", 0, 9, BAD_TYPE, 0}, {"one", 0, 9, BAD_TYPE, 0},
		{"\xD9\xA1", 0, 9, BAD_TYPE, 0}, /* Arabic-Indic digit one */
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r = {0};
		char text[64];
		int64_t got = 42;
		snprintf(text, sizeof text, "a: [%s]\n", cases[i].text);
		struct tree *t = tree_at(value(&r, text), 0);
		enum bad code = tree_whole(t, cases[i].low, cases[i].high, &r.d, &got);
		if (code != cases[i].code)
			print_error("%s\n", cases[i].text);
		code_is(code, cases[i].code);
		assert_true(got == (code ? 42 : cases[i].want));
		reading_end(&r);
	}
}

static void whole_numbers_say_what_is_wrong(void **state)
{
	static const struct {
		const char *why, *text;
		int64_t low, high;
		const char *told;
	} cases[] = {
		{"range", "a: 12\n", 1, 9,
			"x.yaml:1:4: error: 'a' is '12'; it must be from 1 to 9 [out-of-range]\n"
			"    1 | a: 12\n"
			"      |    ^~\n"},
		{"at least", "a: -2\n", 0, INT64_MAX,
			"x.yaml:1:4: error: 'a' is '-2'; it must be 0 or more [out-of-range]\n"
			"    1 | a: -2\n"
			"      |    ^~\n"},
		{"at most", "a: 2\n", INT64_MIN, 0,
			"x.yaml:1:4: error: 'a' is '2'; it must be 0 or less [out-of-range]\n"
			"    1 | a: 2\n"
			"      |    ^\n"},
		{"quotes", "a: '2'\n", 0, 9,
			"x.yaml:1:5: error: 'a' is '2' where a whole number is needed "
			"[wrong-type]\n"
			"    1 | a: '2'\n"
			"      |     ^\n"
			"hint: take the quotes away: what stands in quotes is a text\n"},
		{"leading zero", "a: 012\n", 0, 99,
			"x.yaml:1:4: error: 'a' is '012' where a whole number is needed "
			"[wrong-type]\n"
			"    1 | a: 012\n"
			"      |    ^~~\n"
			"hint: write it without the 0 in front\n"},
		{"a word", "a: two\n", 0, 9,
			"x.yaml:1:4: error: 'a' is 'two' where a whole number is needed "
			"[wrong-type]\n"
			"    1 | a: two\n"
			"      |    ^~~\n"
			"hint: write it in digits, for example 3\n"},
		{"nothing", "a:\n", 0, 9,
			"x.yaml:1:1: error: 'a' has no value [missing]\n"
			"    1 | a:\n"
			"      | ^\n"
			"hint: write the value, or take the line away\n"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r = {0};
		int64_t got;
		tree_whole(value(&r, cases[i].text), cases[i].low, cases[i].high, &r.d, &got);
		told(cases[i].why, &r.d, cases[i].told);
		reading_end(&r);
	}
}

static void long_numbers_are_refused(void **state)
{
	(void)state;
	struct reading r = {0};
	double got = 42;
	code_is(tree_quantity(value(&r, "a: 1234567890123456\n"), "", &r.d, &got), BAD_SIZE);
	near("untouched", got, 42, 0);
	told("digits", &r.d,
		"x.yaml:1:4: error: 'a' has too many digits [too-large]\n"
		"    1 | a: 1234567890123456\n"
		"      |    ^~~~~~~~~~~~~~~~\n"
		"hint: at most 15 digits are read, 9 of them behind the point\n");
	reading_end(&r);
}

/* Inch, psi and degree: exact by definition (BIPM 2019; NIST SP 811, 2008, appendix B). */
static void quantities_are_read_in_si_mm(void **state)
{
	static const struct {
		const char *text, *unit;
		double want, tolerance;
	} cases[] = {
		{"3.5 mm", "mm", 3.5, 0},
		{"3.5mm", "mm", 3.5, 0},
		{"3.5", "mm", 3.5, 0},
		{"'3.5 mm'", "mm", 3.5, 0},
		{"3.5\xC2\xA0mm", "mm", 3.5, 0},
		{"3.5\xE2\x80\xAFmm", "mm", 3.5, 0},
		{"-2 mm", "mm", -2, 0},
		{"0.5 in", "mm", 12.7, 0},
		{"2 cm", "mm", 20, 0},
		{"20 GPa", "MPa", 20000, 0},
		{"20", "GPa", 20000, 0},
		{"1000 psi", "MPa", 6.894757293168361, 1e-12},
		{"5000 N/mm", "N/mm", 5000, 0},
		{"180 deg", "rad", 3.141592653589793, 1e-15},
		{"15", "deg", 0.2617993877991494, 1e-15},
		{"21 degC", "degC", 294.15, 1e-9},
		{"50 %", "", 0.5, 0},
		{"2.5", "", 2.5, 0},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r = {0};
		char text[64];
		double got = NAN;
		snprintf(text, sizeof text, "a: %s\n", cases[i].text);
		code_is(tree_quantity(value(&r, text), cases[i].unit, &r.d, &got), FINE);
		near(cases[i].text, got, cases[i].want, cases[i].tolerance);
		reading_end(&r);
	}
}

/* Digits as they stand, and the byte where the unit begins, behind a blank of any width. */
static void numbers_are_parted_from_their_units(void **state)
{
	static const struct {
		const char *text;
		int64_t digits;
		int places;
		size_t unit_at;
	} good[] = {
		{"3.50 mm", 350, 2, 5}, {"3.50mm", 350, 2, 4}, {"-2", -2, 0, 2},
		{"0.5 mm", 5, 1, 4}, {"\"3.5 mm\"", 35, 1, 4},
		{"3.5\xC2\xA0mm", 35, 1, 5},       /* no-break */
		{"3.5\xE2\x80\x89mm", 35, 1, 6},   /* thin */
		{"3.5 \xE2\x80\xAF mm", 35, 1, 8}, /* narrow no-break, among ordinary ones */
	};
	static const struct {
		const char *text;
		enum bad code;
		const char *words, *hint;
	} bad[] = {
		{"012 mm", BAD_TYPE, "'a' is '012 mm' where a bore is needed",
			"write it without the 0 in front"},
		{"3,5 mm", BAD_TYPE, "'a' is '3,5 mm' where a bore is needed",
			"write a decimal point, not a comma"},
		{"mm", BAD_TYPE, "'a' is 'mm' where a bore is needed", "write 2 mm"},
		{"1234567890123456", BAD_SIZE, "'a' has too many digits",
			"at most 15 digits are read, 9 of them behind the point"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof good / sizeof *good; i++) {
		struct reading r = {0};
		struct decimal got;
		char text[64];
		size_t at;
		snprintf(text, sizeof text, "a: %s\n", good[i].text);
		code_is(tree_number(value(&r, text), "a bore", "write 2 mm", &r.d, &got, &at),
			FINE);
		if (got.digits != good[i].digits || got.places != good[i].places ||
			at != good[i].unit_at)
			fail_msg("%s: %lld, %d places, unit at %zu", good[i].text,
				(long long)got.digits, got.places, at);
		reading_end(&r);
	}
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		struct reading r = {0};
		struct decimal got = {7, 7};
		char text[64];
		size_t at = 7;
		snprintf(text, sizeof text, "a: %s\n", bad[i].text);
		code_is(tree_number(value(&r, text), "a bore", "write 2 mm", &r.d, &got, &at),
			bad[i].code);
		assert_string_equal(r.d.first->words, bad[i].words);
		assert_string_equal(r.d.first->hint, bad[i].hint);
		assert_true(got.digits == 7 && got.places == 7 && at == 7);
		reading_end(&r);
	}
}

static void quantities_say_what_is_wrong(void **state)
{
	static const struct {
		const char *why, *text, *unit;
		enum bad code;
		const char *told;
	} cases[] = {
		{"another dimension", "a: 3.2 rad\n", "mm", BAD_UNIT,
			"x.yaml:1:4: error: 'a' is '3.2 rad', an angle, where a length is needed "
			"[unit-clash]\n"
			"    1 | a: 3.2 rad\n"
			"      |    ^~~~~~~\n"
			"hint: write for example 3.5 mm\n"},
		{"a unit where none belongs", "a: 3 mm\n", "", BAD_UNIT,
			"x.yaml:1:4: error: 'a' is '3 mm', a length, where a plain number is "
			"needed [unit-clash]\n"
			"    1 | a: 3 mm\n"
			"      |    ^~~~\n"
			"hint: write for example 3.5\n"},
		{"no such unit", "a: 3.2 furlong\n", "mm", BAD_UNKNOWN,
			"x.yaml:1:8: error: there is no unit 'furlong' [unknown-name]\n"
			"    1 | a: 3.2 furlong\n"
			"      |        ^~~~~~~\n"
			"hint: write for example 3.5 mm\n"},
		{"a misspelt unit", "a: 20 gpa\n", "MPa", BAD_UNKNOWN,
			"x.yaml:1:7: error: there is no unit 'gpa' [unknown-name]\n"
			"    1 | a: 20 gpa\n"
			"      |       ^~~\n"
			"hint: did you mean 'GPa'?\n"},
		{"half a unit", "a: 20 N/\n", "N/mm", BAD_SYNTAX,
			"x.yaml:1:7: error: this unit of 'a' cannot be read [syntax]\n"
			"    1 | a: 20 N/\n"
			"      |       ^\n"
			"hint: write for example 3.5 N/mm\n"},
		{"a comma", "a: 3,5 mm\n", "mm", BAD_TYPE,
			"x.yaml:1:4: error: 'a' is '3,5 mm' where a length is needed "
			"[wrong-type]\n"
			"    1 | a: 3,5 mm\n"
			"      |    ^~~~~~\n"
			"hint: write a decimal point, not a comma\n"},
		{"a word", "a: thin\n", "mm", BAD_TYPE,
			"x.yaml:1:4: error: 'a' is 'thin' where a length is needed [wrong-type]\n"
			"    1 | a: thin\n"
			"      |    ^~~~\n"
			"hint: write for example 3.5 mm\n"},
		{"a unit alone", "a: mm\n", "mm", BAD_TYPE,
			"x.yaml:1:4: error: 'a' is 'mm' where a length is needed [wrong-type]\n"
			"    1 | a: mm\n"
			"      |    ^~\n"
			"hint: write for example 3.5 mm\n"},
		{"two points", "a: 3.5.1 mm\n", "mm", BAD_TYPE,
			"x.yaml:1:4: error: 'a' is '3.5.1 mm' where a length is needed "
			"[wrong-type]\n"
			"    1 | a: 3.5.1 mm\n"
			"      |    ^~~~~~~~\n"
			"hint: write for example 3.5 mm\n"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r = {0};
		double got = 42;
		struct tree *t = value(&r, cases[i].text);
		enum bad code = tree_quantity(t, cases[i].unit, &r.d, &got);
		told(cases[i].why, &r.d, cases[i].told);
		code_is(code, cases[i].code);
		near(cases[i].why, got, 42, 0);
		reading_end(&r);
	}
}

static void quantities_keep_to_their_range(void **state)
{
	static const struct {
		const char *why, *text, *unit;
		double low, high;
		enum bad code;
		const char *words;
	} cases[] = {
		{"at the lower end", "a: 0 mm\n", "mm", 0, 20, FINE, NULL},
		{"at the upper end", "a: 20 mm\n", "mm", 0, 20, FINE, NULL},
		{"at the end in another unit", "a: 2.007 m\n", "mm", 0, 2007, FINE, NULL},
		{"an open end", "a: 1e9 mm\n", "mm", 0, INFINITY, BAD_UNKNOWN, NULL},
		{"an angle at its end", "a: 45 deg\n", "deg", 0, 45, FINE, NULL},
		{"above", "a: 20.1 mm\n", "mm", 0, 20, BAD_RANGE,
			"'a' is '20.1 mm'; it must be from 0 to 20 mm"},
		{"above in another unit", "a: 1 in\n", "mm", 0.5, 20, BAD_RANGE,
			"'a' is '1 in'; it must be from 0.5 to 20 mm"},
		{"below, open above", "a: -1\n", "mm", 0, INFINITY, BAD_RANGE,
			"'a' is '-1'; it must be 0 mm or more"},
		{"above, open below", "a: 2\n", "", -INFINITY, 1, BAD_RANGE,
			"'a' is '2'; it must be 1 or less"},
		{"a temperature", "a: 300 K\n", "degC", 15, 25, BAD_RANGE,
			"'a' is '300 K'; it must be from 15 to 25 degC"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r = {0};
		double got;
		struct tree *t = value(&r, cases[i].text);
		code_is(tree_quantity_in(t, cases[i].unit, cases[i].low, cases[i].high, &r.d, &got),
			cases[i].code);
		if (cases[i].words)
			assert_string_equal(r.d.first->words, cases[i].words);
		reading_end(&r);
	}
}

static const char *const jaws[] = {"lower", "upper"};

static void words_are_found(void **state)
{
	(void)state;
	struct reading r = {0};
	size_t got = 42;
	code_is(tree_word(value(&r, "a: upper\n"), jaws, 2, &r.d, &got), FINE);
	near("index", (double)got, 1, 0);
	code_is(tree_word(value(&r, "a: 'lower'\n"), jaws, 2, &r.d, &got), FINE);
	near("index", (double)got, 0, 0);
	reading_end(&r);
	code_is(tree_word(value(&r, "a: uper\n"), jaws, 2, &r.d, &got), BAD_UNKNOWN);
	told("misspelt", &r.d,
		"x.yaml:1:4: error: 'a' is 'uper'; it can be: lower, upper [unknown-name]\n"
		"    1 | a: uper\n"
		"      |    ^~~~\n"
		"hint: did you mean 'upper'?\n");
	reading_end(&r);
	code_is(tree_word(value(&r, "a: left\n"), jaws, 2, &r.d, &got), BAD_UNKNOWN);
	told("another", &r.d,
		"x.yaml:1:4: error: 'a' is 'left'; it can be: lower, upper [unknown-name]\n"
		"    1 | a: left\n"
		"      |    ^~~~\n"
		"hint: write one of these words\n");
	near("index", (double)got, 0, 0);
	reading_end(&r);
}

static void lists_of_each_are_read(void **state)
{
	(void)state;
	struct reading r = {0};
	int64_t *wholes;
	double *lengths;
	size_t n = 42;
	code_is(tree_wholes(value(&r, "a: [1, 2, 3]\n"), 0, 9, &r.arena, &r.d, &wholes, &n), FINE);
	near("wholes", (double)n, 3, 0);
	near("last", (double)wholes[2], 3, 0);
	code_is(tree_quantities(value(&r, "a: [1 mm, 2 cm]\n"), "mm", &r.arena, &r.d, &lengths, &n),
		FINE);
	near("lengths", lengths[1], 20, 0);
	code_is(tree_quantities(value(&r, "a: []\n"), "mm", &r.arena, &r.d, &lengths, &n), FINE);
	near("none", (double)n, 0, 0);
	reading_end(&r);
}

static void every_faulty_item_of_a_list_is_told(void **state)
{
	(void)state;
	struct reading r = {0};
	double *lengths = NULL;
	size_t n = 42;
	struct tree *a = value(&r, "a: [1 mm, 2 rad, 3, x]\n");
	code_is(tree_quantities(a, "mm", &r.arena, &r.d, &lengths, &n), BAD_UNIT);
	assert_null(lengths);
	near("untouched", (double)n, 42, 0);
	told("list", &r.d,
		"x.yaml:1:11: error: entry 2 of 'a' is '2 rad', an angle, where a length is needed "
		"[unit-clash]\n"
		"    1 | a: [1 mm, 2 rad, 3, x]\n"
		"      |           ^~~~~\n"
		"hint: write for example 3.5 mm\n"
		"x.yaml:1:21: error: entry 4 of 'a' is 'x' where a length is needed [wrong-type]\n"
		"    1 | a: [1 mm, 2 rad, 3, x]\n"
		"      |                     ^\n"
		"hint: write for example 3.5 mm\n");
	reading_end(&r);
	code_is(tree_quantities(value(&r, "a: 1 mm\n"), "mm", &r.arena, &r.d, &lengths, &n),
		BAD_TYPE);
	reading_end(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(null_and_broken_are_refused_in_silence),
		cmocka_unit_test(texts_are_read),
		cmocka_unit_test(truth_is_true_or_false),
		cmocka_unit_test(whole_numbers_are_read_within_their_range),
		cmocka_unit_test(whole_numbers_say_what_is_wrong),
		cmocka_unit_test(long_numbers_are_refused),
		cmocka_unit_test(quantities_are_read_in_si_mm),
		cmocka_unit_test(numbers_are_parted_from_their_units),
		cmocka_unit_test(quantities_say_what_is_wrong),
		cmocka_unit_test(quantities_keep_to_their_range),
		cmocka_unit_test(words_are_found),
		cmocka_unit_test(lists_of_each_are_read),
		cmocka_unit_test(every_faulty_item_of_a_list_is_told),
	};
	return cmocka_run_group_tests_name("tree/readers", tests, NULL, NULL);
}
