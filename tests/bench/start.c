/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From fork to the first whole frame on an 80 x 24 terminal: the program on the demo course against
 * an ncursesw program that draws one frame. */
#include "bench.h"

#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

static const char *build;

/* Runs argv on a pty until `word` has been written; the time to that. */
static double time_to(const char *word, char *const argv[])
{
	static char seen[1 << 16];
	struct winsize size = {24, 80, 0, 0};
	int master;
	size_t len = 0;
	double start = bench_now_us(), end = 0;
	pid_t child = forkpty(&master, NULL, NULL, &size);
	if (child == 0) {
		setenv("TERM", "xterm-256color", 1);
		setenv("LC_ALL", "C.UTF-8", 1);
		execv(argv[0], argv);
		_exit(127);
	}
	while (len < sizeof seen - 1) {
		ssize_t n = read(master, seen + len, sizeof seen - 1 - len);
		if (n <= 0)
			break;
		len += (size_t)n;
		seen[len] = '\0';
		if (strstr(seen, word)) {
			end = bench_now_us();
			break;
		}
	}
	kill(child, SIGKILL);
	waitpid(child, NULL, 0);
	close(master);
	if (end == 0) {
		fprintf(stderr, "%s never showed '%s'\n", argv[0], word);
		exit(1);
	}
	return end - start;
}

static double ours(void *context)
{
	static char path[4096];
	(void)context;
	snprintf(path, sizeof path, "%s/barwright", build);
	char *argv[] = {path, "--courses", "courses", "--data", "/tmp/barwright-bench", NULL};
	return time_to("Leave", argv);
}

static double base(void *context)
{
	static char path[4096];
	(void)context;
	snprintf(path, sizeof path, "%s/tests/bench/base_frame", build);
	char *argv[] = {path, NULL};
	return time_to("Leave", argv);
}

int main(int argc, char **argv)
{
	if (argc != 2)
		return 2;
	build = argv[1];
	bench_ratio("start to first frame / one frame by ncursesw", "aim 3", 101, ours, base, NULL);
	return system("rm -rf /tmp/barwright-bench") ? 1 : 0;
}
