/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bodies of lines, written member by member into room given by somebody, and read back: what lines.c
 * and its neighbours are made of. Members are written in the order of their names. */
#ifndef BARWRIGHT_RECORD_BODY_H
#define BARWRIGHT_RECORD_BODY_H

#include <barwright/record/chain.h>

#include "record/canon.h"

struct pen body_begin(char *out, size_t room);
void body_put_text(struct pen *p, const char *name, const char *value);
void body_put_count(struct pen *p, const char *name, uint64_t value);
void body_put_hex(struct pen *p, const char *name, const unsigned char *bytes, size_t n);
/* What went wrong first, or FINE and the length. */
enum bad body_finish(struct pen *p, size_t *len);

/* A body being read: the first thing that goes wrong is kept. BAD_TYPE: a line of another kind, or
 * erased; BAD_MISSING: a member is not there or not of its type. */
enum { BODY_MEMBERS = 32 };
struct body {
	struct slice all;
	struct arena *a;
	enum bad bad;
	/* the first members, found once */
	struct slice name[BODY_MEMBERS], value[BODY_MEMBERS];
	size_t n;
};
struct body body_of(const struct strand_line *line, const char *kind, struct arena *a);
bool body_has(const struct body *b, const char *name);
const char *body_text(struct body *b, const char *name); /* in b->a; "" when it went wrong */
uint64_t body_count(struct body *b, const char *name);
void body_hex(struct body *b, const char *name, unsigned char *out, size_t n);

#endif
