/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where a learner sits: the course, the surface, the strand and what has been done. Opened by a
 * command, handed to home, lesson and drill. */
#ifndef BARWRIGHT_DESK_DESK_H
#define BARWRIGHT_DESK_DESK_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/item/score.h>
#include <barwright/record/lines.h>
#include <barwright/record/strand.h>

#include "course/course.h"
#include "desk/progress.h"
#include "surface/surface.h"

enum { SITTING_CODE = 17 };

struct desk {
	const struct course *course;
	const struct rubric *rubric; /* what is rated at the bench; null: none here */
	struct surface *surface;
	struct strand *strand; /* null: nothing is recorded, and the learner was told why */
	struct progress progress;
	const char *who;            /* the learner's code */
	const char *name;           /* as the learner gave it; null: nobody did */
	const char *mode;           /* of the open line: "drill", "sit", "rate" */
	const char *program;        /* "barwright 0.1.0" */
	char sitting[SITTING_CODE]; /* code of this sitting, in the key of every draw */
	bool alone;                 /* no worked examples, nothing is led (desk/lead.h) */
	bool is_open;               /* the open line of this sitting stands in the strand */
	uint64_t answers, right;    /* of this sitting, first tries */
	enum bad lost;              /* FINE, or why the strand took nothing more */
	struct arena arena;         /* what lives as long as the desk */
	/* While `course` is only its heads (course/load.h): reads the whole one; null: it is whole. */
	enum bad (*whole)(void *at, const struct course **out);
	void *whole_at;
};

/* A sitting code of 16 hex digits from the system's randomness. */
void sitting_code(char out[static SITTING_CODE]);

/* Reads what the strand holds into desk->progress. With no strand it is empty. */
enum bad desk_count(struct desk *d);
/* Takes the whole course in the place of its heads, and counts again. To be called before any lesson
 * or problem is looked at; where the course is whole it does nothing. */
enum bad desk_whole(struct desk *d);
/* Records the beginning of the sitting, once, before its first draw. */
enum bad desk_begin(struct desk *d);
/* Says from now on, to who is about to leave, what is kept: one short static sentence; where nothing is
 * recorded, that. */
void desk_keeps(struct desk *d, const char *words);
/* Ends what was begun, and gives the desk the code of a new sitting of another mode ("drill", "sit",
 * "rate"; static). */
enum bad desk_turn_to(struct desk *d, const char *mode);
/* Records its end, if it was begun; `reason` as in struct line_close. */
enum bad desk_end(struct desk *d, const char *reason);
/* Records a response: `line` has attempt, turn, hints, times and what was typed; how it was read and
 * scored is filled in here. */
enum bad desk_answer(struct desk *d, const struct instance *i, size_t ask, const struct score *s,
	struct line_answer *line);
/* The same, but nothing of the right answer is recorded: LINE_HELD (record/lines.h). */
enum bad desk_hold(struct desk *d, const struct instance *i, size_t ask, const struct score *s,
	struct line_answer *line);
/* The same for a step of the worked solution that was filled in: the one at `place` of its ask. */
enum bad desk_step(struct desk *d, const struct instance *i, size_t ask, size_t place,
	const struct score *s, struct line_answer *line);
/* Releases what the desk itself owns; not course, surface, strand. */
void desk_release(struct desk *d);

/* How a page or a run ended. */
enum how {
	HOW_DONE,  /* it came to its end */
	HOW_BACK,  /* the learner went back */
	HOW_LEAVE, /* the learner leaves the program */
	HOW_LOST,  /* terminal gone or stop asked for: save and leave */
	HOW_BROKEN /* the surface or the memory failed; desk->lost tells */
};
/* Notes why and gives HOW_BROKEN. */
enum how desk_broken(struct desk *d, enum bad code);
/* What a reply other than the wanted one means. */
enum how how_of(enum reply_kind kind);

#endif
