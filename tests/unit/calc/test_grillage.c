/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <lapacke.h>

#include <barwright/base/bad.h>
#include <barwright/calc/beam.h>
#include <barwright/calc/curved.h>
#include <barwright/calc/grillage.h>
#include <barwright/calc/loads.h>

#include "draws.h"

enum { NODES = 400, BARS = 400, ROOM = 200000 };

static const double pi = 3.14159265358979323846;

/* A grillage and its answer; big, so it is static in each test. */
struct frame {
	struct grillage_node node[NODES];
	struct grillage_bar bar[BARS];
	size_t nnode, nbar;
	struct grillage_move move[NODES];
	struct grillage_force force[BARS];
	double residual;
};
static double work[ROOM];

static enum bad frame_try(struct frame *f)
{
	const struct grillage g = {f->node, f->nnode, f->bar, f->nbar};
	return grillage_solve(&g, work, ROOM, f->move, f->force, &f->residual);
}

static void frame_solve(struct frame *f)
{
	code_is(frame_try(f), FINE);
}

/* The usual bar of 5 x 4 mm in a material with this modulus and shear modulus. */
static struct grillage_bar usual_bar(double modulus_MPa, double shear_modulus_MPa)
{
	struct profile s;
	struct grillage_bar bar = {0};
	code_is(section_rectangle(5, 4, &s), FINE);
	grillage_bar_fill(&s, modulus_MPa, shear_modulus_MPa, &bar);
	return bar;
}

static void bars_in_a_row(struct frame *f, struct grillage_bar like)
{
	f->nbar = f->nnode - 1;
	for (size_t i = 0; i < f->nbar; i++) {
		f->bar[i] = like;
		f->bar[i].from = i;
		f->bar[i].to = i + 1;
	}
}

/* Nodes on a circle, n bars, from the angle `first` over `sweep`. */
static void frame_arc(struct frame *f, size_t n, double radius, double first, double sweep,
	struct grillage_bar like)
{
	f->nnode = n + 1;
	for (size_t i = 0; i <= n; i++) {
		double a = first + sweep * (double)i / (double)n;
		f->node[i] =
			(struct grillage_node){.x_mm = radius * cos(a), .y_mm = radius * sin(a)};
	}
	bars_in_a_row(f, like);
}

/* ---- published frames ------------------------------------------------------------------------ */

/* Nodes of P. I. Kattan's examples, metres to millimetres; E 210 GPa, G 84 GPa, I 20e-5, J 5e-5
 * m4. */
static struct grillage_bar kattan_bar(size_t from, size_t to)
{
	return (struct grillage_bar){from, to, 210e3 * 20e7, 84e3 * 5e7, 0};
}

/* P. I. Kattan, guide to finite elements, 2nd ed. 2007, example 9.1: reactions
 * 10.7937, -1.5874, 10.7937 kN, moments 1.0189, 31.7764, 4.0299 kN m, w -0.0033 m, turns 0.0010
 * rad. */
static void kattan_example(void **state)
{
	(void)state;
	struct frame f = {.nnode = 4,
		.nbar = 3,
		.node = {{.x_mm = 0, .y_mm = 0, .down_N = 20000},
			{.x_mm = -4000, .y_mm = 0, .hold = HOLD_ALL},
			{.x_mm = -4000, .y_mm = 4000, .hold = HOLD_ALL},
			{.x_mm = 0, .y_mm = 4000, .hold = HOLD_ALL}},
		.bar = {kattan_bar(0, 1), kattan_bar(2, 0), kattan_bar(0, 3)}};
	frame_solve(&f);
	near("reaction, kN", f.move[1].carried_N / 1000, 10.7937, 1e-4);
	near("reaction, kN", f.move[2].carried_N / 1000, -1.5874, 1e-4);
	near("reaction, kN", f.move[3].carried_N / 1000, 10.7937, 1e-4);
	near("printed", f.move[0].drop_mm / 1000, 0.0033, 5e-5);
	near("drop of the node, m", f.move[0].drop_mm / 1000, 0.00331139, 1e-8);
	near("turn", fabs(f.move[0].turn_x_rad), 0.00097038, 1e-8);
	near("turn printed", fabs(f.move[0].turn_y_rad), 0.0010, 5e-5);
	near("moment", fabs(f.move[1].held_about_x_Nmm) / 1e6, 1.0189, 1e-4);
	near("moment", fabs(f.move[1].held_about_y_Nmm) / 1e6, 31.7764, 1e-4);
	near("moment", fabs(f.move[2].held_about_x_Nmm) / 1e6, 4.0299, 1e-4);
	near("moment", fabs(f.move[3].held_about_x_Nmm) / 1e6, 31.7764, 1e-4);
	near("fixed end", fabs(f.force[0].moment_to_Nmm) / 1e6, 31.7764, 1e-4);
	near("torque", fabs(f.force[0].torque_Nmm) / 1e6, 1.0189, 1e-4);
	/* nothing sags where a bar is fixed and the load hangs between: all hog */
	assert_true(f.force[0].moment_to_Nmm < 0 && f.force[2].moment_to_Nmm < 0);
	near("held", f.move[1].drop_mm, 0, 0);
}

/* Problem 9.1 of the same book (inputs printed, results computed). */
static void kattan_problem(void **state)
{
	(void)state;
	struct frame f = {.nnode = 3,
		.nbar = 2,
		.node = {{.x_mm = 4000, .down_N = 10000}, {.y_mm = 3000, .hold = HOLD_ALL},
			{.y_mm = -3000, .hold = HOLD_ALL}},
		.bar = {kattan_bar(1, 0), kattan_bar(0, 2)}};
	frame_solve(&f);
	near("drop", f.move[0].drop_mm / 1000, 0.00476220, 1e-7);
	near("turn", f.move[0].turn_y_rad, 0.00176106, 1e-7);
	near("reaction", f.move[1].carried_N, 5000, 1e-6);
	near("reaction", f.move[2].carried_N, 5000, 1e-6);
}

/* S. P. Timoshenko's cantilever, F 200, L 10 (formula from memory): one element is exact. */
static void one_element_is_exact(void **state)
{
	(void)state;
	for (int turn = 0; turn < 8; turn++) {
		struct frame f = {.nnode = 2, .nbar = 1};
		double a = turn * 0.8, way = 1;
		f.node[0] = (struct grillage_node){.hold = HOLD_ALL};
		f.node[1] = (struct grillage_node){
			.x_mm = 10 * cos(a), .y_mm = 10 * sin(a), .down_N = 200};
		f.bar[0] = usual_bar(20000, 4000);
		f.bar[0].from = turn % 2;
		f.bar[0].to = !f.bar[0].from;
		way = turn % 2 ? -1 : 1;
		frame_solve(&f);
		const struct grillage_move *tip = &f.move[1];
		near("drop", tip->drop_mm, 0.155, 1e-9);
		near("slope", cos(a) * tip->turn_y_rad - sin(a) * tip->turn_x_rad, 0.01875, 1e-9);
		near("no roll", cos(a) * tip->turn_x_rad + sin(a) * tip->turn_y_rad, 0, 1e-12);
		near("fixed end", way > 0 ? f.force[0].moment_from_Nmm : f.force[0].moment_to_Nmm,
			-2000, 1e-8);
		near("free end", way > 0 ? f.force[0].moment_to_Nmm : f.force[0].moment_from_Nmm, 0,
			1e-8);
		near("shear", f.force[0].shear_N, way * 200, 1e-9);
		near("torque", f.force[0].torque_Nmm, 0, 1e-8);
		near("reaction", f.move[0].carried_N, 200, 1e-9);
	}
}

/* A torque at the tip: T L/GJ, right-handed about the bar's axis. */
static void torque_twists_the_bar(void **state)
{
	(void)state;
	struct frame f = {.nnode = 2, .nbar = 1};
	f.node[0] = (struct grillage_node){.hold = HOLD_ALL};
	f.node[1] = (struct grillage_node){.y_mm = 10, .about_y_Nmm = 1000};
	f.bar[0] = usual_bar(20000, 4000);
	f.bar[0].to = 1;
	frame_solve(&f);
	/* 1000 N mm over 10 mm of 5 x 4 mm, G 4000: 0.045492 rad, computed from the series */
	near("twist", f.move[1].turn_y_rad, 0.045492, 1e-6);
	near("torque", f.force[0].torque_Nmm, 1000, 1e-9);
	near("hold", f.move[0].held_about_y_Nmm, -1000, 1e-9);
	near("drop", f.move[1].drop_mm, 0, 1e-15);
}

struct spring_case {
	const char *why;
	double modulus_MPa;
	size_t loaded; /* node */
	double want[3], tip_mm;
};
/* 100 N 10 mm beyond three springs of 5000 N/mm at 0, 12, 24; then spans of 15, load over the middle.
 * Bending alone; computed by frames of another script and in closed form. */
static const struct spring_case spring_cases[] = {
	{"load beyond the last spring", 20000, 3, {-7.440476, -68.452381, 175.892857}, 0.216751},
	{"titanium", 110000, 3, {-38.8128, -5.7078, 144.5205}, 0.082118},
	{"load over the middle", 20000, 1, {7.38178, 85.23645, 7.38178}, 0},
	{"the same in metal", 110000, 1, {20.33507, 59.32987, 20.33507}, 0},
};

static void straight_bar_on_three_springs(void **state)
{
	(void)state;
	for (size_t c = 0; c < sizeof spring_cases / sizeof *spring_cases; c++) {
		const struct spring_case *k = &spring_cases[c];
		struct frame f = {.nnode = k->loaded == 3 ? 4 : 3};
		double pitch = k->loaded == 3 ? 12 : 15;
		for (size_t i = 0; i < f.nnode; i++)
			f.node[i] = (struct grillage_node){.x_mm = i < 3 ? pitch * (double)i : 34,
				.spring_N_per_mm = i < 3 ? 5000 : 0};
		f.node[k->loaded].down_N = 100;
		struct grillage_bar bar = usual_bar(k->modulus_MPa, k->modulus_MPa / 5);
		bar.shear_N = 0;
		bars_in_a_row(&f, bar);
		/* on springs alone a straight bar rolls */
		code_is(frame_try(&f), BAD_SINGULAR);
		f.node[0].hold = HOLD_TURN_X;
		frame_solve(&f);
		for (size_t i = 0; i < 3; i++)
			near(k->why, f.move[i].carried_N, k->want[i], 1e-4);
		if (k->tip_mm > 0)
			near(k->why, f.move[3].drop_mm, k->tip_mm, 1e-6);
		near("the hold does nothing", f.move[0].held_about_x_Nmm, 0, 1e-9);
	}
}

/* ---- curved bars ----------------------------------------------------------------------------- */

/* S. Timoshenko's quarter circle (Strength of Materials, part I, 1955) in a verification
 * manual for a frame program: 18 straight elements give 2.64658 there. It is met with J rounded
 * to 1.57 (our reading of it: with pi/2 it is 0.0005 less). Shear factor of a circle 0.9. */
static void quarter_circle_of_eighteen_elements(void **state)
{
	(void)state;
	static struct frame f;
	const double g = 30e6 / 2.6;
	struct grillage_bar bar = {0, 0, 30e6 * pi / 4, g * 1.57, 0};
	frame_arc(&f, 18, 100, 0, pi / 2, bar);
	f.node[0].down_N = 50;
	f.node[18].hold = HOLD_ALL;
	frame_solve(&f);
	near("without shear", f.move[0].drop_mm, 2.64632, 1e-5);
	for (size_t i = 0; i < f.nbar; i++)
		f.bar[i].shear_N = 0.9 * g * pi;
	frame_solve(&f);
	near("printed", f.move[0].drop_mm, 2.64658, 1e-4);
	near("drop of the end", f.move[0].drop_mm, 2.64656, 1e-5);
	near("root", f.move[18].carried_N, 50, 1e-8);
	near("root moment", f.move[18].held_about_x_Nmm, -5000, 1e-6);
	near("root torque", f.move[18].held_about_y_Nmm, -5000, 1e-6);
}

static double quarter_drop(size_t n)
{
	static struct frame f;
	struct grillage_bar bar = usual_bar(20000, 4000);
	bar.shear_N = 0;
	frame_arc(&f, n, 20, 0, pi / 2, bar);
	f.node[0].down_N = 100;
	f.node[n].hold = HOLD_ALL;
	frame_solve(&f);
	return f.move[0].drop_mm;
}

/* A quarter circle by 6, 12 and 48 straight elements, computed by another script; and towards the
 * closed form with the square of the element's length. */
static void straight_elements_close_in_on_the_arc(void **state)
{
	(void)state;
	const struct grillage_bar bar = usual_bar(20000, 4000);
	const struct curved c = {20, bar.bend_Nmm2, bar.twist_Nmm2, 0};
	struct curved_cantilever exact;
	near("6", quarter_drop(6), 2.42509, 1e-5);
	near("12", quarter_drop(12), 2.46197, 1e-5);
	near("48", quarter_drop(48), 2.47364, 1e-5);
	code_is(curved_cantilever(&c, pi / 2, 100, &exact), FINE);
	for (size_t n = 6; n <= 192; n *= 2) {
		double order = log2(
			(exact.drop_mm - quarter_drop(n)) / (exact.drop_mm - quarter_drop(2 * n)));
		print_message("order from %zu to %zu elements: %.4f\n", n, 2 * n, order);
		near("order", order, 2, 0.2);
	}
}

/* Half circle fixed at both ends, 60 elements; computed. */
static void half_circle_of_sixty_elements(void **state)
{
	(void)state;
	static struct frame f;
	struct grillage_bar bar = usual_bar(20000, 4000);
	struct curved_semicircle exact;
	bar.shear_N = 0;
	const struct curved c = {20, bar.bend_Nmm2, bar.twist_Nmm2, 0};
	frame_arc(&f, 60, 20, 0, pi, bar);
	f.node[0].hold = f.node[60].hold = HOLD_ALL;
	f.node[30].down_N = 100;
	frame_solve(&f);
	code_is(curved_semicircle(&c, 100, &exact), FINE);
	near("drop of the crown", f.move[30].drop_mm, exact.drop_mm, 2e-4);
	near("drop of the crown", f.move[30].drop_mm, 0.419189, 1e-6);
	near("end moment", fabs(f.move[0].held_about_x_Nmm), 1000, 0.005);
	near("end torque", fabs(f.move[0].held_about_y_Nmm), 363.71, 0.005);
	near("crown", f.force[30].moment_from_Nmm, exact.crown_moment_Nmm, 0.01 * 2000);
}

/* ---- another solver -------------------------------------------------------------------------- */

/* The same grillage by the book, full matrix: element matrix in its own axes with w upward,
 * turned by T'kT, held directions struck out, solved by LAPACK's dposv. Shares no line with the
 * code under test. */
static void element_book(const struct frame *f, size_t i, double k[6][6])
{
	const struct grillage_bar *b = &f->bar[i];
	double dx = f->node[b->to].x_mm - f->node[b->from].x_mm;
	double dy = f->node[b->to].y_mm - f->node[b->from].y_mm;
	double l = hypot(dx, dy), co = dx / l, si = dy / l;
	double p = b->shear_N > 0 ? 12 * b->bend_Nmm2 / (b->shear_N * l * l) : 0;
	double m = b->bend_Nmm2 / (l * l * l * (1 + p)), t = b->twist_Nmm2 / l;
	const double own[6][6] = {
		{12 * m, 0, -6 * m * l, -12 * m, 0, -6 * m * l},
		{0, t, 0, 0, -t, 0},
		{-6 * m * l, 0, (4 + p) * m * l * l, 6 * m * l, 0, (2 - p) * m * l * l},
		{-12 * m, 0, 6 * m * l, 12 * m, 0, 6 * m * l},
		{0, -t, 0, 0, t, 0},
		{-6 * m * l, 0, (2 - p) * m * l * l, 6 * m * l, 0, (4 + p) * m * l * l},
	};
	double turn[6][6] = {{0}};
	for (int n = 0; n < 6; n += 3) {
		turn[n][n] = 1;
		turn[n + 1][n + 1] = turn[n + 2][n + 2] = co;
		turn[n + 1][n + 2] = si;
		turn[n + 2][n + 1] = -si;
	}
	for (int r = 0; r < 6; r++)
		for (int c = 0; c < 6; c++) {
			k[r][c] = 0;
			for (int u = 0; u < 6; u++)
				for (int v = 0; v < 6; v++)
					k[r][c] += turn[u][r] * own[u][v] * turn[v][c];
		}
}

enum { FULL = 3 * 66 };

/* The whole matrix with springs, nothing struck out; 3 nnode rows. */
static void matrix_book(const struct frame *f, double (*a)[FULL])
{
	for (size_t r = 0; r < 3 * f->nnode; r++)
		for (size_t c = 0; c < 3 * f->nnode; c++)
			a[r][c] = 0;
	for (size_t i = 0; i < f->nbar; i++) {
		double k[6][6];
		element_book(f, i, k);
		for (size_t r = 0; r < 6; r++)
			for (size_t c = 0; c < 6; c++)
				a[3 * (r < 3 ? f->bar[i].from : f->bar[i].to) + r % 3]
				 [3 * (c < 3 ? f->bar[i].from : f->bar[i].to) + c % 3] += k[r][c];
	}
	for (size_t i = 0; i < f->nnode; i++) {
		a[3 * i][3 * i] += f->node[i].spring_N_per_mm;
		a[3 * i + 1][3 * i + 1] += f->node[i].turn_spring_Nmm_per_rad;
		a[3 * i + 2][3 * i + 2] += f->node[i].turn_spring_Nmm_per_rad;
	}
}

/* Movements with w upward into u; 3 nnode numbers. */
static void solve_book(const struct frame *f, double *u)
{
	static double a[FULL][FULL], small[FULL * FULL], right[FULL];
	size_t at[FULL], n = 0;
	matrix_book(f, a);
	for (size_t i = 0; i < 3 * f->nnode; i++) {
		u[i] = 0;
		if (!(f->node[i / 3].hold >> i % 3 & 1))
			at[n++] = i;
	}
	for (size_t r = 0; r < n; r++) {
		const struct grillage_node *v = &f->node[at[r] / 3];
		const double load[] = {-v->down_N, v->about_x_Nmm, v->about_y_Nmm};
		right[r] = load[at[r] % 3];
		for (size_t c = 0; c < n; c++)
			small[r * n + c] = a[at[r]][at[c]];
	}
	assert_int_equal(LAPACKE_dposv(LAPACK_ROW_MAJOR, 'L', (lapack_int)n, 1, small,
				 (lapack_int)n, right, 1),
		0);
	for (size_t r = 0; r < n; r++)
		u[at[r]] = right[r];
}

static struct grillage_bar draw_bar(uint64_t *seed)
{
	struct profile s;
	struct grillage_bar bar = {0};
	double e = draw_scale(seed, 10000, 220000);
	code_is(section_rectangle(draw(seed, 3, 10), draw(seed, 2.5, 8), &s), FINE);
	grillage_bar_fill(&s, e, e / draw(seed, 2.5, 7), &bar);
	if (draw_below(seed, 4) == 0)
		bar.shear_N = 0;
	return bar;
}

static void draw_node_load(uint64_t *seed, struct grillage_node *v)
{
	v->down_N = draw(seed, -300, 300);
	if (draw_below(seed, 3) == 0) {
		v->about_x_Nmm = draw(seed, -2000, 2000);
		v->about_y_Nmm = draw(seed, -2000, 2000);
	}
}

/* A wandering arch of 6 to 64 bars with a thickness of its own in each, on 3 to 8 springs. */
static void draw_arch(uint64_t *seed, struct frame *f)
{
	size_t n = 6 + draw_below(seed, 59), springs = 3 + draw_below(seed, 6);
	double radius = draw(seed, 15, 35);
	frame_arc(f, n, radius, draw(seed, -3, 3), draw(seed, 2, 4), draw_bar(seed));
	for (size_t i = 0; i < n; i++) {
		size_t from = f->bar[i].from, to = f->bar[i].to;
		f->bar[i] = draw_bar(seed);
		f->bar[i].from = draw_below(seed, 2) ? from : to;
		f->bar[i].to = f->bar[i].from == from ? to : from;
	}
	for (size_t i = 0; i <= n; i++) {
		f->node[i].x_mm *= draw(seed, 0.98, 1.02);
		f->node[i].y_mm *= draw(seed, 0.98, 1.02);
	}
	for (size_t i = 0; i < springs; i++)
		f->node[i * n / (springs - 1)].spring_N_per_mm = draw_scale(seed, 500, 20000);
	for (size_t i = 0; i < 3; i++)
		draw_node_load(seed, &f->node[draw_below(seed, n + 1)]);
}

/* Any tree with some loops closed, nodes anywhere, held, sprung and loaded at random. */
static void draw_web(uint64_t *seed, struct frame *f)
{
	*f = (struct frame){.nnode = 3 + draw_below(seed, 20)};
	for (size_t i = 0; i < f->nnode; i++) {
		f->node[i] = (struct grillage_node){
			.x_mm = draw(seed, -30, 30), .y_mm = draw(seed, -30, 30)};
		draw_node_load(seed, &f->node[i]);
		if (draw_below(seed, 3) == 0)
			f->node[i].spring_N_per_mm = draw_scale(seed, 500, 20000);
		if (draw_below(seed, 4) == 0)
			f->node[i].hold = (unsigned)draw_below(seed, 8);
		if (draw_below(seed, 4) == 0)
			f->node[i].turn_spring_Nmm_per_rad = draw_scale(seed, 1e3, 1e6);
		if (i > 0) {
			f->bar[f->nbar] = draw_bar(seed);
			f->bar[f->nbar].from = draw_below(seed, i);
			f->bar[f->nbar++].to = i;
		}
	}
	f->node[0].hold |= HOLD_DROP | HOLD_TURN_X | HOLD_TURN_Y;
	for (size_t k = draw_below(seed, 4); k > 0; k--) {
		size_t a = draw_below(seed, f->nnode), b = draw_below(seed, f->nnode);
		if (a == b)
			continue;
		f->bar[f->nbar] = draw_bar(seed);
		f->bar[f->nbar].from = a;
		f->bar[f->nbar++].to = b;
	}
}

static void agree_with_book(const struct frame *f)
{
	double u[FULL], drop = 0, turn = 0;
	solve_book(f, u);
	for (size_t i = 0; i < f->nnode; i++) {
		drop = fmax(drop, fabs(u[3 * i]));
		turn = fmax(turn, fmax(fabs(u[3 * i + 1]), fabs(u[3 * i + 2])));
	}
	for (size_t i = 0; i < f->nnode; i++) {
		near("drop", f->move[i].drop_mm, -u[3 * i], 1e-8 * drop);
		near("turn x", f->move[i].turn_x_rad, u[3 * i + 1], 1e-8 * turn);
		near("turn y", f->move[i].turn_y_rad, u[3 * i + 2], 1e-8 * turn);
	}
}

static void arches_agree_with_lapack(void **state)
{
	(void)state;
	static struct frame f;
	uint64_t seed = 21;
	for (int round = 0; round < 60; round++) {
		draw_arch(&seed, &f);
		frame_solve(&f);
		agree_with_book(&f);
	}
}

static void webs_agree_with_lapack(void **state)
{
	(void)state;
	static struct frame f;
	uint64_t seed = 22;
	for (int round = 0; round < 400; round++) {
		draw_web(&seed, &f);
		frame_solve(&f);
		agree_with_book(&f);
	}
}

/* ---- properties ------------------------------------------------------------------------------ */

/* Forces and moments of loads and supports about the origin, from what was handed out. */
static double lack_of_balance(const struct frame *f)
{
	double down = 0, about_x = 0, about_y = 0, size = 0;
	for (size_t i = 0; i < f->nnode; i++) {
		const struct grillage_node *v = &f->node[i];
		const struct grillage_move *m = &f->move[i];
		double net = v->down_N - m->carried_N;
		down += net;
		about_x += v->about_x_Nmm + m->held_about_x_Nmm - net * v->y_mm;
		about_y += v->about_y_Nmm + m->held_about_y_Nmm + net * v->x_mm;
		size += fabs(v->down_N) + (fabs(v->about_x_Nmm) + fabs(v->about_y_Nmm)) / 30;
	}
	return fmax(fabs(down), fmax(fabs(about_x), fabs(about_y)) / 30) / size;
}

static void ten_thousand_bars_balance(void **state)
{
	(void)state;
	static struct frame f;
	uint64_t seed = 23;
	double worst = 0, worst_residual = 0;
	for (int round = 0; round < 10000; round++) {
		if (round % 2)
			draw_arch(&seed, &f);
		else
			draw_web(&seed, &f);
		frame_solve(&f);
		double lack = lack_of_balance(&f);
		near("balance", lack, 0, 1e-9);
		worst = fmax(worst, lack);
		/* webs may have nodes a hair apart, arches have not */
		if (round % 2)
			worst_residual = fmax(worst_residual, f.residual);
		for (size_t i = 0; i < f.nnode; i++)
			assert_true(isfinite(f.move[i].drop_mm + f.move[i].turn_x_rad +
					     f.move[i].turn_y_rad + f.move[i].carried_N));
		for (size_t i = 0; i < f.nbar; i++)
			assert_true(isfinite(f.force[i].shear_N + f.force[i].moment_from_Nmm +
					     f.force[i].moment_to_Nmm + f.force[i].torque_Nmm));
	}
	print_message("worst lack of balance %.2g, worst residual %.2g\n", worst, worst_residual);
	assert_true(worst_residual < 1e-8);
}

/* Nodes a hair apart leave something to balance. The residual reported is that of the forces
 * handed out, added up here as a whole and node by node. */
static void residual_is_what_the_nodes_lack(void **state)
{
	(void)state;
	static struct frame f;
	uint64_t seed = 29;
	double worst = 0;
	for (int round = 0; round < 100; round++) {
		double lack[3 * 64] = {0}, size_N = 0, size_Nmm = 0, arm = 0;
		double down = 0, about_x = 0, about_y = 0;
		draw_web(&seed, &f);
		struct grillage_node *last = &f.node[f.nnode - 1];
		const struct grillage_node *parent = &f.node[f.bar[f.nnode - 2].from];
		last->x_mm = parent->x_mm + 0.03;
		last->y_mm = parent->y_mm - 0.02;
		last->down_N = 200;
		frame_solve(&f);
		for (size_t i = 0; i < f.nnode; i++) {
			const struct grillage_node *v = &f.node[i];
			lack[3 * i] = v->down_N - f.move[i].carried_N;
			lack[3 * i + 1] = v->about_x_Nmm + f.move[i].held_about_x_Nmm;
			lack[3 * i + 2] = v->about_y_Nmm + f.move[i].held_about_y_Nmm;
			double dx = v->x_mm - f.node[0].x_mm, dy = v->y_mm - f.node[0].y_mm;
			down += lack[3 * i];
			about_x += lack[3 * i + 1] - lack[3 * i] * dy;
			about_y += lack[3 * i + 2] + lack[3 * i] * dx;
			size_N += fabs(v->down_N);
			size_Nmm += fabs(v->about_x_Nmm) + fabs(v->about_y_Nmm);
			arm = fmax(arm, fmax(fabs(dx), fabs(dy)));
		}
		for (size_t i = 0; i < f.nbar; i++) {
			const struct grillage_bar *b = &f.bar[i];
			const struct grillage_force *q = &f.force[i];
			double dx = f.node[b->to].x_mm - f.node[b->from].x_mm;
			double dy = f.node[b->to].y_mm - f.node[b->from].y_mm;
			double l = hypot(dx, dy), co = dx / l, si = dy / l;
			double *from = lack + 3 * b->from, *to = lack + 3 * b->to;
			from[0] += q->shear_N;
			from[1] += co * q->torque_Nmm + si * q->moment_from_Nmm;
			from[2] += si * q->torque_Nmm - co * q->moment_from_Nmm;
			to[0] -= q->shear_N;
			to[1] -= co * q->torque_Nmm + si * q->moment_to_Nmm;
			to[2] -= si * q->torque_Nmm - co * q->moment_to_Nmm;
		}
		double force = fabs(down), moment = fmax(fabs(about_x), fabs(about_y));
		for (size_t i = 0; i < f.nnode; i++) {
			force = fmax(force, fabs(lack[3 * i]));
			moment = fmax(moment, fmax(fabs(lack[3 * i + 1]), fabs(lack[3 * i + 2])));
		}
		double want = (force + moment / arm) / (size_N + size_Nmm / arm);
		near("residual", f.residual, want, 0.01 * want + 1e-12);
		worst = fmax(worst, want);
	}
	assert_true(worst > 1e-9); /* else there was nothing to see */
}

/* Mirrored in the y axis and numbered from the other end: drops and reactions the same, turns
 * about y turned round. */
static void mirrored_bar_gives_mirrored_answer(void **state)
{
	(void)state;
	static struct frame f, g;
	uint64_t seed = 24;
	for (int round = 0; round < 100; round++) {
		draw_arch(&seed, &f);
		g = f;
		size_t last = f.nnode - 1;
		for (size_t i = 0; i <= last; i++) {
			g.node[i] = f.node[last - i];
			g.node[i].x_mm = -g.node[i].x_mm;
			g.node[i].about_y_Nmm = -g.node[i].about_y_Nmm;
		}
		for (size_t i = 0; i < f.nbar; i++) {
			g.bar[i].from = last - f.bar[i].from;
			g.bar[i].to = last - f.bar[i].to;
		}
		frame_solve(&f);
		frame_solve(&g);
		for (size_t i = 0; i <= last; i++) {
			const struct grillage_move *a = &f.move[i], *b = &g.move[last - i];
			near("drop", a->drop_mm, b->drop_mm, 1e-9 * (1 + fabs(a->drop_mm)));
			near("carried", a->carried_N, b->carried_N, 1e-6);
			near("turn x", a->turn_x_rad, b->turn_x_rad, 1e-9);
			near("turn y", a->turn_y_rad, -b->turn_y_rad, 1e-9);
		}
		for (size_t i = 0; i < f.nbar; i++) {
			const struct grillage_force *a = &f.force[i], *b = &g.force[i];
			near("moment", a->moment_from_Nmm, b->moment_from_Nmm, 1e-4);
			near("shear", a->shear_N, b->shear_N, 1e-5);
			near("torque", a->torque_Nmm, -b->torque_Nmm, 1e-4);
		}
	}
}

static void answers_of_loads_add_up(void **state)
{
	(void)state;
	static struct frame f, a, b;
	uint64_t seed = 25;
	for (int round = 0; round < 100; round++) {
		draw_web(&seed, &f);
		a = b = f;
		for (size_t i = 0; i < f.nnode; i++) {
			struct grillage_node *v = &a.node[i], *w = &b.node[i];
			v->down_N *= 0.3;
			v->about_x_Nmm = 0;
			w->down_N -= v->down_N;
			v->about_y_Nmm *= -2;
			w->about_y_Nmm -= v->about_y_Nmm;
		}
		frame_solve(&f);
		frame_solve(&a);
		frame_solve(&b);
		for (size_t i = 0; i < f.nnode; i++) {
			near("drop", a.move[i].drop_mm + b.move[i].drop_mm, f.move[i].drop_mm,
				1e-9);
			near("carried", a.move[i].carried_N + b.move[i].carried_N,
				f.move[i].carried_N, 1e-6);
		}
		for (size_t i = 0; i < f.nbar; i++)
			near("moment", a.force[i].moment_to_Nmm + b.force[i].moment_to_Nmm,
				f.force[i].moment_to_Nmm, 1e-4);
	}
}

/* J. C. Maxwell 1864: the drop here from a load there is the drop there from a load here. */
static void drops_are_reciprocal(void **state)
{
	(void)state;
	static struct frame f;
	uint64_t seed = 26;
	for (int round = 0; round < 100; round++) {
		draw_arch(&seed, &f);
		size_t here = draw_below(&seed, f.nnode), there = draw_below(&seed, f.nnode);
		for (size_t i = 0; i < f.nnode; i++)
			f.node[i].down_N = f.node[i].about_x_Nmm = f.node[i].about_y_Nmm = 0;
		f.node[here].down_N = 100;
		frame_solve(&f);
		double first = f.move[there].drop_mm;
		f.node[here].down_N = 0;
		f.node[there].down_N = 100;
		frame_solve(&f);
		near("drop", f.move[here].drop_mm, first, 1e-10 * (1 + fabs(first)));
	}
}

/* Work put in by the loads is the energy of bars and springs: (M1^2 + M1 M2 + M2^2) L/6EI + V^2
 * L/2kGA + T^2 L/2GJ in each bar. Checks the forces inside against the movements. */
static void work_is_energy(void **state)
{
	(void)state;
	static struct frame f;
	uint64_t seed = 27;
	for (int round = 0; round < 200; round++) {
		double in = 0, kept = 0;
		draw_web(&seed, &f);
		frame_solve(&f);
		for (size_t i = 0; i < f.nnode; i++) {
			const struct grillage_node *v = &f.node[i];
			const struct grillage_move *m = &f.move[i];
			double turns =
				m->turn_x_rad * m->turn_x_rad + m->turn_y_rad * m->turn_y_rad;
			in += (v->down_N * m->drop_mm + v->about_x_Nmm * m->turn_x_rad +
				      v->about_y_Nmm * m->turn_y_rad) /
			      2;
			kept += (v->spring_N_per_mm * m->drop_mm * m->drop_mm +
					v->turn_spring_Nmm_per_rad * turns) /
				2;
		}
		for (size_t i = 0; i < f.nbar; i++) {
			const struct grillage_bar *b = &f.bar[i];
			const struct grillage_force *q = &f.force[i];
			double l = hypot(f.node[b->to].x_mm - f.node[b->from].x_mm,
				f.node[b->to].y_mm - f.node[b->from].y_mm);
			double m = q->moment_from_Nmm, n = q->moment_to_Nmm;
			near("shear", q->shear_N * l, n - m, 1e-6 * (1 + fabs(m) + fabs(n)));
			kept += (m * m + m * n + n * n) * l / (6 * b->bend_Nmm2) +
				q->torque_Nmm * q->torque_Nmm * l / (2 * b->twist_Nmm2);
			if (b->shear_N > 0)
				kept += q->shear_N * q->shear_N * l / (2 * b->shear_N);
		}
		near("energy", kept, in, 1e-8 * in);
	}
}

/* A bar that does not bend or twist is the rigid bridge of loads.h; the difference falls with
 * the stiffness. */
static void stiff_bar_is_the_rigid_bridge(void **state)
{
	(void)state;
	static const double site[5][2] = {{-17, -9}, {-8, -2}, {1, 0}, {11, -4}, {19, -14}};
	enum { TIMES = 7 };
	double lack[TIMES], rigid[5];
	struct loads_support s[5];
	const struct loads_force load = {20, -26, 150};
	for (size_t i = 0; i < 5; i++)
		s[i] = (struct loads_support){site[i][0], site[i][1], 4 + (double)i};
	code_is(loads_share(s, 5, &load, 1, rigid), FINE);
	for (int step = 0; step < TIMES; step++) {
		static struct frame f;
		f = (struct frame){.nnode = 6};
		double stiff = 1e7 * pow(10, step);
		lack[step] = 0;
		for (size_t i = 0; i < 5; i++)
			f.node[i] = (struct grillage_node){.x_mm = site[i][0],
				.y_mm = site[i][1],
				.spring_N_per_mm = s[i].stiffness_N_per_mm};
		f.node[5] = (struct grillage_node){.x_mm = 20, .y_mm = -26, .down_N = 150};
		bars_in_a_row(&f, (struct grillage_bar){0, 0, stiff, stiff, 0});
		frame_solve(&f);
		for (size_t i = 0; i < 5; i++)
			lack[step] = fmax(lack[step], fabs(f.move[i].carried_N - rigid[i]));
		assert_true(f.residual < 1e-12);
		if (step > 0)
			near("tenth", lack[step - 1] / lack[step], 10, 0.5);
	}
	near("rigid", lack[TIMES - 1], 0, 1e-6);
}

/* Springs that do not yield make it the continuous beam of beam.h. */
static void hard_springs_are_unyielding_supports(void **state)
{
	(void)state;
	uint64_t seed = 28;
	for (int round = 0; round < 50; round++) {
		static struct frame f;
		struct beam_span span[8];
		struct beam_line_answer want;
		size_t n = 1 + draw_below(&seed, 8);
		double x = 0;
		f = (struct frame){.nnode = 2 * n + 2};
		for (size_t i = 0; i < n; i++) {
			double l = draw(&seed, 6, 20);
			span[i] = (struct beam_span){l, 0, draw(&seed, -100, 200), l * 0.4};
			f.node[2 * i] = (struct grillage_node){.x_mm = x, .spring_N_per_mm = 1e11};
			f.node[2 * i + 1] = (struct grillage_node){
				.x_mm = x + 0.4 * l, .down_N = span[i].point_N};
			x += l;
		}
		f.node[2 * n] = (struct grillage_node){.x_mm = x, .spring_N_per_mm = 1e11};
		f.node[2 * n + 1] = (struct grillage_node){.x_mm = x + 9, .down_N = 70};
		f.node[0].hold = HOLD_TURN_X;
		struct grillage_bar bar = usual_bar(20000, 4000);
		bar.shear_N = 0;
		bars_in_a_row(&f, bar);
		frame_solve(&f);
		const struct beam_line line = {span, n, bar.bend_Nmm2, {0, 0}, {9, 70}};
		code_is(beam_continuous(&line, &want), FINE);
		for (size_t i = 0; i <= n; i++)
			near("carried", f.move[2 * i].carried_N, want.carried_N[i], 1e-4);
		for (size_t i = 0; i < n; i++)
			near("moment", f.force[2 * i + 1].moment_to_Nmm, want.moment_Nmm[i + 1],
				1e-3);
		near("tip", f.move[2 * n + 1].drop_mm, want.right_tip_mm, 1e-6);
	}
}

/* ---- what is refused ------------------------------------------------------------------------- */

/* A good small arch, to be spoilt. */
static void frame_good(struct frame *f)
{
	frame_arc(f, 8, 20, 0, pi, usual_bar(20000, 4000));
	f->node[0].spring_N_per_mm = f->node[4].spring_N_per_mm = 5000;
	f->node[8].spring_N_per_mm = 5000;
	f->node[2].down_N = 100;
}

static void bars_that_can_move_are_refused(void **state)
{
	(void)state;
	static struct frame f;
	for (size_t n = 8; n <= 320; n *= 2) {
		struct grillage_bar bar = usual_bar(20000, 4000);
		frame_arc(&f, n, 20, 0.3, pi, bar);
		f.node[n / 3].down_N = 100;
		f.node[n].down_N = -50;
		code_is(frame_try(&f), BAD_SINGULAR);
		f.node[0].spring_N_per_mm = 5000;
		code_is(frame_try(&f), BAD_SINGULAR);
		f.node[n].spring_N_per_mm = 5000;
		code_is(frame_try(&f), BAD_SINGULAR);
		f.node[n / 2].spring_N_per_mm = 5000;
		frame_solve(&f);
		/* three springs in line, the load on that line: still free to roll */
		for (size_t i = 0; i <= n; i++) {
			f.node[i].x_mm = 0.37 * (double)i;
			f.node[i].y_mm = 0.61 * (double)i;
		}
		code_is(frame_try(&f), BAD_SINGULAR);
		f.node[n / 4].hold = HOLD_TURN_X;
		frame_solve(&f);
	}
}

static void node_without_bar_is_refused(void **state)
{
	(void)state;
	static struct frame f;
	frame_good(&f);
	f.node[9] = (struct grillage_node){.x_mm = 50};
	f.nnode = 10;
	code_is(frame_try(&f), BAD_SINGULAR);
	f.node[9].hold = HOLD_ALL;
	frame_solve(&f);
}

static void supports_too_soft_to_be_seen_are_refused(void **state)
{
	(void)state;
	static struct frame f;
	frame_good(&f);
	f.node[0].spring_N_per_mm = f.node[4].spring_N_per_mm = f.node[8].spring_N_per_mm = 1e-12;
	code_is(frame_try(&f), BAD_SINGULAR);
	f.node[0].spring_N_per_mm = f.node[4].spring_N_per_mm = f.node[8].spring_N_per_mm = 1e-300;
	code_is(frame_try(&f), BAD_SINGULAR);
}

static void numbers_beyond_all_bounds_are_refused(void **state)
{
	(void)state;
	static struct frame f;
	frame_good(&f);
	f.node[2].down_N = 1e308;
	f.node[6].down_N = 1e308;
	assert_int_not_equal(frame_try(&f), FINE);
	frame_good(&f);
	f.bar[4].bend_Nmm2 = 1e308;
	assert_int_not_equal(frame_try(&f), FINE);
	frame_good(&f);
	for (size_t i = 0; i < f.nnode; i++)
		f.node[i].x_mm *= 1e200;
	code_is(frame_try(&f), BAD_RANGE);
}

static void wrong_numbers_are_refused(void **state)
{
	(void)state;
	static struct frame f;
	static const double wrong[] = {NAN, INFINITY, -INFINITY};
	for (int field = 0; field < 7; field++)
		for (int w = 0; w < 3; w++) {
			frame_good(&f);
			struct grillage_node *v = &f.node[3];
			double *place[] = {&v->x_mm, &v->y_mm, &v->down_N, &v->about_x_Nmm,
				&v->about_y_Nmm, &v->spring_N_per_mm, &v->turn_spring_Nmm_per_rad};
			*place[field] = wrong[w];
			code_is(frame_try(&f), BAD_RANGE);
		}
	static const double stiff[] = {NAN, -1, INFINITY, 0};
	for (int field = 0; field < 3; field++)
		for (int w = 0; w < 4; w++) {
			frame_good(&f);
			struct grillage_bar *b = &f.bar[5];
			double *place[] = {&b->bend_Nmm2, &b->twist_Nmm2, &b->shear_N};
			*place[field] = stiff[w];
			if (field == 2 && w >= 2) /* without shear, and infinitely stiff in it */
				frame_solve(&f);
			else
				code_is(frame_try(&f), BAD_RANGE);
		}
	frame_good(&f);
	f.node[4].spring_N_per_mm = -1;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.node[4].turn_spring_Nmm_per_rad = -1;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.node[4].hold = 8;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.node[4].x_mm = f.node[5].x_mm;
	f.node[4].y_mm = f.node[5].y_mm;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.bar[3].to = 9;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.bar[3].from = 9;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.bar[3].to = f.bar[3].from;
	code_is(frame_try(&f), BAD_RANGE);
	frame_good(&f);
	f.nnode = 1;
	code_is(frame_try(&f), BAD_COUNT);
	frame_good(&f);
	f.nbar = 0;
	code_is(frame_try(&f), BAD_COUNT);
	frame_good(&f);
	f.nnode = GRILLAGE_NODES + 1;
	code_is(frame_try(&f), BAD_COUNT);
}

static void failure_leaves_the_results_alone(void **state)
{
	(void)state;
	static struct frame f;
	frame_good(&f);
	frame_solve(&f);
	const struct frame before = f;
	f.node[0].spring_N_per_mm = f.node[4].spring_N_per_mm = 0;
	code_is(frame_try(&f), BAD_SINGULAR);
	assert_memory_equal(f.move, before.move, sizeof f.move);
	assert_memory_equal(f.force, before.force, sizeof f.force);
	near("residual", f.residual, before.residual, 0);
}

static void room_is_told_and_kept(void **state)
{
	(void)state;
	static struct frame f;
	const size_t room = GRILLAGE_ROW_ROOM(9), wide = GRILLAGE_ROOM(9, 8);
	frame_good(&f);
	const struct grillage g = {f.node, f.nnode, f.bar, f.nbar};
	assert_int_equal(f.nnode, 9);
	work[room] = 1234;
	code_is(grillage_solve(&g, work, room, f.move, NULL, NULL), FINE);
	near("behind the end", work[room], 1234, 0);
	code_is(grillage_solve(&g, work, room - 1, f.move, NULL, NULL), BAD_SIZE);
	f.bar[7].from = 0; /* the last node hangs on the first: the band widens */
	work[wide] = 1234;
	code_is(grillage_solve(&g, work, wide - 1, f.move, NULL, NULL), BAD_SIZE);
	code_is(grillage_solve(&g, work, wide, f.move, NULL, NULL), FINE);
	near("behind the wider end", work[wide], 1234, 0);
	f.bar[7].to = 99;
	code_is(grillage_solve(&g, work, wide, f.move, NULL, NULL), BAD_RANGE);
}

static void no_load_moves_nothing(void **state)
{
	(void)state;
	static struct frame f;
	frame_good(&f);
	f.node[2].down_N = 0;
	frame_solve(&f);
	for (size_t i = 0; i < f.nnode; i++)
		near("drop", f.move[i].drop_mm, 0, 0);
	near("residual", f.residual, 0, 0);
}

/* ---- speed ----------------------------------------------------------------------------------- */

/* The very matrix, solved by LAPACK's band Cholesky, moves the loaded end as the whole does. How long
 * the two take is a matter of tests/bench/calc.c. */
static void sixty_four_bars_agree_with_the_band_solution(void **state)
{
	(void)state;
	static struct frame f;
	static double a[FULL][FULL], band[FULL * 6], x[FULL];
	enum { N = 3 * 65 };
	frame_arc(&f, 64, 20, 0, pi, usual_bar(20000, 4000));
	for (size_t i = 8; i < 64; i += 12)
		f.node[i].spring_N_per_mm = 5000;
	f.node[64].down_N = 200;
	matrix_book(&f, a);
	for (size_t c = 0; c < N; c++)
		for (size_t d = 0; d < 6; d++)
			band[6 * c + d] = c + d < N ? a[c + d][c] : 0;
	x[N - 3] = -200;
	frame_solve(&f);
	assert_int_equal(LAPACKE_dpbsv(LAPACK_COL_MAJOR, 'L', N, 5, 1, band, 6, x, N), 0);
	near("same answer", f.move[64].drop_mm, -x[N - 3], 1e-8);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kattan_example),
		cmocka_unit_test(kattan_problem),
		cmocka_unit_test(one_element_is_exact),
		cmocka_unit_test(torque_twists_the_bar),
		cmocka_unit_test(straight_bar_on_three_springs),
		cmocka_unit_test(quarter_circle_of_eighteen_elements),
		cmocka_unit_test(straight_elements_close_in_on_the_arc),
		cmocka_unit_test(half_circle_of_sixty_elements),
		cmocka_unit_test(arches_agree_with_lapack),
		cmocka_unit_test(webs_agree_with_lapack),
		cmocka_unit_test(ten_thousand_bars_balance),
		cmocka_unit_test(residual_is_what_the_nodes_lack),
		cmocka_unit_test(mirrored_bar_gives_mirrored_answer),
		cmocka_unit_test(answers_of_loads_add_up),
		cmocka_unit_test(drops_are_reciprocal),
		cmocka_unit_test(work_is_energy),
		cmocka_unit_test(stiff_bar_is_the_rigid_bridge),
		cmocka_unit_test(hard_springs_are_unyielding_supports),
		cmocka_unit_test(bars_that_can_move_are_refused),
		cmocka_unit_test(node_without_bar_is_refused),
		cmocka_unit_test(supports_too_soft_to_be_seen_are_refused),
		cmocka_unit_test(numbers_beyond_all_bounds_are_refused),
		cmocka_unit_test(wrong_numbers_are_refused),
		cmocka_unit_test(failure_leaves_the_results_alone),
		cmocka_unit_test(room_is_told_and_kept),
		cmocka_unit_test(no_load_moves_nothing),
		cmocka_unit_test(sixty_four_bars_agree_with_the_band_solution),
	};
	return cmocka_run_group_tests_name("calc/grillage", tests, NULL, NULL);
}
