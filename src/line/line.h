/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The plain surface: questions and answers line by line, for screen readers, pipes and scripts. It
 * only ever appends: no escape bytes, no moving of the cursor, no line drawing but in figures, and
 * each figure also in words. UTF-8 where the locale says so, ASCII stand-ins elsewhere. */
#ifndef BARWRIGHT_LINE_LINE_H
#define BARWRIGHT_LINE_LINE_H

#include <stdbool.h>

#include "surface/surface.h"

struct line_options {
	int in, out;     /* descriptors; they stay open after line_close */
	int columns;     /* to wrap at; 0: the terminal's, at most 80, or 78 where there is none */
	bool words_only; /* figures in words alone, without the drawing */
	bool ascii;      /* even if the locale is UTF-8 */
};

/* A surface to be closed with line_close, or null when memory ran out. charset_start comes before,
 * and signals_install, or a closed pipe kills the program.
 *
 * show, tell and ask: when whoever reads the output has gone (EPIPE, a lost terminal) they are quiet
 * and the next reply is REPLY_LOST; BAD_FULL and BAD_IO when writing fails for another reason,
 * BAD_MEMORY when something would be missing. Everything is written out before they return.
 * The end of the input is REPLY_LOST; a last line without its line end counts. When the input is not
 * a terminal each line read is printed behind its prompt, so that the output tells the session. */
struct surface *line_open(const struct line_options *options);
void line_close(struct surface *s); /* null is fine */

#endif
