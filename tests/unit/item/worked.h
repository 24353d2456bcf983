/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Tasks of the demo course against worked values that do not come from this program, for tests of
 * the bank. A table (tests/data/bank/worked-N.tsv) has one line an answer, its source at the end:
 * the drawn values are put in, what is worked out from them is worked out, and the answer is
 * compared. One bank a test program: `bank` says which. */
#ifndef BARWRIGHT_TESTS_ITEM_WORKED_H
#define BARWRIGHT_TESTS_ITEM_WORKED_H

#include "demo.h"

#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/random.h>
#include <barwright/item/instance.h>

#include <ctype.h>

/* Part of the course, and the table of its worked values. */
struct bank {
	const char *table;
	size_t least; /* lines that the table has at least */
	const char *const *module;
	size_t nmodule;
	/* How far the last step of a worked solution may end from the answer, in tolerances: steps
	 * that name a factor as people know it, 14.504 psi to the bar, end nearly there. */
	double step_apart;
};
static const struct bank bank;

enum { LINES = 400 };

/* One line of the table; the texts stand in the file as read. */
struct worked {
	const char *problem, *values, *expected, *tolerance, *source;
	size_t ask; /* from 0 */
};
static struct worked table[LINES];
static size_t ntable;
static struct arena held;

/* Ends the field at the next tab (or at the end) and gives what comes after it. */
static char *next_field(char *at)
{
	char *tab = strchr(at, '\t');
	if (!tab)
		return at + strlen(at);
	*tab = '\0';
	return tab + 1;
}

static void line_read(char *line, struct worked *w)
{
	char *ask = next_field(line), *values = next_field(ask), *expected = next_field(values);
	char *tolerance = next_field(expected), *source = next_field(tolerance);
	*w = (struct worked){line, values, expected, tolerance, source, strtoul(ask, NULL, 10) - 1};
	if (!*source)
		fail_msg("a line on '%s' does not tell its source", line);
}

static void table_read(void)
{
	char *bytes;
	size_t len;
	assert_int_equal(file_read(bank.table, 1 << 20, &held, &bytes, &len), FINE);
	char *text = arena_get(&held, len + 1);
	assert_non_null(text);
	memcpy(text, bytes, len);
	text[len] = '\0';
	for (char *line = text, *end; *line; line = end) {
		end = line + strcspn(line, "\n");
		end += *end ? (*end = '\0', 1) : 0;
		if (*line != '#' && *line)
			line_read(line, &table[ntable++]);
		assert_true(ntable < LINES);
	}
	assert_true(ntable >= bank.least);
}

static int set_up(void **state)
{
	table_read();
	return demo_open(state);
}

static int tear_down(void **state)
{
	arena_release(&held);
	return demo_close(state);
}

/* ---- putting values in ------------------------------------------------------------------------ */

/* A constant of the formula language: "12.0 mm", "[3.5 mm, 4 mm]", "nothing". */
static void constant(struct arena *a, const char *text, size_t len, struct formula_work *work,
	struct formula_value *out)
{
	struct diags d = {.arena = a};
	struct formula *f;
	if (formula_compile(a, text, len, (struct place){0}, false, NULL, &d, &f) ||
		formula_run(f, NULL, work, out))
		fail_msg("'%.*s' cannot be read", (int)len, text);
}

static bool is_word(char c)
{
	return isalnum((unsigned char)c) || c == '_';
}

/* Where the value that begins at `at` ends: before the next "name=", or at the end. */
static const char *value_end(const char *at)
{
	const char *equals = strchr(at, '=');
	if (!equals)
		return at + strlen(at);
	while (equals > at && is_word(equals[-1]))
		equals--;
	return equals;
}

static void put(struct instance *i, struct arena *a, const char *name, size_t len, const char *text,
	size_t text_len)
{
	size_t slot;
	struct formula_value v;
	if (!formula_scope_find(&i->problem->scope, name, len, &slot))
		fail_msg("%s draws no '%.*s'", i->problem->code, (int)len, name);
	constant(a, text, text_len, i->work, &v);
	if (v.list) {
		double *room = i->room + slot * FORMULA_LENGTH;
		memcpy(room, v.list, v.n * sizeof *room);
		v.list = room;
	}
	i->value[slot] = v;
}

static size_t put_all(struct instance *i, struct arena *a, const char *values)
{
	size_t n = 0;
	for (const char *at = values; *at; n++) {
		const char *equals = strchr(at, '='), *end = value_end(equals + 1);
		put(i, a, at, (size_t)(equals - at), equals + 1, (size_t)(end - equals - 1));
		at = end;
	}
	return n;
}

static void work_out(struct instance *i)
{
	for (size_t n = 0; n < i->problem->nlet; n++) {
		const struct let *l = &i->problem->let[n];
		struct formula_value v;
		if (formula_run(l->formula, i->value, i->work, &v))
			fail_msg("%s: '%s' gives no result", i->problem->code, l->name);
		if (v.list) {
			double *room = i->room + l->slot * FORMULA_LENGTH;
			memmove(room, v.list, v.n * sizeof *room);
			v.list = room;
		}
		i->value[l->slot] = v;
	}
}

static double run(struct instance *i, const struct formula *f)
{
	struct formula_value v;
	if (formula_run(f, i->value, i->work, &v))
		fail_msg("%s: a formula gives no result", i->problem->code);
	return v.number;
}

/* ---- the tests -------------------------------------------------------------------------------- */

static void compare(struct instance *i, struct arena *a, const struct worked *w)
{
	struct formula_value want, tolerance;
	char why[200];
	constant(a, w->expected, strlen(w->expected), i->work, &want);
	constant(a, w->tolerance, strlen(w->tolerance), i->work, &tolerance);
	double got = run(i, i->problem->ask[w->ask].answer);
	snprintf(why, sizeof why, "%s, ask %zu, %s", w->problem, w->ask + 1, w->values);
	if (formula_is_nothing(want.number) || formula_is_nothing(got)) {
		if (formula_is_nothing(want.number) != formula_is_nothing(got))
			fail_msg("%s: only one of %s and the answer is nothing", why, w->expected);
	} else {
		near(why, got, want.number, tolerance.number + 1e-9 * fabs(want.number));
	}
}

static void answers_are_the_worked_ones(void **state)
{
	(void)state;
	for (size_t n = 0; n < ntable; n++) {
		const struct worked *w = &table[n];
		const struct problem *p = course_problem(&demo, w->problem);
		struct arena a = {0};
		struct instance *i;
		if (!p || w->ask >= p->nask)
			fail_msg("there is no ask %zu of '%s'", w->ask + 1, w->problem);
		assert_int_equal(instance_new(&a, p, &i), FINE);
		if (put_all(i, &a, w->values) != p->ndraw)
			fail_msg("%s: not every drawn value is given", w->problem);
		work_out(i);
		compare(i, &a, w);
		arena_release(&a);
	}
}

static bool is_worked(const struct problem *p, size_t ask)
{
	for (size_t n = 0; n < ntable; n++)
		if (table[n].ask == ask && strcmp(table[n].problem, p->code) == 0)
			return true;
	return false;
}

static void for_every_problem(void (*check)(const struct problem *p))
{
	for (size_t m = 0; m < bank.nmodule; m++) {
		const struct module *module = course_module(&demo, bank.module[m]);
		if (!module)
			fail_msg("the course has no module '%s'", bank.module[m]);
		for (size_t k = 0; k < module->nproblem; k++)
			if (!module->problem[k].is_fixed) /* those work nothing out */
				check(&module->problem[k]);
	}
}

static void every_number_is_worked(const struct problem *p)
{
	for (size_t ask = 0; ask < p->nask; ask++)
		if (p->ask[ask].kind <= ASKED_TIME && !is_worked(p, ask))
			fail_msg("%s, ask %zu has no worked value", p->code, ask + 1);
}

static void every_number_asked_has_a_worked_value(void **state)
{
	(void)state;
	for_every_problem(every_number_is_worked);
}

/* The last step of a worked solution that has a formula. */
static const struct step *last_step(const struct ask *q)
{
	for (size_t n = q->nstep; n-- > 0;)
		if (q->step[n].formula)
			return &q->step[n];
	return NULL;
}

/* Answers come from the calculation core, steps are written out by hand in the course: two ways to
 * one number. Where the case goes back, the last step is the stock that would be needed. */
static void solution_ends_at_the_answer(const struct problem *p)
{
	struct arena a = {0};
	struct instance *i;
	assert_int_equal(instance_new(&a, p, &i), FINE);
	for (uint64_t n = 1; n <= 200; n++) {
		struct stream s;
		stream_open(&s, &(struct draw_key){"hand-made-bar", p->code, "who", "steps", n});
		assert_int_equal(instance_draw(i, &s), FINE);
		for (size_t ask = 0; ask < p->nask; ask++) {
			const struct step *last = last_step(&p->ask[ask]);
			double answer = i->ask[ask].answer;
			double apart = bank.step_apart * i->ask[ask].tolerance;
			if (p->ask[ask].kind != ASKED_NUMBER || !last || formula_is_nothing(answer))
				continue;
			near(p->code, run(i, last->formula), answer,
				apart + 1e-9 * (1 + fabs(answer)));
		}
	}
	arena_release(&a);
}

static void worked_solutions_end_at_the_answer(void **state)
{
	(void)state;
	for_every_problem(solution_ends_at_the_answer);
}

/* A draw in five at least must be fair, or a sitting waits for its tasks. */
static void most_draws_are_fair(const struct problem *p)
{
	enum { DRAWS = 1000 };
	struct arena a = {0};
	struct instance *i;
	struct stream s;
	struct unfair_at at;
	int fair = 0;
	assert_int_equal(instance_new(&a, p, &i), FINE);
	stream_open(&s, &(struct draw_key){"hand-made-bar", p->code, "who", "fair", 1});
	for (int n = 0; n < DRAWS; n++)
		fair += instance_try(i, &s, &at) == UNFAIR_NOT;
	if (fair < DRAWS / 5)
		fail_msg("%s: only %d of %d draws are fair", p->code, fair, DRAWS);
	arena_release(&a);
}

static void at_least_one_draw_in_five_is_fair(void **state)
{
	(void)state;
	for_every_problem(most_draws_are_fair);
}

static inline int bank_run(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(answers_are_the_worked_ones),
		cmocka_unit_test(every_number_asked_has_a_worked_value),
		cmocka_unit_test(worked_solutions_end_at_the_answer),
		cmocka_unit_test(at_least_one_draw_in_five_is_fair),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}

#endif
