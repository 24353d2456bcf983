/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/branch.h"

#include <string.h>

#include <barwright/record/erase.h>
#include <barwright/record/strand.h>

/* ---- reading --------------------------------------------------------------------------------- */

static uint64_t count_lines(const struct source *s)
{
	uint64_t n = 0;
	const char *at = s->text, *end = at + s->len;
	while (at < end && (at = memchr(at, '\n', (size_t)(end - at)))) {
		at++;
		n++;
	}
	return n;
}

/* The members that gathering needs: the chain's own, behind kind, in fixed order and form. A payload
 * whose hash fits was written by this program or is a forgery that `audit` finds. */
static enum bad take_payload(
	struct branch *b, const struct chain_slice *slice, const struct hash *hash)
{
	struct strand_line line = {.hash = *hash};
	size_t where;
	const char *words;
	enum bad code = chain_payload(slice, &line, &where, &words);
	if (code)
		return code;
	b->line[b->n].erased = line.erased;
	if (line.erased)
		return b->n ? FINE : BAD_SYNTAX;
	if (line.n != b->n || (b->n && !hash_is_equal(&line.prev, &b->line[b->n - 1].hash)))
		return BAD_CHAIN;
	if (*b->strand && (strcmp(line.strand, b->strand) || strcmp(line.who, b->who)))
		return BAD_CHAIN;
	memcpy(b->strand, line.strand, sizeof b->strand);
	memcpy(b->who, line.who, sizeof b->who);
	return FINE;
}

static enum bad take_line(struct branch *b, const char *at, size_t len)
{
	struct chain_slice slice;
	struct hash hash;
	if (len + 1 > CHAIN_LINE_MOST)
		return BAD_SIZE;
	enum bad code = chain_slice(at, len, &slice);
	if (!code)
		code = chain_hash(&slice, &hash);
	if (!code)
		code = take_payload(b, &slice, &hash);
	if (code)
		return code;
	b->line[b->n].at = at;
	b->line[b->n].len = len;
	b->line[b->n++].hash = hash;
	return FINE;
}

enum bad branch_read(const struct source *s, struct arena *a, struct branch *out)
{
	struct branch b = {.source = s};
	uint64_t most = count_lines(s);
	const char *at = s->text, *stop;
	b.line = arena_many(a, most + 1, struct branch_line);
	if (!b.line)
		return BAD_MEMORY;
	for (uint64_t i = 0; i < most && !b.fault; i++, at = stop + 1) {
		stop = memchr(at, '\n', s->len - (size_t)(at - s->text));
		b.fault = take_line(&b, at, (size_t)(stop - at));
	}
	if (!b.n)
		return b.fault == BAD_VERSION ? BAD_VERSION : BAD_SYNTAX;
	*out = b;
	return FINE;
}

/* ---- several copies -------------------------------------------------------------------------- */

uint64_t branch_shared(const struct branch *a, const struct branch *b)
{
	uint64_t n = 0;
	while (n < a->n && n < b->n && hash_is_equal(&a->line[n].hash, &b->line[n].hash))
		n++;
	return n;
}

static void try_signatures(struct branch *b)
{
	struct strand_sum sum = {0};
	if (b->is_tried)
		return;
	b->is_tried = true;
	if (strand_read(b->source, NULL, NULL, NULL, &sum, NULL) != BAD_MEMORY)
		b->trustworthy = sum.lines;
}

static const char *suffix(const struct branch_line *l)
{
	return l->at + l->len - CHAIN_SUFFIX;
}

/* Is a's signature of line n the better one? The answer must not depend on who is asked. */
static bool is_better(struct branch *a, struct branch *b, uint64_t n, int order)
{
	try_signatures(a);
	try_signatures(b);
	bool good = n < a->trustworthy;
	return good != (n < b->trustworthy) ? good : order < 0;
}

/* The line that has the payload of one and the signature of the other. */
static enum bad join(const struct branch_line *payload, const struct branch_line *signature,
	struct arena *a, struct branch_line *out)
{
	size_t n = payload->len - CHAIN_SUFFIX;
	char *text = arena_get(a, payload->len + 1);
	if (!text)
		return BAD_MEMORY;
	memcpy(text, payload->at, n);
	memcpy(text + n, suffix(signature), CHAIN_SUFFIX);
	*out = (struct branch_line){text, payload->len, payload->hash, payload->erased};
	return FINE;
}

/* What is as it should be stays where it is: unchanged lines stand one behind the other. */
static void set_line(struct branch *b, uint64_t n, const struct branch_line *to)
{
	struct branch_line *is = &b->line[n];
	if (is->len == to->len && memcmp(is->at, to->at, to->len) == 0)
		return;
	*is = *to;
	b->is_changed = true;
}

static enum bad agree_on(struct branch *a, struct branch *b, uint64_t n, struct arena *mem)
{
	const struct branch_line *x = &a->line[n], *y = &b->line[n];
	struct branch_line one;
	int order = memcmp(suffix(x), suffix(y), CHAIN_SUFFIX);
	bool a_signs = !order || is_better(a, b, n, order);
	enum bad code = join(x->erased ? y : x, a_signs ? x : y, mem, &one);
	if (code)
		return code;
	set_line(a, n, &one);
	set_line(b, n, &one);
	return FINE;
}

enum bad branch_agree(struct branch *a, struct branch *b, struct arena *mem)
{
	uint64_t n = branch_shared(a, b);
	enum bad code = FINE;
	for (uint64_t i = 0; i < n && !code; i++) {
		const struct branch_line *x = &a->line[i], *y = &b->line[i];
		if (x->len != y->len || memcmp(x->at, y->at, x->len) != 0)
			code = agree_on(a, b, i, mem);
	}
	return code;
}

static bool is_spared(const struct branch_line *l)
{
	struct chain_slice s;
	return chain_slice(l->at, l->len, &s) || erase_spares(&s);
}

enum bad branch_erase(struct branch *b, uint64_t upto, struct arena *a, uint64_t *lines)
{
	uint64_t gone = 0;
	for (uint64_t i = 0; i < b->n && i < upto; i++) {
		struct branch_line *l = &b->line[i];
		if (is_spared(l))
			continue;
		char *text = arena_format(a, "[null%.*s", CHAIN_SUFFIX, suffix(l));
		if (!text)
			return BAD_MEMORY;
		*l = (struct branch_line){text, 5 + CHAIN_SUFFIX, l->hash, true};
		b->is_changed = true;
		gone++;
	}
	*lines += gone;
	return FINE;
}

void branch_write(const struct branch *b, uint64_t n, struct text *out)
{
	if (!b->is_changed && n) { /* they stand one behind the other already */
		const char *end = b->line[n - 1].at + b->line[n - 1].len + 1;
		text_add_bytes(out, b->line[0].at, (size_t)(end - b->line[0].at));
		return;
	}
	for (uint64_t i = 0; i < n; i++) {
		text_add_bytes(out, b->line[i].at, b->line[i].len);
		text_add_char(out, '\n');
	}
}
