/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/beam.h>

#include <math.h>

#include "calc/numbers.h"

/* Coefficients on the whole load W: moments W L, forces W, slope W L^2/EI, drops W L^3/EI, shear
 * drop W L/kGA, place L. For a uniform load W = w L, so w L^4/8EI reads W L^3/8EI. */
struct coefficients {
	double hogging, sagging, prop, slope, bend, shear, at, middle;
};
/* Propped, force in the middle: greatest drop 1/(48 sqrt 5) at L/sqrt 5 from the prop. Propped,
 * uniform: drop x(1 - 3x^2 + 2x^3)/48, greatest at (1 + sqrt 33)/16. */
static const struct coefficients coefficients[BEAM_CASES] = {
	[BEAM_CANTILEVER_END] = {1, 0, 0, 1. / 2, 1. / 3, 1, 1, 5. / 48},
	[BEAM_CANTILEVER_UNIFORM] = {1. / 2, 0, 0, 1. / 6, 1. / 8, 1. / 2, 1, 17. / 384},
	[BEAM_SIMPLE_CENTRE] = {0, 1. / 4, 1. / 2, 1. / 16, 1. / 48, 1. / 4, 1. / 2, 1. / 48},
	[BEAM_SIMPLE_UNIFORM] = {0, 1. / 8, 1. / 2, 1. / 24, 5. / 384, 1. / 8, 1. / 2, 5. / 384},
	[BEAM_FIXED_CENTRE] = {1. / 8, 1. / 8, 0, 0, 1. / 192, 1. / 4, 1. / 2, 1. / 192},
	[BEAM_FIXED_UNIFORM] = {1. / 12, 1. / 24, 0, 0, 1. / 384, 1. / 8, 1. / 2, 1. / 384},
	[BEAM_PROPPED_CENTRE] = {3. / 16, 5. / 32, 5. / 16, 1. / 32, 0.009316949906249123, 0,
		0.4472135954999579, 7. / 768},
	[BEAM_PROPPED_UNIFORM] = {1. / 8, 9. / 128, 3. / 8, 1. / 48, 0.0054161216058287295, 0,
		0.4215351654086268, 1. / 192},
};

enum bad beam_single(
	enum beam_case which, const struct beam *b, double total_N, struct beam_answer *out)
{
	if ((unsigned)which >= BEAM_CASES || !is_above_0(b->length_mm) ||
		!is_above_0(b->bend_Nmm2) || !is_from_0(b->shear_N) || !isfinite(total_N))
		return BAD_RANGE;
	const struct coefficients *c = &coefficients[which];
	if (b->shear_N > 0 && c->shear == 0)
		return BAD_RANGE;
	double l = b->length_mm, w = total_N, turn = w * l * l / b->bend_Nmm2;
	struct beam_answer a = {
		.hogging_Nmm = c->hogging * w * l,
		.sagging_Nmm = c->sagging * w * l,
		.prop_N = c->prop * w,
		.slope_rad = c->slope * turn,
		.bend_mm = c->bend * turn * l,
		.shear_mm = b->shear_N > 0 ? c->shear * w * l / b->shear_N : 0,
		.at_mm = c->at * l,
		.middle_mm = c->middle * turn * l,
	};
	if (!isfinite(w * l) || !isfinite(a.bend_mm) || !isfinite(a.shear_mm))
		return BAD_RANGE;
	*out = a;
	return FINE;
}

/* ---- continuous beams ------------------------------------------------------------------------ */

/* One span with the moments at its ends (sagging positive): bending moment at x from the left
 * end is left + shear x - w x^2/2 - P <x - a>, and E I v' = slope - its integral. */
struct bent {
	const struct beam_span *load;
	double left, shear, slope;
};

static bool is_span(const struct beam_span *s)
{
	return is_above_0(s->length_mm) && isfinite(s->uniform_N_per_mm) && isfinite(s->point_N) &&
	       s->point_at_mm >= 0 && s->point_at_mm <= s->length_mm;
}

static bool is_end(const struct beam_end *e)
{
	return is_from_0(e->length_mm) && isfinite(e->force_N) &&
	       (e->length_mm > 0 || e->force_N == 0);
}

static enum bad line_check(const struct beam_line *b)
{
	if (b->nspan < 1 || b->nspan > BEAM_SPANS)
		return BAD_COUNT;
	if (!is_above_0(b->bend_Nmm2) || !is_end(&b->left) || !is_end(&b->right))
		return BAD_RANGE;
	for (size_t i = 0; i < b->nspan; i++)
		if (!is_span(&b->span[i]))
			return BAD_RANGE;
	return FINE;
}

/* Six times the turn that the loads of a span would give its right (left) end, were it alone,
 * times EI. */
static double right_term(const struct beam_span *s)
{
	double l = s->length_mm, a = s->point_at_mm;
	return s->uniform_N_per_mm * l * l * l / 4 + s->point_N * a * (l * l - a * a) / l;
}

static double left_term(const struct beam_span *s)
{
	double l = s->length_mm, b = l - s->point_at_mm;
	return s->uniform_N_per_mm * l * l * l / 4 + s->point_N * b * (l * l - b * b) / l;
}

/* M(i-1) L(i) + 2 M(i) [L(i) + L(i+1)] + M(i+1) L(i+1) = -right term - left term at each inner
 * support; three diagonals, so elimination downwards and back. m[0] and m[n] stand fixed. */
static void moments_solve(const struct beam_span *span, size_t n, double *m)
{
	double diagonal[BEAM_SPANS], right[BEAM_SPANS];
	for (size_t i = 1; i < n; i++) {
		double before = span[i - 1].length_mm;
		diagonal[i] = 2 * (before + span[i].length_mm);
		right[i] = -right_term(&span[i - 1]) - left_term(&span[i]);
		if (i == 1) {
			right[i] -= m[0] * before;
		} else {
			diagonal[i] -= before * before / diagonal[i - 1];
			right[i] -= right[i - 1] * before / diagonal[i - 1];
		}
	}
	for (size_t i = n - 1; i >= 1; i--)
		m[i] = (right[i] - m[i + 1] * span[i].length_mm) / diagonal[i];
}

static struct bent bent_find(const struct beam_span *s, double left, double right)
{
	double l = s->length_mm, b = l - s->point_at_mm, w = s->uniform_N_per_mm;
	double shear = w * l / 2 + s->point_N * b / l + (right - left) / l;
	double slope = left * l / 2 + shear * l * l / 6 - w * l * l * l / 24 -
		       s->point_N * b * b * b / (6 * l);
	return (struct bent){s, left, shear, slope};
}

static double bent_moment(const struct bent *b, double x)
{
	double past = fmax(x - b->load->point_at_mm, 0);
	return b->left + b->shear * x - b->load->uniform_N_per_mm * x * x / 2 -
	       b->load->point_N * past;
}

/* E I times slope and drop. */
static double bent_slope(const struct bent *b, double x)
{
	double past = fmax(x - b->load->point_at_mm, 0);
	return b->slope - b->left * x - b->shear * x * x / 2 +
	       b->load->uniform_N_per_mm * x * x * x / 6 + b->load->point_N * past * past / 2;
}

static double bent_drop(const struct bent *b, double x)
{
	double past = fmax(x - b->load->point_at_mm, 0);
	return b->slope * x - b->left * x * x / 2 - b->shear * x * x * x / 6 +
	       b->load->uniform_N_per_mm * x * x * x * x / 24 +
	       b->load->point_N * past * past * past / 6;
}

/* Places worth looking at, in order, from 0 to the length. */
struct places {
	double x[8];
	size_t n;
};

static void place_add(struct places *p, double x, double from, double to)
{
	size_t i = p->n;
	if (!(x >= from) || !(x <= to))
		return;
	for (; i > 0 && p->x[i - 1] > x; i--)
		p->x[i] = p->x[i - 1];
	p->x[i] = x;
	p->n++;
}

/* Real roots of c + b x - w x^2/2 within from..to. The first is the one that does not cancel;
 * without w it is infinite and falls away, and the other is -c/b. */
static void roots_add(struct places *p, double c, double b, double w, double from, double to)
{
	double under = b * b + 2 * w * c;
	if (under < 0)
		return;
	double sum = b + copysign(sqrt(under), b);
	place_add(p, sum / w, from, to);
	place_add(p, -2 * c / sum, from, to);
}

/* The sagging moment is greatest at an end, under the force or where the shear is nothing. */
static void sagging_find(const struct bent *b, double *most_Nmm, double *at_mm)
{
	double l = b->load->length_mm, a = b->load->point_at_mm, w = b->load->uniform_N_per_mm;
	struct places p = {{0, l}, 2};
	place_add(&p, a, 0, l);
	if (w != 0) {
		place_add(&p, b->shear / w, 0, a);
		place_add(&p, (b->shear - b->load->point_N) / w, a, l);
	}
	*at_mm = 0;
	for (size_t i = 1; i < p.n; i++)
		if (bent_moment(b, p.x[i]) > bent_moment(b, *at_mm))
			*at_mm = p.x[i];
	*most_Nmm = bent_moment(b, *at_mm);
}

/* Where the slope is nothing between two places with nothing but a steady fall or rise between. */
static double level_find(const struct bent *b, double from, double to)
{
	bool rises = bent_slope(b, from) < 0;
	for (int i = 0; i < 60; i++) {
		double middle = from + (to - from) / 2;
		if ((bent_slope(b, middle) < 0) == rises)
			from = middle;
		else
			to = middle;
	}
	return from;
}

/* Between neighbouring zeros of the moment the slope only rises or only falls, so at most one
 * level place lies between them. */
static void drop_find(const struct bent *b, double *drop, double *at_mm)
{
	double l = b->load->length_mm, a = b->load->point_at_mm, w = b->load->uniform_N_per_mm;
	double point = b->load->point_N;
	struct places p = {{0, l}, 2};
	roots_add(&p, b->left, b->shear, w, 0, a);
	roots_add(&p, b->left + point * a, b->shear - point, w, a, l);
	*at_mm = 0;
	for (size_t i = 1; i < p.n; i++) {
		double x = level_find(b, p.x[i - 1], p.x[i]);
		if (fabs(bent_drop(b, x)) > fabs(bent_drop(b, *at_mm)))
			*at_mm = x;
	}
	*drop = bent_drop(b, *at_mm);
}

/* A finite sum of magnitudes has finite parts. */
static bool is_line_answer(const struct beam_line_answer *a, size_t n)
{
	double sum = fabs(a->left_tip_mm) + fabs(a->right_tip_mm);
	for (size_t i = 0; i <= n; i++)
		sum += fabs(a->carried_N[i]) + fabs(a->moment_Nmm[i]);
	for (size_t i = 0; i < n; i++)
		sum += fabs(a->span[i].sagging_Nmm) + fabs(a->span[i].drop_mm);
	return isfinite(sum);
}

static double tip_drop(const struct beam_end *e, double slope_out, double bend)
{
	double a = e->length_mm;
	return (slope_out * a + e->force_N * a * a * a / 3) / bend;
}

enum bad beam_continuous(const struct beam_line *b, struct beam_line_answer *out)
{
	struct beam_line_answer r = {0};
	enum bad code = line_check(b);
	if (code)
		return code;
	size_t n = b->nspan;
	r.moment_Nmm[0] = -b->left.force_N * b->left.length_mm;
	r.moment_Nmm[n] = -b->right.force_N * b->right.length_mm;
	moments_solve(b->span, n, r.moment_Nmm);
	r.carried_N[0] = b->left.force_N;
	r.carried_N[n] = b->right.force_N;
	for (size_t i = 0; i < n; i++) {
		const struct beam_span *s = &b->span[i];
		struct bent t = bent_find(s, r.moment_Nmm[i], r.moment_Nmm[i + 1]);
		r.carried_N[i] += t.shear;
		r.carried_N[i + 1] += s->uniform_N_per_mm * s->length_mm + s->point_N - t.shear;
		sagging_find(&t, &r.span[i].sagging_Nmm, &r.span[i].sagging_at_mm);
		drop_find(&t, &r.span[i].drop_mm, &r.span[i].drop_at_mm);
		r.span[i].drop_mm /= b->bend_Nmm2;
		if (i == 0)
			r.left_tip_mm = tip_drop(&b->left, -t.slope, b->bend_Nmm2);
		if (i == n - 1)
			r.right_tip_mm =
				tip_drop(&b->right, bent_slope(&t, s->length_mm), b->bend_Nmm2);
	}
	if (!is_line_answer(&r, n))
		return BAD_RANGE;
	*out = r;
	return FINE;
}

/* ---- springs, changes, sizes ----------------------------------------------------------------- */

enum bad beam_three_springs(double force_N, double span_mm, double bend_Nmm2,
	double spring_N_per_mm, struct beam_springs *out)
{
	if (!is_above_0(force_N) || !is_above_0(span_mm) || !is_above_0(bend_Nmm2) ||
		!is_above_0(spring_N_per_mm))
		return BAD_RANGE;
	double lambda = spring_N_per_mm * span_mm * span_mm * span_mm / (3 * bend_Nmm2);
	double end = force_N / (3 + lambda);
	if (!isfinite(lambda))
		return BAD_RANGE;
	*out = (struct beam_springs){lambda, end, force_N - 2 * end};
	return FINE;
}

enum bad beam_on_bed(double force_N, double bend_Nmm2, double bed_N_per_mm2, struct beam_bed *out)
{
	if (!is_above_0(force_N) || !is_above_0(bend_Nmm2) || !is_above_0(bed_N_per_mm2))
		return BAD_RANGE;
	double lambda = sqrt(sqrt(bed_N_per_mm2 / (4 * bend_Nmm2)));
	struct beam_bed b = {
		.lambda_per_mm = lambda,
		.drop_mm = force_N * lambda / (2 * bed_N_per_mm2),
		.moment_Nmm = force_N / (4 * lambda),
		.end_drop_mm = 2 * force_N * lambda / bed_N_per_mm2,
	};
	if (!isfinite(b.end_drop_mm) || !isfinite(b.moment_Nmm))
		return BAD_RANGE;
	*out = b;
	return FINE;
}

enum bad beam_change_factors(const struct beam_change *c, double *drop, double *stress)
{
	if (!is_above_0(c->span) || !is_above_0(c->height) || !is_above_0(c->width) ||
		!is_above_0(c->modulus))
		return BAD_RANGE;
	double slim = c->span / c->height;
	double drops = slim * slim * slim / (c->width * c->modulus);
	double stresses = slim / (c->height * c->width);
	if (!isfinite(drops) || !isfinite(stresses))
		return BAD_RANGE;
	*drop = drops;
	*stress = stresses;
	return FINE;
}

enum bad beam_height_for_strength(double force_N, double length_mm, double width_mm,
	double allowed_MPa, double safety, double *height_mm)
{
	if (!is_above_0(force_N) || !is_above_0(length_mm) || !is_above_0(width_mm) ||
		!is_above_0(allowed_MPa) || !is_above_0(safety))
		return BAD_RANGE;
	return result_give(
		sqrt(6 * force_N * length_mm * safety / (width_mm * allowed_MPa)), height_mm);
}

enum bad beam_height_for_drop(double force_N, double length_mm, double width_mm, double modulus_MPa,
	double allowed_mm, double *height_mm)
{
	if (!is_above_0(force_N) || !is_above_0(length_mm) || !is_above_0(width_mm) ||
		!is_above_0(modulus_MPa) || !is_above_0(allowed_mm))
		return BAD_RANGE;
	return result_give(
		length_mm * cbrt(4 * force_N / (modulus_MPa * width_mm * allowed_mm)), height_mm);
}

enum bad beam_length_for_strength(double force_N, double width_mm, double height_mm,
	double allowed_MPa, double safety, double *length_mm)
{
	if (!is_above_0(force_N) || !is_above_0(width_mm) || !is_above_0(height_mm) ||
		!is_above_0(allowed_MPa) || !is_above_0(safety))
		return BAD_RANGE;
	return result_give(
		width_mm * height_mm * height_mm * allowed_MPa / (6 * force_N * safety), length_mm);
}

enum bad beam_height_as_stiff(
	double height_mm, double modulus_MPa, double other_MPa, double *height_mm_other)
{
	if (!is_above_0(height_mm) || !is_above_0(modulus_MPa) || !is_above_0(other_MPa))
		return BAD_RANGE;
	return result_give(height_mm * cbrt(modulus_MPa / other_MPa), height_mm_other);
}
