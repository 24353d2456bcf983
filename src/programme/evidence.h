/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What strands hold as evidence for competencies: the parts of results of sittings and ratings, each assessed
 * (its sitting is under a seal of an accepted assessor) or practice; runs at the simulated bench, the same;
 * and the answers of drills, which are practice always. A strand with a fault gives nothing until somebody has looked at it. */
#ifndef BARWRIGHT_PROGRAMME_EVIDENCE_H
#define BARWRIGHT_PROGRAMME_EVIDENCE_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/base/mem.h>
#include <barwright/record/seal.h>

#include "course/course.h"

/* `who` is a code that stands for the person, here and below. */
struct exhibit {
	const char *who;
	const char *strand;
	const char *competency;
	const char *of, *title;       /* code and title of the assessment or rubric */
	const char *part;             /* station; the competency itself in a sitting */
	const char *work;             /* which piece of work or attempt, for people: "attempt 2" */
	bool attempt;                 /* an attempt: one of another strand is another work */
	const char *percent, *needed; /* decimal texts, as recorded */
	double value;                 /* of percent */
	bool reached, open, replaced;
	bool assessed;
	const char *assessor; /* name on the reader's list; rated but unsealed: who says so; "" */
	const char
		*identity; /* how that assessor knew the person, as the seal says; "": unsealed */
	int64_t at_ms;
	size_t seq; /* in which order they were met */
	struct exhibit *next;
};
/* Drills of one learner in one competency. */
struct practised {
	const char *who, *competency;
	uint64_t answers, right; /* first tries */
	int64_t last_ms;
	struct practised *next;
};
/* A run at the simulated bench that came to its end, as a whole; what it says of competencies are exhibits. */
struct benched {
	const char *who;
	const char *run;     /* procedure, part and mode: "hand-made-bar/bonding/free" */
	const char *end;     /* how it ended, in the words of the bench: "accepted" */
	const char *percent; /* decimal text, as recorded */
	double value;        /* of percent */
	bool assessed;
	const char *assessor, *identity; /* as of an exhibit */
	int64_t at_ms;
	struct benched *next;
};
/* A strand that was looked at. */
struct looked {
	const char *path, *strand, *who;
	const char *code;      /* the learner's in the strand */
	uint64_t lines, fixed; /* fixed: lines under a seal that holds */
	enum bad fault;        /* FINE, or why nothing of it counts */
	struct hash head;
	struct looked *next;
};
struct evidence {
	struct arena *arena;
	const struct course *const *course; /* to know which competency an item drills */
	size_t ncourse;
	const struct key_ring *ring; /* assessors the reader accepts */
	/* The code that stands for the person of a code; null: each stands for itself. The text lives
	 * as long as the evidence. */
	const char *(*person)(void *context, const char *code);
	void *context;
	struct exhibit *piece, *last_piece; /* after evidence_end: learner by learner */
	struct exhibit **sorted;            /* the same */
	size_t npiece;
	struct practised *practised;
	struct benched *benched, *last_benched;
	struct looked *looked, *last_looked;
	size_t faulty;
};

/* One strand, or every *.jsonl of a folder. The same strand twice counts once. Codes of file_read and
 * folder_list for the path itself, BAD_MEMORY. */
enum bad evidence_add(struct evidence *e, const char *path);

/* Of a later result for the same work the earlier one is not evidence any more; so once all is read:
 * keeps the last of each kind (assessed or not) of who, of, work and part. BAD_MEMORY. */
enum bad evidence_end(struct evidence *e);
/* The first exhibit of a learner, whose others follow it; null: none. */
const struct exhibit *evidence_first(const struct evidence *e, const char *who);

struct evidence_sum {
	uint64_t assessed, reached; /* pieces */
	/* Of the assessed ones, null: none. A work stands as its weakest part that speaks for the
	 * competency; the best is the one whose weakest part is highest. */
	const struct exhibit *best, *last;
	uint64_t unsealed;       /* pieces that count as practice */
	uint64_t answers, right; /* drills */
};
/* All of a learner for a competency and those below it. */
struct evidence_sum evidence_sum(const struct evidence *e, const char *who, const char *competency);
struct benched_sum {
	uint64_t runs, assessed;
	const struct benched *best, *last; /* null: none */
};
struct benched_sum benched_sum(const struct evidence *e, const char *who);
/* Codes of all learners, sorted; in e->arena; null when memory ran out. */
const char **evidence_learners(const struct evidence *e, size_t *n);

#endif
