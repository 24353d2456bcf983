/* SPDX-License-Identifier: GPL-3.0-or-later */
/* "show formulas": the language of formulas and its functions, for authors at their desk. */
#ifndef BARWRIGHT_CMD_SHOW_FORMULAS_H
#define BARWRIGHT_CMD_SHOW_FORMULAS_H

#include "cmd/command.h"

/* All of it, or one function with all its forms (`name`; null: all). Gives the exit status. */
int show_formulas(const struct options *o, const char *name);

#endif
