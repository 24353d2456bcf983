/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <stdbool.h>

#include <barwright/base/bad.h>
#include <barwright/calc/beam.h>
#include <barwright/calc/section.h>

#include "draws.h"

/* The bar of most examples: 5 x 4 mm, E 20 000 MPa, G 4 000 MPa. */
static const double bar_bend = 20000 * 80. / 3;
static const double bar_shear = 5. / 6 * 4000 * 20;

/* ---- single spans ---------------------------------------------------------------------------- */

struct single_case {
	const char *why;
	enum beam_case which;
	double total_N, length_mm;
	double moment_Nmm, drop_mm; /* greatest */
};
/* Young and Budynas, Roark's Formulas, table 8.1, and AISC Manual (formulas from memory; numbers
 * computed). */
static const struct single_case single_cases[] = {
	{"cantilever, force at the end", BEAM_CANTILEVER_END, 200, 10, 2000, 0.125},
	{"cantilever, uniform", BEAM_CANTILEVER_UNIFORM, 20 * 10, 10, 1000, 0.046875},
	{"two supports, force in the middle", BEAM_SIMPLE_CENTRE, 200, 20, 1000, 0.0625},
	{"two supports, uniform", BEAM_SIMPLE_UNIFORM, 10 * 20, 20, 500, 0.0390625},
	{"fixed, force in the middle", BEAM_FIXED_CENTRE, 200, 20, 500, 0.015625},
	{"fixed, uniform", BEAM_FIXED_UNIFORM, 10 * 20, 20, 333.3333333, 0.0078125},
	{"propped, force in the middle", BEAM_PROPPED_CENTRE, 200, 20, 750, 0.0279508},
	{"propped, uniform", BEAM_PROPPED_UNIFORM, 10 * 20, 20, 500, 0.0162484},
};

static void single_spans_are_those_of_the_handbooks(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof single_cases / sizeof *single_cases; i++) {
		const struct single_case *k = &single_cases[i];
		const struct beam b = {k->length_mm, bar_bend, 0};
		struct beam_answer a;
		code_is(beam_single(k->which, &b, k->total_N, &a), FINE);
		near(k->why, fmax(a.hogging_Nmm, a.sagging_Nmm), k->moment_Nmm, 1e-6);
		near(k->why, a.bend_mm, k->drop_mm, 1e-7);
		near(k->why, a.shear_mm, 0, 0);
	}
}

static void cantilever_turns_and_is_stressed(void **state)
{
	(void)state;
	const struct beam b = {10, bar_bend, 0};
	struct profile s;
	struct beam_answer a;
	code_is(section_rectangle(5, 4, &s), FINE);
	code_is(beam_single(BEAM_CANTILEVER_END, &b, 200, &a), FINE);
	near("stress", section_bending_MPa(&s, a.hogging_Nmm), 150, 1e-6);
	near("slope", a.slope_rad, 0.01875, 1e-6);
	near("where", a.at_mm, 10, 0);
}

static void propped_beam_has_its_five_numbers(void **state)
{
	(void)state;
	const struct beam b = {20, bar_bend, 0};
	struct beam_answer a;
	code_is(beam_single(BEAM_PROPPED_CENTRE, &b, 200, &a), FINE);
	near("prop", a.prop_N, 62.5, 1e-6);
	near("fixed end", a.hogging_Nmm, 750, 1e-6);
	near("under the load", a.sagging_Nmm, 625, 1e-6);
	near("greatest", a.bend_mm, 0.0279508, 1e-6);
	near("drop under the load", a.middle_mm, 0.0273438, 1e-6);
	near("place", a.at_mm, 20 / sqrt(5), 1e-12);
	code_is(beam_single(BEAM_PROPPED_UNIFORM, &b, 200, &a), FINE);
	near("propped, uniform", a.bend_mm, 0.016248, 1e-5);
	near("place", a.at_mm / 20, 0.421535, 1e-5);
	near("prop", a.prop_N, 75, 1e-12);
}

/* S. P. Timoshenko's beam (formula from memory), computed. */
static void shear_adds_a_quarter_to_a_short_fibre_bar(void **state)
{
	(void)state;
	const struct beam b = {10, bar_bend, bar_shear};
	struct beam_answer a;
	code_is(beam_single(BEAM_CANTILEVER_END, &b, 200, &a), FINE);
	near("shear", a.shear_mm, 0.03, 1e-6);
	near("both", a.bend_mm + a.shear_mm, 0.155, 1e-9);
	code_is(beam_single(BEAM_CANTILEVER_UNIFORM, &b, 200, &a), FINE);
	near("uniform, half", a.shear_mm, 0.015, 1e-9);
	code_is(beam_single(BEAM_SIMPLE_CENTRE, &b, 200, &a), FINE);
	near("two supports, a quarter", a.shear_mm, 0.0075, 1e-9);
	code_is(beam_single(BEAM_PROPPED_CENTRE, &b, 200, &a), BAD_RANGE);
}

/* 3 x 2 in, E 1e7 psi, v 0.3, 15 in, 1000 lb: 0.02500, 0.00078, 0.02578 in; hand values of
 * a published verification manual for a frame program (shear 12(1 + v)PL/5AE). */
static void cantilever_of_a_verification_manual(void **state)
{
	(void)state;
	struct profile s;
	struct beam_answer a;
	code_is(section_rectangle(2, 3, &s), FINE);
	const double shear_modulus = 1e7 / 2.6;
	const struct beam b = {
		15, 1e7 * s.inertia_mm4, SECTION_SHEAR_ENERGY * shear_modulus * s.area_mm2};
	code_is(beam_single(BEAM_CANTILEVER_END, &b, 1000, &a), FINE);
	near("bending", a.bend_mm, 0.02500, 1e-5);
	near("shear", a.shear_mm, 0.00078, 1e-5);
	near("total", a.bend_mm + a.shear_mm, 0.02578, 1e-5);
}

/* Every number of every case from its moments alone: they are integrated from the left end,
 * fixed or supported, and must arrive at the right end as its support wants. Unit load, length,
 * stiffnesses. */
static void every_case_is_the_integral_of_its_moments(void **state)
{
	(void)state;
	enum { STEPS = 20000 };
	static const struct {
		const char *why;
		bool fixed_left, supported_right, fixed_right, uniform;
		double where; /* of the force */
	} ends[BEAM_CASES] = {
		[BEAM_CANTILEVER_END] = {"cantilever, end", true, false, false, false, 1},
		[BEAM_CANTILEVER_UNIFORM] = {"cantilever, uniform", true, false, false, true, 0},
		[BEAM_SIMPLE_CENTRE] = {"simple, centre", false, true, false, false, 0.5},
		[BEAM_SIMPLE_UNIFORM] = {"simple, uniform", false, true, false, true, 0},
		[BEAM_FIXED_CENTRE] = {"fixed, centre", true, true, true, false, 0.5},
		[BEAM_FIXED_UNIFORM] = {"fixed, uniform", true, true, true, true, 0},
		[BEAM_PROPPED_CENTRE] = {"propped, centre", true, true, false, false, 0.5},
		[BEAM_PROPPED_UNIFORM] = {"propped, uniform", true, true, false, true, 0},
	};
	for (int c = 0; c < BEAM_CASES; c++) {
		const char *why = ends[c].why;
		const bool propped = c == BEAM_PROPPED_CENTRE || c == BEAM_PROPPED_UNIFORM;
		const double h = 1. / STEPS;
		const struct beam b = {1, 1, propped ? 0 : 1};
		struct beam_answer a;
		code_is(beam_single((enum beam_case)c, &b, 1, &a), FINE);
		double right = propped ? a.prop_N : ends[c].supported_right ? 0.5 : 0;
		double slope = ends[c].fixed_left ? 0 : a.slope_rad, drop = 0, slide = 0, sag = 0;
		double most = 0, at = 0, middle = 0, most_slide = 0;
		for (int i = 0; i < STEPS; i++) {
			double x = h * (i + 0.5);
			double passed = ends[c].uniform ? x : x > ends[c].where;
			double arm = ends[c].uniform ? x * x / 2 : fmax(x - ends[c].where, 0);
			double moment = (1 - right) * x - arm - a.hogging_Nmm;
			sag = fmax(sag, moment);
			drop += h * slope - h * h / 2 * moment;
			slope -= h * moment;
			slide += h * (1 - right - passed);
			if (drop > most) {
				most = drop;
				at = h * (i + 1);
			}
			most_slide = fmax(most_slide, slide);
			if (i + 1 == STEPS / 2)
				middle = drop;
		}
		near(why, a.sagging_Nmm, sag, 1e-4);
		near(why, a.bend_mm, most, 1e-7);
		near(why, propped ? 1 - a.at_mm : a.at_mm, at, 1e-3);
		near(why, a.middle_mm, middle, 1e-7);
		if (!propped)
			near(why, a.shear_mm, most_slide, 1e-4);
		if (ends[c].supported_right)
			near(why, drop, 0, 1e-7);
		if (ends[c].fixed_right)
			near(why, slope, 0, 1e-7);
		else
			near(why, fabs(slope), a.slope_rad, 1e-7);
		near(why, a.prop_N, c >= BEAM_SIMPLE_CENTRE && !ends[c].fixed_right ? right : 0, 0);
	}
}

static void no_beam_without_length_or_stiffness(void **state)
{
	(void)state;
	static const struct beam wrong[] = {
		{0, 1, 0}, {-1, 1, 0}, {NAN, 1, 0}, {1, 0, 0}, {1, INFINITY, 0}, {1, 1, -1}};
	struct beam_answer a = {.hogging_Nmm = 7};
	for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
		code_is(beam_single(BEAM_SIMPLE_CENTRE, &wrong[i], 1, &a), BAD_RANGE);
	code_is(beam_single(BEAM_SIMPLE_CENTRE, &(struct beam){1, 1, 0}, NAN, &a), BAD_RANGE);
	code_is(beam_single(BEAM_CASES, &(struct beam){1, 1, 0}, 1, &a), BAD_RANGE);
	code_is(beam_single(BEAM_SIMPLE_CENTRE, &(struct beam){1e200, 1, 0}, 1e200, &a), BAD_RANGE);
	near("left alone", a.hogging_Nmm, 7, 0);
}

/* ---- continuous beams ------------------------------------------------------------------------ */

struct line_case {
	const char *why;
	size_t nspan;
	double uniform[4], point[4];        /* of each span, in w and P; force at mid span */
	double carried[5], tolerance;       /* x wL or P */
	double moment[5], moment_tolerance; /* over the supports; 0: not checked */
	double drop, drop_tolerance;        /* greatest, x wL^4/EI or PL^3/EI; 0: not checked */
};
/* T. G. Hicks, Civil Engineering Formulas, table 2.1 (fractions); M. R. Lindeburg, Civil
 * Engineering Reference Manual, 15th ed., and tables of the AISC kind (decimals); else computed
 * by an independent script. */
static const struct line_case line_cases[] = {
	/* Hicks; Lindeburg 0.0054 */
	{"two spans, uniform", 2, {1, 1}, {0}, {0.375, 1.25, 0.375}, 1e-6, {0, -0.125, 0}, 1e-6,
		0.0054, 5e-5},
	/* Hicks; Lindeburg 0.0069 */
	{"three spans, uniform", 3, {1, 1, 1}, {0}, {0.4, 1.1, 1.1, 0.4}, 1e-6, {0, -0.1, -0.1, 0},
		1e-6, 0.0069, 5e-5},
	/* Hicks; 0.0065 from memory */
	{"four spans, uniform", 4, {1, 1, 1, 1}, {0},
		{11. / 28, 32. / 28, 26. / 28, 32. / 28, 11. / 28}, 1e-6,
		{0, -3. / 28, -2. / 28, -3. / 28, 0}, 1e-6, 0.0065, 5e-5},
	/* computed: the drops of the same beams */
	{"drop, two spans", 2, {1, 1}, {0}, {0.375, 1.25, 0.375}, 1e-6, {0}, 0, 0.005416, 1e-6},
	{"drop, three spans", 3, {1, 1, 1}, {0}, {0.4, 1.1, 1.1, 0.4}, 1e-6, {0}, 0, 0.006884,
		1e-6},
	{"drop, four spans", 4, {1, 1, 1, 1}, {0},
		{11. / 28, 32. / 28, 26. / 28, 32. / 28, 11. / 28}, 1e-6, {0}, 0, 0.006460, 1e-6},
	/* Lindeburg: 13/32, 11/16, -3/32; 0.015 */
	{"two, force in the first", 2, {0}, {1, 0}, {13. / 32, 11. / 16, -3. / 32}, 1e-5,
		{0, -3. / 32, 0}, 1e-6, 0.015012, 1e-5},
	/* Lindeburg: 5/16, 11/8 */
	{"two, a force in each", 2, {0}, {1, 1}, {5. / 16, 11. / 8, 5. / 16}, 1e-6, {0, -0.1875, 0},
		1e-6, 0.009317, 1e-6},
	/* Lindeburg: 0.383, 1.200, 0.450, -0.033; 0.0059 */
	{"three, two of them loaded", 3, {1, 1, 0}, {0}, {0.383, 1.200, 0.450, -0.033}, 5e-4, {0},
		0, 0.00590, 5e-5},
	{"the same, computed", 3, {1, 1, 0}, {0}, {0.383333, 1.2, 0.45, -0.033333}, 1e-6, {0}, 0, 0,
		0},
	/* Lindeburg: 0.446, 0.572, 0.464, 0.572, -0.054 */
	{"four, every other loaded", 4, {1, 0, 1, 0}, {0}, {0.446, 0.572, 0.464, 0.572, -0.054},
		6e-4, {0}, 0, 0, 0},
	{"the same, computed", 4, {1, 0, 1, 0}, {0},
		{0.446429, 0.571429, 0.464286, 0.571429, -0.053571}, 1e-6, {0}, 0, 0, 0},
	/* computed from here on */
	{"three, a force in each", 3, {0}, {1, 1, 1}, {0.35, 1.15, 1.15, 0.35}, 1e-6,
		{0, -0.15, -0.15, 0}, 1e-6, 0.011573, 1e-6},
	{"four, a force in each", 4, {0}, {1, 1, 1, 1},
		{0.339286, 1.214286, 0.892857, 1.214286, 0.339286}, 1e-6,
		{0, -0.160714, -0.107143, -0.160714, 0}, 1e-6, 0.010925, 1e-6},
	{"four, force in the first", 4, {0}, {1, 0, 0, 0},
		{0.399554, 0.727679, -0.160714, 0.040179, -0.006696}, 1e-6,
		{0, -0.100446, 0.026786, -0.006696, 0}, 1e-6, 0.014600, 1e-6},
	{"three, first", 3, {0}, {1, 0, 0}, {0.4, 0.725, -0.15, 0.025}, 1e-6, {0, -0.1, 0.025, 0},
		1e-6, 0.014627, 1e-6},
	{"three, second", 3, {0}, {0, 1, 0}, {-0.075, 0.575, 0.575, -0.075}, 1e-6,
		{0, -0.075, -0.075, 0}, 1e-6, 0.011458, 1e-6},
	{"four, second", 4, {0}, {0, 1, 0, 0}, {-0.073661, 0.566964, 0.607143, -0.120536, 0.020089},
		1e-6, {0}, 0, 0, 0},
};

static void line_fill(struct beam_span *span, const struct line_case *k, double length)
{
	for (size_t i = 0; i < k->nspan; i++)
		span[i] = (struct beam_span){
			length, k->uniform[i] * 2 / length, k->point[i] * 2, length / 2};
}

/* Span 12, load 2, E I 500, so that nothing is right only because it is 1. */
static void continuous_beams_are_those_of_the_tables(void **state)
{
	(void)state;
	for (size_t c = 0; c < sizeof line_cases / sizeof *line_cases; c++) {
		const struct line_case *k = &line_cases[c];
		struct beam_span span[4];
		struct beam_line_answer a;
		double most = 0;
		line_fill(span, k, 12);
		const struct beam_line b = {span, k->nspan, 500, {0, 0}, {0, 0}};
		code_is(beam_continuous(&b, &a), FINE);
		for (size_t i = 0; i <= k->nspan; i++) {
			near(k->why, a.carried_N[i] / 2, k->carried[i], k->tolerance);
			if (k->moment_tolerance > 0)
				near(k->why, a.moment_Nmm[i] / 24, k->moment[i],
					k->moment_tolerance);
		}
		for (size_t i = 0; i < k->nspan; i++)
			most = fmax(most, fabs(a.span[i].drop_mm));
		if (k->drop_tolerance > 0)
			near(k->why, most * 500 / (2 * 12 * 12 * 12), k->drop, k->drop_tolerance);
	}
}

/* Places and moments inside the spans, computed. */
static void spans_tell_where_they_sag_most(void **state)
{
	(void)state;
	static const struct {
		size_t n;
		double at, first, second; /* of the greatest drop; sagging in spans 1 and 2 */
	} want[] = {{2, 0.4215, 0.0703, 0.0703}, {3, 0.4461, 0.080, 0.025},
		{4, 0.4397, 0.0772, 0.0364}};
	static const struct beam_span even[] = {
		{1, 1, 0, 0}, {1, 1, 0, 0}, {1, 1, 0, 0}, {1, 1, 0, 0}};
	for (size_t i = 0; i < 3; i++) {
		struct beam_line_answer a;
		const struct beam_line b = {even, want[i].n, 1, {0, 0}, {0, 0}};
		code_is(beam_continuous(&b, &a), FINE);
		near("place", a.span[0].drop_at_mm, want[i].at, 1e-4);
		near("first", a.span[0].sagging_Nmm, want[i].first, 5e-5);
		near("second", a.span[1].sagging_Nmm, want[i].second, 5e-5);
	}
	static const struct beam_span first[] = {{1, 0, 1, 0.5}, {1, 0, 0, 0}};
	struct beam_line_answer a;
	code_is(beam_continuous(&(struct beam_line){first, 2, 1, {0, 0}, {0, 0}}, &a), FINE);
	/* Lindeburg: 13/64 under the load */
	near("under the load", a.span[0].sagging_Nmm, 13. / 64, 1e-12);
	near("place", a.span[0].sagging_at_mm, 0.5, 0);
	near("place of the drop", a.span[0].drop_at_mm, 0.4804, 5e-5);
	assert_true(a.span[1].drop_mm < 0);
}

/* Lindeburg, two spans with a force anywhere in the first; M under the load is R1 a. (One of two
 * public pages prints the moment over the support with a plus, an error.) */
static void force_anywhere_in_the_first_of_two_spans(void **state)
{
	(void)state;
	for (double a = 0.5; a < 12; a += 0.7) {
		const double l = 12, p = 90, b = l - a;
		const struct beam_span span[] = {{l, 0, p, a}, {l, 0, 0, 0}};
		struct beam_line_answer r;
		code_is(beam_continuous(&(struct beam_line){span, 2, 100, {0, 0}, {0, 0}}, &r),
			FINE);
		double first = p * b * (4 * l * l - a * (l + a)) / (4 * l * l * l);
		near("first", r.carried_N[0], first, 1e-10);
		near("second", r.carried_N[1], p * a * (2 * l * l + b * (l + a)) / (2 * l * l * l),
			1e-10);
		near("third", r.carried_N[2], -p * a * b * (l + a) / (4 * l * l * l), 1e-10);
		near("support", r.moment_Nmm[1], -p * a * b * (l + a) / (4 * l * l), 1e-10);
		near("load", r.span[0].sagging_Nmm, first * a, 1e-10);
	}
}

struct overhang_case {
	const char *why;
	size_t nspan;
	double carried[5];
};
/* a/L = 0.8, unit force; computed. */
static const struct overhang_case overhang_cases[] = {
	{"one", 1, {-0.8, 1.8}},
	{"two", 2, {0.2, -1.2, 2.0}},
	{"three", 3, {-0.053333, 0.32, -1.28, 2.013333}},
	{"four", 4, {0.014286, -0.085714, 0.342857, -1.285714, 2.014286}},
};

static void overhang_lifts_the_neighbour(void **state)
{
	(void)state;
	static const struct beam_span span[] = {
		{10, 0, 0, 0}, {10, 0, 0, 0}, {10, 0, 0, 0}, {10, 0, 0, 0}};
	for (size_t c = 0; c < sizeof overhang_cases / sizeof *overhang_cases; c++) {
		const struct overhang_case *k = &overhang_cases[c];
		struct beam_line_answer right, left;
		code_is(beam_continuous(
				&(struct beam_line){span, k->nspan, 1, {0, 0}, {8, 1}}, &right),
			FINE);
		code_is(beam_continuous(
				&(struct beam_line){span, k->nspan, 1, {8, 1}, {0, 0}}, &left),
			FINE);
		for (size_t i = 0; i <= k->nspan; i++) {
			near(k->why, right.carried_N[i], k->carried[i], 1e-6);
			near("mirrored", left.carried_N[k->nspan - i], right.carried_N[i], 1e-12);
		}
		near("tips", left.left_tip_mm, right.right_tip_mm, 1e-9);
	}
	/* by a frame of four nodes, computed */
	static const struct beam_span twelve[] = {{12, 0, 0, 0}, {12, 0, 0, 0}};
	struct beam_line_answer a;
	code_is(beam_continuous(&(struct beam_line){twelve, 2, bar_bend, {0, 0}, {10, 100}}, &a),
		FINE);
	near("carried", a.carried_N[0], 20.83333, 1e-4);
	near("carried", a.carried_N[1], -125.0, 1e-4);
	near("carried", a.carried_N[2], 204.16667, 1e-4);
	near("tip", a.right_tip_mm, 0.128125, 1e-6);
}

/* A span of a continuous beam whose neighbours are alike and loaded alike is a fixed beam; one
 * span alone is a beam on two supports. */
static void limits_are_the_single_spans(void **state)
{
	(void)state;
	struct beam_span span[BEAM_SPANS];
	struct beam_line_answer r;
	struct beam_answer a;
	for (size_t i = 0; i < BEAM_SPANS; i++)
		span[i] = (struct beam_span){20, 10, 0, 0};
	const struct beam b = {20, bar_bend, 0};
	code_is(beam_continuous(&(struct beam_line){span, 1, bar_bend, {0, 0}, {0, 0}}, &r), FINE);
	code_is(beam_single(BEAM_SIMPLE_UNIFORM, &b, 200, &a), FINE);
	near("two supports", r.span[0].drop_mm, a.bend_mm, 1e-12);
	near("two supports", r.span[0].sagging_Nmm, a.sagging_Nmm, 1e-9);
	code_is(beam_continuous(
			&(struct beam_line){span, BEAM_SPANS, bar_bend, {0, 0}, {0, 0}}, &r),
		FINE);
	code_is(beam_single(BEAM_FIXED_UNIFORM, &b, 200, &a), FINE);
	near("fixed", r.span[8].drop_mm, a.bend_mm, 1e-5 * a.bend_mm + 1e-6);
	near("fixed", -r.moment_Nmm[8], a.hogging_Nmm, 0.02);
}

/* Forces and moments balance, and the places reported are the extremes (looked for by walking). */
static void random_lines_balance_and_report_extremes(void **state)
{
	(void)state;
	uint64_t seed = 11;
	for (int round = 0; round < 2000; round++) {
		struct beam_span span[BEAM_SPANS];
		struct beam_line_answer r;
		size_t n = 1 + draw_below(&seed, BEAM_SPANS);
		double down = 0, about = 0, size = 0, x = 0;
		for (size_t i = 0; i < n; i++) {
			double l = draw(&seed, 4, 30);
			span[i] = (struct beam_span){
				l, draw(&seed, -5, 10), draw(&seed, -100, 200), draw(&seed, 0, l)};
			if (round % 3 == 0)
				span[i].uniform_N_per_mm = 0;
		}
		struct beam_line b = {span, n, bar_bend,
			{draw(&seed, 1, 15), draw(&seed, -200, 200)},
			{draw(&seed, 1, 15), draw(&seed, -200, 200)}};
		code_is(beam_continuous(&b, &r), FINE);
		for (size_t i = 0; i < n; i++) {
			const struct beam_span *s = &span[i];
			double whole = s->uniform_N_per_mm * s->length_mm;
			down += whole + s->point_N - r.carried_N[i];
			about += whole * (x + s->length_mm / 2) +
				 s->point_N * (x + s->point_at_mm) - r.carried_N[i] * x;
			size += fabs(whole) + fabs(s->point_N);
			x += s->length_mm;
		}
		down += b.left.force_N + b.right.force_N - r.carried_N[n];
		about += b.right.force_N * (x + b.right.length_mm) -
			 b.left.force_N * b.left.length_mm - r.carried_N[n] * x;
		near("forces", down / (size + 1), 0, 1e-11);
		near("moments", about / (size + 1) / x, 0, 1e-11);
	}
}

/* Drop and moment of a span from its ends, by integrating the moment twice in small steps. */
static void reported_extremes_are_found_by_walking(void **state)
{
	(void)state;
	uint64_t seed = 12;
	enum { STEPS = 4000 };
	for (int round = 0; round < 240; round++) {
		/* without a force inside, one smooth span may both rise and drop */
		double l = 10, a = round % 3 ? draw(&seed, 0, l) : round % 4 ? 0 : l;
		double p = draw(&seed, -100, 200);
		double w = round % 2 ? draw(&seed, -10, 20) : 0, h = l / STEPS;
		const struct beam_span span[] = {{l, w, p, a}, {7, 3, 0, 0}};
		struct beam_line b = {span, 2, 1000, {3, draw(&seed, -300, 300)}, {0, 0}};
		struct beam_line_answer r;
		double turn = 0, drop[STEPS + 1] = {0}, most = -INFINITY, deep = 0;
		code_is(beam_continuous(&b, &r), FINE);
		double shear = r.carried_N[0] - b.left.force_N;
		for (int i = 0; i <= STEPS; i++) {
			double x = h * i;
			double m = r.moment_Nmm[0] + shear * x - w * x * x / 2 - p * fmax(x - a, 0);
			most = fmax(most, m);
			if (i < STEPS) {
				double y = x + h / 2;
				double middle = r.moment_Nmm[0] + shear * y - w * y * y / 2 -
						p * fmax(y - a, 0);
				drop[i + 1] = drop[i] + turn * h - middle * h * h / 2 / 1000;
				turn -= middle * h / 1000;
			}
		}
		for (int i = 0; i <= STEPS; i++) {
			double d = drop[i] - drop[STEPS] * i / STEPS;
			deep = fabs(d) > fabs(deep) ? d : deep;
		}
		near("sagging", r.span[0].sagging_Nmm, most, 1e-3 * (fabs(most) + 100));
		near("drop", r.span[0].drop_mm, deep, 1e-5 * fabs(deep) + 1e-6);
	}
}

static void wrong_lines_are_refused(void **state)
{
	(void)state;
	struct beam_line_answer r = {.carried_N = {7}};
	static const struct beam_span wrong[] = {{0, 1, 0, 0}, {NAN, 1, 0, 0}, {-1, 1, 0, 0},
		{1, INFINITY, 0, 0}, {1, 0, NAN, 0}, {1, 0, 1, 1.5}, {1, 0, 1, -0.1},
		{1, 0, 1, NAN}};
	static const struct beam_span good = {1, 1, 0, 0};
	for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++)
		code_is(beam_continuous(&(struct beam_line){&wrong[i], 1, 1, {0, 0}, {0, 0}}, &r),
			BAD_RANGE);
	code_is(beam_continuous(&(struct beam_line){&good, 0, 1, {0, 0}, {0, 0}}, &r), BAD_COUNT);
	code_is(beam_continuous(&(struct beam_line){&good, 17, 1, {0, 0}, {0, 0}}, &r), BAD_COUNT);
	code_is(beam_continuous(&(struct beam_line){&good, 1, 0, {0, 0}, {0, 0}}, &r), BAD_RANGE);
	struct beam_span large = {1e120, 1e120, 0, 0};
	code_is(beam_continuous(&(struct beam_line){&large, 1, 1, {0, 0}, {0, 0}}, &r), BAD_RANGE);
	code_is(beam_continuous(&(struct beam_line){&good, 1, 1, {0, 5}, {0, 0}}, &r), BAD_RANGE);
	code_is(beam_continuous(&(struct beam_line){&good, 1, 1, {0, 0}, {-1, 5}}, &r), BAD_RANGE);
	code_is(beam_continuous(&(struct beam_line){&good, 1, 1, {0, 0}, {1, NAN}}, &r), BAD_RANGE);
	near("left alone", r.carried_N[0], 7, 0);
}

/* ---- springs, changes, sizes ----------------------------------------------------------------- */

/* Computed in closed form and by a frame of elements. */
static void soft_bar_splints_less(void **state)
{
	(void)state;
	struct beam_springs s;
	code_is(beam_three_springs(100, 15, bar_bend, 5000, &s), FINE);
	near("lambda", s.lambda, 10.5469, 1e-4);
	near("end", s.end_N, 7.38178, 1e-4);
	near("middle", s.middle_N, 85.23645, 1e-4);
	code_is(beam_three_springs(100, 15, bar_bend / 20000 * 110000, 5000, &s), FINE);
	near("lambda", s.lambda, 1.9176, 1e-4);
	near("end", s.end_N, 20.33507, 1e-4);
	near("middle", s.middle_N, 59.32987, 1e-4);
	code_is(beam_three_springs(100, 15, 1e12, 1e-3, &s), FINE);
	near("rigid", s.end_N, 100. / 3, 1e-9);
	code_is(beam_three_springs(0, 15, 1, 1, &s), BAD_RANGE);
	code_is(beam_three_springs(1, NAN, 1, 1, &s), BAD_RANGE);
	code_is(beam_three_springs(1, 15, 0, 1, &s), BAD_RANGE);
	code_is(beam_three_springs(1, 15, 1, -1, &s), BAD_RANGE);
}

/* M. Hetenyi, Beams on Elastic Foundation, 1946 (formulas from memory). */
static void long_beam_on_a_bed(void **state)
{
	(void)state;
	struct beam_bed b;
	code_is(beam_on_bed(100, 533333.33, 200, &b), FINE);
	near("lambda", b.lambda_per_mm, 0.098399, 1e-4);
	near("drop", b.drop_mm, 0.024600, 1e-4);
	near("moment", b.moment_Nmm, 254.066374, 1e-4);
	near("at an end", b.end_drop_mm, 0.098399, 1e-4);
	code_is(beam_on_bed(100, 0, 200, &b), BAD_RANGE);
}

struct change_case {
	const char *why;
	struct beam_change change;
	double drop, stress;
};
static const struct change_case change_cases[] = {
	/* A. M. Rodriguez, S. A. Aquilino and P. S. Lund, J Prosthodont 3:41-46, 1994: doubling
	 * the length or halving the depth gives eight times the flexibility; the others are the
	 * same law, computed */
	{"span doubled", {2, 1, 1, 1}, 8, 2},
	{"depth halved", {1, 0.5, 1, 1}, 8, 4},
	{"span threefold", {3, 1, 1, 1}, 27, 3},
	{"depth 3.5 to 3.0", {1, 3.0 / 3.5, 1, 1}, 1.587963, 1.361111},
	{"4.0 to 3.5", {1, 3.5 / 4.0, 1, 1}, 1.492711, 1.306122},
	{"4.0 to 2.5", {1, 2.5 / 4.0, 1, 1}, 4.096, 2.56},
	{"width", {1, 1, 0.8, 1}, 1.25, 1.25},
	{"modulus", {1, 1, 1, 2}, 0.5, 1},
};

static void law_of_beams(void **state)
{
	(void)state;
	double drop, stress;
	for (size_t i = 0; i < sizeof change_cases / sizeof *change_cases; i++) {
		const struct change_case *k = &change_cases[i];
		code_is(beam_change_factors(&k->change, &drop, &stress), FINE);
		near(k->why, drop, k->drop, 1e-6);
		near(k->why, stress, k->stress, 1e-6);
	}
	code_is(beam_change_factors(&(struct beam_change){0, 1, 1, 1}, &drop, &stress), BAD_RANGE);
	code_is(beam_change_factors(&(struct beam_change){1, 1, NAN, 1}, &drop, &stress),
		BAD_RANGE);
}

/* Strain just behind the terminal abutment 63, 197, 306 millionths at arms of 7, 14, 20 mm
 * under 15 lb, A. M. Rodriguez and others, J Prosthodont 1993 (abstract; year from memory). The
 * first and last reading fix where the gauge sits and how stiff the frame is; a linear beam then
 * foretells the second. */
static void strain_on_a_bench_grows_with_the_arm(void **state)
{
	(void)state;
	const double force = 15 * 4.4482216152605;
	const double gauge = (306. * 7 - 63. * 20) / (306. - 63.);
	struct beam_answer a;
	code_is(beam_single(BEAM_CANTILEVER_END, &(struct beam){20 - gauge, 1, 0}, force, &a),
		FINE);
	const double stiff = a.hogging_Nmm / 306;
	code_is(beam_single(BEAM_CANTILEVER_END, &(struct beam){14 - gauge, 1, 0}, force, &a),
		FINE);
	near("gauge", gauge, 3.6296, 1e-4);
	near("foretold", a.hogging_Nmm / stiff, 193.846, 1e-3);
	near("measured", a.hogging_Nmm / stiff, 197, 0.02 * 197);
}

/* Computed. */
static void sizes_of_a_cantilever(void **state)
{
	(void)state;
	struct profile s;
	struct beam_answer a;
	double h;
	code_is(section_rectangle(5, 3.5, &s), FINE);
	code_is(beam_single(
			BEAM_CANTILEVER_END, &(struct beam){10, 20000 * s.inertia_mm4, 0}, 200, &a),
		FINE);
	near("stress", section_bending_MPa(&s, a.hogging_Nmm), 195.918367, 1e-5);
	near("drop", a.bend_mm, 0.186589, 1e-5);
	code_is(beam_height_for_drop(200, 10, 5, 20000, 0.1, &h), FINE);
	near("height for the drop", h, 4.308869, 1e-5);
	code_is(beam_height_as_stiff(4, 110000, 20000, &h), FINE);
	near("height in polymer", h, 7.06070, 1e-4);
	code_is(beam_height_as_stiff(4, 220000, 20000, &h), FINE);
	near("cobalt-chromium", h, 8.8959, 1e-4);
	code_is(beam_height_for_strength(200, 10, 5, 379.2117, 1.5, &h), FINE);
	near("dry", h, 3.0811, 1e-4);
	code_is(beam_height_for_strength(200, 10, 5, 110.7298, 1.5, &h), FINE);
	near("wet and tired", h, 5.7019, 1e-4);
	code_is(beam_length_for_strength(200, 5, 3.5, 110.7298, 1.5, &h), FINE);
	near("longest", h, 3.7679, 1e-4);
}

static void sizes_need_positive_numbers(void **state)
{
	(void)state;
	double h = 7;
	for (int i = 0; i < 5; i++) {
		double v[5] = {1, 1, 1, 1, 1};
		v[i] = i % 2 ? 0 : NAN;
		code_is(beam_height_for_strength(v[0], v[1], v[2], v[3], v[4], &h), BAD_RANGE);
		code_is(beam_height_for_drop(v[0], v[1], v[2], v[3], v[4], &h), BAD_RANGE);
		code_is(beam_length_for_strength(v[0], v[1], v[2], v[3], v[4], &h), BAD_RANGE);
		if (i < 3)
			code_is(beam_height_as_stiff(v[0], v[1], v[2], &h), BAD_RANGE);
	}
	near("left alone", h, 7, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(single_spans_are_those_of_the_handbooks),
		cmocka_unit_test(cantilever_turns_and_is_stressed),
		cmocka_unit_test(propped_beam_has_its_five_numbers),
		cmocka_unit_test(shear_adds_a_quarter_to_a_short_fibre_bar),
		cmocka_unit_test(cantilever_of_a_verification_manual),
		cmocka_unit_test(every_case_is_the_integral_of_its_moments),
		cmocka_unit_test(no_beam_without_length_or_stiffness),
		cmocka_unit_test(continuous_beams_are_those_of_the_tables),
		cmocka_unit_test(spans_tell_where_they_sag_most),
		cmocka_unit_test(force_anywhere_in_the_first_of_two_spans),
		cmocka_unit_test(overhang_lifts_the_neighbour),
		cmocka_unit_test(limits_are_the_single_spans),
		cmocka_unit_test(random_lines_balance_and_report_extremes),
		cmocka_unit_test(reported_extremes_are_found_by_walking),
		cmocka_unit_test(wrong_lines_are_refused),
		cmocka_unit_test(soft_bar_splints_less),
		cmocka_unit_test(long_beam_on_a_bed),
		cmocka_unit_test(law_of_beams),
		cmocka_unit_test(strain_on_a_bench_grows_with_the_arm),
		cmocka_unit_test(sizes_of_a_cantilever),
		cmocka_unit_test(sizes_need_positive_numbers),
	};
	return cmocka_run_group_tests_name("calc/beam", tests, NULL, NULL);
}
