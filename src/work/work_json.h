/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A worked case as one JSON object. Lengths in mm, forces in N, stresses in MPa, as the names say;
 * x to the patient's left, y to the front; lists in the order of the sites. null stands where there is
 * no value: no stock fits, or there are no loads.
 *
 *	case, jaw, verdict ("go-on" or "refer-back"), reasons[]
 *	spread_mm (by the rule of the case), spread.{rule,distal_surface_mm,centres_mm}
 *	cantilever.{right,left}.{limit_mm,actual_mm,ok,trim_mm,chord_mm,lever_mm,end.{x_mm,y_mm}}
 *	thickness.{available_mm,governing_site,chosen_mm,shortfall_mm,sites[].{tooth,available_mm}}
 *	cut_down[].{tooth,cut_mm,engaged_mm,underside_mm,top_mm,build_up_mm}
 *	loads.{rigid[],flexible[]}
 *	bar.{max_stress_mpa,max_shear_mpa,tip_deflection_mm,safety_factor} of all loads together, and
 *	  {net_stress_mpa,nearest_site,tips.{right_mm,left_mm},wet_factor,everyday_factor,safety_ok}
 *	cautions[]
 *
 * safety_factor is the strength as the case gives it over the greatest bending stress; the verdict
 * goes by wet_factor and everyday_factor, which take the section less the hole of the site: the sleeve's
 * where the case names it ("joint"), else as wide as the platform. */
#ifndef BARWRIGHT_WORK_WORK_JSON_H
#define BARWRIGHT_WORK_WORK_JSON_H

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

#include "work/work.h"

/* Adds the object and a line end. BAD_MEMORY, BAD_ENCODING. */
enum bad work_json(const struct work_result *w, struct text *out);

#endif
