/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <stdbool.h>
#include <stdlib.h>

#include <barwright/calc/arch.h>

static const double pi = 3.14159265358979323846;

/* xorshift64* (Vigna 2016): for test cases only. */
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

static double spread_of(const struct arch_site *site, size_t n, enum arch_rule rule)
{
	struct arch_spread got;

	code_is(arch_spread(site, n, rule, &got), FINE);
	return got.spread_mm;
}

/* ---- spread ---------------------------------------------------------------------------------- */

/* Geometry of the two definitions (distal edge: Carranza's, 12th ed., ch. 74; centres: common
 * practice), worked by coordinates. */
static void spread_by_three_points(void **state)
{
	static const struct {
		const char *why;
		double ax, ay, px, py, rp, qx, qy, rq, distal, centres;
	} rows[] = {
		{"symmetric, diameter 4.1", 0, 0, -16, -11, 2.05, 16, -11, 2.05, 13.05, 11},
		{"asymmetric, equal radii", 1, 0, -17, -9, 2.05, 19, -14, 2.05, 13.44066, 11.3907},
		{"asymmetric, 3.5 and 4.8", 1, 0, -17, -9, 1.75, 19, -14, 2.40, 13.43555, 11.3907},
		{"even count, right one", -6, 0, -18, -12, 2.05, 19, -14, 2.05, 14.6802, 12.6302},
		{"even count, left one", 7, -1, -18, -12, 2.05, 19, -14, 2.05, 14.3833, 12.3333},
		{"sides exchanged", 1, 0, 19, -14, 2.40, -17, -9, 1.75, 13.43555, 11.3907},
		{"seen in a mirror", -1, 0, 17, -9, 1.75, -19, -14, 2.40, 13.43555, 11.3907},
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		double distal, centres;

		code_is(arch_spread_distal(rows[i].ax, rows[i].ay, rows[i].px, rows[i].py,
				rows[i].rp, rows[i].qx, rows[i].qy, rows[i].rq, &distal),
			FINE);
		code_is(arch_spread_centres(rows[i].ax, rows[i].ay, rows[i].px, rows[i].py,
				rows[i].qx, rows[i].qy, &centres),
			FINE);
		near(rows[i].why, distal, rows[i].distal, 1e-4);
		near(rows[i].why, centres, rows[i].centres, 1e-4);
	}
}

static const struct arch_site five[] = {
	{-16, -11, 2.05}, {-11, -3, 2.05}, {0, 0, 2.05}, {11, -3, 2.05}, {16, -11, 2.05}};
static const struct arch_site skew[] = {
	{-17, -9, 2.05}, {-10, -2, 2.05}, {1, 0, 2.05}, {12, -4, 2.05}, {19, -14, 2.05}};
static const struct arch_site four[] = {
	{-18, -12, 2.05}, {-6, 0, 2.05}, {7, -1, 2.05}, {19, -14, 2.05}};

static void odd_list_measures_to_the_most_anterior_site(void **state)
{
	struct arch_spread got;

	(void)state;
	near("symmetric five", spread_of(five, 5, ARCH_DISTAL_SURFACE), 13.05, 1e-9);
	near("symmetric five", spread_of(five, 5, ARCH_CENTRES), 11, 1e-9);
	code_is(arch_spread(skew, 5, ARCH_DISTAL_SURFACE, &got), FINE);
	near("skewed five", got.spread_mm, 13.44066, 1e-4);
	assert_int_equal(got.first, 2);
	assert_int_equal(got.second, 2);
	near("one reference", got.second_mm, got.first_mm, 0);
	near("three sites are enough",
		spread_of((struct arch_site[]){{-17, -9, 1.75}, {1, 0, 2}, {19, -14, 2.4}}, 3,
			ARCH_DISTAL_SURFACE),
		13.43555, 1e-4);
}

static void even_list_gives_both_distances_and_their_mean(void **state)
{
	struct arch_spread got;

	(void)state;
	code_is(arch_spread(four, 4, ARCH_DISTAL_SURFACE, &got), FINE);
	near("right one", got.first_mm, 14.6802, 1e-4);
	near("left one", got.second_mm, 14.3833, 1e-4);
	near("larger", got.largest_mm, 14.6802, 1e-4);
	near("mean", got.spread_mm, 14.53178, 1e-4);
	assert_int_equal(got.first, 1);
	assert_int_equal(got.second, 2);
}

/* Six sites whose two anterior ones are found among four; the order of the list is kept. */
static void even_list_finds_the_two_most_anterior(void **state)
{
	struct arch_site six[] = {
		{-18, -14, 2}, {-14, -6, 2}, {-5, -1, 2}, {4, 0, 2}, {13, -7, 2}, {18, -14, 2}};
	struct arch_spread got;

	(void)state;
	code_is(arch_spread(six, 6, ARCH_DISTAL_SURFACE, &got), FINE);
	assert_int_equal(got.first, 2);
	assert_int_equal(got.second, 3);
	near("first", got.first_mm, 15, 1e-9);
	near("second", got.second_mm, 16, 1e-9);
	near("mean", got.spread_mm, 15.5, 1e-9);
}

static void tie_goes_to_the_earlier_site_and_does_not_change_the_spread(void **state)
{
	struct arch_site level[] = {{-16, -11, 2}, {-8, 0, 2}, {0, -1, 2}, {8, 0, 2}, {16, -11, 2}};
	struct arch_spread before, at, after;

	(void)state;
	level[3].y_mm = -1e-7;
	code_is(arch_spread(level, 5, ARCH_DISTAL_SURFACE, &before), FINE);
	level[3].y_mm = 0;
	code_is(arch_spread(level, 5, ARCH_DISTAL_SURFACE, &at), FINE);
	level[3].y_mm = 1e-7;
	code_is(arch_spread(level, 5, ARCH_DISTAL_SURFACE, &after), FINE);
	assert_int_equal(before.first, 1);
	assert_int_equal(at.first, 1);
	assert_int_equal(after.first, 3);
	near("before the tie", before.spread_mm, 13, 1e-12);
	near("at the tie", at.spread_mm, 13, 1e-12);
	near("after the tie", after.spread_mm, 13 + 1e-7, 1e-12);
}

/* Ways students go wrong, with the values they reach on the skewed case. */
static void wrong_ways_give_other_numbers(void **state)
{
	double ax = 1, ay = 0, px = -17, py = -9, qx = 19, qy = -14, r = 2.05, right;
	const struct {
		const char *why;
		double wrong, want;
	} rows[] = {
		{"centres taken for distal surfaces", 11.3907, 11.391},
		{"height over the right site only", ay - py + r, 11.05},
		{"height over the left site only", ay - qy + r, 16.05},
		{"mean of the two heights", ((ay - py) + (ay - qy)) / 2 + r, 13.55},
		{"slant to the far site", hypot(qx - ax, qy - ay) + r, 24.854},
		{"mesial surfaces", 13.44066 - 2 * r, 9.341},
		{"centre plus mean radius", 11.3907 + 2.05 + 0.025, 13.4657},
	};

	(void)state;
	code_is(arch_spread_distal(ax, ay, px, py, r, qx, qy, r, &right), FINE);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		near(rows[i].why, rows[i].wrong, rows[i].want, 1e-3);
		if (fabs(rows[i].wrong - right) < 0.02)
			fail_msg("%s: %g is not told from %g", rows[i].why, rows[i].wrong, right);
	}
}

static void spread_is_the_same_after_a_turn_a_shift_and_in_a_mirror(void **state)
{
	(void)state;
	seed_set(20261125);
	for (int round = 0; round < 1000; round++) {
		struct arch_site site[7], turned[7], mirror[7];
		size_t n = 3 + (size_t)between(0, 4.999);
		double angle = between(-pi, pi), dx = between(-50, 50), dy = between(-50, 50);

		for (size_t i = 0; i < n; i++) {
			double phi = pi * ((double)i + between(0.1, 0.9)) / (double)n;
			double x = -20 * cos(phi), y = 18 * sin(phi), r = between(1.5, 2.5);

			site[i] = (struct arch_site){x, y, r};
			turned[i] = (struct arch_site){x * cos(angle) - y * sin(angle) + dx,
				x * sin(angle) + y * cos(angle) + dy, r};
			mirror[n - 1 - i] = (struct arch_site){-x, y, r};
		}
		for (int rule = ARCH_DISTAL_SURFACE; rule <= ARCH_CENTRES; rule++) {
			double want = spread_of(site, n, (enum arch_rule)rule);

			near("turned", spread_of(turned, n, (enum arch_rule)rule), want, 1e-9);
			near("mirror", spread_of(mirror, n, (enum arch_rule)rule), want, 1e-9);
		}
	}
}

/* The posterior line must touch both circles and have the anterior reference in front: checked
 * from the other side, by distances, without the tangent's formula. */
static void distal_spread_is_the_distance_to_a_line_that_touches_both(void **state)
{
	(void)state;
	for (double rq = 1; rq < 4; rq += 0.25) {
		double px = -17, py = -9, rp = 1.75, qx = 19, qy = -14, ax = 1, ay = 0, spread;
		double low = -1, high = 0.5; /* angle of the line's normal to the y axis */

		/* Bisection for the angle at which both circles are at their radius. */
		for (int i = 0; i < 60; i++) {
			double mid = (low + high) / 2, nx = -sin(mid), ny = cos(mid);
			double miss = (nx * (qx - px) + ny * (qy - py)) - (rq - rp);

			*(miss > 0 ? &low : &high) = mid;
		}
		double nx = -sin(low), ny = cos(low);
		code_is(arch_spread_distal(ax, ay, px, py, rp, qx, qy, rq, &spread), FINE);
		double by_line = nx * (ax - px) + ny * (ay - py) + rp;
		near("touching line", spread, by_line, 1e-9);
	}
}

static void spread_refuses_what_has_no_answer(void **state)
{
	static const struct {
		const char *why;
		struct arch_site site[4];
		size_t n;
		enum bad code;
	} rows[] = {
		{"two sites", {{-10, 0, 2}, {10, 0, 2}}, 2, BAD_COUNT},
		{"posterior pair in one place", {{0, 0, 2}, {5, 9, 2}, {0, 0, 2}}, 3, BAD_SINGULAR},
		{"one circle in the other", {{0, 0, 9}, {5, 9, 2}, {3, 0, 2}}, 3, BAD_SINGULAR},
		{"all in one line", {{-9, 1, 2}, {0, 1, 2}, {9, 1, 2}}, 3, BAD_SINGULAR},
		{"left to right", {{9, 0, 2}, {0, 9, 2}, {-9, 0, 2}}, 3, BAD_ORDER},
		{"a site behind the pair", {{-9, 0, 2}, {-8, -1, 2}, {0, 9, 2}, {9, 0, 2}}, 4,
			BAD_ORDER},
		{"negative radius", {{-9, 0, 2}, {0, 9, -1}, {9, 0, 2}}, 3, BAD_RANGE},
		{"not a number", {{-9, 0, 2}, {0, NAN, 2}, {9, 0, 2}}, 3, BAD_RANGE},
		{"infinite", {{-9, 0, 2}, {0, 9, 2}, {INFINITY, 0, 2}}, 3, BAD_RANGE},
		{"beyond 1e9 mm", {{-9, 0, 2}, {0, 1.1e9, 2}, {9, 0, 2}}, 3, BAD_RANGE},
		{"a radius beyond 1e9 mm", {{-9e8, 0, 2}, {0, 9, 1.1e9}, {9e8, 0, 2}}, 3,
			BAD_RANGE},
	};
	struct arch_site many[ARCH_SITES + 1] = {{0, 0, 0}};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct arch_spread got = {.spread_mm = 7};
		enum bad code = arch_spread(rows[i].site, rows[i].n, ARCH_DISTAL_SURFACE, &got);

		if (code != rows[i].code)
			print_error("%s\n", rows[i].why);
		code_is(code, rows[i].code);
		near(rows[i].why, got.spread_mm, 7, 0);
	}
	struct arch_spread got;
	code_is(arch_spread(many, ARCH_SITES + 1, ARCH_CENTRES, &got), BAD_COUNT);
	for (int i = 0; i < ARCH_SITES; i++) {
		double phi = pi * (1 - i / (ARCH_SITES - 1.0));

		many[i] = (struct arch_site){40 * cos(phi), 40 * sin(phi), 2};
	}
	near("a full arch of sites", spread_of(many, ARCH_SITES, ARCH_CENTRES),
		40 * cos(pi / 2 / (ARCH_SITES - 1.0)), 1e-9);
	struct arch_curve full;
	code_is(arch_curve_init(&full, many, ARCH_SITES), FINE);
	double d = 7;
	code_is(arch_spread_distal(0, 0, -9, 0, 2, 9, 0, 2, &d), BAD_SINGULAR);
	code_is(arch_spread_centres(0, 5, 3, 3, 3, 3, &d), BAD_SINGULAR);
	code_is(arch_spread_distal(0, 5, -9, 0, -2, 9, 0, 2, &d), BAD_RANGE);
	code_is(arch_spread_centres(NAN, 5, -9, 0, 9, 0, &d), BAD_RANGE);
	code_is(arch_spread_centres(0, 5, -1.1e9, 0, 9, 0, &d), BAD_RANGE);
	near("untouched", d, 7, 0);
}

/* ---- cantilever ------------------------------------------------------------------------------ */

static void cantilever_limit_is_the_smaller_of_factor_and_cap(void **state)
{
	double got;

	(void)state;
	/* Factor 1.5: English 1990 (second-hand); cap 15: from memory, not verified. */
	code_is(arch_cantilever_limit(1.5, 13.05, 15, &got), FINE);
	near("cap governs 19.575", got, 15, 1e-12);
	code_is(arch_cantilever_limit(1.5, 13.05, INFINITY, &got), FINE);
	near("no cap", got, 19.575, 1e-12);
	code_is(arch_cantilever_limit(2.0, 13.05, INFINITY, &got), FINE);
	near("factor 2", got, 26.1, 1e-12);
	code_is(arch_cantilever_limit(1.0, 13.05, 15, &got), FINE);
	near("factor governs", got, 13.05, 1e-12);
	code_is(arch_cantilever_limit(1.5, 0, 15, &got), BAD_RANGE);
	code_is(arch_cantilever_limit(-1, 13, 15, &got), BAD_RANGE);
	code_is(arch_cantilever_limit(1.5, 13, 0, &got), BAD_RANGE);
	code_is(arch_cantilever_limit(1.5, 13, NAN, &got), BAD_RANGE);
	code_is(arch_cantilever_limit(1.5, INFINITY, 15, &got), BAD_RANGE);
}

/* Convention: from the distal surface, as the spread. Inputs are course values. */
static void trim_follows_from_a_bench_reading(void **state)
{
	double actual, trim;

	(void)state;
	code_is(arch_cantilever(18.4, 4.5, &actual), FINE);
	near("reading less radius", actual, 16.15, 1e-12);
	code_is(arch_trim(actual, 15, &trim), FINE);
	near("trim", trim, 1.15, 1e-12);
	assert_true(fabs(18.4 - 15 - trim) > 2); /* wrong: counted from the centre of the hole */
	code_is(arch_trim(14, 15, &trim), FINE);
	near("nothing to trim", trim, 0, 0);
	code_is(arch_cantilever(2.25, 4.5, &actual), FINE);
	near("ends at the surface", actual, 0, 0);
	code_is(arch_cantilever(2, 4.5, &actual), BAD_ORDER);
	code_is(arch_cantilever(2, -4.5, &actual), BAD_RANGE);
	code_is(arch_trim(-1, 15, &trim), BAD_RANGE);
}

/* Plane geometry and statics; 200 N at the end. */
static void curved_cantilever_has_shorter_arms_than_its_arc(void **state)
{
	double chord, bending, torsion;

	(void)state;
	code_is(arch_chord(25, 15, &chord), FINE);
	code_is(arch_bending_arm(25, 15, &bending), FINE);
	code_is(arch_torsion_arm(25, 15, &torsion), FINE);
	near("chord", chord, 14.77601, 1e-4);
	near("bending arm", bending, 14.11606, 1e-4);
	near("torsion arm", torsion, 4.36661, 1e-4);
	near("moment, N mm", 200 * bending, 2823.212, 0.01);
	near("torque, N mm", 200 * torsion, 873.322, 0.01);
	near("the arms close the chord", hypot(bending, torsion), chord, 1e-12);
	assert_true(200 * 15.0 - 200 * bending > 100); /* wrong: force times arc, no torque */
	code_is(arch_torsion_arm(1e9, 15, &torsion), FINE);
	near("nearly straight keeps its digits", torsion / (15.0 * 15 / 2e9), 1, 1e-9);
	code_is(arch_chord(25, 0, &chord), FINE);
	near("no length", chord, 0, 0);
	code_is(arch_chord(0, 15, &chord), BAD_RANGE);
	code_is(arch_bending_arm(4, 13, &chord), BAD_RANGE);
	code_is(arch_torsion_arm(4, 4 * pi, &torsion), FINE);
	near("half the circle", torsion, 8, 1e-12);
	code_is(arch_torsion_arm(25, -1, &chord), BAD_RANGE);
	code_is(arch_chord(25, NAN, &chord), BAD_RANGE);
	code_is(arch_chord(1e308, INFINITY, &chord), BAD_RANGE);
}

/* McAlarney and Stavropoulos 1996: 143 N, preload 200 N; 0.5 to 1.8 with 3 implants, 0.7 to 1.6
 * with 4. The values themselves were worked by hand from the rigid model. */
static void preload_ratios_lie_in_the_published_range(void **state)
{
	static const struct {
		double half_front, want;
	} rows[] = {{0, 0.79720}, {8, 0.99720}, {16, 1.29720}};
	double got;

	(void)state;
	code_is(arch_ratio_three(143, 200, &got), FINE);
	near("three", got, 0.797203, 1e-6);
	assert_true(got >= 0.5 && got <= 1.8);
	for (size_t i = 0; i < 3; i++) {
		code_is(arch_ratio_four(143, 200, rows[i].half_front, 16, &got), FINE);
		near("four", got, rows[i].want, 1e-5);
		assert_true(got >= 0.7 && got <= 1.6);
	}
	code_is(arch_ratio_three(0, 200, &got), BAD_RANGE);
	code_is(arch_ratio_four(143, 200, 1, 0, &got), BAD_RANGE);
	code_is(arch_ratio_four(143, 200, -1, 9, &got), BAD_RANGE);
}

/* The three-site ratio again from moments: tripod (0, a), (-w, 0), (w, 0), load c behind the
 * left. */
static void three_site_ratio_agrees_with_plain_statics(void **state)
{
	double ratio, a = 11, w = 16, load = 143, limit = 200;

	(void)state;
	code_is(arch_ratio_three(load, limit, &ratio), FINE);
	double c = ratio * a;
	double front = -load * c / a; /* moments about the posterior line */
	double left = (load - front + load) /
		      2; /* sum of forces, and of moments about y: left - right = load */
	near("left takes the limit", left, limit, 1e-9);
	near("moments about y", (left - (load - front - left)) * w, load * w, 1e-9);
}

/* ---- centreline ------------------------------------------------------------------------------ */

static void curve_of(struct arch_curve *c, const struct arch_site *site, size_t n)
{
	code_is(arch_curve_init(c, site, n), FINE);
}

static struct arch_place place_of(const struct arch_curve *c, double s)
{
	struct arch_place p;

	code_is(arch_curve_at(c, s, &p), FINE);
	return p;
}

static void curve_through_three_symmetric_sites_is_a_parabola(void **state)
{
	const struct arch_site site[] = {{-16, -11, 2}, {0, 0, 2}, {16, -11, 2}};
	struct arch_curve c;
	double a = 11.0 / 256, b = 16;
	/* Length of y = a x^2 from 0 to b, a formula of every calculus book. */
	double half = b / 2 * sqrt(1 + 4 * a * a * b * b) + asinh(2 * a * b) / (4 * a);

	(void)state;
	curve_of(&c, site, 3);
	near("length", arch_curve_length(&c), 2 * half, 1e-7);
	for (double s = 0; s <= 2 * half; s += 0.37) {
		struct arch_place p = place_of(&c, s);
		double x = fabs(p.x_mm);
		double from_middle =
			x / 2 * sqrt(1 + 4 * a * a * x * x) + asinh(2 * a * x) / (4 * a);

		near("on the parabola", p.y_mm, -a * p.x_mm * p.x_mm, 1e-9);
		near("at its length", from_middle, fabs(s - half), 1e-7);
	}
	struct arch_place end = place_of(&c, arch_curve_length(&c));
	near("slope at the end", end.dy / end.dx, -2 * a * b, 1e-9);
}

static void curve_through_sites_in_line_is_straight(void **state)
{
	const struct arch_site site[] = {{0, 0, 2}, {3, 4, 2}, {9, 12, 2}, {12, 16, 2}};
	struct arch_curve c;

	(void)state;
	for (size_t n = 2; n <= 4; n++) {
		curve_of(&c, site, n);
		double length = hypot(site[n - 1].x_mm, site[n - 1].y_mm);

		near("length", arch_curve_length(&c), length, 1e-9);
		for (double s = -10; s < 30; s += 1.7) {
			near("x", place_of(&c, s).x_mm, 0.6 * s, 1e-9);
			near("y", place_of(&c, s).y_mm, 0.8 * s, 1e-9);
		}
	}
}

/* Sites at equal steps on a circle: the direction at an inner site is the circle's, and the length
 * comes close to radius times angle. */
static void curve_follows_a_circle(void **state)
{
	struct arch_site site[9];
	struct arch_curve c;
	double r = 25, step = pi / 10;

	(void)state;
	for (int i = 0; i < 9; i++) {
		double phi = pi - step * (i + 1);

		site[i] = (struct arch_site){r * cos(phi), r * sin(phi), 2};
	}
	curve_of(&c, site, 9);
	near("length", arch_curve_length(&c), r * step * 8, 0.02);
	double s = 0;
	for (size_t i = 0; i < 8; i++) {
		struct arch_span span;
		struct arch_place p;

		code_is(arch_curve_span(&c, i, &span), FINE);
		near("centre to centre", span.centre_mm, 2 * r * sin(step / 2), 1e-9);
		near("clear", span.clear_mm, 2 * r * sin(step / 2) - 4, 1e-9);
		near("along", span.along_mm, r * step, 0.006);
		p = place_of(&c, s + span.along_mm / 2);
		near("on the circle between sites", hypot(p.x_mm, p.y_mm), r, 0.05);
		if (i) {
			p = place_of(&c, s);
			near("tangent is square to the radius", p.dx * p.x_mm + p.dy * p.y_mm, 0,
				1e-9);
		}
		s += span.along_mm;
	}
	struct arch_span none;
	code_is(arch_curve_span(&c, 8, &none), BAD_COUNT);
	code_is(arch_curve_span(&c, (size_t)-1, &none), BAD_COUNT);
}

static void curve_length_adds_up_and_steps_are_true(void **state)
{
	struct arch_curve c;
	double sum = 0, polyline = 0;
	enum { STEPS = 20000 };

	(void)state;
	curve_of(&c, skew, 5);
	for (size_t i = 0; i < 4; i++) {
		struct arch_span span;

		code_is(arch_curve_span(&c, i, &span), FINE);
		assert_true(span.along_mm >= span.centre_mm);
		sum += span.along_mm;
		struct arch_place p = place_of(&c, sum);
		near("passes through the site", p.x_mm, skew[i + 1].x_mm, 1e-9);
		near("passes through the site", p.y_mm, skew[i + 1].y_mm, 1e-9);
	}
	near("spans add up", sum, arch_curve_length(&c), 1e-12);
	struct arch_place last = place_of(&c, 0);
	for (int i = 1; i <= STEPS; i++) {
		struct arch_place p = place_of(&c, sum * i / STEPS);
		double d = hypot(p.x_mm - last.x_mm, p.y_mm - last.y_mm);

		near("equal steps", d, sum / STEPS, 1e-7);
		polyline += d;
		last = p;
	}
	near("polyline", polyline, sum, 1e-5);
}

/* `extension` counts from the distal surface, straight on. */
static void extension_runs_straight_from_the_distal_surface(void **state)
{
	struct arch_curve c;
	double right, left;

	(void)state;
	curve_of(&c, five, 5);
	code_is(arch_curve_end(&c, ARCH_RIGHT, 10, &right), FINE);
	code_is(arch_curve_end(&c, ARCH_LEFT, 12, &left), FINE);
	near("right end", right, -12.05, 1e-12);
	near("left end", left, arch_curve_length(&c) + 14.05, 1e-12);
	struct arch_place r = place_of(&c, right), l = place_of(&c, left);
	near("right reach", hypot(r.x_mm + 16, r.y_mm + 11), 12.05, 1e-9);
	near("left reach", hypot(l.x_mm - 16, l.y_mm + 11), 14.05, 1e-9);
	assert_true(r.y_mm < -11 && l.y_mm < -11 && r.x_mm < -16 && l.x_mm > 16);
	near("mirror", (r.x_mm + 16) / 12.05, -(l.x_mm - 16) / 14.05, 1e-9);
	struct arch_place at = place_of(&c, arch_curve_length(&c));
	near("no kink", at.dx * l.dx + at.dy * l.dy, 1, 1e-12);
	code_is(arch_curve_end(&c, ARCH_LEFT, -1, &left), BAD_RANGE);
	code_is(arch_curve_end(&c, ARCH_LEFT, NAN, &left), BAD_RANGE);
	struct arch_place p;
	code_is(arch_curve_at(&c, INFINITY, &p), BAD_RANGE);
}

/* How far the straight extension ends from three classical arch forms: what the header claims. */
static void extension_stays_near_classical_arch_forms(void **state)
{
	static const double x[][6] = {
		{-17, -7, 7, 17}, {-17, -10, 0, 10, 17}, {-18, -13, -5, 5, 13, 18}};

	(void)state;
	for (int form = 0; form < 3; form++) {
		for (size_t k = 0; k < 3; k++) {
			struct arch_site site[6];
			struct arch_curve c;
			size_t n = 4 + k;
			double px = x[k][n - 1], py = 0, go = 0;

			for (size_t i = 0; i <= n + 1000000; i++) {
				double at = i < n ? x[k][i] : px + 2e-5;
				double y = form == 0   ? -35 * at * at / 625
					   : form == 1 ? -8.7 * (cosh(at / 11.7) - 1)
						       : -42 + 42 * sqrt(1 - at * at / 729);

				if (i < n) {
					site[i] = (struct arch_site){at, y, 2};
					py = y;
					continue;
				}
				go += hypot(at - px, y - py);
				px = at, py = y;
				if (go >= 12)
					break;
			}
			near("went 12 mm", go, 12, 0.01);
			curve_of(&c, site, n);
			struct arch_place p = place_of(&c, arch_curve_length(&c) + 12);
			near("end of the extension", hypot(p.x_mm - px, p.y_mm - py), 0, 1.61);
		}
	}
}

static void curve_refuses_what_has_no_shape(void **state)
{
	struct arch_curve c = {.n = 99};
	struct arch_site many[ARCH_SITES + 1] = {{0, 0, 0}};

	(void)state;
	code_is(arch_curve_init(&c, five, 1), BAD_COUNT);
	code_is(arch_curve_init(&c, many, ARCH_SITES + 1), BAD_COUNT);
	code_is(arch_curve_init(&c, (struct arch_site[]){{0, 0, 0}, {0, 0, 0}}, 2), BAD_SINGULAR);
	code_is(arch_curve_init(&c, (struct arch_site[]){{0, 0, 2}, {3, 0, 2}}, 2), BAD_RANGE);
	code_is(arch_curve_init(&c, (struct arch_site[]){{0, 0, 2}, {9, NAN, 2}}, 2), BAD_RANGE);
	code_is(arch_curve_init(&c, (struct arch_site[]){{0, 0, -2}, {9, 0, 2}}, 2), BAD_RANGE);
	code_is(arch_curve_init(&c, (struct arch_site[]){{0, 0, 2}, {9, 0, INFINITY}}, 2),
		BAD_RANGE);
	code_is(arch_curve_init(&c, (struct arch_site[]){{-INFINITY, 0, 2}, {9, 0, 2}}, 2),
		BAD_RANGE);
	code_is(arch_curve_init(&c, (struct arch_site[]){{0, 0, 2}, {9, 0, 2}, {0, 0, 2}}, 3),
		BAD_SINGULAR);
	assert_int_equal(c.n, 99);
}

/* ---- anything goes --------------------------------------------------------------------------- */

static void random_sites_give_a_finite_answer_or_a_code(void **state)
{
	int answered = 0, curved = 0;

	(void)state;
	seed_set(4711);
	for (int round = 0; round < 10000; round++) {
		struct arch_site site[ARCH_SITES];
		struct arch_spread got;
		struct arch_curve c;
		size_t n = 2 + (size_t)between(0, 6.999);
		bool wild = round % 2;

		for (size_t i = 0; i < n; i++) {
			double phi = pi * (1 - ((double)i + between(0, 1)) / (double)n);

			site[i] = (struct arch_site){
				wild ? between(-30, 30) : between(18, 24) * cos(phi),
				wild ? between(-30, 30) : between(18, 24) * sin(phi),
				between(0, 2.5)};
		}
		for (int rule = ARCH_DISTAL_SURFACE; rule <= ARCH_CENTRES; rule++) {
			if (arch_spread(site, n, (enum arch_rule)rule, &got))
				continue;
			answered++;
			assert_true(got.spread_mm > 0 && got.spread_mm < 100);
			assert_true(got.first <= got.second && got.second < n - 1 && got.first > 0);
			assert_true(got.largest_mm >= got.spread_mm);
		}
		if (arch_curve_init(&c, site, n))
			continue;
		curved++;
		double length = arch_curve_length(&c);
		assert_true(isfinite(length) && length >= c.knot[n - 1] * (1 - 1e-4));
		struct arch_place p = place_of(&c, between(-20, length + 20));
		assert_true(isfinite(p.x_mm) && isfinite(p.y_mm));
		near("unit direction", hypot(p.dx, p.dy), 1, 1e-9);
	}
	print_message("spreads %d, curves %d\n", answered, curved);
	assert_true(answered > 5000 && curved > 3000);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(spread_by_three_points),
		cmocka_unit_test(odd_list_measures_to_the_most_anterior_site),
		cmocka_unit_test(even_list_gives_both_distances_and_their_mean),
		cmocka_unit_test(even_list_finds_the_two_most_anterior),
		cmocka_unit_test(tie_goes_to_the_earlier_site_and_does_not_change_the_spread),
		cmocka_unit_test(wrong_ways_give_other_numbers),
		cmocka_unit_test(spread_is_the_same_after_a_turn_a_shift_and_in_a_mirror),
		cmocka_unit_test(distal_spread_is_the_distance_to_a_line_that_touches_both),
		cmocka_unit_test(spread_refuses_what_has_no_answer),
		cmocka_unit_test(cantilever_limit_is_the_smaller_of_factor_and_cap),
		cmocka_unit_test(trim_follows_from_a_bench_reading),
		cmocka_unit_test(curved_cantilever_has_shorter_arms_than_its_arc),
		cmocka_unit_test(preload_ratios_lie_in_the_published_range),
		cmocka_unit_test(three_site_ratio_agrees_with_plain_statics),
		cmocka_unit_test(curve_through_three_symmetric_sites_is_a_parabola),
		cmocka_unit_test(curve_through_sites_in_line_is_straight),
		cmocka_unit_test(curve_follows_a_circle),
		cmocka_unit_test(curve_length_adds_up_and_steps_are_true),
		cmocka_unit_test(extension_runs_straight_from_the_distal_surface),
		cmocka_unit_test(extension_stays_near_classical_arch_forms),
		cmocka_unit_test(curve_refuses_what_has_no_shape),
		cmocka_unit_test(random_sites_give_a_finite_answer_or_a_code),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
