/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/picture.h"

#include <string.h>

#include <barwright/base/number.h>

#include "figure/arc_figure.h"
#include "figure/arch_figure.h"
#include "figure/stack_figure.h"

/* The fields of one drawing with the values they come to. */
struct fields {
	const struct figure_spec *spec;
	const struct formula_value *values;
	struct formula_work *work;
	struct arena *arena;
	char sign;
	bool broken; /* a field gave no value, or memory ran out */
};

static bool find(struct fields *f, const char *name, struct formula_value *out)
{
	const struct formula *formula = figure_spec_field(f->spec, name);
	if (!formula)
		return false;
	if (!formula_run(formula, f->values, f->work, out))
		return true;
	f->broken = true;
	return false;
}

static bool has(struct fields *f, const char *name)
{
	return figure_spec_field(f->spec, name) != NULL;
}

static double number(struct fields *f, const char *name)
{
	struct formula_value v;
	return find(f, name, &v) && !formula_is_nothing(v.number) ? v.number : 0;
}

static bool truth(struct fields *f, const char *name)
{
	return number(f, name) != 0;
}

/* One value a site into `out`, from a list or from one number for all; the count of a list, 0 when it
 * is none. */
static size_t each(struct fields *f, const char *name, double *out, size_t room)
{
	struct formula_value v;
	if (!find(f, name, &v))
		return 0;
	for (size_t k = 0; k < room; k++)
		out[k] = !v.list ? v.number : k < v.n ? v.list[k] : 0;
	return v.list ? v.n : 0;
}

static const char **labels(struct fields *f, size_t n)
{
	double number_of[STACK_SITES];
	const char **label = arena_many(f->arena, n + 1, const char *);
	if (!label || each(f, "labels", number_of, STACK_SITES) < n)
		return NULL;
	for (size_t k = 0; k < n; k++)
		label[k] = arena_format(f->arena, "%.0f", number_of[k]);
	return label;
}

/* ---- arch ------------------------------------------------------------------------------------ */

static enum bad draw_arch(struct fields *f, int columns, struct figure **out)
{
	double x[ARCH_SITES], y[ARCH_SITES], diameter[ARCH_SITES] = {0};
	struct arch_site site[ARCH_SITES];
	size_t n = each(f, "x", x, ARCH_SITES);
	if (n > ARCH_SITES || each(f, "y", y, ARCH_SITES) != n)
		return BAD_COUNT;
	each(f, "diameter", diameter, ARCH_SITES);
	for (size_t k = 0; k < n; k++)
		site[k] = (struct arch_site){x[k], y[k], diameter[k] / 2};
	struct arch_picture p = {.site = site,
		.label = has(f, "labels") ? labels(f, n) : NULL,
		.n = n,
		.lower_jaw = truth(f, "lower"),
		.bar = truth(f, "bar"),
		.extension_right_mm = number(f, "extension_right"),
		.extension_left_mm = number(f, "extension_left"),
		.spread_line = truth(f, "spread"),
		.rule = truth(f, "centres") ? ARCH_CENTRES : ARCH_DISTAL_SURFACE,
		.decimal = f->sign};
	return arch_figure(f->arena, &p, columns, 16, out);
}

/* ---- stack ----------------------------------------------------------------------------------- */

static size_t stack_count(struct fields *f)
{
	static const char *const list[] = {"matrix", "tissue", "cylinder", "tilt", "labels", "bar"};
	size_t n = 1;
	double scratch[STACK_SITES];
	for (size_t k = 0; k < sizeof list / sizeof *list; k++) {
		size_t count = each(f, list[k], scratch, STACK_SITES);
		n = count > n ? count : n;
	}
	return n;
}

/* Copies one field of every site into place. */
static void stack_fill(
	struct fields *f, const char *name, struct stack_site *site, size_t n, size_t offset)
{
	double value[STACK_SITES];
	if (!has(f, name))
		return;
	each(f, name, value, STACK_SITES);
	for (size_t k = 0; k < n; k++)
		memcpy((char *)&site[k] + offset, &value[k], sizeof value[k]);
}

static enum bad draw_stack(struct fields *f, int columns, struct figure **out)
{
	static const struct {
		const char *name;
		size_t offset;
	} parts[] = {
		{"platform", offsetof(struct stack_site, platform_mm)},
		{"tissue", offsetof(struct stack_site, tissue_mm)},
		{"matrix", offsetof(struct stack_site, matrix_mm)},
		{"clearance", offsetof(struct stack_site, clearance_mm)},
		{"bar", offsetof(struct stack_site, bar_mm)},
		{"opaque", offsetof(struct stack_site, opaque_mm)},
		{"resin", offsetof(struct stack_site, resin_mm)},
		{"tooth", offsetof(struct stack_site, tooth_mm)},
		{"cylinder", offsetof(struct stack_site, cylinder_mm)},
		{"cover", offsetof(struct stack_site, cover_mm)},
		{"tilt", offsetof(struct stack_site, tilt_rad)},
	};
	struct stack_site site[STACK_SITES] = {{0}};
	size_t n = stack_count(f);
	if (n > STACK_SITES)
		return BAD_COUNT;
	for (size_t k = 0; k < sizeof parts / sizeof *parts; k++)
		stack_fill(f, parts[k].name, site, n, parts[k].offset);
	const char **label = has(f, "labels") ? labels(f, n) : NULL;
	for (size_t k = 0; k < n; k++) {
		site[k].label = label ? label[k] : NULL;
		site[k].asked =
			(has(f, "bar") ? 0 : STACK_BAR) | (has(f, "cylinder") ? STACK_CUT : 0);
	}
	struct stack_picture p = {.site = site, .n = n, .decimal = f->sign};
	return stack_figure(f->arena, &p, columns, n == 1 ? 16 : 18, out);
}

/* ---- arc ------------------------------------------------------------------------------------- */

static enum bad draw_arc(struct fields *f, int columns, struct figure **out)
{
	struct text along;
	text_init(&along);
	number_add_to(number(f, "along"), 2, f->sign, &along);
	text_add(&along, " mm");
	struct arc_picture p = {.radius_mm = number(f, "radius"),
		.arc_mm = number(f, "along"),
		.arc_text = arena_copy(f->arena, along.at, along.len),
		.chord_text = "?",
		.bending_text = "?",
		.torsion_text = "?"};
	text_release(&along);
	return arc_figure(f->arena, &p, columns, 16, out);
}

static enum bad draw(struct fields *f, int columns, struct figure **out)
{
	switch (f->spec->kind) {
	case FIGURE_ARCH:
		return draw_arch(f, columns, out);
	case FIGURE_STACK:
		return draw_stack(f, columns, out);
	case FIGURE_ARC:
		return draw_arc(f, columns, out);
	default:
		return BAD_NOTHING;
	}
}

enum { FIGURE_COLUMNS = 62 };

void picture_add(struct page *p, const struct figure_spec *spec, const struct formula_value *values,
	struct formula_work *work, int columns, char sign)
{
	struct fields f = {spec, values, work, p->arena, sign, false};
	struct figure *figure;
	if (spec->kind == FIGURE_NONE)
		return;
	int width = columns > 0 && columns < FIGURE_COLUMNS ? columns : FIGURE_COLUMNS;
	enum bad code = draw(&f, width, &figure);
	if (code == BAD_MEMORY)
		p->out = 1;
	else if (code || f.broken)
		page_add(p, BLOCK_TEXT, "(The drawing cannot be made with these values: %s.)",
			bad_text(code));
	else
		page_figure(p, figure);
}
