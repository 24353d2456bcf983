/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <stdbool.h>
#include <stdlib.h>

#include <barwright/calc/beam.h>
#include <barwright/calc/space.h>

/* Values in this file are sums and differences worked by hand from course inputs (common practice
 * of the trade, no source), unless a row names another. */

static const double deg = 3.14159265358979323846 / 180;
static const double stock[] = {3.5, 4.0, 4.5, 5.0, 6.0, 8.0};
enum { NSTOCK = sizeof stock / sizeof *stock };
static const double minimum = 3.5; /* common practice, no source */

static uint64_t seed;
static double between(double low, double high)
{
	seed ^= seed >> 12, seed ^= seed << 25, seed ^= seed >> 27;
	return low + (high - low) * (double)((seed * 2685821657736338717u) >> 11) * 0x1p-53;
}

static void seed_set(uint64_t value)
{
	const char *given = getenv("SEED");

	seed = given ? strtoull(given, NULL, 0) : value;
	print_message("seed %llu (SEED= sets it)\n", (unsigned long long)seed);
}

static void stack_leaves_this_thickness_and_this_stock(void **state)
{
	static const struct {
		const char *why;
		double matrix, gap, opaque, resin, tooth, left, chosen, shortfall;
	} rows[] = {
		{"roomy", 16.0, 2.0, 0.3, 2.0, 5.0, 6.70, 6.0, 0},
		{"tight", 13.2, 1.5, 0.3, 2.0, 5.0, 4.40, 4.0, 0},
		{"no legal bar", 11.9, 1.5, 0.3, 2.0, 5.0, 3.10, 0, 0.40},
		{"exactly a stock step", 13.3, 1.5, 0.3, 2.0, 5.0, 4.50, 4.5, 0},
		{"nothing left at all", 8.0, 1.5, 0.3, 2.0, 5.0, -0.80, 0, 4.30},
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double left, chosen = 0, shortfall;

		code_is(space_thickness(rows[i].matrix, rows[i].gap, rows[i].opaque, rows[i].resin,
				rows[i].tooth, &left),
			FINE);
		near(rows[i].why, left, rows[i].left, 1e-9);
		code_is(space_stock(left, minimum, stock, NSTOCK, &chosen),
			rows[i].chosen > 0 ? FINE : BAD_NOTHING);
		near(rows[i].why, chosen, rows[i].chosen, 0);
		code_is(space_shortfall(left, minimum, stock, NSTOCK, &shortfall), FINE);
		near(rows[i].why, shortfall, rows[i].shortfall, 1e-9);
	}
	/* Wrong ways on the roomy case: gap forgotten, opaque and resin forgotten, gap added. */
	const double wrong[] = {16.0 - 0.3 - 2 - 5, 16.0 - 2 - 5, 16.0 + 2 - 0.3 - 2 - 5};
	for (size_t i = 0; i < 3; i++)
		assert_true(fabs(wrong[i] - 6.70) > 1);
}

static void stock_list_need_not_be_sorted_and_the_minimum_holds(void **state)
{
	static const double mixed[] = {5.0, 3.0, 4.0};
	double got = 7;

	(void)state;
	code_is(space_stock(4.6, 3.5, mixed, 3, &got), FINE);
	near("thickest that fits", got, 4.0, 0);
	code_is(space_stock(3.9, 3.5, mixed, 3, &got), BAD_NOTHING);
	near("untouched", got, 4.0, 0);
	code_is(space_shortfall(3.9, 3.5, mixed, 3, &got), FINE);
	near("to the thinnest legal one", got, 0.1, 1e-12);
	code_is(space_shortfall(3.0, 3.5, mixed, 0, &got), FINE);
	near("no stock: to the minimum", got, 0.5, 1e-12);
	code_is(space_stock(4.6, 3.5, mixed, 0, &got), BAD_NOTHING);
	code_is(space_stock(NAN, 3.5, mixed, 3, &got), BAD_RANGE);
	code_is(space_stock(4.6, 0, mixed, 3, &got), BAD_RANGE);
	code_is(space_stock(4.6, 3.5, (double[]){4, -1}, 2, &got), BAD_RANGE);
}

/* Cube and square law of bending: what taking from the bar's height to fit costs. */
static void thinning_costs_more_stiffness_than_height(void **state)
{
	double drop, stress;

	(void)state;
	code_is(beam_change_factors(&(struct beam_change){1, 3.0 / 3.5, 1, 1}, &drop, &stress),
		FINE);
	near("stiffness of 3.0 against 3.5", 1 / drop, 0.6297, 5e-5);
	near("stress of 3.0 against 3.5", stress, 1.3611, 5e-5);
	assert_true(fabs(3.0 / 3.5 - 1 / drop) > 0.1); /* wrong: linear */
}

static struct space_site site_at(double matrix)
{
	return (struct space_site){.tissue_mm = 0.5, .matrix_mm = matrix, .cylinder_mm = 12};
}

static const struct space_layers layers = {
	.clearance_mm = 1.5, .opaque_mm = 0.3, .resin_mm = 2, .tooth_mm = 5, .cover_mm = 2};

static void lowest_site_governs(void **state)
{
	const struct space_site site[] = {
		site_at(16.0), site_at(14.6), site_at(13.9), site_at(15.2)};
	size_t governing, at = 9;
	double available, chosen, by_mean;

	(void)state;
	code_is(space_governing(site, 4, &layers, &governing, &available, &at), FINE);
	assert_int_equal(governing, 2);
	assert_int_equal(at, 9);
	near("lowest", available, 4.60, 1e-9);
	code_is(space_stock(available, minimum, stock, NSTOCK, &chosen), FINE);
	near("stock", chosen, 4.5, 0);
	/* The trap: the mean of the sites, 5.625, would take the 5.0. */
	by_mean = (16.0 + 14.6 + 13.9 + 15.2) / 4 - 9.3;
	near("mean of the sites", by_mean, 5.625, 1e-9);
	code_is(space_stock(by_mean, minimum, stock, NSTOCK, &chosen), FINE);
	near("stock by the mean", chosen, 5.0, 0);
}

static void tie_goes_to_the_earlier_site_and_a_bad_site_is_named(void **state)
{
	struct space_site site[] = {site_at(15), site_at(14), site_at(14), site_at(15)};
	size_t governing = 7, at = 9;
	double available = 7;

	(void)state;
	code_is(space_governing(site, 4, &layers, &governing, &available, NULL), FINE);
	assert_int_equal(governing, 1);
	site[2].tissue_mm = 14;
	available = 7;
	code_is(space_governing(site, 4, &layers, &governing, &available, &at), BAD_ORDER);
	assert_int_equal(at, 2);
	near("untouched", available, 7, 0);
	code_is(space_governing(site, 0, &layers, &governing, &available, &at), BAD_COUNT);
}

/* Carpentieri, Greenstein, Cavallaro 2019, JADA: 15 mm for a screw-retained hybrid. */
static void margin_over_the_published_minimum(void **state)
{
	double got;

	(void)state;
	near("hybrid", SPACE_MIN_HYBRID_mm, 15, 0);
	code_is(space_margin(16.4, SPACE_MIN_HYBRID_mm, &got), FINE);
	near("margin", got, 1.4, 1e-9);
	/* 2.0 gap + 3.5 bar + 0.05 cement + 2.0 veneer + 6.0 tooth = 13.55 of 15 (illustrative). */
	code_is(space_margin(SPACE_MIN_HYBRID_mm, 2.0 + 3.5 + 0.05 + 2.0 + 6.0, &got), FINE);
	near("what a stack leaves of it", got, 1.45, 1e-9);
	code_is(space_margin(14, SPACE_MIN_HYBRID_mm, &got), FINE);
	near("too little", got, -1, 1e-9);
	code_is(space_margin(-1, 15, &got), BAD_RANGE);
}

static void cylinder_is_cut_down_to_the_bar(void **state)
{
	static const struct {
		const char *why;
		double cylinder, gap, bar, protrusion, tilt, cut, trap;
	} rows[] = {
		{"platform datum; trap: thickness alone", 12, 2, 4.5, 0.5, 0, 5.00, 12 - 4.5},
		{"tissue datum, 2.5 + 1.5; trap: platform forgotten", 12, 4, 4.5, 0.5, 0, 3.00,
			5.50},
		{"no gap, bar 4.0", 9, 0, 4.0, 0, 0, 5.00, 4.0},
		{"no gap, bar 3.5", 9, 0, 3.5, 0, 0, 5.50, 3.5},
		{"tilted 17 degrees; trap: times cos", 12, 2, 4.5, 0.5, 17, 12 - 7.3198,
			12 - 7 * 0.956304756},
		{"cylinder too short", 5, 2, 4.5, 0.5, 0, 0, -2},
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double cut;

		code_is(space_cut_down(rows[i].cylinder, rows[i].gap, rows[i].bar,
				rows[i].protrusion, rows[i].tilt * deg, &cut),
			FINE);
		near(rows[i].why, cut, rows[i].cut, 1e-4);
		assert_true(fabs(cut - rows[i].trap) > 0.2);
	}
	double gap, length;
	code_is(space_gap(2.5, 1.5, &gap), FINE);
	near("platform 2.5 below the crest, 1.5 over it", gap, 4.0, 1e-12);
	code_is(space_along(7.0, 17 * deg, &length), FINE);
	near("along a tilted cylinder", length, 7.3198, 1e-4);
	code_is(space_along(4.0, 17 * deg, &length), FINE);
	near("bar of 4 along the axis", length, 4.18277, 1e-5);
}

static void two_cuts_make_the_final_one(void **state)
{
	double first;

	(void)state;
	for (double final = 0.5; final < 8; final += 0.5) {
		code_is(space_first_cut(final, 0.4, &first), FINE);
		near("sum", first + 0.4, final, 1e-12);
		assert_true(first < final);
	}
	code_is(space_first_cut(0.3, 0.4, &first), BAD_ORDER);
	code_is(space_first_cut(3, -0.4, &first), BAD_RANGE);
}

static void cover_engagement_and_build_up(void **state)
{
	double got;

	(void)state;
	code_is(space_cover_limit(14, 2, &got), FINE);
	near("cover", got, 12, 1e-12);
	code_is(space_cover_margin(12.5, 14, 2, &got), FINE);
	near("stands 0.5 too high", got, -0.5, 1e-12);
	code_is(space_cover_limit(2, 2, &got), BAD_ORDER);
	code_is(space_engaged(6.0, 2.0, 4.5, &got), FINE);
	near("engaged", got, 4.0, 1e-12);
	near("short by", 4.5 - got, 0.5, 1e-12);
	code_is(space_engaged(9.0, 2.0, 4.5, &got), FINE);
	near("what stands above the bar does not count", got, 4.5, 1e-12);
	code_is(space_engaged(1.0, 2.0, 4.5, &got), FINE);
	near("ends below the bar", got, 0, 0);
	/* 4 mm engaged at a sleeve: from memory, not verified. */
	code_is(space_build_up(4.0, 3.5, &got), FINE);
	near("3.5 is not enough at a sleeve", got, 0.5, 1e-12);
	code_is(space_build_up(4.0, 4.5, &got), FINE);
	near("enough", got, 0, 0);
}

static void site_is_cut_by_bar_cover_or_its_own_length(void **state)
{
	struct space_site site = {.platform_mm = 0.5,
		.tissue_mm = 2.5,
		.matrix_mm = 14.2,
		.cylinder_mm = 12,
		.tilt_rad = 17 * deg};
	struct space_layers l = layers;
	struct space_cut got;

	(void)state;
	l.protrusion_mm = 0.5;
	code_is(space_site_cut(&site, &l, 4.5, &got), FINE);
	near("underside 2.5 + 1.5", got.underside_mm, 4.0, 1e-12);
	near("top 4.0 + 4.5 + 0.5", got.top_mm, 9.0, 1e-12);
	near("cut along the axis", got.cut_mm, 12 - 8.5 / cos(17 * deg), 1e-12);
	near("engaged", got.engaged_mm, 4.5, 1e-12);
	near("protrusion", got.protrusion_mm, 0.5, 1e-12);
	assert_false(got.is_covered);
	assert_false(got.is_too_short);

	l.cover_mm = 6.2; /* top at most 8.0: half a millimetre below the bar's top */
	code_is(space_site_cut(&site, &l, 4.5, &got), FINE);
	assert_true(got.is_covered);
	near("top", got.top_mm, 8.0, 1e-12);
	near("engaged", got.engaged_mm, 4.0, 1e-12);
	near("short", got.short_mm, 0.5, 1e-12);
	near("sunk", got.protrusion_mm, -0.5, 1e-12);

	l.cover_mm = 2;
	site.cylinder_mm = 7;
	code_is(space_site_cut(&site, &l, 4.5, &got), FINE);
	assert_true(got.is_too_short);
	near("nothing to cut", got.cut_mm, 0, 0);
	near("top of the uncut cylinder", got.top_mm, 0.5 + 7 * cos(17 * deg), 1e-12);
	near("engaged", got.engaged_mm, 0.5 + 7 * cos(17 * deg) - 4, 1e-12);
}

static void site_refuses_what_cannot_stand(void **state)
{
	struct space_site site = site_at(14);
	struct space_layers l = layers;
	struct space_cut cut = {.cut_mm = 7};
	double got = 7;

	(void)state;
	site.tissue_mm = 14;
	code_is(space_site_available(&site, &l, &got), BAD_ORDER);
	code_is(space_site_cut(&site, &l, 4, &cut), BAD_ORDER);
	site = site_at(14);
	site.platform_mm = 12.5;
	code_is(space_site_cut(&site, &l, 4, &cut), BAD_ORDER);
	site = site_at(14);
	site.tilt_rad = 61 * deg;
	code_is(space_site_cut(&site, &l, 4, &cut), BAD_RANGE);
	site = site_at(NAN);
	code_is(space_site_available(&site, &l, &got), BAD_RANGE);
	site = site_at(14);
	code_is(space_site_cut(&site, &l, -1, &cut), BAD_RANGE);
	l.resin_mm = -0.1;
	code_is(space_site_available(&site, &l, &got), BAD_RANGE);
	code_is(space_thickness(14, 2, 0.3, -1, 5, &got), BAD_RANGE);
	code_is(space_thickness(INFINITY, 2, 0.3, 1, 5, &got), BAD_RANGE);
	code_is(space_gap(-1, 1, &got), BAD_RANGE);
	code_is(space_along(3, NAN, &got), BAD_RANGE);
	code_is(space_cut_down(12, 0, 0, -1, 0, &got), BAD_ORDER);
	code_is(space_cut_down(12, 0, NAN, 0, 0, &got), BAD_RANGE);
	near("untouched", got, 7, 0);
	near("untouched", cut.cut_mm, 7, 0);
}

static void random_sites_keep_their_sums(void **state)
{
	(void)state;
	seed_set(20261125);
	for (int round = 0; round < 10000; round++) {
		struct space_site site = {between(-1, 2), between(0, 6), between(5, 20),
			between(4, 16), between(-40, 40) * deg};
		struct space_layers l = {between(0, 3), between(0, 0.5), between(0, 3),
			between(3, 7), between(0, 4), between(-0.5, 1)};
		double bar = between(3, 8), available, chosen;
		struct space_cut cut;

		if (!space_site_available(&site, &l, &available)) {
			near("the stack fills the space",
				site.tissue_mm + l.clearance_mm + available + l.opaque_mm +
					l.resin_mm + l.tooth_mm,
				site.matrix_mm, 1e-12);
			if (!space_stock(available, minimum, stock, NSTOCK, &chosen))
				assert_true(chosen <= available + 1e-9 && chosen >= minimum);
			else
				assert_true(available < minimum);
		}
		if (space_site_cut(&site, &l, bar, &cut))
			continue;
		near("cut and kept make the cylinder",
			(site.cylinder_mm - cut.cut_mm) * cos(site.tilt_rad) + site.platform_mm,
			cut.top_mm, 1e-9);
		assert_true(cut.cut_mm >= 0 && cut.cut_mm <= site.cylinder_mm);
		assert_true(cut.engaged_mm >= 0 && cut.engaged_mm <= bar);
		assert_true(cut.top_mm <= site.matrix_mm - l.cover_mm + 1e-9);
		near("engaged and short make the bar", cut.engaged_mm + cut.short_mm, bar, 1e-12);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(stack_leaves_this_thickness_and_this_stock),
		cmocka_unit_test(stock_list_need_not_be_sorted_and_the_minimum_holds),
		cmocka_unit_test(thinning_costs_more_stiffness_than_height),
		cmocka_unit_test(lowest_site_governs),
		cmocka_unit_test(tie_goes_to_the_earlier_site_and_a_bad_site_is_named),
		cmocka_unit_test(margin_over_the_published_minimum),
		cmocka_unit_test(cylinder_is_cut_down_to_the_bar),
		cmocka_unit_test(two_cuts_make_the_final_one),
		cmocka_unit_test(cover_engagement_and_build_up),
		cmocka_unit_test(site_is_cut_by_bar_cover_or_its_own_length),
		cmocka_unit_test(site_refuses_what_cannot_stand),
		cmocka_unit_test(random_sites_keep_their_sums),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
