/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the terminal's description says; apart from the rest because <term.h> takes hundreds of
 * ordinary words as macros. */
#ifndef BARWRIGHT_SCREEN_TERMINFO_H
#define BARWRIGHT_SCREEN_TERMINFO_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

/* Can a page be painted on the terminal that TERM names? Else BAD_TERMINAL and the reason. */
enum bad terminfo_check(struct text *why);
/* A capability of the open terminal as the bytes to send; null when it has none. Static text. */
const char *terminfo_bytes(const char *name);
/* Everything that gives the screen back, ready to be written by a dying program. Returns its length,
 * at most room. Only after newterm. */
size_t terminfo_farewell(char *out, size_t room);

#endif
