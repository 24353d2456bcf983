/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "programme/evidence.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/graded.h>
#include <barwright/record/lines.h>

#include "course/assessment.h"

/* While one strand is read. */
struct reading {
	struct evidence *e;
	const struct seals *seals;
	const char *strand, *who;
	struct line_open open;
	const struct course *course; /* of the open sitting, when it is a drill; null: none */
	bool at_bench;               /* the open sitting is a run at the simulated bench */
};

static const char *kept(struct evidence *e, const char *s)
{
	return arena_copy(e->arena, s, strlen(s));
}

static const char *person_of(struct evidence *e, const char *code)
{
	return kept(e, e->person ? e->person(e->context, code) : code);
}

static const char *identity_of(const struct seal *s)
{
	return *s->body.identity_check ? s->body.identity_check : "not-stated";
}

/* ---- results --------------------------------------------------------------------------------- */

static enum bad exhibit_add(struct reading *r, const struct strand_line *line,
	const struct line_result *x, size_t n, const struct seal *seal)
{
	struct evidence *e = r->e;
	struct exhibit *p = arena_new(e->arena, struct exhibit);
	const char *work =
		*x->piece ? arena_format(e->arena, "piece %s", x->piece)
			  : arena_format(e->arena, "attempt %llu", (unsigned long long)x->attempt);
	if (!p || !work)
		return BAD_MEMORY;
	*p = (struct exhibit){.who = r->who,
		.strand = r->strand,
		.competency = x->part_competency.at[n],
		.of = x->of,
		.title = x->title,
		.part = x->part.at[n],
		.work = work,
		.attempt = !*x->piece,
		.percent = x->part_percent.at[n],
		.needed = x->part_needed.at[n],
		.value = result_number(x->part_percent.at[n]),
		.reached = strcmp(x->part_verdict.at[n], "reached") == 0,
		.open = strcmp(x->part_verdict.at[n], "open") == 0,
		.assessed = seal != NULL,
		.assessor = seal ? seal->accepted_as : x->by,
		.identity = seal ? identity_of(seal) : "",
		.at_ms = line->at_ms,
		.seq = e->npiece++};
	if (e->last_piece)
		e->last_piece->next = p;
	else
		e->piece = p;
	e->last_piece = p;
	return FINE;
}

static enum bad on_result(struct reading *r, const struct strand_line *line)
{
	struct line_result x;
	enum bad code = line_result_read(line, r->e->arena, &x);
	const struct seal *seal = seal_of(r->seals, line->n, r->open.sitting);
	for (size_t n = 0; !code && n < x.part.n; n++)
		code = exhibit_add(r, line, &x, n, seal);
	return code;
}

/* ---- drills ---------------------------------------------------------------------------------- */

static const struct course *course_of(const struct evidence *e, const char *code)
{
	for (size_t n = 0; n < e->ncourse; n++)
		if (strcmp(e->course[n]->code, code) == 0)
			return e->course[n];
	return NULL;
}

static enum bad on_open(struct reading *r, const struct strand_line *line)
{
	enum bad code = line_open_read(line, r->e->arena, &r->open);
	bool drill = !code && strcmp(r->open.mode, "drill") == 0;
	r->course = drill ? course_of(r->e, r->open.course) : NULL;
	r->at_bench = !code && strcmp(r->open.mode, "bench") == 0;
	return code;
}

static struct practised *practised_of(struct reading *r, const char *competency)
{
	for (struct practised *p = r->e->practised; p; p = p->next)
		if (strcmp(p->competency, competency) == 0 && strcmp(p->who, r->who) == 0)
			return p;
	struct practised *p = arena_new(r->e->arena, struct practised);
	if (p) {
		*p = (struct practised){.who = r->who, .competency = competency};
		p->next = r->e->practised;
		r->e->practised = p;
	}
	return p;
}

static enum bad on_answer(struct reading *r, const struct strand_line *line)
{
	struct arena mem = {0};
	struct line_answer a;
	enum bad code = r->course ? line_answer_read(line, &mem, &a) : BAD_MISSING;
	const struct problem *p = code ? NULL : course_problem(r->course, a.item);
	if (p && a.turn == 1) {
		struct practised *to = practised_of(r, p->competency);
		if (!to)
			code = BAD_MEMORY;
		if (to) {
			to->answers++;
			to->right += strcmp(a.outcome, "right") == 0;
			to->last_ms = line->at_ms;
		}
	}
	arena_release(&mem);
	return code;
}

/* ---- runs at the bench ----------------------------------------------------------------------- */

/* The decision that ends a run carries its score, in per cent; all others a clock, in minutes. */
static enum bad on_decision(struct reading *r, const struct strand_line *line)
{
	struct evidence *e = r->e;
	struct line_answer a;
	enum bad code = line_answer_read(line, e->arena, &a);
	if (code || strcmp(a.unit, "%") != 0)
		return code;
	const struct seal *seal = seal_of(r->seals, line->n, r->open.sitting);
	struct benched *b = arena_new(e->arena, struct benched);
	if (!b)
		return BAD_MEMORY;
	*b = (struct benched){.who = r->who,
		.run = a.item,
		.end = a.outcome,
		.percent = a.expected,
		.value = result_number(a.expected),
		.assessed = seal != NULL,
		.assessor = seal ? seal->accepted_as : "",
		.identity = seal ? identity_of(seal) : "",
		.at_ms = line->at_ms};
	if (e->last_benched)
		e->last_benched->next = b;
	else
		e->benched = b;
	e->last_benched = b;
	return FINE;
}

static enum bad on_line(void *context, const struct strand_line *line)
{
	struct reading *r = context;
	enum line_kind kind = line_kind(line->kind);
	enum bad code = FINE;
	if (line->erased)
		return FINE;
	if (!r->who)
		r->who = person_of(r->e, line->who);
	if (!r->who)
		return BAD_MEMORY;
	if (kind == LINE_OPEN)
		code = on_open(r, line);
	else if (kind == LINE_RESULT && r->open.sitting)
		code = on_result(r, line);
	else if (kind == LINE_ANSWER)
		code = r->at_bench ? on_decision(r, line) : on_answer(r, line);
	return code == BAD_MEMORY ? code : FINE;
}

/* ---- strands --------------------------------------------------------------------------------- */

static bool is_known(const struct evidence *e, const struct strand_sum *sum)
{
	for (const struct looked *l = e->looked; l; l = l->next)
		if (*sum->strand && strcmp(l->strand, sum->strand) == 0 &&
			hash_is_equal(&l->head, &sum->head))
			return true;
	return false;
}

static enum bad looked_add(struct evidence *e, const char *path, const struct strand_sum *sum,
	uint64_t fixed, enum bad fault)
{
	struct looked *l = arena_new(e->arena, struct looked);
	const char *name = kept(e, path), *strand = kept(e, sum->strand);
	const char *code = kept(e, sum->who), *who = person_of(e, sum->who);
	if (!l || !name || !strand || !code || !who)
		return BAD_MEMORY;
	*l = (struct looked){name, strand, who, code, sum->lines, fixed, fault, sum->head, NULL};
	if (e->last_looked)
		e->last_looked->next = l;
	else
		e->looked = l;
	e->last_looked = l;
	e->faulty += fault != FINE;
	return FINE;
}

/* First whether it is whole, then what it says. Signatures are looked at: this is for an accreditor. */
static enum bad read_whole(struct evidence *e, const char *path, const struct source *source)
{
	struct seals seals = {0};
	struct strand_sum sum = {0};
	struct strand_check how = {0};
	struct reading r = {.e = e, .seals = &seals};
	enum bad fault = strand_read(source, &how, NULL, NULL, &sum, NULL);
	if (fault == BAD_MEMORY || is_known(e, &sum))
		return fault == BAD_MEMORY ? fault : FINE;
	if (fault && fault != BAD_TORN)
		return looked_add(e, path, &sum, 0, fault);
	enum bad code = seals_find(source, e->ring, e->arena, &seals);
	if (code)
		return code;
	r.strand = kept(e, sum.strand);
	how.hashes_only = true;
	code = r.strand ? strand_read(source, &how, on_line, &r, &sum, NULL) : BAD_MEMORY;
	return code == BAD_MEMORY ? code : looked_add(e, path, &sum, seals.fixed, FINE);
}

static enum bad add_file(struct evidence *e, const char *path)
{
	struct arena mem = {0};
	struct source *source;
	enum bad code = strand_load(path, &mem, &source);
	if (!code)
		code = read_whole(e, path, source);
	arena_release(&mem);
	return code;
}

enum bad evidence_add(struct evidence *e, const char *path)
{
	struct folder_entry *entry;
	struct strand_sum nothing = {0};
	size_t n;
	if (file_kind(path) != FILE_FOLDER)
		return add_file(e, path);
	enum bad code = folder_list(path, e->arena, &entry, &n);
	for (size_t k = 0; !code && k < n; k++) {
		if (entry[k].kind == FILE_FOLDER || !strand_is_file_name(entry[k].name))
			continue;
		const char *one = folder_join(e->arena, path, entry[k].name);
		code = one ? add_file(e, one) : BAD_MEMORY;
		if (code &&
			code != BAD_MEMORY) /* one that cannot be read keeps nobody from the others */
			code = looked_add(e, one, &nothing, 0, code);
	}
	return code;
}

/* ---- the end --------------------------------------------------------------------------------- */

/* Attempts are counted by the machine, so "attempt 1" of another strand is another one; a piece of work may
 * be judged again anywhere. */
static bool is_one_work(const struct exhibit *a, const struct exhibit *b)
{
	return a->assessed == b->assessed && strcmp(a->who, b->who) == 0 &&
	       strcmp(a->of, b->of) == 0 && strcmp(a->work, b->work) == 0 &&
	       (!a->attempt || strcmp(a->strand, b->strand) == 0);
}

static bool is_same_work(const struct exhibit *a, const struct exhibit *b)
{
	return is_one_work(a, b) && strcmp(a->part, b->part) == 0;
}

static int by_learner(const void *a, const void *b)
{
	const struct exhibit *const *x = a, *const *y = b;
	int order = strcmp((*x)->who, (*y)->who);
	return order ? order : ((*x)->seq > (*y)->seq) - ((*x)->seq < (*y)->seq);
}

/* By time; of two of one time by the one read last. `first` is the first of the learner's. */
static bool is_replaced(const struct exhibit *p, const struct exhibit *first)
{
	for (const struct exhibit *q = first; q && strcmp(q->who, p->who) == 0; q = q->next)
		if (q != p && is_same_work(q, p) &&
			(q->at_ms > p->at_ms || (q->at_ms == p->at_ms && q->seq > p->seq)))
			return true;
	return false;
}

static void list_link(struct evidence *e)
{
	struct exhibit **at = &e->piece;
	for (size_t k = 0; k < e->npiece; k++) {
		*at = e->sorted[k];
		at = &(*at)->next;
	}
	*at = NULL;
}

enum bad evidence_end(struct evidence *e)
{
	const struct exhibit *first = NULL;
	size_t kept_n = 0, k = 0;
	e->sorted = arena_many(e->arena, e->npiece + 1, struct exhibit *);
	if (!e->sorted)
		return BAD_MEMORY;
	for (struct exhibit *p = e->piece; p; p = p->next)
		e->sorted[k++] = p;
	qsort(e->sorted, e->npiece, sizeof *e->sorted, by_learner);
	list_link(e);
	for (struct exhibit *p = e->piece; p; p = p->next) {
		first = first && strcmp(first->who, p->who) == 0 ? first : p;
		p->replaced = is_replaced(p, first);
	}
	for (k = 0; k < e->npiece; k++)
		if (!e->sorted[k]->open && !e->sorted[k]->replaced)
			e->sorted[kept_n++] = e->sorted[k];
	e->npiece = kept_n;
	list_link(e);
	return FINE;
}

const struct exhibit *evidence_first(const struct evidence *e, const char *who)
{
	size_t low = 0, high = e->npiece;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (strcmp(e->sorted[middle]->who, who) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	return low < e->npiece && strcmp(e->sorted[low]->who, who) == 0 ? e->sorted[low] : NULL;
}

/* The next one of the same learner. */
static const struct exhibit *next_of(const struct exhibit *p)
{
	return p->next && strcmp(p->next->who, p->who) == 0 ? p->next : NULL;
}

/* A sitting with a part for the whole family has its members' parts in it. */
static bool is_in_whole(const struct evidence *e, const struct exhibit *p, const char *family)
{
	if (strcmp(p->competency, family) == 0)
		return false;
	for (const struct exhibit *q = evidence_first(e, p->who); q; q = next_of(q))
		if (strcmp(q->competency, family) == 0 && strcmp(q->part, family) == 0 &&
			is_one_work(p, q))
			return true;
	return false;
}

static bool is_in_scope(
	const struct evidence *e, const struct exhibit *p, const char *who, const char *competency)
{
	return strcmp(p->who, who) == 0 && competency_is_in(p->competency, competency) &&
	       !is_in_whole(e, p, competency);
}

static bool is_weaker(const struct exhibit *a, const struct exhibit *b)
{
	return a->reached != b->reached ? !a->reached : a->value < b->value;
}

/* One work is one piece of evidence, however many of its parts speak for a competency; it is as good as
 * the weakest of them. *first: is `p` the first of them? */
static const struct exhibit *work_weakest(
	const struct evidence *e, const struct exhibit *p, const char *competency, bool *first)
{
	const struct exhibit *weakest = p;
	bool before = true;
	*first = true;
	for (const struct exhibit *q = evidence_first(e, p->who); q; q = next_of(q)) {
		before &= q != p;
		if (!is_one_work(p, q) || !is_in_scope(e, q, p->who, competency))
			continue;
		*first &= !before;
		weakest = is_weaker(q, weakest) ? q : weakest;
	}
	return weakest;
}

static void sum_add(struct evidence_sum *s, const struct evidence *e, const struct exhibit *p,
	const char *competency)
{
	bool first;
	const struct exhibit *work = work_weakest(e, p, competency, &first);
	if (!first)
		return;
	s->unsealed += !p->assessed;
	if (!p->assessed)
		return;
	s->assessed++;
	s->reached += work->reached;
	if (!s->best || is_weaker(s->best, work))
		s->best = work;
	if (!s->last || work->at_ms >= s->last->at_ms)
		s->last = work;
}

struct benched_sum benched_sum(const struct evidence *e, const char *who)
{
	struct benched_sum s = {0};
	for (const struct benched *b = e->benched; b; b = b->next) {
		if (strcmp(b->who, who) != 0)
			continue;
		s.runs++;
		s.assessed += b->assessed;
		if (!s.best || b->value > s.best->value)
			s.best = b;
		if (!s.last || b->at_ms >= s.last->at_ms)
			s.last = b;
	}
	return s;
}

struct evidence_sum evidence_sum(const struct evidence *e, const char *who, const char *competency)
{
	struct evidence_sum s = {0};
	for (const struct exhibit *p = evidence_first(e, who); p; p = next_of(p))
		if (is_in_scope(e, p, who, competency))
			sum_add(&s, e, p, competency);
	for (const struct practised *p = e->practised; p; p = p->next)
		if (strcmp(p->who, who) == 0 && competency_is_in(p->competency, competency)) {
			s.answers += p->answers;
			s.right += p->right;
		}
	return s;
}

static int by_text(const void *a, const void *b)
{
	const char *const *x = a, *const *y = b;
	return strcmp(*x, *y);
}

const char **evidence_learners(const struct evidence *e, size_t *n)
{
	size_t room = 0, k = 0;
	for (const struct looked *l = e->looked; l; l = l->next)
		room++;
	const char **list = arena_many(e->arena, room + 1, const char *);
	for (const struct looked *l = e->looked; list && l; l = l->next) {
		size_t i = 0;
		while (i < k && strcmp(list[i], l->who) != 0)
			i++;
		if (i == k && *l->who)
			list[k++] = l->who;
	}
	if (list)
		qsort(list, k, sizeof *list, by_text);
	*n = k;
	return list;
}
