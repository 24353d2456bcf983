/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What each site carries of a load, under a bridge that does not bend. What the functions compute, and
 * where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <barwright/calc/loads.h>

/* Sources that several rows share. */
#define SKALAK "Skalak, J Prosthet Dent 1983;49:843 (idea; equations from memory)"
#define BOLTS  "eccentric shear of bolt groups, Budynas and Nisbett (from memory)"

/* ---- Load on the sites ---------------------------------------------------------------------- */

/* Supports from the lists of x, y and, if there is a third, stiffness. */
static enum bad supports_from(struct call *c, size_t lists, struct loads_support *s, size_t *n)
{
	for (size_t k = 1; k < lists; k++)
		if (c->list[k].n != c->list[0].n)
			return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < c->list[0].n; i++)
		s[i] = (struct loads_support){
			c->list[0].at[i], c->list[1].at[i], lists > 2 ? c->list[2].at[i] : 1};
	*n = c->list[0].n;
	return FINE;
}

static enum bad shares_of(struct call *c, size_t lists)
{
	struct loads_support s[FORMULA_LENGTH];
	struct loads_force load = {c->number[1], c->number[2], c->number[0]};
	size_t n;
	enum bad code = supports_from(c, lists, s, &n);
	if (!code)
		code = loads_share(s, n, &load, 1, c->out);
	c->nout = code ? 0 : n;
	return code;
}

static enum bad run_load_shares(struct call *c)
{
	return shares_of(c, 2);
}

static enum bad run_load_shares_springs(struct call *c)
{
	return shares_of(c, 3);
}

/* Shares of a push in the plane, along x or along y. */
static enum bad push_shares(struct call *c, bool along_x)
{
	struct loads_support s[FORMULA_LENGTH];
	double other[FORMULA_LENGTH];
	struct loads_push push = {c->number[2], c->number[3], c->number[0], c->number[1]};
	size_t n;
	enum bad code = supports_from(c, 2, s, &n);
	if (!code)
		code = loads_push_share(
			s, n, &push, 1, along_x ? c->out : other, along_x ? other : c->out);
	c->nout = code ? 0 : n;
	return code;
}

static enum bad run_push_shares_x(struct call *c)
{
	return push_shares(c, true);
}

static enum bad run_push_shares_y(struct call *c)
{
	return push_shares(c, false);
}

static enum bad run_is_within_sites(struct call *c)
{
	struct loads_support s[FORMULA_LENGTH];
	size_t n;
	enum bad code = supports_from(c, 2, s, &n);
	return code ? code : give(c, loads_is_inside(s, n, c->number[0], c->number[1]));
}

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_loads[] = {
	/* Load on the sites */
	ROW_("load_shares", GIVES_LIST_(FORCE_), run_load_shares,
		"what each site carries of a load at a place, under a rigid bridge; pressure "
		"positive",
		SKALAK, L_("x", LENGTH_), L_("y", LENGTH_), N_("load", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("load_shares", GIVES_LIST_(FORCE_), run_load_shares_springs,
		"the same for sites of unequal stiffness", SKALAK, L_("x", LENGTH_),
		L_("y", LENGTH_), L_("stiffness", SPRING_), N_("load", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("push_shares_x", GIVES_LIST_(FORCE_), run_push_shares_x,
		"what each site carries, along x, of a push in the plane", BOLTS, L_("x", LENGTH_),
		L_("y", LENGTH_), N_("push_x", FORCE_), N_("push_y", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("push_shares_y", GIVES_LIST_(FORCE_), run_push_shares_y,
		"what each site carries, along y, of a push in the plane", BOLTS, L_("x", LENGTH_),
		L_("y", LENGTH_), N_("push_x", FORCE_), N_("push_y", FORCE_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
	ROW_("is_within_sites", GIVES_TRUTH_, run_is_within_sites,
		"true when a place lies within the outline of the sites; a load outside pulls at "
		"least one of them up",
		"statics", L_("x", LENGTH_), L_("y", LENGTH_), N_("at_x", LENGTH_),
		N_("at_y", LENGTH_)),
};
const size_t function_loads_rows = sizeof function_loads / sizeof *function_loads;
