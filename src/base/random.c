/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/random.h>

#include <string.h>

#include <barwright/base/cipher.h>

enum { WORDS = 16 };

static void add_number(struct hash_state *h, uint64_t n)
{
	unsigned char le[8];
	for (int i = 0; i < 8; i++)
		le[i] = (unsigned char)(n >> (8 * i));
	hash_add(h, le, sizeof le);
}

static void add_field(struct hash_state *h, const char *s)
{
	size_t len = s ? strlen(s) : 0;
	add_number(h, len);
	if (len)
		hash_add(h, s, len);
}

void stream_open(struct stream *s, const struct draw_key *key)
{
	static const char purpose[] = "barwright/draw/1\n";
	struct hash_state h;
	hash_start(&h);
	hash_add(&h, purpose, sizeof purpose - 1);
	add_field(&h, key->course);
	add_field(&h, key->item);
	add_field(&h, key->candidate);
	add_field(&h, key->sitting);
	add_number(&h, key->attempt);
	struct hash made = hash_end(&h);
	static const unsigned char nonce[12];
	stream_open_raw(s, made.byte, nonce, 0);
}

void stream_open_raw(struct stream *s, const unsigned char key[static 32],
	const unsigned char nonce[static 12], uint32_t block)
{
	memcpy(s->key, key, sizeof s->key);
	memcpy(s->nonce, nonce, sizeof s->nonce);
	s->block = block;
	s->used = WORDS;
}

static void refill(struct stream *s)
{
	unsigned char bytes[4 * WORDS];
	chacha20_block(s->key, s->nonce, s->block++, bytes);
	for (int i = 0; i < WORDS; i++)
		s->word[i] = (uint32_t)bytes[4 * i] | (uint32_t)bytes[4 * i + 1] << 8 |
			     (uint32_t)bytes[4 * i + 2] << 16 | (uint32_t)bytes[4 * i + 3] << 24;
	s->used = 0;
}

uint32_t stream_word(struct stream *s)
{
	if (s->used == WORDS)
		refill(s);
	return s->word[s->used++];
}

uint32_t stream_below(struct stream *s, uint32_t n)
{
	uint64_t m = (uint64_t)stream_word(s) * n;
	if ((uint32_t)m < n) {
		uint32_t least = (UINT32_MAX - n + 1) % n; /* (2^32 - n) mod n */
		while ((uint32_t)m < least)
			m = (uint64_t)stream_word(s) * n;
	}
	return (uint32_t)(m >> 32);
}

void stream_shuffle(struct stream *s, uint32_t *list, size_t n)
{
	for (size_t i = n; i > 1; i--) {
		uint32_t j = stream_below(s, (uint32_t)i);
		uint32_t kept = list[i - 1];
		list[i - 1] = list[j];
		list[j] = kept;
	}
}
