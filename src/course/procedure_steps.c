/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What can be done at the bench.
 *
 * steps, in the order in which somebody who knows would do them:
 *	step         its code, "S06"
 *	word         what is typed for it, "cut"
 *	title        what is done
 *	why          its purpose, one line
 *	station      of the rubric, and
 *	competency   of the course, to which what is done here counts
 *	caution      where somebody can be hurt or the case spoilt (none)
 *	after        steps that should be done before it (none). It can be done without: then they count as
 *	             left out, and what comes of that is worked out
 *	only         it applies only if (always)
 *	can          what must be so for hands to do it at all: when, else (nothing)
 *	asks         what is asked of the hands (none):
 *	  ask        its name
 *	  text       the question
 *	  each       site, place or end (one)
 *	  unit, places, from, to   of a number; or choices: choice, title, value; or truth: true
 *	  hand       what hand and tool add or take at most: "0.05 mm" or "2 %" (0)
 *	  usual      what somebody who knows would answer, a formula
 *	does         properties and what they become, in this order (nothing)
 *	time         it takes, a formula
 *	unattended   true: nobody need stand by (false)
 *	wait         time: what goes by behind it, unattended; for: what it is for, told when it is more than 0
 *	             (none)
 *	uses         materials and how much of each, formulas (none)
 *	undoes       steps it takes back when it is done again (none)
 *	seen         what there is to see when it is done (nothing)
 *
 * looks: look (its code), title, from (the step after which it can be done; always), can, with (tools, the usual
 * one first), reads (a formula; nothing: an eye), each, time
 *
 * backs: back (its code), title, to (where it goes on), undoes, can, then (properties), time, uses
 *
 * orders: order (a step), before (another), say, does, critical
 *
 * windows: from (its end), to (its beginning), least, most, say, does */
#include <math.h>
#include <string.h>

#include "course/procedure_parts.h"

size_t asks_count(struct tree *steps)
{
	size_t n = 0;
	for (struct tree *t = steps ? steps->first : NULL; t; t = t->next) {
		struct tree *asks = tree_find(t, "asks");
		n += asks ? asks->count : 0;
	}
	return n;
}

/* ---- declaring ------------------------------------------------------------------------------- */

static void choices_read(struct reading *r, struct tree *t, struct hand_ask *x)
{
	struct diags *d = r->doc->diags;
	struct tree *child = doc_children(r->doc, t, TREE_LIST);
	struct hand_choice *list = doc_many(r->doc, child ? t->count : 0, struct hand_choice);
	for (; list && child; child = child->next) {
		struct hand_choice *c = &list[x->nchoice++];
		c->word = doc_code(r->doc, tree_need(child, "choice", d));
		c->title = doc_line(r->doc, tree_need(child, "title", d));
		point_of(r, tree_need(child, "value", d), x->shown.unit.dim, &c->value);
		tree_unknown(child, d);
	}
	x->choice = list;
}

static void hand_read(struct reading *r, struct tree *t, struct hand_ask *x)
{
	struct quantity q;
	if (!t || !doc_quantity(r->doc, t, &q))
		return;
	x->hand = quantity_span(&q);
	x->hand_is_part = strcmp(q.unit, "%") == 0 && *x->shown.unit_text &&
			  strcmp(x->shown.unit_text, "%") != 0;
	if (!x->hand_is_part && !dim_is_equal(q.of.dim, x->shown.unit.dim))
		tree_fault(t, r->doc->diags, BAD_UNIT, "this is %s where %s is needed",
			doc_dim(r->doc, q.of.dim), doc_dim(r->doc, x->shown.unit.dim));
}

static void number_ask(struct reading *r, struct tree *t, struct hand_ask *x)
{
	struct diags *d = r->doc->diags;
	struct tree *to = tree_need(t, "to", d);
	if (!point_of(r, tree_need(t, "from", d), x->shown.unit.dim, &x->low) ||
		!point_of(r, to, x->shown.unit.dim, &x->high))
		return;
	if (!(x->low < x->high))
		tree_fault(to, d, BAD_ORDER, "'to' is not above 'from'");
	hand_read(r, tree_find(t, "hand"), x);
}

static void ask_declare(struct reading *r, struct tree *t, struct hand_ask *x)
{
	struct diags *d = r->doc->diags;
	struct tree *name = tree_need(t, "ask", d), *unit = tree_find(t, "unit");
	struct tree *choices = tree_find(t, "choices"), *truth = tree_find(t, "truth");
	x->name = doc_code(r->doc, name);
	x->text = doc_line(r->doc, tree_need(t, "text", d));
	x->each = each_of(r, tree_find(t, "each"));
	x->place = name ? name->place : t->place;
	x->shown = (struct shown){.unit = {.factor = 1}, .unit_text = ""};
	x->kind = choices ? HAND_CHOICE : truth ? HAND_TRUTH : HAND_NUMBER;
	if (unit)
		doc_unit(r->doc, unit, &x->shown.unit, &x->shown.unit_text);
	x->shown.places = doc_whole(r->doc, tree_find(t, "places"), 0, DECIMAL_PLACES,
		x->kind == HAND_NUMBER ? USUAL_PLACES : 0);
	if (choices)
		choices_read(r, choices, x);
	else if (truth)
		doc_truth(r->doc, truth);
	else
		number_ask(r, t, x);
	struct formula_type type = {x->each ? FORMULA_LIST : FORMULA_NUMBER, x->shown.unit.dim};
	if (truth)
		type = (struct formula_type){.kind = FORMULA_TRUTH};
	if (!name || !*x->name)
		return;
	if (slot_add(r, name, x->name, strlen(x->name), type, &x->shown, x->each, &x->slot))
		r->is_set[x->slot] = true;
}

static void step_names(struct reading *r, struct tree *t, struct work_step *x)
{
	struct shown plain = {.unit = {.factor = 1}, .unit_text = ""}, time = r->names.shown[0];
	char *did = arena_format(r->doc->arena, "did_%s", x->code);
	char *at = arena_format(r->doc->arena, "at_%s", x->code);
	if (!did || !at) {
		r->doc->out = true;
		return;
	}
	slot_add(r, t, did, strlen(did), (struct formula_type){.kind = FORMULA_TRUTH}, &plain,
		EACH_ONE, &x->did_slot);
	slot_add(r, t, at, strlen(at), (struct formula_type){FORMULA_NUMBER, time_dim()}, &time,
		EACH_ONE, &x->at_slot);
	/* whether anybody asks is no concern of the author's */
	r->p->scope.name[x->did_slot].used++;
	r->p->scope.name[x->at_slot].used++;
}

static void step_is_new(struct reading *r, struct tree *code, struct tree *word, size_t n)
{
	const struct work_step *x = &r->step[n];
	for (size_t i = 0; i < n; i++) {
		if (*x->code && strcmp(r->step[i].code, x->code) == 0)
			tree_fault(code, r->doc->diags, BAD_REPEATED,
				"a step is called '%s' already", x->code);
		if (*x->word && strcmp(r->step[i].word, x->word) == 0)
			tree_fault(word, r->doc->diags, BAD_REPEATED,
				"'%s' is typed for another step already", x->word);
	}
}

void steps_declare(struct reading *r, struct tree *t)
{
	struct diags *d = r->doc->diags;
	struct tree *child = doc_children(r->doc, t, TREE_LIST);
	if (child && t->count > PROCEDURE_STEPS) {
		tree_fault(t, d, BAD_SIZE, "there are %zu steps, more than %d", t->count,
			PROCEDURE_STEPS);
		return;
	}
	r->step = doc_many(r->doc, child ? t->count : 0, struct work_step);
	r->p->step = r->step;
	for (; r->step && child; child = child->next) {
		struct work_step *x = &r->step[r->p->nstep];
		struct tree *code = tree_need(child, "step", d),
			    *word = tree_need(child, "word", d);
		struct tree *asks = tree_find(child, "asks");
		struct tree *one = asks ? doc_children(r->doc, asks, TREE_LIST) : NULL;
		struct hand_ask *ask = doc_many(r->doc, one ? asks->count : 0, struct hand_ask);
		x->code = doc_code(r->doc, code);
		x->word = doc_code(r->doc, word);
		x->place = code ? code->place : child->place;
		step_is_new(r, code, word, r->p->nstep++);
		if (one && asks->count > PROCEDURE_ASKS)
			tree_fault(
				asks, d, BAD_SIZE, "a step asks at most %d things", PROCEDURE_ASKS);
		for (; ask && one; one = one->next)
			ask_declare(r, one, &ask[x->nask++]);
		x->ask = ask;
		step_names(r, code ? code : child, x);
	}
}

/* ---- reading --------------------------------------------------------------------------------- */

static void asks_finish(struct reading *r, struct tree *t, struct work_step *x)
{
	struct tree *child = t ? t->first : NULL;
	struct hand_ask *ask = (struct hand_ask *)(uintptr_t)x->ask;
	for (size_t i = 0; child && i < x->nask; child = child->next, i++) {
		struct tree *usual = tree_need(child, "usual", r->doc->diags);
		if (ask[i].kind == HAND_TRUTH)
			ask[i].usual = truth_of(r, usual);
		else
			ask[i].usual =
				formula_of(r, usual, ask[i].each ? A_NUMBER | A_LIST : A_NUMBER,
					ask[i].shown.unit.dim, "the usual answer");
		tree_unknown(child, r->doc->diags);
	}
}

/* wait: {time: FORMULA, for: TEXT} */
static void wait_read(struct reading *r, struct tree *t, struct work_step *x)
{
	if (!t || !doc_children(r->doc, t, TREE_MAP))
		return;
	x->wait = time_of(r, tree_need(t, "time", r->doc->diags));
	x->wait_for = text_or_null(r, t, "for");
	tree_unknown(t, r->doc->diags);
}

static void step_read(struct reading *r, struct tree *t, struct work_step *x)
{
	struct diags *d = r->doc->diags;
	struct tree *only = tree_find(t, "only"), *unattended = tree_find(t, "unattended");
	x->title = doc_line(r->doc, tree_need(t, "title", d));
	x->why = doc_text(r->doc, tree_need(t, "why", d));
	x->station = doc_code(r->doc, tree_need(t, "station", d));
	x->competency = doc_code(r->doc, tree_need(t, "competency", d));
	x->caution = text_or_null(r, t, "caution");
	x->seen = text_or_null(r, t, "seen");
	x->only = only ? truth_of(r, only) : NULL;
	x->after = steps_of(r, tree_find(t, "after"));
	x->undoes = steps_of(r, tree_find(t, "undoes"));
	cans_read(r, tree_find(t, "can"), &x->can);
	asks_finish(r, tree_find(t, "asks"), x);
	sets_read(r, tree_find(t, "does"), &x->does);
	x->time = time_of(r, tree_need(t, "time", d));
	x->is_unattended = unattended && doc_truth(r->doc, unattended);
	wait_read(r, tree_find(t, "wait"), x);
	uses_read(r, tree_find(t, "uses"), &x->uses);
	tree_unknown(t, d);
}

void steps_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? t->first : NULL;
	for (size_t i = 0; child && i < r->p->nstep; child = child->next, i++)
		step_read(r, child, &r->step[i]);
}

static size_t tool_of(struct reading *r, struct tree *t)
{
	const char *code;
	if (!doc_fine(r->doc, tree_text(t, r->doc->diags, &code)))
		return SIZE_MAX;
	for (size_t i = 0; i < r->p->ntool; i++)
		if (strcmp(r->p->tool[i].code, code) == 0)
			return i;
	tree_fault(t, r->doc->diags, BAD_UNKNOWN, "no tool is called '%s'", code);
	return SIZE_MAX;
}

static void look_tools(struct reading *r, struct tree *t, struct look *x)
{
	struct tree *child = doc_children(r->doc, t, TREE_LIST);
	size_t *list = doc_many(r->doc, child ? t->count : 0, size_t);
	for (; list && child; child = child->next) {
		size_t k = tool_of(r, child);
		const struct tool *tool = k == SIZE_MAX ? NULL : &r->p->tool[k];
		if (!tool)
			continue;
		list[x->ntool++] = k;
		if (x->reads && tool->is_eye)
			tree_fault(
				child, r->doc->diags, BAD_TYPE, "'%s' reads no number", tool->code);
		else if (x->reads && !dim_is_equal(formula_result(x->reads).dim, tool->dim))
			tree_fault(child, r->doc->diags, BAD_UNIT, "'%s' reads %s, but this is %s",
				tool->code, doc_dim(r->doc, tool->dim),
				doc_dim(r->doc, formula_result(x->reads).dim));
	}
	x->tool = list;
}

static void look_read(struct reading *r, struct tree *t, struct look *x)
{
	struct diags *d = r->doc->diags;
	struct tree *reads = tree_find(t, "reads"), *code = tree_need(t, "look", d);
	x->code = doc_code(r->doc, code);
	x->place = code ? code->place : t->place;
	x->title = doc_line(r->doc, tree_need(t, "title", d));
	struct tree *from = tree_find(t, "from");
	x->from = from ? step_of(r, from) : SIZE_MAX;
	cans_read(r, tree_find(t, "can"), &x->can);
	x->each = each_of(r, tree_find(t, "each"));
	x->reads = reads ? doc_formula(r->doc, &r->names, reads) : NULL;
	if (reads && !doc_kind(r->doc, reads, x->reads, x->each ? A_LIST : A_NUMBER))
		x->reads = NULL;
	look_tools(r, tree_need(t, "with", d), x);
	x->time_s = duration_of(r, tree_need(t, "time", d));
	tree_unknown(t, d);
}

void looks_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct look *list = doc_many(r->doc, child ? t->count : 0, struct look);
	for (; list && child; child = child->next) {
		look_read(r, child, &list[r->p->nlook]);
		for (size_t i = 0; i < r->p->nlook; i++)
			if (strcmp(list[i].code, list[r->p->nlook].code) == 0)
				tree_fault(child->first, r->doc->diags, BAD_REPEATED,
					"a look is called '%s' already", list[i].code);
		r->p->nlook++;
	}
	r->p->look = list;
}

static void back_read(struct reading *r, struct tree *t, struct back *x)
{
	struct diags *d = r->doc->diags;
	struct tree *code = tree_need(t, "back", d);
	x->code = doc_code(r->doc, code);
	x->place = code ? code->place : t->place;
	x->title = doc_line(r->doc, tree_need(t, "title", d));
	x->to = step_of(r, tree_need(t, "to", d));
	x->undoes = steps_of(r, tree_need(t, "undoes", d));
	cans_read(r, tree_find(t, "can"), &x->can);
	sets_read(r, tree_find(t, "then"), &x->then);
	x->time_s = duration_of(r, tree_need(t, "time", d));
	uses_read(r, tree_find(t, "uses"), &x->uses);
	tree_unknown(t, d);
}

void backs_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct back *list = doc_many(r->doc, child ? t->count : 0, struct back);
	for (; list && child; child = child->next)
		back_read(r, child, &list[r->p->nback++]);
	r->p->back = list;
}

void orders_read(struct reading *r, struct tree *t)
{
	struct diags *d = r->doc->diags;
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct forbidden_order *list =
		doc_many(r->doc, child ? t->count : 0, struct forbidden_order);
	for (; list && child; child = child->next) {
		struct forbidden_order *x = &list[r->p->norder++];
		struct tree *critical = tree_find(child, "critical");
		x->place = child->place;
		x->step = step_of(r, tree_need(child, "order", d));
		x->before = step_of(r, tree_need(child, "before", d));
		x->say = doc_text(r->doc, tree_need(child, "say", d));
		x->is_critical = critical && doc_truth(r->doc, critical);
		sets_read(r, tree_find(child, "does"), &x->does);
		tree_unknown(child, d);
	}
	r->p->order = list;
}

void windows_read(struct reading *r, struct tree *t)
{
	struct diags *d = r->doc->diags;
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct time_window *list = doc_many(r->doc, child ? t->count : 0, struct time_window);
	for (; list && child; child = child->next) {
		struct time_window *x = &list[r->p->nwindow++];
		struct tree *most = tree_find(child, "most");
		x->place = child->place;
		x->from = step_of(r, tree_need(child, "from", d));
		x->to = step_of(r, tree_need(child, "to", d));
		x->least_s = duration_of(r, tree_find(child, "least"));
		x->most_s = most ? duration_of(r, most) : INFINITY;
		x->say = doc_text(r->doc, tree_need(child, "say", d));
		sets_read(r, tree_find(child, "does"), &x->does);
		tree_unknown(child, d);
	}
	r->p->window = list;
}
