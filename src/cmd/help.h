/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The help of the program and of one command, no wider than a terminal. */
#ifndef BARWRIGHT_CMD_HELP_H
#define BARWRIGHT_CMD_HELP_H

#include "cmd/command.h"

/* Each gives the exit status. */
int help_show(const struct command *const *commands, size_t n);
int help_show_command(const struct command *c);

#endif
