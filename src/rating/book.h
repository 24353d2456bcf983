/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a strand says about one piece of work under one rubric: who rated what, critical errors, photos, and
 * what was agreed where raters differ. The last word of each rater counts. */
#ifndef BARWRIGHT_RATING_BOOK_H
#define BARWRIGHT_RATING_BOOK_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/base/mem.h>
#include <barwright/record/graded.h>

#include "course/course.h"
#include "rating/sum.h"

enum { BOOK_REMARK = 0 }; /* criterion of a remark on the station; of an agreed critical error */

struct book_rating {
	struct line_rating line;
	struct book_rating *next;
};
struct book_critical {
	struct line_critical line;
	struct book_critical *next;
};
struct book_agreed {
	struct line_agreed line;
	struct book_agreed *next;
};
struct book {
	struct arena *arena;
	const struct rubric *rubric;
	const char *piece;
	struct book_rating *rating; /* one a rater, station and criterion */
	struct book_critical *critical;
	struct book_agreed *agreed; /* the last one of each */
	size_t photos;
	size_t strange; /* lines that another version of the rubric left: they do not count */
};

/* Reads the strand at `path`; texts live in `a`. A code of strand_read, BAD_MEMORY. */
enum bad book_read(const char *path, const struct rubric *r, const char *piece, struct arena *a,
	struct book *out);
/* Adds what was just recorded. BAD_MEMORY. */
enum bad book_add_rating(struct book *b, const struct line_rating *line);
enum bad book_add_critical(struct book *b, const struct line_critical *line);
enum bad book_add_agreed(struct book *b, const struct line_agreed *line);

/* What a rater said last of a criterion (from 1); null: nothing. */
const struct line_rating *book_of(
	const struct book *b, const char *rater, const char *station, uint64_t criterion);
/* Has anybody said anything of it? */
bool book_is_seen(const struct book *b, const char *station, uint64_t criterion);
/* Names of those who rated, in the order of the strand; at most `most`. Gives how many. */
size_t book_raters(const struct book *b, const char **names, size_t most);
/* Level on which all raters of a criterion are of one mind, or what was agreed; else LEVEL_OPEN. */
int book_level(const struct book *b, const char *station, uint64_t criterion);
/* Do two raters differ there, whether it was settled or not? */
bool book_differs(const struct book *b, const char *station, uint64_t criterion);
const struct line_agreed *book_settled(
	const struct book *b, const char *station, uint64_t criterion);
/* Does a critical error stand at the station? */
bool book_is_critical(const struct book *b, const char *station);
bool book_has_critical(const struct book *b, const char *rater, const char *station);
/* Has every criterion of the station a word of this rater? */
bool book_is_rated(const struct book *b, const char *rater, const struct station *s);
/* Levels of all stations of the rubric, for sum_find; station has rubric->nstation places. */
void book_stations(const struct book *b, struct sum_station *station);

#endif
