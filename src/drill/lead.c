/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Being led: a worked example first, then steps to fill in. */
#include "desk/lead.h"

#include <string.h>

#include <barwright/base/clock.h>

#include "desk/present.h"
#include "drill/task.h"

/* ---- a worked example ------------------------------------------------------------------------ */

static enum how show_example(struct task *t)
{
	struct surface *s = t->desk->surface;
	const struct problem *p = t->instance->problem;
	struct page page;
	const char *note = arena_format(&t->arena, "%s, a worked example", p->competency);
	task_begin(t, &page, p->title, note);
	present_problem(&page, t->instance, s->columns, s->decimal);
	for (size_t k = 0; k < p->nask; k++) {
		present_ask(&page, t->instance, k, s->decimal);
		present_solution(&page, t->instance, k, s->decimal);
	}
	present_source(&page, p);
	return task_show(t, &page);
}

enum how example_run(struct task *t, const struct problem *p)
{
	static const struct choice choices[] = {
		{"led", "Work one yourself, with the first steps given",
			"with each right answer less is given"},
		{"alone", "Work one alone", NULL},
	};
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "Go on?", .choice = choices, .nchoice = 2};
	struct reply r;
	enum how how = task_example_draw(t, p);
	if (how || t->is_unfair)
		return how;
	how = show_example(t);
	if (!how)
		how = task_ask(t, &q, &r);
	if (!how)
		t->alone = r.kind == REPLY_CHOICE && r.choice == 1;
	return how;
}

/* ---- steps to fill in ------------------------------------------------------------------------ */

size_t led_now(const struct task *t, size_t ask)
{
	const struct progress_item *item = progress_of(&t->desk->progress, t->instance->problem);
	if (t->alone || t->desk->alone || t->instance->problem->is_fixed || !item->ask)
		return 0;
	return item->ask[ask].led;
}

static enum how tell_step(struct task *t, const struct step *step, const struct score *score)
{
	struct page page;
	struct text works;
	text_init(&works);
	instance_step_add(t->instance, step, t->desk->surface->decimal, &works);
	task_page(t, &page, "", NULL);
	if (score && score->outcome == OUTCOME_RIGHT)
		page_add(&page, BLOCK_GOOD, "Right.");
	else if (score)
		page_add(&page, BLOCK_BAD, "Not right. This step is:");
	page_add(&page, BLOCK_EXACT, "%s", works.at);
	page.out |= works.out;
	text_release(&works);
	return task_tell(t, &page);
}

enum filled { FILLED, FILLED_SKIP, FILLED_STEPS };

/* Asks for the value of a step until it can be read. */
static enum how ask_step(struct task *t, const struct step *step, struct reply *r, struct score *s,
	enum filled *what)
{
	char last[REPLY_ROOM];
	struct question q = {.kind = ASK_LINE,
		.prompt = step->name,
		.unit = step->shown.unit_text,
		.words = "steps = worked solution; skip = see this step"};
	for (;;) {
		enum how how = task_ask(t, &q, r);
		if (how)
			return how;
		*what = task_is_word(r->text, "skip")    ? FILLED_SKIP
			: task_is_word(r->text, "steps") ? FILLED_STEPS
							 : FILLED;
		if (*what != FILLED)
			return HOW_DONE;
		score_step(t->instance, step, r->text, strlen(r->text), s);
		if (s->outcome != OUTCOME_UNREAD)
			return HOW_DONE;
		memcpy(last, r->text, sizeof last);
		q.kept = last;
		q.fault = s->why;
	}
}

static enum how fill_step(struct task *t, const struct turn *turn, size_t n, bool *end)
{
	struct reply r;
	struct score s;
	struct turn at = *turn;
	enum filled what;
	size_t place;
	const struct step *step = lead_step(&t->instance->problem->ask[turn->ask], n, &place);
	at.since_ms = clock_boot();
	enum how how = ask_step(t, step, &r, &s, &what);
	if (how)
		return how;
	if (what == FILLED_STEPS) {
		*end = true;
		return task_tell_steps(t, turn->ask);
	}
	if (what == FILLED_SKIP)
		return tell_step(t, step, NULL);
	enum bad code = task_settle_step(t, &at, place, r.text, &s);
	return code ? desk_broken(t->desk, code) : tell_step(t, step, &s);
}

enum how led_run(struct task *t, const struct turn *turn, bool *end)
{
	size_t all = lead_steps(&t->instance->problem->ask[turn->ask]);
	enum how how = HOW_DONE;
	*end = false;
	for (size_t n = all - turn->led; !how && !*end && n + 1 < all; n++)
		how = fill_step(t, turn, n, end);
	return how;
}
