/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vertical sections through one site or several, side by side: tissue, clearance, bar, opaque,
 * resin, tooth and matrix over the platform, the cylinder with its stock height and its cut.
 *
 * Heights are to scale and all sections share it; the opaque is a line, for it is thinner than a
 * row. Widths mean nothing but for the lean of a tilted cylinder. Pure but for the arena, which owns
 * the result. */
#ifndef BARWRIGHT_FIGURE_STACK_FIGURE_H
#define BARWRIGHT_FIGURE_STACK_FIGURE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "surface/page.h"

enum { STACK_SITES = 16 };

/* What can be asked for: bits for `asked`. */
enum stack_part {
	STACK_PLATFORM = 1,
	STACK_TISSUE = 2,
	STACK_CLEARANCE = 4,
	STACK_BAR = 8,
	STACK_OPAQUE = 16,
	STACK_RESIN = 32,
	STACK_TOOTH = 64,
	STACK_MATRIX = 128,
	STACK_CYLINDER = 256,
	STACK_CUT = 512,
	STACK_COVER = 1024,
	STACK_ENGAGED = 2048,  /* height of cylinder within the bar */
	STACK_UNDERSIDE = 4096 /* of the bar, above the datum */
};

/* mm; heights above the datum, the rest thicknesses and lengths. What is 0 or less is not there,
 * except that the platform may stand at the datum or below it, and the tissue too. */
struct stack_site {
	const char *label;                        /* "46"; null: none */
	double platform_mm, tissue_mm, matrix_mm; /* heights: tissue its top, matrix its inside */
	double clearance_mm, bar_mm, opaque_mm, resin_mm, tooth_mm;
	double cylinder_mm; /* as supplied, over its platform, along its axis */
	double cut_mm;      /* comes off it, along its axis */
	double cover_mm;    /* the cylinder must stay this far below the matrix */
	double tilt_rad;    /* to the left or right of the drawing by its sign, up to 60 degrees */
	/* These are labelled "?". One that is asked for and not given is drawn as what the others
	 * leave, or at a usual size if they do not tell. */
	unsigned asked;
	const char *note[2]; /* under the section, short; null: none */
	bool governs;        /* marked: the least space */
};

struct stack_picture {
	const struct stack_site *site;
	size_t n;          /* 1 to STACK_SITES */
	char decimal;      /* '.' or ','; 0: '.' */
	const char *title; /* null: "Section through site 46" or "Sections through the sites" */
};

/* Draws into a canvas of this size (BAD_SIZE): at least 10 rows (of several sections the last two say
 * what the shading means), and 46 columns or, if that is more,
 * 6 columns a site (9 with notes) and 8 besides; 60 x 16 is what a page has room for. BAD_COUNT,
 * BAD_RANGE (not finite, heights that leave nothing to draw, more than 60 degrees), BAD_MEMORY. */
enum bad stack_figure(
	struct arena *a, const struct stack_picture *p, int columns, int rows, struct figure **out);

#endif
