/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only place that opens, reads, writes, locks and syncs files. Every call that changes or tells
 * something goes through one table, so that a test can let the n-th of them fail. Paths are the
 * system's: bytes ending in 0, shown to people only through text_add_safe.
 *
 * Interrupted calls (EINTR) are made again, except close. Nothing here prints. */
#ifndef BARWRIGHT_BASE_FILE_H
#define BARWRIGHT_BASE_FILE_H

#include <dirent.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>
#include <sys/stat.h>
#include <sys/types.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

/* ---- the door -------------------------------------------------------------------------------- */

/* What is asked of the system, with the meanings of POSIX (and flock(2)). */
struct file_system {
	int (*open)(const char *path, int flags, mode_t mode);
	ssize_t (*read)(int fd, void *out, size_t len);
	ssize_t (*pread)(int fd, void *out, size_t len, off_t at);
	ssize_t (*write)(int fd, const void *bytes, size_t len);
	int (*fsync)(int fd);
	int (*ftruncate)(int fd, off_t len);
	int (*reserve)(int fd, off_t len); /* posix_fallocate from 0 on; -1 and errno */
	int (*close)(int fd);
	int (*flock)(int fd, int operation);
	int (*fstat)(int fd, struct stat *out);
	int (*stat)(const char *path, struct stat *out);
	int (*lstat)(const char *path, struct stat *out);
	int (*rename)(const char *from, const char *to);
	int (*unlink)(const char *path);
	int (*mkdir)(const char *path, mode_t mode);
	DIR *(*opendir)(const char *path);
	struct dirent *(*readdir)(DIR *folder);
};
const struct file_system *file_system_real(void);
/* For tests: from now on everything goes through `table`, which must outlive its use; null: the
 * real one again. */
void file_system_replace(const struct file_system *table);

/* errno as a code: ENOENT, ENOTDIR BAD_ABSENT; EACCES, EPERM, EROFS, ELOOP BAD_DENIED; ENOSPC,
 * EDQUOT, EFBIG BAD_FULL; EWOULDBLOCK BAD_BUSY; ENOMEM BAD_MEMORY; EISDIR BAD_TYPE; ENAMETOOLONG
 * BAD_SIZE; EEXIST BAD_REPEATED; ENXIO BAD_TYPE; EMFILE, ENFILE BAD_CROWDED; all else BAD_IO. Never
 * FINE. */
enum bad file_code(int error);
/* What went wrong with a file and what to do about it, for a person; lower case, no full stop,
 * static: "there is no room left on the disk: make room and try again". `code` is what a function
 * here returned. file_words puts "PATH: " before it. */
const char *file_advice(enum bad code);
void file_words(enum bad code, const char *path, struct text *out);

/* ---- standard streams ------------------------------------------------------------------------ */

/* Puts something on each of the descriptors 0, 1 and 2 that is closed, so that no file opened later
 * gets its number: what is meant for a closed stdout must never reach a strand. Reading from 0 and
 * writing to 1 and 2 then fail as before, with EBADF. Call it before anything is opened. */
enum bad file_hold_standard(void);

/* ---- whole files ----------------------------------------------------------------------------- */

/* All bytes of a file, with a 0 behind them, in `a`; or, when `a` is null, from mem_get, and the
 * caller drops them. BAD_SIZE when there are more than `most`; BAD_TYPE for what is no plain file, be
 * it a folder, a device, or a pipe, which is not waited for; and as file_code says. */
enum bad file_read(const char *path, size_t most, struct arena *a, char **bytes, size_t *len);
/* The same for what a person named on the command line: pipes and devices are read to their end, as
 * long as that may take. */
enum bad file_read_named(const char *path, size_t most, struct arena *a, char **bytes, size_t *len);

/* Does a plain file of this name begin with these bytes? False too when it cannot be read. */
bool file_begins(const char *path, const char *with);

/* Puts a whole file in the place of the old one or of none: afterwards, and after a power cut at
 * any moment, there is either the old one or the new one. Readable and writable for the owner only
 * (0600) when `secret`, else 0666 less the umask. On failure the old one is untouched, except that when
 * only the folder could not be synced the new one stands there but might not outlast a power
 * cut. What is neither a file nor absent, a folder or a device, is left alone:
 * BAD_TYPE. */
enum bad file_replace(const char *path, const void *bytes, size_t len, bool secret);

/* Renames and makes the new name last a power cut. Both in one folder. */
enum bad file_rename(const char *from, const char *to);
/* Makes a file of this many bytes that hold nothing (0600), to be taken away when the room is needed; one
 * of this name is made that long. BAD_FULL: there is not so much room, and no file is left; BAD_TYPE as in
 * file_read. Where the file system cannot reserve, FINE, and nothing is reserved. */
enum bad file_reserve(const char *path, int64_t len);
/* Takes a file away; one that is not there is BAD_ABSENT. */
enum bad file_remove(const char *path);

enum file_kind { FILE_NONE, FILE_PLAIN, FILE_FOLDER, FILE_OTHER };
/* What stands at a path, links followed. What cannot be looked at counts as FILE_NONE. */
enum file_kind file_kind(const char *path);
/* Can others than its owner read a file that ought to be secret? On media without owners (FAT) every
 * file looks as if all could read and run it, which says nothing: false there. */
bool file_is_open_to_others(const char *path);

/* ---- files that grow ------------------------------------------------------------------------- */

/* A file open for reading and for adding at its end, locked against every other opener of this
 * kind. All zero but fd = -1 is a closed one. */
struct file {
	int fd;      /* -1: closed */
	int64_t len; /* bytes whose place in the file is known: what was there and what was added */
	bool spoiled; /* a sync or a cut failed: nothing more may be added in this run */
};

/* Opens, makes it (0600) when missing, and locks it without waiting. BAD_BUSY: another program, or
 * another opener in this one, holds it or has just replaced it. BAD_TYPE: not a plain file. A link
 * is BAD_DENIED. */
enum bad file_open(const char *path, struct file *out);
/* len bytes from `at`, which must lie inside the file (BAD_RANGE). */
enum bad file_read_at(const struct file *f, int64_t at, void *out, size_t len);
/* Adds the bytes at the end and waits until the disk has them: FINE means they last. Otherwise
 * nothing is added: what was written of them is cut off again. When even that fails, or the disk
 * did not confirm, the file is `spoiled`: after a failed fsync a second one may report success with
 * nothing on the disk (Rebello et al., "Can Applications Recover from fsync Failures?", USENIX ATC
 * 2020), so it is never tried again. Adding to a spoiled file is BAD_IO. */
enum bad file_append(struct file *f, const void *bytes, size_t len);
/* Cuts the file to `len` <= f->len bytes and waits for the disk. A failure spoils it. */
enum bad file_cut(struct file *f, int64_t len);
/* Gives the lock back. Accepts a closed one. */
void file_close(struct file *f);

/* ---- folders --------------------------------------------------------------------------------- */

/* Makes a folder and what is missing above it, each 0700. One that is there is FINE. */
enum bad folder_make(const char *path);
/* Makes the names in a folder last a power cut. */
enum bad folder_sync(const char *path);

struct folder_entry {
	const char *name;
	enum file_kind kind; /* of what a link leads to */
	bool is_link;        /* a symbolic one: it may lead anywhere, or back up */
};
enum { FOLDER_MOST = 100000 };
/* What a folder holds, without "." and "..", in the order of the bytes of the names; in `a`.
 * More than FOLDER_MOST entries: BAD_SIZE. */
enum bad folder_list(const char *path, struct arena *a, struct folder_entry **list, size_t *n);

/* "FOLDER/NAME" in `a`, with one slash between; null when memory ran out. */
char *folder_join(struct arena *a, const char *folder, const char *name);
/* The part of a path behind its last slash. */
const char *file_name(const char *path);

/* Where this program's files belong (XDG Base Directory Specification 0.8): the variable named, and
 * where it is unset, empty or not absolute, the folder under HOME; "/barwright" behind it.
 * BAD_MISSING when HOME is needed and is not an absolute path either. The folder need not exist. */
enum folder_use {
	FOLDER_DATA,   /* XDG_DATA_HOME,   ~/.local/share: strands, keys, courses of this person */
	FOLDER_STATE,  /* XDG_STATE_HOME,  ~/.local/state: what may be lost */
	FOLDER_CONFIG, /* XDG_CONFIG_HOME, ~/.config */
};
enum bad folder_own(enum folder_use use, struct arena *a, char **path);
/* The i-th system folder (from 0) with this program's data: entries of XDG_DATA_DIRS that are
 * absolute, or of /usr/local/share:/usr/share; "/barwright" behind it. BAD_ABSENT: there are no
 * more. */
enum bad folder_shared(size_t i, struct arena *a, char **path);

#endif
