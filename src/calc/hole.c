/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/hole.h>

#include <math.h>

#include "calc/numbers.h"

enum bad hole_diameter(double cylinder_mm, double gap_mm, double *diameter_mm)
{
	if (!is_from_0(cylinder_mm) || !is_from_0(gap_mm))
		return BAD_RANGE;
	return result_give(cylinder_mm + 2 * gap_mm, diameter_mm);
}

enum bad hole_diameter_tilted(double cylinder_mm, double thickness_mm, double tilt_rad,
	double gap_mm, double *diameter_mm)
{
	if (!is_from_0(cylinder_mm) || !is_from_0(thickness_mm) || !is_from_0(gap_mm) ||
		!(fabs(tilt_rad) <= pi / 3 + 1e-12))
		return BAD_RANGE;
	return result_give(
		cylinder_mm / cos(tilt_rad) + thickness_mm * tan(fabs(tilt_rad)) + 2 * gap_mm,
		diameter_mm);
}

static enum bad wall(double width_mm, double diameter_mm, double offset_mm, double *wall_mm)
{
	if (!is_from_0(width_mm) || !is_from_0(diameter_mm) || !isfinite(offset_mm))
		return BAD_RANGE;
	return result_give((width_mm - diameter_mm) / 2 + offset_mm, wall_mm);
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
	if (!is_from_0(diameter_mm) || !is_from_0(wall_mm) || !isfinite(offset_mm))
		return BAD_RANGE;
	return result_give(diameter_mm + 2 * (wall_mm + fabs(offset_mm)), width_mm);
}

enum bad hole_ligament(double pitch_mm, double first_mm, double second_mm, double *ligament_mm)
{
	if (!is_from_0(pitch_mm) || !is_from_0(first_mm) || !is_from_0(second_mm))
		return BAD_RANGE;
	return result_give(pitch_mm - (first_mm + second_mm) / 2, ligament_mm);
}

enum bad hole_offset(double left_mm, double right_mm, double *offset_mm)
{
	if (!is_from_0(left_mm) || !is_from_0(right_mm))
		return BAD_RANGE;
	return result_give((right_mm - left_mm) / 2, offset_mm);
}

enum bad hole_residual(double diameter_mm, double pilot_mm, double *residual_mm)
{
	if (!is_from_0(diameter_mm) || !is_from_0(pilot_mm))
		return BAD_RANGE;
	if (pilot_mm > diameter_mm)
		return BAD_ORDER;
	return result_give((diameter_mm - pilot_mm) / 2, residual_mm);
}

enum bad hole_volume(double diameter_mm, double thickness_mm, double *volume_mm3)
{
	if (!is_from_0(diameter_mm) || !is_from_0(thickness_mm))
		return BAD_RANGE;
	return result_give(pi / 4 * diameter_mm * diameter_mm * thickness_mm, volume_mm3);
}
