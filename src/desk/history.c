/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/history.h"

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/number.h>
#include <barwright/base/text.h>
#include <barwright/record/graded.h>
#include <barwright/record/lines.h>

enum history_kind { HISTORY_BENCH, HISTORY_SITTING, HISTORY_RATING, HISTORY_KINDS };

/* One run, sitting or rated piece. */
struct entry {
	enum history_kind kind;
	int64_t at_ms;     /* of its last line */
	const char *name;  /* item of a run, code of an assessment or rubric: what it is known by */
	const char *title; /* what is shown */
	const char *piece; /* of work, rated; else "" */
	uint64_t attempt;
	const char *state; /* a sentence part: "passed with 81 %" */
	uint64_t steps;    /* decisions of a run, criteria that were rated */
	bool is_over;
	struct entry *older;
};

struct history {
	struct arena *arena; /* owns all of it */
	char sign;
	struct entry *last;
	bool at_bench; /* lines belong to a run */
	bool out;
};

static struct entry *entry_new(
	struct history *h, enum history_kind kind, const char *name, const char *title)
{
	struct entry *e = arena_new(h->arena, struct entry);
	if (!e) {
		h->out = true;
		return NULL;
	}
	*e = (struct entry){.kind = kind, .name = name, .title = title, .piece = "", .state = ""};
	e->older = h->last;
	h->last = e;
	return e;
}

static struct entry *entry_find(const struct history *h, enum history_kind kind, const char *name,
	const char *piece, uint64_t attempt)
{
	struct entry *e = h->last;
	while (e && (e->kind != kind || e->attempt != attempt || strcmp(e->name, name) != 0 ||
			    strcmp(e->piece, piece) != 0))
		e = e->older;
	return e;
}

/* "81" of "81.250", in the learner's sign: "81,3" when it is no whole number. */
static const char *percent(struct history *h, const char *s)
{
	struct decimal d;
	struct text t;
	if (decimal_read(s, strlen(s), &d))
		return s;
	double value = decimal_value(d);
	text_init(&t);
	number_add_to(value, value == (double)(int64_t)value ? 0 : 1, h->sign, &t);
	const char *made = arena_copy(h->arena, t.at, t.len);
	h->out |= t.out || !made;
	text_release(&t);
	return made ? made : "";
}

/* ---- lines ----------------------------------------------------------------------------------- */

/* "fabricate-the-bar, free" of "hand-made-bar/fabricate-the-bar/free". */
static const char *run_title(struct history *h, const char *item)
{
	const char *part = strchr(item, '/');
	const char *mode = part ? strchr(part + 1, '/') : NULL;
	if (!mode)
		return item;
	const char *made = arena_format(h->arena, "%.*s, %.*s", (int)(mode - part - 1), part + 1,
		(int)strcspn(mode + 1, ":"), mode + 1);
	h->out |= !made;
	return made ? made : "";
}

static void take_run(struct history *h, const struct line_draw *x, int64_t at_ms)
{
	struct entry *e = entry_find(h, HISTORY_BENCH, x->item, "", x->attempt);
	if (!e)
		e = entry_new(h, HISTORY_BENCH, x->item, run_title(h, x->item));
	if (!e)
		return;
	e->attempt = x->attempt;
	e->at_ms = at_ms;
}

/* The decision that ends a run says how, and the score in per cent. */
static void take_decision(struct history *h, const struct line_answer *x, int64_t at_ms)
{
	struct entry *e = entry_find(h, HISTORY_BENCH, x->item, "", x->attempt);
	if (!e)
		return;
	e->steps = x->ask;
	e->at_ms = at_ms;
	if (strcmp(x->outcome, "done") == 0)
		return;
	e->is_over = true;
	e->state = arena_format(h->arena, "%s, %s %%", x->outcome, percent(h, x->expected));
	h->out |= !e->state;
}

static void take_form(struct history *h, const struct line_form *x, int64_t at_ms)
{
	struct entry *e = entry_find(h, HISTORY_SITTING, x->assessment, "", x->attempt);
	if (!e)
		e = entry_new(h, HISTORY_SITTING, x->assessment, x->title);
	if (!e)
		return;
	e->attempt = x->attempt;
	e->at_ms = at_ms;
}

static const char *verdict(struct history *h, const struct line_result *x)
{
	const char *word = strcmp(x->verdict, "passed") == 0       ? "passed"
			   : strcmp(x->verdict, "not-passed") == 0 ? "not passed"
								   : "open";
	const char *made = arena_format(h->arena, "%s, %s %% of %s %% needed", word,
		percent(h, x->percent), percent(h, x->needed));
	h->out |= !made;
	return made ? made : "";
}

static void take_result(struct history *h, const struct line_result *x, int64_t at_ms)
{
	bool rated = *x->by != 0;
	enum history_kind kind = rated ? HISTORY_RATING : HISTORY_SITTING;
	struct entry *e = entry_find(h, kind, x->of, x->piece, x->attempt);
	if (!e)
		e = entry_new(h, kind, x->of, x->title);
	if (!e)
		return;
	e->piece = x->piece;
	e->attempt = x->attempt;
	e->title = x->title;
	e->state = verdict(h, x);
	e->is_over = true;
	e->at_ms = at_ms;
	if (rated)
		e->state = arena_format(h->arena, "%s, rated by %s", e->state, x->by);
	h->out |= !e->state;
}

static void take_rating(struct history *h, const struct line_rating *x, int64_t at_ms)
{
	struct entry *e = entry_find(h, HISTORY_RATING, x->rubric, x->piece, 0);
	if (!e)
		e = entry_new(h, HISTORY_RATING, x->rubric, x->rubric);
	if (!e)
		return;
	e->piece = x->piece;
	e->steps++;
	e->at_ms = at_ms;
}

static enum bad line_take(void *history, const struct strand_line *l)
{
	struct history *h = history;
	union {
		struct line_open open;
		struct line_draw draw;
		struct line_answer answer;
		struct line_form form;
		struct line_result result;
		struct line_rating rating;
	} x;
	if (l->erased)
		return FINE;
	switch (line_kind(l->kind)) {
	case LINE_OPEN:
		if (!line_open_read(l, h->arena, &x.open))
			h->at_bench = strcmp(x.open.mode, "bench") == 0;
		break;
	case LINE_DRAW:
		if (h->at_bench && !line_draw_read(l, h->arena, &x.draw))
			take_run(h, &x.draw, l->at_ms);
		break;
	case LINE_ANSWER:
		if (h->at_bench && !line_answer_read(l, h->arena, &x.answer))
			take_decision(h, &x.answer, l->at_ms);
		break;
	case LINE_FORM:
		if (!line_form_read(l, h->arena, &x.form))
			take_form(h, &x.form, l->at_ms);
		break;
	case LINE_RESULT:
		/* how a run ended is told already, by its last decision */
		if (!h->at_bench && !line_result_read(l, h->arena, &x.result))
			take_result(h, &x.result, l->at_ms);
		break;
	case LINE_RATING:
		if (!line_rating_read(l, h->arena, &x.rating))
			take_rating(h, &x.rating, l->at_ms);
		break;
	default:
		break;
	}
	return h->out ? BAD_MEMORY : FINE;
}

/* ---- the page -------------------------------------------------------------------------------- */

static void add_entry(struct page *p, const struct entry *e)
{
	char day[TIME_TEXT];
	const char *label = e->title;
	time_write(e->at_ms, day);
	if (*e->piece)
		label = arena_format(p->arena, "%s, piece %s", e->title, e->piece);
	if (!label) {
		p->out = 1;
		return;
	}
	if (e->is_over)
		page_row(p, label, "%s; %.10s", e->state, day);
	else if (e->kind == HISTORY_SITTING)
		page_row(p, label, "begun and not handed in; %.10s", day);
	else
		page_row(p, label, "%llu %s so far, not finished; %.10s",
			(unsigned long long)e->steps,
			e->kind == HISTORY_BENCH ? e->steps == 1 ? "decision" : "decisions"
			: e->steps == 1          ? "criterion rated"
						 : "criteria rated",
			day);
}

static void add_kind(
	struct page *p, const struct history *h, enum history_kind kind, const char *heading)
{
	size_t n = 0;
	for (const struct entry *e = h->last; e; e = e->older) {
		if (e->kind != kind)
			continue;
		if (!n)
			page_add(p, BLOCK_HEADING, "%s", heading);
		if (n++ < HISTORY_SHOWN)
			add_entry(p, e);
	}
	if (n > HISTORY_SHOWN)
		page_add(p, BLOCK_TEXT, "and %zu earlier ones", n - HISTORY_SHOWN);
}

enum bad history_add(struct page *p, const struct strand *s, char sign)
{
	static const char *const heading[HISTORY_KINDS] = {
		"At the bench", "Assessments", "Work that was rated"};
	struct source *source;
	struct strand_sum sum;
	struct strand_check how = {.hashes_only = true};
	struct arena mem = {0};
	struct history h = {.arena = &mem, .sign = sign};
	enum bad code = strand_count(s) ? strand_load(strand_own_path(s), &mem, &source) : FINE;
	if (!code && strand_count(s))
		code = strand_read(source, &how, line_take, &h, &sum, NULL);
	for (int kind = 0; !code && kind < HISTORY_KINDS; kind++)
		add_kind(p, &h, (enum history_kind)kind, heading[kind]);
	arena_release(&mem);
	return code;
}
