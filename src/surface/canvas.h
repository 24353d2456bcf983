/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A drawing in character cells, before anybody knows on what it will be shown. Rows count from the
 * top, columns from the left, both from 0; what falls outside is not drawn. One code point of one
 * column a cell. Glyphs are chosen from Latin, arrows, box drawing and geometric shapes, each with
 * an ASCII stand-in, so that every terminal and every pipe gets the same drawing. */
#ifndef BARWRIGHT_SURFACE_CANVAS_H
#define BARWRIGHT_SURFACE_CANVAS_H

#include <stddef.h>
#include <stdint.h>

#include <barwright/base/mem.h>
#include <barwright/base/text.h>

/* What a cell means; the surface decides how that looks. Colour never stands alone. */
enum ink {
	INK_PLAIN,
	INK_STRONG, /* labels that matter */
	INK_FAINT,  /* helping lines, scales */
	INK_WORK,   /* the bar, the cylinder, what is made */
	INK_MARK,   /* what is asked for or measured */
	INK_GOOD,
	INK_BAD,
	INK_COUNT
};

struct cell {
	uint32_t glyph; /* 0: blank */
	uint8_t ink;    /* enum ink */
};

struct canvas {
	int rows, cols;
	struct cell *cell; /* rows * cols, row by row; from the arena */
};

/* A blank canvas, or null when memory ran out. Sizes outside 1..200 rows and 1..400 columns are
 * brought to the nearest end. */
struct canvas *canvas_new(struct arena *a, int rows, int cols);
/* What takes no or two columns, or must not be shown raw, is put as '?'. */
void canvas_put(struct canvas *c, int row, int col, uint32_t glyph, enum ink ink);
/* UTF-8 text to the right of (row, col), one code point a cell; returns the columns it took, those
 * outside the canvas too. Faulty bytes and unsafe code points show as '?'. */
int canvas_text(struct canvas *c, int row, int col, const char *text, enum ink ink);
/* The same, ending at col (inclusive) or centred on it. */
int canvas_text_right(struct canvas *c, int row, int col, const char *text, enum ink ink);
int canvas_text_centre(struct canvas *c, int row, int col, const char *text, enum ink ink);
/* A straight line of one glyph through cells (DDA), both ends included; the same cells from either
 * end. Places beyond CANVAS_FAR from the origin are not drawn. */
enum { CANVAS_FAR = 10000 };
void canvas_line(
	struct canvas *c, int row1, int col1, int row2, int col2, uint32_t glyph, enum ink ink);
void canvas_fill(
	struct canvas *c, int row, int col, int rows, int cols, uint32_t glyph, enum ink ink);
/* What of a canvas is drawn on: rows first..end-1, and the columns up to the last cell that is not
 * blank. An empty one has none. */
struct span {
	int first, end, cols;
};
struct span canvas_span(const struct canvas *c);
/* Columns up to the last cell of a row that is not blank; row inside the canvas. */
int canvas_used(const struct canvas *c, int row);
/* The cells from..to-1 of a row as text, blanks kept. */
void canvas_add_cells(
	const struct canvas *c, int row, int from, int to, int ascii, struct text *out);

#endif
