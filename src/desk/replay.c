/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/replay.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/random.h>
#include <barwright/item/instance.h>
#include <barwright/item/score.h>

struct replay_made {
	const struct problem *problem;
	struct instance *instance;
	unsigned char key[32]; /* of the instance it holds now */
	bool is_drawn;
	struct replay_made *next;
};

static enum bad say(struct audit_finding *out, enum audit_result result, const char *words)
{
	out->result = result;
	snprintf(out->words, sizeof out->words, "%s", words);
	return FINE;
}

static const struct course *find_course(const struct replay *r, const char *code)
{
	for (size_t n = 0; n < r->ncourse; n++)
		if (strcmp(r->course[n]->code, code) == 0)
			return r->course[n];
	return NULL;
}

/* Of the course; else of an assessment that goes with it, the one that was not changed before others. */
static const struct problem *find_problem(
	const struct replay *r, const struct course *c, const struct audit_case *what)
{
	const struct problem *found = course_problem(c, what->answer->item);
	for (size_t n = 0; n < r->nassessment; n++) {
		const struct assessment *a = r->assessment[n];
		const struct problem *own = assessment_own(a, what->answer->item);
		if (!own || strcmp(a->course, c->code) != 0)
			continue;
		if (!found || problem_is_same(own, &what->draw->content))
			found = own;
	}
	return found;
}

static enum bad made_for(struct replay *r, const struct problem *p, struct replay_made **out)
{
	for (struct replay_made *m = r->made; m; m = m->next)
		if (m->problem == p) {
			*out = m;
			return FINE;
		}
	struct replay_made *m = arena_new(&r->arena, struct replay_made);
	if (!m)
		return BAD_MEMORY;
	m->problem = p;
	m->next = r->made;
	enum bad code = instance_new(&r->arena, p, &m->instance);
	if (!code)
		*out = r->made = m;
	return code;
}

/* The key must be the one that these names give: nobody chose easy numbers for themselves. */
static bool is_key_of(const struct audit_case *what)
{
	struct stream s;
	stream_open(&s, &(struct draw_key){what->open->course, what->draw->item, what->line->who,
				what->open->sitting, what->draw->attempt});
	return memcmp(s.key, what->draw->key, sizeof s.key) == 0;
}

static enum bad draw_again(struct replay_made *m, const unsigned char key[static 32])
{
	static const unsigned char nonce[12];
	struct stream s;
	if (m->is_drawn && memcmp(m->key, key, sizeof m->key) == 0)
		return FINE;
	stream_open_raw(&s, key, nonce, 0);
	m->is_drawn = false;
	enum bad code = instance_draw(m->instance, &s);
	if (!code) {
		memcpy(m->key, key, sizeof m->key);
		m->is_drawn = true;
	}
	return code;
}

/* The same decimal up to what two machines' last bits may do to it. */
static bool is_same_decimal(const char *a, const char *b)
{
	if (strcmp(a, b) == 0)
		return true;
	char *end_a, *end_b;
	double x = strtod(a, &end_a), y = strtod(b, &end_b);
	return !*end_a && !*end_b && *a && *b && fabs(x - y) <= 2e-6 * (1 + fabs(x));
}

/* What comes out when it is scored again. */
struct again {
	struct text expected, tolerance, slip, read_as;
	enum outcome outcome;
};

static void score_again(const struct instance *i, const struct line_answer *a, struct again *out)
{
	size_t ask = (size_t)a->ask - 1;
	struct score s;
	if (a->step) {
		const struct step *step = &i->problem->ask[ask].step[a->step - 1];
		score_step(i, step, a->typed, strlen(a->typed), &s);
		score_step_record(i, step, &s, &out->read_as, &out->expected, &out->tolerance);
	} else {
		score_typed(i, ask, a->typed, strlen(a->typed), &s);
		score_expected(i, ask, &out->expected, &out->tolerance);
		score_slip_add(i, ask, &s, &out->slip);
	}
	out->outcome = s.outcome;
}

/* A later program may name a mistake of which an earlier one could only say that it was wrong, or find
 * a unit where an earlier one saw the decimal sign. */
static bool is_only_finer(const char *recorded, enum outcome now)
{
	if (strcmp(recorded, outcome_word(OUTCOME_TENFOLD)) == 0)
		return now == OUTCOME_UNIT;
	return strcmp(recorded, outcome_word(OUTCOME_WRONG)) == 0 &&
	       (now == OUTCOME_UNIT || now == OUTCOME_ROUNDED || now == OUTCOME_RADIUS ||
		       now == OUTCOME_SWAPPED || now == OUTCOME_HALF_DAY ||
		       now == OUTCOME_TWO_SLIPS);
}

/* What is not the same, in words; empty when nothing. */
static void find_difference(
	const struct line_answer *a, const struct again *now, char *out, size_t room)
{
	const char *outcome = outcome_word(now->outcome);
	*out = 0;
	if (!is_same_decimal(now->expected.at, a->expected))
		snprintf(out, room, "the answer comes to %.40s, recorded is %.40s",
			now->expected.at, a->expected);
	else if (!is_same_decimal(now->tolerance.at, a->tolerance))
		snprintf(out, room, "the tolerance comes to %.40s, recorded is %.40s",
			now->tolerance.at, a->tolerance);
	else if (!is_only_finer(a->outcome, now->outcome) &&
		 (strcmp(outcome, a->outcome) || strcmp(now->slip.at, a->slip)))
		snprintf(out, room, "it scores as %.30s %.40s, recorded is %.30s %.40s", outcome,
			now->slip.at, a->outcome, a->slip);
}

static enum bad compare(
	const struct instance *i, const struct line_answer *a, struct audit_finding *out)
{
	struct again now;
	text_init(&now.expected);
	text_init(&now.tolerance);
	text_init(&now.slip);
	text_init(&now.read_as);
	score_again(i, a, &now);
	enum bad code = now.expected.out || now.tolerance.out || now.slip.out ? BAD_MEMORY : FINE;
	if (!code)
		find_difference(a, &now, out->words, sizeof out->words);
	out->result = *out->words ? AUDIT_DIFFERS : AUDIT_EQUAL;
	text_release(&now.expected);
	text_release(&now.tolerance);
	text_release(&now.slip);
	text_release(&now.read_as);
	return code;
}

/* Is there such an ask, and such a step of it? */
static bool is_asked(const struct problem *p, const struct line_answer *a)
{
	if (a->ask < 1 || a->ask > p->nask)
		return false;
	const struct ask *q = &p->ask[a->ask - 1];
	return !a->step || (a->step <= q->nstep && q->step[a->step - 1].formula);
}

enum bad replay_answer(void *context, const struct audit_case *what, struct audit_finding *out)
{
	struct replay *r = context;
	struct replay_made *m;
	*out = (struct audit_finding){AUDIT_DIFFERS, ""};
	if (!what->draw)
		return say(out, AUDIT_DIFFERS, "no draw stands before this answer");
	const struct course *c = find_course(r, what->open->course);
	if (!c)
		return say(out, AUDIT_NOT_MADE, "its course is not here");
	const struct problem *p = find_problem(r, c, what);
	if (!p)
		return say(out, AUDIT_NOT_MADE,
			"what it was drawn from is not in the course any more, or stands in a "
			"locked assessment");
	if (!problem_is_same(p, &what->draw->content))
		return say(out, AUDIT_NOT_MADE, "the file it was drawn from was changed since");
	if (!is_key_of(what))
		return say(out, AUDIT_DIFFERS,
			"the numbers were not drawn for this learner, sitting and attempt");
	if (!is_asked(p, what->answer))
		return say(out, AUDIT_DIFFERS, "the problem does not ask that many things");
	enum bad code = made_for(r, p, &m);
	if (code)
		return code;
	code = draw_again(m, what->draw->key);
	if (code == BAD_UNFAIR)
		return say(out, AUDIT_DIFFERS, "this key gives no fair instance");
	return code ? code : compare(m->instance, what->answer, out);
}
