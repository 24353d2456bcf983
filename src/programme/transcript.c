/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "programme/view_parts.h"

static bool is_leaf(const struct course *c, const char *code)
{
	size_t n = strlen(code);
	for (size_t k = 0; k < c->ncompetency; k++)
		if (strncmp(c->competency[k].code, code, n) == 0 && c->competency[k].code[n] == '.')
			return false;
	return true;
}

/* ---- the transcript -------------------------------------------------------------------------- */

static void add_word_of(bool assessed, const char *assessor, bool rated, struct text *out)
{
	if (assessed)
		text_add(out, "sealed by ");
	else
		text_add(out, rated && *assessor ? "not sealed, rated by " : "not sealed");
	view_add_safe(out, assessor);
	text_add_char(out, '\n');
}

/* How the assessor knew who it was. */
static void add_identity(const char *identity, struct text *out)
{
	if (!*identity)
		return;
	text_add(out, "; identity: ");
	view_add_safe(out, strcmp(identity, "not-stated") ? identity : "not stated");
}

/* Result and whose word it is, and below what was sat or shown. */
static void add_exhibit(const struct exhibit *p, struct text *out)
{
	struct text work;
	text_init(&work);
	text_add(out, "    ");
	view_add_day(p->at_ms, out);
	text_addf(out, "  %5.4g %%  %s  ", p->value, p->reached ? "reached    " : "not reached");
	add_word_of(p->assessed, p->assessor, true, out);
	view_add_safe(&work, p->title);
	if (strcmp(p->part, p->competency) != 0) {
		text_add(&work, "; ");
		view_add_safe(&work, p->part);
	}
	text_addf(&work, ", %s", p->work);
	add_identity(p->identity, &work);
	view_add_words("                ", &work, out);
	text_release(&work);
}

static size_t add_exhibits(
	const struct view_of *v, const char *who, bool assessed, struct text *out)
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
				view_add_safe(out, c->competency[k].title);
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
		view_add_safe(out, p->competency);
		text_add(out, "  not in this version of the course\n");
		any++;
		add_exhibit(p, out);
	}
	return any;
}

static size_t add_practice(const struct view_of *v, const char *who, struct text *out)
{
	const struct course *c = v->course;
	size_t any = 0;
	for (size_t k = 0; k < c->ncompetency; k++) {
		struct evidence_sum s = evidence_sum(v->evidence, who, c->competency[k].code);
		if (!s.answers || !is_leaf(c, c->competency[k].code))
			continue;
		any++;
		text_addf(out, "  %-6s  drills: %llu of %llu right at the first try  ",
			c->competency[k].code, (unsigned long long)s.right,
			(unsigned long long)s.answers);
		view_add_safe(out, c->competency[k].title);
		text_add_char(out, '\n');
	}
	return any;
}

static size_t add_runs(const struct view_of *v, const char *who, bool assessed, struct text *out)
{
	size_t any = 0;
	for (const struct benched *b = v->evidence->benched; b; b = b->next) {
		if (strcmp(b->who, who) != 0 || b->assessed != assessed)
			continue;
		if (!any)
			text_add(out, "  At the simulated bench\n");
		any++;
		text_add(out, "    ");
		view_add_day(b->at_ms, out);
		text_addf(out, "  %5.4g %%  %-11s  ", b->value, b->end);
		add_word_of(b->assessed, b->assessor, false, out);
		text_add_repeat(out, ' ', 16);
		view_add_safe(out, b->run);
		add_identity(b->identity, out);
		text_add_char(out, '\n');
	}
	return any;
}

/* Whoever has neither shown nor tried anything is told so. */
static void add_work(const struct view_of *v, const char *who, bool assessed, struct text *out)
{
	size_t n = add_exhibits(v, who, assessed, out);
	n += add_runs(v, who, assessed, out);
	if (!assessed)
		n += add_practice(v, who, out);
	if (!n)
		text_add(out, "  nothing\n");
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
		if (strcmp(l->code, who) != 0)
			text_addf(out, ", as %s", l->code);
		if (l->fault)
			text_addf(out, "; not counted: %s", bad_text(l->fault));
		text_addf(out, "\n    fingerprint of its last line\n    %s\n", hex);
	}
}

/* Codes of the same person on other machines, each once. */
static void add_codes(const struct view_of *v, const char *who, struct text *out)
{
	for (const struct looked *l = v->evidence->looked; l; l = l->next) {
		const struct looked *before = v->evidence->looked;
		while (before != l && strcmp(before->code, l->code) != 0)
			before = before->next;
		if (before == l && strcmp(l->who, who) == 0 && strcmp(l->code, who) != 0)
			text_addf(out, "\n  also recorded as %s", l->code);
	}
}

void view_transcript(const struct view_of *v, const char *who, struct text *out)
{
	text_add(out, "Transcript\n\n  ");
	view_add_who(v, who, out);
	add_codes(v, who, out);
	text_add(out, "\n  ");
	view_add_safe(out, v->course->title);
	text_add(out, ", version ");
	view_add_safe(out, v->course->version);
	text_add(out, "\n  made on ");
	view_add_day(v->now_ms, out);
	if (view_is_erased(v, who)) {
		text_add(out, "\n\n");
		view_add_erased(v, who, out);
		text_add(out, "  Nothing was recorded since.\n\nWhere it stood\n");
		add_sources(v, who, out);
		return;
	}
	if (v->programme) {
		text_add(out, "\n\nOutcomes of ");
		view_add_safe(out, v->programme->title);
		text_add_char(out, '\n');
		view_add_missing(v, who, out);
	} else {
		text_add_char(out, '\n');
	}
	view_add_erased(v, who, out);
	text_add(out, "\nAssessed: under the seal of an assessor who is accepted here\n");
	add_work(v, who, true, out);
	text_add(out, "\nPractice: nobody vouches for it\n");
	add_work(v, who, false, out);
	text_add(out, "\nWhere it stands\n");
	add_sources(v, who, out);
	text_add(out,
		"\n  A seal says that an assessor watched the work and that nothing was changed\n"
		"  since. It does not replace the decision of the programme, and it is no\n"
		"  licence to practise.\n");
}
