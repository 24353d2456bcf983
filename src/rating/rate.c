/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rating/rate.h"

#include <string.h>

#include <barwright/base/utf8.h>

#include "rating/rate_parts.h"

/* ---- who rates whom -------------------------------------------------------------------------- */

/* The next letter that counts, small; 0 at the end, and where the text is no UTF-8. */
static uint32_t letter_next(const char **at)
{
	uint32_t code = 0;
	while (**at == ' ')
		(*at)++;
	*at += **at ? utf8_read(*at, strlen(*at), &code) : 0;
	bool upper = (code >= 'A' && code <= 'Z') || (code >= 0xC0 && code <= 0xDE && code != 0xD7);
	return upper ? code + 0x20 : code;
}

bool rate_is_same_name(const char *a, const char *b)
{
	uint32_t one, other;
	do {
		one = letter_next(&a);
		other = letter_next(&b);
	} while (one == other && one);
	return one == other && !*a && !*b;
}

const char *rate_refusal(const char *rater, const char *name, const char *who)
{
	bool self =
		(name && rate_is_same_name(rater, name)) || (who && rate_is_same_name(rater, who));
	return self ? "nobody rates their own work: the rater and the candidate are one person"
		    : NULL;
}

/* ---- choosing a station ---------------------------------------------------------------------- */

/* What this rater has said only: a second one must not be led by the first. */
static const char *state_of(const struct rate *r, const struct station *s)
{
	if (book_has_critical(&r->book, r->how->rater, s->code))
		return "critical error";
	if (book_is_rated(&r->book, r->how->rater, s))
		return "rated";
	for (size_t n = 0; n < s->ncriterion; n++)
		if (book_of(&r->book, r->how->rater, s->code, n + 1))
			return "begun";
	return "not rated yet";
}

/* The next one to be rated; none when all are: the result is never worked out by Enter alone. */
static size_t next_station(const struct rate *r)
{
	for (size_t n = 0; n < r->rubric->nstation; n++)
		if (!book_is_rated(&r->book, r->how->rater, &r->rubric->station[n]))
			return n;
	return CHOICE_NONE;
}

static enum how show_front(struct rate *r)
{
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, r->rubric->title, NULL);
	page_add(&p, BLOCK_TEXT, "%s", r->rubric->about);
	page_row(&p, "Candidate", "%s", r->desk->name ? r->desk->name : r->desk->who);
	page_row(&p, "Piece of work", "%s", r->how->piece);
	page_row(&p, "Rater", "%s", r->how->rater);
	page_row(&p, "To pass",
		"%d %%, nothing unusable, at most %d below competent, no critical error",
		r->rubric->pass, r->rubric->below);
	if (r->book.strange)
		page_add(&p, BLOCK_CAUTION,
			"%zu entries of this piece were made with another version of this rubric. "
			"They are "
			"kept and do not count.",
			r->book.strange);
	enum how how = rate_show(r, &p);
	arena_release(&a);
	return how;
}

static enum how choose_station(struct rate *r, size_t *out)
{
	size_t n = r->rubric->nstation;
	struct arena a = {0};
	struct choice *list = arena_many(&a, n + 1, struct choice);
	if (!list)
		return desk_broken(r->desk, BAD_MEMORY);
	for (size_t k = 0; k < n; k++) {
		const struct station *s = &r->rubric->station[k];
		list[k] = (struct choice){s->code, s->title, state_of(r, s)};
	}
	list[n] = (struct choice){"finish", "Work out the result", NULL};
	enum how how = show_front(r);
	if (!how)
		how = rate_choose(r, "Which station?", list, n + 1, next_station(r), out);
	arena_release(&a);
	return how;
}

static enum how all_stations(struct rate *r)
{
	size_t n = 0;
	for (;;) {
		enum how how = choose_station(r, &n);
		if (how || n == r->rubric->nstation)
			return how;
		how = rate_station(r, &r->rubric->station[n]);
		if (how && how != HOW_BACK)
			return how;
	}
}

static enum how one_station(struct rate *r)
{
	for (size_t n = 0; n < r->rubric->nstation; n++)
		if (strcmp(r->rubric->station[n].code, r->how->station) == 0)
			return rate_station(r, &r->rubric->station[n]);
	r->how->refused = "the rubric has no such station";
	return HOW_DONE;
}

enum how rate_run(struct desk *d, struct rate_how *how)
{
	struct rate r = {.desk = d, .how = how, .rubric = d->rubric};
	enum how end = HOW_DONE;
	how->refused = rate_refusal(how->rater, d->name, d->who);
	if (how->refused)
		return end;
	enum bad code =
		book_read(strand_own_path(d->strand), d->rubric, how->piece, &r.arena, &r.book);
	if (code)
		end = desk_broken(d, code);
	else if (how->moderate)
		end = rate_moderate(&r);
	else
		end = how->station ? one_station(&r) : all_stations(&r);
	if (!end && !how->refused)
		end = rate_finish(&r);
	arena_release(&r.arena);
	return end;
}
