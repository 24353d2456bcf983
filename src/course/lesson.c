/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A lesson: pages of teaching text.
 *
 *	lesson       its code, unique in the course
 *	title        one line
 *	pages        at least one: title, and body, a list of passages, each with one key:
 *	  heading      one line
 *	  text         a paragraph or more
 *	  item         one entry of a list
 *	  exact        a formula or a small table, kept as it is (write it as a block with |)
 *	  caution      what can hurt somebody or spoil a case
 *	  source       where this comes from
 *	  figure       a drawing (figures.c), without names */
#include "course/doc.h"

#include <string.h>

#include <barwright/base/nearest.h>

static const char *const passage_words[] = {
	[PASSAGE_HEADING] = "heading",
	[PASSAGE_TEXT] = "text",
	[PASSAGE_ITEM] = "item",
	[PASSAGE_EXACT] = "exact",
	[PASSAGE_CAUTION] = "caution",
	[PASSAGE_SOURCE] = "source",
	[PASSAGE_FIGURE] = "figure",
};
enum { PASSAGES = sizeof passage_words / sizeof *passage_words };

static void no_passage(struct doc *c, const struct tree *t)
{
	struct nearest near = {.wanted = t->key, .len = t->key_len};
	for (int k = 0; k < PASSAGES; k++)
		nearest_offer(&near, passage_words[k], strlen(passage_words[k]));
	diag_error(c->diags, BAD_UNKNOWN, t->key_place, t->key_span,
		"no passage of a page is called '%s'", t->key);
	if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
	else
		diag_hint(c->diags,
			"there are heading, text, item, exact, caution, source and figure");
}

static void passage_read(struct doc *c, struct tree *t, struct passage *out)
{
	struct tree *only = doc_only(c, t, "each passage begins with its own '-'");
	if (!only)
		return;
	int kind = 0;
	while (kind < PASSAGES && strcmp(passage_words[kind], only->key) != 0)
		kind++;
	out->text = "";
	if (kind == PASSAGES) {
		no_passage(c, only);
		return;
	}
	out->kind = (enum passage_kind)kind;
	if (kind == PASSAGE_FIGURE)
		figure_read(c, NULL, only, &out->figure);
	else
		out->text = kind == PASSAGE_HEADING ? doc_line(c, only) : doc_text(c, only);
}

static void page_read(struct doc *c, struct tree *t, struct lesson_page *out)
{
	out->title = doc_line(c, tree_need(t, "title", c->diags));
	struct tree *body = tree_need(t, "body", c->diags);
	struct tree *child = doc_children(c, body, TREE_LIST);
	struct passage *passage = doc_many(c, child ? body->count : 0, struct passage);
	for (; passage && child; child = child->next)
		passage_read(c, child, &passage[out->n++]);
	out->passage = passage;
	tree_unknown(t, c->diags);
}

void lesson_read(struct doc *c, struct tree *root, struct lesson *out)
{
	out->code = doc_code(c, tree_need(root, "lesson", c->diags));
	out->title = doc_line(c, tree_need(root, "title", c->diags));
	struct tree *pages = tree_need(root, "pages", c->diags);
	struct tree *child = doc_children(c, pages, TREE_LIST);
	struct lesson_page *page = doc_many(c, child ? pages->count : 0, struct lesson_page);
	for (; page && child; child = child->next)
		page_read(c, child, &page[out->npage++]);
	out->page = page;
	tree_unknown(root, c->diags);
}
