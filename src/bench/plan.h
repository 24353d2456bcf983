/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside the bench: which of the values that are worked out each formula needs. Lets and what the
 * bench gives are worked out when a formula asks, in the order in which they stand, and again only
 * when something changed since. */
#ifndef BARWRIGHT_BENCH_PLAN_H
#define BARWRIGHT_BENCH_PLAN_H

#include "bench/bench.h"

/* Formula of a procedure and the slots it needs worked out first, direct ones only. */
struct plan_need {
	const struct formula *formula;
	const uint16_t *slot;
	uint16_t n;
};

struct bench_plan {
	struct plan_need *need; /* sorted by formula */
	size_t n;
	const struct let **let_of;         /* by slot: the let that stands in it, or null */
	const struct plan_need **let_need; /* by slot: what that let needs */
};

enum bad plan_make(struct arena *a, const struct procedure *p, struct bench_plan **out);
const struct plan_need *plan_find(const struct bench_plan *plan, const struct formula *f);

/* values.c */
enum bad values_run(struct bench *b, const struct formula *f, struct formula_value *out);
/* Sets a slot: a number for all of a list, or value by value; false when it does not fit. */
bool values_set(struct bench *b, size_t slot, const struct formula_value *v);
void values_set_number(struct bench *b, size_t slot, double number);
void values_apply(struct bench *b, const struct set_values *sets);
size_t values_count(const struct bench *b, size_t slot);
/* Brings a let or a given value up to date. */
void values_refresh(struct bench *b, size_t slot);

#endif
