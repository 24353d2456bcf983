/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The power fails after every single call that changes the disk. What was not synced by then may be
 * there, in part or not at all: bytes added at the end of a file to any length, a file cut or not, a name
 * made or changed in a folder or not. In each such state the next run must find every line that was
 * acknowledged, and every byte that was torn before. */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"
#include "strand_promises.h"

/* ---- a disk that remembers what was synced --------------------------------------------------- */

enum { NAMES = 8, FDS = 64 };
static struct {
	unsigned long calls, dies_after; /* changing calls so far; 0: never */
	char *safe; /* the strand as last synced; null: its name is not there yet */
	size_t safe_len;
	/* names made or changed since the folder was last synced; from "" for a new file */
	struct {
		char from[256], to[256];
	} name[NAMES];
	size_t nname;
	char path[FDS][256]; /* of open files */
} disk;

static bool dead(void)
{
	errno = EIO;
	return disk.dies_after && disk.calls >= disk.dies_after;
}

static void strand_is_safe_now(void)
{
	mem_drop(disk.safe);
	code_is(file_read(strand_file, 1 << 20, NULL, &disk.safe, &disk.safe_len), FINE);
}

static void note_name(const char *from, const char *to)
{
	assert_true(disk.nname < NAMES);
	snprintf(disk.name[disk.nname].from, 256, "%s", from);
	snprintf(disk.name[disk.nname++].to, 256, "%s", to);
}

static int crash_open(const char *path, int flags, mode_t mode)
{
	bool makes = flags & O_CREAT && file_kind(path) == FILE_NONE;
	if (dead())
		return -1;
	int fd = REAL->open(path, flags, mode);
	if (fd < 0 || fd >= FDS)
		return fd;
	snprintf(disk.path[fd], sizeof disk.path[0], "%s", path);
	if (makes) {
		note_name("", path);
		disk.calls++;
	}
	return fd;
}

static ssize_t crash_write(int fd, const void *bytes, size_t len)
{
	if (dead())
		return -1;
	disk.calls++;
	return REAL->write(fd, bytes, len);
}

static int crash_ftruncate(int fd, off_t len)
{
	if (dead())
		return -1;
	disk.calls++;
	return REAL->ftruncate(fd, len);
}

static bool is_strands(const char *path)
{
	return strcmp(path, work_path("strands")) == 0;
}

static int crash_fsync(int fd)
{
	if (dead())
		return -1;
	if (is_strands(disk.path[fd]))
		disk.nname = 0;
	else if (strcmp(disk.path[fd], strand_file) == 0)
		strand_is_safe_now();
	disk.calls++;
	return 0;
}

static int crash_rename(const char *from, const char *to)
{
	if (dead())
		return -1;
	disk.calls++;
	note_name(from, to);
	return REAL->rename(from, to);
}

static int crash_unlink(const char *path)
{
	return dead() ? -1 : REAL->unlink(path);
}

static int crash_mkdir(const char *path, mode_t mode)
{
	if (dead())
		return -1;
	disk.calls++;
	return REAL->mkdir(path, mode);
}

static void disk_begin(unsigned long dies_after)
{
	static struct file_system table;
	table = *REAL;
	table.open = crash_open;
	table.write = crash_write;
	table.fsync = crash_fsync;
	table.ftruncate = crash_ftruncate;
	table.rename = crash_rename;
	table.unlink = crash_unlink;
	table.mkdir = crash_mkdir;
	disk.calls = 0;
	disk.dies_after = dies_after;
	disk.nname = 0;
	if (file_kind(strand_file) == FILE_PLAIN)
		strand_is_safe_now();
	file_system_replace(&table);
}

/* ---- what may be there after the power is back ----------------------------------------------- */

struct kept {
	char path[300];
	char *bytes;
	size_t len;
};
static struct kept kept[NAMES];
static size_t nkept;

static void keep_all(void)
{
	struct arena a = {0};
	struct folder_entry *list;
	size_t n = 0;
	if (file_kind(work_path("strands")) == FILE_FOLDER)
		code_is(folder_list(work_path("strands"), &a, &list, &n), FINE);
	assert_true(n <= NAMES);
	for (nkept = 0; nkept < n; nkept++) {
		struct kept *k = &kept[nkept];
		snprintf(k->path, sizeof k->path, "%s/%s", work_path("strands"), list[nkept].name);
		code_is(file_read(k->path, 1 << 20, NULL, &k->bytes, &k->len), FINE);
	}
	arena_release(&a);
}

static void drop_all(void)
{
	while (nkept)
		mem_drop(kept[--nkept].bytes);
	mem_drop(disk.safe);
	disk.safe = NULL;
	disk.safe_len = 0;
}

static void write_plainly(const char *path, const char *bytes, size_t len)
{
	FILE *f = fopen(path, "wb");
	assert_non_null(f);
	if (len)
		assert_int_equal(fwrite(bytes, 1, len, f), len);
	assert_int_equal(fclose(f), 0);
}

/* As it was when the power failed, but with these bytes in the strand, and without the names that were
 * not synced if `lost`. */
static void put_back(const char *bytes, size_t len, bool lost)
{
	work_empty(work_folder);
	code_is(folder_make(work_path("strands")), FINE);
	for (size_t i = 0; i < nkept; i++)
		if (strcmp(kept[i].path, strand_file) == 0)
			write_plainly(strand_file, bytes, len);
		else
			write_plainly(kept[i].path, kept[i].bytes, kept[i].len);
	for (size_t i = disk.nname; lost && i-- > 0;)
		if (*disk.name[i].from)
			rename(disk.name[i].to, disk.name[i].from);
		else
			unlink(disk.name[i].to);
}

/* ---- the test -------------------------------------------------------------------------------- */

static struct source old;
static bool from_torn;

/* The torn bytes of the start stand in a file of their own. */
static void torn_bytes_are_kept(const char *what)
{
	struct arena a = {0};
	struct folder_entry *list;
	size_t n, start = old.len - TORN;
	while (old.text[start - 1] != '\n')
		start--;
	size_t len = old.len - TORN - start;
	bool found = false;
	code_is(folder_list(work_path("strands"), &a, &list, &n), FINE);
	for (size_t i = 0; i < n; i++) {
		char *bytes;
		size_t got;
		const char *path = folder_join(&a, work_path("strands"), list[i].name);
		if (!strstr(path, ".torn-"))
			continue;
		if (strstr(path, ".pending") && !strstr(path, ".new-"))
			fail_msg("%s: %s was not told of", what, list[i].name);
		code_is(file_read(path, 1 << 20, &a, &bytes, &got), FINE);
		found = found || (got == len && memcmp(bytes, old.text + start, len) == 0);
	}
	if (!found)
		fail_msg("%s: the torn bytes are lost", what);
	arena_release(&a);
}

static void state_is_good(const char *what, const struct promises *p)
{
	promises_hold(what, p);
	next_run_goes_on(what, p);
	if (from_torn)
		torn_bytes_are_kept(what);
}

static unsigned long states;

static void try_states(unsigned long k, const struct promises *p)
{
	const char *bytes = disk.safe ? disk.safe : "";
	size_t len = disk.safe_len, low, high;
	for (size_t i = 0; i < nkept; i++)
		if (strcmp(kept[i].path, strand_file) == 0) {
			bytes = kept[i].bytes;
			len = kept[i].len;
		}
	low = disk.safe_len < len ? disk.safe_len : len;
	high = disk.safe_len < len ? len : disk.safe_len;
	if (low && memcmp(bytes, disk.safe, low) != 0)
		fail_msg("the strand was written over");
	bytes = disk.safe_len < len ? bytes : disk.safe;
	for (int lost = 0; lost < (disk.nname ? 2 : 1); lost++)
		for (size_t cut = low; cut <= high; cut++) {
			char what[100];
			/* a cut that was not synced has happened or it has not */
			if (disk.safe_len > len && cut != low && cut != high)
				continue;
			snprintf(what, sizeof what, "%s, call %lu, strand %zu of %zu, names %s",
				from_torn ? "torn" : "new", k, cut, high, lost ? "lost" : "kept");
			put_back(bytes, cut, lost);
			state_is_good(what, p);
			states++;
		}
}

static enum bad promise_line(void *context, const struct strand_line *line)
{
	struct promises *p = context;
	p->hash[line->n] = line->hash;
	p->made[line->n] = true;
	return FINE;
}

/* The whole lines of a strand that is torn. */
static void promise_old(struct promises *p)
{
	struct source s = {"old", old.text, old.len - TORN};
	struct strand_sum sum;
	code_is(strand_read(&s, NULL, promise_line, p, &sum, NULL), BAD_TORN);
	assert_int_equal(sum.lines, 2);
}

static void power_fails_after_each_call(bool torn)
{
	run_lines = 2;
	from_torn = torn;
	for (unsigned long k = 1;; k++) {
		struct promises p = {.made = {false}};
		work_empty(work_folder);
		if (torn) {
			code_is(folder_make(work_path("strands")), FINE);
			write_plainly(strand_file, old.text, old.len - TORN);
			promise_old(&p);
		}
		disk_begin(k);
		run(&p);
		bool died = disk.calls >= k;
		fault_end();
		if (!died) {
			drop_all();
			break;
		}
		keep_all();
		try_states(k, &p);
		drop_all();
		assert_true(k < 100);
	}
}

static void a_new_strand_survives_the_loss_of_power(void **state)
{
	(void)state;
	states = 0;
	power_fails_after_each_call(false);
	assert_true(states > 1000); /* each byte of each line */
	print_message("%lu states of the disk\n", states);
}

static void mending_a_torn_strand_survives_the_loss_of_power(void **state)
{
	(void)state;
	states = 0;
	old = load(strand_make(&machine, "l-1", 3));
	power_fails_after_each_call(true);
	assert_true(states > 1000);
	print_message("%lu states of the disk\n", states);
	unload(&old);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_setup_teardown(
			a_new_strand_survives_the_loss_of_power, begin, work_end),
		cmocka_unit_test_setup_teardown(
			mending_a_torn_strand_survives_the_loss_of_power, begin, work_end),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
