/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tree/keys.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Up to here walking along the children is as fast as halving a sorted list. */
enum { SMALL_MAP = 16 };

static int key_order(const struct tree *t, const char *key, size_t len)
{
	if (t->key_len != len)
		return t->key_len < len ? -1 : 1;
	return memcmp(t->key, key, len);
}

/* Most keys of a map differ in length or first letter. */
static bool is_key(const struct tree *t, const char *key, size_t len)
{
	return t->key_len == len && *t->key == *key && memcmp(t->key, key, len) == 0;
}

static int place_order(struct place a, struct place b)
{
	if (a.line != b.line)
		return a.line < b.line ? -1 : 1;
	return a.col < b.col ? -1 : a.col > b.col;
}

/* Equal keys keep the order of the source. */
static int compare(const void *x, const void *y)
{
	const struct tree *a = *(struct tree *const *)x, *b = *(struct tree *const *)y;
	int order = key_order(a, b->key, b->key_len);
	return order ? order : place_order(a->key_place, b->key_place);
}

enum bad keys_sort(struct tree *t)
{
	if (!t->count || (t->kind == TREE_MAP && t->count <= SMALL_MAP))
		return FINE;
	struct tree **at = arena_many(t->arena, t->count, struct tree *);
	if (!at)
		return BAD_MEMORY;
	size_t n = 0;
	for (struct tree *child = t->first; child; child = child->next)
		at[n++] = child;
	if (t->kind == TREE_MAP)
		qsort(at, n, sizeof *at, compare);
	t->at = at;
	return FINE;
}

/* The lowest place in the sorted list whose key is not below the one wanted. */
static struct tree *find_sorted(const struct tree *map, const char *key, size_t len)
{
	size_t low = 0, high = map->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (key_order(map->at[middle], key, len) < 0)
			low = middle + 1;
		else
			high = middle;
	}
	if (low < map->count && key_order(map->at[low], key, len) == 0)
		return map->at[low];
	return NULL;
}

struct tree *keys_find(const struct tree *map, const char *key, size_t len)
{
	if (map->at)
		return find_sorted(map, key, len);
	struct tree *child = map->first;
	while (child && !is_key(child, key, len))
		child = child->next;
	return child;
}
