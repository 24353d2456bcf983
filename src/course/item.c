/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A fixed item: a question that draws nothing. Read as a problem with one ask.
 *
 *	item         its code, unique among problems and items of the course
 *	title, competency, level, source, caution, mind   as in a problem
 *	text         what the question is about
 *	figure       a drawing with fixed values (none)
 *	kind         choice, choices, order, match, number or time
 *	ask          the question, one line (a usual one for each kind)
 *	             and what an ask of this kind has (ask.c, options.c); steps and slips may be left out
 *	explain      what to tell afterwards: why it is so (none)
 *
 * It is part of problem.c in all but its form. */
#include "course/doc.h"

static void explain_read(struct doc *c, const struct names *n, struct tree *t, struct ask *ask)
{
	struct step *step = doc_many(c, ask->nstep + 1, struct step);
	if (!t || !step)
		return;
	for (size_t k = 0; k < ask->nstep; k++)
		step[k] = ask->step[k];
	template_read(c, n, t, &step[ask->nstep].say);
	step[ask->nstep].place = t->place;
	ask->step = step;
	ask->nstep++;
}

void item_read(struct doc *c, struct tree *root, const struct course *course, struct problem *out)
{
	struct diags *d = c->diags;
	struct names n = {.scope = &out->scope};
	struct ask *ask = doc_many(c, 1, struct ask);
	problem_head_read(c, root, "item", course, out);
	out->is_fixed = true;
	out->shown = doc_many(c, 1, struct shown);
	if (!ask || !out->shown)
		return;
	template_read(c, &n, tree_need(root, "text", d), &out->text);
	figure_read(c, &n, tree_find(root, "figure"), &out->figure);
	tree_need(root, "kind", d);
	ask_read(c, &n, root, true, ask);
	explain_read(c, &n, tree_find(root, "explain"), ask);
	out->ask = ask;
	out->nask = 1;
	c->clock = NULL;
	tree_unknown(root, d);
}
