/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The terminal through ncurses: opening, painting frames, reading keys, and giving it back whatever
 * happens. One at a time. */
#ifndef BARWRIGHT_SCREEN_TERM_H
#define BARWRIGHT_SCREEN_TERM_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

#include "screen/frame.h"
#include "screen/keys.h"

struct term;

/* On standard input and output. BAD_TERMINAL: the reason is added to `why`. */
enum bad term_open(struct term **out, struct text *why);
/* The terminal is as it was before term_open. Null is fine. */
void term_close(struct term *t);

struct look term_look(const struct term *t);
void term_size(const struct term *t, int *rows, int *cols);
/* Sends what has changed since the last frame. */
void term_paint(struct term *t, const struct frame *f);
/* The next frame is sent whole. */
void term_forget(struct term *t);
/* Is what was pressed last part of a paste? Then it is text, never a key. */
bool term_is_pasting(const struct term *t);
/* Passes over what is left of a paste, unseen. */
void term_skip_paste(struct term *t);
/* Is more typed already than was taken? */
bool term_has_more(const struct term *t);
/* Waits for a press until that moment of clock_boot, INT64_MAX: for ever, the past: not at all, and gives
 * PRESS_NONE when there was none. Suspends and comes back by itself. */
uint32_t term_press(struct term *t, int64_t until_ms);

#endif
