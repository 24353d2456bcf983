/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/safety.h>

#include <math.h>

#include "calc/numbers.h"

enum bad safety_wet(double dry_MPa, double wet, double *strength_MPa)
{
	if (!is_above_0(dry_MPa) || !is_above_0(wet) || wet > 1)
		return BAD_RANGE;
	return result_give(dry_MPa * wet, strength_MPa);
}

enum bad safety_fatigue(
	double strength_MPa, double loss_per_decade, double cycles, double *strength_MPa_left)
{
	if (!is_above_0(strength_MPa) || !is_above_0(loss_per_decade) || !is_above_0(cycles) ||
		cycles < 1)
		return BAD_RANGE;
	double left = 1 - loss_per_decade * log10(cycles);
	if (left <= 0)
		return BAD_NOTHING;
	return result_give(strength_MPa * left, strength_MPa_left);
}

enum bad safety_factor(double strength_MPa, double stress_MPa, double *factor)
{
	if (!is_above_0(strength_MPa) || !is_from_0(stress_MPa))
		return BAD_RANGE;
	*factor = stress_MPa > 0 ? strength_MPa / stress_MPa : INFINITY;
	return FINE;
}

enum bad safety_allowed(double strength_MPa, double factor, double *allowed_MPa)
{
	if (!is_above_0(strength_MPa) || !is_above_0(factor))
		return BAD_RANGE;
	return result_give(strength_MPa / factor, allowed_MPa);
}

enum bad safety_check(const struct safety_case *c, struct safety_answer *out)
{
	struct safety_answer a = {0};
	enum bad code = FINE;
	if (!is_above_0(c->peak_wanted) || !is_above_0(c->everyday_wanted))
		return BAD_RANGE;
	code = safety_wet(c->dry_MPa, c->wet, &a.wet_MPa);
	if (!code)
		code = safety_fatigue(a.wet_MPa, c->loss_per_decade, c->cycles, &a.fatigue_MPa);
	if (!code)
		code = safety_factor(a.wet_MPa, c->peak_MPa, &a.peak);
	if (!code)
		code = safety_factor(a.fatigue_MPa, c->everyday_MPa, &a.everyday);
	if (code)
		return code;
	a.peak_ok = a.peak >= c->peak_wanted;
	a.everyday_ok = a.everyday >= c->everyday_wanted;
	*out = a;
	return FINE;
}

/* 1 psi = 4.4482216152605 N / (25.4 mm)^2 (NIST SP 811). */
#define PSI 6.894757293168361e-3

#define ROW(grade, property, limit, status, low, high) \
	{ \
		GRADE_##grade, SAFETY_##property, SAFETY_##limit, SAFETY_##status, low, high \
	}

static const struct safety_row rows[] = {
	/* Tables quoting NEMA LI-1 for grades G10 and FR4: 55 000 and 45 000 psi, 2.7 and 2.2 Mpsi,
	 * punch shear 19 000 psi; sheet of 1.6 mm: 60 000 and 50 000 psi. */
	ROW(LAMINATE_LENGTHWISE, FLEXURAL_STRENGTH, LEAST, READ, 55000 * PSI, 55000 * PSI),
	ROW(LAMINATE_CROSSWISE, FLEXURAL_STRENGTH, LEAST, READ, 45000 * PSI, 45000 * PSI),
	ROW(LAMINATE_LENGTHWISE, MODULUS, TYPICAL, READ, 2.7e6 * PSI, 2.7e6 * PSI),
	ROW(LAMINATE_CROSSWISE, MODULUS, TYPICAL, READ, 2.2e6 * PSI, 2.2e6 * PSI),
	ROW(LAMINATE_LENGTHWISE, PUNCH_SHEAR, TYPICAL, READ, 19000 * PSI, 19000 * PSI),
	ROW(LAMINATE_THIN_LENGTHWISE, FLEXURAL_STRENGTH, LEAST, READ, 60000 * PSI, 60000 * PSI),
	ROW(LAMINATE_THIN_CROSSWISE, FLEXURAL_STRENGTH, LEAST, READ, 50000 * PSI, 50000 * PSI),
	/* A supplier's table (name withheld). */
	ROW(LAMINATE_TYPICAL_LENGTHWISE, FLEXURAL_STRENGTH, TYPICAL, READ, 720, 720),
	ROW(LAMINATE_TYPICAL_CROSSWISE, FLEXURAL_STRENGTH, TYPICAL, READ, 540, 540),
	ROW(LAMINATE_TYPICAL_LENGTHWISE, MODULUS, TYPICAL, READ, 24300, 24300),
	ROW(LAMINATE_TYPICAL_CROSSWISE, MODULUS, TYPICAL, READ, 20000, 20000),
	/* From memory, not verified. */
	ROW(UNIDIRECTIONAL_ALONG, FLEXURAL_STRENGTH, TYPICAL, MEMORY, 600, 1200),
	ROW(UNIDIRECTIONAL_ALONG, MODULUS, TYPICAL, MEMORY, 25000, 45000),
	ROW(UNIDIRECTIONAL_ACROSS, FLEXURAL_STRENGTH, TYPICAL, MEMORY, 30, 80),
	ROW(UNIDIRECTIONAL_ACROSS, MODULUS, TYPICAL, MEMORY, 6000, 12000),
	ROW(WOVEN_3D, FLEXURAL_STRENGTH, TYPICAL, MEMORY, 300, 600),
	ROW(WOVEN_3D, MODULUS, TYPICAL, MEMORY, 15000, 26000),
	ROW(GLASS_LAMINATE, INTERLAMINAR_SHEAR, TYPICAL, MEMORY, 25, 60),
	ROW(GLASS_LAMINATE, SHEAR_MODULUS, TYPICAL, MEMORY, 3000, 5000),
	/* A public testing note on ISO 20795-1 gives 65 MPa for types 1, 3, 4, 5; rest: memory. */
	ROW(DENTURE_BASE, FLEXURAL_STRENGTH, LEAST, READ, 65, 65),
	ROW(DENTURE_BASE, MODULUS, LEAST, MEMORY, 2000, 2000),
	ROW(DENTURE_BASE_COLD, FLEXURAL_STRENGTH, LEAST, MEMORY, 60, 60),
	ROW(DENTURE_BASE_COLD, MODULUS, LEAST, MEMORY, 1500, 1500),
	/* ISO 10477:2020, 5.5 (bond), 5.6 and 5.7 (sorption, solubility); strength by type and
	 * class, 50 in older and 80 in newer editions, from memory. */
	ROW(VENEER_POLYMER, FLEXURAL_STRENGTH, LEAST, MEMORY, 50, 80),
	ROW(VENEER_POLYMER, BOND, LEAST, READ, 5, 5),
	ROW(VENEER_POLYMER, SORPTION, MOST, READ, 40, 40),
	ROW(VENEER_POLYMER, SOLUBILITY, MOST, READ, 7.5, 7.5),
	/* ASTM B381 F-4, quoted. */
	ROW(TITANIUM_4, TENSILE_STRENGTH, LEAST, READ, 550, 550),
	ROW(TITANIUM_4, YIELD, LEAST, READ, 483, 483),
	ROW(TITANIUM_4, ELONGATION, LEAST, READ, 0.15, 0.15),
	/* ASTM F136, quoted in Materials 2021, table 4 (PMC7867014); modulus: two data pages. */
	ROW(TITANIUM_ALLOY, TENSILE_STRENGTH, LEAST, READ, 860, 860),
	ROW(TITANIUM_ALLOY, YIELD, LEAST, READ, 795, 795),
	ROW(TITANIUM_ALLOY, ELONGATION, LEAST, READ, 0.10, 0.10),
	ROW(TITANIUM_ALLOY, MODULUS, TYPICAL, READ, 105000, 114000),
	/* A table of ISO 22674 for the proof strengths; elongations and the modulus from memory. */
	ROW(ALLOY_TYPE_1, YIELD, LEAST, READ, 80, 80),
	ROW(ALLOY_TYPE_2, YIELD, LEAST, READ, 180, 180),
	ROW(ALLOY_TYPE_3, YIELD, LEAST, READ, 270, 270),
	ROW(ALLOY_TYPE_4, YIELD, LEAST, READ, 360, 360),
	ROW(ALLOY_TYPE_5, YIELD, LEAST, READ, 500, 500),
	ROW(ALLOY_TYPE_1, ELONGATION, LEAST, MEMORY, 0.18, 0.18),
	ROW(ALLOY_TYPE_2, ELONGATION, LEAST, MEMORY, 0.10, 0.10),
	ROW(ALLOY_TYPE_3, ELONGATION, LEAST, MEMORY, 0.05, 0.05),
	ROW(ALLOY_TYPE_4, ELONGATION, LEAST, MEMORY, 0.02, 0.02),
	ROW(ALLOY_TYPE_5, ELONGATION, LEAST, MEMORY, 0.02, 0.02),
	ROW(ALLOY_TYPE_5, MODULUS, LEAST, MEMORY, 150000, 150000),
	ROW(COBALT_CHROMIUM, MODULUS, TYPICAL, MEMORY, 200000, 230000),
};

const struct safety_row *safety_row_find(enum safety_grade g, enum safety_property p)
{
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		if (rows[i].grade == g && rows[i].property == p)
			return &rows[i];
	return NULL;
}

/* 1 kgf = 9.80665 N, exactly (3rd CGPM 1901). */
#define KGF 9.80665

static const struct safety_force bites[SAFETY_BITES] = {
	/* D. Flanagan, reviews, J Oral Implantol 42:305, 2016 and Med Devices 2017 (abstract) */
	[SAFETY_BITE_RANGE] = {50, 400, true},
	/* J Prosthodont 27:523-527, 2018 (abstract): 12.6 to 17.6 kgf */
	[SAFETY_BITE_FULL_ARCH] = {12.6 * KGF, 17.6 * KGF, true},
	/* J Oral Rehabil 2014, doi 10.1111/joor.12174 (abstract) */
	[SAFETY_BITE_IMPLANT_MOLAR] = {577.9, 577.9, true},
	[SAFETY_BITE_NATURAL_MOLAR] = {595.1, 595.1, true},
	/* common practice of the trade */
	[SAFETY_BITE_POSTERIOR_FIXED] = {150, 450, false},
};

struct safety_force safety_bite_force(enum safety_bite which)
{
	return (unsigned)which < SAFETY_BITES ? bites[which] : (struct safety_force){0};
}
