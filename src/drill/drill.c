/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drill/drill.h"

#include <string.h>

#include <barwright/base/clock.h>

#include "desk/lead.h"
#include "desk/present.h"
#include "drill/task.h"

/* ---- pages ----------------------------------------------------------------------------------- */

static void add_ask(struct task *t, struct page *page, size_t ask)
{
	char sign = t->desk->surface->decimal;
	size_t led = led_now(t, ask);
	present_ask(page, t->instance, ask, sign);
	if (led)
		present_led(page, t->instance, ask, led, sign);
}

static enum how show_task(struct task *t)
{
	struct surface *s = t->desk->surface;
	const struct problem *p = t->instance->problem;
	struct page page;
	const char *note =
		t->count ? arena_format(&t->arena, "%s, task %lu of %lu", p->competency, t->number,
				   t->count)
			 : arena_format(&t->arena, "%s, task %lu", p->competency, t->number);
	task_begin(t, &page, p->title, note);
	present_problem(&page, t->instance, s->columns, s->decimal);
	add_ask(t, &page, 0);
	return task_show(t, &page);
}

static enum how tell_ask(struct task *t, size_t ask)
{
	struct page page;
	task_page(t, &page, "", NULL);
	add_ask(t, &page, ask);
	return task_tell(t, &page);
}

/* What is told about a wrong reply. A mistake that is made again is not explained again. */
static void add_wrong(struct page *p, struct task *t, struct turn *turn, const char *typed,
	const struct score *score)
{
	char sign = t->desk->surface->decimal;
	struct text told;
	text_init(&told);
	score_tell(t->instance, turn->ask, score, sign, &told);
	p->out |= told.out;
	if (turn->told && strcmp(turn->typed, typed) == 0) {
		page_add(p, BLOCK_BAD, "Not right: %s, as before.", typed);
	} else if (turn->told && strcmp(turn->told, told.at) == 0) {
		page_add(p, BLOCK_BAD, "Not right: %s. The same mistake as with %s.", typed,
			turn->typed);
	} else {
		present_score(p, t->instance, turn->ask, score, typed, sign);
		turn->told = arena_copy(&t->arena, told.at, told.len);
		turn->typed = arena_copy(&t->arena, typed, strlen(typed));
		p->out |= !turn->told || !turn->typed;
	}
	text_release(&told);
}

static enum how tell_score(
	struct task *t, struct turn *turn, const char *typed, const struct score *score)
{
	struct page page;
	task_page(t, &page, "", NULL);
	if (score->outcome == OUTCOME_RIGHT)
		present_score(
			&page, t->instance, turn->ask, score, typed, t->desk->surface->decimal);
	else
		add_wrong(&page, t, turn, typed, score);
	return task_tell(t, &page);
}

static enum how tell_answer(struct task *t, size_t ask)
{
	struct page page;
	task_page(t, &page, "", NULL);
	present_answer(&page, t->instance, ask, t->desk->surface->decimal);
	return task_tell(t, &page);
}

/* ---- one ask --------------------------------------------------------------------------------- */

enum after { AFTER_AGAIN, AFTER_STEPS, AFTER_ON };

static enum how ask_after_mistake(struct task *t, enum after *out)
{
	static const struct choice choices[] = {
		[AFTER_AGAIN] = {"again", "Try once more", NULL},
		[AFTER_STEPS] = {"steps", "See the worked solution", NULL},
		[AFTER_ON] = {"on", "Leave it and go on", NULL},
	};
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "What now?", .choice = choices, .nchoice = 3};
	struct reply r;
	enum how how = task_ask(t, &q, &r);
	if (!how)
		*out = (enum after)r.choice;
	return how;
}

/* What else may be typed. */
static const char *words_of(struct task *t, const struct ask *a)
{
	const char *how = a->may_refer ? "refer = nothing fits, refer back" : present_how(a->kind);
	const char *words = "steps = worked solution; skip = the answer only";
	const char *made = how ? arena_format(&t->arena, "%s; %s", how, words) : words;
	return made ? made : words;
}

static enum how ask_once(struct task *t, const struct turn *turn, const char *fault,
	const char *kept, struct reply *r)
{
	const struct ask *a = &t->instance->problem->ask[turn->ask];
	struct question q = {.kind = ASK_LINE,
		.prompt = "Your answer",
		.topic = a->text,
		.unit = a->shown.unit_text,
		.words = words_of(t, a),
		.fault = fault,
		.kept = kept,
		.nletter = a->kind == ASKED_CHOICE ? a->noffer : 0};
	return task_ask(t, &q, r);
}

enum line { LINE_SCORED, LINE_STEPS, LINE_SKIP };

/* Asks until something can be scored or the learner gives up. */
static enum how ask_until_read(
	struct task *t, const struct turn *turn, struct reply *r, struct score *s, enum line *what)
{
	const char *fault = NULL, *kept = NULL;
	char last[REPLY_ROOM];
	for (;;) {
		enum how how = ask_once(t, turn, fault, kept, r);
		if (how)
			return how;
		*what = task_is_word(r->text, "steps")  ? LINE_STEPS
			: task_is_word(r->text, "skip") ? LINE_SKIP
							: LINE_SCORED;
		if (*what != LINE_SCORED)
			return HOW_DONE;
		score_typed(t->instance, turn->ask, r->text, strlen(r->text), s);
		if (s->outcome != OUTCOME_UNREAD)
			return HOW_DONE;
		memcpy(last, r->text, sizeof last);
		kept = last;
		fault = s->why;
	}
}

/* One try at an ask: *end is set when there is nothing more to try. */
static enum how try_ask(struct task *t, struct turn *turn, bool *end)
{
	struct reply r;
	struct score s;
	enum line what;
	enum after after = AFTER_ON;
	turn->since_ms = clock_boot();
	enum how how = ask_until_read(t, turn, &r, &s, &what);
	if (how)
		return how;
	*end = true;
	if (what == LINE_STEPS)
		return task_tell_steps(t, turn->ask);
	if (what == LINE_SKIP)
		return tell_answer(t, turn->ask);
	enum bad code = task_settle(t, turn, r.text, &s);
	if (code)
		return desk_broken(t->desk, code);
	how = tell_score(t, turn, r.text, &s);
	if (how || s.outcome == OUTCOME_RIGHT)
		return how;
	how = ask_after_mistake(t, &after);
	if (how)
		return how;
	*end = after != AFTER_AGAIN;
	turn->number++;
	return after == AFTER_STEPS ? task_tell_steps(t, turn->ask) : HOW_DONE;
}

static enum how run_ask(struct task *t, size_t ask)
{
	struct turn turn = {.ask = ask, .number = 1, .led = led_now(t, ask)};
	bool end = false;
	enum how how = ask ? tell_ask(t, ask) : HOW_DONE; /* the first is on the page */
	if (!how && turn.led)
		how = led_run(t, &turn, &end);
	while (!how && !end)
		how = try_ask(t, &turn, &end);
	return how;
}

/* ---- one task after the other ---------------------------------------------------------------- */

static enum how ask_next(struct task *t)
{
	bool recorded = t->desk->strand != NULL;
	const struct choice choices[] = {
		{"next", "Next task", NULL},
		{"stop", "Stop here", recorded ? "everything is recorded" : "nothing was recorded"},
	};
	struct question q = {
		.kind = ASK_CHOICE, .prompt = "Go on?", .choice = choices, .nchoice = 2};
	struct reply r;
	enum how how = task_ask(t, &q, &r);
	return !how && r.choice == 1 ? HOW_BACK : how;
}

static enum how run_task(struct task *t, const struct problem *p, bool last)
{
	enum how how = HOW_DONE;
	if (!t->desk->alone && lead_wants_example(p, progress_of(&t->desk->progress, p)))
		how = example_run(t, p);
	if (how || t->is_unfair)
		return how;
	how = task_draw(t, p);
	if (how || t->is_unfair)
		return how;
	desk_keeps(t->desk, "What you answered is recorded.");
	how = show_task(t);
	for (size_t ask = 0; !how && ask < p->nask; ask++)
		how = run_ask(t, ask);
	if (!how && !last)
		how = ask_next(t);
	return how;
}

/* What one call of drill_run keeps in mind. */
struct drill {
	struct desk *desk;
	const struct module *module; /* only this one; null: mixed */
	const struct problem *only;
	const struct module *served; /* the last task was of this one */
	struct arena arena;
	const char
		*left_out; /* to be said with the next page: "Title (code), ..."; null: nothing */
	bool was_left_out; /* anything, in the whole drill */
};

static const struct problem *choose(struct drill *x)
{
	if (x->only)
		return progress_of(&x->desk->progress, x->only)->left_out ? NULL : x->only;
	if (x->module)
		return progress_pick(&x->desk->progress, x->module);
	struct next next = progress_next(&x->desk->progress, x->served);
	x->served = next.module;
	return next.problem;
}

static enum how leave_out(struct drill *x, const struct problem *p)
{
	progress_leave_out(&x->desk->progress, p);
	x->was_left_out = true;
	x->left_out = arena_format(&x->arena, "%s%s%s (%s)", x->left_out ? x->left_out : "",
		x->left_out ? ", " : "", p->title, p->code);
	return x->left_out ? HOW_DONE : desk_broken(x->desk, BAD_MEMORY);
}

/* There is nothing to practise. */
static enum how tell_nothing(struct drill *x)
{
	struct task t = {.desk = x->desk, .left_out = x->left_out};
	struct page page;
	struct reply r;
	struct question q = {.kind = ASK_GO, .prompt = "Back"};
	if (!x->was_left_out)
		return desk_broken(x->desk, BAD_NOTHING);
	task_begin(&t, &page, "Practising", NULL);
	page_add(&page, BLOCK_TEXT, "There is nothing else to practise here.");
	enum how how = task_show(&t, &page);
	if (!how)
		how = task_ask(&t, &q, &r);
	arena_release(&t.arena);
	return how;
}

static enum how run_all(struct drill *x, unsigned long count)
{
	enum how how = HOW_DONE;
	for (unsigned long n = 1; !how && (!count || n <= count);) {
		const struct problem *p = choose(x);
		struct task t = {
			.desk = x->desk, .number = n, .count = count, .left_out = x->left_out};
		if (!p)
			return tell_nothing(x);
		how = run_task(&t, p, count && n == count);
		x->left_out = t.left_out;
		if (!how && t.is_unfair)
			how = leave_out(x, p);
		else
			n++;
		arena_release(&t.arena);
	}
	return how;
}

enum how drill_run(
	struct desk *d, const struct module *m, const struct problem *only, unsigned long count)
{
	struct drill x = {.desk = d, .module = m, .only = only};
	enum how how = run_all(&x, count);
	arena_release(&x.arena);
	return how;
}
