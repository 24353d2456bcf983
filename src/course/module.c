/* SPDX-License-Identifier: GPL-3.0-or-later */
/* course.yaml, which makes a folder a course:
 *
 *	course         its code
 *	title          one line
 *	about          one or two sentences
 *	language       of its texts ("en")
 *	version        of the course, in quotes: "1"
 *	competencies   codes and what a student can do: "K3.1: A-P spread"
 *	modules        the folders of its modules, in the order in which they are learnt
 *
 * and module.yaml, which makes a folder below it a module:
 *
 *	module         its code, which is the name of its folder
 *	title          one line
 *	about          one or two sentences
 *	lessons        files in the folder (none)
 *	problems       files in the folder (none)
 *	items          files in the folder (none; but a module has one of the three)
 *	stations       codes of stations of a rubric, where this is rated at the bench (none) */
#include "course/doc.h"

#include <string.h>

static bool is_competency(const char *s, size_t len)
{
	size_t i = 0;
	while (i < len && ((s[i] >= 'A' && s[i] <= 'Z') || (s[i] >= '0' && s[i] <= '9') ||
				  (s[i] == '.' && i && i + 1 < len)))
		i++;
	return i && i == len && i <= CODE_MOST;
}

static void competencies_read(struct doc *c, struct tree *t, struct course *out)
{
	struct tree *child = doc_children(c, t, TREE_MAP);
	struct competency *list = doc_many(c, child ? t->count : 0, struct competency);
	for (; list && child; child = child->next) {
		child->used = true;
		if (!is_competency(child->key, child->key_len)) {
			diag_error(c->diags, BAD_SYNTAX, child->key_place, child->key_span,
				"'%s' cannot be used as the code of a competency", child->key);
			diag_hint(c->diags, "capitals, digits and points: K3.1");
		}
		list[out->ncompetency++] =
			(struct competency){doc_keep(c, child->key, child->key_len),
				doc_line(c, child), child->key_place};
	}
	out->competency = list;
}

/* No name in a list twice. */
static struct tree *names_once(struct doc *c, struct tree *list)
{
	struct tree *first = list ? doc_children(c, list, TREE_LIST) : NULL;
	for (struct tree *t = first; t; t = t->next)
		for (struct tree *other = first; other != t && !t->broken; other = other->next) {
			if (t->kind != TREE_SCALAR || other->kind != TREE_SCALAR ||
				strcmp(t->text, other->text) != 0)
				continue;
			tree_fault(t, c->diags, BAD_REPEATED, "'%s' is in the list twice", t->text);
			diag_note(c->diags, other->place, "here it stands first");
		}
	return first;
}

void course_read(struct doc *c, struct tree *root, struct course *out, struct tree **modules)
{
	struct diags *d = c->diags;
	out->code = doc_code(c, tree_need(root, "course", d));
	out->title = doc_line(c, tree_need(root, "title", d));
	out->about = doc_text(c, tree_need(root, "about", d));
	struct tree *language = tree_find(root, "language");
	out->language = language ? doc_code(c, language) : "en";
	out->version = doc_line(c, tree_need(root, "version", d));
	competencies_read(c, tree_need(root, "competencies", d), out);
	*modules = names_once(c, tree_need(root, "modules", d));
	tree_unknown(root, d);
}

static void stations_read(struct doc *c, struct tree *list, struct module *out)
{
	struct tree *child = names_once(c, list);
	const char **code = doc_many(c, child ? list->count : 0, const char *);
	struct place *place = doc_many(c, child ? list->count : 0, struct place);
	for (; code && place && child; child = child->next) {
		place[out->nstation] = child->place;
		code[out->nstation++] = doc_code(c, child);
	}
	out->station = code;
	out->station_place = place;
}

void module_read(struct doc *c, struct tree *root, struct module *out, struct module_names *names)
{
	struct diags *d = c->diags;
	out->code = doc_code(c, tree_need(root, "module", d));
	out->title = doc_line(c, tree_need(root, "title", d));
	out->about = doc_text(c, tree_need(root, "about", d));
	struct tree *lesson = tree_find(root, "lessons"), *problem = tree_find(root, "problems");
	struct tree *item = tree_find(root, "items");
	*names = (struct module_names){
		names_once(c, lesson), names_once(c, problem), names_once(c, item)};
	stations_read(c, tree_find(root, "stations"), out);
	tree_unknown(root, d);
	if (!lesson && !problem && !item) {
		diag_error(d, BAD_MISSING, root->first->key_place, root->first->key_span,
			"this module has neither 'lessons' nor 'problems' nor 'items'");
		diag_hint(d, "name the files: 'lessons: [lesson.yaml]'");
	}
}
