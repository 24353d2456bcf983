/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/procedures.h"

#include <string.h>

#include <barwright/base/file.h>

#include "cmd/courses.h"

static bool ends_in_yaml(const char *name)
{
	size_t len = strlen(name);
	return len > 5 && strcmp(name + len - 5, ".yaml") == 0;
}

/* One file; left out when there are faults in it. */
static enum bad load_one(const char *path, struct arena *a, struct procedures *out, bool *faulty)
{
	struct diags d = {.arena = a};
	struct procedure *p = &out->procedure[out->n];
	enum bad code = procedure_load(path, p, &d);
	*faulty = !code && d.nerror;
	if (code)
		return code;
	if (d.nerror)
		procedure_release(p);
	else
		out->n++;
	return FINE;
}

/* All in the folder "procedures" of a folder; none when there is no such. */
static enum bad gather_in(const char *path, struct arena *a, struct procedures *out)
{
	struct folder_entry *entry;
	size_t n;
	bool faulty;
	char *folder = folder_join(a, path, "procedures");
	if (!folder)
		return BAD_MEMORY;
	enum bad code = folder_list(folder, a, &entry, &n);
	if (code)
		return code == BAD_MEMORY ? code : FINE;
	for (size_t i = 0; i < n && out->n < PROCEDURES_MOST; i++) {
		char *file = folder_join(a, folder, entry[i].name);
		if (!file)
			return BAD_MEMORY;
		if (*entry[i].name == '.' || !ends_in_yaml(file))
			continue;
		if (load_one(file, a, out, &faulty) == BAD_MEMORY)
			return BAD_MEMORY;
		if (faulty && out->nleft_out < PROCEDURES_MOST)
			out->left_out[out->nleft_out++] = file;
	}
	return FINE;
}

enum bad procedures_gather(const char *courses, struct arena *a, struct procedures *out)
{
	struct folder_entry *entry;
	size_t n;
	enum bad code = gather_in(courses, a, out);
	if (code || folder_list(courses, a, &entry, &n))
		return code;
	for (size_t i = 0; !code && i < n; i++) {
		char *course = folder_join(a, courses, entry[i].name);
		if (!course)
			return BAD_MEMORY;
		if (entry[i].kind == FILE_FOLDER && *entry[i].name != '.')
			code = gather_in(course, a, out);
	}
	return code;
}

void procedures_tell_left_out(const struct procedures *p)
{
	for (size_t k = 0; k < p->nleft_out; k++)
		cannot("%s has faults and is left out; see: barwright check %s", p->left_out[k],
			p->left_out[k]);
}

static int load_file(const char *path, struct arena *a, struct procedures *out)
{
	bool faulty = false;
	enum bad code = load_one(path, a, out, &faulty);
	if (!code && !faulty) {
		out->is_file = true;
		return EXIT_DONE;
	}
	if (faulty)
		return cannot("%s has faults; see: barwright check %s", path, path);
	return cannot_file(code, path);
}

int procedures_load(const struct options *o, const char *name, struct procedures *out)
{
	struct arena a = {0};
	struct courses courses;
	int status = EXIT_CANNOT;
	if (name && ends_in_yaml(name)) {
		status = load_file(name, &a, out);
	} else if (!courses_load(o, &a, &courses)) {
		enum bad code = procedures_gather(courses.folder, &a, out);
		procedures_tell_left_out(out);
		status = code ? cannot("%s", bad_text(code)) : EXIT_DONE;
		courses_release(&courses);
	}
	arena_release(&a);
	return status;
}

void procedures_release(struct procedures *p)
{
	for (size_t i = 0; i < p->n; i++)
		procedure_release(&p->procedure[i]);
	*p = (struct procedures){0};
}
