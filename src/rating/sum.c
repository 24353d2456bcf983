/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rating/sum.h"

const char *sum_verdict_word(enum sum_verdict verdict)
{
	static const char *const word[] = {
		[SUM_OPEN] = "open", [SUM_PASSED] = "passed", [SUM_NOT_PASSED] = "not-passed"};
	return word[verdict];
}

const char *sum_station_word(const struct sum_station *station)
{
	bool open = station->level == LEVEL_OPEN;
	if (station->critical || (!open && station->level < 2))
		return "not-reached";
	return open ? "open" : "reached";
}

int sum_station_level(const int *level, size_t n)
{
	int lowest = RUBRIC_LEVELS - 1;
	for (size_t i = 0; i < n; i++) {
		if (level[i] == LEVEL_OPEN)
			return LEVEL_OPEN;
		lowest = level[i] < lowest ? level[i] : lowest;
	}
	return n ? lowest : LEVEL_OPEN;
}

static enum sum_verdict verdict_of(const struct rubric *r, const struct sum *s)
{
	if (s->unusable || s->critical || s->below > (size_t)r->below)
		return SUM_NOT_PASSED;
	if (s->open)
		return SUM_OPEN;
	return s->percent >= r->pass - 1e-9 ? SUM_PASSED : SUM_NOT_PASSED;
}

void sum_find(const struct rubric *r, const struct sum_station *station, struct sum *out)
{
	struct sum s = {0};
	long points = 0;
	for (size_t n = 0; n < r->nstation; n++) {
		s.critical += station[n].critical;
		if (station[n].level == LEVEL_OPEN) {
			s.open++;
			continue;
		}
		s.unusable += station[n].level == 0;
		s.below += station[n].level == 1;
		s.rated += r->station[n].weight;
		points += (long)r->station[n].weight * r->points[station[n].level];
	}
	if (s.rated)
		s.percent = (double)points / s.rated;
	s.verdict = verdict_of(r, &s);
	*out = s;
}
