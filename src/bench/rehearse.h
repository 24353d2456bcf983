/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Working a procedure through before a student does: somebody who knows must be able to finish every
 * part without a fault, every step must be asked for in some case, and every fault must come about as
 * its file says, be made at its step, be found by its check, and show where it says and not before. What cannot be told by reading is found here. */
#ifndef BARWRIGHT_BENCH_REHEARSE_H
#define BARWRIGHT_BENCH_REHEARSE_H

#include "bench/bench.h"

/* How a fault came about when what brings it about was done. */
enum rehearsed {
	REHEARSED_WELL,
	REHEARSED_NEVER_MADE, /* its condition never held */
	REHEARSED_EARLY,      /* it showed before it was made, or before the step where it should */
	REHEARSED_NEVER_SHOWN, /* it was made and did not show where it should */
	REHEARSED_NEVER_FOUND, /* nor by its check */
	REHEARSED_REFUSED      /* a step was refused on the way */
};

enum { REHEARSE_KEYS = 24 };

/* Brings a fault about in one case. *at: the step that was refused. */
enum rehearsed rehearse_fault(
	struct bench *b, size_t fault, const unsigned char key[static BENCH_KEY], size_t *at);
/* The whole procedure; faults go to `d`. BAD_MEMORY. */
enum bad rehearse(struct arena *a, const struct procedure *p, struct diags *d);

#endif
