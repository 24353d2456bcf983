/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Commands: one file and one table entry each. main reads the options that every command knows,
 * finds the entry and runs it; the entry's usage is its --help. */
#ifndef BARWRIGHT_CMD_COMMAND_H
#define BARWRIGHT_CMD_COMMAND_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

/* Exit status. */
enum {
	EXIT_DONE = 0, /* done */
	EXIT_NO = 1, /* the answer is no: faults found, an audit failed, a candidate did not pass */
	EXIT_CANNOT = 2, /* it cannot be done: usage, file, terminal, disk */
};

/* What the options said that every command knows. */
struct options {
	bool plain;          /* --plain: line by line, no cursor addressing */
	bool words;          /* --words: figures in words only */
	bool json;           /* --json */
	const char *data;    /* --data DIR; null: the standard folder */
	const char *courses; /* --courses DIR; null: the standard folders */
	const char *course;  /* --course CODE; null: the first one */
	const char *learner; /* --learner NAME; null: the one learner of this machine */
};

struct command {
	const char *name;
	const char *usage;   /* "barwright check [--json] PATH..." */
	const char *summary; /* one line for the list of commands */
	const char *help;    /* more lines, or "" */
	/* argv[0] is the command's name; global options are taken out already. Gives the exit status.
	 * Writes its results to stdout and its talk to stderr. */
	int (*run)(const struct options *o, int argc, char **argv);
};

extern const struct command bench_command, check_command, drill_command, key_command, learn_command,
	rate_command, record_command, show_command, sit_command, work_command;

/* "barwright: WORDS" to stderr, through the safe filter; gives EXIT_CANNOT. */
int cannot(const char *format, ...) __attribute__((format(printf, 1, 2)));
/* The same with what the code of a file's function means for this path (base/file.h). */
int cannot_file(enum bad code, const char *path);
/* The same with "Try 'barwright NAME --help'." behind it. */
int cannot_read_usage(const struct command *c, const char *format, ...)
	__attribute__((format(printf, 2, 3)));
/* Writes a whole text to stdout and says so when it could not be written (full disk); a reader that
 * went away is no fault. Gives `status`, or EXIT_CANNOT. */
int put_out(const struct text *t, int status);
/* Writes a file of results. What stands there already is replaced only when it begins like one of these:
 * a key, a record or a course that was named by mistake is not lost (BAD_REPEATED). */
enum bad put_file(const char *path, const char *begins, const void *bytes, size_t len, bool secret);

#endif
