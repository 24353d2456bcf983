/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person is shown of a run, as blocks of a page: the same for the screen and the plain
 * surface. Nothing here tells more than the person can know, but for the debrief. */
#ifndef BARWRIGHT_BENCH_VIEW_H
#define BARWRIGHT_BENCH_VIEW_H

#include "bench/bench.h"
#include "bench/score.h"
#include "surface/page.h"

/* The last reading of each look, and an earlier one that was taken with a finer tool: all that is
 * known of the work. The finer one may be of before something was changed: it goes with its time. */
struct bench_note {
	bool is_there;
	struct bench_reading reading;
	double at_s;
	struct bench_reading finer; /* n is 0: there is none */
	double finer_s;
};

struct bench_view {
	struct bench *bench;
	struct bench_note *note; /* one a look */
	char decimal;
	bool by_lines; /* no menu stands under a page: what can be typed is said */
};

/* A reading taken now. */
void view_note(struct bench_view *v, size_t look, const struct bench_reading *r);

/* "2 d 3 h 05 min" since the work came to this bench. */
const char *view_clock(struct arena *a, const struct bench *b, double at_s);
/* The clock now, and what is left when there is a limit: "0 h 40 min, 3 h 20 min left". */
const char *view_time(struct arena *a, const struct bench *b);

/* Title, clock, drawing and what can be done next. */
void view_bench(struct page *p, const struct bench_view *v);
/* What happened with the last decision, as far as it is seen. */
void view_news(struct page *p, const struct bench_view *v);
void view_reading(struct page *p, const struct bench_view *v, size_t look);
void view_next(struct page *p, const struct bench_view *v);
void view_steps(struct page *p, const struct bench_view *v);
void view_known(struct page *p, const struct bench_view *v);
/* The measured part of it, without what stands in the news. */
void view_measured_before(struct page *p, const struct bench_view *v);
void view_looks(struct page *p, const struct bench_view *v);
void view_mends(struct page *p, const struct bench_view *v);
void view_backs(struct page *p, const struct bench_view *v);
void view_stuffs(struct page *p, const struct bench_view *v);
/* A hunt: faults that may be named. */
void view_names(struct page *p, const struct bench_view *v);
bool view_may_name(const struct bench *b, size_t fault);
/* "2 left; 2 more cost 28 and come after 1 d 0 h 00 min" */
const char *view_stuff(struct arena *a, const struct bench_view *v, size_t stuff);
/* What stands before a step is done: purpose, caution. */
void view_step(struct page *p, const struct bench_view *v, size_t step);
/* Title, then what was asked: "5.10, 5.05 mm". */
/* With no more places than it needs. */
const char *view_short(struct arena *a, const struct bench_view *v, double x);
const char *view_number(struct arena *a, const struct bench_view *v, double x, int places);
const char *view_values(struct arena *a, const struct bench_view *v, const struct shown *s,
	const double *value, size_t n);

/* What there is to see of a fault that is known: not its cause. */
const char *view_seen(const struct bench *b, size_t fault);

/* debrief.c: after the end. `course` may be null. */
void view_debrief(struct page *p, const struct bench_view *v, const struct bench_score *s,
	const struct course *course);

/* picture.c: the work so far as far as it is to be seen, and the bar as it was made. Null and no harm
 * where there is nothing to draw. */
void picture_work(struct page *p, const struct bench_view *v);
/* "at 45", "on the right", "between 43 and 41": value k of a list. */
const char *picture_place(struct page *p, const struct bench *b, enum each each, size_t k);
void picture_bar(struct page *p, const struct bench_view *v);

#endif
