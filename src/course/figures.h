/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawings a document may ask for, and what each wants to know: one table, from which files are
 * checked and the authors' reference is written. */
#ifndef BARWRIGHT_COURSE_FIGURES_H
#define BARWRIGHT_COURSE_FIGURES_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/unit.h>

#include "course/course.h"

enum {
	FIGURE_TEXTS = 1 << 8, /* a list of texts, no formula */
	FIGURE_STEPS = 12      /* of a schedule */
};

struct figure_form {
	const char *name;
	unsigned kinds; /* bit 1 << FORMULA_NUMBER and so on, or FIGURE_TEXTS: what may be given */
	struct dim dim; /* of a number or of the elements of a list */
	bool needed;
	const char *about; /* a phrase for authors */
	/* Of a list of texts: */
	const char *const *among; /* they are words of this list, which ends in null */
	const char *of;           /* or of what this field, which stands before it, lists */
	size_t most;              /* characters of each, when they are free */
	size_t count;             /* how many there are; 0: any number */
};

/* What a drawing of this kind wants to know; n is 0 for FIGURE_NONE. */
const struct figure_form *figure_forms(enum figure_kind kind, size_t *n);

#endif
