/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"

#include <barwright/base/utf8.h>
#include <barwright/record/assessor.h>

static const struct phrase_cost cheap = {1, 8};
static const char phrase[] = "seven geese over the pond";
static struct text why;

static int begin(void **state)
{
	text_init(&why);
	return work_begin(state);
}

static int end(void **state)
{
	text_release(&why);
	return work_end(state);
}

static const char *make(struct assessor *out)
{
	static char path[256];
	snprintf(path, sizeof path, "%s", work_path("ruiz.key"));
	code_is(assessor_make(path, "D. Ruiz", phrase, &cheap, out, &why), FINE);
	return path;
}

static void why_has(const char *words)
{
	if (!strstr(why.at, words))
		fail_msg("want \"%s\" in: %s", words, why.at);
	text_clear(&why);
}

static void a_key_opens_with_its_passphrase_only(void **state)
{
	struct assessor made, shown, opened;
	struct sign_pair *pair;
	unsigned char signature[SIGN_BYTES];
	struct stat st;
	(void)state;
	const char *path = make(&made);
	assert_int_equal(stat(path, &st), 0);
	assert_int_equal(st.st_mode & 0777, 0600);
	code_is(assessor_show(path, &shown, &why), FINE);
	assert_memory_equal(&made, &shown, sizeof made);
	assert_string_equal(shown.name, "D. Ruiz");
	assert_int_equal(shown.cost.memory_KiB, 8);
	code_is(assessor_unlock(path, "seven geese over the lake", &pair, &opened, &why), BAD_SEAL);
	why_has("the passphrase does not open this key");
	code_is(assessor_unlock(path, phrase, &pair, &opened, &why), FINE);
	sign_make(pair, "x", 1, signature);
	assert_true(sign_holds(shown.open, "x", 1, signature));
	assessor_forget(pair);
	assessor_forget(NULL);
}

static void a_key_is_never_overwritten(void **state)
{
	struct assessor made;
	(void)state;
	const char *path = make(&made);
	code_is(assessor_make(path, "Other", phrase, &cheap, &made, &why), BAD_REPEATED);
	why_has("never overwritten");
	assert_string_equal(made.name, "D. Ruiz");
}

static void poor_names_and_passphrases_are_refused(void **state)
{
	struct assessor made;
	(void)state;
	code_is(assessor_make(work_path("k"), "", phrase, &cheap, &made, &why), BAD_SIZE);
	why_has("a name has 1 to 100 bytes");
	code_is(assessor_make(work_path("k"), "a\nopen", phrase, &cheap, &made, &why),
		BAD_ENCODING);
	text_clear(&why);
	code_is(assessor_make(work_path("k"), "a", "fourteen chars", &cheap, &made, &why),
		BAD_SIZE);
	why_has("at least 15 characters");
	code_is(phrase_check("fifteen charact", 15), FINE);
	/* characters, not bytes */
	code_is(phrase_check(
			"\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4\xc3\xa4", 16),
		BAD_SIZE);
	code_is(phrase_check("fifteen chara\tters", 18), BAD_ENCODING);
	assert_int_equal(file_kind(work_path("k")), FILE_NONE);
}

static void offered_words_pass_and_differ(void **state)
{
	char a[PHRASE_OFFER], b[PHRASE_OFFER];
	(void)state;
	code_is(cipher_start(), FINE);
	for (int i = 0; i < 200; i++) {
		int blanks = 0;
		phrase_offer(a);
		phrase_offer(b);
		code_is(phrase_check(a, strlen(a)), FINE);
		assert_string_not_equal(a, b);
		for (const char *s = a; *s; s++)
			blanks += *s == ' ';
		assert_int_equal(blanks, PHRASE_WORDS - 1);
	}
}

/* Whatever bit is turned: it does not read, it does not open, or it is the same key of the same
 * person. */
static void every_flip_and_every_cut_is_noticed(void **state)
{
	struct assessor made, got;
	struct sign_pair *pair;
	char *text;
	size_t len;
	(void)state;
	const char *path = make(&made);
	code_is(file_read(path, 4096, NULL, &text, &len), FINE);
	for (size_t bit = 0; bit < 8 * len; bit++) {
		text[bit / 8] = (char)(text[bit / 8] ^ (1 << bit % 8));
		code_is(file_replace(path, text, len, true), FINE);
		text[bit / 8] = (char)(text[bit / 8] ^ (1 << bit % 8));
		/* a cost of gigabytes would not be refused but worked */
		if (assessor_show(path, &got, NULL) == FINE && got.cost.memory_KiB > 1024)
			continue;
		enum bad code = assessor_unlock(path, phrase, &pair, &got, NULL);
		if (!code)
			fail_msg("bit %zu of byte %zu: it opens", bit % 8, bit / 8);
	}
	for (size_t n = 0; n < len; n++) {
		code_is(file_replace(path, text, n, true), FINE);
		assert_int_not_equal(assessor_show(path, &got, NULL), FINE);
	}
	mem_drop(text);
}

static void other_files_are_not_keys(void **state)
{
	struct assessor got;
	static const struct {
		const char *text;
		enum bad code;
		const char *words;
	} file[] = {
		{"", BAD_SYNTAX, "not an assessor's key"},
		{"barwright-machine-key 1\n", BAD_SYNTAX, "not an assessor's key"},
		{"barwright-assessor-key 2\nname x\n", BAD_VERSION, "a newer program"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof file / sizeof *file; i++) {
		code_is(file_replace(work_path("k"), file[i].text, strlen(file[i].text), true),
			FINE);
		code_is(assessor_show(work_path("k"), &got, &why), file[i].code);
		why_has(file[i].words);
	}
	code_is(assessor_show(work_path("none"), &got, &why), BAD_ABSENT);
}

/* SHA-256 of the public key of RFC 8032, 7.1, TEST 1; its first 16 digits are the key's id. */
static void a_fingerprint_is_the_hash_in_groups(void **state)
{
	unsigned char open[SIGN_PUBLIC];
	char text[FINGERPRINT], hex[HASH_HEX + 1];
	(void)state;
	code_is(hex_read("d75a980182b10ab7d54bfed3c964073a0ee172f3daa62325af021a68f707511a", 64,
			open, SIGN_PUBLIC),
		FINE);
	key_fingerprint(open, text);
	struct hash h = hash_bytes(open, SIGN_PUBLIC);
	hash_hex(&h, hex);
	assert_int_equal(strlen(text), FINGERPRINT - 1);
	assert_memory_equal(text, "21fe31df a154a261 ", 18);
	assert_memory_equal(text + 63, hex + 56, 8);
}

static void accepted_assessors_are_kept_once(void **state)
{
	struct arena a = {0};
	struct key_ring ring;
	unsigned char one[SIGN_PUBLIC] = {1}, two[SIGN_PUBLIC] = {2};
	(void)state;
	code_is(assessor_ring(work_folder, &a, &ring, &why), FINE);
	assert_int_equal(ring.n, 0);
	code_is(assessor_accept(work_folder, "One", one, &why), FINE);
	code_is(assessor_accept(work_folder, "Two", two, &why), FINE);
	code_is(assessor_accept(work_folder, "Somebody", one, &why), FINE);
	code_is(assessor_accept(work_folder, "a\tb", one, &why), BAD_ENCODING);
	code_is(assessor_accept(work_folder,
			"a\xc2\x9b"
			"31mb",
			one, &why),
		BAD_ENCODING);
	code_is(assessor_accept(work_folder,
			"a\xe2\x80\xae"
			"b",
			one, &why),
		BAD_ENCODING);
	code_is(assessor_accept(work_folder,
			"a\xff"
			"b",
			one, &why),
		BAD_ENCODING);
	code_is(assessor_ring(work_folder, &a, &ring, &why), FINE);
	assert_int_equal(ring.n, 2);
	assert_string_equal(ring.at[0].name, "One");
	assert_string_equal(ring.at[1].name, "Two");
	assert_memory_equal(ring.at[1].open, two, SIGN_PUBLIC);
	code_is(file_replace(work_path("assessors.txt"), "barwright-assessors 1\nxx\n", 25, true),
		FINE);
	text_clear(&why);
	code_is(assessor_ring(work_folder, &a, &ring, &why), BAD_SYNTAX);
	why_has("assessors.txt, line 2: the list of assessors is damaged");
	code_is(assessor_accept(work_folder, "Three", two, NULL), BAD_SYNTAX);
	arena_release(&a);
}

static enum bad make_and_open(void)
{
	struct assessor made, got;
	struct sign_pair *pair;
	enum bad code = assessor_make(work_path("x.key"), "X", phrase, &cheap, &made, NULL);
	if (!code)
		code = assessor_unlock(work_path("x.key"), phrase, &pair, &got, NULL);
	if (!code)
		assessor_forget(pair);
	return code;
}

static void no_memory_is_an_ordinary_answer(void **state)
{
	(void)state;
	for (unsigned long n = 1;; n++) {
		assert_true(n < 100);
		unlink(work_path("x.key"));
		mem_fail_at(n, 0);
		enum bad code = make_and_open();
		int failed = mem_failed();
		mem_fail_at(0, 0);
		code_is(code, failed ? BAD_MEMORY : FINE);
		if (!failed)
			break;
	}
}

/* Whatever call fails: there is no key, or a whole one that opens; nothing is left beside it. */
static void a_failing_disk_leaves_no_half_key(void **state)
{
	struct assessor got;
	struct sign_pair *pair;
	struct arena a = {0};
	struct folder_entry *list;
	size_t n;
	(void)state;
	for (unsigned long at = 1;; at++) {
		assert_true(at < 100);
		unlink(work_path("x.key"));
		fault_plan(ALL_CALLS & ~(1u << CALL_UNLINK), at, false, at % 2 ? EIO : ENOSPC);
		plan.keep = 7;
		enum bad code = make_and_open();
		bool reached = plan.reached;
		fault_end();
		if (!reached) {
			code_is(code, FINE);
			break;
		}
		if (file_kind(work_path("x.key")) == FILE_PLAIN) {
			code_is(assessor_unlock(work_path("x.key"), phrase, &pair, &got, NULL),
				FINE);
			assessor_forget(pair);
		}
		code_is(folder_list(work_folder, &a, &list, &n), FINE);
		assert_in_range(n, 0, 1);
	}
	arena_release(&a);
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_key_opens_with_its_passphrase_only),
		T(a_key_is_never_overwritten),
		T(poor_names_and_passphrases_are_refused),
		T(offered_words_pass_and_differ),
		T(every_flip_and_every_cut_is_noticed),
		T(other_files_are_not_keys),
		T(a_fingerprint_is_the_hash_in_groups),
		T(accepted_assessors_are_kept_once),
		T(no_memory_is_an_ordinary_answer),
		T(a_failing_disk_leaves_no_half_key),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
