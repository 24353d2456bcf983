/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a strand says about one assessment: attempts made, and a sitting that was interrupted, with all
 * its responses and the time that was used. Nothing else is stored: power may fail between any two
 * lines. */
#ifndef BARWRIGHT_SITTING_PAST_H
#define BARWRIGHT_SITTING_PAST_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/base/mem.h>
#include <barwright/record/graded.h>
#include <barwright/record/lines.h>

/* A response as it was recorded last. */
struct past_response {
	const char *item;
	uint64_t ask;  /* from 1 */
	uint64_t turn; /* how often it was answered */
	uint64_t took_ms;
	const char *typed, *outcome; /* outcome: LINE_HELD until it is handed in */
	bool is_held;                /* one of its lines was held */
	bool late; /* of the answer recorded last; an answer in time is not replaced by it */
	uint64_t nlate;
	struct past_response *next;
};

struct past {
	struct arena *arena;    /* lives as long as what is here */
	const char *assessment; /* which one */
	uint64_t attempts;      /* forms drawn so far in this strand, the unfinished one included */
	/* When the last finished one ended, by the clock as it was before somebody set it back in it; 0: none */
	int64_t ended_ms;
	/* the sitting without a result; nothing below holds when there is none */
	bool is_unfinished;
	const char *sitting;
	struct hash course; /* as it was when the sitting began */
	struct line_form form;
	struct past_response *response;
	const char *marks; /* one byte each thing asked, '1' or '0', from 1; "" none */
	uint64_t at;       /* what was shown last, as in struct line_place */
	uint64_t used_ms;
	uint64_t breaks;               /* times it was opened again */
	uint64_t forward_ms, back_ms;  /* moves of the clock that were noticed */
	int64_t last_ms, last_boot_ms; /* clocks of its last line */
	bool was_left;                 /* the candidate left on purpose: the time went on */
	bool is_handed_in;             /* answers were scored: nothing may be changed any more */
	/* while reading */
	bool inside; /* lines belong to this sitting */
	uint64_t place_used_ms;
	int64_t place_boot_ms;
};

/* Adds what other strands in the folder of the one at `path` say of this person (all codes that the list of
 * learners beside that folder says to be one): attempts made on other
 * machines and gathered here, and when the last of them ended. One that cannot be read is passed over.
 * BAD_MEMORY. */
enum bad past_read_others(const char *path, const char *who, struct past *p);
/* Reads the strand at `path`; BAD_MEMORY, or a code of strand_read. */
enum bad past_read(const char *path, const char *assessment, struct arena *a, struct past *out);

#endif
