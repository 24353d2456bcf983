/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "out_of_memory.h"

#include <locale.h>
#include <string.h>

#include <barwright/base/diag.h>

static struct source source_of(const char *text)
{
	return (struct source){"case.yaml", text, strlen(text)};
}

static void expect(const struct diags *d, const char *want)
{
	struct text t;
	text_init(&t);
	diags_print(d, &t);
	assert_string_equal(t.at, want);
	text_release(&t);
}

static void a_fault_shows_its_line_its_place_and_what_to_do(void **state)
{
	(void)state;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source s = source_of("span: 40 mm\ndepth: 3.2 rad\n");
	diag_error(&d, BAD_UNIT, (struct place){&s, 2, 8}, 7,
		"depth is in %s where a length is needed", "rad");
	diag_note(&d, (struct place){&s, 1, 7}, "span is in mm");
	diag_hint(&d, "write a length, for example 3.2 mm");
	expect(&d, "case.yaml:2:8: error: depth is in rad where a length is needed [unit-clash]\n"
		   "    2 | depth: 3.2 rad\n"
		   "      |        ^~~~~~~\n"
		   "case.yaml:1:7: note: span is in mm\n"
		   "hint: write a length, for example 3.2 mm\n");
	arena_release(&a);
}

static void the_caret_stands_under_the_sign_it_means(void **state)
{
	(void)state;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	/* two columns for the wide sign, eight for the control that is spelt out */
	struct source s = source_of("\xE5\xAD\x97\033 x = 1");
	diag_warn(&d, BAD_UNUSED, (struct place){&s, 1, 4}, 1, "'x' is never used");
	expect(&d, "case.yaml:1:4: warning: 'x' is never used [unused]\n"
		   "    1 | \xE5\xAD\x97<U+001B> x = 1\n"
		   "      |            ^\n");
	arena_release(&a);
}

static void a_place_behind_the_last_line_or_of_the_whole_file_is_shown(void **state)
{
	(void)state;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source s = source_of("one\n");
	diag_error(&d, BAD_MISSING, (struct place){&s, 0, 0}, 1, "there is no title");
	diag_error(&d, BAD_SYNTAX, source_place(&s, 3), 1, "more was expected");
	diag_error(&d, BAD_SYNTAX, source_place(&s, 99), 1, "the end came too soon");
	expect(&d, "case.yaml: error: there is no title [missing]\n"
		   "case.yaml:1:4: error: more was expected [syntax]\n"
		   "    1 | one\n"
		   "      |    ^\n"
		   "case.yaml:2:1: error: the end came too soon [syntax]\n"
		   "    2 | \n"
		   "      | ^\n");
	arena_release(&a);
}

static void a_long_line_is_cut_to_what_matters(void **state)
{
	(void)state;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	char line[501];
	memset(line, '.', 500);
	line[500] = '\0';
	line[300] = 'X';
	struct source s = source_of(line);
	struct text t;
	diag_error(&d, BAD_RANGE, (struct place){&s, 1, 301}, 1, "here");
	text_init(&t);
	diags_print(&d, &t);
	const char *shown = strchr(t.at, 'X'), *caret = strchr(t.at, '^');
	assert_non_null(shown);
	assert_non_null(caret);
	const char *row1 = strchr(t.at, '\n') + 1, *row2 = strchr(row1, '\n') + 1;
	assert_int_equal(shown - row1, caret - row2);
	assert_true(t.len < 350);
	text_release(&t);
	arena_release(&a);
}

static void faults_beyond_the_limit_are_counted(void **state)
{
	(void)state;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct source s = source_of("x\n");
	for (int i = 0; i < DIAGS_KEPT + 7; i++) {
		diag_error(&d, BAD_RANGE, (struct place){&s, 1, 1}, 1, "fault %d", i);
		diag_hint(&d, "hint %d", i);
	}
	struct text t;
	text_init(&t);
	diags_print(&d, &t);
	assert_int_equal(d.nerror, DIAGS_KEPT + 7);
	assert_non_null(strstr(t.at, "hint 199\n... and 7 more\n"));
	assert_null(strstr(t.at, "hint 200"));
	text_release(&t);
	arena_release(&a);
}

static enum bad fault_with_long_words(void *to)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	diag_error(&d, BAD_RANGE, (struct place){to, 1, 1}, 1, "fault %0900d", 1);
	diag_hint(&d, "hint %0900d", 1);
	assert_int_equal(d.nerror, 1);
	bool out = d.out;
	arena_release(&a);
	return out ? BAD_MEMORY : FINE;
}

static void no_memory_for_words_is_no_crash(void **state)
{
	(void)state;
	struct source s = source_of("x\n");
	runs_out_of_memory("a fault and its hint", fault_with_long_words, &s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_fault_shows_its_line_its_place_and_what_to_do),
		cmocka_unit_test(the_caret_stands_under_the_sign_it_means),
		cmocka_unit_test(a_place_behind_the_last_line_or_of_the_whole_file_is_shown),
		cmocka_unit_test(a_long_line_is_cut_to_what_matters),
		cmocka_unit_test(faults_beyond_the_limit_are_counted),
		cmocka_unit_test(no_memory_for_words_is_no_crash),
	};
	setlocale(LC_CTYPE, "C.UTF-8"); /* for the width of wide signs */
	return cmocka_run_group_tests(tests, NULL, NULL);
}
