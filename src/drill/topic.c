/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drill/topic.h"

#include <barwright/base/clock.h>

const char *topic_ago(int64_t then_ms, struct arena *a)
{
	int64_t minutes = (clock_now() - then_ms) / 60000;
	const char *made;
	if (minutes < 2)
		return "just now";
	if (minutes < 120)
		made = arena_format(a, "%lld minutes ago", (long long)minutes);
	else if (minutes < 48 * 60)
		made = arena_format(a, "%lld hours ago", (long long)(minutes / 60));
	else
		made = arena_format(a, "%lld days ago", (long long)(minutes / (24 * 60)));
	return made ? made : "";
}

const char *topic_done(const struct desk *d, const struct module *m, struct arena *a)
{
	struct progress_sum sum = progress_module(&d->progress, m);
	if (!sum.drawn)
		return NULL;
	if (!sum.answered)
		return "begun";
	const char *made = arena_format(a, "%llu of %llu right at the first try, %s",
		(unsigned long long)sum.right, (unsigned long long)sum.answered,
		topic_ago(sum.last_ms, a));
	return made ? made : "";
}

enum how topic_ask(struct desk *d, const char *title, const struct module **out)
{
	struct arena a = {0};
	struct page page;
	struct reply r = {.kind = REPLY_BACK};
	struct choice *choice = arena_many(&a, d->course->nmodule + 1, struct choice);
	page_init(&page, &a, title, NULL);
	for (size_t k = 0; choice && k < d->course->nmodule; k++) {
		const struct module *m = &d->course->module[k];
		const char *done = topic_done(d, m, &a);
		choice[k] = (struct choice){m->code, m->title, done ? done : m->about};
	}
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "Which topic?",
		.choice = choice,
		.nchoice = d->course->nmodule};
	enum bad code = choice && !page.out ? surface_show(d->surface, &page) : BAD_MEMORY;
	if (!code)
		code = surface_ask(d->surface, &q, &r);
	arena_release(&a);
	if (code)
		return desk_broken(d, code);
	if (r.kind == REPLY_CHOICE)
		*out = &d->course->module[r.choice];
	return how_of(r.kind);
}
