/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Finding the course, the rubrics and the data folder that the options mean. */
#ifndef BARWRIGHT_CMD_COURSES_H
#define BARWRIGHT_CMD_COURSES_H

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "cmd/command.h"
#include "course/course.h"

/* The folder that holds strands and keys; in `a`, null when memory ran out. */
const char *data_folder(const struct options *o, struct arena *a);

/* The folder of courses that the options mean, or the first standard one that has any; in `a`. */
const char *courses_folder(const struct options *o, struct arena *a);
/* All courses below the folder of the options or the first standard folder that has any. Faults of
 * their files go to stderr in short: how many, and how to see them. Says on stderr why there is
 * none. The caller releases each with course_release. */
struct courses {
	struct course *course;
	const char **path; /* the folder of each, in the arena that was handed in */
	size_t n;
	const char *folder; /* where they are */
};
enum bad courses_load(const struct options *o, struct arena *a, struct courses *out);
/* The same with course_heads instead of course_load. */
enum bad courses_heads(const struct options *o, struct arena *a, struct courses *out);
/* Says on stderr how many faults were found while a course was read, if any. */
void courses_tell_faults(size_t nerror, const char *path);
void courses_release(struct courses *c);
/* The one --course names, or the first; null (and said on stderr) when there is no such. */
const struct course *courses_choose(const struct courses *c, const struct options *o);
/* The rubrics that belong to the courses in `folder`: the first *.yaml of the folder "rubrics"
 * beside it. FINE with no station when there are none. */
enum bad rubrics_load(const char *folder, struct arena *a, struct rubric *out);
/* All of them, in the order of their files' names; one with a fault has no stations. What was read before
 * a failure is in `out` too: rubrics_release in any case. */
struct rubrics {
	struct rubric *at; /* in the arena */
	size_t n;
};
enum bad rubrics_gather(const char *folder, struct arena *a, struct rubrics *out);
void rubrics_release(struct rubrics *r);

#endif
