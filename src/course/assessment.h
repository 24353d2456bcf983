/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An assessment: the blueprint from which every candidate's own form is drawn. A form has as many
 * places as the blueprint has items; which items of the course's bank stand there is drawn for each
 * candidate. The file is specified at the top of assessment.c. */
#ifndef BARWRIGHT_COURSE_ASSESSMENT_H
#define BARWRIGHT_COURSE_ASSESSMENT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "course/course.h"

/* Some places of a section: this very item, or as many as `items` from those of a competency. */
struct assessment_row {
	const char *item;       /* null: drawn */
	const char *competency; /* that one and those below it: "K3" takes "K3.1"; null: `item` */
	int level;              /* 1 to 3; 0: any */
	int items;              /* at least 1 */
	bool critical;          /* each of them must be wholly right */
	struct place place;
};
struct assessment_section {
	const char *title;
	const struct assessment_row *row;
	size_t nrow;
};
struct assessment_cut {
	const char *competency;
	double share; /* 0 to 1 of the points of its items */
	struct place place;
};
/* How likely somebody just good enough is to get the items of each line of the sections right. */
struct assessment_judge {
	const char *name;
	const double *share; /* 0 to 1, one a line */
	size_t n;
};
/* Somebody who may open it. */
struct assessment_guest {
	const char *candidate; /* name as the learner types it, or code */
	double extra_s;
};
struct assessment {
	struct arena arena;
	const char *code, *title, *about;
	const char *course; /* whose items it draws */
	double time_s;
	int attempts;
	double wait_s; /* between two attempts */
	const char *const *tool;
	size_t ntool;
	const struct assessment_section *section;
	size_t nsection;
	const struct problem *own; /* problems and items that stand in the file itself */
	const struct place *own_place;
	size_t nown;
	const struct assessment_judge *judge;
	size_t njudge;
	const struct assessment_cut *cut;
	size_t ncut;
	double share; /* 0 to 1 of all points */
	const struct assessment_guest *guest;
	size_t nguest;    /* 0: anybody may open it */
	struct hash hash; /* SHA-256 of the bytes of its file */
};
void assessment_release(struct assessment *a);

/* Reads a file, or bytes that stood in `name`. With faults it comes back without sections. Faults go
 * to `d`; the sources they point to live in the assessment. Codes of file_read, BAD_MEMORY. */
enum bad assessment_load(const char *path, struct assessment *out, struct diags *d);
enum bad assessment_of(
	const char *name, const char *bytes, size_t len, struct assessment *out, struct diags *d);

/* Is competency `code` the one of `family` or below it? */
bool competency_is_in(const char *code, const char *family);
/* Places of a form, and the row that place `n` comes from. */
size_t assessment_places(const struct assessment *a);
const struct assessment_row *assessment_place(const struct assessment *a, size_t n);
/* The guest, or null; names are compared as they are written. */
const struct assessment_guest *assessment_find_guest(
	const struct assessment *a, const char *name, const char *code);

/* The course with what stands in the assessment too; lists of it in `mem`, the rest is the course's. BAD_MEMORY. */
enum bad assessment_course(
	const struct assessment *a, const struct course *c, struct arena *mem, struct course *out);
/* One of its own, or null. */
const struct problem *assessment_own(const struct assessment *a, const char *code);

/* Gives every place an item, none twice, in the order the lists say: order[n] names the items that
 * place n tries, as indices into course->by_code, all of them. form[n] is null where no item was
 * left. So few stay empty as can be (augmenting paths: H. W. Kuhn, "The Hungarian method for the
 * assignment problem", Naval Research Logistics Quarterly 2, 1955, in its unweighted form). *empty
 * counts them. BAD_MEMORY. */
enum bad assessment_fill(const struct assessment *a, const struct course *c, uint32_t *const *order,
	const struct problem **form, size_t *empty);
/* Tells for every row that the course and the assessment's own items cannot fill what is missing:
 * competency, level, how many. Also items that nobody has, cuts on competencies of which nothing is
 * asked, and own items that do not go with the course or are never asked. `c` is the bare course.
 * BAD_MEMORY. */
enum bad assessment_bank(const struct assessment *a, const struct course *c, struct diags *d);

#endif
