/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/void.h>

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/strand.h>

#include "record/body.h"
#include "record/branch.h"
#include "record/notes.h"

/* ---- reading --------------------------------------------------------------------------------- */

struct reading {
	char machine[KEY_ID + 1]; /* of the list that is being read */
	const struct key_ring *accepted;
	struct arena *a;
	struct void_notes *out;
};

static enum bad take_note(void *context, const struct strand_line *line)
{
	struct reading *r = context;
	if (line->n == 0)
		memcpy(r->machine, line->key, sizeof r->machine);
	struct body b = body_of(line, "void", r->a);
	if (b.bad)
		return FINE;
	struct void_note *v = arena_new(r->a, struct void_note);
	if (!v)
		return BAD_MEMORY;
	*v = (struct void_note){.because = body_text(&b, "because"),
		.size = body_count(&b, "size"),
		.strand = body_text(&b, "strand")};
	body_hex(&b, "head", v->head.byte, HASH_BYTES);
	if (b.bad || !v->size)
		return b.bad == BAD_MEMORY ? BAD_MEMORY : FINE;
	/* a machine that is trusted with erasures decides nothing */
	const struct key_known *by =
		strcmp(line->key, r->machine) ? key_find(r->accepted, line->key) : NULL;
	if (!by) {
		r->out->nstranger++;
		return FINE;
	}
	v->by = by->name;
	v->next = r->out->first;
	r->out->first = v;
	r->out->n++;
	return FINE;
}

enum bad void_notes_read(
	const char *data, const struct key_ring *accepted, struct arena *a, struct void_notes *out)
{
	struct reading r = {.accepted = accepted, .a = a, .out = out};
	*out = (struct void_notes){0};
	return notes_read(data, accepted, a, take_note, &r);
}

const struct void_note *void_note_on(
	const struct void_notes *v, uint64_t n, const struct hash *line)
{
	for (const struct void_note *i = v->first; i; i = i->next)
		if (i->size == n + 1 && hash_is_equal(&i->head, line))
			return i;
	return NULL;
}

/* ---- writing --------------------------------------------------------------------------------- */

static enum bad append(struct strand *s, const struct branch *b, const char *because,
	const struct sign_pair *assessor)
{
	size_t len;
	struct pen p = body_begin(strand_scratch(s), CHAIN_BODY_MOST);
	body_put_hex(&p, "assessor_pk", assessor->open, SIGN_PUBLIC);
	body_put_text(&p, "because", because);
	body_put_hex(&p, "head", b->line[b->n - 1].hash.byte, HASH_BYTES);
	body_put_count(&p, "size", b->n);
	body_put_text(&p, "strand", b->strand);
	enum bad code = body_finish(&p, &len);
	return code ? code : strand_append_by(s, assessor, "void", strand_scratch(s), len);
}

enum bad void_history(const char *data, const char *path, const char *because,
	const struct sign_pair *machine, const struct sign_pair *assessor, struct text *why)
{
	struct arena a = {0};
	struct source *source;
	struct branch b;
	struct strand *s;
	const char *at = path;
	enum bad code = *because ? cipher_start() : BAD_MISSING;
	if (!code)
		code = strand_load(path, &a, &source);
	if (!code)
		code = branch_read(source, &a, &b);
	if (!code)
		code = notes_open(data, machine, &a, &s, &at);
	if (!code) {
		code = append(s, &b, because, assessor);
		strand_close(s);
	}
	if (code && why)
		file_words(code, at, why);
	arena_release(&a);
	return code;
}
