/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strengths: what published tables give, what water and repeated load leave of it, and the
 * safety that remains. MPa; pure: no I/O, no memory, no state, no words. (The name is not
 * strength.h because names that begin with str belong to the C library.) */
#ifndef BARWRIGHT_CALC_SAFETY_H
#define BARWRIGHT_CALC_SAFETY_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>

/* Share of strength that water leaves woven E-glass in acrylic resin: P. K. Vallittu, Int J
 * Prosthodont 13:334-339, 2000 (abstract): about 27 % lost, most in 4 weeks. Fibres at 45
 * degrees: only indicative for laminates of epoxy. */
#define SAFETY_WET_GLASS 0.73
/* Share of strength glass laminates lose with each tenfold of cycles: J. F. Mandell (from
 * memory). */
#define SAFETY_FATIGUE_GLASS 0.1

/* dry * wet, wet in (0, 1]. All functions here: BAD_RANGE for values not finite or not above 0, and
 * for a result that is not finite unless said; results are left alone then. */
enum bad safety_wet(double dry_MPa, double wet, double *strength_MPa);
/* strength (1 - loss log10 N), N >= 1; BAD_NOTHING when nothing is left. */
enum bad safety_fatigue(
	double strength_MPa, double loss_per_decade, double cycles, double *strength_MPa_left);
/* strength / stress and strength / factor. A stress of 0 gives infinity. */
enum bad safety_factor(double strength_MPa, double stress_MPa, double *factor);
enum bad safety_allowed(double strength_MPa, double factor, double *allowed_MPa);

/* The check in two ways, as the greatest bite does not come a million times: greatest load
 * against wet strength, everyday load against wet strength after so many cycles. */
struct safety_case {
	double dry_MPa, wet, loss_per_decade, cycles;
	double peak_MPa, everyday_MPa;       /* stresses, 0 allowed */
	double peak_wanted, everyday_wanted; /* least factors that are enough */
};
struct safety_answer {
	double wet_MPa, fatigue_MPa;
	double peak, everyday; /* factors */
	bool peak_ok, everyday_ok;
};
enum bad safety_check(const struct safety_case *c, struct safety_answer *out);

/* Published values. */
enum safety_grade {
	GRADE_LAMINATE_LENGTHWISE, /* glass/epoxy G10 or FR4 sheet of 3.2 mm */
	GRADE_LAMINATE_CROSSWISE,
	GRADE_LAMINATE_THIN_LENGTHWISE, /* FR4 sheet of 1.6 mm */
	GRADE_LAMINATE_THIN_CROSSWISE,
	GRADE_LAMINATE_TYPICAL_LENGTHWISE, /* FR4 of one supplier: typical, not least values */
	GRADE_LAMINATE_TYPICAL_CROSSWISE,
	GRADE_UNIDIRECTIONAL_ALONG, /* E-glass in resin */
	GRADE_UNIDIRECTIONAL_ACROSS,
	GRADE_WOVEN_3D,          /* glass/epoxy */
	GRADE_GLASS_LAMINATE,    /* any: values that do not depend on the weave */
	GRADE_DENTURE_BASE,      /* ISO 20795-1 types 1, 3, 4, 5 */
	GRADE_DENTURE_BASE_COLD, /* type 2 */
	GRADE_VENEER_POLYMER,    /* ISO 10477 */
	GRADE_TITANIUM_4,
	GRADE_TITANIUM_ALLOY, /* Ti-6Al-4V ELI */
	GRADE_ALLOY_TYPE_1,   /* ISO 22674 */
	GRADE_ALLOY_TYPE_2,
	GRADE_ALLOY_TYPE_3,
	GRADE_ALLOY_TYPE_4,
	GRADE_ALLOY_TYPE_5,
	GRADE_COBALT_CHROMIUM,
	SAFETY_GRADES
};
enum safety_property {
	SAFETY_FLEXURAL_STRENGTH,  /* MPa */
	SAFETY_MODULUS,            /* MPa */
	SAFETY_PUNCH_SHEAR,        /* MPa, through the thickness */
	SAFETY_INTERLAMINAR_SHEAR, /* MPa */
	SAFETY_SHEAR_MODULUS,      /* MPa */
	SAFETY_BOND,               /* MPa, to a substructure */
	SAFETY_SORPTION,           /* ug/mm3 */
	SAFETY_SOLUBILITY,         /* ug/mm3 */
	SAFETY_TENSILE_STRENGTH,   /* MPa */
	SAFETY_YIELD,              /* MPa, 0.2 % */
	SAFETY_ELONGATION,         /* share, 0.10 is 10 % */
	SAFETY_PROPERTIES
};
enum safety_limit { SAFETY_LEAST, SAFETY_MOST, SAFETY_TYPICAL };
enum safety_status {
	SAFETY_READ,
	SAFETY_MEMORY
}; /* read in the source named beside it, or from memory, not verified */

struct safety_row {
	enum safety_grade grade;
	enum safety_property property;
	enum safety_limit limit;
	enum safety_status status;
	double low, high; /* equal unless the value is a range */
};
/* The row of a material's property, null when there is none. */
const struct safety_row *safety_row_find(enum safety_grade g, enum safety_property p);

/* Forces of biting, N. */
enum safety_bite {
	SAFETY_BITE_RANGE,         /* over the mouth, front to back */
	SAFETY_BITE_FULL_ARCH,     /* 3 to 5 years after a lower full-arch prosthesis */
	SAFETY_BITE_IMPLANT_MOLAR, /* one side, fixed on implants */
	SAFETY_BITE_NATURAL_MOLAR,
	SAFETY_BITE_POSTERIOR_FIXED, /* full arch, fixed, at the back */
	SAFETY_BITES
};
struct safety_force {
	double low_N, high_N;
	bool read; /* false: common practice, no source */
};
struct safety_force safety_bite_force(enum safety_bite which);

#endif
