/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An extension that goes on along a circle, from above and to scale: the way along the bar, the
 * straight way, and the two arms of a load at its end. Pure but for the arena, which owns the
 * result. */
#ifndef BARWRIGHT_FIGURE_ARC_FIGURE_H
#define BARWRIGHT_FIGURE_ARC_FIGURE_H

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "surface/page.h"

/* The terminal site is on the left, the tangent at it level. Texts stand at what they name, null
 * leaves it out, "?" asks for it. */
struct arc_picture {
	double radius_mm; /* of the bar's centreline, above 0 */
	double arc_mm;    /* along it, above 0, at most half the circle */
	double site_radius_mm;
	const char *arc_text;     /* along the bar */
	const char *chord_text;   /* straight from the site to the end */
	const char *bending_text; /* along the tangent, radius * sin(arc/radius) */
	const char *torsion_text; /* square to it, radius * (1 - cos(arc/radius)) */
	const char *load_text;    /* at the end */
	const char *title;        /* null: "An extension along the arch" */
};

/* Draws into a canvas of at least 40 x 10, at most 200 x 100 (BAD_SIZE). BAD_RANGE, BAD_MEMORY. */
enum bad arc_figure(
	struct arena *a, const struct arc_picture *p, int columns, int rows, struct figure **out);

#endif
