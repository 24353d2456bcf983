/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure/sketch.h"

#include <math.h>
#include <stdarg.h>

#include <barwright/base/number.h>
#include <barwright/base/text.h>
#include <barwright/base/utf8.h>

/* Halves away from the origin on both sides, so a symmetric arch is drawn symmetric. */
static int cells(double mm, double mm_per_cell)
{
	return (int)lround(mm / mm_per_cell);
}

int paper_row(const struct paper *p, double y_mm)
{
	int away = cells(y_mm - p->y0_mm, 2 * p->mm);

	return p->y_down ? p->row0 + away : p->row0 - away;
}

int paper_col(const struct paper *p, double x_mm)
{
	return p->col0 + cells(x_mm - p->x0_mm, p->mm);
}

/* A cell holds a rise of 2 over a run of 1. Up to a quarter of a row a column counts as level,
 * from 6 rows a column on as upright. */
static uint32_t slope_glyph(const struct paper *p, double dx, double dy)
{
	double rise = fabs(dy) / 2, run = fabs(dx);
	bool up = (dx * dy > 0) != p->y_down;

	if (rise < 0.4 * run)
		return GLYPH_ACROSS;
	if (rise > 3 * run)
		return GLYPH_UPRIGHT;
	return up ? GLYPH_RISING : GLYPH_FALLING;
}

void paper_stroke(
	const struct paper *p, double x_mm, double y_mm, double dx, double dy, enum ink ink)
{
	canvas_put(p->canvas, paper_row(p, y_mm), paper_col(p, x_mm), slope_glyph(p, dx, dy), ink);
}

void paper_line(const struct paper *p, double x1_mm, double y1_mm, double x2_mm, double y2_mm,
	bool dashed, enum ink ink)
{
	double dx = x2_mm - x1_mm, dy = y2_mm - y1_mm;
	uint32_t glyph = slope_glyph(p, dx, dy);

	if (dashed && glyph == GLYPH_ACROSS)
		glyph = GLYPH_DASH;
	else if (dashed && glyph == GLYPH_UPRIGHT)
		glyph = GLYPH_DASH_UPRIGHT;
	else if (dashed)
		glyph = GLYPH_DOT;
	canvas_line(p->canvas, paper_row(p, y1_mm), paper_col(p, x1_mm), paper_row(p, y2_mm),
		paper_col(p, x2_mm), glyph, ink);
}

int paper_scale(double width_mm, double height_mm, int columns, int rows, int most)
{
	int n = most;

	while (n > 2 && (width_mm * n / 10 > columns || height_mm * n / 20 > rows))
		n--;
	return n;
}

void paper_scale_bar(const struct paper *p, int row, int col)
{
	static const int length[] = {10, 5, 2, 1};
	size_t i = 0;
	char label[16];

	while (i < 3 && length[i] / p->mm > 24)
		i++;
	int end = col + cells(length[i], p->mm);
	canvas_line(p->canvas, row, col, row, end, GLYPH_ACROSS, INK_FAINT);
	canvas_put(p->canvas, row, col, GLYPH_TEE_RIGHT, INK_FAINT);
	canvas_put(p->canvas, row, end, GLYPH_TEE_LEFT, INK_FAINT);
	snprintf(label, sizeof label, "%d mm", length[i]);
	canvas_text(p->canvas, row, end + 2, label, INK_FAINT);
}

static bool is_free(const struct canvas *c, int row, int col, int len, bool over_faint)
{
	if (row < 0 || row >= c->rows || col < 0 || col + len > c->cols)
		return false;
	for (int at = col - 1; at <= col + len; at++) {
		if (at < 0 || at >= c->cols)
			continue;
		const struct cell *cell = &c->cell[row * c->cols + at];
		if (cell->glyph && !(over_faint && cell->ink == INK_FAINT && cell->glyph > 0x7F))
			return false;
	}
	return true;
}

bool label_try(struct canvas *c, const char *text, enum ink ink, const struct spot *spot, size_t n,
	bool over_faint)
{
	int len = (int)utf8_width(text, strlen(text));

	for (size_t i = 0; i < n; i++) {
		int col = spot[i].col;

		if (spot[i].side < 0)
			col -= len - 1;
		else if (spot[i].side == 0)
			col -= len / 2;
		if (!is_free(c, spot[i].row, col, len, over_faint))
			continue;
		canvas_text(c, spot[i].row, col, text, ink);
		return true;
	}
	return false;
}

bool label_place(
	struct canvas *c, const char *text, enum ink ink, const struct spot *spot, size_t n)
{
	return label_try(c, text, ink, spot, n, false) || label_try(c, text, ink, spot, n, true);
}

const char *mm_text(struct arena *a, double mm, char decimal)
{
	struct text t;
	char *copy;
	int places = fabs(mm * 10 - round(mm * 10)) < 0.005 ? 1 : 2;

	if (!isfinite(mm))
		return "?";
	text_init(&t);
	number_add_to(mm, places, decimal ? decimal : '.', &t);
	copy = t.out ? NULL : arena_copy(a, t.at, t.len);
	a->out = a->out || t.out;
	text_release(&t);
	return copy ? copy : "";
}

const char *asked_text(const char *text)
{
	return text ? text : "?";
}

static bool words_grow(struct words *w)
{
	size_t room = w->room ? 2 * w->room : 16;
	const char **list = arena_many(w->arena, room, const char *);

	if (!list)
		return false;
	for (size_t i = 0; i < w->n; i++)
		list[i] = w->list[i];
	w->list = list;
	w->room = room;
	return true;
}

void words_add(struct words *w, const char *format, ...)
{
	va_list args;
	char *line;

	va_start(args, format);
	line = arena_vformat(w->arena, format, args);
	va_end(args);
	if (!line || (w->n == w->room && !words_grow(w))) {
		w->out = true;
		return;
	}
	w->list[w->n++] = line;
}

enum bad figure_make(struct arena *a, const char *title, struct canvas *c, const struct words *w,
	struct figure **out)
{
	struct figure *f = arena_new(a, struct figure);

	if (!c || w->out || a->out) /* a label or a line of words may be missing */
		return BAD_MEMORY;
	f->title = title;
	f->canvas = c;
	f->words = w->list;
	f->nword = w->n;
	*out = f;
	return FINE;
}
