/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/field.h"

#include <string.h>

#include <barwright/base/utf8.h>

#include "surface/hear.h"

void field_set(struct field *f, const char *text)
{
	size_t len = strlen(text);
	uint32_t code;
	*f = (struct field){0};
	for (size_t i = 0; i < len;) {
		size_t n = utf8_read(text + i, len - i, &code);
		if (n)
			field_insert(f, code);
		i += n ? n : 1;
	}
}

static size_t bytes_of(uint32_t code)
{
	char bytes[4];
	return utf8_write(code, bytes);
}

bool field_insert(struct field *f, uint32_t code)
{
	size_t bytes = bytes_of(code);
	bool typable = hear_is_typable(code) && utf8_columns(code) >= 0;
	if (!typable || f->bytes + bytes >= REPLY_ROOM)
		return false;
	memmove(&f->code[f->at + 1], &f->code[f->at], (f->n - f->at) * sizeof *f->code);
	f->code[f->at++] = code;
	f->n++;
	f->bytes += bytes;
	return true;
}

void field_text(const struct field *f, char out[static REPLY_ROOM])
{
	size_t len = 0;
	char bytes[4];
	for (size_t i = 0; i < f->n; i++) {
		size_t n = utf8_write(f->code[i], bytes);
		memcpy(out + len, bytes, n);
		len += n;
	}
	out[len] = '\0';
}

static bool is_mark(const struct field *f, size_t i)
{
	return i < f->n && utf8_columns(f->code[i]) == 0;
}

static size_t before(const struct field *f, size_t at)
{
	if (at)
		at--;
	while (at && is_mark(f, at))
		at--;
	return at;
}

static size_t behind(const struct field *f, size_t at)
{
	if (at < f->n)
		at++;
	while (is_mark(f, at))
		at++;
	return at;
}

/* Takes from..to-1 out; the cursor stands there afterwards. */
static void take_out(struct field *f, size_t from, size_t to)
{
	for (size_t i = from; i < to; i++)
		f->bytes -= bytes_of(f->code[i]);
	memmove(&f->code[from], &f->code[to], (f->n - to) * sizeof *f->code);
	f->n -= to - from;
	f->at = from;
}

void field_left(struct field *f)
{
	f->at = before(f, f->at);
}

void field_right(struct field *f)
{
	f->at = behind(f, f->at);
}

void field_home(struct field *f)
{
	f->at = 0;
}

void field_end(struct field *f)
{
	f->at = f->n;
}

void field_rub(struct field *f)
{
	take_out(f, before(f, f->at), f->at);
}

void field_delete(struct field *f)
{
	take_out(f, f->at, behind(f, f->at));
}

void field_clear(struct field *f)
{
	*f = (struct field){0};
}

void field_rub_word(struct field *f)
{
	size_t from = f->at;
	while (from && f->code[from - 1] == ' ')
		from--;
	while (from && f->code[from - 1] != ' ')
		from--;
	take_out(f, from, f->at);
}

int field_width(const struct field *f, size_t from, size_t to)
{
	int width = 0;
	for (size_t i = from; i < to; i++)
		width += utf8_columns(f->code[i]);
	return width;
}

void field_window(const struct field *f, int columns, size_t *from, size_t *to)
{
	size_t first = f->at, last = f->at;
	int width = 0;
	while (first) {
		size_t start = before(f, first);
		int more = field_width(f, start, first);
		if (width + more > columns - 1)
			break;
		width += more;
		first = start;
	}
	while (last < f->n && width + utf8_columns(f->code[last]) <= columns)
		width += utf8_columns(f->code[last++]);
	*from = first;
	*to = last;
}
