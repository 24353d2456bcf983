/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/notes.h"

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/lines.h>

const char notes_who[] = "erasures";

enum bad notes_open(const char *data, const struct sign_pair *machine, struct arena *a,
	struct strand **out, const char **path)
{
	static const struct line_open first = {.mode = "erasures", .program = "barwright"};
	char id[STRAND_ID + 1];
	struct strand *s;
	strand_id(notes_who, machine->open, id);
	const char *folder = folder_join(a, data, notes_who);
	const char *file = folder ? arena_format(a, "%s/%s.jsonl", folder, id) : NULL;
	*path = file ? file : data;
	enum bad code = file ? folder_make(folder) : BAD_MEMORY;
	if (!code)
		code = strand_open_at(file, notes_who, machine, &s, NULL);
	if (code)
		return code;
	if (strand_count(s) == 0)
		code = line_open_append(s, &first);
	if (code)
		strand_close(s);
	else
		*out = s;
	return code;
}

static bool is_list(const struct folder_entry *e)
{
	return e->kind == FILE_PLAIN && strand_is_file_name(e->name);
}

enum bad notes_read(const char *data, const struct key_ring *known, struct arena *a,
	enum bad (*take)(void *context, const struct strand_line *line), void *context)
{
	struct folder_entry *list = NULL;
	size_t n = 0;
	const char *folder = folder_join(a, data, notes_who);
	enum bad code = folder ? folder_list(folder, a, &list, &n) : BAD_MEMORY;
	if (code == BAD_ABSENT)
		return FINE;
	for (size_t i = 0; !code && i < n; i++) {
		struct source *source;
		struct strand_sum sum;
		struct strand_check check = {.known = known};
		const char *path = folder_join(a, folder, list[i].name);
		if (!is_list(&list[i]))
			continue;
		code = path ? strand_load(path, a, &source) : BAD_MEMORY;
		if (!code && strand_read(source, &check, take, context, &sum, NULL) == BAD_MEMORY)
			code = BAD_MEMORY;
	}
	return code;
}
