/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/calc/planning.h>

#include <math.h>

/* Rounded down, also below 0, where C rounds towards 0. */
static int64_t floor_div(int64_t a, int64_t b)
{
	return a / b - (a % b < 0);
}

/* ---- moments --------------------------------------------------------------------------------- */

static int64_t days_before_year(int year)
{
	int64_t y = year - 1;

	return 365 * y + y / 4 - y / 100 + y / 400;
}

static int month_days(int year, int month)
{
	static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
	bool leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);

	return days[month - 1] + (month == 2 && leap);
}

enum bad planning_moment(int year, int month, int day, int hour, int minute, int64_t *moment)
{
	if (year < 1 || year > 9999 || month < 1 || month > 12 || day < 1 ||
		day > month_days(year, month) || hour < 0 || hour > 23 || minute < 0 || minute > 59)
		return BAD_RANGE;
	int64_t days = days_before_year(year) - days_before_year(2001) + day - 1;
	for (int m = 1; m < month; m++)
		days += month_days(year, m);
	*moment = days * PLANNING_DAY + hour * 60 + minute;
	return FINE;
}

enum bad planning_date(int64_t moment, struct planning_date *out)
{
	struct planning_date d = {.month = 1};

	if (moment > PLANNING_FAR || moment < -PLANNING_FAR)
		return BAD_RANGE;
	int64_t days = floor_div(moment, PLANNING_DAY);
	int minute = (int)(moment - days * PLANNING_DAY);
	d.weekday = (int)(days - 7 * floor_div(days, 7));
	days += days_before_year(2001); /* since 1 January of year 1 */
	if (days < 0 || days >= days_before_year(10000))
		return BAD_RANGE;
	/* Some years too early, never too late: no year is longer than 366 days. */
	d.year = (int)(days / 366) + 1;
	while (days_before_year(d.year + 1) <= days)
		d.year++;
	days -= days_before_year(d.year);
	while (days >= month_days(d.year, d.month))
		days -= month_days(d.year, d.month++);
	d.day = (int)days + 1;
	d.hour = minute / 60;
	d.minute = minute % 60;
	*out = d;
	return FINE;
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

enum bad planning_wait(const struct planning_slot *slot, size_t n,
	const struct planning_window *window, int64_t *wait)
{
	if (window->after >= window->before || window->before >= n)
		return BAD_ORDER;
	*wait = slot[window->before].start - slot[window->after].end;
	return FINE;
}

enum bad planning_tighten(const struct planning_task *task, size_t n,
	const struct planning_hours *hours, const struct planning_window *window,
	struct planning_slot *slot)
{
	int64_t wait;
	enum bad code = planning_wait(slot, n, window, &wait);

	if (code)
		return code;
	if (wait <= window->most)
		return FINE;
	int64_t done = slot[window->after].end;
	struct planning_slot moved = {done, done};
	code = tasks_check(task, n, done, hours);
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
