/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings, their uncertainty and what they prove. What the functions compute, and
 * where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/metrology.h>

#define TRADE    "common practice of the trade"
#define PROBABLE "JCGM 106:2012, 7"
#define GUARDS   "ISO 14253-1:2017; JCGM 106:2012, 8"

/* ---- Measurement ---------------------------------------------------------------------------- */

TAKES_3(vernier, metrology_vernier)
TAKES_2(corrected, metrology_corrected)
TAKES_1(rectangular, metrology_rectangular)

static enum bad run_mean_uncertainty(struct call *c)
{
	struct metrology_set set;
	enum bad code = metrology_readings(c->list[0].at, c->list[0].n, &set);
	return code ? code : give(c, set.u_mean);
}

/* sqrt of the sum of squares, each its sensitivity times its uncertainty */
static enum bad run_combined(struct call *c)
{
	struct metrology_part part[FORMULA_LENGTH];
	double degrees;
	for (size_t i = 0; i < c->list[0].n; i++)
		part[i] = (struct metrology_part){1, c->list[0].at[i], INFINITY};
	return metrology_combine(part, c->list[0].n, c->out, &degrees);
}

TAKES_2(guard_band, metrology_guard)

/* The interval of two sides around a result. */
TAKES_2(coverage_factor, metrology_coverage)

static enum bad run_coverage_factor_normal(struct call *c)
{
	return metrology_coverage(c->number[0], INFINITY, c->out);
}

static enum bad run_effective_degrees(struct call *c)
{
	struct metrology_part part[FORMULA_LENGTH];
	double u;
	if (c->list[0].n != c->list[1].n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < c->list[0].n; i++)
		part[i] = (struct metrology_part){1, c->list[0].at[i], c->list[1].at[i]};
	return metrology_combine(part, c->list[0].n, &u, c->out);
}

TAKES_4(probability_within, metrology_conformance)
TAKES(probability_above, metrology_conformance(v[0], v[1], v[2], INFINITY, c->out))
TAKES(probability_below, metrology_conformance(v[0], v[1], -INFINITY, v[2], c->out))

static enum bad verdict_is(struct call *c, enum metrology_verdict wanted)
{
	const double *v = c->number;
	enum metrology_verdict verdict;
	enum bad code = metrology_judge(v[0], v[1], v[2], v[3], &verdict);
	return code ? code : give(c, verdict == wanted);
}

static enum bad run_is_accepted(struct call *c)
{
	return verdict_is(c, METROLOGY_ACCEPT);
}

static enum bad run_is_rejected(struct call *c)
{
	return verdict_is(c, METROLOGY_REJECT);
}

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_readings[] = {
	/* Measurement */
	ROW_("vernier", GIVES_(LENGTH_), run_vernier,
		"what a vernier shows: main scale plus line times division", TRADE,
		N_("main", LENGTH_), N_("line", NUMBER_), N_("division", LENGTH_)),
	ROW_("corrected", GIVES_(LENGTH_), run_corrected,
		"a reading less the zero error of the closed instrument", TRADE,
		N_("reading", LENGTH_), N_("zero_error", LENGTH_)),
	ROW_("rectangular", GIVES_A_, run_rectangular,
		"standard uncertainty of what lies within +- half_width: half_width / sqrt(3)",
		"JCGM 100:2008, 4.3.7", NA_("half_width")),
	ROW_("mean_uncertainty", GIVES_A_, run_mean_uncertainty,
		"standard uncertainty of the mean of repeated readings", "JCGM 100:2008, 4.2.3",
		LA_("readings")),
	ROW_("combined", GIVES_A_, run_combined,
		"combined standard uncertainty of parts that do not depend on each other",
		"JCGM 100:2008, 5.1.2", LA_("uncertainties")),
	ROW_("effective_degrees", GIVES_(NUMBER_), run_effective_degrees,
		"degrees of freedom of the combined uncertainty, from each part and its own "
		"(n - 1 for the mean of n readings)",
		"JCGM 100:2008, G.2b", LA_("uncertainties"), L_("degrees", NUMBER_)),
	ROW_("coverage_factor", GIVES_(NUMBER_), run_coverage_factor,
		"how many standard uncertainties on each side of a result hold the true value "
		"with this confidence; Student's t for the whole part of the degrees of freedom",
		"JCGM 100:2008, G.4.1 and table G.2", N_("confidence", NUMBER_),
		N_("degrees", NUMBER_)),
	ROW_("coverage_factor", GIVES_(NUMBER_), run_coverage_factor_normal,
		"the same where no degrees of freedom limit it: the normal distribution",
		"JCGM 100:2008, table G.1", N_("confidence", NUMBER_)),
	ROW_("probability_within", GIVES_(NUMBER_), run_probability_within,
		"probability that the true size lies within its limits, from a reading and its "
		"standard uncertainty, nothing else known",
		PROBABLE, NA_("reading"), NA_("uncertainty"), NA_("lower"), NA_("upper")),
	ROW_("probability_above", GIVES_(NUMBER_), run_probability_above,
		"the same for a least size alone", PROBABLE, NA_("reading"), NA_("uncertainty"),
		NA_("lower")),
	ROW_("probability_below", GIVES_(NUMBER_), run_probability_below,
		"the same for a greatest size alone", PROBABLE, NA_("reading"), NA_("uncertainty"),
		NA_("upper")),
	ROW_("guard_band", GIVES_A_, run_guard_band, "guard band for one limit at this confidence",
		GUARDS, NA_("uncertainty"), N_("confidence", NUMBER_)),
	ROW_("is_accepted", GIVES_TRUTH_, run_is_accepted,
		"true when a reading proves that a size is within its limits", GUARDS,
		NA_("reading"), NA_("lower"), NA_("upper"), NA_("guard")),
	ROW_("is_rejected", GIVES_TRUTH_, run_is_rejected,
		"true when a reading proves that a size is outside its limits", GUARDS,
		NA_("reading"), NA_("lower"), NA_("upper"), NA_("guard")),
};
const size_t function_readings_rows = sizeof function_readings / sizeof *function_readings;
