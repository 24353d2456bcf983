/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws that can be made again, bit for bit, on any machine: ChaCha20 words (RFC 8439, 2.3 and 2.4,
 * little-endian, in order from block 0) under a key made from names, bounded without bias by
 * D. Lemire, "Fast random integer generation in an interval", ACM TOMACS 29(1):3, 2019. Integer
 * arithmetic only. */
#ifndef BARWRIGHT_BASE_RANDOM_H
#define BARWRIGHT_BASE_RANDOM_H

#include <stddef.h>
#include <stdint.h>

/* What fixes an instance. The texts may hold any bytes; null counts as empty. */
struct draw_key {
	const char *course;
	const char *item;
	const char *candidate;
	const char *sitting;
	uint64_t attempt;
};

struct stream {
	unsigned char key[32];
	unsigned char nonce[12];
	uint32_t block;    /* counter of the next block */
	uint32_t word[16]; /* the current block */
	unsigned used;     /* words of it already given; 16: none left */
};

/* Key = SHA-256 of "barwright/draw/1\n" and then each field of the key: the texts as 8 bytes of
 * length (little-endian) and their bytes, attempt as 8 bytes little-endian. Nonce 0, block 0. */
void stream_open(struct stream *s, const struct draw_key *key);
/* For published vectors: this very key, nonce and first block. */
void stream_open_raw(struct stream *s, const unsigned char key[static 32],
	const unsigned char nonce[static 12], uint32_t block);
uint32_t stream_word(struct stream *s);
/* 0 <= result < n, every value equally likely; n > 0. May take more than one word. */
uint32_t stream_below(struct stream *s, uint32_t n);
/* Fisher-Yates from the end: i = n-1 .. 1, j = below(i+1), swap. n is below 2^32. */
void stream_shuffle(struct stream *s, uint32_t *list, size_t n);

#endif
