/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Making a recorded run again: the case from its key, every decision from its line, and clock, end and
 * score from what then follows. */
#ifndef BARWRIGHT_BENCH_REPLAY_H
#define BARWRIGHT_BENCH_REPLAY_H

#include <barwright/base/mem.h>
#include <barwright/record/audit.h>

#include "bench/bench.h"

/* Procedures that may be needed and the rubric scores were made with; runs are kept for their next
 * line. Release the arena at the end. */
struct bench_hashed;
struct bench_replay {
	const struct procedure *procedure;
	size_t nprocedure;
	const struct rubric *rubric; /* null: none */
	struct arena arena;
	struct bench_replayed *run, *last; /* last: whose line came last; null: none */
	struct bench_hashed *hashed;
};

/* Is this the item of a run at the bench? */
bool bench_replay_knows(const struct audit_case *what);
/* As replay for struct audit_how; the answers of a run in their order. */
enum bad bench_replay_answer(
	struct bench_replay *r, const struct audit_case *what, struct audit_finding *out);

/* As review for struct audit_how, for sittings of mode "bench": the result of a run, after its decisions. */
enum bad bench_review_line(struct bench_replay *r, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out);

#endif
