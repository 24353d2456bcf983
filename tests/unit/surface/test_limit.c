/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <string.h>

#include "surface/limit.h"

static void what_is_left_is_told_in_begun_minutes_and_then_seconds(void **state)
{
	(void)state;
	static const struct {
		int64_t left_ms;
		const char *want;
		int64_t next_ms; /* until something else has to be said */
	} rows[] = {
		{2 * 3600000, "2 h left", 60000},
		{2 * 3600000 - 1, "2 h left", 59999},
		{3900000, "1 h 5 min left", 60000},
		{60001, "2 min left", 1},
		{60000, "1 min left", 1000},
		{59000, "59 s left", 1000},
		{58001, "59 s left", 1},
		{1, "1 s left", 1},
		{0, "0 s left", 0},
		{-5000, "0 s left", 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct limit l = {10000000, 3 * 3600000};
		char got[LIMIT_WORDS];
		int64_t now = l.over_ms - rows[i].left_ms, next = limit_next_ms(&l, now);
		limit_words(&l, now, got);
		if (strcmp(got, rows[i].want) != 0 || next != rows[i].next_ms)
			fail_msg("%lld ms left: want '%s' for %lld ms, got '%s' for %lld ms",
				(long long)rows[i].left_ms, rows[i].want,
				(long long)rows[i].next_ms, got, (long long)next);
		assert_int_equal(limit_is_over(&l, now), rows[i].left_ms <= 0);
	}
}

static void where_no_time_runs_nothing_is_said(void **state)
{
	(void)state;
	struct limit none = {0};
	struct warner w = {0};
	char got[LIMIT_WORDS] = "x";
	limit_words(&none, 5, got);
	assert_string_equal(got, "");
	assert_false(limit_is_over(&none, INT64_MAX));
	assert_false(limit_warns(&w, &none, 5, got));
}

/* Looks as often as the limit asks for, from the beginning, and notes when a warning came. */
static void warnings_of(int64_t whole_ms, int64_t at_ms[2], char said[2][LIMIT_WORDS])
{
	struct limit l = {whole_ms + 1, whole_ms};
	struct warner w = {0};
	int n = 0;
	for (int64_t now = 1; !limit_is_over(&l, now); now += limit_next_ms(&l, now)) {
		char words[LIMIT_WORDS];
		if (!limit_warns(&w, &l, now, words))
			continue;
		assert_true(n < 2);
		at_ms[n] = l.over_ms - now;
		memcpy(said[n++], words, sizeof words);
	}
	assert_int_equal(n, 2);
}

static void it_is_warned_twice_and_of_a_short_time_by_its_share(void **state)
{
	(void)state;
	static const struct {
		int64_t whole_ms, first_ms, second_ms;
		const char *words;
	} rows[] = {
		{5400000, 300000, 60000, "The last 5 min have begun."},
		{1200000, 300000, 60000, "The last 5 min have begun."},
		{600000, 120000, 60000, "The last 2 min have begun."},
		{60000, 15000, 6000, "The last 15 s have begun."},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		int64_t at_ms[2];
		char said[2][LIMIT_WORDS];
		warnings_of(rows[i].whole_ms, at_ms, said);
		if (at_ms[0] != rows[i].first_ms || at_ms[1] != rows[i].second_ms ||
			!strstr(said[0], rows[i].words))
			fail_msg("of %lld ms: want %lld and %lld, '%s', got %lld and %lld, '%s'",
				(long long)rows[i].whole_ms, (long long)rows[i].first_ms,
				(long long)rows[i].second_ms, rows[i].words, (long long)at_ms[0],
				(long long)at_ms[1], said[0]);
	}
}

/* Who comes back with two minutes left was told so; only what is still to come is warned of. */
static void what_was_due_before_is_not_warned_of(void **state)
{
	(void)state;
	struct limit l = {10000000, 3600000};
	struct warner w = {0};
	char words[LIMIT_WORDS];
	assert_false(limit_warns(&w, &l, l.over_ms - 120000, words));
	assert_true(limit_warns(&w, &l, l.over_ms - 59000, words));
	assert_non_null(strstr(words, "The last 1 min"));
	assert_false(limit_warns(&w, &l, l.over_ms - 58000, words));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_is_left_is_told_in_begun_minutes_and_then_seconds),
		cmocka_unit_test(where_no_time_runs_nothing_is_said),
		cmocka_unit_test(it_is_warned_twice_and_of_a_short_time_by_its_share),
		cmocka_unit_test(what_was_due_before_is_not_warned_of),
	};
	return cmocka_run_group_tests_name("limit", tests, NULL, NULL);
}
