/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The arch seen from the occlusal side: antero-posterior (A-P) spread, cantilever, the bar's
 * centreline.
 *
 * Pure: no state, no memory, no input or output. Everything in mm and rad, in the plane of the
 * platforms; x to the patient's left, y to the front. Which convention a question uses (distal
 * surface or centres, factor, cap) is always an argument, because the sources differ. Heights of
 * the apices, the teeth and the incisal edge play no part: the platform is what counts.
 *
 * Every function that returns a code gives BAD_RANGE for a number that is not finite (unless its
 * comment allows infinity), for a place or radius beyond 1e9 mm and for a result that would not be
 * finite, and leaves its results alone when it fails. */
#ifndef BARWRIGHT_CALC_ARCH_H
#define BARWRIGHT_CALC_ARCH_H

#include <stddef.h>

#include <barwright/base/bad.h>

/* An arch has 16 teeth, so at most 16 sites. */
enum { ARCH_SITES = 16 };

struct arch_point {
	double x_mm, y_mm;
};

/* One implant or abutment: centre and radius of its platform, radius at least 0. */
struct arch_site {
	double x_mm, y_mm, radius_mm;
};

/* ---- A-P spread ------------------------------------------------------------------------------
 *
 * The posterior line touches the distal surface of the most posterior site on each side (their
 * outer common tangent: the radii may differ), or, by the rival convention, goes through their
 * centres. The spread is the distance from the anterior reference to that line, square to it.
 * Sources: distal edge and middle of the most anterior implant: Chung, Chang, Klokkevold in
 * Carranza's Clinical Periodontology, 12th ed. 2015, ch. 74; the concept: English 1990 (from
 * memory, not verified). Centre to centre: common practice. */
enum arch_rule { ARCH_DISTAL_SURFACE, ARCH_CENTRES };

struct arch_spread {
	double spread_mm;           /* the answer: odd count the distance, even count the mean */
	double first_mm, second_mm; /* distance of the two anterior sites, the right one first */
	double largest_mm;          /* the larger of the two */
	size_t first, second; /* their places in the list, from 0; equal when the count is odd */
};

/* Spread of a list of 3 to ARCH_SITES sites that runs round the arch from the patient's right to
 * left, so that the first and the last are the posterior pair.
 *
 * The anterior reference is found among the sites between. Odd count: the centre of the site
 * farthest from the posterior line. Even count: the centres of the two farthest; the two
 * distances are given and their mean is the answer (as the two lines are seldom parallel, there
 * is no one distance between them). Distances that differ by less than 1e-9 mm are a tie, which
 * goes to the site that stands earlier in the list. The distances themselves do not depend on how
 * a tie is broken, and change without a jump when one site comes level with another: only the
 * places jump.
 *
 * BAD_COUNT: fewer than 3 or more than ARCH_SITES. BAD_RANGE: a negative radius. BAD_SINGULAR:
 * the posterior pair do not fix a line (same place, or one circle within the other), or all sites
 * are in one line. BAD_ORDER: a site between lies behind the posterior line or the line through the
 * centres of the posterior pair, as it does when the list runs from left to right. */
enum bad arch_spread(
	const struct arch_site *site, size_t n, enum arch_rule rule, struct arch_spread *out);

/* The same for one anterior centre A, right P and left Q, as plain numbers. Here front is where A
 * is, so P and Q may be exchanged. For an even count take the mean of two calls. Errors as above.
 */
enum bad arch_spread_distal(double a_x_mm, double a_y_mm, double p_x_mm, double p_y_mm,
	double p_radius_mm, double q_x_mm, double q_y_mm, double q_radius_mm, double *spread_mm);
enum bad arch_spread_centres(double a_x_mm, double a_y_mm, double p_x_mm, double p_y_mm,
	double q_x_mm, double q_y_mm, double *spread_mm);

/* ---- cantilever ------------------------------------------------------------------------------ */

/* The smaller of factor times spread and cap, each above 0; cap may be INFINITY. A guideline that
 * was never validated prospectively (Walter and Greenstein, JADA 2020;151(10):790-795). Factor 1.5
 * is ascribed to English 1990, caps are from memory or common practice: not verified. */
enum bad arch_cantilever_limit(double factor, double spread_mm, double cap_mm, double *limit_mm);

/* Cantilever from a bench reading: centre of the terminal hole to the end of the bar, less the
 * radius, because it counts from the distal surface as the spread does. BAD_ORDER: the bar ends
 * before the distal surface. */
enum bad arch_cantilever(double reading_mm, double diameter_mm, double *cantilever_mm);

/* What must come off: cantilever less limit, 0 when it is within. Both at least 0. */
enum bad arch_trim(double cantilever_mm, double limit_mm, double *trim_mm);

/* A cantilever that goes on along a circle: `arc` is measured along it from the terminal site,
 * whose tangent is the axis of bending. With load F at the end, F * bending is the moment and F *
 * torsion the torque at the site. Radius above 0, 0 <= arc <= half the circle, else BAD_RANGE.
 * Plane geometry. */
enum bad arch_chord(double radius_mm, double arc_mm, double *chord_mm);
enum bad arch_bending_arm(double radius_mm, double arc_mm, double *arm_mm);
enum bad arch_torsion_arm(double radius_mm, double arc_mm, double *arm_mm);

/* The cantilever, as a multiple of the centre-to-centre spread, at which the compression of the
 * terminal site reaches `limit` under `load` just beyond it: a rigid bridge on equal springs.
 * Three sites, the middle one on the midline; four sites, the anterior pair half_front to each
 * side of the midline and the posterior pair half_back. BAD_RANGE: load, limit or half_back not
 * above 0, half_front below 0. Model: Skalak 1983, J Prosthet Dent 49:843-848 (equations from
 * memory). Compare McAlarney and Stavropoulos 1996, Int J Oral Maxillofac Implants 11(3):331-339:
 * 0.5 to 1.8 with 3 implants, 0.7 to 1.6 with 4. May be negative: the load alone is too much. */
enum bad arch_ratio_three(double load_N, double limit_N, double *ratio);
enum bad arch_ratio_four(
	double load_N, double limit_N, double half_front_mm, double half_back_mm, double *ratio);

/* ---- the bar's centreline --------------------------------------------------------------------
 *
 * A smooth curve through the centres in their order: cubic Bessel interpolation (C. de Boor, A
 * Practical Guide to Splines, 1978, ch. IV; from memory, not verified) of x and y over the summed
 * straight distances. Its direction at a site is that of the parabola through the site and its
 * neighbours, which is also the direction of the circle through the three; at the first and last
 * site that of the parabola through the three sites at that end. Beyond them the bar goes on
 * straight.
 *
 * Chosen because it is local, turns and mirrors with the sites, does not overshoot on an arch, and
 * because its straight ends came closest to classical arch forms (parabola, catenary, half
 * ellipse) among four ways tried: within 1.6 mm after 12 mm with four or more sites. */
struct arch_curve {
	size_t n;
	struct arch_site site[ARCH_SITES];
	struct arch_point slope[ARCH_SITES]; /* d(x, y)/d(knot) */
	double knot[ARCH_SITES];             /* summed straight distances */
	double along_mm[ARCH_SITES];         /* length of the curve from the first centre */
};

/* A place on the centreline. dx, dy: unit direction of growing s, from right to left. */
struct arch_place {
	double x_mm, y_mm, dx, dy;
};

struct arch_span {
	double centre_mm; /* straight, centre to centre */
	double clear_mm;  /* straight, surface to surface */
	double along_mm;  /* along the curve, centre to centre */
};

enum arch_end { ARCH_RIGHT, ARCH_LEFT };

/* Two sites (a straight bar) to ARCH_SITES. BAD_COUNT; BAD_RANGE for a negative radius or
 * neighbours that overlap; BAD_SINGULAR when two neighbours share a place or the bar would fold
 * back on itself. */
enum bad arch_curve_init(struct arch_curve *c, const struct arch_site *site, size_t n);

/* Length from the first centre to the last. */
double arch_curve_length(const struct arch_curve *c);

/* From site i to i + 1; i + 1 < n, else BAD_COUNT. */
enum bad arch_curve_span(const struct arch_curve *c, size_t i, struct arch_span *out);

/* The place s mm along the bar from the centre of the first site; s below 0 or above the length
 * lies on the straight ends. */
enum bad arch_curve_at(const struct arch_curve *c, double s_mm, struct arch_place *out);

/* s of the bar's end: `extension` mm (at least 0) along the bar from the distal surface of the
 * first (right) or last (left) site. Negative on the right. */
enum bad arch_curve_end(
	const struct arch_curve *c, enum arch_end end, double extension_mm, double *s_mm);

#endif
