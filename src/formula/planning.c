/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Planning at the bench: when each task of a row starts and ends. Times are those of the clock in
 * problems, from midnight of day 1, which is the first day of a week; below 0 is the week before. */
#include "formula/trade.h"

#include <math.h>

#include <barwright/calc/planning.h>

#define TRADE "common practice of the trade"

/* The numbers of a call: ready or from, open, shut, days; of a window: two places and a time. */
enum { WHEN, OPEN, SHUT, DAYS, AFTER, BEFORE, MOST };

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

struct plan {
	struct planning_task task[FORMULA_LENGTH];
	struct planning_slot slot[FORMULA_LENGTH];
	struct planning_hours hours;
	size_t n;
};

static enum bad plan_make(struct call *c, bool back, struct plan *p)
{
	int64_t moment;
	p->n = c->list[0].n;
	enum bad code = tasks_of(c, p->task);
	if (!code)
		code = hours_of(c, &p->hours);
	if (!code)
		code = moment_of(c, back, &moment);
	if (!code)
		code = (back ? planning_backward : planning_forward)(
			p->task, p->n, moment, &p->hours, p->slot);
	return code == BAD_NOTHING ? refuse(c, BAD_RANGE, "finds the bench never open") : code;
}

static void plan_give(struct call *c, const struct plan *p, bool ends)
{
	for (size_t i = 0; i < p->n; i++)
		c->out[i] = 60 * (double)(ends ? p->slot[i].end : p->slot[i].start);
	c->nout = p->n;
}

static enum bad plan(struct call *c, bool back, bool ends)
{
	struct plan p;
	enum bad code = plan_make(c, back, &p);
	if (!code)
		plan_give(c, &p, ends);
	return code;
}

static enum bad window_of(struct call *c, size_t n, struct planning_window *out)
{
	const double *v = c->number;
	if (!(v[AFTER] >= 1 && v[BEFORE] <= (double)n) || v[AFTER] != floor(v[AFTER]) ||
		v[BEFORE] != floor(v[BEFORE]))
		return refuse(c, BAD_RANGE, "is given a place that the row does not have");
	if (!(v[AFTER] < v[BEFORE]))
		return refuse(c, BAD_ORDER, "is given a window whose second task is not the later");
	if (!(v[MOST] >= 0 && v[MOST] <= 60.0 * PLANNING_MOST))
		return refuse(c, BAD_RANGE, "is given a window of no length, or too long a one");
	*out = (struct planning_window){(size_t)v[AFTER] - 1, (size_t)v[BEFORE] - 1,
		(int64_t)floor(v[MOST] / 60 + MINUTE_SLACK)};
	return FINE;
}

/* The latest plan with the window kept; *is_kept false when it cannot be. */
static enum bad kept(struct call *c, struct plan *p, bool *is_kept)
{
	struct planning_window window;
	enum bad code = plan_make(c, true, p);
	if (!code)
		code = window_of(c, p->n, &window);
	if (!code)
		code = planning_tighten(p->task, p->n, &p->hours, &window, p->slot);
	*is_kept = code == FINE;
	return code == BAD_NOTHING ? FINE : code;
}

static enum bad plan_kept(struct call *c, bool ends)
{
	struct plan p;
	bool is_kept;
	enum bad code = kept(c, &p, &is_kept);
	if (code)
		return code;
	if (!is_kept)
		return refuse(
			c, BAD_RANGE, "cannot keep the window, which can_keep(...) asks first");
	plan_give(c, &p, ends);
	return FINE;
}

static enum bad run_kept_starts(struct call *c)
{
	return plan_kept(c, false);
}

static enum bad run_kept_ends(struct call *c)
{
	return plan_kept(c, true);
}

static enum bad run_can_keep(struct call *c)
{
	struct plan p;
	bool is_kept;
	enum bad code = kept(c, &p, &is_kept);
	return code ? code : give(c, is_kept);
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

/* What the rows with a window take. */
#define KEEPS_ \
	L_("times", TIME_), L_("attended", NUMBER_), N_("ready", TIME_), N_("open", TIME_), \
		N_("shut", TIME_), N_("days", NUMBER_), N_("after", NUMBER_), \
		N_("before", NUMBER_), N_("most", TIME_)

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
	ROW_("kept_starts", GIVES_LIST_(TIME_), run_kept_starts,
		"the latest starts, but task `before` (its place in the row) must start within a "
		"window: at most this long after task `after` has ended, as a packed flask must "
		"not wait too long for its cure; what lies between goes forward to its earliest "
		"when the window would not be kept",
		TRADE, KEEPS_),
	ROW_("kept_ends", GIVES_LIST_(TIME_), run_kept_ends, "the same: when each of them ends",
		TRADE, KEEPS_),
	ROW_("can_keep", GIVES_TRUTH_, run_can_keep,
		"true when that window can be kept within the bench's hours", TRADE, KEEPS_),
};
const size_t function_planning_rows = sizeof function_planning / sizeof *function_planning;
