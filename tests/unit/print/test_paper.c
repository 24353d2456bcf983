/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <string.h>

#include "print/paper.h"

static void long_texts_go_on_on_the_next_sheet(void **state)
{
	struct arena a = {0};
	struct text t;
	const char *const *line;
	size_t n;
	(void)state;
	text_init(&t);
	for (int k = 0; k < PAPER_LINES + 5; k++)
		text_addf(&t, "line %d <&\"> \x1b[31m\n", k);
	code_is(paper_lines(&a, t.at, &line, &n), FINE);
	assert_int_equal(n, PAPER_LINES + 5);
	assert_int_equal(paper_sheets(n), 2);
	text_clear(&t);
	code_is(paper_sheet("A \"title\"", line, n, 1, &t), FINE);
	assert_non_null(strstr(t.at, "width=\"210mm\" height=\"297mm\""));
	assert_non_null(strstr(t.at, "sheet 2 of 2"));
	assert_non_null(strstr(t.at, "line 62 &lt;&amp;&quot;&gt; "));
	assert_null(strstr(t.at, "line 61 "));
	assert_null(strchr(t.at, '\x1b'));
	assert_non_null(strstr(t.at, "<title>A &quot;title&quot;</title>"));
	text_release(&t);
	arena_release(&a);
}

static void lines_are_wrapped_and_empty_ones_stay(void **state)
{
	struct arena a = {0};
	char text[300];
	const char *const *line;
	size_t n;
	(void)state;
	memset(text, 'x', 200);
	for (int k = 9; k < 200; k += 10)
		text[k] = ' ';
	memcpy(text + 200, "\n\n  two", 8);
	code_is(paper_lines(&a, text, &line, &n), FINE);
	assert_int_equal(n, 5);
	assert_true(strlen(line[0]) <= PAPER_COLUMNS);
	assert_string_equal(line[3], "");
	assert_string_equal(line[4], "  two");
	code_is(paper_lines(&a, "", &line, &n), FINE);
	assert_int_equal(n, 1);
	arena_release(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(long_texts_go_on_on_the_next_sheet),
		cmocka_unit_test(lines_are_wrapped_and_empty_ones_stay),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
