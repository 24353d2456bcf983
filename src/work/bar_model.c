/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bar as a grillage along its centreline, on equal springs at the sites, and what it bears.
 *
 * Nodes stand at both ends, at every site and load, and between them so close that an element is at
 * most ELEMENT_mm long. A load beside the centreline goes to the nearest node of the bar with the
 * moment of its offset: the prosthesis over it is taken as stiff. */
#include <math.h>
#include <stdlib.h>

#include <barwright/calc/grillage.h>
#include <barwright/calc/section.h>

#include "work/work.h"

#define ELEMENT_mm 1.0
#define SAME_mm    1e-7

enum { PLACES = 2 + ARCH_SITES + CASE_LOADS };

struct model {
	struct work_result *w;
	double place[PLACES]; /* along the bar: ends, sites, loads; sorted, each once */
	size_t nplace;
	double load_at[CASE_LOADS];
	double *s; /* of every node */
	struct grillage_node *node;
	struct grillage_bar *bar;
	struct grillage_move *move;
	struct grillage_force *force;
	size_t nnode;
	struct profile profile;
};

static int by_size(const void *a, const void *b)
{
	const double *x = a, *y = b;

	return (*x > *y) - (*x < *y);
}

static double away_from(const struct arch_curve *c, double s, double x, double y)
{
	struct arch_place at;

	return arch_curve_at(c, s, &at) ? INFINITY : hypot(at.x_mm - x, at.y_mm - y);
}

/* Where the bar comes nearest to a point: the best of many places, then the ways to its neighbours
 * halved. */
static double nearest_on_bar(const struct arch_curve *c, double from, double to, double x, double y)
{
	double step = (to - from) / 512, best = from;

	for (int i = 1; i <= 512; i++)
		if (away_from(c, from + i * step, x, y) < away_from(c, best, x, y))
			best = from + i * step;
	for (; step > SAME_mm / 10; step /= 2) {
		double low = fmax(from, best - step), high = fmin(to, best + step);
		double here = away_from(c, best, x, y);
		if (away_from(c, low, x, y) < here)
			best = low;
		else if (away_from(c, high, x, y) < here)
			best = high;
	}
	return best;
}

static enum bad places_find(struct model *m)
{
	const struct case_file *c = m->w->file;
	const struct arch_curve *curve = &m->w->curve;
	double right, left;
	enum bad code = arch_curve_end(curve, ARCH_RIGHT, c->right_mm, &right);

	if (!code)
		code = arch_curve_end(curve, ARCH_LEFT, c->left_mm, &left);
	if (code)
		return code;
	m->place[m->nplace++] = right;
	m->place[m->nplace++] = left;
	for (size_t i = 0; i < c->nsite; i++)
		m->place[m->nplace++] = curve->along_mm[i];
	for (size_t i = 0; i < c->nload; i++) {
		const struct case_load *l = &c->load[i];
		m->load_at[i] = l->where == CASE_LEFT_END    ? left
				: l->where == CASE_RIGHT_END ? right
				: l->where == CASE_AT_SITE
					? curve->along_mm[l->site]
					: nearest_on_bar(curve, right, left, l->x_mm, l->y_mm);
		m->place[m->nplace++] = m->load_at[i];
	}
	qsort(m->place, m->nplace, sizeof *m->place, by_size);
	size_t kept = 1;
	for (size_t i = 1; i < m->nplace; i++)
		if (m->place[i] - m->place[kept - 1] > SAME_mm)
			m->place[kept++] = m->place[i];
	m->nplace = kept;
	return FINE;
}

static size_t pieces(const struct model *m, size_t i)
{
	return (size_t)ceil((m->place[i + 1] - m->place[i]) / ELEMENT_mm - 1e-9);
}

/* Nodes along the bar with their places, and springs under the sites. */
static enum bad nodes_lay(struct arena *a, struct model *m)
{
	m->nnode = 1;
	for (size_t i = 0; i + 1 < m->nplace; i++)
		m->nnode += pieces(m, i);
	m->s = arena_many(a, m->nnode, double);
	m->node = arena_many(a, m->nnode, struct grillage_node);
	m->bar = arena_many(a, m->nnode, struct grillage_bar);
	m->move = arena_many(a, m->nnode, struct grillage_move);
	m->force = arena_many(a, m->nnode, struct grillage_force);
	if (!m->s || !m->node || !m->bar || !m->move || !m->force)
		return BAD_MEMORY;
	size_t at = 0;
	for (size_t i = 0; i + 1 < m->nplace; i++)
		for (size_t k = 0, n = pieces(m, i); k < n; k++)
			m->s[at++] = m->place[i] +
				     (m->place[i + 1] - m->place[i]) * (double)k / (double)n;
	m->s[at] = m->place[m->nplace - 1];
	for (size_t i = 0; i < m->nnode; i++) {
		struct arch_place p;
		enum bad code = arch_curve_at(&m->w->curve, m->s[i], &p);
		if (code)
			return code;
		m->node[i] = (struct grillage_node){.x_mm = p.x_mm, .y_mm = p.y_mm};
	}
	return FINE;
}

static size_t node_at(const struct model *m, double s)
{
	size_t best = 0;

	for (size_t i = 1; i < m->nnode; i++)
		if (fabs(m->s[i] - s) < fabs(m->s[best] - s))
			best = i;
	return best;
}

static void nodes_load(struct model *m)
{
	const struct case_file *c = m->w->file;

	for (size_t i = 0; i < c->nsite; i++)
		m->node[node_at(m, m->w->curve.along_mm[i])].spring_N_per_mm =
			c->stiffness_N_per_mm;
	for (size_t i = 0; i < c->nload; i++) {
		struct grillage_node *n = &m->node[node_at(m, m->load_at[i])];
		double force = c->load[i].force_N;
		n->down_N += force;
		/* r x F with F = -force along z (up), both about the node */
		n->about_x_Nmm -= force * (c->load[i].y_mm - n->y_mm);
		n->about_y_Nmm += force * (c->load[i].x_mm - n->x_mm);
	}
}

static enum bad solve(struct arena *a, struct model *m)
{
	const struct case_file *c = m->w->file;
	size_t room = GRILLAGE_ROW_ROOM(m->nnode);
	double *work = arena_many(a, room, double);

	if (!work)
		return BAD_MEMORY;
	for (size_t i = 0; i + 1 < m->nnode; i++) {
		m->bar[i].from = i;
		m->bar[i].to = i + 1;
		grillage_bar_fill(&m->profile, c->modulus_MPa, c->shear_modulus_MPa, &m->bar[i]);
	}
	struct grillage g = {m->node, m->nnode, m->bar, m->nnode - 1};
	return grillage_solve(&g, work, room, m->move, m->force, &m->w->bar.residual);
}

/* ---- what comes out of it -------------------------------------------------------------------- */

static void bending_take(struct model *m, double moment_Nmm, double at_mm)
{
	struct work_bar *b = &m->w->bar;

	if (fabs(moment_Nmm) <= b->moment_Nmm)
		return;
	b->moment_Nmm = fabs(moment_Nmm);
	b->at_mm = at_mm;
}

static void greatest_find(struct model *m)
{
	struct work_bar *b = &m->w->bar;

	for (size_t i = 0; i + 1 < m->nnode; i++) {
		const struct grillage_force *f = &m->force[i];
		bending_take(m, f->moment_from_Nmm, m->s[i]);
		bending_take(m, f->moment_to_Nmm, m->s[i + 1]);
		b->shear_N = fmax(b->shear_N, fabs(f->shear_N));
		b->torque_Nmm = fmax(b->torque_Nmm, fabs(f->torque_Nmm));
		b->shear_MPa = fmax(b->shear_MPa,
			section_shear_MPa(&m->profile, fabs(f->shear_N), fabs(f->torque_Nmm)));
	}
	b->bending_MPa = section_bending_MPa(&m->profile, b->moment_Nmm);
}

static void sites_take(struct model *m)
{
	struct work_result *w = m->w;
	double near = INFINITY;

	for (size_t i = 0; i < w->file->nsite; i++) {
		double away = fabs(w->bar.at_mm - w->curve.along_mm[i]);
		w->site[i].flexible_N = m->move[node_at(m, w->curve.along_mm[i])].carried_N;
		if (away < near) {
			near = away;
			w->bar.near_site = i;
			w->bar.near_mm = away;
		}
	}
	w->side[ARCH_RIGHT].tip_mm = m->move[0].drop_mm;
	w->side[ARCH_LEFT].tip_mm = m->move[m->nnode - 1].drop_mm;
	w->bar.tip_mm = fabs(m->move[0].drop_mm) > fabs(m->move[m->nnode - 1].drop_mm)
				? m->move[0].drop_mm
				: m->move[m->nnode - 1].drop_mm;
}

/* At a site the hole for its cylinder is missing from the section. */
static enum bad net_find(struct model *m)
{
	const struct case_file *c = m->w->file;
	struct work_bar *b = &m->w->bar;
	enum bad code = FINE;

	for (size_t i = 0; i < c->nsite; i++) {
		double modulus;
		size_t k = node_at(m, m->w->curve.along_mm[i]);
		double moment = fabs(k ? m->force[k - 1].moment_to_Nmm : 0);
		moment = fmax(moment, fabs(m->force[k].moment_from_Nmm));
		code = section_net_modulus(
			c->width_mm, m->w->chosen_mm, case_hole_mm(c, i), &modulus);
		if (code)
			break;
		if (moment / modulus <= b->net_MPa)
			continue;
		b->net_MPa = moment / modulus;
		b->net_site = i;
	}
	return code;
}

/* Cycles of the everyday load in some years of use: the number mechanics texts use for fatigue
 * strength; course value. */
#define CYCLES 1e6

static enum bad safety_find(struct model *m)
{
	const struct case_file *c = m->w->file;
	struct work_bar *b = &m->w->bar;
	double peak = fmax(b->bending_MPa, b->net_MPa);
	struct safety_case s = {.dry_MPa = c->strength_MPa,
		.wet = c->wet,
		.loss_per_decade = SAFETY_FATIGUE_GLASS,
		.cycles = CYCLES,
		.peak_MPa = peak,
		.everyday_MPa = c->everyday * peak,
		.peak_wanted = c->safety,
		.everyday_wanted = c->everyday_safety};
	enum bad code = safety_check(&s, &b->safety);

	b->factor = b->bending_MPa > 0 ? c->strength_MPa / b->bending_MPa : INFINITY;
	return code;
}

enum bad work_bar_run(struct arena *a, struct work_result *w)
{
	const struct case_file *c = w->file;
	struct model m = {.w = w};
	enum bad code = section_rectangle(c->width_mm, w->chosen_mm, &m.profile);

	if (code || (code = places_find(&m)) || (code = nodes_lay(a, &m)))
		return code;
	nodes_load(&m);
	if ((code = solve(a, &m)))
		return code;
	w->bar.inertia_mm4 = m.profile.inertia_mm4;
	w->bar.modulus_mm3 = m.profile.modulus_mm3;
	w->bar.twist_mm4 = m.profile.twist_mm4;
	double span = w->length_mm / (double)(c->nsite - 1);
	w->bar.lambda = c->stiffness_N_per_mm * span * span * span /
			(3 * c->modulus_MPa * m.profile.inertia_mm4);
	greatest_find(&m);
	sites_take(&m);
	if ((code = net_find(&m)))
		return code;
	return safety_find(&m);
}
