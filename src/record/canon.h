/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Canonical JSON as lines hold it: the output of the JSON Canonicalization Scheme (RFC 8785), and
 * of that only objects, lists, texts, whole numbers of at most 2^53 - 1, true and false. Member
 * names are printable ASCII without quote and backslash, so that the order of their bytes is the
 * order of their UTF-16 units. No null, no fractions, no U+0000, no more than CANON_DEPTH levels.
 *
 * Nothing here takes memory, except texts read into an arena. */
#ifndef BARWRIGHT_RECORD_CANON_H
#define BARWRIGHT_RECORD_CANON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

enum { CANON_DEPTH = 32 };
#define CANON_COUNT_MOST INT64_C(9007199254740991) /* 2^53 - 1 */

/* Are the bytes one object of this form, and nothing else? It stands `depth` levels down already.
 * If not, *where is the offset of the first byte at fault and *words says what is wrong (static);
 * both may be null. */
enum bad canon_check(const char *s, size_t len, int depth, size_t *where, const char **words);

/* What follows needs text that passed canon_check, or pieces of it. */
struct slice {
	const char *at;
	size_t len;
};
bool slice_is(struct slice s, const char *text);

/* Walks the members of an object: *at is its "{" first; false at its end. name is without
 * quotes. */
bool canon_next(const char **at, struct slice *name, struct slice *value);
bool canon_member(struct slice object, const char *name, struct slice *value);

/* The values of members. BAD_TYPE: not of this type; BAD_RANGE: a negative count. */
enum bad canon_text(struct slice value, struct arena *a, const char **out);
enum bad canon_count(struct slice value, uint64_t *out);
/* A text between its quotes, as it is written; false when the value is no text or needs
 * unescaping. */
bool canon_plain(struct slice value, struct slice *out);

/* Writes into room given by somebody. What does not fit or may not be written sets `bad`, once;
 * then everything is ignored. Ask at the end. */
struct pen {
	char *at;
	size_t len, room;
	enum bad bad;
};
void pen_bytes(struct pen *p, const char *s, size_t len);
void pen_raw(struct pen *p, const char *s);
void pen_text(struct pen *p, const char *s); /* quoted and escaped; null is "" */
void pen_count(struct pen *p, uint64_t n);
/* A member: the comma or brace before it, its name, its colon. Names in rising order. */
void pen_member(struct pen *p, const char *name);
void pen_hex(struct pen *p, const unsigned char *bytes, size_t n); /* quoted */

#endif
