/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/canvas.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/base/utf8.h>

#include "surface/charset.h"

enum { ROWS_MOST = 200, COLS_MOST = 400 };

static int clamped(int value, int least, int most)
{
	return value < least ? least : value > most ? most : value;
}

struct canvas *canvas_new(struct arena *a, int rows, int cols)
{
	struct canvas *c = arena_new(a, struct canvas);
	if (!c)
		return NULL;
	c->rows = clamped(rows, 1, ROWS_MOST);
	c->cols = clamped(cols, 1, COLS_MOST);
	c->cell = arena_many(a, (size_t)c->rows * (size_t)c->cols, struct cell);
	return c->cell ? c : NULL;
}

void canvas_put(struct canvas *c, int row, int col, uint32_t glyph, enum ink ink)
{
	if (row < 0 || row >= c->rows || col < 0 || col >= c->cols)
		return;
	if (glyph && utf8_columns(glyph) != 1)
		glyph = '?';
	c->cell[row * c->cols + col] = (struct cell){.glyph = glyph, .ink = (uint8_t)ink};
}

int canvas_text(struct canvas *c, int row, int col, const char *text, enum ink ink)
{
	size_t len = strlen(text);
	int taken = 0;
	for (size_t i = 0; i < len && taken < COLS_MOST; taken++) {
		uint32_t code = '?';
		size_t n = utf8_read(text + i, len - i, &code);
		if (code == '\t')
			code = ' ';
		canvas_put(c, row, col + taken, code, ink);
		i += n ? n : 1;
	}
	return taken;
}

static int text_columns(const char *text)
{
	size_t count = utf8_count(text, strlen(text));
	return count < COLS_MOST ? (int)count : COLS_MOST;
}

int canvas_text_right(struct canvas *c, int row, int col, const char *text, enum ink ink)
{
	return canvas_text(c, row, col - text_columns(text) + 1, text, ink);
}

int canvas_text_centre(struct canvas *c, int row, int col, const char *text, enum ink ink)
{
	return canvas_text(c, row, col - text_columns(text) / 2, text, ink);
}

/* a/b to the nearest whole number, halves upwards; b > 0. A line and its reverse so hit the same
 * cells. */
static int nearest(int a, int b)
{
	int doubled = 2 * a + b, whole = doubled / (2 * b);
	return doubled % (2 * b) < 0 ? whole - 1 : whole;
}

static bool is_far(int place)
{
	return place < -CANVAS_FAR || place > CANVAS_FAR;
}

void canvas_line(
	struct canvas *c, int row1, int col1, int row2, int col2, uint32_t glyph, enum ink ink)
{
	if (is_far(row1) || is_far(col1) || is_far(row2) || is_far(col2))
		return;
	int down = row2 - row1, right = col2 - col1;
	int steps = abs(down) > abs(right) ? abs(down) : abs(right);
	if (!steps)
		canvas_put(c, row1, col1, glyph, ink);
	for (int i = 0; steps && i <= steps; i++)
		canvas_put(c, nearest(row1 * steps + down * i, steps),
			nearest(col1 * steps + right * i, steps), glyph, ink);
}

void canvas_fill(
	struct canvas *c, int row, int col, int rows, int cols, uint32_t glyph, enum ink ink)
{
	if (is_far(row) || is_far(col))
		return;
	int bottom = row + clamped(rows, 0, 2 * CANVAS_FAR);
	int right = col + clamped(cols, 0, 2 * CANVAS_FAR);
	for (int r = clamped(row, 0, c->rows); r < bottom && r < c->rows; r++)
		for (int k = clamped(col, 0, c->cols); k < right && k < c->cols; k++)
			canvas_put(c, r, k, glyph, ink);
}

static bool is_blank(const struct cell *cell)
{
	return !cell->glyph || cell->glyph == ' ';
}

int canvas_used(const struct canvas *c, int row)
{
	int used = c->cols;
	while (used > 0 && is_blank(&c->cell[row * c->cols + used - 1]))
		used--;
	return used;
}

struct span canvas_span(const struct canvas *c)
{
	struct span span = {0};
	for (int row = 0; row < c->rows; row++) {
		int used = canvas_used(c, row);
		if (!used)
			continue;
		if (!span.end)
			span.first = row;
		span.end = row + 1;
		span.cols = used > span.cols ? used : span.cols;
	}
	return span;
}

void canvas_add_cells(
	const struct canvas *c, int row, int from, int to, int ascii, struct text *out)
{
	for (int col = from; col < to; col++) {
		uint32_t glyph = c->cell[row * c->cols + col].glyph;
		char bytes[4] = {' '};
		size_t n = 1;
		if (glyph && ascii)
			bytes[0] = charset_cell(glyph);
		else if (glyph)
			n = utf8_write(glyph, bytes);
		text_add_bytes(out, bytes, n);
	}
}
