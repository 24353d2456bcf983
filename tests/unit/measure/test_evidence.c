/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Diagnosis from several answers. Posteriors were worked out outside this project, in Python. */
#include "near.h"

#include <barwright/measure/evidence.h>

/* Prior 0.5 and five times 0.1. After an answer that only part-of-total gives: 0.1 * 0.9 over that
 * and (0.5 + 0.4) * 0.1 / 1000, which is 0.09 / 0.09009 = 0.999001. */
static void one_answer_convinces_and_two_more_so(void **state)
{
	(void)state;
	double belief[6];
	bool fits[6] = {[5] = true};
	evidence_prior(belief, 6);
	near("prior", belief[5], 0.1, 1e-15);
	code_is(evidence_update(belief, fits, 6), FINE);
	near("after one", belief[5], 0.999001, 1e-6);
	code_is(evidence_update(belief, fits, 6), FINE);
	near("after two", belief[5], 0.99999989, 1e-8);
	assert_false(evidence_is_enough(belief[5], 1, 2));
	assert_false(evidence_is_enough(belief[5], 2, 1));
	assert_false(evidence_is_enough(0.9499, 2, 2));
	assert_true(evidence_is_enough(belief[5], 2, 2));
}

/* As many right answers as wrong ones leave the two where they began against each other. */
static void right_answers_take_a_suspicion_back(void **state)
{
	(void)state;
	double belief[3];
	bool slip[3] = {false, true, false}, right[3] = {true, false, false};
	evidence_prior(belief, 3);
	for (int k = 0; k < 3; k++) {
		code_is(evidence_update(belief, slip, 3), FINE);
		code_is(evidence_update(belief, right, 3), FINE);
	}
	near("slip to right", belief[1] / belief[0], 0.5, 1e-9);
	for (int k = 0; k < 500; k++)
		code_is(evidence_update(belief, right, 3), FINE);
	assert_true(belief[0] > 0.999 && belief[1] > 0);
	for (int k = 0; k < 510; k++)
		code_is(evidence_update(belief, slip, 3), FINE);
	assert_true(belief[1] > 0.999);
}

static void no_rule_at_all_is_a_code(void **state)
{
	double p[1] = {7};
	(void)state;
	code_is(evidence_update(p, NULL, 0), BAD_COUNT);
	near("untouched", p[0], 7, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(one_answer_convinces_and_two_more_so),
		cmocka_unit_test(right_answers_take_a_suspicion_back),
		cmocka_unit_test(no_rule_at_all_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
