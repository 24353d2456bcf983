/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/courses.h"

#include <stdio.h>
#include <stdint.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>

#include "course/load.h"

const char *data_folder(const struct options *o, struct arena *a)
{
	char *own = NULL;
	if (o->data)
		return o->data;
	return folder_own(FOLDER_DATA, a, &own) ? NULL : own;
}

/* ---- where courses are ----------------------------------------------------------------------- */

static const char *joined(struct arena *a, const char *folder, const char *name)
{
	const char *made = folder_join(a, folder, name);
	return made ? made : "";
}

static bool is_course(const char *folder, struct arena *a)
{
	return file_kind(joined(a, folder, "course.yaml")) == FILE_PLAIN;
}

static bool has_courses(const char *folder, struct arena *a)
{
	struct folder_entry *entry;
	size_t n;
	if (is_course(folder, a))
		return true;
	if (folder_list(folder, a, &entry, &n))
		return false;
	for (size_t k = 0; k < n; k++)
		if (entry[k].kind == FILE_FOLDER && is_course(joined(a, folder, entry[k].name), a))
			return true;
	return false;
}

/* What the options say; else the person's own, those of the system, the installed ones. */
const char *courses_folder(const struct options *o, struct arena *a)
{
	if (o->courses)
		return o->courses;
	const char *data = data_folder(o, a);
	const char *own = data ? joined(a, data, "courses") : "";
	char *shared;
	if (has_courses(own, a))
		return own;
	for (size_t k = 0; !folder_shared(k, a, &shared); k++) {
		const char *folder = joined(a, shared, "courses");
		if (has_courses(folder, a))
			return folder;
	}
	return BARWRIGHT_DATADIR "/courses";
}

/* ---- loading --------------------------------------------------------------------------------- */

void courses_tell_faults(size_t nerror, const char *path)
{
	if (!nerror)
		return;
	struct text t;
	text_init(&t);
	text_addf(&t,
		"barwright: %zu %s in the files of this course; what they touch is left out. "
		"To see them: barwright check ",
		nerror, text_plural(nerror, "fault", "faults"));
	text_add_safe(&t, path, strlen(path), false);
	text_add_char(&t, '\n');
	fputs(t.at, stderr);
	text_release(&t);
}

static enum bad load_one(const char *path, bool heads, struct courses *out)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	struct course *course = &out->course[out->n];
	enum bad code = heads ? course_heads(path, course) : course_load(path, course, &d);
	if (!code) {
		out->path[out->n++] = path;
		courses_tell_faults(d.nerror, path);
	}
	arena_release(&mem);
	return code;
}

static bool make_room(struct arena *a, size_t n, struct courses *out)
{
	out->course = arena_many(a, n, struct course);
	out->path = arena_many(a, n, const char *);
	return out->course && out->path;
}

static enum bad load_below(const char *folder, bool heads, struct arena *a, struct courses *out)
{
	struct folder_entry *entry;
	size_t n;
	enum bad code = folder_list(folder, a, &entry, &n);
	if (code)
		return code;
	if (!make_room(a, n + 1, out))
		return BAD_MEMORY;
	for (size_t k = 0; k < n; k++) {
		const char *path = joined(a, folder, entry[k].name);
		if (entry[k].kind != FILE_FOLDER || !is_course(path, a))
			continue;
		code = load_one(path, heads, out);
		if (code)
			return code;
	}
	return out->n ? FINE : BAD_ABSENT;
}

static enum bad load_all(const char *folder, bool heads, struct arena *a, struct courses *out)
{
	if (!is_course(folder, a))
		return load_below(folder, heads, a, out);
	return make_room(a, 1, out) ? load_one(folder, heads, out) : BAD_MEMORY;
}

static enum bad load_standard(
	const struct options *o, bool heads, struct arena *a, struct courses *out)
{
	const char *folder = courses_folder(o, a);
	struct courses made = {.folder = folder};
	enum bad code = load_all(folder, heads, a, &made);
	if (code) {
		courses_release(&made);
		if (code == BAD_ABSENT)
			cannot("there is no course in '%s'; name the folder that holds them: "
			       "--courses DIR",
				folder);
		else
			cannot("the courses in '%s' cannot be read: %s", folder, bad_text(code));
		return code;
	}
	*out = made;
	return FINE;
}

enum bad courses_load(const struct options *o, struct arena *a, struct courses *out)
{
	return load_standard(o, false, a, out);
}

enum bad courses_heads(const struct options *o, struct arena *a, struct courses *out)
{
	return load_standard(o, true, a, out);
}

void courses_release(struct courses *c)
{
	for (size_t k = 0; k < c->n; k++)
		course_release(&c->course[k]);
	*c = (struct courses){0};
}

const struct course *courses_choose(const struct courses *c, const struct options *o)
{
	if (!o->course)
		return &c->course[0];
	for (size_t k = 0; k < c->n; k++)
		if (strcmp(c->course[k].code, o->course) == 0)
			return &c->course[k];
	cannot("there is no course '%s' in '%s'", o->course, c->folder);
	return NULL;
}

/* ---- rubrics --------------------------------------------------------------------------------- */

static bool is_rubric_file(const struct folder_entry *e)
{
	size_t len = strlen(e->name);
	return e->kind == FILE_PLAIN && len > 5 && !strcmp(e->name + len - 5, ".yaml");
}

static enum bad load_rubrics(const char *folder, struct arena *a, size_t most, struct rubrics *out)
{
	struct folder_entry *entry;
	size_t n;
	enum bad code = FINE;
	struct diags d = {.arena = a};
	if (folder_list(folder, a, &entry, &n))
		return FINE;
	out->at = arena_many(a, n + 1, struct rubric);
	if (!out->at)
		return BAD_MEMORY;
	for (size_t k = 0; !code && k < n && out->n < most; k++) {
		if (!is_rubric_file(&entry[k]))
			continue;
		code = rubric_load(joined(a, folder, entry[k].name), &out->at[out->n], &d);
		out->n += !code;
	}
	return code;
}

static enum bad rubrics_beside(
	const char *folder, struct arena *a, size_t most, struct rubrics *out)
{
	const char *beside[] = {"../rubrics", "../../rubrics"};
	*out = (struct rubrics){0};
	for (size_t k = 0; k < 2; k++) {
		const char *path = joined(a, folder, beside[k]);
		if (file_kind(path) == FILE_FOLDER)
			return load_rubrics(path, a, most, out);
	}
	return FINE;
}

enum bad rubrics_gather(const char *folder, struct arena *a, struct rubrics *out)
{
	return rubrics_beside(folder, a, SIZE_MAX, out);
}

void rubrics_release(struct rubrics *r)
{
	while (r->n)
		rubric_release(&r->at[--r->n]);
}

enum bad rubrics_load(const char *folder, struct arena *a, struct rubric *out)
{
	struct rubrics first;
	enum bad code = rubrics_beside(folder, a, 1, &first);
	if (!code && first.n)
		*out = first.at[0];
	return code;
}
