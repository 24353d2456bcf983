/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Signatures against RFC 8032, hashes against FIPS 180-4, passphrases against strings of the reference
 * implementation of Argon2, and what is locked against every flip and every cut. */
#include "near.h"

#include <sodium.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>

static int begin(void **state)
{
	(void)state;
	code_is(cipher_start(), FINE);
	return 0;
}

static void hex_is(const char *what, const unsigned char *got, size_t n, const char *want)
{
	char hex[2 * 64 + 1];
	hex_write(got, n, hex);
	if (strcmp(hex, want) != 0)
		fail_msg("%s: want %s, got %s", what, want, hex);
}

/* RFC 8032 (Josefsson, Liusvaara, 2017), 7.1, TEST 1 to 3. */
static const struct {
	const char *seed, *open, *message, *signature;
} signed_by[] = {
	{"9d61b19deffd5a60ba844af492ec2cc44449c5697b326919703bac031cae7f60",
		"d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", "",
		"e5564300c360ac729086e2cc806e828a84877f1eb8e5d974d873e065224901555fb8821590a33bacc6"
		"1"
		"e39701cf9b46bd25bf5f0595bbe24655141438e7a100b"},
	{"4ccd089b28ff96da9db6c346ec114e0f5b8a319f35aba624da8cf6ed4fb8a6fb",
		"3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c", "72",
		"92a009a9f0d4cab8720e820b5f642540a2b27b5416503f8fb3762223ebdb69da085ac1e43e15996e45"
		"8"
		"f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00"},
	{"c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7",
		"fc51cd8e6218a1a38da47ed00230f0580816ed13ba3303ac5deb911548908025", "af82",
		"6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538d16f290ae"
		"6"
		"7f760984dc6594a7c15e9716ed28dc027beceea1ec40a"},
};

static void signatures_are_those_of_rfc_8032(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof signed_by / sizeof *signed_by; i++) {
		unsigned char seed[SIGN_SEED], message[2], signature[SIGN_BYTES];
		size_t len = strlen(signed_by[i].message) / 2;
		struct sign_pair pair;
		code_is(hex_read(signed_by[i].seed, 64, seed, SIGN_SEED), FINE);
		code_is(hex_read(signed_by[i].message, 2 * len, message, len), FINE);
		sign_pair_from_seed(seed, &pair);
		hex_is("public key", pair.open, SIGN_PUBLIC, signed_by[i].open);
		sign_make(&pair, message, len, signature);
		hex_is("signature", signature, SIGN_BYTES, signed_by[i].signature);
		assert_true(sign_holds(pair.open, message, len, signature));
		for (size_t bit = 0; bit < 8 * SIGN_BYTES; bit++) {
			signature[bit / 8] ^= (unsigned char)(1u << bit % 8);
			assert_false(sign_holds(pair.open, message, len, signature));
			signature[bit / 8] ^= (unsigned char)(1u << bit % 8);
		}
	}
}

/* FIPS 180-4 with the examples of NIST; RFC 7693 (BLAKE2b-512 of "abc"), appendix A. */
static void hashes_are_the_published_ones(void **state)
{
	unsigned char blake[64];
	(void)state;
	struct hash h = hash_bytes("abc", 3);
	hex_is("SHA-256", h.byte, 32,
		"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
	h = hash_bytes(NULL, 0);
	hex_is("SHA-256 of nothing", h.byte, 32,
		"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
	crypto_generichash(blake, sizeof blake, (const unsigned char *)"abc", 3, NULL, 0);
	hex_is("BLAKE2b, on which Argon2 stands", blake, 64,
		"ba80a53f981c4d0d6a2797b69f12f6e94c212f14685ac4b74b12bb6fdbffa2d17d87c5392aab792dc2"
		"52"
		"d5de4533cc9518d38aa8dbf1925ab92386edd4009923");
}

static bool is_hash_of_password(const char *string)
{
	char room[crypto_pwhash_STRBYTES] = "";
	snprintf(room, sizeof room, "%s", string);
	return crypto_pwhash_str_verify(room, "password", 8) == 0;
}

/* Strings of the tests of the Argon2 reference implementation (phc-winner-argon2, src/test.c). Ours has
 * a salt of 16 bytes and one lane, so the library is held against them, and our own key against the
 * library's reading of such a string. */
static void passphrases_are_worked_as_the_reference_does(void **state)
{
	static const char *const string[] = {
		"$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$"
		"CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc",
		"$argon2id$v=19$m=256,t=2,p=2$c29tZXNhbHQ$bQk8UB/VmZZF4Oo79iDXuL5/0ttZwg2f/"
		"5U52iv1cDc",
	};
	struct phrase_cost cost = {2, 65536};
	unsigned char key[LOCK_KEY];
	char text[64], own[128];
	(void)state;
	for (size_t i = 0; i < sizeof string / sizeof *string; i++)
		assert_true(is_hash_of_password(string[i]));
	code_is(phrase_key("password", 8, (const unsigned char *)"somesaltsomesalt", &cost, key),
		FINE);
	/* libsodium 1.0.18, one implementation */
	hex_is("key", key, LOCK_KEY,
		"fc33b78139231d34b71626bd6245c1d72efa190ad605c3d8166a72adcedfa2c2");
	sodium_bin2base64(
		text, sizeof text, key, LOCK_KEY, sodium_base64_VARIANT_ORIGINAL_NO_PADDING);
	snprintf(own, sizeof own, "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHRzb21lc2FsdA$%s", text);
	assert_true(is_hash_of_password(own));
}

static void costs_out_of_bounds_are_refused(void **state)
{
	static const struct phrase_cost bad[] = {{0, 8}, {11, 8}, {1, 7}, {1, 1024 * 1024 + 1}};
	unsigned char salt[PHRASE_SALT] = {0}, key[LOCK_KEY];
	(void)state;
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++)
		code_is(phrase_key("x", 1, salt, &bad[i], key), BAD_RANGE);
}

static void what_is_locked_opens_with_nothing_else(void **state)
{
	unsigned char key[LOCK_KEY] = {1}, nonce[LOCK_NONCE] = {2}, locked[5 + LOCK_EXTRA];
	char out[5];
	(void)state;
	lock_bytes(key, nonce, "type 1", 6, "seeds", 5, locked);
	code_is(unlock_bytes(key, nonce, "type 1", 6, locked, sizeof locked, out), FINE);
	assert_memory_equal(out, "seeds", 5);
	code_is(unlock_bytes(key, nonce, "type 2", 6, locked, sizeof locked, out), BAD_SEAL);
	for (size_t n = 0; n < sizeof locked; n++)
		code_is(unlock_bytes(key, nonce, "type 1", 6, locked, n, out), BAD_SEAL);
	for (size_t bit = 0; bit < 8 * sizeof locked; bit++) {
		locked[bit / 8] ^= (unsigned char)(1u << bit % 8);
		code_is(unlock_bytes(key, nonce, "type 1", 6, locked, sizeof locked, out),
			BAD_SEAL);
		locked[bit / 8] ^= (unsigned char)(1u << bit % 8);
	}
	key[0] = 2;
	code_is(unlock_bytes(key, nonce, "type 1", 6, locked, sizeof locked, out), BAD_SEAL);
}

static void pieces_come_in_their_order_to_their_end(void **state)
{
	unsigned char key[LOCK_KEY] = {1}, head[PIECE_HEAD], a[3 + PIECE_EXTRA], b[PIECE_EXTRA];
	struct piece_state s;
	char out[3];
	bool is_last = true;
	(void)state;
	piece_lock_start(&s, key, head);
	piece_lock(&s, "x", 1, "one", 3, false, a);
	piece_lock(&s, NULL, 0, "", 0, true, b);
	code_is(piece_unlock_start(&s, key, head), FINE);
	code_is(piece_unlock(&s, "x", 1, a, sizeof a, out, &is_last), FINE);
	assert_memory_equal(out, "one", 3);
	assert_false(is_last);
	code_is(piece_unlock(&s, NULL, 0, b, sizeof b, out, &is_last), FINE);
	assert_true(is_last);
	code_is(piece_unlock_start(&s, key, head), FINE);
	code_is(piece_unlock(&s, NULL, 0, b, sizeof b, out, &is_last), BAD_SEAL);
	code_is(piece_unlock(&s, "x", 1, a, PIECE_EXTRA - 1, out, &is_last), BAD_SEAL);
	code_is(piece_unlock(&s, "y", 1, a, sizeof a, out, &is_last), BAD_SEAL);
}

/* ---- as texts -------------------------------------------------------------------------------- */

static void pieces_hash_as_the_whole(void **state)
{
	(void)state;
	struct hash whole = hash_bytes("abc", 3), back = {{0}};
	char hex[HASH_HEX + 1];
	struct hash_state s;
	hash_start(&s);
	hash_add(&s, "a", 1);
	hash_add(&s, NULL, 0);
	hash_add(&s, "bc", 2);
	struct hash pieces = hash_end(&s);
	assert_true(hash_is_equal(&pieces, &whole));
	hash_hex(&whole, hex);
	code_is(hash_from_hex(hex, HASH_HEX, &back), FINE);
	assert_true(hash_is_equal(&back, &whole));
	hex[HASH_HEX - 1] = 'A';
	code_is(hash_from_hex(hex, HASH_HEX, &back), BAD_SYNTAX);
	code_is(hash_from_hex(hex, HASH_HEX - 2, &back), BAD_SYNTAX);
	assert_true(hash_is_equal(&back, &whole));
}

/* RFC 4648, section 10: the test vectors of base64, without their padding. */
static void base64_gives_the_published_texts(void **state)
{
	(void)state;
	static const char *const texts[] = {
		"", "Zg", "Zm8", "Zm9v", "Zm9vYg", "Zm9vYmE", "Zm9vYmFy"};
	for (size_t n = 0; n < sizeof texts / sizeof *texts; n++) {
		char text[16];
		unsigned char back[8] = {0};
		base64url_write((const unsigned char *)"foobar", n, text, sizeof text);
		assert_string_equal(text, texts[n]);
		code_is(base64url_read(text, strlen(text), back, n), FINE);
		assert_memory_equal(back, "foobar", n);
	}
}

static void only_canonical_base64_and_small_hex_are_read(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum bad code;
	} cases[] = {
		{"-_8", FINE},       /* RFC 4648, 5 */
		{"-_9", BAD_SYNTAX}, /* spare bits set */
		{"+/8", BAD_SYNTAX},
		{"-_8=", BAD_SYNTAX},
		{"-_8A", BAD_SYNTAX}, /* three bytes */
		{"-_", BAD_SYNTAX},   /* one */
		{"-\xC3\xA4", BAD_SYNTAX},
		{"\x80_8", BAD_SYNTAX},
		{" -_8", BAD_SYNTAX},
		{"", BAD_SYNTAX},
	};
	unsigned char out[4];
	char text[8];
	base64url_write((const unsigned char *)"\xFB\xFF", 2, text, sizeof text);
	assert_string_equal(text, "-_8");
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		enum bad code = base64url_read(cases[i].text, strlen(cases[i].text), out, 2);
		if (code != cases[i].code)
			fail_msg("'%s': want %s, got %s", cases[i].text, bad_word(cases[i].code),
				bad_word(code));
	}
	code_is(hex_read("ab0f", 4, out, 2), FINE);
	code_is(hex_read("AB0F", 4, out, 2), BAD_SYNTAX);
	code_is(hex_read("ab0", 3, out, 2), BAD_SYNTAX);
	code_is(hex_read("ab0g", 4, out, 2), BAD_SYNTAX);
	code_is(hex_read("ab0:", 4, out, 2), BAD_SYNTAX);
}

static void secrets_run_out_like_any_memory(void **state)
{
	(void)state;
	mem_fail_at(1, 0);
	assert_null(secret_get(32));
	mem_fail_at(0, 0);
	unsigned char *s = secret_get(32);
	assert_non_null(s);
	s[31] = 1;
	secret_drop(s);
	secret_drop(NULL);
	for (uint32_t n = 1; n < 40; n++)
		assert_true(random_below(n) < n);
}

#define T(name) cmocka_unit_test(name)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(signatures_are_those_of_rfc_8032),
		T(hashes_are_the_published_ones),
		T(passphrases_are_worked_as_the_reference_does),
		T(costs_out_of_bounds_are_refused),
		T(what_is_locked_opens_with_nothing_else),
		T(pieces_come_in_their_order_to_their_end),
		T(pieces_hash_as_the_whole),
		T(base64_gives_the_published_texts),
		T(only_canonical_base64_and_small_hex_are_read),
		T(secrets_run_out_like_any_memory),
	};
	return cmocka_run_group_tests(tests, begin, NULL);
}
