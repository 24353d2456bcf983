/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "arena.h"
#include "out_of_memory.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/mem.h>

#include "print/svg.h"

static const struct arch_site site[] = {
	{-16, -11, 2.05}, {-9, -3, 2.05}, {0, 0, 2.05}, {9, -3, 2.05}, {16, -11, 2.05}};
static const char *const tooth[] = {"46", "44", "41", "34", "36"};

#define SECTION(tooth) \
	{ \
		.label = tooth, .tissue_mm = 2.5, .matrix_mm = 15, .clearance_mm = 1.5, \
		.opaque_mm = 0.3, .resin_mm = 2, .tooth_mm = 4, .bar_mm = 4, .cylinder_mm = 12, \
		.cut_mm = 4 \
	}
static const struct stack_site section[] = {
	SECTION("46"), SECTION("44"), SECTION("41"), SECTION("34"), SECTION("36")};

static const struct arch_picture arch = {.site = site,
	.label = tooth,
	.n = 5,
	.lower_jaw = true,
	.bar = true,
	.extension_right_mm = 8,
	.extension_left_mm = 8,
	.spread_line = true};
static const struct stack_picture stack = {.site = section, .n = 5};

static void drawn(const char *title, struct text *t)
{
	text_init(t);
	code_is(svg_sheet(&arena, title, &arch, &stack, t), FINE);
}

static size_t count(const char *text, const char *what)
{
	size_t n = 0;

	for (; (text = strstr(text, what)); text++)
		n++;
	return n;
}

static void sheet_has_a_title_and_says_everything_in_words(void **state)
{
	(void)state;
	struct text t;
	drawn("Case five", &t);

	assert_non_null(strstr(t.at, "<title>Case five</title>"));
	assert_true(count(t.at, "<desc>") >= 3);
	assert_non_null(strstr(t.at, "site 46: 16.0 mm to the patient's right, 11.0 mm behind"));
	assert_non_null(strstr(t.at, "site 36: matrix 15.0, tooth 4.0"));
	assert_non_null(strstr(t.at, ">46</text>"));
	assert_string_equal(t.at + t.len - 7, "</svg>\n");
	text_release(&t);
}

/* A title that would break out of its element, hide text or be no XML at all. */
static void hostile_title_stays_text(void **state)
{
	(void)state;
	struct text t;
	drawn("</title><script>alert(\"1\")</script>&amp;\x1b[31m\xe2\x80\xae", &t);

	assert_int_equal(count(t.at, "<script"), 0);
	assert_int_equal(count(t.at, "\x1b"), 0);
	assert_int_equal(count(t.at, "\xe2\x80\xae"), 0);
	assert_non_null(strstr(t.at, "&lt;/title&gt;&lt;script&gt;alert(&quot;1&quot;)"));
	assert_non_null(strstr(t.at, "&amp;amp;"));
	text_release(&t);
}

static double attribute(const char *at, const char *name)
{
	char key[16];
	snprintf(key, sizeof key, " %s=\"", name);
	at = strstr(at, key);
	return at ? strtod(at + strlen(key), NULL) : NAN;
}

/* Measured on the sheet: centres are as far apart as the sites, times the scale, and circles as
 * wide as the platforms. */
static void distances_on_the_sheet_are_true(void **state)
{
	(void)state;
	struct text t;
	size_t n = 0;
	double x[16], y[16];

	drawn("Case five", &t);
	for (const char *at = t.at; (at = strstr(at, "<circle")) && n < 16; at++) {
		if (attribute(at, "r") < 1)
			continue; /* the dot in its middle */
		near("radius", attribute(at, "r"), 2.05 * SVG_ARCH_SCALE, 0.011);
		x[n] = attribute(at, "cx");
		y[n++] = attribute(at, "cy");
	}
	text_release(&t);
	assert_int_equal(n, 5);
	for (size_t i = 1; i < n; i++) {
		near("across", x[i] - x[0], (site[i].x_mm - site[0].x_mm) * SVG_ARCH_SCALE, 0.021);
		near("front down", y[i] - y[0], (site[i].y_mm - site[0].y_mm) * SVG_ARCH_SCALE,
			0.021);
	}
}

/* Where the text "60 N" stands, and no point of the bar within half its width and height. */
static void the_bar_runs_through_no_load(void **state)
{
	(void)state;
	struct arch_load load = {.text = "60 N", .y_mm = -1};
	struct arch_picture loaded = arch;
	struct text t;

	loaded.load = &load;
	loaded.nload = 1;
	for (int x = -16; x <= 16; x += 2) {
		load.x_mm = x;
		text_init(&t);
		code_is(svg_sheet(&arena, "x", &loaded, &stack, &t), FINE);
		const char *label = strstr(t.at, ">60 N<"), *bar = strstr(t.at, "points=\"");
		while (*label != '\n')
			label--;
		double label_x = attribute(label, "x"), label_y = attribute(label, "y") - 1.3;
		char *at = (char *)(size_t)(bar + 8);
		for (size_t n = 0; *at != '"'; n++) {
			double bar_x = strtod(at, &at), bar_y = strtod(at + 1, &at);
			if (fabs(bar_x - label_x) < 3.6 && fabs(bar_y - label_y) < 1.6)
				fail_msg("load at %d: the bar's point %zu lies in its label", x, n);
		}
		text_release(&t);
	}
}

/* Its lines begin behind the section's edge, however it is tilted. */
static void a_tilted_cylinder_stands_in_its_section(void **state)
{
	(void)state;
	for (int degrees = -60; degrees <= 60; degrees += 15) {
		struct stack_site one = section[0];
		struct stack_picture tilted = {.site = &one, .n = 1};
		struct text t;
		one.tilt_rad = degrees * 3.14159265358979 / 180;
		text_init(&t);
		code_is(svg_sheet(&arena, "x", &arch, &tilted, &t), FINE);
		const char *at = strstr(t.at, "fill=\"#f3c9c5\"");
		while (*at != '\n')
			at--;
		double left = attribute(at, "x"), right = left + attribute(at, "width");
		for (at = strstr(at, ">46<"); (at = strstr(at, "<line")); at++) {
			if (strstr(at, "matrix") && attribute(at, "y1") == attribute(at, "y2") &&
				!strstr(at + 1, "<line"))
				break; /* the legend */
			double x1 = attribute(at, "x1"), x2 = attribute(at, "x2");
			if (fmin(x1, x2) < left || fmax(x1, x2) > right)
				fail_msg("%d degrees: a line from %.2f to %.2f, section %.2f to "
					 "%.2f",
					degrees, x1, x2, left, right);
		}
		text_release(&t);
	}
}

static void what_cannot_be_drawn_leaves_the_text_alone(void **state)
{
	(void)state;
	struct stack_picture none = {.site = section, .n = 0};
	struct text t;

	text_init(&t);
	text_add(&t, "before");
	code_is(svg_sheet(&arena, "x", &arch, &none, &t), BAD_COUNT);
	assert_string_equal(t.at, "before");
	text_release(&t);
}

static enum bad draw(void *to)
{
	struct arena own = {0};
	struct text t;

	(void)to;
	text_init(&t);
	enum bad code = svg_sheet(&own, "x", &arch, &stack, &t);
	text_release(&t);
	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	runs_out_of_memory("sheet", draw, NULL);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(sheet_has_a_title_and_says_everything_in_words, release),
		cmocka_unit_test_teardown(hostile_title_stays_text, release),
		cmocka_unit_test_teardown(distances_on_the_sheet_are_true, release),
		cmocka_unit_test_teardown(the_bar_runs_through_no_load, release),
		cmocka_unit_test_teardown(a_tilted_cylinder_stands_in_its_section, release),
		cmocka_unit_test_teardown(what_cannot_be_drawn_leaves_the_text_alone, release),
		cmocka_unit_test(running_out_of_memory_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
