/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <locale.h>
#include <stdbool.h>
#include <string.h>

#include <barwright/base/bad.h>
#include <barwright/base/utf8.h>

#include "screen/field.h"

static const struct {
	char key;
	void (*edit)(struct field *);
} edits[] = {{'<', field_left}, {'>', field_right}, {'^', field_home}, {'$', field_end},
	{'#', field_rub}, {'%', field_delete}, {'0', field_clear}, {'w', field_rub_word}};

/* Small letters but w are typed; the other signs are the edits above. */
static void press(struct field *f, const char *keys)
{
	size_t len = strlen(keys);
	uint32_t code;
	for (size_t i = 0; i < len;) {
		i += utf8_read(keys + i, len - i, &code);
		bool edited = false;
		for (size_t k = 0; k < sizeof edits / sizeof *edits; k++)
			if (code == (uint32_t)edits[k].key) {
				edits[k].edit(f);
				edited = true;
			}
		if (!edited)
			field_insert(f, code);
	}
}

static void keys_edit_as_expected(void **state)
{
	(void)state;
	static const struct {
		const char *why, *keys, *want;
		size_t at;
	} cases[] = {
		{"typing", "abc", "abc", 3},
		{"in the middle", "ac<b", "abc", 2},
		{"left at the start stays", "a<<<b", "ba", 1},
		{"right at the end stays", "a>>b", "ab", 2},
		{"rub at the start does nothing", "a^#", "a", 0},
		{"delete at the end does nothing", "a%", "a", 1},
		{"rub", "abc<#", "ac", 1},
		{"delete", "abc<<%", "ac", 1},
		{"home and end", "b^a$c", "abc", 3},
		{"clear", "abc0d", "d", 1},
		{"a word", "one tao w", "one ", 4},
		{"a word from its middle", "one tao<w", "one o", 4},
		{"a word at the start", "one^w", "one", 0},
		{"a mark goes with its letter", "ae\xCC\x81#", "a", 1},
		{"left over a letter and its mark", "ae\xCC\x81<b", "abe\xCC\x81", 2},
		{"delete takes the mark along",
			"e\xCC\x81"
			"a^%",
			"a", 0},
		{"wide letters", "中文<#", "文", 0},
		{"controls are not typed",
			"a\x01\x1b"
			"b",
			"ab", 2},
		{"nor overrides",
			"a\xE2\x80\xAE"
			"b",
			"ab", 2},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct field f = {0};
		char got[REPLY_ROOM];
		press(&f, cases[i].keys);
		field_text(&f, got);
		if (strcmp(got, cases[i].want) != 0 || f.at != cases[i].at ||
			f.bytes != strlen(got))
			fail_msg("%s: want \"%s\" at %zu, got \"%s\" at %zu, %zu bytes",
				cases[i].why, cases[i].want, cases[i].at, got, f.at, f.bytes);
	}
}

static void field_holds_what_a_reply_holds_and_no_more(void **state)
{
	(void)state;
	struct field f = {0};
	char text[REPLY_ROOM];
	while (field_insert(&f, 0x2264)) /* three bytes each */
		continue;
	assert_int_equal(f.bytes, 255);
	assert_false(field_insert(&f, 'x'));
	field_rub(&f);
	assert_false(field_insert(&f, 0x1F600)); /* four do not fit */
	assert_true(field_insert(&f, 'x'));
	field_text(&f, text);
	assert_int_equal(strlen(text), f.bytes);
	assert_int_equal(utf8_valid(text, strlen(text)), strlen(text));
}

static void text_to_start_with_is_filtered(void **state)
{
	(void)state;
	struct field f;
	char text[REPLY_ROOM], big[600];
	field_set(&f, "4\x1b[A,\xff"
		      "5\n");
	field_text(&f, text);
	assert_string_equal(text, "4[A,5");
	memset(big, 'x', sizeof big - 1);
	big[sizeof big - 1] = '\0';
	field_set(&f, big);
	assert_int_equal(f.n, REPLY_ROOM - 1);
	assert_int_equal(f.at, f.n);
}

/* Wherever the cursor is, it is in the window, and the window is not wider than asked. */
static void cursor_is_always_in_the_window(void **state)
{
	(void)state;
	struct field f;
	field_set(&f, "ab中c文de\xCC\x81"
		      "fghij中中中k");
	for (int columns = 2; columns < 30; columns++)
		for (f.at = 0; f.at <= f.n; f.at++) {
			size_t from, to;
			field_window(&f, columns, &from, &to);
			int before = field_width(&f, from, f.at);
			if (from > f.at || to < f.at || before > columns - 1 ||
				field_width(&f, from, to) > columns)
				fail_msg("%d columns, cursor %zu: %zu to %zu", columns, f.at, from,
					to);
		}
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(keys_edit_as_expected),
		cmocka_unit_test(field_holds_what_a_reply_holds_and_no_more),
		cmocka_unit_test(text_to_start_with_is_filtered),
		cmocka_unit_test(cursor_is_always_in_the_window),
	};
	return cmocka_run_group_tests_name("field", tests, NULL, NULL);
}
