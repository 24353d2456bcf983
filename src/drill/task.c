/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drill/task.h"

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/text.h>
#include <barwright/record/lines.h>

#include "desk/present.h"

/* ---- drawing --------------------------------------------------------------------------------- */

/* The features of an instance as a line holds them; the texts are the caller's. */
static void put_features(const struct instance *i, struct line_draw *line, struct text *largest,
	struct text *skew, struct text *gap)
{
	struct features f;
	instance_features(i, &f);
	number_add_to(f.largest, 4, '.', largest);
	number_add_to(f.skew, 3, '.', skew);
	number_add_to(f.gap, 2, '.', gap);
	line->has_features = true;
	line->readings = f.readings;
	line->digits = f.digits;
	line->steps = f.steps;
	line->tries = f.tries;
	line->largest = largest->at;
	line->skew = skew->at;
	line->gap = gap->at;
}

static enum bad record_draw(struct task *t, const struct stream *s)
{
	const struct problem *p = t->instance->problem;
	struct line_draw line = {
		.item = p->code, .content = problem_hash(p), .attempt = t->attempt};
	struct text largest, skew, gap;
	struct desk *d = t->desk;
	if (!d->strand)
		return FINE;
	enum bad code = desk_begin(d);
	if (code)
		return code;
	text_init(&largest);
	text_init(&skew);
	text_init(&gap);
	memcpy(line.key, s->key, sizeof line.key);
	put_features(t->instance, &line, &largest, &skew, &gap);
	code = largest.out || skew.out || gap.out ? BAD_MEMORY : line_draw_append(d->strand, &line);
	text_release(&largest);
	text_release(&skew);
	text_release(&gap);
	return code;
}

static enum bad draw(struct task *t, const struct problem *p, uint64_t attempt)
{
	struct stream s;
	t->attempt = attempt;
	stream_open(&s, &(struct draw_key){t->desk->course->code, p->code, t->desk->who,
				t->desk->sitting, attempt});
	enum bad code = instance_new(&t->arena, p, &t->instance);
	if (!code)
		code = instance_draw(t->instance, &s);
	return code ? code : record_draw(t, &s);
}

static enum how how_drawn(struct task *t, enum bad code)
{
	t->is_unfair = code == BAD_UNFAIR;
	return code && !t->is_unfair ? desk_broken(t->desk, code) : HOW_DONE;
}

enum how task_draw(struct task *t, const struct problem *p)
{
	enum bad code = draw(t, p, progress_of(&t->desk->progress, p)->drawn + 1);
	if (!code)
		progress_drawn(&t->desk->progress, p);
	return how_drawn(t, code);
}

enum how task_example_draw(struct task *t, const struct problem *p)
{
	enum bad code = draw(t, p, 0);
	if (!code)
		progress_example(&t->desk->progress, p);
	return how_drawn(t, code);
}

/* ---- recording ------------------------------------------------------------------------------- */

static struct line_answer line_of(struct task *t, const struct turn *turn, const char *typed)
{
	return (struct line_answer){.attempt = t->attempt,
		.turn = turn->number,
		.hints = t->solutions,
		.led = turn->led,
		.took_ms = (uint64_t)(clock_boot() - turn->since_ms),
		.typed = typed};
}

/* The slip in the words of the record. */
static void count(struct task *t, const struct turn *turn, const struct score *s, const char *slip)
{
	struct desk *d = t->desk;
	bool first = turn->number == 1;
	progress_answered(&d->progress, t->instance->problem,
		&(struct progress_answer){.ask = turn->ask,
			.first_try = first,
			.is_alone = !turn->led && !t->solutions,
			.led = turn->led,
			.slip = slip,
			.outcome = s->outcome,
			.at_ms = clock_now()});
	d->answers += first;
	d->right += first && s->outcome == OUTCOME_RIGHT;
}

enum bad task_settle(
	struct task *t, const struct turn *turn, const char *typed, const struct score *s)
{
	struct line_answer line = line_of(t, turn, typed);
	enum bad code =
		t->desk->strand ? desk_answer(t->desk, t->instance, turn->ask, s, &line) : FINE;
	struct text slip;
	if (code)
		return code;
	text_init(&slip);
	score_slip_add(t->instance, turn->ask, s, &slip);
	count(t, turn, s, slip.at);
	code = slip.out ? BAD_MEMORY : FINE;
	text_release(&slip);
	return code;
}

enum bad task_settle_step(struct task *t, const struct turn *turn, size_t place, const char *typed,
	const struct score *s)
{
	struct line_answer line = line_of(t, turn, typed);
	return t->desk->strand ? desk_step(t->desk, t->instance, turn->ask, place, s, &line) : FINE;
}

/* ---- pages ----------------------------------------------------------------------------------- */

void task_page(struct task *t, struct page *p, const char *title, const char *note)
{
	page_init(p, &t->arena, title, note);
}

void task_begin(struct task *t, struct page *p, const char *title, const char *note)
{
	task_page(t, p, title, note);
	if (t->left_out)
		page_add(p, BLOCK_BAD,
			"Left out: %s. No numbers can be drawn for it that make a fair task; tell "
			"your instructor.",
			t->left_out);
	t->left_out = NULL;
}

enum how task_show(struct task *t, const struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_show(t->desk->surface, p);
	return code ? desk_broken(t->desk, code) : HOW_DONE;
}

enum how task_tell(struct task *t, const struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_tell(t->desk->surface, p);
	return code ? desk_broken(t->desk, code) : HOW_DONE;
}

enum how task_tell_steps(struct task *t, size_t ask)
{
	struct page page;
	task_page(t, &page, "", NULL);
	present_solution(&page, t->instance, ask, t->desk->surface->decimal);
	if (!t->solutions)
		present_source(&page, t->instance->problem);
	t->solutions++;
	return task_tell(t, &page);
}

bool task_is_word(const char *typed, const char *word)
{
	size_t len = strlen(word);
	return strlen(typed) == len && text_is_same(typed, word, len);
}

enum how task_ask(struct task *t, const struct question *q, struct reply *r)
{
	enum bad code = surface_ask(t->desk->surface, q, r);
	return code ? desk_broken(t->desk, code) : how_of(r->kind);
}
