/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Numbers as people write them: exact decimals, a typed answer with unit and decimal comma. Nothing
 * here looks at the locale. */
#ifndef BARWRIGHT_BASE_NUMBER_H
#define BARWRIGHT_BASE_NUMBER_H

#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

/* An exact decimal: value = digits / 10^places, |digits| < 10^15, places 0 to 9. */
struct decimal {
	int64_t digits;
	int places;
};
enum { DECIMAL_PLACES = 9 };

/* Optional sign, digits, optionally a point and digits; all len bytes. "3.50" keeps 2 places.
 * BAD_SYNTAX for any other form, BAD_SIZE when too long. */
enum bad decimal_read(const char *s, size_t len, struct decimal *out);
/* The nearest double (one correctly rounded division: the same on every machine). */
double decimal_value(struct decimal d);
/* The same value with as many places or more; BAD_SIZE when it does not fit, or for fewer places. */
enum bad decimal_scale(struct decimal *d, int places);
void decimal_add_to(struct decimal d, char sign, struct text *out); /* sign: '.' or ',' */

/* `value` with this many places (0 to 9), halves away from zero as a person rounds, never "-0". More
 * than 15 digits would be rounding noise: then with an exponent, "1.234567e+20". Infinite or NaN:
 * "none". */
void number_add_to(double value, int places, char sign, struct text *out);

/* A number somebody typed: "3.5", "3,5", " 3.5 mm", "+.138in", "-2" (also with the true minus sign
 * U+2212). One of point or comma; thin and ordinary spaces around are skipped; exponents are not
 * read. */
struct typed {
	struct decimal value;
	const char *unit; /* points into s; what follows the number, blanks trimmed */
	size_t unit_len;  /* 0: no unit */
};
/* BAD_SYNTAX and a sentence for the person in *why (static text) when it cannot be read, for
 * example for "1,234.5", where point and comma together leave open what is meant. */
enum bad typed_read(const char *s, size_t len, struct typed *out, const char **why);

#endif
