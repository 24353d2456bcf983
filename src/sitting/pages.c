/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>

#include "desk/present.h"
#include "sitting/sitting_parts.h"

/* While the time runs the page says how much is left, and goes when it is over. */
static struct limit limit_of(const struct sitting *s)
{
	int64_t left = (int64_t)s->limit_ms - (int64_t)s->used_ms;
	return (struct limit){s->since_ms + left, (int64_t)s->limit_ms};
}

static enum how show(struct sitting *s, struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_show(s->desk->surface, p);
	return code ? desk_broken(s->desk, code) : HOW_DONE;
}

/* *out is where the cursor stands first, or CHOICE_NONE; nothing is chosen when the time is over. */
static enum how choose(
	struct sitting *s, const char *prompt, const struct choice *list, size_t n, size_t *out)
{
	struct question q = {
		.kind = ASK_CHOICE, .prompt = prompt, .choice = list, .nchoice = n, .chosen = *out};
	struct reply r;
	enum bad code = surface_ask(s->desk->surface, &q, &r);
	if (code)
		return desk_broken(s->desk, code);
	*out = r.kind == REPLY_CHOICE ? r.choice : CHOICE_NONE;
	return how_of(r.kind);
}

/* ---- before ---------------------------------------------------------------------------------- */

static const char *tools_of(const struct assessment *what, struct arena *a)
{
	const char *made = what->ntool ? what->tool[0] : "nothing";
	for (size_t n = 1; made && n < what->ntool; n++)
		made = arena_format(a, "%s; %s", made, what->tool[n]);
	return made ? made : "";
}

/* "Space (3); Holes (2)"; nothing where there is one section only. */
static void add_sections(const struct assessment *what, struct page *p)
{
	const char *made = "";
	for (size_t i = 0; made && i < what->nsection; i++) {
		int tasks = 0;
		for (size_t k = 0; k < what->section[i].nrow; k++)
			tasks += what->section[i].row[k].items;
		made = arena_format(p->arena, "%s%s%s (%d)", made, i ? "; " : "",
			what->section[i].title, tasks);
	}
	if (what->nsection > 1)
		page_row(p, "Sections", "%s", made ? made : "");
}

static void add_rules(struct sitting *s, struct page *p)
{
	const struct assessment *what = s->what;
	if (s->nquery == s->nplace)
		page_row(p, "Tasks", "%zu, each with one answer", s->nplace);
	else
		page_row(p, "Tasks", "%zu, with %zu answers to give", s->nplace, s->nquery);
	add_sections(what, p);
	page_row(p, "Time", "%s%s%s%s", sitting_span(p->arena, s->limit_ms),
		s->extra_ms ? ", of it " : "",
		s->extra_ms ? sitting_span(p->arena, s->extra_ms) : "",
		s->extra_ms ? " that were granted to you" : "");
	page_row(p, "To pass", "%.4g %% of all points", 100 * what->share);
	for (size_t n = 0; n < what->ncut; n++)
		page_row(p, what->cut[n].competency, "%.4g %% of its points",
			100 * what->cut[n].share);
	page_row(p, "Attempt", "%llu of %d, as far as is known on this machine",
		(unsigned long long)s->attempt, what->attempts);
	page_row(p, "On the table", "%s", tools_of(what, p->arena));
	page_row(p, "Candidate", "%s", s->desk->name ? s->desk->name : s->desk->who);
	page_row(p, "Sitting", "%s", s->desk->sitting);
}

enum how sitting_welcome(struct sitting *s, bool *begin)
{
	static const struct choice first[] = {{"begin", "Begin", "the time starts"},
		{"later", "Not now", "nothing is recorded; the tasks stay the same"}};
	static const struct choice again[] = {{"go-on", "Go on", NULL}, {"later", "Not now", NULL}};
	bool resumed = s->past.is_unfinished;
	const struct limit limit = limit_of(s);
	struct arena a = {0};
	struct page p;
	size_t chosen = CHOICE_NONE;
	char left[LIMIT_WORDS];
	page_init(&p, &a, s->what->title, NULL);
	page_add(&p, BLOCK_TEXT, "%s", s->what->about);
	add_rules(s, &p);
	limit_words(&limit, clock_boot(), left);
	if (resumed)
		page_add(&p, BLOCK_TEXT,
			"This sitting was interrupted. Everything answered is kept; it goes on "
			"where it was, with %s.",
			left);
	else
		page_add(&p, BLOCK_TEXT,
			"Every answer is recorded at once and may be changed until you hand in; "
			"only "
			"then is it scored. After a power failure start the same command again: it "
			"goes on at the same question with the time that was left. Leaving on "
			"purpose does not stop the clock.");
	enum how how = show(s, &p);
	if (!how)
		how = choose(s, "Ready?", resumed ? again : first, 2, &chosen);
	*begin = !how && chosen == 0;
	arena_release(&a);
	return how;
}

/* ---- a question ------------------------------------------------------------------------------ */

enum how sitting_show(struct sitting *s, size_t query)
{
	const struct query *q = &s->query[query];
	const struct instance *i = s->instance[q->place];
	struct surface *surface = s->desk->surface;
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, i->problem->title, arena_format(&a, "%zu of %zu", query + 1, s->nquery));
	p.limit = limit_of(s);
	present_task(&p, i, surface->columns, surface->decimal);
	present_ask(&p, i, q->ask, surface->decimal);
	if (*q->typed)
		page_row(&p, "Your answer so far", "%s", q->typed);
	if (q->is_marked)
		page_add(&p, BLOCK_TEXT, "Marked: you want to look at it again.");
	enum how how = show(s, &p);
	arena_release(&a);
	return how;
}

/* ---- the list -------------------------------------------------------------------------------- */

static const char *state_of(const struct query *q)
{
	if (q->is_marked)
		return *q->typed ? "answered, marked" : "open, marked";
	return *q->typed ? "answered" : "open";
}

static size_t count_open(const struct sitting *s)
{
	size_t n = 0;
	for (size_t i = 0; i < s->nquery; i++)
		n += !*s->query[i].typed;
	return n;
}

static struct choice *choices_of(struct sitting *s, struct arena *a)
{
	struct choice *list = arena_many(a, s->nquery + 1, struct choice);
	for (size_t n = 0; list && n < s->nquery; n++) {
		const struct query *q = &s->query[n];
		const struct problem *p = s->form[q->place];
		/* on one line, since few lists fit a screen else */
		list[n].title = p->nask > 1 ? arena_format(a, "%s, %zu of %zu: %s", p->title,
						      q->ask + 1, p->nask, state_of(q))
					    : arena_format(a, "%s: %s", p->title, state_of(q));
		if (!list[n].title)
			return NULL;
	}
	if (list)
		list[s->nquery] = (struct choice){"hand-in", "Hand in", "then it is final"};
	return list;
}

/* What is open comes first, then what is marked; else nothing: Enter alone must never hand in. */
static size_t to_look_at(const struct sitting *s)
{
	for (size_t n = 0; n < s->nquery; n++)
		if (!*s->query[n].typed)
			return n;
	for (size_t n = 0; n < s->nquery; n++)
		if (s->query[n].is_marked)
			return n;
	return CHOICE_NONE;
}

enum how sitting_confirm(struct sitting *s, bool *hand_in)
{
	static const struct choice list[] = {
		{"hand-in", "Hand in", "it is final"}, {"no", "Back to the tasks", NULL}};
	size_t open = count_open(s), chosen = CHOICE_NONE;
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, "Hand in?", NULL);
	p.limit = limit_of(s);
	if (open)
		page_add(&p, BLOCK_TEXT, "%zu of %zu %s not answered; they count as wrong.", open,
			s->nquery, open == 1 ? "is" : "are");
	else
		page_add(&p, BLOCK_TEXT, "All %zu are answered.", s->nquery);
	enum how how = show(s, &p);
	if (!how)
		how = choose(s, "Hand in now?", list, 2, &chosen);
	*hand_in = !how && chosen == 0;
	arena_release(&a);
	return how == HOW_BACK ? HOW_DONE : how;
}

enum how sitting_list(struct sitting *s, size_t *query, bool *hand_in)
{
	struct arena a = {0};
	struct page p;
	size_t chosen = to_look_at(s);
	struct choice *list = choices_of(s, &a);
	*hand_in = false;
	if (!list)
		return desk_broken(s->desk, BAD_MEMORY);
	page_init(&p, &a, s->what->title, NULL);
	p.limit = limit_of(s);
	page_add(&p, BLOCK_TEXT,
		"Answered: %zu of %zu. Choose one to look at it again, or the last line of the "
		"list to hand in.",
		s->nquery - count_open(s), s->nquery);
	enum how how = show(s, &p);
	if (!how)
		how = choose(s, "Which one?", list, s->nquery + 1, &chosen);
	arena_release(&a);
	*query = how ? s->nquery : chosen;
	return !how && chosen == s->nquery ? sitting_confirm(s, hand_in) : how;
}

/* ---- the end --------------------------------------------------------------------------------- */

static enum how wait_to_go(struct sitting *s)
{
	struct question q = {.kind = ASK_GO, .prompt = "Go on"};
	struct reply r;
	enum bad code = surface_ask(s->desk->surface, &q, &r);
	return code ? desk_broken(s->desk, code) : HOW_DONE;
}

enum how sitting_tell_over(struct sitting *s)
{
	const char *stood = s->stood_kept ? "is kept in the record and not counted" : "is not kept";
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, "The time is over", NULL);
	page_add(&p, BLOCK_TEXT,
		"What was answered in time counts. An answer given after that is kept in the "
		"record and not counted.");
	if (*s->stood)
		page_add(&p, BLOCK_TEXT,
			"\"%s\" stood in the field and was not given with Enter in time: it %s.",
			s->stood, stood);
	enum how how = show(s, &p);
	if (!how)
		how = wait_to_go(s);
	arena_release(&a);
	return how;
}

static void add_parts(const struct sitting *s, struct page *p, const struct line_result *r)
{
	page_add(p, BLOCK_HEADING, "By competency");
	for (size_t n = 0; n < r->part.n; n++) {
		const struct competency *k = course_competency(s->desk->course, r->part.at[n]);
		const char *label = arena_format(
			p->arena, "%s%s%s", r->part.at[n], k ? ", " : "", k ? k->title : "");
		page_row(p, label ? label : "", "%.4g %%", result_number(r->part_percent.at[n]));
	}
}

static void add_tasks(const struct sitting *s, struct page *p)
{
	page_add(p, BLOCK_HEADING, "Task by task");
	for (size_t place = 0; place < s->nplace; place++) {
		const struct problem *problem = s->form[place];
		size_t right = 0, given = 0;
		for (size_t n = 0; n < s->nquery; n++) {
			right += s->query[n].place == place && s->query[n].is_right;
			given += s->query[n].place == place && *s->query[n].typed;
		}
		const char *label = arena_format(p->arena, "%zu  %s", place + 1, problem->title);
		if (!given)
			page_row(p, label ? label : "", "not answered");
		else if (problem->nask == 1)
			page_row(p, label ? label : "", "%s", right ? "right" : "not right");
		else
			page_row(p, label ? label : "", "%zu of %zu right", right, problem->nask);
	}
}

enum how sitting_tell_result(struct sitting *s, const struct line_result *r)
{
	double percent = result_number(r->percent);
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, s->what->title, "result");
	if (outcome_is_pass(r))
		page_add(&p, BLOCK_GOOD, "Passed: %.4g %% of all points.", percent);
	else
		page_add(&p, BLOCK_BAD, "Not passed: %.4g %% of all points.", percent);
	page_add(&p, BLOCK_HEADING, "Why");
	for (size_t n = 0; n < r->reasons.n; n++)
		page_add(&p, BLOCK_ITEM, "%s.", r->reasons.at[n]);
	add_parts(s, &p, r);
	add_tasks(s, &p);
	page_add(&p, BLOCK_TEXT, "%s",
		s->how->sealing
			? "This is recorded. The assessor seals it when you go on; then it "
			  "counts as assessed."
			: "This is recorded. It counts as assessed only when an assessor has "
			  "sealed the record; until then it is practice.");
	enum how how = show(s, &p);
	if (!how)
		how = wait_to_go(s);
	arena_release(&a);
	return how;
}
