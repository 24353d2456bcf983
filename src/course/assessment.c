/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An assessment, usually in the folder "assessments" of its course:
 *
 *	assessment    its code
 *	title         one line
 *	about         what candidates read before they begin
 *	course        code of the course whose items it draws
 *	time          how long it may take (45 min)
 *	pass          share of all points that is needed (70 %)
 *	attempts      how often a candidate may sit it (1)
 *	wait          how long after an attempt the next may begin (0 h)
 *	tools         what may lie on the table (none)
 *	candidates    who may sit it (anybody): candidate: a name or code, extra: time more (0 min)
 *	sections      at least one:
 *	  section       its title, one line
 *	  items         at least one of
 *	    item          code of an item that everybody gets, or
 *	    competency    from which it is drawn: K3 takes K3.1 and K3.2 too; level: 1 to 3 (any);
 *	    items         how many (1)
 *	    critical      true: must be wholly right, whatever else is (false)
 *	competencies  a cut of their own (none): competency, pass
 *	judges        at least two (none): judge: a name, right: for each line of the sections the
 *	              share of those just good enough who get it right (80 %); what their judgements come
 *	              to (measure/cut_score.h) is held against `pass`
 *	problems      problems and items of its own (none), each as it would stand in a file of its
 *	              course; nobody meets them before, and in a locked file nobody reads them
 *
 * Every item is worth one point, shared evenly by the things it asks. */
#include "course/assessment.h"

#include <string.h>

#include "course/assessment_parts.h"
#include "course/doc.h"
#include "course/load.h"

/* ---- reading --------------------------------------------------------------------------------- */

static bool is_bare(const struct tree *t)
{
	return t->kind == TREE_SCALAR && !t->text[strspn(t->text, "0123456789.eE+- ")];
}

double share_read(struct doc *c, struct tree *t, double otherwise)
{
	double share = otherwise;
	if (!doc_fine(c, tree_quantity_in(t, "%", 0, 100, c->diags, &share)))
		return otherwise;
	if (share > 0 && share <= 0.01 && is_bare(t)) {
		tree_fault(t, c->diags, BAD_UNIT, "%s without a unit is %.4g %%", tree_shown(t),
			100 * share);
		diag_hint(c->diags, "write %.4g %%; or %.4g %% if that is meant", 1e4 * share,
			100 * share);
	}
	return share;
}

static double seconds_read(
	struct doc *c, struct tree *t, const char *unit, double low, double high, double otherwise)
{
	double s = otherwise;
	doc_fine(c, tree_quantity_in(t, unit, low, high, c->diags, &s));
	return s;
}

enum { ROW_ITEMS_MOST = 100, SITTING_MINUTES = 24 * 60, WAIT_DAYS = 366, ATTEMPTS_MOST = 20 };

static void row_read(struct doc *c, struct tree *t, struct assessment_row *out)
{
	struct diags *d = c->diags;
	struct tree *item = tree_find(t, "item"), *competency = tree_find(t, "competency");
	struct tree *level = tree_find(t, "level"), *items = tree_find(t, "items");
	struct tree *critical = tree_find(t, "critical");
	out->place = t->place;
	out->items = items ? doc_whole(c, items, 1, ROW_ITEMS_MOST, 1) : 1;
	out->critical = critical && doc_truth(c, critical);
	if (item) {
		out->item = doc_code(c, item);
		out->place = item->place;
		if (competency || level || items)
			tree_fault(t, d, BAD_COUNT,
				"'item' names one item: 'competency', 'level' and 'items' do not "
				"go with it");
	} else {
		out->competency = doc_code(c, tree_need(t, "competency", d));
		out->level = level ? doc_whole(c, level, 1, 3, 0) : 0;
		if (competency)
			out->place = competency->place;
	}
	tree_unknown(t, d);
}

static void section_read(struct doc *c, struct tree *t, struct assessment_section *out)
{
	out->title = doc_line(c, tree_need(t, "section", c->diags));
	struct tree *rows = tree_need(t, "items", c->diags);
	struct tree *child = doc_children(c, rows, TREE_LIST);
	struct assessment_row *row = doc_many(c, child ? rows->count : 0, struct assessment_row);
	for (; row && child; child = child->next)
		row_read(c, child, &row[out->nrow++]);
	out->row = row;
	tree_unknown(t, c->diags);
}

static void sections_read(struct doc *c, struct tree *t, struct assessment *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	struct assessment_section *s = doc_many(c, child ? t->count : 0, struct assessment_section);
	for (; s && child; child = child->next)
		section_read(c, child, &s[out->nsection++]);
	out->section = s;
}

/* Two children of a list with the same text behind `key`. */
static void is_new(struct doc *c, struct tree *t, const char *key)
{
	struct tree *own = tree_find(t, key);
	for (struct tree *other = t->parent->first; own && other != t; other = other->next) {
		struct tree *one = tree_find(other, key);
		if (!one || one->kind != TREE_SCALAR || own->kind != TREE_SCALAR ||
			strcmp(one->text, own->text) != 0)
			continue;
		tree_fault(own, c->diags, BAD_REPEATED, "%s '%s' is in the list twice", key,
			own->text);
		diag_note(c->diags, one->place, "here it stands first");
		return;
	}
}

static void cuts_read(struct doc *c, struct tree *t, struct assessment *out)
{
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct assessment_cut *cut = doc_many(c, child ? t->count : 0, struct assessment_cut);
	for (; cut && child; child = child->next) {
		struct tree *code = tree_need(child, "competency", c->diags);
		cut[out->ncut++] = (struct assessment_cut){.competency = doc_code(c, code),
			.share = share_read(c, tree_need(child, "pass", c->diags), 0),
			.place = code ? code->place : child->place};
		is_new(c, child, "competency");
		tree_unknown(child, c->diags);
	}
	out->cut = cut;
}

static void guests_read(struct doc *c, struct tree *t, struct assessment *out)
{
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct assessment_guest *guest = doc_many(c, child ? t->count : 0, struct assessment_guest);
	for (; guest && child; child = child->next) {
		struct tree *extra = tree_find(child, "extra");
		guest[out->nguest++] = (struct assessment_guest){
			doc_line(c, tree_need(child, "candidate", c->diags)),
			extra ? seconds_read(c, extra, "min", 0, SITTING_MINUTES, 0) : 0};
		is_new(c, child, "candidate");
		tree_unknown(child, c->diags);
	}
	out->guest = guest;
}

static void own_is_new(struct doc *c, struct tree *t, const struct problem *all, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (*all[n].code && strcmp(all[i].code, all[n].code) == 0)
			tree_fault(t, c->diags, BAD_REPEATED, "'%s' is in the list twice",
				all[n].code);
}

static void own_read(
	struct doc *c, struct tree *t, const struct source *file, struct assessment *out)
{
	struct tree *child = t ? doc_children(c, t, TREE_LIST) : NULL;
	struct problem *own = doc_many(c, child ? t->count : 0, struct problem);
	struct place *place = doc_many(c, child ? t->count : 0, struct place);
	struct content *content = doc_many(c, 1, struct content);
	if (content)
		content->file = file;
	for (; own && place && child; child = child->next) {
		struct problem *p = &own[out->nown];
		struct tree *item = tree_find(child, "item"), *code = item;
		if (!item)
			code = tree_find(child, "problem");
		(item ? item_read : problem_read)(c, child, NULL, p);
		p->file = file;
		p->content = content;
		place[out->nown] = code ? code->place : child->place;
		own_is_new(c, code ? code : child, own, out->nown++);
	}
	out->own = own;
	out->own_place = place;
}

/* What a candidate is told and held to, beside the items. */
static void rules_read(struct doc *c, struct tree *root, struct assessment *out)
{
	struct diags *d = c->diags;
	out->time_s = seconds_read(c, tree_need(root, "time", d), "min", 1, SITTING_MINUTES, 60);
	out->share = share_read(c, tree_need(root, "pass", d), 0);
	struct tree *attempts = tree_find(root, "attempts"), *wait = tree_find(root, "wait");
	struct tree *tools = tree_find(root, "tools");
	out->attempts = attempts ? doc_whole(c, attempts, 1, ATTEMPTS_MOST, 1) : 1;
	out->wait_s = wait ? seconds_read(c, wait, "h", 0, WAIT_DAYS * 24, 0) : 0;
	if (tools)
		out->tool = doc_lines(c, tools, &out->ntool);
	if (wait && out->attempts == 1)
		diag_warn(d, BAD_UNUSED, wait->key_place, wait->key_span,
			"with one attempt there is nothing to wait for");
}

void assessment_read(struct doc *c, const struct document *file, struct assessment *out)
{
	struct diags *d = c->diags;
	struct tree *root = file->root;
	out->code = doc_code(c, tree_need(root, "assessment", d));
	out->title = doc_line(c, tree_need(root, "title", d));
	out->about = doc_text(c, tree_need(root, "about", d));
	out->course = doc_code(c, tree_need(root, "course", d));
	rules_read(c, root, out);
	guests_read(c, tree_find(root, "candidates"), out);
	sections_read(c, tree_need(root, "sections", d), out);
	cuts_read(c, tree_find(root, "competencies"), out);
	judges_read(c, tree_find(root, "judges"), out);
	own_read(c, tree_find(root, "problems"), file->file, out);
	tree_unknown(root, d);
}

/* ---- files ----------------------------------------------------------------------------------- */

static enum bad loaded(struct doc *c, const struct document *file, struct assessment *made,
	struct assessment *out, const struct diags *kept)
{
	struct diags *d = c->diags;
	if (document_is(c, file, "assessment"))
		assessment_read(c, file, made);
	arena_release(c->aside);
	if (c->out || (d->out && !kept->out)) {
		arena_release(&made->arena);
		doc_forget(d, kept);
		*out = (struct assessment){0};
		return BAD_MEMORY;
	}
	made->hash = document_hash(file);
	if (d->nerror != kept->nerror)
		made->nsection = made->nown = 0;
	*out = *made;
	return FINE;
}

enum bad assessment_of(
	const char *name, const char *bytes, size_t len, struct assessment *out, struct diags *d)
{
	struct assessment made = {0};
	struct arena aside = {0};
	struct doc c = {.arena = &made.arena, .aside = &aside, .diags = d};
	struct diags kept = *d;
	struct document file = {0};
	struct source *source = doc_many(&c, 1, struct source);
	if (source) {
		*source = (struct source){
			doc_keep(&c, name, strlen(name)), doc_keep(&c, bytes, len), len};
		if (!c.out)
			document_read(&c, source, &file);
	}
	return loaded(&c, &file, &made, out, &kept);
}

enum bad assessment_load(const char *path, struct assessment *out, struct diags *d)
{
	struct assessment made = {0};
	struct arena aside = {0};
	struct doc c = {.arena = &made.arena, .aside = &aside, .diags = d};
	struct diags kept = *d;
	struct document file;
	enum bad code = document_open(&c, path, &file);
	if (!code)
		return loaded(&c, &file, &made, out, &kept);
	arena_release(&aside);
	arena_release(&made.arena);
	doc_forget(d, &kept);
	*out = (struct assessment){0};
	return code;
}

void assessment_release(struct assessment *a)
{
	arena_release(&a->arena);
	*a = (struct assessment){0};
}

/* ---- looking --------------------------------------------------------------------------------- */

bool competency_is_in(const char *code, const char *family)
{
	size_t n = strlen(family);
	return strncmp(code, family, n) == 0 && (!code[n] || code[n] == '.');
}

size_t assessment_places(const struct assessment *a)
{
	size_t n = 0;
	for (size_t i = 0; i < a->nsection; i++)
		for (size_t k = 0; k < a->section[i].nrow; k++)
			n += (size_t)a->section[i].row[k].items;
	return n;
}

const struct assessment_row *assessment_place(const struct assessment *a, size_t n)
{
	for (size_t i = 0; i < a->nsection; i++)
		for (size_t k = 0; k < a->section[i].nrow; k++) {
			const struct assessment_row *row = &a->section[i].row[k];
			if (n < (size_t)row->items)
				return row;
			n -= (size_t)row->items;
		}
	return NULL;
}

const struct assessment_guest *assessment_find_guest(
	const struct assessment *a, const char *name, const char *code)
{
	for (size_t i = 0; i < a->nguest; i++) {
		const char *one = a->guest[i].candidate;
		if ((name && strcmp(one, name) == 0) || strcmp(one, code) == 0)
			return &a->guest[i];
	}
	return NULL;
}
