/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/bench.h"

#include <math.h>
#include <string.h>

#include "bench/plan.h"

const char *const bench_mode_word[BENCH_MODES] = {"free", "guided", "timed", "hunt"};

static step_set one(size_t k)
{
	return (step_set)1 << k;
}

/* ---- streams --------------------------------------------------------------------------------- */

void bench_stream(const struct bench *b, enum bench_purpose purpose, uint32_t a, uint32_t n,
	struct stream *out)
{
	unsigned char nonce[12] = {(unsigned char)purpose};
	for (int i = 0; i < 4; i++) {
		nonce[4 + i] = (unsigned char)(a >> 8 * i);
		nonce[8 + i] = (unsigned char)(n >> 8 * i);
	}
	stream_open_raw(out, b->key, nonce, 0);
}

/* -1 to 1, evenly. */
static double even(struct stream *s)
{
	return (double)stream_word(s) / 2147483647.5 - 1;
}

/* -1 to 1, most often near 0: the sum of two even ones. */
static double slight(struct stream *s)
{
	double first = even(s);
	return (first + even(s)) / 2;
}

/* ---- small things ---------------------------------------------------------------------------- */

bool happening_is_hidden(enum bench_happening h)
{
	return h == HAPPENED_LEFT_OUT || h == HAPPENED_ORDER || h == HAPPENED_WINDOW ||
	       h == HAPPENED_MADE || h == HAPPENED_GONE;
}

static void happen(struct bench *b, enum bench_happening kind, size_t what)
{
	if (b->nlog < BENCH_LOG)
		b->log[b->nlog++] = (struct bench_event){kind, what, bench_clock_s(b)};
	else
		b->lost++;
}

static enum bad refuse(struct bench *b, enum bad code, const char *why)
{
	b->why = why;
	return code;
}

double bench_clock_s(const struct bench *b)
{
	return b->value[GIVEN_CLOCK].number;
}

static void clock_on(struct bench *b, double seconds, bool attended)
{
	if (!(seconds > 0))
		return;
	b->value[GIVEN_CLOCK].number += seconds;
	b->age++;
	if (attended)
		b->attended_s += seconds;
}

double bench_cost(const struct bench *b)
{
	return b->money + b->attended_s / 3600 * b->procedure->wage;
}

bool bench_applies(const struct bench *b, size_t step)
{
	/* `only` hangs on the case alone: it is worked out at the start */
	return b->step[step].done_s >= -1;
}

/* ---- faults ---------------------------------------------------------------------------------- */

static bool is_read(const struct procedure *p, const struct fault *f)
{
	return f->look != SIZE_MAX && p->look[f->look].reads;
}

bool bench_is_known(const struct bench *b, size_t fault)
{
	const struct fault_mark *m = &b->fault[fault];
	const struct procedure *p = b->procedure;
	return m->is_there && (m->is_shown || (m->is_found && !is_read(p, &p->fault[fault])));
}

bool bench_can_mend(const struct bench *b, size_t fault)
{
	return !b->end && b->mode != BENCH_HUNT && b->procedure->fault[fault].remedy.mends &&
	       bench_is_known(b, fault);
}

static void fault_make(struct bench *b, size_t k)
{
	struct fault_mark *m = &b->fault[k];
	m->is_there = true;
	m->is_found = m->is_shown = false;
	if (!m->times++)
		m->made_s = bench_clock_s(b);
	m->could_s = m->found_s = m->shown_s = m->mended_s = -1;
	happen(b, HAPPENED_MADE, k);
}

static void fault_unmake(struct bench *b, size_t k, enum bench_happening how)
{
	struct fault_mark *m = &b->fault[k];
	m->is_there = false;
	m->mended_s = bench_clock_s(b);
	happen(b, how, k);
}

/* The condition of each fault that is made at this step, as the numbers are now. */
static void faults_judge(struct bench *b, size_t step)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nfault; k++) {
		if (p->fault[k].made != step || !p->fault[k].when)
			continue;
		bool is_there = bench_truth(b, p->fault[k].when);
		if (is_there && !b->fault[k].is_there)
			fault_make(b, k);
		else if (!is_there && b->fault[k].is_there)
			fault_unmake(b, k, HAPPENED_GONE);
	}
}

/* What can be found, and what shows, now that the steps are as they are. */
static void faults_show(struct bench *b)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nfault; k++) {
		struct fault_mark *m = &b->fault[k];
		const struct fault *f = &p->fault[k];
		if (!m->is_there)
			continue;
		if (m->could_s < 0 && b->step[f->check_at].state != STEP_OPEN)
			m->could_s = bench_clock_s(b);
		if (m->is_shown || f->shows >= p->nstep || b->step[f->shows].state != STEP_DONE)
			continue;
		m->is_shown = true;
		m->shown_s = bench_clock_s(b);
		if (!m->is_found)
			m->found_s = m->shown_s;
		happen(b, HAPPENED_SHOWN, k);
	}
}

static bool is_stopped(const struct bench *b)
{
	for (size_t k = 0; k < b->procedure->nfault; k++)
		if (b->procedure->fault[k].stops && b->fault[k].is_there && b->fault[k].is_shown)
			return true;
	return false;
}

/* ---- materials ------------------------------------------------------------------------------- */

static bool stuff_suffices(struct bench *b, const struct use_stuffs *uses, double *amount)
{
	for (size_t i = 0; i < uses->n; i++) {
		double x = bench_number(b, uses->at[i].amount);
		amount[i] = x > 0 ? x : 0;
		if (amount[i] > b->stock[uses->at[i].stuff] * (1 + 1e-12))
			return false;
	}
	return true;
}

enum { USES_MOST = 8 };

/* The money it comes to. */
static double stuff_spend(struct bench *b, const struct use_stuffs *uses, const double *amount)
{
	double money = 0;
	for (size_t i = 0; i < uses->n && i < USES_MOST; i++) {
		size_t k = uses->at[i].stuff;
		b->stock[k] = fmax(0, b->stock[k] - amount[i]);
		b->used[k] += amount[i];
		money += amount[i] * b->procedure->stuff[k].price;
	}
	b->money += money;
	return money;
}

/* ---- what may be done ------------------------------------------------------------------------ */

static const char *can_fails(struct bench *b, const struct can_dos *can)
{
	for (size_t i = 0; i < can->n; i++)
		if (!bench_truth(b, can->at[i].when))
			return can->at[i].otherwise;
	return NULL;
}

static bool refuses(struct bench *b, const char *why)
{
	b->why = why;
	return why != NULL;
}

bool bench_can_do(struct bench *b, size_t step)
{
	if (refuses(b, b->end ? "the run has ended" : NULL))
		return false;
	if (refuses(b,
		    step < b->from ? "this was done before the work came to your bench" : NULL) ||
		refuses(b, step > b->to ? "this is done later, at another bench" : NULL) ||
		refuses(b, bench_applies(b, step) ? NULL : "this case does not ask for it") ||
		refuses(b,
			b->step[step].state != STEP_DONE && is_stopped(b)
				? "the work cannot go on like this: mend what has shown, or go back"
				: NULL))
		return false;
	return !refuses(b, can_fails(b, &b->procedure->step[step].can));
}

bool bench_is_next(const struct bench *b, size_t step)
{
	const struct procedure *p = b->procedure;
	if (b->end || b->step[step].state == STEP_DONE || !bench_applies(b, step) ||
		step < b->from || step > b->to)
		return false;
	for (size_t k = 0; k < p->nstep; k++)
		if ((p->step[step].before & one(k)) && b->step[k].state == STEP_OPEN &&
			bench_applies(b, k))
			return false;
	return true;
}

bool bench_can_look(struct bench *b, size_t look)
{
	const struct look *l = &b->procedure->look[look];
	if (refuses(b, b->end ? "the run has ended" : NULL) ||
		refuses(b, l->from != SIZE_MAX && b->step[l->from].state == STEP_OPEN
				   ? "there is nothing of it to look at yet"
				   : NULL))
		return false;
	return !refuses(b, can_fails(b, &l->can));
}

bool bench_can_back(struct bench *b, size_t back)
{
	const struct back *x = &b->procedure->back[back];
	if (refuses(b, b->end ? "the run has ended" : NULL) ||
		refuses(b, x->to < b->from || x->to > b->to
				   ? "this would go back beyond your part of the work"
				   : NULL) ||
		refuses(b,
			b->step[x->to].state == STEP_OPEN ? "the work is not that far yet" : NULL))
		return false;
	return !refuses(b, can_fails(b, &x->can));
}

/* ---- doing a step ---------------------------------------------------------------------------- */

/* Takes steps back: they are open again, and what was made there is gone with them. */
static void undo(struct bench *b, step_set steps)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; i < p->nstep; i++)
		if ((steps & one(i)) && b->step[i].state != STEP_OPEN) {
			b->step[i].state = STEP_OPEN;
			values_set_number(b, p->step[i].did_slot, 0);
		}
	for (size_t k = 0; k < p->nfault; k++)
		if ((steps & one(p->fault[k].made)) && b->fault[k].is_there)
			fault_unmake(b, k, HAPPENED_MENDED);
}

/* What it costs to work something again, and what was made and is lost with it, is the price of the
 * faults that are known and go with it. `again`: steps whose work is lost. */
static void charge(struct bench *b, step_set steps, step_set again, double seconds, double money)
{
	const struct procedure *p = b->procedure;
	size_t n = 0;
	for (size_t i = 0; i < p->nstep; i++)
		if ((again & one(i)) && b->step[i].state == STEP_DONE) {
			seconds += b->step[i].took_s;
			money += b->step[i].took_money;
		}
	for (int pass = 0; pass < 2; pass++)
		for (size_t k = 0; k < p->nfault; k++) {
			struct fault_mark *m = &b->fault[k];
			if (!m->is_there || !(m->is_found || m->is_shown) ||
				!(steps & one(p->fault[k].made)))
				continue;
			if (!pass) {
				n++;
			} else {
				m->cost_s += seconds / (double)n;
				m->cost_money += money / (double)n;
			}
		}
}

static void order_breach(struct bench *b, size_t step, size_t before)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; i < p->norder; i++) {
		if (p->order[i].step != step || p->order[i].before != before)
			continue;
		b->orders++;
		b->critical_order |= p->order[i].is_critical;
		happen(b, HAPPENED_ORDER, i);
		values_apply(b, &p->order[i].does);
	}
}

/* Steps that should have come before and did not. */
static void leave_out(struct bench *b, size_t step)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nstep; k++) {
		if (!(p->step[step].before & one(k)) || !bench_applies(b, k) ||
			b->step[k].state == STEP_DONE)
			continue;
		order_breach(b, step, k);
		if (b->step[k].state == STEP_LEFT_OUT)
			continue;
		b->step[k].state = STEP_LEFT_OUT;
		happen(b, HAPPENED_LEFT_OUT, k);
		faults_judge(b, k);
	}
}

static void windows_judge(struct bench *b, size_t step)
{
	const struct procedure *p = b->procedure;
	for (size_t i = 0; i < p->nwindow; i++) {
		const struct time_window *w = &p->window[i];
		if (w->to != step || b->step[w->from].state != STEP_DONE)
			continue;
		double passed_s = bench_clock_s(b) - b->step[w->from].done_s;
		if (passed_s >= w->least_s - 1e-6 && passed_s <= w->most_s + 1e-6)
			continue;
		b->windows++;
		happen(b, HAPPENED_WINDOW, i);
		values_apply(b, &w->does);
		faults_judge(b, w->from);
	}
}

static size_t ask_count(const struct bench *b, const struct hand_ask *x)
{
	return each_count(x->each, b->nsite);
}

static bool is_sensible(const struct hand_ask *x, double value)
{
	if (x->kind == HAND_TRUTH)
		return value == 0 || value == 1;
	if (x->kind == HAND_NUMBER)
		return value >= x->low - 1e-9 * fabs(x->low) - 1e-12 &&
		       value <= x->high + 1e-9 * fabs(x->high) + 1e-12;
	for (size_t i = 0; i < x->nchoice; i++)
		if (x->choice[i].value == value)
			return true;
	return false;
}

static bool input_is_sensible(
	const struct bench *b, const struct work_step *s, const struct bench_input *input)
{
	for (size_t i = 0; i < s->nask; i++)
		for (size_t k = 0; k < ask_count(b, &s->ask[i]); k++)
			if (!is_sensible(&s->ask[i], input->value[i][k]))
				return false;
	return true;
}

/* The asks of a step as they were, to be put back if it cannot be done. */
struct kept {
	double value[PROCEDURE_ASKS][BENCH_VALUES];
};

static void asks_keep(const struct bench *b, const struct work_step *s, struct kept *out)
{
	for (size_t i = 0; i < s->nask; i++) {
		const struct formula_value *v = &b->value[s->ask[i].slot];
		if (v->list)
			memcpy(out->value[i], v->list, v->n * sizeof *v->list);
		else
			out->value[i][0] = v->number;
	}
}

static void ask_set(struct bench *b, const struct hand_ask *x, const double *value)
{
	size_t n = ask_count(b, x);
	if (x->each == EACH_ONE)
		values_set_number(b, x->slot, value[0]);
	else
		values_set(b, x->slot, &(struct formula_value){0, value, n});
}

static void asks_set(
	struct bench *b, const struct work_step *s, const double (*value)[BENCH_VALUES])
{
	for (size_t i = 0; i < s->nask; i++)
		ask_set(b, &s->ask[i], value[i]);
}

/* What comes out under the hands: not quite what was asked. */
static void hands(
	struct bench *b, size_t step, const struct bench_input *input, double (*out)[BENCH_VALUES])
{
	const struct work_step *s = &b->procedure->step[step];
	struct stream stream;
	bool is_open = false;
	for (size_t i = 0; i < s->nask; i++) {
		const struct hand_ask *x = &s->ask[i];
		for (size_t k = 0; k < ask_count(b, x); k++) {
			double value = input->value[i][k];
			if (x->hand > 0) {
				if (!is_open)
					bench_stream(b, PURPOSE_HAND, (uint32_t)step,
						b->step[step].times, &stream);
				is_open = true;
				double most = x->hand_is_part ? x->hand * fabs(value) : x->hand;
				value += most * slight(&stream);
				value = fmin(x->high, fmax(x->low, value));
			}
			out[i][k] = value;
		}
	}
}

struct step_took {
	double work_s, wait_s, money;
};

static void step_finish(struct bench *b, size_t step, const struct step_took *took)
{
	const struct work_step *s = &b->procedure->step[step];
	struct step_mark *m = &b->step[step];
	clock_on(b, took->work_s, !s->is_unattended);
	clock_on(b, took->wait_s, false);
	values_apply(b, &s->does);
	m->state = STEP_DONE;
	m->times++;
	m->done_s = bench_clock_s(b);
	m->took_s = took->work_s;
	m->took_money = took->money;
	values_set_number(b, s->did_slot, 1);
	values_set_number(b, s->at_slot, m->done_s);
	happen(b, HAPPENED_STEP, step);
	if (took->wait_s > 0 && s->wait_for)
		happen(b, HAPPENED_HELD, step);
	faults_judge(b, step);
	faults_show(b);
}

static void time_judge(struct bench *b)
{
	if (b->end || bench_clock_s(b) <= b->limit_s)
		return;
	b->time_is_up = true;
	bench_end(b, END_ACCEPTED);
}

static void begin(struct bench *b)
{
	b->decisions++;
	b->first_new = b->nlog;
	b->why = NULL;
}

enum bad bench_do(struct bench *b, size_t step, const struct bench_input *input)
{
	const struct work_step *s = &b->procedure->step[step];
	double came_out[PROCEDURE_ASKS][BENCH_VALUES], amount[USES_MOST];
	struct kept kept;
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (!bench_can_do(b, step))
		return BAD_ORDER;
	if (!input_is_sensible(b, s, input))
		return refuse(b, BAD_RANGE, "that is no sensible number here");
	hands(b, step, input, came_out);
	asks_keep(b, s, &kept);
	asks_set(b, s, (const double(*)[BENCH_VALUES])came_out);
	if (s->uses.n > USES_MOST || !stuff_suffices(b, &s->uses, amount)) {
		asks_set(b, s, (const double(*)[BENCH_VALUES])kept.value);
		return refuse(b, BAD_MISSING, "there is not enough material left: order some");
	}
	struct step_took took = {
		bench_number(b, s->time), s->wait ? bench_number(b, s->wait) : 0, 0};
	begin(b);
	leave_out(b, step);
	windows_judge(b, step);
	took.money = stuff_spend(b, &s->uses, amount);
	if (b->step[step].state == STEP_DONE) {
		step_set others = s->undoes & ~one(step);
		charge(b, others | one(step), others, took.work_s, took.money);
		undo(b, others);
	}
	step_finish(b, step, &took);
	time_judge(b);
	return FINE;
}

/* ---- looking --------------------------------------------------------------------------------- */

/* What the tool shows of a value: a little off, and only in its own steps. */
static double reading(const struct tool *t, double value, struct stream *s)
{
	double off = value + t->error * even(s);
	return round(off / t->resolution) * t->resolution;
}

static bool tells(const struct fault *f, const struct bench_reading *r)
{
	if (!r->n)
		return true;
	for (size_t i = 0; i < r->n; i++)
		if ((f->has_below && r->value[i] < f->below) ||
			(f->has_above && r->value[i] > f->above))
			return true;
	return false;
}

static void find(struct bench *b, size_t look, const struct bench_reading *r)
{
	const struct procedure *p = b->procedure;
	for (size_t k = 0; k < p->nfault; k++) {
		struct fault_mark *m = &b->fault[k];
		if (p->fault[k].look != look || !m->is_there || m->is_found ||
			!tells(&p->fault[k], r))
			continue;
		m->is_found = true;
		if (m->found_s < 0)
			m->found_s = bench_clock_s(b);
		happen(b, HAPPENED_FOUND, k);
	}
}

static void read_values(struct bench *b, const struct look *l, struct bench_reading *out)
{
	struct formula_value v;
	struct stream s;
	if (!l->reads || out->tool->is_eye || values_run(b, l->reads, &v))
		return;
	bench_stream(b, PURPOSE_LOOK, 0, (uint32_t)b->looks, &s);
	out->n = v.list ? v.n < BENCH_VALUES ? v.n : BENCH_VALUES : 1;
	for (size_t i = 0; i < out->n; i++)
		out->value[i] = reading(out->tool, v.list ? v.list[i] : v.number, &s);
}

enum bad bench_look(struct bench *b, size_t look, size_t tool, struct bench_reading *out)
{
	const struct look *l = &b->procedure->look[look];
	bool has = tool == SIZE_MAX && l->ntool;
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (!bench_can_look(b, look))
		return BAD_ORDER;
	for (size_t i = 0; i < l->ntool; i++)
		has |= l->tool[i] == tool;
	if (!has)
		return refuse(b, BAD_ORDER, "that tool cannot tell this");
	begin(b);
	clock_on(b, l->time_s, true);
	*out = (struct bench_reading){
		.tool = &b->procedure->tool[tool == SIZE_MAX ? l->tool[0] : tool]};
	read_values(b, l, out);
	b->looks++;
	happen(b, HAPPENED_LOOK, look);
	find(b, look, out);
	time_judge(b);
	return FINE;
}

/* ---- putting right --------------------------------------------------------------------------- */

enum bad bench_mend(struct bench *b, size_t fault)
{
	const struct fault *f = &b->procedure->fault[fault];
	struct fault_mark *m = &b->fault[fault];
	double amount[USES_MOST];
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (b->mode == BENCH_HUNT) /* else trying codes would tell which it is */
		return refuse(b, BAD_ORDER, "here nothing is put right: name what it is");
	if (!bench_is_known(b, fault))
		return refuse(b, BAD_ORDER,
			"nobody has seen that here; what a reading tells is put right by doing its "
			"step "
			"again, or by going back");
	if (!f->remedy.mends)
		return refuse(b, BAD_ORDER, "this cannot be put right on the spot: go back");
	if (f->remedy.uses.n > USES_MOST || !stuff_suffices(b, &f->remedy.uses, amount))
		return refuse(b, BAD_MISSING, "there is not enough material left: order some");
	begin(b);
	m->cost_money += stuff_spend(b, &f->remedy.uses, amount);
	m->cost_s += f->remedy.time_s;
	clock_on(b, f->remedy.time_s, true);
	values_apply(b, &f->remedy.then);
	fault_unmake(b, fault, HAPPENED_MENDED);
	faults_show(b);
	time_judge(b);
	return FINE;
}

enum bad bench_back(struct bench *b, size_t back)
{
	const struct back *x = &b->procedure->back[back];
	double amount[USES_MOST];
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (!bench_can_back(b, back))
		return BAD_ORDER;
	if (x->uses.n > USES_MOST || !stuff_suffices(b, &x->uses, amount))
		return refuse(b, BAD_MISSING, "there is not enough material left: order some");
	begin(b);
	charge(b, x->undoes, x->undoes, x->time_s, stuff_spend(b, &x->uses, amount));
	clock_on(b, x->time_s, true);
	happen(b, HAPPENED_BACK, back);
	values_apply(b, &x->then);
	undo(b, x->undoes);
	time_judge(b);
	return FINE;
}

enum bad bench_buy(struct bench *b, size_t stuff)
{
	const struct stuff *x = &b->procedure->stuff[stuff];
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (!(x->order > 0))
		return refuse(b, BAD_ORDER, "there is none to be had");
	begin(b);
	clock_on(b, x->wait_s, false);
	b->stock[stuff] += x->order;
	happen(b, HAPPENED_BOUGHT, stuff);
	time_judge(b);
	return FINE;
}

enum bad bench_wait(struct bench *b, double seconds)
{
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (!(seconds > 0 && seconds <= 7 * 86400.0))
		return refuse(b, BAD_RANGE, "that is no sensible time to wait");
	begin(b);
	clock_on(b, seconds, false);
	happen(b, HAPPENED_WAITED, 0);
	time_judge(b);
	return FINE;
}

/* ---- the end --------------------------------------------------------------------------------- */

/* Nobody did them, and nobody will. */
static bool leave_rest(struct bench *b)
{
	bool any = false;
	for (size_t k = b->from; k <= b->to; k++) {
		if (!bench_applies(b, k) || b->step[k].state == STEP_DONE)
			continue;
		any |= b->step[k].state == STEP_OPEN;
		if (b->step[k].state == STEP_LEFT_OUT)
			continue;
		/* what could not even be done, the work being as it is, brings no fault */
		bool could = !can_fails(b, &b->procedure->step[k].can);
		b->step[k].state = STEP_LEFT_OUT;
		happen(b, HAPPENED_LEFT_OUT, k);
		if (could)
			faults_judge(b, k);
	}
	return any;
}

/* What is still there comes out: at delivery, but what only service shows in service. */
static enum bench_end come_out(struct bench *b)
{
	const struct procedure *p = b->procedure;
	enum bench_end end = END_ACCEPTED;
	for (size_t k = 0; k < p->nfault; k++) {
		struct fault_mark *m = &b->fault[k];
		if (!m->is_there)
			continue;
		if (p->fault[k].shows != AT_SERVICE)
			end = END_REFUSED;
		else if (end == END_ACCEPTED)
			end = END_RETURNED;
		if (m->is_shown)
			continue;
		m->is_shown = true;
		m->shown_s = bench_clock_s(b);
		happen(b, HAPPENED_SHOWN, k);
	}
	return end;
}

enum bad bench_end(struct bench *b, enum bench_end end)
{
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (b->mode == BENCH_HUNT && end == END_ACCEPTED && !b->time_is_up)
		return refuse(b, BAD_ORDER, "something is wrong on this bench: name it");
	if (!b->time_is_up)
		begin(b);
	if (end == END_ACCEPTED) {
		bool unfinished = leave_rest(b);
		end = come_out(b);
		if (unfinished || b->time_is_up)
			end = END_REFUSED;
	}
	b->end = end;
	happen(b, HAPPENED_END, end);
	return FINE;
}

enum bad bench_reason(struct bench *b, size_t step, size_t chosen)
{
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	begin(b);
	b->reasons++;
	b->reasons_right += step == chosen;
	return FINE;
}

enum bad bench_name(struct bench *b, const struct hunt_answer *answer)
{
	if (b->end)
		return refuse(b, BAD_STOPPED, "the run has ended");
	if (b->mode != BENCH_HUNT)
		return refuse(b, BAD_ORDER, "nothing is to be named here");
	begin(b);
	b->named = *answer;
	happen(b, HAPPENED_NAMED, answer->fault);
	b->end = answer->fault == b->seeded ? END_ACCEPTED : END_REFUSED;
	happen(b, HAPPENED_END, b->end);
	return FINE;
}

enum bad bench_refer(struct bench *b, size_t look)
{
	enum bad code = bench_end(b, END_REFERRED);
	if (!code)
		b->shown_by = look;
	return code;
}

bool bench_has_looked(const struct bench *b, size_t look)
{
	for (size_t i = 0; i < b->nlog; i++)
		if (b->log[i].kind == HAPPENED_LOOK && b->log[i].what == look)
			return true;
	return false;
}
