/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rating a piece of bench work against a rubric, station by station: readings judged with the instrument's
 * error, levels, critical errors, remarks, photos; a second rater who does not see what the first one
 * said; and settling what they differ on. Every word is in the candidate's strand before the next page. */
#ifndef BARWRIGHT_RATING_RATE_H
#define BARWRIGHT_RATING_RATE_H

#include <barwright/record/graded.h>

#include "desk/desk.h"

enum { RATERS_MOST = 8, PHOTO_BYTES = 64 << 20 };

struct rate_how {
	const char *piece;   /* which piece of work: a code */
	const char *rater;   /* who rates */
	const char *station; /* only this one; null: all */
	bool sealing;        /* the assessor's key is at hand: the record is sealed at the end */
	bool moderate;       /* settle differences */
	bool is_done;        /* set when a result was recorded ... */
	bool passed;         /* ... and what it is; false also while something is open */
	const char *refused; /* why not; static */
};
/* Are these two spellings of one name? Case (of Latin letters) and blanks do not count. */
bool rate_is_same_name(const char *a, const char *b);
/* Who may not rate whom, in a static sentence; null: may. A name or code may be null. */
const char *rate_refusal(const char *rater, const char *name, const char *who);
/* The rubric is the desk's. */
enum how rate_run(struct desk *d, struct rate_how *how);

#endif
