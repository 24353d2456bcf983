/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/measure/cut_score.h>

static void angoff_cut_is_the_mean_of_the_judges_sums(void **state)
{
	/* made up: 5 judges, 8 items; errors from R (aov) */
	static const double judged[] = {.60, .70, .55, .80, .65, .90, .50, .75, .65, .75, .60, .85,
		.60, .85, .55, .70, .55, .65, .50, .75, .60, .80, .45, .70, .70, .80, .60, .85, .75,
		.95, .60, .80, .60, .70, .50, .80, .65, .85, .50, .75};
	/* made up: 3 judges, 5 items; sums 3.5, 3.4, 3.6 by hand */
	static const double small[] = {.6, .7, .5, .8, .9, .5, .7, .6, .8, .8, .7, .6, .5, .9, .9};
	struct cut_angoff a;
	(void)state;
	code_is(cut_angoff(judged, 5, 8, &a), FINE);
	near("cut", a.cut, 5.48, 1e-9);
	near("deviation", a.deviation, 0.3801316, 1e-7);
	near("se", a.se, 0.17, 1e-9);
	near("judges", a.judge, .00217411, 1e-8);
	near("items", a.item, .01486607, 1e-8);
	near("rest", a.rest, .00066964, 1e-8);
	near("se with items", a.se_items, 0.3844848, 1e-7);
	code_is(cut_angoff(small, 3, 5, &a), FINE);
	near("share", a.share, 0.70, 1e-12);
	code_is(cut_angoff(small, 1, 5, &a), BAD_COUNT);
	code_is(cut_angoff((double[]){.5, 1.5, .5, .5}, 2, 2, &a), BAD_RANGE);
	code_is(cut_angoff((double[]){.5, NAN, .5, .5}, 2, 2, &a), BAD_RANGE);
}

static void borderline_cut_is_the_line_at_the_borderline_grade(void **state)
{
	/* made up; R: lm and predict */
	static const double grade[] = {1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4};
	static const double score[] = {48, 52, 55, 60, 58, 63, 66, 71, 68, 74, 80, 85};
	/* made up: least squares by hand */
	static const double g[] = {1, 2, 2, 3, 3, 4, 1, 2}, y[] = {42, 55, 58, 69, 73, 88, 45, 61};
	struct cut_borderline b;
	(void)state;
	code_is(cut_borderline(grade, score, 12, 2, &b), FINE);
	near("intercept", b.intercept, 37.9545455, 1e-6);
	near("slope", b.slope, 10.8181818, 1e-6);
	near("cut", b.cut, 59.5909091, 1e-6);
	near("se", b.se, 1.0331289, 1e-6);
	near("residual", b.residual, 3.1723235, 1e-6);
	near("r2", b.r2, .9274954, 1e-6);
	code_is(cut_borderline(g, y, 8, 2, &b), FINE);
	near("slope", b.slope, 14.4333, 1e-3);
	near("intercept", b.intercept, 28.9000, 1e-3);
	near("cut", b.cut, 57.767, 1e-3);
	code_is(cut_borderline(g, y, 2, 2, &b), BAD_COUNT);
	code_is(cut_borderline((double[]){2, 2, 2}, y, 3, 2, &b), BAD_SINGULAR);
	code_is(cut_borderline((double[]){3, 2, 1}, y, 3, 2, &b), BAD_ORDER);
	code_is(cut_borderline(g, y, 8, NAN, &b), BAD_RANGE);
	near("cut is left alone", b.cut, 57.767, 1e-3);
}

/* Made up: 100 candidates, 20 items; frequencies of the scores 6 to 20. */
static void fails_fill(double fails[21])
{
	static const int freq[21] = {[6] = 1, 1, 2, 3, 5, 6, 8, 10, 12, 13, 13, 11, 8, 5, 2};
	double below = 0;
	for (int s = 0; s <= 20; s++) {
		fails[s] = below;
		below += freq[s] / 100.0;
	}
}

static void hofstee_cut_is_where_the_wish_meets_the_fails(void **state)
{
	double fails[21], cut = 7, share = 7;
	enum cut_hofstee_how how;
	(void)state;
	fails_fill(fails);
	/* closed form: .30 - .25 (c - 12)/3 = .18 + .08 (c - 12) */
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){12, 15, .05, .30}, &cut, &share, &how),
		FINE);
	near("cut", cut, 12.7346939, 1e-6);
	near("fails", share, .238775510, 1e-8);
	assert_int_equal(how, HOFSTEE_CROSSED);
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){2, 5, .05, .30}, &cut, &share, &how),
		FINE);
	assert_int_equal(how, HOFSTEE_ALL_BELOW);
	near("highest", cut, 5, 0);
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){16, 18, .05, .30}, &cut, &share, &how),
		FINE);
	assert_int_equal(how, HOFSTEE_ALL_ABOVE);
	near("lowest", cut, 16, 0);
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){15, 12, .05, .30}, &cut, &share, &how),
		BAD_ORDER);
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){12, 25, .05, .30}, &cut, &share, &how),
		BAD_ORDER);
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){12, 15, .05, 1.3}, &cut, &share, &how),
		BAD_RANGE);
	fails[3] = .9;
	code_is(cut_hofstee(fails, 20, &(struct cut_hofstee){12, 15, .05, .30}, &cut, &share, &how),
		BAD_ORDER);
	near("cut is left alone", cut, 16, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(angoff_cut_is_the_mean_of_the_judges_sums),
		cmocka_unit_test(borderline_cut_is_the_line_at_the_borderline_grade),
		cmocka_unit_test(hofstee_cut_is_where_the_wish_meets_the_fails),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
