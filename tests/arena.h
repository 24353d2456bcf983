/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For tests whose things live in an arena: one for the whole file, emptied after each test by the
 * teardown `release`. */
#ifndef BARWRIGHT_TESTS_ARENA_H
#define BARWRIGHT_TESTS_ARENA_H

#include <barwright/base/mem.h>

static struct arena arena;

static int release(void **state)
{
	(void)state;
	arena_release(&arena);
	return 0;
}

#endif
