/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Who is new on this machine. A name typed another way, or a code typed wrong, must not make another
 * person without a word. */
#ifndef BARWRIGHT_CMD_NEWCOMER_H
#define BARWRIGHT_CMD_NEWCOMER_H

#include <barwright/base/mem.h>

#include "cmd/command.h"

/* Before a record is opened under o->learner. A code that nothing is known of is asked back at a terminal, and
 * refused without one. A name that is nearly one that is known here is asked back too; without a terminal it
 * is told on stderr, and is new. May put another name into o->learner, in `a`. EXIT_DONE: go on. */
int newcomer_ask(struct options *o, const char *data, struct arena *a);

#endif
