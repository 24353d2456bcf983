/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sitting an assessment: a candidate's own form is shown question by question, every response is in the
 * strand before the next page, nothing is said about right or wrong until it is handed in. What was
 * interrupted goes on at the same question with the same time left. */
#ifndef BARWRIGHT_SITTING_SITTING_H
#define BARWRIGHT_SITTING_SITTING_H

#include <barwright/record/graded.h>

#include "course/assessment.h"
#include "desk/desk.h"

struct sitting_how {
	const struct assessment *what;
	bool is_named;       /* the sitting's code was given out; else it is worked out here */
	bool sealing;        /* an assessor's key is at hand: the record is sealed at the end */
	bool is_done;        /* set when there is a result ... */
	bool passed;         /* ... and what it is */
	const char *refused; /* why the candidate may not sit it; in the desk's arena; null: may */
};
/* Why somebody is not among those who may sit it, in `a`; null: may. `name` or `who` may be null. */
const char *sitting_no_guest(
	const struct assessment *what, const char *name, const char *who, struct arena *a);
/* HOW_DONE with how->is_done or how->refused; else how it was interrupted. */
enum how sitting_run(struct desk *d, struct sitting_how *how);

#endif
