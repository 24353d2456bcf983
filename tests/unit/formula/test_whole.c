/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "compiled.h"

#include <string.h>

/* n is known to be whole, factor is not. What is whole follows from arithmetic: sums, differences, products and
 * powers of whole numbers are, quotients need not be. */
static const struct {
	const char *text;
	bool whole;
} rows[] = {
	{"n", true},
	{"2 * n - 7", true},
	{"-n^2 + 1", true},
	{"n / 2", false},
	{"2^n", false}, /* n may be below 0 */
	{"factor", false},
	{"n + factor", false},
	{"3", true},
	{"3.5", false},
	{"floor(factor / n)", true},
	{"ceiling(spread / gap)", true},
	{"round(factor)", true},
	{"round(factor, 0.5)", false},
	{"round(n, 2)", true},
	{"count(heights)", true},
	{"how_many_below(heights, gap)", true},
	{"max(n, 4)", true},
	{"max(n, factor)", false},
	{"sum([n, 2, 3])", true},
	{"[n, 2]", true},
	{"mean([n, 2])", false},
	{"if covered then n else 2", true},
	{"if covered then n else factor", false},
	{"let m = n + 1 then m * m", true},
	{"let m = n / 2 then m * n", false},
	{"spread / gap", false},
	{"gap", false}, /* no plain number */
	{"covered", false},
	{"5 %", false},
};

static void whole_numbers_are_seen_from_the_formula(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct compiled c;
		bool whole[COMPILED_NAMES] = {false};
		for (size_t k = 0; k < COMPILED_NAMES; k++)
			whole[k] = strcmp(compiled_names[k].name, "n") == 0;
		compiled_begin(&c, rows[i].text);
		if (c.code)
			fail_msg("%s does not compile", rows[i].text);
		near(rows[i].text, formula_is_whole(c.formula, whole), rows[i].whole, 0);
		compiled_end(&c);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(whole_numbers_are_seen_from_the_formula),
	};
	return cmocka_run_group_tests_name("formula/whole", tests, NULL, NULL);
}
