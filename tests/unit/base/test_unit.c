/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every unit of the table, and compound units as authors write them, against UDUNITS-2, which reads the
 * same text by its own database and reduces it to SI base units: same powers of the base units, same
 * factor, same offset. */
#include "near.h"

#include <stdlib.h>
#include <string.h>
#include <udunits2.h>

#include <barwright/base/unit.h>

/* Both compute in doubles, and pi is written with different digits in the two tables. */
#define CLOSE 1e-12

static ut_system *outside;

static int set_up(void **state)
{
	(void)state;
	ut_set_error_message_handler(ut_ignore);
	outside = ut_read_xml(NULL);
	if (!outside)
		fail_msg("UDUNITS-2 has no database here (package libudunits2-data)");
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	ut_free_system(outside);
	return 0;
}

/* ---- its unit in our terms ------------------------------------------------------------------- */

/* What the two do not call by the same name. */
static const struct {
	const char *ours, *theirs; /* null: it has no such unit */
	const char *why;
} names[] = {
	{"x", "1", "times, as in a magnification: a plain number"},
	{"deg", "arcdeg", "spelt otherwise"},
	{"mmHg", "mm_Hg", "spelt otherwise"},
	{"lb", "avoirdupois_pound", "its lb is the same; the full name says which pound"},
	{"cal", "thermochemical_calorie", "its cal is that of the steam tables, 4.1868 J"},
	{"kcal", "kilothermochemical_calorie", "as cal"},
	{"money", NULL,
		"no unit of measurement: prices and hours of a workshop, whatever the currency"},
};

static const char *their_name(const char *ours)
{
	for (size_t i = 0; i < sizeof names / sizeof *names; i++)
		if (strcmp(names[i].ours, ours) == 0)
			return names[i].theirs;
	return ours;
}

/* Our base units beside those of SI that it reduces to: mm, tonne, s, rad, K, mol. */
static const struct {
	const char *symbol;
	enum dimension dimension;
	double ours; /* one of theirs in ours */
} bases[] = {
	{"m", DIM_LENGTH, 1e3},
	{"kg", DIM_MASS, 1e-3},
	{"s", DIM_TIME, 1},
	{"rad", DIM_ANGLE, 1},
	{"K", DIM_TEMPERATURE, 1},
	{"mol", DIM_AMOUNT, 1},
};

static void base_into(struct unit *u, const ut_unit *base, int power)
{
	const char *symbol = ut_get_symbol(base, UT_ASCII);
	for (size_t i = 0; symbol && i < sizeof bases / sizeof *bases; i++)
		if (strcmp(bases[i].symbol, symbol) == 0) {
			u->dim.power[bases[i].dimension] = (int8_t)power;
			u->factor *= pow(bases[i].ours, power);
			return;
		}
	fail_msg("UDUNITS-2 reduces to '%s', which is not a base unit here", symbol ? symbol : "?");
}

static ut_status see_base(const ut_unit *unit, void *to)
{
	base_into(to, unit, 1);
	return UT_SUCCESS;
}

static ut_status see_product(
	const ut_unit *unit, int n, const ut_unit *const *base, const int *power, void *to)
{
	(void)unit;
	for (int i = 0; i < n; i++)
		base_into(to, base[i], power[i]);
	return UT_SUCCESS;
}

/* scale * (number + offset) of the unit beneath it, which has no offset of its own. */
static ut_status see_scaled(
	const ut_unit *unit, double scale, const ut_unit *beneath, double offset, void *to);

static ut_status see_time_stamp(const ut_unit *unit, const ut_unit *of, double origin, void *to)
{
	(void)unit, (void)of, (void)origin, (void)to;
	fail_msg("UDUNITS-2 takes it for a date");
	return UT_BAD_ARG;
}

static ut_status see_logarithm(const ut_unit *unit, double base, const ut_unit *of, void *to)
{
	(void)unit, (void)base, (void)of, (void)to;
	fail_msg("UDUNITS-2 takes it for a logarithm");
	return UT_BAD_ARG;
}

static const ut_visitor reduce = {see_base, see_product, see_scaled, see_time_stamp, see_logarithm};

static ut_status see_scaled(
	const ut_unit *unit, double scale, const ut_unit *beneath, double offset, void *to)
{
	struct unit *u = to;
	(void)unit;
	ut_status status = ut_accept_visitor(beneath, &reduce, to);
	u->factor *= scale;
	u->offset = offset * u->factor;
	return status;
}

static struct unit their_unit(const char *text)
{
	struct unit u = {1, 0, {{0}}};
	ut_unit *parsed = ut_parse(outside, text, UT_UTF8);
	if (!parsed)
		fail_msg("UDUNITS-2 does not know '%s'", text);
	assert_int_equal(ut_accept_visitor(parsed, &reduce, &u), UT_SUCCESS);
	ut_free(parsed);
	return u;
}

static void are_same(const char *name, const struct unit *got, const struct unit *want)
{
	char why[80];
	snprintf(why, sizeof why, "factor of %s", name);
	near(why, got->factor, want->factor, CLOSE * fabs(want->factor));
	snprintf(why, sizeof why, "offset of %s", name);
	near(why, got->offset, want->offset, CLOSE * fabs(want->offset));
	for (int d = 0; d < DIM_COUNT; d++)
		if (got->dim.power[d] != want->dim.power[d])
			fail_msg("%s: power of base unit %d is %d, UDUNITS-2 says %d", name, d,
				got->dim.power[d], want->dim.power[d]);
}

/* ---- checks ---------------------------------------------------------------------------------- */

static void every_unit_of_the_table_is_that_of_udunits(void **state)
{
	(void)state;
	struct unit got;
	const char *name, *theirs;
	size_t known = 0;
	for (size_t i = 0; (name = unit_name(i, &got)); i++) {
		theirs = their_name(name);
		if (!theirs)
			continue;
		struct unit want = their_unit(theirs);
		are_same(name, &got, &want);
		known++;
	}
	assert_true(known > 50);
}

static void compound_units_are_those_of_udunits(void **state)
{
	(void)state;
	static const char *const texts[] = {"N/mm", "N/mm2", "N mm", "N*mm", "N cm", "N m", "N mm2",
		"mm2", "cm3", "mm4", "m/s", "kg/m3", "g/cm3", "g/mL", "mL/g", "mg/m3", "ug/mm3",
		"g/mol", "L/mol", "s/cm2", "K/min", "min/K", "J/g/K", "mol/g", "s2/cm4", "ppm/K",
		"mm^-1", "mm2/s", "rad/s", "lbf/in2", "kPa s"};
	for (size_t i = 0; i < sizeof texts / sizeof *texts; i++) {
		struct unit got, want = their_unit(texts[i]);
		size_t at, len;
		code_is(unit_read(texts[i], strlen(texts[i]), &got, &at, &len), FINE);
		are_same(texts[i], &got, &want);
	}
}

/* A number of one scale on another by both ways: the offset has to go the right way round. */
static void temperatures_convert_as_by_udunits(void **state)
{
	(void)state;
	static const double shown_degC[] = {-273.15, -40, 0, 23, 37, 74, 100.8};
	ut_unit *from = ut_parse(outside, "degC", UT_ASCII),
		*to = ut_parse(outside, "degF", UT_ASCII);
	cv_converter *way = ut_get_converter(from, to);
	struct unit c, f;
	size_t at, len;
	code_is(unit_read("degC", 4, &c, &at, &len), FINE);
	code_is(unit_read("degF", 4, &f, &at, &len), FINE);
	for (size_t i = 0; i < sizeof shown_degC / sizeof *shown_degC; i++) {
		double got = (shown_degC[i] * c.factor + c.offset - f.offset) / f.factor;
		near("degC in degF", got, cv_convert_double(way, shown_degC[i]), 1e-10);
	}
	cv_free(way);
	ut_free(from);
	ut_free(to);
}

/* Signs as in the SI Brochure, 9th ed. 2019, 5.2 and table 4; read back they are the same unit. */
static void units_are_printed_with_their_signs(void **state)
{
	(void)state;
	static const struct {
		const char *text, *printed;
	} cases[] = {{"um", "\xC2\xB5m"}, {"ug/mm3", "\xC2\xB5g/mm\xC2\xB3"},
		{"degC", "\xC2\xB0"
			 "C"},
		{"degF", "\xC2\xB0"
			 "F"},
		{"deg", "\xC2\xB0"}, {"mm2", "mm\xC2\xB2"}, {"mm^2", "mm\xC2\xB2"},
		{"mm4", "mm\xE2\x81\xB4"}, {"N mm2", "N mm\xC2\xB2"},
		{"s2/cm4", "s\xC2\xB2/cm\xE2\x81\xB4"}, {"mm\xC2\xB2", "mm\xC2\xB2"},
		{"N/mm", "N/mm"}, {"g/cm3", "g/cm\xC2\xB3"}, {"%", "%"}, {"", ""},
		{"mm^-1", "mm^-1"}, {"mm^", "mm^"}, {"deg/mm", "\xC2\xB0/mm"}};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct unit as_written, as_printed;
		struct text t;
		size_t at, len, n = strlen(cases[i].text);
		text_init(&t);
		unit_add_printed(cases[i].text, n, &t);
		assert_string_equal(t.at, cases[i].printed);
		if (!unit_read(cases[i].text, n, &as_written, &at, &len)) {
			code_is(unit_read(t.at, t.len, &as_printed, &at, &len), FINE);
			are_same(cases[i].text, &as_printed, &as_written);
		}
		text_release(&t);
	}
	assert_true(unit_is_close("deg"));
	assert_false(unit_is_close("degC"));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_unit_of_the_table_is_that_of_udunits),
		cmocka_unit_test(compound_units_are_those_of_udunits),
		cmocka_unit_test(temperatures_convert_as_by_udunits),
		cmocka_unit_test(units_are_printed_with_their_signs),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
