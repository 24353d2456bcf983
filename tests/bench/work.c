/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A demo case from start to exit, report and all, against an empty process with the same libraries. */
#include "bench.h"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

extern char **environ;
static const char *build;

static double time_of(char *const argv[])
{
	posix_spawn_file_actions_t to_null;
	pid_t child;
	int status;
	posix_spawn_file_actions_init(&to_null);
	posix_spawn_file_actions_addopen(&to_null, 1, "/dev/null", O_WRONLY, 0);
	double start = bench_now_us();
	if (posix_spawn(&child, argv[0], &to_null, NULL, argv, environ) ||
		waitpid(child, &status, 0) < 0 || status)
		exit(1);
	double took = bench_now_us() - start;
	posix_spawn_file_actions_destroy(&to_null);
	return took;
}

static double ours(void *context)
{
	static char path[4096], command[] = "work";
	(void)context;
	snprintf(path, sizeof path, "%s/barwright", build);
	return time_of((char *[]){path, command, (char[]){"courses/cases/lower-five.yaml"}, NULL});
}

static double base(void *context)
{
	static char path[4096];
	(void)context;
	snprintf(path, sizeof path, "%s/tests/bench/base_empty", build);
	return time_of((char *[]){path, NULL});
}

int main(int argc, char **argv)
{
	if (argc != 2)
		return 2;
	build = argv[1];
	bench_ratio("work on a demo case / an empty process", "aim 3", 201, ours, base, NULL);
	return 0;
}
