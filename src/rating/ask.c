/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "rating/rate_parts.h"

enum how rate_show(struct rate *r, struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_show(r->desk->surface, p);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

static enum how choose(struct rate *r, const struct question *q, size_t *out)
{
	struct reply reply;
	enum bad code = surface_ask(r->desk->surface, q, &reply);
	if (code)
		return desk_broken(r->desk, code);
	if (reply.kind == REPLY_CHOICE)
		*out = reply.choice;
	return how_of(reply.kind);
}

enum how rate_choose(struct rate *r, const char *prompt, const struct choice *list, size_t n,
	size_t first, size_t *out)
{
	const struct question q = {.kind = ASK_CHOICE,
		.prompt = prompt,
		.choice = list,
		.nchoice = n,
		.chosen = first};
	return choose(r, &q, out);
}

enum how rate_go(struct rate *r)
{
	struct question q = {.kind = ASK_GO, .prompt = "Go on"};
	struct reply reply;
	enum bad code = surface_ask(r->desk->surface, &q, &reply);
	return code ? desk_broken(r->desk, code) : how_of(reply.kind);
}

enum how rate_line(
	struct rate *r, const char *prompt, const char *words, const char *fault, const char **out)
{
	struct question q = {.kind = ASK_LINE, .prompt = prompt, .words = words, .fault = fault};
	struct reply reply;
	enum bad code = surface_ask(r->desk->surface, &q, &reply);
	if (code)
		return desk_broken(r->desk, code);
	if (reply.kind != REPLY_TEXT)
		return how_of(reply.kind);
	*out = arena_copy(&r->arena, reply.text, strlen(reply.text));
	return *out ? HOW_DONE : desk_broken(r->desk, BAD_MEMORY);
}

enum how rate_level(struct rate *r, const struct criterion *c, size_t most, size_t *level)
{
	struct choice list[RUBRIC_LEVELS];
	size_t place = 0;
	for (size_t k = 0; k < RUBRIC_LEVELS; k++) {
		size_t n = RUBRIC_LEVELS - 1 - k; /* the best one first */
		list[k] = (struct choice){rate_level_name[n], rate_level_name[n], c->level[n]};
	}
	struct question q = {.kind = ASK_CHOICE,
		.prompt = "Level?",
		.choice = list,
		.nchoice = RUBRIC_LEVELS,
		.chosen = CHOICE_NONE,
		.is_scale = true}; /* the number of the line is the level's */
	for (;;) {
		enum how how = choose(r, &q, &place);
		size_t chosen = RUBRIC_LEVELS - 1 - place;
		if (!how && chosen > most) {
			q.fault = "the readings rule this level out; where a reading is wrong, go "
				  "back and measure again";
			continue;
		}
		if (!how)
			*level = chosen;
		return how;
	}
}
