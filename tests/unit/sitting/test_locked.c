/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <stdlib.h>
#include <string.h>

#include "sitting/locked.h"

static const struct phrase_cost cheap = {1, 8};
static const char words[] = "six words nobody guesses at all";

/* What is locked, `len` bytes of a pattern. */
static char *pattern(struct arena *a, size_t len)
{
	char *out = arena_get(a, len + 1);
	for (size_t i = 0; i < len; i++)
		out[i] = (char)(' ' + (i * 7 + i / 251) % 90);
	return out;
}

static void a_file_of_any_length_comes_back(void **state)
{
	static const size_t lengths[] = {0, 1, 17, 4095, 4096, 4097, 8191, 8192, 8193, 30000};
	(void)state;
	code_is(cipher_start(), FINE);
	for (size_t i = 0; i < sizeof lengths / sizeof *lengths; i++) {
		struct arena a = {0};
		char *plain = pattern(&a, lengths[i]), *locked, *got;
		size_t locked_len, got_len = 77;
		const char *why = "";
		code_is(locked_make(plain, lengths[i], words, &cheap, &a, &locked, &locked_len),
			FINE);
		assert_true(locked_is(locked, locked_len));
		code_is(locked_open(locked, locked_len, words, &a, &got, &got_len, &why), FINE);
		assert_int_equal(got_len, lengths[i]);
		assert_memory_equal(got, plain, got_len);
		assert_int_equal(got[got_len], 0);
		if (lengths[i] > 16) /* it is hidden */
			for (size_t k = 0; k + 16 < locked_len; k++)
				assert_memory_not_equal(locked + k, plain, 16);
		arena_release(&a);
	}
}

static void another_passphrase_opens_nothing(void **state)
{
	struct arena a = {0};
	char *locked, *got = NULL;
	size_t locked_len, got_len;
	const char *why = "";
	(void)state;
	code_is(locked_make("text", 4, words, &cheap, &a, &locked, &locked_len), FINE);
	code_is(locked_open(locked, locked_len, "six words nobody guesses at al", &a, &got,
			&got_len, &why),
		BAD_SEAL);
	assert_string_equal(why, "the passphrase is wrong, or the file was damaged");
	code_is(locked_open(locked, locked_len, "", &a, &got, &got_len, &why), BAD_SEAL);
	assert_null(got);
	arena_release(&a);
}

static void every_cut_is_noticed(void **state)
{
	struct arena a = {0};
	char *plain = pattern(&a, 9000), *locked, *got = NULL;
	size_t locked_len, got_len;
	const char *why;
	(void)state;
	code_is(locked_make(plain, 9000, words, &cheap, &a, &locked, &locked_len), FINE);
	for (size_t n = 0; n < locked_len; n += n < 120 || n > locked_len - 60 ? 1 : 61) {
		struct arena own = {0};
		why = NULL;
		enum bad code = locked_open(locked, n, words, &own, &got, &got_len, &why);
		if (!code || !why)
			fail_msg("cut at %zu of %zu was not noticed", n, locked_len);
		arena_release(&own);
	}
	/* at the border of a piece */
	code_is(locked_open(locked, locked_len - (9000 - 8192) - PIECE_EXTRA, words, &a, &got,
			&got_len, &why),
		BAD_TORN);
	assert_string_equal(why, "the file is cut off: fetch it again");
	char *longer = arena_get(&a, locked_len + 1);
	memcpy(longer, locked, locked_len);
	assert_true(locked_open(longer, locked_len + 1, words, &a, &got, &got_len, &why) != FINE);
	arena_release(&a);
}

static void every_flipped_bit_is_noticed(void **state)
{
	struct arena a = {0};
	char *plain = pattern(&a, 300), *locked, *got = NULL;
	size_t locked_len, got_len;
	(void)state;
	code_is(locked_make(plain, 300, words, &cheap, &a, &locked, &locked_len), FINE);
	for (size_t bit = 0; bit < 8 * locked_len; bit++) {
		struct arena own = {0};
		const char *why = NULL;
		/* a changed cost would be paid: up to a gigabyte. One bit of each of its bytes will do. */
		size_t byte = bit / 8;
		if (byte >= 19 && byte < 27 && bit % 8 != 1)
			continue;
		if (byte >= 24 && byte < 27)
			continue;
		locked[byte] = (char)(locked[byte] ^ 1 << bit % 8);
		enum bad code = locked_open(locked, locked_len, words, &own, &got, &got_len, &why);
		if (!code || !why)
			fail_msg("bit %zu was flipped and nobody noticed", bit);
		locked[byte] = (char)(locked[byte] ^ 1 << bit % 8);
		arena_release(&own);
	}
	arena_release(&a);
}

static void a_cost_out_of_bounds_is_refused_before_it_is_paid(void **state)
{
	struct arena a = {0};
	char *locked, *got;
	size_t locked_len, got_len;
	const char *why;
	(void)state;
	code_is(locked_make("text", 4, words, &cheap, &a, &locked, &locked_len), FINE);
	memset(locked + 23, 0xff, 4); /* memory: 4 TiB */
	code_is(locked_open(locked, locked_len, words, &a, &got, &got_len, &why), BAD_RANGE);
	assert_string_equal(why, "the file was damaged at its beginning: fetch it again");
	code_is(locked_open("something else", 14, words, &a, &got, &got_len, &why), BAD_SYNTAX);
	locked[17] = '2';
	code_is(locked_open(locked, locked_len, words, &a, &got, &got_len, &why), BAD_VERSION);
	arena_release(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(a_file_of_any_length_comes_back),
		cmocka_unit_test(another_passphrase_opens_nothing),
		cmocka_unit_test(every_cut_is_noticed),
		cmocka_unit_test(every_flipped_bit_is_noticed),
		cmocka_unit_test(a_cost_out_of_bounds_is_refused_before_it_is_paid),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
