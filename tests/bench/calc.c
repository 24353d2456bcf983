/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The calculation core: spread and rigid loads against the formula written straight into a loop, the
 * whole flexible bar of 64 elements against LAPACK's bare solution of a band matrix of its shape. */
#include "bench.h"

#include <lapacke.h>
#include <math.h>
#include <string.h>

#include <barwright/calc/arch.h>
#include <barwright/calc/grillage.h>
#include <barwright/calc/loads.h>

enum { CASES = 1000, NODES = 65, FREE = 3 * NODES, BAND = 6 };

static volatile double sink;

static const struct arch_site five[] = {
	{-16, -11, 2.05}, {-9, -3, 2.05}, {0, 0, 2.05}, {9, -3, 2.05}, {16, -11, 2.05}};

static double spread(void *context)
{
	struct arch_site site[5];
	struct arch_spread out;
	(void)context;
	memcpy(site, five, sizeof site);
	double start = bench_now_us();
	for (int i = 0; i < CASES; i++) {
		site[0].y_mm = -11 - i * 1e-3;
		if (arch_spread(site, 5, ARCH_DISTAL_SURFACE, &out))
			exit(1);
		sink = out.spread_mm;
	}
	return bench_now_us() - start;
}

/* One microsecond a case is what is asked for. */
static double a_microsecond_each(void *context)
{
	(void)context;
	return CASES;
}

static double rigid(void *context)
{
	struct loads_support s[5];
	struct loads_force load = {16, -25.05, 200};
	double carried[5];
	(void)context;
	for (int k = 0; k < 5; k++)
		s[k] = (struct loads_support){five[k].x_mm, five[k].y_mm, 1};
	double start = bench_now_us();
	for (int i = 0; i < CASES; i++) {
		load.y_mm = -25 - i * 1e-3;
		if (loads_share(s, 5, &load, 1, carried))
			exit(1);
		sink = carried[2];
	}
	return bench_now_us() - start;
}

static double flexible(void *context)
{
	static struct grillage_node node[NODES];
	static struct grillage_bar bar[NODES - 1];
	static struct grillage_move move[NODES];
	static struct grillage_force force[NODES - 1];
	static double work[GRILLAGE_ROW_ROOM(NODES)];
	double residual;
	(void)context;
	for (int k = 0; k < NODES; k++)
		node[k] = (struct grillage_node){.x_mm = 20 * cos(k * 3.14159 / 64),
			.y_mm = 20 * sin(k * 3.14159 / 64),
			.spring_N_per_mm = k % 12 == 8 ? 5000 : 0,
			.down_N = k == 64 ? 200 : 0};
	for (size_t k = 0; k + 1 < NODES; k++)
		bar[k] = (struct grillage_bar){k, k + 1, 533333, 219817, 66666};
	struct grillage g = {node, NODES, bar, NODES - 1};
	double start = bench_now_us();
	if (grillage_solve(&g, work, GRILLAGE_ROW_ROOM(NODES), move, force, &residual))
		exit(1);
	sink = move[64].drop_mm;
	return bench_now_us() - start;
}

static double bare(void *context)
{
	static double band[FREE * BAND], x[FREE];
	(void)context;
	for (int c = 0; c < FREE; c++) {
		for (int d = 0; d < BAND; d++)
			band[BAND * c + d] = d ? 1.0 / (d + 2) : 4;
		x[c] = 1;
	}
	double start = bench_now_us();
	if (LAPACKE_dpbsv(LAPACK_COL_MAJOR, 'L', FREE, BAND - 1, 1, band, BAND, x, FREE))
		exit(1);
	sink = x[0];
	return bench_now_us() - start;
}

int main(void)
{
	bench_ratio("1000 spreads of five sites / a microsecond each", "aim 1", 301, spread,
		a_microsecond_each, NULL);
	bench_ratio("1000 rigid load shares / a microsecond each", "aim 1", 301, rigid,
		a_microsecond_each, NULL);
	bench_ratio("flexible bar, 64 elements / LAPACK's band solve", "aim 10", 501, flexible,
		bare, NULL);
	return 0;
}
