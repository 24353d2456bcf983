/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Before a decision is carried out: why, with what numbers, and whether it is meant. */
#include <stdio.h>
#include <string.h>

#include "bench/session_parts.h"

/* ---- reasons --------------------------------------------------------------------------------- */

enum { REASONS = 4, NEAR = 6 };

/* The purpose of the step and those of others not far from it, in no order; how many. */
static size_t reasons_draw(struct session *s, size_t step, size_t reason[static REASONS])
{
	const struct procedure *p = s->bench->procedure;
	struct stream stream;
	uint32_t place[REASONS] = {0, 1, 2, 3};
	size_t got[REASONS] = {step}, n = 1, most = p->nstep < REASONS ? p->nstep : REASONS;
	size_t low = step < NEAR ? 0 : step - NEAR;
	size_t high = step + NEAR < p->nstep ? step + NEAR : p->nstep - 1;
	bench_stream(s->bench, PURPOSE_REASON, (uint32_t)step, (uint32_t)s->n, &stream);
	while (n < most) {
		size_t k = low + stream_below(&stream, (uint32_t)(high - low + 1));
		bool is_new = true;
		for (size_t i = 0; i < n; i++)
			is_new &= got[i] != k;
		if (is_new)
			got[n++] = k;
	}
	stream_shuffle(&stream, place, n);
	for (size_t i = 0; i < n; i++)
		reason[i] = got[place[i]];
	return n;
}

static bool ask_reason(struct session *s, size_t step)
{
	const struct procedure *p = s->bench->procedure;
	size_t reason[REASONS], k;
	struct choice choice[REASONS + 1];
	size_t n = reasons_draw(s, step, reason);
	for (size_t i = 0; i < n; i++)
		choice[i] = (struct choice){NULL, p->step[reason[i]].why, NULL};
	if (!session_choose(s, "Why is this done?", choice, n, &k))
		return false;
	struct deed d = {.kind = DECIDE_WHY, .what = step, .other = reason[k]};
	if (!session_perform(s, &d))
		return false;
	bool right = reason[k] == step;
	struct page page = session_page(s);
	page_add(&page, right ? BLOCK_GOOD : BLOCK_BAD, "%s%s.",
		right ? "That is why. " : "No. It is done for this: ", p->step[step].why);
	session_tell(s, &page);
	return s->left == REPLY_GO;
}

/* ---- numbers and choices of the hands -------------------------------------------------------- */

/* "5 values from the patient's right to left": which, when it asks for more than one. */
static const char *ask_order(struct session *s, const struct hand_ask *x)
{
	if (x->each == EACH_ONE)
		return "";
	if (x->each == EACH_END)
		return ": right, then left, or one for both";
	const char *made = arena_format(&s->aside,
		": %zu values from the patient's right to left, or one for all",
		each_count(x->each, s->bench->nsite));
	return made ? made : "";
}

/* "Contact time of the disinfectant, 0 to 60" */
static const char *ask_prompt(struct session *s, const struct hand_ask *x)
{
	const struct unit *unit = &x->shown.unit;
	const char *made = arena_format(&s->aside, "%s, %s to %s%s", x->text,
		view_short(&s->aside, &s->view, (x->low - unit->offset) / unit->factor),
		view_short(&s->aside, &s->view, (x->high - unit->offset) / unit->factor),
		ask_order(s, x));
	return made ? made : x->text;
}

static bool ask_typed(struct session *s, const struct hand_ask *x, const char *prompt, double *out)
{
	char why[DECISION_WHY], last[REPLY_ROOM];
	struct question q = {
		.kind = ASK_LINE, .prompt = prompt, .unit = decision_unit(x->shown.unit_text)};
	struct reply r;
	for (;;) {
		if (!session_ask(s, &q, &r))
			return false;
		if (!decision_values(s->bench, x, r.text, strlen(r.text), out, why))
			return true;
		memcpy(last, r.text, sizeof last);
		q.kept = last;
		q.fault = why;
	}
}

static bool ask_number(struct session *s, const struct hand_ask *x, double *out)
{
	return ask_typed(s, x, ask_prompt(s, x), out);
}

/* "Thickness of the sheet: 3.0, 3.5, 4.0" */
static bool ask_size(struct session *s, const struct hand_ask *x, double *out)
{
	struct text t;
	text_init(&t);
	text_addf(&t, "%s:", x->text);
	for (size_t i = 0; i < x->nchoice; i++)
		text_addf(&t, "%s %s", i ? "," : "", x->choice[i].word);
	const char *prompt = t.out ? NULL : arena_copy(&s->aside, t.at, t.len);
	text_release(&t);
	return ask_typed(s, x, prompt ? prompt : x->text, out);
}

static bool ask_truth(struct session *s, const struct hand_ask *x, size_t *out)
{
	struct choice choice[3] = {{"yes", "Yes", NULL}, {"no", "No", NULL}};
	return session_choose(s, x->text, choice, 2, out);
}

/* The same in the whole run and another in the next, or the place would tell which is right. Sizes
 * stay in their order. */
static void choices_order(const struct session *s, const struct hand_ask *x, uint32_t *place)
{
	struct stream stream;
	for (size_t i = 0; i < x->nchoice; i++)
		place[i] = (uint32_t)i;
	if (choice_is_number(x))
		return;
	bench_stream(s->bench, PURPOSE_CHOICES, (uint32_t)x->slot, 0, &stream);
	stream_shuffle(&stream, place, x->nchoice);
}

static bool ask_choice(struct session *s, const struct hand_ask *x, size_t *out)
{
	struct choice *choice = arena_many(&s->aside, x->nchoice + 1, struct choice);
	uint32_t *place = arena_many(&s->aside, x->nchoice, uint32_t);
	if (!choice || !place) {
		session_broken(s, BAD_MEMORY);
		return false;
	}
	choices_order(s, x, place);
	for (size_t i = 0; i < x->nchoice; i++)
		choice[i] = (struct choice){choice_is_number(x) ? NULL : x->choice[place[i]].word,
			x->choice[place[i]].title, NULL};
	if (!session_choose(s, x->text, choice, x->nchoice, out))
		return false;
	*out = place[*out];
	return true;
}

static bool ask_listed(struct session *s, const struct hand_ask *x, double *out)
{
	size_t k;
	bool is_truth = x->kind == HAND_TRUTH;
	if (choice_is_number(x) && s->desk->by_lines)
		return ask_size(s, x, out);
	if (!(is_truth ? ask_truth : ask_choice)(s, x, &k))
		return false;
	double value = is_truth ? k == 0 : x->choice[k].value;
	for (size_t i = 0; i < each_count(x->each, s->bench->nsite); i++)
		out[i] = value;
	return true;
}

/* On the screen the question goes when it is answered; by lines the answer stands where it was
 * typed. */
static void answer_keep(struct session *s, const struct hand_ask *x, const double *value)
{
	size_t n = each_count(x->each, s->bench->nsite);
	if (s->desk->by_lines)
		return;
	struct page p = session_page(s);
	if (x->kind == HAND_NUMBER)
		page_row(&p, x->text, "%s", view_values(p.arena, &s->view, &x->shown, value, n));
	else if (x->kind == HAND_TRUTH)
		page_row(&p, x->text, "%s", *value != 0 ? "yes" : "no");
	for (size_t i = 0; x->kind == HAND_CHOICE && i < x->nchoice; i++)
		if (x->choice[i].value == *value)
			page_row(&p, x->text, "%s", x->choice[i].title);
	session_tell(s, &p);
}

static bool ask_hands(struct session *s, const struct work_step *step, struct bench_input *out)
{
	for (size_t i = 0; i < step->nask; i++) {
		const struct hand_ask *x = &step->ask[i];
		if (!(x->kind == HAND_NUMBER ? ask_number : ask_listed)(s, x, out->value[i]))
			return false;
		answer_keep(s, x, out->value[i]);
	}
	return true;
}

/* On the screen Enter on a step only opens it. */
static bool is_begun(struct session *s, const struct work_step *step)
{
	struct choice choice[2] = {{"do", "Do it now", NULL}};
	size_t k;
	return s->desk->by_lines || step->nask || s->bench->mode == BENCH_GUIDED ||
	       session_choose(s, "Do this step?", choice, 1, &k);
}

static bool ask_step(struct session *s, struct deed *d)
{
	const struct work_step *step = &s->bench->procedure->step[d->what];
	if (s->bench->mode == BENCH_GUIDED && !ask_reason(s, d->what))
		return false;
	if (!is_begun(s, step))
		return false;
	return d->has_input || ask_hands(s, step, &d->input);
}

static void do_step(struct session *s, struct deed *d)
{
	if (!bench_can_do(s->bench, d->what)) {
		session_say(s, BLOCK_BAD, s->bench->why);
		return;
	}
	struct page p = session_page(s);
	view_step(&p, &s->view, d->what);
	if (s->desk->by_lines)
		session_tell(s, &p);
	else
		session_show(s, &p);
	s->is_stale = true;
	if (ask_step(s, d)) {
		d->has_input = true;
		session_perform(s, d);
	} else if (s->left == REPLY_GO) {
		session_say(s, BLOCK_TEXT, "Then not now: nothing was done.");
	}
}

/* ---- the hidden fault ------------------------------------------------------------------------ */

static bool step_typed(struct session *s, const char *prompt, size_t *out)
{
	struct question q = {.kind = ASK_LINE,
		.prompt = prompt,
		.unit = "",
		.words = "the code or the word of a step; steps lists them"};
	struct reply r;
	for (;;) {
		if (!session_ask(s, &q, &r))
			return false;
		*out = procedure_step(s->bench->procedure, r.text, strlen(r.text));
		if (*out != SIZE_MAX)
			return true;
		q.fault = NULL;
		if (strcmp(r.text, "steps") == 0)
			session_tell_filled(s, view_steps);
		else
			q.fault = "no step is called that; steps lists them";
	}
}

static bool step_chosen(struct session *s, const char *prompt, size_t *out)
{
	const struct bench *b = s->bench;
	struct choice choice[PROCEDURE_STEPS + 1];
	size_t step[PROCEDURE_STEPS], n = 0, k;
	for (size_t i = b->from; i <= b->to; i++) {
		const struct work_step *x = &b->procedure->step[i];
		if (!bench_applies(b, i))
			continue;
		choice[n] = (struct choice){x->word, x->title, x->code};
		step[n++] = i;
	}
	if (!session_choose(s, prompt, choice, n, &k))
		return false;
	*out = step[k];
	return true;
}

static bool ask_where(struct session *s, const char *prompt, size_t *out)
{
	const struct work_step *step = s->bench->procedure->step;
	if (!(s->desk->by_lines ? step_typed : step_chosen)(s, prompt, out))
		return false;
	struct page p = session_page(s);
	if (!s->desk->by_lines)
		page_row(&p, prompt, "%s %s", step[*out].code, step[*out].title);
	session_tell(s, &p);
	return true;
}

static void name_fault(struct session *s, struct deed *d)
{
	struct page p = session_page(s);
	if (s->bench->mode != BENCH_HUNT) {
		session_say(s, BLOCK_BAD, "nothing is hidden here that is to be named");
		return;
	}
	page_add(&p, BLOCK_TEXT, "You say: %s %s.", s->bench->procedure->fault[d->what].code,
		s->bench->procedure->fault[d->what].title);
	session_tell(s, &p);
	if (d->other != SIZE_MAX ||
		(ask_where(s, "At which step was it made?", &d->other) &&
			ask_where(s, "Which step's check could have found it first?", &d->check)))
		session_perform(s, d);
	else if (s->left == REPLY_GO)
		session_say(s, BLOCK_TEXT, "Then not now: nothing was named.");
}

/* ---- the tool -------------------------------------------------------------------------------- */

/* By lines the tool is typed behind the look. */
static void look(struct session *s, struct deed *d)
{
	const struct procedure *p = s->bench->procedure;
	const struct look *l = &p->look[d->what];
	size_t k;
	if (!s->desk->by_lines && d->other == SIZE_MAX && l->ntool > 1) {
		struct choice *choice = arena_many(&s->aside, l->ntool + 1, struct choice);
		if (!choice) {
			session_broken(s, BAD_MEMORY);
			return;
		}
		for (size_t i = 0; i < l->ntool; i++) {
			const struct tool *tool = &p->tool[l->tool[i]];
			choice[i] = (struct choice){tool->code, tool->title, NULL};
		}
		if (!session_choose(s, "With what?", choice, l->ntool, &k))
			return;
		d->other = l->tool[k];
	}
	session_perform(s, d);
}

/* ---- back to the prescriber ------------------------------------------------------------------ */

/* What shows it: of all that can be looked at now or was, taken or not, as a list of what was taken
 * would tell. */
static bool ask_finding(struct session *s, struct deed *d)
{
	struct bench *b = s->bench;
	const struct procedure *p = b->procedure;
	struct choice *choice = arena_many(&s->aside, p->nlook + 1, struct choice);
	size_t *look = arena_many(&s->aside, p->nlook, size_t);
	size_t n = 0, k;
	if (!choice || !look) {
		session_broken(s, BAD_MEMORY);
		return false;
	}
	for (size_t i = 0; i < p->nlook; i++)
		if (bench_can_look(b, i) || bench_has_looked(b, i)) {
			choice[n] = (struct choice){p->look[i].code, p->look[i].title, NULL};
			look[n++] = i;
		}
	if (!n)
		return true;
	if (!session_choose(
		    s, "Which finding shows that it cannot be made as prescribed?", choice, n, &k))
		return false;
	d->what = look[k];
	return true;
}

static void refer(struct session *s, struct deed *d)
{
	const struct bench *b = s->bench;
	if (!session_is_sure(s, "Refer the case back to the prescriber? That ends the run.", "Yes",
		    "No, go on with the work"))
		return;
	if (d->what != SIZE_MAX || b->mode == BENCH_HUNT || !b->procedure->nfinding ||
		ask_finding(s, d))
		session_perform(s, d);
	else if (s->left == REPLY_GO)
		session_say(s, BLOCK_TEXT, "Then not now: it was not referred back.");
}

/* ---- all decisions --------------------------------------------------------------------------- */

void asks_decide(struct session *s, struct deed *d)
{
	static const char *const sure[DECISION_KINDS] = {
		[DECIDE_RELEASE] = "Hand the work over? What is not done then stays undone.",
		[DECIDE_SCRAP] = "Give the work up? That ends the run.",
	};
	if (d->kind == DECIDE_DO)
		do_step(s, d);
	else if (d->kind == DECIDE_LOOK)
		look(s, d);
	else if (d->kind == DECIDE_NAME)
		name_fault(s, d);
	else if (d->kind == DECIDE_REFER)
		refer(s, d);
	else if (!sure[d->kind] ||
		 session_is_sure(s, sure[d->kind], "Yes", "No, go on with the work"))
		session_perform(s, d);
}
