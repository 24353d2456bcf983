/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is chosen from, put in order or matched: the options of an ask.
 *
 *	options   of 'kind: choice' and 'kind: choices', 2 to 20, each with
 *	  option    what stands there, a text with values
 *	  right     true, false or a formula that gives a truth (false)
 *	  slip      the code of the mistake that it betrays (none)
 *	  say       what to tell who went wrong with it; needed where the option can be wrong
 *	entries   of 'kind: order', in the right order from the first to the last, unless 'after' or
 *	          'rank' says otherwise; each with
 *	  entry     what stands there, a text with values
 *	  name      a code, for the 'after' of others (none)
 *	  after     list of names of entries that must have come before: all else is free
 *	  rank      a formula that gives a number: smaller ones come first, equal ones as they like
 *	  right     false, or a formula: it does not belong there and is to be left out (true)
 *	  slip, say as above; told when it stands before something that it must follow
 *	pairs     of 'kind: match', 2 to 20, each with
 *	  pair      what stands there, a text with values
 *	  with      what goes with it, a text with values
 *	  slip, say as above; told when something else was put with it
 *	others    texts that go with none of the pairs (none)
 *	shuffle   false: they are shown as they stand in the file (true) */
#include "course/doc.h"

#include <string.h>

static const struct kind_words {
	const char *list, *one;
} kind_words[] = {
	[ASKED_CHOICE] = {"options", "option"},
	[ASKED_CHOICES] = {"options", "option"},
	[ASKED_ORDER] = {"entries", "entry"},
	[ASKED_MATCH] = {"pairs", "pair"},
};

/* ---- one option ------------------------------------------------------------------------------ */

static void right_read(struct doc *c, const struct names *n, struct tree *t, struct offer *out)
{
	if (!t)
		return;
	if (doc_is_truth_word(t)) {
		out->is_right = doc_truth(c, t);
		return;
	}
	struct formula *f = doc_formula(c, n, t);
	doc_kind(c, t, f, A_TRUTH);
	out->right = f;
}

static void say_read(struct doc *c, const struct names *n, struct tree *t, struct offer *out)
{
	struct tree *say = tree_find(t, "say"), *slip = tree_find(t, "slip");
	out->slip = slip ? doc_code(c, slip) : "";
	if (say)
		template_read(c, n, say, &out->say);
}

static void choice_read(struct doc *c, const struct names *n, struct tree *t, struct offer *out)
{
	template_read(c, n, tree_need(t, "option", c->diags), &out->text);
	right_read(c, n, tree_find(t, "right"), out);
	say_read(c, n, t, out);
	bool can_be_wrong = out->right || !out->is_right;
	if (can_be_wrong && !tree_find(t, "say") && t->kind == TREE_MAP && !t->broken) {
		tree_fault(
			t, c->diags, BAD_MISSING, "it is not said what is wrong with this option");
		diag_hint(c->diags, "add 'say:' with what to tell somebody who chose it");
	}
}

static void entry_read(struct doc *c, const struct names *n, struct tree *t, struct offer *out)
{
	struct tree *rank = tree_find(t, "rank"), *name = tree_find(t, "name");
	template_read(c, n, tree_need(t, "entry", c->diags), &out->text);
	out->is_right = true;
	right_read(c, n, tree_find(t, "right"), out);
	if (rank) {
		struct formula *f = doc_formula(c, n, rank);
		doc_kind(c, rank, f, A_NUMBER);
		out->rank = f;
	}
	if (name)
		doc_code(c, name);
	say_read(c, n, t, out);
}

static void pair_read(struct doc *c, const struct names *n, struct tree *t, struct offer *out)
{
	template_read(c, n, tree_need(t, "pair", c->diags), &out->text);
	template_read(c, n, tree_need(t, "with", c->diags), &out->with);
	out->is_right = true;
	say_read(c, n, t, out);
}

static void option_read(
	struct doc *c, const struct names *n, struct tree *t, enum asked kind, struct offer *out)
{
	out->place = t->place;
	out->slip = "";
	if (kind == ASKED_ORDER)
		entry_read(c, n, t, out);
	else if (kind == ASKED_MATCH)
		pair_read(c, n, t, out);
	else
		choice_read(c, n, t, out);
	if (kind != ASKED_ORDER) /* there 'after' is still to come */
		tree_unknown(t, c->diags);
}

/* ---- the order ------------------------------------------------------------------------------- */

/* Which entry has this name? The number of entries when none. */
static size_t entry_named(const struct tree *list, const struct tree *name)
{
	size_t k = 0;
	for (struct tree *t = list->first; t; t = t->next, k++) {
		const struct tree *has = tree_find(t, "name");
		if (has && has->kind == TREE_SCALAR && strcmp(has->text, name->text) == 0)
			return k;
	}
	return k;
}

static void after_one(
	struct doc *c, struct tree *list, struct tree *name, size_t self, struct offer *out)
{
	if (!*doc_code(c, name))
		return;
	size_t k = entry_named(list, name);
	if (k == list->count) {
		tree_fault(name, c->diags, BAD_UNKNOWN, "no entry has the name '%s'", name->text);
		diag_hint(c->diags, "give the entry that is meant a 'name'");
	} else if (k == self) {
		tree_fault(name, c->diags, BAD_ORDER, "an entry cannot come after itself");
	} else {
		out->after |= (uint32_t)1 << k;
	}
}

/* Fewer than all can be put in their places: some wait for each other. */
static bool has_cycle(const struct offer *option, size_t n)
{
	uint32_t placed = 0;
	for (size_t round = 0; round < n; round++)
		for (size_t k = 0; k < n; k++)
			if (!(option[k].after & ~placed))
				placed |= (uint32_t)1 << k;
	return placed != ((uint32_t)1 << n) - 1;
}

static bool afters_read(struct doc *c, struct tree *list, struct offer *option)
{
	size_t k = 0;
	bool any = false;
	for (struct tree *t = list->first; t; t = t->next, k++) {
		struct tree *after = tree_find(t, "after");
		any = any || after;
		if (after)
			for (struct tree *name = doc_children(c, after, TREE_LIST); name;
				name = name->next)
				after_one(c, list, name, k, &option[k]);
	}
	return any;
}

static void order_read(struct doc *c, struct tree *list, struct offer *option, size_t n)
{
	size_t ranked = 0;
	for (size_t k = 0; k < n; k++)
		ranked += option[k].rank != NULL;
	bool any = afters_read(c, list, option);
	if (ranked && (any || ranked < n)) {
		tree_fault(list, c->diags, BAD_COUNT,
			any ? "'rank' and 'after' do not go together"
			    : "all entries have a 'rank' or none has");
	} else if (!ranked && !any) {
		for (size_t k = 1; k < n; k++) /* as they stand; those that do not belong aside */
			option[k].after = ((uint32_t)1 << k) - 1;
	} else if (has_cycle(option, n)) {
		tree_fault(list, c->diags, BAD_ORDER, "some entries wait for each other");
	}
	for (struct tree *t = list->first; t; t = t->next)
		tree_unknown(t, c->diags);
}

/* ---- all of them ----------------------------------------------------------------------------- */

static void others_read(struct doc *c, const struct names *n, struct tree *t, struct ask *out)
{
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct template *other = doc_many(c, child ? t->count : 0, struct template);
	for (; other && child; child = child->next)
		template_read(c, n, child, &other[out->nother++]);
	out->other = other;
}

/* Where nothing depends on a draw, the number of right ones can be counted here. */
static void rights_count(struct doc *c, struct tree *list, const struct ask *q)
{
	size_t right = 0;
	for (size_t k = 0; k < q->noffer; k++) {
		if (q->offer[k].right)
			return;
		right += q->offer[k].is_right;
	}
	if (q->kind == ASKED_CHOICE && right != 1)
		tree_fault(list, c->diags, BAD_COUNT,
			right ? "several options are right, but one is to be chosen"
			      : "no option is right");
	else if (right < (q->kind == ASKED_ORDER ? 2 : 1))
		tree_fault(list, c->diags, BAD_COUNT,
			q->kind == ASKED_ORDER ? "less than two entries belong to the order"
					       : "no option is right");
	else
		return;
	diag_hint(c->diags, "mark with 'right: true'");
}

static void same_text_tell(struct doc *c, struct tree *list, const char *key)
{
	for (struct tree *t = list->first; t; t = t->next)
		for (struct tree *other = list->first; other != t; other = other->next) {
			struct tree *a = tree_find(t, key), *b = tree_find(other, key);
			if (!a || !b || a->kind != TREE_SCALAR || b->kind != TREE_SCALAR ||
				a->broken || strcmp(a->text, b->text) != 0)
				continue;
			tree_fault(a, c->diags, BAD_REPEATED, "this stands there already");
			diag_note(c->diags, b->place, "here it stands first");
		}
}

void options_read(struct doc *c, const struct names *n, struct tree *t, struct ask *out)
{
	const struct kind_words *word = &kind_words[out->kind];
	struct tree *list = tree_need(t, word->list, c->diags), *shuffle = tree_find(t, "shuffle");
	struct tree *child = doc_children(c, list, TREE_LIST);
	size_t count = child ? list->count : 0, before = c->diags->nerror;
	if (shuffle)
		out->keep_order = !doc_truth(c, shuffle);
	if (out->kind == ASKED_MATCH)
		others_read(c, n, tree_find(t, "others"), out);
	if (child && (count < 2 || count + out->nother > OFFERS_MOST)) {
		tree_fault(list, c->diags, BAD_COUNT, "2 to %d %s are possible", OFFERS_MOST,
			word->list);
		return;
	}
	struct offer *option = doc_many(c, count, struct offer);
	for (; option && child; child = child->next)
		option_read(c, n, child, out->kind, &option[out->noffer++]);
	out->offer = option;
	if (!option || !count)
		return;
	if (out->kind == ASKED_ORDER)
		order_read(c, list, option, count);
	same_text_tell(c, list, word->one);
	if (out->kind == ASKED_MATCH)
		same_text_tell(c, list, "with");
	if (c->diags->nerror == before)
		rights_count(c, list, out);
}
