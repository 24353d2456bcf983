/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/limit.h"

#include <stdio.h>

enum { SECOND_MS = 1000, MINUTE_MS = 60 * SECOND_MS, WARNINGS = 2 };

bool limit_is_set(const struct limit *l)
{
	return l->over_ms != 0;
}

bool limit_is_over(const struct limit *l, int64_t now_ms)
{
	return limit_is_set(l) && now_ms >= l->over_ms;
}

static int64_t left_ms(const struct limit *l, int64_t now_ms)
{
	return limit_is_over(l, now_ms) ? 0 : l->over_ms - now_ms;
}

/* How long before the end the warning with this number is due. */
static int64_t warning_ms(const struct limit *l, int number)
{
	int64_t most = number == 0 ? 5 * MINUTE_MS : MINUTE_MS;
	int64_t share = l->whole_ms / (number == 0 ? 4 : 10);
	if (share > most)
		return most;
	return share - share % (share > MINUTE_MS ? MINUTE_MS : SECOND_MS); /* as it is told */
}

int64_t limit_next_ms(const struct limit *l, int64_t now_ms)
{
	int64_t left = left_ms(l, now_ms), unit = left > MINUTE_MS ? MINUTE_MS : SECOND_MS;
	if (!left)
		return 0;
	int64_t next = (left - 1) % unit + 1;
	for (int n = 0; n < WARNINGS; n++) {
		int64_t until = left - warning_ms(l, n);
		if (until > 0 && until < next)
			next = until;
	}
	return next;
}

void span_write(uint64_t ms, char out[static LIMIT_WORDS])
{
	unsigned long long s = ms / SECOND_MS, m = s / 60, h = m / 60, d = h / 24;
	if (d >= 2 && h % 24)
		snprintf(out, LIMIT_WORDS, "%llu days %llu h", d, h % 24);
	else if (d >= 2)
		snprintf(out, LIMIT_WORDS, "%llu days", d);
	else if (h && m % 60)
		snprintf(out, LIMIT_WORDS, "%llu h %llu min", h, m % 60);
	else if (h)
		snprintf(out, LIMIT_WORDS, "%llu h", h);
	else if (m)
		snprintf(out, LIMIT_WORDS, "%llu min", m);
	else
		snprintf(out, LIMIT_WORDS, "%llu s", s);
}

void limit_words(const struct limit *l, int64_t now_ms, char out[static LIMIT_WORDS])
{
	char span[LIMIT_WORDS];
	int64_t left = left_ms(l, now_ms), unit = left > MINUTE_MS ? MINUTE_MS : SECOND_MS;
	out[0] = '\0';
	if (!limit_is_set(l))
		return;
	span_write((uint64_t)(left + unit - 1), span);
	snprintf(out, LIMIT_WORDS, "%.*s left", LIMIT_WORDS - 6, span);
}

static int warnings_due(const struct limit *l, int64_t now_ms)
{
	int n = 0;
	while (n < WARNINGS && left_ms(l, now_ms) <= warning_ms(l, n))
		n++;
	return n;
}

bool limit_warns(
	struct warner *w, const struct limit *l, int64_t now_ms, char out[static LIMIT_WORDS])
{
	char span[LIMIT_WORDS];
	if (!limit_is_set(l))
		return false;
	int due = warnings_due(l, now_ms);
	bool is_new = w->of.over_ms != l->over_ms;
	if (is_new)
		*w = (struct warner){*l, due};
	if (due <= w->given)
		return false;
	w->given = due;
	span_write((uint64_t)warning_ms(l, due - 1), span);
	snprintf(out, LIMIT_WORDS,
		"The last %.20s have begun. What is not given before the end "
		"does not count.",
		span);
	return true;
}
