/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lists of names that a person may edit: a first line that says what it is, then one line each: a key of
 * fixed length, one TAB, the name. Lines end in LF; an editor may have left out the last one, or have put CR
 * before them and a mark of byte order first. A list is in order as a whole or BAD_SYNTAX. */
#ifndef BARWRIGHT_RECORD_NAME_LIST_H
#define BARWRIGHT_RECORD_NAME_LIST_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

#include "record/canon.h"

/* What kind of list. */
struct name_list_form {
	const char *head;  /* the first line, with its LF */
	const char *what;  /* "learners" */
	const char *lines; /* how a line looks, for a person */
	size_t key_len, name_most, bytes_most;
	bool (*is_key)(const char *s, size_t len);
};

/* 1 to `most` bytes of UTF-8 without controls, also those that turn the order of a text round. BAD_SIZE,
 * BAD_ENCODING. */
enum bad name_check(const char *s, size_t len, size_t most);

struct name_list {
	const struct name_list_form *form;
	struct slice text; /* in order, and ended by LF */
	size_t fault_line; /* of one that is not; 0: not of a line */
};
struct name_row {
	struct slice key, name;
};

/* The list at `path` as it is, or an empty one when there is none; in `a`. What is no plain file is
 * BAD_TYPE. On BAD_SYNTAX fault_line is set; nothing else of *out may be used then. */
enum bad name_list_load(const struct name_list_form *form, const char *path, struct arena *a,
	struct name_list *out);
/* Walks the rows: *at is 0 first; false at the end. */
bool name_list_next(const struct name_list *l, size_t *at, struct name_row *out);
size_t name_list_count(const struct name_list *l);
/* What is the matter with the list and what to do. */
void name_list_words(const struct name_list *l, enum bad code, const char *path, struct text *why);

#endif
