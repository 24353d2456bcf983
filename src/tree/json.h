/* SPDX-License-Identifier: GPL-3.0-or-later */
/* JSON in and out, by RFC 8259.
 *
 * Out: a writer that sets the commas itself, and refuses what it cannot write. In its canonical
 * form it writes a part of RFC 8785 (JSON Canonicalization Scheme): no blanks, names in ascending
 * order, integers only. In its other form it also escapes what may not reach a terminal
 * (utf8_is_safe), so a result can be printed as it is.
 *
 * In: a strict reader for documents that are signed (lines of strands are read by record/canon.h,
 * which takes no memory). Our own check goes over the bytes first and tells the first faulty one;
 * only what passes is given to the cJSON library. Refused beyond RFC 8259, so that
 * what was signed cannot be read in two ways: a name twice in one object, half a surrogate pair,
 * the character U+0000, integers beyond +-(2^53 - 1) and fractions beyond a double, depth over
 * JSON_DEPTH, text over JSON_BYTES. */
#ifndef BARWRIGHT_TREE_JSON_H
#define BARWRIGHT_TREE_JSON_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>

enum {
	JSON_DEPTH = 32,      /* deepest nesting; a lone value stands at 0 */
	JSON_BYTES = 1 << 20, /* longest text that is read */
	JSON_DIGITS = 60      /* longest number, in bytes */
};

/* Integers beyond this are not the same in every reader (RFC 8259, 6; RFC 7493, 2.2). */
#define JSON_WHOLE_MAX INT64_C(9007199254740991)

/* ---- out ------------------------------------------------------------------------------------- */

struct json_out {
	struct text *text; /* the caller's; what it holds already stays */
	bool canonical;
	bool indented;
	enum bad code; /* the first thing that could not be written */
	unsigned depth;
	struct json_level {
		bool object, filled, named; /* named: a name waits for its value */
		size_t name, name_len;      /* the last name of a canonical object, in `text` */
	} level[JSON_DEPTH + 1];
};

/* `indented`: two blanks a level and a line for each value. Canonical is never indented. */
void json_begin(struct json_out *out, struct text *text, bool indented);
void json_begin_canonical(struct json_out *out, struct text *text);
/* FINE, or the first of: BAD_MEMORY; BAD_ENCODING (a text was not UTF-8); BAD_RANGE (an integer
 * beyond JSON_WHOLE_MAX). What the text then holds is not to be used. */
enum bad json_end(const struct json_out *out);

/* Opening, closing and naming in a wrong order, deeper than JSON_DEPTH, or leaving something open is
 * the caller's mistake and stops the program. */
void json_open_object(struct json_out *out);
void json_close_object(struct json_out *out);
void json_open_list(struct json_out *out);
void json_close_list(struct json_out *out);
/* The name of the next value. Canonical: printable ASCII without " and \, above the one before it
 * in this object; anything else is the caller's mistake and stops the program. */
void json_name(struct json_out *out, const char *name);
void json_text(struct json_out *out, const char *s);
void json_text_bytes(struct json_out *out, const char *s, size_t len);
void json_whole(struct json_out *out, int64_t n);
/* The shortest of 15, 16 and 17 digits that reads back as the same double; null for infinities and
 * NaN, 0 for -0. Not in canonical form. */
void json_number(struct json_out *out, double value);
void json_truth(struct json_out *out, bool value);
void json_null(struct json_out *out);

/* ---- in -------------------------------------------------------------------------------------- */

enum json_kind {
	JSON_NULL,
	JSON_TRUTH,
	JSON_WHOLE,
	JSON_NUMBER,
	JSON_TEXT,
	JSON_LIST,
	JSON_OBJECT
};

struct json {
	enum json_kind kind;
	bool truth;
	size_t offset; /* of its first byte in what was read */
	size_t name_offset;
	const char *name; /* null but for a member of an object */
	const char *text; /* of a text, ends in a 0 and holds no other; "" else */
	size_t len;
	int64_t whole; /* written without point and exponent; -0 is 0 */
	double number; /* of a whole too */
	size_t count;
	struct json *first, *next;
};

struct json_fault {
	size_t offset;   /* of the first byte that cannot be right */
	const char *why; /* a sentence without end, static */
};

/* Reads all len bytes as one value, which lives in `a` and needs the bytes no longer. They need not
 * end in a 0. BAD_SYNTAX, BAD_ENCODING, BAD_REPEATED, BAD_RANGE, BAD_SIZE: then *fault (may be
 * null) is filled and *out untouched; BAD_MEMORY: neither. */
enum bad json_read(
	struct arena *a, const char *text, size_t len, struct json **out, struct json_fault *fault);

/* The member of an object, or null; names are compared byte for byte. Null for other kinds and for
 * a null `object`. */
const struct json *json_find(const struct json *object, const char *name);
/* Each gives BAD_MISSING for a null node, BAD_TYPE for another kind, and leaves *out then. */
enum bad json_text_of(const struct json *j, const char **out);
enum bad json_truth_of(const struct json *j, bool *out);
enum bad json_whole_of(
	const struct json *j, int64_t low, int64_t high, int64_t *out); /* BAD_RANGE */
enum bad json_number_of(const struct json *j, double *out);

/* Adds a value in the form of RFC 8785: names sorted by their UTF-16 code units at every level,
 * texts as they are, integers. BAD_RANGE for a number that is not an integer of at most
 * +-JSON_WHOLE_MAX (56.0 is one): its form in ECMAScript is not attempted. BAD_MEMORY. */
enum bad json_canonical(const struct json *j, struct text *out);

#endif
