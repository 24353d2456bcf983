/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A problem: a template from which tasks with ever new numbers are made.
 *
 *	problem      its code, unique in the course
 *	title        one line
 *	competency   a code of the course
 *	level        1, 2 or 3
 *	source       where formula and numbers come from
 *	caution      what can hurt somebody, wherever the task is shown (none)
 *	mind         what else to watch for in the work: not shown in an assessment (none)
 *	draws        names and what is drawn for them (draw.c)
 *	let          names and what is worked out from what stands above (none):
 *	               r: diameter / 2
 *	               r: {formula: diameter / 2, unit: mm, places: 2}
 *	             unit left out: mm, N, MPa, deg, N mm, N/mm, mm2, mm3, mm4, else the unit in which
 *	             the program computes; places left out: 2
 *	require      conditions a task must meet, formulas that give a truth (none)
 *	decisions    limits an answer must keep away from (none): value, limits (a number or a list),
 *	             margin ("0.1 mm")
 *	text         the task, with values (template.c)
 *	given        labels and texts with values, as a table (none)
 *	figure       a drawing (figures.c, none)
 *	asks         what is asked, at least one (ask.c)
 *	days         names of the days, as {x:days} shows them, day 1 first; times may then go round
 *	             (none: they have numbers)
 *
 * Names begin with a letter and go on with letters, digits and '_'. What a name needs stands above
 * it. A formula may be written as a YAML list, [xp, 0 mm, xq]. */
#include "course/doc.h"

#include <string.h>

#include <barwright/base/nearest.h>

/* ---- names ----------------------------------------------------------------------------------- */

static bool names_init(struct doc *c, size_t n, struct names *out, struct problem *p)
{
	struct shown *shown = doc_many(c, n, struct shown);
	p->scope.name = doc_many(c, n, struct formula_name);
	*out = (struct names){.scope = &p->scope,
		.shown = shown,
		.fixed = doc_many(c, n, bool),
		.whole = doc_many(c, n, bool),
		.lost = doc_many(c, n, const struct tree *)};
	p->scope.room = n;
	p->shown = shown;
	return !c->out;
}

static void draws_read(struct doc *c, struct names *n, struct tree *t, struct problem *p)
{
	struct draw *draw = doc_many(c, t ? t->count : 0, struct draw);
	for (struct tree *child = draw && t ? t->first : NULL; child; child = child->next) {
		struct draw *d = &draw[p->ndraw++];
		struct formula_type type = {FORMULA_NUMBER, {{0}}};
		child->used = true;
		d->slot = SIZE_MAX;
		if (!draw_read(c, n, draw, child, d, &type))
			names_lose(n, child);
		else if (names_add(c, n, child, type, &d->shown, &d->slot)) {
			d->name = p->scope.name[d->slot].name;
			n->whole[d->slot] = !d->shown.places && !*d->shown.unit_text;
		}
	}
	p->draw = draw;
	n->ndraw = p->scope.n;
}

static void let_read(struct doc *c, struct names *n, struct tree *t, struct let *out)
{
	struct tree *map = t->kind == TREE_MAP ? t : NULL;
	struct tree *text = map ? tree_need(map, "formula", c->diags) : t;
	struct formula *f = doc_formula(c, n, text);
	*out = (struct let){.formula = f, .place = t->key_place, .slot = SIZE_MAX};
	bool shown = doc_shown(c, n, map, f, &out->shown);
	if (map)
		tree_unknown(map, c->diags);
	if (!shown) {
		names_lose(n, t);
		return;
	}
	doc_shown_tell(c, text, map, &out->shown);
	struct formula_type type = formula_result(f);
	type.dim = out->shown.unit.dim; /* plain 0 may be declared as 0 mm */
	if (type.kind == FORMULA_TRUTH)
		out->shown.places = 0;
	if (!names_add(c, n, t, type, &out->shown, &out->slot))
		return;
	out->name = n->scope->name[out->slot].name;
	n->whole[out->slot] = formula_is_whole(f, n->whole);
	if (names_vary(n, f))
		return;
	n->fixed[out->slot] = true;
	n->nfixed++;
}

static void lets_read(struct doc *c, struct names *n, struct tree *t, struct problem *p)
{
	struct let *let = doc_many(c, t ? t->count : 0, struct let);
	for (struct tree *child = let && t ? t->first : NULL; child; child = child->next) {
		child->used = true;
		n->now = child;
		let_read(c, n, child, &let[p->nlet++]);
	}
	n->now = NULL;
	p->let = let;
}

static void unused_tell(struct doc *c, const struct names *n)
{
	for (size_t i = 0; i < n->scope->n; i++) {
		const struct formula_name *name = &n->scope->name[i];
		if (name->used)
			continue;
		diag_warn(c->diags, BAD_UNUSED, name->declared, (uint32_t)name->len,
			i < n->ndraw ? "'%.*s' is drawn and never used"
				     : "'%.*s' is worked out and never used",
			(int)name->len, name->name);
	}
}

/* ---- conditions ------------------------------------------------------------------------------ */

static void requires_read(struct doc *c, const struct names *n, struct tree *t, struct problem *p)
{
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct require *require = doc_many(c, child ? t->count : 0, struct require);
	for (; require && child; child = child->next) {
		struct formula *f = doc_formula(c, n, child);
		doc_kind(c, child, f, A_TRUTH);
		require[p->nrequire++] = (struct require){f, child->place};
	}
	p->require = require;
}

static void decision_read(
	struct doc *c, const struct names *n, struct tree *t, struct decision *out)
{
	struct tree *value = tree_need(t, "value", c->diags);
	struct tree *limits = tree_need(t, "limits", c->diags);
	struct tree *margin = tree_need(t, "margin", c->diags);
	struct formula *f = doc_formula(c, n, value), *limit = doc_formula(c, n, limits);
	struct quantity q;
	*out = (struct decision){.value = f, .limits = limit, .place = t->place};
	tree_unknown(t, c->diags);
	bool known = doc_kind(c, value, f, A_NUMBER);
	if (doc_kind(c, limits, limit, A_NUMBER | A_LIST) && known)
		doc_fits(c, limits, limit, formula_result(f).dim, "the limit");
	if (!doc_quantity(c, margin, &q))
		return;
	out->margin = quantity_span(&q);
	if (known && !dim_is_equal(q.of.dim, formula_result(f).dim))
		tree_fault(margin, c->diags, BAD_UNIT, "the margin is %s, and the value %s",
			doc_dim(c, q.of.dim), doc_dim(c, formula_result(f).dim));
	else if (out->margin <= 0)
		tree_fault(margin, c->diags, BAD_RANGE, "the margin must be above 0");
}

static void decisions_read(struct doc *c, const struct names *n, struct tree *t, struct problem *p)
{
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct decision *decision = doc_many(c, child ? t->count : 0, struct decision);
	for (; decision && child; child = child->next)
		decision_read(c, n, child, &decision[p->ndecision++]);
	p->decision = decision;
}

/* ---- what is shown and asked ----------------------------------------------------------------- */

static void givens_read(struct doc *c, const struct names *n, struct tree *t, struct problem *p)
{
	struct tree *child = t ? doc_children(c, t, TREE_MAP) : NULL;
	struct given *given = doc_many(c, child ? t->count : 0, struct given);
	for (; given && child; child = child->next) {
		struct given *g = &given[p->ngiven++];
		child->used = true;
		g->label = doc_keep(c, child->key, child->key_len);
		if (child->key_len > LINE_MOST)
			diag_error(c->diags, BAD_SIZE, child->key_place, child->key_span,
				"the label is longer than %d letters", LINE_MOST);
		template_read(c, n, child, &g->value);
	}
	p->given = given;
}

static void asks_read(struct doc *c, const struct names *n, struct tree *t, struct problem *p)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	struct ask *ask = doc_many(c, child ? t->count : 0, struct ask);
	for (; ask && child; child = child->next)
		ask_read(c, n, child, false, &ask[p->nask++]);
	p->ask = ask;
}

/* ---- the head -------------------------------------------------------------------------------- */

static void competency_is_known(struct doc *c, struct tree *t, const struct course *course)
{
	struct nearest near = {.wanted = t->text, .len = t->len};
	if (course_competency(course, t->text))
		return;
	for (size_t i = 0; i < course->ncompetency; i++)
		nearest_offer(
			&near, course->competency[i].code, strlen(course->competency[i].code));
	tree_fault(t, c->diags, BAD_UNKNOWN, "the course has no competency '%s'", t->text);
	if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
	else
		diag_hint(c->diags, "competencies stand in course.yaml");
}

/* Two clocks, without and with the day. */
static void days_read(struct doc *c, struct tree *t, struct problem *p)
{
	struct clock *clock = doc_many(c, 2, struct clock);
	if (!clock)
		return;
	clock[1].with_days = true;
	if (t)
		clock[1].day = doc_lines(c, t, &clock[1].nday);
	c->clock = p->clock = clock;
}

void problem_head_read(struct doc *c, struct tree *root, const char *kind,
	const struct course *course, struct problem *p)
{
	struct diags *d = c->diags;
	p->code = doc_code(c, tree_need(root, kind, d));
	p->title = doc_line(c, tree_need(root, "title", d));
	struct tree *competency = tree_need(root, "competency", d);
	p->competency = doc_code(c, competency);
	if (course && *p->competency)
		competency_is_known(c, competency, course);
	p->level = doc_whole(c, tree_need(root, "level", d), 1, 3, 1);
	p->source = doc_text(c, tree_need(root, "source", d));
	struct tree *caution = tree_find(root, "caution");
	struct tree *mind = tree_find(root, "mind");
	p->caution = caution ? doc_text(c, caution) : NULL;
	p->mind = mind ? doc_text(c, mind) : NULL;
	days_read(c, tree_find(root, "days"), p);
}

void problem_read(
	struct doc *c, struct tree *root, const struct course *course, struct problem *out)
{
	struct diags *d = c->diags;
	size_t before = d->nerror;
	struct names n;
	problem_head_read(c, root, "problem", course, out);
	struct tree *draws = tree_need(root, "draws", d), *let = tree_find(root, "let");
	if (!doc_children(c, draws, TREE_MAP))
		draws = NULL;
	if (let && !doc_children(c, let, TREE_MAP))
		let = NULL;
	if (!names_init(c, (draws ? draws->count : 0) + (let ? let->count : 0), &n, out))
		return;
	draws_read(c, &n, draws, out);
	lets_read(c, &n, let, out);
	requires_read(c, &n, tree_find(root, "require"), out);
	decisions_read(c, &n, tree_find(root, "decisions"), out);
	template_read(c, &n, tree_need(root, "text", d), &out->text);
	givens_read(c, &n, tree_find(root, "given"), out);
	figure_read(c, &n, tree_find(root, "figure"), &out->figure);
	asks_read(c, &n, tree_need(root, "asks", d), out);
	c->clock = NULL;
	tree_unknown(root, d);
	if (d->nerror == before)
		unused_tell(c, &n);
}
