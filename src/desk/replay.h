/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making a recorded answer again: the instance from its key, the score from what was typed. */
#ifndef BARWRIGHT_DESK_REPLAY_H
#define BARWRIGHT_DESK_REPLAY_H

#include <barwright/base/mem.h>
#include <barwright/record/audit.h>

#include "course/assessment.h"

struct instance;

/* Courses that may be needed; the instances made so far are kept for the next line. */
struct replay {
	const struct course *const *course;
	size_t ncourse;
	/* Problems and items of their own may be in them. */
	struct assessment *const *assessment;
	size_t nassessment;
	struct arena arena; /* owns the instances; release it at the end */
	struct replay_made *made;
};

/* For struct audit_how: `context` is a struct replay. */
enum bad replay_answer(void *context, const struct audit_case *what, struct audit_finding *out);

#endif
