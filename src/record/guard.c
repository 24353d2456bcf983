/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/guard.h"

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
