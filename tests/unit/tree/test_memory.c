/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The n-th request for memory fails, for n = 1, 2, ... until all succeed: nothing crashes or leaks
 * (the sanitizers watch), and what is given is whole. With MODE=stress each piece is a request. */
#include "reading.h"

#include "out_of_memory.h"

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

static struct text_case {
	const char *text;
	enum bad code; /* when there is memory */
} cases[] = {{good, FINE}, {faulty, BAD_SYNTAX}, {stopped, BAD_SYNTAX}};

static enum bad read_alone(void *to)
{
	const struct text_case *c = to;
	struct reading r;
	read_text(&r, c->text);
	enum bad code = r.code;
	if (code == BAD_MEMORY) {
		assert_null(r.tree);
		assert_true(r.d.out);
	}
	assert_true(r.tree || code);
	reading_end(&r);
	return code == c->code ? FINE : code;
}

static void nothing_is_given_when_memory_ran_out(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		runs_out_of_memory(cases[i].text, read_alone, &cases[i]);
}

static enum bad read_ask_show(void *to)
{
	const struct text_case *c = to;
	struct reading r;
	read_text(&r, c->text);
	if (r.tree)
		ask(&r);
	show(&r);
	bool out = r.d.out;
	reading_end(&r);
	return out ? BAD_MEMORY : FINE;
}

/* Only words may be lost: of a message, or of all that is shown. */
static void asking_and_showing_bear_it(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++)
		bears_lack_of_memory(cases[i].text, read_ask_show, &cases[i]);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(nothing_is_given_when_memory_ran_out),
		cmocka_unit_test(asking_and_showing_bear_it),
	};
	return cmocka_run_group_tests_name("tree/memory", tests, NULL, NULL);
}
