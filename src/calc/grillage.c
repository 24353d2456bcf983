/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/grillage.h>

#include <math.h>

#include "calc/gsl_door.h"
#include "calc/numbers.h"

/* Unknowns of a node, in this order: drop (downward), turn about x, turn about y. The drop grows
 * along a bar by its turn about its own y', so all couplings of the bending part are positive
 * sums. */
enum { DROP, TURN_X, TURN_Y, PER_NODE };

/* A bar as the matrix sees it: [d1 t1 d2 t2] with t the turn about y' has the matrix
 *     12f    6fL        -12f    6fL                f = EI/(L^3 (1 + P)), P = 12 EI/(kGA L^2)
 *     6fL   (4+P)fL^2   -6fL   (2-P)fL^2 ...
 * and the turns about x' are coupled by GJ/L. */
struct element {
	double length_mm, cosine, sine;
	double push;                         /* 12f */
	double lever;                        /* 6fL */
	double near_Nmm, far_Nmm, twist_Nmm; /* (4+P)fL^2, (2-P)fL^2, GJ/L */
};

/* Movement of a rigid plate: drop at the origin of the axes, and its turns. */
struct plate {
	double drop_mm, turn_x_rad, turn_y_rad;
};

/* Pieces of the workspace; n unknowns, `width` stored diagonals. What moves is the plate and x
 * together. */
struct system {
	size_t n, width;
	double *band; /* n * width */
	double *x;    /* n: loads, then movements against the plate */
	double *rest; /* n: diagonal of the matrix, lack of balance, forces of the bars */
	struct plate plate;
};

void grillage_bar_fill(const struct profile *s, double modulus_MPa, double shear_modulus_MPa,
	struct grillage_bar *bar)
{
	bar->bend_Nmm2 = modulus_MPa * s->inertia_mm4;
	bar->twist_Nmm2 = shear_modulus_MPa * s->twist_mm4;
	bar->shear_N = SECTION_SHEAR_ENERGY * shear_modulus_MPa * s->area_mm2;
}

static enum bad width_find(const struct grillage *g, size_t *width)
{
	size_t most = 0;
	if (g->nnode < 2 || g->nnode > GRILLAGE_NODES || g->nbar < 1)
		return BAD_COUNT;
	for (size_t i = 0; i < g->nbar; i++) {
		size_t a = g->bar[i].from, b = g->bar[i].to;
		if (a >= g->nnode || b >= g->nnode || a == b)
			return BAD_RANGE;
		size_t apart = a < b ? b - a : a - b;
		most = apart > most ? apart : most;
	}
	*width = PER_NODE * (most + 1);
	return FINE;
}

static enum bad system_lay(const struct grillage *g, double *work, size_t room, struct system *s)
{
	size_t width;
	enum bad code = width_find(g, &width);
	if (code)
		return code;
	size_t n = PER_NODE * g->nnode;
	if (room < n * (width + 2))
		return BAD_SIZE;
	*s = (struct system){n, width, work, work + n * width, work + n * width + n, {0, 0, 0}};
	for (size_t i = 0; i < n * width; i++)
		s->band[i] = 0;
	return FINE;
}

static struct element element_find(const struct grillage *g, size_t i)
{
	const struct grillage_bar *b = &g->bar[i];
	double dx = g->node[b->to].x_mm - g->node[b->from].x_mm;
	double dy = g->node[b->to].y_mm - g->node[b->from].y_mm;
	double l = sqrt(dx * dx + dy * dy);
	double p = b->shear_N > 0 ? 12 * b->bend_Nmm2 / (b->shear_N * l * l) : 0;
	double f = b->bend_Nmm2 / (l * l * l * (1 + p));
	return (struct element){
		.length_mm = l,
		.cosine = dx / l,
		.sine = dy / l,
		.push = 12 * f,
		.lever = 6 * f * l,
		.near_Nmm = (4 + p) * f * l * l,
		.far_Nmm = (2 - p) * f * l * l,
		.twist_Nmm = b->twist_Nmm2 / l,
	};
}

static bool is_bar(const struct grillage_bar *b, const struct element *e)
{
	return b->bend_Nmm2 > 0 && b->twist_Nmm2 > 0 && b->shear_N >= 0 && isnormal(e->length_mm) &&
	       isfinite(e->push) && isfinite(e->near_Nmm) && isfinite(e->twist_Nmm);
}

/* The 3x3 part of one node, its own lower half. `way` is +1 at `from`, -1 at `to`. */
static void own_add(struct system *s, size_t node, const struct element *e, double way)
{
	double co = e->cosine, si = e->sine;
	double *drop = s->band + PER_NODE * node * s->width;
	double *turn_x = drop + s->width, *turn_y = turn_x + s->width;
	drop[0] += e->push;
	drop[1] -= way * si * e->lever;
	drop[2] += way * co * e->lever;
	turn_x[0] += si * si * e->near_Nmm + co * co * e->twist_Nmm;
	turn_x[1] += si * co * (e->twist_Nmm - e->near_Nmm);
	turn_y[0] += co * co * e->near_Nmm + si * si * e->twist_Nmm;
}

/* The 3x3 part between the two nodes: rows of the later node, columns of the earlier one. `way`
 * is +1 when the bar runs from the earlier to the later node. */
static void pair_add(
	struct system *s, size_t early, size_t late, const struct element *e, double way)
{
	double co = e->cosine, si = e->sine;
	double cross = -si * co * (e->far_Nmm + e->twist_Nmm);
	double *drop = s->band + PER_NODE * early * s->width + PER_NODE * (late - early);
	double *turn_x = drop + s->width - 1, *turn_y = turn_x + s->width - 1;
	drop[DROP] -= e->push;
	drop[TURN_X] -= way * si * e->lever;
	drop[TURN_Y] += way * co * e->lever;
	turn_x[DROP] += way * si * e->lever;
	turn_x[TURN_X] += si * si * e->far_Nmm - co * co * e->twist_Nmm;
	turn_x[TURN_Y] += cross;
	turn_y[DROP] -= way * co * e->lever;
	turn_y[TURN_X] += cross;
	turn_y[TURN_Y] += co * co * e->far_Nmm - si * si * e->twist_Nmm;
}

static enum bad bars_add(const struct grillage *g, struct system *s)
{
	for (size_t i = 0; i < g->nbar; i++) {
		size_t a = g->bar[i].from, b = g->bar[i].to;
		struct element e = element_find(g, i);
		if (!is_bar(&g->bar[i], &e))
			return BAD_RANGE;
		own_add(s, a, &e, 1);
		own_add(s, b, &e, -1);
		pair_add(s, a < b ? a : b, a < b ? b : a, &e, a < b ? 1 : -1);
	}
	return FINE;
}

/* A direction that does not move leaves the equations: its row and column become those of the
 * unit matrix, its right side 0. Exact, and the band keeps its form. */
static void direction_hold(struct system *s, size_t i)
{
	for (size_t d = 1; d < s->width; d++) {
		s->band[i * s->width + d] = 0;
		if (d <= i)
			s->band[(i - d) * s->width + d] = 0;
	}
	s->band[i * s->width] = 1;
	s->x[i] = 0;
}

static bool is_node(const struct grillage_node *v)
{
	return isfinite(v->x_mm) && isfinite(v->y_mm) && isfinite(v->down_N) &&
	       isfinite(v->about_x_Nmm) && isfinite(v->about_y_Nmm) &&
	       is_from_0(v->spring_N_per_mm) && is_from_0(v->turn_spring_Nmm_per_rad) &&
	       v->hold <= HOLD_ALL;
}

static bool is_held(const struct grillage_node *v, size_t k)
{
	return v->hold >> k & 1;
}

static enum bad nodes_add(const struct grillage *g, struct system *s)
{
	for (size_t i = 0; i < g->nnode; i++) {
		const struct grillage_node *v = &g->node[i];
		double *diagonal = s->band + PER_NODE * i * s->width, *x = s->x + PER_NODE * i;
		if (!is_node(v))
			return BAD_RANGE;
		diagonal[0] += v->spring_N_per_mm;
		diagonal[s->width] += v->turn_spring_Nmm_per_rad;
		diagonal[2 * s->width] += v->turn_spring_Nmm_per_rad;
		x[DROP] = v->down_N;
		x[TURN_X] = v->about_x_Nmm;
		x[TURN_Y] = v->about_y_Nmm;
	}
	for (size_t i = 0; i < s->n; i++)
		if (is_held(&g->node[i / PER_NODE], i % PER_NODE))
			direction_hold(s, i);
	return FINE;
}

/* Factors the matrix, and distrusts a pivot that is no more than what rounding leaves of its
 * diagonal element: then the supports leave a movement free, or are too soft against the bars to
 * be seen. Bars that can move freely were seen to leave up to 1e-15 for each unknown, held ones
 * more than 1e-7. */
static enum bad system_factor(struct system *s)
{
	const double least = 1e-14 * (double)s->n;
	for (size_t i = 0; i < s->n; i++)
		s->rest[i] = s->band[i * s->width];
	enum bad code = band_factor(s->band, s->n, s->width);
	if (code)
		return code;
	for (size_t i = 0; i < s->n; i++) {
		double pivot = s->band[i * s->width] * s->band[i * s->width];
		if (!(pivot > least * s->rest[i]))
			return BAD_SINGULAR;
	}
	return FINE;
}

/* What happens inside bar i, from the movements of its ends. With q the downward force on its
 * `from` end, the moments there are qL/2 +- EI/L (t1 - t2): no large numbers cancel but the
 * movements themselves. */
static struct grillage_force force_find(
	const struct grillage *g, const struct system *s, size_t i, const struct element *e)
{
	const double *a = s->x + PER_NODE * g->bar[i].from, *b = s->x + PER_NODE * g->bar[i].to;
	double co = e->cosine, si = e->sine, l = e->length_mm;
	double turn_a = co * a[TURN_Y] - si * a[TURN_X], turn_b = co * b[TURN_Y] - si * b[TURN_X];
	double roll = co * (b[TURN_X] - a[TURN_X]) + si * (b[TURN_Y] - a[TURN_Y]);
	double q = e->push * (a[DROP] - b[DROP] + l * (turn_a + turn_b) / 2);
	double bow = g->bar[i].bend_Nmm2 / l * (turn_a - turn_b);
	return (struct grillage_force){
		.shear_N = -q,
		.moment_from_Nmm = bow + q * l / 2,
		.moment_to_Nmm = bow - q * l / 2,
		.torque_Nmm = e->twist_Nmm * roll,
	};
}

/* Adds what the bar takes from the node at one end; `way` as in own_add. */
static void end_add(
	double *rest, const struct element *e, const struct grillage_force *f, double way)
{
	double about_y = way * (way > 0 ? f->moment_from_Nmm : f->moment_to_Nmm);
	double about_x = -way * f->torque_Nmm;
	rest[DROP] -= way * f->shear_N;
	rest[TURN_X] += e->cosine * about_x - e->sine * about_y;
	rest[TURN_Y] += e->sine * about_x + e->cosine * about_y;
}

/* Fills `rest` with what the bars take from each node. */
static void forces_gather(const struct grillage *g, struct system *s)
{
	for (size_t i = 0; i < s->n; i++)
		s->rest[i] = 0;
	for (size_t i = 0; i < g->nbar; i++) {
		struct element e = element_find(g, i);
		struct grillage_force f = force_find(g, s, i, &e);
		end_add(s->rest + PER_NODE * g->bar[i].from, &e, &f, 1);
		end_add(s->rest + PER_NODE * g->bar[i].to, &e, &f, -1);
	}
}

static double load_find(const struct grillage_node *v, size_t k)
{
	return k == DROP ? v->down_N : k == TURN_X ? v->about_x_Nmm : v->about_y_Nmm;
}

/* Movement of the plate in unknown k of a node. */
static double plate_find(const struct plate *p, const struct grillage_node *v, size_t k)
{
	if (k == DROP)
		return p->drop_mm + p->turn_y_rad * v->x_mm - p->turn_x_rad * v->y_mm;
	return k == TURN_X ? p->turn_x_rad : p->turn_y_rad;
}

/* What spring or hold gives in unknown k: the spring by its movement, a hold what is left of the
 * load. */
static double carried_find(const struct grillage *g, const struct system *s, size_t node, size_t k)
{
	const struct grillage_node *v = &g->node[node];
	double spring = k == DROP ? v->spring_N_per_mm : v->turn_spring_Nmm_per_rad;
	size_t i = PER_NODE * node + k;
	if (is_held(v, k))
		return load_find(v, k) - s->rest[i];
	return spring > 0 ? spring * (plate_find(&s->plate, v, k) + s->x[i]) : 0;
}

/* Takes the mean movement out of x and gives it to the plate; nothing where a node is held, for
 * there it would have to be given back exactly. */
static void plate_part(const struct grillage *g, struct system *s)
{
	struct plate p = {0, 0, 0};
	double share = 1 / (double)g->nnode, drop_mm = 0;
	for (size_t i = 0; i < g->nnode; i++) {
		if (g->node[i].hold)
			return;
		p.turn_x_rad += share * s->x[PER_NODE * i + TURN_X];
		p.turn_y_rad += share * s->x[PER_NODE * i + TURN_Y];
	}
	for (size_t i = 0; i < g->nnode; i++)
		drop_mm += share * (s->x[PER_NODE * i] - plate_find(&p, &g->node[i], DROP));
	p.drop_mm = drop_mm;
	for (size_t i = 0; i < s->n; i++)
		s->x[i] -= plate_find(&p, &g->node[i / PER_NODE], i % PER_NODE);
	s->plate.drop_mm += p.drop_mm;
	s->plate.turn_x_rad += p.turn_x_rad;
	s->plate.turn_y_rad += p.turn_y_rad;
}

/* Sums for the check of balance; moments about node 0. */
struct balance {
	double down_N, about_x_Nmm, about_y_Nmm; /* lack of the whole */
	double node_N, node_Nmm;                 /* greatest lack of a node */
	double size_N, size_Nmm, arm_mm;         /* of the loads */
};

static void balance_add(
	struct balance *b, const struct grillage *g, const struct system *s, size_t i)
{
	const struct grillage_node *v = &g->node[i];
	const double *rest = s->rest + PER_NODE * i;
	double dx = v->x_mm - g->node[0].x_mm, dy = v->y_mm - g->node[0].y_mm;
	double carried[PER_NODE];
	for (size_t k = 0; k < PER_NODE; k++)
		carried[k] = carried_find(g, s, i, k);
	double down = v->down_N - carried[DROP];
	double about_x = v->about_x_Nmm - carried[TURN_X];
	double about_y = v->about_y_Nmm - carried[TURN_Y];
	b->down_N += down;
	b->about_x_Nmm += about_x - down * dy;
	b->about_y_Nmm += about_y + down * dx;
	b->node_N = fmax(b->node_N, fabs(down - rest[DROP]));
	b->node_Nmm =
		fmax(b->node_Nmm, fmax(fabs(about_x - rest[TURN_X]), fabs(about_y - rest[TURN_Y])));
	b->size_N += fabs(v->down_N);
	b->size_Nmm += fabs(v->about_x_Nmm) + fabs(v->about_y_Nmm);
	b->arm_mm = fmax(b->arm_mm, fmax(fabs(dx), fabs(dy)));
}

static double balance_lack(const struct grillage *g, const struct system *s)
{
	struct balance b = {0};
	for (size_t i = 0; i < g->nnode; i++)
		balance_add(&b, g, s, i);
	double size_N = b.size_N + b.size_Nmm / b.arm_mm;
	double force = fmax(fabs(b.down_N), b.node_N);
	double moment = fmax(fmax(fabs(b.about_x_Nmm), fabs(b.about_y_Nmm)), b.node_Nmm);
	return size_N > 0 ? (force + moment / b.arm_mm) / size_N : 0;
}

/* What is left of the loads at each node, in place of the forces of the bars. */
static void lack_leave(const struct grillage *g, struct system *s)
{
	for (size_t i = 0; i < s->n; i++) {
		const struct grillage_node *v = &g->node[i / PER_NODE];
		size_t k = i % PER_NODE;
		double lack = load_find(v, k) - s->rest[i] - carried_find(g, s, i / PER_NODE, k);
		s->rest[i] = is_held(v, k) ? 0 : lack;
	}
}

static bool is_finite(const struct system *s)
{
	for (size_t i = 0; i < s->n; i++)
		if (!isfinite(s->x[i]) || !isfinite(s->rest[i]))
			return false;
	return true;
}

/* Solves, and improves the answer by what it lacks of balance, as long as that helps. Stored as
 * one number, a movement of which the bars feel only the last digits would spoil their forces:
 * stiff bars on soft springs move as a plate far more than they bend. So the plate, which the
 * bars do not feel at all, is kept apart. */
static enum bad system_solve(const struct grillage *g, struct system *s, double *residual)
{
	double before = INFINITY, lack;
	band_solve(s->band, s->n, s->width, s->x);
	for (;;) {
		plate_part(g, s);
		forces_gather(g, s);
		if (!is_finite(s))
			return BAD_RANGE;
		lack = balance_lack(g, s);
		if (lack <= 1e-12 || !(lack < before / 2))
			break;
		before = lack;
		lack_leave(g, s);
		band_solve(s->band, s->n, s->width, s->rest);
		for (size_t i = 0; i < s->n; i++)
			s->x[i] += s->rest[i];
	}
	*residual = lack;
	return lack <= 1e-6 ? FINE : BAD_SINGULAR;
}

static void moves_write(
	const struct grillage *g, const struct system *s, struct grillage_move *move)
{
	for (size_t i = 0; i < g->nnode; i++) {
		const double *x = s->x + PER_NODE * i;
		const struct plate *p = &s->plate;
		move[i] = (struct grillage_move){
			.drop_mm = x[DROP] + plate_find(p, &g->node[i], DROP),
			.turn_x_rad = x[TURN_X] + p->turn_x_rad,
			.turn_y_rad = x[TURN_Y] + p->turn_y_rad,
			.carried_N = carried_find(g, s, i, DROP),
			.held_about_x_Nmm = -carried_find(g, s, i, TURN_X),
			.held_about_y_Nmm = -carried_find(g, s, i, TURN_Y),
		};
	}
}

static void forces_write(
	const struct grillage *g, const struct system *s, struct grillage_force *force)
{
	for (size_t i = 0; i < g->nbar; i++) {
		struct element e = element_find(g, i);
		force[i] = force_find(g, s, i, &e);
	}
}

enum bad grillage_solve(const struct grillage *g, double *work, size_t room,
	struct grillage_move *move, struct grillage_force *force, double *residual)
{
	struct system s;
	double lack;
	enum bad code = system_lay(g, work, room, &s);
	if (!code)
		code = bars_add(g, &s);
	if (!code)
		code = nodes_add(g, &s);
	if (!code)
		code = system_factor(&s);
	if (!code)
		code = system_solve(g, &s, &lack);
	if (code)
		return code;
	moves_write(g, &s, move);
	if (force)
		forces_write(g, &s, force);
	if (residual)
		*residual = lack;
	return FINE;
}
