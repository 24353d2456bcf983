/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include "course/assessment.h"
#include "programme/view_parts.h"

/* ---- the matrix ------------------------------------------------------------------------------ */

enum { COLUMNS = 6, CODE = 10, CELL = 11 }; /* "(unsealed)" and a blank */

/* "ok 85 x2": last assessed result, and how many; "no 40"; "(5/8)": practice only; "-". */
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

/* Is the family above it told to be empty already? */
static bool is_told(const struct view_of *v, const char *code)
{
	for (size_t c = 0; c < v->course->ncompetency; c++) {
		const char *above = v->course->competency[c].code;
		if (strcmp(above, code) != 0 && competency_is_in(code, above) &&
			!is_shown_by_anybody(v, above))
			return true;
	}
	return false;
}

static void add_nobody(const struct view_of *v, struct text *out)
{
	struct text words;
	text_init(&words);
	for (size_t c = 0; c < v->course->ncompetency; c++) {
		const char *code = v->course->competency[c].code;
		if (!is_shown_by_anybody(v, code) && !is_told(v, code))
			text_addf(&words, "%s%s",
				words.len ? ", " : "Nobody has anything in: ", code);
	}
	if (words.len) {
		text_add_char(out, '\n');
		view_add_words("", &words, out);
	}
	text_release(&words);
}

static void add_block(
	const struct view_of *v, const char *const *who, size_t n, size_t first, struct text *out)
{
	text_add(out, "\n");
	text_add_repeat(out, ' ', CODE);
	for (size_t k = 0; k < n; k++)
		text_addf(out, "%-*zu", CELL, first + k + 1);
	end_line(out);
	for (size_t c = 0; c < v->course->ncompetency; c++) {
		const char *code = v->course->competency[c].code;
		if (!is_shown_by_anybody(v, code))
			continue;
		text_addf(out, "%-*s", CODE, code);
		for (size_t k = 0; k < n; k++) {
			struct evidence_sum s = evidence_sum(v->evidence, who[k], code);
			add_cell(&s, out);
		}
		end_line(out);
	}
}

/* ---- learner by learner ---------------------------------------------------------------------- */

static void add_percent(const struct exhibit *p, struct text *out)
{
	if (p)
		text_addf(out, "%5.4g %%", p->value);
	else
		text_add(out, "      -");
}

static void add_drills(const struct evidence_sum *s, struct text *out)
{
	char drills[48] = "-";
	if (s->answers)
		snprintf(drills, sizeof drills, "%llu/%llu", (unsigned long long)s->right,
			(unsigned long long)s->answers);
	text_addf(out, "%9s", drills);
}

static bool is_empty(const struct evidence_sum *s)
{
	return !s->assessed && !s->unsealed && !s->answers;
}

static void add_sum(const char *code, const struct evidence_sum *s, struct text *out)
{
	text_addf(out, "  %-8s%6llu%9llu", code, (unsigned long long)s->assessed,
		(unsigned long long)s->reached);
	add_percent(s->best, out);
	add_percent(s->last, out);
	text_addf(out, "%10llu", (unsigned long long)s->unsealed);
	add_drills(s, out);
	if (s->last) {
		text_add(out, "  ");
		view_add_day(s->last->at_ms, out);
		text_add(out, "  ");
		view_add_safe(out, s->last->assessor);
	}
	text_add_char(out, '\n');
}

static void add_runs(const struct view_of *v, const char *who, struct text *out)
{
	struct benched_sum s = benched_sum(v->evidence, who);
	if (!s.runs)
		return;
	text_addf(out,
		"  At the simulated bench: %llu %s, sealed %llu, best %.4g %%, last %.4g %% on ",
		(unsigned long long)s.runs, s.runs == 1 ? "run" : "runs",
		(unsigned long long)s.assessed, s.best->value, s.last->value);
	view_add_day(s.last->at_ms, out);
	text_add_char(out, '\n');
}

static void add_learner(const struct view_of *v, const char *who, struct text *out)
{
	bool any = false;
	for (size_t c = 0; c < v->course->ncompetency; c++) {
		const char *code = v->course->competency[c].code;
		struct evidence_sum s = evidence_sum(v->evidence, who, code);
		if (is_empty(&s))
			continue;
		if (!any)
			text_add(out, "          sealed  reached   best   last  unsealed   drills  "
				      "last on     by\n");
		any = true;
		add_sum(code, &s, out);
	}
	add_runs(v, who, out);
	view_add_erased(v, who, out);
	if (!any && !view_is_erased(v, who) && !benched_sum(v->evidence, who).runs)
		text_add(out, "  nothing\n");
}

static void add_learners(
	const struct view_of *v, const char *const *who, size_t n, struct text *out)
{
	for (size_t k = 0; k < n; k++) {
		text_addf(out, "\n%3zu  ", k + 1);
		view_add_who(v, who[k], out);
		text_add_char(out, '\n');
		add_learner(v, who[k], out);
	}
}

static void add_strands(const struct view_of *v, struct text *out)
{
	for (const struct looked *l = v->evidence->looked; l; l = l->next) {
		if (!l->fault)
			continue;
		text_add(out, "Not counted: ");
		view_add_safe(out, l->path);
		text_addf(out, ": %s; see: barwright record audit\n", bad_text(l->fault));
	}
}

static const char *const legend =
	"ok 85     last assessed result in per cent, good enough; x2: of two\n"
	"no 40     last assessed result, not good enough\n"
	"(5/8)     practice only: right at the first try, of answered\n"
	"(unsealed) sat, rated or run, but no accepted assessor has sealed it: practice\n"
	"-         nothing\n";

/* Of the first competency with parts, so that nobody wonders why it is below one of them. */
static void add_weakest(const struct course *c, struct text *out)
{
	for (size_t k = 0; k < c->ncompetency; k++)
		for (size_t n = 0; n < c->ncompetency; n++) {
			const char *whole = c->competency[k].code, *part = c->competency[n].code;
			if (k == n || !competency_is_in(part, whole))
				continue;
			text_add(out, "A competency with parts, as ");
			view_add_safe(out, whole);
			text_add(out, " with ");
			view_add_safe(out, part);
			text_add(out, ", stands as its weakest part.\n");
			return;
		}
}

void view_matrix(const struct view_of *v, struct text *out)
{
	size_t n;
	const char **who = evidence_learners(v->evidence, &n);
	if (!who) {
		out->out = true;
		return;
	}
	view_add_safe(out, v->course->title);
	text_addf(out, ": %zu %s\n\n", n, n == 1 ? "learner" : "learners");
	for (size_t k = 0; k < n; k++) {
		text_addf(out, "%3zu  ", k + 1);
		view_add_who(v, who[k], out);
		text_add_char(out, '\n');
	}
	for (size_t first = 0; first < n; first += COLUMNS)
		add_block(v, who + first, n - first < COLUMNS ? n - first : COLUMNS, first, out);
	add_nobody(v, out);
	text_add(out, "\n");
	text_add(out, legend);
	add_weakest(v->course, out);
	add_learners(v, who, n, out);
	if (v->programme && n) {
		text_add(out, "\nWhat is missing, by the codes of ");
		view_add_safe(out, v->programme->title);
		text_add(out,
			"\n(sealed pieces that reached the mark, of those that are needed):\n");
	}
	for (size_t k = 0; v->programme && k < n; k++) {
		if (view_is_erased(v, who[k]))
			continue;
		text_addf(out, "%3zu  ", k + 1);
		view_add_who(v, who[k], out);
		text_add_char(out, '\n');
		view_add_missing(v, who[k], out);
	}
	if (v->evidence->faulty)
		text_add_char(out, '\n');
	add_strands(v, out);
}
