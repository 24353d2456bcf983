/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/lines.h>

#include <string.h>

#include "record/canon.h"

static const char *const kind_word[] = {[LINE_OTHER] = "other",
#define X(name, word) [LINE_##name] = word,
	LINE_KINDS(X)
#undef X
};
enum { KINDS = sizeof kind_word / sizeof *kind_word };

enum line_kind line_kind(const char *word)
{
	for (int i = LINE_OTHER + 1; i < KINDS; i++)
		if (strcmp(kind_word[i], word) == 0)
			return (enum line_kind)i;
	return LINE_OTHER;
}

const char *line_kind_word(enum line_kind kind)
{
	return kind_word[kind];
}

/* ---- writing: members in the order of their names -------------------------------------------- */

static void put_text(struct pen *p, const char *name, const char *value)
{
	pen_member(p, name);
	pen_text(p, value);
}

static void put_count(struct pen *p, const char *name, uint64_t value)
{
	pen_member(p, name);
	pen_count(p, value);
}

static void put_hex(struct pen *p, const char *name, const unsigned char *bytes, size_t n)
{
	pen_member(p, name);
	pen_hex(p, bytes, n);
}

static struct pen begin(char *out, size_t room)
{
	struct pen p = {out, 0, room, FINE};
	pen_raw(&p, "{");
	return p;
}

static enum bad finish(struct pen *p, size_t *len)
{
	pen_raw(p, "}");
	if (!p->bad)
		*len = p->len;
	return p->bad;
}

enum bad line_open_write(const struct line_open *x, char *out, size_t room, size_t *len)
{
	struct pen p = begin(out, room);
	put_hex(&p, "content", x->content.byte, HASH_BYTES);
	put_text(&p, "course", x->course);
	put_hex(&p, "machine_pk", x->machine, SIGN_PUBLIC);
	put_text(&p, "mode", x->mode);
	put_text(&p, "program", x->program);
	put_text(&p, "sitting", x->sitting);
	return finish(&p, len);
}

enum bad line_draw_write(const struct line_draw *x, char *out, size_t room, size_t *len)
{
	struct pen p = begin(out, room);
	put_count(&p, "attempt", x->attempt);
	put_hex(&p, "content", x->content.byte, HASH_BYTES);
	put_hex(&p, "draw_key", x->key, sizeof x->key);
	put_text(&p, "item", x->item);
	return finish(&p, len);
}

static bool is_word(const char *s)
{
	size_t n = 0;
	for (; s && s[n]; n++)
		if ((s[n] < 'a' || s[n] > 'z') && s[n] != '-')
			return false;
	return n >= 1 && n <= LINE_OUTCOME_MOST;
}

enum bad line_answer_write(const struct line_answer *x, char *out, size_t room, size_t *len)
{
	struct pen p = begin(out, room);
	if (!is_word(x->outcome))
		return BAD_SYNTAX;
	put_count(&p, "ask", x->ask);
	put_count(&p, "attempt", x->attempt);
	put_text(&p, "expected", x->expected);
	put_count(&p, "hints", x->hints);
	put_text(&p, "item", x->item);
	put_text(&p, "outcome", x->outcome);
	put_text(&p, "read_as", x->read_as);
	put_text(&p, "slip", x->slip);
	put_text(&p, "tolerance", x->tolerance);
	put_count(&p, "took_ms", x->took_ms);
	put_count(&p, "turn", x->turn);
	put_text(&p, "typed", x->typed);
	put_text(&p, "unit", x->unit);
	return finish(&p, len);
}

enum bad line_close_write(const struct line_close *x, char *out, size_t room, size_t *len)
{
	struct pen p = begin(out, room);
	put_count(&p, "answers", x->answers);
	put_text(&p, "reason", x->reason);
	put_count(&p, "right", x->right);
	return finish(&p, len);
}

enum bad line_open_append(struct strand *s, const struct line_open *x)
{
	struct line_open named = *x;
	size_t len;
	memcpy(named.machine, strand_machine(s), SIGN_PUBLIC);
	enum bad code = line_open_write(&named, strand_scratch(s), CHAIN_BODY_MOST, &len);
	return code ? code : strand_append(s, "open", strand_scratch(s), len);
}

enum bad line_draw_append(struct strand *s, const struct line_draw *x)
{
	size_t len;
	enum bad code = line_draw_write(x, strand_scratch(s), CHAIN_BODY_MOST, &len);
	return code ? code : strand_append(s, "draw", strand_scratch(s), len);
}

enum bad line_answer_append(struct strand *s, const struct line_answer *x)
{
	size_t len;
	enum bad code = line_answer_write(x, strand_scratch(s), CHAIN_BODY_MOST, &len);
	return code ? code : strand_append(s, "answer", strand_scratch(s), len);
}

enum bad line_close_append(struct strand *s, const struct line_close *x)
{
	size_t len;
	enum bad code = line_close_write(x, strand_scratch(s), CHAIN_BODY_MOST, &len);
	return code ? code : strand_append(s, "close", strand_scratch(s), len);
}

/* ---- reading --------------------------------------------------------------------------------- */

/* A body being read: the first thing that goes wrong is kept. */
struct body {
	struct slice all;
	struct arena *a;
	enum bad bad;
};

static struct body body_of(const struct strand_line *line, enum line_kind kind, struct arena *a)
{
	bool is_it = !line->erased && strcmp(line->kind, kind_word[kind]) == 0;
	return (struct body){{line->body, line->body_len}, a, is_it ? FINE : BAD_TYPE};
}

static bool find(struct body *b, const char *name, struct slice *value)
{
	if (!b->bad && !canon_member(b->all, name, value))
		b->bad = BAD_MISSING;
	return !b->bad;
}

static const char *get_text(struct body *b, const char *name)
{
	const char *out = "";
	struct slice value;
	if (!find(b, name, &value))
		return out;
	enum bad code = canon_text(value, b->a, &out);
	b->bad = code == BAD_TYPE ? BAD_MISSING : code;
	return out;
}

static uint64_t get_count(struct body *b, const char *name)
{
	uint64_t out = 0;
	struct slice value;
	if (find(b, name, &value) && canon_count(value, &out))
		b->bad = BAD_MISSING;
	return out;
}

static void get_hex(struct body *b, const char *name, unsigned char *out, size_t n)
{
	struct slice value, hex;
	if (!find(b, name, &value))
		return;
	if (!canon_plain(value, &hex) || hex_read(hex.at, hex.len, out, n))
		b->bad = BAD_MISSING;
}

enum bad line_open_read(const struct strand_line *line, struct arena *a, struct line_open *out)
{
	struct body b = body_of(line, LINE_OPEN, a);
	struct line_open x = {.course = get_text(&b, "course"),
		.mode = get_text(&b, "mode"),
		.program = get_text(&b, "program"),
		.sitting = get_text(&b, "sitting")};
	get_hex(&b, "content", x.content.byte, HASH_BYTES);
	get_hex(&b, "machine_pk", x.machine, SIGN_PUBLIC);
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_draw_read(const struct strand_line *line, struct arena *a, struct line_draw *out)
{
	struct body b = body_of(line, LINE_DRAW, a);
	struct line_draw x = {.item = get_text(&b, "item"), .attempt = get_count(&b, "attempt")};
	get_hex(&b, "content", x.content.byte, HASH_BYTES);
	get_hex(&b, "draw_key", x.key, sizeof x.key);
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_answer_read(const struct strand_line *line, struct arena *a, struct line_answer *out)
{
	struct body b = body_of(line, LINE_ANSWER, a);
	struct line_answer x = {.item = get_text(&b, "item"),
		.attempt = get_count(&b, "attempt"),
		.ask = get_count(&b, "ask"),
		.turn = get_count(&b, "turn"),
		.hints = get_count(&b, "hints"),
		.took_ms = get_count(&b, "took_ms"),
		.typed = get_text(&b, "typed"),
		.read_as = get_text(&b, "read_as"),
		.outcome = get_text(&b, "outcome"),
		.slip = get_text(&b, "slip"),
		.expected = get_text(&b, "expected"),
		.tolerance = get_text(&b, "tolerance"),
		.unit = get_text(&b, "unit")};
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_close_read(const struct strand_line *line, struct arena *a, struct line_close *out)
{
	struct body b = body_of(line, LINE_CLOSE, a);
	struct line_close x = {.answers = get_count(&b, "answers"),
		.right = get_count(&b, "right"),
		.reason = get_text(&b, "reason")};
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_recovered_read(
	const struct strand_line *line, struct arena *a, struct line_recovered *out)
{
	struct body b = body_of(line, LINE_RECOVERED, a);
	struct line_recovered x = {.len = get_count(&b, "length")};
	get_hex(&b, "machine_pk", x.machine, SIGN_PUBLIC);
	get_hex(&b, "sha256", x.content.byte, HASH_BYTES);
	if (!b.bad)
		*out = x;
	return b.bad;
}
