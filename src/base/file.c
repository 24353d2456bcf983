/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/file.h>

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include <barwright/base/utf8.h>

/* ---- the door -------------------------------------------------------------------------------- */

static int real_open(const char *path, int flags, mode_t mode)
{
	return open(path, flags, mode);
}

static int real_reserve(int fd, off_t len)
{
	errno = posix_fallocate(fd, 0, len);
	return errno ? -1 : 0;
}

static const struct file_system real = {
	.open = real_open,
	.read = read,
	.pread = pread,
	.write = write,
	.fsync = fsync,
	.ftruncate = ftruncate,
	.reserve = real_reserve,
	.close = close,
	.flock = flock,
	.fstat = fstat,
	.stat = stat,
	.lstat = lstat,
	.rename = rename,
	.unlink = unlink,
	.mkdir = mkdir,
	.opendir = opendir,
	.readdir = readdir,
};
static const struct file_system *now = &real;

const struct file_system *file_system_real(void)
{
	return &real;
}

void file_system_replace(const struct file_system *table)
{
	now = table ? table : &real;
}

/* Makes a call again as long as a signal interrupts it. */
#define AGAIN(result, call) \
	do \
		(result) = (call); \
	while ((result) < 0 && errno == EINTR)

enum bad file_code(int error)
{
	static const struct {
		int error;
		enum bad code;
	} known[] = {
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
		{ENOMEM, BAD_MEMORY},
		{EISDIR, BAD_TYPE},
		{ENAMETOOLONG, BAD_SIZE},
		{EEXIST, BAD_REPEATED},
		{ENXIO, BAD_TYPE}, /* a socket, or a pipe that nobody reads */
		{EMFILE, BAD_CROWDED},
		{ENFILE, BAD_CROWDED},
	};
	for (size_t i = 0; i < sizeof known / sizeof *known; i++)
		if (known[i].error == error)
			return known[i].code;
	return BAD_IO;
}

const char *file_advice(enum bad code)
{
	switch (code) {
	case BAD_ABSENT:
		return "there is no such file or folder";
	case BAD_DENIED:
		return "the system does not permit it: look at its owner and permissions, and "
		       "whether the disk is read-only";
	case BAD_FULL:
		return "there is no room left on the disk: make room and try again";
	case BAD_BUSY:
		return "another program is using it: close that one first";
	case BAD_TYPE:
		return "this is not an ordinary file";
	case BAD_SIZE:
		return "there is more in it than is read here, or its name is too long";
	case BAD_REPEATED:
		return "something of this name is there already";
	case BAD_CROWDED:
		return "too many files are open on this system: close other programs and try again";
	case BAD_IO:
		return "the disk did not read or write as it should: save elsewhere and have it "
		       "looked at";
	default:
		return bad_text(code);
	}
}

void file_words(enum bad code, const char *path, struct text *out)
{
	text_add_safe(out, path, strlen(path), false);
	text_add(out, ": ");
	text_add(out, file_advice(code));
}

static int call_open(const char *path, int flags, mode_t mode)
{
	int fd;
	AGAIN(fd, now->open(path, flags | O_CLOEXEC, mode));
	return fd;
}

/* ---- standard streams ------------------------------------------------------------------------ */

/* Opening takes the lowest free number, and those below `fd` are taken. */
enum bad file_hold_standard(void)
{
	struct stat st;
	for (int fd = STDIN_FILENO; fd <= STDERR_FILENO; fd++) {
		if (now->fstat(fd, &st) == 0 || errno != EBADF)
			continue;
		/* the wrong way round: to use it stays a fault */
		int held = call_open("/dev/null", fd == STDIN_FILENO ? O_WRONLY : O_RDONLY, 0);
		if (held < 0)
			return file_code(errno);
	}
	return FINE;
}

/* ---- whole files ----------------------------------------------------------------------------- */

/* Up to `room` bytes, fewer only at the end of the file. */
static enum bad read_some(int fd, char *out, size_t room, size_t *len)
{
	size_t got = 0;
	while (got < room) {
		ssize_t n;
		AGAIN(n, now->read(fd, out + got, room - got));
		if (n < 0)
			return file_code(errno);
		if (n == 0)
			break;
		got += (size_t)n;
	}
	*len = got;
	return FINE;
}

/* A file of known size: one piece of memory, and no more than it had when it was opened. */
static enum bad read_sized(int fd, size_t size, struct arena *a, char **bytes, size_t *len)
{
	char *into = a ? arena_get(a, size + 1) : mem_get(size + 1);
	size_t got;
	if (!into)
		return BAD_MEMORY;
	enum bad code = read_some(fd, into, size, &got);
	if (code) {
		if (!a)
			mem_drop(into);
		return code;
	}
	into[got] = '\0';
	*bytes = into;
	*len = got;
	return FINE;
}

/* A pipe, or a file that does not tell its size: the memory grows. */
static enum bad read_growing(int fd, size_t most, char **bytes, size_t *len)
{
	char *into = NULL;
	size_t room = 4096, have = 0, got;
	enum bad code;
	do {
		room *= 2;
		char *more = mem_more(into, room);
		code = more ? FINE : BAD_MEMORY;
		if (more) {
			into = more;
			code = read_some(fd, into + have, room - 1 - have, &got);
		}
		have += code ? 0 : got;
		if (!code && have > most)
			code = BAD_SIZE;
	} while (!code && have == room - 1);
	if (code) {
		mem_drop(into);
		return code;
	}
	into[have] = '\0';
	*bytes = into;
	*len = have;
	return FINE;
}

static enum bad read_unsized(int fd, size_t most, struct arena *a, char **bytes, size_t *len)
{
	char *heap;
	size_t got;
	enum bad code = read_growing(fd, most, &heap, &got);
	if (code || !a) {
		if (!code) {
			*bytes = heap;
			*len = got;
		}
		return code;
	}
	char *copy = arena_copy(a, heap, got);
	mem_drop(heap);
	if (!copy)
		return BAD_MEMORY;
	*bytes = copy;
	*len = got;
	return FINE;
}

static enum bad read_fd(int fd, size_t most, bool pipes, struct arena *a, char **bytes, size_t *len)
{
	struct stat st;
	if (now->fstat(fd, &st))
		return file_code(errno);
	if (S_ISDIR(st.st_mode) || (!S_ISREG(st.st_mode) && !pipes))
		return BAD_TYPE;
	if (!S_ISREG(st.st_mode) || st.st_size <= 0)
		return read_unsized(fd, most, a, bytes, len);
	return (uintmax_t)st.st_size > most ? BAD_SIZE
					    : read_sized(fd, (size_t)st.st_size, a, bytes, len);
}

/* Without O_NONBLOCK a pipe that nobody writes to would be waited for while it is opened. */
static enum bad read_path(
	const char *path, size_t most, bool pipes, struct arena *a, char **bytes, size_t *len)
{
	int fd = call_open(path, O_RDONLY | O_NOCTTY | (pipes ? 0 : O_NONBLOCK), 0);
	if (fd < 0)
		return file_code(errno);
	enum bad code = read_fd(fd, most, pipes, a, bytes, len);
	now->close(fd);
	return code;
}

enum bad file_read(const char *path, size_t most, struct arena *a, char **bytes, size_t *len)
{
	return read_path(path, most, false, a, bytes, len);
}

enum bad file_read_named(const char *path, size_t most, struct arena *a, char **bytes, size_t *len)
{
	return read_path(path, most, true, a, bytes, len);
}

bool file_begins(const char *path, const char *with)
{
	char start[64];
	size_t n = strlen(with), got;
	int fd = n <= sizeof start ? call_open(path, O_RDONLY | O_NOCTTY | O_NONBLOCK, 0) : -1;
	if (fd < 0)
		return false;
	enum bad code = read_some(fd, start, n, &got);
	now->close(fd);
	return !code && got == n && memcmp(start, with, n) == 0;
}

static enum bad sync_fd(int fd)
{
	int r;
	AGAIN(r, now->fsync(fd));
	return r ? file_code(errno) : FINE;
}

/* A short write is followed by another one for the rest: if the disk is full, that one says so. */
static enum bad write_all(int fd, const char *bytes, size_t len)
{
	while (len) {
		ssize_t n;
		AGAIN(n, now->write(fd, bytes, len));
		if (n < 0)
			return file_code(errno);
		if (n == 0)
			return BAD_IO;
		bytes += n;
		len -= (size_t)n;
	}
	return FINE;
}

const char *file_name(const char *path)
{
	const char *slash = strrchr(path, '/');
	return slash ? slash + 1 : path;
}

/* The folder a path stands in, from mem_get; null when memory ran out. */
static char *parent_of(const char *path)
{
	size_t len = (size_t)(file_name(path) - path);
	while (len > 1 && path[len - 1] == '/')
		len--;
	const char *from = len ? path : ".";
	len = len ? len : 1;
	char *parent = mem_get(len + 1);
	if (!parent)
		return NULL;
	memcpy(parent, from, len);
	parent[len] = '\0';
	return parent;
}

static enum bad sync_parent(const char *path)
{
	char *parent = parent_of(path);
	if (!parent)
		return BAD_MEMORY;
	enum bad code = folder_sync(parent);
	mem_drop(parent);
	return code;
}

/* Opens a new file beside `path`; its name comes from mem_get. The number makes two replacements
 * in one program differ, the process id those of two programs, O_EXCL what is left over. */
static enum bad open_beside(const char *path, mode_t mode, char **name, int *fd)
{
	static unsigned count;
	enum { EXTRA = 48, TRIES = 100 };
	size_t room = strlen(path) + EXTRA;
	char *beside = mem_get(room);
	if (!beside)
		return BAD_MEMORY;
	enum bad code = BAD_REPEATED;
	for (int i = 0; i < TRIES && code == BAD_REPEATED; i++) {
		snprintf(beside, room, "%s.new-%ld-%u", path, (long)getpid(), count++);
		*fd = call_open(beside, O_WRONLY | O_CREAT | O_EXCL | O_NOFOLLOW, mode);
		code = *fd < 0 ? file_code(errno) : FINE;
	}
	if (code)
		mem_drop(beside);
	else
		*name = beside;
	return code;
}

enum bad file_replace(const char *path, const void *bytes, size_t len, bool secret)
{
	enum file_kind there = file_kind(path);
	if (there == FILE_FOLDER || there == FILE_OTHER)
		return BAD_TYPE;
	char *beside, *parent = parent_of(path);
	int fd;
	if (!parent)
		return BAD_MEMORY;
	enum bad code = open_beside(path, secret ? 0600 : 0666, &beside, &fd);
	if (code) {
		mem_drop(parent);
		return code;
	}
	code = write_all(fd, bytes, len);
	if (!code)
		code = sync_fd(fd);
	if (now->close(fd) && !code)
		code = file_code(errno);
	if (!code && now->rename(beside, path))
		code = file_code(errno);
	if (code)
		now->unlink(beside);
	else
		code = folder_sync(parent);
	mem_drop(beside);
	mem_drop(parent);
	return code;
}

enum bad file_rename(const char *from, const char *to)
{
	if (now->rename(from, to))
		return file_code(errno);
	return sync_parent(to);
}

enum bad file_reserve(const char *path, int64_t len)
{
	struct stat st;
	int r, fd = call_open(path, O_RDWR | O_CREAT | O_NOFOLLOW | O_NONBLOCK, 0600);
	if (fd < 0)
		return file_code(errno);
	enum bad code = now->fstat(fd, &st) ? file_code(errno) : FINE;
	if (!code && !S_ISREG(st.st_mode))
		code = BAD_TYPE;
	bool ours = !code;
	AGAIN(r, code ? 0 : now->reserve(fd, (off_t)len));
	bool cannot = r && (errno == EOPNOTSUPP || errno == EINVAL || errno == ENOSYS);
	if (r && !cannot)
		code = file_code(errno);
	now->close(fd);
	if (ours && (code || cannot))
		now->unlink(path);
	return code;
}

enum bad file_remove(const char *path)
{
	return now->unlink(path) ? file_code(errno) : FINE;
}

enum file_kind file_kind(const char *path)
{
	struct stat st;
	if (now->stat(path, &st))
		return FILE_NONE;
	if (S_ISREG(st.st_mode))
		return FILE_PLAIN;
	return S_ISDIR(st.st_mode) ? FILE_FOLDER : FILE_OTHER;
}

bool file_is_open_to_others(const char *path)
{
	struct stat st;
	if (now->stat(path, &st) || !S_ISREG(st.st_mode))
		return false;
	return (st.st_mode & (S_IRGRP | S_IROTH)) && !(st.st_mode & S_IXUSR);
}

/* ---- files that grow ------------------------------------------------------------------------- */

/* Locked first, measured afterwards: until then somebody else may still be adding to it. Or may have
 * put another file in its place, whose lock this is not. */
static enum bad lock_and_measure(int fd, const char *path, int64_t *len)
{
	struct stat st, there;
	int r;
	AGAIN(r, now->flock(fd, LOCK_EX | LOCK_NB));
	if (r)
		return file_code(errno);
	if (now->fstat(fd, &st))
		return file_code(errno);
	if (!S_ISREG(st.st_mode))
		return BAD_TYPE;
	if (now->stat(path, &there))
		return errno == ENOENT ? BAD_BUSY : file_code(errno);
	if (there.st_ino != st.st_ino || there.st_dev != st.st_dev)
		return BAD_BUSY;
	*len = st.st_size;
	return FINE;
}

enum bad file_open(const char *path, struct file *out)
{
	int64_t len = 0;
	int fd = call_open(path, O_RDWR | O_APPEND | O_CREAT | O_NOFOLLOW | O_NONBLOCK, 0600);
	if (fd < 0)
		return file_code(errno);
	enum bad code = lock_and_measure(fd, path, &len);
	if (code) {
		now->close(fd);
		return code;
	}
	*out = (struct file){fd, len, false};
	return FINE;
}

enum bad file_read_at(const struct file *f, int64_t at, void *out, size_t len)
{
	char *into = out;
	if (f->fd < 0)
		return BAD_IO;
	if (at < 0 || at > f->len || len > (uint64_t)(f->len - at))
		return BAD_RANGE;
	while (len) {
		ssize_t n;
		AGAIN(n, now->pread(f->fd, into, len, (off_t)at));
		if (n <= 0)
			return n ? file_code(errno) : BAD_IO;
		into += n;
		at += n;
		len -= (size_t)n;
	}
	return FINE;
}

enum bad file_cut(struct file *f, int64_t len)
{
	int r;
	if (f->fd < 0 || f->spoiled)
		return BAD_IO;
	if (len < 0 || len > f->len)
		return BAD_RANGE;
	AGAIN(r, now->ftruncate(f->fd, (off_t)len));
	enum bad code = r ? file_code(errno) : sync_fd(f->fd);
	if (code)
		f->spoiled = true;
	else
		f->len = len;
	return code;
}

enum bad file_append(struct file *f, const void *bytes, size_t len)
{
	if (f->fd < 0 || f->spoiled)
		return BAD_IO;
	enum bad code = write_all(f->fd, bytes, len);
	if (code) {
		file_cut(f, f->len); /* a failure is kept in f->spoiled */
		return code;
	}
	code = sync_fd(f->fd);
	if (code)
		f->spoiled = true;
	else
		f->len += (int64_t)len;
	return code;
}

void file_close(struct file *f)
{
	if (f->fd >= 0)
		now->close(f->fd);
	*f = (struct file){-1, 0, false};
}

/* ---- folders --------------------------------------------------------------------------------- */

/* Some file systems cannot sync a folder and say EINVAL: there is nothing more to be done there. */
enum bad folder_sync(const char *path)
{
	int r, fd = call_open(path, O_RDONLY | O_DIRECTORY, 0);
	if (fd < 0)
		return file_code(errno);
	AGAIN(r, now->fsync(fd));
	enum bad code = r && errno != EINVAL ? file_code(errno) : FINE;
	now->close(fd);
	return code;
}

static enum bad make_one(const char *path)
{
	if (now->mkdir(path, 0700) == 0)
		return sync_parent(path);
	int error = errno;
	if (error != EEXIST)
		return file_code(error);
	return file_kind(path) == FILE_FOLDER ? FINE : BAD_TYPE;
}

enum bad folder_make(const char *path)
{
	if (file_kind(path) == FILE_FOLDER)
		return FINE;
	enum bad code = make_one(path);
	if (code != BAD_ABSENT)
		return code;
	char *parent = parent_of(path);
	if (!parent)
		return BAD_MEMORY;
	/* a path that is its own parent, "" or "/", cannot be helped */
	code = strlen(parent) < strlen(path) ? folder_make(parent) : BAD_ABSENT;
	mem_drop(parent);
	return code ? code : make_one(path);
}

char *folder_join(struct arena *a, const char *folder, const char *name)
{
	size_t len = strlen(folder), more = strlen(name);
	size_t slash = !len || folder[len - 1] != '/';
	char *made = arena_get(a, len + slash + more + 1);
	if (!made)
		return NULL;
	memcpy(made, folder, len);
	if (slash)
		made[len] = '/';
	memcpy(made + len + slash, name, more);
	return made;
}

struct found {
	struct folder_entry entry;
	struct found *next;
};

static bool is_link(const char *path)
{
	struct stat st;
	return now->lstat(path, &st) == 0 && S_ISLNK(st.st_mode);
}

static enum bad entry_add(
	const char *folder, const char *name, struct arena *a, struct found **list)
{
	struct found *one = arena_new(a, struct found);
	char *copy = arena_copy(a, name, strlen(name));
	char *path = folder_join(a, folder, name);
	if (!one || !copy || !path)
		return BAD_MEMORY;
	*one = (struct found){{copy, file_kind(path), is_link(path)}, *list};
	*list = one;
	return FINE;
}

static enum bad entries_read(
	DIR *dir, const char *folder, struct arena *a, struct found **list, size_t *n)
{
	struct dirent *e;
	while (errno = 0, (e = now->readdir(dir))) {
		if (strcmp(e->d_name, ".") == 0 || strcmp(e->d_name, "..") == 0)
			continue;
		if (*n >= FOLDER_MOST)
			return BAD_SIZE;
		enum bad code = entry_add(folder, e->d_name, a, list);
		if (code)
			return code;
		++*n;
	}
	return errno ? file_code(errno) : FINE;
}

static int by_name(const void *x, const void *y)
{
	const struct folder_entry *a = x, *b = y;
	return strcmp(a->name, b->name);
}

enum bad folder_list(const char *path, struct arena *a, struct folder_entry **list, size_t *n)
{
	struct found *found = NULL;
	size_t count = 0;
	DIR *dir = now->opendir(path);
	if (!dir)
		return file_code(errno);
	enum bad code = entries_read(dir, path, a, &found, &count);
	closedir(dir);
	if (code)
		return code;
	struct folder_entry *sorted = arena_many(a, count + 1, struct folder_entry);
	if (!sorted)
		return BAD_MEMORY;
	for (size_t i = 0; found; found = found->next)
		sorted[i++] = found->entry;
	if (count)
		qsort(sorted, count, sizeof *sorted, by_name);
	*list = sorted;
	*n = count;
	return FINE;
}

enum bad folder_own(enum folder_use use, struct arena *a, char **path)
{
	static const struct {
		const char *variable, *below_home;
	} place[] = {
		[FOLDER_DATA] = {"XDG_DATA_HOME", ".local/share"},
		[FOLDER_STATE] = {"XDG_STATE_HOME", ".local/state"},
		[FOLDER_CONFIG] = {"XDG_CONFIG_HOME", ".config"},
	};
	const char *base = getenv(place[use].variable), *home = getenv("HOME");
	char *made;
	if (base && *base == '/')
		made = folder_join(a, base, "barwright");
	else if (!home || *home != '/')
		return BAD_MISSING;
	else
		made = arena_format(a, "%s/%s/barwright", home, place[use].below_home);
	if (!made)
		return BAD_MEMORY;
	*path = made;
	return FINE;
}

enum bad folder_shared(size_t i, struct arena *a, char **path)
{
	const char *dirs = getenv("XDG_DATA_DIRS");
	if (!dirs || !*dirs)
		dirs = "/usr/local/share:/usr/share";
	for (size_t len; *dirs; dirs += len + (dirs[len] == ':')) {
		len = strcspn(dirs, ":");
		if (*dirs != '/' || i-- > 0)
			continue;
		char *base = arena_copy(a, dirs, len);
		char *made = base ? folder_join(a, base, "barwright") : NULL;
		if (!made)
			return BAD_MEMORY;
		*path = made;
		return FINE;
	}
	return BAD_ABSENT;
}
