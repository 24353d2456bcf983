/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Files locked under a passphrase, so that an assessment can lie on the machines before the day and is
 * read only by who knows the words. The format stands at the top of locked.c. */
#ifndef BARWRIGHT_SITTING_LOCKED_H
#define BARWRIGHT_SITTING_LOCKED_H

#include <stdbool.h>
#include <stddef.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>

bool locked_is(const char *bytes, size_t len);
/* In `a`. `cost` null: phrase_cost_usual. BAD_MEMORY: also when the machine lacks what the passphrase
 * costs; BAD_RANGE: the cost. */
enum bad locked_make(const char *bytes, size_t len, const char *phrase,
	const struct phrase_cost *cost, struct arena *a, char **out, size_t *out_len);
/* The bytes with a 0 behind them, in `a`. *why, static, says what is wrong: BAD_SEAL: the passphrase, or
 * the beginning was changed; BAD_CHAIN: changed further on; BAD_TORN: cut off; BAD_SYNTAX: something
 * stands behind its end, or it is no such file; BAD_VERSION; BAD_RANGE; BAD_MEMORY. */
enum bad locked_open(const char *locked, size_t len, const char *phrase, struct arena *a,
	char **out, size_t *out_len, const char **why);

#endif
