/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cross-section of a bar at a site: width and height, a hole off the middle, the cylinder in it
 * with its film of cement, upright or tilted, the walls left on both sides.
 *
 * To scale, but for the film: it is thinner than a column and takes one at least. Below the bar each
 * dimension has a row of its own, its name and value to the right of it. Pure but for the arena,
 * which owns the result. */
#ifndef BARWRIGHT_FIGURE_SECTION_FIGURE_H
#define BARWRIGHT_FIGURE_SECTION_FIGURE_H

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "surface/page.h"

/* What may be named in the drawing: bits for `shown` and `asked`. */
enum section_part {
	SECTION_WIDTH = 1,
	SECTION_HEIGHT = 2,
	SECTION_HOLE = 4,   /* its diameter */
	SECTION_OFFSET = 8, /* of the hole's centre from the middle of the bar */
	SECTION_LEFT = 16,  /* wall beside the hole */
	SECTION_RIGHT = 32, /* the other one */
	SECTION_FILM = 64,  /* cement: on each side, or left and right when they differ */
	SECTION_CYLINDER = 128,
	SECTION_ASIDE = 256, /* of the cylinder from the hole's centre */
	SECTION_TILT = 512,
	SECTION_WANDER = 1024 /* sideways, from the underside to the top */
};

/* mm; to the right of the drawing is positive. Without a cylinder the hole itself is tilted, else it
 * is upright and the cylinder passes through it aslant. */
struct section_picture {
	double width_mm, height_mm; /* 0: not known, drawn at a usual size */
	double hole_mm;             /* 0: none */
	double offset_mm;
	double cylinder_mm; /* 0: none; needs a hole */
	double aside_mm;
	double tilt_rad;     /* up to 45 degrees */
	unsigned shown;      /* these with their values */
	unsigned asked;      /* these with "?", whatever `shown` says */
	const char *side[2]; /* "cheek", "tongue"; null: left and right */
	char decimal;        /* '.' or ','; 0: '.' */
	const char *title;   /* null: "Cross-section of the bar" */
};

/* Draws into a canvas of this size: 46 to 200 columns, 16 to 100 rows (BAD_SIZE); 62 x 18 is what a
 * page has room for. BAD_RANGE: not finite, below 0, a hole that breaks out of the bar, a cylinder that
 * does not pass through its hole. BAD_MEMORY. */
enum bad section_figure(struct arena *a, const struct section_picture *p, int columns, int rows,
	struct figure **out);

#endif
