/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Units and dimensions. Inside, everything is SI-mm: mm, N, MPa, rad, s (so the coherent unit of
 * mass is the tonne, N s2/mm), K, mol. A unit's factor turns its numbers into those.
 * Factors: BIPM, The International System of Units, 9th ed. 2019, and NIST SP 811 (2008) for inch,
 * pound-force and psi. Checked against UDUNITS-2 in the tests. */
#ifndef BARWRIGHT_BASE_UNIT_H
#define BARWRIGHT_BASE_UNIT_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

enum dimension {
	DIM_LENGTH,
	DIM_MASS,
	DIM_TIME,
	DIM_ANGLE,
	DIM_TEMPERATURE,
	DIM_AMOUNT,
	DIM_MONEY,
	DIM_COUNT
};

struct dim {
	int8_t power[DIM_COUNT];
};

struct unit {
	double factor; /* times this gives the inside value */
	double offset; /* added after the factor; 0 but for degC and degF, which are points on a scale */
	struct dim dim;
};

bool dim_is_equal(struct dim a, struct dim b);
bool dim_is_none(struct dim d);
/* a * b^sign, sign +1 or -1; BAD_RANGE when a power leaves -100..100. */
enum bad dim_times(struct dim a, struct dim b, int sign, struct dim *out);
/* "a length", "a stress", "a force"; else in base units "mm2 s-1". Adds to `out`. */
void dim_add_name(struct dim d, struct text *out);

/* Reads "mm", "N/mm", "N mm", "N*mm", "mm2", "mm^2", "mm²", "kg/m3", "%", "deg", "°". Empty text is the
 * plain number. BAD_UNKNOWN when a name is not known (then *fault is where it starts and
 * *fault_len how long it is), BAD_SYNTAX for a wrong form. degC and degF stand alone. */
enum bad unit_read(const char *s, size_t len, struct unit *out, size_t *fault, size_t *fault_len);
/* The text of a unit as it is printed: "um" as "µm", "degC" as "°C", "deg" as "°", "mm2" as "mm²". It reads
 * back as the same unit. Adds to `out`. */
void unit_add_printed(const char *s, size_t len, struct text *out);
/* Do both give every number the same meaning? Factor and offset up to their last bits. */
bool unit_is_same(const struct unit *a, const struct unit *b);
/* Does it stand behind its number without a blank? The degree alone does: "30°", "74 °C" (ISO 80000-1:2009,
 * 7.1.4). */
bool unit_is_close(const char *text);
/* The known name nearest to a misspelt one, or null when none is near. Static text. */
const char *unit_nearest(const char *s, size_t len);
/* One simple unit name by number, for tables and tests: null past the last. */
const char *unit_name(size_t i, struct unit *out);

#endif
