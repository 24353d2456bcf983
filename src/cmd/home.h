/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The program without a command: the home page, and the ways from there to bench, assessments and
 * rating, which commands of their own open as well. */
#ifndef BARWRIGHT_CMD_HOME_H
#define BARWRIGHT_CMD_HOME_H

#include "cmd/command.h"

/* Gives the exit status. */
int home_open(const struct options *o, bool unrecorded);

#endif
