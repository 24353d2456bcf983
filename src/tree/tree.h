/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A YAML text as a tree in which every value knows its place, and typed readers over it.
 *
 * What is read is a part of YAML 1.2 that cannot surprise its author: UTF-8, one document, maps
 * and lists nested at most TREE_DEPTH deep, keys that are plain words, no key twice in a map, no
 * anchors, aliases, tags or merge keys. A plain value has no type until a reader asks for one:
 * `no`, `012` and `1:30` are texts until then. Every refusal goes to the diags with its place, and
 * with a hint for an author who is not a programmer.
 *
 * Readers report a fault, mark the node as broken and return the code; a broken scalar and a null
 * pointer are refused in silence (BAD_SYNTAX, BAD_MISSING), so a loader reads on and each fault is
 * told once:
 *
 *	tree_text(tree_need(map, "title", d), d, &course->title);
 *	tree_whole(tree_find(map, "tries"), 1, 9, d, &course->tries);     left as it is if not there
 *	tree_unknown(map, d);
 *
 * When memory runs out they return BAD_MEMORY and set d->out; nothing is said in words. */
#ifndef BARWRIGHT_TREE_TREE_H
#define BARWRIGHT_TREE_TREE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/number.h>

enum {
	TREE_DEPTH = 32,      /* deepest nesting; the root stands at 1 */
	TREE_BYTES = 1 << 20, /* longest text */
	TREE_LINE = 1 << 14,  /* longest line of it */
	TREE_NODES = 200000   /* most values in one text */
};

enum tree_kind { TREE_SCALAR, TREE_LIST, TREE_MAP };

/* One value. Its texts end in a 0 that is not counted, and hold no other 0. */
struct tree {
	enum tree_kind kind;
	bool quoted;   /* a scalar in quotes or in a block (| or >): a text, never a number */
	bool straight; /* a scalar that stands in the source byte for byte on one line: byte k of
			  the value is at column place.col + (code points before k) */
	bool block;    /* a literal block (|) */
	bool flow;     /* a list or map in [ ] or { } */
	bool used;     /* tree_find has found it, or a loader has set this: not unknown */
	bool broken;   /* its fault has been told: read no further */
	struct place place; /* first byte of the value (inside its quotes); of a list or map, its
			       first byte; of a block, the | or >; of `key:` with nothing behind
			       it, the key */
	uint32_t span;      /* columns of the value on that line, at least 1 */
	uint32_t key_span;
	struct place key_place; /* line 0 when there is no key */
	const char *key;        /* null in a list and at the root */
	size_t key_len;
	const char *text; /* of a scalar, decoded; never null ("" in lists and maps) */
	size_t len;
	size_t index; /* among its parent's children, from 0 */
	size_t count; /* children */
	struct tree *first, *next, *parent;
	struct tree **at; /* a list: its children; a map: sorted for tree_find, may be null */
	struct tree_asked *asked, *asked_last; /* a map: the keys asked for so far */
	struct arena *arena;                   /* where the tree lives */
};

/* Reads the whole of `s`. Its struct, bytes and name must outlive the tree; so must the arena, which
 * owns it, and neither struct may move. Faults go to `d`; the result is the code of the first. *out
 * is set when the text could be read to its end as YAML, even if it has faults of the kinds this
 * floor adds (a key twice, an alias): the loader can go on and find more. Otherwise *out is untouched.
 * BAD_SYNTAX, BAD_ENCODING, BAD_SIZE, BAD_TYPE (a key that is no word), BAD_REPEATED, BAD_MISSING
 * (nothing in it), BAD_COUNT (two documents), BAD_MEMORY. */
enum bad tree_read(struct arena *a, const struct source *s, struct diags *d, struct tree **out);

/* ---- finding --------------------------------------------------------------------------------- */

/* The value of a key, marked as used; null when it is not there, and when `map` is null or no map.
 * A copy of the key is kept for later suggestions. */
struct tree *tree_find(struct tree *map, const char *key);
/* As tree_find; reports a key that is missing, and a `map` that is no map. */
struct tree *tree_need(struct tree *map, const char *key, struct diags *d);
/* Child i of a list; null at `count` and beyond, and when it is no list. */
struct tree *tree_at(const struct tree *list, size_t i);
/* Reports a value of another kind than the one wanted: BAD_TYPE, or BAD_MISSING where nothing
 * stands behind the key. `[]` is a list and `{}` a map, of nothing. */
enum bad tree_is(struct tree *t, enum tree_kind wanted, struct diags *d);
/* Reports every key of a map that is not used, with the nearest one that was asked for in vain; and
 * a `map` that is no map. BAD_UNKNOWN if there is one. Call it when all keys have been asked for. */
enum bad tree_unknown(struct tree *map, struct diags *d);

/* ---- places and faults ----------------------------------------------------------------------- */

/* Where byte `offset` of a scalar's value stands: exact for a straight one and inside a literal
 * block, else where the value begins. */
struct place tree_place(const struct tree *t, size_t offset);
/* Reports a loader's own fault at the value of `t` and gives back `code`; a scalar is marked
 * broken. The hint and note of base/diag.h can follow. Silent when `t` is null or broken. */
enum bad tree_fault(struct tree *t, struct diags *d, enum bad code, const char *format, ...)
	__attribute__((format(printf, 4, 5)));
/* What messages call it: "'depth'", "entry 3 of 'stock'", "this file". Lives in the tree's arena;
 * never null. */
const char *tree_name(const struct tree *t);
/* The text of a scalar as messages show it: in quotes, a long one cut. Same owner; never null. */
const char *tree_shown(const struct tree *t);

/* ---- typed readers: *out is written on success only ------------------------------------------ */

/* Any scalar that is not empty, or an empty one in quotes. */
enum bad tree_text(struct tree *t, struct diags *d, const char **out);
/* true or false, and no other word. */
enum bad tree_truth(struct tree *t, struct diags *d, bool *out);
/* An integer in decimal digits, low <= n <= high; no leading 0, not quoted. */
enum bad tree_whole(struct tree *t, int64_t low, int64_t high, struct diags *d, int64_t *out);
/* What a quantity begins with: its number, and where its unit begins, behind blanks of any width. No
 * leading 0, a point and no comma. `wanted` ("a length") and `hint` tell what is missing where
 * something else stands. */
enum bad tree_number(struct tree *t, const char *wanted, const char *hint, struct diags *d,
	struct decimal *out, size_t *unit_at);
/* "3.5 mm", "20 GPa", or a bare number, which is in `unit`: a name that unit_read knows, or "" for
 * plain numbers; its value in SI-mm. No leading 0, a point and no comma. BAD_UNIT for another
 * dimension, naming both. May stand in quotes. */
enum bad tree_quantity(struct tree *t, const char *unit, struct diags *d, double *out);
/* And within low..high, both given and shown in `unit`; either may be infinite. */
enum bad tree_quantity_in(
	struct tree *t, const char *unit, double low, double high, struct diags *d, double *out);
/* One of n words; its index. */
enum bad tree_word(
	struct tree *t, const char *const *words, size_t n, struct diags *d, size_t *out);

/* The same for each child of a list, in `a`; an empty list gives *n = 0. Every faulty child is
 * told; then the result is the first code, and *out and *n are untouched. A lone value is no list. */
enum bad tree_wholes(struct tree *t, int64_t low, int64_t high, struct arena *a, struct diags *d,
	int64_t **out, size_t *n);
enum bad tree_quantities(struct tree *t, const char *unit, struct arena *a, struct diags *d,
	double **out, size_t *n);

#endif
