/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The Merkle tree of RFC 9162 ("Certificate Transparency Version 2.0", 2021), clause 2.1, with
 * SHA-256: one hash for a whole strand, and short proofs that a line stands in it (inclusion) or that a
 * shorter strand is the beginning of a longer one (consistency).
 *
 * A leaf is SHA-256(0x00, bytes), which is the hash a line carries; a node SHA-256(0x01, left, right);
 * a tree of n leaves splits at the largest power of two below n. Nothing here takes memory. */
#ifndef BARWRIGHT_RECORD_MERKLE_H
#define BARWRIGHT_RECORD_MERKLE_H

#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>

struct hash merkle_leaf(const void *bytes, size_t len);
struct hash merkle_node(const struct hash *left, const struct hash *right);

/* A tree that grows; all zero is an empty one. Holds the roots of its full parts, large ones
 * first. */
enum { MERKLE_DEEP = 64 };
struct merkle {
	uint64_t size;
	struct hash part[MERKLE_DEEP];
};
void merkle_add(struct merkle *m, const struct hash *leaf);
/* The empty tree: SHA-256 of nothing. */
struct hash merkle_root(const struct merkle *m);

/* The hashes beside the way from leaf `at` (from 0) up to the root of the tree of these n leaves,
 * the lowest first. Gives how many; 0 when `at` is not below n. */
size_t merkle_inclusion(
	const struct hash *leaf, uint64_t n, uint64_t at, struct hash out[static MERKLE_DEEP]);
/* Does it lead to this root? BAD_RANGE: `at` is not below `size`; BAD_COUNT: too few or too many
 * hashes; BAD_CHAIN: another root. */
enum bad merkle_inclusion_check(const struct hash *leaf, uint64_t at, uint64_t size,
	const struct hash *proof, size_t n, const struct hash *root);

/* Is the tree of the first `first` leaves the beginning of the tree of all n? */
size_t merkle_consistency(
	const struct hash *leaf, uint64_t n, uint64_t first, struct hash out[static MERKLE_DEEP]);
/* BAD_RANGE: not 0 < first <= second (nothing can be said of an empty tree). */
enum bad merkle_consistency_check(uint64_t first, uint64_t second, const struct hash *proof,
	size_t n, const struct hash *first_root, const struct hash *second_root);

#endif
