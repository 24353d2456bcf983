/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/guard.h"

#include <string.h>
#include <time.h>

/* What replacements that were interrupted left of the lists here: nobody else is at them now. */
static enum bad sweep_lists(const char *folder, struct arena *a)
{
	static const char *const list[] = {
		"learners.txt.new-", "assessors.txt.new-", "machine.key.new-"};
	struct folder_entry *entry = NULL;
	size_t n = 0;
	enum bad code = folder_list(folder, a, &entry, &n);
	for (size_t i = 0; !code && i < n; i++) {
		bool is_left = false;
		for (size_t k = 0; k < sizeof list / sizeof *list; k++)
			is_left = is_left || strncmp(entry[i].name, list[k], strlen(list[k])) == 0;
		const char *path = is_left ? folder_join(a, folder, entry[i].name) : "";
		if (!path)
			return BAD_MEMORY;
		code = is_left ? file_remove(path) : FINE;
	}
	return code;
}

enum bad guard_take(const char *folder, struct file *out)
{
	enum { TRIES = 100 };
	const struct timespec pause = {0, 20 * 1000 * 1000};
	struct arena a = {0};
	struct file lock = {.fd = -1};
	const char *path = folder_join(&a, folder, "lock");
	enum bad code = path ? file_open(path, &lock) : BAD_MEMORY;
	for (int i = 0; i < TRIES && code == BAD_BUSY; i++) {
		nanosleep(&pause, NULL);
		code = file_open(path, &lock);
	}
	if (!code)
		code = sweep_lists(folder, &a);
	if (code)
		file_close(&lock);
	else
		*out = lock;
	arena_release(&a);
	return code;
}

/* A name that file_replace gives to what is not there yet. */
static enum bad sweep(const char *data, const char *part, struct arena *a)
{
	struct folder_entry *list = NULL;
	size_t n = 0;
	const char *folder = folder_join(a, data, part);
	enum bad code = folder ? folder_list(folder, a, &list, &n) : BAD_MEMORY;
	for (size_t i = 0; !code && i < n; i++) {
		if (list[i].kind != FILE_PLAIN || !strstr(list[i].name, ".jsonl.new-"))
			continue;
		const char *path = folder_join(a, folder, list[i].name);
		code = path ? file_remove(path) : BAD_MEMORY;
	}
	return code == BAD_ABSENT ? FINE : code;
}

enum bad guard_strands(const char *folder, struct file *out)
{
	static const char *const part[] = {"strands", "forks", "erasures"};
	struct arena a = {0};
	struct file lock = {.fd = -1};
	const char *path = folder_join(&a, folder, "strands.lock");
	enum bad code = path ? file_open(path, &lock) : BAD_MEMORY;
	for (size_t i = 0; !code && i < sizeof part / sizeof *part; i++)
		code = sweep(folder, part[i], &a);
	if (code)
		file_close(&lock);
	else
		*out = lock;
	arena_release(&a);
	return code;
}
