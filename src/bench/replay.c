/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/replay.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench/decide.h"
#include "bench/ledger.h"
#include "bench/verdict.h"

/* One run, as far as its lines have come. */
struct bench_replayed {
	unsigned char key[BENCH_KEY];
	struct bench *bench;
	uint64_t n; /* decisions carried out */
	bool is_broken;
	const char *item, *who, *sitting;
	uint64_t attempt;
	struct bench_replayed *next;
};

/* The hash of a procedure, which is asked for at every decision. */
struct bench_hashed {
	const struct procedure *procedure;
	struct hash hash;
	struct bench_hashed *next;
};

static enum bad say(struct audit_finding *out, enum audit_result result, const char *words)
{
	out->result = result;
	snprintf(out->words, sizeof out->words, "%s", words);
	return FINE;
}

bool bench_replay_knows(const struct audit_case *what)
{
	struct ledger_name name;
	return strcmp(what->open->mode, "bench") == 0 &&
	       !ledger_item_read(what->answer->item, &name);
}

static bool is_key_of(const struct audit_case *what)
{
	struct stream s;
	stream_open(&s, &(struct draw_key){what->open->course, what->draw->item, what->line->who,
				what->open->sitting, what->draw->attempt});
	return memcmp(s.key, what->draw->key, sizeof s.key) == 0;
}

static const struct procedure *procedure_of(
	const struct bench_replay *r, const struct ledger_name *name)
{
	for (size_t i = 0; i < r->nprocedure; i++)
		if (strcmp(r->procedure[i].code, name->code) == 0)
			return &r->procedure[i];
	return NULL;
}

static enum bad hash_of(struct bench_replay *r, const struct procedure *p, const struct hash **out)
{
	struct bench_hashed *x = r->hashed;
	while (x && x->procedure != p)
		x = x->next;
	if (!x) {
		x = arena_new(&r->arena, struct bench_hashed);
		if (!x)
			return BAD_MEMORY;
		*x = (struct bench_hashed){p, procedure_hash(p), r->hashed};
		r->hashed = x;
	}
	*out = &x->hash;
	return FINE;
}

/* Whose run it is, to know the result that belongs to it. */
static bool owner_set(
	struct bench_replay *r, const struct audit_case *what, struct bench_replayed *x)
{
	x->item = arena_copy(&r->arena, what->draw->item, strlen(what->draw->item));
	x->who = arena_copy(&r->arena, what->line->who, strlen(what->line->who));
	x->sitting = arena_copy(&r->arena, what->open->sitting, strlen(what->open->sitting));
	x->attempt = what->draw->attempt;
	return x->item && x->who && x->sitting;
}

static enum bad run_of(struct bench_replay *r, const struct procedure *p,
	const struct ledger_name *name, const struct audit_case *what, struct bench_replayed **out)
{
	const unsigned char *key = what->draw->key;
	for (struct bench_replayed *x = r->run; x; x = x->next)
		if (x->bench->procedure == p && memcmp(x->key, key, BENCH_KEY) == 0) {
			*out = x;
			return FINE;
		}
	struct bench_replayed *x = arena_new(&r->arena, struct bench_replayed);
	if (!x || !owner_set(r, what, x) || bench_new(&r->arena, p, &x->bench))
		return BAD_MEMORY;
	memcpy(x->key, key, BENCH_KEY);
	x->is_broken = !ledger_start(x->bench, name, key);
	x->next = r->run;
	*out = r->run = x;
	return FINE;
}

static bool is_same_number(const char *a, const char *b)
{
	char *end_a, *end_b;
	double x = strtod(a, &end_a), y = strtod(b, &end_b);
	return *a && *b && !*end_a && !*end_b && fabs(x - y) <= 2e-3;
}

static void compare(struct bench_replay *r, struct bench_replayed *x, const struct line_answer *a,
	struct audit_finding *out)
{
	char expected[LEDGER_NUMBER];
	ledger_expected(x->bench, r->rubric, expected);
	if (strcmp(ledger_outcome(x->bench), a->outcome) != 0)
		snprintf(out->words, sizeof out->words, "it ends as %.30s, recorded is %.30s",
			ledger_outcome(x->bench), a->outcome);
	else if (!is_same_number(expected, a->expected))
		snprintf(out->words, sizeof out->words, "it comes to %.30s %s, recorded is %.30s",
			expected, x->bench->end ? "per cent" : "minutes", a->expected);
	out->result = *out->words ? AUDIT_DIFFERS : AUDIT_EQUAL;
}

static enum bad carry(struct bench_replay *r, struct bench_replayed *x, const struct line_answer *a,
	struct audit_finding *out)
{
	struct deed d;
	struct bench_reading reading;
	char why[DECISION_WHY];
	if (x->is_broken || a->ask != x->n + 1) {
		x->is_broken = true;
		return say(out, AUDIT_DIFFERS, "a decision before this one is missing");
	}
	if (decision_read(x->bench, a->typed, strlen(a->typed), &d, why) ||
		(d.kind == DECIDE_DO && !d.has_input && x->bench->procedure->step[d.what].nask) ||
		decision_carry(x->bench, &d, &reading)) {
		x->is_broken = true;
		return say(out, AUDIT_DIFFERS, "this could not be done as the work then was");
	}
	x->n++;
	compare(r, x, a, out);
	return FINE;
}

enum bad bench_replay_answer(
	struct bench_replay *r, const struct audit_case *what, struct audit_finding *out)
{
	struct ledger_name name;
	struct bench_replayed *x;
	const struct hash *hash;
	*out = (struct audit_finding){AUDIT_DIFFERS, ""};
	if (!what->draw)
		return say(out, AUDIT_DIFFERS, "no draw stands before this decision");
	if (ledger_item_read(what->answer->item, &name))
		return say(out, AUDIT_NOT_MADE, "this is no run at the bench");
	const struct procedure *p = procedure_of(r, &name);
	if (!p || procedure_part(p, name.part) == SIZE_MAX)
		return say(out, AUDIT_NOT_MADE, "its procedure is not here");
	enum bad code = hash_of(r, p, &hash);
	if (code)
		return code;
	if (!hash_is_equal(hash, &what->draw->content))
		return say(out, AUDIT_NOT_MADE, "its procedure was changed since");
	if (!is_key_of(what))
		return say(out, AUDIT_DIFFERS,
			"the case was not drawn for this learner, sitting and attempt");
	code = run_of(r, p, &name, what, &x);
	r->last = code ? NULL : x;
	return code ? code : carry(r, x, what->answer, out);
}

/* ---- results --------------------------------------------------------------------------------- */

static bool is_same_list(const struct texts *a, const struct texts *b)
{
	if (a->n != b->n)
		return false;
	for (size_t n = 0; n < a->n; n++)
		if (strcmp(a->at[n], b->at[n]) != 0 && !is_same_number(a->at[n], b->at[n]))
			return false;
	return true;
}

static bool is_same_result(const struct line_result *a, const struct line_result *b)
{
	return strcmp(a->of, b->of) == 0 && a->attempt == b->attempt &&
	       strcmp(a->verdict, b->verdict) == 0 && is_same_number(a->percent, b->percent) &&
	       is_same_number(a->needed, b->needed) && is_same_list(&a->part, &b->part) &&
	       is_same_list(&a->part_competency, &b->part_competency) &&
	       is_same_list(&a->part_percent, &b->part_percent) &&
	       is_same_list(&a->part_needed, &b->part_needed) &&
	       is_same_list(&a->part_verdict, &b->part_verdict);
}

static enum bad result_compare(struct bench_replay *r, struct bench_replayed *x,
	const struct strand_line *line, struct audit_finding *out)
{
	struct arena mem = {0};
	struct line_result said, made;
	enum bad code = line_result_read(line, &mem, &said);
	if (!code)
		code = verdict_find(x->bench, r->rubric, x->item, x->attempt, &mem, &made);
	if (!code && is_same_result(&said, &made))
		say(out, AUDIT_EQUAL, "");
	else if (code != BAD_MEMORY)
		say(out, AUDIT_DIFFERS, "the result is not what the run comes to");
	arena_release(&mem);
	return code == BAD_MEMORY ? code : FINE;
}

enum bad bench_review_line(struct bench_replay *r, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out)
{
	struct bench_replayed *x = r->last;
	*out = (struct audit_finding){AUDIT_NOT_MADE, ""};
	if (line_kind(line->kind) != LINE_RESULT)
		return FINE;
	if (!x || strcmp(x->who, line->who) != 0 || strcmp(x->sitting, open->sitting) != 0 ||
		x->is_broken)
		return say(out, AUDIT_NOT_MADE, "its run could not be made again");
	if (!verdict_counts(x->bench))
		return say(out, AUDIT_DIFFERS, "its run had not come to a result");
	return result_compare(r, x, line, out);
}
