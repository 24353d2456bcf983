/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdbool.h>

#include <barwright/calc/cement.h>

static const double pi = 3.14159265358979323846;

static bool is_length(double mm)
{
	return isfinite(mm) && mm >= 0;
}

static bool is_count(double n)
{
	return isfinite(n) && n >= 1 && n == floor(n);
}

enum bad cement_film(double hole_mm, double cylinder_mm, double *film_mm)
{
	if (!is_length(hole_mm) || !is_length(cylinder_mm))
		return BAD_RANGE;
	if (hole_mm < cylinder_mm)
		return BAD_ORDER;
	*film_mm = (hole_mm - cylinder_mm) / 2;
	return FINE;
}

enum bad cement_volume(double hole_mm, double cylinder_mm, double height_mm, double sites,
	double waste, double *volume_mm3)
{
	if (!is_length(hole_mm) || !is_length(cylinder_mm) || !is_length(height_mm) ||
		!is_count(sites) || !is_length(waste))
		return BAD_RANGE;
	if (hole_mm < cylinder_mm)
		return BAD_ORDER;
	double ring = (hole_mm - cylinder_mm) * (hole_mm + cylinder_mm);
	*volume_mm3 = sites * pi / 4 * ring * height_mm * (1 + waste);
	return FINE;
}

enum bad cement_area_lost(double full_mm, double engaged_mm, double *share)
{
	if (!is_length(full_mm) || !(full_mm > 0) || !is_length(engaged_mm))
		return BAD_RANGE;
	if (engaged_mm > full_mm)
		return BAD_ORDER;
	*share = 1 - engaged_mm / full_mm;
	return FINE;
}

enum bad cement_blast_area(
	double hole_mm, double cylinder_mm, double height_mm, double sites, double *area_mm2)
{
	if (!is_length(hole_mm) || !is_length(cylinder_mm) || !is_length(height_mm) ||
		!is_count(sites))
		return BAD_RANGE;
	*area_mm2 = sites * pi * (hole_mm + cylinder_mm) * height_mm;
	return FINE;
}

enum bad cement_blast_time(double area_mm2, double dose_s_per_mm2, double *time_s)
{
	if (!is_length(area_mm2) || !is_length(dose_s_per_mm2))
		return BAD_RANGE;
	*time_s = area_mm2 * dose_s_per_mm2;
	return FINE;
}
