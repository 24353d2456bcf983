/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a course can put into the places of an assessment. */
#include "course/assessment.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/base/nearest.h>

static bool fits(const struct assessment_row *row, const struct problem *p)
{
	if (row->item)
		return strcmp(row->item, p->code) == 0;
	return competency_is_in(p->competency, row->competency) &&
	       (!row->level || row->level == p->level);
}

/* ---- filling --------------------------------------------------------------------------------- */

/* Places are matched with items by augmenting paths, the first place first. */
struct fill {
	const struct assessment *assessment;
	const struct course *course;
	uint32_t *const *order;
	size_t *place_of; /* by item: the place it stands at, or nplace */
	bool *seen;       /* by item, in one search */
	size_t nplace;
};

static bool seat(struct fill *f, size_t place)
{
	const struct assessment_row *row = assessment_place(f->assessment, place);
	for (size_t k = 0; k < f->course->nproblem; k++) {
		uint32_t item = f->order[place][k];
		if (f->seen[item] || !fits(row, f->course->by_code[item]))
			continue;
		f->seen[item] = true;
		if (f->place_of[item] == f->nplace || seat(f, f->place_of[item])) {
			f->place_of[item] = place;
			return true;
		}
	}
	return false;
}

enum bad assessment_fill(const struct assessment *a, const struct course *c, uint32_t *const *order,
	const struct problem **form, size_t *empty)
{
	struct arena mem = {0};
	struct fill f = {a, c, order, arena_many(&mem, c->nproblem + 1, size_t),
		arena_many(&mem, c->nproblem + 1, bool), assessment_places(a)};
	size_t none = 0;
	if (!f.place_of || !f.seen) {
		arena_release(&mem);
		return BAD_MEMORY;
	}
	for (size_t k = 0; k < c->nproblem; k++)
		f.place_of[k] = f.nplace;
	for (size_t n = 0; n < f.nplace; n++) {
		memset(f.seen, 0, c->nproblem);
		none += !seat(&f, n);
		form[n] = NULL;
	}
	for (size_t k = 0; k < c->nproblem; k++)
		if (f.place_of[k] < f.nplace)
			form[f.place_of[k]] = c->by_code[k];
	*empty = none;
	arena_release(&mem);
	return FINE;
}

/* ---- its own items --------------------------------------------------------------------------- */

static int by_code(const void *a, const void *b)
{
	const struct problem *const *x = a, *const *y = b;
	return strcmp((*x)->code, (*y)->code);
}

enum bad assessment_course(
	const struct assessment *a, const struct course *c, struct arena *mem, struct course *out)
{
	struct course made = *c;
	made.arena = (struct arena){0};
	if (a->nown) {
		size_t n = c->nproblem + a->nown;
		made.by_code = arena_many(mem, n, const struct problem *);
		if (!made.by_code)
			return BAD_MEMORY;
		memcpy(made.by_code, c->by_code, c->nproblem * sizeof *c->by_code);
		for (size_t k = 0; k < a->nown; k++)
			made.by_code[c->nproblem + k] = &a->own[k];
		qsort(made.by_code, n, sizeof *made.by_code, by_code);
		made.nproblem = n;
	}
	*out = made;
	return FINE;
}

const struct problem *assessment_own(const struct assessment *a, const char *code)
{
	for (size_t k = 0; k < a->nown; k++)
		if (strcmp(a->own[k].code, code) == 0)
			return &a->own[k];
	return NULL;
}

/* ---- telling --------------------------------------------------------------------------------- */

static uint32_t span_of(const char *s)
{
	return *s ? (uint32_t)strlen(s) : 1;
}

static void no_item(const struct assessment_row *row, const struct course *c, struct diags *d)
{
	struct nearest near = {.wanted = row->item, .len = strlen(row->item)};
	diag_error(d, BAD_UNKNOWN, row->place, span_of(row->item),
		"the course has no problem or item '%s'", row->item);
	for (size_t k = 0; k < c->nproblem; k++)
		nearest_offer(&near, c->by_code[k]->code, strlen(c->by_code[k]->code));
	if (near.word)
		diag_hint(d, "did you mean '%s'?", near.word);
}

static void tell_short(
	const struct assessment_row *row, const struct course *c, size_t missing, struct diags *d)
{
	size_t fit = 0;
	char level[24] = "";
	for (size_t k = 0; k < c->nproblem; k++)
		fit += fits(row, c->by_code[k]);
	if (row->item && !fit) {
		no_item(row, c, d);
		return;
	}
	if (row->item) {
		diag_error(d, BAD_REPEATED, row->place, span_of(row->item),
			"'%s' stands in the form already", row->item);
		return;
	}
	if (row->level)
		snprintf(level, sizeof level, " of level %d", row->level);
	diag_error(d, BAD_COUNT, row->place, span_of(row->competency),
		"competency %s lacks %zu %s%s: %d %s asked for, the course has %zu",
		row->competency, missing, missing == 1 ? "item" : "items", level, row->items,
		row->items == 1 ? "is" : "are", fit);
	if (fit >= (size_t)row->items)
		diag_hint(d, "they are needed by other lines of the blueprint too, and none is "
			     "asked twice");
}

/* Places of one row stand one behind the other. */
static void rows_tell(const struct assessment *a, const struct course *c,
	const struct problem *const *form, struct diags *d)
{
	size_t n = 0;
	for (size_t i = 0; i < a->nsection; i++)
		for (size_t k = 0; k < a->section[i].nrow; k++) {
			const struct assessment_row *row = &a->section[i].row[k];
			size_t missing = 0;
			for (int j = 0; j < row->items; j++)
				missing += !form[n++];
			if (missing)
				tell_short(row, c, missing, d);
		}
}

static void cut_tell(const struct assessment *a, const struct course *c,
	const struct assessment_cut *cut, struct diags *d)
{
	bool known = false;
	for (size_t k = 0; k < c->ncompetency; k++)
		known |= strcmp(c->competency[k].code, cut->competency) == 0;
	for (size_t n = 0; n < assessment_places(a); n++) {
		const struct assessment_row *row = assessment_place(a, n);
		const struct problem *p = row->item ? course_problem(c, row->item) : NULL;
		const char *code = row->item ? (p ? p->competency : "") : row->competency;
		if (competency_is_in(code, cut->competency))
			return;
	}
	diag_error(d, BAD_UNUSED, cut->place, span_of(cut->competency),
		known ? "nothing of competency '%s' is asked for certain"
		      : "the course has no competency '%s'",
		cut->competency);
}

static bool is_asked_for(const struct assessment *a, const struct problem *p)
{
	for (size_t n = 0; n < assessment_places(a); n++)
		if (fits(assessment_place(a, n), p))
			return true;
	return false;
}

static void own_tell(const struct assessment *a, const struct course *c, size_t k, struct diags *d)
{
	const struct problem *p = &a->own[k];
	if (course_problem(c, p->code))
		diag_error(d, BAD_REPEATED, a->own_place[k], span_of(p->code),
			"the course has a problem or item '%s' already", p->code);
	if (!course_competency(c, p->competency))
		diag_error(d, BAD_UNKNOWN, a->own_place[k], span_of(p->code),
			"the course has no competency '%s', which '%s' names", p->competency,
			p->code);
	else if (!is_asked_for(a, p))
		diag_warn(d, BAD_UNUSED, a->own_place[k], span_of(p->code),
			"no line of the blueprint asks for '%s'", p->code);
}

enum bad assessment_bank(const struct assessment *a, const struct course *bare, struct diags *d)
{
	struct arena mem = {0};
	struct course whole;
	const struct course *c = &whole;
	if (assessment_course(a, bare, &mem, &whole))
		return BAD_MEMORY;
	for (size_t k = 0; k < a->nown; k++)
		own_tell(a, bare, k, d);
	size_t places = assessment_places(a), empty;
	const struct problem **form = arena_many(&mem, places + 1, const struct problem *);
	uint32_t **order = arena_many(&mem, places + 1, uint32_t *);
	uint32_t *same = arena_many(&mem, c->nproblem + 1, uint32_t);
	enum bad code = form && order && same ? FINE : BAD_MEMORY;
	for (size_t k = 0; !code && k < c->nproblem; k++)
		same[k] = (uint32_t)k;
	for (size_t n = 0; !code && n < places; n++)
		order[n] = same;
	if (!code)
		code = assessment_fill(a, c, order, form, &empty);
	if (!code && empty)
		rows_tell(a, c, form, d);
	for (size_t k = 0; !code && k < a->ncut; k++)
		cut_tell(a, c, &a->cut[k], d);
	arena_release(&mem);
	return code || !d->out ? code : BAD_MEMORY;
}
