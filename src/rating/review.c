/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rating/review.h"

#include <stdio.h>
#include <string.h>

#include <barwright/record/graded.h>

#include "rating/book.h"
#include "rating/measured.h"

struct rated_piece {
	struct book book;
	struct rated_piece *next;
};

static enum bad say(struct audit_finding *out, enum audit_result result, const char *words)
{
	out->result = result;
	snprintf(out->words, sizeof out->words, "%s", words);
	return FINE;
}

static bool is_here(const struct rating_review *r, const char *rubric, const struct hash *content)
{
	return r->rubric && strcmp(r->rubric->code, rubric) == 0 &&
	       hash_is_equal(&r->rubric->hash, content);
}

/* The book of a piece, an empty one at first; null when memory ran out. */
static struct book *book_for(struct rating_review *r, const char *name)
{
	for (struct rated_piece *p = r->piece; p; p = p->next)
		if (strcmp(p->book.piece, name) == 0)
			return &p->book;
	struct rated_piece *p = arena_new(&r->arena, struct rated_piece);
	const char *piece = arena_copy(&r->arena, name, strlen(name));
	if (!p || !piece)
		return NULL;
	p->book = (struct book){.arena = &r->arena, .rubric = r->rubric, .piece = piece};
	p->next = r->piece;
	r->piece = p;
	return &p->book;
}

/* ---- what is said of a criterion ------------------------------------------------------------- */

static const struct criterion *criterion_of(
	const struct rubric *r, const char *station, uint64_t number)
{
	for (size_t n = 0; n < r->nstation; n++)
		if (strcmp(r->station[n].code, station) == 0)
			return number >= 1 && number <= r->station[n].ncriterion
				       ? &r->station[n].criterion[number - 1]
				       : NULL;
	return NULL;
}

static enum bad check_readings(
	const struct rating_review *r, const struct line_rating *line, struct audit_finding *out)
{
	const struct criterion *c = criterion_of(r->rubric, line->station, line->criterion);
	struct measured_set set;
	const char *why;
	if (!*line->readings && !line->proved)
		return FINE; /* nothing was measured */
	if (!c || !c->measure.is_there || strcmp(c->measure.unit_text, line->unit) != 0)
		return say(out, AUDIT_DIFFERS, "the rubric measures nothing of this kind there");
	if (measured_read(&c->measure, line->readings, &set, &why))
		return say(out, AUDIT_DIFFERS, "its readings cannot be read");
	if (line->proved != (uint64_t)set.proved + 1)
		return say(out, AUDIT_DIFFERS, "the readings do not prove what is noted");
	return say(out, AUDIT_EQUAL, "");
}

static enum bad on_rating(
	struct rating_review *r, const struct strand_line *line, struct audit_finding *out)
{
	struct line_rating x;
	enum bad code = line_rating_read(line, &r->arena, &x);
	if (code)
		return code == BAD_MEMORY ? code : say(out, AUDIT_NOT_MADE, "it cannot be read");
	if (!is_here(r, x.rubric, &x.content))
		return *x.readings ? say(out, AUDIT_NOT_MADE,
					     "its rubric is not here, or was changed since")
				   : FINE;
	struct book *b = book_for(r, x.piece);
	code = b ? book_add_rating(b, &x) : BAD_MEMORY;
	return code ? code : check_readings(r, &x, out);
}

static enum bad on_critical(struct rating_review *r, const struct strand_line *line)
{
	struct line_critical x;
	enum bad code = line_critical_read(line, &r->arena, &x);
	if (code || !is_here(r, x.rubric, &x.content))
		return code == BAD_MEMORY ? code : FINE;
	struct book *b = book_for(r, x.piece);
	return b ? book_add_critical(b, &x) : BAD_MEMORY;
}

static enum bad on_agreed(struct rating_review *r, const struct strand_line *line)
{
	struct line_agreed x;
	enum bad code = line_agreed_read(line, &r->arena, &x);
	if (code || !is_here(r, x.rubric, &x.content))
		return code == BAD_MEMORY ? code : FINE;
	struct book *b = book_for(r, x.piece);
	return b ? book_add_agreed(b, &x) : BAD_MEMORY;
}

/* ---- the result ------------------------------------------------------------------------------ */

static bool is_percent(const char *said, double percent)
{
	char text[32];
	snprintf(text, sizeof text, "%.2f", percent);
	return strcmp(said, text) == 0;
}

static bool is_part(const struct rubric *r, size_t n, const struct sum_station *at,
	const struct line_result *said)
{
	int points = at->level == LEVEL_OPEN ? 0 : r->points[at->level];
	return strcmp(said->part.at[n], r->station[n].code) == 0 &&
	       strcmp(said->part_competency.at[n], r->station[n].competency) == 0 &&
	       strcmp(said->part_verdict.at[n], sum_station_word(at)) == 0 &&
	       is_percent(said->part_percent.at[n], points) &&
	       is_percent(said->part_needed.at[n], r->points[2]);
}

static bool is_result(
	const struct rubric *r, const struct sum_station *at, const struct line_result *said)
{
	struct sum sum;
	sum_find(r, at, &sum);
	bool same = said->part.n == r->nstation &&
		    strcmp(said->verdict, sum_verdict_word(sum.verdict)) == 0 &&
		    is_percent(said->percent, sum.percent) && is_percent(said->needed, r->pass);
	for (size_t n = 0; same && n < r->nstation; n++)
		same = is_part(r, n, &at[n], said);
	return same;
}

static enum bad on_result(
	struct rating_review *r, const struct strand_line *line, struct audit_finding *out)
{
	struct arena mem = {0};
	struct line_result said;
	struct sum_station *at = NULL;
	struct book *b = NULL;
	enum bad code = line_result_read(line, &mem, &said);
	bool is_read = !code, known = is_read && is_here(r, said.of, &said.content);
	if (known) {
		b = book_for(r, said.piece);
		at = arena_many(&mem, r->rubric->nstation + 1, struct sum_station);
		code = b && at ? FINE : BAD_MEMORY;
	}
	if (code == BAD_MEMORY) {
		arena_release(&mem);
		return code;
	}
	if (!is_read)
		say(out, AUDIT_NOT_MADE, "it cannot be read");
	else if (!known)
		say(out, AUDIT_NOT_MADE, "its rubric is not here, or was changed since");
	else {
		book_stations(b, at);
		bool same = is_result(r->rubric, at, &said);
		say(out, same ? AUDIT_EQUAL : AUDIT_DIFFERS,
			same ? "" : "the result is not what the ratings come to");
	}
	arena_release(&mem);
	return FINE;
}

/* ---- all of it ------------------------------------------------------------------------------- */

/* Another strand has other pieces. */
static void turn_to(struct rating_review *r, const struct strand_line *line)
{
	if (line->n > 0 && strcmp(r->strand, line->strand) == 0)
		return;
	arena_release(&r->arena);
	r->piece = NULL;
	snprintf(r->strand, sizeof r->strand, "%s", line->strand);
}

enum bad rating_review_line(void *context, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out)
{
	struct rating_review *r = context;
	*out = (struct audit_finding){AUDIT_NOT_MADE, ""};
	if (strcmp(open->mode, "rate") != 0)
		return FINE;
	turn_to(r, line);
	switch (line_kind(line->kind)) {
	case LINE_RATING:
		return on_rating(r, line, out);
	case LINE_CRITICAL:
		return on_critical(r, line);
	case LINE_AGREED:
		return on_agreed(r, line);
	case LINE_RESULT:
		return on_result(r, line, out);
	default:
		return FINE;
	}
}
