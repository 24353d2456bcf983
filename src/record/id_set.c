/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/id_set.h"

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>

static void value_of(const char *id, uint64_t out[2])
{
	unsigned char byte[16];
	char hex[32];
	size_t n = 0;
	for (size_t i = 0; id[i] && n < sizeof hex; i++)
		if (id[i] != '-')
			hex[n++] = id[i];
	memset(byte, 0, sizeof byte);
	hex_read(hex, n, byte, sizeof byte);
	memcpy(out, byte, sizeof byte);
}

/* Multiply and fold, with the random salt in it. */
static size_t place_of(const struct id_set *s, const uint64_t v[2])
{
	uint64_t h = (v[0] ^ s->salt) * UINT64_C(0x9E3779B97F4A7C15);
	h = (h ^ (h >> 29) ^ v[1]) * UINT64_C(0xBF58476D1CE4E5B9);
	h = (h ^ (h >> 32) ^ s->salt) * UINT64_C(0x94D049BB133111EB);
	return (size_t)(h >> 20) & (s->room - 1);
}

/* Where the value stands, or the free slot where it goes. */
static uint64_t *slot_of(const struct id_set *s, const uint64_t v[2])
{
	size_t i = place_of(s, v);
	while ((s->slot[i][0] || s->slot[i][1]) && (s->slot[i][0] != v[0] || s->slot[i][1] != v[1]))
		i = (i + 1) & (s->room - 1);
	return s->slot[i];
}

static enum bad grow(struct id_set *s)
{
	struct id_set wide = {.room = s->room ? s->room * 2 : 64, .n = s->n, .salt = s->salt};
	size_t size = wide.room * sizeof *wide.slot;
	wide.slot = mem_get(size);
	if (!wide.slot)
		return BAD_MEMORY;
	memset(wide.slot, 0, size);
	if (!s->room)
		random_bytes(&wide.salt, sizeof wide.salt);
	for (size_t i = 0; i < s->room; i++)
		if (s->slot[i][0] || s->slot[i][1])
			memcpy(slot_of(&wide, s->slot[i]), s->slot[i], sizeof s->slot[i]);
	mem_drop(s->slot);
	*s = wide;
	return FINE;
}

enum bad id_set_add(struct id_set *s, const char *id, bool *is_new)
{
	uint64_t v[2];
	if (s->n >= s->room / 2) {
		enum bad code = grow(s);
		if (code)
			return code;
	}
	value_of(id, v);
	uint64_t *slot = slot_of(s, v);
	*is_new = !slot[0] && !slot[1];
	if (*is_new) {
		memcpy(slot, v, sizeof v);
		s->n++;
	}
	return FINE;
}

void id_set_release(struct id_set *s)
{
	mem_drop(s->slot);
	*s = (struct id_set){0};
}
