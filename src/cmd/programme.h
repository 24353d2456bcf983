/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "record matrix" and "record transcript". */
#ifndef BARWRIGHT_CMD_PROGRAMME_H
#define BARWRIGHT_CMD_PROGRAMME_H

#include <barwright/base/mem.h>

#include "cmd/command.h"

/* argv[0] is the word itself; gives the exit status. */
int programme_matrix(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv);
int programme_transcript(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv);

#endif
