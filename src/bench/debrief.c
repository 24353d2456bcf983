/* SPDX-License-Identifier: GPL-3.0-or-later */
/* After the end: what happened when, what each fault cost, and what it would have taken to find it. */
#include <string.h>

#include "bench/view.h"

/* ---- the line of time ------------------------------------------------------------------------ */

static const char *event_words(
	const struct bench *b, const struct bench_event *e, const char **what)
{
	const struct procedure *p = b->procedure;
	*what = "";
	switch (e->kind) {
	case HAPPENED_STEP:
		*what = p->step[e->what].title;
		return "done";
	case HAPPENED_LEFT_OUT:
		*what = p->step[e->what].title;
		return "left out";
	case HAPPENED_ORDER:
		*what = p->order[e->what].say;
		return "out of order";
	case HAPPENED_WINDOW:
		*what = p->window[e->what].say;
		return "out of time";
	case HAPPENED_LOOK:
		*what = p->look[e->what].title;
		return "looked at";
	case HAPPENED_MADE:
		*what = p->fault[e->what].title;
		return "fault made";
	case HAPPENED_FOUND:
		*what = p->fault[e->what].title;
		return "found";
	case HAPPENED_SHOWN:
		*what = p->fault[e->what].seen;
		return "it showed";
	case HAPPENED_GONE:
		*what = p->fault[e->what].title;
		return "no longer so";
	case HAPPENED_MENDED:
		*what = p->fault[e->what].title;
		return "put right";
	case HAPPENED_BACK:
		*what = p->back[e->what].title;
		return "went back";
	case HAPPENED_BOUGHT:
		*what = p->stuff[e->what].title;
		return "ordered";
	case HAPPENED_WAITED:
		return "waited";
	case HAPPENED_NAMED:
		*what = p->fault[e->what].title;
		return "named";
	case HAPPENED_END:
		*what = bench_end_word[e->what];
		return "the end";
	}
	return "";
}

static void time_line(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	page_add(p, BLOCK_HEADING, "What was done, and what nobody saw");
	for (size_t i = 0; i < b->nlog; i++) {
		const char *what, *words = event_words(b, &b->log[i], &what);
		page_row(p, view_clock(p->arena, b, b->log[i].at_s), "%s: %s", words, what);
	}
	if (b->lost)
		page_add(p, BLOCK_TEXT, "%zu more events were not kept.", b->lost);
}

/* ---- faults ---------------------------------------------------------------------------------- */

static void when_found(struct page *p, const struct bench_view *v, size_t k)
{
	const struct bench *b = v->bench;
	const struct fault_mark *m = &b->fault[k];
	const struct fault *f = &b->procedure->fault[k];
	if (f->look != SIZE_MAX)
		page_row(p, "Could have been found", "%s, with %s (%s)",
			b->procedure->step[f->check_at].code, b->procedure->look[f->look].code,
			f->sign);
	if (m->found_s >= 0 && (m->shown_s < 0 || m->found_s < m->shown_s))
		page_row(p, "Found", "%s, by looking", view_clock(p->arena, b, m->found_s));
	if (m->shown_s >= 0)
		page_row(p, "Showed",
			f->shows < b->procedure->nstep ? "%s, at %s: %s" : "%s, %s: %s",
			view_clock(p->arena, b, m->shown_s),
			f->shows < b->procedure->nstep ? b->procedure->step[f->shows].code
			: f->shows == AT_DELIVERY      ? "at delivery"
						       : "in service",
			f->seen);
}

static void fault_add(struct page *p, const struct bench_view *v, size_t k)
{
	const struct bench *b = v->bench;
	const struct fault_mark *m = &b->fault[k];
	const struct fault *f = &b->procedure->fault[k];
	page_add(p, m->is_there ? BLOCK_BAD : BLOCK_GOOD, "%s %s: %s", f->code, f->title,
		m->is_there ? "left in the work" : "put right");
	page_row(p, "Made", "%s, at %s", view_clock(p->arena, b, m->made_s),
		b->procedure->step[f->made].code);
	when_found(p, v, k);
	if (m->cost_s > 0 || m->cost_money > 0)
		page_row(p, "Cost", "%.0f min and %.0f in material", m->cost_s / 60, m->cost_money);
	page_row(p, m->is_there ? "What comes of it" : "It would have meant", "%s", f->unnoticed);
	page_row(p, "Remedy", "%s", f->remedy.text);
}

static size_t faults_add(struct page *p, const struct bench_view *v)
{
	size_t n = 0;
	for (size_t k = 0; k < v->bench->procedure->nfault; k++) {
		/* a condition that came and went unseen while hands went on is no story */
		const struct fault_mark *m = &v->bench->fault[k];
		if (!m->times || (!m->is_there && m->found_s < 0 && m->shown_s < 0))
			continue;
		if (!n++)
			page_add(p, BLOCK_HEADING, "The faults");
		fault_add(p, v, k);
	}
	return n;
}

static void hunt_add(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	const struct procedure *pr = b->procedure;
	if (b->mode != BENCH_HUNT || b->seeded == SIZE_MAX)
		return;
	const struct fault *f = &pr->fault[b->seeded];
	page_add(p, b->named == b->seeded ? BLOCK_GOOD : BLOCK_BAD, "It was %s: %s, made at %s.",
		f->code, f->title, pr->step[f->made].code);
	if (b->named != SIZE_MAX && b->named != b->seeded)
		page_row(p, "Named", "%s %s", pr->fault[b->named].code, pr->fault[b->named].title);
	page_row(p, "The earliest check", "%s, with %s: %s", pr->step[f->check_at].code,
		f->look == SIZE_MAX ? "none" : pr->look[f->look].code, f->sign);
	page_row(p, "Looks taken", "%lu", b->looks);
}

/* ---- score and what next --------------------------------------------------------------------- */

static void score_add(struct page *p, const struct bench_view *v, const struct bench_score *s)
{
	const struct bench *b = v->bench;
	page_add(p, BLOCK_HEADING, "Score");
	page_add(p, s->is_passed ? BLOCK_GOOD : BLOCK_BAD, "%.1f %%: %s", s->percent,
		s->is_passed ? "passed" : "not passed");
	for (size_t i = 0; i < s->n; i++)
		page_row(p, s->station[i].title, "level %d, %d points, weight %d%s",
			s->station[i].level, s->station[i].points, s->station[i].weight,
			s->station[i].is_critical ? ", critical error" : "");
	if (b->reasons)
		page_row(p, "Reasons given", "%u of %u right", b->reasons_right, b->reasons);
	page_row(p, "Time", "%s, %.0f min of it attended",
		view_clock(p->arena, b, bench_clock_s(b)), b->attended_s / 60);
	page_row(p, "Material and time, in money", "%.0f", bench_cost(b));
}

/* K3 is asked for by K3 and by K3.1. */
static bool covers(const char *asked, const char *given)
{
	size_t n = strlen(asked);
	return strncmp(asked, given, n) == 0 && (!given[n] || given[n] == '.');
}

static bool teaches(const struct module *m, const char *competency)
{
	for (size_t i = 0; i < m->nproblem; i++)
		if (covers(competency, m->problem[i].competency))
			return true;
	return false;
}

static bool is_weak(const struct bench *b, const char *competency)
{
	for (size_t k = 0; k < b->procedure->nfault; k++)
		if (b->fault[k].times && (b->fault[k].is_there || b->fault[k].shown_s >= 0) &&
			strcmp(b->procedure->fault[k].competency, competency) == 0)
			return true;
	return false;
}

static void next_add(struct page *p, const struct bench *b, const struct course *c)
{
	bool any = false;
	for (size_t i = 0; c && i < c->ncompetency; i++) {
		const struct competency *k = &c->competency[i];
		if (strchr(k->code, '.') || !is_weak(b, k->code))
			continue;
		if (!any)
			page_add(p, BLOCK_HEADING, "What to practise next");
		any = true;
		page_add(p, BLOCK_TEXT, "%s %s", k->code, k->title);
		for (size_t m = 0; m < c->nmodule; m++)
			if (teaches(&c->module[m], k->code))
				page_add(p, BLOCK_ITEM, "barwright drill %s: %s", c->module[m].code,
					c->module[m].title);
	}
}

void view_debrief(struct page *p, const struct bench_view *v, const struct bench_score *s,
	const struct course *course)
{
	const struct bench *b = v->bench;
	bool is_good = b->end == END_ACCEPTED || (b->end == END_REFERRED && s->is_passed);
	page_add(p, is_good ? BLOCK_GOOD : BLOCK_BAD, "%s",
		b->mode == BENCH_HUNT && b->end == END_ACCEPTED  ? "Found."
		: b->mode == BENCH_HUNT && b->end == END_REFUSED ? "That was not it."
								 : b->procedure->end_text[b->end]);
	if (b->time_is_up)
		page_add(p, BLOCK_TEXT, "The time was up.");
	if (b->end == END_REFERRED)
		page_add(p, BLOCK_TEXT,
			s->is_passed ? "Rightly so: as prescribed it cannot be made."
				     : "It could have been made as prescribed.");
	hunt_add(p, v);
	score_add(p, v, s);
	if (!faults_add(p, v) && b->end == END_ACCEPTED)
		page_add(p, BLOCK_TEXT, "No fault was made that left a trace.");
	picture_bar(p, v);
	time_line(p, v);
	next_add(p, b, course);
}
