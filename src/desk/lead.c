/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "desk/lead.h"

#include "desk/progress.h"

static bool is_number(const struct step *s)
{
	return s->formula && formula_result(s->formula).kind == FORMULA_NUMBER;
}

size_t lead_steps(const struct ask *q)
{
	size_t n = 0;
	for (size_t k = 0; q->answer && k < q->nstep; k++)
		n += is_number(&q->step[k]);
	return n < LEAD_MOST ? n : LEAD_MOST;
}

unsigned char lead_first(const struct ask *q)
{
	return lead_steps(q) > 0;
}

void lead_on(const struct ask *q, uint64_t led, bool right, struct progress_ask *ask)
{
	size_t all = lead_steps(q), now = led < all ? (size_t)led : all;
	if (right) {
		ask->in_a_row = 0;
		now = !led || now == all ? 0 : now + 1;
	} else if (++ask->in_a_row >= 2) {
		ask->in_a_row = 0;
		now = !led ? all : now > 1 ? now - 1 : now;
	}
	ask->led = (unsigned char)now;
}

bool lead_wants_example(const struct problem *p, const struct progress_item *item)
{
	if (p->is_fixed || item->is_begun)
		return false;
	for (size_t k = 0; k < p->nask; k++)
		if (lead_steps(&p->ask[k]))
			return true;
	return false;
}

const struct step *lead_step(const struct ask *q, size_t n, size_t *place)
{
	for (size_t k = 0; k < q->nstep; k++)
		if (is_number(&q->step[k]) && n-- == 0) {
			*place = k;
			return &q->step[k];
		}
	return NULL;
}
