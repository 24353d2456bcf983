/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The topics of a course as a learner stands in them. */
#ifndef BARWRIGHT_DRILL_TOPIC_H
#define BARWRIGHT_DRILL_TOPIC_H

#include "desk/desk.h"

/* Which topic? Asked on a page of its own; *out only with HOW_DONE. */
enum how topic_ask(struct desk *d, const char *title, const struct module **out);
/* "2 of 5 right at the first try, 3 hours ago"; null: not tried yet. In `a`, or static. */
const char *topic_done(const struct desk *d, const struct module *m, struct arena *a);
/* "3 hours ago". A clock that was set back gives "just now". */
const char *topic_ago(int64_t then_ms, struct arena *a);

#endif
