/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Planning at the bench: when each task of a row starts and ends. Times are those of the clock in
 * problems, from midnight of day 1, which is the first day of a week; below 0 is the week before. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/planning.h>

#define TRADE "common practice of the trade"

/* The numbers of a call: ready or from, open, shut, days. */
enum { WHEN, OPEN, SHUT, DAYS };

/* Parts of a second do not decide a minute. */
#define MINUTE_SLACK 1e-6

static enum bad tasks_of(struct call *c, struct planning_task *task)
{
	const struct formula_span *times = &c->list[0], *attended = &c->list[1];
	if (times->n != attended->n)
		return refuse(c, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < times->n; i++) {
		if (attended->at[i] != 0 && attended->at[i] != 1)
			return refuse(c, BAD_RANGE,
				"wants 1 for a task that is attended and 0 for one that runs by "
				"itself");
		task[i] = (struct planning_task){.is_unattended = attended->at[i] == 0};
		enum bad code = planning_minutes(times->at[i], &task[i].minutes);
		if (code)
			return code;
	}
	return FINE;
}

static enum bad hours_of(struct call *c, struct planning_hours *hours)
{
	const double *v = c->number;
	if (!(v[OPEN] >= 0 && v[OPEN] < v[SHUT] && v[SHUT] <= 86400))
		return refuse(c, BAD_RANGE, "is given a bench that shuts before it opens");
	if (!(v[DAYS] >= 1 && v[DAYS] <= 7) || v[DAYS] != floor(v[DAYS]))
		return refuse(c, BAD_RANGE, "is given no whole number of days from 1 to 7");
	*hours = (struct planning_hours){{0}, {0}};
	for (int day = 0; day < (int)v[DAYS]; day++) {
		hours->open[day] = (int)ceil(v[OPEN] / 60 - MINUTE_SLACK);
		hours->shut[day] = (int)floor(v[SHUT] / 60 + MINUTE_SLACK);
	}
	return FINE;
}

/* The whole minute not after it, or not before it. */
static enum bad moment_of(struct call *c, bool back, int64_t *out)
{
	double minutes = c->number[WHEN] / 60;
	minutes = back ? floor(minutes + MINUTE_SLACK) : ceil(minutes - MINUTE_SLACK);
	if (!(fabs(minutes) <= (double)PLANNING_FAR))
		return BAD_RANGE;
	*out = (int64_t)minutes;
	return FINE;
}

static enum bad plan(struct call *c, bool back, bool ends)
{
	struct planning_task task[FORMULA_LENGTH];
	struct planning_slot slot[FORMULA_LENGTH];
	struct planning_hours hours;
	int64_t moment;
	size_t n = c->list[0].n;
	enum bad code = tasks_of(c, task);
	if (!code)
		code = hours_of(c, &hours);
	if (!code)
		code = moment_of(c, back, &moment);
	if (!code)
		code = (back ? planning_backward : planning_forward)(task, n, moment, &hours, slot);
	if (code)
		return code == BAD_NOTHING ? refuse(c, BAD_RANGE, "finds the bench never open")
					   : code;
	for (size_t i = 0; i < n; i++)
		c->out[i] = 60 * (double)(ends ? slot[i].end : slot[i].start);
	c->nout = n;
	return FINE;
}

static enum bad run_latest_starts(struct call *c)
{
	return plan(c, true, false);
}

static enum bad run_latest_ends(struct call *c)
{
	return plan(c, true, true);
}

static enum bad run_earliest_starts(struct call *c)
{
	return plan(c, false, false);
}

static enum bad run_earliest_ends(struct call *c)
{
	return plan(c, false, true);
}

#define PLAN_ROW_(name, run, when, does) \
	ROW_(name, GIVES_LIST_(TIME_), run, does, TRADE, L_("times", TIME_), \
		L_("attended", NUMBER_), N_(when, TIME_), N_("open", TIME_), N_("shut", TIME_), \
		N_("days", NUMBER_))

const struct function function_planning[] = {
	PLAN_ROW_("latest_starts", run_latest_starts, "ready",
		"when each task of a row must start at the latest, so that the last is done when "
		"the work is to be ready; attended tasks (1) go on from day to day between open "
		"and shut on the first days of each week, the others (0) run by themselves; all "
		"times count from midnight of day 1, which begins a week"),
	PLAN_ROW_("latest_ends", run_latest_ends, "ready", "the same: when each of them ends"),
	PLAN_ROW_("earliest_starts", run_earliest_starts, "from",
		"when each task of a row starts at the earliest, the first of them not before "
		"this time"),
	PLAN_ROW_("earliest_ends", run_earliest_ends, "from", "the same: when each of them ends"),
};
const size_t function_planning_rows = sizeof function_planning / sizeof *function_planning;
