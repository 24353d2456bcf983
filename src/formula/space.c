/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calculations of vertical space, cut-down and holes. What the functions compute, and
 * where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/hole.h>
#include <barwright/calc/space.h>

/* Sources that several rows share. */
#define TRADE "common practice of the trade"

/* ---- Vertical space ------------------------------------------------------------------------- */

TAKES_2(bar_underside, space_gap)
TAKES_5(space_for_bar, space_thickness)

static enum bad run_stock_choice(struct call *c)
{
	enum bad code =
		space_stock(c->number[0], c->number[1], c->list[0].at, c->list[0].n, c->out);
	return code == BAD_NOTHING ? give(c, NAN) : code;
}

static enum bad run_stock_shortfall(struct call *c)
{
	return space_shortfall(c->number[0], c->number[1], c->list[0].at, c->list[0].n, c->out);
}

TAKES_2(space_margin, space_margin)
TAKES_2(along_tilt, space_along)
TAKES_5(cut_down, space_cut_down)

static enum bad run_cut_down_upright(struct call *c)
{
	const double *v = c->number;
	return space_cut_down(v[0], v[1], v[2], v[3], 0, c->out);
}

TAKES_2(first_cut, space_first_cut)
TAKES_2(cover_limit, space_cover_limit)
TAKES_3(cover_margin, space_cover_margin)
TAKES_3(engaged_height, space_engaged)
TAKES_2(build_up, space_build_up)

/* ---- Holes ---------------------------------------------------------------------------------- */

TAKES_2(hole_diameter, hole_diameter)

static enum bad run_hole_diameter_tilted(struct call *c)
{
	const double *v = c->number;
	return hole_diameter_tilted(v[0], v[2], v[3], v[1], c->out);
}

TAKES_3(wall_near, hole_wall_near)
TAKES_3(wall_far, hole_wall_far)
TAKES_3(bar_width, hole_bar_width)
TAKES_3(ligament, hole_ligament)
TAKES_2(hole_offset, hole_offset)
TAKES_2(hole_residual, hole_residual)
TAKES_2(hole_volume, hole_volume)

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_space[] = {
	/* Vertical space */
	ROW_("bar_underside", GIVES_(LENGTH_), run_bar_underside,
		"height of the bar's underside: tissue plus clearance", TRADE,
		N_("tissue", LENGTH_), N_("clearance", LENGTH_)),
	ROW_("space_for_bar", GIVES_(LENGTH_), run_space_for_bar,
		"thickness left for the bar: matrix less all that lies under and over it; may be "
		"negative",
		TRADE, N_("matrix", LENGTH_), N_("underside", LENGTH_), N_("opaque", LENGTH_),
		N_("resin", LENGTH_), N_("tooth", LENGTH_)),
	ROW_REFERS_("stock_choice", GIVES_(LENGTH_), run_stock_choice,
		"the thickest stock that fits and is not under the minimum; nothing when there is "
		"none: refer back",
		TRADE, L_("stock", LENGTH_), N_("available", LENGTH_), N_("minimum", LENGTH_)),
	ROW_("stock_shortfall", GIVES_(LENGTH_), run_stock_shortfall,
		"what is missing to the thinnest stock that is not under the minimum; 0 when one "
		"fits",
		TRADE, L_("stock", LENGTH_), N_("available", LENGTH_), N_("minimum", LENGTH_)),
	ROW_("space_margin", GIVES_(LENGTH_), run_space_margin,
		"measured space less a minimum; negative when there is too little", TRADE,
		N_("measured", LENGTH_), N_("minimum", LENGTH_)),
	ROW_("along_tilt", GIVES_(LENGTH_), run_along_tilt,
		"length along an axis tilted from the vertical: height / cos(tilt)", NULL,
		N_("height", LENGTH_), N_("tilt", ANGLE_)),
	ROW_("cut_down", GIVES_(LENGTH_), run_cut_down,
		"what is cut off a cylinder: its height less (underside + thickness + protrusion) "
		"/ cos(tilt), at least 0",
		TRADE, N_("cylinder", LENGTH_), N_("underside", LENGTH_), N_("thickness", LENGTH_),
		N_("protrusion", LENGTH_), N_("tilt", ANGLE_)),
	ROW_("cut_down", GIVES_(LENGTH_), run_cut_down_upright,
		"the same for a cylinder that stands upright", TRADE, N_("cylinder", LENGTH_),
		N_("underside", LENGTH_), N_("thickness", LENGTH_), N_("protrusion", LENGTH_)),
	ROW_("first_cut", GIVES_(LENGTH_), run_first_cut,
		"the first of two cuts, which leaves the allowance for the second", TRADE,
		N_("final", LENGTH_), N_("allowance", LENGTH_)),
	ROW_("cover_limit", GIVES_(LENGTH_), run_cover_limit,
		"the highest top of a cylinder under this cover of resin", TRADE,
		N_("matrix", LENGTH_), N_("cover", LENGTH_)),
	ROW_("cover_margin", GIVES_(LENGTH_), run_cover_margin,
		"cover limit less kept height; negative when the cylinder stands too high", TRADE,
		N_("kept", LENGTH_), N_("matrix", LENGTH_), N_("cover", LENGTH_)),
	ROW_("engaged_height", GIVES_(LENGTH_), run_engaged_height,
		"height over which sleeve and bar overlap: min(thickness, kept - underside), at "
		"least 0",
		TRADE, N_("kept", LENGTH_), N_("underside", LENGTH_), N_("thickness", LENGTH_)),
	ROW_("build_up", GIVES_(LENGTH_), run_build_up,
		"what the bar must be built up at a sleeve to engage the required height", TRADE,
		N_("required", LENGTH_), N_("thickness", LENGTH_)),
	/* Holes */
	ROW_("hole_diameter", GIVES_(LENGTH_), run_hole_diameter,
		"hole for a cylinder with this gap all round: cylinder + 2 * gap", TRADE,
		N_("cylinder", LENGTH_), N_("gap", LENGTH_)),
	ROW_("hole_diameter", GIVES_(LENGTH_), run_hole_diameter_tilted,
		"hole that lets a tilted cylinder through: cylinder / cos(tilt) + thickness * "
		"tan(tilt) + 2 * gap",
		TRADE, N_("cylinder", LENGTH_), N_("gap", LENGTH_), N_("thickness", LENGTH_),
		N_("tilt", ANGLE_)),
	ROW_("wall_near", GIVES_(LENGTH_), run_wall_near,
		"the thinner wall beside a hole off the bar's centreline", TRADE,
		N_("width", LENGTH_), N_("hole", LENGTH_), N_("offset", LENGTH_)),
	ROW_("wall_far", GIVES_(LENGTH_), run_wall_far,
		"the thicker wall beside a hole off the bar's centreline", TRADE,
		N_("width", LENGTH_), N_("hole", LENGTH_), N_("offset", LENGTH_)),
	ROW_("bar_width", GIVES_(LENGTH_), run_bar_width,
		"bar width that keeps this wall on both sides: hole + 2 * (wall + offset)", TRADE,
		N_("hole", LENGTH_), N_("wall", LENGTH_), N_("offset", LENGTH_)),
	ROW_("ligament", GIVES_(LENGTH_), run_ligament,
		"what stands between two holes: pitch less half of both", TRADE,
		N_("pitch", LENGTH_), N_("first", LENGTH_), N_("second", LENGTH_)),
	ROW_("hole_offset", GIVES_(LENGTH_), run_hole_offset,
		"how far a hole lies off the centreline, from a reading of the wall on each side: "
		"half their difference",
		TRADE, N_("left", LENGTH_), N_("right", LENGTH_)),
	ROW_("hole_residual", GIVES_(LENGTH_), run_hole_residual,
		"still to remove on each side from a pilot hole", TRADE, N_("hole", LENGTH_),
		N_("pilot", LENGTH_)),
	ROW_("hole_volume", GIVES_(VOLUME_), run_hole_volume,
		"material one hole removes: pi / 4 * hole^2 * thickness", NULL, N_("hole", LENGTH_),
		N_("thickness", LENGTH_)),
};
const size_t function_space_rows = sizeof function_space / sizeof *function_space;
