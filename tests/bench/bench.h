/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measuring two things in turn, A B A B ..., and printing the ratio of their medians: a ratio taken in
 * one run holds when the machine's speed drifts, a time alone does not. */
#ifndef BARWRIGHT_TESTS_BENCH_H
#define BARWRIGHT_TESTS_BENCH_H

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static inline double bench_now_us(void)
{
	struct timespec t;
	clock_gettime(CLOCK_MONOTONIC, &t);
	return (double)t.tv_sec * 1e6 + (double)t.tv_nsec / 1e3;
}

static int bench_order(const void *a, const void *b)
{
	double x = *(const double *)a, y = *(const double *)b;
	return (x > y) - (x < y);
}

static inline double bench_median(double *list, size_t n)
{
	qsort(list, n, sizeof *list, bench_order);
	return list[n / 2];
}

enum { BENCH_MOST = 1001 };

/* Each of `ours` and `base` does the thing once and gives the microseconds it took. */
static inline void bench_ratio(const char *name, const char *aim, size_t runs,
	double (*ours)(void *), double (*base)(void *), void *context)
{
	static double a[BENCH_MOST], b[BENCH_MOST];
	runs = runs > BENCH_MOST ? BENCH_MOST : runs;
	ours(context);
	base(context);
	for (size_t i = 0; i < runs; i++) {
		a[i] = ours(context);
		b[i] = base(context);
	}
	double x = bench_median(a, runs), y = bench_median(b, runs);
	printf("%-52s %9.1f us %9.1f us   %6.2f   %s\n", name, x, y, x / y, aim);
	fflush(stdout);
}

#endif
