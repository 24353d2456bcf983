/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/measure/agreement.h>

/* Cohen 1960, Educ. Psychol. Meas. 20, table of 200 diagnoses; he reports .492. */
static const double cohen_1960[] = {88, 14, 18, 10, 40, 10, 2, 6, 12};

static void kappa_of_cohens_own_table_is_his(void **state)
{
	struct agreement a;
	(void)state;
	code_is(agreement_kappa(cohen_1960, 3, NULL, &a, NULL), FINE);
	near("observed", a.observed, 0.70, 1e-12);
	near("expected", a.expected, 0.41, 1e-12);
	near("kappa, published .492", a.kappa, 0.492, 0.0005);
	/* R: psych::cohen.kappa and irr::kappa2 */
	near("kappa", a.kappa, 0.4915254237, 1e-9);
	near("se", a.se, 0.0510018156, 1e-9);
	near("se if chance", a.se_null, 0.0519789364, 1e-9);
	near("z", a.kappa / a.se_null, 9.45624244, 1e-7);
	near("low", a.low, .3915637, 1e-6);
	near("high", a.high, .5914871, 1e-6);
}

static void weighted_kappa_is_cohens_of_1968(void **state)
{
	/* Cohen 1968, Psychol. Bull. 70: these weights, the table of 1960; he reports .348. */
	static const double weight[] = {0, 1, 3, 1, 0, 6, 3, 6, 0};
	double made[9];
	struct agreement a;
	(void)state;
	code_is(agreement_kappa(cohen_1960, 3, weight, &a, NULL), FINE);
	near("published .348", a.kappa, 0.348, 0.0005);
	near("kappa", a.kappa, 0.3478260870, 1e-9);
	/* R: irr::kappa2 with weights "equal" and "squared" */
	agreement_weights(3, 1, made);
	code_is(agreement_kappa(cohen_1960, 3, made, &a, NULL), FINE);
	near("linear", a.kappa, 0.4736842105, 1e-9);
	agreement_weights(3, 2, made);
	code_is(agreement_kappa(cohen_1960, 3, made, &a, NULL), FINE);
	near("quadratic", a.kappa, 0.4545454545, 1e-9);
}

static void two_examiners_who_pass_and_fail_by_hand(void **state)
{
	/* (31/40 - .525) / .475, worked out on paper; Byrt 1993: 2 p_o - 1 */
	static const double counts[] = {20, 5, 4, 11};
	struct agreement a;
	(void)state;
	code_is(agreement_kappa(counts, 2, NULL, &a, NULL), FINE);
	near("observed", a.observed, 0.775, 1e-12);
	near("expected", a.expected, 0.525, 1e-12);
	near("kappa", a.kappa, 0.5263, 0.0001);
	near("pabak", a.pabak, 0.55, 1e-12);
}

static void what_has_no_kappa_is_a_code_and_changes_nothing(void **state)
{
	static const struct {
		const char *why;
		double counts[4];
		size_t k;
		enum bad code;
	} rows[] = {
		{"one category only", {9, 0, 0, 0}, 2, BAD_SINGULAR},
		{"nothing judged", {0, 0, 0, 0}, 2, BAD_NOTHING},
		{"less than nothing", {1, -1, 2, 3}, 2, BAD_RANGE},
		{"not a number", {1, NAN, 2, 3}, 2, BAD_RANGE},
		{"one category", {1, 1, 2, 3}, 1, BAD_COUNT},
		{"too many categories", {1, 1, 2, 3}, AGREEMENT_CATEGORIES + 1, BAD_COUNT},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct agreement a = {.kappa = 7};
		double observed = 7;
		print_message("%s\n", rows[i].why);
		code_is(agreement_kappa(rows[i].counts, rows[i].k, NULL, &a, &observed),
			rows[i].code);
		near(rows[i].why, a.kappa, 7, 0);
		near(rows[i].why, observed, rows[i].code == BAD_SINGULAR ? 1 : 7, 0);
	}
	static const double on_diagonal[] = {1, 2, 2, 0}, flat[4];
	struct agreement a;
	code_is(agreement_kappa(rows[2].counts + 2, 1, on_diagonal, &a, NULL), BAD_COUNT);
	code_is(agreement_kappa(cohen_1960, 2, on_diagonal, &a, NULL), BAD_RANGE);
	code_is(agreement_kappa(cohen_1960, 2, flat, &a, NULL), BAD_RANGE);
}

static void six_forms_of_the_intraclass_correlation_are_those_of_shrout_and_fleiss(void **state)
{
	/* Shrout and Fleiss 1979, Psychol. Bull. 86, table 2: 6 targets, 4 judges */
	static const double rating[] = {
		9, 2, 5, 8, 6, 1, 3, 2, 8, 4, 6, 8, 7, 1, 2, 6, 10, 5, 6, 9, 6, 2, 4, 7};
	struct agreement_icc s;
	(void)state;
	code_is(agreement_icc(rating, 6, 4, &s), FINE);
	near("between, published 11.24", s.between, 11.24, 0.005);
	near("within, published 6.26", s.within, 6.26, 0.005);
	near("judges, published 32.49", s.raters, 32.49, 0.005);
	near("rest, published 1.02", s.rest, 1.02, 0.005);
	/* R: psych::ICC and irr::icc; published .17 .29 .71 .44 .62 .91 */
	near("1,1", s.single[ICC_ANY], 0.16574177, 1e-8);
	near("2,1", s.single[ICC_RANDOM], 0.28976378, 1e-8);
	near("3,1", s.single[ICC_FIXED], 0.71484071, 1e-8);
	near("1,4", s.mean[ICC_ANY], 0.44279713, 1e-8);
	near("2,4", s.mean[ICC_RANDOM], 0.62005055, 1e-8);
	near("3,4", s.mean[ICC_FIXED], 0.90931554, 1e-8);
	code_is(agreement_icc(rating, 1, 4, &s), BAD_COUNT);
	code_is(agreement_icc(rating, 6, 1, &s), BAD_COUNT);
	code_is(agreement_icc((double[]){1, 2, 1, 2}, 2, 2, &s), BAD_SINGULAR);
	code_is(agreement_icc((double[]){1, 2, 1, INFINITY}, 2, 2, &s), BAD_RANGE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(kappa_of_cohens_own_table_is_his),
		cmocka_unit_test(weighted_kappa_is_cohens_of_1968),
		cmocka_unit_test(two_examiners_who_pass_and_fail_by_hand),
		cmocka_unit_test(what_has_no_kappa_is_a_code_and_changes_nothing),
		cmocka_unit_test(
			six_forms_of_the_intraclass_correlation_are_those_of_shrout_and_fleiss),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
