/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which codes of a learners' list are one person. The list says of two codes that they are one; from all
 * that it says follow the persons. Pure but for the arena. */
#ifndef BARWRIGHT_RECORD_JOINED_H
#define BARWRIGHT_RECORD_JOINED_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/record/learner.h>

#include "record/name_list.h"

struct joined_code {
	char code[LEARNER_CODE + 1];
	size_t up; /* place of the person's first code, which is its own */
};
struct joined {
	struct joined_code *at; /* in the order of their bytes, each once */
	size_t n;
};

/* Is this, where a name stands, the word of a join? Then *other is the other code. */
bool joined_row(struct slice name, struct slice *other);
/* What a list says, and that `code[0]` to `code[n - 1]` are one person too. In `a`. BAD_MEMORY. */
enum bad joined_read(const struct name_list *l, const char *const *code, size_t n, struct arena *a,
	struct joined *out);
/* The first code of the person with this one; null: it is joined with none. */
const char *joined_person(const struct joined *j, const char *code);
/* Adds a row for each code, that it is the same as its person's first. `without`: this one is left out
 * and the others stay together; null: none is. */
void joined_write(const struct joined *j, const char *without, struct text *out);

#endif
