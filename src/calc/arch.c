/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/arch.h>

#include <math.h>

#include "calc/arch_parts.h"
#include "calc/numbers.h"

#define TIE_mm 1e-9 /* below any reading: only the rounding of coordinates */

/* ---- A-P spread ------------------------------------------------------------------------------ */

/* The line to measure from: `nx, ny` is its unit normal towards the front, `at` what is added to the
 * distance from P along it. For centres that is the line PQ itself (at 0); for distal surfaces the
 * outer common tangent, which PQ turned by asin((rq - rp)/L) gives. */
struct posterior {
	double px, py;
	double nx, ny, at;
	double vx, vy; /* unit normal of PQ, to the left of P -> Q: towards the front */
};

static enum bad posterior_init(struct posterior *l, const struct arch_site *p,
	const struct arch_site *q, enum arch_rule rule)
{
	double dx = q->x_mm - p->x_mm, dy = q->y_mm - p->y_mm;
	double length = hypot(dx, dy), sine = 0;

	if (rule == ARCH_DISTAL_SURFACE)
		sine = (q->radius_mm - p->radius_mm) / length;
	if (!(length > TIE_mm) || fabs(sine) >= 1)
		return BAD_SINGULAR;
	double ux = dx / length, uy = dy / length, cosine = sqrt(1 - sine * sine);
	*l = (struct posterior){p->x_mm, p->y_mm, .vx = -uy, .vy = ux};
	l->nx = sine * ux + cosine * l->vx;
	l->ny = sine * uy + cosine * l->vy;
	l->at = rule == ARCH_DISTAL_SURFACE ? p->radius_mm : 0;
	return FINE;
}

static double posterior_distance(const struct posterior *l, double x, double y)
{
	return l->nx * (x - l->px) + l->ny * (y - l->py) + l->at;
}

/* Signed distance before the line through the centres. */
static double posterior_front(const struct posterior *l, double x, double y)
{
	return l->vx * (x - l->px) + l->vy * (y - l->py);
}

enum bad arch_spread(
	const struct arch_site *site, size_t n, enum arch_rule rule, struct arch_spread *out)
{
	struct posterior line;
	double best = -INFINITY, next = -INFINITY, front = -INFINITY;
	size_t i_best = 0, i_next = 0;

	if (n < 3 || n > ARCH_SITES)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++)
		if (!arch_site_is_sound(&site[i]))
			return BAD_RANGE;
	enum bad code = posterior_init(&line, &site[0], &site[n - 1], rule);
	if (code)
		return code;
	for (size_t i = 1; i + 1 < n; i++) {
		double before = posterior_front(&line, site[i].x_mm, site[i].y_mm);
		double d = posterior_distance(&line, site[i].x_mm, site[i].y_mm);

		if (before < -TIE_mm || d < -TIE_mm)
			return BAD_ORDER;
		front = fmax(front, before);
		if (d > best + TIE_mm) {
			next = best, i_next = i_best;
			best = d, i_best = i;
		} else if (d > next + TIE_mm) {
			next = d, i_next = i;
		}
	}
	if (front <= TIE_mm)
		return BAD_SINGULAR;
	if (n % 2) {
		*out = (struct arch_spread){best, best, best, best, i_best, i_best};
		return FINE;
	}
	bool in_order = i_best < i_next;
	*out = (struct arch_spread){
		.spread_mm = (best + next) / 2,
		.first_mm = in_order ? best : next,
		.second_mm = in_order ? next : best,
		.largest_mm = best,
		.first = in_order ? i_best : i_next,
		.second = in_order ? i_next : i_best,
	};
	return FINE;
}

/* Front is where A is: P and Q change places when A stands behind the line from P to Q. */
static enum bad spread_three(double ax, double ay, struct arch_site p, struct arch_site q,
	enum arch_rule rule, double *spread_mm)
{
	struct posterior line;

	struct arch_site a = {ax, ay, 0};
	if (!arch_site_is_sound(&a) || !arch_site_is_sound(&p) || !arch_site_is_sound(&q))
		return BAD_RANGE;
	enum bad code = posterior_init(&line, &p, &q, rule);
	if (code)
		return code;
	double front = posterior_front(&line, ax, ay);
	if (fabs(front) <= TIE_mm)
		return BAD_SINGULAR;
	if (front < 0)
		posterior_init(&line, &q, &p, rule);
	double spread = posterior_distance(&line, ax, ay);
	if (spread <= 0)
		return BAD_ORDER;
	return result_give(spread, spread_mm);
}

enum bad arch_spread_distal(double a_x_mm, double a_y_mm, double p_x_mm, double p_y_mm,
	double p_radius_mm, double q_x_mm, double q_y_mm, double q_radius_mm, double *spread_mm)
{
	struct arch_site p = {p_x_mm, p_y_mm, p_radius_mm}, q = {q_x_mm, q_y_mm, q_radius_mm};

	return spread_three(a_x_mm, a_y_mm, p, q, ARCH_DISTAL_SURFACE, spread_mm);
}

enum bad arch_spread_centres(double a_x_mm, double a_y_mm, double p_x_mm, double p_y_mm,
	double q_x_mm, double q_y_mm, double *spread_mm)
{
	struct arch_site p = {p_x_mm, p_y_mm, 0}, q = {q_x_mm, q_y_mm, 0};

	return spread_three(a_x_mm, a_y_mm, p, q, ARCH_CENTRES, spread_mm);
}

/* ---- cantilever ------------------------------------------------------------------------------ */

enum bad arch_cantilever_limit(double factor, double spread_mm, double cap_mm, double *limit_mm)
{
	if (!is_above_0(factor) || !is_above_0(spread_mm) || !(cap_mm > 0))
		return BAD_RANGE;
	return result_give(fmin(factor * spread_mm, cap_mm), limit_mm);
}

enum bad arch_cantilever(double reading_mm, double diameter_mm, double *cantilever_mm)
{
	if (!isfinite(reading_mm) || !is_from_0(diameter_mm))
		return BAD_RANGE;
	if (reading_mm < diameter_mm / 2)
		return BAD_ORDER;
	return result_give(reading_mm - diameter_mm / 2, cantilever_mm);
}

enum bad arch_trim(double cantilever_mm, double limit_mm, double *trim_mm)
{
	if (!is_from_0(cantilever_mm) || !is_from_0(limit_mm))
		return BAD_RANGE;
	return result_give(fmax(cantilever_mm - limit_mm, 0), trim_mm);
}

static enum bad arc_angle(double radius_mm, double arc_mm, double *angle_rad)
{
	if (!is_above_0(radius_mm) || !(arc_mm >= 0) || arc_mm > pi * radius_mm)
		return BAD_RANGE;
	return result_give(arc_mm / radius_mm, angle_rad);
}

enum bad arch_chord(double radius_mm, double arc_mm, double *chord_mm)
{
	double angle;
	enum bad code = arc_angle(radius_mm, arc_mm, &angle);

	return code ? code : result_give(2 * radius_mm * sin(angle / 2), chord_mm);
}

enum bad arch_bending_arm(double radius_mm, double arc_mm, double *arm_mm)
{
	double angle;
	enum bad code = arc_angle(radius_mm, arc_mm, &angle);

	return code ? code : result_give(radius_mm * sin(angle), arm_mm);
}

enum bad arch_torsion_arm(double radius_mm, double arc_mm, double *arm_mm)
{
	double angle;
	enum bad code = arc_angle(radius_mm, arc_mm, &angle);

	/* 1 - cos would lose its digits on a nearly straight arc. */
	return code ? code : result_give(2 * radius_mm * sin(angle / 2) * sin(angle / 2), arm_mm);
}

enum bad arch_ratio_three(double load_N, double limit_N, double *ratio)
{
	if (!is_above_0(load_N) || !is_above_0(limit_N))
		return BAD_RANGE;
	return result_give(2 * (limit_N / load_N - 1), ratio);
}

enum bad arch_ratio_four(
	double load_N, double limit_N, double half_front_mm, double half_back_mm, double *ratio)
{
	if (!is_above_0(load_N) || !is_above_0(limit_N) || !is_from_0(half_front_mm) ||
		!is_above_0(half_back_mm))
		return BAD_RANGE;
	double across = half_front_mm / half_back_mm;
	return result_give(2 * limit_N / load_N - 1 - 1 / (across * across + 1), ratio);
}
