/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/random.h>
#include <barwright/item/score.h>

#include "desk/form.h"
#include "sitting/sitting_parts.h"

enum { CLOCK_SLACK_MS = 2000 }; /* two clocks run apart by less than that in a sitting */

/* ---- the form -------------------------------------------------------------------------------- */

static struct stream stream_of(const struct sitting *s, size_t place)
{
	struct stream out;
	stream_open(&out, &(struct draw_key){s->desk->course->code, s->form[place]->code,
				  s->desk->who, s->desk->sitting, s->attempt});
	return out;
}

static enum bad instances_make(struct sitting *s)
{
	s->instance = arena_many(&s->arena, s->nplace, struct instance *);
	if (!s->instance)
		return BAD_MEMORY;
	for (size_t n = 0; n < s->nplace; n++) {
		struct stream stream = stream_of(s, n);
		enum bad code = instance_new(&s->arena, s->form[n], &s->instance[n]);
		if (!code)
			code = instance_draw(s->instance[n], &stream);
		if (code)
			return code;
		s->nquery += s->form[n]->nask;
	}
	return FINE;
}

static const struct past_response *response_to(const struct sitting *s, const struct query *q)
{
	const struct past_response *r = s->past.is_unfinished ? s->past.response : NULL;
	while (r && (r->ask != q->ask + 1 || strcmp(r->item, s->form[q->place]->code) != 0))
		r = r->next;
	return r;
}

static void past_lay(struct sitting *s, size_t n)
{
	struct query *q = &s->query[n];
	const struct past_response *r = response_to(s, q);
	q->typed = "";
	q->is_marked =
		s->past.is_unfinished && n < strlen(s->past.marks) && s->past.marks[n] == '1';
	if (!r)
		return;
	q->turns = r->turn;
	q->took_ms = r->took_ms;
	q->typed = r->typed;
	q->is_scored = *r->outcome && strcmp(r->outcome, LINE_HELD) != 0;
	s->late += r->nlate;
}

static enum bad queries_make(struct sitting *s)
{
	size_t n = 0;
	s->query = arena_many(&s->arena, s->nquery, struct query);
	if (!s->query)
		return BAD_MEMORY;
	for (size_t place = 0; place < s->nplace; place++)
		for (size_t ask = 0; ask < s->form[place]->nask; ask++) {
			s->query[n] = (struct query){.place = place, .ask = ask};
			past_lay(s, n++);
		}
	return FINE;
}

static bool is_same_form(const struct sitting *s)
{
	const struct texts *items = &s->past.form.items;
	if (items->n != s->nplace)
		return false;
	for (size_t n = 0; n < s->nplace; n++)
		if (strcmp(items->at[n], s->form[n]->code) != 0)
			return false;
	return true;
}

enum bad sitting_prepare(struct sitting *s)
{
	const struct form_key key = {s->desk->who, s->desk->sitting, s->attempt};
	s->nplace = assessment_places(s->what);
	enum bad code = form_draw(s->what, s->desk->course, &key, &s->arena, &s->form);
	if (!code && s->past.is_unfinished && !is_same_form(s))
		code = BAD_CHAIN;
	if (!code)
		code = instances_make(s);
	return code ? code : queries_make(s);
}

/* ---- the record ------------------------------------------------------------------------------ */

static enum bad form_record(struct sitting *s)
{
	const char **codes = arena_many(&s->arena, s->nplace, const char *);
	if (!codes)
		return BAD_MEMORY;
	for (size_t n = 0; n < s->nplace; n++)
		codes[n] = s->form[n]->code;
	struct line_form form = {.assessment = s->what->code,
		.title = s->what->title,
		.content = s->what->hash,
		.attempt = s->attempt,
		.limit_ms = s->limit_ms,
		.extra_ms = s->extra_ms,
		.items = {codes, s->nplace}};
	return line_form_append(s->desk->strand, &form);
}

static enum bad draws_record(struct sitting *s)
{
	for (size_t n = 0; n < s->nplace; n++) {
		struct stream stream = stream_of(s, n);
		struct line_draw draw = {.item = s->form[n]->code,
			.content = problem_hash(s->form[n]),
			.attempt = s->attempt};
		memcpy(draw.key, stream.key, sizeof draw.key);
		enum bad code = line_draw_append(s->desk->strand, &draw);
		if (code)
			return code;
	}
	return FINE;
}

static enum bad clock_record(struct sitting *s, int64_t moved_ms)
{
	struct line_clock line = {
		(uint64_t)(moved_ms < 0 ? -moved_ms : moved_ms), moved_ms < 0 ? "back" : "forward"};
	*(moved_ms < 0 ? &s->past.back_ms : &s->past.forward_ms) += line.by_ms;
	return line_clock_append(s->desk->strand, &line);
}

/* Was the clock of the wall moved since the last look? */
static enum bad clock_look(struct sitting *s)
{
	int64_t apart = clock_now() - clock_boot(), moved = apart - s->apart_ms;
	s->apart_ms = apart;
	return moved > CLOCK_SLACK_MS || moved < -CLOCK_SLACK_MS ? clock_record(s, moved) : FINE;
}

/* The same over an interruption. After a restart of the machine only a clock that reads less than
 * before can be noticed. */
static enum bad clock_look_back(struct sitting *s)
{
	int64_t now = clock_now(), boot = clock_boot();
	s->apart_ms = now - boot;
	if (boot >= s->past.last_boot_ms) {
		s->apart_ms = s->past.last_ms - s->past.last_boot_ms;
		return clock_look(s);
	}
	int64_t moved = now - s->past.last_ms;
	return moved < -CLOCK_SLACK_MS ? clock_record(s, moved) : FINE;
}

enum bad sitting_begin(struct sitting *s)
{
	bool again = s->past.is_unfinished;
	uint64_t used = sitting_used_before(&s->past);
	enum bad code = strand_reserve(s->desk->strand);
	if (!code || again) /* one that was begun goes on as long as there is any room */
		code = desk_begin(s->desk);
	s->since_ms = clock_boot();
	s->apart_ms = clock_now() - clock_boot();
	if (!code && !again)
		code = form_record(s);
	if (!code)
		code = draws_record(s);
	if (code || !again)
		return code;
	s->past.breaks++;
	s->used_ms = used;
	return clock_look_back(s);
}

uint64_t sitting_used_before(const struct past *p)
{
	int64_t away = p->was_left ? clock_now() - p->last_ms : 0;
	return p->used_ms + (away > 0 ? (uint64_t)away : 0);
}

uint64_t sitting_used(const struct sitting *s)
{
	int64_t now = clock_boot();
	return s->used_ms + (now > s->since_ms ? (uint64_t)(now - s->since_ms) : 0);
}

bool sitting_is_over(const struct sitting *s)
{
	return sitting_used(s) >= s->limit_ms;
}

enum bad sitting_place(struct sitting *s, uint64_t at)
{
	struct line_place line = {at, sitting_used(s)};
	enum bad code = clock_look(s);
	return code ? code : line_place_append(s->desk->strand, &line);
}

enum bad sitting_mark(struct sitting *s, size_t query)
{
	struct line_mark line = {query + 1, !s->query[query].is_marked};
	enum bad code = line_mark_append(s->desk->strand, &line);
	if (!code)
		s->query[query].is_marked = line.is_on;
	return code;
}

/* ---- responses ------------------------------------------------------------------------------- */

enum bad sitting_answer(struct sitting *s, size_t query, const char *typed,
	const struct score *score, int64_t shown_ms)
{
	struct query *q = &s->query[query];
	/* at the very end is late too, by the one millisecond that says so */
	uint64_t used = sitting_used(s), late = 0;
	if (used >= s->limit_ms)
		late = used > s->limit_ms ? used - s->limit_ms : 1;
	const char *kept = arena_copy(&s->arena, typed, strlen(typed));
	struct line_answer line = {.attempt = s->attempt,
		.turn = q->turns + 1,
		.took_ms = (uint64_t)(clock_boot() - shown_ms),
		.late_ms = late,
		.typed = typed};
	enum bad code =
		kept ? desk_hold(s->desk, s->instance[q->place], q->ask, score, &line) : BAD_MEMORY;
	if (code)
		return code;
	q->turns++;
	s->late += late > 0;
	s->time_over |= late > 0;
	if (!late) {
		q->typed = kept;
		q->took_ms = line.took_ms;
		q->is_scored = false; /* as in a sitting begun by a program that scored at once */
		s->desk->answers++;
	}
	return FINE;
}

/* Only now the right answer is written: nobody can read it while something may still be changed. */
static enum bad query_score(struct sitting *s, struct query *q)
{
	const struct instance *i = s->instance[q->place];
	struct score score;
	struct line_answer line = {
		.attempt = s->attempt, .turn = q->turns, .took_ms = q->took_ms, .typed = q->typed};
	if (!*q->typed)
		return FINE;
	score_typed(i, q->ask, q->typed, strlen(q->typed), &score);
	q->is_right = score.outcome == OUTCOME_RIGHT;
	return q->is_scored ? FINE : desk_answer(s->desk, i, q->ask, &score, &line);
}

/* ---- the end --------------------------------------------------------------------------------- */

enum bad sitting_result(struct sitting *s, struct line_result *out)
{
	struct marked *place = arena_many(&s->arena, s->nplace, struct marked);
	struct circumstances how = {.attempt = s->attempt,
		.used_ms = sitting_used(s),
		.breaks = s->past.breaks,
		.late = s->late,
		.forward_ms = s->past.forward_ms,
		.back_ms = s->past.back_ms,
		.time_over = s->time_over};
	if (!place)
		return BAD_MEMORY;
	for (size_t n = 0; n < s->nquery; n++) {
		enum bad code = query_score(s, &s->query[n]);
		if (code)
			return code;
	}
	for (size_t n = 0; n < s->nplace; n++)
		place[n] = (struct marked){s->form[n], assessment_place(s->what, n)->critical, 0};
	for (size_t n = 0; n < s->nquery; n++)
		place[s->query[n].place].right += s->query[n].is_right;
	enum bad code =
		outcome_find(s->what, s->desk->course, place, s->nplace, &how, &s->arena, out);
	for (size_t n = 0; n < s->nquery; n++)
		s->desk->right += s->query[n].is_right;
	return code ? code : line_result_append(s->desk->strand, out);
}
