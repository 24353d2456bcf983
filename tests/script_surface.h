/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A surface that answers from a list of lines and keeps what it was shown; and a clock that the lines can
 * move. Include after near.h.
 *
 * A line is what a person types; "" presses Enter; "!leave", "!back" and the end of the list (or
 * "!lost") are replies of their own. "=" presses Enter on the line of a list
 * that the full screen would begin with. "@60" lets 60 seconds pass before the next line is typed, "@wall
 * 3600" sets the clock of the wall alone. "~4.5" stands in the field, not sent off, when the page's time is
 * over. */
#ifndef BARWRIGHT_TESTS_SCRIPT_SURFACE_H
#define BARWRIGHT_TESTS_SCRIPT_SURFACE_H

#include <stdlib.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/text.h>

#include "surface/hear.h"
#include "surface/surface.h"

static int64_t script_now = INT64_C(1795599015000), script_boot = 1000000;
static inline int64_t script_clock_now(void)
{
	return script_now;
}
static inline int64_t script_clock_boot(void)
{
	return script_boot;
}
static inline void script_clock(void)
{
	static const struct clock_source source = {script_clock_now, script_clock_boot};
	script_now = INT64_C(1795599015000);
	script_boot = 1000000;
	clock_replace(&source);
}
static inline void script_pass(int64_t s)
{
	script_now += 1000 * s;
	script_boot += 1000 * s;
}

struct script_surface {
	struct surface surface;
	const char *const *line; /* ends in null */
	int64_t each_s;          /* seconds that every reply takes */
	struct limit limit;      /* of the page */
	struct text said;        /* titles, notes and blocks, one a line */
};

static inline enum bad script_show(struct surface *s, const struct page *p)
{
	struct script_surface *x = (struct script_surface *)s;
	const char *note = p->note ? p->note : "";
	char left[LIMIT_WORDS];
	limit_words(&p->limit, clock_boot(), left);
	text_addf(&x->said, "== %s (%s%s%s)\n", p->title, note, *note && *left ? ", " : "", left);
	x->limit = p->limit;
	for (const struct block *b = p->first; b; b = b->next)
		text_addf(&x->said, "%s%s%s\n", b->text ? b->text : "", b->value ? ": " : "",
			b->value ? b->value : "");
	return FINE;
}

static inline const char *script_next(struct script_surface *x)
{
	while (*x->line && **x->line == '@') {
		const char *s = *x->line++ + 1;
		if (strncmp(s, "wall ", 5) == 0)
			script_now += 1000 * atoll(s + 5);
		else
			script_pass(atoll(s));
	}
	script_pass(x->each_s);
	return *x->line ? *x->line++ : "!lost";
}

static inline enum bad script_ask(struct surface *s, const struct question *q, struct reply *out)
{
	struct script_surface *x = (struct script_surface *)s;
	const char *fault = "", *line;
	text_addf(
		&x->said, "? %s%s%s\n", q->prompt, q->fault ? " ! " : "", q->fault ? q->fault : "");
	for (size_t k = 0; q->kind == ASK_CHOICE && k < q->nchoice; k++)
		text_addf(&x->said, "- %s%s%s\n", q->choice[k].title, q->choice[k].note ? ": " : "",
			q->choice[k].note ? q->choice[k].note : "");
	line = script_next(x);
	text_addf(&x->said, "> %s\n", line);
	if (*line == '~') { /* somebody is still typing when the time is over */
		script_pass((x->limit.over_ms - script_boot) / 1000 + 1);
		*out = (struct reply){.kind = REPLY_TIME};
		snprintf(out->text, sizeof out->text, "%s", line + 1);
		return FINE;
	}
	if (*line == '!') {
		out->kind = strcmp(line, "!leave") == 0  ? REPLY_LEAVE
			    : strcmp(line, "!back") == 0 ? REPLY_BACK
							 : REPLY_LOST;
		return FINE;
	}
	if (strcmp(line, "=") == 0 && q->kind == ASK_CHOICE) {
		*out = (struct reply){.kind = REPLY_CHOICE, .choice = q->chosen};
		fault = "nothing is chosen beforehand";
		if (q->chosen < q->nchoice)
			return FINE;
	} else if (hear_line(q, line, strlen(line), out, &fault) == HEARD_REPLY) {
		return FINE;
	}
	text_addf(&x->said, "!! %s\n", fault);
	return script_ask(s, q, out);
}

static inline void script_open(struct script_surface *x, const char *const *line)
{
	static const struct surface_ops ops = {script_show, script_show, script_ask};
	*x = (struct script_surface){.surface = {&ops, 80, '.'}, .line = line};
	text_init(&x->said);
}
static inline void script_close(struct script_surface *x)
{
	text_release(&x->said);
}
static inline void script_says(const struct script_surface *x, const char *words)
{
	if (!strstr(x->said.at, words))
		fail_msg("'%s' was not said, but:\n%s", words, x->said.at);
}
static inline void script_says_not(const struct script_surface *x, const char *words)
{
	if (strstr(x->said.at, words))
		fail_msg("'%s' was said:\n%s", words, x->said.at);
}

#endif
