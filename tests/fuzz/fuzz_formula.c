/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Any bytes as a formula. What compiles must run or give a code, print, read again to the same
 * print, and come to the same bits. What does not must have said why.
 *
 *   make fuzz F=formula T=60 */
#include <barwright/formula/formula.h>

#include <stdlib.h>
#include <string.h>

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const double heights[] = {16.0, 14.6, 13.9, 15.2};

static void must(bool holds)
{
	if (!holds)
		abort();
}

static void fill_scope(struct arena *a, struct formula_scope *scope)
{
	static const struct formula_name names[] = {
		{"a", 1, {FORMULA_NUMBER, {{1}}}, {NULL, 0, 0}, 0},
		{"n", 1, {FORMULA_NUMBER, {{0}}}, {NULL, 0, 0}, 0},
		{"h", 1, {FORMULA_LIST, {{1}}}, {NULL, 0, 0}, 0},
		{"ok", 2, {FORMULA_TRUTH, {{0}}}, {NULL, 0, 0}, 0},
		{"w", 1, {FORMULA_NUMBER, {{0, 0, 0, 1}}}, {NULL, 0, 0}, 0},
	};
	for (size_t i = 0, slot; i < sizeof names / sizeof *names; i++)
		must(formula_scope_add(a, scope, &names[i], &slot) == FINE);
}

static struct formula *compile(struct arena *a, const char *text, size_t len, bool must_work)
{
	struct formula_scope scope = {0};
	struct diags d = {.arena = a};
	struct source source = {"fuzz", text, len};
	struct formula *f = NULL;
	fill_scope(a, &scope);
	enum bad code =
		formula_compile(a, text, len, (struct place){&source, 1, 1}, true, &scope, &d, &f);
	must(!code == (f != NULL) && !code == (d.nerror == 0));
	must(!code || !must_work);
	struct text shown;
	text_init(&shown);
	diags_print(&d, &shown);
	text_release(&shown);
	return f;
}

static enum bad run(const struct formula *f, struct formula_work *work, struct formula_value *out)
{
	const struct formula_value v[] = {
		{13.05, NULL, 0}, {3, NULL, 0}, {0, heights, 4}, {1, NULL, 0}, {0.25, NULL, 0}};
	enum bad code = formula_run(f, v, work, out);
	struct formula_failure failure;
	if (code) {
		formula_failed(f, work, &failure);
		must(failure.word && failure.why);
	}
	return code;
}

static void same(const struct formula_value *a, const struct formula_value *b)
{
	must(a->n == b->n);
	must(a->n || memcmp(&a->number, &b->number, sizeof a->number) == 0);
	must(!a->n || memcmp(a->list, b->list, a->n * sizeof *a->list) == 0);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	static struct formula_work first, second;
	struct arena a = {0};
	struct text text, again;
	char *copy = arena_copy(&a, (const char *)data, size);
	text_init(&text);
	text_init(&again);
	struct formula *f = compile(&a, copy, size, false);
	if (f) {
		struct formula_value one, two;
		formula_print(f, &text);
		enum bad code = run(f, &first, &one);
		if (text.len <= FORMULA_BYTES) { /* a layout with blanks may be longer */
			struct formula *g = compile(&a, text.at, text.len, true);
			formula_print(g, &again);
			must(strcmp(text.at, again.at) == 0);
			must(run(g, &second, &two) == code);
			if (!code)
				same(&one, &two);
		}
	}
	text_release(&text);
	text_release(&again);
	arena_release(&a);
	return 0;
}
