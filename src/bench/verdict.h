/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a run that has ended is evidence for: a result by competency, as sittings and ratings have one. Pure
 * but for the arena.
 *
 * A competency is judged that a step of the part names, by the weakest of the stations in which such a step
 * stands; of a hunt, the one its hidden fault belongs to, by the whole. It is reached when that is
 * competent and the run is passed (bench/score.h). A case that was referred back speaks for none. */
#ifndef BARWRIGHT_BENCH_VERDICT_H
#define BARWRIGHT_BENCH_VERDICT_H

#include <barwright/base/mem.h>
#include <barwright/record/graded.h>

#include "bench/bench.h"

/* Guided work is told what comes next: it is no evidence. */
bool verdict_counts(const struct bench *b);
/* `item` is the name of the run (bench/ledger.h) and must outlive *out, as must the procedure; all else is
 * in `a`. Call it after the end. BAD_MEMORY. */
enum bad verdict_find(struct bench *b, const struct rubric *rubric, const char *item,
	uint64_t attempt, struct arena *a, struct line_result *out);

#endif
