/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drill/home.h"

#include "course/load.h"
#include "desk/habit.h"
#include "desk/history.h"
#include "drill/drill.h"
#include "drill/learn.h"
#include "drill/topic.h"

/* ---- the page -------------------------------------------------------------------------------- */

/* "284 tasks" */
static const char *counted(struct page *p, size_t n, const char *one, const char *many)
{
	const char *made = arena_format(p->arena, "%zu %s", n, text_plural(n, one, many));
	p->out |= !made;
	return made ? made : "";
}

/* "27 topics with 27 lessons and 284 tasks"; what there is none of is left out. */
static const char *holds(struct page *p, const struct course *c)
{
	size_t nlesson = 0, ntask = 0;
	for (size_t k = 0; k < c->nmodule; k++) {
		nlesson += c->module[k].nlesson;
		ntask += c->module[k].nproblem;
	}
	const char *made = arena_format(p->arena, "%s%s%s%s%s",
		counted(p, c->nmodule, "topic", "topics"), nlesson || ntask ? " with " : "",
		nlesson ? counted(p, nlesson, "lesson", "lessons") : "",
		nlesson && ntask ? " and " : "", ntask ? counted(p, ntask, "task", "tasks") : "");
	p->out |= !made;
	return made ? made : "";
}

/* What was tried, topic by topic; what was not, as a number: the lists to choose from name it. */
static void add_modules(struct page *p, const struct desk *d)
{
	size_t n = d->course->nmodule, tried = 0;
	page_add(p, BLOCK_HEADING, "What the course holds");
	for (size_t k = 0; k < n; k++) {
		const struct module *m = &d->course->module[k];
		const char *done = topic_done(d, m, p->arena);
		tried += done != NULL;
		if (done)
			page_row(p, m->title, "%s", done);
	}
	if (!tried)
		page_add(p, BLOCK_TEXT, "%s, %s tried yet.", holds(p, d->course),
			n == 1 ? "not" : "none");
	else
		page_add(p, BLOCK_TEXT, "%s; %zu of the topics tried so far.", holds(p, d->course),
			tried);
}

static void add_last(struct page *p, const struct desk *d)
{
	const struct progress *done = &d->progress;
	page_add(p, BLOCK_HEADING, "Last");
	if (!done->last_ms)
		page_add(p, BLOCK_TEXT,
			"No task is practised yet. A lesson takes two minutes to read; "
			"then the first task.");
	else if (done->last_problem)
		page_add(p, BLOCK_TEXT, "%s: %s. The last answer was %s, %s.",
			done->last_module->title, problem_title(done->last_problem, p->arena),
			done->last_outcome == OUTCOME_RIGHT ? "right" : "not right",
			topic_ago(done->last_ms, p->arena));
	if (!d->strand)
		page_add(p, BLOCK_CAUTION, "Nothing is being recorded in this sitting.");
}

static const char *next_words(struct arena *a, const struct next *next)
{
	static const char *const why[] = {
		[NEXT_NOTHING] = "",
		[NEXT_MISTAKE] = "last answer not right",
		[NEXT_NEW] = "not tried yet",
		[NEXT_OLDEST] = "longest not practised",
	};
	const char *made = arena_format(a, "%s: %s", next->module->title, why[next->why]);
	return made ? made : "";
}

static void fill(struct page *p, const struct desk *d, const char *kept)
{
	if (kept)
		page_add(p, BLOCK_TEXT, "%s", kept);
	if (!d->progress.last_ms) /* who has begun knows what it is about */
		page_add(p, BLOCK_TEXT, "%s", d->course->about);
	add_last(p, d);
	habits_add(p, &d->progress);
	add_modules(p, d);
}

/* ---- choosing -------------------------------------------------------------------------------- */

enum act { ACT_NEXT, ACT_TOPIC, ACT_LEARN, ACT_RECORD, ACT_LEAVE, ACT_COUNT };

struct home {
	struct desk *desk;
	const struct home_way *way;
	size_t nway;
	void *context;
	const char *kept; /* of what was left with "back", to be said once; null: nothing */
	struct choice choice[ACT_COUNT + HOME_WAYS]; /* the ways stand before ACT_RECORD */
};

static void home_choices(struct home *h, const char *next_note)
{
	const struct choice own[ACT_COUNT] = {
		[ACT_NEXT] = {"next", "Practise what is due", next_note},
		[ACT_TOPIC] = {"topic", "Practise a topic of your choice", NULL},
		[ACT_LEARN] = {"learn", "Read a lesson", NULL},
		[ACT_RECORD] = {"record", "See what is recorded", NULL},
		[ACT_LEAVE] = {"leave", "Leave", NULL},
	};
	size_t n = 0;
	for (size_t k = 0; k < ACT_RECORD; k++)
		h->choice[n++] = own[k];
	for (size_t k = 0; k < h->nway; k++)
		h->choice[n++] = h->way[k].choice;
	for (size_t k = ACT_RECORD; k < ACT_COUNT; k++)
		h->choice[n++] = own[k];
}

/* *way is null when it is one of the home page's own acts. */
static enum how ask_act(
	struct home *h, const char *next_note, enum act *out, const struct home_way **way)
{
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "What would you like to do?",
		.choice = h->choice,
		.nchoice = ACT_COUNT + h->nway};
	struct reply r;
	home_choices(h, next_note);
	enum bad code = surface_ask(h->desk->surface, &q, &r);
	if (code)
		return desk_broken(h->desk, code);
	enum how how = how_of(r.kind);
	*way = NULL;
	if (how)
		return how;
	if (r.choice >= ACT_RECORD && r.choice < ACT_RECORD + h->nway)
		*way = &h->way[r.choice - ACT_RECORD];
	else
		*out = (enum act)(r.choice < ACT_RECORD ? r.choice : r.choice - h->nway);
	return how;
}

/* ---- the record, in short -------------------------------------------------------------------- */

static void fill_record(struct page *p, const struct desk *d)
{
	if (!d->strand) {
		page_add(p, BLOCK_TEXT, "Nothing is being recorded in this sitting.");
		return;
	}
	if (d->name)
		page_row(p, "learner", "%s (%s)", d->name, d->who);
	else
		page_row(p, "learner", "%s", d->who);
	page_row(p, "strand", "%s", strand_own_id(d->strand));
	page_row(p, "lines", "%llu", (unsigned long long)strand_count(d->strand));
	page_row(p, "sittings in this course", "%llu", (unsigned long long)d->progress.sittings);
	for (size_t k = 0; k < d->course->nmodule; k++) {
		const struct module *m = &d->course->module[k];
		const char *done = topic_done(d, m, p->arena);
		if (done)
			page_row(p, m->title, "%s", done);
	}
	habits_add(p, &d->progress);
	if (history_add(p, d->strand, d->surface->decimal))
		page_add(p, BLOCK_CAUTION,
			"What was done at the bench and in assessments cannot be read now.");
	page_add(p, BLOCK_TEXT,
		"Each answer is a signed line that fixes the line before it. \"barwright record "
		"audit\" makes "
		"every task again from its key and scores every answer again.");
	page_add(p, BLOCK_EXACT, "%s", strand_own_path(d->strand));
}

static enum how show_record(struct desk *d)
{
	struct arena a = {0};
	struct page page;
	struct reply r;
	struct question q = {.kind = ASK_GO, .prompt = "Back"};
	page_init(&page, &a, "What is recorded", NULL);
	fill_record(&page, d);
	enum bad code = page.out ? BAD_MEMORY : surface_show(d->surface, &page);
	if (!code)
		code = surface_ask(d->surface, &q, &r);
	arena_release(&a);
	return code ? desk_broken(d, code) : how_of(r.kind);
}

/* ---- until the learner leaves ---------------------------------------------------------------- */

static enum how act_topic(struct desk *d)
{
	const struct module *m = NULL;
	enum how how = topic_ask(d, "Practise a topic", &m);
	return how ? how : drill_run(d, m, NULL, 0);
}

static enum how act_learn(struct desk *d)
{
	const struct module *m = NULL;
	enum how how = topic_ask(d, "Read a lesson", &m);
	return how ? how : learn_run(d, m);
}

static enum how practise(struct home *h, enum act what)
{
	struct desk *d = h->desk;
	enum how how = what == ACT_NEXT    ? drill_run(d, NULL, NULL, 0)
		       : what == ACT_TOPIC ? act_topic(d)
					   : act_learn(d);
	h->kept = how == HOW_BACK ? d->surface->kept : NULL;
	return how;
}

static enum how act(struct home *h, enum act what)
{
	struct desk *d = h->desk;
	bool is_work = what == ACT_NEXT || what == ACT_TOPIC || what == ACT_LEARN;
	enum bad code = is_work ? desk_whole(d) : FINE;
	if (code)
		return desk_broken(d, code);
	switch (what) {
	case ACT_NEXT:
	case ACT_TOPIC:
	case ACT_LEARN:
		return practise(h, what);
	case ACT_RECORD:
		return show_record(d);
	default:
		return HOW_LEAVE;
	}
}

/* What is done there is a sitting of its own. */
static enum how go_away(struct home *h, const struct home_way *way)
{
	const char *mode = h->desk->mode, *kept = h->desk->surface->kept;
	enum bad code = desk_whole(h->desk);
	if (!code)
		code = desk_turn_to(h->desk, way->mode);
	if (code)
		return desk_broken(h->desk, code);
	enum how how = way->go(h->desk, h->context);
	if (how != HOW_DONE && how != HOW_BACK)
		return how;
	h->kept = how == HOW_BACK ? h->desk->surface->kept : NULL;
	h->desk->surface->kept = kept;
	code = desk_turn_to(h->desk, mode);
	return code ? desk_broken(h->desk, code) : HOW_DONE;
}

static enum how show_home(struct home *h, enum act *out, const struct home_way **way)
{
	struct desk *d = h->desk;
	struct arena a = {0};
	struct page page;
	struct next next = progress_next(&d->progress, NULL);
	page_init(&page, &a, d->course->title, "barwright");
	fill(&page, d, h->kept);
	h->kept = NULL;
	enum bad code = page.out ? BAD_MEMORY : surface_show(d->surface, &page);
	enum how how = code ? desk_broken(d, code)
			    : ask_act(h, next.why ? next_words(&a, &next) : NULL, out, way);
	arena_release(&a);
	return how;
}

enum how home_run(struct desk *d, const struct home_way *way, size_t nway, void *context)
{
	struct home h = {.desk = d, .way = way, .nway = nway, .context = context};
	enum how how = HOW_DONE;
	while (how == HOW_DONE || how == HOW_BACK) {
		const struct home_way *chosen = NULL;
		enum act what = ACT_LEAVE;
		how = show_home(&h, &what, &chosen);
		if (how == HOW_BACK) /* there is nothing behind the first page */
			how = HOW_LEAVE;
		else if (how == HOW_DONE)
			how = chosen ? go_away(&h, chosen) : act(&h, what);
	}
	return how;
}
