/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/assessments.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>

#include "surface/limit.h"

static bool is_yaml(const struct folder_entry *e)
{
	size_t n = strlen(e->name);
	return e->kind == FILE_PLAIN && *e->name != '.' && n > 5 &&
	       strcmp(e->name + n - 5, ".yaml") == 0;
}

static enum bad take(const char *path, struct arena *a, struct assessments *out)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	struct assessment *one = arena_new(a, struct assessment);
	struct assessment **more = arena_many(a, out->n + 1, struct assessment *);
	if (!path || !one || !more)
		return BAD_MEMORY;
	if (out->n)
		memcpy(more, out->at, out->n * sizeof *more);
	enum bad code = assessment_load(path, one, &d);
	arena_release(&mem);
	if (code)
		return code == BAD_MEMORY ? code : FINE;
	more[out->n++] = one; /* with a fault it has no sections, and fits nothing */
	out->at = more;
	return FINE;
}

static enum bad in_course(const char *course, struct arena *a, struct assessments *out)
{
	struct folder_entry *entry;
	size_t n;
	const char *folder = folder_join(a, course, "assessments");
	if (!folder)
		return BAD_MEMORY;
	enum bad code = folder_list(folder, a, &entry, &n);
	if (code)
		return code == BAD_MEMORY ? code : FINE;
	for (size_t k = 0; !code && k < n; k++)
		if (is_yaml(&entry[k]))
			code = take(folder_join(a, folder, entry[k].name), a, out);
	return code;
}

enum bad assessments_gather(const char *folder, struct arena *a, struct assessments *out)
{
	struct folder_entry *entry;
	size_t n;
	*out = (struct assessments){0};
	enum bad code = in_course(folder, a, out);
	if (code || folder_list(folder, a, &entry, &n))
		return code;
	for (size_t k = 0; !code && k < n; k++) {
		const char *one = folder_join(a, folder, entry[k].name);
		if (!one)
			return BAD_MEMORY;
		if (entry[k].kind == FILE_FOLDER)
			code = in_course(one, a, out);
	}
	return code;
}

/* ---- telling which there are ------------------------------------------------------------------ */

/* Locked files of one course's folder: their names are all that can be told. */
static void locked_add(const char *course, struct arena *a, struct text *out)
{
	static const char end[] = ".locked";
	const char *folder = folder_join(a, course, "assessments");
	struct folder_entry *entry;
	size_t n;
	if (!folder || folder_list(folder, a, &entry, &n))
		return;
	for (size_t k = 0; k < n; k++) {
		size_t len = strlen(entry[k].name), bare = len - (sizeof end - 1);
		if (entry[k].kind != FILE_PLAIN || len < sizeof end ||
			strcmp(entry[k].name + bare, end) != 0)
			continue;
		text_add(out, "  ");
		text_add_safe(out, entry[k].name, bare, false);
		text_add(out, ": locked; the assessor has the passphrase\n");
	}
}

static void all_locked_add(const char *folder, struct arena *a, struct text *out)
{
	struct folder_entry *entry;
	size_t n;
	locked_add(folder, a, out);
	if (folder_list(folder, a, &entry, &n))
		return;
	for (size_t k = 0; k < n; k++)
		if (entry[k].kind == FILE_FOLDER)
			locked_add(folder_join(a, folder, entry[k].name), a, out);
}

static void open_add(const struct assessment *x, struct text *out)
{
	char span[LIMIT_WORDS];
	span_write((uint64_t)(1000 * x->time_s), span);
	text_add(out, "  ");
	text_add_safe(out, x->code, strlen(x->code), false);
	text_add(out, ": ");
	text_add_safe(out, x->title, strlen(x->title), false);
	text_addf(out, ", %s\n", span);
}

void assessments_list(const char *folder)
{
	struct arena a = {0};
	struct assessments all;
	struct text out;
	text_init(&out);
	enum bad code = assessments_gather(folder, &a, &all);
	for (size_t k = 0; !code && k < all.n; k++)
		if (all.at[k]->nsection)
			open_add(all.at[k], &out);
	all_locked_add(folder, &a, &out);
	if (out.len)
		fprintf(stderr,
			"The assessments here:\n%s"
			"To sit one: barwright sit --learner NAME, and the word before the colon\n",
			out.at);
	else
		fprintf(stderr, "The courses here have no assessment.\n");
	text_release(&out);
	assessments_release(&all);
	arena_release(&a);
}

void assessments_release(struct assessments *x)
{
	for (size_t k = 0; k < x->n; k++)
		assessment_release(x->at[k]);
	*x = (struct assessments){0};
}
