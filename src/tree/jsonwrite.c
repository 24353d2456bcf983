/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The writer of json.h, and the canonical form of a value that was read. */
#include <assert.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/utf8.h>

#include "tree/json.h"

/* ---- texts ----------------------------------------------------------------------------------- */

static void add_unit(struct text *t, uint32_t unit)
{
	text_addf(t, "\\u%04x", (unsigned)unit);
}

/* RFC 8259, 7: above U+FFFF as a surrogate pair. */
static void add_escape(struct text *t, uint32_t code)
{
	static const char letter[] = "btn\0fr"; /* U+0008 to U+000D but U+000B */
	if (code == '"' || code == '\\') {
		text_add_char(t, '\\');
		text_add_char(t, (char)code);
	} else if (code >= 0x8 && code <= 0xD && letter[code - 0x8]) {
		text_add_char(t, '\\');
		text_add_char(t, letter[code - 0x8]);
	} else if (code > 0xFFFF) {
		add_unit(t, 0xD800 + ((code - 0x10000) >> 10));
		add_unit(t, 0xDC00 + ((code - 0x10000) & 0x3FF));
	} else {
		add_unit(t, code);
	}
}

/* RFC 8785, 3.2.2.2 escapes these and no others. */
static bool must_escape(uint32_t code)
{
	return code < 0x20 || code == '"' || code == '\\';
}

/* A text in its quotes; false when it is not UTF-8 (a faulty byte becomes U+FFFD). */
static bool add_quoted(struct text *t, const char *s, size_t len, bool canonical)
{
	size_t done = 0;
	bool clean = true;
	text_add_char(t, '"');
	for (size_t i = 0, n; i < len; i += n) {
		uint32_t code = 0xFFFD;
		n = utf8_read(s + i, len - i, &code);
		clean = clean && n;
		if (n && !must_escape(code) && (canonical || utf8_is_safe(code)))
			continue;
		text_add_bytes(t, s + done, i - done);
		add_escape(t, code);
		n = n ? n : 1;
		done = i + n;
	}
	text_add_bytes(t, s + done, len - done);
	text_add_char(t, '"');
	return clean;
}

/* ---- order ----------------------------------------------------------------------------------- */

static void failed(struct json_out *out, enum bad code)
{
	if (!out->code)
		out->code = code;
}

static struct json_level *level_of(struct json_out *out)
{
	return &out->level[out->depth];
}

static void new_line(struct json_out *out)
{
	if (!out->indented)
		return;
	text_add_char(out->text, '\n');
	text_add_repeat(out->text, ' ', 2 * (size_t)out->depth);
}

/* What parts a value from the one before it. */
static void begin_value(struct json_out *out)
{
	struct json_level *level = level_of(out);
	if (level->object) {
		assert(level->named);
		level->named = false;
		return;
	}
	assert(out->depth || !level->filled); /* one value, not two */
	if (level->filled)
		text_add_char(out->text, ',');
	if (out->depth)
		new_line(out);
	level->filled = true;
}

static void open_level(struct json_out *out, bool object)
{
	begin_value(out);
	assert(out->depth < JSON_DEPTH);
	out->level[++out->depth] = (struct json_level){.object = object};
	text_add_char(out->text, object ? '{' : '[');
}

static void close_level(struct json_out *out, bool object)
{
	struct json_level *level = level_of(out);
	assert(out->depth && level->object == object && !level->named);
	bool filled = level->filled;
	out->depth--;
	if (filled)
		new_line(out);
	text_add_char(out->text, object ? '}' : ']');
}

void json_begin(struct json_out *out, struct text *text, bool indented)
{
	*out = (struct json_out){.text = text, .indented = indented};
}

void json_begin_canonical(struct json_out *out, struct text *text)
{
	*out = (struct json_out){.text = text, .canonical = true};
}

enum bad json_end(const struct json_out *out)
{
	assert(!out->depth && out->level[0].filled);
	return out->text->out ? BAD_MEMORY : out->code;
}

void json_open_object(struct json_out *out)
{
	open_level(out, true);
}

void json_close_object(struct json_out *out)
{
	close_level(out, true);
}

void json_open_list(struct json_out *out)
{
	open_level(out, false);
}

void json_close_list(struct json_out *out)
{
	close_level(out, false);
}

/* ---- names and values ------------------------------------------------------------------------ */

static bool is_plain_name(const char *name, size_t len)
{
	for (size_t i = 0; i < len; i++)
		if (name[i] < 0x20 || name[i] > 0x7E || name[i] == '"' || name[i] == '\\')
			return false;
	return true;
}

/* Names of plain ASCII stand in the text as they are, so the one before is compared there. */
static bool is_above(
	const struct json_out *out, const struct json_level *level, const char *name, size_t len)
{
	if (!level->filled || out->text->out)
		return true;
	size_t shared = len < level->name_len ? len : level->name_len;
	int order = memcmp(out->text->at + level->name, name, shared);
	return order < 0 || (order == 0 && level->name_len < len);
}

void json_name(struct json_out *out, const char *name)
{
	struct json_level *level = level_of(out);
	size_t len = strlen(name);
	assert(level->object && !level->named);
	assert(!out->canonical || (is_plain_name(name, len) && is_above(out, level, name, len)));
	if (level->filled)
		text_add_char(out->text, ',');
	new_line(out);
	level->filled = level->named = true;
	level->name = out->text->len + 1;
	level->name_len = len;
	if (!add_quoted(out->text, name, len, out->canonical))
		failed(out, BAD_ENCODING);
	text_add(out->text, out->indented ? ": " : ":");
}

void json_text_bytes(struct json_out *out, const char *s, size_t len)
{
	begin_value(out);
	if (!add_quoted(out->text, s, len, out->canonical))
		failed(out, BAD_ENCODING);
}

void json_text(struct json_out *out, const char *s)
{
	json_text_bytes(out, s, strlen(s));
}

void json_whole(struct json_out *out, int64_t n)
{
	begin_value(out);
	if (n > JSON_WHOLE_MAX || n < -JSON_WHOLE_MAX)
		failed(out, BAD_RANGE);
	text_addf(out->text, "%lld", (long long)n);
}

void json_number(struct json_out *out, double value)
{
	char made[32];
	assert(!out->canonical);
	begin_value(out);
	if (!isfinite(value)) {
		text_add(out->text, "null");
		return;
	}
	for (int digits = 15; digits <= 17; digits++) {
		snprintf(made, sizeof made, "%.*g", digits, value);
		if (strtod(made, NULL) == value)
			break;
	}
	text_add(out->text, value == 0 ? "0" : made);
}

void json_truth(struct json_out *out, bool value)
{
	begin_value(out);
	text_add(out->text, value ? "true" : "false");
}

void json_null(struct json_out *out)
{
	begin_value(out);
	text_add(out->text, "null");
}

/* ---- the canonical form of what was read ----------------------------------------------------- */

static uint32_t first_unit(uint32_t code)
{
	return code < 0x10000 ? code : 0xD800 + ((code - 0x10000) >> 10);
}

/* RFC 8785, 3.2.3: by UTF-16 code units. Names that were read are clean UTF-8. */
static int compare_names(const void *x, const void *y)
{
	const char *a = (*(const struct json *const *)x)->name;
	const char *b = (*(const struct json *const *)y)->name;
	size_t i = 0;
	while (a[i] && a[i] == b[i])
		i++;
	while (i && ((unsigned char)a[i] & 0xC0) == 0x80)
		i--;
	uint32_t from = 0, to = 0;
	utf8_read(a + i, strlen(a + i), &from);
	utf8_read(b + i, strlen(b + i), &to);
	uint32_t one = first_unit(from), other = first_unit(to);
	if (one != other)
		return one < other ? -1 : 1;
	return from < to ? -1 : from > to;
}

static enum bad canonical_list(const struct json *j, struct text *out)
{
	enum bad code = FINE;
	text_add_char(out, '[');
	for (const struct json *child = j->first; child && !code; child = child->next) {
		if (child != j->first)
			text_add_char(out, ',');
		code = json_canonical(child, out);
	}
	text_add_char(out, ']');
	return code;
}

static enum bad canonical_members(const struct json *const *list, size_t n, struct text *out)
{
	enum bad code = FINE;
	for (size_t i = 0; i < n && !code; i++) {
		if (i)
			text_add_char(out, ',');
		add_quoted(out, list[i]->name, strlen(list[i]->name), true);
		text_add_char(out, ':');
		code = json_canonical(list[i], out);
	}
	return code;
}

static enum bad canonical_object(const struct json *j, struct text *out)
{
	const struct json **list = mem_get(j->count * sizeof(struct json *));
	size_t n = 0;
	if (!list)
		return BAD_MEMORY;
	for (const struct json *child = j->first; child; child = child->next)
		list[n++] = child;
	qsort(list, n, sizeof *list, compare_names);
	text_add_char(out, '{');
	enum bad code = canonical_members(list, n, out);
	text_add_char(out, '}');
	mem_drop(list);
	return code;
}

static enum bad canonical_number(const struct json *j, struct text *out)
{
	double value = j->number;
	if (value != floor(value) || fabs(value) > (double)JSON_WHOLE_MAX)
		return BAD_RANGE;
	text_addf(out, "%lld", (long long)value);
	return FINE;
}

enum bad json_canonical(const struct json *j, struct text *out)
{
	enum bad code = FINE;
	switch (j->kind) {
	case JSON_NULL:
		text_add(out, "null");
		break;
	case JSON_TRUTH:
		text_add(out, j->truth ? "true" : "false");
		break;
	case JSON_WHOLE:
	case JSON_NUMBER:
		code = canonical_number(j, out);
		break;
	case JSON_TEXT:
		add_quoted(out, j->text, j->len, true);
		break;
	case JSON_LIST:
		code = canonical_list(j, out);
		break;
	case JSON_OBJECT:
		code = canonical_object(j, out);
		break;
	}
	return code ? code : out->out ? BAD_MEMORY : FINE;
}
