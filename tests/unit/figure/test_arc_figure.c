/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include "arena.h"
#include "out_of_memory.h"

#include <barwright/base/mem.h>

#include "figure/arc_figure.h"

static void arc_shows_chord_and_arms(void **state)
{
	(void)state;
	struct arc_picture p = {.radius_mm = 25,
		.arc_mm = 15,
		.site_radius_mm = 2.05,
		.arc_text = "15.0 mm",
		.chord_text = "?",
		.bending_text = "14.1 mm",
		.torsion_text = "?",
		.load_text = "200 N"};
	struct figure *f = NULL;

	code_is(arc_figure(&arena, &p, 60, 16, &f), FINE);
	drawing_is(f, "\n"
		      "\n"
		      "\n"
		      "\n"
		      "            bending arm 14.1 mm\n"
		      " (  ●  )───────┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┄┆\n"
		      "        ┄┄┄┄┄┄┄────────               ┆\n"
		      "               ┄┄┄┄┄┄  ─────          ┆\n"
		      "                     ┄┄┄┄┄┄┄────      ┆ torsion arm ?\n"
		      "             chord ?        ┄┄┄┄────  ┆\n"
		      "                                   ┄──× 200 N\n"
		      "\n"
		      "           along the bar 15.0 mm\n"
		      "\n"
		      "\n"
		      "├───────────────────────┤ 10 mm\n");
	fact_is_told(f, "straight from the site to the end: ?");
	fact_is_told(f, "bending arm, along the tangent at the site: 14.1 mm");
}

/* The end of a quarter circle lies one radius along and one radius off the tangent. */
static void quarter_circle_ends_at_one_radius(void **state)
{
	(void)state;
	struct arc_picture p = {.radius_mm = 10, .arc_mm = 15.70796326794897};
	struct figure *f = NULL;
	int site = -1, end = -1, row_site = -1, row_end = -1, bar = 0;

	code_is(arc_figure(&arena, &p, 60, 16, &f), FINE);
	const struct canvas *c = f->canvas;
	for (int i = 0; i < c->rows * c->cols; i++) {
		if (c->cell[i].glyph == 0x25CF)
			site = i % c->cols, row_site = i / c->cols;
		if (c->cell[i].glyph == 0x25A0)
			end = i % c->cols, row_end = i / c->cols;
	}
	while (c->cell[(c->rows - 1) * c->cols + bar].glyph != 0x2524 && bar < c->cols - 1)
		bar++;
	near("along, in scale bars", (end - site) / (double)bar, 1, 0.5 / bar);
	near("off, in scale bars", 2 * (row_end - row_site) / (double)bar, 1, 1.01 / bar);
}

static void what_cannot_be_drawn_is_refused(void **state)
{
	(void)state;
	struct figure *f = NULL;
	struct arc_picture p = {.radius_mm = 10, .arc_mm = 32};

	code_is(arc_figure(&arena, &p, 60, 16, &f), BAD_RANGE);
	p = (struct arc_picture){.radius_mm = 0, .arc_mm = 3};
	code_is(arc_figure(&arena, &p, 60, 16, &f), BAD_RANGE);
	p = (struct arc_picture){.radius_mm = 10, .arc_mm = 3};
	code_is(arc_figure(&arena, &p, 30, 16, &f), BAD_SIZE);
	assert_null(f);
}

static enum bad draw(void *p)
{
	struct figure *f = NULL;
	struct arena own = {0};
	enum bad code = arc_figure(&own, p, 60, 16, &f);

	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	struct arc_picture p = {.radius_mm = 10, .arc_mm = 3};

	runs_out_of_memory("arc", draw, &p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(arc_shows_chord_and_arms, release),
		cmocka_unit_test_teardown(quarter_circle_ends_at_one_radius, release),
		cmocka_unit_test_teardown(what_cannot_be_drawn_is_refused, release),
		cmocka_unit_test(running_out_of_memory_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
