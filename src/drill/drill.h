/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drilling: an instance is drawn, shown, answered, scored and recorded; a wrong number is answered
 * with the mistake it betrays. */
#ifndef BARWRIGHT_DRILL_DRILL_H
#define BARWRIGHT_DRILL_DRILL_H

#include "desk/desk.h"

/* Drills one module, one problem of it, or (both null) what progress_next gives, mixed. `count`
 * instances, 0: until the learner stops. */
enum how drill_run(
	struct desk *d, const struct module *m, const struct problem *only, unsigned long count);

#endif
