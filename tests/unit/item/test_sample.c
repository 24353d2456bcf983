/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands in the way of a fair task is told with its place, and looking for it ends. */
#include "problems.h"

#include <barwright/item/sample.h>

/* Numbers from 1 to 9 mm, a is never above 5: what is put in for LET, REQUIRE, DECISION, ANSWER and
 * the slips ONE and TWO makes it unfair. */
static const char form[] =
	"problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: worked by hand\n"
	"draws:\n"
	"  a: {from: 1 mm, to: 5 mm, step: 0.25 mm, exact: true}\n"
	"  b: {from: 6 mm, to: 9 mm, step: 0.25 mm, exact: true}\n"
	"let:\n"
	"  c: {formula: \"%s\", unit: mm, places: 2}\n"
	"require: [\"%s\"]\n"
	"decisions: [{value: b, limits: \"%s\", margin: 0.1 mm}]\n"
	"text: \"{a} {b} {c}\"\n"
	"asks:\n"
	"  - ask: x\n    unit: mm\n    places: 2\n    answer: \"%s\"\n"
	"    steps: [{say: add}]\n"
	"    slips:\n"
	"      - {slip: one, with: {a: \"%s\"}, say: one}\n"
	"      - {slip: two, with: {b: \"%s\"}, say: two}\n"
	"      - {slip: far, formula: 100 mm + a + b, say: far}\n";

static const struct {
	const char *let, *require, *decision, *answer, *one, *two;
	const char *told; /* the place, and a part of the words */
} cases[] = {
	{"a", "a > 0 mm", "0 mm", "a + b", "2 * a", "3 * b", NULL},
	{"a * b / (a - a)", "a > 0 mm", "0 mm", "a + b", "2 * a", "3 * b",
		"p.yaml:10:3: error: none of 1000 draws makes a fair task; in 1000 of them 'c' "
		"cannot be worked out: / divides by 0"},
	{"at([a, b], 7 * a / a)", "a > 0 mm", "0 mm", "a + b", "2 * a", "3 * b",
		"'c' cannot be worked out: at is given a place that the list does not have"},
	{"a", "a > b", "0 mm", "a + b", "2 * a", "3 * b",
		"p.yaml:11:12: error: none of 1000 draws makes a fair task; in 1000 of them "
		"condition 1 of 'require' does not hold"},
	{"a", "a > 0 mm", "b + 0.05 mm", "a + b", "2 * a", "3 * b",
		"the value of decision 1 lies too near a limit"},
	{"a", "a > 0 mm", "0 mm", "a * b / (b - b)", "2 * a", "3 * b",
		"p.yaml:15:5: error: none of 1000 draws makes a fair task; in 1000 of them a "
		"formula "
		"gives no result"},
	{"a", "a > 0 mm", "0 mm", "a + b", "a + 0.001 mm", "3 * b",
		"p.yaml:21:9: error: none of 1000 draws makes a fair task; in 1000 of them the "
		"answer and slip 'one' lie too near each other"},
	{"a", "a > 0 mm", "0 mm", "a + b", "2 * a", "b + a + 0.001 mm",
		"p.yaml:22:9: error: none of 1000 draws makes a fair task; in 1000 of them slip "
		"'two' and slip 'one' lie too near each other"},
	{"a", "a > 0 mm", "0 mm", "a + b", "2 * a", "b - a / 2 + 0.001 mm",
		"slip 'one' and slip 'two' together lie too near the answer"},
	{"a", "a = 3 mm", "0 mm", "a + b", "2 * a", "3 * b",
		"make a fair task; in"}, /* one in seventeen: survival under 20 % */
};

static void tell(const struct problem *p, struct text *out)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	code_is(sample_check(NULL, p, &d), FINE);
	diags_print(&d, out);
	arena_release(&a);
}

static void what_stands_in_the_way_is_told_with_its_place(void **state)
{
	(void)state;
	for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
		struct course c;
		struct text t;
		char text[sizeof form + 300];
		snprintf(text, sizeof text, form, cases[k].let, cases[k].require, cases[k].decision,
			cases[k].answer, cases[k].one, cases[k].two);
		problem_load(text, &c);
		text_init(&t);
		tell(&c.module[0].problem[0], &t);
		if (cases[k].told ? !strstr(t.at, cases[k].told) : t.len > 0)
			fail_msg("case %zu: want '%s', got:\n%s", k,
				cases[k].told ? cases[k].told : "nothing", t.at);
		text_release(&t);
		course_release(&c);
	}
}

/* What a drill, a sitting or an audit is told by: an ordinary code, after so many tries and no more. */
static void a_problem_without_a_fair_task_is_a_code(void **state)
{
	struct course c;
	struct arena a = {0};
	struct instance *i;
	struct stream s;
	char text[sizeof form + 300];
	(void)state;
	snprintf(text, sizeof text, form, "a", "a > b", "0 mm", "a + b", "2 * a", "3 * b");
	problem_load(text, &c);
	code_is(instance_new(&a, &c.module[0].problem[0], &i), FINE);
	stream_open(&s, &(struct draw_key){"c", "p", "who", "now", 1});
	code_is(instance_draw(i, &s), BAD_UNFAIR);
	assert_int_equal(i->tries, INSTANCE_TRIES + 1);
	code_is(instance_draw(i, &s), BAD_UNFAIR);
	arena_release(&a);
	course_release(&c);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(what_stands_in_the_way_is_told_with_its_place),
		cmocka_unit_test(a_problem_without_a_fair_task_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
