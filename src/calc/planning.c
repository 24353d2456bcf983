/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/planning.h>

#include <math.h>

/* Rounded down, also below 0, where C rounds towards 0. */
static int64_t floor_div(int64_t a, int64_t b)
{
	return a / b - (a % b < 0);
}

enum bad planning_minutes(double seconds, int64_t *minutes)
{
	if (!(seconds >= 0 && seconds <= 60.0 * PLANNING_MOST))
		return BAD_RANGE;
	*minutes = (int64_t)ceil(seconds / 60 - 1e-9);
	return FINE;
}

/* ---- tasks ----------------------------------------------------------------------------------- */

/* The part of a day in which the bench is open, as moments. */
static struct planning_slot bench_open(const struct planning_hours *h, int64_t day)
{
	int weekday = (int)(day - 7 * floor_div(day, 7));

	return (struct planning_slot){
		day * PLANNING_DAY + h->open[weekday], day * PLANNING_DAY + h->shut[weekday]};
}

/* After this nothing can go wrong any more: every task finds its time. */
static enum bad tasks_check(
	const struct planning_task *task, size_t n, int64_t moment, const struct planning_hours *h)
{
	int64_t longest = 0;

	for (int d = 0; d < 7; d++) {
		if (h->open[d] < 0 || h->shut[d] < h->open[d] || h->shut[d] > PLANNING_DAY)
			return BAD_RANGE;
		if (h->shut[d] - h->open[d] > longest)
			longest = h->shut[d] - h->open[d];
	}
	if (moment > PLANNING_FAR || moment < -PLANNING_FAR)
		return BAD_RANGE;
	for (size_t i = 0; i < n; i++)
		if (task[i].minutes < 0 || task[i].minutes > PLANNING_MOST)
			return BAD_RANGE;
	for (size_t i = 0; i < n; i++)
		if (!task[i].is_unattended && task[i].minutes > 0 &&
			(longest == 0 || (task[i].is_whole && task[i].minutes > longest)))
			return BAD_NOTHING;
	return FINE;
}

static struct planning_slot task_backward(
	const struct planning_task *t, int64_t limit, const struct planning_hours *h)
{
	struct planning_slot slot = {limit - t->minutes, limit};
	int64_t left = t->minutes;

	if (t->is_unattended || left == 0)
		return slot;
	for (int64_t day = floor_div(limit, PLANNING_DAY); left > 0; day--) {
		struct planning_slot open = bench_open(h, day);

		if (open.end > limit)
			open.end = limit;
		int64_t part = open.end - open.start;
		if (part <= 0 || (t->is_whole && part < left))
			continue;
		if (part > left)
			part = left;
		if (left == t->minutes)
			slot.end = open.end;
		slot.start = open.end - part;
		left -= part;
	}
	return slot;
}

static struct planning_slot task_forward(
	const struct planning_task *t, int64_t from, const struct planning_hours *h)
{
	struct planning_slot slot = {from, from + t->minutes};
	int64_t left = t->minutes;

	if (t->is_unattended || left == 0)
		return slot;
	for (int64_t day = floor_div(from, PLANNING_DAY); left > 0; day++) {
		struct planning_slot open = bench_open(h, day);

		if (open.start < from)
			open.start = from;
		int64_t part = open.end - open.start;
		if (part <= 0 || (t->is_whole && part < left))
			continue;
		if (part > left)
			part = left;
		if (left == t->minutes)
			slot.start = open.start;
		slot.end = open.start + part;
		left -= part;
	}
	return slot;
}

enum bad planning_backward(const struct planning_task *task, size_t n, int64_t ready,
	const struct planning_hours *hours, struct planning_slot *slot)
{
	enum bad code = tasks_check(task, n, ready, hours);

	if (code)
		return code;
	for (size_t i = n; i-- > 0;) {
		slot[i] = task_backward(&task[i], ready, hours);
		ready = slot[i].start;
	}
	return FINE;
}

enum bad planning_forward(const struct planning_task *task, size_t n, int64_t from,
	const struct planning_hours *hours, struct planning_slot *slot)
{
	enum bad code = tasks_check(task, n, from, hours);

	if (code)
		return code;
	for (size_t i = 0; i < n; i++) {
		slot[i] = task_forward(&task[i], from, hours);
		from = slot[i].end;
	}
	return FINE;
}

enum bad planning_tighten(const struct planning_task *task, size_t n,
	const struct planning_hours *hours, const struct planning_window *window,
	struct planning_slot *slot)
{
	if (window->after >= window->before || window->before >= n)
		return BAD_ORDER;
	if (slot[window->before].start - slot[window->after].end <= window->most)
		return FINE;
	int64_t done = slot[window->after].end;
	struct planning_slot moved = {done, done};
	enum bad code = tasks_check(task, n, done, hours);
	if (code)
		return code;
	/* Once to see whether it helps, once to keep it: there is no room for a copy. */
	for (size_t i = window->after + 1; i <= window->before; i++)
		moved = task_forward(&task[i], moved.end, hours);
	if (moved.start - done > window->most)
		return BAD_NOTHING;
	for (size_t i = window->after + 1; i <= window->before; i++) {
		slot[i] = task_forward(&task[i], done, hours);
		done = slot[i].end;
	}
	return FINE;
}
