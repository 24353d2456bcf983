/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is asked: one entry of 'asks', or a fixed item.
 *
 *	ask          the question, one line
 *	kind         number, time, choice, choices, order or match (number)
 *	steps        at least one: say (a text with values), or name and formula (with unit and places
 *	             as in 'let'), or all of them. Needed for a number and a time
 *
 * A number:
 *	unit         in which the answer is asked for; left out: a plain number
 *	of           instead of 'unit': a unit whose number is asked for, where turning one unit into
 *	             another is the point: the answer's formula gives a plain number (none)
 *	places       decimal places with which the answer is shown, 0 to 9 (2)
 *	answer       a formula that gives a number which goes with the unit
 *	tolerance    exact: a count, a stock size, a tooth number; or a value, "0.25 mm", with 'why'.
 *	             Left out: half the last digit of each reading, carried through the formula, and
 *	             half the last digit asked for (barwright/item/instance.h)
 *	why          the reason for a tolerance of one's own
 *	refer        true, or words to tell about it: "nothing fits, refer back" may be answered. Needed
 *	             when the answer can be 'nothing' (false)
 *	slips        at least one, better three, each with
 *	  slip         its code
 *	  formula      of the wrong number; goes with the unit. May be left out with 'with'
 *	  with         names and what is wrongly taken for them, {r: diameter}: the answer (or 'formula')
 *	               and all that is worked out from them is worked out again
 *	  alone        true: nobody makes it together with another slip (false)
 *	  say          what to tell somebody who made it, a text with values
 *
 * A time of day, in hours and minutes:
 *	answer       a formula that gives a time, counted from midnight of day 1
 *	days         true: the day is asked for too (false)
 *	tolerance, why, slips   as above
 *
 * The other kinds have options (options.c). */
#include "course/doc.h"

#include <string.h>

/* Does the name stand in the formula as a word of its own? */
static bool has_word(const char *s, const char *word, size_t len)
{
	static const char of_a_name[] =
		"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_";
	for (const char *at = s; len && (at = strstr(at, word)); at++)
		if ((at == s || !strchr(of_a_name, at[-1])) &&
			(!at[len] || !strchr(of_a_name, at[len])))
			return true;
	return false;
}

/* A formula that was refused for a name: is it what a step is called? `t` is the formula, `was` the last
 * fault before it was read. */
static void hint_step_name(
	struct doc *c, struct tree *steps, struct tree *t, const struct diag *was)
{
	const struct diag *last = c->diags->last;
	if (!last || last == was || last->code != BAD_UNKNOWN || !steps ||
		steps->kind != TREE_LIST || t->kind != TREE_SCALAR)
		return;
	for (struct tree *step = steps->first; step; step = step->next) {
		struct tree *name = step->kind == TREE_MAP ? tree_find(step, "name") : NULL;
		if (!name || name->kind != TREE_SCALAR || !has_word(t->text, name->text, name->len))
			continue;
		diag_hint(c->diags,
			"a step's name is for reading; to go on with '%s' put it under 'let'",
			name->text);
		return;
	}
}

/* ---- steps ----------------------------------------------------------------------------------- */

static void step_read(struct doc *c, const struct names *n, struct tree *t, struct step *out)
{
	struct tree *say = tree_find(t, "say"), *name = tree_find(t, "name");
	struct tree *formula = tree_find(t, "formula");
	if (!doc_fine(c, tree_is(t, TREE_MAP, c->diags)))
		return;
	out->place = t->place;
	if (!say && !name && !formula)
		tree_fault(t, c->diags, BAD_MISSING, "a step needs 'say' or 'formula'");
	if (say)
		template_read(c, n, say, &out->say);
	if (name && !formula)
		tree_fault(name, c->diags, BAD_MISSING, "a step with a name needs a 'formula'");
	if (formula) {
		const struct diag *was = c->diags->last;
		struct formula *f = doc_formula(c, n, formula);
		hint_step_name(c, t->parent, formula, was);
		out->name = doc_line(c, name ? name : tree_need(t, "name", c->diags));
		doc_kind(c, formula, f, A_NUMBER | A_LIST);
		if (doc_shown(c, n, t, f, &out->shown))
			doc_shown_tell(c, formula, t, &out->shown);
		out->formula = f;
	}
	tree_unknown(t, c->diags);
}

/* A time of day that is worked out in minutes does not look like the answer. */
static void tell_minutes(struct doc *c, const struct tree *steps, const struct ask *ask)
{
	const struct step *last = ask->nstep ? &ask->step[ask->nstep - 1] : NULL;
	const struct tree *t = ask->nstep ? tree_at(steps, ask->nstep - 1) : NULL;
	if (!last || !last->formula || last->shown.clock || !last->shown.unit_text || t->broken ||
		formula_result(last->formula).kind != FORMULA_NUMBER ||
		!dim_is_equal(last->shown.unit.dim, (struct dim){.power[DIM_TIME] = 1}))
		return;
	diag_warn(c->diags, BAD_UNIT, t->place, t->span,
		"the solution ends in %s, and a time of day is asked for", last->shown.unit_text);
	diag_hint(c->diags, "write 'unit: %s' for this step",
		ask->shown.clock && ask->shown.clock->with_days ? "days" : "clock");
}

static void steps_read(struct doc *c, const struct names *n, struct tree *t, struct ask *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	struct step *step = doc_many(c, child ? t->count : 0, struct step);
	for (; step && child; child = child->next)
		step_read(c, n, child, &step[out->nstep++]);
	out->step = step;
	if (out->kind == ASKED_TIME)
		tell_minutes(c, t, out);
}

/* ---- slips ----------------------------------------------------------------------------------- */

static bool is_same_text(const struct tree *a, const struct tree *b)
{
	return a && b && a->kind == TREE_SCALAR && b->kind == TREE_SCALAR && a->len == b->len &&
	       memcmp(a->text, b->text, a->len) == 0;
}

/* One name of 'with'. */
static void instead_read(struct doc *c, const struct names *n, struct tree *t, struct slip *out,
	struct instead *instead)
{
	size_t slot, k = out->ninstead;
	t->used = true;
	if (!formula_scope_find(n->scope, t->key, t->key_len, &slot)) {
		if (names_is_lost(n, t->key, t->key_len))
			return;
		diag_error(c->diags, BAD_UNKNOWN, t->key_place, t->key_span,
			"no draw and no 'let' is called '%s'", t->key);
		return;
	}
	struct formula_type type = n->scope->name[slot].type;
	struct formula *f = doc_formula(c, n, t);
	if (doc_kind(c, t, f, 1U << type.kind))
		doc_fits(c, t, f, type.dim, "the value");
	for (; k && instead[k - 1].slot > slot; k--)
		instead[k] = instead[k - 1];
	instead[k] = (struct instead){slot, f};
	out->ninstead++;
}

static void insteads_read(struct doc *c, const struct names *n, struct tree *t, struct slip *out)
{
	struct tree *child = doc_children(c, t, TREE_MAP);
	struct instead *instead = doc_many(c, child ? t->count : 0, struct instead);
	for (; instead && child; child = child->next)
		instead_read(c, n, child, out, instead);
	out->instead = instead;
}

static void slip_read(struct doc *c, const struct names *n, struct tree *t, const struct ask *ask,
	struct slip *out)
{
	out->place = t->place;
	out->name = doc_code(c, tree_need(t, "slip", c->diags));
	struct tree *with = tree_find(t, "with"), *alone = tree_find(t, "alone");
	struct tree *formula = with ? tree_find(t, "formula") : tree_need(t, "formula", c->diags);
	out->formula = formula ? doc_formula(c, n, formula) : ask->answer;
	out->is_own = formula != NULL;
	if (formula && doc_kind(c, formula, out->formula, A_NUMBER) && ask->shown.unit_text)
		doc_fits(c, formula, out->formula, ask->shown.unit.dim, "the slip");
	if (with)
		insteads_read(c, n, with, out);
	if (alone)
		out->is_alone = doc_truth(c, alone);
	template_read(c, n, tree_need(t, "say", c->diags), &out->say);
	tree_unknown(t, c->diags);
}

/* No slip may be the answer, and no slip another one, in code or formula. */
static void slip_is_new(struct doc *c, struct tree *slip, struct tree *answer)
{
	struct tree *formula = tree_find(slip, "formula"), *code = tree_find(slip, "slip");
	if (is_same_text(formula, answer) && !formula->broken && !tree_find(slip, "with")) {
		tree_fault(formula, c->diags, BAD_REPEATED, "this slip is the answer itself");
		diag_note(c->diags, answer->place, "here is the answer");
	}
	for (struct tree *other = slip->parent->first; other != slip; other = other->next) {
		struct tree *first = tree_find(other, "slip");
		if (is_same_text(code, first) && !code->broken) {
			tree_fault(code, c->diags, BAD_REPEATED, "a slip is called '%s' already",
				code->text);
			diag_note(c->diags, first->place, "here it stands first");
		}
		first = tree_find(other, "formula");
		if (is_same_text(formula, first) && !formula->broken && !tree_find(slip, "with") &&
			!tree_find(other, "with")) {
			tree_fault(formula, c->diags, BAD_REPEATED,
				"another slip has the same formula");
			diag_note(c->diags, first->place, "here it stands first");
		}
	}
}

enum { SLIPS_WANTED = 3 };

static void slips_read(
	struct doc *c, const struct names *n, struct tree *t, struct tree *answer, struct ask *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	size_t count = child ? t->count : 0;
	struct slip *slip = doc_many(c, count, struct slip);
	for (; slip && child; child = child->next) {
		slip_read(c, n, child, out, &slip[out->nslip++]);
		slip_is_new(c, child, answer);
	}
	out->slip = slip;
	if (count && count < SLIPS_WANTED) {
		diag_warn(c->diags, BAD_COUNT, t->key_place, t->key_span,
			"there %s here; at least %d are advised",
			count == 1 ? "is 1 slip" : "are 2 slips", SLIPS_WANTED);
		diag_hint(c->diags, "think of what students do: a term left out, a sign turned, a "
				    "neighbouring column read");
	}
}

/* ---- the answer ------------------------------------------------------------------------------ */

static void time_answer_read(
	struct doc *c, const struct names *n, struct tree *map, struct tree *t, struct ask *out)
{
	struct formula *f = doc_formula(c, n, t);
	struct tree *days = tree_find(map, "days");
	out->answer = f;
	out->shown.unit_text = "";
	if (c->clock)
		out->shown.clock = &c->clock[days && doc_truth(c, days)];
	doc_clock(&out->shown);
	if (doc_kind(c, t, f, A_NUMBER))
		doc_fits(c, t, f, out->shown.unit.dim, "the answer");
}

/* A plain number, which may be that of some unit. */
static void plain_read(struct doc *c, struct tree *map, struct ask *out)
{
	struct tree *of = tree_find(map, "of");
	out->shown.unit = (struct unit){1, 0, {{0}}};
	out->shown.unit_text = "";
	if (of)
		out->is_number_of = doc_unit(c, of, &out->counted, &out->shown.unit_text);
}

static struct formula *answer_read(
	struct doc *c, const struct names *n, struct tree *map, struct tree *t, struct ask *out)
{
	const struct diag *was = c->diags->last;
	struct formula *f = doc_formula(c, n, t);
	struct tree *unit = tree_find(map, "unit");
	if (t)
		hint_step_name(c, tree_find(map, "steps"), t, was);
	out->shown.places = doc_whole(c, tree_find(map, "places"), 0, DECIMAL_PLACES, USUAL_PLACES);
	out->answer = f;
	if (!unit) {
		plain_read(c, map, out);
	} else if (!doc_unit(c, unit, &out->shown.unit, &out->shown.unit_text)) {
		out->shown.unit_text = NULL; /* the slips are not measured by it */
		return f;
	}
	if (!doc_kind(c, t, f, A_NUMBER))
		return f;
	if (!doc_fits(c, t, f, out->shown.unit.dim, "the answer") && !unit) {
		struct shown usual;
		if (doc_usual_unit(c, formula_result(f).dim, &usual.unit, &usual.unit_text))
			diag_hint(c->diags, "say in which unit it is asked for: 'unit: %s'",
				usual.unit_text);
	}
	if (!t->broken && n->scope->n && !names_vary(n, f))
		diag_warn(c->diags, BAD_UNUSED, t->place, t->span,
			"the answer is the same for every draw");
	return f;
}

static void tolerance_read(struct doc *c, struct tree *map, struct ask *out)
{
	struct tree *t = tree_find(map, "tolerance"), *why = tree_find(map, "why");
	struct quantity q;
	bool told = t && !t->broken;
	bool exact = t && t->kind == TREE_SCALAR && strcmp(t->text, "exact") == 0;
	out->tolerance = exact ? TOLERANCE_EXACT : t ? TOLERANCE_STATED : TOLERANCE_INSTRUMENT;
	if (why && out->tolerance != TOLERANCE_STATED)
		tree_fault(why, c->diags, BAD_UNUSED, "'why' goes with a tolerance of one's own");
	if (out->tolerance != TOLERANCE_STATED)
		return;
	if (!doc_quantity(c, t, &q)) {
		if (told)
			diag_hint(c->diags,
				"write 'exact', or a value such as 0.25 mm, or leave it "
				"out: then the instruments decide");
		return;
	}
	out->why = why ? doc_text(c, why) : "";
	out->stated = quantity_span(&q);
	if (out->shown.unit_text && !dim_is_equal(q.of.dim, out->shown.unit.dim))
		tree_fault(t, c->diags, BAD_UNIT, "the tolerance is %s, and %s is asked for",
			doc_dim(c, q.of.dim), doc_dim(c, out->shown.unit.dim));
	else if (out->stated <= 0)
		tree_fault(t, c->diags, BAD_RANGE, "the tolerance must be above 0");
	else if (!why)
		tree_fault(t, c->diags, BAD_MISSING, "a tolerance of one's own needs a 'why'");
}

bool doc_is_truth_word(const struct tree *t)
{
	return t->kind == TREE_SCALAR && !t->quoted &&
	       (strcmp(t->text, "true") == 0 || strcmp(t->text, "false") == 0);
}

static void refer_read(struct doc *c, const struct names *n, struct tree *map, struct tree *answer,
	struct ask *out)
{
	struct tree *t = tree_find(map, "refer");
	if (t && doc_is_truth_word(t)) {
		out->may_refer = doc_truth(c, t);
	} else if (t) {
		out->may_refer = true;
		template_read(c, n, t, &out->refer_say);
	}
	if (out->may_refer || !out->answer || answer->broken ||
		!formula_may_be_nothing(out->answer))
		return;
	tree_fault(answer, c->diags, BAD_MISSING,
		"the answer can be 'nothing', but nobody may refer back");
	diag_hint(c->diags, "add 'refer: true', or 'refer:' with words that tell why");
}

/* ---- one ask --------------------------------------------------------------------------------- */

static const char *const kinds[] = {
	[ASKED_NUMBER] = "number",
	[ASKED_TIME] = "time",
	[ASKED_CHOICE] = "choice",
	[ASKED_CHOICES] = "choices",
	[ASKED_ORDER] = "order",
	[ASKED_MATCH] = "match",
};

/* What is asked where an item does not say it. */
static const char *const usual_ask[] = {
	[ASKED_NUMBER] = "The value",
	[ASKED_TIME] = "The time",
	[ASKED_CHOICE] = "Which one is right?",
	[ASKED_CHOICES] = "Which are right? There may be several.",
	[ASKED_ORDER] = "In which order?",
	[ASKED_MATCH] = "What goes together?",
};

static void number_read(
	struct doc *c, const struct names *n, struct tree *t, bool fixed, struct ask *out)
{
	struct tree *answer = tree_need(t, "answer", c->diags);
	if (out->kind == ASKED_TIME)
		time_answer_read(c, n, t, answer, out);
	else
		answer_read(c, n, t, answer, out);
	tolerance_read(c, t, out);
	if (out->kind == ASKED_NUMBER)
		refer_read(c, n, t, answer, out);
	struct tree *slips = fixed ? tree_find(t, "slips") : tree_need(t, "slips", c->diags);
	if (slips)
		slips_read(c, n, slips, answer, out);
}

void ask_read(struct doc *c, const struct names *n, struct tree *t, bool fixed, struct ask *out)
{
	size_t kind = ASKED_NUMBER;
	struct tree *word = tree_find(t, "kind");
	if (word &&
		!doc_fine(c, tree_word(word, kinds, sizeof kinds / sizeof *kinds, c->diags, &kind)))
		return;
	out->kind = (enum asked)kind;
	out->place = t->place;
	struct tree *text = fixed ? tree_find(t, "ask") : tree_need(t, "ask", c->diags);
	out->text = text || !fixed ? doc_line(c, text) : usual_ask[kind];
	out->shown.unit_text = "";
	bool is_number = out->kind <= ASKED_TIME;
	if (is_number)
		number_read(c, n, t, fixed, out);
	else
		options_read(c, n, t, out);
	struct tree *steps =
		is_number && !fixed ? tree_need(t, "steps", c->diags) : tree_find(t, "steps");
	if (steps)
		steps_read(c, n, steps, out);
	if (!fixed)
		tree_unknown(t, c->diags);
	if (!out->shown.unit_text)
		out->shown.unit_text = "";
}
