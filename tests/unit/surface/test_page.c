/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <locale.h>
#include <string.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

#include "surface/page.h"

static int add_line(void *to, const char *at, size_t len)
{
	text_add_bytes(to, at, len);
	text_add_char(to, '\n');
	return 0;
}

static void wrapping_breaks_at_blanks_and_keeps_everything_else(void **state)
{
	(void)state;
	static const struct {
		const char *why, *text;
		int columns;
		const char *want;
	} cases[] = {
		{"empty", "", 10, ""},
		{"fits", "one two", 7, "one two\n"},
		{"one too many", "one two", 6, "one\ntwo\n"},
		{"blanks at the break go", "one    two", 5, "one\ntwo\n"},
		{"blanks inside stay", "a  b  c", 7, "a  b  c\n"},
		{"blanks at the end go", "one   ", 3, "one\n"},
		{"a blank more than fits", "one two ", 7, "one two\n"},
		{"line feed breaks", "a\nb", 10, "a\nb\n"},
		{"empty line stays", "a\n\nb", 10, "a\n\nb\n"},
		{"ending line feed adds nothing", "a\n", 10, "a\n"},
		{"only a line feed", "\n", 10, "\n"},
		{"blanks at the start stay", "  a b", 4, "  a\nb\n"},
		{"a long word is cut", "abcdefgh", 3, "abc\ndef\ngh\n"},
		{"a long word behind a short one", "ab cdefgh", 4, "ab\ncdef\ngh\n"},
		{"a long word after blanks", "  abcdef", 4, "  ab\ncdef\n"},
		{"accents count as one column", "éé éé", 5, "éé éé\n"},
		{"accents one column short", "éé éé", 4, "éé\néé\n"},
		{"a combining mark takes none",
			"e\xCC\x81"
			"e\xCC\x81 x",
			4,
			"e\xCC\x81"
			"e\xCC\x81 x\n"},
		{"wide letters take two", "中中中", 5, "中中\n中\n"},
		{"a wide letter in one column", "中中", 1, "中\n中\n"},
		{"a no-break space does not break",
			"a\xC2\xA0"
			"b c",
			3,
			"a\xC2\xA0"
			"b\nc\n"},
		{"no columns count as one", "ab", 0, "a\nb\n"},
		{"faulty bytes take four each", "\xff\xff", 7, "\xff\n\xff\n"},
		{"tabs are blanks", "a\tb", 2, "a\nb\n"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct text got;
		text_init(&got);
		text_wrap(cases[i].text, strlen(cases[i].text), cases[i].columns, add_line, &got);
		if (strcmp(got.at, cases[i].want) != 0)
			fail_msg("%s: want\n%s\ngot\n%s", cases[i].why, cases[i].want, got.at);
		text_release(&got);
	}
}

static int check_width(void *to, const char *at, size_t len)
{
	int columns = *(int *)to;
	if (utf8_width(at, len) > (size_t)columns)
		fail_msg("\"%.*s\" is wider than %d", (int)len, at, columns);
	return 0;
}

static void no_line_is_wider_than_asked(void **state)
{
	(void)state;
	static const char text[] =
		"The bar's underside stands above the tissue by the clearance; "
		"Σσ ≤ 中文 and averyveryverylongwordthatmustbecut \x01 end.\n  in";
	for (int columns = 8; columns < 100; columns++)
		text_wrap(text, sizeof text - 1, columns, check_width, &columns);
}

static void lines_wrapped_where_written_become_running_text(void **state)
{
	(void)state;
	static const struct {
		const char *text, *want;
	} cases[] = {
		{"", ""},
		{"\n", "\n"},
		{"a\nb\nc\n", "a b c\n"},
		{"a\n\nb\nc", "a\n\nb c"},
		{"a\n\n\nb", "a\n\n\nb"},
		{"a\n  b\nc", "a\n  b c"},
		{"a:\n- b\n- c\n  d", "a:\n- b\n- c\n  d"},
		{"a\n* b", "a\n* b"},
		{"5 -\n-3", "5 - -3"},
		{"\na", "\na"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char got[64];
		snprintf(got, sizeof got, "%s", cases[i].text);
		text_fill(got, strlen(got));
		assert_string_equal(got, cases[i].want);
	}
}

static int stop_at_second(void *to, const char *at, size_t len)
{
	(void)at;
	(void)len;
	return ++*(int *)to == 2;
}

static void wrapping_stops_when_told(void **state)
{
	(void)state;
	int count = 0;
	text_wrap("a b c d", 7, 1, stop_at_second, &count);
	assert_int_equal(count, 2);
}

static void copied_page_lives_on_its_own(void **state)
{
	(void)state;
	struct arena first = {0}, second = {0};
	struct page from, to;
	page_init(&from, &first, "Title", NULL);
	page_add(&from, BLOCK_TEXT, "depth %d mm", 3);
	page_row(&from, "Height", "%s", "4.5 mm");
	struct canvas *c = canvas_new(&first, 1, 3);
	canvas_text(c, 0, 0, "abc", INK_WORK);
	const char *words[] = {"a then b", "b then c"};
	struct figure figure = {"Drawing", c, words, 2};
	page_figure(&from, &figure);

	page_init(&to, &second, "Other", NULL);
	page_add_copy(&to, &from);
	memset(c->cell, 0, 3 * sizeof *c->cell);
	figure = (struct figure){0};
	arena_release(&first);

	assert_false(to.out);
	const struct block *b = to.first;
	assert_string_equal(b->text, "depth 3 mm");
	b = b->next;
	assert_int_equal(b->kind, BLOCK_ROW);
	assert_string_equal(b->text, "Height");
	assert_string_equal(b->value, "4.5 mm");
	b = b->next;
	assert_int_equal(b->figure->canvas->cell[2].glyph, 'c');
	assert_string_equal(b->figure->title, "Drawing");
	assert_string_equal(b->figure->words[1], "b then c");
	assert_ptr_equal(b, to.last);
	arena_release(&second);
}

static void every_failed_allocation_is_noticed(void **state)
{
	(void)state;
	for (unsigned long n = 1; n < 40; n++) {
		struct arena a = {0};
		struct page p, q;
		char big[20000];
		memset(big, 'x', sizeof big);
		mem_fail_at(n, 0);
		page_init(&p, &a, "T", NULL);
		page_add_text(&p, BLOCK_TEXT, big, sizeof big);
		page_row(&p, "label", "%.*s", (int)sizeof big, big);
		page_init(&q, &a, "T", NULL);
		page_add_copy(&q, &p);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		arena_release(&a);
		if (!failed) {
			assert_true(n > 3);
			return;
		}
		if (!q.out)
			fail_msg("request %lu failed and nobody noticed", n);
	}
	fail_msg("the end was not reached");
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(wrapping_breaks_at_blanks_and_keeps_everything_else),
		cmocka_unit_test(no_line_is_wider_than_asked),
		cmocka_unit_test(lines_wrapped_where_written_become_running_text),
		cmocka_unit_test(wrapping_stops_when_told),
		cmocka_unit_test(copied_page_lives_on_its_own),
		cmocka_unit_test(every_failed_allocation_is_noticed),
	};
	return cmocka_run_group_tests_name("page", tests, NULL, NULL);
}
