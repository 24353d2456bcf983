/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Comparing drawings as text. A drawing that differs is printed whole, so that it can be looked at
 * before it is copied into the test. */
#ifndef BARWRIGHT_TESTS_DRAWING_H
#define BARWRIGHT_TESTS_DRAWING_H

#include "canvas_rows.h"
#include "near.h"

#include <string.h>

#include <barwright/base/text.h>

#include "surface/page.h"

static inline void drawing_at(
	const char *file, int line, const struct figure *f, int ascii, const char *want)
{
	struct text t;
	text_init(&t);
	canvas_rows(f->canvas, ascii, &t);
	int same = strcmp(t.at, want) == 0;
	if (!same)
		fprintf(stderr, "%s:%d: %s: got\n%swant\n%s", file, line, f->title, t.at, want);
	text_release(&t);
	if (!same)
		_fail(file, line);
}
#define drawing_is(figure, want)       drawing_at(__FILE__, __LINE__, (figure), 0, (want))
#define ascii_drawing_is(figure, want) drawing_at(__FILE__, __LINE__, (figure), 1, (want))

/* Is this one of the facts? */
static inline void fact_at(const char *file, int line, const struct figure *f, const char *want)
{
	for (size_t i = 0; i < f->nword; i++)
		if (strcmp(f->words[i], want) == 0)
			return;
	print_error("%s:%d: no fact '%s' among\n", file, line, want);
	for (size_t i = 0; i < f->nword; i++)
		print_error("  %s\n", f->words[i]);
	_fail(file, line);
}
#define fact_is_told(figure, want) fact_at(__FILE__, __LINE__, (figure), (want))

/* Where a text stands in the drawing; fails the test when it does not. */
static inline void find_at(
	const char *file, int line, const struct figure *f, const char *want, int *row, int *col)
{
	const struct canvas *c = f->canvas;
	int len = (int)strlen(want);

	for (*row = 0; *row < c->rows; ++*row)
		for (*col = 0; *col + len <= c->cols; ++*col) {
			int k = 0;
			while (k < len &&
				c->cell[*row * c->cols + *col + k].glyph == (unsigned char)want[k])
				k++;
			if (k == len)
				return;
		}
	print_error("%s:%d: '%s' is not in the drawing\n", file, line, want);
	_fail(file, line);
}
#define find_text(figure, want, row, col) \
	find_at(__FILE__, __LINE__, (figure), (want), (row), (col))

#endif
