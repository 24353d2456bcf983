/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "work/work.h"

#include <math.h>

#include <barwright/calc/joint.h>
#include <barwright/calc/loads.h>

static enum bad spread_run(struct work_result *w, const struct arch_site *site)
{
	const struct case_file *c = w->file;
	struct arch_spread distal, centres;
	enum bad code = arch_spread(site, c->nsite, ARCH_DISTAL_SURFACE, &distal);

	if (!code)
		code = arch_spread(site, c->nsite, ARCH_CENTRES, &centres);
	if (code)
		return code;
	w->spread = c->spread == ARCH_CENTRES ? centres : distal;
	w->distal_mm = distal.spread_mm;
	w->centres_mm = centres.spread_mm;
	return FINE;
}

static enum bad side_run(struct work_result *w, enum arch_end end, double actual_mm)
{
	const struct case_file *c = w->file;
	const struct arch_site *p = &c->site[0].at, *q = &c->site[c->nsite - 1].at;
	struct work_side *side = &w->side[end];
	struct arch_place start;
	double s_start, s_end;
	enum bad code =
		arch_cantilever_limit(c->factor, w->spread.spread_mm, c->cap_mm, &side->limit_mm);

	side->actual_mm = actual_mm;
	if (!code)
		code = arch_trim(actual_mm, side->limit_mm, &side->trim_mm);
	if (!code)
		code = arch_curve_end(&w->curve, end, 0, &s_start);
	if (!code)
		code = arch_curve_end(&w->curve, end, actual_mm, &s_end);
	if (!code)
		code = arch_curve_at(&w->curve, s_start, &start);
	if (!code)
		code = arch_curve_at(&w->curve, s_end, &side->end);
	if (code)
		return code;
	/* Decimals in the file: 15 mm against 1.5 * 10 mm must not fail by rounding. */
	if (side->trim_mm < 1e-9)
		side->trim_mm = 0;
	side->ok = side->trim_mm <= 0;
	side->chord_mm = hypot(side->end.x_mm - start.x_mm, side->end.y_mm - start.y_mm);
	if (arch_spread_centres(side->end.x_mm, side->end.y_mm, p->x_mm, p->y_mm, q->x_mm, q->y_mm,
		    &side->lever_mm))
		side->lever_mm = 0; /* the end stands in that very line */
	return FINE;
}

static enum bad thickness_run(struct work_result *w, const struct space_site *site)
{
	const struct case_file *c = w->file;
	enum bad code =
		space_governing(site, c->nsite, &c->layers, &w->governing, &w->available_mm, NULL);

	for (size_t i = 0; i < c->nsite && !code; i++) {
		code = space_site_available(&site[i], &c->layers, &w->site[i].available_mm);
		w->site[i].space_mm = site[i].matrix_mm - site[i].platform_mm;
	}
	if (!code)
		code = space_shortfall(
			w->available_mm, c->minimum_mm, c->stock_mm, c->nstock, &w->shortfall_mm);
	if (code)
		return code;
	code = space_stock(w->available_mm, c->minimum_mm, c->stock_mm, c->nstock, &w->chosen_mm);
	w->fits = code == FINE;
	return code == BAD_NOTHING ? FINE : code;
}

static enum bad cuts_run(struct work_result *w, const struct space_site *site)
{
	const struct case_file *c = w->file;
	enum bad code = FINE;

	for (size_t i = 0; i < c->nsite && !code; i++) {
		struct work_site *s = &w->site[i];
		code = space_site_cut(&site[i], &c->layers, w->chosen_mm, &s->cut);
		s->build_up_mm = fmax(0, c->engagement_mm - s->cut.engaged_mm);
		if (s->build_up_mm < SPACE_SLACK_mm)
			s->build_up_mm = 0;
		s->can_build_up = !s->cut.is_too_short && !s->cut.is_covered &&
				  s->available_mm >= c->engagement_mm - SPACE_SLACK_mm;
	}
	return code;
}

static enum bad rigid_run(struct arena *a, struct work_result *w)
{
	const struct case_file *c = w->file;
	struct loads_support support[ARCH_SITES];
	double carried[ARCH_SITES];
	struct loads_force *load = arena_many(a, c->nload ? c->nload : 1, struct loads_force);

	if (!load)
		return BAD_MEMORY;
	for (size_t i = 0; i < c->nsite; i++)
		support[i] = (struct loads_support){
			c->site[i].at.x_mm, c->site[i].at.y_mm, c->stiffness_N_per_mm};
	for (size_t i = 0; i < c->nload; i++) {
		const struct case_load *l = &c->load[i];
		load[i] = (struct loads_force){l->x_mm, l->y_mm, l->force_N};
		w->load_N += l->force_N;
		if (l->force_N > 0 && !loads_is_inside(support, c->nsite, l->x_mm, l->y_mm))
			w->tips_over = true;
	}
	enum bad code = loads_share(support, c->nsite, load, c->nload, carried);
	for (size_t i = 0; i < c->nsite && !code; i++)
		w->site[i].rigid_N = carried[i];
	return code;
}

/* The cement is counted on against pull alone: pressure may pass by it. */
static enum bad joint_run(struct work_result *w)
{
	const struct case_file *c = w->file;
	enum bad code = FINE;

	for (size_t i = 0; i < c->nsite && !code; i++) {
		struct work_site *s = &w->site[i];
		double engaged = s->cut.engaged_mm;

		s->pull_N = fmax(0, -fmin(s->rigid_N, w->fits ? s->flexible_N : 0));
		if (!c->has_joint || !w->fits || engaged <= 0)
			continue;
		code = joint_shear(s->pull_N, c->sleeve_mm, engaged, &s->bond_MPa);
		if (!code)
			code = joint_capacity(
				c->sleeve_mm, engaged, c->bond_MPa, c->bond_share, &s->holds_N);
	}
	return code;
}

enum bad work_run(struct arena *a, const struct case_file *file, struct work_result *out)
{
	struct arch_site site[ARCH_SITES];
	struct space_site space[ARCH_SITES];
	struct work_result w = {.file = file, .has_loads = file->nload > 0};
	enum bad code;

	case_arch(file, site);
	for (size_t i = 0; i < file->nsite; i++)
		space[i] = file->site[i].space;
	code = arch_curve_init(&w.curve, site, file->nsite);
	if (code)
		return code;
	w.length_mm = arch_curve_length(&w.curve);
	if ((code = spread_run(&w, site)) || (code = side_run(&w, ARCH_RIGHT, file->right_mm)) ||
		(code = side_run(&w, ARCH_LEFT, file->left_mm)) ||
		(code = thickness_run(&w, space)))
		return code;
	if (w.fits && (code = cuts_run(&w, space)))
		return code;
	if (w.has_loads && (code = rigid_run(a, &w)))
		return code;
	if (w.fits && w.has_loads && (code = work_bar_run(a, &w)))
		return code;
	if ((code = joint_run(&w)) || (code = work_judge(a, &w)))
		return code;
	*out = w;
	return FINE;
}
