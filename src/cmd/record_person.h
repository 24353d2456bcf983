/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Learners as people name them: by a name, by a code, several codes being one person. */
#ifndef BARWRIGHT_CMD_RECORD_PERSON_H
#define BARWRIGHT_CMD_RECORD_PERSON_H

#include <barwright/base/mem.h>
#include <barwright/record/learner.h>

#include "cmd/command.h"

/* All codes of one person; code[0] stands for them. */
struct person {
	const char **code;
	size_t n;
};
/* Who is meant by a name or a code. A name or code that the list does not have stands for itself. Words on
 * stderr and EXIT_CANNOT when several persons have this name: their codes, what of each is sealed, and what
 * to do. */
int person_find(const char *data, struct arena *a, const char *name, struct person *out);
bool person_has(const struct person *p, const char *code);

/* The strands that are meant: a file, a folder as in strand_paths, the id of a strand, a learner. With
 * nothing named, those of the data folder. */
int strands_meant(
	const char *data, char **name, size_t n, struct arena *a, const char ***out, size_t *count);

/* Is anything known of this code where `data` is: a name, or a strand? */
bool code_is_known(const char *data, struct arena *a, const char *code);

/* Puts a code made elsewhere and its name on the list; words on stderr when it cannot. */
int known_add(const char *data, const char *code, const char *name);

/* record same CODE CODE..., record same --apart CODE */
int record_same(const struct options *o, struct arena *a, const char *data, int argc, char **argv);
/* record known CODE NAME */
int record_known(const struct options *o, struct arena *a, const char *data, int argc, char **argv);

#endif
