/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A strand as a list of lines, and putting several copies of it together. */
#ifndef BARWRIGHT_RECORD_BRANCH_H
#define BARWRIGHT_RECORD_BRANCH_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/cipher.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/chain.h>

struct branch_line {
	const char *at; /* without LF, in somebody's bytes */
	size_t len;
	struct hash hash;
	bool erased;
};

/* One history: the good lines of a file from its first on. */
struct branch {
	const struct source *source;
	struct branch_line *line;
	uint64_t n;
	bool is_changed; /* other lines than in the source */
	char strand[CHAIN_NAME + 1];
	char who[CHAIN_NAME + 1];
	enum bad fault;       /* FINE, or what is the matter with line n */
	uint64_t trustworthy; /* lines whose signatures hold too; worked out when needed */
	bool is_tried;
};

/* Checks frame, hash, order, strand of every line, not signatures. BAD_MEMORY, BAD_SYNTAX: not one
 * line of a strand. A fault further on is in out->fault. Lines in `a`. */
enum bad branch_read(const struct source *s, struct arena *a, struct branch *out);
/* Lines both begin with: those of equal hash. */
uint64_t branch_shared(const struct branch *a, const struct branch *b);
/* Gives both the same form of the lines they share: a payload rather than none, and the signature that
 * holds where they differ in that. New forms in `mem`. */
enum bad branch_agree(struct branch *a, struct branch *b, struct arena *mem);
/* Takes the payloads out of the first `upto` lines, where they are not spared; how many. Null lines
 * are written in `a`. */
enum bad branch_erase(struct branch *b, uint64_t upto, struct arena *a, uint64_t *lines);
/* The first n lines as they go into a file. */
void branch_write(const struct branch *b, uint64_t n, struct text *out);

#endif
