/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo course, loaded once for all tests of a file: setup and teardown of its group. */
#ifndef BARWRIGHT_TESTS_ITEM_DEMO_H
#define BARWRIGHT_TESTS_ITEM_DEMO_H

#include "near.h"

#include "course/load.h"

static struct course demo;

/* From the top of the tree, where tests run. */
static int demo_open(void **state)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	(void)state;
	assert_int_equal(course_load("courses/hand-made-bar", &demo, &d), FINE);
	assert_int_equal(d.nerror, 0);
	arena_release(&a);
	return 0;
}

static int demo_close(void **state)
{
	(void)state;
	course_release(&demo);
	return 0;
}

#endif
