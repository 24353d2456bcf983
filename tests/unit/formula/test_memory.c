/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every request for memory fails once, alone and with all after it: the code says so, nothing is
 * lost (under the address sanitizer nothing leaks), and the next try works. */
#include "compiled.h"

#include "out_of_memory.h"

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

/* One formula, and the code it has when there is memory. */
struct compiling {
	const char *text;
	enum bad code;
};

static enum bad compile(void *to)
{
	struct compiling *c = to;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source source = {"text", c->text, strlen(c->text)};
	struct formula_scope scope = {0};
	struct formula *f = NULL;
	enum bad code = FINE;
	for (size_t i = 0, slot; i < COMPILED_NAMES && !code; i++) {
		struct formula_name name = {compiled_names[i].name, strlen(compiled_names[i].name),
			compiled_names[i].type, {NULL, 0, 0}, 0};
		code = formula_scope_add(&a, &scope, &name, &slot);
	}
	if (!code)
		code = formula_compile(&a, c->text, strlen(c->text), (struct place){&source, 1, 1},
			true, &scope, &d, &f);
	if (code && f)
		fail_msg("%s: %s, and there is a formula", c->text, bad_word(code));
	arena_release(&a);
	return code == c->code ? FINE : code;
}

static void running_out_of_memory_is_an_ordinary_code(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		struct compiling c = {texts[i], FINE};
		c.code = compile(&c);
		assert_int_not_equal(c.code, BAD_MEMORY);
		runs_out_of_memory(texts[i], compile, &c);
	}
}

static enum bad print(void *to)
{
	const struct compiled *c = to;
	struct text t;
	text_init(&t);
	formula_print(c->formula, &t);
	bool out = t.out;
	text_release(&t);
	return out ? BAD_MEMORY : FINE;
}

static void a_print_that_ran_out_says_so(void **state)
{
	(void)state;
	struct compiled c;
	compiled_must(&c, "(spread + 1 mm)^2 - (gap - h) * 2 mm");
	runs_out_of_memory("print", print, &c);
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
