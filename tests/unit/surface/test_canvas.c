/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "canvas_rows.h"
#include "near.h"

#include <limits.h>
#include <locale.h>
#include <string.h>

#include <barwright/base/bad.h>
#include <barwright/base/utf8.h>

#include "surface/canvas.h"
#include "surface/charset.h"

static struct arena arena;

static int clear(void **state)
{
	(void)state;
	arena_release(&arena);
	return 0;
}

static void shows(const char *why, const struct canvas *c, int ascii, const char *want)
{
	struct text got;
	text_init(&got);
	canvas_rows(c, ascii, &got);
	if (strcmp(got.at, want) != 0)
		fail_msg("%s: want\n%s\ngot\n%s", why, want, got.at);
	text_release(&got);
}

static struct canvas *blank(int rows, int cols)
{
	struct canvas *c = canvas_new(&arena, rows, cols);
	assert_non_null(c);
	return c;
}

static void drawing_is_the_same_in_utf8_and_in_ascii(void **state)
{
	(void)state;
	struct canvas *c = blank(5, 16);
	canvas_box(c, 0, 0, 5, 16);
	canvas_text_centre(c, 1, 7, "Ø 4.1 µm", INK_STRONG);
	canvas_line(c, 3, 2, 3, 13, 0x2500, INK_WORK);
	canvas_put(c, 3, 2, 0x2190, INK_MARK);
	canvas_put(c, 3, 13, 0x2192, INK_MARK);
	shows("UTF-8", c, 0,
		"┌──────────────┐\n│  Ø 4.1 µm    │\n│              │\n│ ←──────────→ "
		"│\n└──────────────┘\n");
	shows("ASCII", c, 1,
		"+--------------+\n|  O 4.1 um    |\n|              |\n| <----------> "
		"|\n+--------------+\n");
}

static void what_falls_outside_is_not_drawn(void **state)
{
	(void)state;
	struct canvas *c = blank(3, 5);
	canvas_put(c, -1, 0, 'x', INK_PLAIN);
	canvas_put(c, 3, 0, 'x', INK_PLAIN);
	canvas_put(c, 0, 5, 'x', INK_PLAIN);
	canvas_text(c, 1, -2, "abcdefghij", INK_PLAIN);
	canvas_line(c, -100, -100, -50, 7, '#', INK_PLAIN);
	canvas_line(c, 0, INT_MIN, 2, INT_MAX, '#', INK_PLAIN);
	canvas_fill(c, 2, 3, INT_MAX, INT_MAX, '.', INK_PLAIN);
	canvas_fill(c, INT_MAX, 0, INT_MAX, 1, '!', INK_PLAIN);
	shows("clipped", c, 1, "\ncdefg\n   ..\n");
}

static void line_hits_the_same_cells_from_both_ends(void **state)
{
	(void)state;
	for (int row = -4; row < 12; row++)
		for (int col = -4; col < 24; col++) {
			struct canvas *there = blank(8, 20), *back = blank(8, 20);
			canvas_line(there, 3, 7, row, col, '#', INK_PLAIN);
			canvas_line(back, row, col, 3, 7, '#', INK_PLAIN);
			size_t size = 8 * 20 * sizeof *there->cell;
			if (memcmp(there->cell, back->cell, size) != 0)
				fail_msg("3,7 to %d,%d differs from its reverse", row, col);
			arena_release(&arena);
		}
}

static void slanting_line_is_one_glyph_a_column(void **state)
{
	(void)state;
	struct canvas *c = blank(3, 7);
	canvas_line(c, 0, 0, 2, 6, '*', INK_PLAIN);
	shows("flat slope", c, 1, "**\n  ***\n     **\n");
}

static void text_can_end_at_a_column_or_stand_in_its_middle(void **state)
{
	(void)state;
	struct canvas *c = blank(3, 9);
	assert_int_equal(canvas_text_right(c, 0, 8, "12.5 mm", INK_PLAIN), 7);
	assert_int_equal(canvas_text_centre(c, 1, 4, "µµµ", INK_PLAIN), 3);
	assert_int_equal(canvas_text_right(c, 2, 2, "longer", INK_PLAIN), 6);
	shows("placed", c, 0, "  12.5 mm\n   µµµ\nger\n");
}

static void span_is_what_is_drawn_on(void **state)
{
	(void)state;
	struct canvas *c = blank(6, 20);
	struct span none = canvas_span(c);
	assert_int_equal(none.end - none.first, 0);
	canvas_text(c, 2, 3, "ab", INK_PLAIN);
	canvas_text(c, 4, 0, "c    ", INK_PLAIN);
	struct span span = canvas_span(c);
	assert_int_equal(span.first, 2);
	assert_int_equal(span.end, 5);
	assert_int_equal(span.cols, 5);
}

static void unsafe_bytes_show_as_question_marks(void **state)
{
	(void)state;
	struct canvas *c = blank(1, 20);
	int taken = canvas_text(c, 0, 0,
		"a\x1b[2Jb\xE2\x80\xAE"
		"c\xff"
		"d\xE4\xB8\xAD\te",
		INK_PLAIN);
	assert_int_equal(taken, 13);
	shows("unsafe", c, 0, "a?[2Jb?c?d? e\n");
}

static void sizes_are_brought_into_range(void **state)
{
	(void)state;
	static const struct {
		int rows, cols, want_rows, want_cols;
	} sizes[] = {{0, 0, 1, 1}, {-5, 3, 1, 3}, {201, 401, 200, 400}, {INT_MAX, INT_MIN, 200, 1}};
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
		struct canvas *c = blank(sizes[i].rows, sizes[i].cols);
		assert_int_equal(c->rows, sizes[i].want_rows);
		assert_int_equal(c->cols, sizes[i].want_cols);
	}
}

static void running_out_of_memory_gives_null(void **state)
{
	(void)state;
	for (unsigned long n = 1; n <= 2; n++) {
		arena_release(&arena);
		mem_fail_at(n, 1);
		struct canvas *c = canvas_new(&arena, 200, 400);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		assert_true(failed);
		assert_null(c);
	}
}

/* Every glyph a drawing may be made of has a stand-in of its own: '?' would hide a line. */
static void box_drawing_arrows_and_shapes_have_ascii_stand_ins(void **state)
{
	(void)state;
	static const struct {
		uint32_t from, to;
	} ranges[] = {{0x20, 0x3E}, {0x40, 0x7E}, {0xC0, 0x17F}, {0x3A4, 0x3C9}, {0x2010, 0x2026},
		{0x2080, 0x208E}, {0x2190, 0x2199}, {0x2500, 0x25FC}};
	for (size_t i = 0; i < sizeof ranges / sizeof *ranges; i++)
		for (uint32_t code = ranges[i].from; code <= ranges[i].to; code++) {
			char got = charset_cell(code);
			if (got == '?' || got < 0x20 || got > 0x7E)
				fail_msg("U+%04X gives '%c'", (unsigned)code, got);
			if (code < 0x80)
				assert_int_equal(got, code);
		}
	assert_int_equal(charset_cell(0x4E2D), '?');
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(drawing_is_the_same_in_utf8_and_in_ascii, clear),
		cmocka_unit_test_teardown(what_falls_outside_is_not_drawn, clear),
		cmocka_unit_test_teardown(line_hits_the_same_cells_from_both_ends, clear),
		cmocka_unit_test_teardown(slanting_line_is_one_glyph_a_column, clear),
		cmocka_unit_test_teardown(text_can_end_at_a_column_or_stand_in_its_middle, clear),
		cmocka_unit_test_teardown(span_is_what_is_drawn_on, clear),
		cmocka_unit_test_teardown(unsafe_bytes_show_as_question_marks, clear),
		cmocka_unit_test_teardown(sizes_are_brought_into_range, clear),
		cmocka_unit_test_teardown(running_out_of_memory_gives_null, clear),
		cmocka_unit_test_teardown(
			box_drawing_arrows_and_shapes_have_ascii_stand_ins, clear),
	};
	return cmocka_run_group_tests_name("canvas", tests, NULL, NULL);
}
