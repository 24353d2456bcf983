/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tree against published roots and the proof cases of tests/data/merkle, then every proof of every
 * size to 300 against the definition. */
#include "near.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/merkle.h>

#include "tree/json.h"

enum { MOST = 300 };
static struct hash leaf[MOST];

static int begin(void **state)
{
	(void)state;
	code_is(cipher_start(), FINE);
	for (uint32_t i = 0; i < MOST; i++) {
		unsigned char bytes[4] = {(unsigned char)i, (unsigned char)(i >> 8)};
		leaf[i] = merkle_leaf(bytes, sizeof bytes);
	}
	return 0;
}

static void hash_is(const char *what, const struct hash *got, const char *want)
{
	char hex[HASH_HEX + 1];
	hash_hex(got, hex);
	if (strcmp(hex, want) != 0)
		fail_msg("%s: want %s, got %s", what, want, hex);
}

/* The eight leaves and their roots are those of the tests of certificate transparency logs (constants
 * of the library named in tests/data/merkle/SOURCES). */
static const struct {
	const char *bytes, *root; /* root of the tree that ends with this leaf */
} known[] = {
	{"", "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d"},
	{"00", "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125"},
	{"10", "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77"},
	{"2021", "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7"},
	{"3031", "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4"},
	{"40414243", "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef"},
	{"5051525354555657", "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c"},
	{"606162636465666768696a6b6c6d6e6f",
		"5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328"},
};

static void roots_are_the_published_ones(void **state)
{
	struct merkle m = {0};
	(void)state;
	struct hash root = merkle_root(&m);
	hash_is("nothing", &root,
		"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
	for (size_t i = 0; i < sizeof known / sizeof *known; i++) {
		unsigned char bytes[16];
		size_t n = strlen(known[i].bytes) / 2;
		code_is(hex_read(known[i].bytes, 2 * n, bytes, n), FINE);
		struct hash h = merkle_leaf(bytes, n);
		merkle_add(&m, &h);
		root = merkle_root(&m);
		hash_is(known[i].bytes, &root, known[i].root);
	}
}

/* ---- the definition, for comparison ---------------------------------------------------------- */

/* RFC 9162, 2.1.1, word for word: MTH(D[n]) = HASH(0x01 || MTH(D[0:k]) || MTH(D[k:n])). */
static struct hash mth(const struct hash *d, size_t n)
{
	size_t k = 1;
	if (n == 1)
		return *d;
	while (2 * k < n)
		k *= 2;
	struct hash left = mth(d, k), right = mth(d + k, n - k);
	unsigned char both[65] = {1};
	memcpy(both + 1, left.byte, 32);
	memcpy(both + 33, right.byte, 32);
	return hash_bytes(both, sizeof both);
}

static void every_line_of_every_size_is_proven(void **state)
{
	struct merkle m = {0};
	(void)state;
	for (size_t n = 1; n <= MOST; n++) {
		merkle_add(&m, &leaf[n - 1]);
		struct hash root = merkle_root(&m), want = mth(leaf, n);
		if (!hash_is_equal(&root, &want))
			fail_msg("size %zu: the root is not that of the definition", n);
		for (size_t at = 0; at < n; at++) {
			struct hash proof[MERKLE_DEEP];
			size_t len = merkle_inclusion(leaf, n, at, proof);
			enum bad code = merkle_inclusion_check(&leaf[at], at, n, proof, len, &root);
			if (code)
				fail_msg("size %zu, leaf %zu: %s", n, at, bad_word(code));
			const struct hash *other = &leaf[(at + 1) % MOST];
			if (merkle_inclusion_check(other, at, n, proof, len, &root) == FINE)
				fail_msg("size %zu, leaf %zu: another leaf passes", n, at);
			if (len && merkle_inclusion_check(
					   &leaf[at], at, n, proof, len - 1, &root) == FINE)
				fail_msg("size %zu, leaf %zu: a cut proof passes", n, at);
		}
	}
}

static void every_beginning_is_proven(void **state)
{
	(void)state;
	for (size_t n = 1; n <= 130; n++)
		for (size_t first = 1; first <= n; first++) {
			struct hash proof[MERKLE_DEEP], a = mth(leaf, first), b = mth(leaf, n);
			size_t len = merkle_consistency(leaf, n, first, proof);
			enum bad code = merkle_consistency_check(first, n, proof, len, &a, &b);
			if (code)
				fail_msg("%zu of %zu: %s", first, n, bad_word(code));
			if (first < n &&
				merkle_consistency_check(first, n, proof, len, &b, &b) == FINE)
				fail_msg("%zu of %zu: another beginning passes", first, n);
		}
}

/* ---- the cases of others --------------------------------------------------------------------- */

/* base64 (RFC 4648, 4). A text of 12 bytes stands in some cases for a root that does not matter; other
 * lengths than 32 no function here can be handed: false. */
static bool base64_hash(const struct json *j, struct hash *out)
{
	char url[45];
	const char *text;
	code_is(json_text_of(j, &text), FINE);
	size_t len = strlen(text), n = len == 16 ? 12 : HASH_BYTES;
	if (len != 16 && (len != 44 || text[43] != '='))
		return false;
	for (size_t i = 0; i < len; i++)
		url[i] = text[i] == '+' ? '-' : text[i] == '/' ? '_' : text[i];
	*out = (struct hash){0};
	return base64url_read(url, len == 16 ? 16 : 43, out->byte, n) == FINE;
}

static int64_t whole(const struct json *j, const char *name)
{
	int64_t n = -1;
	code_is(json_whole_of(json_find(j, name), 0, JSON_WHOLE_MAX, &n), FINE);
	return n;
}

static bool proof_of(const struct json *j, struct hash *out, size_t *n)
{
	const struct json *list = json_find(j, "proof");
	*n = 0;
	for (const struct json *p = list && list->kind == JSON_LIST ? list->first : NULL; p;
		p = p->next)
		if (*n == MERKLE_DEEP || !base64_hash(p, &out[(*n)++]))
			return false;
	return true;
}

static bool inclusion_passes(const struct json *j)
{
	struct hash proof[MERKLE_DEEP], root, h;
	size_t n;
	return base64_hash(json_find(j, "root"), &root) &&
	       base64_hash(json_find(j, "leafHash"), &h) && proof_of(j, proof, &n) &&
	       merkle_inclusion_check(&h, (uint64_t)whole(j, "leafIdx"),
		       (uint64_t)whole(j, "treeSize"), proof, n, &root) == FINE;
}

static bool consistency_passes(const struct json *j)
{
	struct hash proof[MERKLE_DEEP], a, b;
	size_t n;
	return base64_hash(json_find(j, "root1"), &a) && base64_hash(json_find(j, "root2"), &b) &&
	       proof_of(j, proof, &n) &&
	       merkle_consistency_check((uint64_t)whole(j, "size1"), (uint64_t)whole(j, "size2"),
		       proof, n, &a, &b) == FINE;
}

static unsigned run_case(const char *path, bool (*passes)(const struct json *j))
{
	struct arena a = {0};
	struct json *j;
	char *text;
	size_t len;
	bool want_fault = false;
	code_is(file_read(path, 1 << 20, &a, &text, &len), FINE);
	enum bad code = json_read(&a, text, len, &j, NULL);
	bool got = false;
	if (code == BAD_RANGE) { /* a size of 2^64 - 1: no proof of ours can say that */
		want_fault = strstr(text, "\"wantErr\": true") != NULL;
	} else {
		code_is(code, FINE);
		code_is(json_truth_of(json_find(j, "wantErr"), &want_fault), FINE);
		got = passes(j);
	}
	arena_release(&a);
	if (got == want_fault)
		fail_msg("%s: want it %s", path, want_fault ? "refused" : "accepted");
	return 1;
}

static unsigned run_folder(const char *path, bool (*passes)(const struct json *j))
{
	struct arena a = {0};
	struct folder_entry *list;
	size_t n;
	unsigned count = 0;
	code_is(folder_list(path, &a, &list, &n), FINE);
	for (size_t i = 0; i < n; i++) {
		const char *one = folder_join(&a, path, list[i].name);
		count += list[i].kind == FILE_FOLDER ? run_folder(one, passes)
						     : run_case(one, passes);
	}
	arena_release(&a);
	return count;
}

static void the_cases_of_others_are_judged_alike(void **state)
{
	(void)state;
	assert_int_equal(run_folder("tests/data/merkle/inclusion", inclusion_passes), 98);
	assert_int_equal(run_folder("tests/data/merkle/consistency", consistency_passes), 98);
}

#define T(name) cmocka_unit_test(name)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(roots_are_the_published_ones),
		T(every_line_of_every_size_is_proven),
		T(every_beginning_is_proven),
		T(the_cases_of_others_are_judged_alike),
	};
	return cmocka_run_group_tests(tests, begin, NULL);
}
