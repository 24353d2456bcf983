/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A formula compiled against one small scope, its faults as text, its result. Everything ends in
 * compiled_end. */
#ifndef BARWRIGHT_TESTS_COMPILED_H
#define BARWRIGHT_TESTS_COMPILED_H

#include <barwright/formula/formula.h>

#include "near.h"

/* The names of the scope, their kinds, dimensions and values. */
static const double compiled_heights[] = {16.0, 14.6, 13.9, 15.2};
static const double compiled_forces[] = {100, -50, 25, 0};
static const struct {
	const char *name;
	struct formula_type type;
	struct formula_value value;
} compiled_names[] = {
	{"spread", {FORMULA_NUMBER, {{1}}}, {13.05, NULL, 0}},
	{"gap", {FORMULA_NUMBER, {{1}}}, {1.5, NULL, 0}},
	{"strength", {FORMULA_NUMBER, {{-1, 1, -2}}}, {400, NULL, 0}},
	{"load", {FORMULA_NUMBER, {{1, 1, -2}}}, {200, NULL, 0}},
	{"tilt", {FORMULA_NUMBER, {{0, 0, 0, 1}}}, {0.25, NULL, 0}},
	{"factor", {FORMULA_NUMBER, {{0}}}, {1.5, NULL, 0}},
	{"n", {FORMULA_NUMBER, {{0}}}, {3, NULL, 0}},
	{"warm", {FORMULA_NUMBER, {{0, 0, 0, 0, 1}}}, {300, NULL, 0}},
	{"covered", {FORMULA_TRUTH, {{0}}}, {1, NULL, 0}},
	{"open", {FORMULA_TRUTH, {{0}}}, {0, NULL, 0}},
	{"heights", {FORMULA_LIST, {{1}}}, {0, compiled_heights, 4}},
	{"forces", {FORMULA_LIST, {{1, 1, -2}}}, {0, compiled_forces, 4}},
	{"none", {FORMULA_NUMBER, {{1}}}, {NAN, NULL, 0}},
	{"h", {FORMULA_NUMBER, {{1}}}, {4, NULL, 0}},
};
enum { COMPILED_NAMES = sizeof compiled_names / sizeof *compiled_names };

struct compiled {
	struct arena arena;
	struct source source;
	struct diags d;
	struct formula_scope scope;
	struct formula_value value[COMPILED_NAMES];
	struct formula *formula;
	enum bad code;
	struct formula_work work;
};

static inline void compiled_scope(struct compiled *c)
{
	for (size_t i = 0, slot; i < COMPILED_NAMES; i++) {
		struct formula_name name = {compiled_names[i].name, strlen(compiled_names[i].name),
			compiled_names[i].type, {NULL, 0, 0}, 0};
		if (formula_scope_add(&c->arena, &c->scope, &name, &slot))
			fail_msg("the scope of the tests is broken at %s", name.name);
		c->value[i] = compiled_names[i].value;
	}
}

static inline void compiled_begin(struct compiled *c, const char *text)
{
	c->arena = (struct arena){0};
	c->d = (struct diags){.arena = &c->arena};
	c->scope = (struct formula_scope){0};
	c->formula = NULL;
	c->source = (struct source){"formula", text, strlen(text)};
	compiled_scope(c);
	c->code = formula_compile(&c->arena, text, strlen(text), (struct place){&c->source, 1, 1},
		true, &c->scope, &c->d, &c->formula);
}

static inline void compiled_end(struct compiled *c)
{
	arena_release(&c->arena);
}

/* The faults as people see them. */
static inline void compiled_faults(struct compiled *c, struct text *out)
{
	text_init(out);
	diags_print(&c->d, out);
}

static inline void compiled_must(struct compiled *c, const char *text)
{
	struct text faults;
	compiled_begin(c, text);
	if (!c->code)
		return;
	compiled_faults(c, &faults);
	print_error("%s\nwas to compile, but:\n%s", text, faults.at);
	text_release(&faults);
	fail();
}

static inline struct formula_value compiled_run(struct compiled *c)
{
	struct formula_value out = {NAN, NULL, 0};
	enum bad code = formula_run(c->formula, c->value, &c->work, &out);
	if (code) {
		struct formula_failure why;
		formula_failed(c->formula, &c->work, &why);
		fail_msg("%s: %s: %s %s", c->source.text, bad_word(code), why.word, why.why);
	}
	return out;
}

/* One text to its number, or code and no number. */
static inline double compiled_number(const char *text)
{
	struct compiled c;
	compiled_must(&c, text);
	double number = compiled_run(&c).number;
	compiled_end(&c);
	return number;
}

#endif
