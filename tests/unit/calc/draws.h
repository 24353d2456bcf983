/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Draws for the property tests: the same from the same seed on every machine.
 * splitmix64: G. L. Steele, D. Lea, C. H. Flood, OOPSLA 2014. */
#ifndef BARWRIGHT_TESTS_CALC_DRAWS_H
#define BARWRIGHT_TESTS_CALC_DRAWS_H

#include <math.h>
#include <stdint.h>

static inline uint64_t draw_word(uint64_t *state)
{
	uint64_t z = *state += 0x9e3779b97f4a7c15u;
	z = (z ^ z >> 30) * 0xbf58476d1ce4e5b9u;
	z = (z ^ z >> 27) * 0x94d049bb133111ebu;
	return z ^ z >> 31;
}

/* Evenly in [low, high). */
static inline double draw(uint64_t *state, double low, double high)
{
	return low + (high - low) * (double)(draw_word(state) >> 11) * 0x1p-53;
}

/* Evenly in the logarithm. */
static inline double draw_scale(uint64_t *state, double low, double high)
{
	return exp(draw(state, log(low), log(high)));
}

/* 0 to n - 1. */
static inline size_t draw_below(uint64_t *state, size_t n)
{
	return (size_t)(draw_word(state) % n);
}

#endif
