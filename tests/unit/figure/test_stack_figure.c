/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include "arena.h"
#include "out_of_memory.h"

#include <barwright/base/mem.h>

#include "figure/stack_figure.h"

/* The layers of a case of our own. */
#define LAYERS \
	.label = "46", .tissue_mm = 2.5, .matrix_mm = 14.2, .clearance_mm = 1.5, .opaque_mm = 0.3, \
	.resin_mm = 2, .tooth_mm = 5

static const struct figure *drawn(const struct stack_site *s, size_t n)
{
	struct figure *f = NULL;
	struct stack_picture p = {.site = s, .n = n};
	code_is(stack_figure(&arena, &p, 60, n == 1 ? 16 : 18, &f), FINE);
	return f;
}

static void asked_thickness_is_drawn_as_what_is_left(void **state)
{
	(void)state;
	struct stack_site s = {LAYERS, .asked = STACK_BAR};
	const struct figure *f = drawn(&s, 1);

	drawing_is(f, "    matrix 14.2 ═══════════════════════════\n"
		      "                │                         │\n"
		      "                │                         │\n"
		      "                │                         │  tooth 5.0\n"
		      "                │                         │\n"
		      "                │                         │\n"
		      "                :::::::::::::::::::::::::::  resin 2.0\n"
		      "                ───────────────────────────  opaque 0.3\n"
		      "                ▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒  bar ?\n"
		      "                ▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒▒\n"
		      "                                             clearance 1.5\n"
		      "\n"
		      "     tissue 2.5 ░░░░░░░░░░░░░░░░░░░░░░░░░░░\n"
		      "                ░░░░░░░░░░░░░░░░░░░░░░░░░░░\n"
		      "       platform          ═════════\n"
		      "                            46\n");
	fact_is_told(f, "bar: ?");
	fact_is_told(f, "inner surface of the matrix: 14.2 mm above the platform");
}

static void cylinder_shows_its_cut(void **state)
{
	(void)state;
	struct stack_site s = {LAYERS, .bar_mm = 2.5, .cylinder_mm = 12, .cut_mm = 5.5};
	const struct figure *f = drawn(&s, 1);

	drawing_is(f, "    matrix 14.2 ═══════════════════════════\n"
		      "                │                         │\n"
		      "                │                         │\n"
		      "  cylinder 12.0 │         ┆     ┆         │  tooth 5.0\n"
		      "                │         ┆     ┆         │\n"
		      "                │         ┆     ┆         │  cut off 5.5\n"
		      "                ::::::::::┆     ┆::::::::::  resin 2.0\n"
		      "                ──────────┄┄┄┄┄┄┄──────────  opaque 0.3\n"
		      "                ▒▒▒▒▒▒▒▒▒▒│     │▒▒▒▒▒▒▒▒▒▒  bar 2.5\n"
		      "                ▒▒▒▒▒▒▒▒▒▒│     │▒▒▒▒▒▒▒▒▒▒\n"
		      "                          │     │            clearance 1.5\n"
		      "                          │     │\n"
		      "     tissue 2.5 ░░░░░░░░░░│     │░░░░░░░░░░\n"
		      "                ░░░░░░░░░░│     │░░░░░░░░░░\n"
		      "       platform          ═════════\n"
		      "                            46\n");
	fact_is_told(f, "cut off it, along its axis: 5.5 mm");
	/* 14.2 - (2.5 + 1.5 + 2.5 + 0.3 + 2.0 + 5.0) */
	fact_is_told(f, "0.4 mm are left between bar and opaque");
}

static void tilted_cylinder_leans(void **state)
{
	(void)state;
	struct stack_site s = {
		LAYERS, .bar_mm = 2.5, .cylinder_mm = 12, .tilt_rad = 0.5, .asked = STACK_CUT};
	ascii_drawing_is(drawn(&s, 1),
		"    matrix 14.2 ===========================\n"
		"                |                         |\n"
		"                |                         |\n"
		"                |                         |  tooth 5.0\n"
		"  cylinder 12.0 |                   /     /\n"
		"                |                  /     /|  cut off ?\n"
		"                ::::::::::::::::::/     /::  resin 2.0\n"
		"                ---------------------------  opaque 0.3\n"
		"                %%%%%%%%%%%%%%%%/     /%%%%  bar 2.5\n"
		"                %%%%%%%%%%%%%%%/     /%%%%%\n"
		"                              /     /        clearance 1.5\n"
		"                             /     /\n"
		"     tissue 2.5 ............/     /........\n"
		"                .........../     /.........\n"
		"       platform          =========\n"
		"                            46\n");
}

static void clash_is_crossed_out_and_told(void **state)
{
	(void)state;
	struct stack_site s = {LAYERS, .bar_mm = 4.5};
	const struct figure *f = drawn(&s, 1);
	int row, col;

	for (row = 0; row < f->canvas->rows; row++)
		for (col = 0; col < f->canvas->cols; col++)
			if (f->canvas->cell[row * f->canvas->cols + col].glyph == 0x2573)
				goto crossed;
	fail_msg("no crossed cells");
crossed:
	/* 2.5 + 1.5 + 4.5 + 0.3 + 2.0 + 5.0 - 14.2 */
	fact_is_told(f, "the layers need 1.6 mm more than there is under the matrix");
}

static void several_sites_share_a_scale(void **state)
{
	(void)state;
	struct stack_site s[] = {
		{LAYERS, .bar_mm = 2.5, .cylinder_mm = 12, .cut_mm = 5.5, .note = {"cut 5.5"}},
		{LAYERS, .bar_mm = 2.5, .cylinder_mm = 12, .asked = STACK_CUT, .note = {"cut ?"}},
		{LAYERS, .bar_mm = 2.5, .cylinder_mm = 12, .cut_mm = 5, .governs = true,
			.tilt_rad = 0.3, .note = {"cut 5.0"}}};
	s[1].label = "41";
	s[2].label = "36";
	s[2].tissue_mm = 3;
	s[1].matrix_mm = 15;
	const struct figure *f = drawn(s, 3);

	drawing_is(f, "  mm                     ═════15.0══════\n"
		      "    15┤ ═════14.2══════  │             │  ═════14.2══════\n"
		      "        │             │  │             │  │             │\n"
		      "        │   ┆     ┆   │  │   ┆     ┆   │  │             │\n"
		      "        │   ┆     ┆   │  │   ┆     ┆   │  │       ┆     ┆\n"
		      "    10┤ │   ┆     ┆   │  ::::┆  ?  ┆::::  │       ┆     ┆\n"
		      "        ::::┆     ┆::::  ::::┆     ┆::::  ────────┆     ┆\n"
		      "        ────┄┄┄┄┄┄┄────  ────┄┄┄┄┄┄┄────  ▒▒▒▒▒▒▒┄┄┄┄┄┄┄▒\n"
		      "        ▒▒▒▒│     │▒▒▒▒  ▒▒▒▒│     │▒▒▒▒  ▒▒▒▒▒▒▒│     │▒\n"
		      "     5┤ ▒▒▒▒│     │▒▒▒▒  ▒▒▒▒│     │▒▒▒▒        │     │\n"
		      "            │     │          │     │            │     │\n"
		      "        ░░░░│     │░░░░  ░░░░│     │░░░░  ░░░░░│     │░░░\n"
		      "        ░░░░│     │░░░░  ░░░░│     │░░░░  ░░░░│     │░░░░\n"
		      "     0┤    ═════════        ═════════        ═════════\n"
		      "              46               41            36 least\n"
		      "            cut 5.5           cut ?           cut 5.0\n"
		      "░ tissue   ▒ bar  ─ opaque  : resin\n"
		      "│ tooth    ┄ cut  ═ matrix (top), platform\n");
	fact_is_told(f, "site 36 (the least space): matrix 14.2, tooth 5.0, resin 2.0, opaque 0.3, "
			"bar 2.5, clearance 1.5, tissue 3.0, cylinder 12.0, cut off 5.0, tilted "
			"17.19 degrees, too little by 0.1; cut 5.0");
}

/* A surface at height h stands at the row that the linear scale gives. */
static void heights_are_to_scale(void **state)
{
	(void)state;
	struct stack_site s = {.label = "46", .tissue_mm = 5, .matrix_mm = 20, .tooth_mm = 1};
	const struct canvas *c = drawn(&s, 1)->canvas;
	int first = 0, last = 0;

	for (int row = 0; row < c->rows; row++)
		if (c->cell[row * c->cols + 18].glyph == 0x2591) {
			first = first ? first : row;
			last = row;
		}
	/* 13 rows for 20 mm: tissue takes 5/20 of them. */
	near("rows of tissue", last - first + 1, 13 * 5 / 20.0, 0.5);
}

static void what_cannot_be_drawn_is_refused(void **state)
{
	(void)state;
	struct stack_site flat = {.label = "46"}, odd = {LAYERS, .bar_mm = NAN};
	struct stack_site steep = {LAYERS, .tilt_rad = 1.2};
	struct figure *f = NULL;
	struct stack_picture p = {.site = &flat, .n = 1};

	code_is(stack_figure(&arena, &p, 60, 16, &f), BAD_RANGE);
	p.site = &odd;
	code_is(stack_figure(&arena, &p, 60, 16, &f), BAD_RANGE);
	p.site = &steep;
	code_is(stack_figure(&arena, &p, 60, 16, &f), BAD_RANGE);
	p.n = 0;
	code_is(stack_figure(&arena, &p, 60, 16, &f), BAD_COUNT);
	p = (struct stack_picture){.site = &(struct stack_site){LAYERS}, .n = 1};
	code_is(stack_figure(&arena, &p, 40, 16, &f), BAD_SIZE);
	assert_null(f);
}

static enum bad draw(void *p)
{
	struct figure *f = NULL;
	struct arena own = {0};
	enum bad code = stack_figure(&own, p, 60, 16, &f);

	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	struct stack_site s[] = {{LAYERS, .bar_mm = 2.5}, {LAYERS, .bar_mm = 2.5}};
	struct stack_picture p = {.site = s, .n = 2};

	runs_out_of_memory("stack", draw, &p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(asked_thickness_is_drawn_as_what_is_left, release),
		cmocka_unit_test_teardown(cylinder_shows_its_cut, release),
		cmocka_unit_test_teardown(tilted_cylinder_leans, release),
		cmocka_unit_test_teardown(clash_is_crossed_out_and_told, release),
		cmocka_unit_test_teardown(several_sites_share_a_scale, release),
		cmocka_unit_test_teardown(heights_are_to_scale, release),
		cmocka_unit_test_teardown(what_cannot_be_drawn_is_refused, release),
		cmocka_unit_test_teardown(running_out_of_memory_is_a_code, release),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
