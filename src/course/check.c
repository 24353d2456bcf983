/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course/check.h"

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/nearest.h>

#include "course/assessment.h"
#include "course/case.h"
#include "course/claims.h"
#include "course/doc.h"
#include "course/load.h"
#include "course/programme.h"
#include "course/procedure.h"

struct wanted_station {
	const char *code;
	struct place place;
	struct wanted_station *next;
};

static struct doc doc_of(const struct check *c)
{
	return (struct doc){.arena = c->arena, .aside = c->arena, .diags = c->diags};
}

/* ---- stations -------------------------------------------------------------------------------- */

static void stations_want(struct check *c, struct doc *doc, const struct module *m)
{
	for (size_t i = 0; i < m->nstation; i++) {
		struct wanted_station *w = doc_many(doc, 1, struct wanted_station);
		if (!w)
			return;
		*w = (struct wanted_station){m->station[i], m->station_place[i], c->wanted};
		c->wanted = w;
	}
}

static void stations_have(struct check *c, struct doc *doc, const struct rubric *r)
{
	struct place nowhere = {0}, first;
	if (!c->station)
		c->station = doc_many(doc, 1, struct claims);
	for (size_t i = 0; c->station && i < r->nstation; i++)
		doc_fine(doc, claims_add(c->arena, c->station, CLAIM_STATION, r->station[i].code,
				      nowhere, &first));
	c->n.stations += r->nstation;
}

static void station_unknown(struct check *c, const struct wanted_station *w)
{
	struct nearest near = {.wanted = w->code, .len = strlen(w->code)};
	diag_warn(c->diags, BAD_UNKNOWN, w->place, (uint32_t)strlen(w->code),
		"none of the rubrics here has a station '%s'", w->code);
	for (size_t i = 0; i < c->station->room; i++)
		if (c->station->slot[i].kind)
			nearest_offer(
				&near, c->station->slot[i].code, strlen(c->station->slot[i].code));
	if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
}

/* ---- the order of the faults ----------------------------------------------------------------- */

static int compare(uint32_t a, uint32_t b)
{
	return (a > b) - (a < b);
}

/* File by file, as somebody reads who mends them. */
static int by_place(const struct place *x, const struct place *y)
{
	int order = x->source == y->source ? 0 : strcmp(x->source->name, y->source->name);
	if (!order)
		order = compare(x->line, y->line);
	return order ? order : compare(x->col, y->col);
}

/* By insertion: they are few, mostly in order, and what stands at one place stays as it came. */
static void faults_sort(struct check *c)
{
	struct diag *list[DIAGS_KEPT + 1];
	size_t n = 0;
	for (struct diag *one = c->diags->first; one; one = one->next)
		list[n++] = one;
	for (size_t i = 1; i < n; i++)
		for (size_t j = i; j && by_place(&list[j - 1]->place, &list[j]->place) > 0; j--) {
			struct diag *kept = list[j];
			list[j] = list[j - 1];
			list[j - 1] = kept;
		}
	for (size_t i = 0; i < n; i++)
		list[i]->next = i + 1 < n ? list[i + 1] : NULL;
	if (n) {
		c->diags->first = list[0];
		c->diags->last = list[n - 1];
	}
}

/* ---- the end --------------------------------------------------------------------------------- */

enum bad check_end(struct check *c)
{
	struct wanted_station *in_order = NULL;
	while (c->wanted) { /* they were put in front of each other */
		struct wanted_station *w = c->wanted;
		c->wanted = w->next;
		w->next = in_order;
		in_order = w;
	}
	for (; in_order && c->station; in_order = in_order->next)
		if (*in_order->code && !claims_find(c->station, CLAIM_STATION, in_order->code))
			station_unknown(c, in_order);
	faults_sort(c);
	return c->diags->out ? BAD_MEMORY : FINE;
}

/* ---- one file -------------------------------------------------------------------------------- */

/* "FOLDER/" of a path, or "". */
static const char *folder_of(struct doc *doc, const char *path)
{
	size_t len = (size_t)(file_name(path) - path);
	char *made = arena_copy(doc->arena, path, len);
	if (!made)
		doc->out = true;
	return made ? made : "";
}

/* The course.yaml at a place beside `path`, its competencies alone, read in silence; null when there is
 * none. */
static const struct course *course_at(struct doc *doc, const char *path, const char *where)
{
	struct arena aside = {0};
	struct diags silent = {.arena = &aside};
	struct doc quiet = {.arena = doc->arena, .aside = &aside, .diags = &silent};
	struct course *course = doc_many(doc, 1, struct course);
	char *above = arena_format(doc->arena, "%s%s", folder_of(doc, path), where);
	struct document file;
	struct tree *modules;
	bool known = false;
	if (!course || !above) {
		doc->out = true;
		return NULL;
	}
	if (!document_open(&quiet, above, &file) && document_is(&quiet, &file, "course")) {
		course_read(&quiet, file.root, course, &modules);
		known = course->ncompetency > 0;
	}
	doc->out = doc->out || quiet.out || silent.out;
	arena_release(&aside);
	return known ? course : NULL;
}

/* The course whose competencies a lone problem uses. */
static const struct course *course_above(struct doc *doc, const char *path)
{
	return course_at(doc, path, "../course.yaml");
}

/* The one whose competencies a programme maps. */
static const struct course *course_beside(struct doc *doc, const char *path)
{
	return course_at(doc, path, "course.yaml");
}

/* Every name of a list must be a file (or folder with module.yaml) beside `path`. */
static void names_exist(struct doc *doc, struct tree *first, const char *path, bool folders)
{
	const char *folder = folder_of(doc, path);
	for (struct tree *t = first; t; t = t->next) {
		const char *name = folders ? doc_code(doc, t) : doc_file(doc, t);
		char *at = arena_format(
			doc->arena, "%s%s%s", folder, name, folders ? "/module.yaml" : "");
		if (!at)
			doc->out = true;
		else if (*name && file_kind(at) != FILE_PLAIN)
			file_fault(doc, t, BAD_ABSENT, at);
	}
}

static enum bad problem_use(struct check *c, const struct problem *p)
{
	return c->problem ? c->problem(c->to, p, c->diags) : FINE;
}

static enum bad task_check(
	struct check *c, struct doc *doc, const struct document *d, const char *path, bool fixed)
{
	struct problem *p = doc_many(doc, 1, struct problem);
	const struct course *course = course_above(doc, path);
	c->n.problems += !fixed;
	c->n.items += fixed;
	if (!p)
		return BAD_MEMORY;
	p->file = d->file;
	(fixed ? item_read : problem_read)(doc, d->root, course, p);
	if (course)
		doc_code_is_name(doc, tree_find(d->root, fixed ? "item" : "problem"));
	return doc->out || c->diags->nerror != d->before ? FINE : problem_use(c, p);
}

static enum bad check_problem(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	return task_check(c, doc, d, path, false);
}

static enum bad check_item(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	return task_check(c, doc, d, path, true);
}

static enum bad check_course(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct course course = {0};
	struct tree *modules;
	c->n.courses++;
	course_read(doc, d->root, &course, &modules);
	names_exist(doc, modules, path, true);
	return FINE;
}

static enum bad check_module(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct module module = {0};
	struct module_names names;
	c->n.modules++;
	module_read(doc, d->root, &module, &names);
	names_exist(doc, names.lessons, path, false);
	names_exist(doc, names.problems, path, false);
	names_exist(doc, names.items, path, false);
	stations_want(c, doc, &module);
	return FINE;
}

static enum bad check_lesson(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct lesson lesson = {0};
	(void)path;
	c->n.lessons++;
	lesson_read(doc, d->root, &lesson);
	return FINE;
}

static enum bad check_rubric(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct rubric rubric = {0};
	(void)path;
	c->n.rubrics++;
	rubric_read(doc, d->root, &rubric);
	stations_have(c, doc, &rubric);
	return FINE;
}

static enum bad check_case(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	(void)doc, (void)path;
	c->n.cases++;
	return case_root_check(c->arena, d->root, c->diags);
}

static enum bad check_procedure(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct procedure *p = doc_many(doc, 1, struct procedure);
	(void)path;
	if (!p)
		return BAD_MEMORY;
	c->n.procedures++;
	enum bad code = procedure_read(c->arena, d->file, d->root, c->diags, p);
	if (code || c->diags->nerror != d->before)
		return code;
	c->n.steps += p->nstep;
	c->n.faults += p->nfault;
	return c->procedure ? c->procedure(c->arena, p, c->diags) : FINE;
}

/* The course one folder above a file that draws on it: read in silence, each once. Null when there is
 * none, or not the one that is meant. */
static const struct course *whole_course_above(
	struct check *c, struct doc *doc, const char *path, const char *code)
{
	char *above = arena_format(doc->arena, "%s..", folder_of(doc, path));
	struct arena aside = {0};
	struct diags silent = {.arena = &aside};
	if (!above)
		doc->out = true;
	if (above && (!c->above || strcmp(c->above_path, above) != 0)) {
		struct course *course = doc_many(doc, 1, struct course);
		struct doc quiet = {.arena = doc->arena, .aside = &aside, .diags = &silent};
		struct claims claims = {0};
		struct check_counts counts = {0};
		enum bad bad = course ? course_gather(&quiet, above, &claims, &counts, course)
				      : BAD_MEMORY;
		doc->out = doc->out || quiet.out || silent.out;
		c->above = bad ? NULL : course;
		c->above_path = above;
	}
	arena_release(&aside);
	return c->above && strcmp(c->above->code, code) == 0 ? c->above : NULL;
}

static enum bad check_assessment(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct assessment a = {0};
	c->n.assessments++;
	assessment_read(doc, d, &a);
	if (c->diags->nerror != d->before || doc->out)
		return FINE;
	const struct course *course = whole_course_above(c, doc, path, a.course);
	struct tree *named = tree_find(d->root, "course");
	enum bad code = FINE;
	for (size_t k = 0; !code && k < a.nown; k++)
		code = problem_use(c, &a.own[k]);
	if (course)
		doc_fine(doc, assessment_bank(&a, course, c->diags));
	else if (!doc->out)
		diag_warn(c->diags, BAD_ABSENT, named->place, named->span,
			"course '%s' is not one folder above: whether it has the items cannot be "
			"told",
			a.course);
	return code;
}

static enum bad check_programme(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct programme p = {0};
	c->n.programmes++;
	programme_read(doc, d->root, course_beside(doc, path), &p);
	return FINE;
}

static enum bad (*const own_kinds[])(
	struct check *c, struct doc *doc, const struct document *d, const char *path) = {
#define X(kind) check_##kind,
	DOCUMENT_KINDS(X)
#undef X
};

/* A key further down that would tell the kind, or null. */
static const char *late_kind(const struct tree *first)
{
	for (const struct tree *t = first; t; t = t->next) {
		for (int i = 0; document_kinds[i]; i++)
			if (strcmp(t->key, document_kinds[i]) == 0)
				return t->key;
	}
	return NULL;
}

static void no_kind(struct check *c, const struct tree *first)
{
	const char *late = late_kind(first);
	struct nearest near = {.wanted = first->key, .len = first->key_len};
	diag_error(c->diags, BAD_UNKNOWN, first->key_place, first->key_span,
		"a file that begins with '%s' is of no kind known here", first->key);
	for (int i = 0; document_kinds[i]; i++)
		nearest_offer(&near, document_kinds[i], strlen(document_kinds[i]));
	if (late)
		diag_hint(c->diags, "put the line with '%s' at the top", late);
	else if (near.word)
		diag_hint(c->diags, "did you mean '%s'?", near.word);
	else
		diag_hint(c->diags, "the first line tells what a file is and its code, for example "
				    "'problem: distal-spread'");
}

static enum bad document_check(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	struct tree *first = doc_children(doc, d->root, TREE_MAP);
	if (!first)
		return FINE;
	int kind = document_kind(d->root);
	if (kind >= 0)
		return own_kinds[kind](c, doc, d, path);
	no_kind(c, first);
	return FINE;
}

static enum bad check_one(
	struct check *c, struct doc *doc, const struct document *d, const char *path)
{
	c->n.files++;
	enum bad code = document_check(c, doc, d, path);
	return doc->out || c->diags->out ? BAD_MEMORY : code;
}

enum bad check_text(struct check *c, const struct source *file)
{
	struct doc doc = doc_of(c);
	struct document d;
	document_read(&doc, file, &d);
	return check_one(c, &doc, &d, file->name);
}

enum bad check_file(struct check *c, const char *path)
{
	struct doc doc = doc_of(c);
	struct document d;
	enum bad code = document_open(&doc, path, &d);
	return code ? code : check_one(c, &doc, &d, path);
}

/* ---- folders --------------------------------------------------------------------------------- */

enum { FOLDERS_DEEP = 16 };

static bool ends_in(const char *name, const char *end)
{
	size_t len = strlen(name), n = strlen(end);
	return len > n && strcmp(name + len - n, end) == 0;
}

/* A fault of a file as a whole, not of a place in it. */
static enum bad tell_file(
	struct check *c, const char *path, enum bad code, const char *words, const char *hint)
{
	struct source *s = arena_new(c->arena, struct source);
	char *name = arena_copy(c->arena, path, strlen(path));
	if (!s || !name)
		return BAD_MEMORY;
	*s = (struct source){name, "", 0};
	struct place place = {s, 0, 0};
	if (code == BAD_UNUSED)
		diag_warn(c->diags, code, place, 1, "%s", words);
	else
		diag_error(c->diags, code, place, 1, "%s", words);
	if (hint)
		diag_hint(c->diags, "%s", hint);
	return FINE;
}

/* A file that was found and not named: one that cannot be read is a fault like any other. */
static enum bad found_file(struct check *c, const char *path)
{
	if (ends_in(path, ".yml"))
		return tell_file(c, path, BAD_UNUSED, "this file is not looked at",
			"the names of course files end in .yaml");
	if (!ends_in(path, ".yaml"))
		return FINE;
	enum bad code = check_file(c, path);
	if (!code || code == BAD_MEMORY)
		return code;
	return tell_file(c, path, code, bad_text(code), NULL);
}

/* What stands in the folder of a module and is named in none of its lists. */
static enum bad left_over(struct check *c, const struct claims *claims, const char *folder)
{
	struct folder_entry *entry;
	size_t n;
	enum bad code = folder_list(folder, c->arena, &entry, &n);
	for (size_t i = 0; !code && i < n; i++) {
		char *path = folder_join(c->arena, folder, entry[i].name);
		if (!path)
			return BAD_MEMORY;
		if (entry[i].kind != FILE_PLAIN || *entry[i].name == '.' ||
			claims_find(claims, CLAIM_FILE, path))
			continue;
		code = found_file(c, path);
		if (!code && ends_in(path, ".yaml"))
			code = tell_file(c, path, BAD_UNUSED,
				"no list of the module names this file",
				"add it to 'lessons', 'problems' or 'items' in module.yaml, else "
				"no student "
				"will see it");
	}
	return code == BAD_MEMORY ? code : FINE;
}

static enum bad entries_check(
	struct check *c, const char *path, const struct folder_entry *entry, size_t n, int deep);

/* Assessments, procedures or cases of a course: every file in the folder. */
static enum bad all_in(struct check *c, const char *path)
{
	struct folder_entry *entry;
	size_t n;
	enum bad code = folder_list(path, c->arena, &entry, &n);
	if (code)
		return code == BAD_MEMORY ? code : tell_file(c, path, code, bad_text(code), NULL);
	return entries_check(c, path, entry, n, FOLDERS_DEEP);
}

/* A folder with course files and no module.yaml: nobody sees what is in it. */
static enum bad no_module(struct check *c, const char *folder)
{
	struct folder_entry *entry;
	size_t n, found = 0;
	enum bad code = folder_list(folder, c->arena, &entry, &n);
	if (code)
		return code == BAD_MEMORY ? code : FINE;
	for (size_t i = 0; i < n; i++)
		found += entry[i].kind == FILE_PLAIN && *entry[i].name != '.' &&
			 ends_in(entry[i].name, ".yaml");
	const char *hint = arena_format(c->arena,
		"barwright check --new module %s; then name the folder in course.yaml, and its "
		"files in the new module.yaml",
		folder);
	if (!hint)
		return BAD_MEMORY;
	return found ? tell_file(c, folder, BAD_UNUSED,
			       "this folder has course files and no module.yaml: no student will "
			       "see them",
			       hint)
		     : FINE;
}

static bool is_visited(const char *folder)
{
	static const char *const visited[] = {"assessments", "procedures", "cases", "rubrics"};
	for (size_t i = 0; i < sizeof visited / sizeof *visited; i++)
		if (strcmp(folder, visited[i]) == 0)
			return true;
	return false;
}

/* What stands beside course.yaml: a module, assessments and the like, a programme, or what nobody
 * will see. */
static enum bad beside_course(struct check *c, const struct claims *claims, const char *folder,
	const struct folder_entry *e)
{
	char *path = folder_join(c->arena, folder, e->name);
	char *module = path ? folder_join(c->arena, path, "module.yaml") : NULL;
	if (!module)
		return BAD_MEMORY;
	if (e->kind == FILE_FOLDER && claims_find(claims, CLAIM_FILE, module))
		return left_over(c, claims, path);
	if (e->kind == FILE_FOLDER && file_kind(module) == FILE_PLAIN)
		return tell_file(c, module, BAD_UNUSED, "course.yaml does not name this module",
			"add the folder to 'modules'");
	if (e->kind == FILE_FOLDER && is_visited(e->name))
		return all_in(c, path);
	if (e->kind == FILE_FOLDER)
		return no_module(c, path);
	if (e->kind == FILE_PLAIN && strcmp(e->name, "programme.yaml") == 0)
		return found_file(c, path);
	if (e->kind == FILE_PLAIN && ends_in(path, ".yaml") &&
		!claims_find(claims, CLAIM_FILE, path))
		return tell_file(c, path, BAD_UNUSED, "nothing names this file",
			"lessons and problems stand in the folders of modules");
	return FINE;
}

static enum bad course_use(struct check *c, struct doc *doc, const struct claims *claims,
	const struct course *course, const char *path)
{
	struct folder_entry *entry;
	size_t n;
	enum bad code = folder_list(path, c->arena, &entry, &n);
	for (size_t i = 0; !code && i < n; i++)
		if (*entry[i].name != '.')
			code = beside_course(c, claims, path, &entry[i]);
	for (size_t i = 0; i < course->nmodule; i++)
		stations_want(c, doc, &course->module[i]);
	for (size_t i = 0; !code && i < course->nproblem; i++)
		code = problem_use(c, course->by_code[i]);
	return code;
}

static enum bad course_folder(struct check *c, const char *path)
{
	struct doc doc = doc_of(c);
	struct claims claims = {0};
	struct course *course = doc_many(&doc, 1, struct course);
	enum bad code = course ? course_gather(&doc, path, &claims, &c->n, course) : BAD_MEMORY;
	if (code && code != BAD_MEMORY)
		return tell_file(c, path, code, "course.yaml cannot be read", NULL);
	if (!code)
		code = course_use(c, &doc, &claims, course, path);
	return !code && (doc.out || c->diags->out) ? BAD_MEMORY : code;
}

static enum bad folder_below(struct check *c, const char *path, int deep);

static enum bad entries_check(
	struct check *c, const char *path, const struct folder_entry *entry, size_t n, int deep)
{
	enum bad code = FINE;
	for (size_t i = 0; !code && i < n; i++) {
		char *at = folder_join(c->arena, path, entry[i].name);
		if (!at)
			return BAD_MEMORY;
		if (*entry[i].name == '.')
			continue;
		if (entry[i].kind == FILE_PLAIN)
			code = found_file(c, at);
		else if (entry[i].kind == FILE_FOLDER && entry[i].is_link)
			code = tell_file(c, at, BAD_UNUSED,
				"a symbolic link to a folder, which is not followed",
				"name what it leads to, if that is to be checked");
		else if (entry[i].kind == FILE_FOLDER)
			code = folder_below(c, at, deep + 1);
	}
	return code;
}

static enum bad folder_below(struct check *c, const char *path, int deep)
{
	struct folder_entry *entry;
	size_t n;
	if (deep > FOLDERS_DEEP)
		return tell_file(c, path, BAD_SIZE, "the folders are nested too deeply", NULL);
	enum bad code = folder_list(path, c->arena, &entry, &n);
	if (code)
		return code == BAD_MEMORY || !deep ? code
						   : tell_file(c, path, code, bad_text(code), NULL);
	for (size_t i = 0; i < n; i++)
		if (entry[i].kind == FILE_PLAIN && strcmp(entry[i].name, "course.yaml") == 0)
			return course_folder(c, path);
	return entries_check(c, path, entry, n, deep);
}

enum bad check_folder(struct check *c, const char *path)
{
	return folder_below(c, path, 0);
}
