/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Running out of memory as an ordinary answer: a thing is done again and again, and in the n-th go the
 * n-th request for memory is refused, until there are no more requests to refuse; first that one alone,
 * then that one and all later. With the address sanitizer a leak on any of these ways is found too. */
#ifndef BARWRIGHT_TESTS_OUT_OF_MEMORY_H
#define BARWRIGHT_TESTS_OUT_OF_MEMORY_H

#include "near.h"

#include <stdbool.h>

#include <barwright/base/bad.h>
#include <barwright/base/mem.h>

struct starved {
	enum bad (*run)(void *to);
	void *to;
	bool may_bear; /* FINE is right too after a refusal */
};

/* One go. True when the n-th request was made and refused. */
static inline bool starved_go(const char *file, int line, const char *why, const struct starved *s,
	unsigned long n, int ever)
{
	mem_fail_at(n, ever);
	enum bad code = s->run(s->to);
	bool refused = mem_failed();
	mem_fail_at(0, 0);
	if (refused ? code == BAD_MEMORY || (s->may_bear && !code) : !code)
		return refused;
	print_error("%s:%d: %s: request %lu%s %s, code %s\n", file, line, why, n,
		ever ? " and all later" : "", refused ? "refused" : "never made", bad_word(code));
	_fail(file, line);
	return false;
}

static inline void starved_check(
	const char *file, int line, const char *why, const struct starved *s)
{
	enum { MOST = 100000 };
	for (int ever = 0; ever < 2; ever++) {
		unsigned long n = 1;
		while (n < MOST && starved_go(file, line, why, s, n, ever))
			n++;
		if (n > 1 && n < MOST)
			continue;
		print_error("%s:%d: %s: %s\n", file, line, why,
			n == 1 ? "no memory was asked for" : "no end of requests");
		_fail(file, line);
	}
}

/* `run` gives FINE or BAD_MEMORY, leaves nothing behind and can be called again. A refused request
 * must always give BAD_MEMORY. */
#define runs_out_of_memory(why, run, to) \
	starved_check(__FILE__, __LINE__, (why), &(struct starved){(run), (to), false})
/* The same where a request may be refused and nothing be lost but a suggestion to an author. */
#define bears_lack_of_memory(why, run, to) \
	starved_check(__FILE__, __LINE__, (why), &(struct starved){(run), (to), true})

#endif
