/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time. Nothing else reads the machine's clock; tests put their own in its place. */
#ifndef BARWRIGHT_BASE_CLOCK_H
#define BARWRIGHT_BASE_CLOCK_H

#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>

/* Milliseconds since 1970-01-01T00:00:00Z, and since the machine started (never goes back). */
int64_t clock_now(void);
int64_t clock_boot(void);
/* For tests: until called with null, both clocks ask these functions. */
struct clock_source {
	int64_t (*now)(void);
	int64_t (*boot)(void);
};
void clock_replace(const struct clock_source *source);

enum { TIME_TEXT = 25 };
/* "2026-11-25T09:30:15.000Z" and a 0; years 0000 to 9999, else all zero digits. */
void time_write(int64_t ms, char out[static TIME_TEXT]);
/* Exactly that form (else BAD_SYNTAX) and a date and time that exist (else BAD_RANGE; no leap
 * seconds). */
enum bad time_read(const char *s, size_t len, int64_t *ms);

#endif
