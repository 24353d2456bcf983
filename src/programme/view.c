/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "programme/view_parts.h"
#include "surface/page.h"

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/utf8.h>

/* ---- what is reached ------------------------------------------------------------------------- */

size_t lacks_find(const struct view_of *v, const char *who, const struct outcome_code *o,
	struct lack *list, size_t most)
{
	size_t n = 0;
	for (size_t k = 0; k < o->ncompetency; k++) {
		struct evidence_sum s = evidence_sum(v->evidence, who, o->competency[k]);
		if (s.reached >= (uint64_t)o->evidence)
			continue;
		if (n < most)
			list[n] = (struct lack){o->competency[k], s.reached, o->evidence};
		n++;
	}
	return n;
}

const char *view_name(const struct view_of *v, const char *who)
{
	const char *name = v->name ? v->name(v->context, who) : NULL;
	return name ? name : "";
}

void view_add_safe(struct text *out, const char *s)
{
	text_add_safe(out, s, strlen(s), false);
}

void view_add_who(const struct view_of *v, const char *who, struct text *out)
{
	const char *name = view_name(v, who);
	view_add_safe(out, who);
	if (*name) {
		text_add(out, "  ");
		view_add_safe(out, name);
	}
}

void view_add_day(int64_t ms, struct text *out)
{
	char time[TIME_TEXT];
	time_write(ms, time);
	text_add_bytes(out, time, 10);
}

static const struct erasure *erased(const struct view_of *v, const struct looked *l)
{
	return v->erased ? erasure_of(v->erased, l->strand) : NULL;
}

void view_add_erased(const struct view_of *v, const char *who, struct text *out)
{
	for (const struct looked *l = v->evidence->looked; l; l = l->next) {
		const struct erasure *e = strcmp(l->who, who) ? NULL : erased(v, l);
		if (!e)
			continue;
		text_add(out, "  Erased on request on ");
		view_add_day(e->at_ms, out);
		text_add(out, ", noted by ");
		view_add_safe(out, e->by);
		text_addf(out, ":\n    strand %s, its first %llu lines\n", l->strand,
			(unsigned long long)e->size);
	}
}

bool view_is_erased(const struct view_of *v, const char *who)
{
	bool any = false;
	for (const struct looked *l = v->evidence->looked; l; l = l->next)
		any = any || (strcmp(l->who, who) == 0 && erased(v, l));
	for (const struct practised *p = v->evidence->practised; p; p = p->next)
		any = any && strcmp(p->who, who) != 0;
	return any && !evidence_first(v->evidence, who) && !benched_sum(v->evidence, who).runs;
}

struct wrapping {
	struct text *out;
	const char *lead;
	size_t lines;
};

static int line_take(void *to, const char *at, size_t len)
{
	struct wrapping *w = to;
	if (w->lines++)
		text_add_repeat(w->out, ' ', strlen(w->lead));
	else
		text_add(w->out, w->lead);
	text_add_bytes(w->out, at, len);
	text_add_char(w->out, '\n');
	return 0;
}

void view_add_words(const char *lead, const struct text *words, struct text *out)
{
	struct wrapping w = {out, lead, 0};
	text_wrap(words->at, words->len, VIEW_COLUMNS - (int)strlen(lead), line_take, &w);
	out->out |= words->out;
}

static void add_outcome(
	const struct view_of *v, const char *who, const struct outcome_code *o, struct text *out)
{
	struct lack list[LACKS_SHOWN];
	struct text words;
	size_t n = lacks_find(v, who, o, list, LACKS_SHOWN);
	text_init(&words);
	view_add_safe(&words, o->code);
	text_add(&words, "  ");
	view_add_safe(&words, o->title);
	text_add(&words, n ? ": missing " : ": reached");
	for (size_t k = 0; k < n && k < LACKS_SHOWN; k++)
		text_addf(&words, "%s%s (%llu of %d)", k ? ", " : "", list[k].competency,
			(unsigned long long)list[k].has, list[k].needs);
	if (n > LACKS_SHOWN)
		text_addf(&words, " and %zu more", n - LACKS_SHOWN);
	view_add_words("    ", &words, out);
	text_release(&words);
}

void view_add_missing(const struct view_of *v, const char *who, struct text *out)
{
	for (size_t o = 0; v->programme && o < v->programme->noutcome; o++)
		add_outcome(v, who, &v->programme->outcome[o], out);
}
