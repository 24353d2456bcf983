/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What all drawings share: paper with a scale, labels that look for a free place, the list of facts
 * in words. Millimetres in, cells out; a cell is taken to be twice as high as wide. Nothing here
 * fails: when memory runs out the words say so at the end, and the canvas is null before. */
#ifndef BARWRIGHT_FIGURE_SKETCH_H
#define BARWRIGHT_FIGURE_SKETCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "surface/canvas.h"
#include "surface/page.h"

/* The glyphs of the drawings, all of them known to charset_cell. */
enum {
	GLYPH_ACROSS = 0x2500,       /* light horizontal */
	GLYPH_UPRIGHT = 0x2502,      /* light vertical */
	GLYPH_DASH = 0x2504,         /* triple dash horizontal */
	GLYPH_DASH_UPRIGHT = 0x2506, /* triple dash vertical */
	GLYPH_RISING = 0x2571,       /* from lower left to upper right */
	GLYPH_FALLING = 0x2572,
	GLYPH_TEE_RIGHT = 0x251C,
	GLYPH_TEE_LEFT = 0x2524,
	GLYPH_DOUBLE = 0x2550,
	GLYPH_UP = 0x25B2,
	GLYPH_DOWN = 0x25BC,
	GLYPH_DOT = 0x00B7,
	GLYPH_DISC = 0x25CF,
	GLYPH_SQUARE = 0x25A0,
	GLYPH_CROSS = 0x00D7
};

/* A scale on a canvas: the point (x0, y0) lies in the middle of cell (row0, col0). */
struct paper {
	struct canvas *canvas;
	int row0, col0;
	double x0_mm, y0_mm;
	double mm;   /* a column stands for, above 0; a row stands for twice that */
	bool y_down; /* y grows down the page, else up */
};

int paper_row(const struct paper *p, double y_mm);
int paper_col(const struct paper *p, double x_mm);
/* A straight line in the glyph that its slope on the page asks for, or dashed. */
void paper_line(const struct paper *p, double x1_mm, double y1_mm, double x2_mm, double y2_mm,
	bool dashed, enum ink ink);
/* One cell of a curve at (x, y) that runs in the direction (dx, dy) there. */
void paper_stroke(
	const struct paper *p, double x_mm, double y_mm, double dx, double dy, enum ink ink);
/* Columns for 10 mm: the largest whole number at which width and height still fit, 2 to `most`. */
int paper_scale(double width_mm, double height_mm, int columns, int rows, int most);
/* A bar of 10 mm (or of 5, 2 or 1 mm where that would be too long) starting at (row, col). */
void paper_scale_bar(const struct paper *p, int row, int col);

/* Where a label may stand: from `col` to the right (+1), ending there (-1), centred on it (0). */
struct spot {
	int row, col, side;
};
/* Writes at the first spot where nothing but blanks is covered and a blank is left on both sides
 * (`over_faint`: or where only helping lines, no letters, are in the way); false, and nothing written, if there
 * is none. */
bool label_try(struct canvas *c, const char *text, enum ink ink, const struct spot *spot, size_t n,
	bool over_faint);
/* Over blanks if it can be, else over helping lines, else not at all. */
bool label_place(
	struct canvas *c, const char *text, enum ink ink, const struct spot *spot, size_t n);

/* 4.1 -> "4.1", 3.25 -> "3.25", not finite -> "?". One or two places. `decimal`: '.' or ','. */
const char *mm_text(struct arena *a, double mm, char decimal);
/* The text, or "?" for null. */
const char *asked_text(const char *text);

/* A growing list of facts, one line each. */
struct words {
	struct arena *arena;
	const char **list;
	size_t n, room;
	char decimal;
	bool out;
};
void words_add(struct words *w, const char *format, ...) __attribute__((format(printf, 2, 3)));
/* Puts the figure together; BAD_MEMORY if anything is missing. */
enum bad figure_make(struct arena *a, const char *title, struct canvas *c, const struct words *w,
	struct figure **out);

#endif
