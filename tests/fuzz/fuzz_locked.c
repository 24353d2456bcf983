/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Locked assessments. An even first byte: the rest is a file as somebody hands it over. An odd one: the rest
 * is locked, one bit of it turned over or its end cut off, and it must not open any more. The cost of the
 * passphrase is always the least, so that what lies behind it is reached. */
#include <assert.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "sitting/locked.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

static const char phrase[] = "seven geese over the pond";
static const struct phrase_cost least = {1, 8};
enum { COST_AT = 19 }; /* behind "barwright locked 1" and LF */

static void open_any(const uint8_t *data, size_t size)
{
	static const unsigned char cost[8] = {1, 0, 0, 0, 8, 0, 0, 0};
	struct arena a = {0};
	char *bytes = malloc(size + 1), *out;
	size_t len;
	const char *why = NULL;
	assert(bytes);
	memcpy(bytes, data, size);
	if (size >= COST_AT + sizeof cost)
		memcpy(bytes + COST_AT, cost, sizeof cost);
	enum bad code = locked_open(bytes, size, phrase, &a, &out, &len, &why);
	assert(code == BAD_MEMORY || !code || (why && *why));
	free(bytes);
	arena_release(&a);
}

static void change_one(const uint8_t *data, size_t size)
{
	struct arena a = {0};
	char *locked, *out;
	size_t len, back;
	const char *why;
	unsigned at = data[0] * 256u + data[1];
	if (locked_make((const char *)data + 3, size - 3, phrase, &least, &a, &locked, &len))
		return;
	assert(locked_is(locked, len));
	assert(locked_open(locked, len, phrase, &a, &out, &back, &why) == FINE);
	assert(back == size - 3 && memcmp(out, data + 3, back) == 0);
	assert(locked_open(locked, at % len, phrase, &a, &out, &back, &why) != FINE);
	assert(locked_open(locked, len, "another one altogether", &a, &out, &back, &why) != FINE);
	if (at % len < COST_AT || at % len >= COST_AT + 8) { /* a dear cost is only slow */
		locked[at % len] ^= (char)(1 << data[2] % 8);
		assert(locked_open(locked, len, phrase, &a, &out, &back, &why) != FINE);
	}
	arena_release(&a);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
	if (size < 4 || cipher_start())
		return 0;
	if (data[0] % 2)
		change_one(data + 1, size - 1);
	else
		open_any(data + 1, size - 1);
	return 0;
}
