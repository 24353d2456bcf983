/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each kind is a table of its members in the order of their names; one writer and one reader walk
 * it. */
#include <barwright/record/graded.h>

#include <string.h>

#include <barwright/base/number.h>

#include "record/body.h"

enum member_type { MEMBER_TEXT, MEMBER_COUNT, MEMBER_HASH, MEMBER_TEXTS };
struct member {
	const char *name;
	enum member_type type;
	size_t at;
};

#define TEXT(s, m) \
	{ \
#m, MEMBER_TEXT, offsetof(struct s, m) \
	}
#define COUNT(s, m) \
	{ \
#m, MEMBER_COUNT, offsetof(struct s, m) \
	}
#define HASH(s, m) \
	{ \
#m, MEMBER_HASH, offsetof(struct s, m) \
	}
#define TEXTS(s, m) \
	{ \
#m, MEMBER_TEXTS, offsetof(struct s, m) \
	}

static const struct member form_members[] = {
	TEXT(line_form, assessment),
	COUNT(line_form, attempt),
	HASH(line_form, content),
	COUNT(line_form, extra_ms),
	TEXTS(line_form, items),
	COUNT(line_form, limit_ms),
	TEXT(line_form, title),
	{0},
};
static const struct member place_members[] = {
	COUNT(line_place, at),
	COUNT(line_place, used_ms),
	{0},
};
static const struct member mark_members[] = {
	COUNT(line_mark, at),
	COUNT(line_mark, is_on),
	{0},
};
static const struct member clock_members[] = {
	COUNT(line_clock, by_ms),
	TEXT(line_clock, way),
	{0},
};
static const struct member result_members[] = {
	COUNT(line_result, attempt),
	COUNT(line_result, breaks),
	TEXT(line_result, by),
	HASH(line_result, content),
	TEXT(line_result, needed),
	TEXT(line_result, of),
	TEXTS(line_result, part),
	TEXTS(line_result, part_competency),
	TEXTS(line_result, part_needed),
	TEXTS(line_result, part_percent),
	TEXTS(line_result, part_verdict),
	TEXT(line_result, percent),
	TEXT(line_result, piece),
	TEXTS(line_result, reasons),
	TEXT(line_result, title),
	COUNT(line_result, used_ms),
	TEXT(line_result, verdict),
	{0},
};
static const struct member rating_members[] = {
	TEXT(line_rating, comment),
	HASH(line_rating, content),
	COUNT(line_rating, criterion),
	COUNT(line_rating, level),
	TEXT(line_rating, piece),
	COUNT(line_rating, proved),
	TEXT(line_rating, rater),
	TEXT(line_rating, readings),
	TEXT(line_rating, rubric),
	TEXT(line_rating, station),
	TEXT(line_rating, unit),
	{0},
};
static const struct member critical_members[] = {
	HASH(line_critical, content),
	TEXT(line_critical, error),
	TEXT(line_critical, piece),
	TEXT(line_critical, rater),
	TEXT(line_critical, rubric),
	TEXT(line_critical, station),
	TEXT(line_critical, words),
	{0},
};
static const struct member photo_members[] = {
	HASH(line_photo, content),
	TEXT(line_photo, name),
	TEXT(line_photo, piece),
	TEXT(line_photo, rater),
	TEXT(line_photo, rubric),
	HASH(line_photo, sha256),
	COUNT(line_photo, size),
	TEXT(line_photo, station),
	{0},
};
static const struct member agreed_members[] = {
	HASH(line_agreed, content),
	COUNT(line_agreed, criterion),
	COUNT(line_agreed, level),
	TEXT(line_agreed, piece),
	TEXT(line_agreed, rater),
	TEXT(line_agreed, reason),
	TEXT(line_agreed, rubric),
	TEXT(line_agreed, station),
	{0},
};

/* ---- writing --------------------------------------------------------------------------------- */

static void put_texts(struct pen *p, const char *name, const struct texts *list)
{
	pen_member(p, name);
	pen_raw(p, "[");
	for (size_t i = 0; i < list->n; i++) {
		if (i)
			pen_raw(p, ",");
		pen_text(p, list->at[i]);
	}
	pen_raw(p, "]");
}

static enum bad write_body(
	const void *x, const struct member *m, char *out, size_t room, size_t *len)
{
	struct pen p = body_begin(out, room);
	for (; m->name; m++) {
		const void *from = (const char *)x + m->at;
		if (m->type == MEMBER_TEXT)
			body_put_text(&p, m->name, *(const char *const *)from);
		else if (m->type == MEMBER_COUNT)
			body_put_count(&p, m->name, *(const uint64_t *)from);
		else if (m->type == MEMBER_HASH)
			body_put_hex(&p, m->name, ((const struct hash *)from)->byte, HASH_BYTES);
		else
			put_texts(&p, m->name, from);
	}
	return body_finish(&p, len);
}

static enum bad append(
	struct strand *s, const char *kind, const void *x, const struct member *members)
{
	size_t len;
	enum bad code = write_body(x, members, strand_scratch(s), CHAIN_BODY_MOST, &len);
	return code ? code : strand_append(s, kind, strand_scratch(s), len);
}

/* ---- reading --------------------------------------------------------------------------------- */

/* The next text of a list whose "[" or "," stands at *at; false at its end, or when something
 * else stands there. */
static bool next_text(struct slice list, size_t *at, struct slice *out)
{
	size_t from = *at + 1, to = from + 1;
	if (from >= list.len || list.at[from] != '"')
		return false;
	while (to < list.len && list.at[to] != '"')
		to += list.at[to] == '\\' ? 2 : 1;
	if (to >= list.len)
		return false;
	*out = (struct slice){list.at + from, to + 1 - from};
	*at = to + 1;
	return true;
}

static void get_texts(struct body *b, const char *name, struct texts *out)
{
	struct slice value, one;
	size_t n = 0, at = 0;
	if (b->bad || !canon_member(b->all, name, &value) || value.len < 2 || *value.at != '[') {
		b->bad = b->bad ? b->bad : BAD_MISSING;
		return;
	}
	while (next_text(value, &at, &one))
		n++;
	if (n ? value.at[at] != ']' : value.len != 2) { /* not a list of texts alone */
		b->bad = BAD_MISSING;
		return;
	}
	const char **list = arena_many(b->a, n ? n : 1, const char *);
	if (!list)
		b->bad = BAD_MEMORY;
	at = 0;
	for (size_t i = 0; i < n && !b->bad; i++)
		if (next_text(value, &at, &one))
			b->bad = canon_text(one, b->a, &list[i]);
	if (!b->bad)
		*out = (struct texts){list, n};
}

static enum bad read_body(const struct strand_line *line, const char *kind, const struct member *m,
	struct arena *a, void *x)
{
	struct body b = body_of(line, kind, a);
	for (; m->name; m++) {
		void *to = (char *)x + m->at;
		if (m->type == MEMBER_TEXT)
			*(const char **)to = body_text(&b, m->name);
		else if (m->type == MEMBER_COUNT)
			*(uint64_t *)to = body_count(&b, m->name);
		else if (m->type == MEMBER_HASH)
			body_hex(&b, m->name, ((struct hash *)to)->byte, HASH_BYTES);
		else
			get_texts(&b, m->name, to);
	}
	return b.bad;
}

static bool result_is_whole(const struct line_result *r)
{
	return r->part_competency.n == r->part.n && r->part_needed.n == r->part.n &&
	       r->part_percent.n == r->part.n && r->part_verdict.n == r->part.n;
}

#define KIND(kind) \
	enum bad line_##kind##_write( \
		const struct line_##kind *x, char *out, size_t room, size_t *len) \
	{ \
		return write_body(x, kind##_members, out, room, len); \
	} \
	enum bad line_##kind##_append(struct strand *s, const struct line_##kind *x) \
	{ \
		return append(s, #kind, x, kind##_members); \
	}
#define READER(kind) \
	enum bad line_##kind##_read( \
		const struct strand_line *l, struct arena *a, struct line_##kind *out) \
	{ \
		struct line_##kind x = {0}; \
		enum bad code = read_body(l, #kind, kind##_members, a, &x); \
		if (!code) \
			*out = x; \
		return code; \
	}
KIND(form)
KIND(place)
KIND(mark)
KIND(clock)
KIND(result)
KIND(rating)
KIND(critical)
KIND(photo)
KIND(agreed)
READER(form)
READER(place)
READER(mark)
READER(clock)
READER(rating)
READER(critical)
READER(photo)
READER(agreed)

enum bad line_result_read(const struct strand_line *l, struct arena *a, struct line_result *out)
{
	struct line_result x = {0};
	enum bad code = read_body(l, "result", result_members, a, &x);
	if (!code && !result_is_whole(&x))
		code = BAD_MISSING;
	if (!code)
		*out = x;
	return code;
}

double result_number(const char *decimal)
{
	struct decimal d;
	return decimal_read(decimal, strlen(decimal), &d) ? 0 : decimal_value(d);
}
