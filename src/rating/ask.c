/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "rating/rate_parts.h"

enum how rate_show(struct rate *r, struct page *p)
{
	enum bad code = p->out ? BAD_MEMORY : surface_show(r->desk->surface, p);
	return code ? desk_broken(r->desk, code) : HOW_DONE;
}

enum how rate_choose(struct rate *r, const char *prompt, const struct choice *list, size_t n,
	size_t first, size_t *out)
{
	struct question q = {.kind = ASK_CHOICE,
		.prompt = prompt,
		.choice = list,
		.nchoice = n,
		.chosen = first};
	struct reply reply;
	enum bad code = surface_ask(r->desk->surface, &q, &reply);
	if (code)
		return desk_broken(r->desk, code);
	if (reply.kind == REPLY_CHOICE)
		*out = reply.choice;
	return how_of(reply.kind);
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

enum how rate_level(struct rate *r, const struct criterion *c, size_t *level)
{
	static const char *const word[RUBRIC_LEVELS] = {"l0", "l1", "l2", "l3"};
	struct choice list[RUBRIC_LEVELS];
	size_t place = 0;
	for (size_t k = 0; k < RUBRIC_LEVELS; k++) {
		size_t n = RUBRIC_LEVELS - 1 - k; /* the best one first */
		/* No number of the level: it would stand beside another number, the line's. */
		list[k] = (struct choice){word[n], rate_level_name[n], c->level[n]};
	}
	enum how how = rate_choose(r, "Level?", list, RUBRIC_LEVELS, CHOICE_NONE, &place);
	if (!how)
		*level = RUBRIC_LEVELS - 1 - place;
	return how;
}
