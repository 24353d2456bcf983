/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The order of an erasure, so that a stop between any two steps is made good by running it again: the
 * note of each strand; the strands; the pieces beside them; and, when all of that is done, the row. */
#include <barwright/record/erase.h>

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/learner.h>
#include <barwright/record/lines.h>

#include "record/body.h"
#include "record/guard.h"
#include "record/notes.h"

static bool is_null(const struct chain_slice *s)
{
	return s->payload_len == 4 && memcmp(s->payload, "null", 4) == 0;
}

bool erase_spares(const struct chain_slice *line)
{
	static const char *const kind[] = {"open", "recovered", "seal", "erasure"};
	bool spared = is_null(line);
	for (size_t i = 0; i < sizeof kind / sizeof *kind; i++)
		spared = spared || chain_kind_is(line, kind[i]);
	return spared;
}

/* ---- one strand ------------------------------------------------------------------------------ */

void erase_text(const struct source *s, uint64_t upto, struct text *out, uint64_t *lines)
{
	const char *at = s->text, *end = at + s->len, *stop;
	uint64_t n = 0, gone = 0;
	for (; at < end && (stop = memchr(at, '\n', (size_t)(end - at))); at = stop + 1, n++) {
		struct chain_slice slice;
		if (chain_slice(at, (size_t)(stop - at), &slice))
			continue;
		if (n >= upto || erase_spares(&slice)) {
			text_add_bytes(out, at, (size_t)(stop + 1 - at));
			continue;
		}
		text_add(out, "[null");
		text_add_bytes(out, slice.payload + slice.payload_len, CHAIN_SUFFIX + 1);
		gone++;
	}
	*lines = gone;
}

/* ---- notes ----------------------------------------------------------------------------------- */

struct reading {
	const struct key_ring *accepted;
	struct arena *a;
	struct erasures *out;
};

static enum bad take_note(void *context, const struct strand_line *line)
{
	struct reading *r = context;
	struct body b = body_of(line, "erasure", r->a);
	if (b.bad)
		return FINE;
	struct erasure *e = arena_new(r->a, struct erasure);
	if (!e)
		return BAD_MEMORY;
	*e = (struct erasure){.size = body_count(&b, "size"),
		.strand = body_text(&b, "strand"),
		.who = body_text(&b, "who")};
	if (b.bad)
		return b.bad == BAD_MEMORY ? BAD_MEMORY : FINE;
	const struct key_known *by = key_find(r->accepted, line->key);
	if (!by) {
		r->out->nstranger++;
		return FINE;
	}
	e->by = by->name;
	e->at_ms = line->at_ms;
	e->next = r->out->first;
	r->out->first = e;
	r->out->n++;
	return FINE;
}

enum bad erasures_read(
	const char *data, const struct key_ring *accepted, struct arena *a, struct erasures *out)
{
	struct reading r = {accepted, a, out};
	*out = (struct erasures){0};
	return notes_read(data, accepted, a, take_note, &r);
}

const struct erasure *erasure_of(const struct erasures *e, const char *strand)
{
	const struct erasure *furthest = NULL;
	for (const struct erasure *i = e->first; i; i = i->next)
		if (strcmp(i->strand, strand) == 0 && (!furthest || i->size > furthest->size))
			furthest = i;
	return furthest;
}

uint64_t erasures_upto(const struct erasures *e, const char *strand)
{
	const struct erasure *furthest = erasure_of(e, strand);
	return furthest ? furthest->size : 0;
}

/* ---- a person -------------------------------------------------------------------------------- */

struct work {
	const char *data, *code;
	const struct erase_how *how;
	struct arena a;
	struct erasures noted;
	struct erase_sum sum;
	struct text *why;
};

static enum bad no(struct work *w, enum bad code, const char *path)
{
	if (code && w->why && !w->why->len)
		file_words(code, path, w->why);
	return code;
}

static enum bad note_append(struct work *w, struct strand *s, const char *strand, uint64_t size)
{
	const struct sign_pair *by = w->how->assessor;
	size_t len;
	struct pen p = body_begin(strand_scratch(s), CHAIN_BODY_MOST);
	if (by)
		body_put_hex(&p, "assessor_pk", by->open, SIGN_PUBLIC);
	body_put_count(&p, "size", size);
	body_put_text(&p, "strand", strand);
	body_put_text(&p, "who", w->code);
	enum bad code = body_finish(&p, &len);
	if (code)
		return code;
	return by ? strand_append_by(s, by, "erasure", strand_scratch(s), len)
		  : strand_append(s, "erasure", strand_scratch(s), len);
}

static enum bad note(struct work *w, const char *strand, uint64_t size)
{
	struct strand *s;
	const char *path;
	if (erasures_upto(&w->noted, strand) >= size)
		return FINE;
	enum bad code = notes_open(w->data, w->how->machine, &w->a, &s, &path);
	if (!code) {
		code = note_append(w, s, strand, size);
		strand_close(s);
	}
	return no(w, code, path);
}

static uint64_t count_lines(const struct source *s)
{
	const char *at = s->text, *end = at + s->len, *stop;
	uint64_t n = 0;
	for (; at < end && (stop = memchr(at, '\n', (size_t)(end - at))); at = stop + 1)
		n++;
	return n;
}

static enum bad write_erased(struct work *w, const char *path, const struct source *source)
{
	struct text t;
	uint64_t lines = 0;
	text_init(&t);
	erase_text(source, UINT64_MAX, &t, &lines);
	enum bad code = t.out ? BAD_MEMORY : FINE;
	if (!code && (t.len != source->len || lines))
		code = file_replace(path, t.at, t.len, true);
	if (!code)
		w->sum.lines += lines;
	text_release(&t);
	return code;
}

/* The file is locked. */
static enum bad replace(struct work *w, const char *path, const char *strand)
{
	struct arena a = {0};
	struct source *source;
	enum bad code = strand_load(path, &a, &source);
	if (!code)
		code = note(w, strand, count_lines(source));
	if (!code)
		code = write_erased(w, path, source);
	arena_release(&a);
	return code;
}

static enum bad take_first(void *context, const struct strand_line *line)
{
	*(struct strand_line *)context = *line;
	return BAD_STOPPED;
}

/* Whose strand is it? By its first line, which is never erased. *ours; FINE also for a file that cannot
 * be read, which is nobody's. */
static enum bad look_at(
	struct work *w, const char *path, char strand[static CHAIN_NAME + 1], bool *ours)
{
	struct arena a = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_line first = {0};
	struct strand_check check = {.hashes_only = true};
	enum bad code = strand_load(path, &a, &source);
	if (!code)
		code = strand_read(source, &check, take_first, &first, &sum, NULL);
	*ours = code == BAD_STOPPED && strcmp(first.who, w->code) == 0;
	if (*ours)
		memcpy(strand, first.strand, sizeof first.strand);
	arena_release(&a);
	return code == BAD_MEMORY ? code : FINE;
}

static bool is_strand_file(const struct folder_entry *e)
{
	return e->kind == FILE_PLAIN && strand_is_file_name(e->name);
}

static bool begins_with(const char *s, const char *start)
{
	return strncmp(s, start, strlen(start)) == 0;
}

/* Torn pieces. What replacements that were interrupted left went when the lock was taken. */
static bool is_piece(const char *name, const char *strand)
{
	size_t n = strlen(strand);
	return begins_with(name, strand) && begins_with(name + n, ".torn-");
}

static enum bad remove_pieces(struct work *w, const char *folder, const struct folder_entry *list,
	size_t n, const char *strand)
{
	enum bad code = FINE;
	size_t gone = 0;
	for (size_t i = 0; !code && i < n; i++) {
		if (list[i].kind != FILE_PLAIN || !is_piece(list[i].name, strand))
			continue;
		const char *path = folder_join(&w->a, folder, list[i].name);
		code = path ? file_remove(path) : BAD_MEMORY;
		gone += code == FINE;
		if (code == BAD_ABSENT)
			code = FINE;
	}
	w->sum.pieces += gone;
	return gone && !code ? folder_sync(folder) : code;
}

static enum bad erase_one(struct work *w, const char *path, const char *strand)
{
	struct file lock;
	enum bad code = file_open(path, &lock);
	if (!code) {
		code = replace(w, path, strand);
		file_close(&lock);
	}
	w->sum.strands += code == FINE;
	return no(w, code, path);
}

static enum bad erase_folder(struct work *w, const char *name)
{
	struct folder_entry *list = NULL;
	size_t n = 0;
	const char *folder = folder_join(&w->a, w->data, name);
	enum bad code = folder ? folder_list(folder, &w->a, &list, &n) : BAD_MEMORY;
	if (code == BAD_ABSENT)
		return FINE;
	for (size_t i = 0; !code && i < n; i++) {
		const char *path = folder_join(&w->a, folder, list[i].name);
		char strand[CHAIN_NAME + 1];
		bool ours = false;
		if (!path)
			return BAD_MEMORY;
		if (is_strand_file(&list[i]))
			code = look_at(w, path, strand, &ours);
		if (ours && !code)
			code = erase_one(w, path, strand);
		if (ours && !code)
			code = remove_pieces(w, folder, list, n, strand);
	}
	return code ? no(w, code, folder ? folder : name) : FINE;
}

static enum bad erase_row(struct work *w)
{
	enum bad code = learner_remove(w->data, w->code, w->why);
	w->sum.row = code == FINE;
	return code == BAD_UNKNOWN ? FINE : code;
}

static enum bad erase_all(struct work *w)
{
	struct key_known own = {.name = "this machine"}, by = {.name = "assessor"};
	struct key_known both[2];
	memcpy(own.open, w->how->machine->open, SIGN_PUBLIC);
	if (w->how->assessor)
		memcpy(by.open, w->how->assessor->open, SIGN_PUBLIC);
	both[0] = own;
	both[1] = by;
	/* notes that only the machine signed do not count where the assessor is to sign */
	struct key_ring ring = {w->how->assessor ? both + 1 : both, 1};
	enum bad code = erasures_read(w->data, &ring, &w->a, &w->noted);
	if (code)
		return no(w, code, w->data);
	code = erase_folder(w, "strands");
	if (!code)
		code = erase_folder(w, "forks");
	if (!code)
		code = erase_row(w);
	if (!code && !w->sum.strands && !w->sum.row)
		return BAD_UNKNOWN;
	return code;
}

enum bad erase_learner(const char *data, const char *code, const struct erase_how *how,
	struct erase_sum *out, struct text *why)
{
	struct work w = {.data = data, .code = code, .how = how, .why = why};
	struct file lock = {.fd = -1};
	enum bad bad = cipher_start();
	if (!bad)
		bad = no(&w, guard_strands(data, &lock), data);
	if (!bad)
		bad = erase_all(&w);
	file_close(&lock);
	if (bad == BAD_UNKNOWN && why && !why->len)
		text_addf(why, "%s: nothing is recorded under this code here", code);
	if (bad && why && !why->len)
		text_add(why, bad_text(bad));
	arena_release(&w.a);
	if (!bad)
		*out = w.sum;
	return bad;
}
