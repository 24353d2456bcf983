/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Is a result a whole number, whatever the values? Seen from the formula, not from numbers. */
#include <math.h>
#include <string.h>

#include "formula/code.h"

static bool is_whole(const struct node *n, const bool *whole);

static bool are_whole(const struct node *first, const bool *whole)
{
	for (const struct node *o = first; o; o = o->next)
		if (!is_whole(o, whole))
			return false;
	return true;
}

static bool is_among(const char *name, const char *const *names, size_t n)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(names[i], name) == 0)
			return true;
	return false;
}

/* Functions that give nothing but whole numbers, and those that do when they are given such. */
static bool call_is_whole(const struct node *n, const bool *whole)
{
	static const char *const always[] = {"floor", "ceiling", "count", "how_many_below",
		"how_many_up_to", "how_many_from", "how_many_above"};
	static const char *const given[] = {"round", "abs", "min", "max", "sum", "at", "without"};
	const char *name = n->function->name;
	return is_among(name, always, sizeof always / sizeof *always) ||
	       (n->n == 1 && strcmp(name, "round") == 0) ||
	       (is_among(name, given, sizeof given / sizeof *given) && are_whole(n->first, whole));
}

static bool power_is_whole(const struct node *n, const bool *whole)
{
	return n->last->constant && n->last->value >= 0 && are_whole(n->first, whole);
}

static bool is_whole(const struct node *n, const bool *whole)
{
	switch (n->kind) {
	case NODE_NUMBER:
		return !n->number->unit_len && n->value == floor(n->value);
	case NODE_NAME:
		return whole && whole[n->slot];
	case NODE_LOCAL:
		return is_whole(n->local, whole);
	case NODE_LET:
		return is_whole(n->last, whole);
	case NODE_PREFIX:
		return n->op == OP_NEGATE && is_whole(n->first, whole);
	case NODE_BINARY:
		return n->op == OP_POWER ? power_is_whole(n, whole)
					 : n->op >= OP_ADD && n->op <= OP_MULTIPLY &&
						   are_whole(n->first, whole);
	case NODE_IF:
		return are_whole(n->first->next, whole);
	case NODE_LIST:
		return are_whole(n->first, whole);
	case NODE_CALL:
		return call_is_whole(n, whole);
	default:
		return false;
	}
}

bool formula_is_whole(const struct formula *f, const bool *whole)
{
	return dim_is_none(f->result.dim) && f->result.kind != FORMULA_TRUTH &&
	       is_whole(f->tree.top, whole);
}
