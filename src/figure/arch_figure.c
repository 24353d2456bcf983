/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure/arch_figure.h"

#include <math.h>
#include <stdlib.h>

#include <barwright/base/utf8.h>

#include "figure/sketch.h"

enum { SIDE_COLS = 6, HEAD_ROWS = 2, FOOT_ROWS = 2, FINEST = 12 };

/* What the drawing is made from, worked out once. */
struct plan {
	const struct arch_picture *p;
	struct arch_curve curve;
	double s_right, s_left; /* the bar's ends */
	struct arch_place end[2];
	struct arch_spread spread;
	struct arch_point ahead, foot; /* the perpendicular: anterior reference and its foot */
	struct arch_point from, to;    /* the posterior line as drawn */
	double left_mm, right_mm, back_mm, front_mm; /* what must fit */
	struct paper paper;
	struct arena *a;
};

static void plan_cover(struct plan *m, double x, double y, double r)
{
	m->left_mm = fmin(m->left_mm, x - r);
	m->right_mm = fmax(m->right_mm, x + r);
	m->back_mm = fmin(m->back_mm, y - r);
	m->front_mm = fmax(m->front_mm, y + r);
}

/* The outer tangent on the distal side; the formula stands at arch_spread_distal. */
static enum bad plan_spread(struct plan *m)
{
	const struct arch_picture *p = m->p;
	const struct arch_site *r = &p->site[0], *l = &p->site[p->n - 1];
	enum bad code = arch_spread(p->site, p->n, p->rule, &m->spread);

	if (code)
		return code;
	const struct arch_site *a = &p->site[m->spread.first], *b = &p->site[m->spread.second];
	double dx = l->x_mm - r->x_mm, dy = l->y_mm - r->y_mm, length = hypot(dx, dy);
	double distal = p->rule == ARCH_DISTAL_SURFACE;
	double sine = distal * (l->radius_mm - r->radius_mm) / length;
	double cosine = sqrt(1 - sine * sine);
	double nx = sine * dx / length - cosine * dy / length;
	double ny = sine * dy / length + cosine * dx / length;

	m->from = (struct arch_point){
		r->x_mm - distal * r->radius_mm * nx, r->y_mm - distal * r->radius_mm * ny};
	m->to = (struct arch_point){
		l->x_mm - distal * l->radius_mm * nx, l->y_mm - distal * l->radius_mm * ny};
	m->ahead = (struct arch_point){(a->x_mm + b->x_mm) / 2, (a->y_mm + b->y_mm) / 2};
	m->foot = (struct arch_point){
		m->ahead.x_mm - m->spread.spread_mm * nx, m->ahead.y_mm - m->spread.spread_mm * ny};
	return FINE;
}

static enum bad plan_bar(struct plan *m)
{
	const struct arch_picture *p = m->p;
	enum bad code = arch_curve_init(&m->curve, p->site, p->n);

	if (!code)
		code = arch_curve_end(&m->curve, ARCH_RIGHT, p->extension_right_mm, &m->s_right);
	if (!code)
		code = arch_curve_end(&m->curve, ARCH_LEFT, p->extension_left_mm, &m->s_left);
	if (!code)
		code = arch_curve_at(&m->curve, m->s_right, &m->end[ARCH_RIGHT]);
	if (!code)
		code = arch_curve_at(&m->curve, m->s_left, &m->end[ARCH_LEFT]);
	if (code)
		return code;
	plan_cover(m, m->end[ARCH_RIGHT].x_mm, m->end[ARCH_RIGHT].y_mm, 0);
	plan_cover(m, m->end[ARCH_LEFT].x_mm, m->end[ARCH_LEFT].y_mm, 0);
	return FINE;
}

static enum bad plan_init(struct plan *m, const struct arch_picture *p)
{
	enum bad code = FINE;

	m->left_mm = m->back_mm = INFINITY;
	m->right_mm = m->front_mm = -INFINITY;
	if (p->n < 2 || p->n > ARCH_SITES)
		return BAD_COUNT;
	for (size_t i = 0; i < p->n; i++) {
		const struct arch_site *s = &p->site[i];
		if (!isfinite(s->x_mm) || !isfinite(s->y_mm) || !isfinite(s->radius_mm))
			return BAD_RANGE;
		plan_cover(m, s->x_mm, s->y_mm, s->radius_mm);
	}
	for (size_t i = 0; i < p->nload; i++) {
		if (!isfinite(p->load[i].x_mm) || !isfinite(p->load[i].y_mm))
			return BAD_RANGE;
		plan_cover(m, p->load[i].x_mm, p->load[i].y_mm, 0);
	}
	if (p->spread_line)
		code = plan_spread(m);
	if (!code && p->bar)
		code = plan_bar(m);
	return code;
}

/* 10 mm are a whole number of columns, so the scale bar is exact. */
static void plan_paper(struct plan *m, struct canvas *c)
{
	int columns = c->cols - 2 * SIDE_COLS, rows = c->rows - HEAD_ROWS - FOOT_ROWS;
	double width = m->right_mm - m->left_mm, depth = m->front_mm - m->back_mm;
	struct paper *paper = &m->paper;

	*paper = (struct paper){.canvas = c, .col0 = c->cols / 2, .y_down = m->p->lower_jaw};
	paper->mm = 10.0 / paper_scale(width, depth, columns, rows, FINEST);
	/* The middle between the end sites lies in the middle of a column. */
	double middle = (m->p->site[0].x_mm + m->p->site[m->p->n - 1].x_mm) / 2;
	double away = round(((m->left_mm + m->right_mm) / 2 - middle) / paper->mm);
	paper->x0_mm = middle + away * paper->mm;
	paper->y0_mm = m->front_mm;
	int used = (int)lround(depth / (2 * paper->mm)), spare = rows - used;
	int down = spare > 0 ? spare / 2 : 0;
	paper->row0 = m->p->lower_jaw ? c->rows - 1 - FOOT_ROWS - down : HEAD_ROWS + down;
}

static void draw_frame(const struct plan *m)
{
	struct canvas *c = m->paper.canvas;
	int middle = c->cols / 2, last = c->rows - 1;
	bool lower = m->p->lower_jaw;

	canvas_text(c, 0, 0, "patient's right", INK_FAINT);
	canvas_text_right(c, 0, c->cols - 1, "patient's left", INK_FAINT);
	canvas_text_centre(c, lower ? last : 0, middle, "front", INK_FAINT);
	canvas_put(c, lower ? last : 0, middle + 4, lower ? GLYPH_DOWN : GLYPH_UP, INK_FAINT);
	paper_scale_bar(&m->paper, last, 0);
}

/* Half of the bar, from its middle outwards, so that both halves look alike. A cell that only
 * rounds a corner is left out: the next one touches the last one anyhow. */
static void draw_half(const struct plan *m, double from_mm, double to_mm)
{
	const struct paper *paper = &m->paper;
	int n = (int)ceil(fabs(to_mm - from_mm) / (paper->mm / 8)), last_row = -1, last_col = -1;
	struct arch_place here, held = {0};
	bool is_held = false;

	for (int i = 0; i <= n; i++) {
		if (arch_curve_at(&m->curve, from_mm + (to_mm - from_mm) * i / n, &here))
			return;
		int row = paper_row(paper, here.y_mm), col = paper_col(paper, here.x_mm);
		if (is_held && abs(row - last_row) <= 1 && abs(col - last_col) <= 1) {
			held = here;
			continue;
		}
		if (is_held) {
			paper_stroke(paper, held.x_mm, held.y_mm, held.dx, held.dy, INK_WORK);
			last_row = paper_row(paper, held.y_mm);
			last_col = paper_col(paper, held.x_mm);
		} else {
			paper_stroke(paper, here.x_mm, here.y_mm, here.dx, here.dy, INK_WORK);
			last_row = row, last_col = col;
		}
		held = here;
		is_held = true;
	}
	paper_stroke(paper, held.x_mm, held.y_mm, held.dx, held.dy, INK_WORK);
}

static void draw_bar(const struct plan *m)
{
	double middle = arch_curve_length(&m->curve) / 2;

	draw_half(m, middle, m->s_right);
	draw_half(m, middle, m->s_left);
}

/* Drawn a little beyond the sites, so that it is seen to touch them. */
static void draw_spread(const struct plan *m)
{
	const struct paper *paper = &m->paper;
	struct arch_point f = m->from, t = m->to;

	paper_line(paper, f.x_mm, f.y_mm, t.x_mm, t.y_mm, true, INK_FAINT);
	paper_line(paper, m->ahead.x_mm, m->ahead.y_mm, m->foot.x_mm, m->foot.y_mm, true, INK_MARK);
	canvas_put(paper->canvas, paper_row(paper, m->foot.y_mm), paper_col(paper, m->foot.x_mm),
		m->p->lower_jaw ? GLYPH_UP : GLYPH_DOWN, INK_MARK);
	if (m->spread.first == m->spread.second)
		return;
	const struct arch_site *a = &m->p->site[m->spread.first];
	const struct arch_site *b = &m->p->site[m->spread.second];
	paper_line(paper, a->x_mm, a->y_mm, b->x_mm, b->y_mm, true, INK_FAINT);
}

/* From the middle of a site to its brackets, in columns. */
static int site_reach(const struct paper *paper, const struct arch_site *s)
{
	int away = (int)lround(s->radius_mm / paper->mm);

	return away < 1 ? 1 : away;
}

static const char *site_text(const struct plan *m, size_t i)
{
	const char *own = m->p->label ? m->p->label[i] : arena_format(m->a, "%zu", i + 1);

	return own ? own : "";
}

static void draw_sites(const struct plan *m)
{
	const struct paper *paper = &m->paper;

	for (size_t i = 0; i < m->p->n; i++) {
		const struct arch_site *s = &m->p->site[i];
		int row = paper_row(paper, s->y_mm), col = paper_col(paper, s->x_mm);
		int away = site_reach(paper, s);

		canvas_fill(paper->canvas, row, col - away, 1, 2 * away + 1, ' ', INK_STRONG);
		canvas_put(paper->canvas, row, col - away, '(', INK_STRONG);
		canvas_put(paper->canvas, row, col, GLYPH_DISC, INK_STRONG);
		canvas_put(paper->canvas, row, col + away, ')', INK_STRONG);
	}
}

/* Outside the arch where there is room: beside the posterior sites, before the anterior ones. */
static void label_sites(const struct plan *m)
{
	const struct paper *paper = &m->paper;
	int out = m->p->lower_jaw ? 1 : -1;
	double first_mm = m->p->site[0].x_mm, last_mm = m->p->site[m->p->n - 1].x_mm;
	double middle = (first_mm + last_mm) / 2;

	for (size_t i = 0; i < m->p->n; i++) {
		const struct arch_site *s = &m->p->site[i];
		int row = paper_row(paper, s->y_mm), col = paper_col(paper, s->x_mm);
		int side = s->x_mm < middle ? -1 : 1;
		int reach = site_reach(paper, s) + 2;
		const char *text = site_text(m, i);
		struct spot beside = {row, col + reach * side, side}, before = {row + out, col, 0};
		bool flank = fabs(s->x_mm - middle) > 0.3 * fabs(last_mm - first_mm);
		struct spot spot[] = {flank ? beside : before, flank ? before : beside,
			{row + out, col + reach * side, side}, {row, col - reach * side, -side},
			{row - out, col, 0}};

		label_place(paper->canvas, text, INK_STRONG, spot, sizeof spot / sizeof *spot);
	}
}

/* Inside the arch beside the extension, else outside it. */
static void label_extension(const struct plan *m, enum arch_end end)
{
	const struct paper *paper = &m->paper;
	const struct arch_picture *p = m->p;
	double mm = end == ARCH_RIGHT ? p->extension_right_mm : p->extension_left_mm;
	const char *own = end == ARCH_RIGHT ? p->right_text : p->left_text;
	int row = paper_row(paper, m->end[end].y_mm), col = paper_col(paper, m->end[end].x_mm);
	int side = end == ARCH_RIGHT ? 1 : -1, back = p->lower_jaw ? -1 : 1;

	if (mm <= 0 && !own)
		return;
	canvas_put(paper->canvas, row, col, GLYPH_SQUARE, INK_WORK);
	const char *text = arena_format(m->a, "%s", own ? own : mm_text(m->a, mm, p->decimal));
	const char *full = own ? text : arena_format(m->a, "%s mm", text ? text : "");
	struct spot spot[] = {{row, col + 2 * side, side}, {row - back, col + 4 * side, side},
		{row, col + 3 * side, side}, {row, col - 2 * side, -side}, {row + back, col, 0},
		{row - 2 * back, col + 4 * side, side}, {row - back, col - 3 * side, -side},
		{row - 3 * back, col + 6 * side, side}};
	label_place(paper->canvas, full ? full : "", INK_MARK, spot, sizeof spot / sizeof *spot);
}

static void label_spread(const struct plan *m)
{
	const struct paper *paper = &m->paper;
	double x = (m->ahead.x_mm + m->foot.x_mm) / 2, y = (m->ahead.y_mm + m->foot.y_mm) / 2;
	int row = paper_row(paper, y), col = paper_col(paper, x);
	const char *own = asked_text(m->p->spread_text);
	const char *text = arena_format(m->a, "A-P %s", own);
	struct spot spot[] = {{row, col + 2, 1}, {row + 1, col + 2, 1}, {row - 1, col + 2, 1},
		{row, col - 2, -1}, {row + 1, col - 2, -1}, {row - 1, col - 2, -1},
		{row + 2, col + 2, 1}, {row - 2, col + 2, 1}, {row + 3, col + 2, 1},
		{row - 3, col + 2, 1}};

	size_t n = sizeof spot / sizeof *spot;

	if (!label_try(paper->canvas, text ? text : "", INK_MARK, spot, n, false))
		label_place(paper->canvas, own, INK_MARK, spot, n);
}

static void draw_loads(const struct plan *m)
{
	const struct paper *paper = &m->paper;

	for (size_t i = 0; i < m->p->nload; i++) {
		const struct arch_load *l = &m->p->load[i];
		int row = paper_row(paper, l->y_mm), col = paper_col(paper, l->x_mm);
		int side = l->x_mm < (m->left_mm + m->right_mm) / 2 ? 1 : -1;
		struct spot spot[] = {{row, col + 2 * side, side}, {row, col - 2 * side, -side},
			{row - 1, col, 0}, {row + 1, col, 0}, {row + 1, col + 2 * side, side},
			{row - 1, col + 2 * side, side}};

		canvas_put(paper->canvas, row, col, GLYPH_CROSS, INK_BAD);
		label_place(paper->canvas, asked_text(l->text), INK_BAD, spot,
			sizeof spot / sizeof *spot);
	}
}

/* ---- the same in words ----------------------------------------------------------------------- */

/* "site 46: 17.0 mm to the patient's right, 9.0 mm behind the midline point, ..." */
static void words_place(struct words *w, const char *what, double x, double y, const char *more)
{
	const char *across = mm_text(w->arena, fabs(x), w->decimal);
	const char *along = mm_text(w->arena, fabs(y), w->decimal);
	const char *side = x < 0 ? "right" : "left", *where = y < 0 ? "behind" : "in front of";
	bool middle = fabs(x) < 0.005, level = fabs(y) < 0.005;

	if (middle && level)
		words_add(w, "%s: at the midline point%s", what, more);
	else if (middle)
		words_add(w, "%s: on the midline, %s mm %s the midline point%s", what, along, where,
			more);
	else if (level)
		words_add(w, "%s: %s mm to the patient's %s, level with the midline point%s", what,
			across, side, more);
	else
		words_add(w, "%s: %s mm to the patient's %s, %s mm %s the midline point%s", what,
			across, side, along, where, more);
}

static void tell_sites(const struct plan *m, struct words *w)
{
	for (size_t i = 0; i < m->p->n; i++) {
		const struct arch_site *s = &m->p->site[i];
		const char *name = arena_format(m->a, "site %s", site_text(m, i));
		const char *d = arena_format(
			m->a, ", diameter %s mm", mm_text(m->a, 2 * s->radius_mm, w->decimal));

		words_place(w, name ? name : "", s->x_mm, s->y_mm, d ? d : "");
	}
}

static void tell_extension(const struct plan *m, struct words *w, enum arch_end end)
{
	const struct arch_picture *p = m->p;
	double mm = end == ARCH_RIGHT ? p->extension_right_mm : p->extension_left_mm;
	const char *own = end == ARCH_RIGHT ? p->right_text : p->left_text;
	const char *side = end == ARCH_RIGHT ? "right" : "left";

	if (own)
		words_add(w, "extension on the %s, along the bar from the distal surface: %s", side,
			own);
	else if (mm > 0)
		words_add(w, "extension on the %s, along the bar from the distal surface: %s mm",
			side, mm_text(m->a, mm, w->decimal));
}

static enum bad tell(const struct plan *m, struct words *w)
{
	const struct arch_picture *p = m->p;

	words_add(w, "%s arch, %zu sites from the patient's right to left",
		p->lower_jaw ? "lower" : "upper", p->n);
	tell_sites(m, w);
	if (p->bar) {
		tell_extension(m, w, ARCH_RIGHT);
		tell_extension(m, w, ARCH_LEFT);
	}
	if (p->spread_line)
		words_add(w, "A-P spread, square to the line %s: %s",
			p->rule == ARCH_CENTRES
				? "through the centres of the two end sites"
				: "touching the distal surfaces of the two end sites",
			asked_text(p->spread_text));
	for (size_t i = 0; i < p->nload; i++) {
		const char *what = arena_format(m->a, "load %s", asked_text(p->load[i].text));
		words_place(w, what ? what : "", p->load[i].x_mm, p->load[i].y_mm, "");
	}
	return w->out ? BAD_MEMORY : FINE;
}

enum bad arch_figure(
	struct arena *a, const struct arch_picture *p, int columns, int rows, struct figure **out)
{
	struct plan m = {.p = p, .a = a};
	struct words w = {.arena = a, .decimal = p->decimal};
	enum bad code = plan_init(&m, p);

	if (code)
		return code;
	if (columns < 30 || columns > 200 || rows < 10 || rows > 100)
		return BAD_SIZE;
	struct canvas *c = canvas_new(a, rows, columns);
	if (!c)
		return BAD_MEMORY;
	plan_paper(&m, c);
	draw_frame(&m);
	if (p->spread_line)
		draw_spread(&m);
	if (p->bar)
		draw_bar(&m);
	draw_sites(&m);
	draw_loads(&m);
	label_sites(&m);
	if (p->bar) {
		label_extension(&m, ARCH_RIGHT);
		label_extension(&m, ARCH_LEFT);
	}
	if (p->spread_line)
		label_spread(&m);
	code = tell(&m, &w);
	return code ? code
		    : figure_make(a, p->title ? p->title : "The arch from the occlusal side", c, &w,
			      out);
}
