/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "print/svg.h"

#include <math.h>

#include <barwright/base/number.h>
#include <barwright/base/utf8.h>

enum { PAGE_mm = 190, MARGIN_mm = 10, HEAD_mm = 14, SECTION_mm = 24, GAP_mm = 4 };

/* ---- the writer ------------------------------------------------------------------------------ */

void svg_escaped(struct text *out, const char *s)
{
	struct text safe;

	text_init(&safe);
	text_add_safe(&safe, s, strlen(s), false);
	for (const char *at = safe.at; *at; at++) {
		if (*at == '&')
			text_add(out, "&amp;");
		else if (*at == '<')
			text_add(out, "&lt;");
		else if (*at == '>')
			text_add(out, "&gt;");
		else if (*at == '"')
			text_add(out, "&quot;");
		else
			text_add_char(out, *at);
	}
	out->out |= safe.out;
	text_release(&safe);
}

/* ` x="12.34"`, two places: a hundredth of a millimetre on paper. */
static void add_number(struct text *out, const char *name, double value)
{
	text_addf(out, " %s=\"", name);
	number_add_to(value, 2, '.', out);
	text_add_char(out, '"');
}

enum look { LOOK_LINE, LOOK_FAINT, LOOK_BAR, LOOK_MARK, LOOK_BAD, LOOK_NONE };

static void add_look(struct text *out, enum look look)
{
	static const char *const looks[] = {
		[LOOK_LINE] = " fill=\"none\" stroke=\"#222\" stroke-width=\"0.35\"",
		[LOOK_FAINT] = " fill=\"none\" stroke=\"#888\" stroke-width=\"0.25\" "
			       "stroke-dasharray=\"1.5 1\"",
		[LOOK_BAR] = " fill=\"none\" stroke=\"#1f6f8b\" stroke-width=\"0.8\"",
		[LOOK_MARK] = " fill=\"none\" stroke=\"#7a3e9d\" stroke-width=\"0.4\"",
		[LOOK_BAD] = " fill=\"none\" stroke=\"#b3261e\" stroke-width=\"0.6\"",
		[LOOK_NONE] = " stroke=\"#222\" stroke-width=\"0.25\"",
	};
	text_add(out, looks[look]);
}

static void add_line(struct text *out, double x1, double y1, double x2, double y2, enum look look)
{
	text_add(out, "<line");
	add_number(out, "x1", x1);
	add_number(out, "y1", y1);
	add_number(out, "x2", x2);
	add_number(out, "y2", y2);
	add_look(out, look);
	text_add(out, "/>\n");
}

static void add_circle(struct text *out, double x, double y, double r, enum look look)
{
	text_add(out, "<circle");
	add_number(out, "cx", x);
	add_number(out, "cy", y);
	add_number(out, "r", r);
	add_look(out, look);
	text_add(out, "/>\n");
}

static void add_box(
	struct text *out, double x, double y, double width, double height, const char *fill)
{
	if (height <= 0)
		return;
	text_add(out, "<rect");
	add_number(out, "x", x);
	add_number(out, "y", y);
	add_number(out, "width", width);
	add_number(out, "height", height);
	text_addf(out, " fill=\"%s\"", fill);
	add_look(out, LOOK_NONE);
	text_add(out, "/>\n");
}

/* anchor: "start", "middle", "end" */
static void add_label(struct text *out, double x, double y, const char *anchor, const char *label)
{
	text_add(out, "<text");
	add_number(out, "x", x);
	add_number(out, "y", y);
	text_addf(out, " text-anchor=\"%s\">", anchor);
	svg_escaped(out, label);
	text_add(out, "</text>\n");
}

static void add_about(struct text *out, const struct figure *f)
{
	text_add(out, "<title>");
	svg_escaped(out, f->title);
	text_add(out, "</title>\n<desc>");
	for (size_t i = 0; i < f->nword; i++) {
		svg_escaped(out, f->words[i]);
		text_add(out, i + 1 < f->nword ? ".\n" : ".");
	}
	text_add(out, "</desc>\n");
}

/* ---- the arch -------------------------------------------------------------------------------- */

/* Paper places: x_mm and y_mm of the arch onto the sheet. */
struct frame {
	double left_mm, right_mm, back_mm, front_mm;
	double x, y; /* of the upper left corner on the sheet */
	bool y_down;
};

static void frame_cover(struct frame *f, double x, double y, double r)
{
	f->left_mm = fmin(f->left_mm, x - r);
	f->right_mm = fmax(f->right_mm, x + r);
	f->back_mm = fmin(f->back_mm, y - r);
	f->front_mm = fmax(f->front_mm, y + r);
}

static double frame_x(const struct frame *f, double x)
{
	return f->x + SVG_ARCH_SCALE * (x - f->left_mm);
}

static double frame_y(const struct frame *f, double y)
{
	return f->y + SVG_ARCH_SCALE * (f->y_down ? y - f->back_mm : f->front_mm - y);
}

static double frame_height(const struct frame *f)
{
	return SVG_ARCH_SCALE * (f->front_mm - f->back_mm);
}

static enum bad curve_find(const struct arch_picture *p, struct arch_curve *c, double end[2])
{
	enum bad code = arch_curve_init(c, p->site, p->n);

	if (!code)
		code = arch_curve_end(c, ARCH_RIGHT, p->extension_right_mm, &end[ARCH_RIGHT]);
	if (!code)
		code = arch_curve_end(c, ARCH_LEFT, p->extension_left_mm, &end[ARCH_LEFT]);
	return code;
}

static void frame_fit(struct frame *f, const struct arch_picture *p, const struct arch_curve *c,
	const double end[2])
{
	struct arch_place at;

	for (size_t i = 0; i < p->n; i++)
		frame_cover(f, p->site[i].x_mm, p->site[i].y_mm, p->site[i].radius_mm);
	for (size_t i = 0; i < p->nload; i++)
		frame_cover(f, p->load[i].x_mm, p->load[i].y_mm, 1);
	for (int i = 0; i < 2; i++)
		if (!arch_curve_at(c, end[i], &at))
			frame_cover(f, at.x_mm, at.y_mm, 1);
	double room = (PAGE_mm - SVG_ARCH_SCALE * (f->right_mm - f->left_mm)) / 2;
	f->x += fmax(0, room);
}

static void add_bar(
	struct text *out, const struct frame *f, const struct arch_curve *c, const double end[2])
{
	text_add(out, "<polyline points=\"");
	for (int i = 0; i <= 200; i++) {
		struct arch_place at;
		if (arch_curve_at(c, end[0] + (end[1] - end[0]) * i / 200, &at))
			continue;
		text_add(out, i ? " " : "");
		number_add_to(frame_x(f, at.x_mm), 2, '.', out);
		text_add_char(out, ',');
		number_add_to(frame_y(f, at.y_mm), 2, '.', out);
	}
	text_add_char(out, '"');
	add_look(out, LOOK_BAR);
	text_add(out, "/>\n");
}

static void add_extension(struct text *out, const struct frame *f, const struct arch_curve *c,
	double s, double mm, const char *own, enum arch_end end)
{
	struct arch_place at;
	char label[32];

	if ((mm <= 0 && !own) || arch_curve_at(c, s, &at))
		return;
	snprintf(label, sizeof label, "%.1f mm", mm);
	add_label(out, frame_x(f, at.x_mm) + (end == ARCH_RIGHT ? 3 : -3), frame_y(f, at.y_mm),
		end == ARCH_RIGHT ? "start" : "end", own ? own : label);
}

/* The line through or along the terminal sites and the perpendicular to it. */
static void add_spread(struct text *out, const struct frame *f, const struct arch_picture *p)
{
	struct arch_spread s;
	const struct arch_site *r = &p->site[0], *l = &p->site[p->n - 1];

	if (!p->spread_line || arch_spread(p->site, p->n, p->rule, &s))
		return;
	const struct arch_site *a = &p->site[s.first], *b = &p->site[s.second];
	double dx = l->x_mm - r->x_mm, dy = l->y_mm - r->y_mm, length = hypot(dx, dy);
	double distal = p->rule == ARCH_DISTAL_SURFACE;
	double sine = distal * (l->radius_mm - r->radius_mm) / length;
	double cosine = sqrt(1 - sine * sine);
	double nx = (sine * dx - cosine * dy) / length, ny = (sine * dy + cosine * dx) / length;
	double x = (a->x_mm + b->x_mm) / 2, y = (a->y_mm + b->y_mm) / 2;

	add_line(out, frame_x(f, r->x_mm - distal * r->radius_mm * nx),
		frame_y(f, r->y_mm - distal * r->radius_mm * ny),
		frame_x(f, l->x_mm - distal * l->radius_mm * nx),
		frame_y(f, l->y_mm - distal * l->radius_mm * ny), LOOK_FAINT);
	add_line(out, frame_x(f, x), frame_y(f, y), frame_x(f, x - s.spread_mm * nx),
		frame_y(f, y - s.spread_mm * ny), LOOK_MARK);
	add_label(out, frame_x(f, x - s.spread_mm * nx / 2) + 2,
		frame_y(f, y - s.spread_mm * ny / 2), "start",
		p->spread_text ? p->spread_text : "?");
}

/* A label's room on the sheet. */
struct box {
	double left, right, top, bottom;
};

static double box_gap(const struct box *b, double x, double y)
{
	double dx = fmax(fmax(b->left - x, x - b->right), 0);
	double dy = fmax(fmax(b->top - y, y - b->bottom), 0);
	return hypot(dx, dy);
}

static double bar_gap(
	const struct box *b, const struct frame *f, const struct arch_curve *c, const double end[2])
{
	struct arch_place at;
	double gap = INFINITY;

	for (int i = 0; i <= 200; i++)
		if (!arch_curve_at(c, end[0] + (end[1] - end[0]) * i / 200, &at))
			gap = fmin(gap, box_gap(b, frame_x(f, at.x_mm), frame_y(f, at.y_mm)));
	return gap;
}

static struct box box_round(double x, double y, double wide)
{
	return (struct box){x - wide / 2, x + wide / 2, y - 1.6, y + 1.6};
}

static double label_width(const char *label)
{
	return 2.1 * (double)utf8_width(label, strlen(label));
}

/* Middle of a site's number: outside the arch, and where the bar runs there, a little to the back. */
static void site_label_place(const struct frame *f, const struct arch_picture *p,
	const struct arch_curve *c, const double end[2], size_t i, double *x, double *y)
{
	const struct arch_site *s = &p->site[i];
	double middle = (p->site[0].x_mm + p->site[p->n - 1].x_mm) / 2;
	double r = SVG_ARCH_SCALE * s->radius_mm, wide = label_width(p->label[i]);
	double out = s->x_mm < middle ? -1 : 1, back = p->lower_jaw ? -1 : 1;

	*x = frame_x(f, s->x_mm) + out * (r + 1.5 + wide / 2);
	*y = frame_y(f, s->y_mm);
	struct box beside = box_round(*x, *y, wide);
	if (!p->bar || bar_gap(&beside, f, c, end) > 0.5)
		return;
	*x = frame_x(f, s->x_mm) + out * (0.7 * r + 1 + wide / 2);
	*y = frame_y(f, s->y_mm) + back * (0.7 * r + 1.8);
}

static void add_sites(struct text *out, const struct frame *f, const struct arch_picture *p,
	const struct arch_curve *c, const double end[2])
{
	for (size_t i = 0; i < p->n; i++) {
		const struct arch_site *s = &p->site[i];
		double x = frame_x(f, s->x_mm), y = frame_y(f, s->y_mm);
		add_circle(out, x, y, SVG_ARCH_SCALE * s->radius_mm, LOOK_LINE);
		add_circle(out, x, y, 0.3, LOOK_LINE);
		if (!p->label)
			continue;
		site_label_place(f, p, c, end, i, &x, &y);
		add_label(out, x, y + 1.2, "middle", p->label[i]);
	}
}

/* How far a box stands from what is drawn of the arch: the bar, the sites and their numbers, the loads and
 * the ends with their lengths. */
static double box_room(const struct box *b, const struct frame *f, const struct arch_picture *p,
	const struct arch_curve *c, const double end[2])
{
	double room = bar_gap(b, f, c, end), x, y;
	struct arch_place at;

	for (int i = 0; i < 2; i++)
		for (double off = 3; off < 14 && !arch_curve_at(c, end[i], &at); off += 2)
			room = fmin(room, box_gap(b, frame_x(f, at.x_mm) + (i ? -off : off),
						  frame_y(f, at.y_mm) - 1));
	for (size_t i = 0; i < p->n; i++) {
		x = frame_x(f, p->site[i].x_mm);
		y = frame_y(f, p->site[i].y_mm);
		room = fmin(room, box_gap(b, x, y) - SVG_ARCH_SCALE * p->site[i].radius_mm);
		if (!p->label)
			continue;
		site_label_place(f, p, c, end, i, &x, &y);
		room = fmin(room, box_gap(b, x, y) - 2);
	}
	for (size_t i = 0; i < p->nload; i++)
		room = fmin(room,
			box_gap(b, frame_x(f, p->load[i].x_mm), frame_y(f, p->load[i].y_mm)) - 1.5);
	return room;
}

/* Beside its cross where it covers least: towards the back, the front or a side, near or farther off. */
static void add_load_label(struct text *out, const struct frame *f, const struct arch_picture *p,
	const struct arch_curve *c, const double end[2], size_t i)
{
	enum { SIDES = 4, PLACES = 2 * SIDES };
	const double enough_mm = 0.5, far_mm = 4;
	const char *label = p->load[i].text ? p->load[i].text : "?";
	double wide = label_width(label), best = -INFINITY;
	double x = frame_x(f, p->load[i].x_mm), y = frame_y(f, p->load[i].y_mm);
	double back = p->lower_jaw ? -1 : 1, at_x = x, at_y = y;
	const double way[SIDES][2] = {{0, back}, {0, -back}, {-1, 0}, {1, 0}};

	for (int k = 0; k < PLACES; k++) {
		double more = k < SIDES ? 0 : far_mm;
		const double *w = way[k % SIDES];
		struct box b =
			box_round(x + w[0] * (3 + more + wide / 2), y + w[1] * (4.5 + more), wide);
		double room = fmin(box_room(&b, f, p, c, end), enough_mm);
		if (room <= best)
			continue;
		best = room;
		at_x = (b.left + b.right) / 2;
		at_y = (b.top + b.bottom) / 2;
	}
	add_label(out, at_x, at_y + 1.3, "middle", label);
}

static void add_loads(struct text *out, const struct frame *f, const struct arch_picture *p,
	const struct arch_curve *c, const double end[2])
{
	for (size_t i = 0; i < p->nload; i++) {
		double x = frame_x(f, p->load[i].x_mm), y = frame_y(f, p->load[i].y_mm);
		add_line(out, x - 1.5, y - 1.5, x + 1.5, y + 1.5, LOOK_BAD);
		add_line(out, x - 1.5, y + 1.5, x + 1.5, y - 1.5, LOOK_BAD);
		add_load_label(out, f, p, c, end, i);
	}
}

static void add_arch(struct text *out, const struct arch_picture *p, const struct frame *f,
	const struct arch_curve *c, const double end[2])
{
	double bottom = f->y + frame_height(f);

	if (p->bar)
		add_bar(out, f, c, end);
	add_spread(out, f, p);
	add_sites(out, f, p, c, end);
	add_loads(out, f, p, c, end);
	add_extension(out, f, c, end[0], p->extension_right_mm, p->right_text, ARCH_RIGHT);
	add_extension(out, f, c, end[1], p->extension_left_mm, p->left_text, ARCH_LEFT);
	add_label(out, MARGIN_mm, f->y, "start", "patient's right");
	add_label(out, MARGIN_mm + PAGE_mm, f->y, "end", "patient's left");
	add_label(out, MARGIN_mm + PAGE_mm / 2.0, p->lower_jaw ? bottom + 6 : f->y - 3, "middle",
		"front");
	add_line(
		out, MARGIN_mm, bottom + 5, MARGIN_mm + 10 * SVG_ARCH_SCALE, bottom + 5, LOOK_LINE);
	add_label(out, MARGIN_mm + 10 * SVG_ARCH_SCALE + 2, bottom + 6, "start", "10 mm");
}

static const char fill_of_tissue[] = "#f3c9c5", fill_of_bar[] = "#9ecfdd";
static const char fill_of_opaque[] = "#ffffff", fill_of_resin[] = "#f7dfe6";
static const char fill_of_tooth[] = "#fffdf4";

/* ---- the sections ---------------------------------------------------------------------------- */

struct ladder {
	double y, low_mm, high_mm; /* y on the sheet of high_mm */
};

static double rung(const struct ladder *l, double mm)
{
	return l->y + SVG_STACK_SCALE * (l->high_mm - mm);
}

/* Where a section stands on the sheet. */
struct strip {
	double x, width;
};

static void add_layer(struct text *out, const struct ladder *l, const struct strip *at, double from,
	double to, const char *fill)
{
	add_box(out, at->x, rung(l, to), at->width, SVG_STACK_SCALE * (to - from), fill);
}

/* How far the cylinder as supplied leans, to the right if positive. */
static double lean_of(const struct stack_site *s)
{
	return SVG_STACK_SCALE * s->cylinder_mm * sin(s->tilt_rad);
}

/* A tilted cylinder stands in its own section from the platform to its end. */
static double section_width(const struct stack_site *s)
{
	return fmax(SECTION_mm, fabs(lean_of(s)) + 12);
}

/* A cylinder leans with its tilt; half-way up it stands in the middle of its section. */
static void add_cylinder(struct text *out, const struct ladder *l, const struct strip *at,
	const struct stack_site *s)
{
	double along = cos(s->tilt_rad), lean = SVG_STACK_SCALE * tan(s->tilt_rad), half = 4;
	double kept = (s->cylinder_mm - s->cut_mm) * along, all = s->cylinder_mm * along;
	double foot = rung(l, s->platform_mm), top = rung(l, s->platform_mm + kept);
	double stock = rung(l, s->platform_mm + all);
	double from = at->x + (at->width - lean_of(s)) / 2, to = from + lean * kept;
	double end = from + lean * all;

	add_line(out, from - 5, foot, from + 5, foot, LOOK_LINE);
	if (s->cylinder_mm <= 0)
		return;
	add_line(out, from - half, foot, to - half, top, LOOK_LINE);
	add_line(out, from + half, foot, to + half, top, LOOK_LINE);
	add_line(out, to - half, top, to + half, top, LOOK_MARK);
	if (s->cut_mm <= 0)
		return;
	add_line(out, to - half, top, end - half, stock, LOOK_FAINT);
	add_line(out, to + half, top, end + half, stock, LOOK_FAINT);
	add_line(out, end - half, stock, end + half, stock, LOOK_FAINT);
}

static void add_section(struct text *out, const struct ladder *l, const struct strip *at,
	const struct stack_site *s)
{
	double under = s->tissue_mm + s->clearance_mm, top = under + s->bar_mm;
	double tooth = s->matrix_mm - s->tooth_mm;
	double resin = fmax(top, tooth - s->resin_mm - s->opaque_mm);
	double foot = rung(l, l->low_mm), middle = at->x + at->width / 2;
	char matrix[32];

	add_layer(out, l, at, l->low_mm, s->tissue_mm, fill_of_tissue);
	add_layer(out, l, at, tooth, s->matrix_mm, fill_of_tooth);
	add_layer(out, l, at, s->bar_mm > 0 ? top : resin, tooth, fill_of_resin);
	if (s->bar_mm > 0)
		add_layer(out, l, at, under, top, fill_of_bar);
	if (s->bar_mm > 0 && s->opaque_mm > 0)
		add_layer(out, l, at, top, top + s->opaque_mm, fill_of_opaque);
	add_line(out, at->x, rung(l, s->matrix_mm), at->x + at->width, rung(l, s->matrix_mm),
		LOOK_BAR);
	snprintf(matrix, sizeof matrix, "%.1f", s->matrix_mm);
	add_label(out, middle, rung(l, s->matrix_mm) - 1, "middle", matrix);
	add_label(out, middle, foot + 5, "middle", s->label ? s->label : "");
	for (int k = 0; k < 2; k++)
		if (s->note[k])
			add_label(out, middle, foot + 10 + 5 * k, "middle", s->note[k]);
}

static void add_rungs(struct text *out, const struct ladder *l)
{
	for (int mm = (int)ceil(l->low_mm); mm <= l->high_mm; mm++) {
		char label[16];
		bool full = mm % 5 == 0;
		add_line(out, MARGIN_mm + (full ? 5 : 6.5), rung(l, mm), MARGIN_mm + 8, rung(l, mm),
			LOOK_LINE);
		snprintf(label, sizeof label, "%d", mm);
		if (full)
			add_label(out, MARGIN_mm + 4, rung(l, mm) + 1.2, "end", label);
	}
}

/* The colours named, for they are not spelt out in the sections. */
static void add_legend(struct text *out, double y)
{
	static const struct {
		const char *name, *fill;
	} layers[] = {{"tissue", fill_of_tissue}, {"bar", fill_of_bar}, {"opaque", fill_of_opaque},
		{"resin", fill_of_resin}, {"tooth", fill_of_tooth}};
	double x = MARGIN_mm + 12;

	for (size_t i = 0; i < sizeof layers / sizeof *layers; i++, x += 24) {
		add_box(out, x, y, 4, 3, layers[i].fill);
		add_label(out, x + 5.5, y + 2.6, "start", layers[i].name);
	}
	add_line(out, x, y + 1.5, x + 4, y + 1.5, LOOK_BAR);
	add_label(out, x + 5.5, y + 2.6, "start", "matrix");
}

/* Sections from `from` on side by side, as many as the sheet is wide, at least one; how many. */
static size_t row_lay(const struct stack_picture *p, size_t from, struct strip *at)
{
	double x = MARGIN_mm + 12;
	size_t n = 0;

	for (; from + n < p->n; n++) {
		at[n] = (struct strip){x, section_width(&p->site[from + n])};
		x += at[n].width + GAP_mm;
		if (n && x - GAP_mm > MARGIN_mm + PAGE_mm)
			break;
	}
	return n;
}

static double add_stack(struct text *out, const struct stack_picture *p, double y)
{
	struct ladder l = {.low_mm = INFINITY, .high_mm = -INFINITY};
	struct strip at[STACK_SITES];

	for (size_t i = 0; i < p->n; i++) {
		const struct stack_site *s = &p->site[i];
		l.low_mm = fmin(l.low_mm, fmin(s->platform_mm, s->tissue_mm));
		l.high_mm = fmax(l.high_mm, fmax(s->matrix_mm, s->platform_mm + s->cylinder_mm));
	}
	for (size_t from = 0, n; from < p->n; from += n) {
		n = row_lay(p, from, at);
		l.y = y + 4;
		add_rungs(out, &l);
		for (size_t k = 0; k < n; k++)
			add_section(out, &l, &at[k], &p->site[from + k]);
		for (size_t k = 0; k < n; k++)
			add_cylinder(out, &l, &at[k], &p->site[from + k]);
		y = rung(&l, l.low_mm) + 22;
	}
	add_legend(out, y);
	return y + 10;
}

/* ---- the sheet ------------------------------------------------------------------------------- */

static void add_head(struct text *out, const char *title, const struct figure *arch,
	const struct figure *stack, double height)
{
	double width = PAGE_mm + 2 * MARGIN_mm;

	text_add(out, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
		      "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\"");
	text_addf(out, " width=\"%.0fmm\" height=\"%.0fmm\" viewBox=\"0 0 %.0f %.0f\"", width,
		height, width, height);
	text_add(out, " role=\"img\" font-family=\"sans-serif\" font-size=\"3.6\" fill=\"#222\">\n"
		      "<title>");
	svg_escaped(out, title);
	text_add(out, "</title>\n<desc>");
	for (size_t i = 0; i < arch->nword; i++) {
		svg_escaped(out, arch->words[i]);
		text_add(out, ".\n");
	}
	for (size_t i = 0; i < stack->nword; i++) {
		svg_escaped(out, stack->words[i]);
		text_add(out, ".\n");
	}
	text_add(out, "</desc>\n");
	text_addf(out, "<rect x=\"0\" y=\"0\" width=\"%.0f\" height=\"%.0f\" fill=\"#fff\"/>\n",
		width, height);
	add_label(out, MARGIN_mm, MARGIN_mm, "start", title);
}

enum bad svg_sheet(struct arena *a, const char *title, const struct arch_picture *arch,
	const struct stack_picture *stack, struct text *out)
{
	struct frame f = {INFINITY, -INFINITY, INFINITY, -INFINITY, MARGIN_mm, MARGIN_mm + HEAD_mm,
		arch->lower_jaw};
	struct arch_curve curve;
	struct figure *arch_words, *stack_words;
	struct text body;
	double end[2];
	enum bad code = curve_find(arch, &curve, end);

	if (!code)
		code = arch_figure(a, arch, 60, 16, &arch_words);
	if (!code)
		code = stack_figure(a, stack, 6 + 8 * STACK_SITES, 18, &stack_words);
	if (code)
		return code;
	frame_fit(&f, arch, &curve, end);
	text_init(&body);
	text_add(&body, "<g>\n");
	add_about(&body, arch_words);
	add_arch(&body, arch, &f, &curve, end);
	text_add(&body, "</g>\n<g>\n");
	add_about(&body, stack_words);
	double bottom = add_stack(&body, stack, f.y + frame_height(&f) + 16);
	text_add(&body, "</g>\n");
	add_head(out, title, arch_words, stack_words, bottom + MARGIN_mm);
	add_label(&body, MARGIN_mm, bottom + 2, "start",
		"Does not replace the prescription, the suppliers' instructions, local rules or "
		"licensed practice.");
	text_add_bytes(out, body.at, body.len);
	text_add(out, "</svg>\n");
	out->out |= body.out;
	text_release(&body);
	return out->out ? BAD_MEMORY : FINE;
}
