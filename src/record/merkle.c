/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/merkle.h>

#include <string.h>

struct hash merkle_leaf(const void *bytes, size_t len)
{
	struct hash_state s;
	hash_start(&s);
	hash_add(&s, "", 1);
	hash_add(&s, bytes, len);
	return hash_end(&s);
}

struct hash merkle_node(const struct hash *left, const struct hash *right)
{
	unsigned char both[1 + 2 * HASH_BYTES] = {1};
	memcpy(both + 1, left->byte, HASH_BYTES);
	memcpy(both + 1 + HASH_BYTES, right->byte, HASH_BYTES);
	return hash_bytes(both, sizeof both);
}

static unsigned bits_of(uint64_t n)
{
	unsigned bits = 0;
	for (; n; n &= n - 1)
		bits++;
	return bits;
}

/* As in a sum with carry: a full part of the same size as the new one joins it. */
void merkle_add(struct merkle *m, const struct hash *leaf)
{
	unsigned parts = bits_of(m->size);
	struct hash h = *leaf;
	for (uint64_t n = m->size; n & 1; n >>= 1)
		h = merkle_node(&m->part[--parts], &h);
	m->part[parts] = h;
	m->size++;
}

struct hash merkle_root(const struct merkle *m)
{
	unsigned parts = bits_of(m->size);
	if (!parts)
		return hash_bytes("", 0);
	struct hash h = m->part[--parts];
	while (parts)
		h = merkle_node(&m->part[--parts], &h);
	return h;
}

/* ---- proofs ---------------------------------------------------------------------------------- */

/* The largest power of two below n; n > 1. */
static uint64_t split(uint64_t n)
{
	uint64_t k = 1;
	while (k < n - k)
		k *= 2;
	return k;
}

static struct hash root_of(const struct hash *leaf, uint64_t n)
{
	struct merkle m = {0};
	for (uint64_t i = 0; i < n; i++)
		merkle_add(&m, &leaf[i]);
	return merkle_root(&m);
}

static void turn_round(struct hash *list, size_t n)
{
	for (size_t i = 0; i + 1 < n - i; i++) {
		struct hash h = list[i];
		list[i] = list[n - 1 - i];
		list[n - 1 - i] = h;
	}
}

size_t merkle_inclusion(
	const struct hash *leaf, uint64_t n, uint64_t at, struct hash out[static MERKLE_DEEP])
{
	size_t count = 0;
	if (at >= n)
		return 0;
	while (n > 1) { /* from the root down */
		uint64_t k = split(n);
		out[count++] = at < k ? root_of(leaf + k, n - k) : root_of(leaf, k);
		if (at >= k) {
			leaf += k;
			at -= k;
			n -= k;
		} else {
			n = k;
		}
	}
	turn_round(out, count);
	return count;
}

/* RFC 9162, 2.1.3.2. */
enum bad merkle_inclusion_check(const struct hash *leaf, uint64_t at, uint64_t size,
	const struct hash *proof, size_t n, const struct hash *root)
{
	struct hash h = *leaf;
	if (at >= size)
		return BAD_RANGE;
	uint64_t f = at, s = size - 1;
	for (size_t i = 0; i < n; i++) {
		if (s == 0)
			return BAD_COUNT;
		if ((f & 1) || f == s) {
			h = merkle_node(&proof[i], &h);
			for (; f && !(f & 1); f >>= 1)
				s >>= 1;
		} else {
			h = merkle_node(&h, &proof[i]);
		}
		f >>= 1;
		s >>= 1;
	}
	if (s)
		return BAD_COUNT;
	return hash_is_equal(&h, root) ? FINE : BAD_CHAIN;
}

/* RFC 9162, 2.1.4.1; `whole`: the part of the first tree that is looked at is one of its full
 * parts, whose root the reader has already. */
size_t merkle_consistency(
	const struct hash *leaf, uint64_t n, uint64_t first, struct hash out[static MERKLE_DEEP])
{
	size_t count = 0;
	bool whole = true;
	if (first == 0 || first >= n)
		return 0;
	while (first != n) {
		uint64_t k = split(n);
		if (first <= k) {
			out[count++] = root_of(leaf + k, n - k);
			n = k;
		} else {
			out[count++] = root_of(leaf, k);
			leaf += k;
			first -= k;
			n -= k;
			whole = false;
		}
	}
	if (!whole)
		out[count++] = root_of(leaf, n);
	turn_round(out, count);
	return count;
}

/* The rest of RFC 9162, 2.1.4.2, from the first hash on that both trees share. */
static enum bad climb(uint64_t f, uint64_t s, struct hash h, const struct hash *proof, size_t n,
	const struct hash *first_root, const struct hash *second_root)
{
	struct hash a = h, b = h;
	for (size_t i = 0; i < n; i++) {
		if (s == 0)
			return BAD_COUNT;
		if ((f & 1) || f == s) {
			a = merkle_node(&proof[i], &a);
			b = merkle_node(&proof[i], &b);
			for (; f && !(f & 1); f >>= 1)
				s >>= 1;
		} else {
			b = merkle_node(&b, &proof[i]);
		}
		f >>= 1;
		s >>= 1;
	}
	if (s)
		return BAD_COUNT;
	return hash_is_equal(&a, first_root) && hash_is_equal(&b, second_root) ? FINE : BAD_CHAIN;
}

enum bad merkle_consistency_check(uint64_t first, uint64_t second, const struct hash *proof,
	size_t n, const struct hash *first_root, const struct hash *second_root)
{
	uint64_t f = first - 1, s = second - 1;
	if (first == 0 || first > second)
		return BAD_RANGE;
	if (first == second && n)
		return BAD_COUNT;
	if (first == second)
		return hash_is_equal(first_root, second_root) ? FINE : BAD_CHAIN;
	for (; f & 1; f >>= 1)
		s >>= 1;
	if (f == 0) /* the first tree is full: its root begins the proof */
		return climb(f, s, *first_root, proof, n, first_root, second_root);
	if (n == 0)
		return BAD_COUNT;
	return climb(f, s, proof[0], proof + 1, n - 1, first_root, second_root);
}
