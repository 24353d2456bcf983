/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What numbers, units, names and operators come to. */
#include "compiled.h"

struct value_case {
	const char *text;
	double want, tolerance;
};

static void all_are(const struct value_case *cases, size_t n)
{
	for (size_t i = 0; i < n; i++)
		near(cases[i].text, compiled_number(cases[i].text), cases[i].want,
			cases[i].tolerance);
}
#define ALL_ARE(cases) all_are((cases), sizeof(cases) / sizeof *(cases))

/* Factors: SI Brochure, 9th ed. 2019; NIST SP 811 (2008). Inside: mm, N, MPa, rad, s, tonne, K. */
static void numbers_take_their_units(void **state)
{
	static const struct value_case cases[] = {
		{"0", 0, 0},
		{"12", 12, 0},
		{"3.5", 3.5, 0},
		{".5", 0.5, 0},
		{"81e-6", 81e-6, 0},
		{"2E3", 2000, 0},
		{"3.5 mm", 3.5, 0},
		{"3.5mm", 3.5, 0},
		{"2 cm", 20, 0},
		{"1 in", 25.4, 0},
		{"60 \xC2\xB5m", 0.06, 1e-17},
		{"2 bar", 0.2, 1e-16},
		{"20 GPa", 20000, 0},
		{"30 deg", 0.52359877559829887, 1e-16},
		{"30\xC2\xB0", 0.52359877559829887, 1e-16},
		{"25 %", 0.25, 0},
		{"100 ppm", 1e-4, 1e-19},
		{"150 N mm", 150, 0},
		{"25 N cm", 250, 0},
		{"25 N*cm", 250, 0},
		{"5 N/mm", 5, 0},
		{"20 mm2", 20, 0},
		{"3 mm^2", 3, 0},
		{"3 mm\xC2\xB2", 3, 0},
		{"2 cm3", 2000, 0},
		{"1.19 g/cm3", 1.19e-9, 1e-24},
		{"1 K/min", 1.0 / 60, 1e-17},
		{"5 K^-1", 5, 0},
		{"90 min", 5400, 0},
		{"1 degC", 274.15, 1e-12},
		{"-5 degC", 268.15, 1e-12},
		{"32 degF", 273.15, 1e-12},
		{"-40 degF", 233.15, 1e-12},
		{"pi", 3.14159265358979323846, 0},
		{"true", 1, 0},
		{"false", 0, 0},
	};
	(void)state;
	ALL_ARE(cases);
}

/* Each row would come out differently with another precedence or association. */
static void operators_bind_as_on_paper(void **state)
{
	static const struct value_case cases[] = {
		{"2 + 3 * 4", 14, 0},
		{"(2 + 3) * 4", 20, 0},
		{"2 * 3 + 4", 10, 0},
		{"20 - 5 - 3", 12, 0},
		{"20 - (5 - 3)", 18, 0},
		{"24 / 4 / 2", 3, 0},
		{"24 / (4 / 2)", 12, 0},
		{"24 / 4 * 2", 12, 0},
		{"2 * 3^2", 18, 0},
		{"(2 * 3)^2", 36, 0},
		{"-3^2", -9, 0},
		{"(-3)^2", 9, 0},
		{"2^-1", 0.5, 0},
		{"2^-2^2", 0.0625, 0},
		{"(2^3)^2", 64, 0},
		{"-2 * -3", 6, 0},
		{"2 - -3", 5, 0},
		{"--3", 3, 0},
		{"- 3 + 5", 2, 0},
		{"1 + 2 < 4", 1, 0},
		{"1 + 2 = 3 and 2 * 2 = 4", 1, 0},
		{"true or true and false", 1, 0},
		{"(true or true) and false", 0, 0},
		{"not true or true", 1, 0},
		{"not (true or true)", 0, 0},
		{"not 1 = 2", 1, 0},
		{"not not true", 1, 0},
		{"not false and false", 0, 0},
		{"10 N / 2 mm", 5, 0}, /* the unit belongs to its number */
		{"20 N / 10 N/mm", 2, 0},
		{"6 mm / 2 mm * 3", 9, 0},
		{"1 / 2 mm", 0.5, 0},
		{"if 1 > 2 then 3 else 4 + 5", 9, 0},
		{"(if 1 > 2 then 3 else 4) + 5", 9, 0},
		{"if false then 1 else if false then 2 else 3", 3, 0},
		{"if if true then false else true then 1 else 2", 2, 0},
		{"if true then if false then 1 else 2 else 3", 2, 0},
		{"1 + (if true then 2 else 3) * 4", 9, 0},
	};
	(void)state;
	ALL_ARE(cases);
}

static void typeset_signs_mean_the_plain_ones(void **state)
{
	static const struct value_case cases[] = {
		{"2 \xC3\x97 3", 6, 0},
		{"2 \xC2\xB7 3", 6, 0},
		{"6 \xC3\xB7 3", 2, 0},
		{"6 \xE2\x88\x92 4", 2, 0},
		{"2 \xE2\x89\xA4 3", 1, 0},
		{"2 \xE2\x89\xA5 3", 0, 0},
		{"2 \xE2\x89\xA0 3", 1, 0},
		{"6\xC2\xA0mm +\xE2\x80\xAF"
		 "1 mm",
			7, 0},
		{"1 +\n\t2 *\r\n3", 7, 0},
	};
	(void)state;
	ALL_ARE(cases);
}

static void names_of_its_own_stand_for_what_they_were_given(void **state)
{
	static const struct value_case cases[] = {
		{"let r = spread / 2 then pi * r^2", 133.755270722, 1e-8},
		{"let a = 2 then let b = a * 3 then a + b", 8, 0},
		{"let a = (let b = 2 then b * b) then a + a", 8, 0},
		{"1 + (let a = n then a * a)", 10, 0},
		{"(let a = 1 then a) + (let a = n then a)", 4, 0},
		{"let over = heights - 14 mm then max(over) + min(over)", 1.9, 1e-14},
		{"let thick = h > gap then if thick and not open then 1 else 2", 1, 0},
		{"let none_fits = nothing then if is_nothing(none_fits) then 1 else 2", 1, 0},
		{"let bath = 74 degC then bath - 23 degC", 51, 0},
		{"if open then let a = n then 1 / (a - 3) else 5", 5, 0},
	};
	(void)state;
	ALL_ARE(cases);
}

static void names_and_operators_use_their_values(void **state)
{
	/* Every place an operand can come from: name, constant, what was computed before. */
	static const struct value_case cases[] = {
		{"spread", 13.05, 0},
		{"spread + gap", 14.55, 1e-14},
		{"spread - 3 mm", 10.05, 1e-14},
		{"3 mm - spread", -10.05, 1e-14},
		{"2 * spread - gap", 24.6, 1e-14},
		{"gap - 2 * spread", -24.6, 1e-14},
		{"2 * spread - 1 mm", 25.1, 1e-14},
		{"1 mm - 2 * spread", -25.1, 1e-14},
		{"(spread + gap) - (spread - gap)", 3, 1e-14},
		{"(spread + gap) / (spread - gap)", 14.55 / 11.55, 1e-14},
		{"gap / (spread + gap)", 1.5 / 14.55, 1e-15},
		{"(spread + gap) - (spread - 1 mm)", 2.5, 1e-14},
		{"(spread + gap) - (2 mm - gap)", 14.05, 1e-14},
		{"(spread + gap) / (gap * 2) - (h / gap) * (h / gap) * (h - gap) / h",
			0.4055555555555556, 1e-14},
		{"spread * gap + h * gap - (spread + 1 mm) * (h - 1 mm)", -16.575, 1e-13},
		{"covered = (h > gap)", 1, 0},
		{"-spread", -13.05, 0},
		{"n^2", 9, 0},
		{"n^3", 27, 0},
		{"n^n", 27, 0},
		{"2^n", 8, 0},
		{"(n + 1)^0.5", 2, 0},
		{"n^-1", 1.0 / 3, 0},
		{"8^(1/3)", 2, 1e-15},
		{"n^0", 1, 0},
		{"min(spread, gap)", 1.5, 0},
		{"min(spread, 20 mm, gap * 2, h)", 3, 0},
		{"max(gap + 1 mm, 2 * gap, 2 mm)", 3, 0},
		{"max(1 mm, h)", 4, 0},
		{"max(1 mm, 2 mm, h)", 4, 0}, /* two constants first, then none */
		{"min(5 mm, 2 mm, 7 mm, h)", 2, 0},
		{"spread > gap", 1, 0},
		{"gap > spread", 0, 0},
		{"2 mm < gap + gap", 1, 0},
		{"covered", 1, 0},
		{"not covered", 0, 0},
		{"covered and open", 0, 0},
		{"open or covered", 1, 0},
		{"covered = open", 0, 0},
		{"covered <> open", 1, 0},
		{"covered = (n = 3)", 1, 0},
		{"if covered then spread else gap", 13.05, 0},
		{"if open then spread else gap", 1.5, 0},
		{"if n >= 3 and not open then 1 else 2", 1, 0},
		{"1.5 * (if covered then spread else gap) + h", 23.575, 1e-14},
	};
	(void)state;
	ALL_ARE(cases);
}

/* 16 - 14.6 - 1.4 is 4.4e-16 in binary fractions; people who compare decimals mean 0. */
static void comparisons_forgive_the_rounding_of_decimals(void **state)
{
	static const struct value_case cases[] = {
		{"16 mm - 14.6 mm - 1.4 mm = 0", 1, 0},
		{"16 mm - 14.6 mm - 1.4 mm > 0", 0, 0},
		{"0.1 + 0.2 = 0.3", 1, 0},
		{"0.1 + 0.2 <= 0.3", 1, 0},
		{"0.3 >= 0.1 + 0.2", 1, 0},
		{"0.1 + 0.2 <> 0.3", 0, 0},
		{"0.1 + 0.2 > 0.3", 0, 0},
		{"spread - 9.55 mm >= 3.5 mm", 1, 0}, /* 3.5000000000000018 - */
		{"9.55 mm + 3.5 mm - spread = 0", 1, 0},
		{"3.5 mm > 3.499999 mm", 1, 0},
		{"1e9 + 1 > 1e9", 1, 0},
		{"32 ug/mm3 > 31.9 ug/mm3", 1, 0}, /* 32e-12 in tonnes per mm3 */
		{"1 mg/m3 < 1.001 mg/m3", 1, 0},
		{"1 mg/m3 > 0", 1, 0},
		{"1.19 g/cm3 = 1.19 g/mL", 1, 0},
	};
	(void)state;
	ALL_ARE(cases);
}

static void nothing_is_carried_and_asked_for(void **state)
{
	static const char *const carried[] = {"none + 1 mm", "2 * none", "none / none", "-none",
		"none * none", "none^2", "min(none, 1 mm)", "max(1 mm, none)", "min(none, 2 * gap)",
		"abs(none)", "sum([none, 1 mm])", "mean([1 mm, none])", "min([1 mm, none])",
		"round(none, 1 mm)", "at(heights, none / 1 mm)", "if open then 1 mm else none",
		"nothing", "nothing + gap", "or_else(none, none)", "first([none, gap])",
		"stock_choice([3.5 mm, 4 mm], 3 mm, 3.5 mm)", "largest_up_to(heights, 1 mm)",
		"smallest_from(heights, 20 mm)", "index_of(heights, 3 mm)",
		"spread_to_centres(none, 0, 1 mm, 2 mm, 3 mm, 4 mm)"};
	static const struct value_case asked[] = {
		{"is_nothing(none)", 1, 0},
		{"is_nothing(nothing)", 1, 0},
		{"is_nothing(gap)", 0, 0},
		{"or_else(none, gap)", 1.5, 0},
		{"or_else(gap, none)", 1.5, 0},
		{"or_else(nothing, 2 mm)", 2, 0},
		{"is_nothing(none) or none > 1 mm", 1, 0}, /* the second is not looked at */
		{"not is_nothing(none) and none > 1 mm", 0, 0},
		{"count([none, gap])", 2, 0},
		{"at([none, gap], 2)", 1.5, 0},
		{"last([none, gap])", 1.5, 0},
		{"if is_nothing(largest_up_to(heights, 1 mm)) then 1 else 2", 1, 0},
	};
	(void)state;
	for (size_t i = 0; i < sizeof carried / sizeof *carried; i++)
		if (!formula_is_nothing(compiled_number(carried[i])))
			fail_msg("%s: was to be nothing", carried[i]);
	ALL_ARE(asked);
}

struct list_case {
	const char *text;
	size_t n;
	double want[8];
};

static void lists_work_value_by_value(void **state)
{
	static const struct list_case cases[] = {
		{"[3.5 mm, 4 mm]", 2, {3.5, 4}},
		{"[gap, 2 * gap, 0]", 3, {1.5, 3, 0}},
		{"heights", 4, {16, 14.6, 13.9, 15.2}},
		{"heights - gap", 4, {14.5, 13.1, 12.4, 13.7}},
		{"20 mm - heights", 4, {4, 5.4, 6.1, 4.8}},
		{"2 * heights", 4, {32, 29.2, 27.8, 30.4}},
		{"heights / 2", 4, {8, 7.3, 6.95, 7.6}},
		{"8 / [2, 4]", 2, {4, 2}},
		{"-heights", 4, {-16, -14.6, -13.9, -15.2}},
		{"[1, 2, 3]^2", 3, {1, 4, 9}},
		{"[1, 2] + [10, 20]", 2, {11, 22}},
		{"[6, 8] / [2, 4]", 2, {3, 2}},
		{"([1, 2] + 1) * [10, 20] - [1, 1]", 2, {19, 59}},
		{"[10, 20] - ([1, 2] * 2 + [3, 4])", 2, {5, 12}},
		{"(n - 1) * [1, 2] + (n + 1)", 2, {6, 8}},
		{"if covered then heights else [0]", 4, {16, 14.6, 13.9, 15.2}},
		{"if open then heights else [1 mm, 2 mm]", 2, {1, 2}},
		{"[1, 2] + (if open then [3, 4] else [5, 6])", 2, {6, 8}},
		{"[min([1, 2]), max([3, 4] + 1)]", 2, {1, 5}},
		{"round(heights, 1 mm)", 4, {16, 15, 14, 15}},
		{"hypot([3 mm, 6 mm], [4 mm, 8 mm])", 2, {5, 10}},
		{"hypot(3 mm, [4 mm, 4 mm])", 2, {5, 5}},
		{"abs([-1, 2] * [1, -3])", 2, {1, 6}},
		{"cantilever_limit(1.5, [8 mm, 13.05 mm], 15 mm)", 2, {12, 15}},
		{"cantilever_limit([1, 1.5], 8 mm, [20 mm, 10 mm])", 2, {8, 10}},
		{"or_else([1 mm, none], 7 mm)", 2, {1, 7}},
		{"without(heights, 2)", 3, {16, 13.9, 15.2}},
		{"without([1], 1)", 0, {0}},
		{"sorted(heights)", 4, {13.9, 14.6, 15.2, 16}},
		{"sorted(without(heights, 1)) - [0.9 mm, 0.6 mm, 0.2 mm]", 3, {13, 14, 15}},
		{"reversed(heights)", 4, {15.2, 13.9, 14.6, 16}},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c;
		compiled_must(&c, cases[i].text);
		struct formula_value v = compiled_run(&c);
		if (v.n != cases[i].n)
			fail_msg("%s: want %zu values, got %zu", cases[i].text, cases[i].n, v.n);
		for (size_t k = 0; k < v.n; k++)
			near(cases[i].text, v.list[k], cases[i].want[k], 1e-12);
		compiled_end(&c);
	}
}

/* What a document puts into a slot is looked at, too. */
static void values_that_cannot_be_are_refused(void **state)
{
	(void)state;
	static const double many[FORMULA_LENGTH + 1] = {0};
	struct compiled c;
	struct formula_value out;
	struct formula_failure failure;
	size_t slot;
	compiled_must(&c, "heights - gap");
	formula_scope_find(&c.scope, "heights", 7, &slot);
	c.value[slot] = (struct formula_value){0, many, FORMULA_LENGTH};
	code_is(formula_run(c.formula, c.value, &c.work, &out), FINE);
	c.value[slot].n = FORMULA_LENGTH + 1;
	code_is(formula_run(c.formula, c.value, &c.work, &out), BAD_COUNT);
	formula_failed(c.formula, &c.work, &failure);
	assert_string_equal(failure.word, "a value");
	assert_string_equal(failure.why, "is a list that is too long");
	compiled_end(&c);
	compiled_must(&c, "if covered then 1 else 2");
	formula_scope_find(&c.scope, "covered", 7, &slot);
	c.value[slot].number = NAN;
	code_is(formula_run(c.formula, c.value, &c.work, &out), BAD_NOTHING);
	compiled_end(&c);
	compiled_must(&c, "2 * (if covered then 0 - n else n)");
	c.value[slot].number = 5; /* any number but 0 is true */
	near("5 as a truth", compiled_run(&c).number, -6, 0);
	compiled_end(&c);
}

static void one_work_serves_many_runs(void **state)
{
	(void)state;
	struct compiled a, b;
	struct formula_value out;
	compiled_must(&a, "[1 mm, 2 mm] + heights * 0 + [gap, gap, gap, gap]");
	compiled_must(&b, "heights + [1 mm, 1 mm, 1 mm, 1 mm]");
	code_is(formula_run(a.formula, a.value, &a.work, &out), BAD_COUNT);
	code_is(formula_run(b.formula, b.value, &a.work, &out), FINE);
	near("after a failed run", out.list[3], 16.2, 1e-14);
	compiled_end(&a);
	compiled_end(&b);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(numbers_take_their_units),
		cmocka_unit_test(operators_bind_as_on_paper),
		cmocka_unit_test(typeset_signs_mean_the_plain_ones),
		cmocka_unit_test(names_of_its_own_stand_for_what_they_were_given),
		cmocka_unit_test(names_and_operators_use_their_values),
		cmocka_unit_test(comparisons_forgive_the_rounding_of_decimals),
		cmocka_unit_test(nothing_is_carried_and_asked_for),
		cmocka_unit_test(lists_work_value_by_value),
		cmocka_unit_test(values_that_cannot_be_are_refused),
		cmocka_unit_test(one_work_serves_many_runs),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
