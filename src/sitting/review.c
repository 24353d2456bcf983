/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sitting/review.h"

#include <stdio.h>
#include <string.h>

#include <barwright/item/score.h>
#include <barwright/record/graded.h>

#include "desk/form.h"
#include "sitting/outcome.h"

/* The last answer in time to one thing asked. */
struct reviewed {
	const char *held; /* as it was given before handing in; null: it was scored at once */
	bool is_right;
};
struct review_sitting {
	const struct assessment *what;
	const struct course *course;
	const char *code; /* of the sitting */
	uint64_t limit_ms;
	const struct problem *const *form;
	struct reviewed **answer; /* by place and ask */
	bool is_other;            /* something was scored that was not given */
	size_t n;
};

static enum bad say(struct audit_finding *out, enum audit_result result, const char *words)
{
	out->result = result;
	snprintf(out->words, sizeof out->words, "%s", words);
	return FINE;
}

/* ---- the form -------------------------------------------------------------------------------- */

static const struct course *course_of(const struct review *r, const char *code)
{
	for (size_t n = 0; n < r->ncourse; n++)
		if (strcmp(r->course[n]->code, code) == 0)
			return r->course[n];
	return NULL;
}

static const struct assessment *assessment_of_form(
	const struct review *r, const struct line_form *form)
{
	for (size_t n = 0; n < r->nassessment; n++)
		if (strcmp(r->assessment[n]->code, form->assessment) == 0 &&
			hash_is_equal(&r->assessment[n]->hash, &form->content))
			return r->assessment[n];
	return NULL;
}

static bool is_form(const struct review_sitting *s, const struct texts *items)
{
	if (items->n != s->n)
		return false;
	for (size_t n = 0; n < s->n; n++)
		if (strcmp(items->at[n], s->form[n]->code) != 0)
			return false;
	return true;
}

static enum bad answers_make(struct review *r, struct review_sitting *s)
{
	s->answer = arena_many(&r->arena, s->n + 1, struct reviewed *);
	for (size_t n = 0; s->answer && n < s->n; n++) {
		s->answer[n] = arena_many(&r->arena, s->form[n]->nask + 1, struct reviewed);
		if (!s->answer[n])
			return BAD_MEMORY;
	}
	return s->answer ? FINE : BAD_MEMORY;
}

static enum bad on_form(struct review *r, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out)
{
	struct line_form form;
	arena_release(&r->arena);
	r->sitting = NULL;
	enum bad code = line_form_read(line, &r->arena, &form);
	if (code)
		return code == BAD_MEMORY ? code : say(out, AUDIT_NOT_MADE, "it cannot be read");
	struct review_sitting *s = arena_new(&r->arena, struct review_sitting);
	if (!s)
		return BAD_MEMORY;
	s->course = course_of(r, open->course);
	s->what = assessment_of_form(r, &form);
	s->limit_ms = form.limit_ms;
	s->code = arena_copy(&r->arena, open->sitting, strlen(open->sitting));
	if (!s->course || !s->what)
		return say(out, AUDIT_NOT_MADE,
			s->course ? "its assessment is not here, is locked, or was changed since"
				  : "its course is not here");
	if (!course_is_same(s->course, &open->content))
		return say(out, AUDIT_NOT_MADE, "its course was changed since");
	const struct form_key key = {line->who, open->sitting, form.attempt};
	s->n = assessment_places(s->what);
	code = form_draw(s->what, s->course, &key, &r->arena, &s->form);
	if (code == BAD_NOTHING)
		return say(out, AUDIT_DIFFERS, "the course cannot fill this assessment");
	if (!code)
		code = answers_make(r, s);
	if (code || !s->code)
		return BAD_MEMORY;
	if (!is_form(s, &form.items))
		return say(out, AUDIT_DIFFERS, "the form is not the one drawn for this candidate");
	r->sitting = s;
	return say(out, AUDIT_EQUAL, "");
}

/* ---- answers and the result ------------------------------------------------------------------ */

static bool is_ours(const struct review *r, const struct line_open *open)
{
	return r->sitting && strcmp(r->sitting->code, open->sitting) == 0;
}

static struct reviewed *answer_of(const struct review_sitting *s, const struct line_answer *a)
{
	for (size_t n = 0; n < s->n; n++)
		if (strcmp(s->form[n]->code, a->item) == 0 && a->ask >= 1 &&
			a->ask <= s->form[n]->nask)
			return &s->answer[n][a->ask - 1];
	return NULL;
}

static enum bad on_answer(struct review *r, const struct strand_line *line)
{
	struct line_answer a;
	struct review_sitting *s = r->sitting;
	enum bad code = line_answer_read(line, &r->arena, &a);
	struct reviewed *to = code || a.late_ms ? NULL : answer_of(s, &a);
	if (!to)
		return code == BAD_MEMORY ? code : FINE;
	if (line_answer_is_held(&a)) {
		to->held = a.typed;
		return FINE;
	}
	to->is_right = strcmp(a.outcome, outcome_word(OUTCOME_RIGHT)) == 0;
	s->is_other |= to->held && strcmp(to->held, a.typed) != 0;
	return FINE;
}

static bool is_same(const struct texts *a, const struct texts *b)
{
	if (a->n != b->n)
		return false;
	for (size_t n = 0; n < a->n; n++)
		if (strcmp(a->at[n], b->at[n]) != 0)
			return false;
	return true;
}

static bool is_same_result(const struct line_result *a, const struct line_result *b)
{
	return strcmp(a->verdict, b->verdict) == 0 && strcmp(a->percent, b->percent) == 0 &&
	       strcmp(a->needed, b->needed) == 0 && is_same(&a->part, &b->part) &&
	       is_same(&a->part_percent, &b->part_percent) &&
	       is_same(&a->part_needed, &b->part_needed) &&
	       is_same(&a->part_verdict, &b->part_verdict);
}

static enum bad result_again(
	const struct review_sitting *s, struct arena *mem, struct line_result *out)
{
	struct marked *place = arena_many(mem, s->n + 1, struct marked);
	const struct circumstances how = {0};
	if (!place)
		return BAD_MEMORY;
	for (size_t n = 0; n < s->n; n++) {
		place[n] = (struct marked){s->form[n], assessment_place(s->what, n)->critical, 0};
		for (size_t k = 0; k < s->form[n]->nask; k++)
			place[n].right += s->answer[n][k].is_right;
	}
	return outcome_find(s->what, s->course, place, s->n, &how, mem, out);
}

static enum bad on_result(
	struct review *r, const struct strand_line *line, struct audit_finding *out)
{
	struct arena mem = {0};
	struct line_result said, made;
	enum bad code = line_result_read(line, &mem, &said);
	if (code && code != BAD_MEMORY) {
		arena_release(&mem);
		return say(out, AUDIT_NOT_MADE, "it cannot be read");
	}
	if (!code)
		code = result_again(r->sitting, &mem, &made);
	if (!code && r->sitting->is_other)
		say(out, AUDIT_DIFFERS, "an answer was scored that was not given");
	else if (!code && !is_same_result(&said, &made))
		say(out, AUDIT_DIFFERS, "the result is not what the answers come to");
	else if (!code)
		say(out, AUDIT_EQUAL, "");
	arena_release(&mem);
	return code;
}

enum bad review_line(void *context, const struct strand_line *line, const struct line_open *open,
	struct audit_finding *out)
{
	struct review *r = context;
	enum line_kind kind = line_kind(line->kind);
	*out = (struct audit_finding){AUDIT_NOT_MADE, ""};
	if (strcmp(open->mode, "sit") != 0)
		return FINE;
	if (kind == LINE_FORM)
		return on_form(r, line, open, out);
	if (!is_ours(r, open))
		return kind == LINE_RESULT
			       ? say(out, AUDIT_NOT_MADE, "its form could not be made again")
			       : FINE;
	return kind == LINE_RESULT ? on_result(r, line, out) : on_answer(r, line);
}
