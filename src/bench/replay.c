/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "bench/replay.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "bench/decide.h"
#include "bench/ledger.h"

/* One run, as far as its lines have come. */
struct bench_replayed {
	unsigned char key[BENCH_KEY];
	struct bench *bench;
	uint64_t n; /* decisions carried out */
	bool is_broken;
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

static enum bad run_of(struct bench_replay *r, const struct procedure *p,
	const struct ledger_name *name, const unsigned char key[static BENCH_KEY],
	struct bench_replayed **out)
{
	for (struct bench_replayed *x = r->run; x; x = x->next)
		if (x->bench->procedure == p && memcmp(x->key, key, BENCH_KEY) == 0) {
			*out = x;
			return FINE;
		}
	struct bench_replayed *x = arena_new(&r->arena, struct bench_replayed);
	if (!x || bench_new(&r->arena, p, &x->bench))
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
	code = run_of(r, p, &name, what->draw->key, &x);
	return code ? code : carry(r, x, what->answer, out);
}
