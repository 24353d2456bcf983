/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What diags say to a person, compared as a whole; a failure shows both texts. */
#ifndef BARWRIGHT_TESTS_TOLD_H
#define BARWRIGHT_TESTS_TOLD_H

#include "near.h"

#include <string.h>

#include <barwright/base/diag.h>

static inline void told_at(
	const char *file, int line, const char *why, const struct diags *d, const char *want)
{
	struct text got;
	text_init(&got);
	diags_print(d, &got);
	if (strcmp(got.at, want) != 0) {
		print_error("%s:%d: %s: want\n%s\ngot\n%s\n", file, line, why, want, got.at);
		text_release(&got);
		_fail(file, line);
	}
	text_release(&got);
}
#define told(why, d, want)   told_at(__FILE__, __LINE__, (why), (d), (want))
#define told_nothing(why, d) told_at(__FILE__, __LINE__, (why), (d), "")

#endif
