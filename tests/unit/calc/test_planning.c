/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <stdlib.h>
#include <time.h>

#include <barwright/calc/planning.h>

static uint64_t seed;
static int64_t below(int64_t n)
{
	seed ^= seed >> 12, seed ^= seed << 25, seed ^= seed >> 27;
	return (int64_t)(((seed * 2685821657736338717u) >> 33) % (uint64_t)n);
}

static void seed_set(uint64_t value)
{
	const char *given = getenv("SEED");

	seed = given ? strtoull(given, NULL, 0) : value;
	print_message("seed %llu (SEED= sets it)\n", (unsigned long long)seed);
}

/* The C library's calendar, which knows nothing of the one in planning.h; 1 January 2001 is
 * 978307200 s after 1 January 1970. */
static int64_t moment(int year, int month, int day, int hour, int minute)
{
	struct tm tm = {.tm_year = year - 1900,
		.tm_mon = month - 1,
		.tm_mday = day,
		.tm_hour = hour,
		.tm_min = minute};

	return (timegm(&tm) - 978307200) / 60;
}

static void at_is(const char *why, int64_t t, int day, int hour, int minute)
{
	time_t unix_s = (time_t)t * 60 + 978307200;
	struct tm d;

	assert_non_null(gmtime_r(&unix_s, &d));
	if (d.tm_mday != day || d.tm_hour != hour || d.tm_min != minute)
		fail_msg("%s: want day %d %02d:%02d, got day %d %02d:%02d", why, day, hour, minute,
			d.tm_mday, d.tm_hour, d.tm_min);
}

static void weeks_begin_on_the_monday_they_should(void **state)
{
	(void)state;
	/* 4 December 2026 is a Friday. */
	assert_int_equal(moment(2001, 1, 1, 0, 0), 0);
	assert_int_equal(moment(2026, 12, 4, 0, 0) % PLANNING_WEEK, 4 * PLANNING_DAY);
}

static void begun_minutes_are_counted(void **state)
{
	int64_t t = 7;

	(void)state;
	code_is(planning_minutes(-1, &t), BAD_RANGE);
	code_is(planning_minutes(NAN, &t), BAD_RANGE);
	assert_int_equal(t, 7);
	code_is(planning_minutes(531 * 60, &t), FINE);
	assert_int_equal(t, 531);
	code_is(planning_minutes(60.5, &t), FINE);
	assert_int_equal(t, 2);
}

/* Durations, ramps and bench hours below are course values; the times were worked by hand. */
static const struct planning_hours bench = {
	.open = {480, 480, 480, 480, 480, 0, 0}, .shut = {1020, 1020, 1020, 1020, 1020, 0, 0}};

static void cure_that_starts_in_the_afternoon_ends_after_midnight(void **state)
{
	int64_t start = moment(2026, 12, 2, 16, 30); /* a Wednesday */

	(void)state;
	at_is("end of the cure", start + 531, 3, 1, 21);
	at_is("after 30 min on the bench and 15 in water", start + 531 + 45, 3, 2, 6);
}

enum { INVEST, SET, BOIL_OUT, PACK, REST, CURE, COOL, DEFLASK, TRIM, VENEER, RELEASE, TASKS };
static const struct planning_task tasks[TASKS] = {
	[INVEST] = {150, false, false},
	[SET] = {60, true, false},
	[BOIL_OUT] = {150, false, false},
	[PACK] = {90, false, false},
	[REST] = {60, true, false},
	[CURE] = {531, true, false},
	[COOL] = {45, true, false},
	[DEFLASK] = {60, false, false},
	[TRIM] = {180, false, false},
	[VENEER] = {240, false, false},
	[RELEASE] = {60, false, false},
};

static void latest_starts_step_back_through_bench_hours(void **state)
{
	static const struct {
		const char *why;
		int task, day, hour, minute;
	} rows[] = {
		{"release", RELEASE, 4, 14, 0},
		{"veneer and polish", VENEER, 4, 10, 0},
		{"trim, left overnight", TRIM, 3, 16, 0},
		{"deflask", DEFLASK, 3, 15, 0},
		{"cool", COOL, 3, 14, 15},
		{"cure, in the night", CURE, 3, 5, 24},
		{"rest under the clamp", REST, 3, 4, 24},
		{"pack", PACK, 2, 15, 30},
		{"boil-out", BOIL_OUT, 2, 13, 0},
		{"set of the second pour", SET, 2, 12, 0},
		{"invest", INVEST, 2, 9, 30},
	};
	struct planning_slot slot[TASKS];
	int64_t ready = moment(2026, 12, 4, 15, 0);

	(void)state;
	code_is(planning_backward(tasks, TASKS, ready, &bench, slot), FINE);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
		at_is(rows[i].why, slot[rows[i].task].start, rows[i].day, rows[i].hour,
			rows[i].minute);
	at_is("packed by", slot[PACK].end, 2, 17, 0);
	/* Wrong: nights counted as work: 1626 minutes straight back from Friday 15:00. */
	int64_t sum = 0;
	for (size_t i = 0; i < TASKS; i++)
		sum += tasks[i].minutes;
	assert_true(ready - sum - slot[INVEST].start > 1000);
	/* Wrong: worked at the weekend. */
	code_is(planning_backward(tasks + TRIM, 1, moment(2026, 12, 7, 9, 0), &bench, slot), FINE);
	at_is("Monday 9:00 less 180 min is Friday", slot[0].start, 4, 15, 0);
}

/* Leao et al. 2018, Int J Dent 5743840: 0 to 6 h between pressing and curing showed no loss of
 * conversion, 12 h did. */
static void flask_must_not_wait_too_long_under_the_clamp(void **state)
{
	static const struct planning_window clamp = {PACK, CURE, 360};
	struct planning_slot slot[TASKS];

	(void)state;
	code_is(planning_backward(tasks, TASKS, moment(2026, 12, 4, 15, 0), &bench, slot), FINE);
	assert_int_equal(slot[CURE].start - slot[PACK].end, 12 * 60 + 24);
	code_is(planning_tighten(tasks, TASKS, &bench, &clamp, slot), FINE);
	assert_true(slot[CURE].start - slot[PACK].end <= 360);
	at_is("tank", slot[CURE].start, 2, 18, 0);
	at_is("cured", slot[CURE].end, 3, 2, 51);
	at_is("cooling stays", slot[COOL].start, 3, 14, 15);
	at_is("packing stays", slot[PACK].start, 2, 15, 30);
	/* Kept to the minute: 60 min of rest. */
	code_is(planning_backward(tasks, TASKS, moment(2026, 12, 4, 15, 0), &bench, slot), FINE);
	static const struct planning_window tight = {PACK, CURE, 60}, tighter = {PACK, CURE, 59};
	code_is(planning_tighten(tasks, TASKS, &bench, &tighter, slot), BAD_NOTHING);
	code_is(planning_tighten(tasks, TASKS, &bench, &tight, slot), FINE);
	at_is("tank", slot[CURE].start, 2, 18, 0);
	/* A window that is kept, one that cannot be, and tasks that make no sense leave all as it is. */
	struct planning_slot before[TASKS];
	memcpy(before, slot, sizeof slot);
	code_is(planning_tighten(tasks, TASKS, &bench, &tight, slot), FINE);
	struct planning_hours never = bench;
	never.open[0] = -1;
	code_is(planning_tighten(tasks, TASKS, &never, &tighter, slot), BAD_RANGE);
	static const struct planning_window hasty = {PACK, DEFLASK, 600};
	code_is(planning_tighten(tasks, TASKS, &bench, &hasty, slot), BAD_NOTHING);
	assert_memory_equal(before, slot, sizeof slot);
	static const struct planning_window same = {PACK, PACK, 600}, past = {PACK, TASKS, 600};
	code_is(planning_tighten(tasks, TASKS, &bench, &same, slot), BAD_ORDER);
	code_is(planning_tighten(tasks, TASKS, &bench, &past, slot), BAD_ORDER);
	static const struct planning_window backwards = {CURE, PACK, 600};
	code_is(planning_tighten(tasks, TASKS, &bench, &backwards, slot), BAD_ORDER);
}

static void whole_task_is_not_left_overnight(void **state)
{
	struct planning_task t = {240, false, true};
	struct planning_slot slot;

	(void)state;
	code_is(planning_backward(&t, 1, moment(2026, 12, 3, 10, 0), &bench, &slot), FINE);
	at_is("starts", slot.start, 2, 13, 0);
	at_is("ends", slot.end, 2, 17, 0);
	code_is(planning_forward(&t, 1, moment(2026, 12, 4, 15, 0), &bench, &slot), FINE);
	at_is("over the weekend", slot.start, 7, 8, 0);
	t.minutes = 540;
	code_is(planning_forward(&t, 1, moment(2026, 12, 3, 7, 0), &bench, &slot), FINE);
	at_is("a whole day", slot.end, 3, 17, 0);
	t.minutes = 541;
	code_is(planning_forward(&t, 1, moment(2026, 12, 4, 15, 0), &bench, &slot), BAD_NOTHING);
	t.is_whole = false;
	code_is(planning_forward(&t, 1, moment(2026, 12, 3, 8, 0), &bench, &slot), FINE);
	at_is("one minute on the next day", slot.end, 4, 8, 1);
}

static void planning_refuses_bad_hours_and_tasks(void **state)
{
	struct planning_task t = {60, false, false};
	struct planning_hours h = {{0}, {0}};
	struct planning_slot slot = {7, 7};

	(void)state;
	code_is(planning_backward(&t, 1, 0, &h, &slot), BAD_NOTHING);
	h.shut[2] = 1441;
	code_is(planning_backward(&t, 1, 0, &h, &slot), BAD_RANGE);
	h.shut[2] = 100, h.open[2] = 200;
	code_is(planning_forward(&t, 1, 0, &h, &slot), BAD_RANGE);
	t.minutes = -1;
	code_is(planning_backward(&t, 1, 0, &bench, &slot), BAD_RANGE);
	t.minutes = PLANNING_MOST;
	code_is(planning_backward(&t, 1, 0, &bench, &(struct planning_slot){0, 0}), FINE);
	t.minutes = PLANNING_MOST + 1;
	code_is(planning_backward(&t, 1, 0, &bench, &slot), BAD_RANGE);
	t.minutes = 1;
	code_is(planning_backward(&t, 1, INT64_MIN, &bench, &slot), BAD_RANGE);
	assert_int_equal(slot.start, 7);
	t = (struct planning_task){60, true, false};
	h = (struct planning_hours){{0}, {0}};
	code_is(planning_backward(&t, 1, -5, &h, &slot), FINE);
	assert_int_equal(slot.start, -65);
	code_is(planning_backward(&t, 0, 0, &bench, &slot), FINE);
}

/* Minutes of bench time between two moments, counted one by one. */
static int64_t open_minutes(int64_t from, int64_t to)
{
	int64_t n = 0;

	for (int64_t t = from; t < to; t++) {
		int64_t week = ((t % PLANNING_WEEK) + PLANNING_WEEK) % PLANNING_WEEK;
		int64_t day = week / PLANNING_DAY, minute = week % PLANNING_DAY;

		n += minute >= bench.open[day] && minute < bench.shut[day];
	}
	return n;
}

static void random_plans_are_true_and_the_latest(void **state)
{
	(void)state;
	seed_set(4711);
	for (int round = 0; round < 2000; round++) {
		struct planning_task task[6];
		struct planning_slot back[6], on[6];
		size_t n = 1 + (size_t)below(6);
		int64_t ready = below(4 * PLANNING_WEEK) - 2 * PLANNING_WEEK;

		for (size_t i = 0; i < n; i++)
			task[i] = (struct planning_task){
				1 + below(500), below(3) == 0, below(3) == 0};
		code_is(planning_backward(task, n, ready, &bench, back), FINE);
		assert_true(back[n - 1].end <= ready);
		for (size_t i = 0; i < n; i++) {
			int64_t worked = task[i].is_unattended
						 ? back[i].end - back[i].start
						 : open_minutes(back[i].start, back[i].end);

			assert_int_equal(worked, task[i].minutes);
			if (task[i].is_whole)
				assert_int_equal(back[i].end - back[i].start, task[i].minutes);
			if (i)
				assert_true(back[i - 1].end <= back[i].start);
		}
		code_is(planning_forward(task, n, back[0].start, &bench, on), FINE);
		assert_int_equal(on[0].start, back[0].start);
		assert_true(on[n - 1].end <= ready);
		/* One minute later is too late. */
		code_is(planning_forward(task, n, back[0].start + 1, &bench, on), FINE);
		assert_true(on[n - 1].end > ready);
	}
}

int main(void)
{
	const struct CMUnitTest all[] = {
		cmocka_unit_test(weeks_begin_on_the_monday_they_should),
		cmocka_unit_test(begun_minutes_are_counted),
		cmocka_unit_test(cure_that_starts_in_the_afternoon_ends_after_midnight),
		cmocka_unit_test(latest_starts_step_back_through_bench_hours),
		cmocka_unit_test(flask_must_not_wait_too_long_under_the_clamp),
		cmocka_unit_test(whole_task_is_not_left_overnight),
		cmocka_unit_test(planning_refuses_bad_hours_and_tasks),
		cmocka_unit_test(random_plans_are_true_and_the_latest),
	};

	return cmocka_run_group_tests(all, NULL, NULL);
}
