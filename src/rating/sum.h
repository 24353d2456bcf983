/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From levels to points, a sum and a verdict. A station stands at the lowest level of its criteria: work
 * is as good as its weakest part. Points of a level are the rubric's; the sum is weighted. Passed is who
 * reaches the rubric's per cent with no station at level 0, not more than the rubric allows at level
 * 1, and no critical error: that one no points make up for. */
#ifndef BARWRIGHT_RATING_SUM_H
#define BARWRIGHT_RATING_SUM_H

#include <stdbool.h>
#include <stddef.h>

#include "course/course.h"

enum { LEVEL_OPEN = -1 }; /* not rated yet, or two raters differ and nothing is agreed */

struct sum_station {
	int level; /* LEVEL_OPEN, or 0 to RUBRIC_LEVELS - 1 */
	bool critical;
};
enum sum_verdict { SUM_OPEN, SUM_PASSED, SUM_NOT_PASSED };
struct sum {
	double percent; /* of the stations that have a level */
	int rated;      /* ... their weights together */
	size_t open, unusable, below, critical;
	enum sum_verdict verdict; /* not passed as soon as nothing can mend it */
};
/* As results say it: "open", "passed", "not-passed"; of one station "open", "reached",
 * "not-reached". Static. */
const char *sum_verdict_word(enum sum_verdict verdict);
const char *sum_station_word(const struct sum_station *station);
/* station[n] goes with r->station[n]. */
void sum_find(const struct rubric *r, const struct sum_station *station, struct sum *out);

/* The level of a station from those of its criteria; LEVEL_OPEN if one is. */
int sum_station_level(const int *level, size_t n);

#endif
