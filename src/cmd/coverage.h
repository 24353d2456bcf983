/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which problems and items of a course belong to which of its competencies. */
#ifndef BARWRIGHT_CMD_COVERAGE_H
#define BARWRIGHT_CMD_COVERAGE_H

#include "cmd/command.h"

/* For each course folder a table; gives EXIT_NO when a competency has nothing, EXIT_CANNOT when a
 * course cannot be read. */
int coverage(const struct options *o, char **folder, int n);

#endif
