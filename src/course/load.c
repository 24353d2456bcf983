/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A course is read in one pass, in the order of its lists: course.yaml, then of each module its
 * module.yaml, its lessons, its problems. */
#include "course/load.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>

#include "course/check.h"
#include "course/claims.h"
#include "course/doc.h"

/* A course while it is read. The trees of course.yaml and of a module.yaml stand while the files are
 * read that they name; a lesson's or problem's goes again at once, so that all use the same memory. */
struct loading {
	struct doc *doc;
	struct arena leaf;
	struct course *course;
	struct claims *claims;
	struct check_counts *counts;
	struct content *last; /* of the files read, the latest; its course has the first */
	bool heads;           /* of what modules name only the heads are read: course_heads */
};

/* Adds a file to those the course consists of. */
static struct content *content_add(struct loading *l, const struct source *file)
{
	struct content *made = doc_many(l->doc, 1, struct content);
	if (!made)
		return NULL;
	made->file = file;
	if (l->last)
		l->last->next = made;
	else
		l->course->content = made;
	l->last = made;
	return made;
}

/* ---- files that others name ------------------------------------------------------------------ */

/* Of the list that begins with this name. */
static size_t names_count(const struct tree *first)
{
	return first ? first->parent->count : 0;
}

/* Opens FOLDER/FILE, which `name` asks for. False, and told, when it cannot be read or is no file of
 * this kind. */
static bool named_open(struct loading *l, struct tree *name, const char *folder, const char *file,
	const char *kind, struct document *out)
{
	struct place first;
	const char *path = folder_join(l->doc->arena, folder, file);
	if (!path) {
		l->doc->out = true;
		return false;
	}
	doc_fine(l->doc,
		claims_add(l->doc->arena, l->claims, CLAIM_FILE, path, name->place, &first));
	enum bad code = document_open(l->doc, path, out);
	if (code) {
		file_fault(l->doc, name, code, path);
		return false;
	}
	l->counts->files++;
	return content_add(l, out->file) && document_is(l->doc, out, kind);
}

/* Takes the code that a file gives itself. */
static void code_take(struct loading *l, enum claim_kind kind, struct tree *at, const char *code)
{
	struct place first;
	if (!*code)
		return;
	enum bad bad = claims_add(l->doc->arena, l->claims, kind, code, at->place, &first);
	if (doc_fine(l->doc, bad) || bad == BAD_MEMORY)
		return;
	tree_fault(at, l->doc->diags, bad, "this course has a %s '%s' already",
		kind == CLAIM_LESSON ? "lesson" : "problem or item", code);
	diag_note(l->doc->diags, first, "here it stands first");
}

/* ---- heads ----------------------------------------------------------------------------------- */

/* The name of a file tells the code of what is in it. */
static bool head_read(struct loading *l, const char *folder, const char *name, struct problem *out)
{
	struct source *file = doc_many(l->doc, 1, struct source);
	const char *path = folder_join(l->doc->arena, folder, name);
	if (!file || !path) {
		l->doc->out = true;
		return false;
	}
	*file = (struct source){.name = path};
	out->file = file;
	out->code = doc_keep(l->doc, name, strlen(name) - strlen(".yaml"));
	out->title = "";
	return !l->doc->out;
}

const char *problem_title(const struct problem *p, struct arena *a)
{
	struct diags unheard = {.arena = a};
	struct doc c = {.arena = a, .aside = a, .diags = &unheard};
	struct document file;
	if (*p->title || document_open(&c, p->file->name, &file) || !file.root)
		return p->title;
	return doc_line(&c, tree_find(file.root, "title"));
}

/* ---- lessons and problems -------------------------------------------------------------------- */

static bool lesson_load(
	struct loading *l, struct tree *name, const char *folder, struct lesson *out)
{
	struct document file;
	size_t before = l->doc->diags->nerror;
	const char *at = doc_file(l->doc, name);
	*out = (struct lesson){.code = "", .title = ""};
	if (l->heads)
		return *at != '\0';
	if (!*at || !named_open(l, name, folder, at, "lesson", &file))
		return false;
	l->counts->lessons++;
	out->file = file.file;
	lesson_read(l->doc, file.root, out);
	code_take(l, CLAIM_LESSON, tree_find(file.root, "lesson"), out->code);
	return l->doc->diags->nerror == before && !l->doc->out;
}

/* A problem or, if `fixed`, an item: their codes share one shelf. */
static bool problem_load(
	struct loading *l, struct tree *name, const char *folder, bool fixed, struct problem *out)
{
	struct document file;
	size_t before = l->doc->diags->nerror;
	const char *at = doc_file(l->doc, name), *kind = fixed ? "item" : "problem";
	out->is_fixed = fixed;
	if (l->heads)
		return *at && head_read(l, folder, at, out);
	if (!*at || !named_open(l, name, folder, at, kind, &file))
		return false;
	l->counts->problems += !fixed;
	l->counts->items += fixed;
	out->file = file.file;
	out->content = l->last;
	(fixed ? item_read : problem_read)(l->doc, file.root, l->course, out);
	struct tree *code = tree_find(file.root, kind);
	code_take(l, CLAIM_PROBLEM, code, out->code);
	doc_code_is_name(l->doc, code);
	return l->doc->diags->nerror == before && !l->doc->out;
}

static void lessons_load(
	struct loading *l, struct tree *first, const char *folder, struct module *out)
{
	struct lesson *lesson = doc_many(l->doc, names_count(first), struct lesson);
	for (struct tree *t = first; t && lesson; t = t->next) {
		struct lesson one = {0};
		if (lesson_load(l, t, folder, &one))
			lesson[out->nlesson++] = one;
		arena_clear(&l->leaf);
	}
	out->lesson = lesson;
}

static void problems_load(
	struct loading *l, const struct module_names *names, const char *folder, struct module *out)
{
	size_t room = names_count(names->problems) + names_count(names->items);
	struct problem *problem = doc_many(l->doc, room, struct problem);
	out->problem = problem;
	for (int fixed = 0; fixed < 2; fixed++)
		for (struct tree *t = fixed ? names->items : names->problems; t && problem;
			t = t->next) {
			struct problem one = {0};
			if (problem_load(l, t, folder, fixed, &one)) {
				problem[out->nproblem++] = one;
				out->nfixed += (size_t)fixed;
			}
			arena_clear(&l->leaf);
		}
}

/* ---- modules --------------------------------------------------------------------------------- */

static void folder_is_code(struct loading *l, struct tree *root, const char *name)
{
	struct tree *code = tree_find(root, "module");
	if (!code || code->broken || strcmp(code->text, name) == 0)
		return;
	tree_fault(code, l->doc->diags, BAD_UNKNOWN,
		"the module calls itself '%s', but its folder is '%s'", code->text, name);
}

/* The files of a faulty module are checked all the same. */
static bool module_load(struct loading *l, struct tree *t, const char *folder, struct module *out)
{
	struct document file;
	struct module_names names;
	size_t before = l->doc->diags->nerror;
	const char *name = doc_code(l->doc, t);
	if (!*name)
		return false;
	const char *own = folder_join(l->doc->arena, folder, name);
	if (!own) {
		l->doc->out = true;
		return false;
	}
	if (!named_open(l, t, own, "module.yaml", "module", &file))
		return false;
	l->counts->modules++;
	module_read(l->doc, file.root, out, &names);
	folder_is_code(l, file.root, name);
	bool fine = l->doc->diags->nerror == before;
	struct arena *upper = l->doc->aside;
	l->doc->aside = &l->leaf;
	lessons_load(l, names.lessons, own, out);
	problems_load(l, &names, own, out);
	l->doc->aside = upper;
	return fine;
}

static void modules_load(struct loading *l, struct tree *first, const char *folder)
{
	struct module *module = doc_many(l->doc, names_count(first), struct module);
	for (struct tree *t = first; t && module; t = t->next) {
		struct module one = {0};
		if (module_load(l, t, folder, &one))
			module[l->course->nmodule++] = one;
	}
	l->course->module = module;
}

/* ---- the course ------------------------------------------------------------------------------ */

static int by_code(const void *a, const void *b)
{
	const struct problem *const *x = a, *const *y = b;
	return strcmp((*x)->code, (*y)->code);
}

static void problems_sort(struct loading *l)
{
	struct course *course = l->course;
	size_t n = 0;
	for (size_t i = 0; i < course->nmodule; i++)
		n += course->module[i].nproblem;
	const struct problem **list = doc_many(l->doc, n, const struct problem *);
	for (size_t i = 0; list && i < course->nmodule; i++)
		for (size_t k = 0; k < course->module[i].nproblem; k++)
			list[course->nproblem++] = &course->module[i].problem[k];
	if (course->nproblem)
		qsort(list, course->nproblem, sizeof *list, by_code);
	course->by_code = list;
}

static enum bad gather(struct loading *l, const char *folder)
{
	struct doc *c = l->doc;
	struct course *out = l->course;
	struct document file;
	struct place nowhere = {0};
	struct tree *modules = NULL;
	const char *path = folder_join(c->arena, folder, "course.yaml");
	enum bad code = path ? document_open(c, path, &file) : BAD_MEMORY;
	if (code)
		return code;
	content_add(l, file.file);
	l->counts->files++;
	l->counts->courses++;
	doc_fine(c, claims_add(c->arena, l->claims, CLAIM_FILE, path, nowhere, &nowhere));
	out->code = file_name(folder);
	out->title = out->about = out->version = "";
	out->language = "en";
	if (document_is(c, &file, "course"))
		course_read(c, file.root, out, &modules);
	modules_load(l, modules, folder);
	arena_release(&l->leaf);
	problems_sort(l);
	return c->out ? BAD_MEMORY : FINE;
}

enum bad course_gather(struct doc *c, const char *folder, struct claims *claims,
	struct check_counts *counts, struct course *out)
{
	struct loading l = {.doc = c, .course = out, .claims = claims, .counts = counts};
	return gather(&l, folder);
}

static enum bad load(const char *folder, bool heads, struct course *out, struct diags *d)
{
	struct course made = {0};
	struct arena aside = {0};
	struct doc c = {.arena = &made.arena, .aside = &aside, .diags = d};
	struct diags kept = *d;
	struct claims claims = {0};
	struct check_counts counts = {0};
	struct loading l = {
		.doc = &c, .course = &made, .claims = &claims, .counts = &counts, .heads = heads};
	*out = (struct course){0};
	enum bad code = gather(&l, folder);
	arena_release(&aside);
	if (!code && d->out && !kept.out)
		code = BAD_MEMORY;
	if (code) {
		doc_forget(d, &kept);
		arena_release(&made.arena);
		return code;
	}
	*out = made;
	return FINE;
}

enum bad course_load(const char *folder, struct course *out, struct diags *d)
{
	return load(folder, false, out, d);
}

enum bad course_heads(const char *folder, struct course *out)
{
	struct arena mem = {0};
	struct diags unheard = {.arena = &mem};
	enum bad code = load(folder, true, out, &unheard);
	arena_release(&mem);
	return code;
}
