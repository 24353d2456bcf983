/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading course and rubric files. All faults of all files are reported in one pass, each with its
 * place; a file or a problem with a fault is left out of what comes back, so that one author's
 * mistake does not close a whole course. */
#ifndef BARWRIGHT_COURSE_LOAD_H
#define BARWRIGHT_COURSE_LOAD_H

#include "course/course.h"

enum { COURSE_FILE_BYTES = 1 << 20 };

/* The course in a folder. Faults go to `d` (its arena must outlive the diags; the sources they point
 * to live in the course, so print before course_release). FINE also when faults were found
 * (look at d->nerror); BAD_ABSENT when there is no course.yaml, BAD_MEMORY, BAD_IO. On a code
 * `out` is empty. */
enum bad course_load(const char *folder, struct course *out, struct diags *d);
enum bad rubric_load(const char *path, struct rubric *out, struct diags *d);

/* One file of any kind by itself, as "check FILE" does: its first key tells the kind (course, module,
 * lesson, problem, rubric). A problem is checked against the competencies of the course.yaml one
 * folder up if there is one. What was read goes away again. */
enum bad file_check(struct arena *a, const char *path, struct diags *d);
/* A folder: every course and rubric below it. */
enum bad folder_check(struct arena *a, const char *path, struct diags *d, size_t *files);

#endif
