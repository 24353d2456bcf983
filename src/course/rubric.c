/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A rubric: what an examiner looks at when bench work is rated.
 *
 *	rubric       its code
 *	title        one line
 *	about        what it is for, and whose tolerances these are
 *	points       of the levels 0 to 3, rising, 0 to 100 ([0, 40, 75, 100])
 *	partial      true: a part of an examination, its weights need not sum to 100 (false)
 *	pass         per cent of the whole that is needed (70)
 *	below        how many stations may stand at level 1 (2); none may stand at 0
 *	stations     at least one:
 *	  station      its code, unique in the rubric
 *	  title        one line
 *	  weight       per cent of the whole, 1 to 100; all together 100
 *	  competency   the code of what is shown here
 *	  source       where levels and tolerances come from
 *	  criteria     at least one: criterion (what is looked at), instrument (with what), levels: four
 *	               texts, level 0 first: unusable, below, competent, excellent; measure, where an
 *	               instrument decides: error of the instrument, at-most and at-least (one of them or
 *	               both): the limits of the levels 1, 2, 3
 *	  critical     errors any one of which fails the station (none) */
#include "course/doc.h"

#include <math.h>
#include <string.h>

#include <barwright/calc/metrology.h>

#include "course/load.h"

static void levels_read(struct doc *c, struct tree *t, struct criterion *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	size_t k = 0;
	if (child && t->count != RUBRIC_LEVELS) {
		tree_fault(t, c->diags, BAD_COUNT, "there are %zu levels where %d are needed",
			t->count, RUBRIC_LEVELS);
		diag_hint(c->diags, "level 0 first: unusable, below, competent, excellent");
		return;
	}
	for (; child; child = child->next)
		out->level[k++] = doc_text(c, child);
}

/* The limits of levels 1 to 3 into to[1..3]; each level asks at least as much as the one below it. */
static void limits_read(struct doc *c, struct tree *t, const char *unit, int sign, double *to)
{
	double *limit;
	size_t n;
	if (!t || !doc_fine(c, tree_quantities(t, unit, c->aside, c->diags, &limit, &n)))
		return;
	if (n != RUBRIC_LEVELS - 1) {
		tree_fault(t, c->diags, BAD_COUNT, "there are %zu limits where %d are needed", n,
			RUBRIC_LEVELS - 1);
		diag_hint(c->diags, "one for each of the levels 1, 2 and 3");
		return;
	}
	for (size_t i = 0; i < n; i++) {
		if (i && sign * limit[i] < sign * limit[i - 1])
			tree_fault(tree_at(t, i), c->diags, BAD_ORDER,
				"a higher level must ask for more, not for less");
		to[i + 1] = limit[i];
	}
}

static void bands_are_there(struct doc *c, struct tree *t, const struct measure *m)
{
	double from, to;
	for (int k = 1; k < RUBRIC_LEVELS; k++) {
		enum bad code = metrology_band(m->lower[k], m->upper[k], m->error, &from, &to);
		if (!code)
			continue;
		tree_fault(t, c->diags, code,
			code == BAD_NOTHING ? "no reading of this instrument can prove level %d"
					    : "the limits of level %d leave nothing between them",
			k);
		if (code == BAD_NOTHING)
			diag_hint(c->diags, "its error is too large for these limits: name a "
					    "better one");
		return;
	}
}

static void measure_read(struct doc *c, struct tree *t, struct measure *out)
{
	struct quantity error;
	struct diags *d = c->diags;
	size_t before = d->nerror;
	if (!t || !doc_children(c, t, TREE_MAP))
		return;
	*out = (struct measure){.is_there = true, .unit_text = ""};
	for (int k = 0; k < RUBRIC_LEVELS; k++) {
		out->lower[k] = -INFINITY;
		out->upper[k] = INFINITY;
	}
	struct tree *at = tree_need(t, "error", d);
	if (at && doc_quantity(c, at, &error)) {
		out->unit = error.of;
		out->unit_text = error.unit;
		out->error = quantity_span(&error);
		if (out->error < 0)
			tree_fault(at, d, BAD_RANGE, "an instrument's error is not below 0");
	}
	struct tree *most = tree_find(t, "at-most"), *least = tree_find(t, "at-least");
	if (d->nerror == before) {
		limits_read(c, most, out->unit_text, -1, out->upper);
		limits_read(c, least, out->unit_text, 1, out->lower);
	}
	if (!most && !least)
		tree_fault(
			t, d, BAD_MISSING, "%s has neither 'at-most' nor 'at-least'", tree_name(t));
	tree_unknown(t, d);
	if (d->nerror == before)
		bands_are_there(c, t, out);
}

static void criterion_read(struct doc *c, struct tree *t, struct criterion *out)
{
	out->text = doc_text(c, tree_need(t, "criterion", c->diags));
	out->instrument = doc_line(c, tree_need(t, "instrument", c->diags));
	levels_read(c, tree_need(t, "levels", c->diags), out);
	measure_read(c, tree_find(t, "measure"), &out->measure);
	tree_unknown(t, c->diags);
}

static void criteria_read(struct doc *c, struct tree *t, struct station *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	struct criterion *criterion = doc_many(c, child ? t->count : 0, struct criterion);
	for (; criterion && child; child = child->next)
		criterion_read(c, child, &criterion[out->ncriterion++]);
	out->criterion = criterion;
}

static void station_read(struct doc *c, struct tree *t, struct station *out)
{
	struct diags *d = c->diags;
	out->code = doc_code(c, tree_need(t, "station", d));
	out->title = doc_line(c, tree_need(t, "title", d));
	out->weight = doc_whole(c, tree_need(t, "weight", d), 1, 100, 0);
	out->competency = doc_code(c, tree_need(t, "competency", d));
	out->source = doc_text(c, tree_need(t, "source", d));
	criteria_read(c, tree_need(t, "criteria", d), out);
	struct tree *critical = tree_find(t, "critical");
	if (critical)
		out->critical = doc_lines(c, critical, &out->ncritical);
	tree_unknown(t, d);
}

static void station_is_new(struct doc *c, struct tree *t, const struct station *all, size_t n)
{
	struct tree *code = tree_find(t, "station"), *other = t->parent->first;
	for (size_t i = 0; i < n && *all[n].code; i++, other = other->next) {
		if (strcmp(all[i].code, all[n].code) != 0)
			continue;
		tree_fault(code, c->diags, BAD_REPEATED, "a station is called '%s' already",
			code->text);
		diag_note(c->diags, tree_find(other, "station")->place, "here it stands first");
		return;
	}
}

static void weights_sum(
	struct doc *c, struct tree *t, const struct rubric *r, size_t errors, bool partial)
{
	int sum = 0;
	for (size_t i = 0; i < r->nstation; i++)
		sum += r->station[i].weight;
	if (!r->nstation || errors != c->diags->nerror || (partial ? sum <= 100 : sum == 100))
		return;
	diag_error(c->diags, BAD_RANGE, t->key_place, t->key_span,
		partial ? "the weights sum to %d, more than 100"
			: "the weights sum to %d, not to 100",
		sum);
	if (sum < 100)
		diag_hint(c->diags, "if this is a part of an examination, write 'partial: true'");
}

static void stations_read(struct doc *c, struct tree *t, struct rubric *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	struct station *station = doc_many(c, child ? t->count : 0, struct station);
	for (; station && child; child = child->next) {
		station_read(c, child, &station[out->nstation]);
		station_is_new(c, child, station, out->nstation++);
	}
	out->station = station;
}

static void points_read(struct doc *c, struct tree *t, struct rubric *out)
{
	static const int usual[RUBRIC_LEVELS] = {0, 40, 75, 100};
	int64_t *points;
	size_t n;
	memcpy(out->points, usual, sizeof usual);
	if (!t || !doc_fine(c, tree_wholes(t, 0, 100, c->aside, c->diags, &points, &n)))
		return;
	if (n != RUBRIC_LEVELS) {
		tree_fault(t, c->diags, BAD_COUNT, "there are %zu numbers where %d are needed", n,
			RUBRIC_LEVELS);
		return;
	}
	for (size_t i = 0; i < n; i++) {
		if (i && points[i] <= points[i - 1])
			tree_fault(tree_at(t, i), c->diags, BAD_ORDER,
				"a higher level must have more points");
		out->points[i] = (int)points[i];
	}
}

void rubric_read(struct doc *c, struct tree *root, struct rubric *out)
{
	size_t before = c->diags->nerror;
	out->code = doc_code(c, tree_need(root, "rubric", c->diags));
	out->title = doc_line(c, tree_need(root, "title", c->diags));
	out->about = doc_text(c, tree_need(root, "about", c->diags));
	points_read(c, tree_find(root, "points"), out);
	struct tree *pass = tree_find(root, "pass"), *below = tree_find(root, "below");
	out->pass = pass ? doc_whole(c, pass, 0, 100, 70) : 70;
	out->below = below ? doc_whole(c, below, 0, 100, 2) : 2;
	struct tree *stations = tree_need(root, "stations", c->diags);
	bool partial = false;
	if (tree_find(root, "partial"))
		partial = doc_truth(c, tree_find(root, "partial"));
	stations_read(c, stations, out);
	tree_unknown(root, c->diags);
	weights_sum(c, stations, out, before, partial);
}

enum bad rubric_load(const char *path, struct rubric *out, struct diags *d)
{
	struct rubric r = {0};
	struct arena aside = {0};
	struct doc c = {.arena = &r.arena, .aside = &aside, .diags = d};
	struct diags kept = *d;
	struct document file;
	size_t before = d->nerror;
	enum bad code = document_open(&c, path, &file);
	if (!code && document_is(&c, &file, "rubric"))
		rubric_read(&c, file.root, &r);
	arena_release(&aside);
	if (!code && (c.out || (d->out && !kept.out)))
		code = BAD_MEMORY;
	if (code) {
		arena_release(&r.arena);
		doc_forget(d, &kept);
		*out = (struct rubric){0};
		return code;
	}
	r.hash = document_hash(&file);
	if (d->nerror != before)
		r.nstation = 0;
	*out = r;
	return FINE;
}

void rubric_release(struct rubric *r)
{
	arena_release(&r->arena);
	*r = (struct rubric){0};
}
