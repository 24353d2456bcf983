/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bench on a screen: a short menu under the work, longer lists behind it. */
#include <stdio.h>
#include <string.h>

#include "bench/session_parts.h"

/* A line decides, or opens something else. */
struct line {
	struct deed deed;
	void (*opens)(struct session *);
};

struct menu {
	struct session *s;
	struct choice *choice; /* one more than lines, for session_choose */
	struct line *line;
	size_t n;
};

/* No list of a procedure is longer than all of them together. */
static struct menu *menu_new(struct session *s)
{
	const struct procedure *p = s->bench->procedure;
	size_t room = p->nstep + p->nlook + p->nfault + p->nback + p->nstuff + 16;
	struct menu *m = arena_new(&s->aside, struct menu);
	if (m)
		*m = (struct menu){s, arena_many(&s->aside, room, struct choice),
			arena_many(&s->aside, room, struct line), 0};
	if (m && m->choice && m->line)
		return m;
	session_broken(s, BAD_MEMORY);
	return NULL;
}

static void menu_add(struct menu *m, const char *word, const char *title, const char *note,
	enum decision_kind kind, size_t what)
{
	m->choice[m->n] = (struct choice){word, title, note};
	m->line[m->n++].deed =
		(struct deed){.kind = kind, .what = what, .other = SIZE_MAX, .check = SIZE_MAX};
}

static void menu_open(
	struct menu *m, const char *word, const char *title, void (*opens)(struct session *))
{
	m->choice[m->n] = (struct choice){word, title, NULL};
	m->line[m->n++].opens = opens;
}

static void menu_take(struct menu *m, size_t k)
{
	struct session *s = m->s;
	struct line line = m->line[k]; /* the menu goes with its page */
	if (line.opens)
		line.opens(s);
	else
		asks_decide(s, &line.deed);
}

/* ---- lists ----------------------------------------------------------------------------------- */

static void list_steps(struct menu *m, struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t i = b->from; i <= b->to; i++)
		if (bench_can_do(b, i))
			menu_add(m, p->step[i].word, p->step[i].title,
				b->step[i].state == STEP_DONE && b->mode != BENCH_HUNT
					? "again"
					: p->step[i].code,
				DECIDE_DO, i);
}

static void list_looks(struct menu *m, struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t i = p->nlook; i-- > 0;) /* what has become possible last comes first */
		if (bench_can_look(b, i))
			menu_add(m, p->look[i].code, p->look[i].title,
				p->look[i].ntool == 1 ? p->tool[p->look[i].tool[0]].title : NULL,
				DECIDE_LOOK, i);
}

static void list_mends(struct menu *m, struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nfault; k++)
		if (bench_can_mend(b, k))
			menu_add(m, p->fault[k].code, view_seen(b, k),
				b->mode == BENCH_GUIDED ? p->fault[k].remedy.text : NULL,
				DECIDE_MEND, k);
}

static void list_backs(struct menu *m, struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; i < p->nback; i++)
		if (bench_can_back(b, i))
			menu_add(m, p->back[i].code, p->back[i].title, p->step[p->back[i].to].code,
				DECIDE_REMAKE, i);
}

static void list_stuffs(struct menu *m, struct bench *b)
{
	const struct bench_view *v = &m->s->view;
	for (size_t i = 0; i < b->procedure->nstuff; i++) {
		const struct stuff *x = &b->procedure->stuff[i];
		menu_add(m, x->code, x->title, view_stuff(&m->s->aside, v, i), DECIDE_ORDER, i);
	}
}

static void list_names(struct menu *m, struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nfault; k++)
		if (view_may_name(b, k))
			menu_add(m, p->fault[k].code, p->fault[k].title, p->fault[k].code,
				DECIDE_NAME, k);
}

static void choose_from(struct session *s, void list(struct menu *, struct bench *),
	const char *prompt, const char *none)
{
	struct menu *m = menu_new(s);
	size_t k;
	if (!m)
		return;
	list(m, s->bench);
	if (!m->n)
		session_say(s, BLOCK_TEXT, none);
	else if (session_choose(s, prompt, m->choice, m->n, &k))
		menu_take(m, k);
}

static void choose_step(struct session *s)
{
	choose_from(s, list_steps, "Which step?", "No step can be done as the work now is.");
}

static void choose_look(struct session *s)
{
	choose_from(s, list_looks, "Look at what, or measure what?",
		"There is nothing to look at yet.");
}

static void choose_mend(struct session *s)
{
	choose_from(s, list_mends, "Put right what?",
		"Nothing has been seen that could be put right on the spot.");
}

static void choose_back(struct session *s)
{
	choose_from(s, list_backs, "Go back how far? Each way costs time and material.",
		"There is nothing yet to go back from.");
}

static void choose_stuff(struct session *s)
{
	choose_from(s, list_stuffs, "Order what?", "Nothing can be ordered here.");
}

static void choose_name(struct session *s)
{
	choose_from(s, list_names, "Which fault is it?", "There is no fault to name here.");
}

/* ---- pages to read --------------------------------------------------------------------------- */

/* The prescription, what was measured, the steps: a page by itself. */
static void read_known(struct session *s)
{
	struct page p = session_page(s);
	struct question q = {.kind = ASK_GO};
	struct reply r;
	view_known(&p, &s->view);
	view_steps(&p, &s->view);
	session_show(s, &p);
	s->is_stale = true;
	if (s->left == REPLY_GO)
		session_ask(s, &q, &r);
}

static void wait_typed(struct session *s)
{
	struct question q = {
		.kind = ASK_LINE, .prompt = "How long do you let go by?", .unit = "min"};
	struct reply r;
	struct deed d;
	char why[DECISION_WHY], line[REPLY_ROOM + 8];
	if (!session_ask(s, &q, &r))
		return;
	snprintf(line, sizeof line, "wait %s", r.text);
	if (decision_read(s->bench, line, strlen(line), &d, why))
		session_say(s, BLOCK_BAD, why);
	else
		asks_decide(s, &d);
}

/* ---- the menu under the work ----------------------------------------------------------------- */

static void choose(struct session *s, struct menu *m, const char *prompt)
{
	size_t k;
	if (session_choose(s, prompt, m->choice, m->n, &k))
		menu_take(m, k);
}

static void choose_other(struct session *s)
{
	struct menu *m = menu_new(s);
	if (!m)
		return;
	menu_open(m, "step", "A step out of the order, or once more", choose_step);
	if (s->bench->mode != BENCH_HUNT)
		menu_open(m, "mend", "Put right what has been seen", choose_mend);
	menu_open(m, "remake", "Go back and make some of it again", choose_back);
	menu_open(m, "order", "Order material", choose_stuff);
	menu_open(m, "wait", "Let time go by", wait_typed);
	choose(s, m, "What else?");
}

static void choose_end(struct session *s)
{
	struct menu *m = menu_new(s);
	if (!m)
		return;
	if (s->bench->mode != BENCH_HUNT)
		menu_add(m, "release", "Hand the work over: it is finished", NULL, DECIDE_RELEASE,
			0);
	menu_add(m, "refer", "Refer the case back: it cannot be made as prescribed", NULL,
		DECIDE_REFER, SIZE_MAX);
	menu_add(m, "scrap", "Give the work up", NULL, DECIDE_SCRAP, 0);
	choose(s, m, "End it how?");
}

static bool can_mend_any(const struct bench *b)
{
	for (size_t k = 0; k < b->procedure->nfault; k++)
		if (bench_can_mend(b, k))
			return true;
	return false;
}

static void main_menu(struct menu *m)
{
	const struct bench *b = m->s->bench;
	bool is_hunt = b->mode == BENCH_HUNT;
	for (size_t i = 0; i < b->procedure->nstep && !is_hunt; i++)
		if (bench_is_next(b, i))
			menu_add(m, b->procedure->step[i].word, b->procedure->step[i].title,
				b->procedure->step[i].code, DECIDE_DO, i);
	menu_open(m, "look", "Look at the work, or measure it", choose_look);
	menu_open(m, "known", "What is known, and what is done", read_known);
	if (can_mend_any(b))
		menu_open(m, "mend", "Put right what has been seen", choose_mend);
	if (is_hunt)
		menu_open(m, "name", "Name the fault", choose_name);
	menu_open(m, "other", "Something else", choose_other);
	menu_open(m, "end", is_hunt ? "Give up" : "End the work here", choose_end);
}

/* What came of the last decision on top, then the work, then what is known of it. */
static void screen_show(struct session *s)
{
	struct page p = session_page(s);
	if (*s->notice)
		page_add(&p, s->notice_kind, "%s", s->notice);
	else
		view_news(&p, &s->view);
	picture_work(&p, &s->view);
	view_measured_before(&p, &s->view);
	session_show(s, &p);
	*s->notice = 0;
	s->is_stale = false;
}

static bool leaves(struct session *s)
{
	return session_is_sure(s,
		s->desk->strand
			? "Leave the bench? The work stays as it is, and goes on when you are back."
			: "Leave the bench? Nothing of it is kept.",
		"Leave", "Stay");
}

void menu_turn(struct session *s)
{
	struct reply r;
	if (s->is_stale)
		screen_show(s);
	struct menu *m = menu_new(s);
	if (!m || s->left != REPLY_GO)
		return;
	main_menu(m);
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "What do you do?",
		.choice = m->choice,
		.nchoice = m->n};
	if (session_ask(s, &q, &r))
		menu_take(m, r.choice);
	else if (s->left == REPLY_GO && leaves(s))
		s->left = REPLY_BACK;
}
