/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"
#include "seal_fixture.h"

#include <barwright/record/audit.h>
#include <barwright/record/merkle.h>

static struct arena a;
static struct text why;

static int begin(void **state)
{
	people_make();
	clock_stop();
	text_init(&why);
	return work_begin(state);
}

static int end(void **state)
{
	arena_release(&a);
	text_release(&why);
	clock_replace(NULL);
	return work_end(state);
}

static void why_has(const char *words)
{
	if (!strstr(why.at, words))
		fail_msg("want \"%s\" in: %s", words, why.at);
	text_clear(&why);
}

/* Practice, a watched sitting, its seal, practice again. */
static const char *sealed_strand(void)
{
	static char path[256];
	struct strand *s = strand_begin("l-1");
	sit_through(s, "home", "drill", 2);
	sit_through(s, "watched", "sit", 4);
	seal_it(s, "watched", NULL, &a);
	sit_through(s, "later", "drill", 1);
	snprintf(path, sizeof path, "%s", strand_own_path(s));
	strand_close(s);
	return path;
}

static struct seals find(const char *path, const struct key_ring *ring)
{
	struct source *source;
	struct seals seals;
	code_is(strand_load(path, &a, &source), FINE);
	code_is(seals_find(source, ring, &a, &seals), FINE);
	return seals;
}

/* The worked strand of tests/data/record was sealed elsewhere and verified with another library; its
 * root over two lines is aa75b1ba... */
static void a_seal_made_elsewhere_holds(void **state)
{
	(void)state;
	struct seals seals = find("tests/data/record/strand.jsonl", &assessors);
	char hex[HASH_HEX + 1];
	assert_int_equal(seals.nhold, 1);
	assert_int_equal(seals.fixed, 2);
	assert_int_equal(seals.checked, 0); /* it says nothing about signatures */
	hash_hex(&seals.first->body.root, hex);
	assert_string_equal(
		hex, "aa75b1ba444ca110181cb10e31147d3246e53d2859217c8a7fa46b08acc97ce6");
	seals = find("tests/data/record/strand-erased.jsonl", &assessors);
	assert_int_equal(seals.nhold, 1);
	assert_int_equal(find("tests/data/record/strand.jsonl", NULL).first->worth, SEAL_STRANGER);
}

static void only_the_watched_sitting_before_the_seal_is_assessed(void **state)
{
	(void)state;
	struct seals seals = find(sealed_strand(), &assessors);
	assert_int_equal(seals.n, 1);
	assert_int_equal(seals.nhold, 1);
	assert_int_equal(seals.fixed, 5 + 8);
	assert_int_equal(seals.checked, 13);
	assert_int_equal(seals.lines, 13 + 1 + 4);
	assert_non_null(seal_of(&seals, 6, "watched"));
	assert_string_equal(seal_of(&seals, 6, "watched")->accepted_as, "D. Ruiz");
	assert_null(seal_of(&seals, 2, "home"));
	assert_null(seal_of(&seals, 15, "later"));
	assert_null(seal_of(&seals, 15, "watched")); /* the same code again, behind the seal */
	assert_null(seal_of(&seals, 6, ""));
}

static void a_strangers_seal_makes_nothing_assessed(void **state)
{
	struct strand *s = strand_begin("l-1");
	struct strand_sum sum;
	(void)state;
	sit_through(s, "watched", "sit", 2);
	seal_it(s, "watched", &stranger_pair, &a);
	struct seals seals = find(strand_own_path(s), &assessors);
	assert_int_equal(seals.n, 1);
	assert_int_equal(seals.first->worth, SEAL_STRANGER);
	assert_int_equal(seals.checked, 0);
	assert_null(seal_of(&seals, 1, "watched"));
	/* the strand itself is whole: anybody may say something in it */
	struct source bytes = load(strand_own_path(s));
	code_is(strand_read(&bytes, NULL, NULL, NULL, &sum, NULL), FINE);
	unload(&bytes);
	strand_close(s);
}

/* The learner owns the machine and its key: a seal signed with that, or one whose numbers were made up,
 * is no seal. */
static void a_forged_seal_does_not_hold(void **state)
{
	struct strand *s = strand_begin("l-1");
	struct line_seal x = {.size = 5,
		.by = "D. Ruiz",
		.identity_check = "photo-card",
		.said_time = "2026-11-25T09:30:00.000Z",
		.sitting = "watched"};
	size_t len;
	(void)state;
	sit_through(s, "watched", "sit", 2);
	memcpy(x.assessor, assessor.open, SIGN_PUBLIC);
	x.head = strand_head(s);
	code_is(line_seal_write(&x, strand_scratch(s), CHAIN_BODY_MOST, &len), FINE);
	code_is(strand_append(s, "seal", strand_scratch(s), len), FINE); /* the machine's key */
	struct seals seals = find(strand_own_path(s), &assessors);
	assert_int_equal(seals.first->worth, SEAL_STRANGER);
	/* with the assessor's key, and wrong: somebody replayed a seal of another strand */
	x.size = 6;
	x.head = strand_head(s);
	code_is(line_seal_write(&x, strand_scratch(s), CHAIN_BODY_MOST, &len), FINE);
	code_is(strand_append_by(s, &stranger_pair, "seal", strand_scratch(s), len), BAD_ORDER);
	code_is(strand_append_by(s, &assessor_pair, "seal", strand_scratch(s), len), FINE);
	seals = find(strand_own_path(s), &assessors);
	assert_int_equal(seals.first->next->worth, SEAL_BROKEN);
	assert_string_equal(
		seals.first->next->words, "the lines before it are not the ones that were sealed");
	assert_null(seal_of(&seals, 1, "watched"));
	strand_close(s);
}

static void sealing_again_adds_nothing(void **state)
{
	struct strand *s = strand_begin("l-1");
	(void)state;
	sit_through(s, "watched", "sit", 2);
	struct line_seal one = seal_it(s, NULL, NULL, &a), two = seal_it(s, NULL, NULL, &a);
	assert_int_equal(strand_count(s), 6);
	assert_string_equal(one.sitting, "watched");
	assert_int_equal(two.size, one.size);
	assert_true(hash_is_equal(&two.root, &one.root));
	sit_through(s, "again", "sit", 2);
	assert_int_equal(seal_it(s, NULL, NULL, &a).size, 11);
	/* a sitting of before can be watched too */
	assert_int_equal(seal_it(s, "watched", NULL, &a).size, 12);
	strand_close(s);
}

static void what_cannot_be_sealed_is_told(void **state)
{
	struct seal_how how = {.sitting = "other", .pair = &assessor_pair, .assessor = &assessor};
	struct strand *s = strand_begin("l-1");
	(void)state;
	code_is(seal_strand(s, &how, &a, NULL, &why), BAD_MISSING);
	why_has("it holds no such sitting");
	sit_through(s, "watched", "sit", 4);
	code_is(seal_strand(s, &how, &a, NULL, &why), BAD_MISSING);
	/* somebody changed it while it was open */
	struct source bytes = load(strand_own_path(s));
	char *at = strstr((char *)(uintptr_t)bytes.text, "\"slip\":\"by");
	FILE *f = fopen(strand_own_path(s), "r+");
	assert_non_null(f);
	assert_int_equal(fseek(f, at - bytes.text + 8, SEEK_SET), 0);
	fputc('B', f);
	fclose(f);
	unload(&bytes);
	how.sitting = NULL;
	text_clear(&why);
	code_is(seal_strand(s, &how, &a, NULL, &why), BAD_CHAIN);
	why_has("was not sealed");
	assert_int_equal(strand_count(s), 8);
	strand_close(s);
}

/* ---- every flip and every cut ---------------------------------------------------------------- */

/* What a reader does who skips signatures below a seal that holds, and has the witness list. */
static bool holds(const char *text, size_t len, const struct witness *w)
{
	struct source source = {"sealed", text, len};
	struct strand_sum sum;
	struct seals seals;
	struct arena mem = {0};
	code_is(seals_find(&source, &assessors, &mem, &seals), FINE);
	struct strand_check check = {.known = &assessors, .checked = seals.checked};
	enum bad code = strand_read(&source, &check, NULL, NULL, &sum, NULL);
	bool good = !code && seals.nhold == 1 && seals.first->n == w->size;
	arena_release(&mem);
	return good;
}

static void every_single_flip_of_a_sealed_strand_is_noticed(void **state)
{
	struct strand *s = strand_begin("l-1");
	(void)state;
	sit_through(s, "watched", "sit", 1);
	struct line_seal seal = seal_it(s, NULL, NULL, &a);
	struct witness w = {.size = seal.size};
	struct source bytes = load(strand_own_path(s));
	char *text = (char *)(uintptr_t)bytes.text;
	strand_close(s);
	assert_true(holds(text, bytes.len, &w));
	for (size_t bit = 0; bit < 8 * bytes.len; bit++) {
		text[bit / 8] = (char)(text[bit / 8] ^ (1 << bit % 8));
		if (holds(text, bytes.len, &w))
			fail_msg("bit %zu of byte %zu: nobody notices", bit % 8, bit / 8);
		text[bit / 8] = (char)(text[bit / 8] ^ (1 << bit % 8));
	}
	for (size_t len = 0; len < bytes.len; len++)
		if (holds(text, len, &w))
			fail_msg("cut to %zu bytes: nobody notices", len);
	unload(&bytes);
}

/* A strand that goes on behind its seal: what stands before it is fixed, to the last bit of the
 * signatures that are not looked at one by one any more. */
static void flips_before_a_seal_are_noticed_without_looking_at_each_signature(void **state)
{
	struct source bytes;
	(void)state;
	bytes = load(sealed_strand());
	char *text = (char *)(uintptr_t)bytes.text;
	size_t end = bytes.len, noticed = 0;
	for (int i = 0; i < 5; i++) /* the seal and what is behind it */
		while (text[--end - 1] != '\n')
			;
	for (size_t bit = 0; bit < 8 * end; bit++) {
		struct seals seals;
		struct arena mem = {0};
		text[bit / 8] = (char)(text[bit / 8] ^ (1 << bit % 8));
		struct source source = {"sealed", text, bytes.len};
		code_is(seals_find(&source, &assessors, &mem, &seals), FINE);
		noticed += seals.nhold == 0;
		arena_release(&mem);
		text[bit / 8] = (char)(text[bit / 8] ^ (1 << bit % 8));
	}
	assert_int_equal(noticed, 8 * end);
	unload(&bytes);
}

static void erased_lines_keep_the_seal(void **state)
{
	struct source bytes;
	struct strand_sum sum;
	struct seals seals;
	struct text t;
	(void)state;
	bytes = load(sealed_strand());
	text_init(&t);
	for (const char *at = bytes.text, *stop; at < bytes.text + bytes.len; at = stop + 1) {
		struct chain_slice slice;
		stop = strchr(at, '\n');
		code_is(chain_slice(at, (size_t)(stop - at), &slice), FINE);
		bool gone = chain_kind_is(&slice, "answer") || chain_kind_is(&slice, "draw");
		text_add_char(&t, '[');
		text_add_bytes(&t, gone ? "null" : slice.payload, gone ? 4 : slice.payload_len);
		text_add_bytes(&t, slice.payload + slice.payload_len, CHAIN_SUFFIX + 1);
	}
	struct source source = {"erased", t.at, t.len};
	code_is(seals_find(&source, &assessors, &a, &seals), FINE);
	assert_int_equal(seals.nhold, 1);
	code_is(strand_read(&source, NULL, NULL, NULL, &sum, NULL), FINE);
	assert_int_equal(sum.erased, 3 + 6 + 2);
	text_release(&t);
	unload(&bytes);
}

/* A rating whose assessor sealed later: when its payload is gone, the key is found in the seal. */
static void an_erased_line_of_an_assessor_is_still_signed(void **state)
{
	struct strand *s = strand_begin("l-1");
	char body[200], hex[2 * SIGN_PUBLIC + 1];
	struct source bytes;
	struct strand_sum sum;
	struct text t;
	(void)state;
	struct line_open open = an_open;
	code_is(line_open_append(s, &open), FINE);
	hex_write(assessor_pair.open, SIGN_PUBLIC, hex);
	snprintf(body, sizeof body, "{\"assessor_pk\":\"%s\",\"points\":7}", hex);
	code_is(strand_append_by(s, &assessor_pair, "rating", body, strlen(body)), FINE);
	seal_it(s, NULL, NULL, &a);
	bytes = load(strand_own_path(s));
	strand_close(s);
	code_is(strand_read(&bytes, NULL, NULL, NULL, &sum, NULL), FINE);
	const char *two = strchr(bytes.text, '\n') + 1, *three = strchr(two, '\n') + 1;
	text_init(&t);
	text_add_bytes(&t, bytes.text, (size_t)(two - bytes.text));
	text_add(&t, "[null");
	text_add_bytes(&t, three - 1 - CHAIN_SUFFIX, CHAIN_SUFFIX);
	text_add(&t, "\n");
	text_add(&t, three);
	struct source source = {"erased", t.at, t.len};
	code_is(strand_read(&source, NULL, NULL, NULL, &sum, NULL), FINE);
	assert_int_equal(sum.erased, 1);
	/* and with another signature it is not */
	char *sig = t.at + (two - bytes.text) + 5 + 80;
	*sig = *sig == 'A' ? 'B' : 'A';
	code_is(strand_read(&source, NULL, NULL, NULL, &sum, NULL), BAD_SEAL);
	text_release(&t);
	unload(&bytes);
}

/* ---- witness lists --------------------------------------------------------------------------- */

static void a_witness_list_tells_what_was_sealed(void **state)
{
	struct strand *s = strand_begin("l-1");
	struct witnesses list = {0};
	struct diags d = {.arena = &a};
	const char *path = work_path("stick.jsonl");
	(void)state;
	sit_through(s, "watched", "sit", 2);
	struct line_seal seal = seal_it(s, NULL, NULL, &a);
	code_is(witness_add(path, &assessor_pair, strand_own_id(s), &seal, &why), FINE);
	code_is(witness_add(path, &assessor_pair, strand_own_id(s), &seal, &why), FINE);
	seal.size = 9;
	code_is(witness_add(path, &assessor_pair, "s-other", &seal, &why), FINE);
	code_is(witness_read(path, &assessors, &a, &list, &d), FINE);
	assert_int_equal(list.n, 2);
	assert_int_equal(list.nlist, 1);
	assert_int_equal(list.nstranger, 0);
	assert_string_equal(list.first->strand, strand_own_id(s));
	assert_string_equal(list.first->sitting, "watched");
	assert_string_equal(list.first->by, "D. Ruiz");
	assert_int_equal(list.first->size, 5);
	assert_int_equal(list.last->size, 9);
	assert_true(hash_is_equal(&list.last->root, &seal.root));
	strand_close(s);
	/* another assessor does not write into it */
	code_is(witness_add(path, &stranger_pair, "s-other", &seal, &why), BAD_CHAIN);
	struct witnesses again = {0};
	code_is(witness_read(path, NULL, &a, &again, &d), FINE);
	assert_int_equal(again.nstranger, 1);
	assert_string_equal(again.first->by, "");
}

static void other_files_are_not_witness_lists(void **state)
{
	struct witnesses list = {0};
	struct diags d = {.arena = &a};
	(void)state;
	code_is(witness_read(work_path("none"), &assessors, &a, &list, &d), BAD_ABSENT);
	code_is(witness_read(strand_make(&machine, "l-1", 3), &assessors, &a, &list, &d), BAD_TYPE);
	code_is(file_replace(work_path("x"), "hello\n", 6, false), FINE);
	code_is(witness_read(work_path("x"), &assessors, &a, &list, &d), BAD_SYNTAX);
	assert_int_equal(list.n, 0);
	code_is(witness_add(
			"/proc/nowhere/list", &assessor_pair, "s-1", &(struct line_seal){0}, &why),
		BAD_ABSENT);
	why_has("no such file or folder");
}

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	struct strand *s = strand_begin("l-1");
	(void)state;
	sit_through(s, "watched", "sit", 2);
	struct line_seal seal = seal_it(s, NULL, NULL, &a);
	const char *path = work_path("stick.jsonl");
	for (unsigned long n = 1;; n++) {
		struct witnesses list = {0};
		struct arena mem = {0};
		struct seals seals;
		struct source *source;
		struct seal_how how = {.pair = &assessor_pair, .assessor = &assessor};
		assert_true(n < 200);
		mem_fail_at(n, 0);
		enum bad code = seal_strand(s, &how, &mem, NULL, NULL);
		if (!code)
			code = witness_add(path, &assessor_pair, "s-1", &seal, NULL);
		if (!code)
			code = witness_read(path, &assessors, &mem, &list, NULL);
		if (!code)
			code = strand_load(strand_own_path(s), &mem, &source);
		if (!code)
			code = seals_find(source, &assessors, &mem, &seals);
		int failed = mem_failed();
		mem_fail_at(0, 0);
		arena_release(&mem);
		code_is(code, failed ? BAD_MEMORY : FINE);
		if (!failed)
			break;
	}
	assert_int_equal(strand_count(s), 6);
	strand_close(s);
}

#define T(name) cmocka_unit_test_setup_teardown(name, begin, end)
int main(void)
{
	const struct CMUnitTest tests[] = {
		T(a_seal_made_elsewhere_holds),
		T(only_the_watched_sitting_before_the_seal_is_assessed),
		T(a_strangers_seal_makes_nothing_assessed),
		T(a_forged_seal_does_not_hold),
		T(sealing_again_adds_nothing),
		T(what_cannot_be_sealed_is_told),
		T(every_single_flip_of_a_sealed_strand_is_noticed),
		T(flips_before_a_seal_are_noticed_without_looking_at_each_signature),
		T(erased_lines_keep_the_seal),
		T(an_erased_line_of_an_assessor_is_still_signed),
		T(a_witness_list_tells_what_was_sealed),
		T(other_files_are_not_witness_lists),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
