/* SPDX-License-Identifier: GPL-3.0-or-later */
/* After the end: what happened when, what each fault cost, and what it would have taken to find it. */
#include <string.h>

#include "bench/plan.h"
#include "bench/view.h"

/* ---- the line of time ------------------------------------------------------------------------ */

static const char *const happened[] = {
	[HAPPENED_STEP] = "done",
	[HAPPENED_LEFT_OUT] = "left out",
	[HAPPENED_ORDER] = "out of order",
	[HAPPENED_WINDOW] = "out of time",
	[HAPPENED_LOOK] = "looked at",
	[HAPPENED_MADE] = "fault made",
	[HAPPENED_FOUND] = "found",
	[HAPPENED_SHOWN] = "it showed",
	[HAPPENED_GONE] = "no longer so",
	[HAPPENED_MENDED] = "put right",
	[HAPPENED_BACK] = "went back",
	[HAPPENED_BOUGHT] = "ordered",
	[HAPPENED_WAITED] = "waited",
	[HAPPENED_HELD] = "waited",
	[HAPPENED_NAMED] = "named",
	[HAPPENED_END] = "the end",
};

static const char *event_what(const struct procedure *p, const struct bench_event *e)
{
	switch (e->kind) {
	case HAPPENED_STEP:
	case HAPPENED_LEFT_OUT:
		return p->step[e->what].title;
	case HAPPENED_ORDER:
		return p->order[e->what].say;
	case HAPPENED_WINDOW:
		return p->window[e->what].say;
	case HAPPENED_LOOK:
		return p->look[e->what].title;
	case HAPPENED_SHOWN:
		return p->fault[e->what].seen;
	case HAPPENED_MADE:
	case HAPPENED_FOUND:
	case HAPPENED_GONE:
	case HAPPENED_MENDED:
	case HAPPENED_NAMED:
		return p->fault[e->what].title;
	case HAPPENED_HELD:
		return p->step[e->what].wait_for;
	case HAPPENED_BACK:
		return p->back[e->what].title;
	case HAPPENED_BOUGHT:
		return p->stuff[e->what].title;
	case HAPPENED_END:
		return bench_end_word[e->what];
	case HAPPENED_WAITED:
		break;
	}
	return "time went by";
}

static void time_line(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	page_add(p, BLOCK_HEADING, "What was done, and what nobody saw");
	for (size_t i = 0; i < b->nlog; i++) {
		const struct bench_event *e = &b->log[i];
		page_row(p, view_clock(p->arena, b, e->at_s), "%s: %s", happened[e->kind],
			event_what(b->procedure, e));
	}
	if (b->lost)
		page_add(p, BLOCK_TEXT, "%zu more events were not kept.", b->lost);
}

/* ---- faults ---------------------------------------------------------------------------------- */

static const char *where_shown(const struct bench *b, const struct fault *f)
{
	return f->shows == AT_DELIVERY  ? "at delivery"
	       : f->shows == AT_SERVICE ? "in service"
	       : f->shows > b->to       ? "further on, at "
					: "at ";
}

static void when_found(struct page *p, const struct bench_view *v, size_t k)
{
	const struct bench *b = v->bench;
	const struct procedure *pr = b->procedure;
	const struct fault_mark *m = &b->fault[k];
	const struct fault *f = &pr->fault[k];
	if (f->look != SIZE_MAX)
		page_row(p, "Could have been found", "%s%sat %s, with the look %s: %s",
			m->could_s >= 0 ? view_clock(p->arena, b, m->could_s) : "",
			m->could_s >= 0 ? ", " : "", pr->step[f->check_at].code,
			pr->look[f->look].code, f->sign);
	if (m->found_s >= 0 && (m->shown_s < 0 || m->found_s < m->shown_s))
		page_row(p, "Was found", "%s, by looking", view_clock(p->arena, b, m->found_s));
	if (m->shown_s >= 0)
		page_row(p, "Showed", "%s, %s%s: %s", view_clock(p->arena, b, m->shown_s),
			where_shown(b, f), f->shows < pr->nstep ? pr->step[f->shows].code : "",
			f->seen);
	if (m->found_s < 0 && m->shown_s < 0)
		page_row(p, "Was found", "by nobody");
}

static double limit_at(const struct formula_value *v, size_t i)
{
	return !v->list ? v->number : i < v->n ? v->list[i] : formula_nothing();
}

/* The number that is out of its limit, and the limit; false when it is not. */
static bool is_out(
	struct bench *b, const struct fault_number *n, size_t i, double *is, double *limit)
{
	struct formula_value v;
	if (values_run(b, n->is, &v))
		return false;
	*is = limit_at(&v, i);
	for (int side = 0; side < 2; side++) {
		const struct formula *f = side ? n->most : n->least;
		if (!f || values_run(b, f, &v))
			continue;
		*limit = limit_at(&v, i);
		if (side ? *is > *limit : *is < *limit)
			return true;
	}
	return false;
}

/* " for {tilt} through {bar_goal}" with the values in their places, of a list value i. */
static const char *reason_words(
	struct page *p, const struct bench_view *v, const struct fault_number *n, size_t i)
{
	const struct procedure *pr = v->bench->procedure;
	struct text t;
	size_t slot;
	if (!n->reason)
		return "";
	text_init(&t);
	text_add(&t, " ");
	for (const char *at = n->reason; *at; at++) {
		size_t len = *at == '{' ? strcspn(at + 1, "}") : 0;
		if (!len || !formula_scope_find(&pr->scope, at + 1, len, &slot)) {
			text_add_bytes(&t, at, 1);
			continue;
		}
		double x = limit_at(bench_value(v->bench, slot), i);
		text_add(&t, view_values(p->arena, v, &pr->shown[slot], &x, 1));
		at += len + 1;
	}
	const char *made = t.out ? NULL : arena_copy(p->arena, t.at, t.len);
	text_release(&t);
	return made ? made : "";
}

/* Where it was out of its limit, and by how much. */
static void number_add(struct page *p, const struct bench_view *v, const struct fault_number *n)
{
	struct bench *b = v->bench;
	double is, limit;
	for (size_t i = 0; n->about && i < each_count(n->each, b->nsite); i++) {
		if (!is_out(b, n, i, &is, &limit))
			continue;
		page_row(p, "The number", "%s%s%s: %s; %s %s %s%s", n->about, n->each ? " " : "",
			n->each ? picture_place(p, b, n->each, i) : "",
			view_values(p->arena, v, &n->shown, &is, 1),
			is > limit ? "at most" : "at least",
			view_values(p->arena, v, &n->shown, &limit, 1),
			is > limit ? "was allowed" : "was needed", reason_words(p, v, n, i));
	}
}

static const char *fault_state(const struct bench *b, size_t k)
{
	return !b->fault[k].is_there                     ? "put right"
	       : b->mode == BENCH_HUNT && k == b->seeded ? "the one that was hidden"
							 : "left in the work";
}

static void fault_add(struct page *p, const struct bench_view *v, size_t k)
{
	const struct bench *b = v->bench;
	const struct fault_mark *m = &b->fault[k];
	const struct fault *f = &b->procedure->fault[k];
	page_add(p, m->is_there ? BLOCK_BAD : BLOCK_GOOD, "%s %s: %s%s", f->code, f->title,
		fault_state(b, k), m->is_there && f->is_critical ? " (a critical error)" : "");
	page_row(p, "Made", "%s, at %s", view_clock(p->arena, b, m->made_s),
		b->procedure->step[f->made].code);
	if (m->is_there && b->step[f->made].state == STEP_DONE)
		number_add(p, v, &f->number);
	when_found(p, v, k);
	if (m->cost_s > 0 || m->cost_money > 0)
		page_row(p, "It cost", "%.0f min of work, and material for %s", m->cost_s / 60,
			view_number(p->arena, v, m->cost_money, 2));
	page_row(p, m->is_there ? "What comes of it" : "It would have meant", "%s", f->unnoticed);
	page_row(p, "Remedy", "%s", f->remedy.text);
}

/* A condition that came and went unseen while hands went on is no story. */
static bool is_story(const struct fault_mark *m)
{
	return m->times && (m->is_there || m->found_s >= 0 || m->shown_s >= 0);
}

static size_t faults_count(const struct bench *b, bool there)
{
	size_t n = 0;
	for (size_t k = 0; k < b->procedure->nfault; k++)
		n += is_story(&b->fault[k]) && b->fault[k].is_there == there;
	return n;
}

/* What was left first. */
static void faults_add(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	if (faults_count(b, true) + faults_count(b, false))
		page_add(p, BLOCK_HEADING, "The faults");
	for (int there = 1; there >= 0; there--)
		for (size_t k = 0; k < b->procedure->nfault; k++)
			if (is_story(&b->fault[k]) && b->fault[k].is_there == (there == 1))
				fault_add(p, v, k);
}

/* ---- a hunt ---------------------------------------------------------------------------------- */

static void said_add(struct page *p, bool right, const char *what, const char *said, const char *is)
{
	if (right)
		page_add(p, BLOCK_GOOD, "%s: %s. That is right.", what, said);
	else
		page_add(p, BLOCK_BAD, "%s: you said %s; it is %s.", what, said, is);
}

static const char *step_name(struct page *p, const struct procedure *pr, size_t step)
{
	const char *made =
		arena_format(p->arena, "%s, %s", pr->step[step].code, pr->step[step].title);
	return made ? made : pr->step[step].code;
}

static void hunt_add(struct page *p, const struct bench_view *v)
{
	const struct bench *b = v->bench;
	const struct procedure *pr = b->procedure;
	const struct hunt_answer *said = &b->named;
	if (b->mode != BENCH_HUNT || b->seeded == SIZE_MAX)
		return;
	const struct fault *f = &pr->fault[b->seeded];
	if (said->fault == SIZE_MAX) {
		page_add(p, BLOCK_BAD, "It was %s, %s.", f->code, f->title);
		return;
	}
	const struct fault *named = &pr->fault[said->fault];
	said_add(p, said->fault == b->seeded, "The fault",
		arena_format(p->arena, "%s, %s", named->code, named->title),
		arena_format(p->arena, "%s, %s", f->code, f->title));
	if (said->made == SIZE_MAX)
		return;
	said_add(p, said->made == f->made, "Made at", step_name(p, pr, said->made),
		step_name(p, pr, f->made));
	said_add(p, said->check == f->check_at, "Could first have been found at",
		step_name(p, pr, said->check), step_name(p, pr, f->check_at));
	page_row(p, "Looks taken", "%lu", b->looks);
}

/* ---- score and what next --------------------------------------------------------------------- */

/* Every reason why it is not passed. */
static void reasons_add(struct page *p, const struct bench_view *v, const struct bench_score *s)
{
	const struct bench *b = v->bench;
	if (b->mode == BENCH_HUNT && b->end != END_ACCEPTED)
		page_add(p, BLOCK_ITEM, "the hidden fault was not found");
	else if (b->end != END_ACCEPTED && b->end != END_REFERRED)
		page_add(p, BLOCK_ITEM, "the work was not accepted");
	if (s->referral == REFERRAL_WRONG)
		page_add(p, BLOCK_ITEM, "it could have been made as prescribed");
	if (s->referral == REFERRAL_BLIND)
		page_add(p, BLOCK_ITEM, "what shows it was not looked at");
	if (s->referral == REFERRAL_OTHER)
		page_add(p, BLOCK_ITEM, "the finding that was named does not show it");
	if (s->percent < s->pass - 1e-9)
		page_add(p, BLOCK_ITEM, "%s %% is below the pass mark of %d %%",
			view_number(p->arena, v, s->percent, 1), s->pass);
	if (s->ones > s->ones_most)
		page_add(p, BLOCK_ITEM, "%d stations are at level 1, at most %d may be", s->ones,
			s->ones_most);
	for (size_t i = 0; i < s->n; i++)
		if (s->station[i].is_critical)
			page_add(p, BLOCK_ITEM, "a critical error at: %s", s->station[i].title);
		else if (!s->station[i].level)
			page_add(p, BLOCK_ITEM, "level 0 at: %s", s->station[i].title);
}

static void verdict_add(struct page *p, const struct bench_view *v, const struct bench_score *s)
{
	const char *percent = view_number(p->arena, v, s->percent, 1);
	if (s->is_passed) {
		page_add(p, BLOCK_GOOD, "Passed, with %s %%.", percent);
		return;
	}
	page_add(p, BLOCK_BAD, "Not passed, with %s %%:", percent);
	reasons_add(p, v, s);
}

static void score_add(struct page *p, const struct bench_view *v, const struct bench_score *s)
{
	const struct bench *b = v->bench;
	page_add(p, BLOCK_HEADING, "Score and cost");
	for (size_t i = 0; i < s->n; i++) {
		const struct station_score *x = &s->station[i];
		page_row(p, x->title, "level %d, %d points, weight %d%s%s%s", x->level, x->points,
			x->weight, x->is_critical ? ", critical error" : "",
			x->asks ? ". Level 3 asks for: " : "", x->asks ? x->asks : "");
	}
	if (b->mode == BENCH_HUNT)
		page_row(p, "Points", "fault %d, step made %d, earliest check %d", HUNT_FAULT,
			HUNT_MADE, HUNT_CHECK);
	if (b->reasons)
		page_row(p, "Reasons given", "%u of %u right", b->reasons_right, b->reasons);
	page_row(p, "Time", "%s, %.0f min of it attended",
		view_clock(p->arena, b, bench_clock_s(b)), b->attended_s / 60);
	page_row(p, "Cost",
		"material %s and attended time %s, together %s (prices and wage of this course)",
		view_number(p->arena, v, b->money, 2),
		view_number(p->arena, v, bench_cost(b) - b->money, 2),
		view_number(p->arena, v, bench_cost(b), 2));
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
	if (b->mode == BENCH_HUNT && b->end == END_ACCEPTED)
		return false;
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
		if (!is_weak(b, k->code))
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

static const char *end_words(const struct bench *b)
{
	if (b->mode == BENCH_HUNT && b->end == END_ACCEPTED)
		return "Found.";
	if (b->mode == BENCH_HUNT && b->end == END_REFUSED)
		return "That was not it.";
	return b->procedure->end_text[b->end];
}

/* How many, before anything is praised. */
static void left_add(struct page *p, const struct bench *b)
{
	size_t left = faults_count(b, true), mended = faults_count(b, false);
	if (b->mode == BENCH_HUNT || b->end == END_REFERRED)
		return;
	if (left)
		page_add(p, BLOCK_BAD, "%zu fault%s left in the work, %zu put right.", left,
			left == 1 ? "" : "s", mended);
	else if (mended)
		page_add(p, BLOCK_GOOD, "No fault left in the work, %zu put right.", mended);
	else
		page_add(p, BLOCK_GOOD, "No fault was made that left a trace.");
}

/* "1 and 2, or 3": the looks that show it. */
static const char *findings_words(struct page *p, const struct procedure *pr)
{
	struct text t;
	text_init(&t);
	for (size_t i = 0; i < pr->nfinding; i++)
		for (size_t k = 0; k < pr->finding[i].nlook; k++)
			text_addf(&t, "%s%s",
				k   ? " + "
				: i ? "; or "
				    : "",
				pr->look[pr->finding[i].look[k]].title);
	const char *made = t.out ? NULL : arena_copy(p->arena, t.at, t.len);
	text_release(&t);
	return made ? made : "";
}

static void referral_add(struct page *p, const struct bench *b, const struct bench_score *s)
{
	const struct procedure *pr = b->procedure;
	if (s->referral == REFERRAL_GOOD)
		page_add(p, BLOCK_TEXT, "Rightly so: as prescribed it cannot be made.");
	if (s->referral == REFERRAL_BLIND)
		page_add(p, BLOCK_BAD,
			b->looks ? "Rightly, but what shows it was not looked at: nobody could "
				   "know it."
				 : "Rightly, but nothing was measured: nobody can know.");
	if (s->referral == REFERRAL_OTHER)
		page_add(p, BLOCK_BAD,
			"Rightly, but the prescriber needs the finding that shows it.");
	if (s->referral > REFERRAL_WRONG && b->shown_by != SIZE_MAX)
		page_row(p, "You named", "%s", pr->look[b->shown_by].title);
	if (s->referral == REFERRAL_BLIND || s->referral == REFERRAL_OTHER)
		page_row(p, "It is shown by", "%s", findings_words(p, pr));
}

void view_debrief(struct page *p, const struct bench_view *v, const struct bench_score *s,
	const struct course *course)
{
	const struct bench *b = v->bench;
	bool is_good = b->end == END_ACCEPTED || (b->end == END_REFERRED && s->is_passed);
	page_add(p, is_good ? BLOCK_GOOD : BLOCK_BAD, "%s", end_words(b));
	if (b->time_is_up)
		page_add(p, BLOCK_BAD, "The time was up: what was not done stayed undone.");
	referral_add(p, b, s);
	hunt_add(p, v);
	left_add(p, b);
	verdict_add(p, v, s);
	score_add(p, v, s);
	faults_add(p, v);
	next_add(p, b, course);
	picture_bar(p, v);
	time_line(p, v);
}
