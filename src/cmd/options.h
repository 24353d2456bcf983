/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading a command line: the options that every command knows, and those of one command. All are
 * whole words; what is wrong with one is said here, with the nearest word that there is. */
#ifndef BARWRIGHT_CMD_OPTIONS_H
#define BARWRIGHT_CMD_OPTIONS_H

#include <getopt.h>

#include "cmd/command.h"

/* Takes argv[*at] if every command knows it: 1 taken, 0 not one of them, -1 its value is missing or
 * empty, as "$NAME" is where NAME was never set: work must not go to another person's record. */
int options_take(struct options *o, char **argv, int *at);

/* The next option of a command: what getopt_long(argc, argv, ":", known, NULL) gives, but '?', after
 * it was said on stderr, for every word that cannot be read. The caller sets optind before the first
 * call. `known` has no letter twice. */
int option_next(const struct command *c, int argc, char **argv, const struct option *known);

/* " (did you mean '--count'?)" into `out`, or nothing: the option nearest to `word`, one of `known`
 * (may be null) or one that every command knows. */
void option_near_add(struct text *out, const char *word, const struct option *known);

/* Is it a code of 1 to `most` letters, digits and "-", as sittings and pieces of work have one? */
bool option_is_code(const char *s, size_t most);
enum { PIECE_MOST = 64 };

#endif
