/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A learner sits down: course, strand and surface are opened, something is done, all is closed again
 * and nothing is lost. */
#ifndef BARWRIGHT_CMD_SIT_DOWN_H
#define BARWRIGHT_CMD_SIT_DOWN_H

#include "cmd/command.h"
#include "desk/desk.h"

/* What a command does at the desk. `what` may look at the course before anything else is opened
 * and refuse: prepare gives an exit status, EXIT_DONE to go on. */
struct at_desk {
	int (*prepare)(void *context, const struct course *course);
	enum how (*what)(struct desk *d, void *context);
	/* When the surface is closed again and the strand still open; may be null. Gives the exit
	 * status. */
	int (*after)(struct desk *d, void *context);
	void *context;
	const char *sitting;         /* code of the sitting; null: a new random one */
	const struct rubric *rubric; /* to rate with; null: the one that belongs to the courses */
	bool unrecorded;             /* practise without a record */
	bool only_reads;  /* where another program has the record open, only look at it */
	const char *mode; /* "sit", "rate": graded, there is always a record; null: "drill" */
	bool heads;       /* begin with the heads of the course: `what` calls desk_whole */
};
/* Where no learner is named, asks for the name before anything is opened, and puts it into *o; in `a`. Without
 * a terminal that is a fault of usage. EXIT_DONE when there is a name now. */
int sit_down_named(struct options *o, const char *title, const char *prompt, struct arena *a);
/* Gives the exit status. Dies of SIGINT, SIGTERM or SIGHUP after closing if one came. */
int sit_down(const struct options *o, const struct at_desk *at);

#endif
