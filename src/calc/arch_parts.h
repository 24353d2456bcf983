/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: what the two sources of arch.h share. */
#ifndef BARWRIGHT_CALC_ARCH_PARTS_H
#define BARWRIGHT_CALC_ARCH_PARTS_H

#include <math.h>
#include <stdbool.h>

#include <barwright/calc/arch.h>

#define ARCH_FAR_mm 1e9 /* beyond it sums of squares lose the millimetre */

static inline bool arch_site_is_sound(const struct arch_site *s)
{
	return fabs(s->x_mm) <= ARCH_FAR_mm && fabs(s->y_mm) <= ARCH_FAR_mm && s->radius_mm >= 0 &&
	       s->radius_mm <= ARCH_FAR_mm;
}

#endif
