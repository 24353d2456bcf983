/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include "arena.h"
#include "out_of_memory.h"

#include <barwright/base/mem.h>

#include "figure/section_figure.h"

static struct figure *drawn(const struct section_picture *p)
{
	struct figure *f = NULL;

	code_is(section_figure(&arena, p, 62, 18, &f), FINE);
	return f;
}

/* Worked by hand: bar 9.0, hole 4.7, centre 0.4 to the right of the middle. What the hole leaves is
 * 4.3, half of it 2.15; so the walls are 2.55 on the left and 1.75 on the right. */
static void walls_are_what_the_hole_leaves(void **state)
{
	(void)state;
	struct section_picture p = {.width_mm = 9,
		.height_mm = 4.5,
		.hole_mm = 4.7,
		.offset_mm = 0.4,
		.shown = SECTION_WIDTH | SECTION_HEIGHT | SECTION_HOLE | SECTION_OFFSET |
			 SECTION_LEFT | SECTION_RIGHT,
		.asked = SECTION_RIGHT};
	struct figure *f = drawn(&p);

	drawing_is(f, "                ▼\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  ┬\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  │\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  │\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  │\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  │ height 4.5 mm\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  │\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  │\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒  ┴ ▒ bar\n"
		      "                ├┤                  off the middle 0.4 mm\n"
		      " ├───────┤                          wall, left 2.55 mm\n"
		      "          ├──────────────┤          hole 4.7 mm\n"
		      "                          ├────┤    wall, right ?\n"
		      " ├─────────────────────────────┤    width 9.0 mm\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n");
	fact_is_told(f, "width of the bar: 9.0 mm");
	fact_is_told(f, "wall, left: 2.55 mm");
	fact_is_told(f, "wall, right: ?");
	fact_is_told(f, "centre of the hole off the middle of the bar: 0.4 mm, to the right");
	p.asked = SECTION_OFFSET | SECTION_LEFT;
	f = drawn(&p);
	fact_is_told(f, "wall, right: 1.75 mm");
	fact_is_told(f, "centre of the hole off the middle of the bar: ?");
}

/* Hole 4.70 over a cylinder of 4.58, 0.02 off to the left: half of 0.12 is 60 micrometres, so 40 are
 * left on the left and 80 on the right. */
static void film_differs_where_the_cylinder_is_off(void **state)
{
	(void)state;
	struct section_picture p = {.width_mm = 9,
		.hole_mm = 4.7,
		.cylinder_mm = 4.58,
		.aside_mm = -0.02,
		.shown = SECTION_FILM | SECTION_CYLINDER,
		.side = {"cheek", "tongue"}};
	struct figure *f = drawn(&p);

	ascii_drawing_is(f, " cheek                    tongue\n"
			    "         |     :      |\n"
			    " %%%%%%%:|     :      |:%%%%%%%%\n"
			    " %%%%%%%:|     :      |:%%%%%%%%\n"
			    " %%%%%%%:|     :      |:%%%%%%%%\n"
			    " %%%%%%%:|     :      |:%%%%%%%%\n"
			    " %%%%%%%:|     :      |:%%%%%%%%\n"
			    " %%%%%%%:|     :      |:%%%%%%%%\n"
			    " %%%%%%%:|     :      |:%%%%%%%%    % bar  : cement\n"
			    "         |     :      |\n"
			    "         +------------+             cylinder 4.58 mm\n"
			    "        ^                           film, cheek 40 um\n"
			    "                        ^           film, tongue 80 um\n"
			    "\n"
			    "\n"
			    "\n"
			    "\n"
			    "\n");
	fact_is_told(f, "film, cheek: 40 \xC2\xB5m");
	fact_is_told(f, "film, tongue: 80 \xC2\xB5m");
	p.aside_mm = 0;
	fact_is_told(drawn(&p), "film each side: 60 \xC2\xB5m");
	p.decimal = ',';
	fact_is_told(drawn(&p), "diameter of the cylinder: 4,58 mm");
}

/* Upright hole for a cylinder that leans by 5 degrees: 4.50 / cos 5 + 4.5 tan 5 + 2 * 0.10 =
 * 4.517 + 0.394 + 0.2 = 5.111 (worked by hand). */
static void tilted_cylinder_wanders_through_an_upright_hole(void **state)
{
	(void)state;
	struct section_picture p = {.width_mm = 9,
		.height_mm = 4.5,
		.hole_mm = 5.111,
		.cylinder_mm = 4.5,
		.tilt_rad = 0.08726646259971647,
		.shown = SECTION_HOLE | SECTION_FILM | SECTION_WANDER | SECTION_TILT |
			 SECTION_CYLINDER,
		.asked = SECTION_HOLE};
	struct figure *f = drawn(&p);

	drawing_is(f, "         │      ┆       │\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒    tilt 5 degrees\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒:│      ┆      │:▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒:│     ┆      │::▒▒▒▒▒▒▒    ▒ bar  : cement\n"
		      "        │      ┆      │\n"
		      "        ├───────────────┤           hole ?\n"
		      "                ▲                   sideways 0.39 mm\n"
		      "         ├─────────────┤            cylinder 4.5 mm\n"
		      "        ▲                           gap each side 100 µm\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n");
	fact_is_told(f, "diameter of the hole: ?");
	fact_is_told(f, "gap each side: 100 \xC2\xB5m");
	fact_is_told(f, "sideways from the underside to the top of the bar: 0.39 mm");
	fact_is_told(f, "tilt of the cylinder from upright: 5 degrees, to the right");
}

/* A hole of 4.0 drilled at 30 degrees through 3.4641: cut level it is 4 / cos 30 = 4.6188 wide and
 * wanders 3.4641 tan 30 = 2.0; in a bar of 10 the least wall is 5 - 2.3094 - 1 = 1.6906. */
static void tilted_hole_leaves_less_at_one_end(void **state)
{
	(void)state;
	struct section_picture p = {.width_mm = 10,
		.height_mm = 3.4641016151377544,
		.hole_mm = 4,
		.tilt_rad = 0.5235987755982988,
		.shown = SECTION_LEFT | SECTION_WANDER};
	struct figure *f = drawn(&p);

	drawing_is(f, "\n"
		      " ▒▒▒▒▒▒▒▒▒▒▒▒       ┆       ▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒▒▒▒▒       ┆       ▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒▒        ┆       ▒▒▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒▒        ┆      ▒▒▒▒▒▒▒▒▒▒▒\n"
		      " ▒▒▒▒▒▒        ┆      ▒▒▒▒▒▒▒▒▒▒▒▒    ▒ bar\n"
		      " ├────┤                               wall, left 1.69 mm\n"
		      "              ├─────┤                 sideways 2.0 mm\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n"
		      "\n");
	fact_is_told(f, "wall, left: 1.69 mm");
	fact_is_told(f, "sideways from the underside to the top of the bar: 2.0 mm");
}

/* Columns stand for as much as rows, a cell being twice as high as wide. */
static void width_and_height_share_one_scale(void **state)
{
	(void)state;
	struct section_picture p = {.width_mm = 10, .height_mm = 5};
	const struct canvas *c = drawn(&p)->canvas;
	int rows = 0, cols = 0;

	for (int row = 0; row < c->rows; row++)
		rows += c->cell[row * c->cols + 1].glyph == 0x2592;
	for (int col = 0; col < 40; col++)
		cols += c->cell[5 * c->cols + col].glyph == 0x2592;
	near("columns for 10 mm", cols, 33, 0.1);
	near("rows for 5 mm", rows, 33 / 4.0, 0.51);
}

/* Without a width the hole still has walls, and no width is told. */
static void unknown_width_is_not_told(void **state)
{
	(void)state;
	struct section_picture p = {
		.hole_mm = 9, .offset_mm = -1, .shown = SECTION_HOLE, .asked = SECTION_LEFT};
	struct figure *f = drawn(&p);

	fact_is_told(f, "wall, left: ?");
	near("facts", (double)f->nword, 2, 0);
}

/* 9.0 wide with 4.7 leaves 2.15 on each side: so far the centre may move, and no farther. */
static void what_cannot_be_drawn_is_refused(void **state)
{
	(void)state;
	struct figure *f = NULL;
	const struct section_picture good = {.width_mm = 9,
		.hole_mm = 4.7,
		.offset_mm = 2.15,
		.cylinder_mm = 4.7,
		.shown = 2047};
	struct section_picture p = good;

	code_is(section_figure(&arena, &p, 62, 16, &f), FINE);
	f = NULL;
	p.offset_mm = -2.16;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	p = good, p.cylinder_mm = 4.71;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	p = good, p.aside_mm = 0.01;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	p = good, p.hole_mm = 0;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	p = good, p.width_mm = -1;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	p = good, p.height_mm = 0.0 / 0.0;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	p = good, p.tilt_rad = 1;
	code_is(section_figure(&arena, &p, 62, 18, &f), BAD_RANGE);
	code_is(section_figure(&arena, &good, 45, 18, &f), BAD_SIZE);
	code_is(section_figure(&arena, &good, 62, 15, &f), BAD_SIZE);
	assert_null(f);
}

static enum bad draw(void *p)
{
	struct figure *f = NULL;
	struct arena own = {0};
	enum bad code = section_figure(&own, p, 62, 18, &f);

	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	struct section_picture p = {.width_mm = 9,
		.hole_mm = 4.7,
		.cylinder_mm = 4.5,
		.aside_mm = 0.05,
		.tilt_rad = 0.01,
		.shown = 2047};

	runs_out_of_memory("section", draw, &p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(walls_are_what_the_hole_leaves, release),
		cmocka_unit_test_teardown(film_differs_where_the_cylinder_is_off, release),
		cmocka_unit_test_teardown(tilted_cylinder_wanders_through_an_upright_hole, release),
		cmocka_unit_test_teardown(tilted_hole_leaves_less_at_one_end, release),
		cmocka_unit_test_teardown(width_and_height_share_one_scale, release),
		cmocka_unit_test_teardown(unknown_width_is_not_told, release),
		cmocka_unit_test_teardown(what_cannot_be_drawn_is_refused, release),
		cmocka_unit_test(running_out_of_memory_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
