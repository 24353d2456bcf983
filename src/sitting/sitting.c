/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sitting/sitting.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/text.h>
#include <barwright/item/score.h>

#include "desk/present.h"
#include "sitting/sitting_parts.h"

/* ---- one question ---------------------------------------------------------------------------- */

/* Where to go from a question. */
enum move {
	MOVE_STAY,
	MOVE_NEXT,
	MOVE_PREVIOUS,
	MOVE_LIST,
	MOVE_MARK,
	MOVE_HAND_IN,
	MOVE_ANSWERED,
	MOVE_TIME /* the time is over */
};

static enum move move_of(const char *typed)
{
	static const struct {
		const char *word;
		enum move move;
	} words[] = {{"mark", MOVE_MARK}, {"next", MOVE_NEXT}, {"previous", MOVE_PREVIOUS},
		{"list", MOVE_LIST}, {"hand-in", MOVE_HAND_IN}};
	size_t len = strlen(typed);
	for (size_t n = 0; n < sizeof words / sizeof *words; n++)
		if (strlen(words[n].word) == len && text_is_same(words[n].word, typed, len))
			return words[n].move;
	return MOVE_ANSWERED;
}

static const char *help_of(const struct ask *a, struct arena *mem)
{
	static const char moves[] = "mark = look again later; next; previous; list = all "
				    "tasks; hand-in";
	const char *how = a->may_refer ? "refer = nothing fits, refer back" : present_how(a->kind);
	const char *made = how ? arena_format(mem, "%s; %s", how, moves) : moves;
	return made ? made : moves;
}

/* Asks until something can be read. */
static enum how ask_query(
	struct sitting *s, size_t query, struct reply *r, struct score *score, enum move *move)
{
	const struct query *q = &s->query[query];
	const struct ask *a = &s->form[q->place]->ask[q->ask];
	struct arena mem = {0};
	char last[REPLY_ROOM];
	struct question ask = {.kind = ASK_LINE,
		.prompt = "Your answer",
		.topic = a->text,
		.nletter = a->kind == ASKED_CHOICE ? a->noffer : 0,
		.unit = a->shown.unit_text,
		.words = help_of(a, &mem),
		.kept = q->typed};
	enum how how = HOW_DONE;
	for (*move = MOVE_STAY; !how && *move == MOVE_STAY;) {
		enum bad code = surface_ask(s->desk->surface, &ask, r);
		how = code ? desk_broken(s->desk, code) : how_of(r->kind);
		if (how)
			break;
		*move = r->kind == REPLY_TIME ? MOVE_TIME : move_of(r->text);
		if (*move != MOVE_ANSWERED)
			break;
		score_typed(s->instance[q->place], q->ask, r->text, strlen(r->text), score);
		score_hide_unit(score);
		if (score->outcome != OUTCOME_UNREAD)
			break;
		*move = MOVE_STAY;
		memcpy(last, r->text, sizeof last);
		ask.kept = last;
		ask.fault = score->why;
	}
	arena_release(&mem);
	return how;
}

/* What stood in the field is kept as an answer that came too late. */
static enum bad keep_standing(struct sitting *s, size_t query, const char *typed, int64_t shown_ms)
{
	const struct query *q = &s->query[query];
	struct score score;
	enum bad code = FINE;
	if (!*typed || strcmp(typed, q->typed) == 0 || move_of(typed) != MOVE_ANSWERED)
		return FINE;
	snprintf(s->stood, sizeof s->stood, "%s", typed);
	score_typed(s->instance[q->place], q->ask, typed, strlen(typed), &score);
	score_hide_unit(&score);
	s->stood_kept = score.outcome != OUTCOME_UNREAD;
	if (s->stood_kept)
		code = sitting_answer(s, query, typed, &score, shown_ms);
	return code;
}

/* Where a move leads; nquery: the list. */
static size_t moved(const struct sitting *s, size_t query, enum move move)
{
	if (move == MOVE_LIST)
		return s->nquery;
	if (move == MOVE_PREVIOUS)
		return query - (query > 0);
	return move == MOVE_MARK || move == MOVE_HAND_IN ? query : query + 1;
}

/* Shows a question and does what is said; *query is where to go on, nquery: the list. */
static enum how run_query(struct sitting *s, size_t *query, bool *hand_in)
{
	struct reply r;
	struct score score;
	enum move move;
	int64_t shown_ms = clock_boot();
	enum bad code = sitting_place(s, *query + 1);
	enum how how = code ? desk_broken(s->desk, code) : sitting_show(s, *query);
	if (!how)
		how = ask_query(s, *query, &r, &score, &move);
	if (how == HOW_BACK) {
		*query = s->nquery;
		return HOW_DONE;
	}
	if (how)
		return how;
	if (move == MOVE_ANSWERED)
		code = sitting_answer(s, *query, r.text, &score, shown_ms);
	else if (move == MOVE_TIME)
		code = keep_standing(s, *query, r.text, shown_ms);
	else if (move == MOVE_MARK)
		code = sitting_mark(s, *query);
	if (code)
		return desk_broken(s->desk, code);
	*query = moved(s, *query, move);
	return move == MOVE_HAND_IN ? sitting_confirm(s, hand_in) : HOW_DONE;
}

/* ---- all of them ----------------------------------------------------------------------------- */

static enum how run_list(struct sitting *s, size_t *query, bool *hand_in)
{
	enum bad code = sitting_place(s, 0);
	if (code)
		return desk_broken(s->desk, code);
	enum how how = sitting_list(s, query, hand_in);
	return how == HOW_BACK ? HOW_DONE : how; /* there is no page before the list */
}

static enum how run_queries(struct sitting *s)
{
	size_t query = s->past.at ? (size_t)s->past.at - 1 : s->nquery;
	bool hand_in = false;
	enum how how = HOW_DONE;
	if (!s->past.is_unfinished)
		query = 0;
	if (query > s->nquery)
		query = s->nquery;
	while (!how && !hand_in && !sitting_is_over(s))
		how = query < s->nquery ? run_query(s, &query, &hand_in)
					: run_list(s, &query, &hand_in);
	if (how || hand_in)
		return how;
	s->time_over = true;
	return sitting_tell_over(s);
}

static enum how finish(struct sitting *s)
{
	struct line_result r;
	enum bad code = sitting_result(s, &r);
	if (code)
		return desk_broken(s->desk, code);
	desk_keeps(s->desk, "The result is recorded.");
	s->how->is_done = true;
	s->how->passed = outcome_is_pass(&r);
	code = desk_end(s->desk, s->time_over ? "time" : "done");
	if (code)
		return desk_broken(s->desk, code);
	return sitting_tell_result(s, &r);
}

/* ---- from the beginning ---------------------------------------------------------------------- */

static void set_limits(struct sitting *s)
{
	const struct assessment_guest *guest =
		assessment_find_guest(s->what, s->desk->name, s->desk->who);
	s->extra_ms = guest ? (uint64_t)(guest->extra_s * 1000) : 0;
	s->limit_ms = (uint64_t)(s->what->time_s * 1000) + s->extra_ms;
	s->attempt = s->past.attempts + 1;
	if (s->past.is_unfinished) {
		s->extra_ms = s->past.form.extra_ms;
		s->limit_ms = s->past.form.limit_ms;
		s->attempt = s->past.form.attempt;
		s->used_ms = sitting_used_before(&s->past);
		snprintf(s->desk->sitting, sizeof s->desk->sitting, "%s", s->past.sitting);
	}
	s->since_ms = clock_boot();
}

/* The form hangs on the sitting's code. Where nobody gave one out it is the same for an attempt as often as
 * it is looked at, so that nobody starts again until the form suits them; and without the machine's key
 * nobody works it out at home. */
static enum bad set_code(struct sitting *s)
{
	struct text words;
	if (s->how->is_named || s->past.is_unfinished)
		return FINE;
	text_init(&words);
	text_addf(&words, "%s\n%s\n%s\n%llu", s->desk->course->code, s->what->code, s->desk->who,
		(unsigned long long)s->attempt);
	enum bad code = words.out ? BAD_MEMORY : FINE;
	if (!code) {
		struct hash made = strand_private(s->desk->strand, words.at);
		hex_write(made.byte, (SITTING_CODE - 1) / 2, s->desk->sitting);
	}
	text_release(&words);
	return code;
}

/* Who has handed in before a stop is asked nothing any more. */
static enum how work_through(struct sitting *s)
{
	bool handed_in = s->past.is_unfinished && s->past.is_handed_in, begin = handed_in;
	enum how how = handed_in ? HOW_DONE : sitting_welcome(s, &begin);
	if (how || !begin)
		return how ? how : HOW_BACK;
	enum bad code = sitting_begin(s);
	if (code)
		return desk_broken(s->desk, code);
	desk_keeps(s->desk, "All is recorded; the time runs on.");
	s->time_over = handed_in && sitting_is_over(s);
	how = handed_in ? HOW_DONE : run_queries(s);
	return how ? how : finish(s);
}

static enum how prepared(struct sitting *s)
{
	enum bad code = sitting_prepare(s);
	if (code == BAD_CHAIN)
		s->how->refused = "the form in the record is not the one that is drawn for this "
				  "candidate; audit the record";
	else if (code == BAD_NOTHING || code == BAD_UNFAIR)
		s->how->refused = "the course cannot fill this assessment; look at it with "
				  "'barwright check'";
	else
		return code ? desk_broken(s->desk, code) : work_through(s);
	return HOW_DONE;
}

enum how sitting_run(struct desk *d, struct sitting_how *how)
{
	struct sitting s = {.desk = d, .what = how->what, .how = how};
	desk_keeps(d, "Nothing was recorded.");
	enum how end = HOW_DONE;
	enum bad code = past_read(strand_own_path(d->strand), how->what->code, &s.arena, &s.past);
	if (!code)
		code = past_read_others(strand_own_path(d->strand), d->who, &s.past);
	if (code)
		end = desk_broken(d, code);
	if (!code) {
		set_limits(&s);
		how->refused = sitting_refusal(&s);
		code = set_code(&s);
		if (code)
			end = desk_broken(d, code);
	}
	if (!code && !how->refused)
		end = prepared(&s);
	arena_release(&s.arena);
	return end;
}
