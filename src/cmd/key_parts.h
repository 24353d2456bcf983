/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The words of "barwright key" that stand in files of their own. argv[0] is the word; each gives the exit
 * status. */
#ifndef BARWRIGHT_CMD_KEY_PARTS_H
#define BARWRIGHT_CMD_KEY_PARTS_H

#include <barwright/base/mem.h>

#include "cmd/command.h"

int key_roster(const struct options *o, struct arena *a, int argc, char **argv);

#endif
