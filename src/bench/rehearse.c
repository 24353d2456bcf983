/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/rehearse.h"

#include <string.h>

#include <barwright/base/text.h>

static void key_make(size_t n, unsigned char key[static BENCH_KEY])
{
	memset(key, 0, BENCH_KEY);
	key[0] = (unsigned char)n;
	key[1] = 'r';
}

/* The part that goes from the first step to the last, or the one that holds most. */
static size_t longest_part(const struct procedure *p)
{
	size_t best = 0;
	for (size_t i = 1; i < p->npart; i++)
		if (p->part[i].to - p->part[i].from > p->part[best].to - p->part[best].from)
			best = i;
	return best;
}

/* A case that cannot be made is referred back by whoever knows. */
static bool is_to_be_referred(struct bench *b)
{
	return b->procedure->refer && bench_truth(b, b->procedure->refer);
}

/* ---- a fault --------------------------------------------------------------------------------- */

/* Place in the log of the first event of this kind; SIZE_MAX: there is none. */
static size_t find_event(const struct bench *b, enum bench_happening kind, size_t what)
{
	for (size_t i = 0; i < b->nlog; i++)
		if (b->log[i].kind == kind && b->log[i].what == what)
			return i;
	return SIZE_MAX;
}

static enum rehearsed judge(const struct bench *b, size_t fault)
{
	const struct fault *f = &b->procedure->fault[fault];
	size_t made = find_event(b, HAPPENED_MADE, fault);
	size_t shown = find_event(b, HAPPENED_SHOWN, fault);
	if (made == SIZE_MAX)
		return REHEARSED_NEVER_MADE;
	if (shown == SIZE_MAX)
		return REHEARSED_NEVER_SHOWN;
	if (shown < made)
		return REHEARSED_EARLY;
	if (f->shows >= b->procedure->nstep)
		return b->end ? REHEARSED_WELL : REHEARSED_EARLY;
	size_t step = find_event(b, HAPPENED_STEP, f->shows);
	if (step == SIZE_MAX)
		return REHEARSED_NEVER_SHOWN;
	return step > shown ? REHEARSED_EARLY : REHEARSED_WELL;
}

enum rehearsed rehearse_fault(
	struct bench *b, size_t fault, const unsigned char key[static BENCH_KEY], size_t *at)
{
	const struct fault *f = &b->procedure->fault[fault];
	bench_start(b, key, longest_part(b->procedure), BENCH_FREE);
	if (is_to_be_referred(b))
		return REHEARSED_NEVER_MADE;
	if (!bench_work_on(b, b->from, b->to, fault, at) && !(f->stops && b->fault[fault].is_shown))
		return REHEARSED_REFUSED;
	if (find_event(b, HAPPENED_SHOWN, fault) == SIZE_MAX)
		bench_end(b, END_ACCEPTED);
	return judge(b, fault);
}

/* Is it found by its look, taken after every step while it is brought about? */
static bool is_found(struct bench *b, size_t fault, const unsigned char key[static BENCH_KEY])
{
	const struct fault *f = &b->procedure->fault[fault];
	const struct fault_mark *m = &b->fault[fault];
	struct bench_reading reading;
	size_t at;
	bench_start(b, key, longest_part(b->procedure), BENCH_FREE);
	for (size_t i = b->from; i <= b->to && !m->is_shown; i++) {
		if (!bench_work_on(b, i, i, fault, &at))
			return false;
		if (bench_can_look(b, f->look))
			bench_look(b, f->look, SIZE_MAX, &reading);
		if (m->is_found)
			return true;
	}
	/* what shows at the step of its check is seen at once */
	return m->is_shown && f->shows == f->check_at;
}

static void fault_tell(struct diags *d, const struct procedure *p, const struct fault *f,
	enum rehearsed how, size_t at)
{
	uint32_t span = (uint32_t)strlen(f->code);
	if (how == REHEARSED_NEVER_MADE)
		diag_error(d, BAD_NOTHING, f->place, span,
			"%s never shows: what 'bring' does never makes its condition true",
			f->code);
	else if (how == REHEARSED_REFUSED)
		diag_error(d, BAD_NOTHING, f->place, span,
			"%s never shows: on the way %s is refused", f->code, p->step[at].code);
	else if (how == REHEARSED_EARLY)
		diag_error(d, BAD_ORDER, f->place, span, "%s shows before it should", f->code);
	else if (how == REHEARSED_NEVER_FOUND)
		diag_error(d, BAD_NOTHING, f->place, span,
			"%s is never found: '%s' can be looked at and does not tell it, or cannot "
			"be looked at before it shows",
			f->code, p->look[f->look].code);
	else
		diag_error(d, BAD_NOTHING, f->place, span,
			"%s never shows: it is made, and then nothing is seen of it", f->code);
}

static void fault_rehearse(struct bench *b, size_t fault, struct diags *d)
{
	const struct fault *f = &b->procedure->fault[fault];
	enum rehearsed best = REHEARSED_NEVER_MADE;
	size_t at = 0, best_at = 0;
	for (size_t n = 0; n < REHEARSE_KEYS; n++) {
		unsigned char key[BENCH_KEY];
		key_make(n, key);
		enum rehearsed how = rehearse_fault(b, fault, key, &at);
		if (how == REHEARSED_WELL && f->look != SIZE_MAX && !is_found(b, fault, key))
			how = REHEARSED_NEVER_FOUND;
		if (how == REHEARSED_WELL)
			return;
		if (!n || how != REHEARSED_NEVER_MADE) {
			best = how;
			best_at = at;
		}
	}
	fault_tell(d, b->procedure, f, best, best_at);
}

/* ---- somebody who knows ---------------------------------------------------------------------- */

/* What was told already, and which steps some case asked for. */
struct heard {
	bool is_refused[PROCEDURE_STEPS], comes_about[PROCEDURE_FAULTS], is_unmet;
	bool is_asked[PROCEDURE_STEPS];
	bool any_refused;
};

static void unmet_tell(struct bench *b, struct diags *d, struct place at)
{
	struct text words;
	struct formula_failure why;
	struct formula_value v;
	text_init(&words);
	formula_print(b->unmet_at, &words);
	diag_error(d, BAD_RANGE, at, 1, "while it was worked, '%s' gave no result", words.at);
	if (formula_run(b->unmet_at, b->value, b->work, &v)) {
		formula_failed(b->unmet_at, b->work, &why);
		diag_hint(d, "'%s' %s", why.word, why.why);
	}
	text_release(&words);
}

static void refused_tell(struct bench *b, size_t step, struct heard *heard, struct diags *d)
{
	const struct work_step *s = &b->procedure->step[step];
	heard->any_refused = true;
	if (heard->is_refused[step])
		return;
	heard->is_refused[step] = true;
	diag_error(d, BAD_NOTHING, s->place, (uint32_t)strlen(s->code),
		"%s cannot be reached: it is refused to somebody who knows, because %s", s->code,
		b->why ? b->why : "it cannot be done");
}

static void part_rehearse(
	struct bench *b, size_t part, size_t n, struct heard *heard, struct diags *d)
{
	const struct procedure *p = b->procedure;
	unsigned char key[BENCH_KEY];
	size_t at;
	key_make(n, key);
	bench_start(b, key, part, BENCH_FREE);
	for (size_t i = 0; i < p->nstep; i++)
		heard->is_asked[i] |= bench_applies(b, i);
	if (is_to_be_referred(b))
		return;
	if (!bench_work_on(b, b->from, b->to, SIZE_MAX, &at))
		refused_tell(b, at, heard, d);
	if (b->unmet && !heard->is_unmet) {
		heard->is_unmet = true;
		unmet_tell(b, d, p->step[b->from].place);
	}
	for (size_t k = 0; k < p->nfault && !b->unmet; k++) {
		if (!b->fault[k].is_there || heard->comes_about[k])
			continue;
		heard->comes_about[k] = true;
		diag_error(d, BAD_ORDER, p->fault[k].place, (uint32_t)strlen(p->fault[k].code),
			"%s comes about although everything is done as usual", p->fault[k].code);
	}
}

static void unasked_tell(const struct procedure *p, const struct heard *heard, struct diags *d)
{
	for (size_t i = 0; i < p->nstep; i++)
		if (!heard->is_asked[i])
			diag_error(d, BAD_NOTHING, p->step[i].place,
				(uint32_t)strlen(p->step[i].code),
				"%s cannot be reached: its 'only' holds in none of %d cases that "
				"were drawn",
				p->step[i].code, REHEARSE_KEYS);
}

enum bad rehearse(struct arena *a, const struct procedure *p, struct diags *d)
{
	struct heard heard = {0};
	struct bench *b;
	enum bad code = bench_new(a, p, &b);
	if (code)
		return code;
	for (size_t n = 0; n < REHEARSE_KEYS; n++)
		for (size_t part = 0; part < p->npart; part++)
			part_rehearse(b, part, n, &heard, d);
	unasked_tell(p, &heard, d);
	/* what follows from a step that nobody can do is no fault of its own */
	for (size_t k = 0; k < p->nfault && !heard.any_refused; k++)
		if (heard.is_asked[p->fault[k].made])
			fault_rehearse(b, k, d);
	return FINE;
}
