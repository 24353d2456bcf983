/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One line of a strand with all that proves it, and nothing of the others: the line, the hashes beside
 * its way up the tree (RFC 9162, 2.1.3), the seal over the root.
 *
 * {"line":"[...]","n":4,"proof":["<64 hex>",...],"seal":"[...]","type":"barwright-line-proof","v":1} */
#ifndef BARWRIGHT_EXPORT_SINGLE_H
#define BARWRIGHT_EXPORT_SINGLE_H

#include <barwright/base/diag.h>
#include <barwright/base/text.h>
#include <barwright/record/seal.h>

/* Line n of a strand under the first seal after it that holds. BAD_RANGE: there is no such line;
 * BAD_SEAL: no seal that holds stands after it; or the strand's own fault, in `d`. */
enum bad single_write(const struct source *s, const struct key_ring *assessors, uint64_t n,
	struct text *out, struct diags *d);

/* What a proof shows. */
struct single {
	struct strand_line line; /* body in the arena; null when erased */
	struct line_seal seal;
	const char *accepted_as; /* "" when the key of the seal is not accepted here */
	char key[KEY_ID + 1];
};
/* FINE: the line stands in a tree whose root that seal fixes, signed with the key it names. Otherwise
 * `why` tells. */
enum bad single_check(const char *text, size_t len, const struct key_ring *assessors,
	struct arena *a, struct single *out, struct text *why);

#endif
