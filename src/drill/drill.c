/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drill/drill.h"

#include <string.h>
#include <strings.h>

#include <barwright/base/clock.h>
#include <barwright/item/instance.h>
#include <barwright/item/score.h>
#include <barwright/record/lines.h>

#include "desk/present.h"

/* One instance in front of the learner. */
struct task {
	struct desk *desk;
	const struct module *module;
	struct instance *instance;
	uint64_t attempt;
	uint64_t solutions;          /* worked solutions seen in this task */
	struct arena arena;          /* the instance and the pages about it */
	unsigned long number, count; /* "task 3 of 10"; count 0: no end */
};

/* ---- drawing and recording ------------------------------------------------------------------- */

static enum bad record_draw(struct task *t, const struct stream *s)
{
	const struct problem *p = t->instance->problem;
	struct line_draw line = {.item = p->code, .content = p->hash, .attempt = t->attempt};
	struct desk *d = t->desk;
	if (!d->strand)
		return FINE;
	enum bad code = desk_begin(d);
	if (code)
		return code;
	memcpy(line.key, s->key, sizeof line.key);
	return line_draw_append(d->strand, &line);
}

static enum bad draw(struct task *t, const struct problem *p)
{
	struct stream s;
	t->attempt = progress_of(&t->desk->progress, p)->drawn + 1;
	stream_open(&s, &(struct draw_key){t->desk->course->code, p->code, t->desk->who,
				t->desk->sitting, t->attempt});
	enum bad code = instance_new(&t->arena, p, &t->instance);
	if (!code)
		code = instance_draw(t->instance, &s);
	if (!code)
		code = record_draw(t, &s);
	if (!code)
		progress_drawn(&t->desk->progress, p);
	return code;
}

struct turn {
	size_t ask;
	uint64_t number; /* which try, from 1 */
	int64_t since_ms;
};

static enum bad record_answer(
	struct task *t, const struct turn *turn, const char *typed, const struct score *s)
{
	struct line_answer line = {.attempt = t->attempt,
		.turn = turn->number,
		.hints = t->solutions,
		.took_ms = (uint64_t)(clock_boot() - turn->since_ms),
		.typed = typed};
	return t->desk->strand ? desk_answer(t->desk, t->instance, turn->ask, s, &line) : FINE;
}

static enum bad settle(
	struct task *t, const struct turn *turn, const char *typed, const struct score *s)
{
	struct desk *d = t->desk;
	enum bad code = record_answer(t, turn, typed, s);
	if (code)
		return code;
	bool first = turn->number == 1;
	progress_answered(&d->progress, t->instance->problem, first, s->outcome, clock_now());
	d->answers += first;
	d->right += first && s->outcome == OUTCOME_RIGHT;
	return FINE;
}

/* ---- pages ----------------------------------------------------------------------------------- */

static enum how show_task(struct task *t)
{
	struct surface *s = t->desk->surface;
	const struct problem *p = t->instance->problem;
	struct page page;
	const char *note =
		t->count ? arena_format(&t->arena, "%s, task %lu of %lu", p->competency, t->number,
				   t->count)
			 : arena_format(&t->arena, "%s, task %lu", p->competency, t->number);
	page_init(&page, &t->arena, p->title, note);
	present_problem(&page, t->instance, s->columns, s->decimal);
	present_ask(&page, t->instance, 0, s->decimal);
	if (page.out)
		return desk_broken(t->desk, BAD_MEMORY);
	enum bad code = surface_show(s, &page);
	return code ? desk_broken(t->desk, code) : HOW_DONE;
}

/* Tells more below the task: `fill` adds the blocks. */
static enum how tell(struct task *t, size_t ask, const struct score *score,
	void (*fill)(struct page *, const struct instance *, size_t, char))
{
	struct surface *s = t->desk->surface;
	struct page page;
	page_init(&page, &t->arena, "", NULL);
	if (score)
		present_score(&page, t->instance, ask, score, s->decimal);
	else
		fill(&page, t->instance, ask, s->decimal);
	if (page.out)
		return desk_broken(t->desk, BAD_MEMORY);
	enum bad code = surface_tell(s, &page);
	return code ? desk_broken(t->desk, code) : HOW_DONE;
}

static enum how tell_steps(struct task *t, size_t ask)
{
	t->solutions++;
	return tell(t, ask, NULL, present_steps);
}

static void fill_ask(struct page *p, const struct instance *i, size_t ask, char sign)
{
	present_ask(p, i, ask, sign);
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
	enum bad code = surface_ask(t->desk->surface, &q, &r);
	if (code)
		return desk_broken(t->desk, code);
	*out = r.kind == REPLY_CHOICE ? (enum after)r.choice : AFTER_ON;
	return how_of(r.kind);
}

static bool is_word(const char *typed, const char *word)
{
	return strcasecmp(typed, word) == 0;
}

/* What else may be typed. */
static const char *words_of(struct task *t, const struct ask *a)
{
	const char *how = a->may_refer ? "refer = nothing fits, refer back" : present_how(a->kind);
	const char *words = "steps = worked solution; skip";
	const char *made = how ? arena_format(&t->arena, "%s; %s", how, words) : words;
	return made ? made : words;
}

static enum how ask_once(struct task *t, const struct turn *turn, const char *fault,
	const char *kept, struct reply *r)
{
	const struct ask *a = &t->instance->problem->ask[turn->ask];
	struct question q = {.kind = ASK_LINE,
		.prompt = "Your answer",
		.unit = a->shown.unit_text,
		.words = words_of(t, a),
		.fault = fault,
		.kept = kept};
	enum bad code = surface_ask(t->desk->surface, &q, r);
	return code ? desk_broken(t->desk, code) : how_of(r->kind);
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
		*what = is_word(r->text, "steps")  ? LINE_STEPS
			: is_word(r->text, "skip") ? LINE_SKIP
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
		return tell_steps(t, turn->ask);
	if (what == LINE_SKIP)
		return tell(t, turn->ask, NULL, present_answer);
	enum bad code = settle(t, turn, r.text, &s);
	if (code)
		return desk_broken(t->desk, code);
	how = tell(t, turn->ask, &s, NULL);
	if (how || s.outcome == OUTCOME_RIGHT)
		return how;
	how = ask_after_mistake(t, &after);
	if (how)
		return how;
	*end = after != AFTER_AGAIN;
	turn->number++;
	return after == AFTER_STEPS ? tell_steps(t, turn->ask) : HOW_DONE;
}

static enum how run_ask(struct task *t, size_t ask)
{
	struct turn turn = {.ask = ask, .number = 1};
	bool end = false;
	enum how how = ask ? tell(t, ask, NULL, fill_ask) : HOW_DONE; /* the first is on the page */
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
	enum bad code = surface_ask(t->desk->surface, &q, &r);
	if (code)
		return desk_broken(t->desk, code);
	if (r.kind == REPLY_CHOICE && r.choice == 1)
		return HOW_BACK;
	return how_of(r.kind);
}

static enum how run_task(struct task *t, const struct problem *p, bool last)
{
	enum bad code = draw(t, p);
	if (code)
		return desk_broken(t->desk, code);
	enum how how = show_task(t);
	for (size_t ask = 0; !how && ask < p->nask; ask++)
		how = run_ask(t, ask);
	if (!how && !last)
		how = ask_next(t);
	return how;
}

static const struct problem *choose(struct desk *d, const struct module *m,
	const struct problem *only, const struct module **served)
{
	if (only)
		return only;
	if (m)
		return progress_pick(&d->progress, m);
	struct next next = progress_next(&d->progress, *served);
	*served = next.module;
	return next.problem;
}

enum how drill_run(
	struct desk *d, const struct module *m, const struct problem *only, unsigned long count)
{
	const struct module *served = NULL;
	enum how how = HOW_DONE;
	for (unsigned long n = 1; !how && (!count || n <= count); n++) {
		const struct problem *p = choose(d, m, only, &served);
		struct task t = {.desk = d, .number = n, .count = count};
		if (!p)
			return desk_broken(d, BAD_NOTHING);
		how = run_task(&t, p, count && n == count);
		arena_release(&t.arena);
	}
	return how;
}
