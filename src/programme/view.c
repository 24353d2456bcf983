/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "programme/view.h"

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/utf8.h>

#include "course/assessment.h"
#include "tree/json.h"

/* ---- what is reached ------------------------------------------------------------------------- */

struct lack {
	const char *competency;
	uint64_t has;
	int needs;
};

/* Competencies of an outcome that lack evidence, at most `most`; gives how many there are. */
static size_t lacks(const struct view_of *v, const char *who, const struct outcome_code *o,
	struct lack *list, size_t most)
{
	size_t n = 0;
	for (size_t k = 0; k < o->ncompetency; k++) {
		struct evidence_sum s = evidence_sum(v->evidence, who, o->competency[k]);
		if (s.reached >= (uint64_t)o->evidence)
			continue;
		if (n < most)
			list[n] = (struct lack){o->competency[k], s.reached, o->evidence};
		n++;
	}
	return n;
}

static bool is_leaf(const struct course *c, const char *code)
{
	size_t n = strlen(code);
	for (size_t k = 0; k < c->ncompetency; k++)
		if (strncmp(c->competency[k].code, code, n) == 0 && c->competency[k].code[n] == '.')
			return false;
	return true;
}

static const char *name_of(const struct view_of *v, const char *who)
{
	const char *name = v->name ? v->name(v->context, who) : NULL;
	return name ? name : "";
}

static void add_safe(struct text *out, const char *s)
{
	text_add_safe(out, s, strlen(s), false);
}

static void add_who(const struct view_of *v, const char *who, struct text *out)
{
	const char *name = name_of(v, who);
	add_safe(out, who);
	if (*name) {
		text_add(out, "  ");
		add_safe(out, name);
	}
}

static void add_day(int64_t ms, struct text *out)
{
	char time[TIME_TEXT];
	time_write(ms, time);
	text_add_bytes(out, time, 10);
}

/* ---- the matrix ------------------------------------------------------------------------------ */

enum { COLUMNS = 6, CELL = 10 };

/* "ok 85 x2": last assessed result, and how many; "no 40"; "(pr 5/8)": practice only; "-". */
static void add_cell(const struct evidence_sum *s, struct text *out)
{
	struct text cell;
	text_init(&cell);
	if (s->last && s->assessed > 1)
		text_addf(&cell, "%s %.0f x%llu", s->last->reached ? "ok" : "no", s->last->value,
			(unsigned long long)s->assessed);
	else if (s->last)
		text_addf(&cell, "%s %.0f", s->last->reached ? "ok" : "no", s->last->value);
	else if (s->answers)
		text_addf(&cell, "(%llu/%llu)", (unsigned long long)s->right,
			(unsigned long long)s->answers);
	else if (s->unsealed)
		text_add(&cell, "(unsealed)");
	else
		text_add(&cell, "-");
	text_add(out, cell.at);
	text_add_repeat(out, ' ', cell.len < CELL ? CELL - cell.len : 1);
	out->out |= cell.out;
	text_release(&cell);
}

/* A line without blanks at its end. */
static void end_line(struct text *out)
{
	while (out->len && out->at[out->len - 1] == ' ')
		out->at[--out->len] = 0;
	text_add_char(out, '\n');
}

static bool is_shown_by_anybody(const struct view_of *v, const char *code)
{
	for (const struct exhibit *p = v->evidence->piece; p; p = p->next)
		if (competency_is_in(p->competency, code))
			return true;
	for (const struct practised *p = v->evidence->practised; p; p = p->next)
		if (competency_is_in(p->competency, code))
			return true;
	return false;
}

static void add_nobody(const struct view_of *v, struct text *out)
{
	bool any = false;
	for (size_t c = 0; c < v->course->ncompetency; c++) {
		const char *code = v->course->competency[c].code;
		if (is_shown_by_anybody(v, code))
			continue;
		text_addf(out, "%s%s", any ? ", " : "\nNobody has anything in: ", code);
		any = true;
	}
	if (any)
		text_add(out, "\n");
}

static void add_block(
	const struct view_of *v, const char *const *who, size_t n, size_t first, struct text *out)
{
	text_add(out, "\n");
	text_add_repeat(out, ' ', CELL);
	for (size_t k = 0; k < n; k++)
		text_addf(out, "%-*zu", CELL, first + k + 1);
	end_line(out);
	for (size_t c = 0; c < v->course->ncompetency; c++) {
		const char *code = v->course->competency[c].code;
		if (!is_shown_by_anybody(v, code))
			continue;
		text_addf(out, "%-*s", CELL, code);
		for (size_t k = 0; k < n; k++) {
			struct evidence_sum s = evidence_sum(v->evidence, who[k], code);
			add_cell(&s, out);
		}
		end_line(out);
	}
}

static void add_strands(const struct view_of *v, struct text *out)
{
	for (const struct looked *l = v->evidence->looked; l; l = l->next) {
		if (!l->fault)
			continue;
		text_add(out, "Not counted: ");
		add_safe(out, l->path);
		text_addf(out, ": %s; see: barwright record audit\n", bad_text(l->fault));
	}
}

enum { LACKS_SHOWN = 12 };

static void add_missing(const struct view_of *v, const char *who, struct text *out)
{
	struct lack list[LACKS_SHOWN];
	const struct programme *p = v->programme;
	for (size_t o = 0; p && o < p->noutcome; o++) {
		size_t n = lacks(v, who, &p->outcome[o], list, LACKS_SHOWN);
		text_add(out, "    ");
		add_safe(out, p->outcome[o].code);
		if (!n)
			text_add(out, ": reached");
		for (size_t k = 0; k < n && k < LACKS_SHOWN; k++)
			text_addf(out, "%s%s (%llu of %d)", k ? ", " : ": missing ",
				list[k].competency, (unsigned long long)list[k].has, list[k].needs);
		text_add_char(out, '\n');
	}
}

static const char *const legend =
	"ok 85     last assessed result in per cent, good enough; x2: of two\n"
	"no 40     last assessed result, not good enough\n"
	"(5/8)     practice only: right at the first try, of answered\n"
	"(unsealed) sat or rated, but no accepted assessor has sealed it: practice\n"
	"-         nothing\n";

void view_matrix(const struct view_of *v, struct text *out)
{
	size_t n;
	const char **who = evidence_learners(v->evidence, &n);
	if (!who) {
		out->out = true;
		return;
	}
	add_safe(out, v->course->title);
	text_addf(out, ": %zu %s\n\n", n, n == 1 ? "learner" : "learners");
	for (size_t k = 0; k < n; k++) {
		text_addf(out, "%3zu  ", k + 1);
		add_who(v, who[k], out);
		text_add_char(out, '\n');
	}
	for (size_t first = 0; first < n; first += COLUMNS)
		add_block(v, who + first, n - first < COLUMNS ? n - first : COLUMNS, first, out);
	add_nobody(v, out);
	text_add(out, "\n");
	text_add(out, legend);
	if (v->programme && n) {
		text_add(out, "\nWhat is missing, by the codes of ");
		add_safe(out, v->programme->title);
		text_add(out, ":\n");
	}
	for (size_t k = 0; v->programme && k < n; k++) {
		text_addf(out, "%3zu  ", k + 1);
		add_who(v, who[k], out);
		text_add_char(out, '\n');
		add_missing(v, who[k], out);
	}
	if (v->evidence->faulty)
		text_add_char(out, '\n');
	add_strands(v, out);
}

/* ---- the transcript -------------------------------------------------------------------------- */

static void add_exhibit(const struct exhibit *p, struct text *out)
{
	text_add(out, "    ");
	add_day(p->at_ms, out);
	text_addf(out, "  %6s %%  %s  ", p->percent, p->reached ? "reached    " : "not reached");
	add_safe(out, p->title);
	if (strcmp(p->part, p->competency) != 0) {
		text_add(out, ", ");
		add_safe(out, p->part);
	}
	text_addf(out, ", %s; ", p->work);
	if (!*p->assessor)
		text_add(out, "not sealed");
	else
		text_add(out, p->assessed ? "sealed by " : "not sealed, rated by ");
	add_safe(out, p->assessor);
	text_add_char(out, '\n');
}

static void add_exhibits(const struct view_of *v, const char *who, bool assessed, struct text *out)
{
	const struct course *c = v->course;
	size_t any = 0;
	for (size_t k = 0; k < c->ncompetency; k++) {
		bool titled = false;
		for (const struct exhibit *p = v->evidence->piece; p; p = p->next) {
			if (p->assessed != assessed || strcmp(p->who, who) != 0 ||
				strcmp(p->competency, c->competency[k].code) != 0)
				continue;
			if (!titled) {
				text_addf(out, "  %s  ", c->competency[k].code);
				add_safe(out, c->competency[k].title);
				text_add_char(out, '\n');
			}
			titled = true;
			any++;
			add_exhibit(p, out);
		}
	}
	for (const struct exhibit *p = v->evidence->piece; p; p = p->next) {
		if (p->assessed != assessed || strcmp(p->who, who) != 0 ||
			course_competency(c, p->competency))
			continue;
		text_add(out, "  ");
		add_safe(out, p->competency);
		text_add(out, "  not in this version of the course\n");
		any++;
		add_exhibit(p, out);
	}
	if (!any)
		text_add(out, "  nothing\n");
}

static void add_practice(const struct view_of *v, const char *who, struct text *out)
{
	const struct course *c = v->course;
	for (size_t k = 0; k < c->ncompetency; k++) {
		struct evidence_sum s = evidence_sum(v->evidence, who, c->competency[k].code);
		if (!s.answers || !is_leaf(c, c->competency[k].code))
			continue;
		text_addf(out, "  %-6s  drills: %llu of %llu right at the first try  ",
			c->competency[k].code, (unsigned long long)s.right,
			(unsigned long long)s.answers);
		add_safe(out, c->competency[k].title);
		text_add_char(out, '\n');
	}
}

static void add_sources(const struct view_of *v, const char *who, struct text *out)
{
	char hex[HASH_HEX + 1];
	for (const struct looked *l = v->evidence->looked; l; l = l->next) {
		if (strcmp(l->who, who) != 0)
			continue;
		hash_hex(&l->head, hex);
		text_addf(out, "  strand %s, %llu lines, %llu under a seal", l->strand,
			(unsigned long long)l->lines, (unsigned long long)l->fixed);
		if (l->fault)
			text_addf(out, "; not counted: %s", bad_text(l->fault));
		text_addf(out, "\n    last hash %s\n", hex);
	}
}

void view_transcript(const struct view_of *v, const char *who, struct text *out)
{
	text_add(out, "Transcript\n\n  ");
	add_who(v, who, out);
	text_add(out, "\n  ");
	add_safe(out, v->course->title);
	text_add(out, ", version ");
	add_safe(out, v->course->version);
	text_add(out, "\n  made on ");
	add_day(v->now_ms, out);
	if (v->programme) {
		text_add(out, "\n\nOutcomes of ");
		add_safe(out, v->programme->title);
		text_add_char(out, '\n');
		add_missing(v, who, out);
	} else {
		text_add_char(out, '\n');
	}
	text_add(out, "\nAssessed: under the seal of an assessor who is accepted here\n");
	add_exhibits(v, who, true, out);
	text_add(out, "\nPractice: nobody vouches for it\n");
	add_exhibits(v, who, false, out);
	add_practice(v, who, out);
	text_add(out, "\nWhere it stands\n");
	add_sources(v, who, out);
	text_add(out,
		"\nA seal says that an assessor watched the work and that nothing was changed "
		"since. It "
		"does not replace\nthe decision of the programme, and no licence to practise.\n");
}

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

static void json_missing(const struct view_of *v, const char *who, struct json_out *j)
{
	const struct programme *p = v->programme;
	struct lack list[LACKS_SHOWN];
	json_name(j, "outcomes");
	json_open_list(j);
	for (size_t o = 0; p && o < p->noutcome; o++) {
		size_t n = lacks(v, who, &p->outcome[o], list, LACKS_SHOWN);
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
	json_pair(j, "name", name_of(v, who));
	json_name(j, "competencies");
	json_open_list(j);
	for (size_t k = 0; k < v->course->ncompetency; k++) {
		const char *code = v->course->competency[k].code;
		struct evidence_sum s = evidence_sum(v->evidence, who, code);
		json_sum(j, code, &s);
	}
	json_close_list(j);
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
		json_count(j, "lines", l->lines);
		json_count(j, "sealed_lines", l->fixed);
		json_pair(j, "head", hex);
		json_pair(j, "fault", l->fault ? bad_word(l->fault) : "");
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
