/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Faults, each of which follows from numbers:
 *
 *	fault        its code, "F10"
 *	title        the cause in words
 *	made         the step where the cause acts
 *	when         it is there, a formula; looked at when that step is done, or left out
 *	check        the earliest check that would catch it: at (a step), look, sign (what it shows); below
 *	             or above: the reading that tells (none: it is seen). look left out: there is none
 *	shows        where it shows by itself: at (a step, "delivery" or "service"), seen
 *	stops        true: once it shows, the work cannot go on before it is mended (false)
 *	critical     true: it fails station and run when it is left (false)
 *	unnoticed    what comes of it
 *	number       the number behind it, told at the end: about, is (a formula), least or most (formulas),
 *	             each (one value), unit, places; for: why the limit is there, with {name} for values (none)
 *	station, competency   (those of the step)
 *	remedy       text; back (a way back) or mends: true (on the spot), then, time, uses (none)
 *	bring        how it comes about, for examples, checks and seeded cases; lines of three kinds:
 *	             {skip: S14}, {wait: 90 min, before: S18}, {step: S06, set: kept, to: FORMULA}
 *
 * rates: station, and any of one, two, three: the level of the rubric that the numbers reach; asks: what
 *	three asks for, in words, told at the end when it was not reached (none) */
#include <string.h>

#include "course/procedure_parts.h"

static size_t shows_at(struct reading *r, struct tree *t)
{
	const char *word;
	if (!t || !doc_fine(r->doc, tree_text(t, r->doc->diags, &word)))
		return AT_NOWHERE;
	if (strcmp(word, "delivery") == 0)
		return AT_DELIVERY;
	if (strcmp(word, "service") == 0)
		return AT_SERVICE;
	size_t k = step_of(r, t);
	return k == SIZE_MAX ? AT_NOWHERE : k;
}

static bool limit_read(struct reading *r, struct tree *t, const struct fault *x, double *out)
{
	const struct formula *reads = x->look == SIZE_MAX ? NULL : r->p->look[x->look].reads;
	if (!t)
		return false;
	if (!reads) {
		tree_fault(t, r->doc->diags, BAD_TYPE, "this look reads no number");
		return false;
	}
	return point_of(r, t, formula_result(reads).dim, out);
}

static void check_read(struct reading *r, struct tree *t, struct fault *x)
{
	struct diags *d = r->doc->diags;
	struct tree *look = tree_find(t, "look");
	x->look = SIZE_MAX;
	x->check_at = step_of(r, tree_need(t, "at", d));
	if (look) {
		const char *code = doc_code(r->doc, look);
		x->look = procedure_look(r->p, code, strlen(code));
		if (x->look == SIZE_MAX)
			tree_fault(look, d, BAD_UNKNOWN, "no look is called '%s'", code);
	}
	struct tree *below = tree_find(t, "below"), *above = tree_find(t, "above");
	if (!look || x->look != SIZE_MAX) {
		x->has_below = limit_read(r, below, x, &x->below);
		x->has_above = limit_read(r, above, x, &x->above);
	}
	x->sign = doc_line(r->doc, tree_need(t, "sign", d));
	tree_unknown(t, d);
}

static void remedy_read(struct reading *r, struct tree *t, struct remedy *x)
{
	struct diags *d = r->doc->diags;
	struct tree *back = tree_find(t, "back"), *mends = tree_find(t, "mends");
	x->text = doc_line(r->doc, tree_need(t, "text", d));
	x->back = SIZE_MAX;
	if (back) {
		const char *code = doc_code(r->doc, back);
		x->back = procedure_back(r->p, code, strlen(code));
		if (x->back == SIZE_MAX)
			tree_fault(back, d, BAD_UNKNOWN, "no way back is called '%s'", code);
	}
	x->mends = mends && doc_truth(r->doc, mends);
	x->time_s = duration_of(r, tree_find(t, "time"));
	sets_read(r, tree_find(t, "then"), &x->then);
	uses_read(r, tree_find(t, "uses"), &x->uses);
	tree_unknown(t, d);
}

static void bring_value(struct reading *r, struct tree *t, struct bring *x)
{
	struct diags *d = r->doc->diags;
	struct tree *set = tree_need(t, "set", d), *to = tree_need(t, "to", d);
	const char *name = doc_code(r->doc, set);
	const struct work_step *s = &r->p->step[x->step];
	for (size_t i = 0; i < s->nask; i++)
		if (strcmp(s->ask[i].name, name) == 0)
			x->ask = &s->ask[i];
	if (!x->ask)
		tree_fault(set, d, BAD_UNKNOWN, "step %s asks for no '%s'", s->code, name);
	else if (x->ask->kind == HAND_TRUTH)
		x->value = truth_of(r, to);
	else
		x->value = formula_of(r, to, x->ask->each ? A_NUMBER | A_LIST : A_NUMBER,
			x->ask->shown.unit.dim, "this");
}

static void bring_read(struct reading *r, struct tree *t, struct bring *x)
{
	struct diags *d = r->doc->diags;
	struct tree *skip = tree_find(t, "skip"), *wait = tree_find(t, "wait");
	x->skip = skip;
	x->step = step_of(r, skip ? skip : tree_need(t, wait ? "before" : "step", d));
	if (wait)
		x->wait_s = duration_of(r, wait);
	else if (!skip && x->step != SIZE_MAX)
		bring_value(r, t, x);
	tree_unknown(t, d);
}

static void brings_read(struct reading *r, struct tree *t, struct fault *x)
{
	struct tree *child = doc_children(r->doc, t, TREE_LIST);
	if (child && t->count > PROCEDURE_BRING)
		tree_fault(t, r->doc->diags, BAD_SIZE, "at most %d lines", PROCEDURE_BRING);
	for (; child && x->nbring < PROCEDURE_BRING; child = child->next)
		bring_read(r, child, &x->bring[x->nbring++]);
}

static const struct formula *limit_of(
	struct reading *r, struct tree *t, const struct fault_number *x)
{
	return formula_of(
		r, t, x->each ? A_NUMBER | A_LIST : A_NUMBER, x->shown.unit.dim, "the limit");
}

/* Every {name} in it must be a name of the procedure. */
static void reason_check(struct reading *r, struct tree *t, const char *reason)
{
	size_t slot;
	for (const char *at = reason ? strchr(reason, '{') : NULL; at; at = strchr(at + 1, '{')) {
		const char *end = strchr(at, '}');
		size_t len = end ? (size_t)(end - at - 1) : 0;
		if (len && formula_scope_find(&r->p->scope, at + 1, len, &slot))
			r->p->scope.name[slot].used++;
		else
			tree_fault(t, r->doc->diags, BAD_UNKNOWN,
				"no name stands between '{' and '}': '%.*s'", (int)len, at + 1);
	}
}

static void number_read(struct reading *r, struct tree *t, struct fault_number *x)
{
	struct diags *d = r->doc->diags;
	if (!t || !doc_children(r->doc, t, TREE_MAP))
		return;
	struct tree *unit = tree_find(t, "unit"), *least = tree_find(t, "least");
	struct tree *most = tree_find(t, "most");
	x->about = doc_line(r->doc, tree_need(t, "about", d));
	x->reason = text_or_null(r, t, "for");
	reason_check(r, tree_find(t, "for"), x->reason);
	x->each = each_of(r, tree_find(t, "each"));
	x->shown = (struct shown){.unit = {.factor = 1}, .unit_text = ""};
	if (unit)
		doc_unit(r->doc, unit, &x->shown.unit, &x->shown.unit_text);
	x->shown.places = doc_whole(r->doc, tree_find(t, "places"), 0, DECIMAL_PLACES, 2);
	x->is = formula_of(r, tree_need(t, "is", d), x->each ? A_LIST : A_NUMBER, x->shown.unit.dim,
		"the number");
	x->least = limit_of(r, least, x);
	x->most = limit_of(r, most, x);
	if (!least && !most)
		tree_fault(t, d, BAD_MISSING, "'least' or 'most' is needed");
	tree_unknown(t, d);
}

static void fault_read(struct reading *r, struct tree *t, struct fault *x)
{
	struct diags *d = r->doc->diags;
	struct tree *code = tree_need(t, "fault", d), *stops = tree_find(t, "stops");
	struct tree *critical = tree_find(t, "critical"), *station = tree_find(t, "station");
	struct tree *competency = tree_find(t, "competency"), *shows = tree_need(t, "shows", d);
	x->code = doc_code(r->doc, code);
	x->place = code ? code->place : t->place;
	x->title = doc_line(r->doc, tree_need(t, "title", d));
	x->made = step_of(r, tree_need(t, "made", d));
	x->when = truth_of(r, tree_need(t, "when", d));
	check_read(r, tree_need(t, "check", d), x);
	x->shows = shows_at(r, tree_need(shows, "at", d));
	x->seen = doc_line(r->doc, tree_need(shows, "seen", d));
	tree_unknown(shows, d);
	x->stops = stops && doc_truth(r->doc, stops);
	x->is_critical = critical && doc_truth(r->doc, critical);
	x->unnoticed = doc_line(r->doc, tree_need(t, "unnoticed", d));
	number_read(r, tree_find(t, "number"), &x->number);
	const struct work_step *s = x->made == SIZE_MAX ? NULL : &r->p->step[x->made];
	x->station = station ? doc_code(r->doc, station) : s ? s->station : "";
	x->competency = competency ? doc_code(r->doc, competency) : s ? s->competency : "";
	remedy_read(r, tree_need(t, "remedy", d), &x->remedy);
	brings_read(r, tree_need(t, "bring", d), x);
	tree_unknown(t, d);
}

void faults_read(struct reading *r, struct tree *t)
{
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	if (child && t->count > PROCEDURE_FAULTS)
		tree_fault(t, r->doc->diags, BAD_SIZE, "at most %d faults", PROCEDURE_FAULTS);
	struct fault *list = doc_many(r->doc, child ? t->count : 0, struct fault);
	for (; list && child && r->p->nfault < PROCEDURE_FAULTS; child = child->next) {
		size_t n = r->p->nfault;
		fault_read(r, child, &list[n]);
		for (size_t i = 0; i < n; i++)
			if (*list[n].code && strcmp(list[i].code, list[n].code) == 0)
				tree_fault(tree_find(child, "fault"), r->doc->diags, BAD_REPEATED,
					"a fault is called '%s' already", list[n].code);
		r->p->nfault++;
	}
	r->p->fault = list;
}

void rates_read(struct reading *r, struct tree *t)
{
	static const char *const words[RUBRIC_LEVELS] = {NULL, "one", "two", "three"};
	struct diags *d = r->doc->diags;
	struct tree *child = t ? doc_children(r->doc, t, TREE_LIST) : NULL;
	struct rates *list = doc_many(r->doc, child ? t->count : 0, struct rates);
	for (; list && child; child = child->next) {
		struct rates *x = &list[r->p->nrates++];
		x->place = child->place;
		x->station = doc_code(r->doc, tree_need(child, "station", d));
		x->asks = text_or_null(r, child, "asks");
		for (int k = 1; k < RUBRIC_LEVELS; k++) {
			struct tree *level = tree_find(child, words[k]);
			x->level[k] = level ? truth_of(r, level) : NULL;
		}
		tree_unknown(child, d);
	}
	r->p->rates = list;
}
