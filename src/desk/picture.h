/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drawing a course file describes, with the values of an instance or, in a lesson, by itself. */
#ifndef BARWRIGHT_DESK_PICTURE_H
#define BARWRIGHT_DESK_PICTURE_H

#include <barwright/formula/formula.h>

#include "course/course.h"
#include "surface/page.h"

/* Adds the drawing to the page. A drawing that cannot be made with these values (it is checked with
 * the course, so that is rare) leaves a line that says so. `values` may be null for a lesson. */
void picture_add(struct page *p, const struct figure_spec *spec, const struct formula_value *values,
	struct formula_work *work, int columns, char sign);

#endif
