/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How a programme names what a course teaches: its own outcome codes, each with the competencies that
 * show it. The file is specified at the top of programme.c. */
#ifndef BARWRIGHT_COURSE_PROGRAMME_H
#define BARWRIGHT_COURSE_PROGRAMME_H

#include <stddef.h>

#include "course/course.h"

struct outcome_code {
	const char *code, *title;
	const char *const *competency;
	size_t ncompetency;
	int evidence; /* assessed pieces that each competency needs, at least 1 */
};
struct programme {
	struct arena arena;
	const char *code, *title, *about;
	const struct outcome_code *outcome;
	size_t noutcome;
	struct hash hash; /* SHA-256 of the bytes of its file */
};
void programme_release(struct programme *p);

/* `course` knows the competencies; null: any is taken. With faults it comes back without outcomes.
 * Codes of file_read, BAD_MEMORY. */
enum bad programme_load(
	const char *path, const struct course *course, struct programme *out, struct diags *d);

#endif
