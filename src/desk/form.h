/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A candidate's form of an assessment: drawn from the names of course, assessment, candidate, sitting and
 * attempt, so that it can be made again from the strand. */
#ifndef BARWRIGHT_DESK_FORM_H
#define BARWRIGHT_DESK_FORM_H

#include <barwright/base/mem.h>

#include "course/assessment.h"

struct form_key {
	const char *candidate, *sitting;
	uint64_t attempt;
};
/* One item for each place (assessment_places of them), in `a`: of the course, or the assessment's own. Every place shuffles all items of the
 * course with words of one ChaCha20 stream (base/random.h; its item is "assessment/CODE") and
 * takes the first that fits and is free. BAD_NOTHING: the course cannot fill it; BAD_MEMORY. */
enum bad form_draw(const struct assessment *what, const struct course *c,
	const struct form_key *key, struct arena *a, const struct problem *const **out);

#endif
