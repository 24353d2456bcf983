/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "bench/view.h"
#include "figure/arch_figure.h"
#include "figure/sketch.h"

/* On a screen the menu stands under it: the work is to be seen without paging. */
enum { PICTURE_COLUMNS = 60, PICTURE_ROWS = 16, PICTURE_LOW = 12, MAP_ROWS = 12, MAP_STEP = 5 };

/* 0 where a list is too short. */
static double at(const struct bench *b, enum core_value which, size_t i)
{
	const struct formula_value *v = &b->value[b->procedure->core[which]];
	return !v->list ? v->number : i < v->n ? v->list[i] : 0;
}

/* Are all of these there? */
static bool has_core(const struct bench *b, int from, int to)
{
	for (int i = from; i <= to; i++)
		if (b->procedure->core[i] == SIZE_MAX)
			return false;
	return true;
}

static bool has_bar(const struct bench *b)
{
	return has_core(b, 0, CORE_BAR_LAST) && at(b, CORE_WIDTH, 0) > 0;
}

static size_t slot_named(const struct procedure *p, const char *name)
{
	size_t slot, len = 0;
	while (name[len])
		len++;
	return formula_scope_find(&p->scope, name, len, &slot) ? slot : SIZE_MAX;
}

/* The tooth numbers, where the procedure has them. */
static const char *const *labels(struct page *p, const struct bench *b)
{
	size_t slot = slot_named(b->procedure, "tooth");
	const char **label = arena_many(p->arena, b->nsite, const char *);
	if (slot == SIZE_MAX || !label || !b->value[slot].list)
		return NULL;
	for (size_t i = 0; i < b->nsite; i++) {
		label[i] = arena_format(p->arena, "%.0f", b->value[slot].list[i]);
		if (!label[i])
			return NULL;
	}
	return label;
}

static bool is_lower(const struct bench *b)
{
	size_t slot = slot_named(b->procedure, "upper");
	return slot == SIZE_MAX || b->value[slot].number < 0.5;
}

static void arch_add(struct page *p, const struct bench_view *v, bool made)
{
	const struct bench *b = v->bench;
	struct arch_site site[BAR_SITES];
	struct figure *figure;
	if (!has_core(b, CORE_SITE_X, CORE_SITE_DIAMETER))
		return;
	for (size_t i = 0; i < b->nsite; i++)
		site[i] = (struct arch_site){at(b, CORE_SITE_X, i), at(b, CORE_SITE_Y, i),
			at(b, CORE_SITE_DIAMETER, i) / 2};
	struct arch_picture picture = {.site = site,
		.label = labels(p, b),
		.n = b->nsite,
		.lower_jaw = is_lower(b),
		.bar = has_bar(b),
		.decimal = v->decimal,
		.title = made ? "The bar as it was made" : "The work on the cast"};
	if (picture.bar) {
		picture.extension_right_mm = at(b, CORE_EXTENSION, 0);
		picture.extension_left_mm = at(b, CORE_EXTENSION, 1);
		picture.right_text = picture.left_text = made ? NULL : "?";
	}
	if (!arch_figure(p->arena, &picture, PICTURE_COLUMNS,
		    v->by_lines || made ? PICTURE_ROWS : PICTURE_LOW, &figure))
		page_figure(p, figure);
}

void picture_work(struct page *p, const struct bench_view *v)
{
	arch_add(p, v, false);
}

/* ---- the thickness map ----------------------------------------------------------------------- */

static const char *place_name(
	struct page *p, const struct bench *b, const char *const *label, size_t k)
{
	if (k == 0)
		return "right end";
	if (k == 2 * b->nsite)
		return "left end";
	if (k % 2 == 0)
		return arena_format(p->arena, "between %s and %s",
			label ? label[k / 2 - 1] : "sites", label ? label[k / 2] : "sites");
	return arena_format(p->arena, "at %s", label ? label[k / 2] : "a site");
}

const char *picture_place(struct page *p, const struct bench *b, enum each each, size_t k)
{
	const char *const *label = labels(p, b);
	const char *made = each == EACH_END     ? k ? "on the left" : "on the right"
			   : each == EACH_PLACE ? place_name(p, b, label, k)
			   : label              ? arena_format(p->arena, "at %s", label[k])
						: arena_format(p->arena, "at site %zu", k + 1);
	return made ? made : "";
}

/* A column a place, a row a millimetre: heights grow from the bottom row. */
static void map_column(struct canvas *c, const struct bench_view *v, struct arena *a, size_t k,
	double height_mm, const char *under)
{
	int col = 6 + (int)k * MAP_STEP, floor_row = MAP_ROWS - 3;
	for (int mm = 1; mm <= 8 && mm <= (int)lround(height_mm); mm++)
		canvas_fill(c, floor_row - mm, col, 1, 3, GLYPH_SQUARE, INK_WORK);
	canvas_text_centre(c, floor_row, col + 1, view_number(a, v, height_mm, 2), INK_MARK);
	canvas_text_centre(c, floor_row + 1, col + 1, under, INK_PLAIN);
}

static void map_add(struct page *p, const struct bench_view *v)
{
	struct bench *b = v->bench;
	const char *const *label = labels(p, b);
	size_t n = 2 * b->nsite + 1;
	struct canvas *c = canvas_new(p->arena, MAP_ROWS, 8 + (int)n * MAP_STEP);
	struct words w = {.arena = p->arena, .decimal = v->decimal};
	struct figure *figure;
	if (!c)
		return;
	for (int mm = 1; mm <= 8; mm++)
		canvas_text_right(
			c, MAP_ROWS - 3 - mm, 3, arena_format(p->arena, "%d", mm), INK_FAINT);
	canvas_text(c, 0, 0, "height of the bar, mm", INK_FAINT);
	if (!b->bar_code)
		words_add(&w,
			"the stress is that of a bite of %.0f N on either end, the greater "
			"of both; at a site in what its hole leaves of the bar",
			at(b, CORE_BITE, 0));
	for (size_t k = 0; k < n; k++) {
		double mm = at(b, CORE_BAR_HEIGHT, k), MPa = b->bar_loads.stress_MPa[k];
		const char *place = place_name(p, b, label, k);
		map_column(c, v, p->arena, k, mm, k % 2 && label ? label[k / 2] : "");
		if (!b->bar_code && place)
			words_add(&w, "%s: %s mm high, bending stress %.0f MPa", place,
				view_number(p->arena, v, mm, 2), MPa);
		else if (place)
			words_add(&w, "%s: %s mm high", place, view_number(p->arena, v, mm, 2));
	}
	if (!figure_make(
		    p->arena, "Thickness map from the patient's right to left", c, &w, &figure))
		page_figure(p, figure);
}

static void loads_add(struct page *p, const struct bench_view *v)
{
	struct bench *b = v->bench;
	const struct bar_loads *l = &b->bar_loads;
	const char *const *label = labels(p, b);
	page_add(p, BLOCK_TEXT,
		"A bite of %.0f N on the %s end: load on each site, pressure positive, a minus "
		"pulls. Go by the flexible one: it counts with the stiffness of this bar. The "
		"rigid one is the limit for a bar that does not bend at all.",
		at(b, CORE_BITE, 0), l->bitten == ARCH_RIGHT ? "right" : "left");
	for (size_t i = 0; i < b->nsite; i++)
		page_row(p, label ? arena_format(p->arena, "site %s", label[i]) : "site",
			"%.0f N flexible, %.0f N rigid", l->flexible_N[i], l->rigid_N[i]);
	page_row(p, "Each end bitten drops by", "%s mm (right), %s mm (left)",
		view_number(p->arena, v, l->drop_mm[0], 2),
		view_number(p->arena, v, l->drop_mm[1], 2));
}

void picture_bar(struct page *p, const struct bench_view *v)
{
	struct bench *b = v->bench;
	if (!has_bar(b))
		return;
	bench_imbalance(b); /* brings the loads up to date */
	arch_add(p, v, true);
	map_add(p, v);
	if (b->bar_known && !b->bar_code)
		loads_add(p, v);
}
