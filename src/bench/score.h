/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run that has ended, in the levels and points of a rubric. Pure.
 *
 * A station is rated when a step of it stands in the part. Its level is the lowest of what the numbers
 * reach (the procedure's `rates`) and what its faults allow: 3 with none, or all caught by a look and
 * put right before they showed; 2 with one that showed and was put right, an order or a window that
 * was not kept; 1 with one that was left; 0 with a critical one that was left, or a critical order.
 * Steps that were left out and bring no fault along: 1. Course values. The numbers of a station that
 * has steps after this part are not rated: they are not made yet. Passed: the rubric's
 * per cent (70), no station at 0, at most as many at 1 as it allows (2), no critical error, accepted.
 *
 * A hunt is rated by what was said of the hidden fault: the fault itself, the step where it was made,
 * the step that could have found it first (HUNT_... points, course values); passed when the fault is
 * right and the per cent are reached. A case referred back: 100 when that was right, rests on what was
 * looked at and the finding named is the one that shows it; REFERRAL_HALF (a course value) when another
 * was named; 0 when it was not right, or when nobody had looked. */
#ifndef BARWRIGHT_BENCH_SCORE_H
#define BARWRIGHT_BENCH_SCORE_H

#include "bench/bench.h"

enum { SCORE_STATIONS = 32, HUNT_FAULT = 50, HUNT_MADE = 25, HUNT_CHECK = 25, REFERRAL_HALF = 50 };

/* What referring the case back was worth. */
enum referral {
	REFERRAL_NONE,  /* it was not referred back */
	REFERRAL_WRONG, /* it could have been made */
	REFERRAL_BLIND, /* rightly, but what shows it was not looked at */
	REFERRAL_OTHER, /* rightly, but the finding named does not show it */
	REFERRAL_GOOD
};

struct station_score {
	const char *station, *title; /* title: the code where there is no rubric */
	int weight, level, points;
	bool is_critical; /* a critical error fails it */
	size_t faults;    /* made here, mended or not */
	const char *asks; /* what level 3 asks of its numbers, where they do not reach it; null */
};
struct bench_score {
	struct station_score station[SCORE_STATIONS];
	size_t n;
	double percent;      /* of the stations that were rated */
	int pass, ones_most; /* the rubric's per cent, and how many stations may be at 1 */
	int ones, zeros;     /* stations at 1 and at 0 */
	bool is_critical, is_passed;
	enum referral referral;
};

/* `rubric` may be null: then all stations weigh the same. Ends nothing: call it after the end. */
void bench_score(struct bench *b, const struct rubric *rubric, struct bench_score *out);

#endif
