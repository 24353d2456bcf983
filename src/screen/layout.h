/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pages as rows of text with a meaning, laid out for a width: pure, no terminal. Texts are already
 * filtered and, where the terminal needs it, in ASCII. Everything lives in one arena. */
#ifndef BARWRIGHT_SCREEN_LAYOUT_H
#define BARWRIGHT_SCREEN_LAYOUT_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/mem.h>

#include "surface/page.h"

/* What the terminal and the person want. */
struct look {
	bool utf8;  /* else ASCII */
	bool ticks; /* the terminal has signs for right and wrong; else words in brackets */
	bool words; /* figures in words instead of drawn */
};

/* Meanings beyond those of a drawing's cells. */
enum { INK_CAUTION = INK_COUNT, INK_FOCUS, INK_FIELD, INK_ALL };

struct segment {
	struct segment *next;
	int col;          /* from 0 */
	int ink;          /* enum ink or one of the above */
	const char *text; /* UTF-8, safe */
	size_t len;
};

struct row {
	struct segment *first, *last;
	size_t block; /* the block of the page it belongs to, from 0 */
};

/* A growing list of rows; all zero but `arena` is an empty one. `out`: memory ran out. */
struct rows {
	struct arena *arena;
	struct row *at;
	size_t n, room;
	bool out;
};

/* The row with this index; rows before it are made if they are not there. Null when out. */
struct row *rows_at(struct rows *r, size_t index);
/* A text of the caller's arena at (index, col); nothing when len is 0. */
void rows_put(struct rows *r, size_t index, int col, const char *text, size_t len, int ink);
/* A stranger's text made safe for this look and running (text_fill), in the arena; never null. */
const char *rows_safe(struct rows *r, const struct look *look, const char *s, size_t *len);
/* Wraps a text that is safe to `columns` from (index, col) downwards, later lines indented by
 * `indent`; returns the rows it took. */
size_t rows_wrap(struct rows *r, size_t index, int col, int columns, int indent, const char *text,
	size_t len, int ink);

/* Lays a page's blocks out: text at `margin`, at most `columns` wide, on a terminal of `width`
 * columns. Figures that fit stand beside the text, or below it, or else are told in words. */
void layout_page(const struct page *p, const struct look *look, int margin, int columns, int width,
	struct rows *out);

#endif
