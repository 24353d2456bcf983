/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/cipher.h>

#include <sodium.h>
#include <string.h>

_Static_assert(sizeof(crypto_hash_sha256_state) <= sizeof(struct hash_state), "room for the state");
_Static_assert(crypto_hash_sha256_BYTES == HASH_BYTES, "SHA-256");
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

static int nibble(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	return c >= 'a' && c <= 'f' ? c - 'a' + 10 : -1;
}

enum bad hex_read(const char *hex, size_t len, unsigned char *out, size_t n)
{
	if (len != 2 * n)
		return BAD_SYNTAX;
	for (size_t i = 0; i < len; i++)
		if (nibble(hex[i]) < 0)
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

void random_bytes(void *out, size_t len)
{
	randombytes_buf(out, len);
}

void cipher_wipe(void *bytes, size_t len)
{
	sodium_memzero(bytes, len);
}
