/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rating/book.h"

#include <string.h>

#include <barwright/record/lines.h>

static bool is(const char *a, const char *b)
{
	return strcmp(a, b) == 0;
}

/* ---- adding ---------------------------------------------------------------------------------- */

static bool is_same(const struct line_rating *a, const struct line_rating *b)
{
	return a->criterion == b->criterion && is(a->station, b->station) && is(a->rater, b->rater);
}

enum bad book_add_rating(struct book *b, const struct line_rating *line)
{
	struct book_rating **at = &b->rating;
	while (*at && !is_same(&(*at)->line, line))
		at = &(*at)->next;
	if (!*at)
		*at = arena_new(b->arena, struct book_rating);
	if (!*at)
		return BAD_MEMORY;
	(*at)->line = *line;
	return FINE;
}

enum bad book_add_critical(struct book *b, const struct line_critical *line)
{
	struct book_critical **at = &b->critical;
	while (*at)
		at = &(*at)->next;
	*at = arena_new(b->arena, struct book_critical);
	if (!*at)
		return BAD_MEMORY;
	(*at)->line = *line;
	return FINE;
}

enum bad book_add_agreed(struct book *b, const struct line_agreed *line)
{
	struct book_agreed **at = &b->agreed;
	while (*at && ((*at)->line.criterion != line->criterion ||
			      !is((*at)->line.station, line->station)))
		at = &(*at)->next;
	if (!*at)
		*at = arena_new(b->arena, struct book_agreed);
	if (!*at)
		return BAD_MEMORY;
	(*at)->line = *line;
	return FINE;
}

/* ---- reading --------------------------------------------------------------------------------- */

/* Is the line about this rubric and piece? One of another version of the rubric is counted. */
static bool is_ours(
	struct book *b, const char *rubric, const char *piece, const struct hash *content)
{
	if (!is(rubric, b->rubric->code) || !is(piece, b->piece))
		return false;
	if (hash_is_equal(content, &b->rubric->hash))
		return true;
	b->strange++;
	return false;
}

static enum bad any_line(struct book *b, const struct strand_line *line)
{
	union {
		struct line_rating rating;
		struct line_critical critical;
		struct line_agreed agreed;
		struct line_photo photo;
	} x;
	enum bad code = FINE;
	switch (line_kind(line->kind)) {
	case LINE_RATING:
		code = line_rating_read(line, b->arena, &x.rating);
		if (!code && is_ours(b, x.rating.rubric, x.rating.piece, &x.rating.content))
			code = book_add_rating(b, &x.rating);
		break;
	case LINE_CRITICAL:
		code = line_critical_read(line, b->arena, &x.critical);
		if (!code && is_ours(b, x.critical.rubric, x.critical.piece, &x.critical.content))
			code = book_add_critical(b, &x.critical);
		break;
	case LINE_AGREED:
		code = line_agreed_read(line, b->arena, &x.agreed);
		if (!code && is_ours(b, x.agreed.rubric, x.agreed.piece, &x.agreed.content))
			code = book_add_agreed(b, &x.agreed);
		break;
	case LINE_PHOTO:
		code = line_photo_read(line, b->arena, &x.photo);
		if (!code && is_ours(b, x.photo.rubric, x.photo.piece, &x.photo.content))
			b->photos++;
		break;
	default:
		break;
	}
	return code == BAD_MEMORY ? code : FINE;
}

static enum bad read_line(void *context, const struct strand_line *line)
{
	return line->erased ? FINE : any_line(context, line);
}

enum bad book_read(const char *path, const struct rubric *r, const char *piece, struct arena *a,
	struct book *out)
{
	struct book b = {.arena = a, .rubric = r, .piece = piece};
	struct arena mem = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_check how = {.hashes_only = true};
	enum bad code = strand_load(path, &mem, &source);
	if (!code)
		code = strand_read(source, &how, read_line, &b, &sum, NULL);
	arena_release(&mem);
	if (!code)
		*out = b;
	return code;
}

/* ---- looking --------------------------------------------------------------------------------- */

const struct line_rating *book_of(
	const struct book *b, const char *rater, const char *station, uint64_t criterion)
{
	for (const struct book_rating *r = b->rating; r; r = r->next)
		if (r->line.criterion == criterion && is(r->line.station, station) &&
			is(r->line.rater, rater))
			return &r->line;
	return NULL;
}

bool book_is_seen(const struct book *b, const char *station, uint64_t criterion)
{
	for (const struct book_rating *r = b->rating; r; r = r->next)
		if (r->line.criterion == criterion && is(r->line.station, station))
			return true;
	return book_settled(b, station, criterion) != NULL;
}

static size_t name_add(const char **names, size_t n, size_t most, const char *name)
{
	for (size_t i = 0; i < n; i++)
		if (is(names[i], name))
			return n;
	if (n < most)
		names[n++] = name;
	return n;
}

size_t book_raters(const struct book *b, const char **names, size_t most)
{
	size_t n = 0;
	for (const struct book_rating *r = b->rating; r; r = r->next)
		n = name_add(names, n, most, r->line.rater);
	for (const struct book_critical *c = b->critical; c; c = c->next)
		n = name_add(names, n, most, c->line.rater);
	return n;
}

const struct line_agreed *book_settled(
	const struct book *b, const char *station, uint64_t criterion)
{
	for (const struct book_agreed *a = b->agreed; a; a = a->next)
		if (a->line.criterion == criterion && is(a->line.station, station))
			return &a->line;
	return NULL;
}

/* LEVEL_OPEN also when nobody rated it. */
static int common_level(const struct book *b, const char *station, uint64_t criterion, bool *differ)
{
	int level = LEVEL_OPEN;
	*differ = false;
	for (const struct book_rating *r = b->rating; r; r = r->next) {
		if (r->line.criterion != criterion || !is(r->line.station, station))
			continue;
		*differ |= level != LEVEL_OPEN && level != (int)r->line.level;
		level = (int)r->line.level;
	}
	return *differ ? LEVEL_OPEN : level;
}

int book_level(const struct book *b, const char *station, uint64_t criterion)
{
	bool differ;
	const struct line_agreed *a = book_settled(b, station, criterion);
	int level = a ? (int)a->level : common_level(b, station, criterion, &differ);
	return level >= RUBRIC_LEVELS ? LEVEL_OPEN : level;
}

bool book_has_critical(const struct book *b, const char *rater, const char *station)
{
	for (const struct book_critical *c = b->critical; c; c = c->next)
		if (is(c->line.station, station) && is(c->line.rater, rater))
			return true;
	return false;
}

/* A critical error that only one of two raters saw is a difference too. */
static bool critical_differs(const struct book *b, const char *station)
{
	bool seen = false, unseen = false;
	for (const struct book_rating *r = b->rating; r; r = r->next) {
		if (!is(r->line.station, station))
			continue;
		bool has = book_has_critical(b, r->line.rater, station);
		seen |= has;
		unseen |= !has;
	}
	return seen && unseen;
}

bool book_differs(const struct book *b, const char *station, uint64_t criterion)
{
	bool differ;
	if (criterion == BOOK_REMARK)
		return critical_differs(b, station);
	common_level(b, station, criterion, &differ);
	return differ;
}

bool book_is_critical(const struct book *b, const char *station)
{
	const struct line_agreed *a = book_settled(b, station, BOOK_REMARK);
	if (a)
		return a->level > 0;
	for (const struct book_critical *c = b->critical; c; c = c->next)
		if (is(c->line.station, station))
			return true;
	return false;
}

bool book_is_rated(const struct book *b, const char *rater, const struct station *s)
{
	for (size_t n = 0; n < s->ncriterion; n++)
		if (!book_of(b, rater, s->code, n + 1))
			return false;
	return true;
}

static int station_level(const struct book *b, const struct station *s)
{
	int lowest = RUBRIC_LEVELS;
	for (size_t n = 0; n < s->ncriterion; n++) {
		int level = book_level(b, s->code, n + 1);
		int both[] = {lowest, level};
		if (level == LEVEL_OPEN)
			return LEVEL_OPEN;
		lowest = lowest == RUBRIC_LEVELS ? level : sum_station_level(both, 2);
	}
	return lowest == RUBRIC_LEVELS ? LEVEL_OPEN : lowest;
}

void book_stations(const struct book *b, struct sum_station *station)
{
	for (size_t n = 0; n < b->rubric->nstation; n++) {
		const struct station *s = &b->rubric->station[n];
		station[n] =
			(struct sum_station){station_level(b, s), book_is_critical(b, s->code)};
	}
}
