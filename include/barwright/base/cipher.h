/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The only door to libsodium: SHA-256 (FIPS 180-4), Ed25519 (RFC 8032), ChaCha20 (RFC 8439),
 * Argon2id (RFC 9106), XChaCha20-Poly1305, locked memory and random bytes of the system. */
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
/* Exactly 2n lower-case digits; anything else is BAD_SYNTAX. */
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

/* base64url without padding (RFC 4648, 5), canonical: spare bits must be 0. n bytes take
 * ceil(4 n / 3) characters and a 0; less room stops the program. */
void base64url_write(const unsigned char *bytes, size_t n, char *out, size_t room);
/* Exactly the text of n bytes; anything else is BAD_SYNTAX, and what `out` held is lost. */
enum bad base64url_read(const char *text, size_t len, unsigned char *out, size_t n);

/* One 64-byte block of the ChaCha20 key stream, nonce 96 bits, block counter 32 bits. */
void chacha20_block(const unsigned char key[static 32], const unsigned char nonce[static 12],
	uint32_t counter, unsigned char out[static 64]);

/* ---- what is locked under a passphrase ------------------------------------------------------- */

enum { PHRASE_SALT = 16, LOCK_KEY = 32, LOCK_NONCE = 24, LOCK_EXTRA = 16 };

/* What a guess costs: passes over the memory, and the memory. */
struct phrase_cost {
	uint32_t passes;     /* 1 to 10 */
	uint32_t memory_KiB; /* 8 to 1048576 */
};
/* 3 passes over 256 MiB: about half a second. */
extern const struct phrase_cost phrase_cost_usual;

/* Argon2id (RFC 9106) with one lane and no secret. BAD_RANGE: a cost outside its bounds; BAD_MEMORY:
 * the machine does not have that much. */
enum bad phrase_key(const char *phrase, size_t len, const unsigned char salt[static PHRASE_SALT],
	const struct phrase_cost *cost, unsigned char out[static LOCK_KEY]);

/* XChaCha20-Poly1305. `extra` is not hidden but bound: what was locked with one opens with no other.
 * out has room for len + LOCK_EXTRA; a nonce is random and used once. */
void lock_bytes(const unsigned char key[static LOCK_KEY],
	const unsigned char nonce[static LOCK_NONCE], const void *extra, size_t extra_len,
	const void *bytes, size_t len, unsigned char *out);
/* len counts LOCK_EXTRA; out has room for len - LOCK_EXTRA. BAD_SEAL: another key, or changed; what
 * `out` held is lost then. */
enum bad unlock_bytes(const unsigned char key[static LOCK_KEY],
	const unsigned char nonce[static LOCK_NONCE], const void *extra, size_t extra_len,
	const unsigned char *locked, size_t len, void *out);

/* A long file in pieces (secretstream of libsodium: XChaCha20-Poly1305 with a counter and a new key
 * where it wraps): pieces cannot be changed, left out, moved, and the end cannot be cut off, since
 * the last one says that it is. */
enum { PIECE_HEAD = 24, PIECE_EXTRA = 17 };
struct piece_state {
	_Alignas(16) unsigned char opaque[64];
};
void piece_lock_start(struct piece_state *s, const unsigned char key[static LOCK_KEY],
	unsigned char head[static PIECE_HEAD]);
void piece_lock(struct piece_state *s, const void *extra, size_t extra_len, const void *bytes,
	size_t len, bool is_last, unsigned char *out); /* len + PIECE_EXTRA bytes */
enum bad piece_unlock_start(struct piece_state *s, const unsigned char key[static LOCK_KEY],
	const unsigned char head[static PIECE_HEAD]);
/* BAD_SEAL: another key, changed, or not the next piece; what `out` held is lost then. */
enum bad piece_unlock(struct piece_state *s, const void *extra, size_t extra_len,
	const unsigned char *locked, size_t len, void *out, bool *is_last);

/* Memory for secrets: kept out of the swap where the system permits it, between guard pages, wiped
 * when dropped. Null when memory ran out. secret_drop accepts null. */
void *secret_get(size_t size);
void secret_drop(void *secret);

void random_bytes(void *out, size_t len);
/* 0 <= result < n, every value equally likely, from the system; n > 0. */
uint32_t random_below(uint32_t n);
void cipher_wipe(void *bytes, size_t len);

#endif
