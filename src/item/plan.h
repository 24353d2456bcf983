/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: what has to be worked out again when something changes. Made once for a
 * problem, so that a draw runs no formula whose result cannot have changed. */
#ifndef BARWRIGHT_ITEM_PLAN_H
#define BARWRIGHT_ITEM_PLAN_H

#include <stddef.h>

#include <barwright/item/instance.h>

/* Formulas to run into their slots, and the one whose result is wanted. */
struct detour_step {
	size_t slot;
	const struct formula *formula;
};
struct detour {
	struct detour_step *step;
	size_t n;
	const struct formula *end;
};

/* A reading on an instrument and what follows from it. */
struct plan_reading {
	size_t draw;
	struct detour detour;
};
struct plan_pair {
	size_t first, second;
	struct detour detour;
};
struct plan_ask {
	struct detour *change; /* one a slot: from it to the answer; `end` null: no way there */
	struct detour whole;   /* from nothing to the answer: all lets it needs */
	struct plan_reading *reading; /* those that the answer depends on */
	size_t nreading;
	struct detour *slip; /* one a slip; n 0: its formula alone */
	struct plan_pair *pair;
	size_t npair;
};
enum { OTHER_UNITS = 30 };

struct plan {
	struct plan_ask *ask;
	struct unit other[OTHER_UNITS]; /* in which somebody may have worked by mistake */
	double *spare;                  /* FORMULA_LENGTH numbers a slot, for lists on a detour */
	struct formula_value *kept;
	unsigned char *mark; /* one a slot, while the plan is made */
	unsigned char *need;
};

enum bad plan_new(struct arena *a, const struct problem *p, struct plan **out);
/* The readings on instruments that `end` depends on, and the ways there. BAD_MEMORY. */
enum bad plan_readings(struct arena *a, const struct problem *p, struct plan *plan,
	const struct formula *end, struct plan_ask *out);

/* Runs a detour and puts everything back as it was. "Nothing" when a formula gives no result. */
double detour_run(const struct instance *i, const struct detour *d);
/* The result of a formula with the values as they are; "nothing" when it gives none. */
double number_of(const struct instance *i, const struct formula *f);

/* diagnose.c: the units of struct plan; factor 0 for one that is not known. */
void other_units_read(struct unit *out);

/* fair.c: tolerances, slips, pairs, options of one ask, which is at->ask. */
enum unfair ask_is_fair(struct instance *i, struct unfair_at *at);
/* How far two answers are from each other; for times without days, the short way round. */
double answer_gap(const struct instance *i, size_t ask, double a, double b);
double half_shown_digit(const struct shown *shown);

#endif
