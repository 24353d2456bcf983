/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/base/bad.h>
#include <barwright/calc/loads.h>

#include "draws.h"

enum { MOST = 16 };

/* ---- worked cases ---------------------------------------------------------------------------- */

/* "computed" below: from the rigid-body equations by an independent script, no number was read
 * in print. */
static const struct loads_support five[] = {
	{-16, -11, 1}, {-9, -3, 1}, {0, 0, 1}, {9, -3, 1}, {16, -11, 1}};
static const struct loads_support five_soft[] = {
	{-16, -11, 1}, {-9, -3, 1}, {0, 0, 0.5}, {9, -3, 1}, {16, -11, 1}};
static const struct loads_support uneven[] = {
	{-17, -9, 1}, {-8, -2, 1}, {1, 0, 1}, {11, -4, 1}, {19, -14, 1}};
static const struct loads_support two[] = {{0, 0, 1}, {-10, 0, 1}};
static const struct loads_support row[] = {{0, 3, 1}, {12, 3, 1}, {24, 3, 1}};
static const struct loads_support tripod[] = {{0, 11, 1}, {-16, 0, 1}, {16, 0, 1}};
static const struct loads_support piers[] = {{3, 2, 1}, {3, -2, 1}, {-3, -2, 1}, {-3, 2, 1}};

struct share_case {
	const char *why;
	const struct loads_support *support;
	size_t n;
	struct loads_force load[2];
	size_t nload;
	double want[MOST];
	double tolerance;
};
static const struct share_case share_cases[] = {
	/* the lever of B. Rangert, T. Jemt and L. Jorneus, IJOMI 4:241-247, 1989 (from memory);
	 * statics */
	{"two, load beyond", two, 2, {{15, 0, 100}}, 1, {250, -150}, 1e-6},
	/* computed */
	{"three in a row", row, 3, {{34, 3, 100}}, 1, {-58.33333, 33.33333, 125}, 1e-4},
	/* computed */
	{"tripod", tripod, 3, {{16, -8, 100}}, 1, {-72.72727, 36.36364, 136.36364}, 1e-4},
	/* a public engineering question: pad of 6 by 4 ft on four piers, 100 tons at (2, 1); it
	 * prints 54, 29, -4, 21 */
	{"piers as printed", piers, 4, {{2, 1, 100}}, 1, {54, 29, -4, 21}, 0.5},
	{"piers", piers, 4, {{2, 1, 100}}, 1, {54.1667, 29.1667, -4.1667, 20.8333}, 1e-4},
	/* computed */
	{"five", five, 5, {{16, -25.05, 200}}, 1,
		{167.5821, -100.7338, -171.0853, -15.2739, 319.5109}, 1e-3},
	{"five, both sides", five, 5, {{16, -25.05, 100}, {-16, -25.05, 100}}, 2,
		{243.5465, -58.0039, -171.0853, -58.0039, 243.5465}, 1e-3},
	{"uneven five", uneven, 5, {{20, -26, 150}}, 1,
		{96.2366, -62.0271, -104.4556, -7.4479, 227.6941}, 1e-3},
	{"soft midline", five_soft, 5, {{16, -25.05, 200}}, 1,
		{178.2195, -139.7377, -114.3523, -54.2778, 330.1483}, 1e-3},
	{"nothing to carry", uneven, 5, {{0, 0, 0}}, 0, {0}, 0},
};

/* The other way to the same numbers, by the principal axes: R = k [F/K + M1 p1/S1 + M2 p2/S2], without
 * the second part where the sites stand in line. */
static void share_by_axes(const struct loads_support *s, size_t n, const struct loads_force *load,
	size_t nload, double *carried_N)
{
	struct loads_group g;
	double down = 0, x = 0, y = 0;
	code_is(loads_group_find(s, n, &g), FINE);
	for (size_t i = 0; i < nload; i++) {
		down += load[i].down_N;
		x += load[i].down_N * (load[i].x_mm - g.x_mm);
		y += load[i].down_N * (load[i].y_mm - g.y_mm);
	}
	double co = cos(g.angle_rad), si = sin(g.angle_rad);
	for (size_t i = 0; i < n; i++) {
		double dx = s[i].x_mm - g.x_mm, dy = s[i].y_mm - g.y_mm;
		double along = (co * x + si * y) * (co * dx + si * dy) / g.first_Nmm;
		double across = (co * y - si * x) * (co * dy - si * dx) / g.second_Nmm;
		carried_N[i] = s[i].stiffness_N_per_mm *
			       (down / g.stiffness_N_per_mm + along + (g.in_line ? 0 : across));
	}
}

static void shares_are_those_worked_out_by_hand(void **state)
{
	(void)state;
	for (size_t c = 0; c < sizeof share_cases / sizeof *share_cases; c++) {
		const struct share_case *k = &share_cases[c];
		double got[MOST], principal[MOST];
		code_is(loads_share(k->support, k->n, k->load, k->nload, got), FINE);
		share_by_axes(k->support, k->n, k->load, k->nload, principal);
		for (size_t i = 0; i < k->n; i++) {
			near(k->why, got[i], k->want[i], k->tolerance);
			near(k->why, principal[i], got[i], 1e-9);
		}
		near(k->why, loads_imbalance(k->support, k->n, k->load, k->nload, got), 0, 1e-12);
	}
}

/* 4 or 6 on 112.5 degrees of radius 22.5, 30 N on the same arc 10 degrees beyond the
 * last. Computed; the layout is from memory of R. Skalak's and J. B. Brunski's drawings, whose
 * numbers were not seen. */
static void arcs_are_shared_as_worked_out(void **state)
{
	(void)state;
	static const double want[2][6] = {{6.4918, -11.4110, -0.3038, 35.2230},
		{8.56102, -4.97657, -9.51014, -4.34950, 9.71968, 30.55551}};
	const double degree = acos(-1) / 180, radius = 22.5;
	for (size_t c = 0; c < 2; c++) {
		size_t n = c ? 6 : 4;
		struct loads_support s[6];
		double got[6];
		for (size_t i = 0; i < n; i++) {
			double a = (146.25 - 112.5 * (double)i / (double)(n - 1)) * degree;
			s[i] = (struct loads_support){radius * cos(a), radius * sin(a), 1};
		}
		double a = (33.75 - 10) * degree;
		struct loads_force load = {radius * cos(a), radius * sin(a), 30};
		code_is(loads_share(s, n, &load, 1, got), FINE);
		for (size_t i = 0; i < n; i++)
			near("share", got[i], want[c][i], 1e-4);
	}
}

/* Computed. */
static void uneven_group_has_its_principal_axes(void **state)
{
	(void)state;
	struct loads_group g;
	code_is(loads_group_find(uneven, 5, &g), FINE);
	near("centre x", g.x_mm, 1.2, 1e-12);
	near("centre y", g.y_mm, -5.8, 1e-12);
	near("xx", g.xx_Nmm, 828.8, 1e-9);
	near("yy", g.yy_Nmm, 128.8, 1e-9);
	near("xy", g.xy_Nmm, -106.2, 1e-9);
	near("angle", g.angle_rad * 180 / acos(-1), -8.43965, 1e-4);
	near("first", g.first_Nmm, 844.55735, 1e-4);
	near("second", g.second_Nmm, 113.04265, 1e-4);
	assert_false(g.in_line);
}

/* Leaving the product of inertia out gives shares that add up and yet do not balance.
 * Computed. */
static void uncoupled_formula_is_told_by_its_moments(void **state)
{
	(void)state;
	const struct loads_force load = {20, -26, 150};
	struct loads_group g;
	double wrong[5], right[5], wrong_x = 0, wrong_y = 0, right_x = 0, right_y = 0;
	code_is(loads_group_find(uneven, 5, &g), FINE);
	code_is(loads_share(uneven, 5, &load, 1, right), FINE);
	for (size_t i = 0; i < 5; i++) {
		double dx = uneven[i].x_mm - g.x_mm, dy = uneven[i].y_mm - g.y_mm;
		wrong[i] = load.down_N * (0.2 + (load.x_mm - g.x_mm) * dx / g.xx_Nmm +
						 (load.y_mm - g.y_mm) * dy / g.yy_Nmm);
		wrong_x += wrong[i] * uneven[i].x_mm;
		wrong_y += wrong[i] * uneven[i].y_mm;
		right_x += right[i] * uneven[i].x_mm;
		right_y += right[i] * uneven[i].y_mm;
	}
	near("x", wrong_x, 5498.34, 0.01);
	near("y", wrong_y, -4261.35, 0.01);
	near("x", right_x, 3000, 1e-9);
	near("y", right_y, -3900, 1e-9);
	assert_true(loads_imbalance(uneven, 5, &load, 1, wrong) > 0.1);
}

/* ---- pushes in the plane --------------------------------------------------------------------- */

/* Computed. */
static void push_turns_the_group(void **state)
{
	(void)state;
	const struct loads_push push = {16, -25.05, 40, 0};
	double x[5], y[5];
	code_is(loads_push_share(five, 5, &push, 1, x, y), FINE);
	near("terminal x", x[4], 13.4056, 1e-4);
	near("terminal y", y[4], 16.0165, 1e-4);
	near("terminal", hypot(x[4], y[4]), 20.88627, 1e-4);
	near("midline", hypot(x[2], y[2]), 2.39424, 1e-4);
}

/* Four bolts, half pitches 60 and 75, 16 kN at 425 mm; 21.0 and 14.8 kN in Budynas and
 * Nisbett, Shigley's Mechanical Engineering Design (from memory, recomputed). */
static void bracket_of_four_bolts(void **state)
{
	(void)state;
	static const struct loads_support bolt[] = {
		{75, 60, 1}, {75, -60, 1}, {-75, 60, 1}, {-75, -60, 1}};
	const struct loads_push push = {425, 0, 0, -16000};
	double x[4], y[4];
	code_is(loads_push_share(bolt, 4, &push, 1, x, y), FINE);
	near("printed", hypot(x[0], y[0]) / 1000, 21.0, 0.05);
	near("printed", hypot(x[2], y[2]) / 1000, 14.8, 0.05);
	near("force on a bolt, kN", hypot(x[0], y[0]) / 1000, 20.9726, 1e-4);
	near("force on a bolt, kN", hypot(x[2], y[2]) / 1000, 14.7888, 1e-4);
}

static void pushes_balance_with_any_stiffness(void **state)
{
	(void)state;
	uint64_t seed = 4;
	for (int round = 0; round < 500; round++) {
		struct loads_support s[MOST];
		struct loads_push p[3];
		double x[MOST], y[MOST], lack_x = 0, lack_y = 0, turn = 0;
		size_t n = 2 + draw_below(&seed, MOST - 1);
		for (size_t i = 0; i < n; i++)
			s[i] = (struct loads_support){draw(&seed, -30, 30), draw(&seed, -30, 30),
				draw_scale(&seed, 0.1, 10)};
		for (size_t i = 0; i < 3; i++)
			p[i] = (struct loads_push){draw(&seed, -30, 30), draw(&seed, -30, 30),
				draw(&seed, -50, 50), draw(&seed, -50, 50)};
		code_is(loads_push_share(s, n, p, 3, x, y), FINE);
		for (size_t i = 0; i < 3; i++) {
			lack_x += p[i].x_N;
			lack_y += p[i].y_N;
			turn += p[i].x_mm * p[i].y_N - p[i].y_mm * p[i].x_N;
		}
		for (size_t i = 0; i < n; i++) {
			lack_x -= x[i];
			lack_y -= y[i];
			turn -= s[i].x_mm * y[i] - s[i].y_mm * x[i];
		}
		near("forces along x", lack_x, 0, 1e-10);
		near("forces along y", lack_y, 0, 1e-10);
		near("turn", turn, 0, 1e-8);
	}
}

/* ---- what is refused ------------------------------------------------------------------------- */

struct refused_case {
	const char *why;
	struct loads_support support[3];
	size_t n;
	struct loads_force load;
	enum bad code;
};
static const struct refused_case refused_cases[] = {
	{"no site", {{0, 0, 1}}, 0, {0, 0, 1}, BAD_COUNT},
	{"one site, even under it", {{1, 1, 1}}, 1, {1, 1, 1}, BAD_COUNT},
	{"in line, load beside", {{0, 0, 1}, {5, 5, 1}, {10, 10, 1}}, 3, {5, 5.1, 1}, BAD_SINGULAR},
	{"in line, load on it", {{0, 0, 1}, {5, 5, 1}, {10, 10, 1}}, 3, {30, 30, 1}, FINE},
	{"two, load beside", {{0, 0, 1}, {0, 8, 1}}, 2, {-0.01, 4, 1}, BAD_SINGULAR},
	{"two, load on their line", {{0, 0, 1}, {0, 8, 1}}, 2, {0, -4, 1}, FINE},
	{"all at one place", {{2, 3, 1}, {2, 3, 1}, {2, 3, 1}}, 3, {2, 3, 1}, BAD_SINGULAR},
	{"a fifth of a micrometre off line", {{0, 0, 1}, {5, 2e-4, 1}, {10, 0, 1}}, 3, {5, 1, 1},
		BAD_SINGULAR},
	{"off line enough", {{0, 0, 1}, {5, 1e-2, 1}, {10, 0, 1}}, 3, {5, 1, 1}, FINE},
	/* spread 5.77 mm, so 5.77e-6 mm is the limit, whatever the loads and stiffnesses */
	{"hardly beside the line", {{0, 0, 5e3}, {5, 5, 5e3}, {10, 10, 5e3}}, 3,
		{5 + 3.7e-6, 5 - 3.7e-6, 900}, FINE},
	{"just beside the line", {{0, 0, 5e3}, {5, 5, 5e3}, {10, 10, 5e3}}, 3,
		{5 + 4.5e-6, 5 - 4.5e-6, 900}, BAD_SINGULAR},
	{"no stiffness", {{0, 0, 1}, {5, 5, 0}, {10, 0, 1}}, 3, {5, 5, 1}, BAD_RANGE},
	{"negative stiffness", {{0, 0, 1}, {5, 5, -1}, {10, 0, 1}}, 3, {5, 5, 1}, BAD_RANGE},
	{"place not a number", {{0, 0, 1}, {NAN, 5, 1}, {10, 0, 1}}, 3, {5, 5, 1}, BAD_RANGE},
	{"place infinite", {{0, 0, 1}, {5, INFINITY, 1}, {10, 0, 1}}, 3, {5, 5, 1}, BAD_RANGE},
	{"infinite stiffness", {{0, 0, 1}, {5, 5, INFINITY}, {10, 0, 1}}, 3, {5, 5, 1}, BAD_RANGE},
	{"stiffness not a number", {{0, 0, 1}, {5, 5, NAN}, {10, 0, 1}}, 3, {5, 5, 1}, BAD_RANGE},
	{"infinite load", {{0, 0, 1}, {5, 5, 1}, {10, 0, 1}}, 3, {5, 5, INFINITY}, BAD_RANGE},
	{"load at no place", {{0, 0, 1}, {5, 5, 1}, {10, 0, 1}}, 3, {NAN, 5, 1}, BAD_RANGE},
	{"beyond all numbers", {{0, 0, 1}, {1e200, 1e200, 1}, {-1e200, 0, 1}}, 3, {0, 0, 1},
		BAD_RANGE},
};

static void what_cannot_be_carried_is_refused(void **state)
{
	(void)state;
	for (size_t c = 0; c < sizeof refused_cases / sizeof *refused_cases; c++) {
		const struct refused_case *k = &refused_cases[c];
		double got[3] = {7, 7, 7};
		enum bad code = loads_share(k->support, k->n, &k->load, 1, got);
		if (code != k->code)
			print_error("%s\n", k->why);
		code_is(code, k->code);
		if (code)
			near("left alone", got[0] + got[1] + got[2], 21, 0);
	}
}

static void wrong_pushes_are_refused(void **state)
{
	(void)state;
	double x[5] = {7}, y[5] = {7};
	for (int field = 0; field < 4; field++) {
		struct loads_push push = {1, 2, 3, 4};
		double *place[] = {&push.x_mm, &push.y_mm, &push.x_N, &push.y_N};
		*place[field] = NAN;
		code_is(loads_push_share(five, 5, &push, 1, x, y), BAD_RANGE);
		*place[field] = INFINITY;
		code_is(loads_push_share(five, 5, &push, 1, x, y), BAD_RANGE);
	}
	code_is(loads_push_share(five, 1, &(struct loads_push){1, 2, 3, 4}, 1, x, y), BAD_COUNT);
	near("left alone", x[0] + y[0], 14, 0);
}

static void loads_beside_the_line_may_cancel(void **state)
{
	(void)state;
	const struct loads_force pair[] = {{12, 5, 50}, {12, 1, 50}};
	double got[3];
	code_is(loads_share(row, 3, pair, 2, got), FINE);
	for (size_t i = 0; i < 3; i++)
		near("a third each", got[i], 100. / 3, 1e-12);
}

/* ---- properties ------------------------------------------------------------------------------ */

static size_t draw_sites(uint64_t *seed, struct loads_support *s)
{
	size_t n = 3 + draw_below(seed, MOST - 2);
	for (size_t i = 0; i < n; i++)
		s[i] = (struct loads_support){
			draw(seed, -40, 40), draw(seed, -40, 40), draw_scale(seed, 100, 20000)};
	return n;
}

static struct loads_force draw_load(uint64_t *seed)
{
	return (struct loads_force){
		draw(seed, -60, 60), draw(seed, -60, 60), draw(seed, -500, 500)};
}

static void ten_thousand_groups_balance(void **state)
{
	(void)state;
	uint64_t seed = 1;
	for (int round = 0; round < 10000; round++) {
		struct loads_support s[MOST];
		double got[MOST], principal[MOST], size = 0;
		size_t n = draw_sites(&seed, s);
		struct loads_force load[4];
		for (size_t i = 0; i < 4; i++)
			load[i] = draw_load(&seed);
		code_is(loads_share(s, n, load, 4, got), FINE);
		share_by_axes(s, n, load, 4, principal);
		near("balance", loads_imbalance(s, n, load, 4, got), 0, 1e-12);
		for (size_t i = 0; i < n; i++)
			size += fabs(got[i]);
		for (size_t i = 0; i < n; i++)
			near("both forms", got[i], principal[i], 1e-10 * size);
	}
}

static void shares_of_several_loads_add_up(void **state)
{
	(void)state;
	uint64_t seed = 2;
	for (int round = 0; round < 300; round++) {
		struct loads_support s[MOST];
		double all[MOST], one[MOST], sum[MOST] = {0};
		size_t n = draw_sites(&seed, s);
		struct loads_force load[3];
		for (size_t i = 0; i < 3; i++) {
			load[i] = draw_load(&seed);
			code_is(loads_share(s, n, &load[i], 1, one), FINE);
			for (size_t j = 0; j < n; j++)
				sum[j] += one[j];
		}
		code_is(loads_share(s, n, load, 3, all), FINE);
		for (size_t j = 0; j < n; j++)
			near("sum", all[j], sum[j], 1e-8);
	}
}

/* Where the group stands and how it is turned means nothing to the springs. */
static void shares_do_not_depend_on_the_axes(void **state)
{
	(void)state;
	uint64_t seed = 3;
	for (int round = 0; round < 300; round++) {
		struct loads_support s[MOST], t[MOST];
		double got[MOST], turned[MOST];
		size_t n = draw_sites(&seed, s);
		struct loads_force load = draw_load(&seed), moved = load;
		double a = draw(&seed, -4, 4), mirror = round % 2 ? -1 : 1;
		for (size_t i = 0; i < n; i++) {
			t[i].x_mm = cos(a) * s[i].x_mm - sin(a) * s[i].y_mm + 70;
			t[i].y_mm = mirror * (sin(a) * s[i].x_mm + cos(a) * s[i].y_mm) - 30;
			t[i].stiffness_N_per_mm = s[i].stiffness_N_per_mm * 1000;
		}
		moved.x_mm = cos(a) * load.x_mm - sin(a) * load.y_mm + 70;
		moved.y_mm = mirror * (sin(a) * load.x_mm + cos(a) * load.y_mm) - 30;
		code_is(loads_share(s, n, &load, 1, got), FINE);
		code_is(loads_share(t, n, &moved, 1, turned), FINE);
		for (size_t i = 0; i < n; i++)
			near("turned", turned[i], got[i], 1e-8);
	}
}

/* Statics alone, whatever the stiffnesses: a load outside the outline lifts at least one site. */
static void load_outside_pulls_a_site(void **state)
{
	(void)state;
	uint64_t seed = 5;
	int outside = 0;
	for (int round = 0; round < 3000; round++) {
		struct loads_support s[MOST];
		double got[MOST], least = 0;
		size_t n = draw_sites(&seed, s);
		struct loads_force load = {draw(&seed, -45, 45), draw(&seed, -45, 45), 100};
		code_is(loads_share(s, n, &load, 1, got), FINE);
		for (size_t i = 0; i < n; i++)
			least = fmin(least, got[i]);
		if (loads_is_inside(s, n, load.x_mm, load.y_mm))
			continue;
		outside++;
		assert_true(least < 0);
	}
	assert_in_range(outside, 500, 2900);
}

static void outline_is_the_convex_one(void **state)
{
	(void)state;
	static const struct {
		const char *why;
		double x_mm, y_mm;
		bool inside;
	} point[] = {
		{"in the middle", 0, -5, true},
		{"at a site", 9, -3, true},
		{"on the line of the terminals", 3, -11, true},
		{"just behind it", 3, -11.001, false},
		{"beyond a terminal, on that line", 16.5, -11, false},
		{"in front", 0, 0.001, false},
		{"the bite beyond five sites", 16, -25.05, false},
	};
	for (size_t i = 0; i < sizeof point / sizeof *point; i++)
		if (loads_is_inside(five, 5, point[i].x_mm, point[i].y_mm) != point[i].inside)
			fail_msg("%s: want %d", point[i].why, point[i].inside);
	assert_true(loads_is_inside(row, 3, 20, 3));
	assert_false(loads_is_inside(row, 3, 25, 3));
	assert_false(loads_is_inside(row, 3, 12, 3.5));
	assert_false(loads_is_inside(row, 0, 0, 0));
}

static void imbalance_tells_a_clipped_share(void **state)
{
	(void)state;
	const struct loads_force load = {16, -25.05, 200};
	double got[5];
	code_is(loads_share(five, 5, &load, 1, got), FINE);
	for (size_t i = 0; i < 5; i++)
		got[i] = fmax(got[i], 0);
	assert_true(loads_imbalance(five, 5, &load, 1, got) > 0.1);
	/* the sum right, the places wrong: each of the three sums is looked at */
	static const double twist[3][5] = {
		{40, 0, 0, 0, 0}, {30, -30, 0, -30, 30}, {10, 0, 0, 0, -10}};
	for (int c = 0; c < 3; c++) {
		code_is(loads_share(five, 5, &load, 1, got), FINE);
		for (size_t i = 0; i < 5; i++)
			got[i] += twist[c][i];
		assert_true(loads_imbalance(five, 5, &load, 1, got) > 0.01);
	}
	got[0] = NAN;
	assert_true(loads_imbalance(five, 5, &load, 1, got) > 1);
	near("nothing at all", loads_imbalance(five, 5, NULL, 0, (double[5]){0}), 0, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(shares_are_those_worked_out_by_hand),
		cmocka_unit_test(arcs_are_shared_as_worked_out),
		cmocka_unit_test(uneven_group_has_its_principal_axes),
		cmocka_unit_test(uncoupled_formula_is_told_by_its_moments),
		cmocka_unit_test(push_turns_the_group),
		cmocka_unit_test(bracket_of_four_bolts),
		cmocka_unit_test(pushes_balance_with_any_stiffness),
		cmocka_unit_test(what_cannot_be_carried_is_refused),
		cmocka_unit_test(wrong_pushes_are_refused),
		cmocka_unit_test(loads_beside_the_line_may_cancel),
		cmocka_unit_test(ten_thousand_groups_balance),
		cmocka_unit_test(shares_of_several_loads_add_up),
		cmocka_unit_test(shares_do_not_depend_on_the_axes),
		cmocka_unit_test(load_outside_pulls_a_site),
		cmocka_unit_test(outline_is_the_convex_one),
		cmocka_unit_test(imbalance_tells_a_clipped_share),
	};
	return cmocka_run_group_tests_name("calc/loads", tests, NULL, NULL);
}
