/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar as it was made: what its sites carry and how hard it is bent when somebody bites on one of
 * its ends. mm, N, MPa; pure: no memory but the caller's, no state.
 *
 * The bar runs along the smooth centreline through the sleeves (calc/arch.h) with the height that
 * each place has: right extension, first sleeve, span, sleeve, ... left extension. At a sleeve its
 * hole is missing from the section. Each end is bitten once; loads are given for the end that loads
 * a site most. The rigid and the flexible loads are two bounds of the truth (calc/loads.h,
 * calc/grillage.h). */
#ifndef BARWRIGHT_BENCH_BAR_H
#define BARWRIGHT_BENCH_BAR_H

#include <barwright/calc/arch.h>
#include <barwright/calc/grillage.h>

#include "course/procedure.h"

enum {
	BAR_SITES = PROCEDURE_SITES,
	BAR_PLACES = 2 * PROCEDURE_SITES + 1,
	BAR_PIECES = 3, /* straight pieces a span or an extension is cut into */
	BAR_NODES = BAR_PIECES * (BAR_SITES + 1) + 1
};

struct bar_made {
	size_t n;
	double x_mm[BAR_SITES], y_mm[BAR_SITES], diameter_mm[BAR_SITES], hole_mm[BAR_SITES];
	double height_mm[BAR_PLACES];
	double width_mm, extension_mm[2];
	double bite_N, modulus_MPa, shear_modulus_MPa, stiffness_N_per_mm;
};

struct bar_loads {
	double rigid_N[BAR_SITES], flexible_N[BAR_SITES]; /* pressure positive */
	enum arch_end bitten;
	double stress_MPa[BAR_PLACES]; /* the greater of both bites */
	double drop_mm[2];             /* of each end under a bite on it */
	double imbalance;              /* of both models, 0 is perfect */
};

struct bar_room {
	double work[GRILLAGE_ROW_ROOM(BAR_NODES)];
};

/* BAD_RANGE where a height, a width or a stiffness is not above 0 (there is no bar yet), where a hole
 * leaves nothing of the bar; otherwise the codes of calc/arch.h and calc/grillage.h. */
enum bad bar_loads(const struct bar_made *b, struct bar_room *room, struct bar_loads *out);

#endif
