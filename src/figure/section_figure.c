/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure/section_figure.h"

#include <math.h>

#include "figure/sketch.h"

enum {
	GLYPH_BAR = 0x2592, /* medium shade */
	GLYPH_TEE_DOWN = 0x252C,
	GLYPH_TEE_UP = 0x2534,
	CEMENT = ':',
	LABEL_COLS = 29, /* to the right of the bar, the height's arrow included */
	LEAST_COLS = 46,
	LEAST_ROWS = 16,
	LEAST_BAR = 3, /* rows */
	FINEST = 34,   /* columns for 10 mm: what is asked for cannot be counted off */
	MEASURES = 12
};

/* A dimension: its row is drawn from x to x. */
struct measure {
	enum section_part part;
	const char *name;
	double from, to; /* mm from the middle of the bar */
	double value;    /* mm; shown in micrometres where the course does, `micro` */
	bool micro;
};

struct plan {
	const struct section_picture *p;
	struct arena *a;
	struct canvas *c;
	double width, height, wander; /* mm; wander has the sign of the tilt */
	double hole_left, hole_right; /* edges at half height, from the middle of the bar */
	double n;                     /* columns for 10 mm */
	int left, top, rows;          /* of the bar */
	int label;                    /* first column of the labels */
	struct measure measure[MEASURES];
	size_t nmeasure;
};

static bool has(const struct plan *m, unsigned part)
{
	return ((m->p->shown | m->p->asked) & part) != 0;
}

/* As wide as it is cut by a level plane. */
static double across(const struct plan *m, double diameter)
{
	return diameter / cos(m->p->tilt_rad);
}

static bool is_tilted_hole(const struct plan *m)
{
	return m->p->cylinder_mm <= 0;
}

/* From the middle of the hole to its edge; in a tilted hole at the height where it is widest from
 * the middle. */
static double reach(const struct plan *m)
{
	return is_tilted_hole(m) ? across(m, m->p->hole_mm) / 2 + fabs(m->wander) / 2
				 : m->p->hole_mm / 2;
}

/* Room left between the hole and a cylinder in its middle, each side. */
static double even_film(const struct plan *m)
{
	return (m->p->hole_mm - across(m, m->p->cylinder_mm) - fabs(m->wander)) / 2;
}

static bool numbers_fit(const struct section_picture *p)
{
	const double all[] = {p->width_mm, p->height_mm, p->hole_mm, p->offset_mm, p->cylinder_mm,
		p->aside_mm, p->tilt_rad};

	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		if (!isfinite(all[i]) || fabs(all[i]) > 100)
			return false;
	return (p->width_mm >= 0.5 || p->width_mm == 0) && p->height_mm >= 0 && p->hole_mm >= 0 &&
	       p->cylinder_mm >= 0 && fabs(p->tilt_rad) < 0.7854;
}

/* A width that leaves walls. It and the usual height: common practice of the trade. */
static double usual_width(const struct plan *m)
{
	return fmax(9, 2 * (fabs(m->p->offset_mm) + reach(m) + 1.5));
}

/* 1e-9: what was computed to just fit does. */
static enum bad plan_init(struct plan *m, const struct section_picture *p)
{
	const double near_mm = 1e-9;

	m->p = p;
	if (!numbers_fit(p))
		return BAD_RANGE;
	m->height = p->height_mm > 0 ? p->height_mm : 4;
	m->wander = m->height * tan(p->tilt_rad);
	m->width = p->width_mm > 0 ? p->width_mm : usual_width(m);
	if (p->hole_mm <= 0)
		return p->cylinder_mm > 0 ? BAD_RANGE : FINE;
	m->hole_left = p->offset_mm - reach(m);
	m->hole_right = p->offset_mm + reach(m);
	if (fabs(p->offset_mm) + reach(m) > m->width / 2 + near_mm)
		return BAD_RANGE;
	if (p->cylinder_mm > 0 && fabs(p->aside_mm) > even_film(m) + near_mm)
		return BAD_RANGE;
	return FINE;
}

/* ---- what is measured ------------------------------------------------------------------------ */

static void measure_add(struct plan *m, enum section_part part, const char *name, double from,
	double to, double value)
{
	bool micro = part == SECTION_FILM || part == SECTION_ASIDE;

	if (has(m, part))
		m->measure[m->nmeasure++] = (struct measure){
			part, name, fmin(from, to), fmax(from, to), fabs(value), micro};
}

static const char *beside(const struct plan *m, const char *what, int side)
{
	static const char *const usual[] = {"left", "right"};
	const char *word = m->p->side[side] ? m->p->side[side] : usual[side];
	const char *name = arena_format(m->a, "%s, %s", what, word);

	return name ? name : "";
}

static void measure_film(struct plan *m)
{
	double even = even_film(m), aside = m->p->aside_mm;
	const char *each = m->p->tilt_rad == 0 ? "film each side" : "gap each side";

	if (aside == 0) {
		measure_add(m, SECTION_FILM, each, m->hole_left, m->hole_left + even, even);
		return;
	}
	measure_add(m, SECTION_FILM, beside(m, "film", 0), m->hole_left,
		m->hole_left + even + aside, even + aside);
	measure_add(m, SECTION_FILM, beside(m, "film", 1), m->hole_right - even + aside,
		m->hole_right, even - aside);
}

static void measure_hole(struct plan *m)
{
	const struct section_picture *p = m->p;
	double half = m->width / 2, axis = p->offset_mm + p->aside_mm;
	double thick = across(m, p->cylinder_mm);

	measure_add(m, SECTION_OFFSET, "off the middle", 0, p->offset_mm, p->offset_mm);
	measure_add(
		m, SECTION_LEFT, beside(m, "wall", 0), -half, m->hole_left, half + m->hole_left);
	measure_add(m, SECTION_HOLE, "hole", m->hole_left, m->hole_right, p->hole_mm);
	measure_add(
		m, SECTION_RIGHT, beside(m, "wall", 1), m->hole_right, half, half - m->hole_right);
	measure_add(m, SECTION_WANDER, "sideways", axis - m->wander / 2, axis + m->wander / 2,
		m->wander);
	if (p->cylinder_mm <= 0)
		return;
	measure_add(m, SECTION_CYLINDER, "cylinder", axis - thick / 2, axis + thick / 2,
		p->cylinder_mm);
	measure_film(m);
	measure_add(m, SECTION_ASIDE, "cylinder aside", p->offset_mm, axis, p->aside_mm);
}

/* From what is nearest to the bar outwards. */
static void measure_all(struct plan *m)
{
	const struct section_picture *p = m->p;

	if (p->hole_mm > 0)
		measure_hole(m);
	measure_add(m, SECTION_WIDTH, "width", -m->width / 2, m->width / 2, m->width);
}

/* "4.70 mm", "60 µm", "?". */
static const char *value_text(const struct plan *m, unsigned part, double mm, bool micro)
{
	if (m->p->asked & part)
		return "?";
	const char *text = micro ? arena_format(m->a, "%.0f \xC2\xB5m", mm * 1000)
				 : arena_format(m->a, "%s mm", mm_text(m->a, mm, m->p->decimal));
	return text ? text : "";
}

static const char *tilt_text(const struct plan *m)
{
	double degrees = fabs(m->p->tilt_rad) * 57.29577951308232;
	const char *text;

	if (m->p->asked & SECTION_TILT)
		return "?";
	if (fabs(degrees - round(degrees)) < 0.005)
		text = arena_format(m->a, "%.0f degrees", degrees);
	else
		text = arena_format(m->a, "%s degrees", mm_text(m->a, degrees, m->p->decimal));
	return text ? text : "";
}

/* ---- drawing --------------------------------------------------------------------------------- */

/* A row each over and under the bar for a cylinder that passes through, one for the sides and for the
 * mark at the middle of the bar. */
static void plan_layout(struct plan *m)
{
	bool passes = m->p->cylinder_mm > 0, sides = m->p->side[0] || m->p->side[1];
	int over = sides || (passes && has(m, SECTION_OFFSET)) ? 2 : 1;
	int rows = m->c->rows - over - 1 - (int)m->nmeasure;

	m->n = paper_scale(m->width, m->height, m->c->cols - LABEL_COLS, rows, FINEST);
	m->left = 1;
	m->top = over;
	m->rows = (int)lround(m->height * m->n / 20);
	m->rows = m->rows < LEAST_BAR ? LEAST_BAR : m->rows > rows ? rows : m->rows;
}

/* The cell that begins at x. */
static int col_at(const struct plan *m, double x)
{
	return m->left + (int)lround((x + m->width / 2) * m->n / 10);
}

/* mm sideways of a tilted axis in this row, from where it is at half height. */
static double lean(const struct plan *m, int row)
{
	double up = (m->top + m->rows / 2.0 - row - 0.5) / m->rows;

	return up * m->wander;
}

static void draw_hole(const struct plan *m, int row)
{
	double half = across(m, m->p->hole_mm) / 2, axis = m->p->offset_mm;

	if (is_tilted_hole(m))
		axis += lean(m, row);
	else
		half = m->p->hole_mm / 2;
	int from = col_at(m, axis - half), to = col_at(m, axis + half);
	canvas_fill(m->c, row, from, 1, to - from, ' ', INK_PLAIN);
	if (is_tilted_hole(m))
		canvas_put(m->c, row, col_at(m, axis), GLYPH_DASH_UPRIGHT, INK_FAINT);
	else
		canvas_fill(m->c, row, from, 1, to - from, CEMENT, INK_MARK);
}

/* First and last cell between two edges of the cylinder: a column of film is left on both sides of it.
 */
static void within_hole(const struct plan *m, double from, double to, int *first, int *last)
{
	int left = col_at(m, m->hole_left) + 1, right = col_at(m, m->hole_right) - 2;

	*first = col_at(m, from);
	*last = col_at(m, to) - 1;
	*first = *first < left ? left : *first;
	*last = *last > right ? right : *last;
}

/* Over and under the bar a tilted one has more room. */
static void draw_cylinder(const struct plan *m, int row, bool inside)
{
	double axis = m->p->offset_mm + m->p->aside_mm + lean(m, row);
	double half = across(m, m->p->cylinder_mm) / 2;
	int from = col_at(m, axis - half), to = col_at(m, axis + half) - 1;

	if (inside || m->p->tilt_rad == 0)
		within_hole(m, axis - half, axis + half, &from, &to);
	canvas_fill(m->c, row, from, 1, to - from + 1, ' ', INK_STRONG);
	canvas_put(m->c, row, from, GLYPH_UPRIGHT, INK_STRONG);
	canvas_put(m->c, row, to, GLYPH_UPRIGHT, INK_STRONG);
	canvas_put(m->c, row, (from + to) / 2, GLYPH_DASH_UPRIGHT, INK_FAINT);
}

static void draw_bar(const struct plan *m)
{
	int cols = col_at(m, m->width / 2) - m->left;

	canvas_fill(m->c, m->top, m->left, m->rows, cols, GLYPH_BAR, INK_WORK);
	for (int row = m->top; row < m->top + m->rows && m->p->hole_mm > 0; row++) {
		draw_hole(m, row);
		if (m->p->cylinder_mm > 0)
			draw_cylinder(m, row, true);
	}
	if (m->p->cylinder_mm > 0) {
		draw_cylinder(m, m->top - 1, false);
		draw_cylinder(m, m->top + m->rows, false);
	}
}

static void label(const struct plan *m, int row, unsigned part, const char *name, const char *value)
{
	const char *text = arena_format(m->a, "%s %s", name, value);

	canvas_text(
		m->c, row, m->label, text ? text : "", m->p->asked & part ? INK_MARK : INK_PLAIN);
}

/* A line from mark to mark; what is shorter than two columns gets an arrow. */
static void draw_measure(const struct plan *m, int row, const struct measure *x)
{
	int from = col_at(m, x->from), to = col_at(m, x->to) - 1;

	if (x->part == SECTION_CYLINDER)
		within_hole(m, x->from, x->to, &from, &to);
	if (to <= from) {
		canvas_put(m->c, row, from, GLYPH_UP, INK_FAINT);
	} else {
		canvas_line(m->c, row, from, row, to, GLYPH_ACROSS, INK_FAINT);
		canvas_put(m->c, row, from, GLYPH_TEE_RIGHT, INK_FAINT);
		canvas_put(m->c, row, to, GLYPH_TEE_LEFT, INK_FAINT);
	}
	label(m, row, x->part, x->name, value_text(m, x->part, x->value, x->micro));
}

static void draw_height(const struct plan *m)
{
	int col = m->label - 2, last = m->top + m->rows - 1;

	canvas_line(m->c, m->top, col, last, col, GLYPH_UPRIGHT, INK_FAINT);
	canvas_put(m->c, m->top, col, GLYPH_TEE_DOWN, INK_FAINT);
	canvas_put(m->c, last, col, GLYPH_TEE_UP, INK_FAINT);
	label(m, m->top + m->rows / 2, SECTION_HEIGHT, "height",
		value_text(m, SECTION_HEIGHT, m->height, false));
}

static void draw_sides(const struct plan *m)
{
	int right = col_at(m, m->width / 2) - 1;

	if (m->p->side[0])
		canvas_text(m->c, 0, m->left, m->p->side[0], INK_STRONG);
	if (m->p->side[1])
		canvas_text_right(m->c, 0, right, m->p->side[1], INK_STRONG);
	if (has(m, SECTION_OFFSET))
		canvas_put(m->c, m->top - 1 - (m->p->cylinder_mm > 0), col_at(m, 0), GLYPH_DOWN,
			INK_FAINT);
}

/* What the shades are, beside the bar's lowest row; its middle is marked over it. */
static void draw_legend(const struct plan *m)
{
	int row = m->top + m->rows - 1, col = m->label;

	canvas_put(m->c, row, col, GLYPH_BAR, INK_WORK);
	canvas_text(m->c, row, col + 2, "bar", INK_FAINT);
	if (m->p->cylinder_mm > 0) {
		canvas_put(m->c, row, col + 7, CEMENT, INK_MARK);
		canvas_text(m->c, row, col + 9, "cement", INK_FAINT);
	}
}

static void draw(struct plan *m)
{
	int row = m->top + m->rows + (m->p->cylinder_mm > 0);

	m->label = col_at(m, m->width / 2) + 4;
	draw_bar(m);
	draw_sides(m);
	draw_legend(m);
	if (has(m, SECTION_HEIGHT))
		draw_height(m);
	if (has(m, SECTION_TILT))
		label(m, m->top, SECTION_TILT, "tilt", tilt_text(m));
	for (size_t i = 0; i < m->nmeasure; i++)
		draw_measure(m, row + (int)i, &m->measure[i]);
}

/* ---- the same in words ----------------------------------------------------------------------- */

static const char *way(double x)
{
	return x < 0 ? ", to the left" : x > 0 ? ", to the right" : "";
}

/* Which way it goes is told with the value, not where that is asked for. */
static void tell_measure(const struct plan *m, struct words *w, const struct measure *x)
{
	bool asked = m->p->asked & x->part;
	const char *name = x->name, *to = "";

	if (x->part == SECTION_WIDTH)
		name = "width of the bar";
	else if (x->part == SECTION_HOLE)
		name = "diameter of the hole";
	else if (x->part == SECTION_OFFSET)
		name = "centre of the hole off the middle of the bar", to = way(m->p->offset_mm);
	else if (x->part == SECTION_CYLINDER)
		name = "diameter of the cylinder";
	else if (x->part == SECTION_ASIDE)
		name = "cylinder off the middle of the hole", to = way(m->p->aside_mm);
	else if (x->part == SECTION_WANDER)
		name = "sideways from the underside to the top of the bar";
	words_add(w, "%s: %s%s", name, value_text(m, x->part, x->value, x->micro), asked ? "" : to);
}

static void tell(const struct plan *m, struct words *w)
{
	if (has(m, SECTION_HEIGHT))
		words_add(w, "height of the bar: %s",
			value_text(m, SECTION_HEIGHT, m->height, false));
	for (size_t i = 0; i < m->nmeasure; i++)
		tell_measure(m, w, &m->measure[i]);
	if (has(m, SECTION_TILT))
		words_add(w, "tilt of the %s from upright: %s%s",
			is_tilted_hole(m) ? "hole" : "cylinder", tilt_text(m),
			m->p->asked & SECTION_TILT ? "" : way(m->p->tilt_rad));
	if (m->p->cylinder_mm > 0 && m->p->tilt_rad != 0)
		words_add(w, "the hole is upright, the cylinder passes through it aslant");
}

enum bad section_figure(struct arena *a, const struct section_picture *p, int columns, int rows,
	struct figure **out)
{
	struct plan m = {.a = a};
	struct words w = {.arena = a, .decimal = p->decimal};
	enum bad code = plan_init(&m, p);

	if (code)
		return code;
	if (columns < LEAST_COLS || columns > 200 || rows < LEAST_ROWS || rows > 100)
		return BAD_SIZE;
	m.c = canvas_new(a, rows, columns);
	if (!m.c)
		return BAD_MEMORY;
	measure_all(&m);
	plan_layout(&m);
	draw(&m);
	tell(&m, &w);
	return figure_make(a, p->title ? p->title : "Cross-section of the bar", m.c, &w, out);
}
