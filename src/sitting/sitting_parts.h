/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: a sitting while it goes on. */
#ifndef BARWRIGHT_SITTING_SITTING_PARTS_H
#define BARWRIGHT_SITTING_SITTING_PARTS_H

#include <barwright/item/instance.h>

#include "sitting/outcome.h"
#include "sitting/past.h"
#include "sitting/sitting.h"

/* One thing asked. */
struct query {
	size_t place; /* of the form */
	size_t ask;   /* of the item */
	uint64_t turns, took_ms;
	const char *typed; /* the response that counts; "" none */
	bool is_marked;
	bool is_scored, is_right; /* when it is handed in */
};

struct sitting {
	struct desk *desk;
	const struct assessment *what;
	struct sitting_how *how;
	struct past past;
	struct arena arena; /* lives to the end of the sitting */
	const struct problem *const *form;
	struct instance **instance; /* one a place */
	size_t nplace;
	struct query *query;
	size_t nquery;
	uint64_t limit_ms, extra_ms;
	uint64_t used_ms; /* before `since_ms` */
	int64_t since_ms; /* clock_boot of when this part began */
	int64_t apart_ms; /* clock_now less clock_boot: moves when the clock is set */
	uint64_t attempt, late;
	bool time_over;
	char stood[REPLY_ROOM]; /* in the field when it was over, and new; "" nothing */
	bool stood_kept;        /* ... and it could be read, so it is in the record */
};

/* state.c */
/* Draws the form and its instances, and lays the responses of the past over them. BAD_NOTHING,
 * BAD_UNFAIR: the course cannot fill it; BAD_CHAIN: the form in the strand is not the one that is
 * drawn. */
enum bad sitting_prepare(struct sitting *s);
/* Records the beginning: open, form if it is a new one, draws. */
enum bad sitting_begin(struct sitting *s);
/* Of the time of an interrupted sitting, with that of a candidate who left on purpose. */
uint64_t sitting_used_before(const struct past *p);
uint64_t sitting_used(const struct sitting *s);
bool sitting_is_over(const struct sitting *s);
/* Records what is shown, and looks at the clock. */
enum bad sitting_place(struct sitting *s, uint64_t at);
enum bad sitting_mark(struct sitting *s, size_t query);
struct score;
enum bad sitting_answer(struct sitting *s, size_t query, const char *typed,
	const struct score *score, int64_t shown_ms);
/* Records the answers that count, now scored; then the result, and gives it. */
enum bad sitting_result(struct sitting *s, struct line_result *out);

/* entry.c: may the candidate sit it now? Null: yes, else why not, in the sitting's arena. */
const char *sitting_refusal(struct sitting *s);
/* "1 h 5 min", "40 s"; in `a`, never null. */
const char *sitting_span(struct arena *a, uint64_t ms);

/* pages.c */
enum how sitting_welcome(struct sitting *s, bool *begin);
enum how sitting_show(struct sitting *s, size_t query);
/* *query: where to go on, nquery: to the list again. */
enum how sitting_list(struct sitting *s, size_t *query, bool *hand_in);
/* Really? Going back is no. */
enum how sitting_confirm(struct sitting *s, bool *hand_in);
enum how sitting_tell_result(struct sitting *s, const struct line_result *r);
enum how sitting_tell_over(struct sitting *s);

#endif
