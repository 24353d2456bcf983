/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course/claims.h"

#include <stdbool.h>
#include <string.h>

/* FNV-1a, 32 bits (G. Fowler, L. C. Noll, K.-P. Vo, 1991). */
static uint32_t hashed(enum claim_kind kind, const char *code)
{
	uint32_t h = 2166136261U ^ (uint32_t)kind;
	for (; *code; code++)
		h = (h ^ (unsigned char)*code) * 16777619U;
	return h;
}

static bool is_same(const struct claim *a, const struct claim *b)
{
	return a->hash == b->hash && a->kind == b->kind && strcmp(a->code, b->code) == 0;
}

/* Where a claim stands, or the free slot where it would go; room is above 0 and some slot is free. */
static struct claim *slot_of(const struct claims *s, const struct claim *wanted)
{
	size_t i = wanted->hash & (s->room - 1);
	while (s->slot[i].kind && !is_same(&s->slot[i], wanted))
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
			*slot_of(&larger, &s->slot[i]) = s->slot[i];
	*s = larger;
	return FINE;
}

enum bad claims_add(struct arena *a, struct claims *s, enum claim_kind kind, const char *code,
	struct place place, struct place *first)
{
	struct claim claim = {kind, hashed(kind, code), code, place};
	if (4 * (s->n + 1) > 3 * s->room && grow(a, s))
		return BAD_MEMORY;
	struct claim *slot = slot_of(s, &claim);
	if (slot->kind) {
		*first = slot->place;
		return BAD_REPEATED;
	}
	*slot = claim;
	s->n++;
	return FINE;
}

const struct claim *claims_find(const struct claims *s, enum claim_kind kind, const char *code)
{
	const struct claim wanted = {.kind = kind, .hash = hashed(kind, code), .code = code};
	const struct claim *slot = s->room ? slot_of(s, &wanted) : NULL;
	return slot && slot->kind ? slot : NULL;
}
