/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Functions of plain mathematics and of lists. */
#include "formula/trade.h"

#include <math.h>
#include <string.h>

/* Steps and whole numbers are found to within this share of a step, as people count decimals:
 * 3.25 mm is two and a half steps of 1.3 mm although no machine fraction is. */
#define STEP_SLACK 1e-9

static enum bad empty_list(struct call *c)
{
	return refuse(c, BAD_COUNT, "is given an empty list");
}

/* ---- numbers -------------------------------------------------------------------------------- */

static enum bad run_abs(struct call *c)
{
	return give(c, fabs(c->number[0]));
}

static enum bad run_sqrt(struct call *c)
{
	if (c->number[0] < 0)
		return refuse(c, BAD_RANGE, "takes the root of a negative number");
	return give(c, sqrt(c->number[0]));
}

static double steps_down(double x)
{
	return floor(x + STEP_SLACK);
}

static double steps_up(double x)
{
	return ceil(x - STEP_SLACK);
}

/* Halves go away from 0, as a person rounds. */
static double steps_near(double x)
{
	return x < 0 ? -floor(-x + 0.5 + STEP_SLACK) : floor(x + 0.5 + STEP_SLACK);
}

/* n steps as the nearest double: 7 steps of 0.1 are 7/10, not 7 * 0.1. */
static double steps_value(double n, double step)
{
	double parts = 1 / step, whole = floor(parts + 0.5);
	if (step < 1 && fabs(parts - whole) < STEP_SLACK * whole)
		return n / whole;
	return n * step;
}

static enum bad round_by(struct call *c, double (*steps)(double))
{
	double step = c->n > 1 ? c->number[1] : 1;
	if (!(step > 0))
		return refuse(c, BAD_RANGE, "is given a step that is not above 0");
	double n = steps(c->number[0] / step);
	return give(c, steps_value(n, step));
}

static enum bad run_round(struct call *c)
{
	return round_by(c, steps_near);
}

static enum bad run_round_down(struct call *c)
{
	return round_by(c, steps_down);
}

static enum bad run_round_up(struct call *c)
{
	return round_by(c, steps_up);
}

/* The machine does these by itself; here for constants and lists. */
static enum bad run_extreme_number(struct call *c, double sign)
{
	double best = c->number[0];
	for (size_t i = 1; i < c->n; i++)
		if (sign * c->number[i] < sign * best)
			best = c->number[i];
	return give(c, best);
}

static enum bad run_least(struct call *c)
{
	return run_extreme_number(c, 1);
}

static enum bad run_most(struct call *c)
{
	return run_extreme_number(c, -1);
}

static enum bad run_hypot(struct call *c)
{
	double a = fabs(c->number[0]), b = fabs(c->number[1]);
	double most = a > b ? a : b, ratio = most > 0 ? (a > b ? b : a) / most : 0;
	return give(c, most * sqrt(1 + ratio * ratio));
}

static enum bad run_exp(struct call *c)
{
	return give(c, exp(c->number[0]));
}

static enum bad logarithm(struct call *c, double (*log_of)(double))
{
	if (!(c->number[0] > 0))
		return refuse(c, BAD_RANGE, "takes the logarithm of a number not above 0");
	return give(c, log_of(c->number[0]));
}

static enum bad run_ln(struct call *c)
{
	return logarithm(c, log);
}

static enum bad run_log10(struct call *c)
{
	return logarithm(c, log10);
}

/* ---- angles --------------------------------------------------------------------------------- */

static enum bad run_sin(struct call *c)
{
	return give(c, sin(c->number[0]));
}

static enum bad run_cos(struct call *c)
{
	return give(c, cos(c->number[0]));
}

static enum bad run_tan(struct call *c)
{
	if (fabs(cos(c->number[0])) < 1e-12)
		return refuse(c, BAD_RANGE, "takes the tangent of a right angle");
	return give(c, tan(c->number[0]));
}

static enum bad arc(struct call *c, double (*arc_of)(double))
{
	double x = c->number[0];
	if (fabs(x) > 1 + STEP_SLACK)
		return refuse(c, BAD_RANGE, "is given a ratio beyond 1");
	return give(c, arc_of(x > 1 ? 1 : x < -1 ? -1 : x));
}

static enum bad run_asin(struct call *c)
{
	return arc(c, asin);
}

static enum bad run_acos(struct call *c)
{
	return arc(c, acos);
}

static enum bad run_atan(struct call *c)
{
	return give(c, atan(c->number[0]));
}

static enum bad run_atan2(struct call *c)
{
	if (c->number[0] == 0 && c->number[1] == 0)
		return refuse(c, BAD_RANGE, "has no direction from a place to itself");
	return give(c, atan2(c->number[0], c->number[1]));
}

static enum bad run_same(struct call *c)
{
	return give(c, c->number[0]);
}

/* ---- nothing -------------------------------------------------------------------------------- */

static enum bad run_is_nothing(struct call *c)
{
	return give(c, isnan(c->number[0]));
}

static enum bad run_or_else(struct call *c)
{
	return give(c, isnan(c->number[0]) ? c->number[1] : c->number[0]);
}

/* ---- lists ---------------------------------------------------------------------------------- */

static enum bad run_count(struct call *c)
{
	return give(c, (double)c->list[0].n);
}

static enum bad run_sum(struct call *c)
{
	double sum = 0;
	for (size_t i = 0; i < c->list[0].n; i++)
		sum += c->list[0].at[i];
	return give(c, sum);
}

static enum bad run_product(struct call *c)
{
	double made = 1;
	for (size_t i = 0; i < c->list[0].n; i++)
		made *= c->list[0].at[i];
	return give(c, made);
}

static enum bad run_mean(struct call *c)
{
	if (!c->list[0].n)
		return empty_list(c);
	run_sum(c);
	return give(c, c->out[0] / (double)c->list[0].n);
}

/* The place of the least (sign 1) or greatest (sign -1); the first of equal ones. */
static size_t place_of(const struct formula_span *s, double sign)
{
	size_t best = 0;
	for (size_t i = 1; i < s->n; i++)
		if (sign * s->at[i] < sign * s->at[best])
			best = i;
	return best;
}

static enum bad run_extreme(struct call *c, double sign)
{
	const struct formula_span *s = &c->list[0];
	return s->n ? give(c, s->at[place_of(s, sign)]) : empty_list(c);
}

static enum bad run_min(struct call *c)
{
	return run_extreme(c, 1);
}

static enum bad run_max(struct call *c)
{
	return run_extreme(c, -1);
}

static enum bad run_place(struct call *c, double sign)
{
	return c->list[0].n ? give(c, 1 + (double)place_of(&c->list[0], sign)) : empty_list(c);
}

static enum bad run_index_of_min(struct call *c)
{
	return run_place(c, 1);
}

static enum bad run_index_of_max(struct call *c)
{
	return run_place(c, -1);
}

static enum bad run_range(struct call *c)
{
	const struct formula_span *s = &c->list[0];
	return s->n ? give(c, s->at[place_of(s, -1)] - s->at[place_of(s, 1)]) : empty_list(c);
}

/* Sorted by insertion: lists are short. */
static void sort(const struct formula_span *s, double *out)
{
	for (size_t i = 0; i < s->n; i++) {
		double x = s->at[i];
		size_t k = i;
		for (; k > 0 && out[k - 1] > x; k--)
			out[k] = out[k - 1];
		out[k] = x;
	}
}

static enum bad run_sorted(struct call *c)
{
	sort(&c->list[0], c->out);
	c->nout = c->list[0].n;
	return FINE;
}

static enum bad run_median(struct call *c)
{
	double sorted[FORMULA_LENGTH];
	size_t n = c->list[0].n;
	if (!n)
		return empty_list(c);
	sort(&c->list[0], sorted);
	return give(c, n % 2 ? sorted[n / 2] : (sorted[n / 2 - 1] + sorted[n / 2]) / 2);
}

static enum bad run_standard_deviation(struct call *c)
{
	const struct formula_span *s = &c->list[0];
	if (s->n < 2)
		return refuse(c, BAD_COUNT, "needs at least two values");
	double mean = 0, squares = 0;
	for (size_t i = 0; i < s->n; i++)
		mean += s->at[i];
	mean /= (double)s->n;
	for (size_t i = 0; i < s->n; i++)
		squares += (s->at[i] - mean) * (s->at[i] - mean);
	return give(c, sqrt(squares / (double)(s->n - 1)));
}

/* A place in a list, counted from 1: its number from 0 in *at. */
static enum bad find_place(struct call *c, double place, size_t *at)
{
	double whole = floor(place + 0.5);
	if (fabs(place - whole) > STEP_SLACK)
		return refuse(c, BAD_RANGE, "is given a place that is no whole number");
	if (whole < 1 || whole > (double)c->list[0].n)
		return refuse(c, BAD_RANGE, "is given a place that the list does not have");
	*at = (size_t)whole - 1;
	return FINE;
}

static enum bad run_at(struct call *c)
{
	size_t at;
	if (isnan(c->number[0]))
		return give(c, c->number[0]);
	enum bad code = find_place(c, c->number[0], &at);
	return code ? code : give(c, c->list[0].at[at]);
}

static enum bad run_first(struct call *c)
{
	return c->list[0].n ? give(c, c->list[0].at[0]) : empty_list(c);
}

static enum bad run_last(struct call *c)
{
	return c->list[0].n ? give(c, c->list[0].at[c->list[0].n - 1]) : empty_list(c);
}

static enum bad run_without(struct call *c)
{
	size_t at;
	enum bad code = find_place(c, c->number[0], &at);
	if (code)
		return code;
	for (size_t i = 0; i < c->list[0].n; i++)
		if (i != at)
			c->out[c->nout++] = c->list[0].at[i];
	return FINE;
}

static enum bad run_reversed(struct call *c)
{
	size_t n = c->list[0].n;
	for (size_t i = 0; i < n; i++)
		c->out[i] = c->list[0].at[n - 1 - i];
	c->nout = n;
	return FINE;
}

/* Margin within which two sizes count as equal: a share of the larger. */
static double margin(double a, double b)
{
	return STEP_SLACK * (fabs(a) > fabs(b) ? fabs(a) : fabs(b));
}

static bool is_up_to(double x, double limit)
{
	return x <= limit + margin(x, limit);
}

static enum bad run_largest_up_to(struct call *c)
{
	double best = NAN;
	for (size_t i = 0; i < c->list[0].n; i++)
		if (is_up_to(c->list[0].at[i], c->number[0]) && !(c->list[0].at[i] <= best))
			best = c->list[0].at[i];
	return give(c, best);
}

static enum bad run_smallest_from(struct call *c)
{
	double best = NAN;
	for (size_t i = 0; i < c->list[0].n; i++)
		if (is_up_to(c->number[0], c->list[0].at[i]) && !(c->list[0].at[i] >= best))
			best = c->list[0].at[i];
	return give(c, best);
}

static enum bad run_nearest_of(struct call *c)
{
	const struct formula_span *s = &c->list[0];
	if (!s->n)
		return empty_list(c);
	double best = s->at[0], x = c->number[0];
	for (size_t i = 1; i < s->n; i++)
		if (fabs(s->at[i] - x) < fabs(best - x))
			best = s->at[i];
	return give(c, best);
}

static enum bad run_how_many_up_to(struct call *c)
{
	size_t n = 0;
	for (size_t i = 0; i < c->list[0].n; i++)
		n += is_up_to(c->list[0].at[i], c->number[0]);
	return give(c, (double)n);
}

static enum bad run_how_many_from(struct call *c)
{
	size_t n = 0;
	for (size_t i = 0; i < c->list[0].n; i++)
		n += is_up_to(c->number[0], c->list[0].at[i]);
	return give(c, (double)n);
}

static enum bad run_how_many_below(struct call *c)
{
	run_how_many_from(c);
	return give(c, (double)c->list[0].n - c->out[0]);
}

static enum bad run_how_many_above(struct call *c)
{
	run_how_many_up_to(c);
	return give(c, (double)c->list[0].n - c->out[0]);
}

static enum bad run_index_of(struct call *c)
{
	for (size_t i = 0; i < c->list[0].n; i++)
		if (is_up_to(c->list[0].at[i], c->number[0]) &&
			is_up_to(c->number[0], c->list[0].at[i]))
			return give(c, 1 + (double)i);
	return give(c, NAN);
}

static enum bad run_weighted_mean(struct call *c)
{
	const struct formula_span *v = &c->list[0], *w = &c->list[1];
	double sum = 0, weights = 0;
	if (v->n != w->n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < v->n; i++) {
		sum += v->at[i] * w->at[i];
		weights += w->at[i];
	}
	if (weights == 0)
		return refuse(c, BAD_RANGE, "is given weights whose sum is 0");
	return give(c, sum / weights);
}

static enum bad run_sum_of_products(struct call *c)
{
	const struct formula_span *a = &c->list[0], *b = &c->list[1];
	double sum = 0;
	if (a->n != b->n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < a->n; i++)
		sum += a->at[i] * b->at[i];
	return give(c, sum);
}

/* ---- the table ------------------------------------------------------------------------------ */

const struct function function_plain[] = {
	/* Numbers */
	ROW_("min", GIVES_A_, run_min, "the least value of a list", NULL, LA_("list")),
	{.name = "min",
		.parameter = {NA_("a"), NA_("b")},
		.gives = GIVES_A_,
		.run = run_least,
		.more = true,
		.op = OP_LEAST,
		.does = "the least of some numbers; of two, one may be a list, or both: value by "
			"value"},
	ROW_("max", GIVES_A_, run_max, "the greatest value of a list", NULL, LA_("list")),
	{.name = "max",
		.parameter = {NA_("a"), NA_("b")},
		.gives = GIVES_A_,
		.run = run_most,
		.more = true,
		.op = OP_MOST,
		.does = "the greatest of some numbers; of two, one may be a list, or both: value "
			"by value"},
	ROW_("abs", GIVES_A_, run_abs, "the size of x without its sign", NULL, NA_("x")),
	ROW_("sqrt", GIVES_AB_(1, 0), run_sqrt, "the square root of x, which must not be negative",
		NULL, NA_("x")),
	ROW_("round", GIVES_(NUMBER_), run_round, "the nearest whole number, halves away from 0",
		NULL, N_("x", NUMBER_)),
	ROW_("round", GIVES_A_, run_round, "the nearest multiple of step, halves away from 0", NULL,
		NA_("x"), NA_("step")),
	ROW_("floor", GIVES_(NUMBER_), run_round_down, "the whole number at or below x", NULL,
		N_("x", NUMBER_)),
	ROW_("ceiling", GIVES_(NUMBER_), run_round_up, "the whole number at or above x", NULL,
		N_("x", NUMBER_)),
	ROW_("round_down", GIVES_A_, run_round_down, "the multiple of step at or below x", NULL,
		NA_("x"), NA_("step")),
	ROW_("round_up", GIVES_A_, run_round_up, "the multiple of step at or above x", NULL,
		NA_("x"), NA_("step")),
	ROW_("hypot", GIVES_A_, run_hypot, "the long side of a right triangle, sqrt(a^2 + b^2)",
		NULL, NA_("a"), NA_("b")),
	ROW_("exp", GIVES_(NUMBER_), run_exp, "e to the power x", NULL, N_("x", NUMBER_)),
	ROW_("ln", GIVES_(NUMBER_), run_ln, "the natural logarithm", NULL, N_("x", NUMBER_)),
	ROW_("log10", GIVES_(NUMBER_), run_log10, "the logarithm to base 10", NULL,
		N_("x", NUMBER_)),
	/* Angles */
	ROW_("sin", GIVES_(NUMBER_), run_sin, "the sine of an angle", NULL, N_("angle", ANGLE_)),
	ROW_("cos", GIVES_(NUMBER_), run_cos, "the cosine of an angle", NULL, N_("angle", ANGLE_)),
	ROW_("tan", GIVES_(NUMBER_), run_tan, "the tangent of an angle", NULL, N_("angle", ANGLE_)),
	ROW_("asin", GIVES_(ANGLE_), run_asin, "the angle from -90 to 90 deg with this sine", NULL,
		N_("ratio", NUMBER_)),
	ROW_("acos", GIVES_(ANGLE_), run_acos, "the angle from 0 to 180 deg with this cosine", NULL,
		N_("ratio", NUMBER_)),
	ROW_("atan", GIVES_(ANGLE_), run_atan, "the angle from -90 to 90 deg with this tangent",
		NULL, N_("ratio", NUMBER_)),
	ROW_("atan2", GIVES_(ANGLE_), run_atan2,
		"the angle from the x axis to the place (x, y), -180 to 180 deg", NULL, NA_("y"),
		NA_("x")),
	ROW_("radians", GIVES_(NUMBER_), run_same,
		"an angle as a plain number, an arc over its radius", NULL, N_("angle", ANGLE_)),
	ROW_("from_radians", GIVES_(ANGLE_), run_same,
		"a plain number, an arc over its radius, as an angle", NULL, N_("x", NUMBER_)),
	/* Nothing */
	{.name = "is_nothing",
		.parameter = {NA_("x")},
		.gives = GIVES_TRUTH_,
		.run = run_is_nothing,
		.looks = true,
		.refers = REFERS_NEVER,
		.does = "true when x is nothing: nothing fits, refer back"},
	{.name = "or_else",
		.parameter = {NA_("x"), NA_("other")},
		.gives = GIVES_A_,
		.run = run_or_else,
		.looks = true,
		.refers = REFERS_WHEN_LAST,
		.does = "x, or the other when x is nothing"},
	/* Lists */
	{.name = "count",
		.parameter = {LA_("list")},
		.gives = GIVES_(NUMBER_),
		.run = run_count,
		.looks = true,
		.refers = REFERS_NEVER,
		.does = "how many values a list has"},
	ROW_("sum", GIVES_A_, run_sum, "all values of a list added", NULL, LA_("list")),
	ROW_("product", GIVES_(NUMBER_), run_product,
		"all values of a list of plain numbers multiplied", NULL, L_("list", NUMBER_)),
	ROW_("mean", GIVES_A_, run_mean, "the arithmetic mean of a list", NULL, LA_("list")),
	ROW_("median", GIVES_A_, run_median,
		"the middle value of a list, or the mean of the middle two", NULL, LA_("list")),
	ROW_("range", GIVES_A_, run_range, "the greatest less the least value of a list", NULL,
		LA_("list")),
	ROW_("standard_deviation", GIVES_A_, run_standard_deviation,
		"the standard deviation of repeated readings, with n - 1", "JCGM 100:2008, 4.2.2",
		LA_("list")),
	ROW_("weighted_mean", GIVES_A_, run_weighted_mean,
		"the mean of a list with a weight for each value", NULL, LA_("list"),
		LB_("weights")),
	ROW_("sum_of_products", GIVES_AB_(2, 2), run_sum_of_products,
		"each value times its factor, added", NULL, LA_("list"), LB_("factors")),
	{.name = "first",
		.parameter = {LA_("list")},
		.gives = GIVES_A_,
		.run = run_first,
		.looks = true,
		.does = "the first value of a list"},
	{.name = "last",
		.parameter = {LA_("list")},
		.gives = GIVES_A_,
		.run = run_last,
		.looks = true,
		.does = "the last value of a list"},
	{.name = "at",
		.parameter = {LA_("list"), N_("place", NUMBER_)},
		.gives = GIVES_A_,
		.run = run_at,
		.looks = true,
		.does = "the value at a place of a list; the first is 1"},
	ROW_("without", GIVES_LIST_A_, run_without,
		"a list without the value at a place; the first is 1", NULL, LA_("list"),
		N_("place", NUMBER_)),
	ROW_("sorted", GIVES_LIST_A_, run_sorted, "a list in rising order", NULL, LA_("list")),
	ROW_("reversed", GIVES_LIST_A_, run_reversed, "a list from its end to its beginning", NULL,
		LA_("list")),
	ROW_("index_of_min", GIVES_(NUMBER_), run_index_of_min,
		"the place of the least value, the first of equal ones", NULL, LA_("list")),
	ROW_("index_of_max", GIVES_(NUMBER_), run_index_of_max,
		"the place of the greatest value, the first of equal ones", NULL, LA_("list")),
	ROW_REFERS_("index_of", GIVES_(NUMBER_), run_index_of,
		"the place of x in a list; nothing when it is not there", NULL, LA_("list"),
		NA_("x")),
	ROW_REFERS_("largest_up_to", GIVES_A_, run_largest_up_to,
		"the largest value of a list that is not above the limit; nothing when there is "
		"none",
		NULL, LA_("list"), NA_("limit")),
	ROW_REFERS_("smallest_from", GIVES_A_, run_smallest_from,
		"the smallest value of a list that is not below the limit; nothing when there is "
		"none",
		NULL, LA_("list"), NA_("limit")),
	ROW_("nearest_of", GIVES_A_, run_nearest_of,
		"the value of a list nearest to x, the first of equally near ones", NULL,
		LA_("list"), NA_("x")),
	ROW_("how_many_below", GIVES_(NUMBER_), run_how_many_below,
		"how many values of a list are below the limit", NULL, LA_("list"), NA_("limit")),
	ROW_("how_many_up_to", GIVES_(NUMBER_), run_how_many_up_to,
		"how many values of a list are not above the limit", NULL, LA_("list"),
		NA_("limit")),
	ROW_("how_many_from", GIVES_(NUMBER_), run_how_many_from,
		"how many values of a list are not below the limit", NULL, LA_("list"),
		NA_("limit")),
	ROW_("how_many_above", GIVES_(NUMBER_), run_how_many_above,
		"how many values of a list are above the limit", NULL, LA_("list"), NA_("limit")),
};
const size_t function_plain_rows = sizeof function_plain / sizeof *function_plain;
