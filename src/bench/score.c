/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/score.h"

#include <string.h>

static const int usual_points[RUBRIC_LEVELS] = {0, 40, 75, 100};
enum { PASS_PERCENT = 70, PASS_ONES = 2 };

static bool is_same(const char *a, const char *b)
{
	return strcmp(a, b) == 0;
}

static void lower(struct station_score *s, int level)
{
	if (level < s->level)
		s->level = level;
}

/* Some of its numbers are made after this part. */
static bool goes_on_later(const struct bench *b, const char *station)
{
	for (size_t i = b->to + 1; i < b->procedure->nstep; i++)
		if (is_same(b->procedure->step[i].station, station) && bench_applies(b, i))
			return true;
	return false;
}

static void numbers_rate(struct bench *b, struct station_score *s)
{
	const struct procedure *p = b->procedure;
	if (goes_on_later(b, s->station))
		return;
	for (size_t i = 0; i < p->nrates; i++) {
		const struct rates *r = &p->rates[i];
		int level = 0;
		if (!is_same(r->station, s->station))
			continue;
		for (int k = 1; k < RUBRIC_LEVELS; k++) {
			if (r->level[k] && bench_truth(b, r->level[k]))
				level = k;
		}
		lower(s, level);
		if (level < RUBRIC_LEVELS - 1)
			s->asks = r->asks;
	}
}

static void faults_rate(const struct bench *b, struct station_score *s)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nfault; k++) {
		const struct fault *f = &p->fault[k];
		const struct fault_mark *m = &b->fault[k];
		if (!is_same(f->station, s->station) || !m->times)
			continue;
		s->faults++;
		if (m->is_there) {
			s->is_critical |= f->is_critical;
			lower(s, f->is_critical ? 0 : 1);
		} else if (m->shown_s >= 0) {
			lower(s, 2);
		}
	}
}

static void orders_rate(const struct bench *b, struct station_score *s)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; i < b->nlog; i++) {
		const struct bench_event *e = &b->log[i];
		if (e->kind == HAPPENED_ORDER &&
			is_same(p->step[p->order[e->what].step].station, s->station)) {
			s->is_critical |= p->order[e->what].is_critical;
			lower(s, p->order[e->what].is_critical ? 0 : 2);
		}
		if (e->kind == HAPPENED_WINDOW &&
			is_same(p->step[p->window[e->what].to].station, s->station))
			lower(s, 2);
	}
}

static void steps_rate(const struct bench *b, struct station_score *s)
{
	const struct procedure *p = b->procedure;
	for (size_t i = b->from; i <= b->to; i++)
		if (is_same(p->step[i].station, s->station) && bench_applies(b, i) &&
			b->step[i].state != STEP_DONE)
			lower(s, 1);
}

static struct station_score *station_of(
	const struct rubric *r, const char *code, struct bench_score *out)
{
	for (size_t i = 0; i < out->n; i++)
		if (is_same(out->station[i].station, code))
			return &out->station[i];
	if (out->n == SCORE_STATIONS)
		return NULL;
	struct station_score *s = &out->station[out->n++];
	*s = (struct station_score){.station = code, .title = code, .weight = 1, .level = 3};
	for (size_t i = 0; r && i < r->nstation; i++)
		if (is_same(r->station[i].code, code)) {
			s->title = r->station[i].title;
			s->weight = r->station[i].weight;
		}
	return s;
}

static void limits_take(const struct rubric *r, struct bench_score *out)
{
	bool has = r && r->nstation;
	out->pass = has ? r->pass : PASS_PERCENT;
	out->ones_most = has ? r->below : PASS_ONES;
}

static void judge(const struct bench *b, struct bench_score *out)
{
	for (size_t i = 0; i < out->n; i++) {
		out->ones += out->station[i].level == 1;
		out->zeros += out->station[i].level == 0;
		out->is_critical |= out->station[i].is_critical;
	}
	out->is_passed = b->end == END_ACCEPTED && out->percent >= out->pass - 1e-9 &&
			 !out->zeros && out->ones <= out->ones_most && !out->is_critical;
}

/* Records from before the steps were asked have the fault alone. */
static int hunt_percent(const struct bench *b)
{
	const struct hunt_answer *said = &b->named;
	if (said->fault == SIZE_MAX || b->seeded == SIZE_MAX)
		return 0;
	const struct fault *f = &b->procedure->fault[b->seeded];
	if (said->made == SIZE_MAX)
		return said->fault == b->seeded ? 100 : 0;
	return (said->fault == b->seeded ? HUNT_FAULT : 0) +
	       (said->made == f->made ? HUNT_MADE : 0) +
	       (said->check == f->check_at ? HUNT_CHECK : 0);
}

static bool finding_is_taken(const struct bench *b, const struct finding *f)
{
	for (size_t i = 0; i < f->nlook; i++)
		if (!bench_has_looked(b, f->look[i]))
			return false;
	return true;
}

static bool finding_has(const struct finding *f, size_t look)
{
	for (size_t i = 0; i < f->nlook; i++)
		if (f->look[i] == look)
			return true;
	return false;
}

/* Rightly or not, it rests on what was looked at. A reason that was not asked is not rated. */
static enum referral referral_judge(struct bench *b)
{
	const struct procedure *p = b->procedure;
	enum referral best = p->nfinding ? REFERRAL_BLIND : REFERRAL_GOOD;
	if (!p->refer || !bench_truth(b, p->refer))
		return REFERRAL_WRONG;
	for (size_t i = 0; i < p->nfinding && best != REFERRAL_GOOD; i++)
		if (finding_is_taken(b, &p->finding[i]))
			best = b->shown_by == SIZE_MAX || finding_has(&p->finding[i], b->shown_by)
				       ? REFERRAL_GOOD
				       : REFERRAL_OTHER;
	return best;
}

/* A hunt, or a case referred back: no station is rated. */
static bool score_without_work(struct bench *b, struct bench_score *out)
{
	if (b->mode == BENCH_HUNT) {
		out->percent = hunt_percent(b);
		out->is_passed = b->end == END_ACCEPTED && out->percent >= out->pass - 1e-9;
		return true;
	}
	if (b->end != END_REFERRED)
		return false;
	out->referral = referral_judge(b);
	out->percent = out->referral == REFERRAL_GOOD    ? 100
		       : out->referral == REFERRAL_OTHER ? REFERRAL_HALF
							 : 0;
	out->is_passed = out->referral == REFERRAL_GOOD;
	return true;
}

void bench_score(struct bench *b, const struct rubric *rubric, struct bench_score *out)
{
	const struct procedure *p = b->procedure;
	double sum = 0, weights = 0;
	*out = (struct bench_score){0};
	limits_take(rubric, out);
	if (score_without_work(b, out))
		return;
	for (size_t i = b->from; i <= b->to; i++)
		if (bench_applies(b, i))
			station_of(rubric, p->step[i].station, out);
	for (size_t i = 0; i < out->n; i++) {
		struct station_score *s = &out->station[i];
		numbers_rate(b, s);
		faults_rate(b, s);
		orders_rate(b, s);
		steps_rate(b, s);
		s->points = rubric && rubric->nstation ? rubric->points[s->level]
						       : usual_points[s->level];
		sum += (double)s->weight * s->points;
		weights += s->weight;
	}
	out->percent = weights > 0 ? sum / weights : 0;
	judge(b, out);
}
