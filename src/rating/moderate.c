/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include <barwright/measure/agreement.h>

#include "rating/rate_parts.h"

/* ---- how far two raters agree ---------------------------------------------------------------- */

/* Levels of two raters, counted as agreement_kappa takes them; gives how many. */
static size_t levels_count(const struct rate *r, const char *const *rater,
	double counts[static RUBRIC_LEVELS * RUBRIC_LEVELS])
{
	size_t both = 0;
	for (size_t i = 0; i < r->rubric->nstation; i++) {
		const struct station *s = &r->rubric->station[i];
		for (size_t n = 1; n <= s->ncriterion; n++) {
			const struct line_rating *a = book_of(&r->book, rater[0], s->code, n);
			const struct line_rating *b = book_of(&r->book, rater[1], s->code, n);
			if (!a || !b || a->level >= RUBRIC_LEVELS || b->level >= RUBRIC_LEVELS)
				continue;
			counts[a->level * RUBRIC_LEVELS + b->level]++;
			both++;
		}
	}
	return both;
}

/* Below so many points a figure of agreement says nothing: the next point could turn it round. Course value. */
enum { FIGURE_LEAST = 10 };

/* Did it come to a figure? */
static bool add_pair(const struct rate *r, struct page *p, const char *const *rater)
{
	double counts[RUBRIC_LEVELS * RUBRIC_LEVELS] = {0}, weight[RUBRIC_LEVELS * RUBRIC_LEVELS];
	double same = 0;
	struct agreement a;
	size_t both = levels_count(r, rater, counts);
	const char *label = arena_format(p->arena, "%s and %s", rater[0], rater[1]);
	if (!both)
		return false;
	for (size_t k = 0; k < RUBRIC_LEVELS; k++)
		same += counts[k * (RUBRIC_LEVELS + 1)];
	agreement_weights(RUBRIC_LEVELS, 1, weight);
	bool has_figure =
		both >= FIGURE_LEAST && !agreement_kappa(counts, RUBRIC_LEVELS, weight, &a, NULL);
	if (has_figure)
		page_row(p, label ? label : "",
			"%.0f of %zu points at the same level; weighted kappa %.2f", same, both,
			a.kappa);
	else
		page_row(p, label ? label : "", "%.0f of %zu points at the same level", same, both);
	return has_figure;
}

/* Levels of the points that all raters rated, a row each; gives how many rows. */
static size_t levels_of_all(
	const struct rate *r, const char *const *rater, size_t nrater, double *level)
{
	size_t rows = 0;
	for (size_t i = 0; i < r->rubric->nstation; i++) {
		const struct station *s = &r->rubric->station[i];
		for (size_t n = 1; n <= s->ncriterion; n++) {
			size_t k = 0;
			for (const struct line_rating *one; k < nrater; k++) {
				one = book_of(&r->book, rater[k], s->code, n);
				if (!one)
					break;
				level[rows * nrater + k] = (double)one->level;
			}
			rows += k == nrater;
		}
	}
	return rows;
}

/* Of three raters or more: would any one of them do (Shrout and Fleiss 1979, form 2,1)? */
static bool add_all(const struct rate *r, struct page *p, const char *const *rater, size_t nrater)
{
	size_t points = 0;
	struct agreement_icc icc;
	for (size_t i = 0; i < r->rubric->nstation; i++)
		points += r->rubric->station[i].ncriterion;
	double *level = arena_many(p->arena, points * nrater + 1, double);
	if (!level) {
		p->out = 1;
		return false;
	}
	points = levels_of_all(r, rater, nrater, level);
	if (points < FIGURE_LEAST || agreement_icc(level, points, nrater, &icc))
		return false;
	page_row(p, "All of them", "%zu points; intraclass correlation of one rater %.2f", points,
		icc.single[ICC_RANDOM]);
	return true;
}

static void add_agreement(
	const struct rate *r, struct page *p, const char *const *rater, size_t nrater)
{
	bool kappa = false, icc = false;
	for (size_t i = 0; i < nrater; i++)
		for (size_t k = i + 1; k < nrater; k++)
			kappa |= add_pair(r, p, (const char *const[]){rater[i], rater[k]});
	if (nrater > 2)
		icc = add_all(r, p, rater, nrater);
	if (kappa)
		page_add(p, BLOCK_TEXT,
			"Weighted kappa (Cohen 1968, linear weights): how far two raters agree "
			"beyond chance, where a step of two levels counts twice as much as one. 1 "
			"is wholly, 0 no more than chance, below 0 less than chance.");
	if (icc)
		page_add(p, BLOCK_TEXT,
			"Intraclass correlation (Shrout and Fleiss 1979, form 2,1): how much of "
			"the spread of the levels comes from the work and not from who rated it. 1 "
			"is all of it: any one of these raters would do.");
	if (kappa || icc)
		page_add(p, BLOCK_TEXT, "One piece of work has few points: judge raters by many.");
}

/* Who settles alone what they have said themselves; the record has both names all the same. */
static void add_who_settles(
	const struct rate *r, struct page *p, const char *const *rater, size_t nrater)
{
	for (size_t k = 0; k < nrater; k++)
		if (strcmp(rater[k], r->how->rater) == 0) {
			page_add(p, BLOCK_CAUTION,
				"%s is one of the raters. A third person should settle what two "
				"differ on, or both together; the record says who did.",
				r->how->rater);
			return;
		}
	page_row(p, "Settled by", "%s", r->how->rater);
}

/* ---- settling -------------------------------------------------------------------------------- */

static void add_words(struct page *p, const struct line_rating *one)
{
	page_row(p, one->rater, "%s%s%s%s%s",
		rate_level_name[one->level < RUBRIC_LEVELS ? one->level : 0],
		*one->readings ? "; read " : "", one->readings, *one->comment ? "; " : "",
		one->comment);
}

static enum bad settle(struct rate *r, const struct station *s, uint64_t criterion, size_t level,
	const char *reason)
{
	struct line_agreed line = {.rubric = r->rubric->code,
		.content = r->rubric->hash,
		.piece = r->how->piece,
		.rater = r->how->rater,
		.station = s->code,
		.criterion = criterion,
		.level = level,
		.reason = reason};
	enum bad code = rate_begin(r);
	if (!code)
		code = line_agreed_append(r->desk->strand, &line);
	return code ? code : book_add_agreed(&r->book, &line);
}

static enum how settle_criterion(
	struct rate *r, const struct station *s, size_t n, const char *const *rater, size_t nrater)
{
	const struct criterion *c = &s->criterion[n];
	struct arena a = {0};
	struct page p;
	size_t level = 0;
	const char *reason = "";
	page_init(&p, &a, s->title, "the raters differ");
	page_add(&p, BLOCK_TEXT, "%s", c->text);
	for (size_t k = 0; k < nrater; k++) {
		const struct line_rating *one = book_of(&r->book, rater[k], s->code, n + 1);
		if (one)
			add_words(&p, one);
	}
	enum how how = rate_show(r, &p);
	if (!how)
		how = rate_level(r, c, RUBRIC_LEVELS - 1, &level);
	if (!how)
		how = rate_line(r, "Why?", "what was agreed, for the record", NULL, &reason);
	arena_release(&a);
	if (how)
		return how;
	enum bad code = settle(r, s, n + 1, level, reason);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

static enum how settle_critical(struct rate *r, const struct station *s)
{
	static const struct choice list[] = {{"stands", "The critical error stands", NULL},
		{"falls", "It was none", "both words are kept"}};
	struct arena a = {0};
	struct page p;
	size_t chosen = 0;
	const char *reason = "";
	page_init(&p, &a, s->title, "the raters differ");
	for (const struct book_critical *c = r->book.critical; c; c = c->next)
		if (strcmp(c->line.station, s->code) == 0)
			page_row(&p, c->line.rater, "critical: %s; %s", c->line.error,
				c->line.words);
	page_add(&p, BLOCK_TEXT, "Not every rater saw a critical error here.");
	enum how how = rate_show(r, &p);
	if (!how)
		how = rate_choose(r, "What is agreed?", list, 2, CHOICE_NONE, &chosen);
	if (!how)
		how = rate_line(r, "Why?", "what was agreed, for the record", NULL, &reason);
	arena_release(&a);
	if (how)
		return how;
	enum bad code = settle(r, s, BOOK_REMARK, chosen == 0, reason);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

static enum how settle_station(
	struct rate *r, const struct station *s, const char *const *rater, size_t nrater)
{
	enum how how = HOW_DONE;
	for (size_t n = 0; !how && n < s->ncriterion; n++)
		if (book_differs(&r->book, s->code, n + 1) &&
			!book_settled(&r->book, s->code, n + 1))
			how = settle_criterion(r, s, n, rater, nrater);
	if (!how && book_differs(&r->book, s->code, BOOK_REMARK) &&
		!book_settled(&r->book, s->code, BOOK_REMARK))
		how = settle_critical(r, s);
	return how;
}

static size_t differences(const struct rate *r)
{
	size_t sum = 0;
	for (size_t i = 0; i < r->rubric->nstation; i++) {
		const struct station *s = &r->rubric->station[i];
		for (size_t n = 0; n <= s->ncriterion; n++)
			sum += book_differs(&r->book, s->code, n) &&
			       !book_settled(&r->book, s->code, n);
	}
	return sum;
}

enum how rate_moderate(struct rate *r)
{
	const char *rater[RATERS_MOST];
	size_t nrater = book_raters(&r->book, rater, RATERS_MOST);
	struct arena a = {0};
	struct page p;
	if (nrater < 2) {
		r->how->refused = "there is nothing to settle: fewer than two raters have rated "
				  "this piece";
		return HOW_DONE;
	}
	page_init(&p, &a, r->rubric->title, "settling differences");
	page_row(&p, "To be settled", "%zu", differences(r));
	add_who_settles(r, &p, rater, nrater);
	add_agreement(r, &p, rater, nrater);
	page_add(&p, BLOCK_TEXT, "What each of them said is kept; what is agreed here counts.");
	enum how how = rate_show(r, &p);
	if (!how)
		how = rate_go(r);
	arena_release(&a);
	for (size_t i = 0; !how && i < r->rubric->nstation; i++)
		how = settle_station(r, &r->rubric->station[i], rater, nrater);
	return how;
}
