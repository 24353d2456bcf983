/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The checks of a case that need more than one value. Each is silent about what is broken already. */
#include <math.h>
#include <stdlib.h>

#include "course/case_parts.h"

/* A front tooth's edge stands up to 14.4 mm before the sites (Brosky, Korioth, Hodges, J Prosthet
 * Dent 2003, abstract); farther from the bar no tooth of the prosthesis stands. */
#define LOAD_FARTHEST_mm 15.0

/* A site this far on the other side of the midline is not a central incisor that strays. */
#define ASTRAY_mm 4.0

static void teeth_check(struct case_reader *r)
{
	const struct case_file *c = &r->file;

	for (size_t i = 0; i < c->nsite; i++) {
		int place = case_tooth(strtol(c->site[i].tooth, NULL, 10), c->lower_jaw);
		for (size_t k = 0; k < i && place >= 0; k++) {
			int other = case_tooth(strtol(c->site[k].tooth, NULL, 10), c->lower_jaw);
			struct tree *t = tree_find(r->site[i], "tooth");
			if (other < place)
				continue;
			if (other == place)
				tree_fault(t, r->diags, BAD_REPEATED, "site %s is there twice",
					c->site[i].tooth);
			else
				tree_fault(t, r->diags, BAD_ORDER,
					"site %s stands after %s but comes before it around the "
					"arch",
					c->site[i].tooth, c->site[k].tooth);
			if (other != place)
				diag_hint(r->diags,
					"list the sites from the patient's right to left");
			diag_note(r->diags, tree_find(r->site[k], "tooth")->place,
				other == place ? "here it stands first" : "this is site %s",
				c->site[k].tooth);
			r->all_sites = false;
			break;
		}
	}
}

/* A tooth of the right side must not stand on the left. */
static void sides_check(struct case_reader *r)
{
	const struct case_file *c = &r->file;

	for (size_t i = 0; i < c->nsite; i++) {
		int place = case_tooth(strtol(c->site[i].tooth, NULL, 10), c->lower_jaw);
		double x = c->site[i].at.x_mm;
		if (place < 0 || (place < 8 ? x < ASTRAY_mm : x > -ASTRAY_mm))
			continue;
		tree_fault(tree_find(r->site[i], "x"), r->diags, BAD_ORDER,
			"site %s belongs to the patient's %s, but x puts it on the %s",
			c->site[i].tooth, place < 8 ? "right" : "left",
			place < 8 ? "left" : "right");
		diag_hint(r->diags, "x grows to the patient's left unless axes says {x: right, y: "
				    "front}; turn the sign or say so");
		r->all_sites = false;
	}
}

static void overlaps_check(struct case_reader *r)
{
	const struct case_file *c = &r->file;

	for (size_t i = 1; i < c->nsite; i++)
		for (size_t k = 0; k < i; k++) {
			const struct arch_site *a = &c->site[k].at, *b = &c->site[i].at;
			double away = hypot(a->x_mm - b->x_mm, a->y_mm - b->y_mm);
			if (away >= a->radius_mm + b->radius_mm)
				continue;
			tree_fault(r->site[i], r->diags, BAD_SINGULAR,
				away < 1e-6 ? "site %s stands where site %s stands"
					    : "site %s overlaps site %s",
				c->site[i].tooth, c->site[k].tooth);
			diag_hint(r->diags,
				"their centres are %.2f mm apart; their platforms need "
				"%.2f mm",
				away, a->radius_mm + b->radius_mm);
			diag_note(r->diags, r->site[k]->place, "this is site %s", c->site[k].tooth);
			r->all_sites = false;
		}
}

static void arch_check(struct case_reader *r, struct arch_curve *curve)
{
	struct arch_site site[ARCH_SITES];
	struct arch_spread spread;

	case_arch(&r->file, site);
	enum bad code = arch_spread(site, r->file.nsite, r->file.spread, &spread);
	if (!code)
		code = arch_curve_init(curve, site, r->file.nsite);
	if (!code)
		return;
	r->all_sites = false;
	if (code == BAD_ORDER) {
		tree_fault(r->sites, r->diags, code,
			"the sites do not run around an arch from the "
			"patient's right to left");
		diag_hint(r->diags, "the first and the last site must be the most posterior ones; "
				    "look at the signs of x and y");
	} else {
		tree_fault(r->sites, r->diags, code, "the sites do not make an arch");
		diag_hint(r->diags, "they stand in one line, or the bar would fold back on itself");
	}
}

static void heights_check(struct case_reader *r)
{
	const struct case_file *c = &r->file;

	for (size_t i = 0; i < c->nsite; i++) {
		const struct space_site *s = &c->site[i].space;
		if (s->matrix_mm <= s->tissue_mm) {
			tree_fault(tree_find(r->site[i], "matrix"), r->diags, BAD_ORDER,
				"the matrix lies %s the tissue at site %s",
				s->matrix_mm < s->tissue_mm ? "below" : "on", c->site[i].tooth);
			diag_hint(r->diags, "both are heights above the datum");
		} else if (s->matrix_mm - c->layers.cover_mm <= s->platform_mm) {
			tree_fault(tree_find(r->site[i], "matrix"), r->diags, BAD_ORDER,
				"the cover leaves nothing over the platform at site %s",
				c->site[i].tooth);
		}
	}
}

static void stock_check(struct case_reader *r)
{
	const struct case_file *c = &r->file;
	double thickest = 0;

	if (!r->stock || r->stock->broken || !r->minimum || r->minimum->broken || !c->nstock)
		return;
	for (size_t i = 0; i < c->nstock; i++)
		thickest = fmax(thickest, c->stock_mm[i]);
	if (thickest >= c->minimum_mm - SPACE_SLACK_mm)
		return;
	diag_warn(r->diags, BAD_NOTHING, r->stock->place, r->stock->span,
		"no stock reaches the minimum thickness of %g mm", c->minimum_mm);
	diag_note(r->diags, r->minimum->place, "the minimum stands here");
}

/* How far a point is from the bar, ends included. */
static double distance(const struct arch_curve *curve, double from, double to, double x, double y)
{
	double best = INFINITY;

	for (int i = 0; i <= 1000; i++) {
		struct arch_place at;
		if (!arch_curve_at(curve, from + (to - from) * i / 1000, &at))
			best = fmin(best, hypot(at.x_mm - x, at.y_mm - y));
	}
	return best;
}

static void load_check(
	struct case_reader *r, const struct arch_curve *curve, double from, double to, size_t i)
{
	const struct case_load *l = &r->file.load[i];
	struct tree *at = tree_find(r->load[i], "at");

	if (l->where != CASE_AT_POINT || !at || at->broken)
		return;
	double away = distance(curve, from, to, l->x_mm, l->y_mm);
	if (away > LOAD_FARTHEST_mm) {
		tree_fault(at, r->diags, BAD_RANGE, "this load stands %.1f mm off the bar", away);
		diag_hint(r->diags,
			"no tooth stands more than %g mm beside the bar: look at the "
			"signs, or load an end or a site by its name",
			LOAD_FARTHEST_mm);
	} else if (away > r->file.width_mm / 2) {
		diag_warn(r->diags, BAD_RANGE, at->place, at->span,
			"this load stands %.1f mm beside the bar's centreline", away);
		diag_hint(r->diags, "the prosthesis is taken to carry it to the bar without giving "
				    "way; if that is meant, leave it");
	}
}

/* Ends take their place from the curve; points must lie near it. */
static void loads_check(struct case_reader *r, const struct arch_curve *curve)
{
	struct case_file *c = &r->file;
	double right = 0, left = 0;
	struct arch_place end[2];

	if (arch_curve_end(curve, ARCH_RIGHT, c->right_mm, &right) ||
		arch_curve_end(curve, ARCH_LEFT, c->left_mm, &left) ||
		arch_curve_at(curve, right, &end[0]) || arch_curve_at(curve, left, &end[1]))
		return;
	for (size_t i = 0; i < c->nload; i++) {
		struct case_load *l = &c->load[i];
		if (l->where == CASE_RIGHT_END || l->where == CASE_LEFT_END) {
			const struct arch_place *e = &end[l->where == CASE_LEFT_END];
			l->x_mm = e->x_mm;
			l->y_mm = e->y_mm;
		}
		load_check(r, curve, right, left, i);
	}
}

/* Something of the bar must be left beside the widest hole. */
static void width_check(struct case_reader *r)
{
	const struct case_file *c = &r->file;
	size_t widest = 0;

	for (size_t i = 1; i < c->nsite; i++)
		if (case_hole_mm(c, i) > case_hole_mm(c, widest))
			widest = i;
	if (!r->width || r->width->broken || c->width_mm > case_hole_mm(c, widest))
		return;
	tree_fault(r->width, r->diags, BAD_RANGE,
		"the bar is %.1f mm wide and its hole at site %s %.1f mm: nothing is left of it",
		c->width_mm, c->site[widest].tooth, case_hole_mm(c, widest));
	diag_hint(r->diags, "give the width that the bar has at its holes; 1.5 mm of it should "
			    "stand on each side of them (common practice)");
}

static void loads_are_there(struct case_reader *r)
{
	struct tree *t = r->loads ? r->loads : r->sites;

	if (r->file.nload || !t || t->broken)
		return;
	diag_warn(r->diags, BAD_MISSING, r->loads ? t->place : t->key_place, 1,
		"there are no loads: the bar's strength is not looked at");
	diag_hint(r->diags, "add loads: [{force: 200 N, at: left-end}]");
}

void case_check(struct case_reader *r)
{
	struct arch_curve curve;

	teeth_check(r);
	if (r->all_sites)
		sides_check(r);
	if (r->all_sites)
		overlaps_check(r);
	if (r->all_sites) {
		heights_check(r);
		arch_check(r, &curve);
	}
	stock_check(r);
	if (r->all_sites && r->file.nsite)
		width_check(r);
	if (r->all_sites)
		loads_check(r, &curve);
	loads_are_there(r);
}
