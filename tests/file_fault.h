/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A file system whose n-th call fails, and a folder to work in. Include after near.h. */
#ifndef BARWRIGHT_TESTS_FILE_FAULT_H
#define BARWRIGHT_TESTS_FILE_FAULT_H

#include <errno.h>
#include <fcntl.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/bad.h>
#include <barwright/base/file.h>

#define CALLS(X) \
	X(OPEN) \
	X(READ) \
	X(PREAD) X(WRITE) X(FSYNC) X(FTRUNCATE) X(CLOSE) X(FLOCK) X(FSTAT) X(RENAME) X(UNLINK) \
		X(MKDIR) X(OPENDIR) X(READDIR) X(RESERVE)
enum call {
#define X(name) CALL_##name,
	CALLS(X)
#undef X
		CALL_COUNT
};
static const char *const call_name[] = {
#define X(name) #name,
	CALLS(X)
#undef X
};
enum { ALL_CALLS = (1 << CALL_COUNT) - 1 };

/* The `at`-th of the calls named in the set fails with `error`; with `ever` all of them after it too.
 * When `keep` is not 0, the first write that trips does not fail but writes this many bytes. */
static struct {
	unsigned calls;
	unsigned long at, seen;
	int error;
	bool ever, reached;
	size_t keep;
	/* what the test layer saw */
	unsigned long count[CALL_COUNT];
} plan;

static inline bool trips(enum call c)
{
	plan.count[c]++;
	if (!(plan.calls >> c & 1u) || !plan.at)
		return false;
	plan.seen++;
	if (plan.seen != plan.at && !(plan.ever && plan.seen > plan.at))
		return false;
	plan.reached = true;
	errno = plan.error;
	return true;
}

#define REAL file_system_real()
static inline int fault_open(const char *path, int flags, mode_t mode)
{
	return trips(CALL_OPEN) ? -1 : REAL->open(path, flags, mode);
}
static inline ssize_t fault_read(int fd, void *out, size_t len)
{
	return trips(CALL_READ) ? -1 : REAL->read(fd, out, len);
}
static inline ssize_t fault_pread(int fd, void *out, size_t len, off_t at)
{
	return trips(CALL_PREAD) ? -1 : REAL->pread(fd, out, len, at);
}
static inline ssize_t fault_write(int fd, const void *bytes, size_t len)
{
	if (!trips(CALL_WRITE))
		return REAL->write(fd, bytes, len);
	size_t keep = plan.keep < len ? plan.keep : len;
	plan.keep = 0;
	return keep ? REAL->write(fd, bytes, keep) : -1;
}
static inline int fault_fsync(int fd)
{
	return trips(CALL_FSYNC) ? -1 : REAL->fsync(fd);
}
static inline int fault_ftruncate(int fd, off_t len)
{
	return trips(CALL_FTRUNCATE) ? -1 : REAL->ftruncate(fd, len);
}
static inline int fault_reserve(int fd, off_t len)
{
	return trips(CALL_RESERVE) ? -1 : REAL->reserve(fd, len);
}
static inline int fault_close(int fd)
{
	int r = REAL->close(fd);
	return trips(CALL_CLOSE) ? -1 : r;
}
static inline int fault_flock(int fd, int operation)
{
	return trips(CALL_FLOCK) ? -1 : REAL->flock(fd, operation);
}
static inline int fault_fstat(int fd, struct stat *out)
{
	return trips(CALL_FSTAT) ? -1 : REAL->fstat(fd, out);
}
static inline int fault_rename(const char *from, const char *to)
{
	return trips(CALL_RENAME) ? -1 : REAL->rename(from, to);
}
static inline int fault_unlink(const char *path)
{
	return trips(CALL_UNLINK) ? -1 : REAL->unlink(path);
}
static inline int fault_mkdir(const char *path, mode_t mode)
{
	return trips(CALL_MKDIR) ? -1 : REAL->mkdir(path, mode);
}
static inline DIR *fault_opendir(const char *path)
{
	return trips(CALL_OPENDIR) ? NULL : REAL->opendir(path);
}
static inline struct dirent *fault_readdir(DIR *folder)
{
	return trips(CALL_READDIR) ? NULL : REAL->readdir(folder);
}

/* From now on: the at-th (1: the next) of these calls fails. at 0: none does, but they are counted. */
static inline void fault_plan(unsigned calls, unsigned long at, bool ever, int error)
{
	static struct file_system table;
	table = (struct file_system){.open = fault_open,
		.read = fault_read,
		.pread = fault_pread,
		.write = fault_write,
		.fsync = fault_fsync,
		.ftruncate = fault_ftruncate,
		.reserve = fault_reserve,
		.close = fault_close,
		.flock = fault_flock,
		.fstat = fault_fstat,
		.stat = REAL->stat,
		.lstat = REAL->lstat,
		.rename = fault_rename,
		.unlink = fault_unlink,
		.mkdir = fault_mkdir,
		.opendir = fault_opendir,
		.readdir = fault_readdir};
	memset(&plan, 0, sizeof plan);
	plan.calls = calls;
	plan.at = at;
	plan.ever = ever;
	plan.error = error;
	file_system_replace(&table);
}
static inline void fault_end(void)
{
	file_system_replace(NULL);
}

/* ---- a folder to work in --------------------------------------------------------------------- */

static char work_folder[64];

static inline void work_empty(const char *path)
{
	struct arena a = {0};
	struct folder_entry *list;
	size_t n = 0;
	assert_int_equal(folder_list(path, &a, &list, &n), FINE);
	for (size_t i = 0; i < n; i++) {
		const char *one = folder_join(&a, path, list[i].name);
		if (list[i].kind == FILE_FOLDER) {
			work_empty(one);
			rmdir(one);
		} else {
			unlink(one);
		}
	}
	arena_release(&a);
}

static inline int work_begin(void **state)
{
	/* in memory where there is such a place: thousands of syncs */
	static const char *const place[] = {"/dev/shm", "/tmp"};
	(void)state;
	for (size_t i = 0; i < 2; i++) {
		snprintf(work_folder, sizeof work_folder, "%s/barwright-test-XXXXXX", place[i]);
		if (mkdtemp(work_folder))
			return 0;
	}
	return -1;
}

static inline int work_end(void **state)
{
	(void)state;
	fault_end();
	mem_fail_at(0, 0);
	work_empty(work_folder);
	return rmdir(work_folder);
}

/* A path in the work folder; static, one of four that are used in turn. */
static inline const char *work_path(const char *name)
{
	static char path[4][256];
	static unsigned next;
	char *p = path[next++ % 4];
	snprintf(p, sizeof path[0], "%s/%s", work_folder, name);
	return p;
}

static inline void file_is(const char *path, const char *bytes, size_t len)
{
	char *got;
	size_t n;
	code_is(file_read(path, 1 << 24, NULL, &got, &n), FINE);
	if (n != len || memcmp(got, bytes, len) != 0)
		fail_msg("%s: want %zu bytes \"%.60s\", got %zu bytes \"%.60s\"", path, len, bytes,
			n, got);
	mem_drop(got);
}

#endif
