/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The page the program opens on: what the course holds, what was done last, what to do next. */
#ifndef BARWRIGHT_DRILL_HOME_H
#define BARWRIGHT_DRILL_HOME_H

#include "desk/desk.h"

/* Until the learner leaves. Never HOW_BACK. */
enum how home_run(struct desk *d);

#endif
