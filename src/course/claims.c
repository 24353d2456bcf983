/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course/claims.h"

#include <stdint.h>
#include <string.h>

/* FNV-1a, 32 bits (G. Fowler, L. C. Noll, K.-P. Vo, 1991). */
static size_t hashed(enum claim_kind kind, const char *code)
{
	uint32_t h = 2166136261U ^ (uint32_t)kind;
	for (; *code; code++)
		h = (h ^ (unsigned char)*code) * 16777619U;
	return h;
}

/* The slot of a code, or the free one where it would go; room is above 0 and some slot is free. */
static struct claim *slot_of(const struct claims *s, enum claim_kind kind, const char *code)
{
	size_t i = hashed(kind, code) & (s->room - 1);
	while (s->slot[i].kind && (s->slot[i].kind != kind || strcmp(s->slot[i].code, code) != 0))
		i = (i + 1) & (s->room - 1);
	return &s->slot[i];
}

static enum bad grow(struct arena *a, struct claims *s)
{
	struct claims larger = {.n = s->n, .room = s->room ? 2 * s->room : 64};
	larger.slot = arena_many(a, larger.room, struct claim);
	if (!larger.slot)
		return BAD_MEMORY;
	for (size_t i = 0; i < s->room; i++)
		if (s->slot[i].kind)
			*slot_of(&larger, s->slot[i].kind, s->slot[i].code) = s->slot[i];
	*s = larger;
	return FINE;
}

enum bad claims_add(struct arena *a, struct claims *s, enum claim_kind kind, const char *code,
	struct place place, struct place *first)
{
	if (4 * (s->n + 1) > 3 * s->room && grow(a, s))
		return BAD_MEMORY;
	struct claim *slot = slot_of(s, kind, code);
	if (slot->kind) {
		*first = slot->place;
		return BAD_REPEATED;
	}
	*slot = (struct claim){kind, code, place};
	s->n++;
	return FINE;
}

const struct claim *claims_find(const struct claims *s, enum claim_kind kind, const char *code)
{
	const struct claim *slot = s->room ? slot_of(s, kind, code) : NULL;
	return slot && slot->kind ? slot : NULL;
}
