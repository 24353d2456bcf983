/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: times of day, in seconds counted from midnight of day 1. */
#ifndef BARWRIGHT_ITEM_CLOCK_H
#define BARWRIGHT_ITEM_CLOCK_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

struct clock;

/* "14:35", "day 2, 06:10", "Friday 06:10"; to the nearest minute. Nothing: "none". */
void clock_add(const struct clock *clock, double time_s, struct text *out);
/* What somebody typed: "6:10", "06.10", "day 2 06:10", "2 06:10", "Fri 6:10". BAD_SYNTAX and a
 * sentence (static) when it cannot be read. */
enum bad clock_read(
	const struct clock *clock, const char *s, size_t len, double *time_s, const char **why);

#endif
