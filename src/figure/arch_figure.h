/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The arch seen from the occlusal side, to scale: sites, bar, extensions, A-P spread, loads.
 *
 * The patient's right is always on the left of the drawing. So the front of an upper arch (seen
 * from below) is at the top, that of a lower arch (seen from above) at the bottom, as the models
 * lie on the bench in front of the technician; nothing is mirrored. A cell is taken to be twice as
 * high as wide. Pure but for the arena, which owns the result. */
#ifndef BARWRIGHT_FIGURE_ARCH_FIGURE_H
#define BARWRIGHT_FIGURE_ARCH_FIGURE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/calc/arch.h>

#include "surface/page.h"

struct arch_load {
	double x_mm, y_mm;
	const char *text; /* "200 N"; null: "?" */
};

/* All zero is an upper arch of nothing. Texts are shown as they are; they and `label` must live as
 * long as the arena only where the words show them, which copy them. */
struct arch_picture {
	const struct arch_site *site; /* from the patient's right to left, 2 to ARCH_SITES */
	const char *const *label;     /* tooth numbers of ISO 3950; null: "1", "2" ... */
	size_t n;
	bool lower_jaw;
	bool bar;                                     /* its centreline, with the extensions */
	double extension_right_mm, extension_left_mm; /* along the bar from the distal surface */
	/* What stands at the extensions; null: the value itself, "?" where it is asked for. */
	const char *right_text, *left_text;
	bool spread_line; /* posterior line and the perpendicular to it; needs 3 sites */
	enum arch_rule rule;
	const char *spread_text; /* at the perpendicular; null: "?" */
	const struct arch_load *load;
	size_t nload;
	char decimal;      /* '.' or ','; 0: '.' */
	const char *title; /* null: "The arch from the occlusal side" */
};

/* Draws into a canvas of this size: 30 to 200 columns, 10 to 100 rows (BAD_SIZE); 60 x 16 is what
 * a page has room for. Also BAD_COUNT, BAD_RANGE, BAD_SINGULAR and BAD_ORDER of arch_spread and
 * arch_curve_init, BAD_RANGE for an extension below 0 or any number not finite; BAD_MEMORY. */
enum bad arch_figure(
	struct arena *a, const struct arch_picture *p, int columns, int rows, struct figure **out);

#endif
