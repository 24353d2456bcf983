/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure/arc_figure.h"

#include <math.h>
#include <stdlib.h>

#include "figure/sketch.h"

/* Left of the site and right of the end stays room for labels. */
enum { LEFT_COLS = 4, RIGHT_COLS = 22, HEAD_ROWS = 2, FOOT_ROWS = 3, FINEST = 24 };

struct plan {
	const struct arc_picture *p;
	struct paper paper;
	double angle, reach_mm, drop_mm; /* of the end: along the tangent and square to it */
	double wide_mm;                  /* the farthest the arc gets along the tangent */
};

static enum bad plan_init(struct plan *m, const struct arc_picture *p)
{
	const double pi = 3.14159265358979323846;

	if (!(p->radius_mm > 0) || !(p->arc_mm > 0) || !isfinite(p->radius_mm) ||
		!(p->arc_mm <= pi * p->radius_mm * (1 + 1e-12)) || !(p->site_radius_mm >= 0) ||
		!isfinite(p->site_radius_mm))
		return BAD_RANGE;
	*m = (struct plan){.p = p, .angle = p->arc_mm / p->radius_mm};
	m->reach_mm = p->radius_mm * sin(m->angle);
	m->drop_mm = p->radius_mm * (1 - cos(m->angle));
	m->wide_mm = m->angle > pi / 2 ? p->radius_mm : m->reach_mm;
	return FINE;
}

static void plan_paper(struct plan *m, struct canvas *c)
{
	int columns = c->cols - LEFT_COLS - RIGHT_COLS, rows = c->rows - HEAD_ROWS - FOOT_ROWS;
	int n = paper_scale(m->wide_mm, m->drop_mm, columns, rows, FINEST);
	double used = m->drop_mm * n / 20;

	m->paper = (struct paper){.canvas = c, .mm = 10.0 / n, .y_down = true};
	m->paper.col0 = LEFT_COLS + (columns - (int)(m->wide_mm * n / 10)) / 2;
	m->paper.row0 = HEAD_ROWS + (rows - (int)used) / 2;
}

static void draw_arc(const struct plan *m)
{
	const struct paper *p = &m->paper;
	int n = (int)ceil(m->p->arc_mm / (p->mm / 8)), row0 = p->row0, col0 = p->col0;
	double held = 0;

	for (int i = 0; i <= n; i++) {
		double t = m->angle * i / n, x = m->p->radius_mm * sin(t);
		double y = m->p->radius_mm * (1 - cos(t));
		int row = paper_row(p, y), col = paper_col(p, x);
		if (i < n && abs(row - row0) <= 1 && abs(col - col0) <= 1) {
			held = t;
			continue;
		}
		x = m->p->radius_mm * sin(held), y = m->p->radius_mm * (1 - cos(held));
		paper_stroke(p, x, y, cos(held), sin(held), INK_WORK);
		row0 = paper_row(p, y), col0 = paper_col(p, x);
		held = t;
	}
}

static void draw_helpers(const struct plan *m)
{
	const struct paper *p = &m->paper;

	paper_line(p, 0, 0, fmax(m->wide_mm, m->reach_mm), 0, true, INK_FAINT);
	if (m->p->torsion_text)
		paper_line(p, m->reach_mm, 0, m->reach_mm, m->drop_mm, true, INK_FAINT);
	if (m->p->chord_text)
		paper_line(p, 0, 0, m->reach_mm, m->drop_mm, true, INK_FAINT);
}

static void draw_ends(const struct plan *m)
{
	const struct paper *p = &m->paper;
	int away = (int)lround(m->p->site_radius_mm / p->mm);
	int row = paper_row(p, m->drop_mm), col = paper_col(p, m->reach_mm);

	away = away < 1 ? 1 : away > LEFT_COLS - 1 ? LEFT_COLS - 1 : away;
	canvas_fill(p->canvas, p->row0, p->col0 - away, 1, 2 * away + 1, ' ', INK_STRONG);
	canvas_put(p->canvas, p->row0, p->col0 - away, '(', INK_STRONG);
	canvas_put(p->canvas, p->row0, p->col0, GLYPH_DISC, INK_STRONG);
	canvas_put(p->canvas, p->row0, p->col0 + away, ')', INK_STRONG);
	canvas_put(p->canvas, row, col, m->p->load_text ? GLYPH_CROSS : GLYPH_SQUARE,
		m->p->load_text ? INK_BAD : INK_WORK);
}

static void label_at(struct arena *a, const struct plan *m, const char *name, const char *text,
	const struct spot *spot, size_t n)
{
	const char *full = text ? arena_format(a, "%s %s", name, text) : NULL;

	if (full)
		label_place(m->paper.canvas, full, INK_MARK, spot, n);
}

static void draw_labels(struct arena *a, const struct plan *m)
{
	const struct paper *p = &m->paper;
	double half = m->angle / 2, radius = m->p->radius_mm;
	int row = paper_row(p, m->drop_mm), col = paper_col(p, m->reach_mm);
	int mid = paper_row(p, m->drop_mm / 2), across = paper_col(p, m->reach_mm / 2);
	int arc_row = paper_row(p, radius * (1 - cos(half)));
	int arc_col = paper_col(p, radius * sin(half));
	struct spot load[] = {{row, col + 2, 1}, {row + 1, col, 0}};
	struct spot bending[] = {{p->row0 - 1, across, 0}};
	struct spot torsion[] = {{mid, col + 2, 1}, {mid - 1, col + 2, 1}, {mid + 1, col + 2, 1},
		{row + 1, col, 0}, {mid + 2, col - 2, -1}, {mid - 2, col - 2, -1}};
	struct spot arc[] = {{arc_row, arc_col + 3, 1}, {arc_row - 1, arc_col + 3, 1},
		{arc_row - 1, arc_col, 0}, {arc_row + 1, arc_col + 4, 1}, {row + 2, across, 0}};
	struct spot chord[] = {{mid + 1, across - 2, -1}, {mid + 2, across - 2, -1},
		{row + 1, across, 0}, {row + 1, across - 4, -1}};

	if (m->p->load_text)
		label_place(p->canvas, m->p->load_text, INK_BAD, load, 2);
	label_at(a, m, "bending arm", m->p->bending_text, bending, 1);
	label_at(a, m, "torsion arm", m->p->torsion_text, torsion, 6);
	label_at(a, m, "along the bar", m->p->arc_text, arc, 5);
	label_at(a, m, "chord", m->p->chord_text, chord, 4);
	paper_scale_bar(p, p->canvas->rows - 1, 0);
}

static void tell(const struct arc_picture *p, struct words *w)
{
	words_add(w, "the bar goes on from the terminal site along a circle of radius %s mm",
		mm_text(w->arena, p->radius_mm, w->decimal));
	if (p->arc_text)
		words_add(w, "along the bar to its end: %s", p->arc_text);
	if (p->chord_text)
		words_add(w, "straight from the site to the end: %s", p->chord_text);
	if (p->bending_text)
		words_add(w, "bending arm, along the tangent at the site: %s", p->bending_text);
	if (p->torsion_text)
		words_add(w, "torsion arm, square to that tangent: %s", p->torsion_text);
	if (p->load_text)
		words_add(w, "load at the end: %s", p->load_text);
}

enum bad arc_figure(
	struct arena *a, const struct arc_picture *p, int columns, int rows, struct figure **out)
{
	struct plan m;
	struct words w = {.arena = a};
	enum bad code = plan_init(&m, p);

	if (code)
		return code;
	if (columns < 40 || columns > 200 || rows < 10 || rows > 100)
		return BAD_SIZE;
	struct canvas *c = canvas_new(a, rows, columns);
	if (!c)
		return BAD_MEMORY;
	plan_paper(&m, c);
	draw_helpers(&m);
	draw_arc(&m);
	draw_ends(&m);
	draw_labels(a, &m);
	tell(p, &w);
	return figure_make(a, p->title ? p->title : "An extension along the arch", c, &w, out);
}
