/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/space.h>

#include <math.h>

#include "calc/numbers.h"

#define SLACK SPACE_SLACK_mm

static bool is_tilt(double rad)
{
	static const double most = 3.14159265358979323846 / 3;

	return fabs(rad) <= most + 1e-12;
}

/* ---- plain numbers --------------------------------------------------------------------------- */

enum bad space_gap(double tissue_mm, double clearance_mm, double *gap_mm)
{
	if (!is_from_0(tissue_mm) || !is_from_0(clearance_mm))
		return BAD_RANGE;
	return result_give(tissue_mm + clearance_mm, gap_mm);
}

enum bad space_thickness(double matrix_mm, double gap_mm, double opaque_mm, double resin_mm,
	double tooth_mm, double *thickness_mm)
{
	if (!isfinite(matrix_mm) || !is_from_0(gap_mm) || !is_from_0(opaque_mm) ||
		!is_from_0(resin_mm) || !is_from_0(tooth_mm))
		return BAD_RANGE;
	return result_give(matrix_mm - gap_mm - opaque_mm - resin_mm - tooth_mm, thickness_mm);
}

/* The thickest legal stock that fits and the thinnest legal one; 0 where there is none. */
static enum bad stock_search(double available_mm, double minimum_mm, const double *stock_mm,
	size_t n, double *fitting, double *thinnest)
{
	if (!isfinite(available_mm) || !is_above_0(minimum_mm))
		return BAD_RANGE;
	*fitting = *thinnest = 0;
	for (size_t i = 0; i < n; i++) {
		double s = stock_mm[i];

		if (!is_above_0(s))
			return BAD_RANGE;
		if (s < minimum_mm - SLACK)
			continue;
		if (*thinnest == 0 || s < *thinnest)
			*thinnest = s;
		if (s <= available_mm + SLACK && s > *fitting)
			*fitting = s;
	}
	return FINE;
}

enum bad space_stock(
	double available_mm, double minimum_mm, const double *stock_mm, size_t n, double *chosen_mm)
{
	double fitting, thinnest;
	enum bad code = stock_search(available_mm, minimum_mm, stock_mm, n, &fitting, &thinnest);

	if (code)
		return code;
	if (fitting == 0)
		return BAD_NOTHING;
	return result_give(fitting, chosen_mm);
}

enum bad space_shortfall(double available_mm, double minimum_mm, const double *stock_mm, size_t n,
	double *shortfall_mm)
{
	double fitting, thinnest;
	enum bad code = stock_search(available_mm, minimum_mm, stock_mm, n, &fitting, &thinnest);

	if (code)
		return code;
	double need = thinnest > 0 ? thinnest : minimum_mm;
	return result_give(fitting > 0 ? 0 : fmax(need - available_mm, 0), shortfall_mm);
}

enum bad space_margin(double measured_mm, double minimum_mm, double *margin_mm)
{
	if (!is_from_0(measured_mm) || !is_from_0(minimum_mm))
		return BAD_RANGE;
	return result_give(measured_mm - minimum_mm, margin_mm);
}

enum bad space_along(double height_mm, double tilt_rad, double *length_mm)
{
	if (!is_from_0(height_mm) || !is_tilt(tilt_rad))
		return BAD_RANGE;
	return result_give(height_mm / cos(tilt_rad), length_mm);
}

enum bad space_cut_down(double cylinder_mm, double gap_mm, double thickness_mm,
	double protrusion_mm, double tilt_rad, double *cut_mm)
{
	if (!is_from_0(cylinder_mm) || !is_from_0(gap_mm) || !is_from_0(thickness_mm) ||
		!isfinite(protrusion_mm) || !is_tilt(tilt_rad))
		return BAD_RANGE;
	double keep = gap_mm + thickness_mm + protrusion_mm;
	if (!(keep > 0))
		return BAD_ORDER;
	return result_give(fmax(cylinder_mm - keep / cos(tilt_rad), 0), cut_mm);
}

enum bad space_first_cut(double final_mm, double allowance_mm, double *first_mm)
{
	if (!is_from_0(final_mm) || !is_from_0(allowance_mm))
		return BAD_RANGE;
	if (allowance_mm > final_mm + SLACK)
		return BAD_ORDER;
	return result_give(fmax(final_mm - allowance_mm, 0), first_mm);
}

enum bad space_cover_limit(double matrix_mm, double cover_mm, double *limit_mm)
{
	if (!isfinite(matrix_mm) || !is_from_0(cover_mm))
		return BAD_RANGE;
	if (!(matrix_mm - cover_mm > 0))
		return BAD_ORDER;
	return result_give(matrix_mm - cover_mm, limit_mm);
}

enum bad space_cover_margin(double kept_mm, double matrix_mm, double cover_mm, double *margin_mm)
{
	double limit;

	if (!is_from_0(kept_mm))
		return BAD_RANGE;
	enum bad code = space_cover_limit(matrix_mm, cover_mm, &limit);
	return code ? code : result_give(limit - kept_mm, margin_mm);
}

enum bad space_engaged(double kept_mm, double gap_mm, double thickness_mm, double *engaged_mm)
{
	if (!is_from_0(kept_mm) || !is_from_0(gap_mm) || !is_from_0(thickness_mm))
		return BAD_RANGE;
	return result_give(fmax(fmin(thickness_mm, kept_mm - gap_mm), 0), engaged_mm);
}

enum bad space_build_up(double required_mm, double thickness_mm, double *build_up_mm)
{
	if (!is_from_0(required_mm) || !is_from_0(thickness_mm))
		return BAD_RANGE;
	return result_give(fmax(required_mm - thickness_mm, 0), build_up_mm);
}

/* ---- a case, site by site -------------------------------------------------------------------- */

static enum bad site_check(const struct space_site *s, const struct space_layers *l)
{
	if (!isfinite(s->platform_mm) || !isfinite(s->tissue_mm) || !isfinite(s->matrix_mm) ||
		!is_from_0(s->cylinder_mm) || !is_tilt(s->tilt_rad))
		return BAD_RANGE;
	if (!is_from_0(l->clearance_mm) || !is_from_0(l->opaque_mm) || !is_from_0(l->resin_mm) ||
		!is_from_0(l->tooth_mm) || !is_from_0(l->cover_mm) || !isfinite(l->protrusion_mm))
		return BAD_RANGE;
	return s->tissue_mm < s->matrix_mm ? FINE : BAD_ORDER;
}

/* Of the bar over this site, above the datum. */
static enum bad site_underside(
	const struct space_site *site, const struct space_layers *layers, double *underside_mm)
{
	enum bad code = site_check(site, layers);

	return code ? code : result_give(site->tissue_mm + layers->clearance_mm, underside_mm);
}

enum bad space_site_available(
	const struct space_site *site, const struct space_layers *layers, double *available_mm)
{
	double underside;
	enum bad code = site_underside(site, layers, &underside);

	return code ? code
		    : result_give(site->matrix_mm - underside - layers->opaque_mm -
					  layers->resin_mm - layers->tooth_mm,
			      available_mm);
}

enum bad space_governing(const struct space_site *site, size_t n, const struct space_layers *layers,
	size_t *governing, double *available_mm, size_t *at)
{
	double least = INFINITY;
	size_t where = 0;

	if (n == 0)
		return BAD_COUNT;
	for (size_t i = 0; i < n; i++) {
		double here;
		enum bad code = space_site_available(&site[i], layers, &here);

		if (code && at)
			*at = i;
		if (code)
			return code;
		if (here < least - SLACK)
			least = here, where = i;
	}
	*governing = where;
	*available_mm = least;
	return FINE;
}

enum bad space_site_cut(const struct space_site *site, const struct space_layers *layers,
	double thickness_mm, struct space_cut *out)
{
	double under;
	enum bad code = site_underside(site, layers, &under);

	if (code)
		return code;
	if (!is_from_0(thickness_mm))
		return BAD_RANGE;
	double bar_top = under + thickness_mm;
	double by_bar = bar_top + layers->protrusion_mm;
	double by_cover = site->matrix_mm - layers->cover_mm;
	double wanted = fmin(by_bar, by_cover);
	if (!(wanted > site->platform_mm))
		return BAD_ORDER;
	double cosine = cos(site->tilt_rad);
	double keep = (wanted - site->platform_mm) / cosine; /* along the cylinder */
	double top = fmin(wanted, site->platform_mm + site->cylinder_mm * cosine);
	double engaged = fmin(top, bar_top) - fmax(site->platform_mm, under);
	engaged = fmax(fmin(engaged, thickness_mm), 0); /* rounding must not pass the bar */
	*out = (struct space_cut){
		.underside_mm = under,
		.top_mm = top,
		.cut_mm = fmax(site->cylinder_mm - keep, 0),
		.engaged_mm = engaged,
		.short_mm = thickness_mm - engaged,
		.protrusion_mm = top - bar_top,
		.is_covered = by_cover < by_bar - SLACK,
		.is_too_short = site->cylinder_mm < keep - SLACK,
	};
	return FINE;
}
