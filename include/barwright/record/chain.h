/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line of a strand, as bytes: written, sliced, checked. No files and no memory; the format is
 * specified at the top of src/record/chain.c. */
#ifndef BARWRIGHT_RECORD_CHAIN_H
#define BARWRIGHT_RECORD_CHAIN_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/record/key.h>

enum {
	CHAIN_VERSION = 1,
	CHAIN_SUFFIX = 157,          /* bytes from the payload's end to the line's LF */
	CHAIN_LINE_MOST = 65536,     /* bytes of a line with its LF */
	CHAIN_BODY_MOST = 64 * 1000, /* bytes of a body */
	CHAIN_NAME = 64,             /* bytes of strand and who */
	CHAIN_KIND = 32,             /* bytes of a kind */
	CHAIN_UUID = 36,
	CHAIN_SALT = 16, /* bytes; twice as many digits */
};

/* The payload of a line. The texts point into somebody's bytes when read, and to anything when
 * written; `body` is not ended by a 0. */
struct strand_line {
	uint64_t n;       /* place in the strand, from 0 */
	struct hash prev; /* hash of line n - 1; all 0 at n = 0 */
	struct hash hash; /* of this line */
	int64_t at_ms;    /* UTC */
	int64_t boot_ms;  /* since the machine started */
	char strand[CHAIN_NAME + 1];
	char who[CHAIN_NAME + 1];
	char kind[CHAIN_KIND + 1];
	char id[CHAIN_UUID + 1]; /* UUID, version 4 (RFC 9562) */
	char key[KEY_ID + 1];    /* who signed */
	unsigned char salt[CHAIN_SALT];
	const char *body; /* a JSON object; null when the line was erased */
	size_t body_len;
	bool erased; /* the payload was taken out on request: only n, prev and hash hold */
};

/* Does a text have the form of strand and who: 1 to 64 of A-Z a-z 0-9 . _ -, a letter or digit
 * first? */
bool chain_is_name(const char *s);

/* A whole line with its LF into out. Reads all fields but `hash`, `key` and `erased`: hash and key
 * are worked out and set. BAD_SYNTAX when a text does not have its form or the body is not an
 * object in the canonical subset, BAD_SIZE when something is too long or does not fit into room. */
enum bad chain_line_write(struct strand_line *line, const struct sign_pair *pair, char *out,
	size_t room, size_t *len);

/* Where the three parts of a line stand. */
struct chain_slice {
	const char *payload;
	size_t payload_len;
	const char *hex;       /* 64 digits */
	const char *signature; /* 86 base64url characters */
};
/* `line` without its LF. By lengths and fixed bytes alone; the parts are not looked at.
 * BAD_SYNTAX: not a frame. */
enum bad chain_slice(const char *line, size_t len, struct chain_slice *out);
/* Does the hash fit the payload? BAD_SYNTAX: not 64 lower-case digits; BAD_CHAIN: it does not fit.
 * *out is the stated hash. An erased payload (null) has nothing to fit. */
enum bad chain_hash(const struct chain_slice *s, struct hash *out);
/* Does the signature fit the hash? BAD_SYNTAX: not canonical base64url; BAD_SEAL: it does not
 * fit. */
enum bad chain_signature(const struct chain_slice *s, const struct hash *h,
	const unsigned char open[static SIGN_PUBLIC]);
/* Is it, if it is good at all, a line of this kind? A quick look at the payload's end, without reading
 * it: for passing over most lines. */
bool chain_kind_is(const struct chain_slice *s, const char *kind);
/* The payload's members. On failure *where is the offset in the payload of what is wrong and *words
 * says what (static). BAD_VERSION: a line of another version. Sets all fields but hash. */
enum bad chain_payload(
	const struct chain_slice *s, struct strand_line *out, size_t *where, const char **words);

#endif
