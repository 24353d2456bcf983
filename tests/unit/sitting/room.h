/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A room to sit in: a course of four problems, an assessment of three, a strand. Include after near.h,
 * file_fault.h, strand_fixture.h and script_surface.h. */
#ifndef BARWRIGHT_TESTS_ROOM_H
#define BARWRIGHT_TESTS_ROOM_H

#include "course/load.h"
#include "sitting/sitting.h"

static struct sign_pair machine;
static struct course course;
static struct assessment theory;
static bool room_unnamed; /* nobody gave out a code for the sitting */

static inline void put(const char *name, const char *text)
{
	char path[256], *slash;
	snprintf(path, sizeof path, "%s/%s", work_folder, name);
	slash = strrchr(path, '/');
	*slash = 0;
	code_is(folder_make(path), FINE);
	*slash = '/';
	code_is(file_replace(path, text, strlen(text), false), FINE);
}

/* The answer is `times` the width: 8 is right for 4.0 mm and 2. */
static inline void put_problem(const char *code, const char *competency, int level, int times)
{
	char name[80], text[900];
	snprintf(name, sizeof name, "course/one/%s.yaml", code);
	snprintf(text, sizeof text,
		"problem: %s\ntitle: Title of %s\ncompetency: %s\nlevel: %d\nsource: Arithmetic.\n"
		"caution: Edges cut.\nmind: Not once.\n"
		"draws: {width: {from: 1 mm, to: 9 mm, step: 0.1 mm}}\n"
		"text: The width is {width}.\n"
		"asks:\n  - ask: %d times the width\n    unit: mm\n    answer: %d * width\n"
		"    steps: [{name: it, formula: %d * width}]\n"
		"    slips: [{slip: once, formula: width, say: Once.}]\n",
		code, code, competency, level, times, times, times);
	put(name, text);
}

static inline void put_course(void)
{
	put("course/course.yaml",
		"course: small\ntitle: A small course\nabout: For tests.\nversion: \"1\"\n"
		"competencies: {K1: One, K1.1: One one, K2: Two}\nmodules: [one]\n");
	put("course/one/module.yaml",
		"module: one\ntitle: One\nabout: x\n"
		"problems: [twice.yaml, thrice.yaml, fourfold.yaml, tenfold.yaml]\n");
	put_problem("twice", "K1", 1, 2);
	put_problem("thrice", "K1.1", 2, 3);
	put_problem("fourfold", "K1.1", 2, 4);
	put_problem("tenfold", "K2", 3, 10);
}

static const char theory_text[] =
	"assessment: theory\ntitle: Theory\nabout: For tests.\ncourse: small\ntime: 10 min\n"
	"pass: 60 %%\nattempts: 2\nwait: 1 d\n%s"
	"sections:\n"
	"  - section: All\n    items:\n"
	"      - {item: twice}\n      - {competency: K1.1, level: 2}\n"
	"      - {item: tenfold, critical: true}\n"
	"competencies: [{competency: K1, pass: 50 %%}]\n";

static inline void load_theory(const char *more)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	char text[900];
	snprintf(text, sizeof text, theory_text, more);
	assessment_release(&theory);
	code_is(assessment_of("theory.yaml", text, strlen(text), &theory, &d), FINE);
	assert_int_equal(d.nerror, 0);
	arena_release(&mem);
}

static inline void load_course(void)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	course_release(&course);
	code_is(course_load(work_path("course"), &course, &d), FINE);
	assert_int_equal(d.nerror, 0);
	arena_release(&mem);
}

static inline int room_begin(void **state)
{
	machine = pair_of(test_1);
	if (work_begin(state))
		return -1;
	put_course();
	load_course();
	load_theory("");
	script_clock();
	return 0;
}

static inline int room_end(void **state)
{
	course_release(&course);
	assessment_release(&theory);
	clock_replace(NULL);
	return work_end(state);
}

static inline const char *strand_at(const char *who)
{
	static char path[256];
	char id[STRAND_ID + 1];
	snprintf(path, sizeof path, "%s/strands/", work_folder);
	strand_id(who, machine.open, id);
	snprintf(path + strlen(path), sizeof path - strlen(path), "%s.jsonl", id);
	return path;
}

/* One start of the program. `how` gets what came out; BAD_...: the strand could not be opened. */
static inline enum bad sit_once(
	const char *who, struct script_surface *x, struct sitting_how *how, enum how *end)
{
	struct desk d = {.course = &course,
		.surface = &x->surface,
		.who = who,
		.mode = "sit",
		.program = "test",
		.sitting = "0123456789abcdef"};
	how->what = &theory;
	how->is_named = !room_unnamed;
	enum bad code = strand_open(work_folder, who, &machine, &d.strand, NULL);
	if (code)
		return code;
	*end = sitting_run(&d, how);
	desk_end(&d, *end == HOW_LOST ? "stopped" : *end == HOW_BROKEN ? "broken" : "left");
	if (how->refused) { /* it lives in the desk's arena */
		static char words[400];
		snprintf(words, sizeof words, "%s", how->refused);
		how->refused = words;
	}
	strand_close(d.strand);
	desk_release(&d);
	return FINE;
}

/* Types `line`, and gives what came out. */
static inline struct sitting_how sit_with(
	const char *who, struct script_surface *x, const char *const *line)
{
	struct sitting_how how = {0};
	enum how end;
	script_open(x, line);
	code_is(sit_once(who, x, &how, &end), FINE);
	return how;
}

#endif
