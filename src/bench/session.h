/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person works a procedure: on the plain surface by typed lines, on the screen by choosing, with
 * the same words and the same record. Nothing is taken back; leaving and coming back goes on where
 * the record ends. */
#ifndef BARWRIGHT_BENCH_SESSION_H
#define BARWRIGHT_BENCH_SESSION_H

#include <barwright/record/strand.h>

#include "bench/bench.h"
#include "surface/surface.h"

struct bench_desk {
	const struct course *course;
	const struct rubric *rubric; /* null: stations weigh the same */
	struct surface *surface;
	struct strand *strand; /* null: nothing is recorded */
	const char *who, *program;
	const char *sitting; /* code of a new sitting */
	bool is_given; /* that code was asked for: no run of another sitting is taken up unasked */
	bool by_lines; /* decisions are typed, not chosen */
	enum bad lost; /* FINE, or why the surface or the record failed */
};

/* How it ended: REPLY_GO the run came to its end and was shown, REPLY_BACK, REPLY_LEAVE,
 * REPLY_LOST (desk->lost tells whether something failed). `fault`: the one that is put on the bench
 * for a hunt; SIZE_MAX: any. */
enum reply_kind bench_session(struct bench_desk *d, const struct procedure *p, size_t part,
	enum bench_mode mode, size_t fault);

/* A run of it (mode BENCH_MODES: in any mode), decision by decision, as it was done; of one that has
 * ended also what nobody saw then. `which` counts the learner's runs in the order they were begun, from 1, in all
 * strands of the folder where the desk's stands; 0: the only one, or the one that is chosen from a
 * list. Records nothing. REPLY_BACK when there is none. */
enum reply_kind bench_again(struct bench_desk *d, const struct procedure *p, size_t part,
	enum bench_mode mode, size_t fault, size_t which);

#endif
