/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <barwright/base/clock.h>

#include "programme/view_parts.h"
#include "tree/json.h"

/* ---- as JSON --------------------------------------------------------------------------------- */

static void json_time(struct json_out *j, const char *name, int64_t ms)
{
	char time[TIME_TEXT];
	time_write(ms, time);
	json_name(j, name);
	json_text(j, time);
}

static void json_pair(struct json_out *j, const char *name, const char *value)
{
	json_name(j, name);
	json_text(j, value);
}

static void json_count(struct json_out *j, const char *name, uint64_t n)
{
	json_name(j, name);
	json_whole(j, (int64_t)n);
}

static void json_exhibit(struct json_out *j, const struct exhibit *p)
{
	json_open_object(j);
	json_pair(j, "competency", p->competency);
	json_pair(j, "of", p->of);
	json_pair(j, "title", p->title);
	json_pair(j, "part", p->part);
	json_pair(j, "work", p->work);
	json_pair(j, "percent", p->percent);
	json_pair(j, "needed", p->needed);
	json_name(j, "reached");
	json_truth(j, p->reached);
	json_name(j, "assessed");
	json_truth(j, p->assessed);
	json_pair(j, "assessor", p->assessor);
	json_pair(j, "identity_check", p->identity);
	json_pair(j, "strand", p->strand);
	json_time(j, "at", p->at_ms);
	json_close_object(j);
}

static void json_sum(struct json_out *j, const char *code, const struct evidence_sum *s)
{
	json_open_object(j);
	json_pair(j, "competency", code);
	json_count(j, "assessed", s->assessed);
	json_count(j, "reached", s->reached);
	json_name(j, "best");
	if (s->best)
		json_exhibit(j, s->best);
	else
		json_null(j);
	json_name(j, "last");
	if (s->last)
		json_exhibit(j, s->last);
	else
		json_null(j);
	json_count(j, "unsealed", s->unsealed);
	json_count(j, "practice_answers", s->answers);
	json_count(j, "practice_right", s->right);
	json_close_object(j);
}

static void json_runs(const struct view_of *v, const char *who, struct json_out *j)
{
	json_name(j, "runs");
	json_open_list(j);
	for (const struct benched *b = v->evidence->benched; b; b = b->next) {
		if (strcmp(b->who, who) != 0)
			continue;
		json_open_object(j);
		json_pair(j, "run", b->run);
		json_pair(j, "end", b->end);
		json_pair(j, "percent", b->percent);
		json_name(j, "assessed");
		json_truth(j, b->assessed);
		json_pair(j, "assessor", b->assessor);
		json_pair(j, "identity_check", b->identity);
		json_time(j, "at", b->at_ms);
		json_close_object(j);
	}
	json_close_list(j);
}

static void json_missing(const struct view_of *v, const char *who, struct json_out *j)
{
	const struct programme *p = v->programme;
	struct lack list[LACKS_SHOWN];
	json_name(j, "outcomes");
	json_open_list(j);
	for (size_t o = 0; p && o < p->noutcome; o++) {
		size_t n = lacks_find(v, who, &p->outcome[o], list, LACKS_SHOWN);
		json_open_object(j);
		json_pair(j, "outcome", p->outcome[o].code);
		json_pair(j, "title", p->outcome[o].title);
		json_name(j, "reached");
		json_truth(j, n == 0);
		json_name(j, "missing");
		json_open_list(j);
		for (size_t k = 0; k < n && k < LACKS_SHOWN; k++) {
			json_open_object(j);
			json_pair(j, "competency", list[k].competency);
			json_count(j, "has", list[k].has);
			json_count(j, "needs", (uint64_t)list[k].needs);
			json_close_object(j);
		}
		json_close_list(j);
		json_close_object(j);
	}
	json_close_list(j);
}

static void json_learner(const struct view_of *v, const char *who, struct json_out *j)
{
	json_pair(j, "who", who);
	json_pair(j, "name", view_name(v, who));
	json_name(j, "competencies");
	json_open_list(j);
	for (size_t k = 0; k < v->course->ncompetency; k++) {
		const char *code = v->course->competency[k].code;
		struct evidence_sum s = evidence_sum(v->evidence, who, code);
		json_sum(j, code, &s);
	}
	json_close_list(j);
	json_runs(v, who, j);
	json_missing(v, who, j);
}

static void json_strands(const struct view_of *v, const char *who, struct json_out *j)
{
	char hex[HASH_HEX + 1];
	json_name(j, "strands");
	json_open_list(j);
	for (const struct looked *l = v->evidence->looked; l; l = l->next) {
		if (who && strcmp(l->who, who) != 0)
			continue;
		hash_hex(&l->head, hex);
		json_open_object(j);
		json_pair(j, "strand", l->strand);
		json_pair(j, "who", l->who);
		json_pair(j, "code", l->code);
		json_count(j, "lines", l->lines);
		json_count(j, "sealed_lines", l->fixed);
		json_pair(j, "head", hex);
		json_pair(j, "fault", l->fault ? bad_word(l->fault) : "");
		const struct erasure *e = v->erased ? erasure_of(v->erased, l->strand) : NULL;
		json_name(j, "erased");
		if (e) {
			json_open_object(j);
			json_time(j, "at", e->at_ms);
			json_pair(j, "by", e->by);
			json_count(j, "lines", e->size);
			json_close_object(j);
		} else {
			json_null(j);
		}
		json_close_object(j);
	}
	json_close_list(j);
}

static void json_done(struct json_out *j, struct text *out)
{
	json_close_object(j);
	out->out |= json_end(j) != FINE;
	text_add_char(out, '\n');
}

void view_matrix_json(const struct view_of *v, struct text *out)
{
	struct json_out j;
	size_t n;
	const char **who = evidence_learners(v->evidence, &n);
	if (!who) {
		out->out = true;
		return;
	}
	json_begin(&j, out, true);
	json_open_object(&j);
	json_pair(&j, "course", v->course->code);
	json_pair(&j, "programme", v->programme ? v->programme->code : "");
	json_name(&j, "learners");
	json_open_list(&j);
	for (size_t k = 0; k < n; k++) {
		json_open_object(&j);
		json_learner(v, who[k], &j);
		json_close_object(&j);
	}
	json_close_list(&j);
	json_strands(v, NULL, &j);
	json_done(&j, out);
}

void view_transcript_json(const struct view_of *v, const char *who, struct text *out)
{
	struct json_out j;
	json_begin(&j, out, true);
	json_open_object(&j);
	json_pair(&j, "course", v->course->code);
	json_pair(&j, "programme", v->programme ? v->programme->code : "");
	json_time(&j, "made", v->now_ms);
	json_learner(v, who, &j);
	json_name(&j, "evidence");
	json_open_list(&j);
	for (const struct exhibit *p = v->evidence->piece; p; p = p->next)
		if (strcmp(p->who, who) == 0)
			json_exhibit(&j, p);
	json_close_list(&j);
	json_strands(v, who, &j);
	json_done(&j, out);
}
