/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The procedure of the courses on the bench, and players of it: one who knows, a novice, one who does
 * anything. Include after near.h. */
#ifndef BARWRIGHT_TESTS_PLAY_H
#define BARWRIGHT_TESTS_PLAY_H

#include <stdbool.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/diag.h>
#include <barwright/base/text.h>

#include "bench/bench.h"
#include "bench/decide.h"

struct play {
	struct arena arena;
	struct procedure procedure;
	struct bench *bench;
	size_t whole; /* the part that is all of it */
};

static inline bool play_open(struct play *p)
{
	struct diags d = {.arena = &p->arena};
	if (cipher_start() ||
		procedure_load("courses/procedures/hand-made-bar.yaml", &p->procedure, &d) ||
		d.nerror || bench_new(&p->arena, &p->procedure, &p->bench))
		return false;
	p->whole = procedure_part(&p->procedure, "whole-run");
	return p->whole != SIZE_MAX;
}

static inline void play_close(struct play *p)
{
	procedure_release(&p->procedure);
	arena_release(&p->arena);
}

static inline void play_key(uint32_t n, unsigned char key[BENCH_KEY])
{
	memset(key, 0, BENCH_KEY);
	for (int i = 0; i < 4; i++)
		key[i] = (unsigned char)(n >> 8 * i);
}

/* xorshift (G. Marsaglia, "Xorshift RNGs", J Stat Softw 8(14), 2003): tests want numbers of their
 * own, not those under test. */
static inline uint32_t play_random(uint32_t *state)
{
	*state ^= *state << 13;
	*state ^= *state >> 17;
	*state ^= *state << 5;
	return *state;
}
static inline uint32_t play_below(uint32_t *state, uint32_t n)
{
	return play_random(state) % n;
}

static inline double play_value(const struct hand_ask *x, uint32_t *state)
{
	if (x->kind == HAND_TRUTH)
		return play_below(state, 2);
	if (x->kind == HAND_CHOICE)
		return x->choice[play_below(state, (uint32_t)x->nchoice)].value;
	return x->low + (x->high - x->low) * play_below(state, 1001) / 1000.0;
}

/* Answers as somebody who knows, each of them wrong with a chance of `wrong` in 100. */
static inline void play_input(
	struct bench *b, size_t step, uint32_t wrong, uint32_t *state, struct bench_input *out)
{
	const struct work_step *s = &b->procedure->step[step];
	bench_usual(b, step, SIZE_MAX, out);
	for (size_t i = 0; i < s->nask; i++)
		for (size_t k = 0; k < each_count(s->ask[i].each, b->nsite); k++)
			if (play_below(state, 100) < wrong)
				out->value[i][k] = play_value(&s->ask[i], state);
}

/* One decision of somebody who does anything. Refusals are fine. */
static inline void play_anything(struct bench *b, uint32_t *state)
{
	const struct procedure *p = b->procedure;
	struct bench_input input;
	struct bench_reading reading;
	uint32_t what = play_below(state, 100);
	size_t step = play_below(state, (uint32_t)p->nstep);
	for (size_t i = 0; what < 60 && i < p->nstep; i++)
		if (bench_is_next(b, i))
			step = i;
	if (what < 72) {
		play_input(b, step, play_below(state, 2) ? 10 : 60, state, &input);
		bench_do(b, step, &input);
	} else if (what < 84) {
		bench_look(b, play_below(state, (uint32_t)p->nlook), SIZE_MAX, &reading);
	} else if (what < 90) {
		bench_mend(b, play_below(state, (uint32_t)p->nfault));
	} else if (what < 94) {
		bench_back(b, play_below(state, (uint32_t)p->nback));
	} else if (what < 97) {
		bench_buy(b, play_below(state, (uint32_t)p->nstuff));
	} else if (what < 99) {
		bench_wait(b, 60.0 * (1 + play_below(state, 300)));
	}
}

/* What must hold of every state, whatever was done; null, or what does not. */
static inline const char *play_is_broken(struct bench *b, double *clock_s)
{
	const struct procedure *p = b->procedure;
	const struct formula_value *height = bench_value(b, p->core[CORE_BAR_HEIGHT]);
	double bite = 0;
	if (bench_clock_s(b) < *clock_s)
		return "the clock went back";
	*clock_s = bench_clock_s(b);
	if (b->unmet)
		return "a formula gave no result";
	for (size_t i = 0; i < height->n; i++)
		if (!(height->list[i] >= 0))
			return "a height of the bar is below 0";
	for (size_t i = 0; i < p->nstuff; i++)
		if (!(b->stock[i] >= 0))
			return "less than nothing is left of a material";
	if (!(bench_imbalance(b) < 1e-6))
		return "the loads are not in balance";
	for (size_t i = 0; b->bar_known && !b->bar_code && i < b->nsite; i++)
		bite += b->bar_loads.rigid_N[i];
	if (b->bar_known && !b->bar_code && !(fabs(bite - b->bar_made.bite_N) < 1e-6))
		return "the sites do not carry the bite";
	for (size_t k = 0; k < p->nfault; k++) {
		const struct fault_mark *m = &b->fault[k];
		if (m->is_there && m->is_shown && m->shown_s < m->made_s)
			return "a fault showed before it was made";
	}
	return NULL;
}

/* Is there anything to be done, short of the end? */
static inline bool play_goes_on(struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; i < p->nstep; i++)
		if (bench_can_do(b, i))
			return true;
	for (size_t i = 0; i < p->nback; i++)
		if (bench_can_back(b, i))
			return true;
	for (size_t i = 0; i < p->nfault; i++)
		if (bench_can_mend(b, i))
			return true;
	return false;
}

/* A whole random run, without a look at what holds; how many decisions it took. */
static inline unsigned long play_random_run(struct bench *b, size_t part, uint32_t n)
{
	unsigned char key[BENCH_KEY];
	uint32_t state = n * 2654435761U + 1;
	play_key(n, key);
	bench_start(b, key, part, BENCH_FREE);
	for (int i = 0; i < 120 && !b->end; i++)
		play_anything(b, &state);
	bench_end(b, END_ACCEPTED);
	return b->decisions;
}

#endif
