/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The flexible bar on springs: places along the bar in their order, what stands under each and what
 * loads it. Straight pieces from place to place, bending and twisting, shear left out. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/grillage.h>

#define FRAMES "grid elements, e.g. Kattan, guide to finite elements, 2nd ed. 2007, ch. 9"

/* The lists of a call, and its numbers. */
enum { X, Y, SPRINGS, LOADS };
enum { BENDING, TWISTING };

struct frame {
	struct grillage_node node[FORMULA_LENGTH];
	struct grillage_bar bar[FORMULA_LENGTH];
	struct grillage_move move[FORMULA_LENGTH];
	struct grillage_force force[FORMULA_LENGTH];
	size_t n;
};

static enum bad nodes_of(struct call *c, struct frame *f)
{
	f->n = c->list[X].n;
	for (size_t k = Y; k <= LOADS; k++)
		if (c->list[k].n != f->n)
			return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < f->n; i++) {
		f->node[i] = (struct grillage_node){.x_mm = c->list[X].at[i],
			.y_mm = c->list[Y].at[i],
			.down_N = c->list[LOADS].at[i],
			.spring_N_per_mm = c->list[SPRINGS].at[i]};
		f->bar[i] =
			(struct grillage_bar){i, i + 1, c->number[BENDING], c->number[TWISTING], 0};
	}
	return FINE;
}

/* A straight bar on springs could roll about itself although nothing turns it. It is laid along x and
 * that one turn is held. */
static void straight_is_held(struct frame *f)
{
	double x0 = f->node[0].x_mm, y0 = f->node[0].y_mm;
	double dx = f->node[f->n - 1].x_mm - x0, dy = f->node[f->n - 1].y_mm - y0;
	double length = sqrt(dx * dx + dy * dy);
	for (size_t i = 0; i < f->n; i++) {
		double x = f->node[i].x_mm - x0, y = f->node[i].y_mm - y0;
		if (fabs(x * dy - y * dx) > 1e-9 * length * length)
			return;
	}
	for (size_t i = 0; i < f->n && length > 0; i++) {
		double x = f->node[i].x_mm - x0, y = f->node[i].y_mm - y0;
		f->node[i].x_mm = (x * dx + y * dy) / length;
		f->node[i].y_mm = 0;
	}
	f->node[0].hold = HOLD_TURN_X;
}

static enum bad frame_of(struct call *c, struct frame *f)
{
	double work[GRILLAGE_ROW_ROOM(FORMULA_LENGTH)];
	enum bad code = nodes_of(c, f);
	if (code)
		return code;
	if (f->n < 2)
		return refuse(c, BAD_COUNT, "is given fewer than two places");
	straight_is_held(f);
	struct grillage g = {f->node, f->n, f->bar, f->n - 1};
	return grillage_solve(&g, work, sizeof work / sizeof *work, f->move, f->force, NULL);
}

static enum bad run_flexible_shares(struct call *c)
{
	struct frame f;
	enum bad code = frame_of(c, &f);
	for (size_t i = 0; !code && i < f.n; i++)
		c->out[c->nout++] = f.move[i].carried_N;
	return code;
}

static enum bad run_flexible_drops(struct call *c)
{
	struct frame f;
	enum bad code = frame_of(c, &f);
	for (size_t i = 0; !code && i < f.n; i++)
		c->out[c->nout++] = f.move[i].drop_mm;
	return code;
}

static enum bad run_flexible_moment(struct call *c)
{
	struct frame f;
	double most = 0;
	enum bad code = frame_of(c, &f);
	for (size_t i = 0; !code && i + 1 < f.n; i++)
		most = fmax(most,
			fmax(fabs(f.force[i].moment_from_Nmm), fabs(f.force[i].moment_to_Nmm)));
	return code ? code : give(c, most);
}

/* What all rows take. */
#define FRAME_ \
	L_("x", LENGTH_), L_("y", LENGTH_), L_("springs", SPRING_), L_("loads", FORCE_), \
		N_("bending", BENDING_), N_("twisting", BENDING_)

const struct function function_frame[] = {
	ROW_("flexible_shares", GIVES_LIST_(FORCE_), run_flexible_shares,
		"what is carried at each place along a flexible bar, pressure positive; a place "
		"is a site, an end, or where a load stands, in their order along the bar, with 0 "
		"for the spring where nothing supports it and 0 for the load where there is none; "
		"bending is modulus times second moment, twisting shear modulus times torsion "
		"constant",
		FRAMES, FRAME_),
	ROW_("flexible_drops", GIVES_LIST_(LENGTH_), run_flexible_drops,
		"the same: how far each place goes down", FRAMES, FRAME_),
	ROW_("flexible_moment", GIVES_(MOMENT_), run_flexible_moment,
		"the same: the greatest bending moment in the bar, whichever way it bends", FRAMES,
		FRAME_),
};
const size_t function_frame_rows = sizeof function_frame / sizeof *function_frame;
