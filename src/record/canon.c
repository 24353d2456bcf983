/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/canon.h"

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/utf8.h>

/* ---- checking -------------------------------------------------------------------------------- */

struct scan {
	const char *at, *end;
	const char *words;
	enum bad code;
};

static bool fail(struct scan *c, enum bad code, const char *words)
{
	c->code = code;
	c->words = words;
	return false;
}

static bool eat(struct scan *c, char want)
{
	if (c->at == c->end || *c->at != want)
		return false;
	c->at++;
	return true;
}

static bool eat_word(struct scan *c, const char *word)
{
	size_t n = strlen(word);
	if ((size_t)(c->end - c->at) < n || memcmp(c->at, word, n) != 0)
		return false;
	c->at += n;
	return true;
}

/* Escapes that have a letter of their own must use it. */
static bool is_letter_escape(char c)
{
	return c && strchr("\"\\btnfr", c);
}

/* \u00xx for the controls that have no letter. U+0000 would end a text in memory. */
static bool scan_unicode(struct scan *c)
{
	unsigned char value;
	if (c->end - c->at < 5 || memcmp(c->at, "u00", 3) != 0 || hex_read(c->at + 3, 2, &value, 1))
		return fail(c, BAD_SYNTAX, "this escape is not canonical");
	if (value == 0 || value >= 0x20 || (value >= 8 && value <= 13 && value != 11))
		return fail(c, BAD_SYNTAX, "this character must not be escaped so");
	c->at += 5;
	return true;
}

static bool scan_escape(struct scan *c)
{
	if (c->at < c->end && is_letter_escape(*c->at)) {
		c->at++;
		return true;
	}
	return scan_unicode(c);
}

static bool scan_text(struct scan *c)
{
	if (!eat(c, '"'))
		return fail(c, BAD_SYNTAX, "a text in quotes is needed here");
	while (c->at < c->end && *c->at != '"') {
		unsigned char byte = (unsigned char)*c->at;
		uint32_t code;
		if (byte == '\\') {
			c->at++;
			if (!scan_escape(c))
				return false;
		} else if (byte < 0x20) {
			return fail(c, BAD_SYNTAX, "a control character stands in a text");
		} else if (byte < 0x80) {
			c->at++;
		} else {
			size_t n = utf8_read(c->at, (size_t)(c->end - c->at), &code);
			if (!n)
				return fail(c, BAD_ENCODING, "this is not UTF-8");
			c->at += n;
		}
	}
	return eat(c, '"') || fail(c, BAD_SYNTAX, "a text does not end");
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Up to 15 digits are below 2^53 anyway; 16 are compared as text. */
static bool scan_number(struct scan *c)
{
	static const char most[] = "9007199254740991";
	const char *start = c->at;
	bool negative = eat(c, '-');
	const char *first = c->at;
	while (c->at < c->end && is_digit(*c->at))
		c->at++;
	size_t n = (size_t)(c->at - first);
	if (!n || (n > 1 && *first == '0') || (negative && *first == '0')) {
		c->at = start;
		return fail(c, BAD_SYNTAX, "this is not a whole number in canonical form");
	}
	if (c->at < c->end && *c->at && strchr(".eE", *c->at))
		return fail(c, BAD_TYPE, "fractions are written as texts, not as numbers");
	if (n > 16 || (n == 16 && memcmp(first, most, 16) > 0)) {
		c->at = start;
		return fail(c, BAD_RANGE, "this number is above 9007199254740991");
	}
	return true;
}

static bool scan_value(struct scan *c, int depth);

static bool scan_list(struct scan *c, int depth)
{
	c->at++;
	if (eat(c, ']'))
		return true;
	do
		if (!scan_value(c, depth + 1))
			return false;
	while (eat(c, ','));
	return eat(c, ']') || fail(c, BAD_SYNTAX, "a comma or ] is needed here");
}

/* The name must stand behind the one before it in the order of bytes. */
static bool scan_name(struct scan *c, struct slice *before)
{
	const char *start = c->at + 1;
	if (!scan_text(c))
		return false;
	struct slice name = {start, (size_t)(c->at - 1 - start)};
	for (size_t i = 0; i < name.len; i++)
		if (start[i] < ' ' || start[i] > '~' || start[i] == '\\') {
			c->at = start + i;
			return fail(c, BAD_SYNTAX, "a member name is not plain ASCII");
		}
	if (before->at) {
		size_t least = name.len < before->len ? name.len : before->len;
		int order = memcmp(before->at, name.at, least);
		if (order > 0 || (order == 0 && before->len >= name.len)) {
			c->at = start;
			return fail(c, order || before->len > name.len ? BAD_ORDER : BAD_REPEATED,
				"the members are not in the order of their names, each once");
		}
	}
	*before = name;
	return true;
}

static bool scan_object(struct scan *c, int depth)
{
	struct slice before = {NULL, 0};
	c->at++;
	if (eat(c, '}'))
		return true;
	do {
		if (!scan_name(c, &before))
			return false;
		if (!eat(c, ':'))
			return fail(c, BAD_SYNTAX, "a colon is needed here");
		if (!scan_value(c, depth + 1))
			return false;
	} while (eat(c, ','));
	return eat(c, '}') || fail(c, BAD_SYNTAX, "a comma or } is needed here");
}

static bool scan_value(struct scan *c, int depth)
{
	if (depth >= CANON_DEPTH)
		return fail(c, BAD_SIZE, "this is nested too deeply");
	if (c->at == c->end)
		return fail(c, BAD_SYNTAX, "a value is missing at the end");
	switch (*c->at) {
	case '{':
		return scan_object(c, depth);
	case '[':
		return scan_list(c, depth);
	case '"':
		return scan_text(c);
	case 't':
		return eat_word(c, "true") || fail(c, BAD_SYNTAX, "this is not a value");
	case 'f':
		return eat_word(c, "false") || fail(c, BAD_SYNTAX, "this is not a value");
	default:
		return scan_number(c);
	}
}

enum bad canon_check(const char *s, size_t len, int depth, size_t *where, const char **words)
{
	struct scan c = {s, s + len, "", FINE};
	if (!len || *s != '{')
		fail(&c, BAD_TYPE, "an object in braces is needed here");
	else if (scan_value(&c, depth) && c.at != c.end)
		fail(&c, BAD_SYNTAX, "something stands behind the end");
	if (c.code && where)
		*where = (size_t)(c.at - s);
	if (c.code && words)
		*words = c.words;
	return c.code;
}

/* ---- reading what was checked ---------------------------------------------------------------- */

bool slice_is(struct slice s, const char *text)
{
	return s.len == strlen(text) && memcmp(s.at, text, s.len) == 0;
}

/* Behind the text that begins at s. A quote with no backslash before it ends it, and most have none. */
static const char *skip_text(const char *s)
{
	const char *quote = strchr(++s, '"');
	if (!memchr(s, '\\', (size_t)(quote - s)))
		return quote + 1;
	for (; *s != '"'; s++)
		if (*s == '\\')
			s++;
	return s + 1;
}

/* Behind the value that begins at s. */
static const char *skip_value(const char *s)
{
	int depth = 0;
	do {
		if (*s == '"') {
			s = skip_text(s);
			continue;
		}
		if (*s == '{' || *s == '[')
			depth++;
		else if (*s == '}' || *s == ']')
			depth--;
		s++;
	} while (depth > 0);
	while (s[-1] != '"' && s[-1] != '}' && s[-1] != ']' && !strchr(",}]", *s))
		s++;
	return s;
}

bool canon_next(const char **at, struct slice *name, struct slice *value)
{
	const char *s = *at + 1; /* behind the brace or the comma */
	if (**at == '}' || *s == '}')
		return false;
	const char *colon = skip_text(s);
	*name = (struct slice){s + 1, (size_t)(colon - 1 - (s + 1))};
	const char *end = skip_value(colon + 1);
	*value = (struct slice){colon + 1, (size_t)(end - (colon + 1))};
	*at = end;
	return true;
}

bool canon_member(struct slice object, const char *name, struct slice *value)
{
	struct slice n;
	const char *at = object.at;
	if (!object.len || *at != '{')
		return false;
	while (canon_next(&at, &n, value))
		if (slice_is(n, name))
			return true;
	return false;
}

bool canon_plain(struct slice value, struct slice *out)
{
	if (value.len < 2 || *value.at != '"' || memchr(value.at, '\\', value.len))
		return false;
	*out = (struct slice){value.at + 1, value.len - 2};
	return true;
}

/* The character of the escape at s, which stands behind its backslash; *len bytes of it. */
static char unescape(const char *s, size_t *len)
{
	static const char letter[] = "btnfr\"\\", means[] = "\b\t\n\f\r\"\\";
	unsigned char value = 0;
	*len = 1;
	const char *found = strchr(letter, *s);
	if (found)
		return means[found - letter];
	hex_read(s + 3, 2, &value, 1);
	*len = 5;
	return (char)value;
}

enum bad canon_text(struct slice value, struct arena *a, const char **out)
{
	if (value.len < 2 || *value.at != '"')
		return BAD_TYPE;
	char *text = arena_get(a, value.len);
	if (!text)
		return BAD_MEMORY;
	size_t n = 0;
	for (const char *s = value.at + 1, *end = value.at + value.len - 1; s < end;) {
		size_t len = 1;
		if (*s != '\\') {
			text[n++] = *s++;
			continue;
		}
		text[n++] = unescape(s + 1, &len);
		s += 1 + len;
	}
	text[n] = '\0';
	*out = text;
	return FINE;
}

enum bad canon_count(struct slice value, uint64_t *out)
{
	uint64_t n = 0;
	if (!value.len || (!is_digit(*value.at) && *value.at != '-'))
		return BAD_TYPE;
	if (*value.at == '-')
		return BAD_RANGE;
	for (size_t i = 0; i < value.len; i++)
		n = n * 10 + (uint64_t)(value.at[i] - '0');
	*out = n;
	return FINE;
}

/* ---- writing --------------------------------------------------------------------------------- */

void pen_bytes(struct pen *p, const char *s, size_t len)
{
	if (!p->bad && len > p->room - p->len)
		p->bad = BAD_SIZE;
	if (p->bad || !len)
		return;
	memcpy(p->at + p->len, s, len);
	p->len += len;
}

void pen_raw(struct pen *p, const char *s)
{
	pen_bytes(p, s, strlen(s));
}

static void pen_control(struct pen *p, unsigned char c)
{
	static const char letter[] = "btn\0fr"; /* U+0008 to U+000D */
	char hex[3], escape[7];
	if (c >= 8 && c <= 13 && c != 11)
		snprintf(escape, sizeof escape, "\\%c", letter[c - 8]);
	else {
		hex_write(&c, 1, hex);
		snprintf(escape, sizeof escape, "\\u00%s", hex);
	}
	pen_raw(p, escape);
}

void pen_text(struct pen *p, const char *s)
{
	s = s ? s : "";
	size_t len = strlen(s), from = 0;
	if (!p->bad && utf8_valid(s, len) != len)
		p->bad = BAD_ENCODING;
	pen_raw(p, "\"");
	for (size_t i = 0; i < len && !p->bad; i++) {
		unsigned char c = (unsigned char)s[i];
		if (c >= 0x20 && c != '"' && c != '\\')
			continue;
		pen_bytes(p, s + from, i - from);
		from = i + 1;
		if (c < 0x20)
			pen_control(p, c);
		else
			pen_bytes(p, c == '"' ? "\\\"" : "\\\\", 2);
	}
	pen_bytes(p, s + from, len - from);
	pen_raw(p, "\"");
}

void pen_count(struct pen *p, uint64_t n)
{
	char digits[24];
	if (!p->bad && n > (uint64_t)CANON_COUNT_MOST)
		p->bad = BAD_RANGE;
	snprintf(digits, sizeof digits, "%" PRIu64, n);
	pen_raw(p, digits);
}

void pen_member(struct pen *p, const char *name)
{
	pen_raw(p, p->len && p->at[p->len - 1] != '{' ? ",\"" : "\"");
	pen_raw(p, name);
	pen_raw(p, "\":");
}

void pen_hex(struct pen *p, const unsigned char *bytes, size_t n)
{
	char hex[3];
	pen_raw(p, "\"");
	for (size_t i = 0; i < n; i++) {
		hex_write(bytes + i, 1, hex);
		pen_bytes(p, hex, 2);
	}
	pen_raw(p, "\"");
}
