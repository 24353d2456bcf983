/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/cure.h"

#include <math.h>

#include <barwright/calc/processing.h>

/* Course values. Diffusivity as of acrylic resin; activation energy 84 kJ/mol, as usual for peroxide and
 * heat (from memory, not verified). The others set so that what is published comes out together: a
 * spike of 120 to 140 degrees C in a thick part that is plunged, none in the two stages, a few tenths
 * of a per cent of monomer left behind a boil, between that and the limit of 2.2 % behind a night at
 * 74 degrees, above it behind two hours at 74 without a boil. */
#define BOIL_K        373.15
#define FLASK_LAG_S   900.0
#define DIFFUSIVITY   0.12          /* mm2/s */
#define STONE_HOLDS   1.5           /* the stone round it carries the heat off no better */
#define RATE_AT_343K  (1.0 / 10800) /* 1/s */
#define ACTIVATION_K  10100.0       /* activation energy over the gas constant */
#define GEL_EFFECT    10.0
#define STIFFENING    1.5                  /* order in what is left: the last of it comes slowly */
#define HEAT_Nmm_MOL  (12.9 * 4184 * 1000) /* 12.9 kcal/mol */
#define MOLAR_TONNE   (100.12e-6)
#define SPECIFIC_HEAT 1.47e9 /* N mm/(tonne K) */
#define SHORT_STEP_S  20.0
#define LONG_STEP_S   120.0
#define PI            3.14159265358979323846

struct cook {
	const struct cure_bath *b;
	double adiabatic_K, lag_s;
	double bath_K, mould_K, resin_K, cured;
	double peak_K, total_s;
};

/* How far it can cure at this temperature at all. */
static double most_cured(double K)
{
	return fmin(0.995, fmax(0, 0.94 + 0.055 * (K - 333.15) / 40));
}

static double cure_rate(double K, double cured)
{
	double left = most_cured(K) - cured;
	if (left <= 0 || K < 318)
		return 0;
	return RATE_AT_343K * exp(ACTIVATION_K * (1 / 343.15 - 1 / K)) * pow(left, STIFFENING) *
	       (1 + GEL_EFFECT * cured);
}

static double towards(double from, double to, double step_s, double lag_s)
{
	return to + (from - to) * exp(-step_s / lag_s);
}

static void cook_on(struct cook *c, double step_s)
{
	double rate = cure_rate(c->resin_K, c->cured);
	double part = fmin(rate * step_s, fmax(0, most_cured(c->resin_K) - c->cured));
	c->mould_K = towards(c->mould_K, c->bath_K, step_s, FLASK_LAG_S);
	/* what the reaction gives in this step, against what leaves towards the mould */
	double warmed = c->mould_K + c->adiabatic_K * part / step_s * c->lag_s;
	c->resin_K = towards(c->resin_K, warmed, step_s, c->lag_s);
	c->cured += part;
	c->total_s += step_s;
	if (c->cured < 0.9)
		c->peak_K = fmax(c->peak_K, c->resin_K);
}

static void cook_ramp(struct cook *c, double to_K)
{
	double left_s = (to_K - c->bath_K) / c->b->rise_K_per_s;
	while (left_s > 0) {
		double step_s = fmin(left_s, SHORT_STEP_S);
		c->bath_K += step_s * c->b->rise_K_per_s;
		cook_on(c, step_s);
		left_s -= step_s;
	}
}

static void cook_hold(struct cook *c, double left_s)
{
	while (left_s > 0) {
		bool quiet = cure_rate(c->resin_K, c->cured) < 1e-6 &&
			     fabs(c->resin_K - c->bath_K) < 0.5;
		double step_s = fmin(left_s, quiet ? LONG_STEP_S : SHORT_STEP_S);
		cook_on(c, step_s);
		left_s -= step_s;
	}
}

static bool is_within(double x, double low, double high)
{
	return x >= low && x <= high;
}

enum bad cure_bath_run(const struct cure_bath *b, struct cure_end *out)
{
	const double two_days = 172800;
	if (!is_within(b->start_K, 270, 400) || !is_within(b->hold_K, 270, 400) ||
		!is_within(b->hold_s, 0, two_days) || !is_within(b->boil_s, 0, two_days) ||
		!is_within(b->monomer_share, 0, 1) || !is_within(b->thick_mm, 0.1, 50) ||
		!is_within(b->rise_K_per_s, 1e-4, 10))
		return BAD_RANGE;
	struct cook c = {.b = b,
		.lag_s = STONE_HOLDS * b->thick_mm * b->thick_mm / (PI * PI * DIFFUSIVITY),
		.bath_K = b->start_K,
		.mould_K = b->start_K,
		.resin_K = b->start_K,
		.peak_K = b->start_K};
	enum bad code = processing_exotherm(
		HEAT_Nmm_MOL, MOLAR_TONNE, b->monomer_share, SPECIFIC_HEAT, &c.adiabatic_K);
	if (code)
		return code;
	cook_ramp(&c, b->hold_K);
	cook_hold(&c, b->hold_s);
	if (b->boil_s > 0) {
		cook_ramp(&c, BOIL_K);
		cook_hold(&c, b->boil_s);
	}
	*out = (struct cure_end){c.peak_K, c.cured, (1 - c.cured) * b->monomer_share, c.total_s};
	return FINE;
}
