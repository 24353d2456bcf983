/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calculations of the arch: A-P spread, cantilever, the bar's centreline. What the functions compute, and
 * where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/arch.h>

/* Sources that several rows share. */
#define TRADE "common practice of the trade"
#define CARRANZA \
	"Chung, Chang, Klokkevold in Carranza's Clinical Periodontology, 12th ed. 2015, ch. 74"
#define CANTILEVER \
	"a guideline without prospective validation: Walter, Greenstein, JADA 2020;151:790"
#define SKALAK "Skalak, J Prosthet Dent 1983;49:843 (idea; equations from memory)"
#define CURVE  "de Boor, A Practical Guide to Splines, 1978, ch. IV"

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

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_arch[] = {
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
};
const size_t function_arch_rows = sizeof function_arch / sizeof *function_arch;
