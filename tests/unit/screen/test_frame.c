/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Frames without a terminal: whole screens as text. */
#include "canvas_rows.h"
#include "near.h"

#include <locale.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

#include "screen/frame.h"

static struct arena arena;
static struct field field;

static int clear(void **state)
{
	(void)state;
	arena_release(&arena);
	return 0;
}

static const char *words[] = {"the bar stands 4.0 mm above the datum"};

static void fill_page(struct page *p)
{
	page_init(p, &arena, "Space for the bar", "task 3");
	page_add(p, BLOCK_TEXT, "Underside 1.5 mm above\nthe tissue.\n\nMeasure at 45.");
	page_row(p, "Tissue at 45", "%s", "2.5 mm");
	page_row(p, "Matrix", "%s", "14.2 mm, its inner surface");
	struct canvas *c = canvas_new(&arena, 5, 12);
	canvas_box(c, 1, 0, 3, 12);
	canvas_fill(c, 2, 2, 1, 8, 0x2588, INK_WORK);
	struct figure *f = arena_new(&arena, struct figure);
	*f = (struct figure){"Section", c, words, 1};
	page_figure(p, f);
	page_add(p, BLOCK_CAUTION, "Dust harms the lungs.");
	page_add(p, BLOCK_GOOD, "4.5 mm fits.");
	page_add(p, BLOCK_BAD, "5.0 mm does not.");
	page_add(p, BLOCK_ITEM, "one\nand the same");
	page_add(p, BLOCK_EXACT, "a = b\n    + c");
}

static const struct question thickness = {
	.kind = ASK_LINE, .prompt = "Thickness at 45", .unit = "mm", .words = "steps, skip"};

static struct view view_of(const struct page *p, const struct question *q)
{
	field_set(&field, "4,5");
	return (struct view){.look = {.utf8 = true, .ticks = true},
		.page = p,
		.question = q,
		.field = &field,
		.place = !q                      ? PLACE_KEYS
			 : q->kind == ASK_CHOICE ? PLACE_LIST
						 : PLACE_FIELD};
}

/* Trailing blanks cut, each row ended by LF. */
static void add_row(const struct row *r, int cols, struct arena *a, struct text *out)
{
	struct canvas *c = canvas_new(a, 1, cols);
	for (const struct segment *s = r->first; c && s; s = s->next) {
		const char *text = arena_copy(a, s->text, s->len);
		if (text)
			canvas_text(c, 0, s->col, text, INK_PLAIN);
	}
	if (c)
		canvas_rows(c, 0, out);
	else
		out->out = true;
}

static void frame_rows(const struct frame *f, int rows, int cols, struct text *out)
{
	struct arena a = {0};
	for (int i = 0; i < rows; i++)
		add_row((size_t)i < f->rows.n ? &f->rows.at[i] : &(struct row){0}, cols, &a, out);
	arena_release(&a);
}

static struct frame shows(const char *why, struct view *v, int rows, int cols, const char *want)
{
	struct frame f;
	struct text got;
	text_init(&got);
	frame_make(v, rows, cols, &arena, &f);
	assert_false(f.rows.out);
	frame_rows(&f, rows, cols, &got);
	if (strcmp(got.at, want) != 0)
		fail_msg("%s: want\n%s\ngot\n%s", why, want, got.at);
	text_release(&got);
	return f;
}

static void cursor_is(const struct frame *f, int row, int col)
{
	if (f->cursor_row != row || f->cursor_col != col)
		fail_msg("the cursor is at %d,%d, want %d,%d", f->cursor_row, f->cursor_col, row,
			col);
}

#define RULE60 " ──────────────────────────────────────────────────────────\n"

static void page_and_field_fill_the_screen(void **state)
{
	(void)state;
	struct page p;
	fill_page(&p);
	struct view v = view_of(&p, &thickness);
	struct frame f = shows("whole", &v, 32, 60,
		" Space for the bar                                   task 3\n" RULE60
		" Underside 1.5 mm above the tissue.\n"
		"\n"
		" Measure at 45.\n"
		"\n"
		" Tissue at 45  2.5 mm\n"
		" Matrix        14.2 mm, its inner surface\n"
		"\n"
		" Section\n"
		" ┌──────────┐\n"
		" │ ████████ │\n"
		" └──────────┘\n"
		"\n"
		" ! Caution:\n"
		"   Dust harms the lungs.\n"
		"\n"
		" ✓ 4.5 mm fits.\n"
		"\n"
		" ✗ 5.0 mm does not.\n"
		"\n"
		" • one and the same\n"
		"\n"
		"   a = b\n"
		"       + c\n" RULE60 " Thickness at 45\n"
		" > 4,5                      mm\n"
		" Also: steps, skip\n"
		"\n\n"
		" Enter answer   Esc back   F1 keys   Tab read\n");
	cursor_is(&f, 27, 6);
}

static void the_least_size_scrolls_and_ascii_stands_in(void **state)
{
	(void)state;
	struct page p;
	fill_page(&p);
	struct view v = view_of(&p, &thickness);
	v.look = (struct look){0};
	v.fault = "that is too long";
	v.reveal = true;
	v.reveal_block = 6; /* the bad news */
	struct frame f = shows("end", &v, 16, 60,
		" Space for the bar                                   task 3\n"
		" ---------------------------------------- 15 lines above --\n"
		" [ok] 4.5 mm fits.\n"
		"\n"
		" [not ok] 5.0 mm does not.\n"
		"\n"
		" - one and the same\n"
		"\n"
		"   a = b\n"
		"       + c\n"
		" ----------------------------------------------------------\n"
		" Thickness at 45\n"
		" > 4,5                      mm\n"
		" ! that is too long\n"
		" Also: steps, skip\n"
		" Enter answer   Esc back   F1 keys   PgDn PgUp scroll\n");
	cursor_is(&f, 12, 6);
	v.top = 3;
	v.reading = true;
	v.place = PLACE_TEXT;
	f = shows("middle", &v, 16, 60,
		" Space for the bar                                   task 3\n"
		" ----------------------------------------- 3 lines above --\n"
		"\n"
		" Tissue at 45  2.5 mm\n"
		" Matrix        14.2 mm, its inner surface\n"
		"\n"
		" Section\n"
		" +----------+\n"
		" | ######## |\n"
		" +----------+\n"
		" ---------------------------------------- 12 lines below --\n"
		" Thickness at 45\n"
		" > 4,5                      mm\n"
		" ! that is too long\n"
		" Also: steps, skip\n"
		" Esc back   F1 keys   PgDn PgUp scroll   q leave\n");
	cursor_is(&f, 2, 1);
}

static void figures_can_be_read_in_words(void **state)
{
	(void)state;
	struct page p;
	page_init(&p, &arena, "F", NULL);
	struct canvas *c = canvas_new(&arena, 1, 70);
	canvas_line(c, 0, 0, 0, 69, 0x2500, INK_PLAIN);
	struct figure f = {"Section", c, words, 1};
	page_figure(&p, &f);
	struct view v = view_of(&p, NULL);
	static const char told[] =
		" F\n" RULE60 " Section\n • the bar stands 4.0 mm above the datum\n"
		"\n\n\n\n\n\n\n\n\n\n\n Esc back to the page\n";
	shows("too wide to draw", &v, 16, 60, told);
	c->cell[69] = (struct cell){0};
	memset(&c->cell[20], 0, 49 * sizeof *c->cell);
	v.look.words = true;
	shows("wished so", &v, 16, 60, told);
}

static const struct choice choices[] = {
	{"a", "Practise", "what is due, and a note that is long enough to be wrapped"},
	{"b", "Read", NULL},
	{"c", "A title far longer than the others, so that notes stand below", "note of c"},
};

static void list_keeps_notes_in_a_column_or_below(void **state)
{
	(void)state;
	struct page p;
	page_init(&p, &arena, "Home", NULL);
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "What next?", .choice = choices, .nchoice = 2};
	struct view v = view_of(&p, &q);
	v.chosen = 1;
	struct frame f = shows("column", &v, 16, 60,
		" Home\n" RULE60 " What next?\n"
		"   1  Practise   what is due, and a note that is long\n"
		"                 enough to be wrapped\n"
		" > 2  Read\n"
		"\n\n\n\n\n\n\n\n\n"
		" Enter choose   Up Down move   Esc back   F1 keys   q leave\n");
	cursor_is(&f, 5, 3);
	q.nchoice = 3;
	v.chosen = 2;
	shows("below", &v, 16, 60,
		" Home\n" RULE60 " What next?\n"
		"   1  Practise\n"
		"      what is due, and a note that is long enough to be\n"
		"      wrapped\n"
		"   2  Read\n"
		" > 3  A title far longer than the others, so that notes\n"
		"      stand below\n"
		"      note of c\n"
		"\n\n\n\n\n"
		" Enter choose   Up Down move   Esc back   F1 keys   q leave\n");
}

/* Sixteen entries with a note each: there is no room for the notes, and then only that of the entry with
 * the cursor stands there, in full. */
static void a_long_list_shows_one_note(void **state)
{
	enum { MANY = 16 };
	struct choice many[MANY];
	struct page p;
	struct question q = {ASK_CHOICE, .prompt = "Which?", .choice = many, .nchoice = MANY};
	struct text seen;
	(void)state;
	for (size_t i = 0; i < MANY; i++)
		many[i] = (struct choice){NULL, "title", "a note that is told"};
	many[2].note = "the note of the third";
	page_init(&p, &arena, "Barwright", NULL);
	for (int rows = 16; rows <= 24; rows += 8) {
		struct view v = view_of(&p, &q);
		struct frame f;
		v.chosen = 2;
		frame_make(&v, rows, 60, &arena, &f);
		text_init(&seen);
		frame_rows(&f, rows, 60, &seen);
		assert_non_null(strstr(seen.at, ">  3"));
		assert_non_null(strstr(seen.at, "the note of the third"));
		assert_int_equal(strstr(seen.at, "a note that is told") != NULL, rows == 24);
		text_release(&seen);
	}
}

static void long_titles_wrap_beside_their_note(void **state)
{
	(void)state;
	struct page p;
	page_init(&p, &arena, "A title with so many words that it does not fit in one row",
		"K3.1, task 3 of 10");
	page_add(&p, BLOCK_TEXT, "text");
	struct view v = view_of(&p, NULL);
	v.confirm = "Leave now? ";
	struct frame f = shows("title", &v, 16, 60,
		" A title with so many words that it      K3.1, task 3 of 10\n"
		" does not fit in one row\n" RULE60 " text\n\n\n\n\n\n\n\n\n\n\n\n Leave now?\n");
	cursor_is(&f, 15, 12);
}

static void long_formula_goes_on_further_in(void **state)
{
	(void)state;
	struct page p;
	page_init(&p, &arena, "Steps", NULL);
	page_add(&p, BLOCK_EXACT,
		"d1\n"
		"    = abs(18.00 mm - 16.65 mm) / hypot(18.00 mm, 16.65 mm)\n"
		"    = 0.06");
	struct view v = view_of(&p, NULL);
	v.confirm = "Leave now? ";
	shows("formula", &v, 16, 60,
		" Steps\n" RULE60 "   d1\n"
		"       = abs(18.00 mm - 16.65 mm) / hypot(18.00 mm,\n"
		"           16.65 mm)\n"
		"       = 0.06\n"
		"\n\n\n\n\n\n\n\n\n Leave now?\n");
}

static void small_window_gets_one_sentence(void **state)
{
	(void)state;
	static const struct {
		int rows, cols;
		const char *want;
	} cases[] = {
		{10, 70,
			"Barwright needs 60 x 16 characters; this window has 70 x 10.\n"
			"\n\n\n\n\n\n\n\n\n"},
		{2, 30, "Barwright needs 60 x 16 charac\n\n"},
		{1, 1, "B\n"},
	};
	struct page p;
	fill_page(&p);
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct view v = view_of(&p, &thickness);
		struct frame f = shows("small", &v, cases[i].rows, cases[i].cols, cases[i].want);
		assert_true(f.too_small);
	}
}

/* Of every page and at every size: no row is wider than the screen, the cursor is on it. */
static void nothing_leaves_the_screen(void **state)
{
	(void)state;
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "What next?", .choice = choices, .nchoice = 3};
	for (int rows = 1; rows < 40; rows += 3)
		for (int cols = 1; cols < 170; cols += 7) {
			struct page p;
			struct frame f;
			fill_page(&p);
			struct view v = view_of(&p, rows % 2 ? &q : &thickness);
			frame_make(&v, rows, cols, &arena, &f);
			if (f.rows.n > (size_t)rows || f.cursor_row >= rows ||
				f.cursor_col > cols || f.cursor_row < 0)
				fail_msg("%d x %d: %zu rows, cursor at %d,%d", rows, cols, f.rows.n,
					f.cursor_row, f.cursor_col);
			for (size_t i = 0; i < f.rows.n; i++)
				for (struct segment *s = f.rows.at[i].first; s; s = s->next)
					if (s->col < 0 ||
						s->col + (int)utf8_width(s->text, s->len) > cols)
						fail_msg("%d x %d: row %zu: \"%.*s\" at %d", rows,
							cols, i, (int)s->len, s->text, s->col);
			arena_release(&arena);
		}
}

static void running_out_of_memory_is_said(void **state)
{
	(void)state;
	for (unsigned long n = 1; n < 2000; n++) {
		struct page p;
		struct frame f;
		struct arena own = {0};
		fill_page(&p);
		struct view v = view_of(&p, &thickness);
		mem_fail_at(n, 0);
		frame_make(&v, 30, 140, &own, &f);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		bool said = f.rows.out;
		arena_release(&own);
		arena_release(&arena);
		if (!failed) {
			assert_false(said);
			assert_true(n > 20);
			return;
		}
		if (!said)
			fail_msg("request %lu failed and nobody said so", n);
	}
	fail_msg("the end was not reached");
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(page_and_field_fill_the_screen, clear),
		cmocka_unit_test_teardown(the_least_size_scrolls_and_ascii_stands_in, clear),
		cmocka_unit_test_teardown(figures_can_be_read_in_words, clear),
		cmocka_unit_test_teardown(list_keeps_notes_in_a_column_or_below, clear),
		cmocka_unit_test_teardown(a_long_list_shows_one_note, clear),
		cmocka_unit_test_teardown(long_titles_wrap_beside_their_note, clear),
		cmocka_unit_test_teardown(long_formula_goes_on_further_in, clear),
		cmocka_unit_test_teardown(small_window_gets_one_sentence, clear),
		cmocka_unit_test_teardown(nothing_leaves_the_screen, clear),
		cmocka_unit_test_teardown(running_out_of_memory_is_said, clear),
	};
	return cmocka_run_group_tests_name("frame", tests, NULL, NULL);
}
