/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/base/bad.h>
#include <barwright/calc/section.h>

static const double pi = 3.14159265358979323846;

/* Computed. */
static void bar_of_five_by_four(void **state)
{
	(void)state;
	struct profile s;
	code_is(section_rectangle(5, 4, &s), FINE);
	near("area", s.area_mm2, 20, 1e-5);
	near("I", s.inertia_mm4, 26.66667, 1e-5);
	near("S", s.modulus_mm3, 13.33333, 1e-5);
	near("I across", s.side_inertia_mm4, 41.66667, 1e-5);
	/* by the series; not the polar moment, which is what a circle has */
	near("J", s.twist_mm4, 54.95441, 1e-4);
	near("peak shear", section_shear_MPa(&s, 0, 1000), 56.50799, 1e-4);
	/* 1.5 F/A, Timoshenko (from memory) */
	near("shear of a force", section_shear_MPa(&s, -200, 0), 15, 1e-12);
	near("both", section_shear_MPa(&s, 200, -1000), 71.50799, 1e-4);
	near("bending", section_bending_MPa(&s, -2000), 150, 1e-12);
}

struct twist_row {
	double ratio, beta, alpha; /* by the series, computed elsewhere to six places */
	double printed_beta;       /* public table of section properties; 0: not in it */
	double handbook_alpha;     /* Timoshenko and Goodier and handbooks, from memory; 0: none */
};
static const struct twist_row twist_rows[] = {
	{1, 0.140577, 0.208165, 0.141, 0.208},
	{1.2, 0.166119, 0.218934, 0.166, 0},
	{1.25, 0.171733, 0.221208, 0, 0},
	{1.5, 0.195761, 0.230969, 0.196, 0.231},
	{2, 0.228682, 0.245878, 0.229, 0.246},
	{2.5, 0.249365, 0.257590, 0.249, 0},
	{3, 0.263317, 0.267208, 0.263, 0.267},
	{4, 0.280813, 0.281666, 0.281, 0.282},
	{5, 0.291317, 0.291500, 0.291, 0},
	{6, 0.298320, 0.298359, 0, 0.299},
	{8, 0.307073, 0.307075, 0, 0},
	{10, 0.312325, 0.312325, 0.312, 0.312},
	{1e6, 1. / 3, 1. / 3, 0.333, 0},
};

/* J = beta a b^3 and greatest shear stress T/(alpha a b^2), of a rectangle with b = 1 and a the long side. */
static void twist_factors(double ratio, double *alpha, double *beta)
{
	struct profile s;
	code_is(section_rectangle(1, ratio, &s), FINE);
	*alpha = s.twist_modulus_mm3 / ratio;
	*beta = s.twist_mm4 / ratio;
}

static void twist_factors_are_those_of_the_tables(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof twist_rows / sizeof *twist_rows; i++) {
		const struct twist_row *r = &twist_rows[i];
		double alpha, beta;
		char why[40];
		snprintf(why, sizeof why, "a/b %g", r->ratio);
		twist_factors(r->ratio, &alpha, &beta);
		near(why, beta, r->beta, 1e-6);
		near(why, alpha, r->alpha, 1e-6);
		if (r->printed_beta > 0)
			near(why, beta, r->printed_beta, 5e-4);
		if (r->handbook_alpha > 0)
			near(why, alpha, r->handbook_alpha, 7e-4);
	}
}

/* The fast sums against the plain ones, added up until nothing changes, small terms first. */
static void fast_sums_agree_with_the_plain_series(void **state)
{
	(void)state;
	for (double r = 1; r <= 40; r += 0.37) {
		double tanhs = 0, coshs = 0, alpha, beta;
		for (int n = 20001; n >= 1; n -= 2) {
			tanhs += tanh(n * pi * r / 2) / pow(n, 5);
			coshs += 1 / ((double)n * n * cosh(n * pi * r / 2));
		}
		double plain = (1 - 192 / pow(pi, 5) / r * tanhs) / 3;
		twist_factors(r, &alpha, &beta);
		near("beta", beta, plain, 1e-14);
		near("alpha", alpha, plain / (1 - 8 / (pi * pi) * coshs), 1e-14);
	}
}

/* The handbooks' closed form of J and its companion for the stress, half sides A >= B: 3T/(8AB^2)
 * times a polynomial. Young and Budynas, Roark's Formulas, 7th ed. 2002, table 10.7 (from
 * memory). */
static double handbook_twist(double a, double b)
{
	double x = b / a;
	return a * b * b * b * (1.0 / 3 - 0.21 * x * (1 - x * x * x * x / 12));
}

static double handbook_twist_modulus(double a, double b)
{
	double x = b / a;
	double peak = 1 + x * (0.6095 + x * (0.8865 + x * (-1.8023 + x * 0.9100)));
	return a * b * b / (3 * peak);
}

static void series_is_near_the_closed_form_of_handbooks(void **state)
{
	(void)state;
	double worst = 0;
	struct profile s;
	near("J of the handbook", handbook_twist(5, 4), 54.74167, 1e-4);
	near("its peak", 1000 / handbook_twist_modulus(5, 4), 56.4344, 1e-4);
	for (double a = 1; a <= 10; a += 0.01) {
		code_is(section_rectangle(1, a, &s), FINE);
		worst = fmax(worst, fabs(handbook_twist(a, 1) / s.twist_mm4 - 1));
		near("modulus", handbook_twist_modulus(a, 1) / s.twist_modulus_mm3, 1, 0.01);
	}
	/* at a/b = 1.145 */
	near("worst error", worst, 0.00488, 1e-5);
}

/* A public code base has a/b for b/a inside the bracket: 25.4 for J of 5 x 4. */
static void sides_are_sorted(void **state)
{
	(void)state;
	struct profile flat, tall;
	code_is(section_rectangle(5, 4, &flat), FINE);
	code_is(section_rectangle(4, 5, &tall), FINE);
	near("J", flat.twist_mm4, tall.twist_mm4, 0);
	near("I", tall.inertia_mm4, flat.side_inertia_mm4, 1e-12);
	near("I across", tall.side_inertia_mm4, flat.inertia_mm4, 1e-12);
}

/* A bar of 3 by 2 in, 2000 lb in over 15 in, G 3.846e6 psi: 0.00166 rad, hand values of a
 * published verification manual for a frame program. */
static void twist_of_a_verification_manual(void **state)
{
	(void)state;
	struct profile s;
	code_is(section_rectangle(2, 3, &s), FINE);
	near("printed", 2000 * 15 / (3.846e6 * s.twist_mm4), 0.00166, 1e-5);
	near("twist", 2000 * 15 / (3.846e6 * s.twist_mm4), 0.0016602, 1e-7);
}

/* G. R. Cowper, J Appl Mech 33:335-340, 1966 (equation from memory). */
static void shear_factor_by_cowper(void **state)
{
	(void)state;
	double k;
	code_is(section_shear_cowper(0.3, &k), FINE);
	near("v 0.3", k, 0.849673, 1e-6);
	code_is(section_shear_cowper(0.25, &k), FINE);
	near("v 0.25", k, 0.847458, 1e-6);
	code_is(section_shear_cowper(0, &k), FINE);
	near("v 0 is the energy factor", k, SECTION_SHEAR_ENERGY, 1e-15);
}

/* Computed from the transformed section. */
static void bonded_veneer_stiffens_the_bar(void **state)
{
	(void)state;
	static const struct layer layer[] = {{5, 4, 20000}, {8, 6, 2500}};
	struct layered s;
	code_is(section_layered(layer, 2, &s), FINE);
	near("axis", s.axis_mm, 3.15385, 1e-3);
	near("EI", s.bend_Nmm2, 3201025.64103, 1e-3);
	near("against the bare bar", s.bend_Nmm2 / (20000 * 80. / 3), 6.0019, 1e-4);
	near("without the bond", s.loose_Nmm2 / (20000 * 80. / 3), 1.6750, 1e-4);
	near("bar bottom", section_layered_stress_MPa(&s, 20000, 2000, 0), 39.4104, 1e-4);
	near("veneer top", section_layered_stress_MPa(&s, 2500, 2000, 10), -10.6937, 1e-4);
}

static void layers_of_one_stuff_are_one_rectangle(void **state)
{
	(void)state;
	static const struct layer layer[] = {{5, 1, 20000}, {5, 2, 20000}, {5, 1, 20000}};
	struct layered s;
	struct profile p;
	code_is(section_layered(layer, 3, &s), FINE);
	code_is(section_rectangle(5, 4, &p), FINE);
	near("axis", s.axis_mm, 2, 1e-14);
	near("EI", s.bend_Nmm2, 20000 * p.inertia_mm4, 1e-8);
	near("bottom", section_layered_stress_MPa(&s, 20000, 2000, 0),
		section_bending_MPa(&p, 2000), 1e-10);
}

/* The net width carries: a sleeve of 4 mm in a bar of 5 mm leaves a fifth (statics). */
static void hole_takes_its_width(void **state)
{
	(void)state;
	double net;
	code_is(section_net_modulus(5, 4, 4, &net), FINE);
	near("net", net, 80. / 6 / 5, 1e-12);
	code_is(section_net_modulus(5, 4, 0, &net), FINE);
	near("no hole", net, 80. / 6, 1e-12);
	code_is(section_net_modulus(5, 4, 5, &net), BAD_RANGE);
	code_is(section_net_modulus(5, 4, -1, &net), BAD_RANGE);
	code_is(section_net_modulus(5, 4, NAN, &net), BAD_RANGE);
	code_is(section_net_modulus(5, 0, 1, &net), BAD_RANGE);
	code_is(section_net_modulus(INFINITY, 4, 1, &net), BAD_RANGE);
}

static void no_section_without_sides(void **state)
{
	(void)state;
	static const double wrong[] = {0, -1, NAN, INFINITY, 1e200, 1e-200};
	struct profile s = {.area_mm2 = 7};
	struct layered l = {.axis_mm = 7};
	double a = 7;
	for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
		struct layer layer[] = {{5, 4, 20000}, {8, wrong[i], 2500}};
		code_is(section_rectangle(wrong[i], 4, &s), BAD_RANGE);
		code_is(section_rectangle(4, wrong[i], &s), BAD_RANGE);
		code_is(section_layered(layer, 2, &l), wrong[i] == 1e-200 ? FINE : BAD_RANGE);
		l.axis_mm = 7;
	}
	code_is(section_shear_cowper(0.51, &a), BAD_RANGE);
	code_is(section_shear_cowper(-1, &a), BAD_RANGE);
	code_is(section_layered(NULL, 0, &l), BAD_COUNT);
	near("left alone", s.area_mm2 + l.axis_mm + a, 21, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(bar_of_five_by_four),
		cmocka_unit_test(twist_factors_are_those_of_the_tables),
		cmocka_unit_test(fast_sums_agree_with_the_plain_series),
		cmocka_unit_test(series_is_near_the_closed_form_of_handbooks),
		cmocka_unit_test(sides_are_sorted),
		cmocka_unit_test(twist_of_a_verification_manual),
		cmocka_unit_test(shear_factor_by_cowper),
		cmocka_unit_test(bonded_veneer_stiffens_the_bar),
		cmocka_unit_test(layers_of_one_stuff_are_one_rectangle),
		cmocka_unit_test(hole_takes_its_width),
		cmocka_unit_test(no_section_without_sides),
	};
	return cmocka_run_group_tests_name("calc/section", tests, NULL, NULL);
}
