/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Programs that are killed, that come in pairs, and that meet the limits of the system for real. */
#include "near.h"

#include <poll.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>

#include "file_fault.h"
#include "strand_fixture.h"
#include "strand_promises.h"

/* xorshift64* (Vigna 2016): for the times of the kills only. */
static uint64_t seed;
static unsigned below(unsigned n)
{
	seed ^= seed >> 12, seed ^= seed << 25, seed ^= seed >> 27;
	return (unsigned)((seed * 2685821657736338717u) >> 33) % n;
}

static void seed_set(uint64_t value)
{
	const char *given = getenv("SEED");
	seed = given ? strtoull(given, NULL, 0) : value;
	print_message("seed %llu (SEED= sets it)\n", (unsigned long long)seed);
}

/* ---- kill -9 --------------------------------------------------------------------------------- */

struct report {
	uint64_t n;
	struct hash hash;
};

/* Adds lines for ever and reports each one when it is acknowledged. */
static void write_for_ever(int pipe_end)
{
	struct strand *s;
	if (strand_open(work_folder, "l-1", &machine, &s, NULL))
		_exit(1);
	for (;;) {
		if (add_some(s, 1))
			_exit(2);
		struct report r = {strand_count(s) - 1, strand_head(s)};
		if (write(pipe_end, &r, sizeof r) != sizeof r)
			_exit(3);
	}
}

enum { MOST = 20000 };
static struct hash promised[MOST];
static bool is_promised[MOST];

static void hear(int pipe_end, unsigned *heard)
{
	struct report r;
	while (read(pipe_end, &r, sizeof r) == sizeof r) {
		assert_true(r.n < MOST);
		promised[r.n] = r.hash;
		is_promised[r.n] = true;
		++*heard;
	}
}

static enum bad check_promise(void *context, const struct strand_line *line)
{
	unsigned *met = context;
	if (line->n < MOST && is_promised[line->n] &&
		hash_is_equal(&promised[line->n], &line->hash))
		++*met;
	return FINE;
}

static void killed_programs_lose_nothing_acknowledged(void **state)
{
	enum { KILLS = 40 };
	unsigned heard = 0;
	(void)state;
	seed_set(20261125);
	memset(is_promised, 0, sizeof is_promised);
	for (int i = 0; i < KILLS; i++) {
		int ends[2], status = 0;
		assert_int_equal(pipe(ends), 0);
		pid_t child = fork();
		if (child == 0)
			write_for_ever(ends[1]);
		close(ends[1]);
		/* not before it has done something: a run takes 0 to 8 ms more */
		struct pollfd first = {ends[0], POLLIN, 0};
		assert_int_equal(poll(&first, 1, 10000), 1);
		nanosleep(&(struct timespec){0, (long)below(8000) * 1000}, NULL);
		kill(child, SIGKILL);
		assert_int_equal(waitpid(child, &status, 0), child);
		assert_true(WIFSIGNALED(status));
		hear(ends[0], &heard);
		close(ends[0]);
	}
	struct source bytes = load(strand_file);
	struct strand_sum sum;
	unsigned met = 0;
	enum bad code = strand_read(&bytes, &by_hashes, check_promise, &met, &sum, NULL);
	assert_true(code == FINE || code == BAD_TORN);
	assert_true(heard >= KILLS);
	assert_int_equal(met, heard);
	/* each kill leaves at most one line that nobody heard of, and one that tells of a torn one */
	assert_in_range(sum.lines, heard, heard + 2 * KILLS);
	unload(&bytes);
}

/* ---- two programs ---------------------------------------------------------------------------- */

/* Opens, adds a line or two, closes, many times; exits with 0 when each line was kept or refused. */
static void work_beside_another(int pipe_end)
{
	unsigned char kept = 0;
	for (int i = 0; i < 60; i++) {
		struct strand *s;
		enum bad code = strand_open(work_folder, "l-1", &machine, &s, NULL);
		if (code == BAD_BUSY) {
			nanosleep(&(struct timespec){0, 200 * 1000}, NULL);
			continue;
		}
		if (code)
			_exit(1);
		if (add_some(s, 2))
			_exit(2);
		kept += 2;
		strand_close(s);
	}
	_exit(write(pipe_end, &kept, 1) != 1);
}

static void two_programs_keep_one_chain(void **state)
{
	int ends[2], status = 0;
	unsigned total = 0;
	(void)state;
	assert_int_equal(pipe(ends), 0);
	for (int i = 0; i < 2; i++)
		if (fork() == 0)
			work_beside_another(ends[1]);
	for (int i = 0; i < 2; i++) {
		unsigned char kept = 0;
		wait(&status);
		assert_int_equal(status, 0);
		assert_int_equal(read(ends[0], &kept, 1), 1);
		total += kept;
	}
	close(ends[0]);
	close(ends[1]);
	struct source bytes = load(strand_file);
	struct strand_sum sum;
	code_is(strand_read(&bytes, NULL, NULL, NULL, &sum, NULL), FINE);
	assert_true(total > 0);
	assert_int_equal(sum.lines, total);
	unload(&bytes);
}

/* ---- limits ---------------------------------------------------------------------------------- */

/* With a limit on the size of files (SIGXFSZ ignored) the system writes short for real. Every limit
 * within a line: the line is refused as on a full disk, nothing of it stays, and it goes on when the limit
 * is gone. */
static void limited(size_t line_len)
{
	struct strand *s;
	struct rlimit old, limit;
	signal(SIGXFSZ, SIG_IGN);
	getrlimit(RLIMIT_FSIZE, &old);
	if (strand_open(work_folder, "l-1", &machine, &s, NULL) || add_some(s, 2))
		_exit(1);
	struct stat st;
	if (stat(strand_file, &st))
		_exit(2);
	for (size_t more = 0; more < line_len; more += 7) {
		limit = old;
		limit.rlim_cur = (rlim_t)st.st_size + more;
		setrlimit(RLIMIT_FSIZE, &limit);
		if (add_some(s, 1) != BAD_FULL || !strand_is_writable(s))
			_exit(3);
		struct stat now;
		if (stat(strand_file, &now) || now.st_size != st.st_size)
			_exit(4);
	}
	setrlimit(RLIMIT_FSIZE, &old);
	_exit(add_some(s, 1) || strand_count(s) != 3);
}

static void a_limit_on_file_size_is_a_full_disk(void **state)
{
	int status = -1;
	(void)state;
	pid_t child = fork();
	if (child == 0)
		limited(600);
	waitpid(child, &status, 0);
	assert_int_equal(status, 0);
	struct source bytes = load(strand_file);
	struct strand_sum sum;
	code_is(strand_read(&bytes, NULL, NULL, NULL, &sum, NULL), FINE);
	assert_int_equal(sum.lines, 3);
	unload(&bytes);
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, work_end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(killed_programs_lose_nothing_acknowledged),
		T(two_programs_keep_one_chain),
		T(a_limit_on_file_size_is_a_full_disk),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
