/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Learners by name and by code. Lines carry the code only, which says nothing about the person; the
 * list that joins the two, FOLDER/learners.txt, is an ordinary file that may be changed or thrown
 * away: without it the lines are nobody's. */
#ifndef BARWRIGHT_RECORD_LEARNER_H
#define BARWRIGHT_RECORD_LEARNER_H

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

/* "l-" and 8 digits of Crockford's base 32 (no I, L, O, U): 40 random bits. */
enum { LEARNER_CODE = 10, LEARNER_NAME_MOST = 200 };

/* The code of a learner of this name on this machine, made at first use and kept. Null or "" is the
 * one learner of a machine that nobody named: "learner". BAD_SIZE, BAD_ENCODING: the name is too
 * long, not UTF-8 or holds controls; BAD_SYNTAX: the list is damaged. `why` may be null. */
enum bad learner_code(
	const char *folder, const char *name, char out[static LEARNER_CODE + 1], struct text *why);
/* The name that goes with a code, in `a`. BAD_UNKNOWN: the list has none. */
enum bad learner_name(const char *folder, const char *code, struct arena *a, const char **name);

#endif
