/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Steps of work over time, a bar each, under each other: with hands or by themselves, hours in which
 * the bench is closed, the time when all has to be done.
 *
 * While nothing is asked for, bars are to scale over an axis. As soon as something is, they show the
 * order only, each as long as the next, or the answer could be counted off; then only times that are
 * given stand below. Pure but for the arena, which owns the result. */
#ifndef BARWRIGHT_FIGURE_SCHEDULE_FIGURE_H
#define BARWRIGHT_FIGURE_SCHEDULE_FIGURE_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

#include "surface/page.h"

enum { SCHEDULE_STEPS = 12, SCHEDULE_CLOSED = 12, SCHEDULE_NAME = 20 };

/* What can be asked of a step: bits for `asked`. */
enum schedule_part { SCHEDULE_START = 1, SCHEDULE_END = 2, SCHEDULE_LENGTH = 4 };

struct schedule_step {
	const char *name;      /* SCHEDULE_NAME columns are shown */
	double start_s, end_s; /* times of day count from midnight of day 1 */
	bool unattended;       /* needs no hands */
	unsigned asked;
};

struct schedule_picture {
	const struct schedule_step *step;
	size_t n;          /* 1 to SCHEDULE_STEPS */
	bool clock;        /* times of day; false: minutes from the start */
	bool timed;        /* starts and ends are given, else one start and durations */
	bool begins;       /* the first start is given, not worked out */
	bool has_deadline; /* `deadline_s` is given */
	double deadline_s;
	const double *closed;   /* pairs: from, to */
	size_t nclosed;         /* pairs, up to SCHEDULE_CLOSED */
	bool total_asked;       /* a row for how long it takes in all */
	const char *const *day; /* names of the days; null: none, times are within one day */
	size_t nday;
	char decimal;      /* '.' or ','; 0: '.' */
	const char *title; /* null: "The steps over time", or "... in order, not to scale" */
};

/* Rows it needs with all that it shows. */
int schedule_rows(const struct schedule_picture *p);
/* Draws into a canvas of this size: 46 to 200 columns and schedule_rows or more (BAD_SIZE). BAD_COUNT;
 * BAD_RANGE: not finite, a step or a closed time that ends before it starts, no time at all, more than
 * 60 days; BAD_MEMORY. */
enum bad schedule_figure(struct arena *a, const struct schedule_picture *p, int columns, int rows,
	struct figure **out);

#endif
