/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/start_file.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/mem.h>
#include <barwright/base/nearest.h>
#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

#include "cmd/command.h"
#include "cmd/start_texts.h"

/* One file of a kind: its name in the folder (null: the one the author chose), and its code (null:
 * the name the author chose). In both a @ stands for the name the author chose, so that two modules
 * of a course do not bring the same codes. */
struct start {
	const char *file, *code, *text;
};

enum { FILES_MOST = 6 };

static const struct start_kind {
	const char *kind;
	bool is_folder;
	struct start file[FILES_MOST];
} kinds[] = {
	{"problem", false, {{NULL, NULL, start_problem}}},
	{"item", false, {{NULL, NULL, start_item}}},
	{"lesson", false, {{NULL, NULL, start_lesson}}},
	{"rubric", false, {{NULL, NULL, start_rubric}}},
	{"case", false, {{NULL, NULL, start_case}}},
	{"assessment", false, {{NULL, NULL, start_assessment}}},
	{"procedure", false, {{NULL, NULL, start_procedure}}},
	{"programme", false, {{NULL, NULL, start_programme}}},
	{"module", true,
		{{"module.yaml", NULL, start_module}, {"lesson.yaml", NULL, start_lesson},
			{"@-task.yaml", "@-task", start_problem},
			{"@-item.yaml", "@-item", start_item}}},
	{"course", true,
		{{"course.yaml", NULL, start_course}, {"first/module.yaml", "first", start_module},
			{"first/lesson.yaml", "first", start_lesson},
			{"first/first-task.yaml", "first-task", start_problem},
			{"first/first-item.yaml", "first-item", start_item},
			{"assessments/first-test.yaml", "first-test", start_assessment}}},
};
enum { KINDS = sizeof kinds / sizeof *kinds };

static const struct start_kind *find_kind(const char *kind)
{
	struct nearest near = {.wanted = kind, .len = strlen(kind)};
	for (size_t k = 0; k < KINDS; k++) {
		if (strcmp(kinds[k].kind, kind) == 0)
			return &kinds[k];
		nearest_offer(&near, kinds[k].kind, strlen(kinds[k].kind));
	}
	if (near.word)
		cannot("there is no kind of file called '%s'; did you mean '%s'?", kind, near.word);
	else
		cannot("there is no kind of file called '%s'; there are course, module, lesson, "
		       "problem, item, assessment, programme, procedure, rubric and case",
			kind);
	return NULL;
}

enum { CODE_MOST = 64, BEHIND_CODE = sizeof "-task" - 1 }; /* what a module's code gets */

static bool is_code(const char *s, size_t most)
{
	static const char letters[] =
		"abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-._";
	size_t len = strlen(s);
	return len && len <= most && strspn(s, letters) == len && !strchr("-._", *s);
}

static size_t slashes_off(const char *path, size_t len)
{
	while (len > 1 && path[len - 1] == '/')
		len--;
	return len;
}

static bool ends_in(const char *path, size_t len, const char *end)
{
	size_t n = strlen(end);
	return len > n && memcmp(path + len - n, end, n) == 0;
}

/* The path without slashes at its end; without ".yaml" where the kind is one file; and of a folder that
 * was named by its file, "X/module.yaml", the folder. */
static char *stem_of(struct arena *a, const char *path, const struct start_kind *kind)
{
	const char *own = kind->file[0].file;
	size_t len = slashes_off(path, strlen(path));
	if (!own && ends_in(path, len, ".yaml"))
		len -= strlen(".yaml");
	else if (own && ends_in(path, len, own) && path[len - strlen(own) - 1] == '/')
		len = slashes_off(path, len - strlen(own));
	return arena_copy(a, path, len);
}

/* ---- writing --------------------------------------------------------------------------------- */

struct writing {
	struct arena arena;
	const struct start_kind *kind;
	const char *stem; /* path without ".yaml" */
	const char *code; /* its last part */
};

/* A text with the chosen name put in for its @. */
static const char *with_code(struct writing *w, const char *s)
{
	const char *at = strchr(s, '@');
	return at ? arena_format(&w->arena, "%.*s%s%s", (int)(at - s), s, w->code, at + 1) : s;
}

static const char *path_of(struct writing *w, const struct start *s)
{
	const char *file = s->file ? with_code(w, s->file) : NULL;
	if (!s->file)
		return arena_format(&w->arena, "%s.yaml", w->stem);
	return file ? folder_join(&w->arena, w->stem, file) : NULL;
}

/* Nothing is written unless all can be. */
static int find_free(struct writing *w)
{
	for (size_t k = 0; k < FILES_MOST && w->kind->file[k].text; k++) {
		const char *path = path_of(w, &w->kind->file[k]);
		if (!path)
			return cannot("%s", bad_text(BAD_MEMORY));
		if (file_kind(path) != FILE_NONE)
			return cannot("'%s' is there already; nothing was written", path);
	}
	return EXIT_DONE;
}

static enum bad make_folder_of(struct writing *w, const char *path)
{
	size_t len = (size_t)(file_name(path) - path);
	char *folder = arena_copy(&w->arena, path, len ? len - 1 : 0);
	if (!folder)
		return BAD_MEMORY;
	return *folder ? folder_make(folder) : FINE;
}

/* The course a file is for: itself, or the folder that holds "assessments". */
static const char *course_of(struct writing *w)
{
	static const char folder[] = "/assessments/";
	size_t len = (size_t)(file_name(w->stem) - w->stem), tail = sizeof folder - 1;
	if (w->kind->is_folder)
		return w->code;
	if (len <= tail || memcmp(w->stem + len - tail, folder, tail) != 0)
		return "my-course";
	const char *path = arena_copy(&w->arena, w->stem, len - tail);
	return path ? file_name(path) : "";
}

static int write_one(struct writing *w, const struct start *s)
{
	const char *path = path_of(w, s), *code = s->code ? with_code(w, s->code) : w->code;
	struct text t;
	text_init(&t);
	for (const char *c = s->text; code && *c; c++)
		if (*c == '@')
			text_add(&t, code);
		else if (*c == '$')
			text_add(&t, course_of(w));
		else
			text_add_char(&t, *c);
	enum bad bad = t.out || !path || !code ? BAD_MEMORY : make_folder_of(w, path);
	if (!bad)
		bad = file_replace(path, t.at, t.len, false);
	text_release(&t);
	return bad ? cannot_file(bad, path ? path : "") : EXIT_DONE;
}

/* Where the name of a new file has to stand, or students will not see it. */
static const char *list_of(const char *kind)
{
	static const struct {
		const char *kind, *list;
	} lists[] = {{"module", "'modules' in course.yaml"}, {"lesson", "'lessons' in module.yaml"},
		{"problem", "'problems' in module.yaml"}, {"item", "'items' in module.yaml"}};
	for (size_t k = 0; k < sizeof lists / sizeof *lists; k++)
		if (strcmp(lists[k].kind, kind) == 0)
			return lists[k].list;
	return NULL;
}

static int say_next(const struct writing *w, struct text *out)
{
	bool folder = w->kind->is_folder;
	const char *list = list_of(w->kind->kind);
	text_add(out, "Written: ");
	text_add_safe(out, w->stem, strlen(w->stem), false);
	text_add(out, folder ? "/\n" : ".yaml\n");
	if (list)
		text_addf(out, "Next: name %s%s under %s, or no student will see it.\n", w->code,
			folder ? "" : ".yaml", list);
	text_addf(out, "%s change it, and after each change: barwright check ",
		list ? "Then:" : "Next:");
	text_add_safe(out, w->stem, strlen(w->stem), false);
	text_add(out, folder ? "\n" : ".yaml\n");
	return put_out(out, EXIT_DONE);
}

static int write_all(struct writing *w)
{
	struct text out;
	int status = find_free(w);
	for (size_t k = 0; !status && k < FILES_MOST && w->kind->file[k].text; k++)
		status = write_one(w, &w->kind->file[k]);
	if (status)
		return status;
	text_init(&out);
	status = say_next(w, &out);
	text_release(&out);
	return status;
}

int start_file(const char *kind, const char *path)
{
	struct writing w = {.kind = find_kind(kind)};
	if (!w.kind)
		return EXIT_CANNOT;
	w.stem = stem_of(&w.arena, path, w.kind);
	w.code = w.stem ? file_name(w.stem) : NULL;
	size_t most = w.kind->is_folder ? CODE_MOST - BEHIND_CODE : CODE_MOST;
	int status = EXIT_CANNOT;
	if (!w.stem)
		cannot("%s", bad_text(BAD_MEMORY));
	else if (is_code(w.code, most))
		status = write_all(&w);
	else
		cannot("'%s' cannot be a code: letters, digits, - . and _, the first a letter or "
		       "digit, at most %zu",
			w.code, most);
	arena_release(&w.arena);
	return status;
}
