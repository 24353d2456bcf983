/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/verdict.h"

#include <string.h>

#include "bench/score.h"

enum { COMPETENCIES_MOST = 64, COMPETENT = 2, USUAL_NEEDED = 75 };

/* One competency while the stations are gone through. */
struct judged {
	const char *competency;
	double percent;
	bool reached;
};
struct verdict {
	struct judged at[COMPETENCIES_MOST];
	size_t n;
};

bool verdict_counts(const struct bench *b)
{
	return b->end && b->mode != BENCH_GUIDED;
}

static void judge(struct verdict *v, const char *competency, double percent, bool reached)
{
	size_t k = 0;
	while (k < v->n && strcmp(v->at[k].competency, competency) != 0)
		k++;
	if (k == COMPETENCIES_MOST)
		return;
	if (k == v->n)
		v->at[v->n++] = (struct judged){competency, percent, reached};
	if (percent < v->at[k].percent)
		v->at[k].percent = percent;
	v->at[k].reached &= reached;
}

static void judge_work(struct bench *b, const struct bench_score *s, struct verdict *v)
{
	const struct procedure *p = b->procedure;
	for (size_t i = b->from; i <= b->to; i++)
		for (size_t k = 0; k < s->n && bench_applies(b, i); k++) {
			const struct station_score *at = &s->station[k];
			if (strcmp(at->station, p->step[i].station) == 0)
				judge(v, p->step[i].competency, at->points,
					s->is_passed && at->level >= COMPETENT && !at->is_critical);
		}
}

static void judge_run(struct bench *b, const struct bench_score *s, struct verdict *v)
{
	if (b->mode == BENCH_HUNT && b->seeded != SIZE_MAX)
		judge(v, b->procedure->fault[b->seeded].competency, s->percent, s->is_passed);
	else if (b->mode != BENCH_HUNT && b->end != END_REFERRED)
		judge_work(b, s, v);
}

/* The lists of a result, in the arena. */
struct lists {
	const char **competency, **percent, **needed, **verdict;
	bool out;
};

static const char **list_new(struct arena *a, size_t n, struct lists *l)
{
	const char **list = arena_many(a, n + 1, const char *);
	l->out |= !list;
	return list;
}

static const char *percent_of(struct arena *a, double percent, struct lists *l)
{
	const char *text = arena_format(a, "%.2f", percent);
	l->out |= !text;
	return text;
}

static struct lists lists_of(const struct verdict *v, double needed, struct arena *a)
{
	struct lists l = {0};
	l.competency = list_new(a, v->n, &l);
	l.percent = list_new(a, v->n, &l);
	l.needed = list_new(a, v->n, &l);
	l.verdict = list_new(a, v->n, &l);
	for (size_t k = 0; k < v->n && !l.out; k++) {
		l.competency[k] = v->at[k].competency;
		l.percent[k] = percent_of(a, v->at[k].percent, &l);
		l.needed[k] = percent_of(a, needed, &l);
		l.verdict[k] = v->at[k].reached ? "reached" : "not-reached";
	}
	return l;
}

enum bad verdict_find(struct bench *b, const struct rubric *rubric, const char *item,
	uint64_t attempt, struct arena *a, struct line_result *out)
{
	const struct procedure *p = b->procedure;
	struct bench_score s;
	struct verdict v = {.n = 0};
	bench_score(b, rubric, &s);
	judge_run(b, &s, &v);
	double needed = rubric && rubric->nstation ? rubric->points[COMPETENT] : USUAL_NEEDED;
	struct lists l = lists_of(&v, b->mode == BENCH_HUNT ? s.pass : needed, a);
	const char **reason = list_new(a, 1, &l);
	const char *title = arena_format(
		a, "Simulated bench: %s, %s", p->part[b->part].title, bench_mode_word[b->mode]);
	if (reason)
		reason[0] = arena_format(
			a, "the run at the simulated bench ended: %s", bench_end_word[b->end]);
	struct line_result r = {.of = item,
		.title = title,
		.content = procedure_hash(p),
		.verdict = s.is_passed ? "passed" : "not-passed",
		.percent = percent_of(a, s.percent, &l),
		.needed = percent_of(a, s.pass, &l),
		.attempt = attempt,
		.part = {l.competency, v.n},
		.part_competency = {l.competency, v.n},
		.part_percent = {l.percent, v.n},
		.part_needed = {l.needed, v.n},
		.part_verdict = {l.verdict, v.n},
		.reasons = {reason, 1}};
	if (l.out || !title || !reason[0])
		return BAD_MEMORY;
	*out = r;
	return FINE;
}
