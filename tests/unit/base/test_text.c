/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory, growing texts and the filter for strangers' bytes. */
#include "near.h"

#include <locale.h>
#include <string.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

static void every_code_has_a_word_of_its_own(void **state)
{
	(void)state;
	for (int a = 0; a < BAD_COUNT_OF_CODES; a++) {
		assert_true(strlen(bad_word((enum bad)a)) > 1);
		assert_true(strlen(bad_text((enum bad)a)) > 8);
		for (int b = 0; b < a; b++)
			assert_string_not_equal(bad_word((enum bad)a), bad_word((enum bad)b));
	}
	assert_string_equal(bad_word((enum bad)9999), bad_word(BAD_RANGE));
}

static void arena_pieces_are_zero_aligned_and_apart(void **state)
{
	(void)state;
	struct arena a = {0};
	char *before = NULL;
	for (size_t size = 1; size < 40000; size = size * 3 + 1) {
		char *piece = arena_get(&a, size);
		assert_non_null(piece);
		assert_int_equal((uintptr_t)piece % _Alignof(max_align_t), 0);
		for (size_t i = 0; i < size; i++)
			assert_int_equal(piece[i], 0);
		memset(piece, 0x55, size);
		assert_ptr_not_equal(piece, before);
		before = piece;
	}
	arena_release(&a);
	assert_null(a.last);
	arena_release(&a);
}

static void an_impossible_size_is_refused(void **state)
{
	(void)state;
	struct arena a = {0};
	assert_null(arena_list(&a, SIZE_MAX / 2, 16));
	assert_null(arena_get(&a, SIZE_MAX - 3));
	arena_release(&a);
}

static void an_arena_remembers_that_a_piece_was_refused(void **state)
{
	(void)state;
	struct arena a = {0};
	assert_non_null(arena_get(&a, 1));
	mem_fail_at(1, 0);
	assert_null(arena_get(&a, 1 << 20));
	mem_fail_at(0, 0);
	assert_true(a.out);
	assert_non_null(arena_get(&a, 1));
	assert_true(a.out);
	arena_clear(&a);
	assert_false(a.out);
	assert_null(arena_list(&a, SIZE_MAX / 2, 3));
	assert_true(a.out);
	arena_release(&a);
	assert_false(a.out);
}

static void memory_that_runs_out_is_said_once_and_loses_nothing(void **state)
{
	(void)state;
	struct text t;
	text_init(&t);
	text_add(&t, "kept");
	mem_fail_at(1, 1);
	text_add_repeat(&t, 'x', 1000);
	text_add(&t, "more");
	mem_fail_at(0, 0);
	assert_true(t.out);
	assert_string_equal(t.at, "kept");
	text_clear(&t);
	text_addf(&t, "%d %s", 12, "again");
	assert_string_equal(t.at, "12 again");
	text_release(&t);
	assert_string_equal(t.at, "");
}

struct utf8_case {
	const char *why, *bytes;
	size_t valid;
};
/* Well-formed and ill-formed sequences of The Unicode Standard 15.0, table 3-7. */
static const struct utf8_case utf8_cases[] = {
	{"ASCII", "abc", 3},
	{"two bytes", "\xC2\x80", 2},
	{"overlong two bytes", "\xC1\xBF", 0},
	{"three bytes", "\xE2\x82\xAC", 3},
	{"overlong three bytes", "\xE0\x9F\xBF", 0},
	{"first surrogate", "\xED\xA0\x80", 0},
	{"last before surrogates", "\xED\x9F\xBF", 3},
	{"four bytes", "\xF0\x90\x80\x80", 4},
	{"overlong four bytes", "\xF0\x8F\xBF\xBF", 0},
	{"last of all", "\xF4\x8F\xBF\xBF", 4},
	{"beyond the last", "\xF4\x90\x80\x80", 0},
	{"cut off", "a\xE2\x82", 1},
	{"stray continuation", "a\x80", 1},
};

static void utf8_is_read_as_the_standard_says(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof utf8_cases / sizeof *utf8_cases; i++) {
		const struct utf8_case *c = &utf8_cases[i];
		if (utf8_valid(c->bytes, strlen(c->bytes)) != c->valid)
			fail_msg("%s: want %zu good bytes, got %zu", c->why, c->valid,
				utf8_valid(c->bytes, strlen(c->bytes)));
	}
}

static void writing_and_reading_every_code_point_agree(void **state)
{
	(void)state;
	for (uint32_t code = 0; code <= 0x10FFFF; code++) {
		char s[4];
		uint32_t back = 0;
		size_t n = utf8_write(code, s);
		if (code >= 0xD800 && code <= 0xDFFF) {
			assert_int_equal(n, 0);
			continue;
		}
		if (utf8_read(s, n, &back) != n || back != code)
			fail_msg("U+%04X comes back as U+%04X", (unsigned)code, (unsigned)back);
	}
}

static void strangers_bytes_cannot_move_the_cursor(void **state)
{
	(void)state;
	static const struct {
		const char *raw, *shown;
	} cases[] = {
		{"plain \xC3\xA9", "plain \xC3\xA9"},
		{"\033[2J", "<U+001B>[2J"},
		{"a\xC2\x9B" "31m", "a<U+009B>31m"},
		{"left\xE2\x80\xAEright", "left<U+202E>right"},
		{"iso\xE2\x81\xA6late", "iso<U+2066>late"},
		{"arabic mark \xD8\x9C", "arabic mark <U+061C>"},
		{"zero\xE2\x80\x8Bwidth", "zero<U+200B>width"},
		{"tag\xF3\xA0\x81\x81", "tag<U+E0041>"},
		{"bad \xFF\xFE", "bad <FF><FE>"},
		{"line\nbreak\ttab", "line<U+000A>break tab"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct text t;
		text_init(&t);
		text_add_safe(&t, cases[i].raw, strlen(cases[i].raw), false);
		assert_string_equal(t.at, cases[i].shown);
		assert_int_equal(utf8_width(cases[i].raw, strlen(cases[i].raw)), utf8_count(t.at, t.len));
		text_release(&t);
	}
}

static void lines_are_kept_where_they_are_wanted(void **state)
{
	(void)state;
	struct text t;
	text_init(&t);
	text_add_safe(&t, "a\nb\r", 4, true);
	assert_string_equal(t.at, "a\nb<U+000D>");
	text_release(&t);
}

/* "[" and "{" differ as "A" and "a" do; letters beyond ASCII have no small ones here. */
static void capitals_of_ascii_count_as_small_letters(void **state)
{
	(void)state;
	static const struct {
		const char *a, *b;
		size_t len;
		bool want;
	} cases[] = {
		{"SKIP", "skip", 4, true},
		{"Skip", "sKIP", 4, true},
		{"skipped", "SKIPPING", 5, true},
		{"skipped", "SKIPPING", 6, false},
		{"[a]", "{a}", 3, false},
		{"@", "`", 1, false},
		{"\xC3\x84", "\xC3\xA4", 2, false},
		{"a", "b", 0, true},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		if (text_is_same(cases[i].a, cases[i].b, cases[i].len) != cases[i].want)
			fail_msg("%s and %s, %zu bytes: want them %s", cases[i].a, cases[i].b, cases[i].len,
				cases[i].want ? "the same" : "different");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_code_has_a_word_of_its_own),
		cmocka_unit_test(arena_pieces_are_zero_aligned_and_apart),
		cmocka_unit_test(an_impossible_size_is_refused),
		cmocka_unit_test(an_arena_remembers_that_a_piece_was_refused),
		cmocka_unit_test(memory_that_runs_out_is_said_once_and_loses_nothing),
		cmocka_unit_test(utf8_is_read_as_the_standard_says),
		cmocka_unit_test(writing_and_reading_every_code_point_agree),
		cmocka_unit_test(strangers_bytes_cannot_move_the_cursor),
		cmocka_unit_test(lines_are_kept_where_they_are_wanted),
		cmocka_unit_test(capitals_of_ascii_count_as_small_letters),
	};
	setlocale(LC_CTYPE, "C.UTF-8");
	return cmocka_run_group_tests(tests, NULL, NULL);
}
