/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/session.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>

#include "bench/score.h"
#include "bench/session_parts.h"
#include "bench/verdict.h"

/* ---- pages and questions --------------------------------------------------------------------- */

void session_broken(struct session *s, enum bad code)
{
	if (!s->desk->lost)
		s->desk->lost = code;
	s->left = REPLY_LOST;
}

struct page session_page(struct session *s)
{
	struct page p;
	const char *mode = bench_mode_word[s->bench->mode];
	arena_release(&s->aside);
	page_init(&p, &s->aside, s->part->title, mode);
	if (!s->desk->by_lines)
		p.note = arena_format(p.arena, "%s, %s", mode, view_time(p.arena, s->bench));
	return p;
}

static void page_out(struct session *s, const struct page *p,
	enum bad with(struct surface *, const struct page *))
{
	if (p->out)
		session_broken(s, BAD_MEMORY);
	if (!p->first)
		return;
	enum bad code = with(s->desk->surface, p);
	if (code)
		session_broken(s, code);
}

void session_show(struct session *s, const struct page *p)
{
	page_out(s, p, surface_show);
}

void session_tell(struct session *s, const struct page *p)
{
	page_out(s, p, surface_tell);
}

void session_tell_filled(struct session *s, session_fill *with)
{
	struct page p = session_page(s);
	with(&p, &s->view);
	session_tell(s, &p);
}

void session_say(struct session *s, enum block_kind kind, const char *text)
{
	if (!s->desk->by_lines) {
		snprintf(s->notice, sizeof s->notice, "%s", text);
		s->notice_kind = kind;
		s->is_stale = true;
		return;
	}
	struct page p = session_page(s);
	page_add(&p, kind, "%s", text);
	session_tell(s, &p);
}

bool session_ask(struct session *s, const struct question *q, struct reply *r)
{
	enum bad code = surface_ask(s->desk->surface, q, r);
	if (code)
		session_broken(s, code);
	else if (r->kind == REPLY_LEAVE || r->kind == REPLY_LOST)
		s->left = r->kind;
	return !code && (r->kind == REPLY_TEXT || r->kind == REPLY_CHOICE);
}

bool session_choose(
	struct session *s, const char *prompt, struct choice *choice, size_t n, size_t *out)
{
	size_t before = s->desk->by_lines ? 0 : 1;
	struct question q = {
		.kind = ASK_CHOICE, .prompt = prompt, .choice = choice, .nchoice = n + before};
	struct reply r;
	if (before) {
		memmove(choice + 1, choice, n * sizeof *choice);
		choice[0] = (struct choice){"not-now", "Not now", NULL};
	}
	if (!session_ask(s, &q, &r) || r.choice < before)
		return false;
	*out = r.choice - before;
	return true;
}

bool session_is_sure(struct session *s, const char *what, const char *yes, const char *no)
{
	const struct choice choice[] = {{"no", no, NULL}, {"yes", yes, NULL}};
	struct question q = {.kind = ASK_CHOICE, .prompt = what, .choice = choice, .nchoice = 2};
	struct reply r;
	return session_ask(s, &q, &r) && r.choice == 1;
}

/* ---- the record ------------------------------------------------------------------------------ */

static bool may_write(struct session *s)
{
	return s->desk->strand && !s->desk->lost;
}

static enum bad record_begin(struct session *s)
{
	const struct procedure *p = s->bench->procedure;
	const struct course *c = s->desk->course;
	struct line_open open = {.mode = "bench",
		.program = s->desk->program,
		.course = c->code,
		.content = course_hash(c),
		.sitting = s->sitting};
	struct line_draw draw = {
		.item = s->item, .content = procedure_hash(p), .attempt = s->attempt};
	memcpy(draw.key, s->bench->key, sizeof draw.key);
	if (!may_write(s))
		return FINE;
	enum bad code = line_open_append(s->desk->strand, &open);
	return code ? code : line_draw_append(s->desk->strand, &draw);
}

static void record_decision(struct session *s, const char *typed, const char *read_as)
{
	struct bench *b = s->bench;
	char expected[LEDGER_NUMBER];
	ledger_expected(b, s->desk->rubric, expected);
	struct line_answer line = {.item = s->item,
		.attempt = s->attempt,
		.ask = ++s->n,
		.turn = 1,
		.took_ms = (uint64_t)(clock_boot() - s->since_ms),
		.typed = typed,
		.read_as = read_as,
		.outcome = ledger_outcome(b),
		.slip = "",
		.expected = expected,
		.tolerance = "",
		.unit = b->end ? "%" : "min"};
	s->since_ms = clock_boot();
	enum bad code = may_write(s) ? line_answer_append(s->desk->strand, &line) : FINE;
	if (code)
		session_broken(s, code);
}

/* What the run is evidence for, before its sitting is closed. */
static void record_result(struct session *s)
{
	struct line_result line;
	if (!may_write(s) || !verdict_counts(s->bench))
		return;
	enum bad code =
		verdict_find(s->bench, s->desk->rubric, s->item, s->attempt, &s->arena, &line);
	if (!code)
		code = line_result_append(s->desk->strand, &line);
	if (code)
		session_broken(s, code);
}

static void record_end(struct session *s)
{
	const char *reason = s->bench->end ? "done" : s->left == REPLY_LOST ? "stopped" : "left";
	struct line_close close = {s->n, 0, reason};
	if (!s->desk->strand || !strand_is_writable(s->desk->strand))
		return;
	enum bad code = line_close_append(s->desk->strand, &close);
	if (code)
		session_broken(s, code);
}

/* ---- carrying out ---------------------------------------------------------------------------- */

static void note_take(struct session *s, const struct deed *d, const struct bench_reading *r)
{
	if (d->kind == DECIDE_LOOK)
		view_note(&s->view, d->what, r);
}

static const char *decision_title(const struct bench *b, const struct deed *d)
{
	const struct procedure *p = b->procedure;
	switch (d->kind) {
	case DECIDE_DO:
	case DECIDE_WHY:
		return p->step[d->what].title;
	case DECIDE_LOOK:
		return p->look[d->what].title;
	case DECIDE_MEND:
	case DECIDE_NAME:
		return p->fault[d->what].title;
	case DECIDE_REMAKE:
		return p->back[d->what].title;
	case DECIDE_ORDER:
		return p->stuff[d->what].title;
	default:
		return decision_words[d->kind].does;
	}
}

/* Through its own line and back, so that a replay of the record does exactly this. */
bool session_perform(struct session *s, struct deed *d)
{
	struct text line;
	struct bench_reading reading;
	char why[DECISION_WHY] = "";
	text_init(&line);
	decision_write(s->bench, d, &line);
	enum bad code = line.out ? BAD_MEMORY : decision_read(s->bench, line.at, line.len, d, why);
	if (code == BAD_MEMORY)
		session_broken(s, code);
	if (!code)
		code = decision_carry(s->bench, d, &reading);
	if (code && code != BAD_MEMORY)
		session_say(s, BLOCK_BAD, s->bench->why ? s->bench->why : why);
	if (!code) {
		note_take(s, d, &reading);
		record_decision(s, line.at, decision_title(s->bench, d));
		s->is_stale = true;
		/* what is not on the disk is not told as done */
		if (s->left == REPLY_GO && d->kind != DECIDE_WHY && !s->bench->end &&
			s->desk->by_lines)
			session_tell_filled(s, view_news);
	}
	text_release(&line);
	return !code;
}

/* ---- beginning and ending -------------------------------------------------------------------- */

/* Going back from here is neither: it leaves. */
static bool wants_to_resume(struct session *s, size_t decisions)
{
	static const struct choice choices[] = {{"on", "Go on where you left it", NULL},
		{"new", "Begin a new one; the old one stays in the record", NULL}};
	struct question q = {.kind = ASK_CHOICE,
		.prompt = arena_format(&s->arena,
			"A run of this is unfinished, after %zu decision%s.", decisions,
			decisions == 1 ? "" : "s"),
		.choice = choices,
		.nchoice = 2};
	struct page p;
	struct reply r;
	page_init(&p, &s->aside, s->part->title, NULL);
	page_add(&p, BLOCK_TEXT, "%s", s->part->about);
	if (!s->desk->by_lines)
		session_show(s, &p);
	if (session_ask(s, &q, &r))
		return r.choice == 0;
	if (s->left == REPLY_GO)
		s->left = REPLY_BACK;
	return false;
}

/* Carries the recorded decisions out again. */
static bool resume(struct session *s, const struct ledger_run *run, const struct ledger_name *name)
{
	char why[DECISION_WHY];
	if (!ledger_start(s->bench, name, run->key))
		return false;
	for (size_t i = 0; i < run->n; i++) {
		struct deed d;
		struct bench_reading reading;
		if (decision_read(s->bench, run->typed[i], strlen(run->typed[i]), &d, why) ||
			decision_carry(s->bench, &d, &reading))
			return false;
		note_take(s, &d, &reading);
	}
	s->n = run->n;
	s->attempt = run->attempt;
	snprintf(s->sitting, sizeof s->sitting, "%s", run->sitting);
	return true;
}

static void begin_new(struct session *s, const struct ledger_name *name, uint64_t attempt)
{
	struct stream stream;
	s->attempt = attempt;
	s->n = 0;
	snprintf(s->sitting, sizeof s->sitting, "%s", s->desk->sitting);
	stream_open(&stream, &(struct draw_key){s->desk->course->code, s->item, s->desk->who,
				     s->sitting, attempt});
	ledger_start(s->bench, name, stream.key);
}

/* A fault that shows at the step where it is made, or that no case here has, cannot be hidden. */
static void tell_nothing_hidden(struct session *s)
{
	struct page p = session_page(s);
	struct question q = {.kind = ASK_GO};
	struct reply r;
	page_add(&p, BLOCK_BAD,
		"This cannot be hidden: it shows at once, or no case of this part has it.");
	session_show(s, &p);
	if (s->left == REPLY_GO)
		session_ask(s, &q, &r);
	if (s->left == REPLY_GO)
		s->left = REPLY_BACK;
}

/* Begun, and left before anything was decided: it is the same case again, or a case could be had for
 * the asking. */
static bool is_untouched(const struct session *s, const struct ledger_run *run, bool same)
{
	return run->is_open && !run->n && same &&
	       (!s->desk->is_given || strcmp(run->sitting, s->desk->sitting) == 0);
}

static enum bad begin(struct session *s)
{
	struct ledger_run run = {0};
	struct ledger_name name;
	enum bad code =
		s->desk->strand ? ledger_find(s->desk->strand, &s->arena, s->item, &run) : FINE;
	if (code)
		return code;
	ledger_item_read(s->item, &name);
	struct hash hash = procedure_hash(s->bench->procedure);
	bool is_open = run.is_open && run.n, same = hash_is_equal(&run.content, &hash);
	if (is_open && !same)
		session_say(s, BLOCK_TEXT,
			"An unfinished run of this was begun before the procedure was changed. It "
			"stays in the record; a new one begins.");
	bool goes_on =
		is_untouched(s, &run, same) || (is_open && same && wants_to_resume(s, run.n));
	if (s->left != REPLY_GO)
		return FINE;
	if (!goes_on || !resume(s, &run, &name))
		begin_new(s, &name, run.attempt + 1);
	if (name.mode == BENCH_HUNT && s->bench->seeded == SIZE_MAX) {
		tell_nothing_hidden(s);
		return FINE;
	}
	return record_begin(s);
}

static void debrief(struct session *s)
{
	struct bench_score score;
	bench_score(s->bench, s->desk->rubric, &score);
	struct page p = session_page(s);
	p.note = "what became of it";
	view_debrief(&p, &s->view, &score, s->desk->course);
	session_show(s, &p);
	struct question q = {.kind = ASK_GO};
	struct reply r;
	if (s->left == REPLY_GO)
		session_ask(s, &q, &r);
}

static void work(struct session *s)
{
	struct page p = session_page(s);
	if (*s->notice)
		page_add(&p, s->notice_kind, "%s", s->notice);
	*s->notice = 0;
	view_bench(&p, &s->view);
	session_show(s, &p);
	while (s->left == REPLY_GO && !s->bench->end) {
		if (s->desk->by_lines)
			typed_turn(s);
		else
			menu_turn(s);
	}
	record_result(s);
	if (s->bench->end && s->desk->strand)
		s->desk->surface->kept = "The run has ended, and is recorded.";
	if (s->bench->end && s->left == REPLY_GO)
		debrief(s);
}

enum reply_kind bench_session(struct bench_desk *d, const struct procedure *p, size_t part,
	enum bench_mode mode, size_t fault)
{
	struct session s = {
		.desk = d, .part = &p->part[part], .left = REPLY_GO, .since_ms = clock_boot()};
	enum bad code = bench_new(&s.arena, p, &s.bench);
	s.view = (struct bench_view){s.bench, arena_many(&s.arena, p->nlook + 1, struct bench_note),
		d->surface->decimal, d->by_lines};
	ledger_item(p, part, mode, fault, s.item);
	if (!code && !s.view.note)
		code = BAD_MEMORY;
	if (!code)
		code = begin(&s);
	if (code)
		session_broken(&s, code);
	bool begun = !code && s.left == REPLY_GO;
	if (begun)
		work(&s);
	if (begun)
		record_end(&s);
	arena_release(&s.aside);
	arena_release(&s.arena);
	return s.left;
}
