/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/cipher.h>

#include <sodium.h>
#include <string.h>

#include <barwright/base/mem.h>

_Static_assert(sizeof(crypto_hash_sha256_state) <= sizeof(struct hash_state), "room for the state");
_Static_assert(crypto_hash_sha256_BYTES == HASH_BYTES, "SHA-256");
_Static_assert(crypto_pwhash_SALTBYTES == PHRASE_SALT, "Argon2id");
_Static_assert(crypto_aead_xchacha20poly1305_ietf_KEYBYTES == LOCK_KEY &&
		       crypto_aead_xchacha20poly1305_ietf_NPUBBYTES == LOCK_NONCE &&
		       crypto_aead_xchacha20poly1305_ietf_ABYTES == LOCK_EXTRA,
	"XChaCha20-Poly1305");
_Static_assert(sizeof(crypto_secretstream_xchacha20poly1305_state) <= sizeof(struct piece_state) &&
		       crypto_secretstream_xchacha20poly1305_HEADERBYTES == PIECE_HEAD &&
		       crypto_secretstream_xchacha20poly1305_ABYTES == PIECE_EXTRA,
	"secretstream");
_Static_assert(crypto_sign_BYTES == SIGN_BYTES && crypto_sign_SEEDBYTES == SIGN_SEED, "Ed25519");

enum bad cipher_start(void)
{
	return sodium_init() < 0 ? BAD_IO : FINE;
}

struct hash hash_bytes(const void *bytes, size_t len)
{
	struct hash h;
	crypto_hash_sha256(h.byte, bytes, len);
	return h;
}

void hash_start(struct hash_state *s)
{
	crypto_hash_sha256_init((void *)s->opaque);
}

void hash_add(struct hash_state *s, const void *bytes, size_t len)
{
	crypto_hash_sha256_update((void *)s->opaque, bytes, len);
}

struct hash hash_end(struct hash_state *s)
{
	struct hash h;
	crypto_hash_sha256_final((void *)s->opaque, h.byte);
	return h;
}

void hex_write(const unsigned char *bytes, size_t n, char *out)
{
	static const char digit[] = "0123456789abcdef";
	for (size_t i = 0; i < n; i++) {
		out[2 * i] = digit[bytes[i] >> 4];
		out[2 * i + 1] = digit[bytes[i] & 15];
	}
	out[2 * n] = '\0';
}

/* Values of lower-case digits, and 16 for everything else. */
static unsigned nibble(char c)
{
	unsigned digit = (unsigned)(unsigned char)c - '0',
		 letter = (unsigned)(unsigned char)c - 'a';
	return digit < 10 ? digit : letter < 6 ? letter + 10 : 16;
}

enum bad hex_read(const char *hex, size_t len, unsigned char *out, size_t n)
{
	unsigned bad = 0;
	if (len != 2 * n)
		return BAD_SYNTAX;
	for (size_t i = 0; i < len; i++)
		bad |= nibble(hex[i]);
	if (bad & 16)
		return BAD_SYNTAX;
	for (size_t i = 0; i < n; i++)
		out[i] = (unsigned char)(nibble(hex[2 * i]) << 4 | nibble(hex[2 * i + 1]));
	return FINE;
}

void hash_hex(const struct hash *h, char out[static HASH_HEX + 1])
{
	hex_write(h->byte, HASH_BYTES, out);
}

enum bad hash_from_hex(const char *hex, size_t len, struct hash *out)
{
	return hex_read(hex, len, out->byte, HASH_BYTES);
}

bool hash_is_equal(const struct hash *a, const struct hash *b)
{
	return memcmp(a->byte, b->byte, HASH_BYTES) == 0;
}

void sign_pair_from_seed(const unsigned char seed[static SIGN_SEED], struct sign_pair *out)
{
	crypto_sign_seed_keypair(out->open, out->secret, seed);
}

void sign_make(const struct sign_pair *pair, const void *bytes, size_t len,
	unsigned char out[static SIGN_BYTES])
{
	crypto_sign_detached(out, NULL, bytes, len, pair->secret);
}

bool sign_holds(const unsigned char open[static SIGN_PUBLIC], const void *bytes, size_t len,
	const unsigned char signature[static SIGN_BYTES])
{
	return crypto_sign_verify_detached(signature, bytes, len, open) == 0;
}

void base64url_write(const unsigned char *bytes, size_t n, char *out, size_t room)
{
	sodium_bin2base64(out, room, bytes, n, sodium_base64_VARIANT_URLSAFE_NO_PADDING);
}

enum bad base64url_read(const char *text, size_t len, unsigned char *out, size_t n)
{
	size_t got;
	const char *end;
	/* sodium_base642bin of 1.0.18 reads every byte above 0x7f as "A" where char is signed */
	for (size_t i = 0; i < len; i++)
		if ((unsigned char)text[i] > 0x7f)
			return BAD_SYNTAX;
	if (sodium_base642bin(
		    out, n, text, len, NULL, &got, &end, sodium_base64_VARIANT_URLSAFE_NO_PADDING))
		return BAD_SYNTAX;
	return got == n && end == text + len ? FINE : BAD_SYNTAX;
}

void chacha20_block(const unsigned char key[static 32], const unsigned char nonce[static 12],
	uint32_t counter, unsigned char out[static 64])
{
	memset(out, 0, 64);
	crypto_stream_chacha20_ietf_xor_ic(out, out, 64, nonce, counter, key);
}

/* ---- what is locked under a passphrase ------------------------------------------------------- */

const struct phrase_cost phrase_cost_usual = {3, 256 * 1024};

enum bad phrase_key(const char *phrase, size_t len, const unsigned char salt[static PHRASE_SALT],
	const struct phrase_cost *cost, unsigned char out[static LOCK_KEY])
{
	if (cost->passes < 1 || cost->passes > 10 || cost->memory_KiB < 8 ||
		cost->memory_KiB > 1024 * 1024)
		return BAD_RANGE;
	void *probe = mem_get(1); /* libsodium asks the system itself: let a test say no here */
	if (!probe)
		return BAD_MEMORY;
	mem_drop(probe);
	int r = crypto_pwhash(out, LOCK_KEY, phrase, len, salt, cost->passes,
		(size_t)cost->memory_KiB * 1024, crypto_pwhash_ALG_ARGON2ID13);
	return r ? BAD_MEMORY : FINE;
}

void lock_bytes(const unsigned char key[static LOCK_KEY],
	const unsigned char nonce[static LOCK_NONCE], const void *extra, size_t extra_len,
	const void *bytes, size_t len, unsigned char *out)
{
	crypto_aead_xchacha20poly1305_ietf_encrypt(
		out, NULL, bytes, len, extra, extra_len, NULL, nonce, key);
}

enum bad unlock_bytes(const unsigned char key[static LOCK_KEY],
	const unsigned char nonce[static LOCK_NONCE], const void *extra, size_t extra_len,
	const unsigned char *locked, size_t len, void *out)
{
	if (len < LOCK_EXTRA)
		return BAD_SEAL;
	int r = crypto_aead_xchacha20poly1305_ietf_decrypt(
		out, NULL, NULL, locked, len, extra, extra_len, nonce, key);
	return r ? BAD_SEAL : FINE;
}

void piece_lock_start(struct piece_state *s, const unsigned char key[static LOCK_KEY],
	unsigned char head[static PIECE_HEAD])
{
	crypto_secretstream_xchacha20poly1305_init_push((void *)s->opaque, head, key);
}

void piece_lock(struct piece_state *s, const void *extra, size_t extra_len, const void *bytes,
	size_t len, bool is_last, unsigned char *out)
{
	unsigned char tag = is_last ? crypto_secretstream_xchacha20poly1305_TAG_FINAL : 0;
	crypto_secretstream_xchacha20poly1305_push(
		(void *)s->opaque, out, NULL, bytes, len, extra, extra_len, tag);
}

enum bad piece_unlock_start(struct piece_state *s, const unsigned char key[static LOCK_KEY],
	const unsigned char head[static PIECE_HEAD])
{
	int r = crypto_secretstream_xchacha20poly1305_init_pull((void *)s->opaque, head, key);
	return r ? BAD_SEAL : FINE;
}

enum bad piece_unlock(struct piece_state *s, const void *extra, size_t extra_len,
	const unsigned char *locked, size_t len, void *out, bool *is_last)
{
	unsigned char tag;
	if (len < PIECE_EXTRA)
		return BAD_SEAL;
	int r = crypto_secretstream_xchacha20poly1305_pull(
		(void *)s->opaque, out, NULL, &tag, locked, len, extra, extra_len);
	if (r)
		return BAD_SEAL;
	*is_last = tag == crypto_secretstream_xchacha20poly1305_TAG_FINAL;
	return FINE;
}

void *secret_get(size_t size)
{
	void *probe = mem_get(1); /* as in phrase_key */
	if (!probe)
		return NULL;
	mem_drop(probe);
	return sodium_malloc(size);
}

void secret_drop(void *secret)
{
	sodium_free(secret);
}

void random_bytes(void *out, size_t len)
{
	randombytes_buf(out, len);
}

uint32_t random_below(uint32_t n)
{
	return randombytes_uniform(n);
}

void cipher_wipe(void *bytes, size_t len)
{
	sodium_memzero(bytes, len);
}
