/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys that sign lines (Ed25519, RFC 8032). A machine makes its own at first use and keeps it in
 * the data folder; others know it by its public half. A key on a machine proves that the machine
 * wrote a line, not who sat in front of it: whoever controls the machine controls its key. */
#ifndef BARWRIGHT_RECORD_KEY_H
#define BARWRIGHT_RECORD_KEY_H

#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/text.h>

/* First 16 hex digits of SHA-256(public half): the name of a key inside a line. */
enum { KEY_ID = 16 };
void key_id(const unsigned char open[static SIGN_PUBLIC], char out[static KEY_ID + 1]);

/* A public key somebody vouches for. */
struct key_known {
	unsigned char open[SIGN_PUBLIC];
	const char *name; /* for people: "this machine"; never null */
	/* Vouched for from .. to .., both included (record/roster.h); until_ms 0: whenever. */
	int64_t from_ms, until_ms;
};
struct key_ring {
	const struct key_known *at;
	size_t n;
};
/* The key with this id, or null. */
const struct key_known *key_find(const struct key_ring *ring, const char *id);
bool key_is_in_time(const struct key_known *k, int64_t ms);

/* The machine's key from FOLDER/machine.key; made there (0600) when missing, and FOLDER made too.
 * Two programs starting at once get the same one. BAD_SYNTAX: the file is damaged (it is left as it
 * is: a new key would be a new signer). The pair is secret: cipher_wipe it. `why`, may be null,
 * gets a sentence for a person when it fails. */
enum bad key_machine(const char *folder, struct sign_pair *out, struct text *why);

#endif
