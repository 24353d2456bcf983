/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Learners by name and by code. Lines carry the code only, which says nothing about the person; the
 * list that joins the two, FOLDER/learners.txt, is an ordinary file that may be changed or thrown
 * away: without it the lines are nobody's. */
#ifndef BARWRIGHT_RECORD_LEARNER_H
#define BARWRIGHT_RECORD_LEARNER_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

/* "l-" and 8 digits of Crockford's base 32 (no I, L, O, U): 40 random bits. */
enum { LEARNER_CODE = 10, LEARNER_NAME_MOST = 200 };

bool learner_is_code(const char *s);

/* The code of a learner of this name on this machine, made at first use and kept. Null or "" is the
 * one learner of a machine that nobody named: "learner". BAD_SIZE, BAD_ENCODING: the name is too
 * long, not UTF-8, holds controls or is "same as" a code; BAD_SYNTAX: the list is damaged. `why` may be null. */
enum bad learner_code(
	const char *folder, const char *name, char out[static LEARNER_CODE + 1], struct text *why);
/* The name that goes with a code, in `a`. BAD_UNKNOWN: the list has none. */
enum bad learner_name(const char *folder, const char *code, struct arena *a, const char **name);

/* Every learner of the list, in the order of its names; none when there is no list. In `a`. A name that is
 * there twice is two persons, unless the list says that their codes are one. A code that is joined with
 * others and has no name is there too, with "". */
struct learner_row {
	const char *code, *name;
	const char *
		person; /* a code that stands for all codes of this person; `code` for a lone one */
};
enum bad learner_list(const char *folder, struct arena *a, struct learner_row **list, size_t *n,
	struct text *why);
/* The person of a code; the code itself when the list does not know it. */
const char *learner_person(const struct learner_row *row, size_t n, const char *code);
/* Takes all rows with this code out of the list. BAD_UNKNOWN: there is none. */
enum bad learner_remove(const char *folder, const char *code, struct text *why);
/* Adds a row made elsewhere. One with this code is there: BAD_REPEATED, also when it has the same
 * name. */
enum bad learner_add(const char *folder, const char *code, const char *name, struct text *why);

/* From now on these codes are one person, with all that any of them is joined with. Nothing but the list
 * changes. BAD_SYNTAX: one is no code. */
enum bad learner_join(const char *folder, const char *const *code, size_t n, struct text *why);
/* This code is a person of its own again; the others stay together. BAD_UNKNOWN: it is joined with
 * none. */
enum bad learner_part(const char *folder, const char *code, struct text *why);

#endif
