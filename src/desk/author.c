/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/author.h"

#include <string.h>

#include <barwright/base/unit.h>
#include <barwright/base/utf8.h>

#include "course/course.h"
#include "desk/present.h"

/* ---- one instance ---------------------------------------------------------------------------- */

static void add_number_row(struct page *p, const char *label, const struct shown *shown,
	double value, int places, char sign, const char *behind)
{
	struct text t;
	text_init(&t);
	shown_add(shown, value, places, sign, &t);
	page_row(p, label, "%s%s%s", t.at, *behind ? "  " : "", behind);
	p->out |= t.out;
	text_release(&t);
}

static void add_say_row(struct page *p, const char *label, const struct instance *i,
	const struct shown *shown, double value, const struct template *say, char sign)
{
	struct text t;
	text_init(&t);
	instance_text_add(i, say, sign, &t);
	add_number_row(p, label, shown, value, -1, sign, t.at);
	p->out |= t.out;
	text_release(&t);
}

static void add_slips(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	const struct instance_ask *made = &i->ask[ask];
	if (q->nslip)
		page_add(p, BLOCK_HEADING, "Slips");
	for (size_t n = 0; n < q->nslip; n++)
		add_say_row(p, q->slip[n].name, i, &q->shown, made->slip[n], &q->slip[n].say, sign);
	for (size_t k = 0; k < made->npair; k++) {
		const char *label = arena_format(p->arena, "%s + %s",
			q->slip[made->pair[k].first].name, q->slip[made->pair[k].second].name);
		add_number_row(p, label ? label : "", &q->shown, made->pair[k].value, -1, sign, "");
	}
}

/* Nobody is told anything about an option that is right; its words are for draws in which it is not. */
static bool is_right(const struct instance *i, size_t ask, size_t k)
{
	enum asked kind = i->problem->ask[ask].kind;
	return (kind == ASKED_CHOICE || kind == ASKED_CHOICES) && i->ask[ask].right >> k & 1;
}

/* What somebody is told who went wrong with an option, as it is in this instance. */
static void add_option_say(
	struct page *p, const struct instance *i, size_t ask, size_t k, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	bool right = is_right(i, ask, k);
	struct text text, say;
	text_init(&text);
	text_init(&say);
	instance_text_add(i, &q->offer[k].text, sign, &text);
	if (right)
		text_add(&say, "right");
	else
		instance_text_add(i, &q->offer[k].say, sign, &say);
	page_row(p, text.at, "%s%s%s", say.at, *q->offer[k].slip && !right ? " -> " : "",
		right ? "" : q->offer[k].slip);
	p->out |= text.out | say.out;
	text_release(&text);
	text_release(&say);
}

static void add_options_say(struct page *p, const struct instance *i, size_t ask, char sign)
{
	page_add(p, BLOCK_HEADING, "What is told about each option");
	for (size_t k = 0; k < i->problem->ask[ask].noffer; k++)
		add_option_say(p, i, ask, k, sign);
}

static void add_ask(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	present_ask(p, i, ask, sign);
	if (q->noffer)
		add_options_say(p, i, ask, sign);
	else
		add_slips(p, i, ask, sign);
	present_solution(p, i, ask, sign);
}

static void add_features(struct page *p, const struct instance *i)
{
	struct features f;
	instance_features(i, &f);
	page_add(p, BLOCK_HEADING, "How hard it looks");
	page_row(p, "readings", "%lu, with %lu digits in all; the largest is %.6g", f.readings,
		f.digits, f.largest);
	if (f.skew > 0)
		page_row(p, "lopsided", "%.2f, where 0 is even on both sides and 1 all on one",
			f.skew);
	page_row(p, "steps", "%lu in the worked solution", f.steps);
	if (f.gap > 0)
		page_row(p, "nearest slip",
			"%.1f times as far from the answer as a reply may be off and still count",
			f.gap);
	page_row(p, "draws", "%lu needed, until all slips were far enough apart to be told",
		f.tries);
}

void author_instance(struct page *p, const struct instance *i, int columns, char sign)
{
	present_problem(p, i, columns, sign);
	for (size_t k = 0; k < i->problem->nask; k++)
		add_ask(p, i, k, sign);
	present_source(p, i->problem);
	if (!i->problem->is_fixed)
		add_features(p, i);
}

/* ---- many ------------------------------------------------------------------------------------ */

void histogram_make(const double *value, size_t n, struct histogram *out)
{
	struct histogram h = {.low = value[0], .high = value[0]};
	for (size_t k = 1; k < n; k++) {
		h.low = value[k] < h.low ? value[k] : h.low;
		h.high = value[k] > h.high ? value[k] : h.high;
	}
	for (size_t k = 0; k < n; k++) {
		double part = h.high > h.low ? (value[k] - h.low) / (h.high - h.low) : 0;
		size_t bin = (size_t)(part * AUTHOR_BINS);
		bin = bin < AUTHOR_BINS ? bin : AUTHOR_BINS - 1;
		if (++h.count[bin] > h.most)
			h.most = h.count[bin];
	}
	*out = h;
}

/* Where a bar of the histogram begins, as answers are written; the sample holds them in their unit. */
static void add_bin_label(const struct shown *shown, double value, char sign, struct text *out)
{
	struct shown bare = *shown;
	struct text label;
	size_t room = shown->clock ? 18 : 12;
	bare.unit_text = "";
	text_init(&label);
	shown_add(&bare, value * shown->unit.factor + shown->unit.offset, -1, sign, &label);
	size_t width = utf8_width(label.at, label.len);
	text_add_repeat(out, ' ', width < room ? room - width : 0);
	text_add_bytes(out, label.at, label.len);
	out->out |= label.out;
	text_release(&label);
}

static void add_bins(
	struct page *p, const struct shown *shown, const struct sample_ask *a, char sign)
{
	enum { WIDEST = 40 };
	struct histogram h;
	struct text t;
	histogram_make(a->answer, a->nanswer, &h);
	text_init(&t);
	for (size_t k = 0; k < AUTHOR_BINS && (k == 0 || h.high > h.low); k++) {
		double low = h.low + (h.high - h.low) * (double)k / AUTHOR_BINS;
		text_add(&t, k ? "\n" : "");
		add_bin_label(shown, low, sign, &t);
		text_addf(&t, " %6lu ", h.count[k]);
		text_add_repeat(&t, '#', (h.count[k] * WIDEST + h.most - 1) / h.most);
	}
	page_add(p, BLOCK_EXACT, "%s", t.at);
	p->out |= t.out;
	text_release(&t);
}

static void add_answers(struct page *p, const struct sample *s, size_t ask, char sign)
{
	const struct ask *q = &s->problem->ask[ask];
	const struct sample_ask *a = &s->ask[ask];
	if (q->noffer) {
		page_add(p, BLOCK_HEADING, "%s: how often each option is right", q->text);
		for (size_t k = 0; k < q->noffer; k++) {
			const char *label = arena_format(p->arena, "option %zu", k + 1);
			page_row(p, label ? label : "", "%lu of %lu", a->right[k], s->fair);
		}
		return;
	}
	struct text unit;
	text_init(&unit);
	unit_add_printed(q->shown.unit_text, strlen(q->shown.unit_text), &unit);
	page_add(p, BLOCK_HEADING, "%s: answers%s%s", q->text, unit.len ? " in " : "", unit.at);
	text_release(&unit);
	if (a->nanswer)
		add_bins(p, &q->shown, a, sign);
	if (a->nanswer < s->fair)
		page_add(p, BLOCK_TEXT, "Refer back: %lu of %lu", s->fair - a->nanswer, s->fair);
}

void author_sample(struct page *p, const struct sample *s, char sign)
{
	page_add(p, BLOCK_HEADING, "Many draws");
	page_add(p, BLOCK_TEXT,
		"Of %lu draws %lu make a fair task (%.0f %%). In %lu of them each slip and "
		"each pair of slips gives a number of its own.",
		s->tries, s->fair, s->tries ? 100.0 * (double)s->fair / (double)s->tries : 0,
		s->all_clear);
	for (size_t k = 0; k < s->nobstacle; k++) {
		struct text t;
		const char *label = arena_format(p->arena, "%lu", s->obstacle[k].n);
		text_init(&t);
		unfair_add(s->problem, &s->obstacle[k].at, &t);
		page_row(p, label ? label : "", "%s", t.at);
		p->out |= t.out;
		text_release(&t);
	}
	for (size_t k = 0; k < s->problem->nask && s->fair; k++)
		add_answers(p, s, k, sign);
}
