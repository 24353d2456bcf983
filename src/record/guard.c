/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/guard.h"

#include <string.h>
#include <time.h>

enum bad guard_take(const char *folder, struct file *out)
{
	enum { TRIES = 100 };
	const struct timespec pause = {0, 20 * 1000 * 1000};
	struct arena a = {0};
	const char *path = folder_join(&a, folder, "lock");
	enum bad code = path ? file_open(path, out) : BAD_MEMORY;
	for (int i = 0; i < TRIES && code == BAD_BUSY; i++) {
		nanosleep(&pause, NULL);
		code = file_open(path, out);
	}
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
