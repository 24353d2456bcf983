/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vertical space: what is left for the bar, which stock fits, where the cylinders are cut.
 *
 * Pure: no state, no memory, no input or output. Heights in mm above one datum, growing towards
 * the opposing teeth; tilt in rad, up to 60 degrees either way. Sums and differences are common
 * practice of the trade; the numbers that go in (3.5 mm minimum, cover, layers) are course
 * values.
 *
 * Every function that returns a code gives BAD_RANGE for a number or result that is not finite or a
 * layer below 0, and leaves its results alone when it fails. Comparisons forgive SPACE_SLACK_mm, which
 * is the rounding of sums of decimals and far below any instrument. */
#ifndef BARWRIGHT_CALC_SPACE_H
#define BARWRIGHT_CALC_SPACE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>

#define SPACE_SLACK_mm 1e-9

/* ---- plain numbers --------------------------------------------------------------------------- */

/* Height of the bar's underside above the platform from readings over the tissue: tissue +
 * clearance. */
enum bad space_gap(double tissue_mm, double clearance_mm, double *gap_mm);

/* Thickness left for the bar: matrix - gap - opaque - resin - tooth. May be negative. */
enum bad space_thickness(double matrix_mm, double gap_mm, double opaque_mm, double resin_mm,
	double tooth_mm, double *thickness_mm);

/* The thickest stock that fits `available` and is not under `minimum`. The list need not be sorted.
 * BAD_NOTHING: no such stock: refer back. BAD_RANGE: a stock or the minimum not above 0. */
enum bad space_stock(double available_mm, double minimum_mm, const double *stock_mm, size_t n,
	double *chosen_mm);
/* What is missing to the thinnest legal stock (to the minimum when none is legal); 0 when it
 * fits. */
enum bad space_shortfall(double available_mm, double minimum_mm, const double *stock_mm, size_t n,
	double *shortfall_mm);

/* Measured space less a published minimum; negative: too little. The 15 mm of a screw-retained
 * hybrid and the others of Carpentieri, Greenstein, Cavallaro 2019, JADA, from platform or abutment
 * to the opposing surface: screw-retained at implant level 4 (to 5), at abutment level 7.5, bar
 * overdenture 11, hybrid 15. */
enum bad space_margin(double measured_mm, double minimum_mm, double *margin_mm);
#define SPACE_MIN_IMPLANT_LEVEL_mm   4.0
#define SPACE_MIN_ABUTMENT_LEVEL_mm  7.5
#define SPACE_MIN_BAR_OVERDENTURE_mm 11.0
#define SPACE_MIN_HYBRID_mm          15.0

/* Length along an axis tilted from the vertical: height / cos(tilt). */
enum bad space_along(double height_mm, double tilt_rad, double *length_mm);

/* Cut-down of a cylinder that stands on the platform: cylinder - (gap + thickness +
 * protrusion)/cos(tilt), at least 0. Protrusion may be negative (sunk). BAD_ORDER: nothing of it
 * would be left to keep. */
enum bad space_cut_down(double cylinder_mm, double gap_mm, double thickness_mm,
	double protrusion_mm, double tilt_rad, double *cut_mm);
/* The first of two cuts leaves `allowance` for the second: final - allowance. BAD_ORDER when the
 * allowance is larger than the final cut. */
enum bad space_first_cut(double final_mm, double allowance_mm, double *first_mm);

/* Highest top a cylinder may have under `cover` mm of resin to the matrix: matrix - cover.
 * BAD_ORDER when that lies at or below 0. */
enum bad space_cover_limit(double matrix_mm, double cover_mm, double *limit_mm);
/* Limit less kept height: negative when it stands too high. */
enum bad space_cover_margin(double kept_mm, double matrix_mm, double cover_mm, double *margin_mm);

/* Height over which sleeve and bar overlap: min(thickness, kept - gap), at least 0. */
enum bad space_engaged(double kept_mm, double gap_mm, double thickness_mm, double *engaged_mm);
/* What the bar must be built up at the sleeve to engage `required`: required - thickness, at
 * least 0. */
enum bad space_build_up(double required_mm, double thickness_mm, double *build_up_mm);

/* ---- a case, site by site -------------------------------------------------------------------- */

/* Heights above the datum; the cylinder's length is counted from its platform along its own axis.
 */
struct space_site {
	double platform_mm;
	double tissue_mm; /* top of the tissue */
	double matrix_mm; /* inner surface of the matrix */
	double cylinder_mm;
	double tilt_rad;
};

struct space_layers {
	double clearance_mm, opaque_mm, resin_mm, tooth_mm, cover_mm, protrusion_mm;
};

/* Thickness left at this site over the bar's underside, which lies at tissue + clearance; may be
 * negative. BAD_ORDER: the tissue's top is not below the matrix. */
enum bad space_site_available(
	const struct space_site *site, const struct space_layers *layers, double *available_mm);

/* The site with the least space governs; on a tie (to SPACE_SLACK_mm) the one that stands earlier.
 * BAD_COUNT: no site. On an error *at tells which site it was, if `at` is not null. */
enum bad space_governing(const struct space_site *site, size_t n, const struct space_layers *layers,
	size_t *governing, double *available_mm, size_t *at);

struct space_cut {
	double underside_mm;  /* of the bar, above the datum */
	double top_mm;        /* of the cylinder after the cut, above the datum */
	double cut_mm;        /* off the cylinder, along its own axis; 0 when it is short anyhow */
	double engaged_mm;    /* height over which sleeve and bar overlap */
	double short_mm;      /* bar height that is not engaged: thickness - engaged */
	double protrusion_mm; /* of the cylinder over the bar; negative: it ends within or below */
	bool is_covered;      /* the cover, not the bar's top, decided where it is cut */
	bool is_too_short;    /* the uncut cylinder does not reach where it should end */
};

/* Where the cylinder of this site is cut for a bar of this thickness: at the bar's top plus the
 * protrusion, never above matrix - cover, and never longer than it is. BAD_ORDER: as above, or the
 * cover leaves no room over the platform. */
enum bad space_site_cut(const struct space_site *site, const struct space_layers *layers,
	double thickness_mm, struct space_cut *out);

#endif
