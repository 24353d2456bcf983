/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include "arena.h"
#include "out_of_memory.h"

#include <barwright/base/mem.h>
#include <barwright/base/random.h>

#include "figure/arch_figure.h"

/* Two of our own arches: symmetric with five sites, skewed with four. */
static const struct arch_site five[] = {
	{-16, -11, 2.05}, {-9, -3, 2.05}, {0, 0, 2.05}, {9, -3, 2.05}, {16, -11, 2.05}};
static const char *const lower_five[] = {"46", "44", "41", "34", "36"};
static const char *const upper_five[] = {"16", "14", "11", "24", "26"};
static const struct arch_site four[] = {
	{-18, -12, 2.05}, {-6, 0, 2.05}, {7, -1, 2.05}, {19, -14, 2.05}};
static const char *const lower_four[] = {"45", "42", "32", "35"};

static const struct figure *drawn(const struct arch_picture *p)
{
	struct figure *f = NULL;
	code_is(arch_figure(&arena, p, 60, 16, &f), FINE);
	return f;
}

static void lower_arch_has_its_front_at_the_bottom(void **state)
{
	(void)state;
	struct arch_picture p = {.site = five,
		.label = lower_five,
		.n = 5,
		.lower_jaw = true,
		.bar = true,
		.extension_right_mm = 10,
		.extension_left_mm = 10,
		.spread_line = true};
	drawing_is(drawn(&p), "patient's right                               patient's left\n"
			      "        ■╲                                         ╱■\n"
			      "          ╲ 10.0 mm                       10.0 mm ╱\n"
			      "           ╲                                     ╱\n"
			      "            ╲                                   ╱\n"
			      "             ╲┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄▲┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄╱\n"
			      "         46 ( ● )             ┆             ( ● ) 36\n"
			      "               ╲              ┆              ╱\n"
			      "                ╲╲            ┆            ╱╱\n"
			      "                  ╲           ┆ A-P ?     ╱\n"
			      "                44 ( ● )      ┆      ( ● ) 34\n"
			      "                      ────    ┆    ────\n"
			      "                          ──( ● )──\n"
			      "                             41\n"
			      "\n"
			      "├─────────┤ 10 mm           front ▼\n");
}

static void upper_arch_has_its_front_at_the_top(void **state)
{
	(void)state;
	struct arch_picture p = {.site = five,
		.label = upper_five,
		.n = 5,
		.bar = true,
		.extension_left_mm = 12,
		.left_text = "12 mm",
		.spread_line = true,
		.spread_text = "13.1 mm"};
	drawing_is(drawn(&p), "patient's right             front ▲           patient's left\n"
			      "\n"
			      "                           11\n"
			      "                   14   ──( ● )──  24\n"
			      "                  ( ● )─    ┆    ─( ● )\n"
			      "                  ╱╱        ┆        ╲╲\n"
			      "                ╱╱          ┆ 13.1 mm  ╲╲\n"
			      "               ╱            ┆            ╲\n"
			      "         16 ( ● )           ┆           ( ● ) 26\n"
			      "             ╱┄┄┄┄┄┄┄┄┄┄┄┄┄┄▼┄┄┄┄┄┄┄┄┄┄┄┄┄┄╲\n"
			      "                                            ╲\n"
			      "                                             ╲\n"
			      "                                        12 mm ╲\n"
			      "                                               ╲■\n"
			      "\n"
			      "├────────┤ 10 mm\n");
}

static void ascii_shows_the_same(void **state)
{
	(void)state;
	struct arch_load load = {16, -25, "200 N"};
	struct arch_picture p = {.site = four,
		.label = lower_four,
		.n = 4,
		.lower_jaw = true,
		.bar = true,
		.extension_left_mm = 8,
		.spread_line = true,
		.load = &load,
		.nload = 1};
	ascii_drawing_is(drawn(&p), "patient's right                               patient's left\n"
				    "\n"
				    "                                   200 N x\n"
				    "                                        8.0 mm #\n"
				    "                                              /\n"
				    "                                             /\n"
				    "                            ^ --------------/\n"
				    "         45 ( * )-----------:-            ( * ) 35\n"
				    "               \\            :             /\n"
				    "                \\\\           : A-P ?    //\n"
				    "                  \\          :        //\n"
				    "                   \\\\-       :     ---\n"
				    "                      ( * )-----( * )\n"
				    "                       42        32\n"
				    "\n"
				    "+-------+ 10 mm             front v\n");
}

static void facts_are_told_in_words(void **state)
{
	(void)state;
	struct arch_load load[] = {{16, -25.05, "200 N"}, {0, 3, NULL}};
	struct arch_picture p = {.site = five,
		.label = lower_five,
		.n = 5,
		.lower_jaw = true,
		.bar = true,
		.extension_right_mm = 10,
		.extension_left_mm = 12,
		.left_text = "?",
		.spread_line = true,
		.load = load,
		.nload = 2};
	const struct figure *f = drawn(&p);

	fact_is_told(f, "lower arch, 5 sites from the patient's right to left");
	fact_is_told(f,
		"site 46: 16.0 mm to the patient's right, 11.0 mm behind the midline point, "
		"diameter 4.1 mm");
	fact_is_told(f, "site 41: at the midline point, diameter 4.1 mm");
	fact_is_told(f, "extension on the right, along the bar from the distal surface: 10.0 mm");
	fact_is_told(f, "extension on the left, along the bar from the distal surface: ?");
	fact_is_told(f,
		"A-P spread, square to the line touching the distal surfaces of the two end "
		"sites: ?");
	fact_is_told(f, "load 200 N: 16.0 mm to the patient's left, 25.05 mm behind the midline "
			"point");
	fact_is_told(f, "load ?: on the midline, 3.0 mm in front of the midline point");
}

static void decimal_comma_is_used_throughout(void **state)
{
	(void)state;
	struct arch_picture p = {.site = five,
		.label = lower_five,
		.n = 5,
		.bar = true,
		.extension_right_mm = 10.5,
		.decimal = ','};
	const struct figure *f = drawn(&p);
	int row, col;

	find_text(f, "10,5 mm", &row, &col);
	fact_is_told(f, "extension on the right, along the bar from the distal surface: 10,5 mm");
}

/* Read back from the drawing with its own scale bar, a distance is right to a cell: an instrument
 * outside the code that drew it. */
static void distances_read_off_the_drawing_are_true(void **state)
{
	(void)state;
	static const uint32_t disc = 0x25CF;
	struct arch_picture p = {.site = four, .label = lower_four, .n = 4};
	const struct canvas *c = drawn(&p)->canvas;
	int col[4], row[4], n = 0, bar = 0;

	for (int k = 0; k < c->cols; k++)
		for (int r = 0; r < c->rows; r++)
			if (c->cell[r * c->cols + k].glyph == disc && n < 4)
				col[n] = k, row[n++] = r;
	assert_int_equal(n, 4);
	while (c->cell[(c->rows - 1) * c->cols + bar].glyph != 0x2524 && bar < c->cols - 1)
		bar++;
	double mm = 10.0 / bar;
	for (int i = 1; i < 4; i++) {
		near("across", (col[i] - col[0]) * mm, four[i].x_mm - four[0].x_mm, mm);
		near("along", (row[0] - row[i]) * 2 * mm, four[i].y_mm - four[0].y_mm, 2 * mm);
	}
}

/* Drawn arches of many shapes: every number has found a place. */
static void every_tooth_number_finds_a_place(void **state)
{
	(void)state;
	struct draw_key key = {.item = "arch figure"};
	struct stream s;
	stream_open(&s, &key);
	for (int round = 0; round < 300; round++) {
		struct arch_site site[6];
		static const char *const label[] = {"17", "15", "13", "23", "25", "27"};
		size_t n = 4 + stream_below(&s, 3);
		double width = 36 + stream_below(&s, 20), depth = 8 + stream_below(&s, 12);
		for (size_t i = 0; i < n; i++) {
			double x = 2 * (double)i / (double)(n - 1) - 1;
			x += (stream_below(&s, 100) - 50.0) / 1000;
			site[i] = (struct arch_site){x * width / 2, -depth * x * x, 2.05};
		}
		struct arch_picture p = {.site = site,
			.label = label,
			.n = n,
			.bar = true,
			.lower_jaw = round % 2,
			.spread_line = true,
			.extension_right_mm = stream_below(&s, 15),
			.extension_left_mm = 5};
		const struct figure *f = drawn(&p);
		int row, col;
		for (size_t i = 0; i < n; i++)
			find_text(f, label[i], &row, &col);
		find_text(f, "5.0 mm", &row, &col);
		find_text(f, "?", &row, &col);
		arena_release(&arena);
	}
}

static void what_cannot_be_drawn_is_refused(void **state)
{
	(void)state;
	struct arch_site odd[] = {{NAN, 0, 2}, {1, 2, 2}, {5, 5, 2}};
	struct arch_site reversed[] = {{16, -11, 2.05}, {0, 0, 2.05}, {-16, -11, 2.05}};
	struct figure *f = NULL;

	code_is(arch_figure(&arena, &(struct arch_picture){.site = five, .n = 1}, 60, 16, &f),
		BAD_COUNT);
	code_is(arch_figure(&arena, &(struct arch_picture){.site = odd, .n = 3}, 60, 16, &f),
		BAD_RANGE);
	code_is(arch_figure(&arena,
			&(struct arch_picture){.site = reversed, .n = 3, .spread_line = true}, 60,
			16, &f),
		BAD_ORDER);
	code_is(arch_figure(&arena, &(struct arch_picture){.site = five, .n = 5}, 20, 16, &f),
		BAD_SIZE);
	code_is(arch_figure(&arena,
			&(struct arch_picture){
				.site = five, .n = 5, .bar = true, .extension_left_mm = -1},
			60, 16, &f),
		BAD_RANGE);
	assert_null(f);
}

static enum bad draw(void *p)
{
	struct figure *f = NULL;
	struct arena own = {0};
	enum bad code = arch_figure(&own, p, 60, 16, &f);

	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	struct arch_picture p = {.site = five,
		.label = lower_five,
		.n = 5,
		.bar = true,
		.extension_left_mm = 12,
		.spread_line = true};

	runs_out_of_memory("arch", draw, &p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(lower_arch_has_its_front_at_the_bottom, release),
		cmocka_unit_test_teardown(upper_arch_has_its_front_at_the_top, release),
		cmocka_unit_test_teardown(ascii_shows_the_same, release),
		cmocka_unit_test_teardown(facts_are_told_in_words, release),
		cmocka_unit_test_teardown(decimal_comma_is_used_throughout, release),
		cmocka_unit_test_teardown(distances_read_off_the_drawing_are_true, release),
		cmocka_unit_test_teardown(every_tooth_number_finds_a_place, release),
		cmocka_unit_test_teardown(what_cannot_be_drawn_is_refused, release),
		cmocka_unit_test_teardown(running_out_of_memory_is_a_code, release),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
