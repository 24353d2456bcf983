/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A course written into a folder of its own for one test, and loaded from there. */
#ifndef BARWRIGHT_TESTS_ITEM_PROBLEMS_H
#define BARWRIGHT_TESTS_ITEM_PROBLEMS_H

#include "near.h"

#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "course/load.h"

static inline void write_text(const char *folder, const char *name, const char *text)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", folder, name);
	FILE *f = fopen(path, "w");
	assert_non_null(f);
	fputs(text, f);
	assert_int_equal(fclose(f), 0);
}

/* One problem as the only one of a course; fails the test with the faults if it has any. */
static inline void problem_load(const char *text, struct course *c)
{
	char folder[] = "/tmp/barwright-test-XXXXXX", module[64], shown[512];
	assert_non_null(mkdtemp(folder));
	snprintf(module, sizeof module, "%s/m", folder);
	assert_int_equal(mkdir(module, 0700), 0);
	write_text(folder, "course.yaml",
		"course: c\ntitle: t\nabout: a\nlanguage: en\nversion: \"1\"\ncompetencies: {K1: "
		"k}\nmodules: [m]\n");
	write_text(module, "module.yaml", "module: m\ntitle: t\nabout: a\nproblems: [p.yaml]\n");
	write_text(module, "p.yaml", text);
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct text t;
	text_init(&t);
	assert_int_equal(course_load(folder, c, &d), FINE);
	diags_print(&d, &t);
	snprintf(shown, sizeof shown, "rm -rf %s", folder);
	assert_int_equal(system(shown), 0);
	if (d.nerror || c->nmodule != 1 || c->module[0].nproblem != 1)
		fail_msg("the test's problem has faults:\n%s", t.at);
	text_release(&t);
	arena_release(&a);
}

#endif
