/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time that runs out while a page stands there: how much is left, in words, when the words change, and
 * when somebody is warned. Times in milliseconds of clock_boot, so that setting the clock of the wall
 * moves nothing. Pure, apart from struct warner, which is the caller's. */
#ifndef BARWRIGHT_SURFACE_LIMIT_H
#define BARWRIGHT_SURFACE_LIMIT_H

#include <stdbool.h>
#include <stdint.h>

/* All zero: no time runs. */
struct limit {
	int64_t over_ms;  /* by clock_boot, when it is over */
	int64_t whole_ms; /* all the time there was: what is a little depends on it */
};

bool limit_is_set(const struct limit *l);
/* Set, and over at `now_ms`? */
bool limit_is_over(const struct limit *l, int64_t now_ms);
/* Until limit_words says something else, a warning is due or the time is over; 0: it is over. */
int64_t limit_next_ms(const struct limit *l, int64_t now_ms);

enum { LIMIT_WORDS = 96 };
/* "1 h 5 min", "40 s", "3 days 2 h"; parts of a second do not count. */
void span_write(uint64_t ms, char out[static LIMIT_WORDS]);
/* "12 min left": begun minutes counted, in the last one begun seconds. "" when no time runs. */
void limit_words(const struct limit *l, int64_t now_ms, char out[static LIMIT_WORDS]);

/* Who is warned: twice, 5 min and 1 min before the end; of less than 20 or 10 min a fourth and a tenth
 * before it. All zero at the beginning. */
struct warner {
	struct limit of;
	int given;
};
/* True once for each warning: then *out says it. What was due before this limit was first seen is not
 * told; where two are due the later one is. */
bool limit_warns(
	struct warner *w, const struct limit *l, int64_t now_ms, char out[static LIMIT_WORDS]);

#endif
