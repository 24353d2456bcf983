/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tree/jsoncheck.h"

#include <string.h>

#include <barwright/base/utf8.h>

struct check {
	const char *s;
	size_t len, at;
	unsigned depth;
	struct json_start *starts;
	size_t nstart;
	struct json_fault fault;
};

static enum bad value(struct check *c, uint32_t name);

static enum bad refuse(struct check *c, enum bad code, size_t offset, const char *why)
{
	c->fault = (struct json_fault){offset, why};
	return code;
}

static enum bad refuse_here(struct check *c, const char *why)
{
	return refuse(c, BAD_SYNTAX, c->at, c->at < c->len ? why : "the text ends too early");
}

/* RFC 8259, 2: these four and no others. */
static void skip_blanks(struct check *c)
{
	while (c->at < c->len && (c->s[c->at] == ' ' || c->s[c->at] == '\n' ||
					 c->s[c->at] == '\t' || c->s[c->at] == '\r'))
		c->at++;
}

static bool is_at(const struct check *c, char byte)
{
	return c->at < c->len && c->s[c->at] == byte;
}

static bool skip(struct check *c, char byte)
{
	bool found = is_at(c, byte);
	c->at += found;
	return found;
}

static bool is_digit_at(const struct check *c)
{
	return c->at < c->len && c->s[c->at] >= '0' && c->s[c->at] <= '9';
}

/* ---- texts: RFC 8259, 7 ---------------------------------------------------------------------- */

static int hex(char c)
{
	if (c >= '0' && c <= '9')
		return c - '0';
	if (c >= 'a' && c <= 'f')
		return c - 'a' + 10;
	return c >= 'A' && c <= 'F' ? c - 'A' + 10 : -1;
}

/* The four digits behind \u. */
static enum bad unit(struct check *c, uint32_t *out)
{
	uint32_t made = 0;
	for (int i = 0; i < 4; i++, c->at++) {
		int digit = c->at < c->len ? hex(c->s[c->at]) : -1;
		if (digit < 0)
			return refuse_here(c, "\\u is not followed by four hexadecimal digits");
		made = made << 4 | (uint32_t)digit;
	}
	*out = made;
	return FINE;
}

/* From the u of \u on; half a pair does not stand for a character (RFC 8259, 8.2). */
static enum bad unicode_escape(struct check *c, size_t start)
{
	uint32_t first, second = 0;
	c->at++;
	enum bad code = unit(c, &first);
	if (code)
		return code;
	if (!first)
		return refuse(c, BAD_ENCODING, start, "the character U+0000 is not read");
	if (first < 0xD800 || first > 0xDFFF)
		return FINE;
	if (first < 0xDC00 && skip(c, '\\') && is_at(c, 'u')) {
		c->at++;
		code = unit(c, &second);
	}
	if (code)
		return code;
	if (second < 0xDC00 || second > 0xDFFF)
		return refuse(c, BAD_ENCODING, start, "half a surrogate pair is no character");
	return FINE;
}

static enum bad escape(struct check *c)
{
	size_t start = c->at++;
	if (c->at == c->len)
		return refuse_here(c, "");
	if (is_at(c, 'u'))
		return unicode_escape(c, start);
	if (!c->s[c->at] || !strchr("\"\\/bfnrt", c->s[c->at]))
		return refuse(c, BAD_SYNTAX, start, "this backslash has no meaning");
	c->at++;
	return FINE;
}

static enum bad character(struct check *c)
{
	unsigned char byte = (unsigned char)c->s[c->at];
	uint32_t code;
	if (byte == '\\')
		return escape(c);
	if (byte < 0x20)
		return refuse_here(c, "a control character must be escaped");
	size_t n = byte < 0x80 ? 1 : utf8_read(c->s + c->at, c->len - c->at, &code);
	if (!n)
		return refuse(c, BAD_ENCODING, c->at, "this is not UTF-8");
	c->at += n;
	return FINE;
}

static enum bad text(struct check *c)
{
	c->at++;
	while (c->at < c->len) {
		if (skip(c, '"'))
			return FINE;
		enum bad code = character(c);
		if (code)
			return code;
	}
	return refuse_here(c, "");
}

/* ---- numbers: RFC 8259, 6 -------------------------------------------------------------------- */

static enum bad digits(struct check *c)
{
	if (!is_digit_at(c))
		return refuse_here(c, "a digit is needed here");
	while (is_digit_at(c))
		c->at++;
	return FINE;
}

static enum bad fraction(struct check *c)
{
	enum bad code = skip(c, '.') ? digits(c) : FINE;
	if (code || (!is_at(c, 'e') && !is_at(c, 'E')))
		return code;
	c->at++;
	if (is_at(c, '+') || is_at(c, '-'))
		c->at++;
	return digits(c);
}

static enum bad whole_range(struct check *c, size_t start, size_t end)
{
	static const char most[] = "9007199254740991";
	size_t len = end - start;
	if (len > sizeof most - 1 ||
		(len == sizeof most - 1 && memcmp(c->s + start, most, len) > 0))
		return refuse(c, BAD_RANGE, start, "an integer beyond 2^53 - 1 is not read");
	return FINE;
}

static enum bad number(struct check *c)
{
	size_t start = c->at;
	skip(c, '-');
	size_t first = c->at;
	enum bad code = digits(c);
	size_t end = c->at;
	if (!code && c->s[first] == '0' && end > first + 1)
		return refuse(c, BAD_SYNTAX, first, "a number does not begin with 0");
	if (!code)
		code = fraction(c);
	if (!code && c->at - start > JSON_DIGITS)
		return refuse(c, BAD_SIZE, start, "this number is too long");
	if (code || c->at > end)
		return code;
	c->starts[c->nstart - 1].whole = true;
	return whole_range(c, first, end);
}

/* ---- the rest -------------------------------------------------------------------------------- */

static enum bad word(struct check *c, const char *wanted)
{
	size_t len = strlen(wanted);
	if (c->len - c->at < len || memcmp(c->s + c->at, wanted, len) != 0)
		return refuse(c, BAD_SYNTAX, c->at, "no value begins like this");
	c->at += len;
	return FINE;
}

static enum bad member(struct check *c)
{
	uint32_t name = (uint32_t)c->at;
	if (!is_at(c, '"'))
		return refuse_here(c, "a name in double quotes is needed here");
	enum bad code = text(c);
	if (code)
		return code;
	skip_blanks(c);
	if (!skip(c, ':'))
		return refuse_here(c, "a colon is needed here");
	return value(c, name);
}

/* Behind the opening bracket or brace: items and commas up to the closing one. */
static enum bad items(struct check *c, char close)
{
	skip_blanks(c);
	if (skip(c, close))
		return FINE;
	for (;;) {
		skip_blanks(c);
		enum bad code = close == '}' ? member(c) : value(c, 0);
		if (code)
			return code;
		skip_blanks(c);
		if (skip(c, close))
			return FINE;
		if (!skip(c, ','))
			return refuse_here(c, "a comma or the closing bracket is needed here");
	}
}

static enum bad nested(struct check *c, char close)
{
	if (c->depth == JSON_DEPTH)
		return refuse(c, BAD_SIZE, c->at, "this is nested too deep");
	c->depth++;
	c->at++;
	enum bad code = items(c, close);
	c->depth--;
	return code;
}

static enum bad value(struct check *c, uint32_t name)
{
	skip_blanks(c);
	if (c->at == c->len)
		return refuse_here(c, "");
	c->starts[c->nstart++] = (struct json_start){name, (uint32_t)c->at, false};
	switch (c->s[c->at]) {
	case '{':
		return nested(c, '}');
	case '[':
		return nested(c, ']');
	case '"':
		return text(c);
	case 't':
		return word(c, "true");
	case 'f':
		return word(c, "false");
	case 'n':
		return word(c, "null");
	default:
		if (is_at(c, '-') || is_digit_at(c))
			return number(c);
		return refuse(c, BAD_SYNTAX, c->at, "no value begins like this");
	}
}

/* Each value has a first byte of its own. */
size_t jsoncheck_most(size_t len)
{
	return len < JSON_BYTES ? len + 1 : JSON_BYTES + 1;
}

enum bad jsoncheck(
	const char *s, size_t len, struct json_start *starts, size_t *n, struct json_fault *fault)
{
	struct check c = {.s = s, .len = len, .starts = starts};
	enum bad code = FINE;
	if (len > JSON_BYTES)
		code = refuse(&c, BAD_SIZE, JSON_BYTES, "this is too long");
	if (!code)
		code = value(&c, 0);
	skip_blanks(&c);
	if (!code && c.at < c.len)
		code = refuse(&c, BAD_SYNTAX, c.at, "something stands behind the value");
	if (code)
		*fault = c.fault;
	else
		*n = c.nstart;
	return code;
}
