/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/cement.h>

#include <math.h>

#include "calc/numbers.h"

static bool is_count(double n)
{
	return isfinite(n) && n >= 1 && n == floor(n);
}

enum bad cement_film(double hole_mm, double cylinder_mm, double *film_mm)
{
	if (!is_from_0(hole_mm) || !is_from_0(cylinder_mm))
		return BAD_RANGE;
	if (hole_mm < cylinder_mm)
		return BAD_ORDER;
	return result_give((hole_mm - cylinder_mm) / 2, film_mm);
}

enum bad cement_volume(double hole_mm, double cylinder_mm, double height_mm, double sites,
	double waste, double *volume_mm3)
{
	if (!is_from_0(hole_mm) || !is_from_0(cylinder_mm) || !is_from_0(height_mm) ||
		!is_count(sites) || !is_from_0(waste))
		return BAD_RANGE;
	if (hole_mm < cylinder_mm)
		return BAD_ORDER;
	double ring = (hole_mm - cylinder_mm) * (hole_mm + cylinder_mm);
	return result_give(sites * pi / 4 * ring * height_mm * (1 + waste), volume_mm3);
}

enum bad cement_area_lost(double full_mm, double engaged_mm, double *share)
{
	if (!is_above_0(full_mm) || !is_from_0(engaged_mm))
		return BAD_RANGE;
	if (engaged_mm > full_mm)
		return BAD_ORDER;
	return result_give(1 - engaged_mm / full_mm, share);
}

enum bad cement_blast_area(
	double hole_mm, double cylinder_mm, double height_mm, double sites, double *area_mm2)
{
	if (!is_from_0(hole_mm) || !is_from_0(cylinder_mm) || !is_from_0(height_mm) ||
		!is_count(sites))
		return BAD_RANGE;
	return result_give(sites * pi * (hole_mm + cylinder_mm) * height_mm, area_mm2);
}

enum bad cement_blast_time(double area_mm2, double dose_s_per_mm2, double *time_s)
{
	if (!is_from_0(area_mm2) || !is_from_0(dose_s_per_mm2))
		return BAD_RANGE;
	return result_give(area_mm2 * dose_s_per_mm2, time_s);
}
