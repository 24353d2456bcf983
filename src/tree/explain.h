/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: where the YAML library stopped, said so that the author of a course can mend
 * it. Pure but for the diags it adds to; knows the library's sentences as texts only. */
#ifndef BARWRIGHT_TREE_EXPLAIN_H
#define BARWRIGHT_TREE_EXPLAIN_H

#include <stdbool.h>

#include <barwright/base/diag.h>

/* What the library said, and where. */
struct stop {
	const char *problem, *context; /* never null */
	struct place at;               /* where it noticed */
	struct place from;             /* where what it was reading began; line 0: not told */
	bool flow;                     /* inside [ ] or { } */
};

/* Adds one error (BAD_SYNTAX) with its hint. */
void explain(const struct stop *stop, struct diags *d);

/* Adds "a value cannot begin with '*' ..." for the value at `at`, with the value in quotes as hint. */
void explain_start(struct place at, bool flow, struct diags *d);
/* The hint alone: the rest of the line from `at` on, put in quotes where that can be done. */
void explain_quotes(struct place at, bool flow, struct diags *d);
/* If a no-break space stands behind a colon or before the first word of this line, reports that
 * and gives true. */
bool explain_blank(const struct source *s, uint32_t line, struct diags *d);

#endif
