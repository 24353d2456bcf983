/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calculations of bar design: arch, space, holes, loads, sections, beams, strength. Every
 * function of the calculation core that a question could ask for, under the name an instructor
 * would use; what they compute, and where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>
#include <string.h>

#include <barwright/calc/arch.h>
#include <barwright/calc/beam.h>
#include <barwright/calc/curved.h>
#include <barwright/calc/hole.h>
#include <barwright/calc/loads.h>
#include <barwright/calc/safety.h>
#include <barwright/calc/section.h>
#include <barwright/calc/space.h>

/* Sources that several rows share. */
#define TRADE    "common practice of the trade"
#define TEXTBOOK "any text on strength of materials (from memory)"
#define CARRANZA \
	"Chung, Chang, Klokkevold in Carranza's Clinical Periodontology, 12th ed. 2015, ch. 74"
#define CANTILEVER \
	"a guideline without prospective validation: Walter, Greenstein, JADA 2020;151:790"
#define SKALAK     "Skalak, J Prosthet Dent 1983;49:843 (idea; equations from memory)"
#define CURVE      "de Boor, A Practical Guide to Splines, 1978, ch. IV"
#define BOLTS      "eccentric shear of bolt groups, Budynas and Nisbett (from memory)"
#define TORSION    "Timoshenko and Goodier, Theory of Elasticity (from memory)"
#define ROARK      "Young and Budynas, Roark's Formulas, 7th ed. 2002, table 8.1 (from memory)"
#define LUND       "Rodriguez, Aquilino, Lund, J Prosthodont 1994;3:41"
#define CLAPEYRON  "Clapeyron 1857, three moments (from memory)"
#define TIMOSHENKO "Timoshenko, Strength of Materials I, 3rd ed. 1955 (from memory)"

/* ---- A-P spread ----------------------------------------------------------------------------- */

TAKES_8(spread_to_distal, arch_spread_distal)
TAKES_6(spread_to_centres, arch_spread_centres)

/* Sites from lists of x, y and, if given, radii. */
static enum bad sites_from(struct call *c, const struct formula_span *radius, double all_mm,
	struct arch_site *site, size_t *n)
{
	const struct formula_span *x = &c->list[0], *y = &c->list[1];
	if (x->n != y->n || (radius && radius->n != x->n))
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	if (x->n > ARCH_SITES)
		return refuse(c, BAD_COUNT, "is given more sites than an arch has");
	for (size_t i = 0; i < x->n; i++)
		site[i] = (struct arch_site){x->at[i], y->at[i], radius ? radius->at[i] : all_mm};
	*n = x->n;
	return FINE;
}

static enum bad spread_of(struct call *c, const struct formula_span *radius, double all_mm,
	enum arch_rule rule, struct arch_spread *out)
{
	struct arch_site site[ARCH_SITES];
	size_t n;
	enum bad code = sites_from(c, radius, all_mm, site, &n);
	return code ? code : arch_spread(site, n, rule, out);
}

static enum bad run_spread_to_distal_radii(struct call *c)
{
	struct arch_spread s;
	enum bad code = spread_of(c, &c->list[2], 0, ARCH_DISTAL_SURFACE, &s);
	return code ? code : give(c, s.spread_mm);
}

static enum bad run_spread_to_distal_radius(struct call *c)
{
	struct arch_spread s;
	enum bad code = spread_of(c, NULL, c->number[0], ARCH_DISTAL_SURFACE, &s);
	return code ? code : give(c, s.spread_mm);
}

static enum bad run_spread_to_centres_sites(struct call *c)
{
	struct arch_spread s;
	enum bad code = spread_of(c, NULL, 0, ARCH_CENTRES, &s);
	return code ? code : give(c, s.spread_mm);
}

static enum bad run_anterior_site(struct call *c)
{
	struct arch_spread s;
	enum bad code = spread_of(c, NULL, 0, ARCH_CENTRES, &s);
	return code ? code : give(c, 1 + (double)s.first);
}

/* ---- Cantilever ----------------------------------------------------------------------------- */

TAKES_3(cantilever_limit, arch_cantilever_limit)

static enum bad run_cantilever_limit_uncapped(struct call *c)
{
	const double *v = c->number;
	return arch_cantilever_limit(v[0], v[1], INFINITY, c->out);
}

TAKES_2(cantilever_from_reading, arch_cantilever)
TAKES_2(cantilever_trim, arch_trim)
TAKES_2(cantilever_ratio_three, arch_ratio_three)
TAKES_4(cantilever_ratio_four, arch_ratio_four)
TAKES_2(arc_chord, arch_chord)
TAKES_2(arc_bending_arm, arch_bending_arm)
TAKES_2(arc_torsion_arm, arch_torsion_arm)

static enum bad run_arc_angle(struct call *c)
{
	const double *v = c->number;
	return v[0] == 0 ? refuse(c, BAD_RANGE, "divides by 0") : give(c, v[1] / v[0]);
}

static enum bad run_arc_along(struct call *c)
{
	const double *v = c->number;
	return give(c, v[0] * v[1]);
}

/* ---- The bar's centreline ------------------------------------------------------------------- */

/* The centreline through sites of one radius, or of none. */
static enum bad curve_of(struct call *c, double radius_mm, struct arch_curve *out)
{
	struct arch_site site[ARCH_SITES];
	size_t n;
	enum bad code = sites_from(c, NULL, radius_mm, site, &n);
	return code ? code : arch_curve_init(out, site, n);
}

static enum bad run_bar_length(struct call *c)
{
	struct arch_curve curve;
	enum bad code = curve_of(c, 0, &curve);
	return code ? code : give(c, arch_curve_length(&curve));
}

/* The span from the site at a place of the list to the next one. */
static enum bad span_of(struct call *c, double radius_mm, double place, struct arch_span *out)
{
	struct arch_curve curve;
	if (!(place >= 1 && place < (double)c->list[0].n) || place != floor(place))
		return refuse(c, BAD_RANGE, "is given a place that has no span behind it");
	enum bad code = curve_of(c, radius_mm, &curve);
	return code ? code : arch_curve_span(&curve, (size_t)place - 1, out);
}

static enum bad run_span_along(struct call *c)
{
	struct arch_span s;
	enum bad code = span_of(c, 0, c->number[0], &s);
	return code ? code : give(c, s.along_mm);
}

static enum bad run_span_clear(struct call *c)
{
	struct arch_span s;
	enum bad code = span_of(c, c->number[0], c->number[1], &s);
	return code ? code : give(c, s.clear_mm);
}

/* The end of the bar: radius and extension are the two numbers. */
static enum bad end_of(struct call *c, enum arch_end end, struct arch_place *out)
{
	struct arch_curve curve;
	double s_mm;
	enum bad code = curve_of(c, c->number[0], &curve);
	if (!code)
		code = arch_curve_end(&curve, end, c->number[1], &s_mm);
	return code ? code : arch_curve_at(&curve, s_mm, out);
}

static enum bad run_right_end_x(struct call *c)
{
	struct arch_place p;
	enum bad code = end_of(c, ARCH_RIGHT, &p);
	return code ? code : give(c, p.x_mm);
}

static enum bad run_right_end_y(struct call *c)
{
	struct arch_place p;
	enum bad code = end_of(c, ARCH_RIGHT, &p);
	return code ? code : give(c, p.y_mm);
}

static enum bad run_left_end_x(struct call *c)
{
	struct arch_place p;
	enum bad code = end_of(c, ARCH_LEFT, &p);
	return code ? code : give(c, p.x_mm);
}

static enum bad run_left_end_y(struct call *c)
{
	struct arch_place p;
	enum bad code = end_of(c, ARCH_LEFT, &p);
	return code ? code : give(c, p.y_mm);
}

/* ---- Vertical space ------------------------------------------------------------------------- */

TAKES_2(bar_underside, space_gap)
TAKES_5(space_for_bar, space_thickness)

static enum bad run_stock_choice(struct call *c)
{
	enum bad code =
		space_stock(c->number[0], c->number[1], c->list[0].at, c->list[0].n, c->out);
	return code == BAD_NOTHING ? give(c, NAN) : code;
}

static enum bad run_stock_shortfall(struct call *c)
{
	return space_shortfall(c->number[0], c->number[1], c->list[0].at, c->list[0].n, c->out);
}

TAKES_2(space_margin, space_margin)
TAKES_2(along_tilt, space_along)
TAKES_5(cut_down, space_cut_down)

static enum bad run_cut_down_upright(struct call *c)
{
	const double *v = c->number;
	return space_cut_down(v[0], v[1], v[2], v[3], 0, c->out);
}

TAKES_2(first_cut, space_first_cut)
TAKES_2(cover_limit, space_cover_limit)
TAKES_3(cover_margin, space_cover_margin)
TAKES_3(engaged_height, space_engaged)
TAKES_2(build_up, space_build_up)

/* ---- Holes ---------------------------------------------------------------------------------- */

TAKES_2(hole_diameter, hole_diameter)

static enum bad run_hole_diameter_tilted(struct call *c)
{
	const double *v = c->number;
	return hole_diameter_tilted(v[0], v[2], v[3], v[1], c->out);
}

TAKES_3(wall_near, hole_wall_near)
TAKES_3(wall_far, hole_wall_far)
TAKES_3(bar_width, hole_bar_width)
TAKES_3(ligament, hole_ligament)
TAKES_2(hole_offset, hole_offset)
TAKES_2(hole_residual, hole_residual)
TAKES_2(hole_volume, hole_volume)

/* ---- Load on the sites ---------------------------------------------------------------------- */

/* Supports from the lists of x, y and, if there is a third, stiffness. */
static enum bad supports_from(struct call *c, size_t lists, struct support *s, size_t *n)
{
	for (size_t k = 1; k < lists; k++)
		if (c->list[k].n != c->list[0].n)
			return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < c->list[0].n; i++)
		s[i] = (struct support){
			c->list[0].at[i], c->list[1].at[i], lists > 2 ? c->list[2].at[i] : 1};
	*n = c->list[0].n;
	return FINE;
}

static enum bad shares_of(struct call *c, size_t lists)
{
	struct support s[FORMULA_LENGTH];
	struct load load = {c->number[1], c->number[2], c->number[0]};
	size_t n;
	enum bad code = supports_from(c, lists, s, &n);
	if (!code)
		code = loads_share(s, n, &load, 1, c->out);
	c->nout = code ? 0 : n;
	return code;
}

static enum bad run_load_shares(struct call *c)
{
	return shares_of(c, 2);
}

static enum bad run_load_shares_springs(struct call *c)
{
	return shares_of(c, 3);
}

/* Shares of a push in the plane, along x or along y. */
static enum bad push_shares(struct call *c, bool along_x)
{
	struct support s[FORMULA_LENGTH];
	double other[FORMULA_LENGTH];
	struct push push = {c->number[2], c->number[3], c->number[0], c->number[1]};
	size_t n;
	enum bad code = supports_from(c, 2, s, &n);
	if (!code)
		code = loads_push_share(
			s, n, &push, 1, along_x ? c->out : other, along_x ? other : c->out);
	c->nout = code ? 0 : n;
	return code;
}

static enum bad run_push_shares_x(struct call *c)
{
	return push_shares(c, true);
}

static enum bad run_push_shares_y(struct call *c)
{
	return push_shares(c, false);
}

static enum bad run_is_within_sites(struct call *c)
{
	struct support s[FORMULA_LENGTH];
	size_t n;
	enum bad code = supports_from(c, 2, s, &n);
	return code ? code : give(c, loads_is_inside(s, n, c->number[0], c->number[1]));
}

/* ---- Sections ------------------------------------------------------------------------------- */

static enum bad profile_of(struct call *c, size_t from, struct profile *out)
{
	return section_rectangle(c->number[from], c->number[from + 1], out);
}

static enum bad run_bar_inertia(struct call *c)
{
	struct profile p;
	enum bad code = profile_of(c, 0, &p);
	return code ? code : give(c, p.inertia_mm4);
}

static enum bad run_bar_section_modulus(struct call *c)
{
	struct profile p;
	enum bad code = profile_of(c, 0, &p);
	return code ? code : give(c, p.modulus_mm3);
}

static enum bad run_bar_twist_constant(struct call *c)
{
	struct profile p;
	enum bad code = profile_of(c, 0, &p);
	return code ? code : give(c, p.twist_mm4);
}

static enum bad run_bar_twist_modulus(struct call *c)
{
	struct profile p;
	enum bad code = profile_of(c, 0, &p);
	return code ? code : give(c, p.twist_modulus_mm3);
}

TAKES_3(net_section_modulus, section_net_modulus)

static enum bad run_bar_bending_stress(struct call *c)
{
	struct profile p;
	enum bad code = profile_of(c, 1, &p);
	return code ? code : give(c, section_bending_MPa(&p, c->number[0]));
}

static enum bad run_bar_shear_stress(struct call *c)
{
	struct profile p;
	enum bad code = profile_of(c, 2, &p);
	return code ? code : give(c, section_shear_MPa(&p, c->number[0], c->number[1]));
}

/* Bonded layers from three lists: widths, heights, moduli. */
static enum bad layers_of(struct call *c, struct layered *out)
{
	struct layer layer[FORMULA_LENGTH];
	const struct formula_span *w = &c->list[0], *h = &c->list[1], *e = &c->list[2];
	if (w->n != h->n || w->n != e->n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < w->n; i++)
		layer[i] = (struct layer){w->at[i], h->at[i], e->at[i]};
	return section_layered(layer, w->n, out);
}

static enum bad run_layered_axis(struct call *c)
{
	struct layered s;
	enum bad code = layers_of(c, &s);
	return code ? code : give(c, s.axis_mm);
}

static enum bad run_layered_bending(struct call *c)
{
	struct layered s;
	enum bad code = layers_of(c, &s);
	return code ? code : give(c, s.bend_Nmm2);
}

static enum bad run_loose_bending(struct call *c)
{
	struct layered s;
	enum bad code = layers_of(c, &s);
	return code ? code : give(c, s.loose_Nmm2);
}

/* ---- Beams ---------------------------------------------------------------------------------- */

/* load, length and bending stiffness (modulus times second moment) of a single span */
static enum bad beam_of(struct call *c, enum beam_case which, struct beam_answer *out)
{
	struct beam b = {c->number[1], c->number[2], 0};
	return beam_single(which, &b, c->number[0], out);
}

static enum bad beam_drop(struct call *c, enum beam_case which)
{
	struct beam_answer a;
	enum bad code = beam_of(c, which, &a);
	return code ? code : give(c, a.bend_mm);
}

/* Moments do not depend on the stiffness. */
static enum bad beam_moment(struct call *c, enum beam_case which)
{
	struct beam b = {c->number[1], 1, 0};
	struct beam_answer a;
	enum bad code = beam_single(which, &b, c->number[0], &a);
	if (code)
		return code;
	return give(c, a.hogging_Nmm > a.sagging_Nmm ? a.hogging_Nmm : a.sagging_Nmm);
}

#define BEAM(name, which) \
	static enum bad run_##name##_drop(struct call *c) \
	{ \
		return beam_drop(c, which); \
	} \
	static enum bad run_##name##_moment(struct call *c) \
	{ \
		return beam_moment(c, which); \
	}
BEAM(cantilever, BEAM_CANTILEVER_END)
BEAM(cantilever_uniform, BEAM_CANTILEVER_UNIFORM)
BEAM(span, BEAM_SIMPLE_CENTRE)
BEAM(span_uniform, BEAM_SIMPLE_UNIFORM)
BEAM(fixed_span, BEAM_FIXED_CENTRE)
BEAM(fixed_span_uniform, BEAM_FIXED_UNIFORM)
BEAM(propped_span, BEAM_PROPPED_CENTRE)
BEAM(propped_span_uniform, BEAM_PROPPED_UNIFORM)

static enum bad run_drop_change(struct call *c)
{
	const double *v = c->number;
	struct beam_change change = {v[0], v[1], v[2], v[3]};
	double stress;
	return beam_change_factors(&change, c->out, &stress);
}

static enum bad run_stress_change(struct call *c)
{
	const double *v = c->number;
	struct beam_change change = {v[0], v[1], v[2], 1};
	double drop;
	return beam_change_factors(&change, &drop, c->out);
}

static enum bad springs_of(struct call *c, struct beam_springs *out)
{
	const double *v = c->number;
	return beam_three_springs(v[0], v[1], v[2], v[3], out);
}

static enum bad run_three_springs_end(struct call *c)
{
	struct beam_springs s;
	enum bad code = springs_of(c, &s);
	return code ? code : give(c, s.end_N);
}

static enum bad run_three_springs_middle(struct call *c)
{
	struct beam_springs s;
	enum bad code = springs_of(c, &s);
	return code ? code : give(c, s.middle_N);
}

static enum bad bed_of(struct call *c, struct beam_bed *out)
{
	return beam_on_bed(c->number[0], c->number[1], c->number[2], out);
}

static enum bad run_bed_drop(struct call *c)
{
	struct beam_bed b;
	enum bad code = bed_of(c, &b);
	return code ? code : give(c, b.drop_mm);
}

static enum bad run_bed_moment(struct call *c)
{
	struct beam_bed b;
	enum bad code = bed_of(c, &b);
	return code ? code : give(c, b.moment_Nmm);
}

/* Spans in a row on unyielding supports: lengths and, for each, a force in its middle or a load
 * spread over it. Reactions do not depend on the stiffness. */
static enum bad row_of(struct call *c, bool spread, struct beam_line_answer *out)
{
	struct beam_span span[BEAM_SPANS];
	const struct formula_span *length = &c->list[0], *load = &c->list[1];
	if (length->n != load->n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	if (!length->n || length->n > BEAM_SPANS)
		return refuse(c, BAD_COUNT, "is given no span, or too many");
	for (size_t i = 0; i < length->n; i++) {
		double l = length->at[i], f = load->at[i];
		span[i] = spread ? (struct beam_span){l, l > 0 ? f / l : 0, 0, 0}
				 : (struct beam_span){l, 0, f, l / 2};
	}
	struct beam_line line = {span, length->n, 1, {0, 0}, {0, 0}};
	return beam_continuous(&line, out);
}

static enum bad row_reactions(struct call *c, bool spread)
{
	struct beam_line_answer a;
	enum bad code = row_of(c, spread, &a);
	if (code)
		return code;
	c->nout = c->list[0].n + 1;
	memcpy(c->out, a.carried_N, c->nout * sizeof *c->out);
	return FINE;
}

static enum bad row_moments(struct call *c, bool spread)
{
	struct beam_line_answer a;
	enum bad code = row_of(c, spread, &a);
	if (code)
		return code;
	c->nout = c->list[0].n + 1;
	memcpy(c->out, a.moment_Nmm, c->nout * sizeof *c->out);
	return FINE;
}

static enum bad run_continuous_reactions(struct call *c)
{
	return row_reactions(c, false);
}

static enum bad run_continuous_uniform_reactions(struct call *c)
{
	return row_reactions(c, true);
}

static enum bad run_continuous_moments(struct call *c)
{
	return row_moments(c, false);
}

static enum bad run_continuous_uniform_moments(struct call *c)
{
	return row_moments(c, true);
}

TAKES_5(height_for_strength, beam_height_for_strength)
TAKES_5(height_for_drop, beam_height_for_drop)
TAKES_5(length_for_strength, beam_length_for_strength)
TAKES_3(height_as_stiff, beam_height_as_stiff)

static enum bad run_arc_cantilever_drop(struct call *c)
{
	const double *v = c->number;
	struct curved bar = {v[1], v[3], v[4], 0};
	struct curved_cantilever a;
	enum bad code = curved_cantilever(&bar, v[2], v[0], &a);
	return code ? code : give(c, a.drop_mm);
}

static enum bad run_half_circle_drop(struct call *c)
{
	const double *v = c->number;
	struct curved bar = {v[1], v[2], v[3], 0};
	struct curved_semicircle a;
	enum bad code = curved_semicircle(&bar, v[0], &a);
	return code ? code : give(c, a.drop_mm);
}

/* ---- Strength ------------------------------------------------------------------------------- */

TAKES_2(wet_strength, safety_wet)

static enum bad run_fatigue_strength(struct call *c)
{
	const double *v = c->number;
	enum bad code = safety_fatigue(v[0], v[1], v[2], c->out);
	return code == BAD_NOTHING ? give(c, NAN) : code;
}

TAKES_2(safety_factor, safety_factor)
TAKES_2(allowed_stress, safety_allowed)

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_design[] = {
	/* A-P spread */
	ROW_("spread_to_distal", GIVES_(LENGTH_), run_spread_to_distal,
		"the A-P spread: anterior centre a to the line that touches the distal surfaces of "
		"p (right) and q (left)",
		CARRANZA, N_("xa", LENGTH_), N_("ya", LENGTH_), N_("xp", LENGTH_),
		N_("yp", LENGTH_), N_("rp", LENGTH_), N_("xq", LENGTH_), N_("yq", LENGTH_),
		N_("rq", LENGTH_)),
	ROW_("spread_to_centres", GIVES_(LENGTH_), run_spread_to_centres,
		"the A-P spread, anterior centre a to the line through the centres p (right) and q "
		"(left)",
		TRADE, N_("xa", LENGTH_), N_("ya", LENGTH_), N_("xp", LENGTH_), N_("yp", LENGTH_),
		N_("xq", LENGTH_), N_("yq", LENGTH_)),
	ROW_("spread_to_distal", GIVES_(LENGTH_), run_spread_to_distal_radii,
		"the A-P spread to the distal surfaces of a whole arch, sites from right to left; "
		"an even number of them gives the mean of the two anterior ones",
		CARRANZA, L_("x", LENGTH_), L_("y", LENGTH_), L_("radius", LENGTH_)),
	ROW_("spread_to_distal", GIVES_(LENGTH_), run_spread_to_distal_radius,
		"the same with one radius for all sites", CARRANZA, L_("x", LENGTH_),
		L_("y", LENGTH_), N_("radius", LENGTH_)),
	ROW_("spread_to_centres", GIVES_(LENGTH_), run_spread_to_centres_sites,
		"the A-P spread to the centres of a whole arch, sites from right to left", TRADE,
		L_("x", LENGTH_), L_("y", LENGTH_)),
	ROW_("anterior_site", GIVES_(NUMBER_), run_anterior_site,
		"the place in the list of the site farthest in front of the posterior pair (of "
		"two, the right one)",
		TRADE, L_("x", LENGTH_), L_("y", LENGTH_)),
	/* Cantilever */
	ROW_("cantilever_limit", GIVES_(LENGTH_), run_cantilever_limit,
		"the smaller of factor times spread and cap", CANTILEVER, N_("factor", NUMBER_),
		N_("spread", LENGTH_), N_("cap", LENGTH_)),
	ROW_("cantilever_limit", GIVES_(LENGTH_), run_cantilever_limit_uncapped,
		"factor times spread, without a cap", CANTILEVER, N_("factor", NUMBER_),
		N_("spread", LENGTH_)),
	ROW_("cantilever_from_reading", GIVES_(LENGTH_), run_cantilever_from_reading,
		"cantilever from a reading of hole centre to bar end, less the radius of the "
		"cylinder",
		TRADE, N_("reading", LENGTH_), N_("diameter", LENGTH_)),
	ROW_("cantilever_trim", GIVES_(LENGTH_), run_cantilever_trim,
		"what must come off a cantilever, 0 when it is within the limit", TRADE,
		N_("cantilever", LENGTH_), N_("limit", LENGTH_)),
	ROW_("cantilever_ratio_three", GIVES_(NUMBER_), run_cantilever_ratio_three,
		"cantilever over spread at which the terminal one of three sites carries the limit",
		SKALAK, N_("load", FORCE_), N_("limit", FORCE_)),
	ROW_("cantilever_ratio_four", GIVES_(NUMBER_), run_cantilever_ratio_four,
		"the same for four sites, from half the widths of the anterior and posterior pair",
		SKALAK, N_("load", FORCE_), N_("limit", FORCE_), N_("half_front", LENGTH_),
		N_("half_back", LENGTH_)),
	ROW_("arc_chord", GIVES_(LENGTH_), run_arc_chord,
		"the straight distance between the ends of an arc of this length", NULL,
		N_("radius", LENGTH_), N_("along", LENGTH_)),
	ROW_("arc_bending_arm", GIVES_(LENGTH_), run_arc_bending_arm,
		"how far the end of an arc lies out along the tangent at its start: the arm of "
		"bending",
		NULL, N_("radius", LENGTH_), N_("along", LENGTH_)),
	ROW_("arc_torsion_arm", GIVES_(LENGTH_), run_arc_torsion_arm,
		"how far it lies beside that tangent: the arm of torsion", NULL,
		N_("radius", LENGTH_), N_("along", LENGTH_)),
	ROW_("arc_angle", GIVES_(ANGLE_), run_arc_angle,
		"the angle of an arc: its length over the radius", NULL, N_("radius", LENGTH_),
		N_("along", LENGTH_)),
	ROW_("arc_along", GIVES_(LENGTH_), run_arc_along,
		"the length of an arc: radius times its angle", NULL, N_("radius", LENGTH_),
		N_("angle", ANGLE_)),
	/* The bar's centreline */
	ROW_("bar_length", GIVES_(LENGTH_), run_bar_length,
		"the length of the bar's centreline from the first centre to the last", CURVE,
		L_("x", LENGTH_), L_("y", LENGTH_)),
	ROW_("span_along", GIVES_(LENGTH_), run_span_along,
		"the length along the bar from the site at a place to the next, centre to centre",
		CURVE, L_("x", LENGTH_), L_("y", LENGTH_), N_("place", NUMBER_)),
	ROW_("span_clear", GIVES_(LENGTH_), run_span_clear,
		"the straight distance from the site at a place to the next, surface to surface",
		NULL, L_("x", LENGTH_), L_("y", LENGTH_), N_("radius", LENGTH_),
		N_("place", NUMBER_)),
	ROW_("right_end_x", GIVES_(LENGTH_), run_right_end_x,
		"x of the bar's right end, the extension counted from the distal surface", CURVE,
		L_("x", LENGTH_), L_("y", LENGTH_), N_("radius", LENGTH_),
		N_("extension", LENGTH_)),
	ROW_("right_end_y", GIVES_(LENGTH_), run_right_end_y,
		"y of the bar's right end, the extension counted from the distal surface", CURVE,
		L_("x", LENGTH_), L_("y", LENGTH_), N_("radius", LENGTH_),
		N_("extension", LENGTH_)),
	ROW_("left_end_x", GIVES_(LENGTH_), run_left_end_x,
		"x of the bar's left end, the extension counted from the distal surface", CURVE,
		L_("x", LENGTH_), L_("y", LENGTH_), N_("radius", LENGTH_),
		N_("extension", LENGTH_)),
	ROW_("left_end_y", GIVES_(LENGTH_), run_left_end_y,
		"y of the bar's left end, the extension counted from the distal surface", CURVE,
		L_("x", LENGTH_), L_("y", LENGTH_), N_("radius", LENGTH_),
		N_("extension", LENGTH_)),
	/* Vertical space */
	ROW_("bar_underside", GIVES_(LENGTH_), run_bar_underside,
		"height of the bar's underside: tissue plus clearance", TRADE,
		N_("tissue", LENGTH_), N_("clearance", LENGTH_)),
	ROW_("space_for_bar", GIVES_(LENGTH_), run_space_for_bar,
		"thickness left for the bar: matrix less all that lies under and over it; may be "
		"negative",
		TRADE, N_("matrix", LENGTH_), N_("underside", LENGTH_), N_("opaque", LENGTH_),
		N_("resin", LENGTH_), N_("tooth", LENGTH_)),
	ROW_REFERS_("stock_choice", GIVES_(LENGTH_), run_stock_choice,
		"the thickest stock that fits and is not under the minimum; nothing when there is "
		"none: refer back",
		TRADE, L_("stock", LENGTH_), N_("available", LENGTH_), N_("minimum", LENGTH_)),
	ROW_("stock_shortfall", GIVES_(LENGTH_), run_stock_shortfall,
		"what is missing to the thinnest stock that is not under the minimum; 0 when one "
		"fits",
		TRADE, L_("stock", LENGTH_), N_("available", LENGTH_), N_("minimum", LENGTH_)),
	ROW_("space_margin", GIVES_(LENGTH_), run_space_margin,
		"measured space less a minimum; negative when there is too little", TRADE,
		N_("measured", LENGTH_), N_("minimum", LENGTH_)),
	ROW_("along_tilt", GIVES_(LENGTH_), run_along_tilt,
		"length along an axis tilted from the vertical: height / cos(tilt)", NULL,
		N_("height", LENGTH_), N_("tilt", ANGLE_)),
	ROW_("cut_down", GIVES_(LENGTH_), run_cut_down,
		"what is cut off a cylinder: its height less (underside + thickness + protrusion) "
		"/ cos(tilt), at least 0",
		TRADE, N_("cylinder", LENGTH_), N_("underside", LENGTH_), N_("thickness", LENGTH_),
		N_("protrusion", LENGTH_), N_("tilt", ANGLE_)),
	ROW_("cut_down", GIVES_(LENGTH_), run_cut_down_upright,
		"the same for a cylinder that stands upright", TRADE, N_("cylinder", LENGTH_),
		N_("underside", LENGTH_), N_("thickness", LENGTH_), N_("protrusion", LENGTH_)),
	ROW_("first_cut", GIVES_(LENGTH_), run_first_cut,
		"the first of two cuts, which leaves the allowance for the second", TRADE,
		N_("final", LENGTH_), N_("allowance", LENGTH_)),
	ROW_("cover_limit", GIVES_(LENGTH_), run_cover_limit,
		"the highest top of a cylinder under this cover of resin", TRADE,
		N_("matrix", LENGTH_), N_("cover", LENGTH_)),
	ROW_("cover_margin", GIVES_(LENGTH_), run_cover_margin,
		"cover limit less kept height; negative when the cylinder stands too high", TRADE,
		N_("kept", LENGTH_), N_("matrix", LENGTH_), N_("cover", LENGTH_)),
	ROW_("engaged_height", GIVES_(LENGTH_), run_engaged_height,
		"height over which sleeve and bar overlap: min(thickness, kept - underside), at "
		"least 0",
		TRADE, N_("kept", LENGTH_), N_("underside", LENGTH_), N_("thickness", LENGTH_)),
	ROW_("build_up", GIVES_(LENGTH_), run_build_up,
		"what the bar must be built up at a sleeve to engage the required height", TRADE,
		N_("required", LENGTH_), N_("thickness", LENGTH_)),
	/* Holes */
	ROW_("hole_diameter", GIVES_(LENGTH_), run_hole_diameter,
		"hole for a cylinder with this gap all round: cylinder + 2 * gap", TRADE,
		N_("cylinder", LENGTH_), N_("gap", LENGTH_)),
	ROW_("hole_diameter", GIVES_(LENGTH_), run_hole_diameter_tilted,
		"hole that lets a tilted cylinder through: cylinder / cos(tilt) + thickness * "
		"tan(tilt) + 2 * gap",
		TRADE, N_("cylinder", LENGTH_), N_("gap", LENGTH_), N_("thickness", LENGTH_),
		N_("tilt", ANGLE_)),
	ROW_("wall_near", GIVES_(LENGTH_), run_wall_near,
		"the thinner wall beside a hole off the bar's centreline", TRADE,
		N_("width", LENGTH_), N_("hole", LENGTH_), N_("offset", LENGTH_)),
	ROW_("wall_far", GIVES_(LENGTH_), run_wall_far,
		"the thicker wall beside a hole off the bar's centreline", TRADE,
		N_("width", LENGTH_), N_("hole", LENGTH_), N_("offset", LENGTH_)),
	ROW_("bar_width", GIVES_(LENGTH_), run_bar_width,
		"bar width that keeps this wall on both sides: hole + 2 * (wall + offset)", TRADE,
		N_("hole", LENGTH_), N_("wall", LENGTH_), N_("offset", LENGTH_)),
	ROW_("ligament", GIVES_(LENGTH_), run_ligament,
		"what stands between two holes: pitch less half of both", TRADE,
		N_("pitch", LENGTH_), N_("first", LENGTH_), N_("second", LENGTH_)),
	ROW_("hole_offset", GIVES_(LENGTH_), run_hole_offset,
		"how far a hole lies off the centreline, from a reading of the wall on each side: "
		"half their difference",
		TRADE, N_("left", LENGTH_), N_("right", LENGTH_)),
	ROW_("hole_residual", GIVES_(LENGTH_), run_hole_residual,
		"still to remove on each side from a pilot hole", TRADE, N_("hole", LENGTH_),
		N_("pilot", LENGTH_)),
	ROW_("hole_volume", GIVES_(VOLUME_), run_hole_volume,
		"material one hole removes: pi / 4 * hole^2 * thickness", NULL, N_("hole", LENGTH_),
		N_("thickness", LENGTH_)),
	/* Load on the sites */
	ROW_("load_shares", GIVES_LIST_(FORCE_), run_load_shares,
		"what each site carries of a load at a place, under a rigid bridge; pressure "
		"positive",
		SKALAK, L_("x", LENGTH_), L_("y", LENGTH_), N_("load", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("load_shares", GIVES_LIST_(FORCE_), run_load_shares_springs,
		"the same for sites of unequal stiffness", SKALAK, L_("x", LENGTH_),
		L_("y", LENGTH_), L_("stiffness", SPRING_), N_("load", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("push_shares_x", GIVES_LIST_(FORCE_), run_push_shares_x,
		"what each site carries, along x, of a push in the plane", BOLTS, L_("x", LENGTH_),
		L_("y", LENGTH_), N_("push_x", FORCE_), N_("push_y", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("push_shares_y", GIVES_LIST_(FORCE_), run_push_shares_y,
		"what each site carries, along y, of a push in the plane", BOLTS, L_("x", LENGTH_),
		L_("y", LENGTH_), N_("push_x", FORCE_), N_("push_y", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("is_within_sites", GIVES_TRUTH_, run_is_within_sites,
		"true when a place lies within the outline of the sites; a load outside pulls at "
		"least one of them up",
		"statics", L_("x", LENGTH_), L_("y", LENGTH_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	/* Sections */
	ROW_("bar_inertia", GIVES_(INERTIA_), run_bar_inertia,
		"second moment of area of a bar under loads along its height: width * height^3 / "
		"12",
		TEXTBOOK, N_("width", LENGTH_), N_("height", LENGTH_)),
	ROW_("bar_section_modulus", GIVES_(VOLUME_), run_bar_section_modulus,
		"section modulus of a bar: width * height^2 / 6", TEXTBOOK, N_("width", LENGTH_),
		N_("height", LENGTH_)),
	ROW_("bar_twist_constant", GIVES_(INERTIA_), run_bar_twist_constant,
		"torsion constant of a rectangular bar, exact series", TORSION,
		N_("width", LENGTH_), N_("height", LENGTH_)),
	ROW_("bar_twist_modulus", GIVES_(VOLUME_), run_bar_twist_modulus,
		"torque over the greatest shear stress it makes in a rectangular bar", TORSION,
		N_("width", LENGTH_), N_("height", LENGTH_)),
	ROW_("net_section_modulus", GIVES_(VOLUME_), run_net_section_modulus,
		"section modulus where a hole takes its diameter from the width: (width - hole) * "
		"height^2 / 6",
		TEXTBOOK, N_("width", LENGTH_), N_("height", LENGTH_), N_("hole", LENGTH_)),
	ROW_("bar_bending_stress", GIVES_(STRESS_), run_bar_bending_stress,
		"greatest bending stress in a rectangular bar", TEXTBOOK, N_("moment", MOMENT_),
		N_("width", LENGTH_), N_("height", LENGTH_)),
	ROW_("bar_shear_stress", GIVES_(STRESS_), run_bar_shear_stress,
		"greatest shear stress in a rectangular bar of a force and a torque together, an "
		"upper bound",
		TEXTBOOK, N_("force", FORCE_), N_("torque", MOMENT_), N_("width", LENGTH_),
		N_("height", LENGTH_)),
	ROW_("layered_axis", GIVES_(LENGTH_), run_layered_axis,
		"neutral axis of bonded layers above their bottom", TEXTBOOK, L_("widths", LENGTH_),
		L_("heights", LENGTH_), L_("moduli", STRESS_)),
	ROW_("layered_bending", GIVES_(BENDING_), run_layered_bending,
		"bending stiffness of bonded layers, from the bottom up", TEXTBOOK,
		L_("widths", LENGTH_), L_("heights", LENGTH_), L_("moduli", STRESS_)),
	ROW_("loose_bending", GIVES_(BENDING_), run_loose_bending,
		"bending stiffness of the same layers without their bond", TEXTBOOK,
		L_("widths", LENGTH_), L_("heights", LENGTH_), L_("moduli", STRESS_)),
	/* Beams */
	ROW_("cantilever_drop", GIVES_(LENGTH_), run_cantilever_drop,
		"greatest drop of a cantilever, load at its end; load is the whole load, bending "
		"is modulus times second moment of area",
		ROARK, N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("cantilever_moment", GIVES_(MOMENT_), run_cantilever_moment,
		"greatest bending moment of a cantilever, load at its end", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("cantilever_uniform_drop", GIVES_(LENGTH_), run_cantilever_uniform_drop,
		"greatest drop of a cantilever, load spread evenly", ROARK, N_("load", FORCE_),
		N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("cantilever_uniform_moment", GIVES_(MOMENT_), run_cantilever_uniform_moment,
		"greatest bending moment of a cantilever, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("span_drop", GIVES_(LENGTH_), run_span_drop,
		"greatest drop of a span on two supports, load in the middle", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("span_moment", GIVES_(MOMENT_), run_span_moment,
		"greatest bending moment of a span on two supports, load in the middle", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("span_uniform_drop", GIVES_(LENGTH_), run_span_uniform_drop,
		"greatest drop of a span on two supports, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("span_uniform_moment", GIVES_(MOMENT_), run_span_uniform_moment,
		"greatest bending moment of a span on two supports, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("fixed_span_drop", GIVES_(LENGTH_), run_fixed_span_drop,
		"greatest drop of a span with fixed ends, load in the middle", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("fixed_span_moment", GIVES_(MOMENT_), run_fixed_span_moment,
		"greatest bending moment of a span with fixed ends, load in the middle", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("fixed_span_uniform_drop", GIVES_(LENGTH_), run_fixed_span_uniform_drop,
		"greatest drop of a span with fixed ends, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("fixed_span_uniform_moment", GIVES_(MOMENT_), run_fixed_span_uniform_moment,
		"greatest bending moment of a span with fixed ends, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("propped_span_drop", GIVES_(LENGTH_), run_propped_span_drop,
		"greatest drop of a span with one fixed end, load in the middle", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("propped_span_moment", GIVES_(MOMENT_), run_propped_span_moment,
		"greatest bending moment of a span with one fixed end, load in the middle", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("propped_span_uniform_drop", GIVES_(LENGTH_), run_propped_span_uniform_drop,
		"greatest drop of a span with one fixed end, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("bending", BENDING_)),
	ROW_("propped_span_uniform_moment", GIVES_(MOMENT_), run_propped_span_uniform_moment,
		"greatest bending moment of a span with one fixed end, load spread evenly", ROARK,
		N_("load", FORCE_), N_("length", LENGTH_)),
	ROW_("drop_change", GIVES_(NUMBER_), run_drop_change,
		"factor of the drop when span, height, width and modulus change by these factors: "
		"span^3 / (height^3 * width * modulus)",
		LUND, N_("span", NUMBER_), N_("height", NUMBER_), N_("width", NUMBER_),
		N_("modulus", NUMBER_)),
	ROW_("stress_change", GIVES_(NUMBER_), run_stress_change,
		"factor of the bending stress under the same force: span / (height^2 * width)",
		TEXTBOOK, N_("span", NUMBER_), N_("height", NUMBER_), N_("width", NUMBER_)),
	ROW_("height_for_strength", GIVES_(LENGTH_), run_height_for_strength,
		"bar height at which a cantilever keeps the allowed stress", TEXTBOOK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("width", LENGTH_),
		N_("allowed", STRESS_), N_("safety", NUMBER_)),
	ROW_("height_for_drop", GIVES_(LENGTH_), run_height_for_drop,
		"bar height at which a cantilever keeps the allowed drop", TEXTBOOK,
		N_("load", FORCE_), N_("length", LENGTH_), N_("width", LENGTH_),
		N_("modulus", STRESS_), N_("allowed", LENGTH_)),
	ROW_("length_for_strength", GIVES_(LENGTH_), run_length_for_strength,
		"longest cantilever that keeps the allowed stress", TEXTBOOK, N_("load", FORCE_),
		N_("width", LENGTH_), N_("height", LENGTH_), N_("allowed", STRESS_),
		N_("safety", NUMBER_)),
	ROW_("height_as_stiff", GIVES_(LENGTH_), run_height_as_stiff,
		"the height in the other material that is as stiff", TEXTBOOK,
		N_("height", LENGTH_), N_("modulus", STRESS_), N_("other_modulus", STRESS_)),
	ROW_("three_springs_end", GIVES_(FORCE_), run_three_springs_end,
		"what an outer one of three equal sites carries of a load over the middle one, two "
		"equal spans",
		"statics", N_("load", FORCE_), N_("span", LENGTH_), N_("bending", BENDING_),
		N_("spring", SPRING_)),
	ROW_("three_springs_middle", GIVES_(FORCE_), run_three_springs_middle,
		"what the middle one carries", "statics", N_("load", FORCE_), N_("span", LENGTH_),
		N_("bending", BENDING_), N_("spring", SPRING_)),
	ROW_("bed_drop", GIVES_(LENGTH_), run_bed_drop,
		"drop under a load far from the ends of a long beam on a bed of springs, bed in "
		"N/mm for each mm",
		"Hetenyi 1946 (from memory)", N_("load", FORCE_), N_("bending", BENDING_),
		N_("bed", STRESS_)),
	ROW_("bed_moment", GIVES_(MOMENT_), run_bed_moment, "bending moment under that load",
		"Hetenyi 1946 (from memory)", N_("load", FORCE_), N_("bending", BENDING_),
		N_("bed", STRESS_)),
	ROW_("continuous_reactions", GIVES_LIST_(FORCE_), run_continuous_reactions,
		"what each support of spans in a row carries, a load in the middle of each span",
		CLAPEYRON, L_("lengths", LENGTH_), L_("loads", FORCE_)),
	ROW_("continuous_uniform_reactions", GIVES_LIST_(FORCE_), run_continuous_uniform_reactions,
		"the same, each load spread over its span", CLAPEYRON, L_("lengths", LENGTH_),
		L_("loads", FORCE_)),
	ROW_("continuous_moments", GIVES_LIST_(MOMENT_), run_continuous_moments,
		"moment over each support, negative where the tension is above; a load in the "
		"middle of each span",
		CLAPEYRON, L_("lengths", LENGTH_), L_("loads", FORCE_)),
	ROW_("continuous_uniform_moments", GIVES_LIST_(MOMENT_), run_continuous_uniform_moments,
		"the same, each load spread over its span", CLAPEYRON, L_("lengths", LENGTH_),
		L_("loads", FORCE_)),
	ROW_("arc_cantilever_drop", GIVES_(LENGTH_), run_arc_cantilever_drop,
		"drop at the end of a cantilever curved in an arc, bending and torsion together",
		TIMOSHENKO, N_("load", FORCE_), N_("radius", LENGTH_), N_("angle", ANGLE_),
		N_("bending", BENDING_), N_("twisting", BENDING_)),
	ROW_("half_circle_drop", GIVES_(LENGTH_), run_half_circle_drop,
		"drop at the crown of a half circle with fixed ends", TIMOSHENKO,
		N_("load", FORCE_), N_("radius", LENGTH_), N_("bending", BENDING_),
		N_("twisting", BENDING_)),
	/* Strength */
	ROW_("wet_strength", GIVES_(STRESS_), run_wet_strength, "what water leaves of a strength",
		TRADE, N_("dry", STRESS_), N_("share", NUMBER_)),
	ROW_REFERS_("fatigue_strength", GIVES_(STRESS_), run_fatigue_strength,
		"strength * (1 - loss * log10(cycles)); nothing when none is left",
		"Mandell (from memory)", N_("strength", STRESS_), N_("loss", NUMBER_),
		N_("cycles", NUMBER_)),
	ROW_("safety_factor", GIVES_(NUMBER_), run_safety_factor, "strength over stress", NULL,
		N_("strength", STRESS_), N_("stress", STRESS_)),
	ROW_("allowed_stress", GIVES_(STRESS_), run_allowed_stress,
		"strength over the wanted safety factor", NULL, N_("strength", STRESS_),
		N_("safety", NUMBER_)),
};
const size_t function_design_rows = sizeof function_design / sizeof *function_design;
