/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "item/clock.h"

#include <ctype.h>
#include <math.h>
#include <string.h>

#include <barwright/formula/formula.h>

#include "course/course.h"

enum { DAY_MIN = 24 * 60, DAYS_MOST = 9999 };

/* Rounded down, also below 0. */
static long long day_of(long long minute)
{
	return minute >= 0 ? minute / DAY_MIN : -((DAY_MIN - 1 - minute) / DAY_MIN);
}

void clock_add(const struct clock *clock, double time_s, struct text *out)
{
	if (formula_is_nothing(time_s) || fabs(time_s) > 1e12) {
		text_add(out, "none");
		return;
	}
	long long minute = llround(time_s / 60), day = day_of(minute);
	int rest = (int)(minute - day * DAY_MIN);
	if (clock->with_days && clock->nday) {
		long long n = (long long)clock->nday;
		text_addf(out, "%s ", clock->day[(day % n + n) % n]);
	} else if (clock->with_days) {
		text_addf(out, "day %lld, ", day + 1);
	}
	text_addf(out, "%02d:%02d", rest / 60, rest % 60);
}

/* ---- reading --------------------------------------------------------------------------------- */

struct cursor {
	const char *at, *end;
};

static void skip_blanks(struct cursor *c)
{
	while (c->at < c->end && (*c->at == ' ' || *c->at == '\t' || *c->at == ','))
		c->at++;
}

static size_t digits(const struct cursor *c)
{
	size_t n = 0;
	while (c->at + n < c->end && isdigit((unsigned char)c->at[n]))
		n++;
	return n;
}

static bool number(struct cursor *c, size_t most, long *out)
{
	size_t n = digits(c);
	long value = 0;
	if (!n || n > most)
		return false;
	for (; n; n--)
		value = 10 * value + (*c->at++ - '0');
	*out = value;
	return true;
}

static size_t letters(const struct cursor *c)
{
	size_t n = 0;
	while (c->at + n < c->end && !isdigit((unsigned char)c->at[n]) && c->at[n] != ' ' &&
		c->at[n] != ',' && c->at[n] != '.')
		n++;
	return n;
}

/* The one day that begins with these letters, at least two of them. */
static bool named_day(const struct clock *clock, struct cursor *c, long *day)
{
	size_t n = letters(c), found = 0;
	for (size_t k = 0; n >= 2 && k < clock->nday; k++)
		if (strlen(clock->day[k]) >= n && text_is_same(clock->day[k], c->at, n)) {
			*day = (long)k;
			found++;
		}
	c->at += n;
	if (c->at < c->end && *c->at == '.')
		c->at++;
	return found == 1;
}

/* "day 2", "d2", or "2" when a time follows. */
static bool numbered_day(struct cursor *c, long *day)
{
	size_t n = letters(c);
	bool is_word = (n == 3 && text_is_same(c->at, "day", 3)) ||
		       (n == 1 && text_is_same(c->at, "d", 1));
	if (n && !is_word)
		return false;
	c->at += n;
	skip_blanks(c);
	if (!number(c, 4, day) || *day < 1 || *day > DAYS_MOST)
		return false;
	--*day;
	return true;
}

static bool hour_and_minute(struct cursor *c, long *out)
{
	long hour, minute;
	if (!number(c, 2, &hour) || c->at == c->end || !strchr(":.hH", *c->at))
		return false;
	c->at++;
	if (digits(c) != 2 || !number(c, 2, &minute))
		return false;
	*out = 60 * hour + minute;
	return minute < 60 && (hour < 24 || (hour == 24 && minute == 0));
}

/* Does a time stand here, and nothing behind it? */
static bool is_time_alone(struct cursor c)
{
	long minute;
	if (!hour_and_minute(&c, &minute))
		return false;
	skip_blanks(&c);
	return c.at == c.end;
}

static const char time_forms[] = "a time is written in hours and minutes of the day, such as 14:35";

enum bad clock_read(
	const struct clock *clock, const char *s, size_t len, double *time_s, const char **why)
{
	struct cursor c = {s, s + len};
	long day = 0, minute;
	skip_blanks(&c);
	if (is_time_alone(c)) {
		*why = clock->nday ? "the day is asked for too: put its name in front of the time"
				   : "the day is asked for too, such as: day 2 06:10";
		if (clock->with_days)
			return BAD_SYNTAX;
	} else {
		*why = clock->with_days && clock->nday
			       ? "day and time are asked for: the name of the day, then 14:35"
		       : clock->with_days ? "day and time are asked for, such as: day 2 06:10"
					  : time_forms;
		if (!clock->with_days ||
			!(clock->nday ? named_day(clock, &c, &day) : numbered_day(&c, &day)))
			return BAD_SYNTAX;
		skip_blanks(&c);
	}
	if (!hour_and_minute(&c, &minute))
		return BAD_SYNTAX;
	skip_blanks(&c);
	if (c.at < c.end)
		return BAD_SYNTAX;
	*time_s = 60.0 * (double)(day * DAY_MIN + minute);
	return FINE;
}
