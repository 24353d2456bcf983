/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds and dimensions of results, names, and how formulas are shown. */
#include "compiled.h"

#include <barwright/base/number.h>

struct type_case {
	const char *text, *unit; /* unit null: a truth; "list mm": a list */
};

static struct formula_type type_of(const char *unit)
{
	struct unit u;
	size_t fault, len;
	struct formula_type t = {FORMULA_NUMBER, {{0}}};
	if (!unit)
		return (struct formula_type){FORMULA_TRUTH, {{0}}};
	if (strncmp(unit, "list ", 5) == 0) {
		t.kind = FORMULA_LIST;
		unit += 5;
	}
	if (unit_read(unit, strlen(unit), &u, &fault, &len))
		fail_msg("%s is no unit", unit);
	t.dim = u.dim;
	return t;
}

static void results_have_their_dimension(void **state)
{
	static const struct type_case cases[] = {
		{"3.5 mm", "mm"},
		{"3", ""},
		{"25 %", ""},
		{"spread + gap", "mm"},
		{"spread * gap", "mm2"},
		{"spread * gap * h", "mm3"},
		{"spread / gap", ""},
		{"1 / gap", "mm^-1"},
		{"load / (spread * gap)", "MPa"},
		{"load * spread", "N mm"},
		{"6 * load * spread / (gap * h^2)", "MPa"},
		{"load * spread^3 / (3 * strength * gap * h^3 / 12)", "mm"},
		{"spread^2", "mm2"},
		{"spread^-1", "mm^-1"},
		{"spread^0", ""},
		{"(spread^2)^0.5", "mm"},
		{"(spread^2)^(1/2)", "mm"},
		{"(spread^6)^(1/3)", "mm2"},
		{"(4 * load * spread^3 / (strength * gap * h))^(1/3)", "mm"},
		{"sqrt(spread * gap)", "mm"},
		{"sqrt(load / strength)", "mm"},
		{"factor^n", ""},
		{"radians(tilt) * spread", "mm"},
		{"arc_along(spread, tilt)", "mm"},
		{"spread * tilt", "mm rad"},
		{"sin(tilt)", ""},
		{"atan2(gap, spread)", "rad"},
		{"20 degC", "K"},
		{"75 degC - 20 degC", "K"},
		{"20 degC + 5 K", "K"},
		{"warm - 20 degC", "K"},
		{"81e-6 K^-1 * (75 degC - 20 degC)", ""},
		{"spread > gap", NULL},
		{"covered and not open", NULL},
		{"heights", "list mm"},
		{"heights - gap", "list mm"},
		{"heights * gap", "list mm2"},
		{"heights / heights", "list "},
		{"forces / heights", "list N/mm"},
		{"heights^2", "list mm2"},
		{"[spread, 0, gap]", "list mm"},
		{"min(heights)", "mm"},
		{"min(load, 0)", "N"},
		{"max(0, 0, gap)", "mm"},
		{"at(forces, 2)", "N"},
		{"count(heights)", ""},
		{"sum_of_products(forces, heights)", "N mm"},
		{"sum_of_products([1, 2, 3, 4], heights)", "mm"},
		{"weighted_mean(heights, forces)", "mm"},
		{"round(heights, 0.5 mm)", "list mm"},
		{"if covered then spread else 0", "mm"},
		{"if covered then nothing else spread", "mm"},
		{"if covered then heights else [0]", "list mm"},
		{"nothing * gap", "mm"},
		{"or_else(nothing, gap)", "mm"},
		{"or_else(gap, 0)", "mm"},
		{"0 * gap", "mm"},
		{"gap / load + 0", "mm/N"},
		{"load_shares(heights, heights^1 * 2, load, gap, gap)", "list N"},
		{"resin_total(22 cm3, 15 %, 2.5, 1.19 g/cm3, 0.94 g/cm3)", "g"},
		{"rim_speed(2.3 mm, 20000 rpm)", "m/s"},
		{"cure_time(23 degC, [74 degC], [51 min], [480 min])", "min"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c;
		struct formula_type want = type_of(cases[i].unit);
		compiled_must(&c, cases[i].text);
		struct formula_type got = formula_result(c.formula);
		if (got.kind != want.kind || !dim_is_equal(got.dim, want.dim))
			fail_msg("%s: not of the kind of %s", cases[i].text,
				cases[i].unit ? cases[i].unit : "a truth");
		assert_true(formula_fits(c.formula, want));
		compiled_end(&c);
	}
}

static void zero_and_nothing_fit_everywhere_and_no_other_does(void **state)
{
	static const char *const any[] = {"0", "nothing", "-0", "(0)", "min(0, 0)",
		"if covered then 0 else nothing", "or_else(nothing, 0)", "abs(0)", "0 + 0"};
	static const char *const one[] = {"1", "0 %", "0 mm2", "0 N", "0 * 2", "n - n", "0^1"};
	struct formula_type length = type_of("mm");
	(void)state;
	for (size_t i = 0; i < sizeof any / sizeof *any; i++) {
		struct compiled c;
		compiled_must(&c, any[i]);
		if (!formula_fits(c.formula, length) || !formula_fits(c.formula, type_of("N")))
			fail_msg("%s was to fit", any[i]);
		assert_false(formula_fits(c.formula, type_of("list mm")));
		assert_false(formula_fits(c.formula, type_of(NULL)));
		compiled_end(&c);
	}
	for (size_t i = 0; i < sizeof one / sizeof *one; i++) {
		struct compiled c;
		compiled_must(&c, one[i]);
		if (formula_fits(c.formula, length))
			fail_msg("%s was not to fit a length", one[i]);
		compiled_end(&c);
	}
}

static void it_is_known_whether_nothing_can_come_out(void **state)
{
	static const struct {
		const char *text;
		bool may;
	} cases[] = {
		{"gap", false},
		{"nothing", true},
		{"gap + 1 mm", false},
		{"largest_up_to(heights, gap)", true},
		{"largest_up_to(heights, gap) - 1 mm", true},
		{"or_else(largest_up_to(heights, gap), 1 mm)", false},
		{"or_else(gap, nothing)", true},
		{"is_nothing(largest_up_to(heights, gap))", false},
		{"stock_choice(heights, gap, 3.5 mm)", true},
		{"if covered then gap else nothing", true},
		{"if is_nothing(smallest_from(heights, gap)) then 1 else 2", false},
		{"min(gap, nothing)", true},
		{"count([nothing])", false},
		{"heights * largest_up_to(heights, gap)", true},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c;
		compiled_must(&c, cases[i].text);
		if (formula_may_be_nothing(c.formula) != cases[i].may)
			fail_msg("%s", cases[i].text);
		compiled_end(&c);
	}
}

static void names_in_use_are_counted(void **state)
{
	(void)state;
	struct compiled c;
	size_t spread, gap, load;
	compiled_must(&c, "spread + min(spread, gap)");
	formula_scope_find(&c.scope, "spread", 6, &spread);
	formula_scope_find(&c.scope, "gap", 3, &gap);
	formula_scope_find(&c.scope, "load", 4, &load);
	assert_true(formula_uses(c.formula, spread));
	assert_true(formula_uses(c.formula, gap));
	assert_false(formula_uses(c.formula, load));
	assert_false(formula_is_constant(c.formula));
	assert_int_equal(c.scope.name[spread].used, 2);
	assert_int_equal(c.scope.name[gap].used, 1);
	assert_int_equal(c.scope.name[load].used, 0);
	compiled_end(&c);
	compiled_must(&c, "min([1 mm, 2 mm]) * pi");
	assert_true(formula_is_constant(c.formula));
	compiled_end(&c);
}

static void a_scope_takes_good_names_once(void **state)
{
	static const struct {
		const char *name;
		enum bad code;
	} cases[] = {
		{"height_1", FINE},
		{"H", FINE},
		{"mm", FINE},
		{"height_1", BAD_REPEATED},
		{"", BAD_SYNTAX},
		{"1a", BAD_SYNTAX},
		{"_a", BAD_SYNTAX},
		{"a b", BAD_SYNTAX},
		{"a-b", BAD_SYNTAX},
		{"\xC3\xA4", BAD_SYNTAX},
		{"if", BAD_SYNTAX},
		{"pi", BAD_SYNTAX},
		{"nothing", BAD_SYNTAX},
		{"min", BAD_SYNTAX},
		{"stock_choice", BAD_SYNTAX},
		{"a123456789012345678901234567890123456789012345678901234567890123", FINE},
		{"a1234567890123456789012345678901234567890123456789012345678901234", BAD_SYNTAX},
	};
	(void)state;
	struct arena a = {0};
	struct formula_scope scope = {0};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct formula_name name = {cases[i].name, strlen(cases[i].name),
			{FORMULA_NUMBER, {{0}}}, {NULL, 0, 0}, 5};
		size_t slot = 99, n = scope.n;
		const char *why = NULL;
		enum bad code = formula_scope_add(&a, &scope, &name, &slot);
		if (code != cases[i].code)
			fail_msg("%s: %s", cases[i].name, bad_word(code));
		assert_int_equal(scope.n, n + !code);
		if (code == BAD_SYNTAX && (formula_name_is_free(name.name, name.len, &why) || !why))
			fail_msg("%s: no reason", cases[i].name);
		if (code == BAD_REPEATED)
			assert_int_equal(slot, 0);
		if (!code)
			assert_int_equal(scope.name[slot].used, 0);
	}
	arena_release(&a);
}

static void formulas_are_printed_in_one_layout(void **state)
{
	static const struct {
		const char *text, *want;
	} cases[] = {
		{"min( 1.5*spread,15mm )", "min(1.5 * spread, 15 mm)"},
		{"((spread))", "spread"},
		{"(spread+gap)*2", "(spread + gap) * 2"},
		{"(spread*gap)+h^2", "spread * gap + h^2"},
		{"spread-(gap-h)", "spread - (gap - h)"},
		{"(spread-gap)-h", "spread - gap - h"},
		{"spread/(gap*h)", "spread / (gap * h)"},
		{"(3 mm)^2", "(3 mm)^2"},
		{"3 mm^2", "3 mm\xC2\xB2"},
		{"sin(7 deg) * 4 N/mm2", "sin(7\xC2\xB0) * 4 N/mm\xC2\xB2"},
		{"warm - 20 degC + 0 K", "warm - 20 \xC2\xB0"
					 "C + 0 K"},
		{"(-n)^2", "(-n)^2"},
		{"-(n^2)", "-n^2"},
		{"2^(-n)", "2^(-n)"},
		{"(n^2)^3", "(n^2)^3"},
		{"n^(2+1)", "n^(2 + 1)"},
		{"- -n", "-(-n)"},
		{"n - -3", "n - (-3)"},
		{"n + (-3 * n)", "n + (-3 * n)"},
		{"not(covered and open)", "not (covered and open)"},
		{"(not covered)and open", "not covered and open"},
		{"(covered or open) and open", "(covered or open) and open"},
		{"covered = (n > 2)", "covered = (n > 2)"},
		{"(n>2) = covered", "(n > 2) = covered"},
		{"2*(if covered then 1 else 2)", "2 * (if covered then 1 else 2)"},
		{"if covered then 1 else(2)", "if covered then 1 else 2"},
		{"let r=spread/2 then(r+gap)*r", "let r = spread / 2 then (r + gap) * r"},
		{"2*(let r = gap then r)", "2 * (let r = gap then r)"},
		{"let a=(let b=n then b) then a^2", "let a = let b = n then b then a^2"},
		{"[ 1 mm,0 ]", "[1 mm, 0]"},
		{"-5 degC", "-5 \xC2\xB0"
			    "C"},
		{"20 degC - -5 degC", "20 \xC2\xB0"
				      "C - (-5 \xC2\xB0"
				      "C)"},
		{"n \xC3\x97 3 \xE2\x88\x92 \xCF\x80", "n * 3 - pi"},
		{"10 N/mm * gap", "10 N/mm * gap"},
		{"10 N / gap", "10 N / gap"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c;
		struct text t;
		text_init(&t);
		compiled_must(&c, cases[i].text);
		formula_print(c.formula, &t);
		assert_string_equal(t.at, cases[i].want);
		text_release(&t);
		compiled_end(&c);
	}
}

/* As a course would: lengths in mm with two places. */
static void show(void *context, size_t slot, const struct formula_type *type,
	const struct formula_value *value, struct text *out)
{
	const char *unit = type->dim.power[DIM_LENGTH] == 1 ? " mm" : "";
	(void)slot;
	++*(int *)context;
	if (type->kind == FORMULA_TRUTH) {
		text_add(out, value->number != 0 ? "true" : "false");
		return;
	}
	text_add(out, type->kind == FORMULA_LIST ? "[" : "");
	for (size_t i = 0; i < (type->kind == FORMULA_LIST ? value->n : 1); i++) {
		text_add(out, i ? ", " : "");
		number_add_to(
			type->kind == FORMULA_LIST ? value->list[i] : value->number, 2, '.', out);
		text_add(out, unit);
	}
	text_add(out, type->kind == FORMULA_LIST ? "]" : "");
}

static void worked_solutions_put_values_for_names(void **state)
{
	static const struct {
		const char *text, *want;
		double spread;
	} cases[] = {
		{"min(1.5 * spread, 15 mm)", "min(1.5 * 13.05 mm, 15 mm)", 13.05},
		{"spread - gap", "13.05 mm - 1.50 mm", 13.05},
		{"spread^2", "(13.05 mm)^2", 13.05},
		{"n^2", "3.00^2", 0},
		{"gap - spread", "1.50 mm - (-2.00 mm)", -2},
		{"gap * spread", "1.50 mm * (-2.00 mm)", -2},
		{"spread * gap", "-2.00 mm * 1.50 mm", -2},
		{"spread^2 / gap", "(-2.00 mm)^2 / 1.50 mm", -2},
		{"-spread", "-(-2.00 mm)", -2},
		{"2^n", "2^3.00", 0},
		{"min(heights) - gap", "min([16.00 mm, 14.60 mm, 13.90 mm, 15.20 mm]) - 1.50 mm",
			0},
		{"if covered then gap else 0", "if true then 1.50 mm else 0", 0},
		{"(spread + gap) * 2", "(13.05 mm + 1.50 mm) * 2", 13.05},
		{"let r = spread / 2 then r^2", "(13.05 mm / 2)^2", 13.05},
		{"let r = spread + gap then 2 * r - r",
			"2 * (13.05 mm + 1.50 mm) - (13.05 mm + 1.50 mm)", 13.05},
		{"2 * (let r = gap then r) - spread", "2 * 1.50 mm - (-2.00 mm)", -2},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c, again;
		struct text t;
		int shown = 0;
		text_init(&t);
		compiled_must(&c, cases[i].text);
		c.value[0].number = cases[i].spread;
		formula_print_values(c.formula, c.value, show, &shown, &t);
		assert_string_equal(t.at, cases[i].want);
		assert_true(shown > 0);
		/* what is shown can be read again, and comes to the same */
		compiled_must(&again, t.at);
		near(t.at, compiled_run(&again).number, compiled_run(&c).number, 1e-12);
		text_release(&t);
		compiled_end(&c);
		compiled_end(&again);
	}
}

/* In a worked solution stands what a person writes. */
static void a_formula_is_said_as_people_write_it(void **state)
{
	static const struct {
		const char *text, *names, *values;
	} cases[] = {
		{"sqrt(spread^2 + gap^2)", "√(spread² + gap²)", "√((13.05 mm)² + (1.50 mm)²)"},
		{"sqrt(5) * gap^3", "√5 * gap³", "√5 * (1.50 mm)³"},
		{"abs(spread - gap)", "|spread - gap|", "|13.05 mm - 1.50 mm|"},
		{"min(spread, gap) - 1 mm", "(the smaller of spread and gap) - 1 mm",
			"(the smaller of 13.05 mm and 1.50 mm) - 1 mm"},
		{"max(spread, gap, min(gap, 2 mm))",
			"the largest of spread, gap and (the smaller of gap and 2 mm)",
			"the largest of 13.05 mm, 1.50 mm and (the smaller of 1.50 mm and 2 mm)"},
		{"min(heights) - gap", "(the least of heights) - gap",
			"(the least of 16.00 mm, 14.60 mm, 13.90 mm, 15.20 mm) - 1.50 mm"},
		{"min([spread, gap])", "the least of spread, gap",
			"the least of 13.05 mm, 1.50 mm"},
		{"floor(spread / gap) * 2", "((spread / gap) rounded down) * 2",
			"((13.05 mm / 1.50 mm) rounded down) * 2"},
		{"round_up(spread, 1 mm)", "spread rounded up to a multiple of 1 mm",
			"13.05 mm rounded up to a multiple of 1 mm"},
		{"sum(heights) / 4", "(the sum of heights) / 4",
			"(16.00 mm + 14.60 mm + 13.90 mm + 15.20 mm) / 4"},
		{"sum((heights - gap)^2)", "the sum of (heights - gap)²",
			"(16.00 mm - 1.50 mm)² + (14.60 mm - 1.50 mm)² + (13.90 mm - 1.50 mm)² + "
			"(15.20 mm - 1.50 mm)²"},
		{"largest_up_to(heights, spread) - gap",
			"(the largest of heights up to spread) - gap",
			"(the largest of 16.00 mm, 14.60 mm, 13.90 mm, 15.20 mm up to 13.05 mm) - "
			"1.50 mm"},
		{"smallest_from([1 mm, 2 mm], gap)", "the smallest of 1 mm, 2 mm not below gap",
			"the smallest of 1 mm, 2 mm not below 1.50 mm"},
		{"at([45, 43, 33, 35], index_of_min(heights))",
			"the one of 45, 43, 33, 35 where heights is least",
			"the one of 45, 43, 33, 35 where 16.00 mm, 14.60 mm, 13.90 mm, 15.20 mm is "
			"least"},
		{"sum_of_products([1, 2], [3, -4]) / 5", "(1 * 3 + 2 * (-4)) / 5", NULL},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct compiled c;
		struct text t;
		int shown = 0;
		text_init(&t);
		compiled_must(&c, cases[i].text);
		formula_say(c.formula, NULL, NULL, NULL, &t);
		assert_string_equal(t.at, cases[i].names);
		text_clear(&t);
		c.value[0].number = 13.05;
		formula_say(c.formula, c.value, show, &shown, &t);
		if (cases[i].values)
			assert_string_equal(t.at, cases[i].values);
		text_release(&t);
		compiled_end(&c);
	}
}

static void a_scope_grows(void **state)
{
	(void)state;
	struct arena a = {0};
	struct formula_scope scope = {0};
	char name[40][8];
	for (size_t i = 0, slot; i < 40; i++) {
		snprintf(name[i], sizeof name[i], "v%zu", i);
		struct formula_name one = {
			name[i], strlen(name[i]), {FORMULA_NUMBER, {{0}}}, {NULL, 0, 0}, 0};
		code_is(formula_scope_add(&a, &scope, &one, &slot), FINE);
		assert_int_equal(slot, i);
	}
	for (size_t i = 0, slot; i < 40; i++) {
		assert_true(formula_scope_find(&scope, name[i], strlen(name[i]), &slot));
		assert_int_equal(slot, i);
	}
	arena_release(&a);
}

/* A formula holds no pointer to its text or scope. */
static void a_formula_outlives_its_text_and_scope(void **state)
{
	(void)state;
	struct arena a = {0}, other = {0};
	struct diags d = {.arena = &a};
	struct formula_scope scope = {0};
	struct source source = {"text", "", 0};
	char *text = arena_copy(&other, "spread + at([1 mm], n)", 22);
	const struct formula_name names[] = {
		{"spread", 6, {FORMULA_NUMBER, {{1}}}, {NULL, 0, 0}, 0},
		{"n", 1, {FORMULA_NUMBER, {{0}}}, {NULL, 0, 0}, 0}};
	struct formula *f = NULL;
	size_t slot;
	for (size_t i = 0; i < 2; i++)
		code_is(formula_scope_add(&other, &scope, &names[i], &slot), FINE);
	code_is(formula_compile(&a, text, 22, (struct place){&source, 3, 1}, true, &scope, &d, &f),
		FINE);
	arena_release(&other);
	struct formula_work work;
	struct formula_value v[2] = {{1, NULL, 0}, {2, NULL, 0}}, out;
	struct formula_failure failure;
	code_is(formula_run(f, v, &work, &out), BAD_RANGE);
	formula_failed(f, &work, &failure);
	assert_string_equal(failure.word, "at");
	assert_int_equal(failure.at.line, 3);
	assert_int_equal(failure.at.col, 10);
	assert_int_equal(failure.span, 13);
	struct text t;
	text_init(&t);
	formula_print(f, &t);
	assert_string_equal(t.at, "spread + at([1 mm], n)");
	text_release(&t);
	arena_release(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(results_have_their_dimension),
		cmocka_unit_test(zero_and_nothing_fit_everywhere_and_no_other_does),
		cmocka_unit_test(it_is_known_whether_nothing_can_come_out),
		cmocka_unit_test(names_in_use_are_counted),
		cmocka_unit_test(a_scope_takes_good_names_once),
		cmocka_unit_test(a_formula_is_said_as_people_write_it),
		cmocka_unit_test(a_scope_grows),
		cmocka_unit_test(formulas_are_printed_in_one_layout),
		cmocka_unit_test(worked_solutions_put_values_for_names),
		cmocka_unit_test(a_formula_outlives_its_text_and_scope),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
