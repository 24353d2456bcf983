/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Calculations at the bench: cement and joint, gypsum, resin, air, processing, workshop. What the
 * functions compute, and where it was published, is in the headers of the core. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/cement.h>
#include <barwright/calc/gypsum.h>
#include <barwright/calc/joint.h>
#include <barwright/calc/processing.h>
#include <barwright/calc/resin.h>
#include <barwright/calc/vapour.h>
#include <barwright/calc/workshop.h>

/* Sources that several rows share. */
#define TRADE    "common practice of the trade"
#define TEXTBOOK "any text on strength of materials (from memory)"
#define JOINT    "on its limits: BMC Oral Health 2021, doi 10.1186/s12903-021-01958-6"

/* ---- Cement and joint ----------------------------------------------------------------------- */

TAKES_2(cement_film, cement_film)
TAKES_5(cement_volume, cement_volume)
TAKES_2(cement_area, joint_area)
TAKES_2(cement_area_lost, cement_area_lost)
TAKES_3(cement_shear, joint_shear)
TAKES_4(cement_capacity, joint_capacity)
TAKES_4(cement_torque, joint_torque)
TAKES_5(engaged_height_for, joint_height_for)
TAKES_4(blast_area, cement_blast_area)
TAKES_2(blast_time, cement_blast_time)

static enum bad peaks_of(struct call *c, struct joint_peaks *out)
{
	const double *v = c->number;
	struct joint_lag lag = {v[0], v[1], v[2], v[3], v[4], v[5]};
	return joint_lag_peaks(&lag, out);
}

static enum bad run_cement_peak_at_sleeve(struct call *c)
{
	struct joint_peaks p;
	enum bad code = peaks_of(c, &p);
	return code ? code : give(c, p.sleeve_end);
}

static enum bad run_cement_peak_at_bar(struct call *c)
{
	struct joint_peaks p;
	enum bad code = peaks_of(c, &p);
	return code ? code : give(c, p.bar_end);
}

TAKES_3(tube_stiffness, joint_tube_stiffness)
TAKES_4(block_stiffness, joint_block_stiffness)
TAKES_3(screw_preload, joint_preload)
TAKES_3(screw_nut_factor, joint_nut_factor)
TAKES_3(screw_opening_load, joint_opening_load)
TAKES_2(screw_preload_loss, joint_preload_loss)

/* ---- Gypsum --------------------------------------------------------------------------------- */

TAKES_2(gypsum_water, gypsum_water)
TAKES_2(gypsum_ratio, gypsum_ratio)
TAKES_3(gypsum_slurry, gypsum_slurry)
TAKES_4(gypsum_powder, gypsum_powder)
TAKES_2(gypsum_expansion, gypsum_expansion)
TAKES_1(gypsum_excess, gypsum_excess)
TAKES_1(gypsum_dihydrate, gypsum_dihydrate)

/* ---- Resin ---------------------------------------------------------------------------------- */

static enum bad batch_of(struct call *c, struct resin_batch *out)
{
	const double *v = c->number;
	return resin_batch(v[0], v[1], v[2], v[3], v[4], out);
}

static enum bad run_resin_total(struct call *c)
{
	struct resin_batch b;
	enum bad code = batch_of(c, &b);
	return code ? code : give(c, b.total_tonne);
}

static enum bad run_resin_polymer(struct call *c)
{
	struct resin_batch b;
	enum bad code = batch_of(c, &b);
	return code ? code : give(c, b.polymer_tonne);
}

static enum bad run_resin_monomer(struct call *c)
{
	struct resin_batch b;
	enum bad code = batch_of(c, &b);
	return code ? code : give(c, b.monomer_tonne);
}

static enum bad run_resin_monomer_volume(struct call *c)
{
	struct resin_batch b;
	enum bad code = batch_of(c, &b);
	return code ? code : give(c, b.monomer_mm3);
}

TAKES_2(resin_powder_volume, resin_powder_volume)
TAKES_3(resin_ratio_by_mass, resin_ratio_by_mass)
TAKES_3(resin_bulk_density, resin_bulk_density)
TAKES_3(resin_monomer_share, resin_monomer_share)
TAKES_2(resin_monomer_shrinkage, resin_monomer_shrinkage)
TAKES_3(resin_mix_shrinkage, resin_mix_shrinkage)
TAKES_1(resin_linear, resin_linear)
TAKES_2(resin_movement, resin_movement)
TAKES_3(resin_cooling, resin_cooling)
TAKES_2(resin_residual, resin_residual)
TAKES_2(resin_uptake, resin_uptake)
TAKES_2(resin_uptake_share, resin_uptake_share)

/* ---- Monomer in the air --------------------------------------------------------------------- */

TAKES_3(vapour_concentration, vapour_concentration)

static enum bad run_vapour_concentration_25(struct call *c)
{
	const double *v = c->number;
	return vapour_concentration(v[0], v[1], VAPOUR_MOLAR_25C_mm3_mol, c->out);
}

TAKES_3(vapour_share, vapour_share)

static enum bad run_vapour_share_25(struct call *c)
{
	const double *v = c->number;
	return vapour_share(v[0], v[1], VAPOUR_MOLAR_25C_mm3_mol, c->out);
}

TAKES_3(vapour_spill, vapour_spill)
TAKES_2(vapour_saturated, vapour_saturated)

/* ---- Processing ----------------------------------------------------------------------------- */

TAKES_3(ramp_time, processing_ramp)
TAKES_4(exotherm_rise, processing_exotherm)
TAKES_3(heat_to_leave, processing_heat_to_leave)
TAKES_2(press_force, processing_press_force)
TAKES_2(flask_pressure, processing_flask_pressure)
TAKES_2(flask_area, processing_flask_area)

/* The steps of a cure from three lists: temperatures, ramps, holds. */
static enum bad steps_from(struct call *c, struct processing_step *step)
{
	const struct formula_span *t = &c->list[0], *ramp = &c->list[1], *hold = &c->list[2];
	if (t->n != ramp->n || t->n != hold->n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < t->n; i++)
		step[i] = (struct processing_step){t->at[i], ramp->at[i], hold->at[i]};
	return FINE;
}

static enum bad run_cure_time(struct call *c)
{
	struct processing_step step[FORMULA_LENGTH];
	struct processing_times times;
	enum bad code = steps_from(c, step);
	if (!code)
		code = processing_times(c->number[0], step, c->list[0].n, &times);
	return code ? code : give(c, times.total_s);
}

static enum bad run_cure_is_allowed(struct call *c)
{
	struct processing_step step[FORMULA_LENGTH];
	enum processing_fault fault;
	size_t at;
	enum bad code = steps_from(c, step);
	if (!code)
		code = processing_judge(
			c->number[0], step, c->list[0].n, &processing_common, &fault, &at);
	return code ? code : give(c, fault == PROCESSING_ALLOWED);
}

/* ---- Workshop ------------------------------------------------------------------------------- */

TAKES_2(rim_speed, workshop_rim_speed)

static enum bad run_dilution_stock(struct call *c)
{
	double water;
	return workshop_dilution(c->number[0], c->number[1], c->number[2], c->out, &water);
}

static enum bad run_dilution_water(struct call *c)
{
	double stock;
	return workshop_dilution(c->number[0], c->number[1], c->number[2], &stock, c->out);
}

static enum bad run_rolled_yield(struct call *c)
{
	return workshop_rolled_yield(c->list[0].at, c->list[0].n, c->out);
}

static enum bad run_cost_per_piece(struct call *c)
{
	enum bad code = workshop_cost(c->number[0], c->number[1], c->number[2], c->out);
	return code == BAD_NOTHING ? give(c, NAN) : code;
}

TAKES_5(blanks, workshop_blanks)
TAKES_3(sheet_use, workshop_use)
TAKES_2(starts_needed, workshop_starts)

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_bench[] = {
	/* Cement and joint */
	ROW_("cement_film", GIVES_(LENGTH_), run_cement_film,
		"film on each side: half of hole less cylinder", TRADE, N_("hole", LENGTH_),
		N_("cylinder", LENGTH_)),
	ROW_("cement_volume", GIVES_(VOLUME_), run_cement_volume,
		"cement for some sleeves, waste as a share on top", TRADE, N_("hole", LENGTH_),
		N_("cylinder", LENGTH_), N_("height", LENGTH_), N_("sites", NUMBER_),
		N_("waste", NUMBER_)),
	ROW_("cement_area", GIVES_(AREA_), run_cement_area,
		"bonded area of a sleeve: pi * diameter * engaged", NULL, N_("diameter", LENGTH_),
		N_("engaged", LENGTH_)),
	ROW_("cement_area_lost", GIVES_(NUMBER_), run_cement_area_lost,
		"share of the bonded area that is lost when less is engaged", NULL,
		N_("full", LENGTH_), N_("engaged", LENGTH_)),
	ROW_("cement_shear", GIVES_(STRESS_), run_cement_shear,
		"average shear stress in the cement of a sleeve", NULL, N_("force", FORCE_),
		N_("diameter", LENGTH_), N_("engaged", LENGTH_)),
	ROW_("cement_capacity", GIVES_(FORCE_), run_cement_capacity,
		"area times bond strength times a factor for coverage and ageing: it ranks joints, "
		"it promises nothing",
		JOINT, N_("diameter", LENGTH_), N_("engaged", LENGTH_), N_("bond", STRESS_),
		N_("factor", NUMBER_)),
	ROW_("cement_torque", GIVES_(MOMENT_), run_cement_torque,
		"the torque that this capacity makes at the radius", JOINT, N_("diameter", LENGTH_),
		N_("engaged", LENGTH_), N_("bond", STRESS_), N_("factor", NUMBER_)),
	ROW_("engaged_height_for", GIVES_(LENGTH_), run_engaged_height_for,
		"the engaged height that carries a force", JOINT, N_("force", FORCE_),
		N_("safety", NUMBER_), N_("diameter", LENGTH_), N_("bond", STRESS_),
		N_("factor", NUMBER_)),
	ROW_("blast_area", GIVES_(AREA_), run_blast_area,
		"surfaces to blast: cylinders and hole walls", NULL, N_("hole", LENGTH_),
		N_("cylinder", LENGTH_), N_("height", LENGTH_), N_("sites", NUMBER_)),
	ROW_("blast_time", GIVES_(TIME_), run_blast_time,
		"time to blast an area at a dose, for example 10 s/cm2", TRADE, N_("area", AREA_),
		N_("dose", DOSE_)),
	ROW_("cement_peak_at_sleeve", GIVES_(NUMBER_), run_cement_peak_at_sleeve,
		"peak over average shear where the sleeve is loaded; sleeve and bar as modulus "
		"times area",
		"Volkersen 1938 (formula from memory)", N_("diameter", LENGTH_),
		N_("engaged", LENGTH_), N_("film", LENGTH_), N_("cement_shear_modulus", STRESS_),
		N_("sleeve", FORCE_), N_("bar", FORCE_)),
	ROW_("cement_peak_at_bar", GIVES_(NUMBER_), run_cement_peak_at_bar,
		"the same where the bar is loaded", "Volkersen 1938 (formula from memory)",
		N_("diameter", LENGTH_), N_("engaged", LENGTH_), N_("film", LENGTH_),
		N_("cement_shear_modulus", STRESS_), N_("sleeve", FORCE_), N_("bar", FORCE_)),
	ROW_("tube_stiffness", GIVES_(FORCE_), run_tube_stiffness, "modulus times area of a tube",
		NULL, N_("modulus", STRESS_), N_("outer", LENGTH_), N_("inner", LENGTH_)),
	ROW_("block_stiffness", GIVES_(FORCE_), run_block_stiffness,
		"modulus times area of a block with a round hole", NULL, N_("modulus", STRESS_),
		N_("width", LENGTH_), N_("depth", LENGTH_), N_("hole", LENGTH_)),
	ROW_("screw_preload", GIVES_(FORCE_), run_screw_preload,
		"preload of a screw: torque / (nut factor * diameter)", TRADE,
		N_("torque", MOMENT_), N_("nut_factor", NUMBER_), N_("diameter", LENGTH_)),
	ROW_("screw_nut_factor", GIVES_(NUMBER_), run_screw_nut_factor,
		"the nut factor behind a measured preload", TRADE, N_("torque", MOMENT_),
		N_("preload", FORCE_), N_("diameter", LENGTH_)),
	ROW_("screw_opening_load", GIVES_(FORCE_), run_screw_opening_load,
		"the load at which a joint opens, when this load makes this pull on it", TRADE,
		N_("preload", FORCE_), N_("load", FORCE_), N_("pull", FORCE_)),
	ROW_("screw_preload_loss", GIVES_(NUMBER_), run_screw_preload_loss,
		"share of a preload that is lost; negative when it rises", NULL,
		N_("first", FORCE_), N_("later", FORCE_)),
	/* Gypsum */
	ROW_("gypsum_water", GIVES_(VOLUME_), run_gypsum_water,
		"water for a mass of powder; ratio as mL per g", TRADE, N_("powder", MASS_),
		N_("ratio", NUMBER_)),
	ROW_("gypsum_ratio", GIVES_(NUMBER_), run_gypsum_ratio,
		"the water-powder ratio that was used", TRADE, N_("powder", MASS_),
		N_("water", VOLUME_)),
	ROW_("gypsum_slurry", GIVES_(VOLUME_), run_gypsum_slurry,
		"volume of the slurry: powder over its density, plus water", TRADE,
		N_("powder", MASS_), N_("density", DENSITY_), N_("water", VOLUME_)),
	ROW_("gypsum_powder", GIVES_(MASS_), run_gypsum_powder,
		"powder whose slurry fills a volume, waste as a share on top", TRADE,
		N_("volume", VOLUME_), N_("waste", NUMBER_), N_("ratio", NUMBER_),
		N_("density", DENSITY_)),
	ROW_("gypsum_expansion", GIVES_(LENGTH_), run_gypsum_expansion,
		"how much a length changes by a strain", NULL, N_("length", LENGTH_),
		N_("strain", NUMBER_)),
	ROW_("gypsum_excess", GIVES_(NUMBER_), run_gypsum_excess,
		"water beyond what is bound, for each mass of powder", "stoichiometry",
		N_("ratio", NUMBER_)),
	ROW_("gypsum_dihydrate", GIVES_(MASS_), run_gypsum_dihydrate,
		"mass of the set stone from a mass of powder, without free water", "stoichiometry",
		N_("powder", MASS_)),
	/* Resin */
	ROW_("resin_total", GIVES_(MASS_), run_resin_total,
		"mass of a batch for a cured volume, excess as a share on top; ratio is polymer to "
		"monomer by mass",
		"mass balance", N_("volume", VOLUME_), N_("excess", NUMBER_), N_("ratio", NUMBER_),
		N_("polymer_density", DENSITY_), N_("monomer_density", DENSITY_)),
	ROW_("resin_polymer", GIVES_(MASS_), run_resin_polymer, "polymer in that batch",
		"mass balance", N_("volume", VOLUME_), N_("excess", NUMBER_), N_("ratio", NUMBER_),
		N_("polymer_density", DENSITY_), N_("monomer_density", DENSITY_)),
	ROW_("resin_monomer", GIVES_(MASS_), run_resin_monomer, "monomer in that batch",
		"mass balance", N_("volume", VOLUME_), N_("excess", NUMBER_), N_("ratio", NUMBER_),
		N_("polymer_density", DENSITY_), N_("monomer_density", DENSITY_)),
	ROW_("resin_monomer_volume", GIVES_(VOLUME_), run_resin_monomer_volume,
		"volume of the monomer in that batch", "mass balance", N_("volume", VOLUME_),
		N_("excess", NUMBER_), N_("ratio", NUMBER_), N_("polymer_density", DENSITY_),
		N_("monomer_density", DENSITY_)),
	ROW_("resin_powder_volume", GIVES_(VOLUME_), run_resin_powder_volume,
		"powder in the measuring cup for a volume of monomer at a ratio by volume", TRADE,
		N_("monomer", VOLUME_), N_("ratio", NUMBER_)),
	ROW_("resin_ratio_by_mass", GIVES_(NUMBER_), run_resin_ratio_by_mass,
		"the ratio by mass that a ratio by volume is", "mass balance",
		N_("ratio_by_volume", NUMBER_), N_("bulk_density", DENSITY_),
		N_("monomer_density", DENSITY_)),
	ROW_("resin_bulk_density", GIVES_(DENSITY_), run_resin_bulk_density,
		"the bulk density of powder at which both ratios are the same", "mass balance",
		N_("ratio_by_volume", NUMBER_), N_("ratio_by_mass", NUMBER_),
		N_("monomer_density", DENSITY_)),
	ROW_("resin_monomer_share", GIVES_(NUMBER_), run_resin_monomer_share,
		"share of the true volume of a mix that is monomer", "mass balance",
		N_("ratio", NUMBER_), N_("monomer_density", DENSITY_),
		N_("polymer_density", DENSITY_)),
	ROW_("resin_monomer_shrinkage", GIVES_(NUMBER_), run_resin_monomer_shrinkage,
		"shrinkage of pure monomer by volume", "mass balance",
		N_("monomer_density", DENSITY_), N_("polymer_density", DENSITY_)),
	ROW_("resin_mix_shrinkage", GIVES_(NUMBER_), run_resin_mix_shrinkage,
		"shrinkage by volume of a mix with this share of monomer", "mass balance",
		N_("monomer_share", NUMBER_), N_("monomer_density", DENSITY_),
		N_("polymer_density", DENSITY_)),
	ROW_("resin_linear", GIVES_(NUMBER_), run_resin_linear,
		"linear from volumetric shrinkage, equal in all directions", "geometry",
		N_("volumetric", NUMBER_)),
	ROW_("resin_movement", GIVES_(LENGTH_), run_resin_movement,
		"how far a length moves by a strain", NULL, N_("length", LENGTH_),
		N_("strain", NUMBER_)),
	ROW_("resin_cooling", GIVES_(NUMBER_), run_resin_cooling,
		"linear contraction on cooling: alpha * (from - to)", TEXTBOOK,
		N_("alpha", PER_KELVIN_), N_("from", TEMPERATURE_), N_("to", TEMPERATURE_)),
	ROW_("resin_residual", GIVES_(MASS_), run_resin_residual,
		"residual monomer in a mass of resin", NULL, N_("mass", MASS_),
		N_("share", NUMBER_)),
	ROW_("resin_uptake", GIVES_(MASS_), run_resin_uptake,
		"water a volume takes up at a sorption, for example 32 ug/mm3", NULL,
		N_("volume", VOLUME_), N_("sorption", DENSITY_)),
	ROW_("resin_uptake_share", GIVES_(NUMBER_), run_resin_uptake_share,
		"the same as a share of the dry mass", NULL, N_("sorption", DENSITY_),
		N_("density", DENSITY_)),
	/* Monomer in the air */
	ROW_("vapour_concentration", GIVES_(DENSITY_), run_vapour_concentration,
		"mass per volume from ppm", "ideal gas", N_("share", NUMBER_),
		N_("molar_mass", MOLAR_MASS_), N_("molar_volume", MOLAR_VOLUME_)),
	ROW_("vapour_concentration", GIVES_(DENSITY_), run_vapour_concentration_25,
		"the same at 25 degC with 24.45 L/mol, as occupational tables use it", "ideal gas",
		N_("share", NUMBER_), N_("molar_mass", MOLAR_MASS_)),
	ROW_("vapour_share", GIVES_(NUMBER_), run_vapour_share, "share (ppm) from mass per volume",
		"ideal gas", N_("concentration", DENSITY_), N_("molar_mass", MOLAR_MASS_),
		N_("molar_volume", MOLAR_VOLUME_)),
	ROW_("vapour_share", GIVES_(NUMBER_), run_vapour_share_25,
		"the same at 25 degC with 24.45 L/mol", "ideal gas", N_("concentration", DENSITY_),
		N_("molar_mass", MOLAR_MASS_)),
	ROW_("vapour_spill", GIVES_(DENSITY_), run_vapour_spill,
		"mass per volume when all of a spill evaporates into still air", "mass balance",
		N_("volume", VOLUME_), N_("density", DENSITY_), N_("room", VOLUME_)),
	ROW_("vapour_saturated", GIVES_(NUMBER_), run_vapour_saturated,
		"share of vapour in saturated air", "ideal gas", N_("vapour", STRESS_),
		N_("ambient", STRESS_)),
	/* Processing */
	ROW_("ramp_time", GIVES_(TIME_), run_ramp_time,
		"time of a ramp between two temperatures at a rate, for example 1 K/min", NULL,
		N_("from", TEMPERATURE_), N_("to", TEMPERATURE_), N_("rate", RATE_)),
	ROW_("cure_time", GIVES_(TIME_), run_cure_time,
		"time of a whole cure: for each step its temperature, the ramp to it and the hold",
		NULL, N_("start", TEMPERATURE_), L_("temperatures", TEMPERATURE_),
		L_("ramps", TIME_), L_("holds", TIME_)),
	ROW_("cure_is_allowed", GIVES_TRUTH_, run_cure_is_allowed,
		"true when these steps keep the usual rules of slow hold, final boil, heating, "
		"cooling and opening; the supplier's instructions govern",
		"public teaching notes, second-hand; rates and opening: course values",
		N_("start", TEMPERATURE_), L_("temperatures", TEMPERATURE_), L_("ramps", TIME_),
		L_("holds", TIME_)),
	ROW_("exotherm_rise", GIVES_(TEMPERATURE_), run_exotherm_rise,
		"upper bound of the rise when no heat leaves: heat * monomer share / (molar mass * "
		"specific heat)",
		"heat balance", N_("heat", MOLAR_HEAT_), N_("molar_mass", MOLAR_MASS_),
		N_("monomer_share", NUMBER_), N_("specific_heat", SPECIFIC_HEAT_)),
	ROW_("heat_to_leave", GIVES_(NUMBER_), run_heat_to_leave,
		"share of that heat which must leave so that bath and rise stay at the limit",
		"heat balance", N_("bath", TEMPERATURE_), N_("rise", TEMPERATURE_),
		N_("limit", TEMPERATURE_)),
	ROW_("press_force", GIVES_(FORCE_), run_press_force,
		"force of a hydraulic press: gauge pressure on the ram, not on the flask", NULL,
		N_("gauge", STRESS_), N_("ram_diameter", LENGTH_)),
	ROW_("flask_pressure", GIVES_(STRESS_), run_flask_pressure,
		"pressure on a flask: force over its area", NULL, N_("force", FORCE_),
		N_("area", AREA_)),
	ROW_("flask_area", GIVES_(AREA_), run_flask_area,
		"the area on which a force makes this pressure", NULL, N_("force", FORCE_),
		N_("pressure", STRESS_)),
	/* Workshop */
	ROW_("rim_speed", GIVES_(SPEED_), run_rim_speed,
		"speed of the rim of a bur or wheel, rotation as 20000 rpm", NULL,
		N_("diameter", LENGTH_), N_("rotation", ROTATION_)),
	ROW_("dilution_stock", GIVES_(VOLUME_), run_dilution_stock,
		"stock solution for a volume of the wanted strength", NULL,
		N_("stock_strength", NUMBER_), N_("wanted_strength", NUMBER_),
		N_("volume", VOLUME_)),
	ROW_("dilution_water", GIVES_(VOLUME_), run_dilution_water, "water that is added to it",
		NULL, N_("stock_strength", NUMBER_), N_("wanted_strength", NUMBER_),
		N_("volume", VOLUME_)),
	ROW_("blanks", GIVES_(NUMBER_), run_blanks,
		"most blanks from a sheet, lengthwise or turned, each taking the kerf with it",
		NULL, N_("sheet_length", LENGTH_), N_("sheet_width", LENGTH_),
		N_("blank_length", LENGTH_), N_("blank_width", LENGTH_), N_("kerf", LENGTH_)),
	ROW_("sheet_use", GIVES_(NUMBER_), run_sheet_use,
		"share of a sheet that ends up in the pieces", NULL, N_("piece", AREA_),
		N_("pieces", NUMBER_), N_("sheet", AREA_)),
	ROW_REFERS_("cost_per_piece", GIVES_(MONEY_), run_cost_per_piece,
		"price over good pieces; nothing when none is good", NULL, N_("price", MONEY_),
		N_("pieces", NUMBER_), N_("spoiled", NUMBER_)),
	ROW_("rolled_yield", GIVES_(NUMBER_), run_rolled_yield,
		"yield through all stages: their product", NULL, L_("stages", NUMBER_)),
	ROW_("starts_needed", GIVES_(NUMBER_), run_starts_needed,
		"how many to start to expect so many good ones", NULL, N_("target", NUMBER_),
		N_("yield", NUMBER_)),
};
const size_t function_bench_rows = sizeof function_bench / sizeof *function_bench;
