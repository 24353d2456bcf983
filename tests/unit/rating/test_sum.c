/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "rating/sum.h"

static const int weight[12] = {6, 6, 10, 8, 10, 8, 10, 8, 8, 8, 10, 8};

/* Twelve stations with the weights of the bench rubric; points 0/40/75/100, to pass 70 %, two below. */
struct twelve {
	struct station station[12];
	struct sum_station at[12];
	struct rubric rubric;
};

static void twelve_fill(struct twelve *t, const char *levels)
{
	*t = (struct twelve){
		.rubric = {.points = {0, 40, 75, 100}, .pass = 70, .below = 2, .nstation = 12}};
	for (int i = 0; i < 12; i++) {
		t->station[i].weight = weight[i];
		t->at[i].level = levels[i] == '?' ? LEVEL_OPEN : levels[i] - '0';
	}
	t->rubric.station = t->station;
}

static void weighted_sums_and_verdicts_are_those_worked_out_by_hand(void **state)
{
	/* made up, sums on paper: e.g. the first, 6*100+6*75+10*100+... = 8550 / 100 */
	static const struct {
		const char *why, *levels;
		int critical; /* station with a critical error, -1 none */
		double percent;
		enum sum_verdict verdict;
	} rows[] = {
		{"a good candidate", "323223232232", -1, 85.50, SUM_PASSED},
		{"the same with one critical error", "323223232232", 4, 85.50, SUM_NOT_PASSED},
		{"competent everywhere", "222222222222", -1, 75.00, SUM_PASSED},
		{"two below", "112222222222", -1, 70.80, SUM_PASSED},
		{"two heavy ones below: under 70 %", "221212222222", -1, 68.00, SUM_NOT_PASSED},
		{"three below", "111333333333", -1, 86.80, SUM_NOT_PASSED},
		{"one unusable, whatever the sum", "033333333333", -1, 94.00, SUM_NOT_PASSED},
		{"one not rated yet", "?22222222222", -1, 75.00, SUM_OPEN},
		{"not rated yet, but lost already", "0?2222222222", -1, 70.212766, SUM_NOT_PASSED},
		{"nothing rated", "????????????", -1, 0, SUM_OPEN},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct twelve t;
		struct sum s;
		twelve_fill(&t, rows[i].levels);
		if (rows[i].critical >= 0)
			t.at[rows[i].critical].critical = true;
		sum_find(&t.rubric, t.at, &s);
		near(rows[i].why, s.percent, rows[i].percent, 1e-6);
		if (s.verdict != rows[i].verdict)
			print_error("%s: verdict %d\n", rows[i].why, (int)s.verdict);
		assert_int_equal(s.verdict, rows[i].verdict);
	}
}

static void a_station_is_as_good_as_its_weakest_criterion(void **state)
{
	(void)state;
	assert_int_equal(sum_station_level((int[]){3, 2, 3}, 3), 2);
	assert_int_equal(sum_station_level((int[]){3, 0, LEVEL_OPEN}, 3), LEVEL_OPEN);
	assert_int_equal(sum_station_level((int[]){3}, 1), 3);
	assert_int_equal(sum_station_level(NULL, 0), LEVEL_OPEN);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(weighted_sums_and_verdicts_are_those_worked_out_by_hand),
		cmocka_unit_test(a_station_is_as_good_as_its_weakest_criterion),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
