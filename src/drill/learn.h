/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a module's lessons page by page, and how its work is rated at the bench. */
#ifndef BARWRIGHT_DRILL_LEARN_H
#define BARWRIGHT_DRILL_LEARN_H

#include "desk/desk.h"

/* All lessons of a module, then, if the learner likes, its tasks. */
enum how learn_run(struct desk *d, const struct module *m);

#endif
