/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page the program opens on: what the course holds, what was done last, what to do next. */
#ifndef BARWRIGHT_DRILL_HOME_H
#define BARWRIGHT_DRILL_HOME_H

#include "desk/desk.h"

/* A way from here to what stands elsewhere: the bench, an assessment. */
struct home_way {
	struct choice choice;
	const char *mode; /* of the sitting it is, as in struct desk */
	/* HOW_DONE and HOW_BACK come back to the home page. */
	enum how (*go)(struct desk *d, void *context);
};
enum { HOME_WAYS = 4 };

/* Until the learner leaves. Never HOW_BACK. At most HOME_WAYS. */
enum how home_run(struct desk *d, const struct home_way *way, size_t nway, void *context);

#endif
