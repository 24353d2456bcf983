/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings, their uncertainty and what they prove. What the functions compute, and where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/metrology.h>

#define TRADE  "common practice of the trade"
#define GUARDS "ISO 14253-1:2017; JCGM 106:2012, 8"

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
