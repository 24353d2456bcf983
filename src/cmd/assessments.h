/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The assessments that lie in the folders of the courses. */
#ifndef BARWRIGHT_CMD_ASSESSMENTS_H
#define BARWRIGHT_CMD_ASSESSMENTS_H

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "course/assessment.h"

struct assessments {
	struct assessment **at;
	size_t n;
};
/* Every assessments/NAME.yaml of the courses in `folder`, in `a`; one with a fault, or that cannot be
 * read, is left out. Release it in every case. BAD_MEMORY. */
enum bad assessments_gather(const char *folder, struct arena *a, struct assessments *out);
void assessments_release(struct assessments *x);

/* Says on stderr which assessments there are in `folder`: code, title, time, which are locked, and how one is
 * sat; or that there is none. */
void assessments_list(const char *folder);

#endif
