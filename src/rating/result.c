/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include "rating/rate_parts.h"

enum bad rate_begin(struct rate *r)
{
	enum bad code = desk_begin(r->desk);
	if (!code)
		desk_keeps(r->desk, "What you rated is recorded.");
	return code;
}

/* ---- the line -------------------------------------------------------------------------------- */

struct lists {
	const char **part, **competency, **percent, **needed, **verdict, **reason;
	size_t nreason, room;
	bool out;
};

static const char **list_of(struct rate *r, struct lists *l, size_t n)
{
	const char **list = arena_many(&r->arena, n + 1, const char *);
	l->out |= !list;
	return list;
}

static void lists_init(struct rate *r, struct lists *l)
{
	size_t n = r->rubric->nstation;
	*l = (struct lists){.room = 3 * n + 8};
	for (size_t k = 0; k < n; k++)
		l->room += 3 * r->rubric->station[k].ncriterion;
	l->part = list_of(r, l, n);
	l->competency = list_of(r, l, n);
	l->percent = list_of(r, l, n);
	l->needed = list_of(r, l, n);
	l->verdict = list_of(r, l, n);
	l->reason = list_of(r, l, l->room);
}

static __attribute__((format(printf, 3, 4))) void reason_add(
	struct rate *r, struct lists *l, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	const char *text = arena_vformat(&r->arena, format, args);
	va_end(args);
	l->out |= !text;
	if (text && l->nreason < l->room)
		l->reason[l->nreason++] = text;
}

static const char *percent_of(struct rate *r, struct lists *l, double percent)
{
	const char *text = arena_format(&r->arena, "%.2f", percent);
	l->out |= !text;
	return text;
}

/* What nobody has rated: the whole station, or points of it. */
static void unrated_reason(struct rate *r, struct lists *l, const struct station *s)
{
	size_t unrated = 0;
	for (size_t n = 1; n <= s->ncriterion; n++)
		unrated += !book_is_seen(&r->book, s->code, n);
	if (unrated == s->ncriterion)
		reason_add(r, l, "open: %s is not rated yet", s->title);
	for (size_t n = 1; n <= s->ncriterion && unrated < s->ncriterion; n++)
		if (!book_is_seen(&r->book, s->code, n))
			reason_add(r, l, "open: %s; not rated yet: %s", s->title,
				s->criterion[n - 1].text);
}

/* What has to be shown again, and why. */
static void station_reason(
	struct rate *r, struct lists *l, const struct station *s, const struct sum_station *at)
{
	if (at->critical)
		reason_add(r, l, "show again: %s; a critical error was seen", s->title);
	for (size_t n = 1; n <= s->ncriterion; n++)
		if (book_differs(&r->book, s->code, n) && !book_settled(&r->book, s->code, n))
			reason_add(r, l, "open: the raters differ on %s; %s", s->title,
				s->criterion[n - 1].text);
	unrated_reason(r, l, s);
	if (at->level == LEVEL_OPEN || at->level >= 2)
		return;
	for (size_t n = 0; n < s->ncriterion; n++) {
		int level = book_level(&r->book, s->code, n + 1);
		if (level == at->level)
			reason_add(r, l, "show again: %s; %s: %s, %s", s->title,
				s->criterion[n].text, rate_level_name[level],
				s->criterion[n].level[level]);
	}
}

static void part_fill(struct rate *r, struct lists *l, size_t n, const struct sum_station *at)
{
	const struct station *s = &r->rubric->station[n];
	bool open = at->level == LEVEL_OPEN;
	l->part[n] = s->code;
	l->competency[n] = s->competency;
	l->percent[n] = percent_of(r, l, open ? 0 : r->rubric->points[at->level]);
	l->needed[n] = percent_of(r, l, r->rubric->points[2]);
	l->verdict[n] = sum_station_word(at);
	station_reason(r, l, s, at);
}

static bool is_rater(const struct rate *r, const char *name)
{
	const char *all[RATERS_MOST];
	size_t n = book_raters(&r->book, all, RATERS_MOST);
	for (size_t k = 0; k < n; k++)
		if (strcmp(all[k], name) == 0)
			return true;
	return false;
}

/* One sentence for each who settled something. */
static void settled_reasons(struct rate *r, struct lists *l)
{
	for (const struct book_agreed *a = r->book.agreed; a; a = a->next) {
		size_t n = 0;
		const struct book_agreed *first = r->book.agreed;
		while (strcmp(first->line.rater, a->line.rater) != 0)
			first = first->next;
		for (const struct book_agreed *b = a; b && first == a; b = b->next)
			n += strcmp(b->line.rater, a->line.rater) == 0;
		if (n)
			reason_add(r, l, "settled by %s%s: %zu %s", a->line.rater,
				is_rater(r, a->line.rater) ? ", one of the raters" : "", n,
				n == 1 ? "difference" : "differences");
	}
}

static void sum_reasons(struct rate *r, struct lists *l, const struct sum *s)
{
	reason_add(r, l, "weighted sum of what is rated: %.4g %%; %d %% are needed", s->percent,
		r->rubric->pass);
	if (s->unusable)
		reason_add(r, l, "unusable: %zu; none may be", s->unusable);
	if (s->below > (size_t)r->rubric->below)
		reason_add(r, l, "below competent: %zu; %d may be", s->below, r->rubric->below);
	if (s->critical)
		reason_add(r, l, "critical errors at %zu %s: no points make up for one",
			s->critical, s->critical == 1 ? "station" : "stations");
	if (s->open)
		reason_add(r, l, "stations still open: %zu of %zu", s->open, r->rubric->nstation);
	settled_reasons(r, l);
	if (r->book.strange)
		reason_add(r, l,
			"%zu earlier entries belong to another version of this rubric and do not "
			"count",
			r->book.strange);
}

static const char *raters_of(struct rate *r)
{
	const char *name[RATERS_MOST], *all = "";
	size_t n = book_raters(&r->book, name, RATERS_MOST);
	for (size_t k = 0; k < n && all; k++)
		all = arena_format(&r->arena, "%s%s%s", all, k ? ", " : "", name[k]);
	return all;
}

static enum bad result_find(struct rate *r, struct sum *sum, struct line_result *out)
{
	size_t n = r->rubric->nstation;
	struct sum_station *at = arena_many(&r->arena, n + 1, struct sum_station);
	struct lists l;
	lists_init(r, &l);
	if (!at || l.out)
		return BAD_MEMORY;
	book_stations(&r->book, at);
	sum_find(r->rubric, at, sum);
	sum_reasons(r, &l, sum);
	for (size_t k = 0; k < n; k++)
		part_fill(r, &l, k, &at[k]);
	struct line_result line = {.of = r->rubric->code,
		.title = r->rubric->title,
		.content = r->rubric->hash,
		.piece = r->how->piece,
		.by = raters_of(r),
		.verdict = sum_verdict_word(sum->verdict),
		.percent = percent_of(r, &l, sum->percent),
		.needed = percent_of(r, &l, r->rubric->pass),
		.part = {l.part, n},
		.part_competency = {l.competency, n},
		.part_percent = {l.percent, n},
		.part_needed = {l.needed, n},
		.part_verdict = {l.verdict, n},
		.reasons = {l.reason, l.nreason}};
	if (l.out || !line.by)
		return BAD_MEMORY;
	*out = line;
	return FINE;
}

/* ---- telling --------------------------------------------------------------------------------- */

static void add_stations(struct rate *r, struct page *p, const struct line_result *line)
{
	page_add(p, BLOCK_HEADING, "By station");
	for (size_t k = 0; k < line->part.n; k++) {
		bool open = strcmp(line->part_verdict.at[k], "open") == 0;
		const char *title = r->rubric->station[k].title;
		if (open)
			page_row(p, title, "open");
		else
			page_row(p, title, "%.4g points", result_number(line->part_percent.at[k]));
	}
}

static enum how tell(struct rate *r, const struct sum *sum, const struct line_result *line)
{
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, r->rubric->title, "result");
	if (sum->verdict == SUM_PASSED)
		page_add(&p, BLOCK_GOOD, "Passed: %.4g %%.", sum->percent);
	else if (sum->verdict == SUM_NOT_PASSED)
		page_add(&p, BLOCK_BAD, "Not passed: %.4g %%.", sum->percent);
	else
		page_add(&p, BLOCK_TEXT, "Open: %.4g %% of what is rated so far.", sum->percent);
	page_add(&p, BLOCK_HEADING, "Why");
	for (size_t k = 0; k < line->reasons.n; k++)
		page_add(&p, BLOCK_ITEM, "%s.", line->reasons.at[k]);
	add_stations(r, &p, line);
	page_add(&p, BLOCK_TEXT, "%s",
		r->how->sealing
			? "This is recorded. The assessor seals it when you go on; then it "
			  "counts as assessed."
			: "This is recorded. It counts as assessed only when an assessor has "
			  "sealed the record; until then it is practice.");
	enum how how = rate_show(r, &p);
	if (!how && rate_go(r) == HOW_BROKEN) /* however it is left, the result is recorded */
		how = HOW_BROKEN;
	arena_release(&a);
	return how;
}

enum how rate_finish(struct rate *r)
{
	struct line_result line;
	struct sum sum;
	enum bad code = result_find(r, &sum, &line);
	if (!code)
		code = rate_begin(r);
	if (!code)
		code = line_result_append(r->desk->strand, &line);
	if (code)
		return desk_broken(r->desk, code);
	r->how->is_done = true;
	r->how->passed = sum.verdict == SUM_PASSED;
	code = desk_end(r->desk, "done");
	return code ? desk_broken(r->desk, code) : tell(r, &sum, &line);
}
