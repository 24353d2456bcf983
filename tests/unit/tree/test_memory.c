/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The n-th request for memory fails, for n = 1, 2, ... until all succeed: nothing crashes or leaks
 * (the sanitizers watch), and what is given is whole. With MODE=stress each piece is a request. */
#include "reading.h"

static const char good[] = "title: A course\n"
			   "jaw: upper\n"
			   "stock: [3.5 mm, 4.0 mm, 4.5]\n"
			   "tries: 3\n"
			   "text: |\n"
			   "  some lines\n"
			   "  of text\n"
			   "many: {a: 1, b: 2, c: 3, d: 4, e: 5, f: 6, g: 7, h: 8, i: 9, j: 10}\n";

static const char faulty[] = "title: *x\n"
			     "jaw: uper\n"
			     "stock: [3.5 rad, 4.0 m, x, 1e9]\n"
			     "tries: 30 #c\n"
			     "tries: 3\n"
			     "{{n}}: 1\n"
			     "\"z\\0\": 1\n"
			     "unkown: 1\n"
			     "text: [a: b]\n";

static const char stopped[] = "title: x\ntext: a: b\n";

static void ask(struct reading *r)
{
	static const char *const jaws[] = {"lower", "upper"};
	struct diags *d = &r->d;
	const char *text;
	size_t jaw, n;
	double *stock;
	int64_t tries;
	tree_text(tree_need(r->tree, "title", d), d, &text);
	tree_word(tree_need(r->tree, "jaw", d), jaws, 2, d, &jaw);
	tree_quantities(tree_need(r->tree, "stock", d), "mm", &r->arena, d, &stock, &n);
	tree_whole(tree_find(r->tree, "tries"), 1, 9, d, &tries);
	tree_text(tree_find(r->tree, "text"), d, &text);
	tree_find(r->tree, "unknown");
	tree_need(r->tree, "missing", d);
	tree_unknown(r->tree, d);
}

static void show(struct reading *r)
{
	struct text shown;
	text_init(&shown);
	diags_print(&r->d, &shown);
	text_release(&shown);
}

/* Gives whether the failing request was reached while reading, and while asking. */
static void run(
	const char *text, unsigned long n, int ever, struct reading *r, bool *reading, bool *asking)
{
	mem_fail_at(n, ever);
	read_text(r, text);
	*reading = mem_failed();
	if (r->tree)
		ask(r);
	*asking = mem_failed();
	show(r);
	mem_fail_at(0, 0);
}

static void nothing_is_given_when_memory_ran_out(void **state)
{
	static const struct {
		const char *text;
		enum bad code;
	} cases[] = {{good, FINE}, {faulty, BAD_SYNTAX}, {stopped, BAD_SYNTAX}};
	(void)state;
	for (size_t i = 0; i < 3; i++) {
		bool reading = true, asking = true;
		for (unsigned long n = 1; asking; n++) {
			struct reading r;
			run(cases[i].text, n, 1, &r, &reading, &asking);
			code_is(r.code, reading ? BAD_MEMORY : cases[i].code);
			if (reading)
				assert_null(r.tree);
			if (reading)
				assert_true(r.d.out);
			reading_end(&r);
		}
	}
}

static void one_failure_alone_does_no_harm(void **state)
{
	static const char *const texts[] = {good, faulty, stopped};
	(void)state;
	for (size_t i = 0; i < 3; i++) {
		bool reading = true, asking = true;
		for (unsigned long n = 1; asking; n++) {
			struct reading r;
			run(texts[i], n, 0, &r, &reading, &asking);
			assert_true(r.tree || r.code);
			reading_end(&r);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_is_given_when_memory_ran_out),
		cmocka_unit_test(one_failure_alone_does_no_harm),
	};
	return cmocka_run_group_tests_name("tree/memory", tests, NULL, NULL);
}
