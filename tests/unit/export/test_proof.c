/* SPDX-License-Identifier: GPL-3.0-or-later */
/* base58, did:key and proofs against published values; the vectors of eddsa-jcs-2022 byte for byte
 * (tests/data/eddsa-jcs-2022). */
#include "near.h"

#include <string.h>

#include <barwright/base/file.h>

#include "export/did.h"
#include "export/proof.h"
#include "tree/json.h"

static struct arena a;
static struct text out, why;

static int begin(void **state)
{
	(void)state;
	text_init(&out);
	text_init(&why);
	code_is(cipher_start(), FINE);
	return 0;
}

static int end(void **state)
{
	(void)state;
	arena_release(&a);
	text_release(&out);
	text_release(&why);
	return 0;
}

/* The base58 draft's three (draft-msporny-base58), one of the multibase tests, and the edges. */
static void base58_is_the_published_one(void **state)
{
	static const struct {
		const char *bytes, *text;
		size_t n;
	} known[] = {
		{"Hello World!", "z2NEpo7TZRRrLZSi2U", 12},
		{"The quick brown fox jumps over the lazy dog.",
			"zUSm3fpXnKG5EUBx2ndxBDMPVciP5hGey2Jh4NDv6gmeo1LkMeiKrLJUUBk6Z", 44},
		{"\0\0\x28\x7f\xb4\xcd", "z11233QC4", 6},
		{"yes mani !", "z7paNL19xttacUY", 10},
		{"\0", "z1", 1},
		{"", "z", 0},
	};
	char text[BASE58_TEXT];
	unsigned char bytes[BASE58_BYTES];
	(void)state;
	for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
		base58_write((const unsigned char *)known[i].bytes, known[i].n, text);
		assert_string_equal(text, known[i].text);
		code_is(base58_read(text, strlen(text), bytes, known[i].n), FINE);
		assert_memory_equal(bytes, known[i].bytes, known[i].n);
		if (known[i].n)
			assert_int_not_equal(
				base58_read(text, strlen(text), bytes, known[i].n - 1), FINE);
		assert_int_not_equal(base58_read(text, strlen(text), bytes, known[i].n + 1), FINE);
	}
	code_is(base58_read("z0", 2, bytes, 1), BAD_SYNTAX);
	code_is(base58_read("zl", 2, bytes, 1), BAD_SYNTAX);
	code_is(base58_read("2NEpo", 5, bytes, 4), BAD_SYNTAX);
	code_is(base58_read("", 0, bytes, 0), BAD_SYNTAX);
}

/* Examples of the did:key report, of W3C "Controlled Identifiers" and of the vectors; the first is the
 * key of RFC 8032, 7.1, TEST 1. */
static void did_keys_are_the_published_ones(void **state)
{
	static const struct {
		const char *open, *did;
	} known[] = {
		{"d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a",
			"did:key:z6MktwupdmLXVVqTzCw4i46r4uGyosGXRnR3XjN4Zq7oMMsw"},
		{"2e6fcce36701dc791488e0d0b1745cc1e33a4c1c9fcc41c63bd343dbbe0970e6",
			"did:key:z6MkhaXgBZDvotDkL5257faiztiGiC2QtKLGpbnnEGta2doK"},
		{"666abe089035ed4a45795989fa720a0ee0c48549e84523485c56f1c81b4287a6",
			"did:key:z6MkmM42vxfqZQsv4ehtTjFFxQ4sQKS2w6WR7emozFAn5cxu"},
		{"b00d8d938e7f773d51565aad36a623f5344f7f5d1960f9cf3e8e12620ea2810f",
			"did:key:z6MkrJVnaZkeFzdQyMZu1cgjg7k1pZZ6pvBQ7XJPt4swbTQ2"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
		unsigned char open[SIGN_PUBLIC], got[SIGN_PUBLIC];
		char did[DID_KEY];
		code_is(hex_read(known[i].open, 64, open, SIGN_PUBLIC), FINE);
		did_key(open, did);
		assert_string_equal(did, known[i].did);
		code_is(did_key_read(did, strlen(did), got), FINE);
		assert_memory_equal(got, open, SIGN_PUBLIC);
	}
	unsigned char got[SIGN_PUBLIC], secp[35] = {0xe7, 0x01};
	char text[BASE58_TEXT + 8] = "did:key:";
	base58_write(secp, sizeof secp, text + 8);
	code_is(did_key_read(text, strlen(text), got), BAD_TYPE);
	code_is(did_key_read("did:web:example.org", 19, got), BAD_SYNTAX);
}

static char *data(const char *name, size_t *len)
{
	char *text;
	char *path = arena_format(&a, "tests/data/eddsa-jcs-2022/%s", name);
	code_is(file_read(path, 1 << 20, &a, &text, len), FINE);
	while (*len && text[*len - 1] == '\n')
		text[--*len] = '\0';
	return text;
}

static void file_says(const char *name, const char *got)
{
	size_t len;
	const char *want = data(name, &len);
	if (strcmp(want, got) != 0)
		fail_msg("%s: want %s, got %s", name, want, got);
}

static struct sign_pair vector_pair(void)
{
	struct sign_pair pair;
	struct json *keys;
	unsigned char bytes[2 + SIGN_SEED];
	const char *secret;
	size_t len;
	const char *text = data("keyPair.json", &len);
	code_is(json_read(&a, text, len, &keys, NULL), FINE);
	code_is(json_text_of(json_find(keys, "privateKeyMultibase"), &secret), FINE);
	code_is(base58_read(secret, strlen(secret), bytes, sizeof bytes), FINE);
	assert_int_equal(bytes[0], 0x80);
	assert_int_equal(bytes[1], 0x26);
	sign_pair_from_seed(bytes + 2, &pair);
	return pair;
}

static void the_vectors_come_out_byte_for_byte(void **state)
{
	struct hash h[2];
	struct json *j, *proof;
	char hex[2 * 64 + 1];
	unsigned char signature[SIGN_BYTES];
	const char *value;
	size_t len, options_len, n;
	(void)state;
	const char *document = data("unsigned.json", &len);
	const char *options = data("proofConfigJCS.json", &options_len);
	code_is(json_read(&a, document, len, &j, NULL), FINE);
	code_is(json_canonical(j, &out), FINE);
	file_says("canonDocJCS.txt", out.at);
	text_clear(&out);
	code_is(json_read(&a, options, options_len, &j, NULL), FINE);
	code_is(json_canonical(j, &out), FINE);
	file_says("proofCanonJCS.txt", out.at);
	code_is(proof_hashes(document, len, options, options_len, h), FINE);
	hash_hex(&h[0], hex);
	file_says("proofHashJCS.txt", hex);
	hash_hex(&h[1], hex);
	file_says("docHashJCS.txt", hex);
	hex_write(h[0].byte, 2 * HASH_BYTES, hex);
	file_says("combinedHashJCS.txt", hex);
	struct sign_pair pair = vector_pair();
	text_clear(&out);
	code_is(proof_add(document, len, &pair, "2023-02-24T23:36:38Z", &out), FINE);
	code_is(json_read(&a, out.at, out.len, &j, NULL), FINE);
	proof = (struct json *)(uintptr_t)json_find(j, "proof");
	code_is(json_text_of(json_find(proof, "proofValue"), &value), FINE);
	file_says("sigBTC58JCS.txt", value);
	code_is(base58_read(value, strlen(value), signature, SIGN_BYTES), FINE);
	hex_write(signature, SIGN_BYTES, hex);
	file_says("sigHexJCS.txt", hex);
	/* and the whole signed document is the published one */
	const char *whole = data("signedJCS.json", &n);
	struct text canonical;
	text_init(&canonical);
	code_is(json_read(&a, whole, n, &j, NULL), FINE);
	code_is(json_canonical(j, &canonical), FINE);
	assert_string_equal(out.at, canonical.at);
	text_release(&canonical);
	unsigned char open[SIGN_PUBLIC];
	code_is(proof_check(whole, n, open, &why), FINE);
	assert_memory_equal(open, pair.open, SIGN_PUBLIC);
}

/* Whatever character of the signed document is another one, it does not pass (a blank more or less is
 * not a change: the form that is signed has none). */
static void every_changed_character_is_noticed(void **state)
{
	unsigned char open[SIGN_PUBLIC];
	size_t len;
	(void)state;
	char *signed_one = data("signedJCS.json", &len);
	struct json *j;
	code_is(json_read(&a, signed_one, len, &j, NULL), FINE);
	code_is(json_canonical(j, &out), FINE);
	for (size_t i = 0; i < out.len; i++)
		for (int bit = 0; bit < 8; bit++) {
			out.at[i] = (char)(out.at[i] ^ (1 << bit));
			if (proof_check(out.at, out.len, open, NULL) == FINE)
				fail_msg("byte %zu, bit %d: it passes", i, bit);
			out.at[i] = (char)(out.at[i] ^ (1 << bit));
		}
	code_is(proof_check(out.at, out.len, open, NULL), FINE);
	for (size_t n = 0; n < out.len; n++)
		assert_int_not_equal(proof_check(out.at, n, open, NULL), FINE);
}

static void what_is_no_such_proof_is_told(void **state)
{
	static const struct {
		const char *text;
		enum bad code;
		const char *words;
	} bad[] = {
		{"{}", BAD_MISSING, "no proof"},
		{"[1]", BAD_MISSING, "no proof"},
		{"{\"a\":1,\"a\":2}", BAD_REPEATED, ""},
		{"{\"proof\":{\"type\":\"DataIntegrityProof\",\"cryptosuite\":\"eddsa-rdfc-2022\"}"
		 "}",
			BAD_TYPE, "not known here"},
		{"{\"proof\":[]}", BAD_TYPE, "not known here"},
	};
	unsigned char open[SIGN_PUBLIC];
	struct sign_pair pair = vector_pair();
	(void)state;
	for (size_t i = 0; i < sizeof bad / sizeof *bad; i++) {
		text_clear(&why);
		code_is(proof_check(bad[i].text, strlen(bad[i].text), open, &why), bad[i].code);
		if (!strstr(why.at, bad[i].words))
			fail_msg("%s: want \"%s\", got \"%s\"", bad[i].text, bad[i].words, why.at);
	}
	code_is(proof_add("{\"x\":1.5}", 9, &pair, "2026-11-25T10:00:01Z", &out), BAD_RANGE);
	code_is(proof_add("{\"proof\":1}", 11, &pair, "2026-11-25T10:00:01Z", &out), BAD_REPEATED);
	code_is(proof_add("[]", 2, &pair, "2026-11-25T10:00:01Z", &out), BAD_TYPE);
	text_clear(&out);
	code_is(proof_add("{}", 2, &pair, "2026-11-25T10:00:01Z", &out), FINE);
	code_is(proof_check(out.at, out.len, open, NULL), FINE);
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(base58_is_the_published_one),
		T(did_keys_are_the_published_ones),
		T(the_vectors_come_out_byte_for_byte),
		T(every_changed_character_is_noticed),
		T(what_is_no_such_proof_is_told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
