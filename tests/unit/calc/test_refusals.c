/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One table for every function of plain numbers: good arguments must give FINE; each argument in
 * turn replaced by what is no number, by infinity, by -1 or by 0 must be refused, unless its mark
 * says that it may be so; and a refused call leaves its result alone. */
#include "near.h"

#include <float.h>
#include <string.h>

#include <barwright/calc/arch.h>
#include <barwright/calc/beam.h>
#include <barwright/calc/cement.h>
#include <barwright/calc/gypsum.h>
#include <barwright/calc/hole.h>
#include <barwright/calc/joint.h>
#include <barwright/calc/metrology.h>
#include <barwright/calc/processing.h>
#include <barwright/calc/resin.h>
#include <barwright/calc/safety.h>
#include <barwright/calc/section.h>
#include <barwright/calc/space.h>
#include <barwright/calc/vapour.h>
#include <barwright/calc/workshop.h>

enum { MOST = 8 };
struct call {
	const char *name;
	enum bad (*run)(const double *x, double *out);
	double good[MOST];
	/* One letter an argument. p: above 0. n: 0 or above. r: any finite. i: above 0, or
	 * infinite. l: any, or infinite. c: finite; 0 and -1 are not asked (they fall to another
	 * rule). */
	const char *marks;
};

#define ONE(f, ...) \
	static enum bad run_##f(const double *x, double *out) \
	{ \
		return f(__VA_ARGS__, out); \
	}
#define A1 x[0]
#define A2 A1, x[1]
#define A3 A2, x[2]
#define A4 A3, x[3]
#define A5 A4, x[4]
#define A6 A5, x[5]
#define A8 A6, x[6], x[7]

#define CALLS(X) \
	X(arch_spread_distal, A8, "rrrrnrrn", 1, 0, -17, -9, 1.75, 19, -14, 2.4) \
	X(arch_spread_centres, A6, "rrrrrr", 1, 0, -17, -9, 19, -14) \
	X(arch_cantilever_limit, A3, "ppi", 1.5, 13, 15) \
	X(arch_cantilever, A2, "cn", 18.4, 4.5) \
	X(arch_trim, A2, "nn", 16, 15) \
	X(arch_chord, A2, "pn", 25, 15) \
	X(arch_bending_arm, A2, "pn", 25, 15) \
	X(arch_torsion_arm, A2, "pn", 25, 15) \
	X(arch_ratio_three, A2, "pp", 143, 200) \
	X(arch_ratio_four, A4, "ppnp", 143, 200, 8, 16) \
	X(space_gap, A2, "nn", 2.5, 1.5) \
	X(space_thickness, A5, "rnnnn", 16, 2, 0.3, 2, 5) \
	X(space_margin, A2, "nn", 16.4, 15) \
	X(space_along, A2, "nr", 7, 0.3) \
	X(space_cut_down, A5, "nnnrr", 12, 2, 4.5, 0.5, 0.3) \
	X(space_first_cut, A2, "cn", 3, 0.4) \
	X(space_cover_limit, A2, "cn", 14, 2) \
	X(space_cover_margin, A3, "ncn", 12, 14, 2) \
	X(space_engaged, A3, "nnn", 6, 2, 4.5) \
	X(space_build_up, A2, "nn", 4, 3.5) \
	X(hole_diameter, A2, "nn", 4.5, 0.1) \
	X(hole_diameter_tilted, A4, "nnrn", 4.5, 4, 0.1, 0.1) \
	X(hole_wall_near, A3, "nnr", 9, 4.7, 0.4) \
	X(hole_wall_far, A3, "nnr", 9, 4.7, 0.4) \
	X(hole_bar_width, A3, "nnr", 4.7, 1.5, 0.4) \
	X(hole_ligament, A3, "nnn", 8, 4.7, 4.7) \
	X(hole_offset, A2, "nn", 1.55, 2.45) \
	X(hole_residual, A2, "cn", 4.7, 2.3) \
	X(hole_volume, A2, "nn", 4.7, 4.5) \
	X(metrology_vernier, A3, "rnp", 12, 7, 0.05) \
	X(metrology_corrected, A2, "rr", 12.35, 0.05) \
	X(metrology_rectangular, A1, "n", 0.03) \
	X(metrology_guard, A2, "np", 0.02, 0.95) \
	X(metrology_conformance, A4, "rnll", 3.6, 0.02, 3.5, 4) \
	X(metrology_coverage, A2, "pi", 0.95, 10) \
	X(gypsum_water, A2, "pp", 3e-4, 0.28) \
	X(gypsum_ratio, A2, "pp", 3e-4, 1e5) \
	X(gypsum_slurry, A3, "ppp", 3e-4, 2.76e-9, 84e3) \
	X(gypsum_powder, A4, "pnpp", 250e3, 0.1, 0.28, 2.76e-9) \
	X(gypsum_expansion, A2, "nr", 60, 0.001) \
	X(gypsum_excess, A1, "p", 0.28) \
	X(gypsum_dihydrate, A1, "p", 1e-4) \
	X(resin_powder_volume, A2, "pp", 9e3, 3) \
	X(resin_ratio_by_mass, A3, "ppp", 3, 0.78e-9, 0.94e-9) \
	X(resin_bulk_density, A3, "ppp", 3, 2.5, 0.94e-9) \
	X(resin_monomer_share, A3, "ppp", 2.5, 0.94e-9, 1.19e-9) \
	X(resin_monomer_shrinkage, A2, "pp", 0.94e-9, 1.19e-9) \
	X(resin_mix_shrinkage, A3, "npp", 0.3, 0.94e-9, 1.19e-9) \
	X(resin_linear, A1, "n", 0.07) \
	X(resin_movement, A2, "nr", 50, 0.005) \
	X(resin_cooling, A3, "ppp", 81e-6, 350, 290) \
	X(resin_residual, A2, "pn", 26e-6, 0.022) \
	X(resin_uptake, A2, "pn", 22e3, 32e-12) \
	X(resin_uptake_share, A2, "np", 32e-12, 1.19e-9) \
	X(cement_film, A2, "cn", 4.62, 4.5) \
	X(cement_volume, A5, "cnnpn", 4.7, 4.5, 4.5, 5, 1) \
	X(cement_area_lost, A2, "pn", 4.5, 4) \
	X(cement_blast_area, A4, "nnnp", 4.7, 4.5, 4.5, 5) \
	X(cement_blast_time, A2, "nn", 650, 0.1) \
	X(vapour_concentration, A3, "npp", 1e-4, 1e-4, 24.45e6) \
	X(vapour_share, A3, "npp", 1e-16, 1e-4, 24.45e6) \
	X(vapour_spill, A3, "ppp", 5e3, 0.94e-9, 6e10) \
	X(vapour_saturated, A2, "pp", 0.0037, 0.1) \
	X(workshop_rim_speed, A2, "nn", 2.3, 2000) \
	X(workshop_blanks, A5, "ppppn", 300, 200, 60, 50, 2) \
	X(workshop_use, A3, "pnp", 760, 15, 60000) \
	X(workshop_cost, A3, "ncn", 180, 15, 2) \
	X(workshop_starts, A2, "np", 10, 0.9) \
	X(processing_ramp, A3, "ppp", 296, 347, 0.02) \
	X(processing_exotherm, A4, "ppnp", 5e7, 1e-4, 0.3, 1.47e9) \
	X(processing_heat_to_leave, A3, "ppp", 347, 100, 374) \
	X(processing_press_force, A2, "np", 24, 40) \
	X(processing_flask_pressure, A2, "np", 30000, 10000) \
	X(processing_flask_area, A2, "np", 14710, 2) \
	X(beam_height_for_strength, A5, "ppppp", 200, 10, 5, 400, 1.5) \
	X(beam_height_for_drop, A5, "ppppp", 200, 10, 5, 20000, 0.1) \
	X(beam_length_for_strength, A5, "ppppp", 200, 5, 3.5, 400, 1.5) \
	X(beam_height_as_stiff, A3, "ppp", 4, 20000, 110000) \
	X(joint_area, A2, "pp", 4, 4) \
	X(joint_shear, A3, "rpp", 200, 4, 4) \
	X(joint_capacity, A4, "pppp", 4, 4, 10, 0.5) \
	X(joint_torque, A4, "pppp", 4, 4, 10, 0.5) \
	X(joint_height_for, A5, "ppppp", 200, 2, 4, 10, 0.5) \
	X(joint_tube_stiffness, A3, "ppn", 110000, 4, 3) \
	X(joint_block_stiffness, A4, "pppn", 20000, 5, 4, 3) \
	X(joint_preload, A3, "ppp", 250, 0.38, 2) \
	X(joint_nut_factor, A3, "ppp", 250, 330, 2) \
	X(joint_opening_load, A3, "ppp", 330, 200, 100) \
	X(joint_preload_loss, A2, "pp", 330, 254) \
	X(section_net_modulus, A3, "ppn", 5, 4, 2) \
	X(section_shear_cowper, A1, "c", 0.3) \
	X(safety_wet, A2, "pp", 400, 0.73) \
	X(safety_fatigue, A3, "ppp", 400, 0.1, 1e6) \
	X(safety_allowed, A2, "pp", 400, 2)

#define X(f, args, marks, ...) ONE(f, args)
CALLS(X)
#undef X
#define X(f, args, marks, ...) {#f, run_##f, {__VA_ARGS__}, marks},
static const struct call calls[] = {CALLS(X)};
#undef X
enum { NCALLS = sizeof calls / sizeof *calls };

/* What argument k must do when it takes this value: 1 accept, 0 refuse, -1 not asked. */
static int wanted(char mark, double value)
{
	if (isnan(value))
		return 0;
	if (isinf(value))
		return strchr("il", mark) ? (value > 0 || mark == 'l' ? -1 : 0) : 0;
	if (value == 0)
		return strchr("nr", mark) ? 1 : strchr("pi", mark) ? 0 : -1;
	return strchr("pni", mark) ? 0 : -1; /* -1 */
}

static void each_bad_argument_is_refused_and_each_edge_is_not(void **state)
{
	static const double bad[] = {NAN, INFINITY, -INFINITY, 0, -1};

	(void)state;
	for (size_t i = 0; i < NCALLS; i++) {
		const struct call *c = &calls[i];
		double got = 7;

		code_is(c->run(c->good, &got), FINE);
		assert_true(isfinite(got));
		for (size_t k = 0; c->marks[k]; k++) {
			for (size_t j = 0; j < sizeof bad / sizeof *bad; j++) {
				double x[MOST], out = 7;
				int want = wanted(c->marks[k], bad[j]);

				memcpy(x, c->good, sizeof x);
				x[k] = bad[j];
				enum bad code = c->run(x, &out);
				if ((want == 1 && code) || (want == 0 && !code))
					fail_msg("%s: argument %zu = %g gives %s", c->name, k,
						bad[j], bad_word(code));
				if (code && out != 7)
					fail_msg("%s: refused, but the result is %g", c->name, out);
				if (!code && !isfinite(out))
					fail_msg("%s: argument %zu = %g gives %g", c->name, k,
						bad[j], out);
			}
		}
	}
}

/* Every argument as large or as small as a double can be, in all combinations: what the function
 * gives then is a number, or it refuses. */
static void no_result_is_infinite(void **state)
{
	static const double extreme[] = {DBL_MAX, DBL_MIN, 5e-324};

	(void)state;
	for (size_t i = 0; i < NCALLS; i++) {
		const struct call *c = &calls[i];
		size_t n = strlen(c->marks), ways = 1;

		for (size_t k = 0; k < n; k++)
			ways *= 3;
		for (size_t way = 0; way < ways; way++) {
			double x[MOST], out = 7;
			size_t rest = way;

			for (size_t k = 0; k < n; k++, rest /= 3)
				x[k] = extreme[rest % 3];
			enum bad code = c->run(x, &out);
			if (code ? out != 7 : !isfinite(out))
				fail_msg("%s: case %zu gives %s and %g", c->name, way,
					bad_word(code), out);
		}
	}
}

/* Two results: the same by hand. */
static void functions_with_two_results_refuse_too(void **state)
{
	static const double bad[] = {NAN, INFINITY, -INFINITY, 0, -1};

	(void)state;
	for (size_t j = 0; j < sizeof bad / sizeof *bad; j++) {
		double a = 7, b = 7;
		struct resin_batch batch = {.total_tonne = 7};

		code_is(workshop_dilution(bad[j], 0.5, 1e6, &a, &b), BAD_RANGE);
		code_is(workshop_dilution(5, bad[j], 1e6, &a, &b), BAD_RANGE);
		code_is(workshop_dilution(5, 0.5, bad[j], &a, &b), BAD_RANGE);
		code_is(resin_batch(bad[j], 0.1, 2.5, 1e-9, 1e-9, &batch), BAD_RANGE);
		code_is(resin_batch(1, 0.1, bad[j], 1e-9, 1e-9, &batch), BAD_RANGE);
		code_is(resin_batch(1, 0.1, 2.5, bad[j], 1e-9, &batch), BAD_RANGE);
		code_is(resin_batch(1, 0.1, 2.5, 1e-9, bad[j], &batch), BAD_RANGE);
		near("untouched", a + b + batch.total_tonne, 21, 0);
		code_is(resin_batch(1, bad[j], 2.5, 1e-9, 1e-9, &batch),
			bad[j] == 0 ? FINE : BAD_RANGE);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(each_bad_argument_is_refused_and_each_edge_is_not),
		cmocka_unit_test(no_result_is_infinite),
		cmocka_unit_test(functions_with_two_results_refuse_too),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
