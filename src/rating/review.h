/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Working out again from what a strand holds: do an assessor's readings prove what the line says, and is
 * the result what the levels, critical errors and agreements before it come to by the rubric? */
#ifndef BARWRIGHT_RATING_REVIEW_H
#define BARWRIGHT_RATING_REVIEW_H

#include <barwright/record/audit.h>

#include "course/course.h"

struct rating_review {
	const struct rubric *rubric; /* null: none is here */
	struct arena arena;          /* owns the pieces; release it at the end */
	struct rated_piece *piece;   /* of the strand that is being read */
	char strand[CHAIN_NAME + 1];
};
/* For struct audit_how: `context` is a struct rating_review. Takes lines of rating, in order. */
enum bad rating_review_line(void *context, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out);

#endif
