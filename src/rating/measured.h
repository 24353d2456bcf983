/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What readings of an instrument prove about a criterion: nothing but what lies within a limit by more
 * than the instrument's error (calc/metrology.h). */
#ifndef BARWRIGHT_RATING_MEASURED_H
#define BARWRIGHT_RATING_MEASURED_H

#include <stddef.h>

#include <barwright/base/mem.h>
#include <barwright/calc/metrology.h>

#include "course/course.h"

enum { READINGS_MOST = 32 };

/* What the levels of a rubric are called, level 0 first. */
extern const char *const rate_level_name[RUBRIC_LEVELS];

struct measured_set {
	double reading[READINGS_MOST]; /* inside units */
	size_t n;
	enum metrology_verdict verdict[RUBRIC_LEVELS]; /* of all of them together, by level */
	int proved;   /* highest level whose limits every reading is proved to keep; 0: none */
	size_t worst; /* the reading that decided, for words */
};
/* The highest level that no reading refutes: 0 when even the lowest limit is not kept. What lies within the
 * instrument's error of a limit is left to the rater. */
int measured_allows(const struct measured_set *s);
/* "3,52 3.47 mm; 0.138 in": numbers with or without their unit, blanks or ';' between; a bare number is
 * in the measure's unit. *why, static, says what was not understood. BAD_SYNTAX, BAD_UNIT, BAD_COUNT,
 * BAD_RANGE: one is below 0. */
enum bad measured_read(
	const struct measure *m, const char *typed, struct measured_set *out, const char **why);
/* One sentence for each level from the highest that is proved to the first that is not; in `a`, null
 * when memory ran out. */
const char *measured_words(const struct measure *m, const struct measured_set *s, struct arena *a);

#endif
