/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "figure/stack_figure.h"

#include <math.h>

#include <barwright/base/text.h>

#include "figure/sketch.h"

enum {
	GLYPH_TISSUE = 0x2591, /* light shade */
	GLYPH_BAR = 0x2592,    /* medium shade */
	GLYPH_CLASH = 0x2573,  /* diagonal cross */
	AXIS_COLS = 6,
	LEFT_COLS = 16, /* labels beside a single section */
	RIGHT_COLS = 16,
	LEAST_COLS = 46,
	SLEEVE_COLS = 7, /* a cylinder, walls included */
	LEGEND_ROWS = 2, /* under several sections */
	LABELS = 10
};

/* One section with every part that is drawn worked out. */
struct section {
	const struct stack_site *site;
	double platform, tissue, under, top; /* heights; under and top of the bar */
	double opaque, resin, tooth, matrix; /* heights of their lower surfaces */
	double kept, stock;                  /* cylinder tops, stock < kept: no cylinder */
	bool has_bar, has_cylinder;
	int col, cols; /* of the drawing */
};

struct plan {
	const struct stack_picture *p;
	struct arena *a;
	struct canvas *c;
	struct section section[STACK_SITES];
	double low, high; /* mm that must fit */
	double mm;        /* a row stands for */
	int base, top;    /* rows just above the lowest height and just below the highest */
};

static double given(double mm)
{
	return mm > 0 ? mm : 0;
}

/* What an asked part is drawn as when the rest does not tell: usual sizes, common practice of the
 * trade. */
static double usual(enum stack_part part)
{
	switch (part) {
	case STACK_TISSUE:
		return 2.5;
	case STACK_CLEARANCE:
		return 1.5;
	case STACK_BAR:
		return 4;
	case STACK_OPAQUE:
		return 0.3;
	case STACK_RESIN:
		return 2;
	case STACK_TOOTH:
		return 5;
	default:
		return 0;
	}
}

/* A layer that is asked for and not given takes what the matrix leaves over the others. */
static double layer(const struct stack_site *s, enum stack_part part, double mm, double rest)
{
	if (mm > 0 || !(s->asked & part))
		return given(mm);
	double left = s->matrix_mm - rest;
	return s->matrix_mm > 0 && left > 0 ? left : usual(part);
}

static void section_layers(struct section *x)
{
	const struct stack_site *s = x->site;
	double sum = s->tissue_mm + given(s->clearance_mm) + given(s->bar_mm) +
		     given(s->opaque_mm) + given(s->resin_mm) + given(s->tooth_mm);
	double bar = layer(s, STACK_BAR, s->bar_mm, sum);
	double tooth = layer(s, STACK_TOOTH, s->tooth_mm, sum);
	double resin = layer(s, STACK_RESIN, s->resin_mm, sum);
	double opaque = layer(s, STACK_OPAQUE, s->opaque_mm, sum);

	x->tissue = s->tissue_mm;
	if (s->asked & STACK_TISSUE && s->tissue_mm <= 0)
		x->tissue = layer(s, STACK_TISSUE, 0, sum);
	x->under = x->tissue + layer(s, STACK_CLEARANCE, s->clearance_mm, sum);
	x->has_bar = bar > 0;
	x->top = x->under + bar;
	x->matrix = s->matrix_mm > 0 ? s->matrix_mm : x->top + opaque + resin + tooth;
	x->tooth = x->matrix - tooth;
	x->resin = x->tooth - resin;
	x->opaque = x->resin - opaque;
}

static void section_cylinder(struct section *x)
{
	const struct stack_site *s = x->site;
	double along = cos(s->tilt_rad), height = given(s->cylinder_mm) * along;

	x->platform = s->platform_mm;
	x->kept = x->stock = x->platform;
	x->has_cylinder = height > 0 || s->asked & (STACK_CYLINDER | STACK_CUT);
	if (!x->has_cylinder)
		return;
	x->kept = x->platform + height - given(s->cut_mm) * along;
	if ((s->asked & STACK_CUT && s->cut_mm <= 0) || height <= 0)
		x->kept = x->has_bar ? x->top : x->platform + 0.6 * height;
	x->stock = height > 0 ? x->platform + height : x->kept + 3;
	x->kept = fmin(x->kept, x->stock);
}

static bool section_init(struct section *x, const struct stack_site *s)
{
	const double all[] = {s->platform_mm, s->tissue_mm, s->matrix_mm, s->clearance_mm,
		s->bar_mm, s->opaque_mm, s->resin_mm, s->tooth_mm, s->cylinder_mm, s->cut_mm,
		s->cover_mm, s->tilt_rad};

	for (size_t i = 0; i < sizeof all / sizeof *all; i++)
		if (!isfinite(all[i]) || fabs(all[i]) > 1000)
			return false;
	if (fabs(s->tilt_rad) > 1.0472) /* 60 degrees and the rounding of pi/3 */
		return false;
	x->site = s;
	section_layers(x);
	section_cylinder(x);
	return true;
}

static enum bad plan_init(struct plan *m)
{
	m->low = INFINITY;
	m->high = -INFINITY;
	if (m->p->n < 1 || m->p->n > STACK_SITES)
		return BAD_COUNT;
	for (size_t i = 0; i < m->p->n; i++) {
		struct section *x = &m->section[i];
		if (!section_init(x, &m->p->site[i]))
			return BAD_RANGE;
		m->low = fmin(m->low, fmin(x->platform, fmin(x->tissue, x->under)));
		m->high = fmax(m->high, fmax(fmax(x->matrix, x->stock), fmax(x->tissue, x->top)));
	}
	return m->high - m->low > 0.1 ? FINE : BAD_RANGE;
}

static bool is_single(const struct plan *m)
{
	return m->p->n == 1;
}

/* Heights as rows: one row each above for the matrix, below for the platform, the label and notes. */
static void plan_layout(struct plan *m)
{
	int notes = 0;

	for (size_t i = 0; i < m->p->n; i++)
		for (int k = 0; k < 2; k++)
			if (m->p->site[i].note[k] && notes <= k)
				notes = k + 1;
	m->top = 1;
	m->base = m->c->rows - 3 - notes - (is_single(m) ? 0 : LEGEND_ROWS);
	m->mm = (m->high - m->low) / (m->base - m->top + 1);
	int left = is_single(m) ? LEFT_COLS : AXIS_COLS + 2;
	int columns = m->c->cols - left - (is_single(m) ? RIGHT_COLS : 0);
	int each = columns / (int)m->p->n;
	for (size_t i = 0; i < m->p->n; i++) {
		struct section *x = &m->section[i];
		x->cols = (is_single(m) ? each : each - 1) - (each + is_single(m)) % 2;
		x->col = left + (int)i * each;
	}
}

/* The row below and the row above a surface at this height. */
static int row_below(const struct plan *m, double mm)
{
	return m->base + 1 - (int)lround((mm - m->low) / m->mm);
}

static int row_above(const struct plan *m, double mm)
{
	return row_below(m, mm) - 1;
}

static void fill(const struct plan *m, const struct section *x, double from, double to,
	uint32_t glyph, enum ink ink)
{
	int top = row_below(m, to), bottom = row_above(m, from);

	if (bottom >= top)
		canvas_fill(m->c, top, x->col, bottom - top + 1, x->cols, glyph, ink);
}

static void across(
	const struct plan *m, const struct section *x, int row, uint32_t glyph, enum ink ink)
{
	canvas_line(m->c, row, x->col, row, x->col + x->cols - 1, glyph, ink);
}

static void draw_layers(const struct plan *m, const struct section *x)
{
	bool has_tooth = x->tooth < x->matrix, has_resin = x->resin < x->tooth;

	fill(m, x, m->low, x->tissue, GLYPH_TISSUE, INK_FAINT);
	if (has_resin)
		fill(m, x, x->top, x->tooth, ':', INK_PLAIN);
	if (has_tooth) {
		int top = row_below(m, x->matrix), bottom = row_above(m, x->tooth);
		canvas_line(m->c, top, x->col, bottom, x->col, GLYPH_UPRIGHT, INK_PLAIN);
		canvas_line(m->c, top, x->col + x->cols - 1, bottom, x->col + x->cols - 1,
			GLYPH_UPRIGHT, INK_PLAIN);
	}
	if (x->has_bar)
		fill(m, x, x->under, x->top, GLYPH_BAR, INK_WORK);
	else if (x->under > x->tissue)
		across(m, x, row_above(m, x->under), GLYPH_DASH, INK_FAINT);
	if (x->has_bar && x->top > x->opaque)
		fill(m, x, x->opaque, x->top, GLYPH_CLASH, INK_BAD);
	if (x->opaque < x->resin && x->has_bar)
		across(m, x, row_above(m, x->top), GLYPH_ACROSS, INK_STRONG);
	if (x->site->matrix_mm > 0 || x->site->asked & STACK_MATRIX)
		across(m, x, row_above(m, x->matrix), GLYPH_DOUBLE, INK_STRONG);
}

/* Half the width of the cylinder in columns, and how far its axis has leaned at this height, as far
 * as the section is wide; columns are half as wide as rows are high. */
static int sleeve_half(const struct section *x)
{
	return x->cols < 2 * SLEEVE_COLS ? 2 : SLEEVE_COLS / 2;
}

static int sleeve_lean(const struct plan *m, const struct section *x, double height)
{
	int most = x->cols / 2 - sleeve_half(x);
	int lean = (int)lround((height - x->platform) * tan(x->site->tilt_rad) * 2 / m->mm);

	return lean > most ? most : lean < -most ? -most : lean;
}

static void draw_piece(const struct plan *m, const struct section *x, double from, double to,
	uint32_t wall, enum ink ink)
{
	int half = sleeve_half(x), middle = x->col + x->cols / 2;
	double tilt = x->site->tilt_rad;

	if (fabs(tilt) > 0.35 && m->p->n == 1)
		wall = tilt > 0 ? GLYPH_RISING : GLYPH_FALLING;
	for (int row = row_below(m, to); row <= row_above(m, from); row++) {
		double height = m->low + (m->base - row + 0.5) * m->mm;
		int at = middle + sleeve_lean(m, x, height);

		canvas_fill(m->c, row, at - half, 1, 2 * half + 1, ' ', ink);
		canvas_put(m->c, row, at - half, wall, ink);
		canvas_put(m->c, row, at + half, wall, ink);
	}
}

static void draw_cylinder(const struct plan *m, const struct section *x)
{
	int half = sleeve_half(x), middle = x->col + x->cols / 2;
	int foot = row_above(m, x->platform) + 1, top = row_above(m, x->kept);

	if (x->has_cylinder) {
		draw_piece(m, x, x->kept, x->stock, GLYPH_DASH_UPRIGHT, INK_FAINT);
		draw_piece(m, x, x->platform, x->kept, GLYPH_UPRIGHT, INK_STRONG);
	}
	if (x->has_cylinder && x->stock > x->kept + 1e-9) {
		int at = middle + sleeve_lean(m, x, x->kept);
		canvas_line(m->c, top, at - half, top, at + half, GLYPH_DASH, INK_MARK);
	}
	canvas_line(
		m->c, foot, middle - half - 1, foot, middle + half + 1, GLYPH_DOUBLE, INK_STRONG);
}

/* ---- labels ---------------------------------------------------------------------------------- */

struct tag {
	int row;
	const char *text;
	enum ink ink;
};

struct tags {
	const struct plan *m;
	const struct section *x;
	struct tag tag[LABELS];
	size_t n;
};

/* "resin 2.0", "bar ?"; nothing for what is neither there nor asked for. */
static void tag_add(struct tags *t, const char *name, enum stack_part part, double mm, int row)
{
	bool asked = t->x->site->asked & part;
	/* the surface from which the heights are taken needs no number */
	bool is_datum = part == STACK_PLATFORM && mm == 0 && !asked;
	const char *value = asked ? "?" : mm_text(t->m->a, mm, t->m->p->decimal);
	const char *text = is_datum ? name : arena_format(t->m->a, "%s %s", name, value);

	if (t->n < LABELS && (mm > 0 || asked || is_datum))
		t->tag[t->n++] = (struct tag){row, text ? text : "", asked ? INK_MARK : INK_PLAIN};
}

static void tags_sort(struct tags *t)
{
	for (size_t i = 1; i < t->n; i++)
		for (size_t k = i; k > 0 && t->tag[k].row < t->tag[k - 1].row; k--) {
			struct tag held = t->tag[k];
			t->tag[k] = t->tag[k - 1];
			t->tag[k - 1] = held;
		}
}

/* Each a row of its own within first..last: pushed down where two meet, up again at the bottom. */
static void tags_spread(struct tags *t, int first, int last)
{
	tags_sort(t);
	for (size_t i = 0; i < t->n; i++) {
		int least = i ? t->tag[i - 1].row + 1 : first;
		if (t->tag[i].row < least)
			t->tag[i].row = least;
	}
	for (size_t i = t->n; i-- > 0;) {
		int most = i + 1 < t->n ? t->tag[i + 1].row - 1 : last;
		if (t->tag[i].row > most)
			t->tag[i].row = most;
	}
}

static int middle_row(const struct plan *m, double from, double to)
{
	return (row_below(m, to) + row_above(m, from)) / 2;
}

/* To the right of a single section: what lies between the surfaces. */
static void label_right(const struct plan *m, const struct section *x)
{
	const struct stack_site *s = x->site;
	struct tags t = {.m = m, .x = x};

	tag_add(&t, "tooth", STACK_TOOTH, s->tooth_mm, middle_row(m, x->tooth, x->matrix));
	tag_add(&t, "resin", STACK_RESIN, s->resin_mm, middle_row(m, x->resin, x->tooth));
	tag_add(&t, "opaque", STACK_OPAQUE, s->opaque_mm, row_above(m, x->top));
	tag_add(&t, "bar", STACK_BAR, s->bar_mm, middle_row(m, x->under, x->top));
	tag_add(&t, "clearance", STACK_CLEARANCE, s->clearance_mm,
		middle_row(m, x->tissue, x->under));
	tag_add(&t, "cut off", STACK_CUT, s->cut_mm, middle_row(m, x->kept, x->stock));
	tag_add(&t, "engaged", STACK_ENGAGED, 0, middle_row(m, x->under, x->kept) + 1);
	tags_spread(&t, 0, m->base + 1);
	for (size_t i = 0; i < t.n; i++)
		canvas_text(m->c, t.tag[i].row, x->col + x->cols + 2, t.tag[i].text, t.tag[i].ink);
}

/* To its left: heights over the datum, and the cylinder as supplied. */
static void label_left(const struct plan *m, const struct section *x)
{
	const struct stack_site *s = x->site;
	struct tags t = {.m = m, .x = x};

	tag_add(&t, "matrix", STACK_MATRIX, s->matrix_mm, row_above(m, x->matrix));
	tag_add(&t, "cover", STACK_COVER, s->cover_mm, row_below(m, x->matrix - s->cover_mm));
	tag_add(&t, "cylinder", STACK_CYLINDER, s->cylinder_mm, row_below(m, x->stock));
	if (s->asked & STACK_UNDERSIDE)
		tag_add(&t, "underside", STACK_UNDERSIDE, 0, row_below(m, x->under));
	tag_add(&t, "tissue", STACK_TISSUE, s->tissue_mm, row_below(m, x->tissue));
	tag_add(&t, "platform", STACK_PLATFORM, s->platform_mm, row_below(m, x->platform));
	tags_spread(&t, 0, m->base + 1);
	for (size_t i = 0; i < t.n; i++)
		canvas_text_right(m->c, t.tag[i].row, x->col - 2, t.tag[i].text, t.tag[i].ink);
}

/* An asked part in a row of sections has room for a mark only. */
static void mark_asked(const struct plan *m, const struct section *x)
{
	const struct {
		enum stack_part part;
		double from, to;
	} place[] = {{STACK_TISSUE, m->low, x->tissue}, {STACK_CLEARANCE, x->tissue, x->under},
		{STACK_BAR, x->under, x->top}, {STACK_OPAQUE, x->top, x->resin},
		{STACK_RESIN, x->resin, x->tooth}, {STACK_TOOTH, x->tooth, x->matrix},
		{STACK_CUT, x->kept, x->stock}};

	for (size_t i = 0; i < sizeof place / sizeof *place; i++)
		if (x->site->asked & place[i].part)
			canvas_put(m->c, middle_row(m, place[i].from, place[i].to),
				x->col + 1 + (place[i].part == STACK_CUT) * (x->cols / 2 - 1), '?',
				INK_MARK);
	const char *matrix = mm_text(m->a, x->site->matrix_mm, m->p->decimal);
	if (x->site->matrix_mm > 0 || x->site->asked & STACK_MATRIX)
		canvas_text_centre(m->c, row_above(m, x->matrix), x->col + x->cols / 2,
			x->site->asked & STACK_MATRIX ? "?" : matrix, INK_STRONG);
}

/* Heights over the datum every 5 mm, or every 2 where that gives too few. */
static void draw_axis(const struct plan *m)
{
	int step = m->high - m->low > 12 ? 5 : 2;

	for (int mm = (int)ceil(m->low / step) * step; mm <= m->high; mm += step) {
		const char *text = arena_format(m->a, "%d", mm);
		int row = row_below(m, mm);
		canvas_text_right(m->c, row, AXIS_COLS - 1, text ? text : "", INK_FAINT);
		canvas_put(m->c, row, AXIS_COLS, GLYPH_TEE_LEFT, INK_FAINT);
	}
	canvas_text(m->c, 0, AXIS_COLS - 4, "mm", INK_FAINT);
}

static void label_foot(const struct plan *m, const struct section *x)
{
	const struct stack_site *s = x->site;
	int row = m->base + 2, middle = x->col + x->cols / 2;
	const char *name = s->label ? s->label : "";
	const char *text = s->governs ? arena_format(m->a, "%s least", name) : name;

	canvas_text_centre(m->c, row, middle, text ? text : "", INK_STRONG);
	for (int k = 0; k < 2; k++)
		if (s->note[k])
			canvas_text_centre(m->c, row + 1 + k, middle, s->note[k], INK_PLAIN);
}

/* Of at least a row: less is not seen. */
static bool has_clash(const struct plan *m)
{
	for (size_t i = 0; i < m->p->n; i++) {
		const struct section *x = &m->section[i];
		if (x->has_bar && row_below(m, x->top) <= row_above(m, x->opaque))
			return true;
	}
	return false;
}

/* What the shading of several sections means; beside a single one stand labels. It fits
 * into LEAST_COLS. */
static void draw_legend(const struct plan *m)
{
	static const struct {
		int row, col;
		uint32_t glyph;
		enum ink ink;
		const char *text;
	} key[] = {{0, 0, GLYPH_TISSUE, INK_FAINT, "tissue"}, {0, 11, GLYPH_BAR, INK_WORK, "bar"},
		{0, 18, GLYPH_ACROSS, INK_STRONG, "opaque"}, {0, 28, ':', INK_PLAIN, "resin"},
		{1, 0, GLYPH_UPRIGHT, INK_PLAIN, "tooth"}, {1, 11, GLYPH_DASH, INK_MARK, "cut"},
		{1, 18, GLYPH_DOUBLE, INK_STRONG, "matrix (top), platform"},
		{0, 37, GLYPH_CLASH, INK_BAD, "no room"}};
	int top = m->c->rows - LEGEND_ROWS;

	for (size_t k = 0; k < sizeof key / sizeof *key; k++) {
		if (key[k].glyph == GLYPH_CLASH && !has_clash(m))
			continue;
		canvas_put(m->c, top + key[k].row, key[k].col, key[k].glyph, key[k].ink);
		canvas_text(m->c, top + key[k].row, key[k].col + 2, key[k].text, INK_FAINT);
	}
}

static void draw(const struct plan *m)
{
	for (size_t i = 0; i < m->p->n; i++) {
		const struct section *x = &m->section[i];
		draw_layers(m, x);
		draw_cylinder(m, x);
		label_foot(m, x);
		if (!is_single(m))
			mark_asked(m, x);
	}
	if (is_single(m)) {
		label_left(m, &m->section[0]);
		label_right(m, &m->section[0]);
	} else {
		draw_axis(m);
		draw_legend(m);
	}
}

/* ---- the same in words ----------------------------------------------------------------------- */

/* "46: matrix 14.2, tooth 5.0, ..." of one site, or a line for each fact when there is one only. */
struct telling {
	const struct plan *m;
	const struct stack_site *s;
	struct words *w;
	struct text line; /* of many sites */
};

static void tell_part(
	struct telling *t, const char *brief, const char *full, enum stack_part part, double mm)
{
	const struct plan *m = t->m;
	bool asked = t->s->asked & part;
	const char *value = asked ? "?" : mm_text(m->a, fabs(mm), m->p->decimal);

	if (!asked && mm == 0)
		return;
	if (!is_single(m)) {
		text_addf(&t->line, "%s%s %s%s", t->line.len ? ", " : "", brief,
			!asked && mm < 0 ? "-" : "", value);
		return;
	}
	bool height = part & (STACK_PLATFORM | STACK_TISSUE | STACK_MATRIX | STACK_UNDERSIDE);
	bool from_platform = t->s->platform_mm == 0 && !(t->s->asked & STACK_PLATFORM);
	words_add(t->w, "%s: %s%s%s%s", full, value, asked && !height ? "" : " mm",
		!height  ? ""
		: mm < 0 ? " below the "
			 : " above the ",
		!height         ? ""
		: from_platform ? "platform"
				: "datum");
}

/* Only when nothing is asked for, or it would be the answer. */
static void tell_balance(struct telling *t, const struct section *x)
{
	double spare = x->opaque - x->top;
	const char *value = mm_text(t->m->a, fabs(spare), t->m->p->decimal);

	if (x->site->asked || !x->has_bar || x->site->matrix_mm <= 0 || fabs(spare) < 0.005)
		return;
	if (!is_single(t->m))
		text_addf(&t->line, ", %s %s", spare > 0 ? "spare" : "too little by", value);
	else if (spare > 0)
		words_add(t->w, "%s mm are left between bar and opaque", value);
	else
		words_add(t->w, "the layers need %s mm more than there is under the matrix", value);
}

static void tell_parts(struct telling *t)
{
	const struct stack_site *s = t->s;
	double tilt = fabs(s->tilt_rad) * 57.29577951308232;

	tell_part(t, "matrix", "inner surface of the matrix", STACK_MATRIX, s->matrix_mm);
	tell_part(t, "tooth", "tooth", STACK_TOOTH, given(s->tooth_mm));
	tell_part(t, "resin", "resin between tooth and bar", STACK_RESIN, given(s->resin_mm));
	tell_part(t, "opaque", "opaque", STACK_OPAQUE, given(s->opaque_mm));
	tell_part(t, "bar", "bar", STACK_BAR, given(s->bar_mm));
	tell_part(t, "underside", "underside of the bar", STACK_UNDERSIDE, 0);
	tell_part(
		t, "clearance", "clearance under the bar", STACK_CLEARANCE, given(s->clearance_mm));
	tell_part(t, "tissue", "top of the tissue", STACK_TISSUE, s->tissue_mm);
	tell_part(t, "platform", "platform", STACK_PLATFORM, s->platform_mm);
	tell_part(t, "cylinder", "cylinder as supplied, along its axis", STACK_CYLINDER,
		given(s->cylinder_mm));
	tell_part(t, "cut off", "cut off it, along its axis", STACK_CUT, given(s->cut_mm));
	tell_part(t, "engaged", "height of cylinder within the bar", STACK_ENGAGED, 0);
	tell_part(t, "cover", "cover over the cylinder, up to the matrix", STACK_COVER,
		given(s->cover_mm));
	if (tilt > 0.005 && is_single(t->m))
		words_add(t->w, "cylinder tilted by %s degrees",
			mm_text(t->m->a, tilt, t->m->p->decimal));
	else if (tilt > 0.005)
		text_addf(
			&t->line, ", tilted %s degrees", mm_text(t->m->a, tilt, t->m->p->decimal));
}

static void tell(const struct plan *m, struct words *w, const struct section *x)
{
	const struct stack_site *s = x->site;
	struct telling t = {.m = m, .s = s, .w = w};

	text_init(&t.line);
	if (s->label && is_single(m))
		words_add(w, "site %s, from the top down%s", s->label,
			s->governs ? ", the one with the least space" : "");
	tell_parts(&t);
	tell_balance(&t, x);
	for (int k = 0; k < 2; k++)
		if (s->note[k] && is_single(m))
			words_add(w, "%s", s->note[k]);
		else if (s->note[k])
			text_addf(&t.line, "; %s", s->note[k]);
	if (!is_single(m))
		words_add(w, "site %s%s: %s", s->label ? s->label : "?",
			s->governs ? " (the least space)" : "", t.line.at);
	w->out |= t.line.out;
	text_release(&t.line);
}

static const char *plan_title(const struct plan *m)
{
	const char *label = m->p->site[0].label;

	if (m->p->title)
		return m->p->title;
	if (!is_single(m))
		return "Sections through the sites, heights to scale";
	const char *one =
		label ? arena_format(m->a, "Section through site %s, heights in mm", label)
		      : "Section, heights in mm";
	return one ? one : "";
}

enum bad stack_figure(
	struct arena *a, const struct stack_picture *p, int columns, int rows, struct figure **out)
{
	struct plan m = {.p = p, .a = a};
	struct words w = {.arena = a, .decimal = p->decimal};
	enum bad code = plan_init(&m);

	if (code)
		return code;
	if (columns < LEAST_COLS || columns < AXIS_COLS + 2 + 6 * (int)p->n || columns > 200 ||
		rows < 10 || rows > 100)
		return BAD_SIZE;
	m.c = canvas_new(a, rows, columns);
	if (!m.c)
		return BAD_MEMORY;
	plan_layout(&m);
	draw(&m);
	for (size_t i = 0; i < p->n; i++)
		tell(&m, &w, &m.section[i]);
	return figure_make(a, plan_title(&m), m.c, &w, out);
}
