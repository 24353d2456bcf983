/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The archive's files of one strand are worked out anew from all its histories each time something is
 * added: histories that are the beginning of another one vanish in it, and what is left is one file, or
 * the shared beginning and one file a fork. Forks are written before the shared beginning takes the
 * place of the one that held a whole history, and old forks go last: a stop in between loses nothing. */
#include <barwright/record/gather.h>

#include <inttypes.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/utf8.h>
#include <barwright/record/learner.h>

#include "record/branch.h"
#include "record/guard.h"
#include "tree/json.h"

enum { HISTORIES_MOST = 16, DEPTH_MOST = 8, FORK_HEX = 16 };

/* Where strands of a kind are kept. */
struct place_of {
	const char *whole, *forks;
};
static const struct place_of strands_place = {"strands", "forks"};
static const struct place_of erasures_place = {"erasures", "erasures"};

/* A file of the archive, as it is. */
struct kept {
	const char *path;
	struct source source;
};

/* One strand while something is added to it. */
struct one {
	struct gather *g;
	const struct place_of *place;
	const char *strand;
	struct arena a;
	struct kept kept[HISTORIES_MOST + 2];
	size_t nkept;
	struct branch history[HISTORIES_MOST + 1];
	size_t n, nopen; /* the first nopen may count, the others are void */
};

/* ---- remarks --------------------------------------------------------------------------------- */

static void remark(struct gather *g, const char *path, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/* One that finds no memory is counted only. */
static void remark(struct gather *g, const char *path, const char *format, ...)
{
	va_list args;
	if (g->nremark++ >= GATHER_REMARKS)
		return;
	struct gather_remark *r = arena_new(&g->mem, struct gather_remark);
	va_start(args, format);
	char *words = arena_vformat(&g->mem, format, args);
	va_end(args);
	char *where = arena_copy(&g->mem, path, strlen(path));
	if (!r || !words || !where)
		return;
	*r = (struct gather_remark){where, words, NULL};
	if (g->last)
		g->last->next = r;
	else
		g->first = r;
	g->last = r;
}

static enum bad no(struct text *why, enum bad code, const char *path)
{
	if (code && why && !why->len)
		file_words(code, path, why);
	return code;
}

/* ---- what the archive has -------------------------------------------------------------------- */

static char *whole_path(struct one *o)
{
	return arena_format(&o->a, "%s/%s/%s.jsonl", o->g->into, o->place->whole, o->strand);
}

static char *fork_path(struct one *o, const struct branch *b)
{
	char hex[HASH_HEX + 1];
	hash_hex(&b->line[b->n - 1].hash, hex);
	return arena_format(&o->a, "%s/%s/%s.%.*s.jsonl", o->g->into, o->place->forks, o->strand,
		FORK_HEX, hex);
}

static enum bad keep(struct one *o, const char *path)
{
	struct kept *k = &o->kept[o->nkept];
	char *text;
	if (!path)
		return BAD_MEMORY;
	if (o->nkept == HISTORIES_MOST + 2)
		return BAD_COUNT;
	enum bad code = file_read(path, STRAND_MOST, &o->a, &text, &k->source.len);
	if (code == BAD_ABSENT)
		return FINE;
	if (code)
		return code;
	k->path = k->source.name = path;
	k->source.text = text;
	o->nkept++;
	return FINE;
}

static bool is_fork_name(const char *name, const char *strand)
{
	size_t n = strlen(strand);
	if (strncmp(name, strand, n) != 0 || strlen(name) != n + 1 + FORK_HEX + 6)
		return false;
	return name[n] == '.' && strspn(name + n + 1, "0123456789abcdef") == FORK_HEX &&
	       strcmp(name + n + 1 + FORK_HEX, ".jsonl") == 0;
}

static enum bad keep_all(struct one *o)
{
	struct folder_entry *list = NULL;
	size_t n = 0;
	enum bad code = keep(o, whole_path(o));
	const char *folder = folder_join(&o->a, o->g->into, o->place->forks);
	if (!code && !folder)
		code = BAD_MEMORY;
	if (code || file_kind(folder) != FILE_FOLDER)
		return code;
	code = folder_list(folder, &o->a, &list, &n);
	for (size_t i = 0; !code && i < n; i++)
		if (is_fork_name(list[i].name, o->strand))
			code = keep(o, folder_join(&o->a, folder, list[i].name));
	return code;
}

/* ---- histories ------------------------------------------------------------------------------- */

static void drop_history(struct one *o, size_t i)
{
	o->history[i] = o->history[--o->n];
}

/* Adds one to those there are. BAD_COUNT: too many. */
static enum bad add_history(struct one *o, struct branch *b)
{
	for (size_t i = 0; i < o->n;) {
		struct branch *is = &o->history[i];
		uint64_t shared = branch_shared(is, b);
		enum bad code = branch_agree(is, b, &o->a);
		if (code)
			return code;
		if (shared == b->n)
			return FINE;
		if (shared == is->n)
			drop_history(o, i);
		else
			i++;
	}
	if (o->n == HISTORIES_MOST)
		return BAD_COUNT;
	o->history[o->n++] = *b;
	return FINE;
}

static int by_head(const struct branch *a, const struct branch *b)
{
	return memcmp(a->line[a->n - 1].hash.byte, b->line[b->n - 1].hash.byte, HASH_BYTES);
}

/* All of them the same form of what they share, in the order of their last hashes. */
static enum bad settle(struct one *o)
{
	enum bad code = FINE;
	for (int round = 0; round < 2; round++)
		for (size_t i = 0; i < o->n; i++)
			for (size_t j = i + 1; !code && j < o->n; j++)
				code = branch_agree(&o->history[i], &o->history[j], &o->a);
	for (size_t i = 1; i < o->n; i++)
		for (size_t j = i; j && by_head(&o->history[j - 1], &o->history[j]) > 0; j--) {
			struct branch b = o->history[j];
			o->history[j] = o->history[j - 1];
			o->history[j - 1] = b;
		}
	return code;
}

static bool is_void(const struct one *o, const struct branch *b)
{
	const struct void_notes *v = &o->g->voids;
	for (const struct void_note *i = v->first; i; i = i->next)
		if (i->size <= b->n && void_note_on(v, i->size - 1, &b->line[i->size - 1].hash))
			return true;
	return false;
}

/* Puts those that may count before the others. */
static void sort_void(struct one *o)
{
	o->nopen = 0;
	for (size_t i = 0; i < o->n; i++) {
		struct branch b = o->history[i];
		if (is_void(o, &b))
			continue;
		for (size_t j = i; j > o->nopen; j--)
			o->history[j] = o->history[j - 1];
		o->history[o->nopen++] = b;
	}
}

/* Lines known by place and hash. */
static uint64_t count_lines(const struct one *o)
{
	uint64_t sum = 0;
	for (size_t i = 0; i < o->n; i++) {
		uint64_t shared = 0;
		for (size_t j = 0; j < i; j++) {
			uint64_t n = branch_shared(&o->history[i], &o->history[j]);
			shared = n > shared ? n : shared;
		}
		sum += o->history[i].n - shared;
	}
	return sum;
}

static enum bad kept_histories(struct one *o)
{
	enum bad code = FINE;
	for (size_t i = 0; i < o->nkept && !code; i++) {
		struct branch b;
		code = branch_read(&o->kept[i].source, &o->a, &b);
		if (code == BAD_SYNTAX || code == BAD_VERSION) {
			remark(o->g, o->kept[i].path,
				"this file of the archive is no strand any more; it is replaced");
			code = FINE;
			continue;
		}
		if (!code)
			code = add_history(o, &b);
	}
	return code;
}

/* ---- writing --------------------------------------------------------------------------------- */

static const struct kept *find_kept(const struct one *o, const char *path)
{
	for (size_t i = 0; i < o->nkept; i++)
		if (strcmp(o->kept[i].path, path) == 0)
			return &o->kept[i];
	return NULL;
}

/* A strand that a program of this machine is writing is not taken from under its hands. */
static enum bad replace(const char *path, const char *bytes, size_t len, bool is_there)
{
	struct file lock = {.fd = -1};
	enum bad code = is_there ? file_open(path, &lock) : FINE;
	if (!code)
		code = file_replace(path, bytes, len, true);
	file_close(&lock);
	return code;
}

/* The first n lines of a history. */
static enum bad write_file(
	struct one *o, const char *path, const struct branch *b, uint64_t n, bool *changed)
{
	struct text t;
	if (!path)
		return BAD_MEMORY;
	const struct kept *old = find_kept(o, path);
	text_init(&t);
	const char *bytes = b->line[0].at;
	size_t len = (size_t)(b->line[n - 1].at + b->line[n - 1].len + 1 - bytes);
	if (b->is_changed) {
		branch_write(b, n, &t);
		bytes = t.at;
		len = t.len;
	}
	enum bad code = t.out ? BAD_MEMORY : FINE;
	if (!code && (!old || old->source.len != len || memcmp(old->source.text, bytes, len))) {
		code = replace(path, bytes, len, old != NULL);
		*changed = *changed || !code;
	}
	text_release(&t);
	return code;
}

/* The first history that has a file in forks: with one that counts, behind that one. */
static size_t first_fork(const struct one *o)
{
	return o->nopen == 1 ? 1 : 0;
}

static enum bad write_forks(struct one *o, bool *changed)
{
	const char *folder = folder_join(&o->a, o->g->into, o->place->forks);
	enum bad code = folder ? folder_make(folder) : BAD_MEMORY;
	for (size_t i = first_fork(o); i < o->n && !code; i++)
		code = write_file(
			o, fork_path(o, &o->history[i]), &o->history[i], o->history[i].n, changed);
	return code;
}

static uint64_t shared_by_open(const struct one *o)
{
	uint64_t shared = o->nopen ? o->history[0].n : 0;
	for (size_t i = 1; i < o->nopen; i++) {
		uint64_t n = branch_shared(&o->history[0], &o->history[i]);
		shared = n < shared ? n : shared;
	}
	return shared;
}

static bool is_wanted(struct one *o, const char *path)
{
	const char *whole = whole_path(o);
	if (whole && strcmp(path, whole) == 0)
		return shared_by_open(o) > 0;
	for (size_t i = first_fork(o); i < o->n; i++) {
		const char *fork = fork_path(o, &o->history[i]);
		if (!fork || strcmp(path, fork) == 0)
			return true;
	}
	return false;
}

static enum bad drop_old(struct one *o, bool *changed)
{
	enum bad code = FINE;
	for (size_t i = 0; i < o->nkept && !code; i++) {
		if (is_wanted(o, o->kept[i].path))
			continue;
		code = file_remove(o->kept[i].path);
		*changed = true;
	}
	return code;
}

static enum bad write_all(struct one *o, bool *changed)
{
	const char *folder = folder_join(&o->a, o->g->into, o->place->whole);
	enum bad code = folder ? folder_make(folder) : BAD_MEMORY;
	uint64_t shared = shared_by_open(o);
	if (!code && o->n > first_fork(o))
		code = write_forks(o, changed);
	if (!code && shared)
		code = write_file(o, whole_path(o), &o->history[0], shared, changed);
	return code ? code : drop_old(o, changed);
}

static enum bad erase_noted(struct one *o)
{
	uint64_t upto = erasures_upto(&o->g->erasures, o->strand);
	enum bad code = FINE;
	for (size_t i = 0; i < o->n && !code; i++)
		code = branch_erase(&o->history[i], upto, &o->a, &o->g->erased);
	return code;
}

/* ---- one strand ------------------------------------------------------------------------------ */

static enum bad merge(struct one *o, struct branch *b, bool *changed)
{
	enum bad code = kept_histories(o);
	uint64_t before = count_lines(o);
	if (!code)
		code = add_history(o, b);
	if (!code)
		code = settle(o);
	if (!code)
		sort_void(o);
	uint64_t after = count_lines(o), erased = o->g->erased;
	if (!code)
		code = erase_noted(o);
	if (!code)
		code = write_all(o, changed);
	if (code) {
		o->g->erased = erased;
		return code;
	}
	o->g->lines += after - before;
	if (o->nopen > 1) {
		o->g->forks++;
		remark(o->g, b->source->name,
			"strand %s has %zu histories that do not go together: its disk was rolled "
			"back, or it was begun anew; each is kept in forks. Which of them does not "
			"count an assessor says with \"barwright record void\"",
			o->strand, o->nopen);
	}
	return FINE;
}

static bool is_all_there(const struct one *o, const struct source *s)
{
	return o->nkept && o->kept[0].source.len == s->len &&
	       memcmp(o->kept[0].source.text, s->text, s->len) == 0 &&
	       erasures_upto(&o->g->erasures, o->strand) == 0;
}

static void tell_fault(struct gather *g, const struct branch *b)
{
	const struct branch_line *last = &b->line[b->n - 1];
	size_t used = (size_t)(last->at + last->len + 1 - b->source->text);
	if (b->fault) {
		g->faulty++;
		remark(g, b->source->name, "line %" PRIu64 ": %s; the lines before it were taken",
			b->n + 1, bad_text(b->fault));
	} else if (used < b->source->len) {
		remark(g, b->source->name,
			"its last line is not complete and was left where it is");
	}
}

static enum bad add_to_archive(struct one *o, const struct source *s, bool *changed)
{
	struct branch b;
	enum bad code = keep_all(o);
	if (!code && is_all_there(o, s))
		return FINE;
	if (!code)
		code = branch_read(s, &o->a, &b);
	if (code)
		return code;
	tell_fault(o->g, &b);
	return merge(o, &b, changed);
}

/* ---- one file -------------------------------------------------------------------------------- */

/* Strand and learner of the first line; false: this is no strand. */
static bool names_of(const struct source *s, struct strand_line *line)
{
	struct chain_slice slice;
	size_t where;
	const char *words, *stop = memchr(s->text, '\n', s->len);
	*line = (struct strand_line){0};
	return stop && chain_slice(s->text, (size_t)(stop - s->text), &slice) == FINE &&
	       chain_hash(&slice, &line->hash) == FINE &&
	       chain_payload(&slice, line, &where, &words) == FINE && !line->erased;
}

/* Is it the source that failed, not the archive? */
static enum bad source_failed(struct gather *g, const char *path, enum bad code)
{
	if (code == BAD_MEMORY)
		return code;
	g->unread++;
	remark(g, path, "could not be read: %s", file_advice(code));
	return FINE;
}

static enum bad sort_out(struct gather *g, const struct source *s, struct text *why)
{
	struct strand_line line;
	if (s->len == 0) { /* begun, and stopped before its first line */
		remark(g, s->name, "nothing is recorded in it yet");
		return FINE;
	}
	if (!names_of(s, &line)) {
		g->foreign++;
		remark(g, s->name, "this is no strand that this program knows; it was left alone");
		return FINE;
	}
	if (strcmp(line.who, "witness") == 0) {
		remark(g, s->name, "a witness list stays with its assessor; it was not taken");
		return FINE;
	}
	bool is_note = strcmp(line.who, "erasures") == 0, changed = false;
	struct one *o = arena_new(&g->mem, struct one);
	if (!o)
		return BAD_MEMORY;
	*o = (struct one){.g = g, .strand = line.strand};
	o->place = is_note ? &erasures_place : &strands_place;
	enum bad code = add_to_archive(o, s, &changed);
	arena_release(&o->a);
	if (code == BAD_BUSY || code == BAD_COUNT) {
		g->unread++;
		remark(g, s->name, "strand %s was not taken: %s", line.strand, bad_text(code));
		return FINE;
	}
	if (code)
		return no(why, code, g->into);
	g->files++;
	g->changed += changed;
	g->same += !changed;
	return FINE;
}

static enum bad take_file(struct gather *g, const char *path, struct text *why)
{
	struct source s = {path, NULL, 0};
	char *text;
	enum bad code = file_read(path, STRAND_MOST, NULL, &text, &s.len);
	if (code)
		return source_failed(g, path, code);
	s.text = text;
	code = sort_out(g, &s, why);
	mem_drop(text);
	return code;
}

/* A link on somebody's stick may lead to the whole machine, or round in a circle. */
static void pass_link(struct gather *g, const char *path, const struct folder_entry *e)
{
	if (e->kind != FILE_FOLDER && !strand_is_file_name(e->name))
		return;
	g->unread++;
	remark(g, path,
		"a symbolic link, which is not followed: name what it leads to, if that is "
		"to be gathered");
}

static enum bad take_folder(struct gather *g, const char *path, int depth, struct text *why)
{
	struct arena a = {0};
	struct folder_entry *list = NULL;
	size_t n = 0;
	enum bad code = folder_list(path, &a, &list, &n);
	if (code)
		code = source_failed(g, path, code);
	for (size_t i = 0; !code && i < n; i++) {
		const char *one = folder_join(&a, path, list[i].name);
		if (!one)
			code = BAD_MEMORY;
		else if (list[i].is_link)
			pass_link(g, one, &list[i]);
		else if (list[i].kind == FILE_FOLDER && depth < DEPTH_MOST)
			code = take_folder(g, one, depth + 1, why);
		else if (list[i].kind == FILE_PLAIN && strand_is_file_name(list[i].name))
			code = take_file(g, one, why);
	}
	arena_release(&a);
	return code;
}

/* ---- erasures -------------------------------------------------------------------------------- */

static enum bad erase_file(struct one *o, const struct kept *k, uint64_t upto)
{
	struct text t;
	uint64_t lines = 0;
	text_init(&t);
	erase_text(&k->source, upto, &t, &lines);
	enum bad code = t.out ? BAD_MEMORY : FINE;
	if (!code && lines)
		code = replace(k->path, t.at, t.len, true);
	if (!code)
		o->g->erased += lines;
	text_release(&t);
	return code;
}

/* What the notes say, done to what the archive has. */
static enum bad apply_note(struct gather *g, const struct erasure *e)
{
	struct one *o = arena_new(&g->mem, struct one);
	if (!o)
		return BAD_MEMORY;
	*o = (struct one){.g = g, .strand = e->strand, .place = &strands_place};
	enum bad code = chain_is_name(e->strand) ? keep_all(o) : FINE;
	for (size_t i = 0; i < o->nkept && !code; i++)
		code = erase_file(o, &o->kept[i], e->size);
	arena_release(&o->a);
	if (code == BAD_BUSY) {
		g->unread++;
		remark(g, e->strand, "is to be erased and in use: gather again");
		code = FINE;
	}
	if (code)
		return code;
	code = learner_remove(g->into, e->who, NULL);
	return code == BAD_UNKNOWN ? FINE : code;
}

/* The histories of a strand that was decided on take their places. */
static enum bad apply_void(struct gather *g, const struct void_note *v)
{
	bool changed = false;
	struct one *o = arena_new(&g->mem, struct one);
	if (!o)
		return BAD_MEMORY;
	*o = (struct one){.g = g, .strand = v->strand, .place = &strands_place};
	enum bad code = chain_is_name(v->strand) ? keep_all(o) : FINE;
	if (!code && o->nkept)
		code = kept_histories(o);
	if (!code && o->n)
		code = settle(o);
	if (!code && o->n) {
		sort_void(o);
		code = write_all(o, &changed);
		g->still_apart += o->nopen > 1;
	}
	arena_release(&o->a);
	if (code == BAD_BUSY) {
		g->unread++;
		remark(g, v->strand, "was decided on and is in use: gather again");
		code = FINE;
	}
	return code;
}

static enum bad apply_notes(struct gather *g)
{
	enum bad code = erasures_read(g->into, g->accepted, &g->mem, &g->erasures);
	if (!code)
		code = void_notes_read(g->into, g->accepted, &g->mem, &g->voids);
	for (const struct erasure *e = g->erasures.first; e && !code; e = e->next)
		code = apply_note(g, e);
	for (const struct void_note *v = g->voids.first; v && !code; v = v->next)
		code = apply_void(g, v);
	return code;
}

/* ---- all of it ------------------------------------------------------------------------------- */

enum bad gather_begin(
	struct gather *g, const char *into, const struct key_ring *accepted, struct text *why)
{
	*g = (struct gather){.accepted = accepted, .guard.fd = -1};
	enum bad code = cipher_start();
	g->into = arena_copy(&g->mem, into, strlen(into));
	if (!code)
		code = g->into ? folder_make(into) : BAD_MEMORY;
	if (!code)
		code = guard_strands(into, &g->guard);
	if (!code)
		code = erasures_read(into, accepted, &g->mem, &g->erasures);
	if (!code)
		code = void_notes_read(into, accepted, &g->mem, &g->voids);
	return no(why, code, into);
}

enum bad gather_notes(struct gather *g, struct text *why)
{
	return no(why, apply_notes(g), g->into);
}

enum bad gather_source(struct gather *g, const char *path, struct text *why)
{
	enum file_kind kind = file_kind(path);
	enum bad code = kind == FILE_NONE     ? source_failed(g, path, BAD_ABSENT)
			: kind == FILE_FOLDER ? take_folder(g, path, 0, why)
					      : take_file(g, path, why);
	if (!code)
		code = apply_notes(g);
	return no(why, code, g->into);
}

static bool is_erased(const struct gather *g, const char *who)
{
	const struct erasure *e = g->erasures.first;
	while (e && strcmp(e->who, who) != 0)
		e = e->next;
	return e != NULL;
}

static enum bad take_name(
	struct gather *g, const char *folder, const struct learner_row *row, struct text *why)
{
	const char *is = "";
	if (!*row->name || is_erased(g, row->code))
		return FINE;
	enum bad code = learner_add(g->into, row->code, row->name, why);
	if (code == FINE)
		g->names++;
	if (code != BAD_REPEATED)
		return code;
	code = learner_name(g->into, row->code, &g->mem, &is);
	if (!code && strcmp(is, row->name) != 0)
		remark(g, folder, "%s is %s there and %s here; the archive's name stays", row->code,
			row->name, is);
	return code;
}

/* What the list there says to be one person is one here too. */
static enum bad take_join(struct gather *g, const struct learner_row *row, struct text *why)
{
	const char *const pair[] = {row->person, row->code};
	struct arena a = {0};
	struct learner_row *own;
	size_t n;
	if (strcmp(row->person, row->code) == 0 || is_erased(g, row->code) ||
		is_erased(g, row->person))
		return FINE;
	enum bad code = learner_list(g->into, &a, &own, &n, why);
	if (!code && strcmp(learner_person(own, n, pair[0]), learner_person(own, n, pair[1]))) {
		code = learner_join(g->into, pair, 2, why);
		g->joined += !code;
	}
	arena_release(&a);
	return code;
}

enum bad gather_names(struct gather *g, const char *folder, struct text *why)
{
	struct learner_row *row;
	struct text told;
	size_t n = 0;
	text_init(&told);
	enum bad code = learner_list(folder, &g->mem, &row, &n, &told);
	if (code) {
		g->unread += code != BAD_MEMORY;
		remark(g, folder, "its list of learners was not taken: %s", told.at);
		code = code == BAD_MEMORY ? code : FINE;
	}
	text_release(&told);
	for (size_t i = 0; i < n && !code; i++)
		code = take_name(g, folder, &row[i], why);
	for (size_t i = 0; i < n && !code; i++)
		code = take_join(g, &row[i], why);
	return no(why, code, g->into);
}

void gather_end(struct gather *g)
{
	file_close(&g->guard);
	arena_release(&g->mem);
	*g = (struct gather){.guard.fd = -1};
}

/* ---- telling --------------------------------------------------------------------------------- */

void gather_tell(const struct gather *g, struct text *out)
{
	for (const struct gather_remark *r = g->first; r; r = r->next) {
		text_add_safe(out, r->path, strlen(r->path), false);
		text_add(out, ": ");
		text_add_safe(out, r->words, strlen(r->words), false);
		text_add_char(out, '\n');
	}
	if (g->nremark > GATHER_REMARKS)
		text_addf(out, "... and %zu more\n", g->nremark - GATHER_REMARKS);
	text_addf(out,
		"%zu strand%s read: %zu with something new (%" PRIu64 " line%s), %zu known "
		"already.\n",
		g->files, text_plural(g->files, "", "s"), g->changed, g->lines,
		text_plural(g->lines, "", "s"), g->same);
	if (g->names)
		text_addf(out, "%zu name%s added to the learners' list.\n", g->names,
			text_plural(g->names, "", "s"));
	if (g->joined)
		text_addf(out,
			"%zu code%s joined with others of the same person, as the list says.\n",
			g->joined, text_plural(g->joined, "", "s"));
	if (g->erased)
		text_addf(out, "%" PRIu64 " line%s erased, as noted.\n", g->erased,
			g->erased == 1 ? " was" : "s were");
	if (g->voids.nstranger)
		text_addf(out,
			"%zu note%s that a history does not count, by keys that are not accepted "
			"here: nothing follows from them.\n",
			g->voids.nstranger, text_plural(g->voids.nstranger, "", "s"));
	if (g->erasures.nstranger)
		text_addf(out,
			"%zu note%s of an erasure by keys that are not accepted here: nothing was "
			"erased because of them.\n",
			g->erasures.nstranger, text_plural(g->erasures.nstranger, "", "s"));
	if (g->unread)
		text_add(out, "This is NOT complete. What was taken is safe; gather again.\n");
	text_add(out,
		"Every line was checked to be as it was written and in order. Who wrote and who "
		"sealed\nthem is checked by: barwright record audit\n");
}

static void put_count(struct json_out *j, const char *name, uint64_t n)
{
	json_name(j, name);
	json_whole(j, (int64_t)n);
}

static void put_remarks(struct json_out *j, const struct gather *g)
{
	json_name(j, "remarks");
	json_open_list(j);
	for (const struct gather_remark *r = g->first; r; r = r->next) {
		json_open_object(j);
		json_name(j, "path");
		json_text(j, r->path);
		json_name(j, "words");
		json_text(j, r->words);
		json_close_object(j);
	}
	json_close_list(j);
}

enum bad gather_json(const struct gather *g, struct text *out)
{
	struct json_out j;
	json_begin(&j, out, false);
	json_open_object(&j);
	json_name(&j, "complete");
	json_truth(&j, g->unread == 0);
	put_count(&j, "strands", g->files);
	put_count(&j, "changed", g->changed);
	put_count(&j, "same", g->same);
	put_count(&j, "lines", g->lines);
	put_count(&j, "erased", g->erased);
	put_count(&j, "forks", g->forks);
	put_count(&j, "faulty", g->faulty);
	put_count(&j, "foreign", g->foreign);
	put_count(&j, "unread", g->unread);
	put_count(&j, "names", g->names);
	put_count(&j, "joined", g->joined);
	put_count(&j, "notes_not_accepted", g->erasures.nstranger + g->voids.nstranger);
	put_remarks(&j, g);
	json_close_object(&j);
	text_add_char(out, '\n');
	return json_end(&j);
}
