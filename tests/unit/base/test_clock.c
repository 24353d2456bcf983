/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times of day and dates against published values and the calendar of the C library. */
#include "near.h"

#include <string.h>
#include <time.h>

#include <barwright/base/clock.h>

static void times_are_written_and_read(void **state)
{
	(void)state;
	static const struct {
		int64_t ms;
		const char *text;
	} cases[] = {
		{0, "1970-01-01T00:00:00.000Z"},
		{1645557742000, "2022-02-22T19:22:22.000Z"}, /* RFC 9562, A.6 */
		{951782399999, "2000-02-28T23:59:59.999Z"},  /* date -u -d @951782399 */
		{951782400000, "2000-02-29T00:00:00.000Z"},
		{4107542400000, "2100-03-01T00:00:00.000Z"}, /* 2100 is no leap year */
		{-1, "1969-12-31T23:59:59.999Z"},
		{-62167219200000, "0000-01-01T00:00:00.000Z"}, /* date -u -d 0000-01-01 +%s */
		{253402300799999, "9999-12-31T23:59:59.999Z"},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		char text[TIME_TEXT];
		int64_t back = 42;
		time_write(cases[i].ms, text);
		assert_string_equal(text, cases[i].text);
		code_is(time_read(text, strlen(text), &back), FINE);
		assert_int_equal(back, cases[i].ms);
	}
}

/* Through all years that have a text, by steps of 11 days 13 h 46 min 40 s 123 ms. */
static void dates_are_those_of_the_c_library(void **state)
{
	(void)state;
	for (int64_t ms = -62167219200000; ms <= 253402300799999; ms += 1000000123) {
		char text[TIME_TEXT], want[TIME_TEXT + 40];
		int64_t seconds = (ms - ((ms % 1000) + 1000) % 1000) / 1000, back;
		time_t t = (time_t)seconds;
		struct tm tm;
		assert_non_null(gmtime_r(&t, &tm));
		snprintf(want, sizeof want, "%04d-%02d-%02dT%02d:%02d:%02d.%03dZ",
			tm.tm_year + 1900, tm.tm_mon + 1, tm.tm_mday, tm.tm_hour, tm.tm_min,
			tm.tm_sec, (int)(ms - seconds * 1000));
		time_write(ms, text);
		if (strcmp(text, want) != 0)
			fail_msg("%lld ms: want %s, got %s", (long long)ms, want, text);
		if (time_read(text, strlen(text), &back) || back != ms)
			fail_msg("%s does not come back as %lld", text, (long long)ms);
	}
}

static void a_year_of_five_digits_has_no_text(void **state)
{
	(void)state;
	static const int64_t far[] = {253402300800000, -62167219200001, INT64_MAX, INT64_MIN};
	for (size_t i = 0; i < sizeof far / sizeof *far; i++) {
		char text[TIME_TEXT];
		time_write(far[i], text);
		assert_string_equal(text, "0000-00-00T00:00:00.000Z");
	}
}

static void what_is_no_time_is_refused(void **state)
{
	(void)state;
	static const struct {
		const char *text;
		enum bad code;
	} cases[] = {
		{"2026-02-29T00:00:00.000Z", BAD_RANGE},
		{"2100-02-29T00:00:00.000Z", BAD_RANGE},
		{"2026-13-01T00:00:00.000Z", BAD_RANGE},
		{"2026-00-01T00:00:00.000Z", BAD_RANGE},
		{"2026-01-00T00:00:00.000Z", BAD_RANGE},
		{"2026-01-01T24:00:00.000Z", BAD_RANGE},
		{"2026-01-01T00:60:00.000Z", BAD_RANGE},
		{"2016-12-31T23:59:60.000Z", BAD_RANGE}, /* a leap second, as there was one */
		{"0000-00-00T00:00:00.000Z", BAD_RANGE},
		{"2026-01-01 00:00:00.000Z", BAD_SYNTAX},
		{"2026-01-01T00:00:00.000z", BAD_SYNTAX},
		{"2026-01-01T00:00:00,000Z", BAD_SYNTAX},
		{"2026-01-01T00:00:0x.000Z", BAD_SYNTAX},
		{"+026-01-01T00:00:00.000Z", BAD_SYNTAX},
		{"2026-01-01T00:00:00Z", BAD_SYNTAX},
		{"2026-01-01T00:00:00.000Z ", BAD_SYNTAX},
		{"", BAD_SYNTAX},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		int64_t ms = 42;
		enum bad code = time_read(cases[i].text, strlen(cases[i].text), &ms);
		if (code != cases[i].code)
			fail_msg("'%s': want %s, got %s", cases[i].text, bad_word(cases[i].code),
				bad_word(code));
		assert_int_equal(ms, 42);
	}
}

static int64_t noon(void)
{
	return 1795608000000;
}

/* The machine's own seconds, asked another way, lie around ours. */
static void clocks_are_the_machines_until_they_are_replaced(void **state)
{
	(void)state;
	int64_t before = (int64_t)time(NULL), now = clock_now(), boot = clock_boot();
	int64_t after = (int64_t)time(NULL);
	assert_in_range(
		(uintmax_t)now, (uintmax_t)(before - 1) * 1000, (uintmax_t)(after + 2) * 1000);
	assert_true(boot > 0 && clock_boot() >= boot);
	clock_replace(&(struct clock_source){.now = noon});
	assert_int_equal(clock_now(), noon());
	assert_true(clock_boot() >= boot);
	clock_replace(&(struct clock_source){.boot = noon});
	assert_int_equal(clock_boot(), noon());
	assert_true(clock_now() >= now - 1000 && clock_now() != noon());
	clock_replace(NULL);
	assert_true(clock_boot() < noon());
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(times_are_written_and_read),
		cmocka_unit_test(dates_are_those_of_the_c_library),
		cmocka_unit_test(a_year_of_five_digits_has_no_text),
		cmocka_unit_test(what_is_no_time_is_refused),
		cmocka_unit_test(clocks_are_the_machines_until_they_are_replaced),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
