/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The full screen: a surface that shows one page at a time on a terminal and asks below it. */
#ifndef BARWRIGHT_SCREEN_SCREEN_H
#define BARWRIGHT_SCREEN_SCREEN_H

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

#include "surface/surface.h"

struct screen;

/* Takes the terminal at standard input and output; charset_start and signals_install come before.
 * BAD_TERMINAL when it cannot be one (not a terminal, TERM unknown or without cursor addressing):
 * `why` then says so in words, nothing was written, and the plain surface is the way. BAD_MEMORY.
 *
 * 80 x 24 does everything, 60 x 16 still works; a smaller window is told so and waited for. A page is
 * painted at the next ask, not by show or tell. */
enum bad screen_open(struct screen **out, struct text *why);
struct surface *screen_surface(struct screen *s);
/* The terminal is as it was. Null is fine. */
void screen_close(struct screen *s);

#endif
