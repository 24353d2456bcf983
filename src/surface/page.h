/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person is shown: a title and a run of blocks. The same page goes to the screen and to the
 * plain surface; neither adds or leaves out content. All texts are UTF-8; texts from files and
 * people may stand in it as they are, since surfaces pass every text through the safe filter. */
#ifndef BARWRIGHT_SURFACE_PAGE_H
#define BARWRIGHT_SURFACE_PAGE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/mem.h>

#include "surface/canvas.h"
#include "surface/limit.h"

enum block_kind {
	BLOCK_HEADING,
	BLOCK_TEXT,  /* running text (text_fill); an empty line starts a new paragraph */
	BLOCK_ITEM,  /* one entry of a list */
	BLOCK_ROW,   /* text = label, value = what stands opposite */
	BLOCK_EXACT, /* kept as it is, not wrapped: formulas, tables, diagnostics */
	BLOCK_CAUTION, /* somebody can be hurt, or a case spoilt; surfaces write "Caution:" before it */
	BLOCK_GOOD, /* a result that is right; surfaces put a sign before it */
	BLOCK_BAD,  /* a result that is not; surfaces put a sign before it */
	BLOCK_FIGURE,
	BLOCK_COUNT
};

/* A drawing and the same thing in words, one line a fact, for readers who do not see it. */
struct figure {
	const char *title;
	struct canvas *canvas;
	const char **words;
	size_t nword;
};

struct block {
	enum block_kind kind;
	const char *text, *value;
	const struct figure *figure;
	struct block *next;
};

struct page {
	struct arena *arena; /* owns blocks and texts */
	const char *title;   /* not copied */
	const char *note;    /* short, beside the title: "task 3"; null for none */
	struct block *first, *last;
	int out; /* memory ran out: something is missing */
	/* The time that is left stands behind the note, and what is asked on the page is asked until it is
	 * over; all zero: no time runs. */
	struct limit limit;
};

/* Title and note are not copied: they, like figures, must live as long as the page. */
void page_init(struct page *p, struct arena *a, const char *title, const char *note);
/* Each adds one block; the text is formatted into the arena. */
void page_add(struct page *p, enum block_kind kind, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
/* Text as it is, no formatting. */
void page_add_text(struct page *p, enum block_kind kind, const char *text, size_t len);
void page_row(struct page *p, const char *label, const char *format, ...)
	__attribute__((format(printf, 3, 4)));
void page_figure(struct page *p, const struct figure *f);
/* Copies of all blocks of `from`, texts and figures too, into the arena of `to`, behind what it has;
 * the titles stay. */
void page_add_copy(struct page *to, const struct page *from);

/* Does an empty line stand before `b`, when `before` was shown above it? Both surfaces space blocks
 * this way: lists, rows and tables stay together, a heading stays with what it heads. */
bool block_has_gap(enum block_kind before, const struct block *b);

/* Makes running text of lines that were wrapped where they were written: a line end becomes a blank,
 * unless an empty line follows or the next line starts with a blank or a list's "- " or "* ". */
void text_fill(char *s, size_t len);

/* Wraps UTF-8 text into lines of at most `columns` columns (at blanks; a longer word is cut),
 * LF breaks. Calls `line` for each; stops when it returns non-zero. Used by every surface. Blanks
 * at the start of a piece stay, those at a break and at the end go; an ending LF adds no line, and
 * an empty text has none. Columns count as text_add_safe would show the text. */
void text_wrap(const char *text, size_t len, int columns,
	int (*line)(void *to, const char *at, size_t len), void *to);

#endif
