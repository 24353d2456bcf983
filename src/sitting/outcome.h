/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a sitting comes to: points by competency against the cuts of its blueprint, critical items, and why.
 * Every item is one point, shared evenly by the things it asks. */
#ifndef BARWRIGHT_SITTING_OUTCOME_H
#define BARWRIGHT_SITTING_OUTCOME_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/mem.h>
#include <barwright/record/graded.h>

#include "course/assessment.h"

/* One place of the form. */
struct marked {
	const struct problem *problem;
	bool critical;
	size_t right; /* of problem->nask */
};
/* Beside the points. */
struct circumstances {
	uint64_t attempt, used_ms, breaks, late, forward_ms, back_ms;
	bool time_over;
};

/* Fills a result line, all its texts in `a`. Passed is who reaches the share of the whole, every cut
 * and has every critical item wholly right. Parts: first the competencies with a cut of their own,
 * then the others that were asked, against the share of the whole, which decide nothing. BAD_MEMORY. */
enum bad outcome_find(const struct assessment *what, const struct course *c,
	const struct marked *place, size_t n, const struct circumstances *how, struct arena *a,
	struct line_result *out);
bool outcome_is_pass(const struct line_result *r);

#endif
