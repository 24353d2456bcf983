/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What keeps going wrong: mistakes that the last answers, taken together, leave little doubt about
 * (barwright/measure/evidence.h). A slip is the same mistake wherever a course gives it the same code. */
#ifndef BARWRIGHT_DESK_HABIT_H
#define BARWRIGHT_DESK_HABIT_H

#include "desk/progress.h"
#include "surface/page.h"

enum { HABITS_MOST = 64, HABIT_ANSWERS = 6 };

struct habit {
	const char *code;              /* of the slip, or the word of an outcome such as "unit" */
	double belief;                 /* 0 to 1 */
	unsigned seen, of;             /* answers that show it, of those that could */
	unsigned sittings;             /* in which it was seen */
	int64_t last_ms;               /* when it was seen last */
	const struct problem *problem; /* where it was seen last */
};

/* Those there is enough evidence for, the surest first; at most HABITS_MOST. In `a`; BAD_MEMORY. */
enum bad habits_find(const struct progress *p, struct arena *a, struct habit **out, size_t *n);
/* As a part of a page; nothing when there are none. */
void habits_add(struct page *page, const struct progress *p);

#endif
