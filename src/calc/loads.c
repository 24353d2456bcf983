/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/loads.h>

#include <math.h>

#include "calc/numbers.h"

/* Below this share the second principal sum is taken for nothing: sites 3e-5 of their spread off
 * one line cannot be told from sites on it. */
static const double in_line_share = 1e-9;
/* A load this part of the spread beside the line counts as on it. */
static const double on_line_share = 1e-6;

/* Resultant of all loads at the centre of stiffness. */
struct resultant {
	double down_N, x_Nmm, y_Nmm; /* sums of F, F ex, F ey */
	double size_N;               /* sum of |F| */
};

/* Share of a site = k (level + x dx + y dy). */
struct plane {
	double level, x, y;
};

static enum bad support_check(const struct loads_support *s, size_t n)
{
	if (n < 2)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		double k = s[i].stiffness_N_per_mm;
		if (!isfinite(s[i].x_mm) || !isfinite(s[i].y_mm) || !is_above_0(k))
			return BAD_RANGE;
	}
	return FINE;
}

static void centre_find(const struct loads_support *s, size_t n, struct loads_group *g)
{
	for (size_t i = 0; i < n; i++) {
		double k = s[i].stiffness_N_per_mm;
		g->stiffness_N_per_mm += k;
		g->x_mm += k * s[i].x_mm;
		g->y_mm += k * s[i].y_mm;
	}
	g->x_mm /= g->stiffness_N_per_mm;
	g->y_mm /= g->stiffness_N_per_mm;
	for (size_t i = 0; i < n; i++) {
		double k = s[i].stiffness_N_per_mm;
		double dx = s[i].x_mm - g->x_mm, dy = s[i].y_mm - g->y_mm;
		g->xx_Nmm += k * dx * dx;
		g->yy_Nmm += k * dy * dy;
		g->xy_Nmm += k * dx * dy;
	}
}

/* The principal sums are added up in turned axes: half sum minus root would cancel where the
 * sites are nearly in line. */
static void axes_find(const struct loads_support *s, size_t n, struct loads_group *g)
{
	g->angle_rad = 0.5 * atan2(2 * g->xy_Nmm, g->xx_Nmm - g->yy_Nmm);
	double co = cos(g->angle_rad), si = sin(g->angle_rad);
	for (size_t i = 0; i < n; i++) {
		double k = s[i].stiffness_N_per_mm;
		double dx = s[i].x_mm - g->x_mm, dy = s[i].y_mm - g->y_mm;
		double along = co * dx + si * dy, across = co * dy - si * dx;
		g->first_Nmm += k * along * along;
		g->second_Nmm += k * across * across;
	}
}

/* (xx yy - xy^2)/(xx + yy)^2: 1/4 for sites spread alike in all directions, 0 in line. */
static double determinant_share(const struct loads_group *g)
{
	double sum = g->xx_Nmm + g->yy_Nmm;
	double xy = g->xy_Nmm / sum;
	return (g->xx_Nmm / sum) * (g->yy_Nmm / sum) - xy * xy;
}

enum bad loads_group_find(const struct loads_support *s, size_t n, struct loads_group *out)
{
	struct loads_group g = {0};
	enum bad code = support_check(s, n);
	if (code)
		return code;
	centre_find(s, n, &g);
	double sum = g.xx_Nmm + g.yy_Nmm;
	if (!isfinite(sum))
		return BAD_RANGE;
	if (!isnormal(sum))
		return BAD_SINGULAR;
	axes_find(s, n, &g);
	g.in_line = determinant_share(&g) < in_line_share;
	*out = g;
	return FINE;
}

static enum bad resultant_find(const struct loads_force *load, size_t n,
	const struct loads_group *g, struct resultant *out)
{
	struct resultant r = {0};
	for (size_t i = 0; i < n; i++) {
		double f = load[i].down_N;
		r.down_N += f;
		r.x_Nmm += f * (load[i].x_mm - g->x_mm);
		r.y_Nmm += f * (load[i].y_mm - g->y_mm);
		r.size_N += fabs(f);
	}
	if (!isfinite(r.size_N) || !isfinite(r.x_Nmm) || !isfinite(r.y_Nmm))
		return BAD_RANGE;
	*out = r;
	return FINE;
}

/* From the moments about the axes of the drawing. */
static struct plane plane_2x2(const struct loads_group *g, const struct resultant *r)
{
	double sum = g->xx_Nmm + g->yy_Nmm, d = sum * determinant_share(g);
	double xx = g->xx_Nmm / sum, yy = g->yy_Nmm / sum, xy = g->xy_Nmm / sum;
	return (struct plane){
		.level = r->down_N / g->stiffness_N_per_mm,
		.x = (r->x_Nmm * yy - r->y_Nmm * xy) / d,
		.y = (r->y_Nmm * xx - r->x_Nmm * xy) / d,
	};
}

/* Sites in line stand along their first principal axis, and carry no moment across it. */
static enum bad plane_in_line(
	const struct loads_group *g, const struct resultant *r, struct plane *out)
{
	double co = cos(g->angle_rad), si = sin(g->angle_rad);
	double along = (co * r->x_Nmm + si * r->y_Nmm) / g->first_Nmm;
	double across_Nmm = co * r->y_Nmm - si * r->x_Nmm;
	double spread_mm = sqrt(g->first_Nmm / g->stiffness_N_per_mm);
	if (fabs(across_Nmm) > on_line_share * r->size_N * spread_mm)
		return BAD_SINGULAR;
	*out = (struct plane){
		.level = r->down_N / g->stiffness_N_per_mm,
		.x = co * along,
		.y = si * along,
	};
	return FINE;
}

static double site_share(
	const struct loads_support *s, const struct loads_group *g, const struct plane *p)
{
	return s->stiffness_N_per_mm *
	       (p->level + p->x * (s->x_mm - g->x_mm) + p->y * (s->y_mm - g->y_mm));
}

/* Lack of balance, gathered force by force. */
struct balance {
	double x_mm, y_mm; /* moments are taken about here */
	double down_N, x_Nmm, y_Nmm;
	double size_N, arm_mm;
};

static void balance_add(struct balance *b, double x_mm, double y_mm, double down_N)
{
	double dx = x_mm - b->x_mm, dy = y_mm - b->y_mm;
	b->down_N += down_N;
	b->x_Nmm += down_N * dx;
	b->y_Nmm += down_N * dy;
	b->size_N += fabs(down_N);
	b->arm_mm = fmax(b->arm_mm, fmax(fabs(dx), fabs(dy)));
}

static double balance_lack(const struct balance *b)
{
	double lack;
	if (!(b->size_N > 0))
		return isnan(b->size_N) ? INFINITY : 0;
	lack = fabs(b->down_N) / b->size_N;
	if (b->arm_mm > 0)
		lack += fmax(fabs(b->x_Nmm), fabs(b->y_Nmm)) / b->arm_mm / b->size_N;
	return isfinite(lack) ? lack : INFINITY;
}

static struct balance balance_start(const struct loads_support *s, size_t n)
{
	struct balance b = {0};
	for (size_t i = 0; i < n; i++) {
		b.x_mm += s[i].x_mm / (double)n;
		b.y_mm += s[i].y_mm / (double)n;
	}
	return b;
}

static void balance_add_loads(struct balance *b, const struct loads_force *load, size_t n)
{
	for (size_t i = 0; i < n; i++)
		balance_add(b, load[i].x_mm, load[i].y_mm, load[i].down_N);
}

double loads_imbalance(const struct loads_support *s, size_t n, const struct loads_force *load,
	size_t nload, const double *carried_N)
{
	struct balance b = balance_start(s, n);
	balance_add_loads(&b, load, nload);
	for (size_t i = 0; i < n; i++)
		balance_add(&b, s[i].x_mm, s[i].y_mm, -carried_N[i]);
	return balance_lack(&b);
}

/* Writes the shares once it is sure that they balance the loads. */
static enum bad shares_write(const struct loads_support *s, size_t n,
	const struct loads_force *load, size_t nload, const struct loads_group *g,
	const struct plane *p, double *carried_N)
{
	struct balance b = balance_start(s, n);
	balance_add_loads(&b, load, nload);
	for (size_t i = 0; i < n; i++)
		balance_add(&b, s[i].x_mm, s[i].y_mm, -site_share(&s[i], g, p));
	if (balance_lack(&b) > (g->in_line ? 2 * on_line_share : 1e-9))
		return BAD_SINGULAR;
	for (size_t i = 0; i < n; i++)
		carried_N[i] = site_share(&s[i], g, p);
	return FINE;
}

enum bad loads_share(const struct loads_support *s, size_t n, const struct loads_force *load,
	size_t nload, double *carried_N)
{
	struct loads_group g;
	struct resultant r;
	struct plane p;
	enum bad code = loads_group_find(s, n, &g);
	if (!code)
		code = resultant_find(load, nload, &g, &r);
	if (code)
		return code;
	if (g.in_line)
		code = plane_in_line(&g, &r, &p);
	else
		p = plane_2x2(&g, &r);
	return code ? code : shares_write(s, n, load, nload, &g, &p, carried_N);
}

enum bad loads_push_share(const struct loads_support *s, size_t n, const struct loads_push *push,
	size_t npush, double *carried_x_N, double *carried_y_N)
{
	struct loads_group g;
	double x_N = 0, y_N = 0, turn_Nmm = 0;
	enum bad code = loads_group_find(s, n, &g);
	if (code)
		return code;
	for (size_t i = 0; i < npush; i++) {
		double ex = push[i].x_mm - g.x_mm, ey = push[i].y_mm - g.y_mm;
		x_N += push[i].x_N;
		y_N += push[i].y_N;
		turn_Nmm += ex * push[i].y_N - ey * push[i].x_N;
	}
	double turn = turn_Nmm / (g.xx_Nmm + g.yy_Nmm);
	if (!isfinite(x_N) || !isfinite(y_N) || !isfinite(turn))
		return BAD_RANGE;
	for (size_t i = 0; i < n; i++) {
		double k = s[i].stiffness_N_per_mm;
		carried_x_N[i] = k * (x_N / g.stiffness_N_per_mm - turn * (s[i].y_mm - g.y_mm));
		carried_y_N[i] = k * (y_N / g.stiffness_N_per_mm + turn * (s[i].x_mm - g.x_mm));
	}
	return FINE;
}

/* Seen from the point, do all sites lie within less than half a turn, counted from site i? */
static bool is_edge(const struct loads_support *s, size_t n, size_t i, double x_mm, double y_mm)
{
	double ix = s[i].x_mm - x_mm, iy = s[i].y_mm - y_mm;
	if (ix == 0 && iy == 0)
		return false;
	for (size_t j = 0; j < n; j++) {
		double jx = s[j].x_mm - x_mm, jy = s[j].y_mm - y_mm;
		double left = ix * jy - iy * jx;
		if (left < 0 || (left == 0 && ix * jx + iy * jy <= 0))
			return false;
	}
	return true;
}

bool loads_is_inside(const struct loads_support *s, size_t n, double x_mm, double y_mm)
{
	for (size_t i = 0; i < n; i++)
		if (is_edge(s, n, i, x_mm, y_mm))
			return false;
	return n > 0;
}
