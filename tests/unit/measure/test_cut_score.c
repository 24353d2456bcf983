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

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(angoff_cut_is_the_mean_of_the_judges_sums),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
