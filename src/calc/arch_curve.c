/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar's centreline: cubic Bessel interpolation, its length, the place s mm along it. */
#include <barwright/calc/arch.h>

#include <math.h>

#include "calc/arch_parts.h"

/* ---- one span between two sites -------------------------------------------------------------- */

/* Position and slope at knot t of span i, a cubic in Hermite form. */
static void span_at(const struct arch_curve *c, size_t i, double t, struct arch_point *place,
	struct arch_point *slope)
{
	double h = c->knot[i + 1] - c->knot[i], u = (t - c->knot[i]) / h;
	const struct arch_site *a = &c->site[i], *b = &c->site[i + 1];
	const struct arch_point *ma = &c->slope[i], *mb = &c->slope[i + 1];
	double b1 = u * u * (3 - 2 * u), b0 = 1 - b1;
	double m0 = u * (1 - u) * (1 - u) * h, m1 = u * u * (u - 1) * h;
	double d = 6 * u * (1 - u) / h, e0 = (1 - u) * (1 - 3 * u), e1 = u * (3 * u - 2);

	*place = (struct arch_point){
		b0 * a->x_mm + b1 * b->x_mm + m0 * ma->x_mm + m1 * mb->x_mm,
		b0 * a->y_mm + b1 * b->y_mm + m0 * ma->y_mm + m1 * mb->y_mm,
	};
	*slope = (struct arch_point){
		d * (b->x_mm - a->x_mm) + e0 * ma->x_mm + e1 * mb->x_mm,
		d * (b->y_mm - a->y_mm) + e0 * ma->y_mm + e1 * mb->y_mm,
	};
}

/* Length of span i from its start to knot t. Gauss-Legendre with 5 points (Abramowitz and Stegun
 * 1964, table 25.4) on 4 equal parts: on arches of 3 to 16 sites the error stays below 1e-6 mm. */
static double span_length(const struct arch_curve *c, size_t i, double t)
{
	static const double node[] = {0, 0.538469310105683, 0.906179845938664};
	static const double weight[] = {0.568888888888889, 0.478628670499366, 0.236926885056189};
	enum { PARTS = 4 };
	double half = (t - c->knot[i]) / (2 * PARTS), sum = 0;

	for (int part = 0; part < PARTS; part++) {
		double middle = c->knot[i] + (2 * part + 1) * half;

		for (int k = -2; k <= 2; k++) {
			struct arch_point place, slope;
			int a = k < 0 ? -k : k;

			span_at(c, i, middle + (k < 0 ? -1 : 1) * node[a] * half, &place, &slope);
			sum += weight[a] * hypot(slope.x_mm, slope.y_mm);
		}
	}
	return sum * half;
}

/* The knot at which span i has this length: Newton, whose derivative is the slope's length, kept
 * between bounds that close in. */
static double span_knot(const struct arch_curve *c, size_t i, double length)
{
	double low = c->knot[i], high = c->knot[i + 1];
	double t = low + (high - low) * length / (c->along_mm[i + 1] - c->along_mm[i]);

	for (int round = 0; round < 60; round++) {
		struct arch_point place, slope;
		double miss = span_length(c, i, t) - length;

		if (fabs(miss) < 1e-12 * (1 + length))
			break;
		*(miss > 0 ? &high : &low) = t;
		span_at(c, i, t, &place, &slope);
		t -= miss / hypot(slope.x_mm, slope.y_mm);
		if (!(t > low && t < high))
			t = (low + high) / 2;
	}
	return t;
}

/* ---- the whole curve ------------------------------------------------------------------------- */

static enum bad sites_check(const struct arch_site *site, size_t n)
{
	if (n < 2 || n > ARCH_SITES)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++)
		if (!arch_site_is_sound(&site[i]))
			return BAD_RANGE;
	for (size_t i = 0; i + 1 < n; i++) {
		double gap =
			hypot(site[i + 1].x_mm - site[i].x_mm, site[i + 1].y_mm - site[i].y_mm);

		if (!(gap > 1e-9))
			return BAD_SINGULAR;
		if (gap < site[i].radius_mm + site[i + 1].radius_mm - 1e-9)
			return BAD_RANGE;
	}
	return FINE;
}

/* Slope at site i of the parabola through sites j, j + 1, j + 2. */
static struct arch_point parabola_slope(const struct arch_curve *c, size_t j, size_t i)
{
	const struct arch_site *s = &c->site[j];
	double h0 = c->knot[j + 1] - c->knot[j], h1 = c->knot[j + 2] - c->knot[j + 1];
	/* Weight of the first straight slope: linear in the knot, h1/(h0 + h1) at the middle site. */
	double w = i == j + 1 ? h1 / (h0 + h1) : i == j ? 1 + h0 / (h0 + h1) : -h1 / (h0 + h1);

	return (struct arch_point){
		w * (s[1].x_mm - s[0].x_mm) / h0 + (1 - w) * (s[2].x_mm - s[1].x_mm) / h1,
		w * (s[1].y_mm - s[0].y_mm) / h0 + (1 - w) * (s[2].y_mm - s[1].y_mm) / h1,
	};
}

static struct arch_point straight_slope(const struct arch_curve *c)
{
	const struct arch_site *s = c->site;

	return (struct arch_point){
		(s[1].x_mm - s[0].x_mm) / c->knot[1],
		(s[1].y_mm - s[0].y_mm) / c->knot[1],
	};
}

enum bad arch_curve_init(struct arch_curve *c, const struct arch_site *site, size_t n)
{
	struct arch_curve new = {.n = n};
	enum bad code = sites_check(site, n);

	if (code)
		return code;
	for (size_t i = 0; i < n; i++) {
		new.site[i] = site[i];
		if (i)
			new.knot[i] = new.knot[i - 1] + hypot(site[i].x_mm - site[i - 1].x_mm,
								site[i].y_mm - site[i - 1].y_mm);
	}
	for (size_t i = 0; i < n; i++) {
		size_t j = i == 0 ? 0 : i == n - 1 ? n - 3 : i - 1;
		struct arch_point m = n == 2 ? straight_slope(&new) : parabola_slope(&new, j, i);

		/* The slope vanishes where the bar would turn back on its own track. */
		if (!(hypot(m.x_mm, m.y_mm) > 1e-6))
			return BAD_SINGULAR;
		new.slope[i] = m;
	}
	for (size_t i = 0; i + 1 < n; i++)
		new.along_mm[i + 1] = new.along_mm[i] + span_length(&new, i, new.knot[i + 1]);
	*c = new;
	return FINE;
}

double arch_curve_length(const struct arch_curve *c)
{
	return c->along_mm[c->n - 1];
}

enum bad arch_curve_span(const struct arch_curve *c, size_t i, struct arch_span *out)
{
	if (i >= c->n || i + 1 >= c->n)
		return BAD_COUNT;
	double centre = c->knot[i + 1] - c->knot[i];
	*out = (struct arch_span){
		.centre_mm = centre,
		.clear_mm = centre - c->site[i].radius_mm - c->site[i + 1].radius_mm,
		.along_mm = c->along_mm[i + 1] - c->along_mm[i],
	};
	return FINE;
}

static struct arch_place place_beyond(const struct arch_curve *c, size_t i, double beyond_mm)
{
	double size = hypot(c->slope[i].x_mm, c->slope[i].y_mm);
	double dx = c->slope[i].x_mm / size, dy = c->slope[i].y_mm / size;

	return (struct arch_place){
		c->site[i].x_mm + beyond_mm * dx, c->site[i].y_mm + beyond_mm * dy, dx, dy};
}

enum bad arch_curve_at(const struct arch_curve *c, double s_mm, struct arch_place *out)
{
	size_t last = c->n - 1, i = 0;
	struct arch_point place, slope;

	if (!(fabs(s_mm) <= ARCH_FAR_mm))
		return BAD_RANGE;
	if (s_mm <= 0 || s_mm >= c->along_mm[last]) {
		*out = s_mm <= 0 ? place_beyond(c, 0, s_mm)
				 : place_beyond(c, last, s_mm - c->along_mm[last]);
		return FINE;
	}
	while (s_mm >= c->along_mm[i + 1])
		i++;
	span_at(c, i, span_knot(c, i, s_mm - c->along_mm[i]), &place, &slope);
	double size = hypot(slope.x_mm, slope.y_mm);
	*out = (struct arch_place){place.x_mm, place.y_mm, slope.x_mm / size, slope.y_mm / size};
	return FINE;
}

enum bad arch_curve_end(
	const struct arch_curve *c, enum arch_end end, double extension_mm, double *s_mm)
{
	size_t last = c->n - 1;

	if (!(extension_mm >= 0 && extension_mm <= ARCH_FAR_mm))
		return BAD_RANGE;
	*s_mm = end == ARCH_RIGHT ? -(c->site[0].radius_mm + extension_mm)
				  : c->along_mm[last] + c->site[last].radius_mm + extension_mm;
	return FINE;
}
