/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "sitting/outcome.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

struct sum {
	double points;
	size_t n;
};

static double worth(const struct marked *m)
{
	return (double)m->right / (double)m->problem->nask;
}

static struct sum sum_of(const struct marked *place, size_t n, const char *family)
{
	struct sum s = {0, 0};
	for (size_t i = 0; i < n; i++) {
		if (family && !competency_is_in(place[i].problem->competency, family))
			continue;
		s.points += worth(&place[i]);
		s.n++;
	}
	return s;
}

static double share_of(struct sum s)
{
	return s.n ? s.points / (double)s.n : 0;
}

/* Compared as it is shown, in hundredths of a per cent: two thirds reach 66.67 %. */
static bool reaches(struct sum s, double share)
{
	return round(1e4 * share_of(s)) >= 1e4 * share - 1e-6;
}

/* ---- lists that grow ------------------------------------------------------------------------- */

struct list {
	const char **at;
	size_t n, room;
};
/* While a result is made; `out` when memory ran out. */
struct making {
	struct arena *a;
	bool out;
	struct list part, competency, percent, needed, verdict, reason;
};

static void list_init(struct making *m, struct list *l, size_t room)
{
	l->at = arena_many(m->a, room + 1, const char *);
	l->room = l->at ? room : 0;
	m->out |= !l->at;
}

static void list_add(struct making *m, struct list *l, const char *text)
{
	if (!text || l->n >= l->room)
		m->out = true;
	else
		l->at[l->n++] = text;
}

static __attribute__((format(printf, 2, 3))) const char *made(
	struct making *m, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	const char *text = arena_vformat(m->a, format, args);
	va_end(args);
	m->out |= !text;
	return text;
}

static struct texts texts_of(const struct list *l)
{
	return (struct texts){l->at, l->n};
}

/* ---- parts ----------------------------------------------------------------------------------- */

static const char *percent(struct making *m, double share)
{
	return made(m, "%.2f", 100 * share);
}

static void part_add(struct making *m, const char *code, struct sum s, double needed)
{
	list_add(m, &m->part, code);
	list_add(m, &m->competency, code);
	list_add(m, &m->percent, percent(m, share_of(s)));
	list_add(m, &m->needed, percent(m, needed));
	list_add(m, &m->verdict, reaches(s, needed) ? "reached" : "not-reached");
}

static const char *title_of(const struct course *c, const char *code)
{
	const struct competency *k = course_competency(c, code);
	return k ? k->title : "";
}

static bool cuts_add(struct making *m, const struct assessment *what, const struct course *c,
	const struct marked *place, size_t n)
{
	bool all = true;
	for (size_t i = 0; i < what->ncut; i++) {
		const struct assessment_cut *cut = &what->cut[i];
		struct sum s = sum_of(place, n, cut->competency);
		bool fine = reaches(s, cut->share);
		part_add(m, cut->competency, s, cut->share);
		list_add(m, &m->reason,
			made(m, "%s, %s: %.4g of %zu points, %.4g %%; %.4g %% are needed: %s",
				cut->competency, title_of(c, cut->competency), s.points, s.n,
				100 * share_of(s), 100 * cut->share,
				fine ? "reached" : "not reached"));
		all &= fine;
	}
	return all;
}

static bool is_in_parts(const struct making *m, const char *code)
{
	for (size_t i = 0; i < m->part.n; i++)
		if (strcmp(m->part.at[i], code) == 0)
			return true;
	return false;
}

static void others_add(
	struct making *m, const struct assessment *what, const struct marked *place, size_t n)
{
	for (size_t i = 0; i < n && !m->out; i++) {
		const char *code = place[i].problem->competency;
		if (!is_in_parts(m, code))
			part_add(m, code, sum_of(place, n, code), what->share);
	}
}

/* ---- reasons --------------------------------------------------------------------------------- */

static bool critical_add(struct making *m, const struct marked *place, size_t n)
{
	bool all = true;
	for (size_t i = 0; i < n; i++) {
		if (!place[i].critical || place[i].right == place[i].problem->nask)
			continue;
		list_add(m, &m->reason,
			made(m, "task %zu, %s, must be wholly right and is not", i + 1,
				place[i].problem->title));
		all = false;
	}
	return all;
}

static void circumstances_add(struct making *m, const struct circumstances *how)
{
	if (how->time_over)
		list_add(m, &m->reason, "the time was over before it was handed in");
	if (how->late)
		list_add(m, &m->reason,
			made(m, "%llu %s after the time was over: kept, not counted",
				(unsigned long long)how->late,
				how->late == 1 ? "answer came" : "answers came"));
	if (how->breaks)
		list_add(m, &m->reason,
			made(m, "it was interrupted %llu %s", (unsigned long long)how->breaks,
				how->breaks == 1 ? "time" : "times"));
	if (how->forward_ms)
		list_add(m, &m->reason,
			made(m, "the machine's clock was set forward by %llu s during the sitting",
				(unsigned long long)how->forward_ms / 1000));
	if (how->back_ms)
		list_add(m, &m->reason,
			made(m, "the machine's clock was set back by %llu s during the sitting",
				(unsigned long long)how->back_ms / 1000));
}

enum bad outcome_find(const struct assessment *what, const struct course *c,
	const struct marked *place, size_t n, const struct circumstances *how, struct arena *a,
	struct line_result *out)
{
	struct making m = {.a = a};
	struct list *const lists[] = {
		&m.part, &m.competency, &m.percent, &m.needed, &m.verdict, &m.reason};
	for (size_t i = 0; i < sizeof lists / sizeof *lists; i++)
		list_init(&m, lists[i], what->ncut + n + 8);
	struct sum all = sum_of(place, n, NULL);
	bool fine = reaches(all, what->share);
	list_add(&m, &m.reason,
		made(&m, "in all: %.4g of %zu points, %.4g %%; %.4g %% are needed: %s", all.points,
			all.n, 100 * share_of(all), 100 * what->share,
			fine ? "reached" : "not reached"));
	fine &= cuts_add(&m, what, c, place, n);
	fine &= critical_add(&m, place, n);
	others_add(&m, what, place, n);
	circumstances_add(&m, how);
	struct line_result r = {.of = what->code,
		.title = what->title,
		.content = what->hash,
		.verdict = fine ? "passed" : "not-passed",
		.percent = percent(&m, share_of(all)),
		.needed = percent(&m, what->share),
		.attempt = how->attempt,
		.used_ms = how->used_ms,
		.breaks = how->breaks,
		.part = texts_of(&m.part),
		.part_competency = texts_of(&m.competency),
		.part_percent = texts_of(&m.percent),
		.part_needed = texts_of(&m.needed),
		.part_verdict = texts_of(&m.verdict),
		.reasons = texts_of(&m.reason)};
	if (m.out)
		return BAD_MEMORY;
	*out = r;
	return FINE;
}

bool outcome_is_pass(const struct line_result *r)
{
	return strcmp(r->verdict, "passed") == 0;
}
