/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/layout.h"

#include <string.h>

#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

#include "surface/charset.h"

/* ---- rows ----------------------------------------------------------------------------------- */

/* The list moves to twice the room; what it leaves behind ends with the arena. */
static bool rows_grow(struct rows *r)
{
	size_t room = r->room ? 2 * r->room : 64;
	struct row *at = r->out ? NULL : arena_many(r->arena, room, struct row);
	if (!at) {
		r->out = true;
		return false;
	}
	if (r->n)
		memcpy(at, r->at, r->n * sizeof *at);
	r->at = at;
	r->room = room;
	return true;
}

struct row *rows_at(struct rows *r, size_t index)
{
	while (index >= r->room)
		if (!rows_grow(r))
			return NULL;
	if (index >= r->n)
		r->n = index + 1;
	return &r->at[index];
}

void rows_put(struct rows *r, size_t index, int col, const char *text, size_t len, int ink)
{
	struct row *row = rows_at(r, index);
	if (!row || !len)
		return;
	struct segment *s = arena_new(r->arena, struct segment);
	if (!s) {
		r->out = true;
		return;
	}
	*s = (struct segment){.col = col, .ink = ink, .text = text, .len = len};
	if (row->last)
		row->last->next = s;
	else
		row->first = s;
	row->last = s;
}

/* Filtered and copied; `fill` joins its lines. */
static const char *safe_copy(
	struct rows *r, const struct look *look, const char *s, bool fill, size_t *len)
{
	struct text safe;
	text_init(&safe);
	charset_add(&safe, s, strlen(s), true, look->utf8);
	char *copy = safe.out ? NULL : arena_copy(r->arena, safe.at, safe.len);
	*len = copy ? safe.len : 0;
	text_release(&safe);
	if (!copy) {
		r->out = true;
		return "";
	}
	if (fill)
		text_fill(copy, *len);
	return copy;
}

const char *rows_safe(struct rows *r, const struct look *look, const char *s, size_t *len)
{
	return safe_copy(r, look, s, true, len);
}

struct wrapping {
	struct rows *rows;
	size_t index, first;
	int col, indent, ink;
};

static int wrapped_line(void *to, const char *at, size_t len)
{
	struct wrapping *w = to;
	int indent = w->index == w->first ? 0 : w->indent;
	rows_put(w->rows, w->index, w->col + indent, at, len, w->ink);
	w->index++;
	return w->rows->out;
}

size_t rows_wrap(struct rows *r, size_t index, int col, int columns, int indent, const char *text,
	size_t len, int ink)
{
	struct wrapping w = {r, index, index, col, indent, ink};
	text_wrap(text, len, columns - indent, wrapped_line, &w);
	return w.index - index;
}

/* ---- blocks --------------------------------------------------------------------------------- */

struct layout {
	struct rows *rows;
	const struct look *look;
	int margin, columns, width;
	size_t next;  /* the row at which the text goes on */
	size_t aside; /* the row from which the room beside the text is free */
	int labels;   /* width of the label column of the rows being laid out */
};

static const char *safe(struct layout *l, const char *s, size_t *len)
{
	return rows_safe(l->rows, l->look, s ? s : "", len);
}

static void add_text(struct layout *l, int indent, const char *s, int ink)
{
	size_t len;
	const char *text = safe(l, s, &len);
	l->next += rows_wrap(
		l->rows, l->next, l->margin + indent, l->columns - indent, 0, text, len, ink);
}

/* A line that is too long goes on a little further in than it began. */
static void add_exact_line(struct layout *l, const char *line, size_t len)
{
	int columns = l->columns - 2, indent = 0;
	if (utf8_width(line, len) > (size_t)columns)
		indent = (int)strspn(line, " ") + 4;
	indent = indent < columns / 2 ? indent : columns / 2;
	size_t rows =
		rows_wrap(l->rows, l->next, l->margin + 2, columns, indent, line, len, INK_PLAIN);
	l->next += rows ? rows : 1;
}

static void add_exact(struct layout *l, const char *s)
{
	size_t len;
	const char *text = safe_copy(l->rows, l->look, s, false, &len);
	for (size_t at = 0, n; at < len; at += n + 1) {
		n = strcspn(text + at, "\n");
		add_exact_line(l, text + at, n);
	}
}

/* A sign, and the text hanging beside it. */
static void add_signed(struct layout *l, const char *sign, int ink, const char *s)
{
	size_t start = l->next;
	int indent = (int)utf8_width(sign, strlen(sign)) + 1;
	add_text(l, indent, s, INK_PLAIN);
	if (l->next == start)
		l->next++;
	rows_put(l->rows, start, l->margin, sign, strlen(sign), ink);
}

static void add_item(struct layout *l, const char *s)
{
	add_signed(l, l->look->utf8 ? "•" : "-", INK_PLAIN, s);
}

/* "Caution:" is set off by its sign, by bold letters and by the word itself. */
static void add_caution(struct layout *l, const char *s)
{
	size_t start = l->next;
	add_text(l, 2, "Caution:", INK_STRONG);
	rows_put(l->rows, start, l->margin, "!", 1, INK_CAUTION);
	add_text(l, 2, s, INK_PLAIN);
}

static int width_of(struct layout *l, const char *s)
{
	size_t len;
	const char *text = safe(l, s, &len);
	return (int)utf8_width(text, len);
}

/* The label column of the run of rows that starts at `b`. */
static int labels_of(struct layout *l, const struct block *b)
{
	int most = 0;
	for (; b && b->kind == BLOCK_ROW; b = b->next) {
		int width = width_of(l, b->text);
		most = width > most ? width : most;
	}
	int cap = l->columns / 2;
	return most < cap ? most : cap;
}

static void add_row(struct layout *l, const struct block *b)
{
	size_t len, label, value;
	const char *text = safe(l, b->text, &len);
	label = rows_wrap(l->rows, l->next, l->margin, l->labels, 0, text, len, INK_PLAIN);
	text = safe(l, b->value, &len);
	value = rows_wrap(l->rows, l->next, l->margin + l->labels + 2, l->columns - l->labels - 2,
		0, text, len, INK_STRONG);
	l->next += label > value ? label : value;
}

/* ---- figures -------------------------------------------------------------------------------- */

/* Cells of one meaning become one segment. */
static void put_cells(
	struct layout *l, size_t index, int col, const struct canvas *c, int row, int from, int to)
{
	struct text text;
	text_init(&text);
	canvas_add_cells(c, row, from, to, !l->look->utf8, &text);
	const char *copy = text.out ? NULL : arena_copy(l->rows->arena, text.at, text.len);
	if (copy)
		rows_put(l->rows, index, col + from, copy, text.len,
			c->cell[row * c->cols + from].ink);
	else
		l->rows->out = true;
	text_release(&text);
}

/* The rows of a drawing that hold something; returns how many. */
static size_t put_drawing(struct layout *l, size_t index, int col, const struct canvas *c)
{
	struct span span = canvas_span(c);
	for (int row = span.first; row < span.end; row++, index++) {
		int used = canvas_used(c, row);
		const struct cell *cell = &c->cell[row * c->cols];
		rows_at(l->rows, index);
		for (int from = 0, to; from < used; from = to) {
			for (to = from + 1; to < used && cell[to].ink == cell[from].ink; to++)
				continue;
			put_cells(l, index, col, c, row, from, to);
		}
	}
	return (size_t)(span.end - span.first);
}

static void add_figure_words(struct layout *l, const struct figure *f)
{
	add_text(l, 0, f->title, INK_STRONG);
	for (size_t i = 0; i < f->nword; i++)
		add_item(l, f->words[i]);
}

/* Beside what led to it, not only beside what follows. Returns false when there is no room. */
static bool add_beside(struct layout *l, const struct figure *f, size_t from)
{
	int col = l->margin + l->columns + 3;
	struct span span = canvas_span(f->canvas);
	if (col + span.cols + 1 > l->width || col + width_of(l, f->title) + 1 > l->width)
		return false;
	size_t len, height = (size_t)(span.end - span.first);
	size_t index = from > height ? from - height : 0;
	if (index < l->aside)
		index = l->aside;
	const char *title = safe(l, f->title, &len);
	rows_put(l->rows, index, col, title, len, INK_STRONG);
	put_drawing(l, index + 1, col, f->canvas);
	l->aside = index + height + 2;
	return true;
}

static void add_figure(struct layout *l, const struct figure *f)
{
	if (!f->canvas || l->look->words || l->margin + canvas_span(f->canvas).cols > l->width) {
		add_figure_words(l, f);
		return;
	}
	add_text(l, 0, f->title, INK_STRONG);
	l->next += put_drawing(l, l->next, l->margin, f->canvas);
}

/* ---- the page ------------------------------------------------------------------------------- */

static void add_block(struct layout *l, const struct block *b)
{
	switch (b->kind) {
	case BLOCK_HEADING:
		add_text(l, 0, b->text, INK_STRONG);
		break;
	case BLOCK_ITEM:
		add_item(l, b->text);
		break;
	case BLOCK_ROW:
		add_row(l, b);
		break;
	case BLOCK_EXACT:
		add_exact(l, b->text);
		break;
	case BLOCK_CAUTION:
		add_caution(l, b->text);
		break;
	case BLOCK_GOOD:
		add_signed(l, l->look->ticks ? "✓" : "[ok]", INK_GOOD, b->text);
		break;
	case BLOCK_BAD:
		add_signed(l, l->look->ticks ? "✗" : "[not ok]", INK_BAD, b->text);
		break;
	case BLOCK_FIGURE:
		if (b->figure)
			add_figure(l, b->figure);
		break;
	case BLOCK_TEXT:
	case BLOCK_COUNT:
		add_text(l, 0, b->text, INK_PLAIN);
		break;
	}
}

static bool is_beside(struct layout *l, const struct block *b)
{
	if (b->kind != BLOCK_FIGURE || !b->figure || !b->figure->canvas || l->look->words)
		return false;
	return add_beside(l, b->figure, l->next ? l->next + 1 : 0);
}

static void mark_rows(struct rows *r, size_t from, size_t block)
{
	for (size_t i = from; i < r->n; i++)
		r->at[i].block = block;
}

void layout_page(const struct page *p, const struct look *look, int margin, int columns, int width,
	struct rows *out)
{
	struct layout l = {
		.rows = out, .look = look, .margin = margin, .columns = columns, .width = width};
	const struct block *above = NULL;
	size_t number = 0;
	for (const struct block *b = p->first; b && !out->out; b = b->next, number++) {
		size_t start = out->n;
		if (!is_beside(&l, b)) {
			if (above && block_has_gap(above->kind, b))
				rows_at(out, l.next++);
			if (b->kind == BLOCK_ROW && !(above && above->kind == BLOCK_ROW))
				l.labels = labels_of(&l, b);
			add_block(&l, b);
			above = b;
		}
		mark_rows(out, start, number);
	}
}
