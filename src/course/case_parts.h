/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the reader of cases: a file's tree and what was read of it, and the checks of the whole. */
#ifndef BARWRIGHT_COURSE_CASE_PARTS_H
#define BARWRIGHT_COURSE_CASE_PARTS_H

#include "course/case.h"
#include "tree/tree.h"

/* A case while it is read; the nodes stay for the places of later faults, null where there is none. */
struct case_reader {
	struct case_file file;
	struct arena *arena;
	struct diags *diags;
	struct tree *sites, *stock, *loads, *minimum, *width;
	struct tree *site[ARCH_SITES];
	struct tree *load[CASE_LOADS];
	bool jaw_known; /* else teeth cannot be judged by it */
	bool all_sites; /* each was read without a fault */
	bool out;       /* memory ran out */
};

/* Place of a tooth around the arch from the patient's right: 0 for 18 and 48, 15 for 28 and 38; -1
 * when it is no tooth of this jaw. */
int case_tooth(long number, bool lower_jaw);

/* What can only be seen of the whole: order, overlaps, the arch, heights, stock, loads. */
void case_check(struct case_reader *r);

#endif
