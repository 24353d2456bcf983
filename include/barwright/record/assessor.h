/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys of assessors: a file on the assessor's own medium whose secret half is locked under a
 * passphrase, and the list DATA/assessors.txt of those whose seals a reader accepts.
 *
 * Anybody can make such a key. What it signs counts only where somebody who reads the records has
 * accepted its public half, having compared the fingerprint with the assessor. */
#ifndef BARWRIGHT_RECORD_ASSESSOR_H
#define BARWRIGHT_RECORD_ASSESSOR_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/key.h>

/* ---- passphrases ----------------------------------------------------------------------------- */

/* Least code points of a passphrase, words of one that is offered, bytes of the longest. */
enum { PHRASE_LEAST = 15, PHRASE_WORDS = 6, PHRASE_MOST = 1024 };

/* May it lock a key? BAD_SIZE: under PHRASE_LEAST characters or over PHRASE_MOST bytes;
 * BAD_ENCODING: not UTF-8, or controls. Nothing else is asked of it (after NIST SP 800-63B: length,
 * no rules of composition). */
enum bad phrase_check(const char *phrase, size_t len);
/* Six words drawn from 512 with the system's randomness, blanks between: 54 bits. */
enum { PHRASE_OFFER = PHRASE_WORDS * 9 };
void phrase_offer(char out[static PHRASE_OFFER]);

/* ---- a key ----------------------------------------------------------------------------------- */

enum { ASSESSOR_NAME_MOST = 100 };
struct assessor {
	char name[ASSESSOR_NAME_MOST + 1];
	unsigned char open[SIGN_PUBLIC];
	char id[KEY_ID + 1];
	struct phrase_cost cost; /* of its passphrase; all 0 for a public half alone */
};

/* Makes a new key at `path`, where nothing may stand yet (BAD_REPEATED). Name: 1 to
 * ASSESSOR_NAME_MOST bytes of UTF-8 without controls. `cost` null: phrase_cost_usual. `why`, may be
 * null, gets a sentence for a person when it fails. */
enum bad assessor_make(const char *path, const char *name, const char *phrase,
	const struct phrase_cost *cost, struct assessor *out, struct text *why);
/* The public half, without a passphrase; it is what the file says, and bound to the secret half
 * only when it is opened. BAD_SYNTAX: not such a file; BAD_VERSION. */
enum bad assessor_show(const char *path, struct assessor *out, struct text *why);
/* The pair in locked memory, to be given back with assessor_forget. BAD_SEAL: the passphrase is
 * wrong, or the file was changed. */
enum bad assessor_unlock(const char *path, const char *phrase, struct sign_pair **pair,
	struct assessor *out, struct text *why);
void assessor_forget(struct sign_pair *pair);

/* SHA-256 of the public half in eight groups of eight digits, to be read out over a telephone. */
enum { FINGERPRINT = 72 };
void key_fingerprint(const unsigned char open[static SIGN_PUBLIC], char out[static FINGERPRINT]);

/* ---- those a reader accepts ------------------------------------------------------------------ */

/* Adds a public half to DATA/assessors.txt; one that is there already is FINE and keeps its
 * name. */
enum bad assessor_accept(const char *data, const char *name,
	const unsigned char open[static SIGN_PUBLIC], struct text *why);
/* All of them, in `a`; none when there is no list. BAD_SYNTAX: the list is damaged. */
enum bad assessor_ring(const char *data, struct arena *a, struct key_ring *out, struct text *why);

#endif
