/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/present.h"

#include "desk/picture.h"

/* A text made by instance_..._add as a block. */
static void add_made(struct page *p, enum block_kind kind, const struct text *t)
{
	if (t->out)
		p->out = 1;
	else if (t->len)
		page_add_text(p, kind, t->at, t->len);
}

static void add_template(struct page *p, enum block_kind kind, const struct instance *i,
	const struct template *t, char sign)
{
	struct text made;
	text_init(&made);
	instance_text_add(i, t, sign, &made);
	add_made(p, kind, &made);
	text_release(&made);
}

static void add_given(struct page *p, const struct instance *i, char sign)
{
	const struct problem *problem = i->problem;
	for (size_t n = 0; n < problem->ngiven; n++) {
		struct text made;
		text_init(&made);
		instance_text_add(i, &problem->given[n].value, sign, &made);
		page_row(p, problem->given[n].label, "%s", made.at);
		p->out |= made.out;
		text_release(&made);
	}
}

void present_problem(struct page *p, const struct instance *i, int columns, char sign)
{
	const struct problem *problem = i->problem;
	add_template(p, BLOCK_TEXT, i, &problem->text, sign);
	add_given(p, i, sign);
	picture_add(p, &problem->figure, i->value, i->work, columns, sign);
	if (problem->caution)
		page_add(p, BLOCK_CAUTION, "%s", problem->caution);
}

void present_ask(struct page *p, const struct instance *i, size_t ask)
{
	const struct problem *problem = i->problem;
	if (problem->nask > 1)
		page_add(p, BLOCK_HEADING, "Asked, %zu of %zu: %s", ask + 1, problem->nask,
			problem->ask[ask].text);
	else
		page_add(p, BLOCK_HEADING, "Asked: %s", problem->ask[ask].text);
}

static void add_tolerance(struct text *t, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	struct shown shown = q->shown;
	if (i->ask[ask].tolerance <= 0)
		return;
	shown.unit.offset = 0;
	text_add(t, " (accepted within ");
	shown_add(&shown, i->ask[ask].tolerance, shown.places + 1, sign, t);
	text_add(t, q->tolerance == TOLERANCE_STATED ? ", as the course states)"
						     : ", as the instrument reads)");
}

static void add_right(struct page *p, const struct instance *i, size_t ask, char sign)
{
	struct text t;
	text_init(&t);
	text_add(&t, "Right: ");
	instance_answer_add(i, ask, sign, &t);
	add_tolerance(&t, i, ask, sign);
	add_made(p, BLOCK_GOOD, &t);
	text_release(&t);
	if (formula_is_nothing(i->ask[ask].answer) && i->problem->ask[ask].refer_say.n)
		add_template(p, BLOCK_TEXT, i, &i->problem->ask[ask].refer_say, sign);
}

void present_score(
	struct page *p, const struct instance *i, size_t ask, const struct score *s, char sign)
{
	struct text t;
	if (s->outcome == OUTCOME_RIGHT) {
		add_right(p, i, ask, sign);
		return;
	}
	text_init(&t);
	score_tell(i, ask, s, sign, &t);
	page_add(p, BLOCK_BAD, "Not right. %s", t.at);
	p->out |= t.out;
	text_release(&t);
}

void present_steps(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	page_add(p, BLOCK_HEADING, "Worked solution: %s", q->text);
	for (size_t n = 0; n < q->nstep; n++) {
		struct text t;
		add_template(p, BLOCK_TEXT, i, &q->step[n].say, sign);
		text_init(&t);
		instance_step_add(i, &q->step[n], sign, &t);
		add_made(p, BLOCK_EXACT, &t);
		text_release(&t);
	}
	present_answer(p, i, ask, sign);
	if (i->problem->source)
		page_add(p, BLOCK_TEXT, "Source: %s", i->problem->source);
}

void present_answer(struct page *p, const struct instance *i, size_t ask, char sign)
{
	struct text t;
	text_init(&t);
	text_add(&t, "Answer: ");
	instance_answer_add(i, ask, sign, &t);
	add_tolerance(&t, i, ask, sign);
	add_made(p, BLOCK_TEXT, &t);
	text_release(&t);
}
