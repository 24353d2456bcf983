/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: what is taken already in one course, so that no code stands twice in it. */
#ifndef BARWRIGHT_COURSE_CLAIMS_H
#define BARWRIGHT_COURSE_CLAIMS_H

#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>

enum claim_kind { CLAIM_NONE, CLAIM_LESSON, CLAIM_PROBLEM, CLAIM_STATION, CLAIM_FILE };

struct claim {
	enum claim_kind kind;
	uint32_t hash;    /* of kind and code */
	const char *code; /* not copied */
	struct place place;
};

/* A hash table with open addressing; all zero is an empty one. It lives in an arena. */
struct claims {
	struct claim *slot;
	size_t n, room; /* room is 0 or a power of two, at least a third larger than n */
};

/* Takes a code; if somebody has it already, *first tells where and nothing changes (BAD_REPEATED).
 * BAD_MEMORY. */
enum bad claims_add(struct arena *a, struct claims *s, enum claim_kind kind, const char *code,
	struct place place, struct place *first);
/* Null when it is not there. */
const struct claim *claims_find(const struct claims *s, enum claim_kind kind, const char *code);

#endif
