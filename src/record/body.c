/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/body.h"

#include <string.h>

/* ---- writing --------------------------------------------------------------------------------- */

void body_put_text(struct pen *p, const char *name, const char *value)
{
	pen_member(p, name);
	pen_text(p, value);
}

void body_put_count(struct pen *p, const char *name, uint64_t value)
{
	pen_member(p, name);
	pen_count(p, value);
}

void body_put_hex(struct pen *p, const char *name, const unsigned char *bytes, size_t n)
{
	pen_member(p, name);
	pen_hex(p, bytes, n);
}

struct pen body_begin(char *out, size_t room)
{
	struct pen p = {out, 0, room, FINE};
	pen_raw(&p, "{");
	return p;
}

enum bad body_finish(struct pen *p, size_t *len)
{
	pen_raw(p, "}");
	if (!p->bad)
		*len = p->len;
	return p->bad;
}

/* ---- reading --------------------------------------------------------------------------------- */

struct body body_of(const struct strand_line *line, const char *kind, struct arena *a)
{
	struct body b;
	bool is_it = !line->erased && strcmp(line->kind, kind) == 0;
	const char *at = line->body;
	b.all = (struct slice){line->body, line->body_len};
	b.a = a;
	b.bad = is_it ? FINE : BAD_TYPE;
	b.n = 0;
	while (is_it && b.n < BODY_MEMBERS && canon_next(&at, &b.name[b.n], &b.value[b.n]))
		b.n++;
	return b;
}

static bool member(const struct body *b, const char *name, struct slice *value)
{
	for (size_t i = 0; i < b->n; i++)
		if (slice_is(b->name[i], name)) {
			*value = b->value[i];
			return true;
		}
	return b->n == BODY_MEMBERS && canon_member(b->all, name, value);
}

bool body_has(const struct body *b, const char *name)
{
	struct slice value;
	return !b->bad && member(b, name, &value);
}

static bool find(struct body *b, const char *name, struct slice *value)
{
	if (!b->bad && !member(b, name, value))
		b->bad = BAD_MISSING;
	return !b->bad;
}

const char *body_text(struct body *b, const char *name)
{
	const char *out = "";
	struct slice value;
	if (!find(b, name, &value))
		return out;
	enum bad code = canon_text(value, b->a, &out);
	b->bad = code == BAD_TYPE ? BAD_MISSING : code;
	return out;
}

uint64_t body_count(struct body *b, const char *name)
{
	uint64_t out = 0;
	struct slice value;
	if (find(b, name, &value) && canon_count(value, &out))
		b->bad = BAD_MISSING;
	return out;
}

void body_hex(struct body *b, const char *name, unsigned char *out, size_t n)
{
	struct slice value, hex;
	if (!find(b, name, &value))
		return;
	if (!canon_plain(value, &hex) || hex_read(hex.at, hex.len, out, n))
		b->bad = BAD_MISSING;
}
