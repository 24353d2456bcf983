/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws against published vectors. */
#include "near.h"

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/random.h>

/* RFC 8439, 2.3.2: key 00..1f, nonce 00 00 00 09 00 00 00 4a 00 00 00 00, block 1. */
static void chacha20_gives_the_published_block(void **state)
{
	(void)state;
	static const uint32_t want[16] = {0xe4e7f110, 0x15593bd1, 0x1fdd0f50, 0xc47120a3, 0xc7f4d1c7, 0x0368c033,
		0x9aaa2204, 0x4e6cd4c3, 0x466482d2, 0x09aa9f07, 0x05d7c214, 0xa2028bd9, 0xd19c12b5, 0xb94e16de,
		0xe883d0cb, 0x4e3c50a2};
	static const unsigned char nonce[12] = {0, 0, 0, 9, 0, 0, 0, 0x4a};
	unsigned char key[32];
	struct stream s;
	for (int i = 0; i < 32; i++)
		key[i] = (unsigned char)i;
	stream_open_raw(&s, key, nonce, 1);
	for (int i = 0; i < 16; i++)
		assert_int_equal(stream_word(&s), want[i]);
	/* The block after it, computed with openssl enc -chacha20. */
	static const uint32_t next[4] = {0x7783880a, 0x4ebfd739, 0xb0acccf8, 0xd6b92bea};
	for (int i = 0; i < 4; i++)
		assert_int_equal(stream_word(&s), next[i]);
}

/* The draw of Lemire 2019 over these streams, worked out by a separate program in Python from the
 * algorithm as printed. */
static void bounded_draws_follow_the_published_algorithm(void **state)
{
	(void)state;
	static const uint32_t six[20] = {5, 0, 0, 4, 4, 0, 3, 1, 1, 0, 0, 3, 4, 4, 5, 1, 2, 1, 4, 5};
	static const uint32_t thousand[10] = {894, 83, 124, 767, 781, 13, 604, 306, 274, 37};
	static const uint32_t large[8] = {250178542, 2302053565, 2343238194, 1812475564, 919044392, 113279168,
		68470372, 1898554059};
	static const uint32_t shuffled[10] = {1, 3, 6, 2, 7, 4, 5, 9, 0, 8};
	static const unsigned char nonce[12] = {0, 0, 0, 9, 0, 0, 0, 0x4a};
	unsigned char key[32];
	uint32_t list[10];
	struct stream s, fresh;
	for (int i = 0; i < 32; i++)
		key[i] = (unsigned char)i;
	stream_open_raw(&fresh, key, nonce, 1);
	s = fresh;
	for (int i = 0; i < 20; i++)
		assert_int_equal(stream_below(&s, 6), six[i]);
	s = fresh;
	for (int i = 0; i < 10; i++)
		assert_int_equal(stream_below(&s, 1000), thousand[i]);
	s = fresh; /* 12 words for 8 draws: rejection happens */
	for (int i = 0; i < 8; i++)
		assert_int_equal(stream_below(&s, 3000000000u), large[i]);
	s = fresh;
	for (uint32_t i = 0; i < 10; i++)
		list[i] = i;
	stream_shuffle(&s, list, 10);
	for (int i = 0; i < 10; i++)
		assert_int_equal(list[i], shuffled[i]);
}

static void draws_are_even(void **state)
{
	(void)state;
	struct stream s;
	unsigned count[7] = {0};
	stream_open(&s, &(struct draw_key){"course", "item", "who", "sitting", 1});
	for (int i = 0; i < 70000; i++)
		count[stream_below(&s, 7)]++;
	double chi2 = 0;
	for (int i = 0; i < 7; i++)
		chi2 += (count[i] - 1e4) * (count[i] - 1e4) / 1e4;
	/* 22.46 is the 0.999 quantile of chi-square with 6 degrees of freedom (any statistics table) */
	if (chi2 > 22.46)
		fail_msg("chi-square %.2f over seven values", chi2);
}

static void every_part_of_the_key_changes_the_draws(void **state)
{
	(void)state;
	const struct draw_key keys[] = {
		{"course", "item", "who", "sitting", 1},
		{"course", "item", "who", "sitting", 2},
		{"course", "item", "who", "sittin", 1},
		{"course", "item", "wh", "sitting", 1},
		{"course", "ite", "mwho", "sitting", 1}, /* the border between two fields moved */
		{"cours", "eitem", "who", "sitting", 1},
		{NULL, "item", "who", "sitting", 1},
	};
	for (size_t a = 0; a < sizeof keys / sizeof *keys; a++)
		for (size_t b = 0; b < a; b++) {
			struct stream x, y;
			stream_open(&x, &keys[a]);
			stream_open(&y, &keys[b]);
			assert_memory_not_equal(x.key, y.key, sizeof x.key);
		}
}

/* SHA-256 of the bytes spelt out here, by sha256sum: the key of a record must be makeable by others. */
static void the_key_is_made_as_its_header_says(void **state)
{
	(void)state;
	static const char bytes[] = "barwright/draw/1\n\1\0\0\0\0\0\0\0c\2\0\0\0\0\0\0\0it\3\0\0\0\0\0\0\0who"
				    "\0\0\0\0\0\0\0\0\7\0\0\0\0\0\0\0";
	struct stream s;
	struct hash want = hash_bytes(bytes, sizeof bytes - 1);
	stream_open(&s, &(struct draw_key){"c", "it", "who", "", 7});
	assert_memory_equal(s.key, want.byte, 32);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(chacha20_gives_the_published_block),
		cmocka_unit_test(bounded_draws_follow_the_published_algorithm),
		cmocka_unit_test(draws_are_even),
		cmocka_unit_test(every_part_of_the_key_changes_the_draws),
		cmocka_unit_test(the_key_is_made_as_its_header_says),
	};
	if (cipher_start())
		return 99;
	return cmocka_run_group_tests(tests, NULL, NULL);
}
