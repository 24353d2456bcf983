/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A school's roster: which assessors' and which machines' keys it vouches for, and for which days,
 * signed with a key of the school that is kept away from all of them. Keys of machines are easily
 * stolen and should be listed for a term at most; what a key signed on other days counts for nothing (a
 * seal) or is told (a machine's lines). The days are those that the signer states: somebody who has
 * stolen a key can state any. */
#ifndef BARWRIGHT_RECORD_ROSTER_H
#define BARWRIGHT_RECORD_ROSTER_H

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/key.h>

struct roster {
	struct key_ring assessors, machines; /* with their days */
	const char *by;                      /* whose roster, as the reader calls that key */
};

/* Adds the signed roster to `out`. Names as in record/assessor.h; the days of every key are a UTC day
 * each, from_ms at its beginning, until_ms at its end. BAD_SIZE, BAD_ENCODING: a name cannot stand
 * there; BAD_RANGE: days that are none, or in the wrong order; BAD_MEMORY. */
enum bad roster_write(const struct key_ring *assessors, const struct key_ring *machines,
	const char *school, const struct sign_pair *pair, struct text *out);

/* A roster that a key of `accepted` has signed; in `a`. BAD_SYNTAX, BAD_VERSION: not such a file;
 * BAD_SEAL: it was changed; BAD_UNKNOWN: nobody accepts its key here. `why` may be null. */
enum bad roster_read(const char *path, const struct key_ring *accepted, struct arena *a,
	struct roster *out, struct text *why);

/* "2026-09-01" as its first and last millisecond. BAD_SYNTAX, BAD_RANGE. */
enum bad roster_day(const char *s, size_t len, int64_t *first_ms, int64_t *last_ms);

#endif
