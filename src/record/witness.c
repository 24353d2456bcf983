/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/witness.h>

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/lines.h>

#include "record/body.h"

static const char who[] = "witness";

/* ---- reading --------------------------------------------------------------------------------- */

struct reading {
	const char *path;
	const struct key_ring *ring;
	struct arena *a;
	struct witnesses *out;
	bool is_list, is_stranger;
};

static enum bad take(struct reading *r, const struct strand_line *line)
{
	struct body b = body_of(line, "witness", r->a);
	struct witness *w = arena_new(r->a, struct witness);
	if (!w)
		return BAD_MEMORY;
	w->path = r->path;
	body_hex(&b, "head", w->head.byte, HASH_BYTES);
	body_hex(&b, "root", w->root.byte, HASH_BYTES);
	w->sitting = body_text(&b, "sitting");
	w->size = body_count(&b, "size");
	w->strand = body_text(&b, "strand");
	if (b.bad)
		return b.bad == BAD_MEMORY ? BAD_MEMORY : FINE;
	const struct key_known *by = key_find(r->ring, line->key);
	w->by = by ? by->name : "";
	r->is_stranger = !by;
	memcpy(w->key, line->key, sizeof w->key);
	if (r->out->last)
		r->out->last->next = w;
	else
		r->out->first = w;
	r->out->last = w;
	r->out->n++;
	return FINE;
}

static enum bad on_line(void *context, const struct strand_line *line)
{
	struct reading *r = context;
	if (strcmp(line->who, who) != 0)
		return BAD_TYPE;
	r->is_list = true;
	return strcmp(line->kind, "witness") == 0 ? take(r, line) : FINE;
}

static enum bad not_a_list(struct diags *d, const struct source *s)
{
	if (d) {
		diag_error(d, BAD_TYPE, (struct place){s, 0, 0}, 1, "this is not a witness list");
		diag_hint(d, "name the file that \"barwright record seal --witness\" was given");
	}
	return BAD_TYPE;
}

enum bad witness_read(const char *path, const struct key_ring *ring, struct arena *a,
	struct witnesses *out, struct diags *d)
{
	struct reading r = {.ring = ring, .a = a, .out = out};
	struct source *source;
	struct strand_sum sum;
	struct strand_check check = {.known = ring};
	r.path = arena_copy(a, path, strlen(path));
	enum bad code = r.path ? strand_load(path, a, &source) : BAD_MEMORY;
	if (code)
		return code;
	code = strand_read(source, &check, on_line, &r, &sum, d);
	if (code == BAD_TORN)
		code = FINE;
	if (code == BAD_TYPE || (!code && !r.is_list))
		return not_a_list(d, source);
	out->nlist++;
	out->nstranger += r.is_stranger;
	return code;
}

/* ---- writing --------------------------------------------------------------------------------- */

static bool is_noted(const struct witnesses *list, const char *strand, const struct line_seal *seal)
{
	for (const struct witness *w = list->first; w; w = w->next)
		if (strcmp(w->strand, strand) == 0 && w->size == seal->size &&
			hash_is_equal(&w->root, &seal->root))
			return true;
	return false;
}

static enum bad append(struct strand *s, const char *strand, const struct line_seal *seal)
{
	size_t len;
	struct pen p = body_begin(strand_scratch(s), CHAIN_BODY_MOST);
	body_put_hex(&p, "head", seal->head.byte, HASH_BYTES);
	body_put_hex(&p, "root", seal->root.byte, HASH_BYTES);
	body_put_text(&p, "sitting", seal->sitting);
	body_put_count(&p, "size", seal->size);
	body_put_text(&p, "strand", strand);
	enum bad code = body_finish(&p, &len);
	return code ? code : strand_append(s, "witness", strand_scratch(s), len);
}

/* The list is open and locked. */
static enum bad note(struct strand *s, const char *strand, const struct line_seal *seal)
{
	static const struct line_open first = {.mode = "witness", .program = "barwright"};
	struct arena a = {0};
	struct witnesses list = {0};
	enum bad code = FINE;
	if (strand_count(s))
		code = witness_read(strand_own_path(s), NULL, &a, &list, NULL);
	else
		code = line_open_append(s, &first);
	if (!code && !is_noted(&list, strand, seal))
		code = append(s, strand, seal);
	arena_release(&a);
	return code;
}

enum bad witness_add(const char *path, const struct sign_pair *pair, const char *strand,
	const struct line_seal *seal, struct text *why)
{
	struct strand *s;
	enum bad code = strand_open_at(path, who, pair, &s, why);
	if (code)
		return code;
	code = note(s, strand, seal);
	if (code && why) {
		file_words(code, path, why);
		text_add(why, "; the witness list was not written");
	}
	strand_close(s);
	return code;
}
