/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: parts of the reader of assessments. */
#ifndef BARWRIGHT_COURSE_ASSESSMENT_PARTS_H
#define BARWRIGHT_COURSE_ASSESSMENT_PARTS_H

#include "course/assessment.h"
#include "course/doc.h"

/* A share, as a part of 1. A bare number is in per cent, but one that could be meant as a part of 1 is a fault. */
double share_read(struct doc *c, struct tree *t, double otherwise);
/* The list behind "judges", or null; the sections and the cut of `out` are read already. */
void judges_read(struct doc *c, struct tree *t, struct assessment *out);

#endif
