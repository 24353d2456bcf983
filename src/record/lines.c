/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/lines.h>

#include <string.h>

#include "record/body.h"

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

enum bad line_open_write(const struct line_open *x, char *out, size_t room, size_t *len)
{
	struct pen p = body_begin(out, room);
	body_put_hex(&p, "content", x->content.byte, HASH_BYTES);
	body_put_text(&p, "course", x->course);
	body_put_hex(&p, "machine_pk", x->machine, SIGN_PUBLIC);
	body_put_text(&p, "mode", x->mode);
	body_put_text(&p, "program", x->program);
	body_put_text(&p, "sitting", x->sitting);
	return body_finish(&p, len);
}

enum bad line_draw_write(const struct line_draw *x, char *out, size_t room, size_t *len)
{
	struct pen p = body_begin(out, room);
	body_put_count(&p, "attempt", x->attempt);
	body_put_hex(&p, "content", x->content.byte, HASH_BYTES);
	if (x->has_features)
		body_put_count(&p, "digits", x->digits);
	body_put_hex(&p, "draw_key", x->key, sizeof x->key);
	if (x->has_features)
		body_put_text(&p, "gap", x->gap);
	body_put_text(&p, "item", x->item);
	if (x->has_features) {
		body_put_text(&p, "largest", x->largest);
		body_put_count(&p, "readings", x->readings);
		body_put_text(&p, "skew", x->skew);
		body_put_count(&p, "steps", x->steps);
		body_put_count(&p, "tries", x->tries);
	}
	return body_finish(&p, len);
}

static bool is_word(const char *s)
{
	size_t n = 0;
	for (; s && s[n]; n++)
		if ((s[n] < 'a' || s[n] > 'z') && s[n] != '-')
			return false;
	return n >= 1 && n <= LINE_OUTCOME_MOST;
}

bool line_answer_is_held(const struct line_answer *x)
{
	return strcmp(x->outcome, LINE_HELD) == 0;
}

enum bad line_answer_write(const struct line_answer *x, char *out, size_t room, size_t *len)
{
	struct pen p = body_begin(out, room);
	if (!is_word(x->outcome))
		return BAD_SYNTAX;
	body_put_count(&p, "ask", x->ask);
	body_put_count(&p, "attempt", x->attempt);
	body_put_text(&p, "expected", x->expected);
	body_put_count(&p, "hints", x->hints);
	body_put_text(&p, "item", x->item);
	if (x->late_ms)
		body_put_count(&p, "late_ms", x->late_ms);
	if (x->led)
		body_put_count(&p, "led", x->led);
	body_put_text(&p, "outcome", x->outcome);
	body_put_text(&p, "read_as", x->read_as);
	body_put_text(&p, "slip", x->slip);
	if (x->step)
		body_put_count(&p, "step", x->step);
	body_put_text(&p, "tolerance", x->tolerance);
	body_put_count(&p, "took_ms", x->took_ms);
	body_put_count(&p, "turn", x->turn);
	body_put_text(&p, "typed", x->typed);
	body_put_text(&p, "unit", x->unit);
	return body_finish(&p, len);
}

enum bad line_close_write(const struct line_close *x, char *out, size_t room, size_t *len)
{
	struct pen p = body_begin(out, room);
	body_put_count(&p, "answers", x->answers);
	body_put_text(&p, "reason", x->reason);
	body_put_count(&p, "right", x->right);
	return body_finish(&p, len);
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

enum bad line_open_read(const struct strand_line *line, struct arena *a, struct line_open *out)
{
	struct body b = body_of(line, "open", a);
	struct line_open x = {.course = body_text(&b, "course"),
		.mode = body_text(&b, "mode"),
		.program = body_text(&b, "program"),
		.sitting = body_text(&b, "sitting")};
	body_hex(&b, "content", x.content.byte, HASH_BYTES);
	body_hex(&b, "machine_pk", x.machine, SIGN_PUBLIC);
	if (!b.bad)
		*out = x;
	return b.bad;
}

static uint64_t body_count_if(struct body *b, const char *name)
{
	return body_has(b, name) ? body_count(b, name) : 0;
}

static void features_read(struct body *b, struct line_draw *out)
{
	out->has_features = true;
	out->readings = body_count(b, "readings");
	out->digits = body_count(b, "digits");
	out->steps = body_count(b, "steps");
	out->tries = body_count(b, "tries");
	out->largest = body_text(b, "largest");
	out->skew = body_text(b, "skew");
	out->gap = body_text(b, "gap");
}

enum bad line_draw_read(const struct strand_line *line, struct arena *a, struct line_draw *out)
{
	struct body b = body_of(line, "draw", a);
	struct line_draw x = {.item = body_text(&b, "item"), .attempt = body_count(&b, "attempt")};
	body_hex(&b, "content", x.content.byte, HASH_BYTES);
	body_hex(&b, "draw_key", x.key, sizeof x.key);
	if (body_has(&b, "tries"))
		features_read(&b, &x);
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_answer_read(const struct strand_line *line, struct arena *a, struct line_answer *out)
{
	struct body b = body_of(line, "answer", a);
	struct line_answer x = {.item = body_text(&b, "item"),
		.attempt = body_count(&b, "attempt"),
		.ask = body_count(&b, "ask"),
		.turn = body_count(&b, "turn"),
		.hints = body_count(&b, "hints"),
		.took_ms = body_count(&b, "took_ms"),
		.typed = body_text(&b, "typed"),
		.read_as = body_text(&b, "read_as"),
		.outcome = body_text(&b, "outcome"),
		.slip = body_text(&b, "slip"),
		.expected = body_text(&b, "expected"),
		.tolerance = body_text(&b, "tolerance"),
		.unit = body_text(&b, "unit"),
		.late_ms = body_count_if(&b, "late_ms"),
		.led = body_count_if(&b, "led"),
		.step = body_count_if(&b, "step")};
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_close_read(const struct strand_line *line, struct arena *a, struct line_close *out)
{
	struct body b = body_of(line, "close", a);
	struct line_close x = {.answers = body_count(&b, "answers"),
		.right = body_count(&b, "right"),
		.reason = body_text(&b, "reason")};
	if (!b.bad)
		*out = x;
	return b.bad;
}

enum bad line_recovered_read(
	const struct strand_line *line, struct arena *a, struct line_recovered *out)
{
	struct body b = body_of(line, "recovered", a);
	struct line_recovered x = {.len = body_count(&b, "length")};
	body_hex(&b, "machine_pk", x.machine, SIGN_PUBLIC);
	body_hex(&b, "sha256", x.content.byte, HASH_BYTES);
	if (!b.bad)
		*out = x;
	return b.bad;
}
