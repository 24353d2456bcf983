/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A worked case as one page: the verdict, drawings, every number beside its limit, and where each
 * limit comes from: a published source, common practice, or this course. */
#ifndef BARWRIGHT_WORK_REPORT_H
#define BARWRIGHT_WORK_REPORT_H

#include <barwright/base/bad.h>

#include "figure/arch_figure.h"
#include "figure/stack_figure.h"
#include "surface/page.h"
#include "work/work.h"

/* Fills `p` (set up here, its blocks in `a`). BAD_MEMORY. */
enum bad work_report(struct arena *a, const struct work_result *w, struct page *p);

/* What the two drawings are made of: texts and lists in `a`, `w` must outlive them. BAD_MEMORY. */
enum bad work_arch_picture(struct arena *a, const struct work_result *w, struct arch_picture *out);
enum bad work_stack_picture(
	struct arena *a, const struct work_result *w, struct stack_picture *out);

#endif
