/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole screen as rows of text, made from what there is to see: pure, no terminal and no keys.
 *
 *    Title                                            note
 *   -------------------------------------- 3 lines above --
 *    the page, as far as it fits
 *   ----------------------------- 12 lines below (PgDn) --
 *    the question: a field, a list, or go on
 *
 *    the keys that matter here                                                        */
#ifndef BARWRIGHT_SCREEN_FRAME_H
#define BARWRIGHT_SCREEN_FRAME_H

#include <stdbool.h>
#include <stddef.h>

#include "screen/field.h"
#include "screen/keys.h"
#include "screen/layout.h"
#include "surface/surface.h"

enum { FRAME_LEAST_ROWS = 16, FRAME_LEAST_COLS = 60, FRAME_TEXT_COLS = 78, FRAME_LIST_COLS = 150 };

struct view {
	struct look look;
	const struct page *page;
	const struct question *question; /* null: nothing is asked now */
	const struct field *field;       /* for a question that is typed */
	size_t chosen;                   /* for a list */
	const char *fault;               /* why the last reply was not taken; null: none */
	enum place place;                /* whose keys the last line shows */
	const char *left;                /* of the time, behind the note; null or "": none runs */
	const char *warning;             /* below the question; null: none */
	const char *confirm;             /* instead: a question, and the cursor stands there */
	bool reading;                    /* the cursor stands in the text, not in the question */
	size_t top;                      /* first row of the page in sight; brought into range */
	int cols;                        /* for which `top` holds; 0: not known yet */
	size_t top_block;                /* the block that row belongs to, for another width */
	bool reveal;                     /* bring the blocks from reveal_block on into sight */
	size_t reveal_block;
};

struct frame {
	struct rows rows;
	int cursor_row, cursor_col;
	size_t body_rows;   /* of the page, all of them */
	size_t body_height; /* of them in sight */
	bool too_small;     /* only a sentence is shown */
};

/* Columns a page is wrapped to on a terminal this wide. */
int frame_text_cols(int cols);
/* Fills *out from the view for a terminal of this size; writes back what the view calls "brought
 * into range". out->rows.out when memory ran out. */
void frame_make(struct view *v, int rows, int cols, struct arena *a, struct frame *out);

#endif
