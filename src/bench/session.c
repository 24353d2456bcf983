/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/session.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>

#include "bench/decide.h"
#include "bench/ledger.h"
#include "bench/score.h"
#include "bench/view.h"

/* Words that only tell something. */
#define TELLS(X) \
	X(NEXT, "next", "what comes next in the order of the work") \
	X(STEPS, "steps", "all steps of this part, and what is done") \
	X(KNOWN, "known", "the prescription, and what was measured so far") \
	X(WORK, "work", "the work on the bench") \
	X(HELP, "help", "these words")

enum tell {
#define X(name, word, does) TELL_##name,
	TELLS(X)
#undef X
		TELL_COUNT
};
static const struct {
	const char *word, *does;
} tells[TELL_COUNT] = {
#define X(name, word, does) {word, does},
	TELLS(X)
#undef X
};

struct session {
	struct bench_desk *desk;
	struct bench *bench;
	struct bench_view view;
	struct arena arena; /* the run */
	struct arena aside; /* one page */
	char item[LEDGER_ITEM], sitting[LEDGER_SITTING];
	uint64_t attempt, n; /* decisions recorded */
	int64_t since_ms;
	bool has_news;        /* something was done since the screen was drawn */
	enum reply_kind left; /* REPLY_GO: still here */
};

/* ---- pages and questions --------------------------------------------------------------------- */

static void broken(struct session *s, enum bad code)
{
	if (!s->desk->lost)
		s->desk->lost = code;
	s->left = REPLY_LOST;
}

static struct page page_begin(struct session *s)
{
	struct page p;
	arena_release(&s->aside);
	page_init(&p, &s->aside, s->bench->procedure->part[s->bench->part].title, NULL);
	return p;
}

static void page_end(struct session *s, const struct page *p, bool is_new)
{
	if (p->out)
		broken(s, BAD_MEMORY);
	if (!p->first)
		return;
	enum bad code = (is_new ? surface_show : surface_tell)(s->desk->surface, p);
	if (code)
		broken(s, code);
}

typedef void fill(struct page *, const struct bench_view *);

static void tell_filled(struct session *s, fill *with)
{
	struct page p = page_begin(s);
	with(&p, &s->view);
	page_end(s, &p, false);
}

static void tell_text(struct session *s, enum block_kind kind, const char *text)
{
	struct page p = page_begin(s);
	page_add(&p, kind, "%s", text);
	page_end(s, &p, false);
}

/* False when there is no answer: the person goes back, leaves, or is gone. */
static bool ask(struct session *s, const struct question *q, struct reply *r)
{
	enum bad code = surface_ask(s->desk->surface, q, r);
	if (code)
		broken(s, code);
	else if (r->kind == REPLY_LEAVE || r->kind == REPLY_LOST)
		s->left = r->kind;
	return !code && (r->kind == REPLY_TEXT || r->kind == REPLY_CHOICE);
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
		broken(s, code);
}

static void record_end(struct session *s)
{
	const char *reason = s->bench->end ? "done" : s->left == REPLY_LOST ? "stopped" : "left";
	struct line_close close = {s->n, 0, reason};
	if (!s->desk->strand || !strand_is_writable(s->desk->strand))
		return;
	enum bad code = line_close_append(s->desk->strand, &close);
	if (code)
		broken(s, code);
}

/* ---- carrying out ---------------------------------------------------------------------------- */

static void note_take(struct session *s, const struct deed *d, const struct bench_reading *r)
{
	if (d->kind != DECIDE_LOOK)
		return;
	s->view.note[d->what] = (struct bench_note){true, *r, bench_clock_s(s->bench)};
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
static bool perform(struct session *s, struct deed *d)
{
	struct text line;
	struct bench_reading reading;
	char why[DECISION_WHY] = "";
	text_init(&line);
	decision_write(s->bench, d, &line);
	enum bad code = line.out ? BAD_MEMORY : decision_read(s->bench, line.at, line.len, d, why);
	if (code == BAD_MEMORY)
		broken(s, code);
	if (!code)
		code = decision_carry(s->bench, d, &reading);
	if (code && code != BAD_MEMORY)
		tell_text(s, BLOCK_BAD, s->bench->why ? s->bench->why : why);
	if (!code) {
		note_take(s, d, &reading);
		record_decision(s, line.at, decision_title(s->bench, d));
		s->has_news = d->kind != DECIDE_WHY;
		if (s->has_news && !s->bench->end && s->desk->by_lines)
			tell_filled(s, view_news);
	}
	text_release(&line);
	return !code;
}

/* ---- a step ---------------------------------------------------------------------------------- */

enum { REASONS = 4 };

/* The purpose of the step and those of others, in no order; how many. */
static size_t reasons_draw(struct session *s, size_t step, size_t reason[static REASONS])
{
	const struct procedure *p = s->bench->procedure;
	struct stream stream;
	uint32_t place[REASONS] = {0, 1, 2, 3};
	size_t got[REASONS] = {step}, n = 1, most = p->nstep < REASONS ? p->nstep : REASONS;
	bench_stream(s->bench, PURPOSE_REASON, (uint32_t)step, (uint32_t)s->n, &stream);
	while (n < most) {
		size_t k = stream_below(&stream, (uint32_t)p->nstep);
		bool is_new = true;
		for (size_t i = 0; i < n; i++)
			is_new &= got[i] != k;
		if (is_new)
			got[n++] = k;
	}
	stream_shuffle(&stream, place, n);
	for (size_t i = 0; i < n; i++)
		reason[i] = got[place[i]];
	return n;
}

static bool ask_reason(struct session *s, size_t step)
{
	const struct procedure *p = s->bench->procedure;
	size_t reason[REASONS];
	struct choice choice[REASONS];
	struct reply r;
	size_t n = reasons_draw(s, step, reason);
	for (size_t i = 0; i < n; i++)
		choice[i] = (struct choice){NULL, p->step[reason[i]].why, NULL};
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "Why is this done?", .choice = choice, .nchoice = n};
	if (!ask(s, &q, &r))
		return false;
	struct deed d = {.kind = DECIDE_WHY, .what = step, .other = reason[r.choice]};
	if (!perform(s, &d))
		return false;
	bool right = reason[r.choice] == step;
	struct page page = page_begin(s);
	page_add(&page, right ? BLOCK_GOOD : BLOCK_BAD, "%s%s.",
		right ? "That is why. " : "No. It is done for this: ", p->step[step].why);
	page_end(s, &page, false);
	return !s->left || s->left == REPLY_GO;
}

static const char *ask_prompt(struct session *s, const struct hand_ask *x)
{
	const char *made = x->text;
	if (x->each == EACH_SITE || x->each == EACH_PLACE)
		made = arena_format(&s->aside,
			"%s: %zu values from the patient's right to left, or "
			"one for all",
			x->text, each_count(x->each, s->bench->nsite));
	else if (x->each == EACH_END)
		made = arena_format(&s->aside, "%s: right, then left, or one for both", x->text);
	return made ? made : x->text;
}

static bool ask_number(struct session *s, const struct hand_ask *x, double *out)
{
	char why[DECISION_WHY], last[REPLY_ROOM];
	struct question q = {
		.kind = ASK_LINE, .prompt = ask_prompt(s, x), .unit = x->shown.unit_text};
	struct reply r;
	for (;;) {
		if (!ask(s, &q, &r))
			return false;
		if (!decision_values(s->bench, x, r.text, strlen(r.text), out, why))
			return true;
		memcpy(last, r.text, sizeof last);
		q.kept = last;
		q.fault = why;
	}
}

static bool ask_listed(struct session *s, const struct hand_ask *x, double *out)
{
	static const struct choice yes_no[] = {{"yes", "Yes", NULL}, {"no", "No", NULL}};
	struct choice choice[16];
	struct reply r;
	size_t n = x->nchoice < 16 ? x->nchoice : 16;
	for (size_t i = 0; i < n; i++)
		choice[i] = (struct choice){x->choice[i].word, x->choice[i].title, NULL};
	/* a word that is a number would be taken for a place in the list */
	for (size_t i = 0; i < n; i++)
		if (*choice[i].word >= '0' && *choice[i].word <= '9')
			choice[i].word = NULL;
	struct question q = {.kind = ASK_CHOICE,
		.prompt = x->text,
		.choice = x->kind == HAND_TRUTH ? yes_no : choice,
		.nchoice = x->kind == HAND_TRUTH ? 2 : n};
	if (!ask(s, &q, &r))
		return false;
	double value = x->kind == HAND_TRUTH ? r.choice == 0 : x->choice[r.choice].value;
	for (size_t i = 0; i < each_count(x->each, s->bench->nsite); i++)
		out[i] = value;
	return true;
}

static void do_step(struct session *s, struct deed *d)
{
	const struct work_step *step = &s->bench->procedure->step[d->what];
	if (!bench_can_do(s->bench, d->what)) {
		tell_text(s, BLOCK_BAD, s->bench->why);
		return;
	}
	struct page p = page_begin(s);
	view_step(&p, &s->view, d->what);
	page_end(s, &p, false);
	if (s->bench->mode == BENCH_GUIDED && !ask_reason(s, d->what))
		return;
	for (size_t i = 0; i < step->nask && !d->has_input; i++) {
		const struct hand_ask *x = &step->ask[i];
		bool got = x->kind == HAND_NUMBER ? ask_number(s, x, d->input.value[i])
						  : ask_listed(s, x, d->input.value[i]);
		if (!got) {
			if (s->left == REPLY_GO)
				tell_text(s, BLOCK_TEXT, "Then not now: nothing was done.");
			return;
		}
	}
	d->has_input = true;
	perform(s, d);
}

static bool is_sure(struct session *s, const char *what)
{
	static const struct choice yes_no[] = {
		{"no", "No, go on with the work", NULL}, {"yes", "Yes", NULL}};
	struct question q = {.kind = ASK_CHOICE, .prompt = what, .choice = yes_no, .nchoice = 2};
	struct reply r;
	return ask(s, &q, &r) && r.choice == 1;
}

static void decide(struct session *s, struct deed *d)
{
	static const char *const sure[DECISION_KINDS] = {
		[DECIDE_RELEASE] = "Hand the work over? What is not done then stays undone.",
		[DECIDE_REFER] = "Refer the case back to the prescriber?",
		[DECIDE_SCRAP] = "Give the work up?",
	};
	if (d->kind == DECIDE_DO)
		do_step(s, d);
	else if (!sure[d->kind] || is_sure(s, sure[d->kind]))
		perform(s, d);
}

/* ---- by lines -------------------------------------------------------------------------------- */

static void tell_help(struct page *p, const struct bench_view *v)
{
	page_add(p, BLOCK_HEADING, "What can be typed");
	for (int i = 0; i < DECISION_KINDS; i++)
		if (decision_words[i].does && (i != DECIDE_NAME || v->bench->mode == BENCH_HUNT))
			page_add(p, BLOCK_ITEM, "%s%s%s: %s", decision_words[i].word,
				*decision_words[i].takes ? " " : "", decision_words[i].takes,
				decision_words[i].does);
	for (int i = 0; i < TELL_COUNT; i++)
		page_add(p, BLOCK_ITEM, "%s: %s", tells[i].word, tells[i].does);
}

static void tell_names(struct page *p, const struct bench_view *v)
{
	const struct procedure *pr = v->bench->procedure;
	page_add(p, BLOCK_HEADING, "Faults of this part");
	for (size_t k = 0; k < pr->nfault; k++)
		if (pr->fault[k].made >= v->bench->from && pr->fault[k].made <= v->bench->to)
			page_add(p, BLOCK_ITEM, "%s %s", pr->fault[k].code, pr->fault[k].title);
}

static void tell_work(struct page *p, const struct bench_view *v)
{
	view_bench(p, v);
}

static bool is_typed(const char *typed, const char *word)
{
	size_t i = 0;
	for (; typed[i] && word[i]; i++)
		if ((typed[i] | 0x20) != word[i])
			return false;
	return !typed[i] && !word[i];
}

/* Words that tell, and words of decisions alone, which list what they take. */
static fill *telling(const char *typed)
{
	static fill *const told[TELL_COUNT] = {[TELL_NEXT] = view_next,
		[TELL_STEPS] = view_steps,
		[TELL_KNOWN] = view_known,
		[TELL_WORK] = tell_work,
		[TELL_HELP] = tell_help};
	static fill *const listed[DECISION_KINDS] = {[DECIDE_LOOK] = view_looks,
		[DECIDE_MEND] = view_mends,
		[DECIDE_REMAKE] = view_backs,
		[DECIDE_ORDER] = view_stuffs,
		[DECIDE_DO] = view_next,
		[DECIDE_NAME] = tell_names};
	for (int i = 0; i < TELL_COUNT; i++)
		if (is_typed(typed, tells[i].word))
			return told[i];
	for (int i = 0; i < DECISION_KINDS; i++)
		if (listed[i] && is_typed(typed, decision_words[i].word))
			return listed[i];
	return is_typed(typed, "measure") ? view_looks : NULL;
}

static void turn_typed(struct session *s)
{
	static const char words[] =
		"the word of a step, look, known, steps, mend, remake, order, wait, release, help";
	struct question q = {
		.kind = ASK_LINE, .prompt = "What do you do?", .unit = "", .words = words};
	struct reply r;
	struct deed d;
	char why[DECISION_WHY];
	if (!ask(s, &q, &r)) {
		if (s->left == REPLY_GO)
			s->left = REPLY_BACK;
		return;
	}
	fill *told = telling(r.text);
	if (told)
		tell_filled(s, told);
	else if (decision_read(s->bench, r.text, strlen(r.text), &d, why))
		tell_text(s, BLOCK_BAD, why);
	else
		decide(s, &d);
}

/* ---- by choosing ----------------------------------------------------------------------------- */

enum { MENU_MOST = 160 };
struct menu {
	struct session *s;
	struct choice choice[MENU_MOST];
	struct deed decision[MENU_MOST];
	fill *told[MENU_MOST];
	size_t n;
};

static void menu_add(struct menu *m, const char *word, const char *title, const char *note,
	enum decision_kind kind, size_t what, fill *told)
{
	if (m->n == MENU_MOST)
		return;
	m->choice[m->n] = (struct choice){word, title, note};
	m->decision[m->n] = (struct deed){.kind = kind, .what = what, .other = SIZE_MAX};
	m->told[m->n++] = told;
}

static void menu_next(struct menu *m)
{
	const struct bench *b = m->s->bench;
	for (size_t i = 0; i < b->procedure->nstep; i++)
		if (bench_is_next(b, i) && b->mode != BENCH_HUNT)
			menu_add(m, b->procedure->step[i].word, b->procedure->step[i].title,
				b->procedure->step[i].code, DECIDE_DO, i, NULL);
}

static void menu_list(struct menu *m, enum decision_kind kind)
{
	struct bench *b = m->s->bench;
	const struct procedure *p = b->procedure;
	if (kind == DECIDE_DO)
		for (size_t i = b->from; i <= b->to; i++)
			if (bench_can_do(b, i))
				menu_add(m, p->step[i].word, p->step[i].title,
					b->step[i].state == STEP_DONE ? "again" : NULL, kind, i,
					NULL);
	for (size_t i = 0; kind == DECIDE_LOOK && i < p->nlook; i++)
		if (bench_can_look(b, i))
			menu_add(m, p->look[i].code, p->look[i].title,
				p->tool[p->look[i].tool[0]].title, kind, i, NULL);
	for (size_t k = 0; kind == DECIDE_MEND && k < p->nfault; k++)
		if (bench_can_mend(b, k))
			menu_add(m, p->fault[k].code, p->fault[k].title, p->fault[k].remedy.text,
				kind, k, NULL);
	for (size_t i = 0; kind == DECIDE_REMAKE && i < p->nback; i++)
		if (bench_can_back(b, i))
			menu_add(m, p->back[i].code, p->back[i].title, NULL, kind, i, NULL);
	for (size_t i = 0; kind == DECIDE_ORDER && i < p->nstuff; i++)
		menu_add(m, p->stuff[i].code, p->stuff[i].title, NULL, kind, i, NULL);
	for (size_t k = 0; kind == DECIDE_NAME && k < p->nfault; k++)
		if (p->fault[k].made >= b->from && p->fault[k].made <= b->to)
			menu_add(m, p->fault[k].code, p->fault[k].title, NULL, kind, k, NULL);
}

/* Shows a menu; false when nothing was chosen. */
static bool menu_choose(struct menu *m, const char *prompt, size_t *out)
{
	struct question q = {
		.kind = ASK_CHOICE, .prompt = prompt, .choice = m->choice, .nchoice = m->n};
	struct reply r;
	if (!m->n) {
		tell_text(m->s, BLOCK_TEXT, "There is nothing of that now.");
		return false;
	}
	if (!ask(m->s, &q, &r))
		return false;
	*out = r.choice;
	return true;
}

static void choose_one(struct session *s, enum decision_kind kind, const char *prompt)
{
	struct menu *m = arena_new(&s->arena, struct menu);
	size_t k;
	if (!m) {
		broken(s, BAD_MEMORY);
		return;
	}
	m->s = s;
	menu_list(m, kind);
	if (menu_choose(m, prompt, &k))
		decide(s, &m->decision[k]);
}

static void wait_typed(struct session *s)
{
	struct question q = {
		.kind = ASK_LINE, .prompt = "How long do you let go by?", .unit = "min"};
	struct reply r;
	struct deed d;
	char why[DECISION_WHY], line[REPLY_ROOM + 8];
	if (!ask(s, &q, &r))
		return;
	snprintf(line, sizeof line, "wait %s", r.text);
	if (decision_read(s->bench, line, strlen(line), &d, why))
		tell_text(s, BLOCK_BAD, why);
	else
		decide(s, &d);
}

static void main_menu(struct menu *m)
{
	const struct bench *b = m->s->bench;
	menu_next(m);
	menu_add(m, "look", "Look at the work, or measure it", NULL, DECIDE_LOOK, SIZE_MAX, NULL);
	menu_add(m, "known", "What is known", NULL, DECIDE_LOOK, 0, view_known);
	menu_add(m, "steps", "All steps, and what is done", NULL, DECIDE_LOOK, 0, view_steps);
	menu_add(m, "other", "Another step", NULL, DECIDE_DO, SIZE_MAX, NULL);
	menu_add(m, "mend", "Put right what has shown", NULL, DECIDE_MEND, SIZE_MAX, NULL);
	menu_add(m, "remake", "Go back and make some of it again", NULL, DECIDE_REMAKE, SIZE_MAX,
		NULL);
	menu_add(m, "order", "Order material", NULL, DECIDE_ORDER, SIZE_MAX, NULL);
	menu_add(m, "wait", "Let time go by", NULL, DECIDE_WAIT, SIZE_MAX, NULL);
	if (b->mode == BENCH_HUNT)
		menu_add(m, "name", "Name the fault", NULL, DECIDE_NAME, SIZE_MAX, NULL);
	else
		menu_add(m, "release", "Hand the work over", NULL, DECIDE_RELEASE, 0, NULL);
	menu_add(m, "refer", "Refer the case back", NULL, DECIDE_REFER, 0, NULL);
	menu_add(m, "scrap", "Give the work up", NULL, DECIDE_SCRAP, 0, NULL);
}

/* The screen again, with what came of the last decision on top. */
static void screen_show(struct session *s)
{
	struct page p = page_begin(s);
	p.note = bench_mode_word[s->bench->mode];
	view_news(&p, &s->view);
	picture_work(&p, &s->view);
	view_measured(&p, &s->view);
	view_next(&p, &s->view);
	page_end(s, &p, true);
	s->has_news = false;
}

static void turn_chosen(struct session *s)
{
	if (s->has_news)
		screen_show(s);
	struct menu *m = arena_new(&s->aside, struct menu);
	size_t k;
	if (!m) {
		broken(s, BAD_MEMORY);
		return;
	}
	m->s = s;
	main_menu(m);
	if (!menu_choose(m, "What do you do?", &k)) {
		if (s->left == REPLY_GO)
			s->left = REPLY_BACK;
		return;
	}
	struct deed d = m->decision[k];
	if (m->told[k])
		tell_filled(s, m->told[k]);
	else if (d.kind == DECIDE_WAIT)
		wait_typed(s);
	else if (d.what == SIZE_MAX)
		choose_one(s, d.kind, m->choice[k].title);
	else
		decide(s, &d);
}

/* ---- beginning and ending -------------------------------------------------------------------- */

static bool wants_to_resume(struct session *s)
{
	static const struct choice choices[] = {{"on", "Go on where you left it", NULL},
		{"new", "Begin a new one; the old one stays in the record", NULL}};
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "A run of this is unfinished.",
		.choice = choices,
		.nchoice = 2};
	struct reply r;
	return ask(s, &q, &r) && r.choice == 0;
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
	bool same = run.is_open && run.n && hash_is_equal(&run.content, &hash);
	if (!same || !wants_to_resume(s) || !resume(s, &run, &name))
		begin_new(s, &name, run.attempt + 1);
	if (s->left != REPLY_GO)
		return FINE;
	return record_begin(s);
}

static void debrief(struct session *s)
{
	struct bench_score score;
	bench_score(s->bench, s->desk->rubric, &score);
	struct page p = page_begin(s);
	p.note = "what became of it";
	view_debrief(&p, &s->view, &score, s->desk->course);
	page_end(s, &p, true);
	struct question q = {.kind = ASK_GO};
	struct reply r;
	if (s->left == REPLY_GO)
		ask(s, &q, &r);
}

static void work(struct session *s)
{
	struct page p = page_begin(s);
	p.note = bench_mode_word[s->bench->mode];
	view_bench(&p, &s->view);
	page_end(s, &p, true);
	while (s->left == REPLY_GO && !s->bench->end) {
		if (s->desk->by_lines)
			turn_typed(s);
		else
			turn_chosen(s);
	}
	if (s->bench->end && s->left == REPLY_GO)
		debrief(s);
}

enum reply_kind bench_session(struct bench_desk *d, const struct procedure *p, size_t part,
	enum bench_mode mode, size_t fault)
{
	struct session s = {.desk = d, .left = REPLY_GO, .since_ms = clock_boot()};
	enum bad code = bench_new(&s.arena, p, &s.bench);
	s.view = (struct bench_view){s.bench, arena_many(&s.arena, p->nlook + 1, struct bench_note),
		d->surface->decimal};
	ledger_item(p, part, mode, fault, s.item);
	if (!code && !s.view.note)
		code = BAD_MEMORY;
	if (!code)
		code = begin(&s);
	if (code)
		broken(&s, code);
	bool begun = !code && s.left == REPLY_GO;
	if (begun)
		work(&s);
	if (begun)
		record_end(&s);
	arena_release(&s.aside);
	arena_release(&s.arena);
	return s.left;
}
