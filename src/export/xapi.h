/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Answers and results as statements of the Experience API, data model 1.0.3 (ADL, "Experience API, Part
 * Two: Experience API Data", 2016). The id of a statement is the id of its line, so that exporting again
 * gives the same statements. Actors are opaque codes. Verbs, activities and extensions are IRIs below
 * `base`, which a school may set to its own; nothing has to stand there.
 *
 * Statements are not signed as that document has it: its signatures are RSA only. Each carries the hash of
 * its line and whether a seal stands over it; the proof is the strand. */
#ifndef BARWRIGHT_EXPORT_XAPI_H
#define BARWRIGHT_EXPORT_XAPI_H

#include "export/pick.h"

extern const char xapi_base[]; /* "https://barwright.invalid/" (RFC 2606: is never anybody's) */

/* One JSON array over all strands: begin, strands, end. */
struct xapi {
	const char *base; /* an IRI with a scheme, ends in a slash */
	struct text *out;
	size_t n; /* statements so far */
};
void xapi_begin(struct xapi *x, const char *base, struct text *out);
enum bad xapi_strand(
	struct xapi *x, const struct source *s, const struct key_ring *assessors, struct diags *d);
void xapi_end(struct xapi *x);

#endif
