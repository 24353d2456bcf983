/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/bar.h"

#include <math.h>
#include <string.h>

#include <barwright/calc/loads.h>
#include <barwright/calc/section.h>

struct mesh {
	const struct bar_made *b;
	struct arch_curve curve;
	size_t nnode;
	struct grillage_node node[BAR_NODES];
	struct grillage_bar bar[BAR_NODES - 1];
	size_t place[BAR_NODES - 1]; /* that each piece belongs to */
	size_t site_node[BAR_SITES];
	struct grillage_move move[BAR_NODES];
	struct grillage_force force[BAR_NODES - 1];
};

static enum bad is_bar(const struct bar_made *b)
{
	size_t n = b->n;
	if (n < 2 || n > BAR_SITES)
		return BAD_COUNT;
	for (size_t i = 0; i < 2 * n + 1; i++)
		if (!(b->height_mm[i] > 0))
			return BAD_RANGE;
	for (size_t i = 0; i < n; i++)
		if (!(b->hole_mm[i] >= 0 && b->hole_mm[i] < b->width_mm))
			return BAD_RANGE;
	return b->bite_N > 0 && b->stiffness_N_per_mm > 0 && b->extension_mm[0] >= 0 &&
			       b->extension_mm[1] >= 0
		       ? FINE
		       : BAD_RANGE;
}

/* Nodes from `from` to `to` along the bar; the first is there already. */
static enum bad pieces_add(
	struct mesh *m, double from_mm, double to_mm, size_t place, const struct profile *p)
{
	if (to_mm - from_mm < 1e-6)
		return FINE;
	for (int k = 1; k <= BAR_PIECES; k++) {
		struct arch_place at;
		double s = from_mm + (to_mm - from_mm) * k / BAR_PIECES;
		enum bad code = arch_curve_at(&m->curve, s, &at);
		if (code)
			return code;
		struct grillage_bar *bar = &m->bar[m->nnode - 1];
		*bar = (struct grillage_bar){.from = m->nnode - 1, .to = m->nnode};
		grillage_bar_fill(p, m->b->modulus_MPa, m->b->shear_modulus_MPa, bar);
		m->place[m->nnode - 1] = place;
		m->node[m->nnode++] = (struct grillage_node){.x_mm = at.x_mm, .y_mm = at.y_mm};
	}
	return FINE;
}

static enum bad mesh_lay(struct mesh *m, const struct profile *profile)
{
	const struct bar_made *b = m->b;
	struct arch_site site[BAR_SITES];
	struct arch_place first;
	double end[2];
	for (size_t i = 0; i < b->n; i++)
		site[i] = (struct arch_site){b->x_mm[i], b->y_mm[i], b->diameter_mm[i] / 2};
	enum bad code = arch_curve_init(&m->curve, site, b->n);
	for (int e = 0; e < 2 && !code; e++)
		code = arch_curve_end(&m->curve, (enum arch_end)e, b->extension_mm[e], &end[e]);
	if (!code)
		code = arch_curve_at(&m->curve, end[0], &first);
	if (code)
		return code;
	m->node[0] = (struct grillage_node){.x_mm = first.x_mm, .y_mm = first.y_mm};
	m->nnode = 1;
	double at = end[0];
	for (size_t i = 0; i <= b->n && !code; i++) {
		double to = i < b->n ? m->curve.along_mm[i] : end[1];
		code = pieces_add(m, at, to, 2 * i, &profile[2 * i]);
		if (i < b->n) {
			m->site_node[i] = m->nnode - 1;
			m->node[m->nnode - 1].spring_N_per_mm = b->stiffness_N_per_mm;
		}
		at = to;
	}
	return code;
}

/* Sites in line leave the bar free to roll about that line: a spring too weak to carry anything holds
 * it. */
#define ROLL_SPRING_Nmm 1e-2

static enum bad roll_hold(struct mesh *m, const struct loads_support *support)
{
	struct loads_group group;
	enum bad code = loads_group_find(support, m->b->n, &group);
	for (size_t i = 0; !code && group.in_line && i < m->b->n; i++)
		m->node[m->site_node[i]].turn_spring_Nmm_per_rad = ROLL_SPRING_Nmm;
	return code;
}

/* The greatest bending of each place, of this bite and those before. A sleeve's moment stands at its
 * node, in the section that its hole leaves. */
static enum bad stresses_take(
	const struct mesh *m, const struct profile *profile, struct bar_loads *out)
{
	const struct bar_made *b = m->b;
	double at_site[BAR_SITES] = {0};
	for (size_t k = 0; k + 1 < m->nnode; k++) {
		double from = fabs(m->force[k].moment_from_Nmm);
		double to = fabs(m->force[k].moment_to_Nmm);
		double *stress = &out->stress_MPa[m->place[k]];
		*stress = fmax(*stress, section_bending_MPa(&profile[m->place[k]], fmax(from, to)));
		for (size_t i = 0; i < b->n; i++) {
			if (m->site_node[i] == k)
				at_site[i] = fmax(at_site[i], from);
			if (m->site_node[i] == k + 1)
				at_site[i] = fmax(at_site[i], to);
		}
	}
	for (size_t i = 0; i < b->n; i++) {
		double modulus;
		enum bad code = section_net_modulus(
			b->width_mm, b->height_mm[2 * i + 1], b->hole_mm[i], &modulus);
		if (code)
			return code;
		out->stress_MPa[2 * i + 1] = fmax(out->stress_MPa[2 * i + 1], at_site[i] / modulus);
	}
	return FINE;
}

static double greatest(const double *x, size_t n)
{
	double most = 0;
	for (size_t i = 0; i < n; i++)
		most = fmax(most, fabs(x[i]));
	return most;
}

static enum bad bite(struct mesh *m, enum arch_end end, const struct profile *profile,
	struct bar_room *room, struct bar_loads *out)
{
	const struct bar_made *b = m->b;
	size_t at = end == ARCH_RIGHT ? 0 : m->nnode - 1;
	double rigid[BAR_SITES], flexible[BAR_SITES], residual;
	struct loads_support support[BAR_SITES];
	struct loads_force load = {m->node[at].x_mm, m->node[at].y_mm, b->bite_N};
	for (size_t i = 0; i < b->n; i++)
		support[i] = (struct loads_support){b->x_mm[i], b->y_mm[i], b->stiffness_N_per_mm};
	enum bad code = roll_hold(m, support);
	if (!code)
		code = loads_share(support, b->n, &load, 1, rigid);
	if (code)
		return code;
	m->node[at].down_N = b->bite_N;
	struct grillage g = {m->node, m->nnode, m->bar, m->nnode - 1};
	code = grillage_solve(&g, room->work, sizeof room->work / sizeof *room->work, m->move,
		m->force, &residual);
	m->node[at].down_N = 0;
	if (code)
		return code;
	for (size_t i = 0; i < b->n; i++)
		flexible[i] = m->move[m->site_node[i]].carried_N;
	out->drop_mm[end] = m->move[at].drop_mm;
	out->imbalance = fmax(
		out->imbalance, fmax(residual, loads_imbalance(support, b->n, &load, 1, rigid)));
	if (end == ARCH_RIGHT || greatest(flexible, b->n) > greatest(out->flexible_N, b->n)) {
		memcpy(out->rigid_N, rigid, sizeof rigid);
		memcpy(out->flexible_N, flexible, sizeof flexible);
		out->bitten = end;
	}
	return stresses_take(m, profile, out);
}

enum bad bar_loads(const struct bar_made *b, struct bar_room *room, struct bar_loads *out)
{
	struct mesh m;
	struct bar_loads made = {0};
	struct profile profile[BAR_PLACES];
	enum bad code = is_bar(b);
	m.b = b;
	for (size_t i = 0; !code && i < 2 * b->n + 1; i++) {
		if (i && b->height_mm[i] == b->height_mm[i - 1])
			profile[i] = profile[i - 1];
		else
			code = section_rectangle(b->width_mm, b->height_mm[i], &profile[i]);
	}
	if (!code)
		code = mesh_lay(&m, profile);
	for (int e = 0; e < 2 && !code; e++)
		code = bite(&m, (enum arch_end)e, profile, room, &made);
	if (!code)
		*out = made;
	return code;
}
