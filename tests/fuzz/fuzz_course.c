/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a file of a course: every fault is told and nothing breaks. What is told is printed
 * too, since places and spans come from the bytes. make fuzz F=course T=60 */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "course/check.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t len);

/* The formulas of a problem without a fault run, whatever the values are. */
static enum bad run(void *to, const struct problem *p, struct diags *d)
{
	static double list[FORMULA_LENGTH];
	struct formula_work *work = to;
	struct formula_value *value = arena_many(d->arena, p->scope.n + 1, struct formula_value);
	struct formula_value out;
	assert(value && p->nask > 0 && (p->is_fixed || p->ndraw > 0));
	for (size_t i = 0; i < p->scope.n; i++)
		if (p->scope.name[i].type.kind == FORMULA_LIST)
			value[i] = (struct formula_value){0, list, 3};
	for (size_t i = 0; i < p->nlet; i++)
		formula_run(p->let[i].formula, value, work, &out);
	for (size_t i = 0; i < p->nask; i++) {
		if (!p->ask[i].answer) /* a choice, an order, a match */
			continue;
		formula_run(p->ask[i].answer, value, work, &out);
		for (size_t k = 0; k < p->ask[i].nslip; k++)
			formula_run(p->ask[i].slip[k].formula, value, work, &out);
	}
	return FINE;
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t len)
{
	static struct formula_work work;
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct check c = {.arena = &arena, .diags = &d, .problem = run, .to = &work};
	struct text out;
	char *text = malloc(len + 1);
	if (!text)
		return 0;
	if (len)
		memcpy(text, bytes, len);
	text[len] = 0;
	struct source file = {"x.yaml", text, len};
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
