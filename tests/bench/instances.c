/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fair instances of an ordinary problem (six readings, two asks, seven slips), against the same problem
 * written by hand in C with the same stream of random words; and checking the whole course with
 * thousands of draws, against only loading it. */
#include "bench.h"

#include <math.h>
#include <string.h>

#include <barwright/item/instance.h>
#include <barwright/item/sample.h>

#include "course/load.h"

enum { INSTANCES = 2000 };

static struct course course;
static struct instance *instance;

static double ours(void *context)
{
	struct stream s;
	(void)context;
	stream_open(&s, &(struct draw_key){"bench", "one-site", "", "", 1});
	double start = bench_now_us();
	for (int n = 0; n < INSTANCES; n++)
		if (instance_draw(instance, &s))
			exit(1);
	return bench_now_us() - start;
}

/* ---- by hand --------------------------------------------------------------------------------- */

struct site {
	double matrix, tissue, clearance, opaque, resin, tooth;
};

static double on_grid(struct stream *s, int from, int step, uint32_t n)
{
	return (from + step * (int)stream_below(s, n)) / 100.0;
}

static struct site draw(struct stream *s)
{
	struct site x;
	x.matrix = on_grid(s, 1250, 5, 111);
	x.tissue = on_grid(s, 100, 5, 41);
	x.clearance = on_grid(s, 100, 25, 5);
	x.opaque = stream_below(s, 2) ? 0.3 : 0.2;
	x.resin = on_grid(s, 150, 25, 5);
	x.tooth = on_grid(s, 400, 5, 51);
	return x;
}

static double left(const struct site *x)
{
	return x->matrix - (x->tissue + x->clearance) - x->opaque - x->resin - x->tooth;
}

static double half_range(const struct site *x, double *reading)
{
	double kept = *reading;
	*reading = kept + 0.025;
	double high = left(x);
	*reading = kept - 0.025;
	double low = left(x);
	*reading = kept;
	return (high - low) / 2;
}

static int is_apart(double answer, const double *slip, int n, double tolerance)
{
	for (int k = 0; k < n; k++) {
		if (fabs(slip[k] - answer) < 2 * tolerance)
			return 0;
		for (int j = 0; j < k; j++)
			if (fabs(slip[k] - slip[j]) < 2 * tolerance)
				return 0;
	}
	return 1;
}

static int is_fair(struct site *x)
{
	double under = x->tissue + x->clearance, answer = left(x);
	if (answer < 1 || answer > 7)
		return 0;
	double first[] = {x->clearance, x->tissue, x->tissue - x->clearance};
	if (!is_apart(under, first, 3, 0.025 + 0.005))
		return 0;
	double a = half_range(x, &x->matrix), b = half_range(x, &x->tissue),
	       c = half_range(x, &x->tooth);
	double second[] = {answer + under, answer + x->tissue, answer + x->opaque + x->resin,
		answer + x->tooth};
	return is_apart(answer, second, 4, sqrt(a * a + b * b + c * c) + 0.005);
}

static double base(void *context)
{
	struct stream s;
	(void)context;
	stream_open(&s, &(struct draw_key){"bench", "one-site", "", "", 1});
	double start = bench_now_us();
	for (int n = 0; n < INSTANCES;) {
		struct site x = draw(&s);
		n += is_fair(&x);
	}
	return bench_now_us() - start;
}

/* ---- the whole course ------------------------------------------------------------------------ */

static double load_only(void *context)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct course c;
	double start = bench_now_us();
	if (course_load(context, &c, &d))
		exit(1);
	course_release(&c);
	arena_release(&a);
	return bench_now_us() - start;
}

static double load_and_try(void *context)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct course c;
	double start = bench_now_us();
	if (course_load(context, &c, &d))
		exit(1);
	for (size_t k = 0; k < c.nproblem; k++)
		if (sample_check(NULL, c.by_code[k], &d))
			exit(1);
	course_release(&c);
	arena_release(&a);
	return bench_now_us() - start;
}

int main(void)
{
	char folder[] = "courses/hand-made-bar";
	struct arena a = {0};
	struct diags d = {.arena = &a};
	if (course_load(folder, &course, &d) || !course_problem(&course, "one-site") ||
		instance_new(&a, course_problem(&course, "one-site"), &instance))
		return 1;
	bench_ratio("2000 fair instances / the problem by hand in C", "aim: ours under 20000 us",
		31, ours, base, NULL);
	bench_ratio("course checked with its draws / only loaded", "aim: ours under 2000000 us", 5,
		load_and_try, load_only, folder);
	arena_release(&a);
	course_release(&course);
	return 0;
}
