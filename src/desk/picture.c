/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/picture.h"

#include <string.h>

#include <barwright/base/number.h>

#include "course/figures.h"
#include "figure/arc_figure.h"
#include "figure/arch_figure.h"
#include "figure/schedule_figure.h"
#include "figure/section_figure.h"
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

/* ---- section --------------------------------------------------------------------------------- */

static const struct {
	const char *name;
	enum section_part part;
} section_parts[] = {{"width", SECTION_WIDTH}, {"height", SECTION_HEIGHT}, {"hole", SECTION_HOLE},
	{"offset", SECTION_OFFSET}, {"left", SECTION_LEFT}, {"right", SECTION_RIGHT},
	{"film", SECTION_FILM}, {"cylinder", SECTION_CYLINDER}, {"aside", SECTION_ASIDE},
	{"tilt", SECTION_TILT}, {"wander", SECTION_WANDER}};
enum { SECTION_PARTS = sizeof section_parts / sizeof *section_parts };

/* The parts that a list of the file names. */
static unsigned section_listed(struct fields *f, const char *name)
{
	size_t n;
	unsigned all = 0;
	const char *const *word = figure_spec_texts(f->spec, name, &n);
	for (size_t i = 0; i < n; i++)
		for (size_t k = 0; k < SECTION_PARTS; k++)
			if (strcmp(word[i], section_parts[k].name) == 0)
				all |= section_parts[k].part;
	return all;
}

static unsigned section_given(struct fields *f)
{
	unsigned all = 0;
	for (size_t k = 0; k < SECTION_PARTS; k++)
		if (has(f, section_parts[k].name))
			all |= section_parts[k].part;
	return all;
}

static enum bad draw_section(struct fields *f, int columns, struct figure **out)
{
	size_t n;
	const char *const *side = figure_spec_texts(f->spec, "sides", &n);
	struct section_picture p = {.width_mm = number(f, "width"),
		.height_mm = number(f, "height"),
		.hole_mm = number(f, "hole"),
		.offset_mm = number(f, "offset"),
		.cylinder_mm = number(f, "cylinder"),
		.aside_mm = number(f, "aside"),
		.tilt_rad = number(f, "tilt"),
		.shown = section_given(f) | section_listed(f, "shown"),
		.asked = section_listed(f, "asked"),
		.side = {n == 2 ? side[0] : NULL, n == 2 ? side[1] : NULL},
		.decimal = f->sign};
	return section_figure(f->arena, &p, columns, 18, out);
}

/* ---- schedule -------------------------------------------------------------------------------- */

_Static_assert((int)SCHEDULE_STEPS == (int)FIGURE_STEPS, "what is checked can be drawn");

static bool lists_step(struct fields *f, const char *name, const char *step)
{
	size_t n;
	const char *const *word = figure_spec_texts(f->spec, name, &n);
	for (size_t i = 0; i < n; i++)
		if (strcmp(word[i], step) == 0)
			return true;
	return false;
}

static void step_asked(struct fields *f, struct schedule_step *x)
{
	x->unattended = lists_step(f, "unattended", x->name);
	x->asked = (lists_step(f, "ask_starts", x->name) ? SCHEDULE_START : 0U) |
		   (lists_step(f, "ask_ends", x->name) ? SCHEDULE_END : 0U) |
		   (lists_step(f, "ask_durations", x->name) ? SCHEDULE_LENGTH : 0U);
}

/* One after the other from the first start on; with a deadline and no start, back from that. */
static enum bad step_chain(struct fields *f, struct schedule_step *step, size_t n)
{
	double duration[SCHEDULE_STEPS], at = number(f, "begin");
	if (each(f, "durations", duration, SCHEDULE_STEPS) != n)
		return BAD_COUNT;
	if (!has(f, "begin") && has(f, "deadline")) {
		at = number(f, "deadline");
		for (size_t i = 0; i < n; i++)
			at -= duration[i];
	}
	for (size_t i = 0; i < n; i++) {
		step[i].start_s = at;
		step[i].end_s = at += duration[i];
	}
	return FINE;
}

static enum bad step_times(struct fields *f, struct schedule_step *step, size_t n)
{
	double start[SCHEDULE_STEPS], end[SCHEDULE_STEPS];
	if (!has(f, "starts"))
		return step_chain(f, step, n);
	if (each(f, "starts", start, SCHEDULE_STEPS) != n ||
		each(f, "ends", end, SCHEDULE_STEPS) != n)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		step[i].start_s = start[i];
		step[i].end_s = end[i];
	}
	return FINE;
}

/* Pairs; BAD_COUNT when there are not as many ends as beginnings. */
static enum bad closed_pairs(struct fields *f, double *pairs, size_t *n)
{
	double from[SCHEDULE_CLOSED] = {0}, to[SCHEDULE_CLOSED] = {0};
	size_t nfrom = each(f, "closed_from", from, SCHEDULE_CLOSED);
	if (each(f, "closed_to", to, SCHEDULE_CLOSED) != nfrom || nfrom > SCHEDULE_CLOSED)
		return BAD_COUNT;
	*n = nfrom ? nfrom : has(f, "closed_from"); /* one number each is one pair */
	for (size_t i = 0; i < *n; i++)
		pairs[2 * i] = from[i], pairs[2 * i + 1] = to[i];
	return FINE;
}

static enum bad draw_schedule(struct fields *f, int columns, struct figure **out)
{
	struct schedule_step step[SCHEDULE_STEPS] = {{0}};
	double pairs[2 * SCHEDULE_CLOSED];
	size_t n, nclosed = 0, nday;
	const char *const *name = figure_spec_texts(f->spec, "steps", &n);
	const char *const *day = figure_spec_texts(f->spec, "days", &nday);
	if (n > SCHEDULE_STEPS || closed_pairs(f, pairs, &nclosed))
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		step[i].name = name[i];
		step_asked(f, &step[i]);
	}
	enum bad code = step_times(f, step, n);
	if (code)
		return code;
	struct schedule_picture p = {.step = step,
		.n = n,
		.clock = truth(f, "clock") || nday,
		.timed = has(f, "starts"),
		.begins = has(f, "begin"),
		.has_deadline = has(f, "deadline"),
		.deadline_s = number(f, "deadline"),
		.closed = pairs,
		.nclosed = nclosed,
		.total_asked = truth(f, "ask_total"),
		.day = day,
		.nday = nday,
		.decimal = f->sign};
	return schedule_figure(f->arena, &p, columns, schedule_rows(&p), out);
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
	case FIGURE_SECTION:
		return draw_section(f, columns, out);
	case FIGURE_SCHEDULE:
		return draw_schedule(f, columns, out);
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
