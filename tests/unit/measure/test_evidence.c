/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Diagnosis from several answers. The example is mixing water for gypsum, w = m r / 100, with five
 * wrong rules: inverted 100 m/r; r as it stands; r + (m - 100); tenfold; a tenth; part of the total
 * m r/(100 + r). Tolerance the larger of 0.5 and 1 per cent. Separations, shares and posteriors were
 * worked out outside this project, in Python and by hand for the row (150, 24):
 * the nearest two are 24 and 29.032258 with 0.5 each: 5.032258. */
#include "near.h"

#include <barwright/measure/evidence.h>

enum { RULES = 7 };

static void rules(double m, double r, double *answer, double *tolerance)
{
	double made[RULES] = {m * r / 100, 100 * m / r, r, r + (m - 100), m * r / 10, m * r / 1000,
		m * r / (100 + r)};
	for (int k = 0; k < RULES; k++) {
		answer[k] = made[k];
		tolerance[k] = fmax(0.5, 0.01 * fabs(made[k]));
	}
}

static const struct {
	double m, r, separation;
} rows[] = {
	{100, 24, 0},
	{130, 30, 0},
	{120, 24, 0.774194},
	{150, 24, 5.032258},
	{175, 24, 8.129032},
	{250, 22, 9.445746},
};

static void rules_are_as_far_apart_as_worked_out_by_hand(void **state)
{
	(void)state;
	for (size_t k = 0; k < sizeof rows / sizeof *rows; k++) {
		double a[RULES], t[RULES], s;
		rules(rows[k].m, rows[k].r, a, t);
		code_is(evidence_separation(a, t, RULES, &s), FINE);
		near("separation", s, rows[k].separation, 1e-6);
	}
}

/* All of 60..400 g by 10 and 20..60 mL by 1: how many keep two tolerances apart. */
static void the_grid_holds_as_many_fair_instances_as_counted_elsewhere(void **state)
{
	(void)state;
	int fair = 0, all = 0;
	for (int m = 60; m <= 400; m += 10)
		for (int r = 20; r <= 60; r++) {
			double a[RULES], t[RULES], s;
			rules(m, r, a, t);
			code_is(evidence_separation(a, t, RULES, &s), FINE);
			fair += s >= 2;
			all++;
		}
	assert_int_equal(all, 1435);
	assert_int_equal(fair, 1237);
}

static void an_instance_tells_what_its_classes_tell(void **state)
{
	(void)state;
	static const double belief[RULES] = {0.5, 0.1, 0.1, 0.1, 0.1, 0.1, 0.1};
	double a[RULES], t[RULES], bits;
	static const struct {
		double m, r, bits;
	} want[] = {{100, 24, 1.3567796}, {120, 24, 1.9609640}, {150, 24, 2.1609640}};
	/* Five wrong rules at 0.1 and the right one at 0.5: the sixth wrong one is left out. */
	for (size_t k = 0; k < sizeof want / sizeof *want; k++) {
		double p[RULES - 1], b[RULES - 1], w[RULES - 1];
		rules(want[k].m, want[k].r, a, t);
		int keep[RULES - 1] = {0, 1, 2, 3, 4, 6};
		for (int j = 0; j < RULES - 1; j++) {
			p[j] = belief[keep[j]];
			b[j] = a[keep[j]];
			w[j] = t[keep[j]];
		}
		code_is(evidence_information(p, b, w, RULES - 1, &bits), FINE);
		near("bits", bits, want[k].bits, 1e-7);
	}
}

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

static void what_is_not_defined_is_a_code(void **state)
{
	(void)state;
	double a[2] = {1, 2}, t[2] = {1, 0}, p[2] = {0.5, 0.4}, out = 7;
	code_is(evidence_separation(a, t, 1, &out), BAD_COUNT);
	code_is(evidence_separation(a, t, 2, &out), BAD_RANGE);
	t[1] = 1;
	code_is(evidence_information(p, a, t, 0, &out), BAD_COUNT);
	code_is(evidence_information(p, a, t, 2, &out), BAD_RANGE);
	code_is(evidence_update(p, NULL, 0), BAD_COUNT);
	near("untouched", out, 7, 0);
	a[1] = NAN;
	code_is(evidence_separation(a, t, 2, &out), FINE);
	assert_true(isinf(out));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(rules_are_as_far_apart_as_worked_out_by_hand),
		cmocka_unit_test(the_grid_holds_as_many_fair_instances_as_counted_elsewhere),
		cmocka_unit_test(an_instance_tells_what_its_classes_tell),
		cmocka_unit_test(one_answer_convinces_and_two_more_so),
		cmocka_unit_test(right_answers_take_a_suspicion_back),
		cmocka_unit_test(what_is_not_defined_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
