/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Processing the resin: a cure schedule, whether it is allowed, the heat it sets free, the press.
 *
 * Pure: no state, no memory, no input or output. K, s, mm, N, MPa; masses in tonnes; energy in N
 * mm (1 J = 1000 N mm). Every function gives BAD_RANGE for a number or result that is not finite
 * (unless its comment allows infinity) or a number outside its range (temperatures, rates, masses,
 * areas, diameters above 0; times, forces, pressures from 0), and leaves its results alone when it
 * fails.
 *
 * Public sources disagree on cure cycles: the resin supplier's instructions govern, so the rules
 * are data. Boiling water scalds, a flask under a press can burst, hot monomer burns: local rules
 * apply. */
#ifndef BARWRIGHT_CALC_PROCESSING_H
#define BARWRIGHT_CALC_PROCESSING_H

#include <stddef.h>

#include <barwright/base/bad.h>

/* ---- schedule -------------------------------------------------------------------------------- */

/* From where the step before ended, in ramp_s at an even rate to temperature_K, then hold_s there.
 * Cooling on the bench and in water are steps too. Ramp 0: plunged. */
struct processing_step {
	double temperature_K, ramp_s, hold_s;
};

/* Time of a ramp between two temperatures at a rate above 0, either way. */
enum bad processing_ramp(double from_K, double to_K, double rate_K_s, double *ramp_s);

struct processing_times {
	double total_s, ramp_s, hold_s, hottest_K;
};
/* BAD_COUNT: no step. */
enum bad processing_times(
	double start_K, const struct processing_step *step, size_t n, struct processing_times *out);

/* What a schedule must keep. A limit that is INFINITY (or a time that is 0) rules nothing out. */
struct processing_rules {
	double slow_from_K, slow_to_K; /* a hold in here is the slow part of the cure */
	double slow_before_boil_s;     /* held there before it goes above slow_to_K */
	double slow_alone_s;           /* held there when it never goes above */
	double boil_from_K;            /* a hold from here up is the final boil */
	double boil_s;                 /* held there when it goes above slow_to_K at all */
	double most_K;                 /* never hotter */
	double heat_most_K_s;          /* fastest heating */
	double cool_most_K_s;          /* fastest cooling */
	double open_most_K;            /* hottest at the end of cooling, when the flask is opened */
};

/* Slow hold 60 to 74 degrees C, 2 h of it before a boil of 1 h, or 8 h without: public teaching
 * notes, second-hand. 2 K/min up, 3 K/min down, opened at 40 degrees C: course values. */
extern const struct processing_rules processing_common;

enum processing_fault {
	PROCESSING_ALLOWED,
	PROCESSING_TOO_HOT,      /* above most_K */
	PROCESSING_HEATED_FAST,  /* a plunge into hot water: porosity and low strength */
	PROCESSING_BOILED_EARLY, /* above slow_to_K before the slow hold was long enough */
	PROCESSING_BOILED_SHORT, /* the final boil is too short */
	PROCESSING_SLOW_SHORT,   /* no boil, and the slow hold is too short */
	PROCESSING_COOLED_FAST,
	PROCESSING_OPENED_HOT /* it was cooled, but not enough */
};

/* The first rule that fails, in order of time, and its step. What counts for the whole schedule
 * (boiled or slow too short, opened hot) comes after and belongs to the last step. Opened hot is
 * asked only when the last step lies below the hottest. Only time spent holding counts, not
 * ramps. */
enum bad processing_judge(double start_K, const struct processing_step *step, size_t n,
	const struct processing_rules *rules, enum processing_fault *fault, size_t *at);

/* ---- heat ------------------------------------------------------------------------------------ */

/* Upper bound of the rise when no heat leaves: heat * monomer share / (molar mass * specific
 * heat). Heat in N mm/mol, molar mass in tonne/mol, specific heat in N mm/(tonne K) (1 J/(g K) =
 * 1e9), monomer share by mass 0 to 1. Methyl methacrylate: 12.9 kcal/mol (public teaching notes,
 * second-hand). */
enum bad processing_exotherm(double heat_Nmm_mol, double molar_tonne_mol, double monomer_share,
	double specific_Nmm_tonne_K, double *rise_K);
/* Share of that heat which must leave so that bath + rise stays at the limit (the monomer boils
 * at 100.8 degrees C: textbooks, second-hand; data sheets say 100 to 100.5); 0 when none must.
 * BAD_ORDER: the bath is hotter than the limit. */
enum bad processing_heat_to_leave(double bath_K, double rise_K, double limit_K, double *share);

/* ---- press ----------------------------------------------------------------------------------- */

/* Force of a hydraulic press: gauge (line) pressure on the ram, not on the flask. */
enum bad processing_press_force(double gauge_MPa, double ram_diameter_mm, double *force_N);
/* Pressure on a flask of this area, and the area on which a force makes this pressure. */
enum bad processing_flask_pressure(double force_N, double area_mm2, double *pressure_MPa);
enum bad processing_flask_area(double force_N, double pressure_MPa, double *area_mm2);

#endif
