/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <signal.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/un.h>
#include <sys/wait.h>

#include "file_fault.h"
#include "out_of_memory.h"

static void put(const char *path, const char *bytes)
{
	code_is(file_replace(path, bytes, strlen(bytes), false), FINE);
}

/* ---- codes ----------------------------------------------------------------------------------- */

static void errors_of_the_system_become_codes(void **state)
{
	static const struct {
		int error;
		enum bad code;
	} rows[] = {
		{ENOENT, BAD_ABSENT},
		{ENOTDIR, BAD_ABSENT},
		{EACCES, BAD_DENIED},
		{EPERM, BAD_DENIED},
		{EROFS, BAD_DENIED},
		{ELOOP, BAD_DENIED},
		{ENOSPC, BAD_FULL},
		{EDQUOT, BAD_FULL},
		{EFBIG, BAD_FULL},
		{EWOULDBLOCK, BAD_BUSY},
		{EAGAIN, BAD_BUSY},
		{ENOMEM, BAD_MEMORY},
		{EISDIR, BAD_TYPE},
		{EEXIST, BAD_REPEATED},
		{ENXIO, BAD_TYPE},
		{EMFILE, BAD_CROWDED},
		{ENFILE, BAD_CROWDED},
		{EIO, BAD_IO},
		{0, BAD_IO},
		{12345, BAD_IO},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (file_code(rows[i].error) != rows[i].code)
			fail_msg("errno %d: want %s, got %s", rows[i].error, bad_word(rows[i].code),
				bad_word(file_code(rows[i].error)));
}

static void words_name_the_file_and_the_way_out(void **state)
{
	struct text t;
	(void)state;
	text_init(&t);
	file_words(BAD_FULL, "/a/b\033[2J", &t);
	assert_string_equal(t.at,
		"/a/b<U+001B>[2J: there is no room left on the disk: make room and try again");
	text_release(&t);
}

/* ---- standard streams ------------------------------------------------------------------------ */

/* In a child with the descriptors of the set closed: 0 when none of them goes to the next file that
 * is opened, those that were open are what they were, and the others cannot be used. */
static int hold_without(unsigned closed)
{
	struct file f;
	struct stat before[3], after;
	char byte = 'x';
	for (int fd = 0; fd < 3; fd++)
		if (fstat(fd, &before[fd]) || (closed >> fd & 1u && close(fd)))
			return 1;
	if (file_hold_standard() || file_open(work_path("strand"), &f) || f.fd < 3)
		return 2;
	for (int fd = 0; fd < 3; fd++) {
		if (!(closed >> fd & 1u) &&
			(fstat(fd, &after) || after.st_ino != before[fd].st_ino))
			return 3;
		if (closed >> fd & 1u && (fd ? write(fd, &byte, 1) : read(fd, &byte, 1)) >= 0)
			return 4;
	}
	return 0;
}

static void a_closed_stream_never_becomes_another_file(void **state)
{
	(void)state;
	for (unsigned closed = 0; closed < 8; closed++) {
		int status;
		pid_t child = fork();
		if (child == 0)
			_exit(hold_without(closed));
		assert_int_equal(waitpid(child, &status, 0), child);
		if (status)
			fail_msg("closed set %u: want 0, got %d", closed, WEXITSTATUS(status));
	}
}

/* ---- whole files ----------------------------------------------------------------------------- */

static void a_file_is_read_whole_with_a_0_behind_it(void **state)
{
	struct arena a = {0};
	char *bytes;
	size_t len;
	(void)state;
	code_is(file_replace(work_path("x"), "one\0two", 7, false), FINE);
	code_is(file_read(work_path("x"), 7, &a, &bytes, &len), FINE);
	assert_int_equal(len, 7);
	assert_memory_equal(bytes, "one\0two", 8);
	code_is(file_read(work_path("x"), 7, NULL, &bytes, &len), FINE);
	assert_memory_equal(bytes, "one\0two", 8);
	mem_drop(bytes);
	put(work_path("empty"), "");
	code_is(file_read(work_path("empty"), 0, &a, &bytes, &len), FINE);
	assert_int_equal(len, 0);
	assert_int_equal(*bytes, 0);
	arena_release(&a);
}

static void what_cannot_be_read_says_why(void **state)
{
	char *bytes = NULL;
	size_t len = 99;
	(void)state;
	put(work_path("x"), "12345678");
	code_is(file_read(work_path("x"), 7, NULL, &bytes, &len), BAD_SIZE);
	code_is(file_read(work_path("none"), 7, NULL, &bytes, &len), BAD_ABSENT);
	code_is(file_read(work_path("x/y"), 7, NULL, &bytes, &len), BAD_ABSENT);
	code_is(file_read(work_folder, 7, NULL, &bytes, &len), BAD_TYPE);
	assert_null(bytes);
	assert_int_equal(len, 99);
}

/* A pipe tells no size; 200,000 bytes make the memory grow several times. */
static void a_pipe_is_read_to_its_end(void **state)
{
	enum { LEN = 200000 };
	int end[2];
	char path[32], *bytes;
	size_t len;
	(void)state;
	for (int most = LEN - 1; most <= LEN; most++) {
		assert_int_equal(pipe(end), 0);
		snprintf(path, sizeof path, "/dev/fd/%d", end[0]);
		pid_t child = fork();
		if (child == 0) {
			char block[1000];
			signal(SIGPIPE, SIG_IGN);
			memset(block, 'p', sizeof block);
			for (int i = 0; i < LEN / 1000; i++)
				if (write(end[1], block, sizeof block) < 0)
					break;
			_exit(0);
		}
		close(end[1]);
		enum bad code = file_read_named(path, (size_t)most, NULL, &bytes, &len);
		close(end[0]);
		waitpid(child, NULL, 0);
		if (most < LEN) {
			code_is(code, BAD_SIZE);
			continue;
		}
		code_is(code, FINE);
		assert_int_equal(len, LEN);
		assert_int_equal(bytes[LEN - 1], 'p');
		mem_drop(bytes);
	}
}

/* Whoever can put a name into a folder must not be able to make the program wait. */
static void only_plain_files_are_read_unasked(void **state)
{
	struct sockaddr_un address = {.sun_family = AF_UNIX};
	char *bytes = NULL;
	size_t len = 99;
	(void)state;
	assert_int_equal(mkfifo(work_path("fifo"), 0600), 0);
	int s = socket(AF_UNIX, SOCK_STREAM, 0);
	snprintf(address.sun_path, sizeof address.sun_path, "%s", work_path("socket"));
	assert_int_equal(bind(s, (struct sockaddr *)&address, sizeof address), 0);
	code_is(file_read(work_path("fifo"), 7, NULL, &bytes, &len), BAD_TYPE);
	code_is(file_read(work_path("socket"), 7, NULL, &bytes, &len), BAD_TYPE);
	code_is(file_read("/dev/zero", 7, NULL, &bytes, &len), BAD_TYPE);
	code_is(file_read_named("/dev/zero", 7, NULL, &bytes, &len), BAD_SIZE);
	code_is(file_read_named("/dev/null", 7, NULL, &bytes, &len), FINE);
	assert_int_equal(len, 0);
	mem_drop(bytes);
	close(s);
}

static void devices_and_folders_are_not_replaced(void **state)
{
	struct stat st;
	(void)state;
	assert_int_equal(mkfifo(work_path("pipe"), 0600), 0);
	assert_int_equal(mkdir(work_path("folder"), 0700), 0);
	assert_int_equal(symlink("pipe", work_path("link")), 0);
	code_is(file_replace(work_path("pipe"), "x", 1, false), BAD_TYPE);
	code_is(file_replace(work_path("link"), "x", 1, false), BAD_TYPE);
	code_is(file_replace(work_path("folder"), "x", 1, false), BAD_TYPE);
	assert_int_equal(stat(work_path("link"), &st), 0);
	assert_true(S_ISFIFO(st.st_mode));
}

static void a_secret_that_others_can_read_is_noticed(void **state)
{
	static const struct {
		mode_t mode;
		bool open;
	} rows[] = {{0600, false}, {0400, false}, {0640, true}, {0604, true}, {0644, true},
		{0755, false}, {0777, false}};
	(void)state;
	put(work_path("key"), "x");
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		assert_int_equal(chmod(work_path("key"), rows[i].mode), 0);
		if (file_is_open_to_others(work_path("key")) != rows[i].open)
			fail_msg("mode %o: want %d", (unsigned)rows[i].mode, rows[i].open);
	}
	assert_false(file_is_open_to_others(work_path("none")));
	assert_false(file_is_open_to_others(work_folder));
}

static void a_secret_file_is_for_its_owner_only(void **state)
{
	struct stat st;
	(void)state;
	umask(022);
	code_is(file_replace(work_path("s"), "k", 1, true), FINE);
	assert_int_equal(stat(work_path("s"), &st), 0);
	assert_int_equal(st.st_mode & 0777, 0600);
	code_is(file_replace(work_path("s"), "k", 1, false), FINE);
	assert_int_equal(stat(work_path("s"), &st), 0);
	assert_int_equal(st.st_mode & 0777, 0644);
}

static size_t names_in(const char *path)
{
	struct arena a = {0};
	struct folder_entry *list;
	size_t n = 0;
	code_is(folder_list(path, &a, &list, &n), FINE);
	arena_release(&a);
	return n;
}

/* Each call of a replacement fails in turn: open, write, fsync, close, rename; then open, fsync, close of
 * the folder, when the new bytes are there already. Nothing else is left lying about. */
static void a_replacement_is_all_or_nothing(void **state)
{
	enum { RENAME = 5, LAST = 8 };
	(void)state;
	for (int ever = 0; ever < 2; ever++)
		for (unsigned long n = 1;; n++) {
			put(work_path("x"), "old");
			fault_plan(ALL_CALLS & ~(1u << CALL_UNLINK), n, ever, EIO);
			enum bad code = file_replace(work_path("x"), "newer", 5, false);
			bool reached = plan.reached;
			fault_end();
			code_is(code, n < LAST ? BAD_IO : FINE);
			file_is(work_path("x"), n <= RENAME ? "old" : "newer", n <= RENAME ? 3 : 5);
			assert_int_equal(names_in(work_folder), 1);
			if (!reached)
				break;
		}
}

static void a_replacement_survives_interruptions(void **state)
{
	(void)state;
	static const enum call calls[] = {CALL_OPEN, CALL_WRITE, CALL_FSYNC};
	for (size_t i = 0; i < 3; i++)
		for (unsigned long n = 1; n < 4; n++) {
			fault_plan(1u << calls[i], n, false, EINTR);
			code_is(file_replace(work_path("x"), "bytes", 5, false), FINE);
			fault_end();
			file_is(work_path("x"), "bytes", 5);
		}
}

static void a_full_disk_leaves_the_old_file(void **state)
{
	(void)state;
	put(work_path("x"), "old");
	fault_plan(1u << CALL_WRITE, 1, true, ENOSPC);
	code_is(file_replace(work_path("x"), "newer", 5, false), BAD_FULL);
	fault_end();
	file_is(work_path("x"), "old", 3);
	assert_int_equal(names_in(work_folder), 1);
}

static void kinds_are_told_apart(void **state)
{
	(void)state;
	put(work_path("x"), "x");
	assert_int_equal(file_kind(work_path("x")), FILE_PLAIN);
	assert_int_equal(file_kind(work_folder), FILE_FOLDER);
	assert_int_equal(file_kind(work_path("none")), FILE_NONE);
	assert_int_equal(file_kind("/dev/null"), FILE_OTHER);
	code_is(file_remove(work_path("x")), FINE);
	code_is(file_remove(work_path("x")), BAD_ABSENT);
}

/* ---- files that grow ------------------------------------------------------------------------- */

static void added_bytes_are_there(void **state)
{
	struct file f;
	char back[4] = "";
	(void)state;
	code_is(file_open(work_path("x"), &f), FINE);
	assert_int_equal(f.len, 0);
	code_is(file_append(&f, "abc", 3), FINE);
	code_is(file_append(&f, "def", 3), FINE);
	assert_int_equal(f.len, 6);
	code_is(file_read_at(&f, 2, back, 3), FINE);
	assert_string_equal(back, "cde");
	code_is(file_read_at(&f, 4, back, 3), BAD_RANGE);
	code_is(file_read_at(&f, -1, back, 1), BAD_RANGE);
	code_is(file_cut(&f, 4), FINE);
	code_is(file_cut(&f, 5), BAD_RANGE);
	file_close(&f);
	file_close(&f);
	file_is(work_path("x"), "abcd", 4);
	code_is(file_append(&f, "x", 1), BAD_IO);
}

static void two_openers_of_one_file_are_refused(void **state)
{
	struct file f, g;
	(void)state;
	code_is(file_open(work_path("x"), &f), FINE);
	code_is(file_open(work_path("x"), &g), BAD_BUSY);
	file_close(&f);
	code_is(file_open(work_path("x"), &g), FINE);
	file_close(&g);
}

static void links_folders_and_devices_are_not_opened(void **state)
{
	struct file f;
	(void)state;
	put(work_path("x"), "x");
	assert_int_equal(symlink("x", work_path("link")), 0);
	code_is(file_open(work_path("link"), &f), BAD_DENIED);
	code_is(file_open(work_folder, &f), BAD_TYPE);
	code_is(file_open("/dev/null", &f), BAD_TYPE);
	code_is(file_open(work_path("no/x"), &f), BAD_ABSENT);
}

/* A write that stops half way and goes on is fine; one that then fails is undone. */
static void a_short_write_is_finished_or_undone(void **state)
{
	(void)state;
	for (int ever = 0; ever < 2; ever++) {
		struct file f;
		code_is(file_open(work_path("x"), &f), FINE);
		code_is(file_append(&f, "abc", 3), FINE);
		fault_plan(1u << CALL_WRITE, 1, ever, ENOSPC);
		plan.keep = 2;
		enum bad code = file_append(&f, "defg", 4);
		fault_end();
		code_is(code, ever ? BAD_FULL : FINE);
		assert_false(f.spoiled);
		file_close(&f);
		file_is(work_path("x"), ever ? "abc" : "abcdefg", ever ? 3 : 7);
		unlink(work_path("x"));
	}
}

/* Real short writes and a real refusal: a limit on the size of files (SIGXFSZ ignored). */
static void a_limit_on_file_size_loses_nothing(void **state)
{
	(void)state;
	pid_t child = fork();
	if (child == 0) {
		struct file f;
		struct rlimit limit = {10, 10};
		signal(SIGXFSZ, SIG_IGN);
		int bad = file_open(work_path("x"), &f) != FINE ||
			  file_append(&f, "12345678", 8) != FINE;
		setrlimit(RLIMIT_FSIZE, &limit);
		bad = bad || file_append(&f, "abcdefgh", 8) != BAD_FULL || f.spoiled || f.len != 8;
		bad = bad || file_append(&f, "90", 2) != FINE;
		_exit(bad);
	}
	int status = -1;
	waitpid(child, &status, 0);
	assert_int_equal(status, 0);
	file_is(work_path("x"), "1234567890", 10);
}

static int full = -1;
static ssize_t write_to_full(int fd, const void *bytes, size_t len)
{
	(void)fd;
	return write(full, bytes, len);
}

static void a_full_device_says_so(void **state)
{
	struct file f;
	struct file_system table = *file_system_real();
	(void)state;
	full = open("/dev/full", O_WRONLY);
	assert_true(full >= 0);
	table.write = write_to_full;
	code_is(file_open(work_path("x"), &f), FINE);
	file_system_replace(&table);
	enum bad code = file_append(&f, "abc", 3);
	file_system_replace(NULL);
	close(full);
	code_is(code, BAD_FULL);
	file_close(&f);
	file_is(work_path("x"), "", 0);
}

static void after_a_failed_sync_nothing_is_added(void **state)
{
	struct file f;
	(void)state;
	code_is(file_open(work_path("x"), &f), FINE);
	fault_plan(1u << CALL_FSYNC, 1, false, EIO);
	code_is(file_append(&f, "abc", 3), BAD_IO);
	fault_end();
	assert_true(f.spoiled);
	code_is(file_append(&f, "def", 3), BAD_IO);
	code_is(file_cut(&f, 0), BAD_IO);
	file_close(&f);
}

static void a_cut_that_fails_spoils_the_file(void **state)
{
	struct file f;
	(void)state;
	code_is(file_open(work_path("x"), &f), FINE);
	fault_plan(1u << CALL_WRITE | 1u << CALL_FTRUNCATE, 1, true, ENOSPC);
	code_is(file_append(&f, "abc", 3), BAD_FULL);
	fault_end();
	assert_true(f.spoiled);
	file_close(&f);
}

/* ---- folders --------------------------------------------------------------------------------- */

static void folders_are_made_with_what_is_missing_above(void **state)
{
	struct stat st;
	(void)state;
	umask(022);
	fault_plan(0, 0, false, 0);
	code_is(folder_make(work_path("a/b/c")), FINE);
	fault_end();
	assert_int_equal(plan.count[CALL_FSYNC], 3); /* each new name is synced in its folder */
	code_is(folder_make(work_path("a/b/c")), FINE);
	code_is(folder_make(work_path("a/b/c/d/")), FINE);
	assert_int_equal(stat(work_path("a/b"), &st), 0);
	assert_int_equal(st.st_mode & 0777, 0700);
	put(work_path("x"), "x");
	code_is(folder_make(work_path("x")), BAD_TYPE);
	assert_int_not_equal(folder_make(work_path("x/y")), FINE);
	code_is(folder_make(""), BAD_ABSENT);
}

static void a_folder_that_cannot_be_made_says_why(void **state)
{
	static const struct {
		int error;
		enum bad code;
	} rows[] = {{EROFS, BAD_DENIED}, {EACCES, BAD_DENIED}, {ENOSPC, BAD_FULL}, {EIO, BAD_IO}};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		fault_plan(1u << CALL_MKDIR, 1, true, rows[i].error);
		code_is(folder_make(work_path("a/b")), rows[i].code);
		fault_end();
		assert_int_equal(file_kind(work_path("a")), FILE_NONE);
	}
}

static void a_list_is_sorted_by_bytes(void **state)
{
	static const char *const names[] = {"B", "a", "a.b", "a0", "\xc3\xa4"};
	struct arena a = {0};
	struct folder_entry *list;
	size_t n;
	(void)state;
	for (size_t i = 5; i-- > 0;)
		if (i == 1)
			code_is(folder_make(work_path(names[i])), FINE);
		else
			put(work_path(names[i]), "x");
	code_is(folder_list(work_folder, &a, &list, &n), FINE);
	assert_int_equal(n, 5);
	for (size_t i = 0; i < 5; i++) {
		assert_string_equal(list[i].name, names[i]);
		assert_int_equal(list[i].kind, i == 1 ? FILE_FOLDER : FILE_PLAIN);
	}
	code_is(folder_list(work_path("none"), &a, &list, &n), BAD_ABSENT);
	code_is(folder_list(work_path("B"), &a, &list, &n), BAD_ABSENT);
	fault_plan(1u << CALL_READDIR, 2, false, EIO);
	code_is(folder_list(work_folder, &a, &list, &n), BAD_IO);
	fault_end();
	arena_release(&a);
}

static void paths_are_joined_and_parted(void **state)
{
	struct arena a = {0};
	(void)state;
	assert_string_equal(folder_join(&a, "/a", "b"), "/a/b");
	assert_string_equal(folder_join(&a, "/", "b"), "/b");
	assert_string_equal(file_name("/a/b"), "b");
	assert_string_equal(file_name("b"), "b");
	arena_release(&a);
}

/* XDG Base Directory Specification 0.8: unset, empty or relative means the default. */
static void own_folders_follow_the_specification(void **state)
{
	static const struct {
		const char *xdg, *home, *want;
	} rows[] = {
		{"/x/data", "/home/s", "/x/data/barwright"},
		{"/x/data", NULL, "/x/data/barwright"},
		{NULL, "/home/s", "/home/s/.local/share/barwright"},
		{"", "/home/s", "/home/s/.local/share/barwright"},
		{"relative/x", "/home/s", "/home/s/.local/share/barwright"},
		{NULL, NULL, NULL},
		{NULL, "", NULL},
		{"x", "home", NULL},
	};
	struct arena a = {0};
	char *path;
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		rows[i].xdg ? setenv("XDG_DATA_HOME", rows[i].xdg, 1) : unsetenv("XDG_DATA_HOME");
		rows[i].home ? setenv("HOME", rows[i].home, 1) : unsetenv("HOME");
		enum bad code = folder_own(FOLDER_DATA, &a, &path);
		code_is(code, rows[i].want ? FINE : BAD_MISSING);
		if (rows[i].want)
			assert_string_equal(path, rows[i].want);
	}
	setenv("HOME", "/home/s", 1);
	unsetenv("XDG_STATE_HOME");
	setenv("XDG_CONFIG_HOME", "/c", 1);
	code_is(folder_own(FOLDER_STATE, &a, &path), FINE);
	assert_string_equal(path, "/home/s/.local/state/barwright");
	code_is(folder_own(FOLDER_CONFIG, &a, &path), FINE);
	assert_string_equal(path, "/c/barwright");
	arena_release(&a);
}

static void shared_folders_follow_the_specification(void **state)
{
	struct arena a = {0};
	char *path;
	(void)state;
	setenv("XDG_DATA_DIRS", "/a:rel::/b/", 1);
	code_is(folder_shared(0, &a, &path), FINE);
	assert_string_equal(path, "/a/barwright");
	code_is(folder_shared(1, &a, &path), FINE);
	assert_string_equal(path, "/b/barwright");
	code_is(folder_shared(2, &a, &path), BAD_ABSENT);
	unsetenv("XDG_DATA_DIRS");
	code_is(folder_shared(1, &a, &path), FINE);
	assert_string_equal(path, "/usr/share/barwright");
	code_is(folder_shared(2, &a, &path), BAD_ABSENT);
	arena_release(&a);
}

/* ---- memory ---------------------------------------------------------------------------------- */

static enum bad everything(void *to)
{
	struct arena a = {0};
	struct folder_entry *list;
	char *bytes, *path;
	size_t n;
	(void)to;
	enum bad code = folder_make(work_path("m/n"));
	if (!code)
		code = file_replace(work_path("m/x"), "abc", 3, false);
	if (!code)
		code = file_read(work_path("m/x"), 10, NULL, &bytes, &n);
	if (!code)
		mem_drop(bytes);
	if (!code)
		code = file_read("/proc/self/status", 1 << 20, &a, &bytes, &n);
	if (!code)
		code = file_rename(work_path("m/x"), work_path("m/y"));
	if (!code)
		code = folder_list(work_path("m"), &a, &list, &n);
	if (!code)
		code = folder_own(FOLDER_DATA, &a, &path);
	if (!code)
		code = folder_shared(0, &a, &path);
	arena_release(&a);
	return code;
}

/* Leaks show under the address sanitizer. */
static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	(void)state;
	setenv("HOME", "/home/s", 1);
	runs_out_of_memory("everything", everything, NULL);
}

#define T(name) cmocka_unit_test_setup_teardown(name, work_begin, work_end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(errors_of_the_system_become_codes),
		T(words_name_the_file_and_the_way_out),
		T(a_closed_stream_never_becomes_another_file),
		T(a_file_is_read_whole_with_a_0_behind_it),
		T(what_cannot_be_read_says_why),
		T(a_pipe_is_read_to_its_end),
		T(only_plain_files_are_read_unasked),
		T(devices_and_folders_are_not_replaced),
		T(a_secret_file_is_for_its_owner_only),
		T(a_secret_that_others_can_read_is_noticed),
		T(a_replacement_is_all_or_nothing),
		T(a_replacement_survives_interruptions),
		T(a_full_disk_leaves_the_old_file),
		T(kinds_are_told_apart),
		T(added_bytes_are_there),
		T(two_openers_of_one_file_are_refused),
		T(links_folders_and_devices_are_not_opened),
		T(a_short_write_is_finished_or_undone),
		T(a_limit_on_file_size_loses_nothing),
		T(a_full_device_says_so),
		T(after_a_failed_sync_nothing_is_added),
		T(a_cut_that_fails_spoils_the_file),
		T(folders_are_made_with_what_is_missing_above),
		T(a_folder_that_cannot_be_made_says_why),
		T(a_list_is_sorted_by_bytes),
		T(paths_are_joined_and_parted),
		T(own_folders_follow_the_specification),
		T(shared_folders_follow_the_specification),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
