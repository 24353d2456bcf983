/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: a rating while it goes on. */
#ifndef BARWRIGHT_RATING_RATE_PARTS_H
#define BARWRIGHT_RATING_RATE_PARTS_H

#include "rating/book.h"
#include "rating/measured.h"
#include "rating/rate.h"

struct rate {
	struct desk *desk;
	struct rate_how *how;
	const struct rubric *rubric;
	struct book book;
	struct arena arena; /* lives to the end of the rating */
};

/* ask.c: pages and questions that several need. `out` is left alone unless HOW_DONE. */
enum how rate_show(struct rate *r, struct page *p);
enum how rate_choose(struct rate *r, const char *prompt, const struct choice *list, size_t n,
	size_t first, size_t *out);
/* Until the rater goes on. */
enum how rate_go(struct rate *r);
/* A line, kept in the rating's arena; `fault` as in struct question. */
enum how rate_line(
	struct rate *r, const char *prompt, const char *words, const char *fault, const char **out);
/* One of the four levels, each with the rubric's words; none is chosen beforehand, and none above `most` is
 * taken: the readings refute it. */
enum how rate_level(struct rate *r, const struct criterion *c, size_t most, size_t *level);

/* station.c */
enum how rate_station(struct rate *r, const struct station *s);
/* moderate.c */
enum how rate_moderate(struct rate *r);
/* result.c */
enum how rate_finish(struct rate *r);
enum bad rate_begin(struct rate *r);

#endif
