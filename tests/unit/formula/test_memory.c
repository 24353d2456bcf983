/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every request for memory fails once, alone and with all after it: the code says so, nothing is
 * lost (under the address sanitizer nothing leaks), and the next try works. */
#include "compiled.h"

/* Good and faulty formulas, so that messages run out of memory too. */
static const char *const texts[] = {
	"if min(heights) - gap >= 3.5 mm and not open then largest_up_to([3.5 mm, 4 mm, 5 mm], "
	"min(heights)) else nothing",
	"round(1.5 * heights^2 / (3 mm)^2, 0.1) + [1, 2, 3, 4]",
	"let r = spread / 2 then let a = pi * r^2 then a * h + 2 * a * r",
	"let r 3 then let h = 3 then let n2 = 4 then 5",
	"spred + foo(1, gap / 0) * sin(3 mm) + (1 + covered",
	"round(1, 2, 3) + 2 h + 3 mmm + [gap, load] + (if covered then 1 else true)",
	"spread == load && 2 * if open then 1",
};

static bool has_failed(const char *text, unsigned long n, int ever)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source source = {"text", text, strlen(text)};
	struct formula_scope scope = {0};
	struct formula *f = NULL;
	enum bad code = FINE;
	mem_fail_at(n, ever);
	for (size_t i = 0, slot; i < COMPILED_NAMES && !code; i++) {
		struct formula_name name = {compiled_names[i].name, strlen(compiled_names[i].name),
			compiled_names[i].type, {NULL, 0, 0}, 0};
		code = formula_scope_add(&a, &scope, &name, &slot);
	}
	if (!code)
		code = formula_compile(&a, text, strlen(text), (struct place){&source, 1, 1}, true,
			&scope, &d, &f);
	bool failed = mem_failed();
	mem_fail_at(0, 0);
	if (failed && code != BAD_MEMORY)
		fail_msg("%s: request %lu failed, and the code is %s", text, n, bad_word(code));
	if (failed && f)
		fail_msg("%s: request %lu failed, and there is a formula", text, n);
	if (!failed && code == BAD_MEMORY)
		fail_msg("%s: no request failed, and the code is out-of-memory", text);
	arena_release(&a);
	return failed;
}

static void running_out_of_memory_is_an_ordinary_code(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++)
		for (int ever = 0; ever < 2; ever++) {
			unsigned long n = 1;
			while (has_failed(texts[i], n, ever))
				n++;
			assert_true(n > 1);
		}
}

static void a_print_that_ran_out_says_so(void **state)
{
	(void)state;
	struct compiled c;
	compiled_must(&c, "(spread + 1 mm)^2 - (gap - h) * 2 mm");
	for (unsigned long n = 1;; n++) {
		struct text t;
		text_init(&t);
		mem_fail_at(n, 1);
		formula_print(c.formula, &t);
		bool failed = mem_failed(), out = t.out;
		mem_fail_at(0, 0);
		text_release(&t);
		if (failed != out)
			fail_msg("request %lu", n);
		if (!failed)
			break;
	}
	compiled_end(&c);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(running_out_of_memory_is_an_ordinary_code),
		cmocka_unit_test(a_print_that_ran_out_says_so),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
