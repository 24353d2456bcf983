/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of a strand with what stands around them: the sitting they belong to, and whether a seal makes
 * them assessed. What every export is made from. */
#ifndef BARWRIGHT_EXPORT_PICK_H
#define BARWRIGHT_EXPORT_PICK_H

#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/record/lines.h>
#include <barwright/record/seal.h>

struct picked {
	const struct strand_line *line; /* not erased, within a sitting */
	enum line_kind kind;
	const struct line_open *open;
	const struct seal *seal; /* null: practice */
};
/* Reads a whole strand, checks it, and hands over its lines of sittings in order; texts live until the
 * function returns. A strand at fault hands over nothing: a code and the fault in `d`. A torn last
 * line is no fault here. Otherwise gives what `each` returned. */
enum bad pick_lines(const struct source *s, const struct key_ring *assessors,
	enum bad (*each)(void *context, const struct picked *p), void *context, struct diags *d);

#endif
