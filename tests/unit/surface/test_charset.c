/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <locale.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/bad.h>
#include <barwright/base/text.h>

#include "surface/charset.h"

/* Which variable counts: POSIX, Base Definitions, 8.2. */
static void locale_is_taken_from_the_environment(void **state)
{
	(void)state;
	static const struct {
		const char *why, *all, *ctype, *lang;
		bool utf8;
	} cases[] = {
		{"nothing set", "", "", "", false},
		{"LANG", "", "", "C.UTF-8", true},
		{"LC_ALL before LANG", "C", "", "C.UTF-8", false},
		{"LC_CTYPE before LANG", "", "C.UTF-8", "C", true},
		{"POSIX", "POSIX", "", "", false},
		{"not installed", "xx_XX.UTF-8", "", "", true},
		{"not installed, spelt otherwise", "", "", "xx_XX.utf8", true},
		{"not installed, no charset named", "", "", "xx_XX", true},
		{"not installed, another charset", "xx_XX.ISO-8859-1", "", "", false},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		setlocale(LC_ALL, "C");
		setenv("LC_ALL", cases[i].all, 1);
		setenv("LC_CTYPE", cases[i].ctype, 1);
		setenv("LANG", cases[i].lang, 1);
		charset_start();
		if (charset_is_utf8() != cases[i].utf8)
			fail_msg("%s: UTF-8 %d, want %d", cases[i].why, charset_is_utf8(),
				cases[i].utf8);
		assert_string_equal(setlocale(LC_NUMERIC, NULL), "C");
		assert_int_equal(charset_decimal(), '.');
	}
	setenv("LC_ALL", "C.UTF-8", 1);
	charset_start();
}

static void text_is_spelt_in_ascii(void **state)
{
	(void)state;
	static const struct {
		const char *text, *want;
	} cases[] = {
		{"plain", "plain"},
		{"30° ± 0,1°", "30 deg +/- 0,1 deg"},
		{"74 °C, 5 µm, 3 mm²", "74 degC, 5 um, 3 mm^2"},
		{"σ ≤ 400 MPa", "sigma <= 400 MPa"},
		{"5 µm, 12 mm², I in mm⁴", "5 um, 12 mm^2, I in mm^4"},
		{"a → b – c … “d” ‘e’", "a -> b - c ... \"d\" 'e'"},
		{"Größe Łódź œuvre", "Grosse Lodz oeuvre"},
		{"2 × 3 ÷ 4 ≈ 1½ √2 ∞", "2 * 3 / 4 ~ 1 1/2 sqrt2 infinity"},
		{"R₁₂ ⌀ 4.1", "R12 diameter  4.1"},
		{"│ ─ ┼ ▲ ●", "| - + ^ *"},
		{"中", "?"},
		{"a\x1b[m\x80\xE2\x80\xAE"
		 "b",
			"a<U+001B>[m<80><U+202E>b"},
		{"two\nlines", "two\nlines"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct text got;
		text_init(&got);
		charset_add(&got, cases[i].text, strlen(cases[i].text), true, false);
		assert_string_equal(got.at, cases[i].want);
		text_release(&got);
	}
}

static void utf8_passes_but_for_what_is_unsafe(void **state)
{
	(void)state;
	struct text got;
	text_init(&got);
	charset_add(&got, "σ ≤ 中\x9b\n", strlen("σ ≤ 中\x9b\n"), false, true);
	assert_string_equal(got.at, "σ ≤ 中<9B><U+000A>");
	text_release(&got);
}

int main(void)
{
	setlocale(LC_CTYPE, "C.UTF-8");
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(locale_is_taken_from_the_environment),
		cmocka_unit_test(text_is_spelt_in_ascii),
		cmocka_unit_test(utf8_passes_but_for_what_is_unsafe),
	};
	return cmocka_run_group_tests_name("charset", tests, NULL, NULL);
}
