/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What every unit test needs: cmocka in its proper order, and a comparison of doubles that tells
 * what was compared. (cmocka's own comparison goes through float and accepts 123456.789 for
 * 123456.790.) */
#ifndef BARWRIGHT_TESTS_NEAR_H
#define BARWRIGHT_TESTS_NEAR_H

#include <stdarg.h>
#include <stddef.h>
#include <setjmp.h>
#include <stdint.h>
#include <cmocka.h>

#include <math.h>
#include <stdio.h>

static inline void near_at(
	const char *file, int line, const char *why, double got, double want, double tolerance)
{
	if (fabs(got - want) <= tolerance)
		return;
	print_error("%s:%d: %s: want %.10g within %g, got %.10g\n", file, line, why, want,
		tolerance, got);
	_fail(file, line);
}
#define near(why, got, want, tolerance) near_at(__FILE__, __LINE__, (why), (got), (want), (tolerance))

/* For codes: says which one came instead of which one. */
#define code_is(got, want)                                                                         \
	do {                                                                                       \
		int got_ = (int)(got), want_ = (int)(want);                                        \
		if (got_ != want_) {                                                               \
			print_error("%s:%d: %s: want code %s, got %s\n", __FILE__, __LINE__, #got, \
				bad_word((enum bad)want_), bad_word((enum bad)got_));              \
			_fail(__FILE__, __LINE__);                                                 \
		}                                                                                  \
	} while (0)

#endif
