/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/present.h"

#include <string.h>

#include "desk/lead.h"
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

void present_task(struct page *p, const struct instance *i, int columns, char sign)
{
	const struct problem *problem = i->problem;
	add_template(p, BLOCK_TEXT, i, &problem->text, sign);
	add_given(p, i, sign);
	picture_add(p, &problem->figure, i->value, i->work, columns, sign);
	if (problem->caution)
		page_add(p, BLOCK_CAUTION, "%s", problem->caution);
}

void present_problem(struct page *p, const struct instance *i, int columns, char sign)
{
	present_task(p, i, columns, sign);
	if (i->problem->mind)
		page_add(p, BLOCK_TEXT, "Mind: %s", i->problem->mind);
}

/* One row: a label, and what an instance_..._add makes of a place. */
static void add_place(struct page *p, const struct instance *i, size_t ask, size_t place,
	const char *label, char sign,
	void (*add)(const struct instance *, size_t, size_t, char, struct text *))
{
	struct text t;
	text_init(&t);
	add(i, ask, place, sign, &t);
	page_row(p, label, "%s", t.at);
	p->out |= t.out;
	text_release(&t);
}

static void add_offers(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	bool match = q->kind == ASKED_MATCH;
	for (size_t k = 0; k < q->noffer; k++) {
		const char *label = match ? arena_format(p->arena, "%zu", k + 1)
					  : arena_format(p->arena, "%c", (int)('a' + k));
		add_place(p, i, ask, k, label ? label : "", sign, instance_offer_add);
	}
	if (match)
		page_add(p, BLOCK_HEADING, "To be put with them:");
	for (size_t k = 0; match && k < q->noffer + q->nother; k++) {
		const char *label = arena_format(p->arena, "%c", (int)('a' + k));
		add_place(p, i, ask, k, label ? label : "", sign, instance_with_add);
	}
}

const char *present_how(enum asked kind)
{
	static const char *const how[] = {
		[ASKED_NUMBER] = NULL,
		[ASKED_TIME] =
			"type a time, such as 14:35, with the day in front if it is asked for",
		[ASKED_CHOICE] = "type its letter",
		[ASKED_CHOICES] = "type all letters that are right, such as: a c",
		[ASKED_ORDER] = "type the letters in their order, such as: c a b",
		[ASKED_MATCH] = "type numbers with letters, such as: 1c 2a 3b",
	};
	return how[kind];
}

/* Would an answer with one decimal less be rounded too coarsely? Where a case may be referred back this
 * must not depend on whether it has to be. */
static bool needs_places(const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	double lost = 0.5 * q->shown.unit.factor;
	if (q->kind != ASKED_NUMBER || q->shown.places < 1)
		return false;
	for (int n = 1; n < q->shown.places; n++)
		lost /= 10;
	return q->may_refer || lost > i->ask[ask].tolerance;
}

/* "Film (as a positive number, to one decimal)": the ask's text, with how many decimals are wanted. */
static const char *asked_words(struct page *p, const struct instance *i, size_t ask)
{
	static const char *const numeral[] = {"no", "one", "two", "three", "four", "five", "six"};
	const struct ask *q = &i->problem->ask[ask];
	int places = q->shown.places;
	size_t len = strlen(q->text);
	bool joins = len && q->text[len - 1] == ')';
	if (!needs_places(i, ask) || (size_t)places >= sizeof numeral / sizeof *numeral)
		return q->text;
	const char *made = arena_format(p->arena, "%.*s%sto %s %s)", (int)(len - joins), q->text,
		joins ? ", " : " (", numeral[places],
		text_plural((unsigned)places, "decimal", "decimals"));
	p->out |= !made;
	return made ? made : q->text;
}

void present_ask(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct problem *problem = i->problem;
	const char *words = asked_words(p, i, ask);
	if (problem->nask > 1)
		page_add(p, BLOCK_HEADING, "Asked, %zu of %zu: %s", ask + 1, problem->nask, words);
	else
		page_add(p, BLOCK_HEADING, "Asked: %s", words);
	if (problem->ask[ask].noffer)
		add_offers(p, i, ask, sign);
}

static void add_tolerance(struct text *t, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	struct shown shown = q->shown;
	if (i->ask[ask].tolerance <= 0 || shown.clock)
		return;
	shown.unit.offset = 0;
	text_add(t, " (accepted within ");
	shown_add(&shown, i->ask[ask].tolerance, shown.places + 1, sign, t);
	text_add(t, q->tolerance == TOLERANCE_STATED ? ", as the course states)" : ")");
}

/* What the letters of the answer stand for. */
static void add_offers_right(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	struct text letters, with, text;
	text_init(&letters);
	instance_letters_add(i, ask, &letters);
	for (size_t k = 0, row = 0; k < letters.len; k++) {
		if (letters.at[k] < 'a')
			continue;
		size_t place = (size_t)(letters.at[k] - 'a');
		text_init(&text);
		text_init(&with);
		instance_offer_add(i, ask, q->kind == ASKED_MATCH ? row++ : place, sign, &text);
		if (q->kind == ASKED_MATCH) {
			instance_with_add(i, ask, place, sign, &with);
			page_row(p, text.at, "%s", with.at);
		} else {
			page_add(p, BLOCK_ITEM, "%s", text.at);
		}
		p->out |= text.out | with.out;
		text_release(&text);
		text_release(&with);
	}
	p->out |= letters.out;
	text_release(&letters);
}

/* Why it is so: of a fixed item, whose steps are words. */
static void add_why(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	for (size_t n = 0; i->problem->is_fixed && n < q->nstep; n++)
		add_template(p, BLOCK_TEXT, i, &q->step[n].say, sign);
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
	add_why(p, i, ask, sign);
}

void present_score(struct page *p, const struct instance *i, size_t ask, const struct score *s,
	const char *typed, char sign)
{
	struct text t;
	if (s->outcome == OUTCOME_RIGHT) {
		add_right(p, i, ask, sign);
		return;
	}
	text_init(&t);
	score_tell(i, ask, s, sign, &t);
	page_add(p, BLOCK_BAD, "Not right: %s. %s", typed, t.at);
	p->out |= t.out;
	text_release(&t);
}

static void add_step(struct page *p, const struct instance *i, const struct step *step, char sign)
{
	struct text t;
	text_init(&t);
	instance_step_add(i, step, sign, &t);
	add_made(p, BLOCK_EXACT, &t);
	text_release(&t);
}

void present_led(struct page *p, const struct instance *i, size_t ask, size_t led, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	size_t all = lead_steps(q), n = 0;
	page_add(p, BLOCK_HEADING, led < all ? "Worked as far as this" : "The way");
	for (size_t k = 0; k < q->nstep; k++) {
		const struct step *step = &q->step[k];
		bool counts = step->formula && formula_result(step->formula).kind == FORMULA_NUMBER;
		add_template(p, BLOCK_TEXT, i, &step->say, sign);
		if (counts && ++n + led > all)
			page_add(p, BLOCK_EXACT, "%s = ?", step->name);
		else
			add_step(p, i, step, sign);
	}
}

void present_solution(struct page *p, const struct instance *i, size_t ask, char sign)
{
	const struct ask *q = &i->problem->ask[ask];
	page_add(p, BLOCK_HEADING, "Worked solution: %s", q->text);
	for (size_t n = 0; n < q->nstep; n++) {
		add_template(p, BLOCK_TEXT, i, &q->step[n].say, sign);
		add_step(p, i, &q->step[n], sign);
	}
	present_answer(p, i, ask, sign);
}

void present_source(struct page *p, const struct problem *problem)
{
	if (problem->source)
		page_add(p, BLOCK_TEXT, "Source: %s", problem->source);
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
	if (i->problem->ask[ask].noffer)
		add_offers_right(p, i, ask, sign);
}
