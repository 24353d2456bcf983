/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said about faulty formulas, word for word: tests/formula/faults.fx holds the formulas,
 * faults.out what is said. With FORMULA_GOLDEN=write the second is written anew; read the
 * difference before it is kept. */
#include "compiled.h"

#include <stdlib.h>

static const char formulas[] = "tests/formula/faults.fx", wanted[] = "tests/formula/faults.out";

static void read_file(const char *path, struct text *out)
{
	char piece[4096];
	size_t n;
	FILE *f = fopen(path, "rb");
	text_init(out);
	if (!f)
		fail_msg("%s cannot be opened", path);
	while ((n = fread(piece, 1, sizeof piece, f)) > 0)
		text_add_bytes(out, piece, n);
	fclose(f);
}

/* One formula and all that is said about it; there must be something. */
static void add_case(const char *formula, struct text *out)
{
	struct compiled c;
	struct text faults;
	compiled_begin(&c, formula);
	compiled_faults(&c, &faults);
	if (!c.code || !c.d.nerror)
		fail_msg("%s: was to be refused", formula);
	if (c.formula)
		fail_msg("%s: refused, but there is a formula", formula);
	text_add(out, faults.at);
	text_add(out, "\n");
	text_release(&faults);
	compiled_end(&c);
}

static void add_all(struct text *all, struct text *out)
{
	char *line = all->at, *end;
	for (; (end = strchr(line, '\n')) != NULL; line = end + 1) {
		*end = '\0';
		if (*line && *line != '#')
			add_case(strcmp(line, "(empty)") == 0 ? "" : line, out);
	}
}

/* Tells the first block that differs. */
static void compare(const char *want, const char *got)
{
	size_t i = 0, block = 0;
	for (; want[i] && want[i] == got[i]; i++)
		if (got[i] == '\n' && i && got[i - 1] == '\n')
			block = i + 1;
	if (want[i] == got[i])
		return;
	print_error("%s differs at byte %zu.\nwant:\n%.500s\ngot:\n%.500s\n", wanted, i,
		want + block, got + block);
	fail();
}

static void every_fault_is_said_once_with_place_and_hint(void **state)
{
	(void)state;
	struct text all, want, got;
	const char *mode = getenv("FORMULA_GOLDEN");
	read_file(formulas, &all);
	text_init(&got);
	add_all(&all, &got);
	if (mode && strcmp(mode, "write") == 0) {
		FILE *f = fopen(wanted, "wb");
		assert_non_null(f);
		fputs(got.at, f);
		fclose(f);
	}
	read_file(wanted, &want);
	compare(want.at, got.at);
	text_release(&all);
	text_release(&want);
	text_release(&got);
}

/* A name's own place is shown beside a clash of its unit. */
static void the_place_of_a_name_is_noted(void **state)
{
	static const char *const texts[] = {
		"gap + 1 N", "1 N + gap", "not gap", "sin(gap)", "sum(gap)"};
	(void)state;
	struct source source = {"arch", "gap: 1 mm\n", 10};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		struct arena a = {0};
		struct diags d = {.arena = &a};
		struct formula_scope scope = {0};
		struct formula_name name = {"gap", 3, {FORMULA_NUMBER, {{1}}}, {&source, 1, 1}, 0};
		struct formula *f = NULL;
		size_t slot;
		code_is(formula_scope_add(&a, &scope, &name, &slot), FINE);
		formula_compile(&a, texts[i], strlen(texts[i]), (struct place){&source, 5, 1}, true,
			&scope, &d, &f);
		assert_int_equal(d.nerror, 1);
		assert_non_null(d.first->note);
		assert_string_equal(d.first->note, "gap is declared here");
		assert_int_equal(d.first->note_place.line, 1);
		arena_release(&a);
	}
}

/* A formula that does not stand straight in its source (a folded text) has one place for all. */
static void a_folded_formula_has_one_place(void **state)
{
	(void)state;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source source = {"folded", "answer: >\n  foo +\n  bar\n", 24};
	struct formula *f = NULL;
	struct place at = {&source, 1, 9};
	code_is(formula_compile(&a, "foo + bar", 9, at, false, NULL, &d, &f), BAD_UNKNOWN);
	assert_int_equal(d.nerror, 2);
	for (struct diag *one = d.first; one; one = one->next) {
		assert_int_equal(one->place.line, 1);
		assert_int_equal(one->place.col, 9);
		assert_int_equal(one->span, 1);
	}
	arena_release(&a);
}

static void places_count_characters_and_lines(void **state)
{
	static const struct {
		const char *text;
		uint32_t line, col, span;
	} cases[] = {
		{"foo", 7, 5, 3},
		{"1 + foo", 7, 9, 3},
		{"2 \xC3\x97 foo", 7, 9, 3},
		{"2 mm\xC2\xB2 * foo", 7, 13, 3},
		{"1 +\n  foo", 8, 3, 3},
		{"1 +\n\n foo * 2", 9, 2, 3},
		{"1 mm + 20 \xC2\xB0", 7, 5, 11},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct arena a = {0};
		struct diags d = {.arena = &a};
		struct source source = {"text", "", 0};
		struct formula *f = NULL;
		formula_compile(&a, cases[i].text, strlen(cases[i].text),
			(struct place){&source, 7, 5}, true, NULL, &d, &f);
		if (!d.first || d.first->place.line != cases[i].line ||
			d.first->place.col != cases[i].col || d.first->span != cases[i].span)
			fail_msg("%s: wrong place", cases[i].text);
		arena_release(&a);
	}
}

static void texts_of_strangers_are_refused(void **state)
{
	static const struct {
		const char *text;
		size_t len;
		enum bad code;
	} cases[] = {
		{"1 + \xFF", 5, BAD_ENCODING},
		{"1 + \xE2\x82", 6, BAD_ENCODING},
		{"1 + \0", 5, BAD_SYNTAX},
		{"1 + \x1B[31m", 9, BAD_SYNTAX},
		{"1 \xE2\x80\xAE+ 2", 7, BAD_SYNTAX},
		{"\xC3\xA4 + 2", 6, BAD_SYNTAX},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct arena a = {0};
		struct diags d = {.arena = &a};
		struct source source = {"text", cases[i].text, cases[i].len};
		struct formula *f = NULL;
		enum bad code = formula_compile(&a, cases[i].text, cases[i].len,
			(struct place){&source, 1, 1}, true, NULL, &d, &f);
		if (code != cases[i].code)
			fail_msg("case %zu: %s", i, bad_word(code));
		arena_release(&a);
	}
}

static void long_texts_deep_ones_and_wide_ones_are_refused(void **state)
{
	(void)state;
	struct text t;
	struct compiled c;
	text_init(&t);
	for (int i = 0; i < 1365; i++)
		text_add(&t, "1 +");
	text_add(&t, "1");
	assert_int_equal(t.len, FORMULA_BYTES);
	compiled_begin(&c, t.at);
	code_is(c.code, FINE);
	near("sum of ones", compiled_run(&c).number, 1366, 0);
	compiled_end(&c);
	text_add(&t, " ");
	compiled_begin(&c, t.at);
	code_is(c.code, BAD_SIZE);
	compiled_end(&c);

	text_clear(&t);
	text_add_repeat(&t, '(', FORMULA_DEPTH - 1);
	text_add(&t, "1");
	text_add_repeat(&t, ')', FORMULA_DEPTH - 1);
	compiled_begin(&c, t.at);
	code_is(c.code, FINE);
	compiled_end(&c);

	text_clear(&t);
	text_add(&t, "[n");
	for (int i = 1; i < FORMULA_LENGTH; i++)
		text_add(&t, ", n");
	compiled_begin(&c, t.at);
	code_is(c.code, BAD_SYNTAX);
	compiled_end(&c);
	text_add(&t, "]");
	compiled_begin(&c, t.at);
	code_is(c.code, FINE);
	assert_int_equal(compiled_run(&c).n, FORMULA_LENGTH);
	compiled_end(&c);
	t.at[t.len - 1] = ',';
	text_add(&t, " n]");
	compiled_begin(&c, t.at);
	code_is(c.code, BAD_COUNT);
	compiled_end(&c);

	/* each opening bracket leaves one more list, each function twelve more numbers waiting */
	text_clear(&t);
	for (int i = 0; i < 40; i++)
		text_add(&t, "max(n, n * n, n, n) + max([n, n, n, n, n, n, n, n, n, n, ");
	text_add(&t, "n");
	for (int i = 0; i < 40; i++)
		text_add(&t, "])");
	compiled_begin(&c, t.at);
	code_is(c.code, BAD_SIZE);
	compiled_end(&c);

	text_clear(&t);
	for (int i = 0; i < FORMULA_LISTS; i++)
		text_add(&t, "[1] + (");
	text_add(&t, "[1]");
	text_add_repeat(&t, ')', FORMULA_LISTS);
	compiled_begin(&c, t.at);
	code_is(c.code, BAD_SIZE);
	compiled_end(&c);
	text_release(&t);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_fault_is_said_once_with_place_and_hint),
		cmocka_unit_test(the_place_of_a_name_is_noted),
		cmocka_unit_test(a_folded_formula_has_one_place),
		cmocka_unit_test(places_count_characters_and_lines),
		cmocka_unit_test(texts_of_strangers_are_refused),
		cmocka_unit_test(long_texts_deep_ones_and_wide_ones_are_refused),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
