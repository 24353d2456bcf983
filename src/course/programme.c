/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A programme: its own outcome codes, and which competencies of a course show them. Usually
 * programme.yaml beside course.yaml:
 *
 *	programme     its code
 *	title         one line
 *	about         whose codes these are
 *	outcomes      at least one:
 *	  outcome       the programme's own code, one line ("LO 2.3")
 *	  title         one line
 *	  competencies  codes of the course: all of them must be shown
 *	  evidence      how many assessed pieces each of them needs (1) */
#include "course/programme.h"

#include <string.h>

#include <barwright/base/nearest.h>

#include "course/doc.h"
#include "course/load.h"

enum { EVIDENCE_MOST = 100 };

static void competency_known(struct doc *c, struct tree *t, const struct course *course)
{
	struct nearest near = {.wanted = t->text, .len = t->len};
	for (size_t i = 0; i < course->ncompetency; i++) {
		const char *code = course->competency[i].code;
		if (strcmp(code, t->text) == 0)
			return;
		nearest_offer(&near, code, strlen(code));
	}
	tree_fault(t, c->diags, BAD_UNKNOWN, "the course has no competency '%s'", t->text);
	if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
}

static void competencies_read(
	struct doc *c, struct tree *t, const struct course *course, struct outcome_code *out)
{
	struct tree *child = doc_children(c, t, TREE_LIST);
	const char **list = doc_many(c, child ? t->count : 0, const char *);
	for (; list && child; child = child->next) {
		const char *code = doc_code(c, child);
		for (size_t i = 0; i < out->ncompetency && *code; i++)
			if (strcmp(list[i], code) == 0) {
				tree_fault(child, c->diags, BAD_REPEATED,
					"'%s' is in the list twice", code);
				break;
			}
		if (course && *code && !child->broken)
			competency_known(c, child, course);
		list[out->ncompetency++] = code;
	}
	out->competency = list;
}

static void outcome_is_new(struct doc *c, struct tree *t)
{
	struct tree *own = tree_find(t, "outcome");
	for (struct tree *other = t->parent->first; own && other != t; other = other->next) {
		struct tree *one = tree_find(other, "outcome");
		if (!one || one->kind != TREE_SCALAR || own->kind != TREE_SCALAR ||
			strcmp(one->text, own->text) != 0)
			continue;
		tree_fault(own, c->diags, BAD_REPEATED, "an outcome is called '%s' already",
			own->text);
		diag_note(c->diags, one->place, "here it stands first");
		return;
	}
}

static void outcome_read(
	struct doc *c, struct tree *t, const struct course *course, struct outcome_code *out)
{
	struct diags *d = c->diags;
	out->code = doc_line(c, tree_need(t, "outcome", d));
	out->title = doc_line(c, tree_need(t, "title", d));
	competencies_read(c, tree_need(t, "competencies", d), course, out);
	struct tree *evidence = tree_find(t, "evidence");
	out->evidence = evidence ? doc_whole(c, evidence, 1, EVIDENCE_MOST, 1) : 1;
	tree_unknown(t, d);
}

void programme_read(
	struct doc *c, struct tree *root, const struct course *course, struct programme *out)
{
	struct diags *d = c->diags;
	out->code = doc_code(c, tree_need(root, "programme", d));
	out->title = doc_line(c, tree_need(root, "title", d));
	out->about = doc_text(c, tree_need(root, "about", d));
	struct tree *list = tree_need(root, "outcomes", d),
		    *child = doc_children(c, list, TREE_LIST);
	struct outcome_code *outcome = doc_many(c, child ? list->count : 0, struct outcome_code);
	for (; outcome && child; child = child->next) {
		outcome_read(c, child, course, &outcome[out->noutcome++]);
		outcome_is_new(c, child);
	}
	out->outcome = outcome;
	tree_unknown(root, d);
}

enum bad programme_load(
	const char *path, const struct course *course, struct programme *out, struct diags *d)
{
	struct programme made = {0};
	struct arena aside = {0};
	struct doc c = {.arena = &made.arena, .aside = &aside, .diags = d};
	struct diags kept = *d;
	struct document file;
	enum bad code = document_open(&c, path, &file);
	if (!code && document_is(&c, &file, "programme"))
		programme_read(&c, file.root, course, &made);
	arena_release(&aside);
	if (!code && (c.out || (d->out && !kept.out)))
		code = BAD_MEMORY;
	if (code) {
		arena_release(&made.arena);
		doc_forget(d, &kept);
		*out = (struct programme){0};
		return code;
	}
	made.hash = document_hash(&file);
	if (d->nerror != kept.nerror)
		made.noutcome = 0;
	*out = made;
	return FINE;
}

void programme_release(struct programme *p)
{
	arena_release(&p->arena);
	*p = (struct programme){0};
}
