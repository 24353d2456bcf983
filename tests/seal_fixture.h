/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strand with a watched sitting, sealed or not. Include after strand_fixture.h. The machine is the key
 * of RFC 8032, 7.1, TEST 1, the assessor TEST 2, a stranger the third. */
#ifndef BARWRIGHT_TESTS_SEAL_FIXTURE_H
#define BARWRIGHT_TESTS_SEAL_FIXTURE_H

#include <barwright/record/seal.h>
#include <barwright/record/witness.h>

static const char test_3[] = "c5aa8df43f9f837bedb7442f31dcb7b166d38535076f094b85ce3a2e0b4458f7";

static struct sign_pair machine, assessor_pair, stranger_pair;
static struct assessor assessor;
static struct key_known accepted[1];
static const struct key_ring assessors = {accepted, 1};

static inline void people_make(void)
{
	machine = pair_of(test_1);
	assessor_pair = pair_of(test_2);
	stranger_pair = pair_of(test_3);
	assessor = (struct assessor){.name = "D. Ruiz"};
	memcpy(assessor.open, assessor_pair.open, SIGN_PUBLIC);
	key_id(assessor.open, assessor.id);
	accepted[0].name = "D. Ruiz";
	memcpy(accepted[0].open, assessor_pair.open, SIGN_PUBLIC);
}

static inline struct strand *strand_begin(const char *who)
{
	struct strand *s;
	code_is(strand_open(work_folder, who, &machine, &s, NULL), FINE);
	return s;
}

/* One sitting: open, draw, n answers, close. */
static inline void sit_through(struct strand *s, const char *sitting, const char *mode, unsigned n)
{
	struct line_open open = an_open;
	struct line_close close = {.answers = n, .reason = "done"};
	open.sitting = sitting;
	open.mode = mode;
	code_is(line_open_append(s, &open), FINE);
	for (unsigned i = 0; i < n; i++) {
		struct line_draw draw = {.item = "spread", .attempt = 1 + i / 2};
		struct line_answer answer = an_answer(i);
		if (i % 2 == 0)
			code_is(line_draw_append(s, &draw), FINE);
		code_is(line_answer_append(s, &answer), FINE);
	}
	code_is(line_close_append(s, &close), FINE);
}

/* Another key may seal as well: `by` null is the assessor. */
static inline struct line_seal seal_it(
	struct strand *s, const char *sitting, const struct sign_pair *by, struct arena *a)
{
	struct line_seal out;
	struct assessor who = assessor;
	struct seal_how how = {.sitting = sitting,
		.identity_check = "photo-card",
		.said_time = "2026-11-25T09:30:00.000Z",
		.pair = by ? by : &assessor_pair,
		.assessor = &who};
	key_id(how.pair->open, who.id);
	code_is(seal_strand(s, &how, a, &out, NULL), FINE);
	return out;
}

#endif
