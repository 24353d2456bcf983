/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/assessments.h"

#include <string.h>

#include <barwright/base/file.h>

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

void assessments_release(struct assessments *x)
{
	for (size_t k = 0; k < x->n; k++)
		assessment_release(x->at[k]);
	*x = (struct assessments){0};
}
