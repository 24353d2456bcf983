/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The numbers of the work, and what is worked out from them. */
#include <math.h>
#include <string.h>

#include "bench/bar.h"
#include "bench/cure.h"
#include "bench/plan.h"

size_t values_count(const struct bench *b, size_t slot)
{
	return each_count(b->procedure->each[slot], b->nsite);
}

static void slot_write(struct bench *b, size_t slot, const struct formula_value *v)
{
	struct formula_value *to = &b->value[slot];
	double *room = b->room + slot * BENCH_VALUES;
	size_t n = v->n < BENCH_VALUES ? v->n : BENCH_VALUES;
	if (!v->list) {
		*to = (struct formula_value){v->number, NULL, 0};
		return;
	}
	memmove(room, v->list, n * sizeof *room);
	*to = (struct formula_value){0, room, n};
}

bool values_set(struct bench *b, size_t slot, const struct formula_value *v)
{
	double *room = b->room + slot * BENCH_VALUES;
	size_t n = values_count(b, slot);
	if (b->procedure->each[slot] == EACH_ONE && v->list)
		return false;
	if (b->procedure->each[slot] != EACH_ONE && v->list && v->n != n)
		return false;
	if (b->procedure->each[slot] != EACH_ONE && !v->list) {
		for (size_t i = 0; i < n; i++)
			room[i] = v->number;
		b->value[slot] = (struct formula_value){0, room, n};
	} else {
		slot_write(b, slot, v);
	}
	b->age++;
	return true;
}

void values_set_number(struct bench *b, size_t slot, double number)
{
	values_set(b, slot, &(struct formula_value){number, NULL, 0});
}

/* ---- what the bench gives -------------------------------------------------------------------- */

static double core(const struct bench *b, enum core_value which)
{
	return b->value[b->procedure->core[which]].number;
}

/* A let may be a list of any length: false when it is not as long as it must be. */
static bool core_list(const struct bench *b, enum core_value which, enum each each, double *out)
{
	const struct formula_value *v = &b->value[b->procedure->core[which]];
	if (!v->list || v->n != each_count(each, b->nsite))
		return false;
	memcpy(out, v->list, v->n * sizeof *out);
	return true;
}

static bool core_refresh(struct bench *b, int from, int to)
{
	for (int i = from; i <= to; i++) {
		if (b->procedure->core[i] == SIZE_MAX)
			return false;
		values_refresh(b, b->procedure->core[i]);
	}
	return true;
}

static void give_list(struct bench *b, size_t slot, const double *list, bool is_known)
{
	double nothing[BENCH_VALUES];
	size_t n = values_count(b, slot);
	for (size_t i = 0; i < n; i++)
		nothing[i] = formula_nothing();
	slot_write(b, slot, &(struct formula_value){0, is_known ? list : nothing, n});
	b->fresh[slot] = b->age;
}

static void bar_refresh(struct bench *b)
{
	struct bar_made made;
	memset(&made, 0, sizeof made);
	if (!core_refresh(b, 0, CORE_BAR_LAST))
		return;
	made.n = b->nsite;
	if (!core_list(b, CORE_SITE_X, EACH_SITE, made.x_mm) ||
		!core_list(b, CORE_SITE_Y, EACH_SITE, made.y_mm) ||
		!core_list(b, CORE_SITE_DIAMETER, EACH_SITE, made.diameter_mm) ||
		!core_list(b, CORE_HOLE, EACH_SITE, made.hole_mm) ||
		!core_list(b, CORE_BAR_HEIGHT, EACH_PLACE, made.height_mm) ||
		!core_list(b, CORE_EXTENSION, EACH_END, made.extension_mm))
		made.n = 0; /* refused below */
	made.width_mm = core(b, CORE_WIDTH);
	made.bite_N = core(b, CORE_BITE);
	made.modulus_MPa = core(b, CORE_MODULUS);
	made.shear_modulus_MPa = core(b, CORE_SHEAR_MODULUS);
	made.stiffness_N_per_mm = core(b, CORE_STIFFNESS);
	if (!b->bar_known || memcmp(&made, &b->bar_made, sizeof made) != 0) {
		b->bar_code = bar_loads(&made, b->bar_room, &b->bar_loads);
		b->bar_made = made;
		b->bar_known = true;
	}
	const struct bar_loads *l = &b->bar_loads;
	give_list(b, GIVEN_RIGID_LOAD, l->rigid_N, !b->bar_code);
	give_list(b, GIVEN_FLEXIBLE_LOAD, l->flexible_N, !b->bar_code);
	give_list(b, GIVEN_PLACE_STRESS, l->stress_MPa, !b->bar_code);
	give_list(b, GIVEN_END_DROP, l->drop_mm, !b->bar_code);
}

static void cure_refresh(struct bench *b)
{
	struct cure_end end;
	if (!core_refresh(b, CORE_BAR_LAST + 1, CORE_COUNT - 1))
		return;
	struct cure_bath bath = {.start_K = core(b, CORE_BATH_START),
		.rise_K_per_s = core(b, CORE_BATH_RISE),
		.hold_K = core(b, CORE_BATH_HOLD),
		.hold_s = core(b, CORE_HOLD_TIME),
		.boil_s = core(b, CORE_BOIL_TIME),
		.thick_mm = core(b, CORE_RESIN_THICK),
		.monomer_share = core(b, CORE_MONOMER_SHARE)};
	bool is_known = !cure_bath_run(&bath, &end);
	double given[] = {end.peak_K, end.cured, end.residual};
	for (size_t i = 0; i < 3; i++) {
		size_t slot = GIVEN_RESIN_PEAK + i;
		double x = is_known ? given[i] : formula_nothing();
		b->value[slot] = (struct formula_value){x, NULL, 0};
		b->fresh[slot] = b->age;
	}
}

/* ---- lets and formulas ----------------------------------------------------------------------- */

static void needs_refresh(struct bench *b, const struct plan_need *need)
{
	for (size_t i = 0; need && i < need->n; i++)
		values_refresh(b, need->slot[i]);
}

static void unmet(struct bench *b, const struct formula *f)
{
	b->unmet++;
	b->unmet_at = f;
}

void values_refresh(struct bench *b, size_t slot)
{
	const struct let *let = b->plan->let_of[slot];
	struct formula_value v;
	if (b->fresh[slot] == b->age)
		return;
	if (slot > GIVEN_CLOCK && slot < GIVEN_RESIN_PEAK) {
		bar_refresh(b);
	} else if (slot >= GIVEN_RESIN_PEAK && slot < GIVEN_COUNT) {
		cure_refresh(b);
	} else if (let) {
		b->fresh[slot] = b->age;
		needs_refresh(b, b->plan->let_need[slot]);
		enum bad code = formula_run(let->formula, b->value, b->work, &v);
		if (code)
			unmet(b, let->formula);
		slot_write(
			b, slot, code ? &(struct formula_value){formula_nothing(), NULL, 0} : &v);
	}
}

enum bad values_run(struct bench *b, const struct formula *f, struct formula_value *out)
{
	needs_refresh(b, plan_find(b->plan, f));
	enum bad code = formula_run(f, b->value, b->work, out);
	if (code)
		unmet(b, f);
	return code;
}

void values_apply(struct bench *b, const struct set_values *sets)
{
	for (size_t i = 0; i < sets->n; i++) {
		struct formula_value v;
		if (!values_run(b, sets->at[i].formula, &v) && !values_set(b, sets->at[i].slot, &v))
			unmet(b, sets->at[i].formula);
	}
}

double bench_number(struct bench *b, const struct formula *f)
{
	struct formula_value v;
	if (values_run(b, f, &v))
		return formula_nothing();
	return v.list ? v.n ? v.list[0] : formula_nothing() : v.number;
}

bool bench_truth(struct bench *b, const struct formula *f)
{
	double x = bench_number(b, f);
	return !formula_is_nothing(x) && x != 0;
}

const struct formula_value *bench_value(struct bench *b, size_t slot)
{
	values_refresh(b, slot);
	return &b->value[slot];
}

double bench_imbalance(struct bench *b)
{
	values_refresh(b, GIVEN_RIGID_LOAD);
	return b->bar_known && !b->bar_code ? b->bar_loads.imbalance : 0;
}
