/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/ledger.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>

#include "bench/score.h"

void ledger_item(const struct procedure *p, size_t part, enum bench_mode mode, size_t fault,
	char out[static LEDGER_ITEM])
{
	snprintf(out, LEDGER_ITEM, "%s/%s/%s%s%s", p->code, p->part[part].code,
		mode == BENCH_MODES ? "" : bench_mode_word[mode], fault == SIZE_MAX ? "" : ":",
		fault == SIZE_MAX ? "" : p->fault[fault].code);
}

static void piece(const char *from, size_t len, char *out)
{
	len = len < LEDGER_ITEM ? len : LEDGER_ITEM - 1;
	memcpy(out, from, len);
	out[len] = 0;
}

enum bad ledger_item_read(const char *item, struct ledger_name *out)
{
	const char *first = strchr(item, '/');
	const char *second = first ? strchr(first + 1, '/') : NULL;
	if (!second || strlen(item) >= LEDGER_ITEM)
		return BAD_SYNTAX;
	size_t mode = strcspn(second + 1, ":");
	piece(item, (size_t)(first - item), out->code);
	piece(first + 1, (size_t)(second - first - 1), out->part);
	const char *fault = second + 1 + mode + (second[1 + mode] == ':');
	piece(fault, strlen(fault), out->fault);
	for (int i = 0; i < BENCH_MODES; i++)
		if (strlen(bench_mode_word[i]) == mode &&
			memcmp(second + 1, bench_mode_word[i], mode) == 0) {
			out->mode = (enum bench_mode)i;
			return FINE;
		}
	return BAD_SYNTAX;
}

bool ledger_start(
	struct bench *b, const struct ledger_name *name, const unsigned char key[static BENCH_KEY])
{
	const struct procedure *p = b->procedure;
	size_t part = procedure_part(p, name->part);
	size_t fault =
		*name->fault ? procedure_fault(p, name->fault, strlen(name->fault)) : SIZE_MAX;
	if (part == SIZE_MAX || (*name->fault && fault == SIZE_MAX))
		return false;
	if (name->mode == BENCH_HUNT)
		bench_start_hunt(b, key, part, fault);
	else
		bench_start(b, key, part, name->mode);
	return true;
}

/* ---- finding --------------------------------------------------------------------------------- */

enum { DECISIONS_MOST = 4000 };

struct search {
	struct arena *a;
	const char *item;
	struct ledger_run *run;
	bool in_bench; /* in a sitting at the bench */
	char sitting[LEDGER_SITTING];
	const char **typed;
	bool out;
};

static bool is_wanted(const struct search *s, const char *item)
{
	size_t len = strlen(s->item);
	bool any_mode = len && s->item[len - 1] == '/';
	return any_mode ? strncmp(item, s->item, len) == 0 : strcmp(item, s->item) == 0;
}

static void draw_take(struct search *s, const struct line_draw *draw)
{
	struct ledger_run *r = s->run;
	bool same = r->is_there && memcmp(r->key, draw->key, sizeof r->key) == 0;
	if (!is_wanted(s, draw->item) || same)
		return;
	*r = (struct ledger_run){.is_there = true,
		.is_open = true,
		.attempt = draw->attempt,
		.content = draw->content,
		.typed = s->typed};
	memcpy(r->key, draw->key, sizeof r->key);
	snprintf(r->item, sizeof r->item, "%s", draw->item);
	snprintf(r->sitting, sizeof r->sitting, "%s", s->sitting);
}

static void answer_take(struct search *s, const struct line_answer *x)
{
	struct ledger_run *r = s->run;
	if (strcmp(x->item, r->item) != 0 || !r->is_open || x->attempt != r->attempt)
		return;
	if (r->n < DECISIONS_MOST)
		s->typed[r->n++] = x->typed;
	if (strcmp(x->outcome, "done") != 0)
		r->is_open = false;
}

static enum bad search_line(void *context, const struct strand_line *line)
{
	struct search *s = context;
	struct line_open open;
	struct line_draw draw;
	struct line_answer answer;
	switch (line_kind(line->kind)) {
	case LINE_OPEN:
		s->in_bench = !line_open_read(line, s->a, &open) && !strcmp(open.mode, "bench");
		if (s->in_bench)
			snprintf(s->sitting, sizeof s->sitting, "%s", open.sitting);
		break;
	case LINE_DRAW:
		if (s->in_bench && !line_draw_read(line, s->a, &draw))
			draw_take(s, &draw);
		break;
	case LINE_ANSWER:
		if (s->in_bench && !line_answer_read(line, s->a, &answer))
			answer_take(s, &answer);
		break;
	default:
		break;
	}
	return FINE;
}

static enum bad find(
	const struct strand *strand, struct arena *a, const char *item, struct ledger_run *out)
{
	struct search s = {.a = a, .item = item, .run = out};
	struct strand_check how = {.hashes_only = true};
	struct strand_sum sum;
	struct source *source;
	*out = (struct ledger_run){0};
	s.typed = arena_many(a, DECISIONS_MOST, const char *);
	if (!s.typed)
		return BAD_MEMORY;
	if (!strand_count(strand))
		return FINE;
	enum bad code = strand_load(strand_own_path(strand), a, &source);
	return code ? code : strand_read(source, &how, search_line, &s, &sum, NULL);
}

enum bad ledger_find(
	const struct strand *strand, struct arena *a, const char *item, struct ledger_run *out)
{
	struct ledger_run last;
	enum bad code = find(strand, a, item, &last);
	/* it may have been left for one in another mode and taken up again: once more, by its name */
	if (!code && last.is_there && strcmp(last.item, item) != 0) {
		const char *found = arena_copy(a, last.item, strlen(last.item));
		code = found ? find(strand, a, found, &last) : BAD_MEMORY;
	}
	if (!code)
		*out = last;
	return code;
}

/* ---- all of them ----------------------------------------------------------------------------- */

enum { PASTS_MOST = 1000 };

struct gathering {
	struct arena *a;
	const char *item, *who;
	struct ledger_past *past;
	size_t n, now; /* the run that lines belong to; SIZE_MAX: none */
	size_t room[PASTS_MOST];
	size_t strand
		[PASTS_MOST]; /* with the code of a sitting the key is the same on each machine */
	size_t nstrand;
	bool in_bench;
	char sitting[LEDGER_SITTING];
};

static bool item_fits(const char *wanted, const char *item)
{
	return is_wanted(&(struct search){.item = wanted}, item);
}

static void past_draw(struct gathering *g, const struct line_draw *draw, int64_t at_ms)
{
	g->now = SIZE_MAX;
	if (!item_fits(g->item, draw->item))
		return;
	for (size_t i = 0; i < g->n; i++)
		if (g->strand[i] == g->nstrand &&
			memcmp(g->past[i].run.key, draw->key, sizeof draw->key) == 0) {
			g->now = i;
			return;
		}
	if (g->n == PASTS_MOST)
		return;
	struct ledger_past *x = &g->past[g->n];
	*x = (struct ledger_past){.began_ms = at_ms, .outcome = "", .expected = ""};
	x->run = (struct ledger_run){.is_there = true,
		.is_open = true,
		.attempt = draw->attempt,
		.content = draw->content};
	memcpy(x->run.key, draw->key, sizeof x->run.key);
	snprintf(x->run.item, sizeof x->run.item, "%s", draw->item);
	snprintf(x->run.sitting, sizeof x->run.sitting, "%s", g->sitting);
	g->room[g->n] = 0;
	g->strand[g->n] = g->nstrand;
	g->now = g->n++;
}

static enum bad past_answer(struct gathering *g, const struct line_answer *x)
{
	struct ledger_past *past = g->now == SIZE_MAX ? NULL : &g->past[g->now];
	if (!past || !past->run.is_open || past->run.n == DECISIONS_MOST ||
		strcmp(x->item, past->run.item) != 0)
		return FINE;
	if (past->run.n == g->room[g->now]) {
		size_t room = g->room[g->now] ? 2 * g->room[g->now] : 64;
		const char **typed = arena_many(g->a, room, const char *);
		if (!typed)
			return BAD_MEMORY;
		for (size_t i = 0; i < past->run.n; i++)
			typed[i] = past->run.typed[i];
		past->run.typed = typed;
		g->room[g->now] = room;
	}
	past->run.typed[past->run.n++] = x->typed;
	if (strcmp(x->outcome, "done") != 0) {
		past->run.is_open = false;
		past->outcome = x->outcome;
		past->expected = x->expected;
	}
	return FINE;
}

static enum bad past_line(void *context, const struct strand_line *line)
{
	struct gathering *g = context;
	struct line_open open;
	struct line_draw draw;
	struct line_answer answer;
	if (strcmp(line->who, g->who) != 0)
		return FINE;
	switch (line_kind(line->kind)) {
	case LINE_OPEN:
		g->now = SIZE_MAX;
		g->in_bench = !line_open_read(line, g->a, &open) && !strcmp(open.mode, "bench");
		if (g->in_bench)
			snprintf(g->sitting, sizeof g->sitting, "%s", open.sitting);
		return FINE;
	case LINE_DRAW:
		if (g->in_bench && !line_draw_read(line, g->a, &draw))
			past_draw(g, &draw, line->at_ms);
		return FINE;
	case LINE_ANSWER:
		return g->in_bench && !line_answer_read(line, g->a, &answer)
			       ? past_answer(g, &answer)
			       : FINE;
	default:
		return FINE;
	}
}

/* A strand that is damaged gives what stands before. */
static enum bad past_strand(struct gathering *g, const char *path)
{
	struct strand_check how = {.hashes_only = true};
	struct strand_sum sum;
	struct source *source;
	g->in_bench = false;
	g->now = SIZE_MAX;
	g->nstrand++;
	enum bad code = strand_load(path, g->a, &source);
	if (!code)
		code = strand_read(source, &how, past_line, g, &sum, NULL);
	return code == BAD_MEMORY ? code : FINE;
}

static int by_beginning(const void *x, const void *y)
{
	const struct ledger_past *a = x, *b = y;
	if (a->began_ms != b->began_ms)
		return a->began_ms > b->began_ms ? 1 : -1;
	return memcmp(a->run.key, b->run.key, sizeof a->run.key);
}

enum bad ledger_list(const char *folder, const char *who, struct arena *a, const char *item,
	struct ledger_past **list, size_t *n)
{
	struct folder_entry *file;
	size_t nfile;
	struct gathering *g = arena_new(a, struct gathering);
	enum bad code = g ? folder_list(folder, a, &file, &nfile) : BAD_MEMORY;
	if (code)
		return code;
	*g = (struct gathering){.a = a, .item = item, .who = who, .now = SIZE_MAX};
	g->past = arena_many(a, PASTS_MOST, struct ledger_past);
	if (!g->past)
		return BAD_MEMORY;
	for (size_t i = 0; i < nfile && !code; i++) {
		const char *path = folder_join(a, folder, file[i].name);
		if (!path)
			code = BAD_MEMORY;
		else if (strand_is_file_name(file[i].name))
			code = past_strand(g, path);
	}
	if (code)
		return code;
	qsort(g->past, g->n, sizeof *g->past, by_beginning);
	*list = g->past;
	*n = g->n;
	return FINE;
}

enum bad ledger_own(const struct strand *strand, const char *who, struct arena *a, const char *item,
	struct ledger_past **list, size_t *n)
{
	struct gathering *g = arena_new(a, struct gathering);
	if (!g)
		return BAD_MEMORY;
	*g = (struct gathering){.a = a, .item = item, .who = who, .now = SIZE_MAX};
	g->past = arena_many(a, PASTS_MOST, struct ledger_past);
	if (!g->past)
		return BAD_MEMORY;
	enum bad code = strand_count(strand) ? past_strand(g, strand_own_path(strand)) : FINE;
	if (code)
		return code;
	*list = g->past;
	*n = g->n;
	return FINE;
}

bool ledger_is_unfinished(
	const struct ledger_past *list, size_t n, const char *item, const struct hash *content)
{
	bool is_open = false;
	for (size_t i = 0; i < n; i++)
		if (strcmp(list[i].run.item, item) == 0)
			is_open = list[i].run.is_open && list[i].run.n &&
				  hash_is_equal(&list[i].run.content, content);
	return is_open;
}

/* ---- what is recorded ------------------------------------------------------------------------ */

const char *ledger_outcome(const struct bench *b)
{
	return b->end ? bench_end_word[b->end] : "done";
}

void ledger_expected(struct bench *b, const struct rubric *r, char out[static LEDGER_NUMBER])
{
	struct bench_score score;
	double x = (bench_clock_s(b) - b->start_s) / 60;
	if (b->end) {
		bench_score(b, r, &score);
		x = score.percent;
	}
	snprintf(out, LEDGER_NUMBER, "%.3f", x);
}
