/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drawings as text, and a box to draw: what tests need of a canvas and the program does not. */
#ifndef BARWRIGHT_TESTS_CANVAS_ROWS_H
#define BARWRIGHT_TESTS_CANVAS_ROWS_H

#include "surface/canvas.h"

/* Row by row, trailing blanks cut, each row ended by LF; UTF-8, or ASCII only. */
static inline void canvas_rows(const struct canvas *c, int ascii, struct text *out)
{
	for (int row = 0; row < c->rows; row++) {
		canvas_add_cells(c, row, 0, canvas_used(c, row), ascii, out);
		text_add_char(out, '\n');
	}
}

/* A box of at least two rows and columns. */
static inline void canvas_box(struct canvas *c, int row, int col, int rows, int cols)
{
	int bottom = row + rows - 1, right = col + cols - 1;
	canvas_line(c, row, col, bottom, col, 0x2502, INK_FAINT);
	canvas_line(c, row, right, bottom, right, 0x2502, INK_FAINT);
	canvas_line(c, row, col, row, right, 0x2500, INK_FAINT);
	canvas_line(c, bottom, col, bottom, right, 0x2500, INK_FAINT);
	canvas_put(c, row, col, 0x250C, INK_FAINT);
	canvas_put(c, row, right, 0x2510, INK_FAINT);
	canvas_put(c, bottom, col, 0x2514, INK_FAINT);
	canvas_put(c, bottom, right, 0x2518, INK_FAINT);
}

#endif
