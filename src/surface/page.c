/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/page.h"

#include <stdint.h>
#include <string.h>

#include <barwright/base/utf8.h>

void page_init(struct page *p, struct arena *a, const char *title, const char *note)
{
	*p = (struct page){.arena = a, .title = title ? title : "", .note = note};
}

/* A blank block at the end, or null and `out`. */
static struct block *block_add(struct page *p, enum block_kind kind)
{
	struct block *b = arena_new(p->arena, struct block);
	if (!b) {
		p->out = 1;
		return NULL;
	}
	b->kind = kind;
	b->text = "";
	if (p->last)
		p->last->next = b;
	else
		p->first = b;
	p->last = b;
	return b;
}

/* A text the arena could not give counts as missing, and reads as empty. */
static const char *held(struct page *p, const char *text)
{
	if (text)
		return text;
	p->out = 1;
	return "";
}

void page_add(struct page *p, enum block_kind kind, const char *format, ...)
{
	struct block *b = block_add(p, kind);
	if (!b)
		return;
	va_list args;
	va_start(args, format);
	b->text = held(p, arena_vformat(p->arena, format, args));
	va_end(args);
}

void page_add_text(struct page *p, enum block_kind kind, const char *text, size_t len)
{
	struct block *b = block_add(p, kind);
	if (b)
		b->text = held(p, arena_copy(p->arena, text, len));
}

void page_row(struct page *p, const char *label, const char *format, ...)
{
	struct block *b = block_add(p, BLOCK_ROW);
	if (!b)
		return;
	b->text = held(p, arena_copy(p->arena, label, strlen(label)));
	va_list args;
	va_start(args, format);
	b->value = held(p, arena_vformat(p->arena, format, args));
	va_end(args);
}

void page_figure(struct page *p, const struct figure *f)
{
	struct block *b = block_add(p, BLOCK_FIGURE);
	if (b)
		b->figure = f;
}

bool block_has_gap(enum block_kind before, const struct block *b)
{
	if (before == BLOCK_HEADING)
		return false;
	return before != b->kind || b->kind == BLOCK_TEXT || b->kind == BLOCK_FIGURE ||
	       b->kind == BLOCK_CAUTION;
}

/* ---- copying ------------------------------------------------------------------------------- */

static const char *text_copy(struct page *p, const char *text)
{
	return text ? held(p, arena_copy(p->arena, text, strlen(text))) : NULL;
}

static struct canvas *canvas_copy(struct page *p, const struct canvas *from)
{
	struct canvas *c = canvas_new(p->arena, from->rows, from->cols);
	if (!c) {
		p->out = 1;
		return NULL;
	}
	memcpy(c->cell, from->cell, (size_t)c->rows * (size_t)c->cols * sizeof *c->cell);
	return c;
}

static const struct figure *figure_copy(struct page *p, const struct figure *from)
{
	struct figure *f = arena_new(p->arena, struct figure);
	const char **words = f ? arena_many(p->arena, from->nword, const char *) : NULL;
	if (!words) {
		p->out = 1;
		return NULL;
	}
	for (size_t i = 0; i < from->nword; i++)
		words[i] = text_copy(p, from->words[i]);
	f->title = text_copy(p, from->title);
	f->canvas = from->canvas ? canvas_copy(p, from->canvas) : NULL;
	f->words = words;
	f->nword = from->nword;
	return f;
}

void page_add_copy(struct page *to, const struct page *from)
{
	for (const struct block *b = from->first; b && !to->out; b = b->next) {
		struct block *copy = block_add(to, b->kind);
		if (!copy)
			return;
		copy->text = text_copy(to, b->text);
		copy->value = text_copy(to, b->value);
		copy->figure = b->figure ? figure_copy(to, b->figure) : NULL;
	}
	if (from->out)
		to->out = 1;
}

/* ---- running text -------------------------------------------------------------------------- */

static bool is_own_line(const char *s, size_t len)
{
	bool mark = len > 1 && (s[0] == '-' || s[0] == '*') && s[1] == ' ';
	return !len || s[0] == '\n' || s[0] == ' ' || s[0] == '\t' || mark;
}

void text_fill(char *s, size_t len)
{
	for (size_t i = 1; i < len; i++)
		if (s[i] == '\n' && s[i - 1] != '\n' && !is_own_line(s + i + 1, len - i - 1))
			s[i] = ' ';
}

/* ---- wrapping ------------------------------------------------------------------------------ */

static bool is_blank(char c)
{
	return c == ' ' || c == '\t';
}

/* Bytes of `s` that fit into `columns`, at least one character. */
static size_t fitting(const char *s, size_t len, size_t columns)
{
	size_t i = 0, width = 0;
	while (i < len) {
		size_t n = utf8_step(s + i, len - i);
		width += utf8_width(s + i, n);
		if (width > columns && i)
			break;
		i += n;
	}
	return i;
}

/* Where a line of at most `fit` bytes ends: before the last blank, or at `fit` if there is none. */
static size_t break_before(const char *s, size_t len, size_t fit)
{
	if (fit == len || is_blank(s[fit]))
		return fit;
	size_t end = fit;
	while (end > 0 && !is_blank(s[end - 1]))
		end--;
	size_t start = 0;
	while (start < end && is_blank(s[start]))
		start++;
	return start < end ? end : fit;
}

static size_t without_blanks(const char *s, size_t len)
{
	while (len && is_blank(s[len - 1]))
		len--;
	return len;
}

/* One piece without LF; non-zero when `line` asked to stop. */
static int wrap_piece(const char *s, size_t len, size_t columns,
	int (*line)(void *to, const char *at, size_t len), void *to)
{
	len = without_blanks(s, len);
	do {
		size_t end = break_before(s, len, fitting(s, len, columns));
		if (line(to, s, without_blanks(s, end)))
			return 1;
		while (end < len && is_blank(s[end]))
			end++;
		s += end;
		len -= end;
	} while (len);
	return 0;
}

void text_wrap(const char *text, size_t len, int columns,
	int (*line)(void *to, const char *at, size_t len), void *to)
{
	size_t width = columns > 0 ? (size_t)columns : 1;
	while (len) {
		const char *end = memchr(text, '\n', len);
		size_t piece = end ? (size_t)(end - text) : len;
		if (wrap_piece(text, piece, width, line, to))
			return;
		size_t past = piece + (end ? 1 : 0);
		text += past;
		len -= past;
	}
}
