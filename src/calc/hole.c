/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <stdbool.h>

#include <barwright/calc/hole.h>

static const double pi = 3.14159265358979323846;

static bool is_length(double mm)
{
	return isfinite(mm) && mm >= 0;
}

enum bad hole_diameter(double cylinder_mm, double gap_mm, double *diameter_mm)
{
	if (!is_length(cylinder_mm) || !is_length(gap_mm))
		return BAD_RANGE;
	*diameter_mm = cylinder_mm + 2 * gap_mm;
	return FINE;
}

enum bad hole_diameter_tilted(double cylinder_mm, double thickness_mm, double tilt_rad,
	double gap_mm, double *diameter_mm)
{
	if (!is_length(cylinder_mm) || !is_length(thickness_mm) || !is_length(gap_mm) ||
		!(fabs(tilt_rad) <= pi / 3 + 1e-12))
		return BAD_RANGE;
	*diameter_mm =
		cylinder_mm / cos(tilt_rad) + thickness_mm * tan(fabs(tilt_rad)) + 2 * gap_mm;
	return FINE;
}

static enum bad wall(double width_mm, double diameter_mm, double offset_mm, double *wall_mm)
{
	if (!is_length(width_mm) || !is_length(diameter_mm) || !isfinite(offset_mm))
		return BAD_RANGE;
	*wall_mm = (width_mm - diameter_mm) / 2 + offset_mm;
	return FINE;
}

enum bad hole_wall_near(double width_mm, double diameter_mm, double offset_mm, double *wall_mm)
{
	return wall(width_mm, diameter_mm, -fabs(offset_mm), wall_mm);
}

enum bad hole_wall_far(double width_mm, double diameter_mm, double offset_mm, double *wall_mm)
{
	return wall(width_mm, diameter_mm, fabs(offset_mm), wall_mm);
}

enum bad hole_bar_width(double diameter_mm, double wall_mm, double offset_mm, double *width_mm)
{
	if (!is_length(diameter_mm) || !is_length(wall_mm) || !isfinite(offset_mm))
		return BAD_RANGE;
	*width_mm = diameter_mm + 2 * (wall_mm + fabs(offset_mm));
	return FINE;
}

enum bad hole_ligament(double pitch_mm, double first_mm, double second_mm, double *ligament_mm)
{
	if (!is_length(pitch_mm) || !is_length(first_mm) || !is_length(second_mm))
		return BAD_RANGE;
	*ligament_mm = pitch_mm - (first_mm + second_mm) / 2;
	return FINE;
}

enum bad hole_offset(double left_mm, double right_mm, double *offset_mm)
{
	if (!is_length(left_mm) || !is_length(right_mm))
		return BAD_RANGE;
	*offset_mm = (right_mm - left_mm) / 2;
	return FINE;
}

enum bad hole_residual(double diameter_mm, double pilot_mm, double *residual_mm)
{
	if (!is_length(diameter_mm) || !is_length(pilot_mm))
		return BAD_RANGE;
	if (pilot_mm > diameter_mm)
		return BAD_ORDER;
	*residual_mm = (diameter_mm - pilot_mm) / 2;
	return FINE;
}

enum bad hole_volume(double diameter_mm, double thickness_mm, double *volume_mm3)
{
	if (!is_length(diameter_mm) || !is_length(thickness_mm))
		return BAD_RANGE;
	*volume_mm3 = pi / 4 * diameter_mm * diameter_mm * thickness_mm;
	return FINE;
}
