/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sections, beams and what they bear. What the functions compute, and
 * where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>
#include <string.h>

#include <barwright/calc/beam.h>
#include <barwright/calc/curved.h>
#include <barwright/calc/safety.h>
#include <barwright/calc/section.h>

/* Sources that several rows share. */
#define TRADE      "common practice of the trade"
#define TEXTBOOK   "any text on strength of materials (from memory)"
#define TORSION    "Timoshenko and Goodier, Theory of Elasticity (from memory)"
#define ROARK      "Young and Budynas, Roark's Formulas, 7th ed. 2002, table 8.1 (from memory)"
#define LUND       "Rodriguez, Aquilino, Lund, J Prosthodont 1994;3:41"
#define CLAPEYRON  "Clapeyron 1857, three moments (from memory)"
#define TIMOSHENKO "Timoshenko, Strength of Materials I, 3rd ed. 1955 (from memory)"
#define RING       "circular beams, Hassoun, Structural Concrete, table 21.1"

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

/* Stress in one of the layers, counted from the bottom, at a height above the bottom of all. */
static enum bad run_layered_stress(struct call *c)
{
	const double moment = c->number[0], place = c->number[1], height = c->number[2];
	const struct formula_span *h = &c->list[1];
	struct layered s;
	enum bad code = layers_of(c, &s);
	if (code)
		return code;
	if (!(place >= 1 && place <= (double)h->n) || place != floor(place))
		return refuse(c, BAD_RANGE, "is given a layer that is not there");
	double bottom = 0, slack = 1e-9;
	size_t layer = (size_t)place - 1;
	for (size_t i = 0; i < layer; i++)
		bottom += h->at[i];
	if (!(height >= bottom - slack && height <= bottom + h->at[layer] + slack))
		return refuse(c, BAD_RANGE, "is given a height outside of that layer");
	return give(c, section_layered_stress_MPa(&s, c->list[2].at[layer], moment, height));
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

TAKES_1(shear_factor, section_shear_cowper)

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

/* load of each millimetre, radius, number of supports */
static enum bad ring_of(struct call *c, struct curved_ring *out)
{
	double n = c->number[2];
	if (!(n >= 2 && n <= CURVED_SUPPORTS) || n != floor(n))
		return refuse(c, BAD_COUNT, "is given no whole number of supports from 2 on");
	return curved_ring((unsigned)n, out);
}

/* What a factor of the ring makes of load and radius. */
static enum bad ring_give(struct call *c, enum bad code, double factor)
{
	const double *v = c->number;
	return code ? code : give(c, factor * v[0] * v[1] * v[1]);
}

static enum bad run_ring_support_moment(struct call *c)
{
	struct curved_ring r = {0};
	enum bad code = ring_of(c, &r);
	return ring_give(c, code, r.support);
}

static enum bad run_ring_midway_moment(struct call *c)
{
	struct curved_ring r = {0};
	enum bad code = ring_of(c, &r);
	return ring_give(c, code, r.midway);
}

static enum bad run_ring_torque(struct call *c)
{
	struct curved_ring r = {0};
	enum bad code = ring_of(c, &r);
	return ring_give(c, code, r.torque);
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

const struct function function_beam[] = {
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
	ROW_("layered_stress", GIVES_(STRESS_), run_layered_stress,
		"bending stress in bonded layers, tension positive: in one layer (counted from the "
		"bottom) at a height above the bottom of all, under a moment that pulls the "
		"underside",
		TEXTBOOK, L_("widths", LENGTH_), L_("heights", LENGTH_), L_("moduli", STRESS_),
		N_("moment", MOMENT_), N_("layer", NUMBER_), N_("height", LENGTH_)),
	ROW_("shear_factor", GIVES_(NUMBER_), run_shear_factor,
		"shear factor of a rectangular bar, from Poisson's ratio; 5/6 at 0",
		"Cowper, J Appl Mech 1966;33:335 (equation from memory)", N_("poisson", NUMBER_)),
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
	ROW_("ring_support_moment", GIVES_(MOMENT_), run_ring_support_moment,
		"bending moment over a support of a closed ring on equal supports at equal "
		"distances, tension above; the load is that of each millimetre of the ring",
		RING, N_("load", SPRING_), N_("radius", LENGTH_), N_("supports", NUMBER_)),
	ROW_("ring_midway_moment", GIVES_(MOMENT_), run_ring_midway_moment,
		"the same midway between two supports, tension below", RING, N_("load", SPRING_),
		N_("radius", LENGTH_), N_("supports", NUMBER_)),
	ROW_("ring_torque", GIVES_(MOMENT_), run_ring_torque, "the greatest torque in that ring",
		RING, N_("load", SPRING_), N_("radius", LENGTH_), N_("supports", NUMBER_)),
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
const size_t function_beam_rows = sizeof function_beam / sizeof *function_beam;
