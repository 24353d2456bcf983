/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/clock.h>

#include <stdbool.h>
#include <stdio.h>
#include <string.h>
#include <time.h>

enum { DAY_MS = 86400000 };

static struct clock_source replaced;

static int64_t ask(clockid_t which)
{
	struct timespec t;
	if (clock_gettime(which, &t))
		return 0;
	return (int64_t)t.tv_sec * 1000 + t.tv_nsec / 1000000;
}

int64_t clock_now(void)
{
	return replaced.now ? replaced.now() : ask(CLOCK_REALTIME);
}

int64_t clock_boot(void)
{
	return replaced.boot ? replaced.boot() : ask(CLOCK_BOOTTIME);
}

void clock_replace(const struct clock_source *source)
{
	replaced = source ? *source : (struct clock_source){0};
}

/* Days since 1970-01-01 of a date of the Gregorian calendar, by counting years from March. */
static int64_t days_of(int64_t year, int month, int day)
{
	int64_t y = month <= 2 ? year - 1 : year;
	int64_t era = (y >= 0 ? y : y - 399) / 400;
	int64_t of_era = y - era * 400;
	int64_t of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
	return era * 146097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719468;
}

struct date {
	int64_t year;
	int month, day;
};

static struct date date_of(int64_t days)
{
	int64_t z = days + 719468;
	int64_t era = (z >= 0 ? z : z - 146096) / 146097;
	int64_t doe = z - era * 146097;
	int64_t yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365;
	int64_t doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
	int mp = (int)((5 * doy + 2) / 153);
	struct date d = {
		yoe + era * 400, mp < 10 ? mp + 3 : mp - 9, (int)(doy - (153 * mp + 2) / 5 + 1)};
	d.year += d.month <= 2;
	return d;
}

void time_write(int64_t ms, char out[static TIME_TEXT])
{
	int64_t days = ms / DAY_MS, of_day = ms % DAY_MS;
	if (of_day < 0) {
		of_day += DAY_MS;
		days--;
	}
	struct date d = date_of(days);
	if (d.year < 0 || d.year > 9999) {
		d = (struct date){0};
		of_day = 0;
	}
	int s = (int)(of_day / 1000);
	snprintf(out, TIME_TEXT, "%04u-%02u-%02uT%02u:%02u:%02u.%03uZ", (unsigned)d.year % 10000u,
		(unsigned)d.month % 100u, (unsigned)d.day % 100u, (unsigned)(s / 3600) % 100u,
		(unsigned)(s / 60 % 60), (unsigned)(s % 60), (unsigned)(of_day % 1000));
}

/* n digits at s as a number, -1 if one is none. */
static int digits(const char *s, int n)
{
	int value = 0;
	for (int i = 0; i < n; i++) {
		if (s[i] < '0' || s[i] > '9')
			return -1;
		value = value * 10 + (s[i] - '0');
	}
	return value;
}

static bool has_form(const char *s)
{
	static const char form[] = "dddd-dd-ddTdd:dd:dd.dddZ";
	for (int i = 0; form[i]; i++)
		if (form[i] == 'd' ? digits(s + i, 1) < 0 : s[i] != form[i])
			return false;
	return true;
}

enum bad time_read(const char *s, size_t len, int64_t *ms)
{
	if (len != TIME_TEXT - 1 || !has_form(s))
		return BAD_SYNTAX;
	struct date d = {digits(s, 4), digits(s + 5, 2), digits(s + 8, 2)};
	int64_t days = days_of(d.year, d.month, d.day);
	struct date back = date_of(days);
	int h = digits(s + 11, 2), m = digits(s + 14, 2), sec = digits(s + 17, 2);
	if (back.year != d.year || back.month != d.month || back.day != d.day || h > 23 || m > 59 ||
		sec > 59)
		return BAD_RANGE;
	*ms = days * DAY_MS + ((h * 60 + m) * 60 + sec) * 1000 + digits(s + 20, 3);
	return FINE;
}
