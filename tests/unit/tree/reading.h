/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the tree share: a text read with its diags, and a comparison of what they say. */
#ifndef BARWRIGHT_TESTS_READING_H
#define BARWRIGHT_TESTS_READING_H

#include "near.h"
#include "told.h"

#include <string.h>

#include "tree/tree.h"

struct reading {
	struct arena arena;
	struct source source;
	struct diags d;
	struct tree *tree; /* null when nothing was given */
	enum bad code;
};

/* The text must stay; `r` must not move. */
static inline void read_bytes(struct reading *r, const char *text, size_t len)
{
	*r = (struct reading){.source = {"x.yaml", text, len}};
	r->d.arena = &r->arena;
	r->code = tree_read(&r->arena, &r->source, &r->d, &r->tree);
}

static inline void read_text(struct reading *r, const char *text)
{
	read_bytes(r, text, strlen(text));
}

static inline void reading_end(struct reading *r)
{
	arena_release(&r->arena);
}

#endif
