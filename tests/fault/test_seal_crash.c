/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sealing, gathering and erasing while calls fail, programs are killed, and disks are full. What was
 * acknowledged is there, what is torn does not count, and doing it again finishes it. */
#include "near.h"

#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>

#include "file_fault.h"
#include "strand_fixture.h"
#include "seal_fixture.h"

#include <barwright/record/erase.h>
#include <barwright/record/gather.h>

static struct arena mem;
static struct key_known trusted_key;
static const struct key_ring trusted = {&trusted_key, 1};

static int begin(void **state)
{
	people_make();
	clock_stop();
	trusted_key.name = "this machine";
	memcpy(trusted_key.open, machine.open, SIGN_PUBLIC);
	return work_begin(state);
}

static int end(void **state)
{
	arena_release(&mem);
	clock_replace(NULL);
	return work_end(state);
}

static const char *in(const char *name)
{
	return arena_format(&mem, "%s/%s", work_folder, name);
}

/* ---- a seal and its witness ------------------------------------------------------------------ */

/* As the command does it. *sealed: the strand has it, acknowledged. */
static enum bad seal_and_witness(bool *sealed)
{
	struct strand *s;
	struct arena a = {0};
	struct line_seal seal;
	struct seal_how how = {.sitting = "watched", .pair = &assessor_pair, .assessor = &assessor};
	enum bad code = strand_open(work_folder, "l-1", &machine, &s, NULL);
	*sealed = false;
	if (code)
		return code;
	code = seal_strand(s, &how, &a, &seal, NULL);
	*sealed = !code;
	if (!code)
		code = witness_add(
			in("stick/witness.jsonl"), &assessor_pair, strand_own_id(s), &seal, NULL);
	strand_close(s);
	arena_release(&a);
	return code;
}

static const char *strand_file(void)
{
	char id[STRAND_ID + 1];
	strand_id("l-1", machine.open, id);
	return strand_path(work_folder, id, &mem);
}

/* One seal that holds, or none; a strand that is whole but for a torn end. */
static size_t seals_there(void)
{
	struct source s = load(strand_file());
	struct strand_sum sum;
	struct seals seals;
	enum bad code = strand_read(&s, NULL, NULL, NULL, &sum, NULL);
	if (code && code != BAD_TORN)
		fail_msg("the strand is left %s", bad_word(code));
	code_is(seals_find(&s, &assessors, &mem, &seals), FINE);
	assert_int_equal(seals.n, seals.nhold);
	unload(&s);
	return seals.nhold;
}

static size_t witnesses_there(void)
{
	struct witnesses list = {0};
	enum bad code = witness_read(in("stick/witness.jsonl"), &assessors, &mem, &list, NULL);
	if (code == BAD_ABSENT || code == BAD_TYPE)
		return 0;
	code_is(code, FINE);
	return list.n;
}

static void start_over(const struct source *before)
{
	code_is(file_replace(strand_file(), before->text, before->len, true), FINE);
	if (file_kind(in("stick")) == FILE_FOLDER)
		work_empty(in("stick"));
	code_is(folder_make(in("stick")), FINE);
}

static void finished_by_the_next(const char *what, unsigned long at)
{
	bool sealed;
	enum bad code = seal_and_witness(&sealed);
	if (code)
		fail_msg("%s %lu: sealing again: %s", what, at, bad_word(code));
	if (seals_there() != 1 || witnesses_there() != 1)
		fail_msg("%s %lu: %zu seals and %zu notes after sealing again", what, at,
			seals_there(), witnesses_there());
}

static struct source unsealed(void)
{
	struct strand *s = strand_begin("l-1");
	sit_through(s, "watched", "sit", 3);
	strand_close(s);
	return load(strand_file());
}

static void a_seal_that_fails_at_any_call_is_finished_by_the_next(void **state)
{
	static const int errors[] = {EIO, ENOSPC, EINTR};
	struct source before = unsealed();
	(void)state;
	for (int sticky = 0; sticky < 2; sticky++)
		for (size_t e = 0; e < 3; e++)
			for (unsigned long at = 1;; at++) {
				bool sealed;
				assert_true(at < 400);
				/* what is interrupted for ever is tried for ever */
				if (errors[e] == EINTR && sticky)
					break;
				start_over(&before);
				fault_plan(
					ALL_CALLS & ~(1u << CALL_READDIR), at, sticky, errors[e]);
				plan.keep = sticky ? 0 : 13;
				enum bad code = seal_and_witness(&sealed);
				bool reached = plan.reached;
				fault_end();
				if (sealed)
					assert_int_equal(seals_there(), 1);
				if (!code)
					assert_int_equal(witnesses_there(), 1);
				finished_by_the_next("call", at);
				if (!reached)
					break;
			}
	unload(&before);
}

static void a_seal_that_is_killed_is_finished_by_the_next(void **state)
{
	struct source before = unsealed();
	(void)state;
	for (unsigned i = 0; i < 60; i++) {
		int status;
		start_over(&before);
		pid_t child = fork();
		if (child == 0) {
			bool sealed;
			_exit(seal_and_witness(&sealed) != FINE);
		}
		nanosleep(&(struct timespec){0, (long)(i * 97) % 3000 * 1000}, NULL);
		kill(child, SIGKILL);
		assert_int_equal(waitpid(child, &status, 0), child);
		bool done = WIFEXITED(status) && WEXITSTATUS(status) == 0;
		if (done)
			assert_int_equal(witnesses_there(), 1);
		if (witnesses_there()) /* the seal came first */
			assert_int_equal(seals_there(), 1);
		finished_by_the_next("kill", i);
	}
	unload(&before);
}

static void two_assessors_at_one_strand_take_turns(void **state)
{
	struct source before = unsealed();
	struct strand *s;
	bool sealed;
	(void)state;
	start_over(&before);
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	code_is(seal_and_witness(&sealed), BAD_BUSY);
	strand_close(s);
	struct strand *list;
	code_is(strand_open_at(in("stick/witness.jsonl"), "witness", &assessor_pair, &list, NULL),
		FINE);
	code_is(seal_and_witness(&sealed), BAD_BUSY);
	assert_true(sealed);
	strand_close(list);
	finished_by_the_next("turn", 1);
	unload(&before);
}

/* A stick without room: what the system itself does, not our table. */
static void a_full_medium_is_told_and_leaves_the_seal(void **state)
{
	struct source before = unsealed();
	struct rlimit old, small;
	bool sealed;
	(void)state;
	signal(SIGXFSZ, SIG_IGN);
	start_over(&before);
	code_is(seal_and_witness(&sealed), FINE);
	start_over(&before);
	/* the strand has room for its seal; then the stick's list has none for a line */
	assert_int_equal(getrlimit(RLIMIT_FSIZE, &old), 0);
	struct strand *s;
	struct line_seal seal = {.sitting = "watched"};
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	small = (struct rlimit){900, old.rlim_max};
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &small), 0);
	enum bad code = witness_add(in("stick/witness.jsonl"), &assessor_pair, "s-1", &seal, NULL);
	assert_int_equal(setrlimit(RLIMIT_FSIZE, &old), 0);
	code_is(code, BAD_FULL);
	strand_close(s);
	assert_int_equal(witnesses_there(), 0);
	finished_by_the_next("full", 1);
	signal(SIGXFSZ, SIG_DFL);
	unload(&before);
}

/* ---- gathering, killed ----------------------------------------------------------------------- */

static enum bad gather_once(const char *into, const char *from)
{
	struct gather g;
	enum bad code = gather_begin(&g, into, &trusted, NULL);
	if (!code)
		code = gather_source(&g, from, NULL);
	if (!code && g.unread)
		code = BAD_IO;
	gather_end(&g);
	return code;
}

static uint64_t whole_lines(const char *folder)
{
	struct folder_entry *list;
	size_t n = 0;
	uint64_t lines = 0;
	if (folder_list(folder, &mem, &list, &n))
		return 0;
	for (size_t i = 0; i < n; i++) {
		struct strand_sum sum;
		if (strstr(list[i].name, ".new-"))
			continue;
		struct source s = load(folder_join(&mem, folder, list[i].name));
		code_is(strand_read(&s, NULL, NULL, NULL, &sum, NULL), FINE);
		lines += sum.lines;
		unload(&s);
	}
	return lines;
}

static void a_gathering_that_is_killed_leaves_whole_strands(void **state)
{
	enum { PEOPLE = 12, EACH = 6 };
	const char *from = in("stick");
	(void)state;
	for (unsigned i = 0; i < PEOPLE; i++) {
		char who[16];
		struct strand *s;
		snprintf(who, sizeof who, "l-%u", i);
		code_is(strand_open(from, who, &machine, &s, NULL), FINE);
		code_is(add_some(s, EACH), FINE);
		strand_close(s);
	}
	for (unsigned i = 0; i < 40; i++) {
		int status;
		char name[32];
		snprintf(name, sizeof name, "archive-%u", i);
		const char *into = in(name), *strands = folder_join(&mem, into, "strands");
		pid_t child = fork();
		if (child == 0)
			_exit(gather_once(into, from) != FINE);
		nanosleep(&(struct timespec){0, (long)(i * 131) % 5000 * 1000}, NULL);
		kill(child, SIGKILL);
		assert_int_equal(waitpid(child, &status, 0), child);
		assert_int_equal(whole_lines(strands) % EACH, 0);
		code_is(gather_once(into, from), FINE);
		assert_int_equal(whole_lines(strands), PEOPLE * EACH);
	}
}

/* ---- a key, killed --------------------------------------------------------------------------- */

static void a_key_is_whole_or_not_there(void **state)
{
	static const char phrase[] = "seven geese over the pond";
	static const struct phrase_cost cheap = {1, 8};
	struct assessor who;
	struct sign_pair *pair;
	const char *path = in("ruiz.key");
	(void)state;
	for (unsigned i = 0; i < 40; i++) {
		int status;
		unlink(path);
		pid_t child = fork();
		if (child == 0)
			_exit(assessor_make(path, "D. Ruiz", phrase, &cheap, &who, NULL) != FINE);
		nanosleep(&(struct timespec){0, (long)(i * 53) % 1500 * 1000}, NULL);
		kill(child, SIGKILL);
		assert_int_equal(waitpid(child, &status, 0), child);
		if (file_kind(path) == FILE_NONE)
			continue;
		code_is(assessor_unlock(path, phrase, &pair, &who, NULL), FINE);
		assessor_forget(pair);
	}
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_seal_that_fails_at_any_call_is_finished_by_the_next),
		T(a_seal_that_is_killed_is_finished_by_the_next),
		T(two_assessors_at_one_strand_take_turns),
		T(a_full_medium_is_told_and_leaves_the_seal),
		T(a_gathering_that_is_killed_leaves_whole_strands),
		T(a_key_is_whole_or_not_there),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
