/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Evidence for people: the matrix of learners and competencies, what is missing for whom by a programme's
 * own outcome codes, and one learner's transcript. Only what is under an accepted assessor's seal is
 * shown as assessed. */
#ifndef BARWRIGHT_PROGRAMME_VIEW_H
#define BARWRIGHT_PROGRAMME_VIEW_H

#include <barwright/base/text.h>
#include <barwright/record/erase.h>

#include "course/programme.h"
#include "programme/evidence.h"

struct view_of {
	const struct evidence *evidence;
	const struct course *course;
	const struct programme *programme; /* null: none; then competencies stand for themselves */
	/* The name that goes with a code, or null; texts live as long as the view. */
	const char *(*name)(void *context, const char *who);
	void *context;
	int64_t now_ms;
	const struct erasures
		*erased; /* what was erased on request; null: nothing is known of it */
};

/* All add to `out`; a text that ran out of memory says so itself. Names pass the safe filter. */
void view_matrix(const struct view_of *v, struct text *out);
void view_matrix_json(const struct view_of *v, struct text *out);
void view_transcript(const struct view_of *v, const char *who, struct text *out);
void view_transcript_json(const struct view_of *v, const char *who, struct text *out);

#endif
