/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checking files for their authors: all faults of whatever is named, without using anything of it.
 * Higher floors add what only they can find out about a problem or a procedure. */
#ifndef BARWRIGHT_COURSE_CHECK_H
#define BARWRIGHT_COURSE_CHECK_H

#include "course/course.h"
#include "tree/tree.h"

struct check_counts {
	size_t files;
	size_t courses, modules, lessons, problems, items, rubrics, stations, cases, procedures;
	size_t steps, faults; /* of procedures */
	size_t assessments, programmes;
};

struct procedure;

struct check {
	struct arena *arena; /* owns all that is read, until the faults are printed */
	struct diags *diags;
	/* Called for every problem without a fault: to draw instances of it, say. May be null. */
	enum bad (*problem)(void *to, const struct problem *p, struct diags *d);
	void *to;
	/* And for every procedure without a fault: to work it through. `a` outlives the diags. */
	enum bad (*procedure)(struct arena *a, const struct procedure *p, struct diags *d);
	struct check_counts n;
	struct claims *station;        /* stations of rubrics */
	struct wanted_station *wanted; /* and those that modules name */
	const struct course *above;    /* of the assessment read last, and where that is */
	const char *above_path;
};

/* All zero but arena and diags is a check that has seen nothing yet. */

/* One file: its first key tells what it is (doc.h, DOCUMENT_KINDS). What other
 * files it names must be there, but are not read; a problem is checked against the competencies of
 * the course.yaml one folder up, if there is one. Codes: those of file_read for the
 * file itself (nothing is reported then), BAD_MEMORY. */
enum bad check_file(struct check *c, const char *path);
/* The same for bytes that are in memory, as if they stood in file->name. Both must last until the
 * faults are printed. BAD_MEMORY. */
enum bad check_text(struct check *c, const struct source *file);
/* A folder with course.yaml in it: the whole course, and every file in its module folders that no
 * list names. Any other folder: every *.yaml in it and in the folders below, those whose names
 * begin with a point left out. Codes: of folder_list for the folder itself, BAD_MEMORY. */
enum bad check_folder(struct check *c, const char *path);
/* What can be told only when all is read: stations that modules name and no rubric has, if any
 * rubric was among what was checked. Then sorts the faults by file and place. BAD_MEMORY. */
enum bad check_end(struct check *c);

#endif
