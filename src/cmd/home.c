/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/home.h"

#include <string.h>

#include "bench/ledger.h"
#include "cmd/assessments.h"
#include "cmd/bench.h"
#include "cmd/courses.h"
#include "cmd/options.h"
#include "cmd/procedures.h"
#include "cmd/sit_down.h"
#include "drill/home.h"
#include "rating/rate.h"
#include "sitting/sitting.h"

/* ---- pages of the ways ----------------------------------------------------------------------- */

static enum how show(struct desk *d, const struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_show(d->surface, p);
	return code ? desk_broken(d, code) : HOW_DONE;
}

static enum how ask(struct desk *d, const struct question *q, struct reply *r)
{
	enum bad code = surface_ask(d->surface, q, r);
	return code ? desk_broken(d, code) : how_of(r->kind);
}

/* A page of one sentence, and back. */
static enum how tell(struct desk *d, const char *title, const char *words)
{
	struct arena a = {0};
	struct page p;
	struct reply r;
	struct question q = {.kind = ASK_GO, .prompt = "Back"};
	page_init(&p, &a, title, NULL);
	page_add(&p, BLOCK_TEXT, "%s", words);
	enum how how = show(d, &p);
	if (!how)
		how = ask(d, &q, &r);
	arena_release(&a);
	return how;
}

static enum how choose(
	struct desk *d, const char *prompt, const struct choice *list, size_t n, size_t *out)
{
	struct question q = {.kind = ASK_CHOICE, .prompt = prompt, .choice = list, .nchoice = n};
	struct reply r;
	enum how how = ask(d, &q, &r);
	if (!how)
		*out = r.choice;
	return how;
}

/* ---- the bench ------------------------------------------------------------------------------- */

struct bench_part {
	const struct procedure *procedure;
	size_t part;
	bool is_unfinished[BENCH_MODES]; /* a run in this mode waits */
};

/* Which runs of a procedure's parts were left in the middle. */
static enum bad unfinished_find(
	const struct desk *d, struct arena *a, struct bench_part *part, size_t npart)
{
	struct ledger_past *past = NULL;
	char item[LEDGER_ITEM];
	size_t n = 0;
	const char *all = arena_format(a, "%s/", part->procedure->code);
	struct hash content = procedure_hash(part->procedure);
	enum bad code = all ? ledger_own(d->strand, d->who, a, all, &past, &n) : BAD_MEMORY;
	for (size_t i = 0; i < npart && !code; i++)
		for (int mode = 0; mode < BENCH_MODES; mode++) {
			ledger_item(part->procedure, part[i].part, (enum bench_mode)mode, SIZE_MAX,
				item);
			part[i].is_unfinished[mode] = ledger_is_unfinished(past, n, item, &content);
		}
	return code;
}

static const char *part_title(const struct bench_part *x, struct arena *a)
{
	const char *title = x->procedure->part[x->part].title, *made = NULL;
	for (int mode = 0; mode < BENCH_MODES && !made; mode++)
		if (x->is_unfinished[mode])
			made = arena_format(a, "%s (unfinished)", title);
	return made ? made : title;
}

static enum how choose_part(
	struct desk *d, const struct procedures *all, struct arena *a, struct bench_part *out)
{
	size_t n = 0, chosen = 0;
	struct page p;
	for (size_t i = 0; i < all->n; i++)
		n += all->procedure[i].npart;
	struct choice *list = arena_many(a, n + 1, struct choice);
	struct bench_part *part = arena_many(a, n + 1, struct bench_part);
	if (!list || !part)
		return desk_broken(d, BAD_MEMORY);
	n = 0;
	for (size_t i = 0; i < all->n; i++) {
		size_t first = n;
		for (size_t k = 0; k < all->procedure[i].npart; k++)
			part[n++] = (struct bench_part){.procedure = &all->procedure[i], .part = k};
		enum bad code = d->strand && n > first
					? unfinished_find(d, a, part + first, n - first)
					: FINE;
		if (code)
			return desk_broken(d, code);
		for (size_t k = first; k < n; k++) {
			const struct part *x = &all->procedure[i].part[k - first];
			list[k] = (struct choice){x->code, part_title(&part[k], a), x->about};
		}
	}
	page_init(&p, a, "At the bench", NULL);
	page_add(&p, BLOCK_TEXT,
		"You decide every step and every number; nothing is put right for you, and a fault "
		"shows where it would show. Leaving and coming back goes on where you were.");
	enum how how = show(d, &p);
	if (!how)
		how = choose(d, "Which work?", list, n, &chosen);
	*out = part[chosen];
	return how;
}

static enum how choose_mode(struct desk *d, const struct bench_part *x, enum bench_mode *out)
{
	struct choice list[BENCH_MODES] = {
		[BENCH_FREE] = {"free", "As at a real bench", NULL},
		[BENCH_GUIDED] = {"guided", "Asked why before each step", NULL},
		[BENCH_TIMED] = {"timed", "Against the clock of the bench", NULL},
		[BENCH_HUNT] = {"hunt", "Something is wrong with the work: find it", NULL},
	};
	size_t chosen = 0;
	for (int mode = 0; mode < BENCH_MODES; mode++)
		if (x->is_unfinished[mode])
			list[mode].note = "unfinished: it goes on where you left it";
	enum how how = choose(d, "How?", list, BENCH_MODES, &chosen);
	*out = (enum bench_mode)chosen;
	return how;
}

static enum how work_at_bench(
	struct desk *d, const struct options *o, const struct bench_part *x, enum bench_mode mode)
{
	struct bench_desk desk = bench_desk_of(d, o);
	desk_keeps(d, "The run goes on where you left it.");
	enum how how = how_of(bench_session(&desk, x->procedure, x->part, mode, SIZE_MAX));
	return desk.lost ? desk_broken(d, desk.lost) : how;
}

static enum how choose_and_work(
	struct desk *d, const struct options *o, const struct procedures *all, struct arena *a)
{
	struct bench_part part = {0};
	enum bench_mode mode = BENCH_FREE;
	enum how how = choose_part(d, all, a, &part);
	if (!how)
		how = choose_mode(d, &part, &mode);
	return how ? how : work_at_bench(d, o, &part, mode);
}

static enum how go_bench(struct desk *d, void *context)
{
	const struct options *o = context;
	struct arena a = {0};
	struct procedures all = {0};
	enum bad code = procedures_gather(courses_folder(o, &a), &a, &all);
	enum how how = code    ? desk_broken(d, code)
		       : all.n ? choose_and_work(d, o, &all, &a)
			       : tell(d, "At the bench", "There is no procedure with the courses.");
	procedures_release(&all);
	arena_release(&a);
	return how;
}

/* ---- assessments ----------------------------------------------------------------------------- */

static bool can_be_sat(const struct assessment *x, const struct course *c)
{
	return x->nsection && strcmp(x->course, c->code) == 0;
}

static enum how choose_assessment(struct desk *d, const struct assessments *all, struct arena *a,
	const struct assessment **out)
{
	size_t n = 0, chosen = 0;
	struct page p;
	struct choice *list = arena_many(a, all->n + 1, struct choice);
	const struct assessment **what = arena_many(a, all->n + 1, const struct assessment *);
	if (!list || !what)
		return desk_broken(d, BAD_MEMORY);
	for (size_t k = 0; k < all->n; k++)
		if (can_be_sat(all->at[k], d->course)) {
			list[n] = (struct choice){all->at[k]->code, all->at[k]->title, NULL};
			what[n++] = all->at[k];
		}
	*out = NULL;
	if (!n)
		return tell(d, "Assessments", "The course has none that can be opened from here.");
	page_init(&p, a, "Assessments", NULL);
	page_add(&p, BLOCK_TEXT,
		"What is sat from here counts as practice until an assessor seals the record. For "
		"a "
		"sitting that an assessor watches, and for a locked assessment, they start "
		"\"barwright sit\".");
	enum how how = show(d, &p);
	if (!how)
		how = choose(d, "Which one?", list, n, &chosen);
	*out = what[chosen];
	return how;
}

static enum how sit(struct desk *d, const struct assessment *what)
{
	struct arena a = {0};
	struct diags diags = {.arena = &a};
	struct sitting_how x = {.what = what};
	enum bad code = assessment_bank(what, d->course, &diags);
	enum how how;
	if (code)
		how = desk_broken(d, code);
	else if (diags.nerror)
		how = tell(d, what->title,
			"The course has not enough tasks to fill this assessment. Tell your "
			"instructor.");
	else
		how = sitting_run(d, &x);
	if (!how && x.refused)
		how = tell(d, what->title, x.refused);
	arena_release(&a);
	return how;
}

static const char needs_record[] = "Nothing is being recorded in this sitting, and what is "
				   "assessed is always recorded. Leave, and start without "
				   "--unrecorded.";

static enum how go_sit(struct desk *d, void *context)
{
	const struct options *o = context;
	struct arena a = {0};
	struct assessments all = {0};
	const struct assessment *what = NULL;
	if (!d->strand)
		return tell(d, "Assessments", needs_record);
	enum bad code = assessments_gather(courses_folder(o, &a), &a, &all);
	enum how how = code ? desk_broken(d, code) : choose_assessment(d, &all, &a, &what);
	while (!how && what) { /* whoever goes back from one comes to the list of them */
		how = sit(d, what);
		if (how != HOW_BACK)
			break;
		how = choose_assessment(d, &all, &a, &what);
	}
	assessments_release(&all);
	arena_release(&a);
	return how;
}

/* ---- rating ---------------------------------------------------------------------------------- */

static enum how show_rating(struct desk *d)
{
	struct arena a = {0};
	struct page p;
	page_init(&p, &a, "Rating bench work", "for instructors");
	page_row(&p, "Candidate", "%s", d->name ? d->name : d->who);
	page_add(&p, BLOCK_TEXT,
		"What is rated from here counts as practice until an assessor seals the record. "
		"Another candidate's record is opened with \"barwright --learner NAME\". A second "
		"rater gives another name and does not see what the first one said; what two "
		"raters differ on is settled with \"barwright rate --moderate\".");
	enum how how = show(d, &p);
	arena_release(&a);
	return how;
}

static enum how ask_rater(struct desk *d, struct reply *rater, struct reply *piece)
{
	struct question who = {.kind = ASK_LINE, .prompt = "Who rates? Your name"};
	struct question which = {
		.kind = ASK_LINE, .prompt = "Which piece of their work? A code", .kept = "1"};
	enum how how = show_rating(d);
	if (!how)
		how = ask(d, &who, rater);
	while (!how) {
		how = ask(d, &which, piece);
		if (how || option_is_code(piece->text, PIECE_MOST))
			break;
		which.fault = "A code is made of letters, digits and -.";
	}
	return how;
}

/* Asked only where there are several that can be used; *out is null where there is none. */
static enum how choose_rubric(
	struct desk *d, const struct rubrics *all, struct arena *a, const struct rubric **out)
{
	size_t n = 0, chosen = 0;
	enum how how = HOW_DONE;
	struct page p;
	struct choice *list = arena_many(a, all->n + 1, struct choice);
	const struct rubric **what = arena_many(a, all->n + 1, const struct rubric *);
	if (!list || !what)
		return desk_broken(d, BAD_MEMORY);
	for (size_t k = 0; k < all->n; k++)
		if (all->at[k].nstation) {
			const struct rubric *r = &all->at[k];
			list[n] = (struct choice){r->code, r->title, NULL};
			what[n++] = r;
		}
	if (n > 1) {
		page_init(&p, a, "Rating bench work", "for instructors");
		page_add(&p, BLOCK_TEXT, "A rubric says what is rated, and at which level it is.");
		how = show(d, &p);
		if (!how)
			how = choose(d, "By which rubric?", list, n, &chosen);
	}
	*out = what[chosen];
	return how;
}

static enum how rate_by(struct desk *d, const struct rubric *rubric)
{
	struct reply rater, piece;
	const struct rubric *before = d->rubric;
	enum how how = ask_rater(d, &rater, &piece);
	struct rate_how x = {.piece = piece.text, .rater = rater.text};
	desk_keeps(d, "What you rated is recorded.");
	d->rubric = rubric;
	if (!how)
		how = rate_run(d, &x);
	d->rubric = before;
	return !how && x.refused ? tell(d, "Rating bench work", x.refused) : how;
}

static enum how go_rate(struct desk *d, void *context)
{
	const struct options *o = context;
	struct arena a = {0};
	struct rubrics all = {0};
	const struct rubric *rubric = NULL;
	if (!d->strand)
		return tell(d, "Rating bench work", needs_record);
	enum bad code = rubrics_gather(courses_folder(o, &a), &a, &all);
	enum how how = code ? desk_broken(d, code) : choose_rubric(d, &all, &a, &rubric);
	if (!how)
		how = rubric ? rate_by(d, rubric)
			     : tell(d, "Rating bench work",
				       "There is no rubric with the courses here.");
	rubrics_release(&all);
	arena_release(&a);
	return how;
}

/* ---- all of it ------------------------------------------------------------------------------- */

static enum how do_home(struct desk *d, void *context)
{
	static const struct home_way ways[] = {
		{{"bench", "Work at the simulated bench", NULL}, "drill", go_bench},
		{{"sit", "Take a graded assessment", NULL}, "sit", go_sit},
		{{"rate", "Rate bench work", "for instructors"}, "rate", go_rate},
	};
	return home_run(d, ways, sizeof ways / sizeof *ways, context);
}

int home_open(const struct options *o, bool unrecorded)
{
	struct options own = *o;
	struct at_desk at = {
		.what = do_home, .context = &own, .unrecorded = unrecorded, .heads = true};
	return sit_down(o, &at);
}
