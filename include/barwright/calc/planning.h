/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Planning the bench: when each task must start so that the work is ready in time.
 *
 * Pure integer arithmetic: no state, no memory, no clock. A moment is a count of minutes since
 * Monday 1 January 2001, 00:00, on the laboratory's own clock (without summer time); it may be
 * negative. An attended task is worked within bench hours and goes on the next working day where
 * it was left; an unattended one (set, cure, cool) runs through night and weekend. Every function
 * leaves its results alone when it fails. */
#ifndef BARWRIGHT_CALC_PLANNING_H
#define BARWRIGHT_CALC_PLANNING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>

enum { PLANNING_DAY = 1440, PLANNING_WEEK = 7 * 1440 };
enum { PLANNING_MOST = 1000000 };        /* minutes of one task */
#define PLANNING_FAR INT64_C(5000000000) /* minutes from the epoch: over 9000 years */

/* Whole minutes that hold this many seconds, rounded up. */
enum bad planning_minutes(double seconds, int64_t *minutes);

/* ---- tasks ----------------------------------------------------------------------------------- */

/* Bench hours of each weekday, Monday first, in minutes of the day: open <= t < shut. Equal:
 * closed. */
struct planning_hours {
	int open[7], shut[7];
};

struct planning_task {
	int64_t minutes;    /* 0 to PLANNING_MOST */
	bool is_unattended; /* runs whether the bench is open or not */
	bool is_whole; /* attended and not to be left overnight: fits in one day or not at all */
};

struct planning_slot {
	int64_t start, end; /* end: the first minute after; a task left overnight spans the night */
};

/* Latest slots, task by task in their order, that end by `ready`. slot[n] is the caller's.
 * BAD_RANGE: bench hours or a task out of range. BAD_NOTHING: an attended task and the bench is
 * never open, or a whole task longer than any day. */
enum bad planning_backward(const struct planning_task *task, size_t n, int64_t ready,
	const struct planning_hours *hours, struct planning_slot *slot);
/* Earliest slots from `from` on. Errors as above. */
enum bad planning_forward(const struct planning_task *task, size_t n, int64_t from,
	const struct planning_hours *hours, struct planning_slot *slot);

/* Task `before` must start at most `most` (0 or more) minutes after task `after` has ended. */
struct planning_window {
	size_t after, before;
	int64_t most;
};
/* Moves the tasks behind `after` up to and with `before` forward to their earliest when the
 * window is not kept in these slots, which one of the functions here gave. BAD_NOTHING: not kept
 * even so; then the slots are as they were. BAD_ORDER: not after < before < n. Else errors as
 * planning_forward. */
enum bad planning_tighten(const struct planning_task *task, size_t n,
	const struct planning_hours *hours, const struct planning_window *window,
	struct planning_slot *slot);

#endif
