/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Witness lists: what an assessor sealed, kept on the assessor's own medium. A strand that was cut off at
 * a line's end, rolled back with its whole disk or deleted looks whole by itself; the list knows how
 * long it was.
 *
 * The file is a strand of its own (record/chain.c): `who` is "witness", every line is signed with the
 * assessor's key, the first one is an `open` that names it, and each line of kind "witness" holds
 * head, root, sitting, size, strand of one seal. */
#ifndef BARWRIGHT_RECORD_WITNESS_H
#define BARWRIGHT_RECORD_WITNESS_H

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/record/seal.h>

/* Notes a seal; one that is noted already is FINE. FINE: the medium has it. `why` may be null. */
enum bad witness_add(const char *path, const struct sign_pair *pair, const char *strand,
	const struct line_seal *seal, struct text *why);

struct witness {
	const char *path; /* of the list */
	const char *strand, *sitting;
	uint64_t size;
	struct hash head, root;
	const char *by; /* name of the accepted key; "" when it is not accepted */
	char key[KEY_ID + 1];
	struct witness *next;
};
struct witnesses {
	struct witness *first, *last;
	size_t n, nlist, nstranger; /* lists read; those of keys that are not accepted */
};
/* Reads a list to its end or first fault and adds its entries, in `a`. Faults go to `d`. Returns the
 * first fault (a torn last line is FINE) or why it cannot be read. */
enum bad witness_read(const char *path, const struct key_ring *ring, struct arena *a,
	struct witnesses *out, struct diags *d);

#endif
