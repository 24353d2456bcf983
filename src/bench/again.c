/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A recorded run, carried out once more before somebody's eyes. */
#include <stdlib.h>
#include <string.h>

#include <barwright/base/clock.h>

#include "bench/decide.h"
#include "bench/ledger.h"
#include "bench/score.h"
#include "bench/session.h"
#include "bench/view.h"

struct again {
	struct bench_desk *desk;
	struct bench *bench;
	struct bench_view view;
	size_t part;
	struct ledger_run run;
	struct arena arena, aside;
	enum reply_kind left; /* REPLY_GO: still here */
};

static void broken(struct again *g, enum bad code)
{
	if (!g->desk->lost)
		g->desk->lost = code;
	g->left = REPLY_LOST;
}

static void show(struct again *g, const struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_show(g->desk->surface, p);
	if (code)
		broken(g, code);
}

static void wait(struct again *g)
{
	struct question q = {.kind = ASK_GO};
	struct reply r;
	if (g->left != REPLY_GO)
		return;
	enum bad code = surface_ask(g->desk->surface, &q, &r);
	if (code)
		broken(g, code);
	else
		g->left = r.kind;
}

/* What came of it unseen: made, left out, out of order. Only of a run that has ended. */
static void tell_hidden(struct page *p, const struct again *g)
{
	const struct bench *b = g->bench;
	const struct procedure *pr = b->procedure;
	for (size_t i = b->first_new; i < b->nlog && !g->run.is_open; i++) {
		const struct bench_event *e = &b->log[i];
		if (e->kind == HAPPENED_MADE)
			page_add(p, BLOCK_BAD, "Unseen: %s (%s).", pr->fault[e->what].title,
				pr->fault[e->what].code);
		else if (e->kind == HAPPENED_LEFT_OUT)
			page_add(p, BLOCK_TEXT, "Left out: %s.", pr->step[e->what].title);
		else if (e->kind == HAPPENED_ORDER)
			page_add(p, BLOCK_BAD, "Out of order: %s", pr->order[e->what].say);
		else if (e->kind == HAPPENED_WINDOW)
			page_add(p, BLOCK_BAD, "Out of time: %s", pr->window[e->what].say);
	}
}

static bool one(struct again *g, size_t i)
{
	const char *line = g->run.typed[i];
	char why[DECISION_WHY];
	struct bench_reading reading;
	struct page p;
	struct deed d;
	if (decision_read(g->bench, line, strlen(line), &d, why) ||
		decision_carry(g->bench, &d, &reading))
		return false;
	if (d.kind == DECIDE_LOOK)
		view_note(&g->view, d.what, &reading);
	arena_release(&g->aside);
	page_init(&p, &g->aside, g->bench->procedure->part[g->bench->part].title,
		arena_format(&g->aside, "decision %zu of %zu", i + 1, g->run.n));
	page_add(&p, BLOCK_EXACT, "%s", line);
	view_news(&p, &g->view);
	tell_hidden(&p, g);
	show(g, &p);
	wait(g);
	return true;
}

static void end(struct again *g)
{
	struct bench_score score;
	struct page p;
	arena_release(&g->aside);
	page_init(&p, &g->aside, g->bench->procedure->part[g->bench->part].title,
		"what became of it");
	bench_score(g->bench, g->desk->rubric, &score);
	view_debrief(&p, &g->view, &score, g->desk->course);
	show(g, &p);
	wait(g);
}

static void no_run(struct again *g, const char *words)
{
	struct page p;
	page_init(&p, &g->aside, "No run to show", NULL);
	page_add(&p, BLOCK_TEXT, "%s", words);
	show(g, &p);
	if (!g->desk->by_lines) /* a screen is gone at once */
		wait(g);
	if (g->left == REPLY_GO)
		g->left = REPLY_BACK;
}

/* "free" of "hand-made-bar/whole-run/free", "hunt" of ".../hunt:F12". */
static const char *mode_of(const struct ledger_run *run)
{
	struct ledger_name name;
	return ledger_item_read(run->item, &name) ? "" : bench_mode_word[name.mode];
}

/* "2026-11-25 14:03 UTC, free: accepted, 90.4 %, after 21 decisions" */
static const char *past_words(struct again *g, const struct ledger_past *x)
{
	char at[TIME_TEXT];
	time_write(x->began_ms, at);
	bool is_over = *x->outcome;
	return arena_format(&g->arena, "%.10s %.5s UTC, %s: %s%s%s%s, after %zu decision%s", at,
		at + 11, mode_of(&x->run), is_over ? x->outcome : "not ended", is_over ? ", " : "",
		is_over ? view_number(&g->arena, &g->view, strtod(x->expected, NULL), 1) : "",
		is_over ? " %" : "", x->run.n, x->run.n == 1 ? "" : "s");
}

/* One of several; false when none is chosen. */
static bool choose(struct again *g, const struct ledger_past *past, size_t n, size_t *out)
{
	struct choice *choice = arena_many(&g->arena, n, struct choice);
	struct page p;
	struct reply r;
	struct hash now = procedure_hash(g->bench->procedure);
	page_init(&p, &g->aside, g->bench->procedure->part[g->part].title, NULL);
	page_add(&p, BLOCK_TEXT, "Runs of this, in the order they were begun.");
	show(g, &p);
	for (size_t i = 0; choice && i < n; i++)
		choice[i] = (struct choice){NULL, past_words(g, &past[i]),
			hash_is_equal(&past[i].run.content, &now) ? NULL : "before a change"};
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "Which one is to be shown?",
		.choice = choice,
		.nchoice = n};
	if (g->left != REPLY_GO)
		return false;
	enum bad code = choice ? surface_ask(g->desk->surface, &q, &r) : BAD_MEMORY;
	if (code)
		broken(g, code);
	else if (r.kind == REPLY_CHOICE)
		*out = r.choice;
	else
		g->left = r.kind;
	return !code && r.kind == REPLY_CHOICE;
}

/* Puts the run that is to be shown into g->run. */
static bool pick(struct again *g, const char *item, size_t which)
{
	struct ledger_past *past, *kept;
	size_t n = 0, k = 0, nkept = 0;
	const char *path = strand_own_path(g->desk->strand);
	const char *end = strrchr(path, '/');
	const char *folder = end ? arena_copy(&g->arena, path, (size_t)(end - path)) : ".";
	enum bad code =
		folder ? ledger_list(folder, g->desk->who, &g->arena, item, &past, &n) : BAD_MEMORY;
	kept = code ? NULL : arena_many(&g->arena, n + 1, struct ledger_past);
	if (code || !kept) {
		broken(g, code ? code : BAD_MEMORY);
		return false;
	}
	for (size_t i = 0; i < n; i++)
		if (past[i].run.n)
			kept[nkept++] = past[i];
	if (!nkept)
		no_run(g, "Nothing of this is recorded yet.");
	else if (which > nkept)
		no_run(g, nkept == 1
				  ? "There is only one of this."
				  : arena_format(&g->arena, "There are only %zu of this: 1 to %zu.",
					    nkept, nkept));
	else if (which || nkept == 1)
		k = which ? which - 1 : 0;
	else if (!choose(g, kept, nkept, &k))
		return false;
	g->run = kept[k].run;
	return g->left == REPLY_GO;
}

static void all(struct again *g)
{
	struct ledger_name name;
	struct hash hash = procedure_hash(g->bench->procedure);
	if (!hash_is_equal(&g->run.content, &hash) || ledger_item_read(g->run.item, &name) ||
		!ledger_start(g->bench, &name, g->run.key)) {
		no_run(g, "The procedure was changed since: the run cannot be shown again.");
		return;
	}
	for (size_t i = 0; i < g->run.n && g->left == REPLY_GO; i++)
		if (!one(g, i)) {
			no_run(g, "The record goes on with what could not be done.");
			return;
		}
	if (g->bench->end && g->left == REPLY_GO)
		end(g);
}

enum reply_kind bench_again(struct bench_desk *d, const struct procedure *p, size_t part,
	enum bench_mode mode, size_t fault, size_t which)
{
	struct again g = {.desk = d, .part = part, .left = REPLY_GO};
	char item[LEDGER_ITEM];
	ledger_item(p, part, mode, fault, item);
	enum bad code = bench_new(&g.arena, p, &g.bench);
	g.view = (struct bench_view){g.bench, arena_many(&g.arena, p->nlook + 1, struct bench_note),
		d->surface->decimal, d->by_lines};
	if (!code && !g.view.note)
		code = BAD_MEMORY;
	if (code)
		broken(&g, code);
	else if (!d->strand)
		no_run(&g, "Nothing of this is recorded yet.");
	else if (pick(&g, item, which))
		all(&g);
	arena_release(&g.aside);
	arena_release(&g.arena);
	return g.left;
}
