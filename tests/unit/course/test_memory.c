/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Memory runs out at every request in turn, once and for good. Nothing may leak (run with the
 * address sanitizer), nothing half read may come back, and the diags stay as they were. */
#include "small_course.h"

#include "out_of_memory.h"

#include "course/check.h"

static enum bad load_course(void *folder)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct course c;
	enum bad code = course_load(folder, &c, &d);
	if (code) {
		assert_null(c.code);
		assert_null(d.first);
		same_whole("errors taken back", d.nerror, 0);
	} else {
		same_whole("all problems", c.nproblem, 3);
	}
	course_release(&c);
	arena_release(&arena);
	return code;
}

static enum bad load_heads(void *folder)
{
	struct course c;
	enum bad code = course_heads(folder, &c);
	if (code)
		assert_null(c.code);
	else
		same_whole("all problems", c.nproblem, 3);
	course_release(&c);
	return code;
}

static enum bad load_faulty_course(void *folder)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct course c;
	enum bad code = course_load(folder, &c, &d);
	if (code)
		assert_null(d.first);
	else
		assert_true(d.nerror > 20);
	course_release(&c);
	arena_release(&arena);
	return code;
}

static enum bad load_rubric(void *folder)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct rubric r;
	char path[100];
	snprintf(path, sizeof path, "%s/bench.yaml", (const char *)folder);
	enum bad code = rubric_load(path, &r, &d);
	if (code)
		assert_null(r.code);
	else
		same_whole("stations", r.nstation, 2);
	rubric_release(&r);
	arena_release(&arena);
	return code;
}

static enum bad check_all(void *folder)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct check c = {.arena = &arena, .diags = &d};
	enum bad code = check_folder(&c, folder);
	if (!code)
		code = check_end(&c);
	arena_release(&arena);
	return code;
}

static void course_survives(void **state)
{
	(void)state;
	struct shelf s;
	shelf_open(&s);
	put_small_course(&s);
	bears_lack_of_memory("course", load_course, s.folder);
	bears_lack_of_memory("heads", load_heads, s.folder);
	bears_lack_of_memory("check", check_all, s.folder);
	shelf_close(&s);
}

static void rubric_survives(void **state)
{
	(void)state;
	struct shelf s;
	shelf_open(&s);
	shelf_put(&s, "bench.yaml", small_rubric);
	bears_lack_of_memory("rubric", load_rubric, s.folder);
	bears_lack_of_memory("check", check_all, s.folder);
	shelf_close(&s);
}

static enum bad check_one(void *path)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct check c = {.arena = &arena, .diags = &d};
	enum bad code = check_file(&c, path);
	if (!code)
		code = check_end(&c);
	arena_release(&arena);
	return code;
}

/* All kinds of asks and items, and a file in which nearly all of their keys are wrong. */
static void options_survive(void **state)
{
	(void)state;
	char kinds[] = "tests/text/drill/small", faulty[] = "tests/text/check/options.yaml";
	bears_lack_of_memory("kinds of asks", check_all, kinds);
	bears_lack_of_memory("faulty options", check_one, faulty);
}

/* Every message takes memory: a problem in which nearly everything is wrong. */
static void faulty_course_survives(void **state)
{
	(void)state;
	struct shelf s;
	shelf_open(&s);
	put_small_course(&s);
	shelf_put(&s, "one/alpha.yaml",
		"problem: a b\ntitel: x\ncompetency: K9\nlevel: 9\n"
		"draws:\n  a: {from: 1 mm, to: 2 N, step: 0}\n  b: {choice: [1 mm, 1 mm]}\n"
		"  c: {from: 1 mm, to: 2 mm, step: 0.7 mm}\n  if: {sets: [[1 mm], [2 mm]]}\n"
		"  d: {from: 1 mm, to: 2 mm, step: 0.1 mm, count: e}\n"
		"let: {e: d + , f: {formula: c, unit: N}, g: g + 1 mm, h: c * c * c * c * c * 1 "
		"kg}\n"
		"require: [c]\ndecisions: [{value: c, limits: [1 N], margin: 1 N}]\n"
		"text: \"{q} {c:x} {\"\ngiven: {x: \"{c}\"}\n"
		"figure: {arch: {x: c, y: [1 N], z: 1}}\n"
		"asks:\n"
		"  - {ask: x, unit: mmm, answer: c, refer: \"\", steps: [{}], slips: []}\n"
		"  - {ask: x, unit: N, answer: c, tolerance: 1 N, steps: [{name: n}],\n"
		"     slips: [{slip: a, formula: c, say: x}, {slip: a, formula: c, say: y}]}\n");
	shelf_put(&s, "one/lesson.yaml",
		"lesson: l\ntitle: \"\"\npages: [{title: t, body: [{txt: x}, {text: x, item: "
		"y}, {figure: {schedule: {steps: [a, b], durations: [1 h], ask_ends: [c]}}}]}]\n");
	shelf_put(&s, "one/stray.yaml", "what: x\n");
	shelf_put(&s, "one/stray.yml", "what: x\n");
	shelf_put(&s, "stray/module.yaml", "module: x\n");
	bears_lack_of_memory("course", load_faulty_course, s.folder);
	bears_lack_of_memory("check", check_all, s.folder);
	shelf_close(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(course_survives),
		cmocka_unit_test(rubric_survives),
		cmocka_unit_test(options_survive),
		cmocka_unit_test(faulty_course_survives),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
