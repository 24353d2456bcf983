/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The machine's key and the codes of learners: made once, kept, damaged ones noticed. */
#include "near.h"

#include <sys/wait.h>
#include <time.h>

#include "file_fault.h"
#include "strand_fixture.h"

#include <barwright/record/learner.h>

static struct text why;
static int begin(void **state)
{
	text_init(&why);
	return work_begin(state);
}
static int end(void **state)
{
	text_release(&why);
	return work_end(state);
}

/* ---- the machine's key ----------------------------------------------------------------------- */

static void a_key_is_made_once_and_kept(void **state)
{
	struct sign_pair first, again;
	struct stat st;
	unsigned char signature[SIGN_BYTES];
	(void)state;
	code_is(key_machine(work_path("data/deep"), &first, &why), FINE);
	code_is(key_machine(work_path("data/deep"), &again, &why), FINE);
	assert_memory_equal(&first, &again, sizeof first);
	assert_int_equal(stat(work_path("data/deep/machine.key"), &st), 0);
	assert_int_equal(st.st_mode & 0777, 0600);
	assert_int_equal(stat(work_path("data/deep"), &st), 0);
	assert_int_equal(st.st_mode & 0777, 0700);
	sign_make(&again, "x", 1, signature);
	assert_true(sign_holds(first.open, "x", 1, signature));
	code_is(key_machine(work_path("other"), &again, NULL), FINE);
	assert_memory_not_equal(&first, &again, sizeof first);
}

/* RFC 8032, 7.1, TEST 1: the file of a known seed gives its public key. */
static void a_key_file_has_the_form_it_says(void **state)
{
	static const char file[] =
		"barwright-machine-key 1\n"
		"seed 9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60\n"
		"open d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a\n";
	struct sign_pair pair, want = pair_of(test_1);
	(void)state;
	code_is(file_replace(work_path("machine.key"), file, sizeof file - 1, true), FINE);
	code_is(key_machine(work_folder, &pair, &why), FINE);
	assert_memory_equal(&pair, &want, sizeof pair);
	/* every byte of it counts */
	for (size_t i = 0; i < sizeof file - 1; i++) {
		char copy[sizeof file];
		memcpy(copy, file, sizeof file);
		copy[i] ^= 1;
		code_is(file_replace(work_path("machine.key"), copy, sizeof file - 1, true), FINE);
		enum bad code = key_machine(work_folder, &pair, NULL);
		if (code != BAD_SYNTAX)
			fail_msg("byte %zu changed: %s", i, bad_word(code));
		file_is(work_path("machine.key"), copy, sizeof file - 1);
	}
}

static void a_damaged_key_is_not_replaced(void **state)
{
	static const size_t lengths[] = {0, 1, 100, 163, 165, 5000};
	struct sign_pair pair;
	char junk[5000];
	(void)state;
	memset(junk, 'k', sizeof junk);
	for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++) {
		text_clear(&why);
		code_is(file_replace(work_path("machine.key"), junk, lengths[i], true), FINE);
		code_is(key_machine(work_folder, &pair, &why), BAD_SYNTAX);
		assert_non_null(strstr(why.at, "the key of this machine is damaged"));
		assert_non_null(strstr(why.at, "machine.key"));
		file_is(work_path("machine.key"), junk, lengths[i]);
	}
}

static void a_key_that_cannot_be_kept_is_not_used(void **state)
{
	static const struct {
		unsigned calls;
		int error;
		enum bad code;
	} rows[] = {
		{1u << CALL_WRITE, ENOSPC, BAD_FULL},
		{1u << CALL_FSYNC, EIO, BAD_IO},
		{1u << CALL_RENAME, EROFS, BAD_DENIED},
		{1u << CALL_OPEN, EACCES, BAD_DENIED},
	};
	struct sign_pair pair;
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		fault_plan(rows[i].calls, 1, true, rows[i].error);
		enum bad code = key_machine(work_folder, &pair, &why);
		fault_end();
		code_is(code, rows[i].code);
		assert_int_equal(file_kind(work_path("machine.key")), FILE_NONE);
	}
}

/* ---- several programs at once ---------------------------------------------------------------- */

enum { CHILDREN = 6, ANSWER = 32 };

static void give_key(unsigned char *answer)
{
	struct sign_pair pair;
	if (key_machine(work_path("data"), &pair, NULL))
		_exit(1);
	memcpy(answer, pair.open, SIGN_PUBLIC);
}

static void give_code(unsigned char *answer)
{
	if (learner_code(work_path("data"), "Ann", (char *)answer, NULL))
		_exit(1);
}

/* All of them find nothing and wait for the lock, which is held until they do. */
static void all_get_the_same(void (*give)(unsigned char *answer))
{
	int ends[2];
	unsigned char answer[CHILDREN][ANSWER];
	struct file lock;
	code_is(folder_make(work_path("data")), FINE);
	code_is(file_open(work_path("data/lock"), &lock), FINE);
	assert_int_equal(pipe(ends), 0);
	for (int i = 0; i < CHILDREN; i++)
		if (fork() == 0) {
			unsigned char own[ANSWER] = "";
			close(lock.fd);
			give(own);
			_exit(write(ends[1], own, ANSWER) != ANSWER);
		}
	nanosleep(&(struct timespec){0, 50 * 1000 * 1000}, NULL);
	file_close(&lock);
	for (int i = 0; i < CHILDREN; i++) {
		int status = -1;
		wait(&status);
		assert_int_equal(status, 0);
		assert_int_equal(read(ends[0], answer[i], ANSWER), ANSWER);
		assert_memory_equal(answer[i], answer[0], ANSWER);
	}
	close(ends[0]);
	close(ends[1]);
}

static void first_users_at_once_get_one_key(void **state)
{
	(void)state;
	all_get_the_same(give_key);
}

static void first_users_at_once_get_one_code(void **state)
{
	(void)state;
	all_get_the_same(give_code);
}

/* ---- learners -------------------------------------------------------------------------------- */

static void a_learner_keeps_the_code(void **state)
{
	char one[LEARNER_CODE + 1], two[LEARNER_CODE + 1], again[LEARNER_CODE + 1];
	struct arena a = {0};
	const char *name;
	(void)state;
	code_is(learner_code(work_folder, NULL, one, &why), FINE);
	code_is(learner_code(work_folder, "Zo\xc3\xab B.", two, &why), FINE);
	assert_string_not_equal(one, two);
	assert_int_equal(strlen(one), LEARNER_CODE);
	assert_true(chain_is_name(one));
	assert_null(strstr(two, "Zo"));
	code_is(learner_code(work_folder, "", again, &why), FINE);
	assert_string_equal(one, again);
	code_is(learner_code(work_folder, "learner", again, &why), FINE);
	assert_string_equal(one, again);
	code_is(learner_code(work_folder, "Zo\xc3\xab B.", again, &why), FINE);
	assert_string_equal(two, again);
	code_is(learner_name(work_folder, two, &a, &name), FINE);
	assert_string_equal(name, "Zo\xc3\xab B.");
	code_is(learner_name(work_folder, "l-00000000", &a, &name), BAD_UNKNOWN);
	arena_release(&a);
}

static void names_that_would_break_the_list_are_refused(void **state)
{
	char code[LEARNER_CODE + 1], longest[LEARNER_NAME_MOST + 2];
	(void)state;
	code_is(learner_code(work_folder, "a\tb", code, &why), BAD_ENCODING);
	code_is(learner_code(work_folder, "a\nb", code, &why), BAD_ENCODING);
	code_is(learner_code(work_folder, "\xff", code, &why), BAD_ENCODING);
	memset(longest, 'x', sizeof longest);
	longest[LEARNER_NAME_MOST + 1] = '\0';
	code_is(learner_code(work_folder, longest, code, &why), BAD_SIZE);
	longest[LEARNER_NAME_MOST] = '\0';
	code_is(learner_code(work_folder, longest, code, &why), FINE);
}

/* What stands in the list, as "CODE NAME PERSON" each. */
static void list_is(const char *want)
{
	struct arena a = {0};
	struct learner_row *row;
	struct text got;
	size_t n;
	text_init(&got);
	code_is(learner_list(work_folder, &a, &row, &n, &why), FINE);
	for (size_t i = 0; i < n; i++)
		text_addf(&got, "%s %s %s\n", row[i].code, row[i].name, row[i].person);
	assert_string_equal(got.at, want);
	text_release(&got);
	arena_release(&a);
}

static void put_list(const char *text)
{
	code_is(file_replace(work_path("learners.txt"), text, strlen(text), true), FINE);
}

static void codes_of_one_person_are_joined(void **state)
{
	static const char *const cd[] = {"l-0000000C", "l-0000000D"};
	static const char *const bc[] = {"l-0000000B", "l-0000000C"};
	static const char *const wrong[] = {"l-0000000B", "l-B"};
	char code[LEARNER_CODE + 1];
	(void)state;
	put_list("barwright-learners 1\nl-0000000A\tAda\nl-0000000B\tAda\nl-0000000C\tA. L.\n");
	list_is("l-0000000A Ada l-0000000A\nl-0000000B Ada l-0000000B\nl-0000000C A. L. "
		"l-0000000C\n");
	code_is(learner_join(work_folder, wrong, 2, &why), BAD_SYNTAX);
	code_is(learner_join(work_folder, cd, 2, &why), FINE);
	code_is(learner_join(work_folder, bc, 2, &why), FINE);
	/* two of one name stay apart; one without a name is there */
	list_is("l-0000000A Ada l-0000000A\nl-0000000B Ada l-0000000B\nl-0000000C A. L. "
		"l-0000000B\nl-0000000D  l-0000000B\n");
	/* the names are the ones they were, and no row of a join is one */
	code_is(learner_code(work_folder, "A. L.", code, &why), FINE);
	assert_string_equal(code, "l-0000000C");
	code_is(learner_code(work_folder, "same as l-0000000B", code, &why), BAD_ENCODING);
	code_is(learner_add(work_folder, "l-0000000E", "same as l-0000000B", &why), BAD_ENCODING);
	/* whoever stood for the others goes, and they stay together */
	code_is(learner_part(work_folder, "l-0000000B", &why), FINE);
	list_is("l-0000000A Ada l-0000000A\nl-0000000B Ada l-0000000B\nl-0000000C A. L. "
		"l-0000000C\nl-0000000D  l-0000000C\n");
	code_is(learner_part(work_folder, "l-0000000B", &why), BAD_UNKNOWN);
	code_is(learner_remove(work_folder, "l-0000000C", &why), FINE);
	list_is("l-0000000A Ada l-0000000A\nl-0000000B Ada l-0000000B\n");
}

/* To the reader of before, who knows no joins, each line is a code, a TAB and a name, and of two lines with
 * one code the first counts. */
static void a_list_with_joins_is_a_list_of_before(void **state)
{
	static const char *const ab[] = {"l-0000000B", "l-0000000A"};
	static const char want[] = "barwright-learners 1\nl-0000000A\tAda\nl-0000000B\tAda L.\n"
				   "l-0000000B\tsame as l-0000000A\n";
	(void)state;
	put_list("barwright-learners 1\nl-0000000A\tAda\nl-0000000B\tAda L.\n");
	code_is(learner_join(work_folder, ab, 2, &why), FINE);
	file_is(work_path("learners.txt"), want, sizeof want - 1);
	code_is(learner_join(work_folder, ab, 2, &why), FINE);
	file_is(work_path("learners.txt"), want, sizeof want - 1);
}

static void a_damaged_list_is_left_alone(void **state)
{
	static const char *const lists[] = {
		"",
		"something else\n",
		"barwright-learners 1\nl-0000000\tAnn\n",
		"barwright-learners 1\nl-0000000U\tAnn\n",
		"barwright-learners 1\nl-00000000 Ann\n",
		"barwright-learners 1\nl-00000000\t\n",
		"barwright-learners 1\n\n",
	};
	char code[LEARNER_CODE + 1];
	(void)state;
	for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
		const char *path = work_path("learners.txt");
		code_is(file_replace(path, lists[i], strlen(lists[i]), true), FINE);
		text_clear(&why);
		code_is(learner_code(work_folder, "Ben", code, &why), BAD_SYNTAX);
		assert_non_null(strstr(why.at, "list of learners is damaged"));
		file_is(work_path("learners.txt"), lists[i], strlen(lists[i]));
	}
	/* Larger than any list: it is the list that is at fault, not the name. */
	assert_int_equal(truncate(work_path("learners.txt"), 17 << 20), 0);
	text_clear(&why);
	code_is(learner_code(work_folder, "Ben", code, &why), BAD_SYNTAX);
	assert_non_null(strstr(why.at, "list of learners is damaged"));
	static const char damaged[] = "barwright-learners 1\nl-00000000\tAnn\nl-1\tBen\n";
	code_is(file_replace(work_path("learners.txt"), damaged, sizeof damaged - 1, true), FINE);
	text_clear(&why);
	code_is(learner_code(work_folder, "Ben", code, &why), BAD_SYNTAX);
	assert_non_null(strstr(why.at, "learners.txt, line 3: the list of learners is damaged"));
	static const char edited[] = "barwright-learners 1\nl-00000000\tAnn\nl-00000001\tBen\n";
	code_is(file_replace(work_path("learners.txt"), edited, sizeof edited - 1, true), FINE);
	code_is(learner_code(work_folder, "Ben", code, &why), FINE);
	assert_string_equal(code, "l-00000001");
}

/* As editors leave it. What is added stands in a line of its own. */
static void a_list_from_an_editor_is_continued(void **state)
{
	static const char *const lists[] = {"barwright-learners 1\nl-00000000\tAnn",
		"barwright-learners 1\r\nl-00000000\tAnn\r\n",
		"\xef\xbb\xbf"
		"barwright-learners 1\r\nl-00000000\tAnn"};
	char code[LEARNER_CODE + 1], want[100];
	(void)state;
	for (size_t i = 0; i < sizeof lists / sizeof *lists; i++) {
		const char *path = work_path("learners.txt");
		code_is(file_replace(path, lists[i], strlen(lists[i]), true), FINE);
		code_is(learner_code(work_folder, "Ann", code, &why), FINE);
		assert_string_equal(code, "l-00000000");
		code_is(learner_code(work_folder, "Ben", code, &why), FINE);
		snprintf(want, sizeof want, "barwright-learners 1\nl-00000000\tAnn\n%s\tBen\n",
			code);
		file_is(work_path("learners.txt"), want, strlen(want));
	}
}

static void pipes_are_not_waited_for(void **state)
{
	struct sign_pair pair;
	char code[LEARNER_CODE + 1];
	(void)state;
	assert_int_equal(mkfifo(work_path("machine.key"), 0600), 0);
	assert_int_equal(mkfifo(work_path("learners.txt"), 0600), 0);
	code_is(key_machine(work_folder, &pair, &why), BAD_TYPE);
	code_is(learner_code(work_folder, "Ben", code, &why), BAD_TYPE);
}

/* ---- memory ---------------------------------------------------------------------------------- */

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	(void)state;
	for (unsigned long n = 1;; n++) {
		struct sign_pair pair;
		char code[LEARNER_CODE + 1];
		assert_true(n < 100);
		work_empty(work_folder);
		mem_fail_at(n, 1);
		enum bad bad = key_machine(work_path("d"), &pair, &why);
		if (!bad)
			bad = learner_code(work_path("d"), "Ann", code, &why);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		if (!failed) {
			code_is(bad, FINE);
			break;
		}
		code_is(bad, BAD_MEMORY);
		text_clear(&why);
	}
}

static void joining_codes_without_memory_changes_nothing(void **state)
{
	static const char before[] = "barwright-learners 1\nl-0000000A\tAda\nl-0000000B\tAda\n"
				     "l-0000000B\tsame as l-0000000A\n";
	static const char *const pair[] = {"l-0000000B", "l-0000000C"};
	(void)state;
	for (unsigned long n = 1;; n++) {
		assert_true(n < 100);
		put_list(before);
		mem_fail_at(n, 1);
		enum bad bad = learner_join(work_folder, pair, 2, &why);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		if (!failed) {
			code_is(bad, FINE);
			break;
		}
		code_is(bad, BAD_MEMORY);
		file_is(work_path("learners.txt"), before, sizeof before - 1);
		text_clear(&why);
	}
	list_is("l-0000000A Ada l-0000000A\nl-0000000B Ada l-0000000A\nl-0000000C  l-0000000A\n");
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_key_is_made_once_and_kept),
		T(a_key_file_has_the_form_it_says),
		T(a_damaged_key_is_not_replaced),
		T(a_key_that_cannot_be_kept_is_not_used),
		T(first_users_at_once_get_one_key),
		T(first_users_at_once_get_one_code),
		T(a_learner_keeps_the_code),
		T(names_that_would_break_the_list_are_refused),
		T(codes_of_one_person_are_joined),
		T(a_list_with_joins_is_a_list_of_before),
		T(a_damaged_list_is_left_alone),
		T(a_list_from_an_editor_is_continued),
		T(pipes_are_not_waited_for),
		T(running_out_of_memory_is_an_ordinary_answer),
		T(joining_codes_without_memory_changes_nothing),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
