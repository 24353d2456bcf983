/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/text.h>

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/mem.h>

/* What `at` points to while nothing has been added; never written. */
static char nothing[1];

void text_init(struct text *t)
{
	*t = (struct text){.at = nothing};
}

void text_release(struct text *t)
{
	if (t->room)
		mem_drop(t->at);
	text_init(t);
}

void text_clear(struct text *t)
{
	t->len = 0;
	t->out = false;
	if (t->room)
		t->at[0] = '\0';
}

/* Room for `more` bytes and the ending 0; false and `out` when there is none. */
static bool reserve(struct text *t, size_t more)
{
	if (t->out)
		return false;
	if (more < t->room && t->len < t->room - more)
		return true;
	if (more > SIZE_MAX / 4 || t->len > SIZE_MAX / 4) {
		t->out = true;
		return false;
	}
	size_t room = t->room ? t->room : 64;
	while (room <= t->len + more)
		room *= 2;
	char *at = mem_more(t->room ? t->at : NULL, room);
	if (!at) {
		t->out = true;
		return false;
	}
	t->at = at;
	t->room = room;
	return true;
}

void text_add_bytes(struct text *t, const char *s, size_t len)
{
	if (!len || !reserve(t, len))
		return;
	memcpy(t->at + t->len, s, len);
	t->len += len;
	t->at[t->len] = '\0';
}

void text_add(struct text *t, const char *s)
{
	text_add_bytes(t, s, strlen(s));
}

void text_add_char(struct text *t, char c)
{
	text_add_bytes(t, &c, 1);
}

void text_add_repeat(struct text *t, char c, size_t n)
{
	if (!n || !reserve(t, n))
		return;
	memset(t->at + t->len, c, n);
	t->len += n;
	t->at[t->len] = '\0';
}

void text_vaddf(struct text *t, const char *format, va_list args)
{
	va_list again;
	va_copy(again, args);
	int len = vsnprintf(NULL, 0, format, again);
	va_end(again);
	if (len <= 0 || !reserve(t, (size_t)len))
		return;
	vsnprintf(t->at + t->len, (size_t)len + 1, format, args);
	t->len += (size_t)len;
}

static char small(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c + ('a' - 'A')) : c;
}

bool text_is_same(const char *a, const char *b, size_t len)
{
	for (size_t i = 0; i < len; i++)
		if (small(a[i]) != small(b[i]))
			return false;
	return true;
}

void text_addf(struct text *t, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	text_vaddf(t, format, args);
	va_end(args);
}
