/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a problem or item, up to the first 0; what follows as something typed. What has no
 * fault is drawn, shown, scored and led through: nothing breaks, nothing goes on for ever.
 * make fuzz F=item T=60 */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/item/instance.h>
#include <barwright/item/sample.h>
#include <barwright/item/score.h>

#include "course/check.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t len);

struct typed_text {
	const char *at;
	size_t len;
};

static void score_all(const struct instance *i, const struct typed_text *typed)
{
	const struct problem *p = i->problem;
	for (size_t ask = 0; ask < p->nask; ask++) {
		struct text t;
		struct score s;
		text_init(&t);
		score_typed(i, ask, typed->at, typed->len, &s);
		score_tell(i, ask, &s, ',', &t);
		score_read_as(i, ask, &s, &t);
		score_slip_add(i, ask, &s, &t);
		text_clear(&t);
		instance_answer_add(i, ask, '.', &t);
		/* The answer as it is shown is right, unless what is right cannot be typed. */
		if (p->ask[ask].noffer) {
			score_typed(i, ask, t.at, t.len, &s);
			assert(s.outcome == OUTCOME_RIGHT);
		}
		for (size_t n = 0; n < p->ask[ask].nstep; n++) {
			instance_text_add(i, &p->ask[ask].step[n].say, '.', &t);
			instance_step_add(i, &p->ask[ask].step[n], '.', &t);
			if (p->ask[ask].step[n].formula)
				score_step(i, &p->ask[ask].step[n], typed->at, typed->len, &s);
		}
		text_release(&t);
	}
}

static enum bad draw(void *to, const struct problem *p, struct diags *d)
{
	struct arena a = {0};
	struct instance *i;
	struct sample sample;
	struct unfair_at at;
	struct stream s;
	enum bad code = instance_new(&a, p, &i);
	assert(!code);
	stream_open(&s, &(struct draw_key){"fuzz", p->code, "", "", 1});
	for (int n = 0; n < 20; n++)
		if (!instance_try(i, &s, &at))
			score_all(i, to);
	code = sample_take(&a, p, 5, 20, &sample);
	assert(!code);
	sample_tell(&sample, d);
	arena_release(&a);
	return FINE;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t len)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct typed_text typed = {"", 0};
	struct check c = {.arena = &arena, .diags = &d, .problem = draw, .to = &typed};
	struct text out;
	char *text = malloc(len + 1);
	if (!text)
		return 0;
	if (len)
		memcpy(text, bytes, len);
	text[len] = 0;
	size_t file_len = strlen(text);
	if (file_len < len)
		typed = (struct typed_text){text + file_len + 1, len - file_len - 1};
	struct source file = {"x.yaml", text, file_len};
	text_init(&out);
	enum bad code = check_text(&c, &file);
	assert(!code);
	code = check_end(&c);
	assert(!code);
	diags_print(&d, &out);
	text_release(&out);
	arena_release(&arena);
	free(text);
	return 0;
}
