/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only door to libsodium: SHA-256 (FIPS 180-4), Ed25519 (RFC 8032), ChaCha20 (RFC 8439) and
 * random bytes of the system. */
#ifndef BARWRIGHT_BASE_CIPHER_H
#define BARWRIGHT_BASE_CIPHER_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>

enum { HASH_BYTES = 32, HASH_HEX = 64, SIGN_BYTES = 64, SIGN_SEED = 32, SIGN_PUBLIC = 32 };

/* Once, before anything else here; safe to call again. BAD_IO when the system has no randomness. */
enum bad cipher_start(void);

struct hash {
	unsigned char byte[HASH_BYTES];
};
struct hash hash_bytes(const void *bytes, size_t len);
/* Several pieces as if they stood one behind the other: hash_start, hash_add..., hash_end. */
struct hash_state {
	_Alignas(16) unsigned char opaque[128];
};
void hash_start(struct hash_state *s);
void hash_add(struct hash_state *s, const void *bytes, size_t len);
struct hash hash_end(struct hash_state *s);
/* Lower-case hex, 64 digits and a 0. */
void hash_hex(const struct hash *h, char out[static HASH_HEX + 1]);
/* Exactly 64 lower-case hex digits; anything else is BAD_SYNTAX. */
enum bad hash_from_hex(const char *hex, size_t len, struct hash *out);
bool hash_is_equal(const struct hash *a, const struct hash *b);

/* n bytes as 2n lower-case hex digits and a 0; out has room for 2n + 1. */
void hex_write(const unsigned char *bytes, size_t n, char *out);
/* Exactly 2n lower-case digits. */
enum bad hex_read(const char *hex, size_t len, unsigned char *out, size_t n);

struct sign_pair {
	unsigned char open[SIGN_PUBLIC]; /* may be shown to anybody */
	unsigned char secret[64];        /* seed and public half; wipe with cipher_wipe */
};
void sign_pair_from_seed(const unsigned char seed[static SIGN_SEED], struct sign_pair *out);
/* Deterministic: equal key and bytes give equal signatures. */
void sign_make(const struct sign_pair *pair, const void *bytes, size_t len,
	unsigned char out[static SIGN_BYTES]);
bool sign_holds(const unsigned char open[static SIGN_PUBLIC], const void *bytes, size_t len,
	const unsigned char signature[static SIGN_BYTES]);

/* base64url without padding (RFC 4648, 5), canonical: spare bits must be 0. */
void base64url_write(const unsigned char *bytes, size_t n, char *out, size_t room);
enum bad base64url_read(const char *text, size_t len, unsigned char *out, size_t n);

/* One 64-byte block of the ChaCha20 key stream, nonce 96 bits, block counter 32 bits. */
void chacha20_block(const unsigned char key[static 32], const unsigned char nonce[static 12],
	uint32_t counter, unsigned char out[static 64]);

void random_bytes(void *out, size_t len);
void cipher_wipe(void *bytes, size_t len);

#endif
