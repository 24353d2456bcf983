/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seals. At the end of a supervised sitting an assessor adds one line to the strand, signed with a key
 * that never stayed on that machine: it fixes how many lines there are, the hash of the last one, the
 * Merkle root over all of them and the hash of all their signatures, and names the sitting that was
 * watched. From then on nobody without the assessor's key can change, put in, take out or move a line
 * before it unnoticed. The same is noted in the assessor's own witness list (record/witness.h).
 *
 * Body of a line of kind "seal", version 1 (names in this order; texts unless said otherwise):
 *
 *     assessor_pk     64 hex digits: the public key that signs this line
 *     by              name of the assessor
 *     head            hash of line size - 1
 *     identity_check  how the assessor knew who sat there: "photo-card", "known-in-person", ...
 *     root            Merkle root over the hashes of lines 0 to size - 1 (RFC 9162, 2.1.1)
 *     said_time       the time by the assessor's own watch, "2026-11-25T09:30:00.000Z"
 *     signatures      SHA-256 over the signature texts of lines 0 to size - 1, one behind the other
 *     sitting         code of the sitting that was watched
 *     size            a count: the lines before this one
 *
 * A seal HOLDS when its line is valid, size is its own place, head, root and signatures fit, and its
 * key is one the reader accepts. A line is ASSESSED when its sitting is named by a seal that holds and
 * stands after it; everything else is practice. Practice before such a seal cannot be changed any more
 * either, but nobody watched it. */
#ifndef BARWRIGHT_RECORD_SEAL_H
#define BARWRIGHT_RECORD_SEAL_H

#include <stdbool.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/record/assessor.h>
#include <barwright/record/key.h>
#include <barwright/record/strand.h>

struct line_seal {
	uint64_t size;
	struct hash head, root, signatures;
	bool has_signatures; /* a seal without them: signatures are checked one by one */
	const char *sitting; /* never null */
	const char *identity_check;
	const char *said_time;
	const char *by;
	unsigned char assessor[SIGN_PUBLIC];
};
enum bad line_seal_write(const struct line_seal *x, char *out, size_t room, size_t *len);
/* As the readers of record/lines.h. */
enum bad line_seal_read(const struct strand_line *line, struct arena *a, struct line_seal *out);

/* ---- making one ------------------------------------------------------------------------------ */

struct seal_how {
	const char *sitting;        /* null: the last one of the strand */
	const char *identity_check; /* null: "not-stated" */
	const char *said_time;      /* null: the machine's clock, which is then all there is */
	const struct sign_pair *pair;
	const struct assessor *assessor;
	bool all_days; /* the sitting was opened on several days, and all of them were watched */
};
/* Reads the whole strand back from the disk, checks every line, and adds the seal. When its last line
 * is a seal of this key for this sitting already, nothing is added and FINE is given. `out`, may be
 * null, gets the body with its texts in `a`; `why` may be null.
 * BAD_CHAIN, BAD_SEAL, BAD_SYNTAX, ...: the strand is at fault and is not sealed; BAD_MISSING: it holds
 * no such sitting; BAD_ORDER: this sitting was opened again after half a day or more, and nobody says
 * that all of it was watched; and as strand_append. */
enum bad seal_strand(struct strand *s, const struct seal_how *how, struct arena *a,
	struct line_seal *out, struct text *why);

/* ---- finding those of a strand --------------------------------------------------------------- */

enum seal_worth {
	SEAL_HOLDS,
	SEAL_STRANGER, /* its key is not one the reader accepts */
	SEAL_BROKEN,   /* its key is accepted and something does not fit */
};
struct seal {
	uint64_t n; /* place of its line */
	enum seal_worth worth;
	const char *words; /* what is the matter, for a person; "" when it holds */
	struct line_seal body;
	const char *accepted_as; /* name on the reader's ring; "" for a stranger */
	char key[KEY_ID + 1];
	int64_t at_ms;
	struct seal *next;
};
struct seals {
	const struct seal *first; /* in the order of the strand */
	size_t n, nhold;
	uint64_t fixed;   /* lines before the last seal that holds; 0: none */
	uint64_t checked; /* of these: lines whose hashes and signatures that seal covers, for
	                     struct strand_check */
	uint64_t lines;   /* that were looked at: up to the end or to the first that is not whole */
};
/* One pass over the bytes, hashing every line once; nothing is reported here but in *out. Texts in
 * `a`. `ring`: assessors the reader accepts. */
enum bad seals_find(
	const struct source *s, const struct key_ring *ring, struct arena *a, struct seals *out);
/* The first seal that holds and makes line n of this sitting assessed; null: it is practice. */
const struct seal *seal_of(const struct seals *seals, uint64_t n, const char *sitting);

#endif
