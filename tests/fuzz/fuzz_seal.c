/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Seals from anybody: a chain whose lines are the fuzzer's, one a line of the input. "!" adds a seal that is
 * right, "!" with something behind it a seal with that body, anything else an answer with that body. The last
 * three bytes say which bit of which byte is turned over afterwards, and a seal must not hold over it. */
#include "chain_maker.h"

#include <barwright/record/merkle.h>
#include <barwright/record/seal.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static void right_seal(struct chain_maker *c)
{
	char body[1200];
	size_t len;
	struct merkle m = {0};
	struct hash_state signatures;
	struct line_seal seal = {.size = c->n,
		.head = c->head,
		.sitting = "0123456789abcdef",
		.identity_check = "known",
		.said_time = "2026-11-25T09:30:00.000Z",
		.by = "X",
		.has_signatures = true};
	hash_start(&signatures);
	for (const char *at = c->text.at, *stop; (stop = strchr(at, '\n')); at = stop + 1) {
		struct chain_slice s;
		struct hash h;
		assert(!chain_slice(at, (size_t)(stop - at), &s) && !chain_hash(&s, &h));
		merkle_add(&m, &h);
		hash_add(&signatures, s.signature, 86);
	}
	seal.root = merkle_root(&m);
	seal.signatures = hash_end(&signatures);
	memcpy(seal.assessor, c->assessor.open, SIGN_PUBLIC);
	assert(!line_seal_write(&seal, body, sizeof body, &len));
	assert(chain_add(c, "seal", true, body, len));
}

static void make(struct chain_maker *c, const char *at, const char *end)
{
	chain_begin(c);
	chain_open(c);
	for (const char *stop; at < end && c->n < 64; at = stop + 1) {
		stop = memchr(at, '\n', (size_t)(end - at));
		stop = stop ? stop : end;
		size_t len = (size_t)(stop - at);
		if (len == 1 && *at == '!')
			right_seal(c);
		else if (len && *at == '!')
			chain_add(c, "seal", true, at + 1, len - 1);
		else
			chain_add(c, "answer", false, at, len);
	}
}

/* Bytes of the lines that the last seal that holds fixes; 0: none does. */
static size_t fixed_bytes(const char *text, size_t len, const struct key_ring *ring, size_t *nhold)
{
	struct source s = {"fuzz", text, len};
	struct arena a = {0};
	struct seals seals;
	size_t bytes = 0;
	assert(seals_find(&s, ring, &a, &seals) == FINE);
	assert(seals.nhold <= seals.n && seals.fixed <= seals.lines);
	assert(seals.checked <= seals.fixed);
	for (const struct seal *i = seals.first; i; i = i->next)
		assert(i->worth != SEAL_HOLDS || (i->body.size == i->n && !*i->words));
	for (uint64_t n = 0; n < seals.fixed; n++)
		bytes = (size_t)((const char *)memchr(text + bytes, '\n', len - bytes) + 1 - text);
	*nhold = seals.nhold;
	arena_release(&a);
	return bytes;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	struct chain_maker c;
	if (size < 3 || cipher_start())
		return 0;
	const char *bytes = (const char *)data;
	make(&c, bytes, bytes + size - 3);
	struct key_known known = {.name = "X"};
	const struct key_ring ring = {&known, 1};
	memcpy(known.open, c.assessor.open, SIGN_PUBLIC);
	size_t nhold, after;
	size_t fixed = fixed_bytes(c.text.at, c.text.len, &ring, &nhold);
	if (fixed) {
		size_t at = (data[size - 3] * 256u + data[size - 2]) % fixed;
		char *flipped = malloc(c.text.len + 1);
		assert(flipped);
		memcpy(flipped, c.text.at, c.text.len + 1);
		flipped[at] ^= (char)(1 << data[size - 1] % 8);
		fixed_bytes(flipped, c.text.len, &ring, &after);
		assert(after < nhold);
		free(flipped);
	}
	chain_end(&c);
	return 0;
}
