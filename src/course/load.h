/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading course and rubric files. All faults of all files are reported in one pass, each with its
 * place; a lesson, problem or module with a fault of its own is left out of what comes back, so that
 * one author's mistake does not close a whole course. */
#ifndef BARWRIGHT_COURSE_LOAD_H
#define BARWRIGHT_COURSE_LOAD_H

#include "course/course.h"

enum { COURSE_FILE_BYTES = 1 << 20 };

/* The course in a folder. Faults go to `d` (its arena must outlive the diags; the sources they point
 * to live in the course, so print before course_release). FINE also when faults were found
 * (look at d->nerror); what could not be read of course.yaml is then an empty text, and its code the
 * name of the folder. BAD_ABSENT when there is no course.yaml, other codes of file_read when it
 * cannot be read, BAD_MEMORY: `out` is then empty, and `d` as it was. */
enum bad course_load(const char *folder, struct course *out, struct diags *d);
/* What a first page needs of a course: modules as they are, of a lesson only that it is there (code and
 * title are empty texts, no pages), of a problem or item its code, as its file's name tells it, and
 * whether it is fixed; no hashes. Only course.yaml and each module.yaml are read, so what has a fault
 * in another file is still there; nothing is told of any. Codes as course_load. */
enum bad course_heads(const char *folder, struct course *out);
/* Its title; of a head it is read now. Lives in its course or in `a`; "" if it cannot be read. */
const char *problem_title(const struct problem *p, struct arena *a);
/* The rubric in a file; one with a fault comes back without stations. Codes as above. */
enum bad rubric_load(const char *path, struct rubric *out, struct diags *d);

#endif
