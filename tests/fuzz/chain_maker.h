/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chains for fuzz targets, in memory: right hashes, order and signatures around what the fuzzer wrote, so
 * that what lies behind those is reached. Not for strands that last: ids count up. */
#ifndef BARWRIGHT_TESTS_FUZZ_CHAIN_MAKER_H
#define BARWRIGHT_TESTS_FUZZ_CHAIN_MAKER_H

#include <assert.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/text.h>
#include <barwright/record/chain.h>

#include "record/canon.h"

struct chain_maker {
	struct sign_pair machine, assessor;
	struct hash head;
	uint64_t n;
	struct text text;
};

static inline void chain_begin(struct chain_maker *c)
{
	unsigned char seed[SIGN_SEED] = {1};
	*c = (struct chain_maker){0};
	sign_pair_from_seed(seed, &c->machine);
	seed[0] = 2;
	sign_pair_from_seed(seed, &c->assessor);
	text_init(&c->text);
}

/* A line, or nothing when its body is no canonical object. `kind` at most CHAIN_KIND. */
static inline bool chain_add(
	struct chain_maker *c, const char *kind, bool by_assessor, const char *body, size_t len)
{
	static char room[CHAIN_LINE_MOST];
	struct strand_line line = {.n = c->n,
		.prev = c->head,
		.at_ms = 1795599015000 + (int64_t)c->n,
		.boot_ms = (int64_t)c->n,
		.body = body,
		.body_len = len,
		.strand = "s-1",
		.who = "l-1"};
	size_t made;
	snprintf(line.kind, sizeof line.kind, "%s", kind);
	snprintf(line.id, sizeof line.id, "00000000-0000-4000-8000-%012llx",
		(unsigned long long)c->n);
	if (chain_line_write(
		    &line, by_assessor ? &c->assessor : &c->machine, room, sizeof room, &made))
		return false;
	text_add_bytes(&c->text, room, made);
	c->head = line.hash;
	c->n++;
	return true;
}

static inline void chain_open(struct chain_maker *c)
{
	char body[600];
	struct pen p = {body, 0, sizeof body, FINE};
	pen_raw(&p, "{");
	pen_member(&p, "machine_pk");
	pen_hex(&p, c->machine.open, SIGN_PUBLIC);
	pen_raw(&p, ",\"mode\":\"sit\",\"program\":\"x\",\"sitting\":\"0123456789abcdef\"}");
	assert(!p.bad && chain_add(c, "open", false, body, p.len));
}

static inline void chain_end(struct chain_maker *c)
{
	text_release(&c->text);
}

#endif
