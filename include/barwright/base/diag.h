/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Faults of a document: each with its place, all of one pass together, shown as compilers do:
 *
 *   arch.yaml:14:12: error: depth is in rad where a length is needed [unit-clash]
 *      14 |     depth: 3.2 rad
 *         |            ^~~~~~~
 *   hint: write a length, for example 3.2 mm
 */
#ifndef BARWRIGHT_BASE_DIAG_H
#define BARWRIGHT_BASE_DIAG_H

#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

/* The bytes of one file and the name to show for it. Both belong to somebody else and must
 * outlive every place that points here. `text` has a 0 at text[len]. */
struct source {
	const char *name;
	const char *text;
	size_t len;
};

/* A place in a source. line and col count from 1, col in code points; line 0: the file as a whole. */
struct place {
	const struct source *source;
	uint32_t line, col;
};

enum severity { SEVERITY_ERROR, SEVERITY_WARNING };

struct diag {
	enum severity severity;
	enum bad code;
	struct place place;
	uint32_t span;           /* columns to underline, at least 1 */
	const char *words;       /* lower case, no full stop */
	const char *hint;        /* what to do, or null */
	struct place note_place; /* the other place that matters; source null: none */
	const char *note;
	struct diag *next;
};

/* A list of faults in the order they were met; all zero but `arena` is an empty one. Keeps the
 * first DIAGS_KEPT and counts the rest. When memory runs out `out` is set and counting goes on. */
enum { DIAGS_KEPT = 200 };
struct diags {
	struct arena *arena; /* owns the diags and their words */
	struct diag *first, *last;
	size_t nerror, nwarning;
	int out;
	int muted; /* the last one was counted but not kept: its hint and note go nowhere */
};

void diag_error(struct diags *d, enum bad code, struct place at, uint32_t span, const char *format,
	...) __attribute__((format(printf, 5, 6)));
void diag_warn(struct diags *d, enum bad code, struct place at, uint32_t span, const char *format,
	...) __attribute__((format(printf, 5, 6)));
/* Add to the last one: what to do about it; the other place that matters. */
void diag_hint(struct diags *d, const char *format, ...) __attribute__((format(printf, 2, 3)));
void diag_note(struct diags *d, struct place at, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* Compiler format, one after the other, every byte of a document through the safe filter;
 * after them "... and N more" if some were not kept. No summary line. */
void diags_print(const struct diags *d, struct text *out);

/* The place of byte `offset` of a source (counted, O(offset)); at or past the end: just behind
 * the last byte. */
struct place source_place(const struct source *s, size_t offset);
/* The bytes of a line (from 1) without its line end; len 0 when there is no such line. */
const char *source_line(const struct source *s, uint32_t line, size_t *len);

#endif
