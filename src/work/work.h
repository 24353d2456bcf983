/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A whole case through the calculation core: spread, extensions, heights, loads, the bar's strength,
 * the verdict. mm, N, MPa; no words but the cautions. What is worked out here is a model: it never
 * replaces the prescription, the suppliers' instructions, local rules or licensed practice. */
#ifndef BARWRIGHT_WORK_WORK_H
#define BARWRIGHT_WORK_WORK_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>
#include <barwright/calc/arch.h>
#include <barwright/calc/safety.h>
#include <barwright/calc/space.h>

#include "course/case.h"

/* One end of the bar; side[ARCH_RIGHT] and side[ARCH_LEFT]. */
struct work_side {
	double limit_mm;  /* the smaller of factor times spread and cap */
	double actual_mm; /* extension along the bar from the distal surface */
	double trim_mm;   /* what must come off; 0 when it is within the limit */
	bool ok;
	struct arch_place end; /* of the bar */
	double chord_mm;       /* straight from where the bar leaves the distal surface */
	double lever_mm;       /* square from the line of the terminal centres to the end */
	double tip_mm;         /* drop of the end under all loads; 0 without loads or bar */
};

struct work_site {
	double available_mm;  /* for the bar; may be negative */
	double space_mm;      /* platform to matrix */
	struct space_cut cut; /* only when a stock fits */
	double build_up_mm;   /* what the bar lacks at the sleeve to engage as the rule wants */
	bool can_build_up;    /* and the space allows it */
	double rigid_N;       /* carried under all loads, pressure positive; 0 without loads */
	double flexible_N;    /* only when a stock fits */
	double pull_N;        /* the larger pull of the two models, at least 0 */
	double bond_MPa;      /* average in the cement under that pull; only with a joint */
	double holds_N;       /* what the cement is counted on for */
};

/* The bar under all loads together, by the flexible model. */
struct work_bar {
	double inertia_mm4, modulus_mm3, twist_mm4;
	double moment_Nmm, shear_N, torque_Nmm; /* greatest magnitudes */
	double bending_MPa;                     /* of the full section */
	double net_MPa; /* at the worst site, less its hole (case_hole_mm) */
	size_t net_site;
	double shear_MPa; /* of force and torque together */
	double at_mm;     /* along the bar from the first centre: where bending is greatest */
	size_t near_site; /* the site nearest to that */
	double near_mm;   /* how far from its centre, along the bar */
	double tip_mm;    /* the larger drop of the two ends */
	double lambda;    /* rigidity index of the mean span, k L^3/(3 E I) */
	double factor;    /* strength as given / bending; infinite without stress */
	struct safety_answer safety; /* by the larger of bending_MPa and net_MPa */
	double residual;             /* lack of balance of the solution */
};

enum { WORK_CAUTIONS = 16 + 5 * ARCH_SITES };

struct work_result {
	const struct case_file *file;
	struct arch_curve curve;
	double length_mm;          /* along the bar, first centre to last */
	struct arch_spread spread; /* by the rule of the case */
	double distal_mm, centres_mm;
	struct work_side side[2];
	struct work_site site[ARCH_SITES];
	size_t governing;
	double available_mm;
	bool fits; /* some stock does: else no bar, no cut, no flexible loads */
	double chosen_mm, shortfall_mm;
	bool has_loads;
	double load_N;       /* sum */
	bool tips_over;      /* a load stands outside the outline of the sites */
	struct work_bar bar; /* only when it fits and has loads */
	/* The verdict. `refer`: by the rules of the case it cannot go on as it is. */
	bool refer, cantilever_ok, safety_ok, engagement_ok;
	const char *why[8]; /* reasons to refer back, in the arena */
	size_t nwhy;
	const char *caution[WORK_CAUTIONS];
	size_t ncaution;
};

/* Works the case; texts in `a`, and `file` must outlive the result. BAD_MEMORY, and codes of the core
 * for a case that case_read would have refused. */
enum bad work_run(struct arena *a, const struct case_file *file, struct work_result *out);

/* For work_run: the parts in their order. bar_model.c, cautions.c */
enum bad work_bar_run(struct arena *a, struct work_result *w);
enum bad work_judge(struct arena *a, struct work_result *w);

#endif
