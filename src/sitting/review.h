/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making forms and results of sittings again from what a strand holds: was this form drawn for this
 * candidate, and is the result what the answers come to? */
#ifndef BARWRIGHT_SITTING_REVIEW_H
#define BARWRIGHT_SITTING_REVIEW_H

#include <barwright/record/audit.h>

#include "course/assessment.h"

/* What may be needed, and the sitting that is being read. */
struct review {
	const struct course *const *course;
	size_t ncourse;
	struct assessment *const *assessment;
	size_t nassessment;
	struct arena arena; /* owns the sitting; release it at the end */
	struct review_sitting *sitting;
};
/* For struct audit_how: `context` is a struct review. Results of ratings are left alone. */
enum bad review_line(void *context, const struct strand_line *line, const struct line_open *open,
	struct audit_finding *out);

#endif
