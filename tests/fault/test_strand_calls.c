/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every call to the system fails in turn, once and for good: a line that was acknowledged is there, one
 * that was not is there whole or not at all, and the next run goes on. */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"
#include "strand_promises.h"

/* A strand of three lines, the last of them cut so that a torn piece is left; or none yet. */
static struct source old;
static void start_over(bool from_torn, struct promises *p)
{
	memset(p, 0, sizeof *p);
	work_empty(work_folder);
	if (!from_torn)
		return;
	code_is(folder_make(work_path("strands")), FINE);
	code_is(file_replace(strand_file, old.text, old.len - TORN, true), FINE);
}

static bool try_one(
	unsigned calls, unsigned long n, bool ever, int error, size_t keep, bool from_torn)
{
	struct promises p;
	char what[160];
	start_over(from_torn, &p);
	fault_plan(calls, n, ever, error);
	plan.keep = keep;
	enum bad code = run(&p);
	bool reached = plan.reached;
	fault_end();
	snprintf(what, sizeof what, "calls %x, number %lu%s, %s, keep %zu, %s", calls, n,
		ever ? " and after" : "", strerror(error), keep, from_torn ? "torn" : "new");
	if (!reached && code)
		fail_msg("%s: nothing failed, and the run ended with %s", what, bad_word(code));
	promises_hold(what, &p);
	next_run_goes_on(what, &p);
	return reached;
}

static void try_all(unsigned calls, int error, size_t keep)
{
	for (int from_torn = 0; from_torn < 2; from_torn++)
		for (int ever = 0; ever < 2; ever++)
			for (unsigned long n = 1; try_one(calls, n, ever, error, keep, from_torn);
				n++)
				assert_true(n < 200);
}

static void prepare(void)
{
	if (old.text)
		unload(&old);
	old = load(strand_make(&machine, "l-1", 3));
}

static void each_call_fails_in_turn(void **state)
{
	(void)state;
	prepare();
	for (int c = 0; c < CALL_COUNT; c++) {
		try_all(1u << c, EIO, 0);
		if (c == CALL_OPEN || c == CALL_WRITE || c == CALL_FSYNC || c == CALL_MKDIR ||
			c == CALL_RENAME)
			try_all(1u << c, ENOSPC, 0);
	}
}

static void any_call_fails_in_turn(void **state)
{
	(void)state;
	prepare();
	try_all(ALL_CALLS, EIO, 0);
}

static void writes_stop_short(void **state)
{
	static const size_t keep[] = {1, 157, 300};
	(void)state;
	prepare();
	for (size_t i = 0; i < sizeof keep / sizeof *keep; i++) {
		try_all(1u << CALL_WRITE, ENOSPC, keep[i]);
		/* and what was written cannot be cut off again */
		try_all(1u << CALL_WRITE | 1u << CALL_FTRUNCATE, ENOSPC, keep[i]);
	}
}

/* Interrupted calls are made again: nothing fails at all. */
static void interruptions_change_nothing(void **state)
{
	static const enum call calls[] = {CALL_OPEN, CALL_READ, CALL_PREAD, CALL_WRITE, CALL_FSYNC,
		CALL_FTRUNCATE, CALL_FLOCK};
	(void)state;
	prepare();
	for (int from_torn = 0; from_torn < 2; from_torn++)
		for (size_t i = 0; i < sizeof calls / sizeof *calls; i++)
			for (unsigned long n = 1;; n++) {
				struct promises p;
				start_over(from_torn, &p);
				fault_plan(1u << calls[i], n, false, EINTR);
				enum bad code = run(&p);
				bool reached = plan.reached;
				fault_end();
				if (code)
					fail_msg("%s number %lu interrupted: %s",
						call_name[calls[i]], n, bad_word(code));
				if (!reached)
					break;
			}
	unload(&old);
	old.text = NULL;
}

/* ---- what is said ---------------------------------------------------------------------------- */

static void a_full_disk_is_told_and_over_when_there_is_room(void **state)
{
	struct strand *s;
	(void)state;
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	code_is(add_some(s, 2), FINE);
	fault_plan(1u << CALL_WRITE, 1, true, ENOSPC);
	plan.keep = 100;
	code_is(add_some(s, 1), BAD_FULL);
	code_is(add_some(s, 1), BAD_FULL);
	fault_end();
	assert_non_null(strstr(strand_why(s), "no room left on the disk"));
	assert_true(strand_is_writable(s));
	code_is(add_some(s, 1), FINE);
	assert_int_equal(strand_count(s), 3);
	strand_close(s);
}

/* What a sitting reserved is given back when a line finds no room, once. */
static void reserved_room_is_given_back_when_the_disk_is_full(void **state)
{
	struct strand *s;
	char room[300];
	(void)state;
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	code_is(add_some(s, 2), FINE);
	snprintf(room, sizeof room, "%s.room", strand_own_path(s));
	fault_plan(1u << CALL_RESERVE, 1, true, ENOSPC);
	code_is(strand_reserve(s), BAD_FULL);
	fault_end();
	assert_non_null(strstr(strand_why(s), "no room left on the disk"));
	assert_int_equal(file_kind(room), FILE_NONE);
	code_is(strand_reserve(s), FINE);
	struct stat st;
	assert_int_equal(stat(room, &st), 0);
	assert_int_equal(st.st_size, STRAND_ROOM);
	assert_true(st.st_blocks * 512 >= STRAND_ROOM);
	fault_plan(1u << CALL_WRITE, 1, false, ENOSPC);
	code_is(add_some(s, 1), FINE);
	fault_end();
	assert_int_equal(file_kind(room), FILE_NONE);
	fault_plan(1u << CALL_WRITE, 1, false, ENOSPC);
	code_is(add_some(s, 1), BAD_FULL);
	fault_end();
	assert_int_equal(strand_count(s), 3);
	/* a file system that cannot reserve */
	fault_plan(1u << CALL_RESERVE, 1, true, EOPNOTSUPP);
	code_is(strand_reserve(s), FINE);
	fault_end();
	assert_int_equal(file_kind(room), FILE_NONE);
	code_is(strand_reserve(s), FINE);
	strand_close(s);
	assert_int_equal(file_kind(room), FILE_NONE);
}

static void after_a_failed_sync_the_strand_is_closed_to_more(void **state)
{
	struct strand *s;
	(void)state;
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	code_is(add_some(s, 2), FINE);
	fault_plan(1u << CALL_FSYNC, 1, false, EIO);
	code_is(add_some(s, 1), BAD_IO);
	fault_end();
	assert_false(strand_is_writable(s));
	code_is(add_some(s, 1), BAD_IO);
	assert_non_null(strstr(strand_why(s), "did not confirm"));
	assert_int_equal(strand_count(s), 2);
	strand_close(s);
	/* the next run reads from the disk what has become of it */
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	code_is(add_some(s, 1), FINE);
	strand_close(s);
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, work_end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(each_call_fails_in_turn),
		T(any_call_fails_in_turn),
		T(writes_stop_short),
		T(interruptions_change_nothing),
		T(a_full_disk_is_told_and_over_when_there_is_room),
		T(reserved_room_is_given_back_when_the_disk_is_full),
		T(after_a_failed_sync_the_strand_is_closed_to_more),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
