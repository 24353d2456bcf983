/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawings of a case as one SVG document (SVG 1.1): sizes in real millimetres on paper, texts as
 * texts, and the facts in words as <desc>, for readers who do not see it. Nothing but text comes
 * out: no script, no link, no style sheet, no font from elsewhere. */
#ifndef BARWRIGHT_PRINT_SVG_H
#define BARWRIGHT_PRINT_SVG_H

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

#include "figure/arch_figure.h"
#include "figure/stack_figure.h"

/* Text of an element or attribute: markup escaped, what is not fit for XML or a reader made plain. */
void svg_escaped(struct text *out, const char *s);

/* One sheet, `title` over it: the arch at SVG_ARCH_SCALE times its size, below it the sections with
 * heights at SVG_STACK_SCALE times. Adds to `out`. The codes of arch_figure and stack_figure for
 * what cannot be drawn, then `out` is as before; BAD_MEMORY. */
#define SVG_ARCH_SCALE  2
#define SVG_STACK_SCALE 4
enum bad svg_sheet(struct arena *a, const char *title, const struct arch_picture *arch,
	const struct stack_picture *stack, struct text *out);

#endif
