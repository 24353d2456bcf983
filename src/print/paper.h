/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plain text on A4 sheets as SVG 1.1: one document a sheet, sizes in real millimetres, a fixed-width font, no
 * script, no link, nothing from elsewhere. */
#ifndef BARWRIGHT_PRINT_PAPER_H
#define BARWRIGHT_PRINT_PAPER_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

enum { PAPER_LINES = 62, PAPER_COLUMNS = 92 };

/* The lines of a text, long ones wrapped; in `a`. BAD_MEMORY. */
enum bad paper_lines(struct arena *a, const char *text, const char *const **line, size_t *n);
/* How many sheets n lines take: at least 1. */
size_t paper_sheets(size_t n);
/* Sheet `sheet` (from 0) with title and "sheet 1 of 2" at its foot; what begins at the margin is bold. Adds to `out`. BAD_MEMORY. */
enum bad paper_sheet(
	const char *title, const char *const *line, size_t n, size_t sheet, struct text *out);

#endif
