/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a learner has done in a course, counted from the lines of a strand; and from that, what is
 * worth doing next. Nothing is stored but the strand: everything here is counted again at start. */
#ifndef BARWRIGHT_DESK_PROGRESS_H
#define BARWRIGHT_DESK_PROGRESS_H

#include <stdint.h>

#include <barwright/base/mem.h>
#include <barwright/item/score.h>
#include <barwright/record/strand.h>

#include "course/course.h"

/* A first answer, as far as it tells what somebody does. */
struct progress_past {
	enum outcome outcome;
	short slip,
		second;   /* of struct score, or -1; `second` as after OUTCOME_TWO_SLIPS or _SLIP */
	uint32_t sitting; /* counted in this course, from 1 */
	int64_t at_ms;
};
enum { PAST_KEPT = 12 };

/* One ask of a problem. */
struct progress_ask {
	unsigned char led;       /* steps left to find at the next task; 0: alone (desk/lead.h) */
	unsigned char in_a_row;  /* wrong answers */
	unsigned char npast;     /* entries in use */
	unsigned char next_past; /* where the next one goes: a ring */
	struct progress_past past[PAST_KEPT];
};

struct progress_item {
	uint64_t drawn;    /* instances shown so far: the next attempt is this + 1 */
	uint64_t answered; /* asks answered at first try, alone ... */
	uint64_t right;    /* ... and how many of them right */
	bool is_begun;     /* an example was shown or something answered */
	struct progress_ask *ask;
	int64_t last_ms; /* when something was answered last; 0: never */
	bool last_right; /* was the last answer right? */
	bool left_out;   /* nothing can be drawn of it: it is not picked in this sitting */
};

struct progress {
	const struct course *course;
	struct progress_item **item; /* item[module][problem], as in the course */
	uint64_t sittings;
	int64_t last_ms;                  /* of anything answered; 0: never */
	const struct module *last_module; /* ... and in which module; null: never */
	const struct problem
		*last_problem; /* its problem may be gone from the course: then null too */
	enum outcome last_outcome;
	/* while counting */
	struct arena *arena;
	bool counting; /* the sitting being read is of this course */
};

/* An empty progress for a course; BAD_MEMORY. Lives in `a`, as long as the course. With the heads of a
 * course (course/load.h) problems have sums but no asks. */
enum bad progress_init(struct progress *p, struct arena *a, const struct course *c);
/* Counts one line of a strand; for strand_read. Lines that say nothing about this course are passed over. */
enum bad progress_line(void *progress, const struct strand_line *line);
/* Counts what is done now. */
void progress_drawn(struct progress *p, const struct problem *problem);
struct progress_answer {
	size_t ask;
	bool first_try;
	bool is_alone;    /* no worked solution of the task was seen, whole or in part */
	uint64_t led;     /* of struct line_answer */
	const char *slip; /* as recorded */
	enum outcome outcome;
	int64_t at_ms;
};
void progress_answered(
	struct progress *p, const struct problem *problem, const struct progress_answer *a);
/* No instance of it can be drawn: it is not picked any more. */
void progress_leave_out(struct progress *p, const struct problem *problem);
/* A worked example was shown. */
void progress_example(struct progress *p, const struct problem *problem);
const struct progress_item *progress_of(const struct progress *p, const struct problem *problem);

/* A module as a whole. */
struct progress_sum {
	uint64_t drawn, answered, right;
	int64_t last_ms;
	bool last_right; /* the last answer in it was right */
};
struct progress_sum progress_module(const struct progress *p, const struct module *m);

enum next_why {
	NEXT_NOTHING, /* the course has no problems that can be drawn */
	NEXT_MISTAKE, /* the last answer there was wrong */
	NEXT_NEW,     /* never tried */
	NEXT_OLDEST   /* longest not practised */
};
struct next {
	enum next_why why;
	const struct module *module;
	const struct problem *problem; /* the least drawn of the module */
};
/* What is worth doing next: a module with a fresh mistake, then one never tried, in the order of
 * the course, then the one that rested longest. Never `but` (may be null) if there is another: mixed practice of kinds that
 * look alike is kept better than practice in blocks (Rohrer, Dedrick, Stershic 2015, J. Educ. Psychol. 107). */
struct next progress_next(const struct progress *p, const struct module *but);
/* The problem to draw next within one module; null when it has none that can be drawn. */
const struct problem *progress_pick(const struct progress *p, const struct module *m);

#endif
