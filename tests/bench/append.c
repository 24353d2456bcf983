/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One acknowledged answer in a strand, against write and fsync of as many bytes. */
#include "bench.h"

#include <fcntl.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/cipher.h>
#include <barwright/record/lines.h>

struct both {
	struct strand *strand;
	int fd;
	char bytes[700];
};

static double ours(void *context)
{
	struct both *b = context;
	struct line_answer line = {.item = "distal-spread",
		.attempt = 1,
		.ask = 1,
		.turn = 1,
		.took_ms = 41000,
		.typed = "13.44",
		.read_as = "13.4400 mm",
		.outcome = "right",
		.slip = "",
		.expected = "13.440660",
		.tolerance = "0.023000",
		.unit = "mm"};
	double start = bench_now_us();
	if (line_answer_append(b->strand, &line))
		exit(1);
	return bench_now_us() - start;
}

static double base(void *context)
{
	struct both *b = context;
	double start = bench_now_us();
	if (write(b->fd, b->bytes, sizeof b->bytes) != (ssize_t)sizeof b->bytes || fsync(b->fd))
		exit(1);
	return bench_now_us() - start;
}

int main(void)
{
	/* On the disk of the tree, not in memory. */
	char folder[] = ".build/bench-XXXXXX", path[64], away[64];
	struct both b;
	struct sign_pair machine;
	struct line_open open_line = {
		.mode = "drill", .program = "bench", .course = "c", .sitting = "s"};
	memset(&b, 'x', sizeof b);
	if (cipher_start() || !mkdtemp(folder) || key_machine(folder, &machine, NULL) ||
		strand_open(folder, "learner", &machine, &b.strand, NULL) ||
		line_open_append(b.strand, &open_line))
		return 1;
	snprintf(path, sizeof path, "%s/base", folder);
	b.fd = open(path, O_CREAT | O_WRONLY | O_APPEND, 0600);
	if (b.fd < 0)
		return 1;
	bench_ratio("append an answer / write and fsync of as many bytes", "aim 1.25", 501, ours,
		base, &b);
	strand_close(b.strand);
	close(b.fd);
	snprintf(away, sizeof away, "rm -rf %s", folder);
	return system(away) ? 1 : 0;
}
