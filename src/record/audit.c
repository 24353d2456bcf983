/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/audit.h>

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/chain.h>
#include <barwright/record/merkle.h>

#include "record/id_set.h"

struct audit_kept {
	char *bytes; /* from mem_get */
	struct audit_kept *next;
};

/* A draw of the sitting that is being read. */
struct drawn {
	struct line_draw draw;
	struct drawn *before;
};

/* One strand while it is read. */
struct work {
	struct audit *a;
	const struct audit_how *how;
	struct audit_strand *strand;
	struct arena sitting; /* owns open and drawn */
	struct line_open open;
	bool is_open;
	struct drawn *drawn; /* the last one */
	bool is_assessed;    /* the line that is being read, by a seal */
	uint64_t noted;      /* so many lines are to be without payload */
};

void audit_init(struct audit *a)
{
	*a = (struct audit){0};
	a->diags.arena = &a->mem;
}

void audit_release(struct audit *a)
{
	for (struct audit_kept *k = a->kept; k; k = k->next)
		mem_drop(k->bytes);
	if (a->ids)
		id_set_release(a->ids);
	arena_release(&a->mem);
	audit_init(a);
}

/* ---- answers --------------------------------------------------------------------------------- */

static const struct line_draw *draw_of(const struct work *w, const struct line_answer *answer)
{
	for (const struct drawn *d = w->drawn; d; d = d->before)
		if (d->draw.attempt == answer->attempt && strcmp(d->draw.item, answer->item) == 0)
			return &d->draw;
	return NULL;
}

static enum bad remark(struct work *w, const struct strand_line *line, const char *item,
	const struct audit_finding *f)
{
	struct audit *a = w->a;
	if (a->nremark++ >= AUDIT_REMARKS)
		return FINE;
	struct audit_remark *r = arena_new(&a->mem, struct audit_remark);
	const char *words = arena_copy(&a->mem, f->words, strlen(f->words));
	item = arena_copy(&a->mem, item, strlen(item));
	if (!r || !words || !item)
		return BAD_MEMORY;
	*r = (struct audit_remark){w->strand->path, line->n, item, f->result, words, NULL};
	if (a->last_remark)
		a->last_remark->next = r;
	else
		a->remark = r;
	a->last_remark = r;
	return FINE;
}

static enum bad scored(struct work *w, const struct audit_case *what)
{
	struct audit_count *n = &w->strand->count;
	struct audit_finding f = {AUDIT_NOT_MADE, ""};
	if (line_answer_is_held(
		    what->answer)) /* it stands behind once more, scored, if it counts */
		return FINE;
	enum bad code = w->how->replay ? w->how->replay(w->how->context, what, &f) : FINE;
	if (code)
		return code;
	n->answers++;
	bool right = strcmp(what->answer->outcome, "right") == 0;
	n->right += right;
	n->assessed += w->is_assessed;
	n->assessed_right += w->is_assessed && right;
	n->equal += f.result == AUDIT_EQUAL;
	n->differs += f.result == AUDIT_DIFFERS;
	n->not_made += f.result == AUDIT_NOT_MADE;
	if (f.result == AUDIT_EQUAL || !*f.words)
		return FINE;
	return remark(w, what->line, what->answer->item, &f);
}

/* ---- lines ----------------------------------------------------------------------------------- */

/* A body that cannot be used is counted, not a fault of the strand: a later program may have
 * written it. */
static enum bad odd(struct work *w, enum bad code)
{
	if (code == BAD_MEMORY)
		return code;
	w->strand->count.odd += code != FINE;
	return FINE;
}

static void leave_sitting(struct work *w)
{
	w->strand->count.unclosed += w->is_open;
	w->is_open = false;
	w->drawn = NULL;
	arena_release(&w->sitting);
}

static enum bad on_open(struct work *w, const struct strand_line *line)
{
	leave_sitting(w);
	w->strand->count.sittings++;
	enum bad code = line_open_read(line, &w->sitting, &w->open);
	w->is_open = !code;
	return odd(w, code);
}

static enum bad on_draw(struct work *w, const struct strand_line *line)
{
	struct drawn *d = arena_new(&w->sitting, struct drawn);
	if (!d)
		return BAD_MEMORY;
	enum bad code = line_draw_read(line, &w->sitting, &d->draw);
	if (code)
		return odd(w, code);
	w->strand->count.draws++;
	d->before = w->drawn;
	w->drawn = d;
	return FINE;
}

static enum bad on_recovered(struct work *w, const struct strand_line *line)
{
	struct arena a = {0};
	struct line_recovered r;
	enum bad code = line_recovered_read(line, &a, &r);
	arena_release(&a);
	w->strand->count.recovered += !code;
	w->strand->count.set_aside += code ? 0 : r.len;
	return odd(w, code);
}

static enum bad on_answer(struct work *w, const struct strand_line *line)
{
	struct arena scratch = {0};
	struct line_answer answer;
	enum bad code = w->is_open ? line_answer_read(line, &scratch, &answer) : BAD_MISSING;
	if (code) {
		code = odd(w, code);
	} else {
		struct audit_case what = {line, &w->open, draw_of(w, &answer), &answer};
		code = scored(w, &what);
	}
	arena_release(&scratch);
	return code;
}

/* What graded work comes from: forms, judgements, results; answers are only taken note of, they are
 * made again one by one. */
static enum bad reviewed(struct work *w, const struct strand_line *line, enum line_kind kind)
{
	struct audit_count *n = &w->strand->count;
	struct audit_finding f = {AUDIT_NOT_MADE, ""};
	if (!w->is_open || !w->how->review)
		return FINE;
	enum bad code = w->how->review(w->how->review_context, line, &w->open, &f);
	if (code || kind == LINE_ANSWER)
		return code;
	n->graded_equal += f.result == AUDIT_EQUAL;
	n->graded_differs += f.result == AUDIT_DIFFERS;
	n->graded_not_made += f.result == AUDIT_NOT_MADE && *f.words;
	return f.result == AUDIT_EQUAL || !*f.words ? FINE
						    : remark(w, line, line_kind_word(kind), &f);
}

static bool is_assessed(const struct work *w, const struct strand_line *line)
{
	return w->is_open && seal_of(&w->strand->seals, line->n, w->open.sitting);
}

static enum bad on_line(void *context, const struct strand_line *line)
{
	struct work *w = context;
	struct audit_count *n = &w->strand->count;
	if (!w->strand->is_void)
		w->strand->is_void = void_note_on(&w->a->void_notes, line->n, &line->hash);
	if (line->n == 0) /* which always has its payload */
		w->noted = erasures_upto(&w->a->erasures, line->strand);
	if (line->erased) {
		w->strand->unnoted += w->a->has_folder && line->n >= w->noted;
		return FINE;
	}
	w->is_assessed = is_assessed(w, line);
	enum line_kind kind = line_kind(line->kind);
	enum bad code = reviewed(w, line, kind);
	if (code)
		return code;
	switch (kind) {
	case LINE_OPEN:
		return on_open(w, line);
	case LINE_DRAW:
		return on_draw(w, line);
	case LINE_ANSWER:
		return on_answer(w, line);
	case LINE_CLOSE:
		w->is_open = false;
		return FINE;
	case LINE_RESULT:
		n->results++;
		n->assessed_results += w->is_assessed;
		return FINE;
	case LINE_RATING:
		n->ratings++;
		n->assessed_ratings += w->is_assessed;
		return FINE;
	case LINE_CLOCK:
		n->clocks++;
		return FINE;
	case LINE_RECOVERED:
		return on_recovered(w, line);
	default:
		return FINE;
	}
}

/* ---- strands --------------------------------------------------------------------------------- */

static void count_add(struct audit_count *to, const struct audit_count *x)
{
	to->sittings += x->sittings;
	to->unclosed += x->unclosed;
	to->draws += x->draws;
	to->answers += x->answers;
	to->right += x->right;
	to->equal += x->equal;
	to->differs += x->differs;
	to->not_made += x->not_made;
	to->graded_equal += x->graded_equal;
	to->graded_differs += x->graded_differs;
	to->graded_not_made += x->graded_not_made;
	to->assessed += x->assessed;
	to->assessed_right += x->assessed_right;
	to->results += x->results;
	to->assessed_results += x->assessed_results;
	to->ratings += x->ratings;
	to->assessed_ratings += x->assessed_ratings;
	to->clocks += x->clocks;
	to->odd += x->odd;
	to->recovered += x->recovered;
	to->set_aside += x->set_aside;
}

/* A history that was kept apart counts for nothing while nobody has decided, and a void one never. */
static void strand_add(struct audit *a, struct audit_strand *s)
{
	bool counts = !s->is_fork && !s->is_void;
	if (a->last)
		a->last->next = s;
	else
		a->first = s;
	a->last = s;
	a->strands++;
	a->faulty += s->sum.fault && s->sum.fault != BAD_TORN;
	a->torn += s->sum.torn_len > 0;
	a->forks += s->is_fork && !s->is_void;
	a->voids += s->is_void != NULL;
	for (const struct seal *i = s->seals.first; i; i = i->next) {
		a->seals++;
		a->seals_hold += i->worth == SEAL_HOLDS && counts;
		a->seals_broken += i->worth == SEAL_BROKEN;
		a->seals_strange += i->worth == SEAL_STRANGER;
	}
	a->lines += s->sum.lines;
	a->erased += s->sum.erased;
	a->unnoted += s->unnoted;
	if (counts)
		count_add(&a->count, &s->count);
}

/* Keys the reader knows, machines' and assessors', as one ring. */
static enum bad all_known(struct arena *a, const struct audit_how *how, struct key_ring *out)
{
	static const struct key_ring none;
	const struct key_ring *one = how->known ? how->known : &none;
	const struct key_ring *two = how->assessors ? how->assessors : &none;
	struct key_known *all = arena_many(a, one->n + two->n + 1, struct key_known);
	if (!all)
		return BAD_MEMORY;
	for (size_t i = 0; i < one->n; i++)
		all[i] = one->at[i];
	for (size_t i = 0; i < two->n; i++)
		all[one->n + i] = two->at[i];
	*out = (struct key_ring){all, one->n + two->n};
	return FINE;
}

static enum bad read_strand(struct audit *a, struct audit_strand *s, const struct source *source,
	const struct audit_how *how)
{
	struct work w = {.a = a, .how = how, .strand = s};
	struct key_ring known;
	struct strand_check check = {.known = &known,
		.hashes_only = how->hashes_only,
		.ids = s->is_fork ? NULL : a->ids};
	enum bad code = all_known(&a->mem, how, &known);
	if (!code)
		code = seals_find(source, how->assessors, &a->mem, &s->seals);
	if (code)
		return code;
	check.checked = s->seals.checked;
	code = strand_read(source, &check, on_line, &w, &s->sum, &a->diags);
	leave_sitting(&w);
	s->machine = key_find(how->known, s->sum.machine);
	s->sum.machine_known = s->machine != NULL;
	s->is_out_of_time = s->machine && !(key_is_in_time(s->machine, s->sum.first_ms) &&
						  key_is_in_time(s->machine, s->sum.last_ms));
	/* a code that is not the strand's own fault came from the replay or from memory */
	if (code && (code == BAD_MEMORY || code != s->sum.fault))
		return code;
	return FINE;
}

/* The bytes stay only where a fault points into them; they are on the list before one can. */
static enum bad audit_strand(
	struct audit *a, const char *path, bool is_fork, const struct audit_how *how)
{
	struct audit_strand *s = arena_new(&a->mem, struct audit_strand);
	struct source *source = arena_new(&a->mem, struct source);
	struct audit_kept *kept = arena_new(&a->mem, struct audit_kept);
	const char *name = arena_copy(&a->mem, path, strlen(path));
	size_t len, faults = a->diags.nerror + a->diags.nwarning;
	if (!s || !source || !kept || !name)
		return BAD_MEMORY;
	enum bad code = file_read(path, STRAND_MOST, NULL, &kept->bytes, &len);
	if (code)
		return code;
	kept->next = a->kept;
	a->kept = kept;
	s->path = name;
	s->is_fork = is_fork;
	*source = (struct source){name, kept->bytes, len};
	code = read_strand(a, s, source, how);
	if (!code)
		strand_add(a, s);
	if (a->diags.nerror + a->diags.nwarning == faults) {
		mem_drop(kept->bytes);
		kept->bytes = NULL;
	}
	return code;
}

/* A strand of a folder that cannot be read is a fault like any other: the rest is still audited. */
static enum bad unreadable(struct audit *a, const char *path, enum bad code)
{
	struct audit_strand *s = arena_new(&a->mem, struct audit_strand);
	struct source *source = arena_new(&a->mem, struct source);
	if (!s || !source)
		return BAD_MEMORY;
	s->path = path;
	s->sum.fault = code;
	*source = (struct source){path, "", 0};
	diag_error(&a->diags, code, (struct place){source, 0, 0}, 1, "it cannot be read: %s",
		file_advice(code));
	strand_add(a, s);
	return FINE;
}

static bool is_of_the_file(enum bad code)
{
	return code == BAD_DENIED || code == BAD_IO || code == BAD_SIZE || code == BAD_ABSENT ||
	       code == BAD_TYPE;
}

static enum bad audit_list(
	struct audit *a, const char *path, bool is_fork, const struct audit_how *how)
{
	struct folder_entry *list;
	size_t n;
	enum bad code = folder_list(path, &a->mem, &list, &n);
	for (size_t i = 0; !code && i < n; i++) {
		if (list[i].kind == FILE_FOLDER || !strand_is_file_name(list[i].name))
			continue;
		const char *one = folder_join(&a->mem, path, list[i].name);
		code = one ? audit_strand(a, one, is_fork, how) : BAD_MEMORY;
		if (is_of_the_file(code))
			code = unreadable(a, one, code);
	}
	return code;
}

static enum bad audit_folder(struct audit *a, const char *path, const struct audit_how *how)
{
	static const char *const part[] = {"strands", "forks", "erasures"};
	const char *folder[3];
	a->has_folder = true;
	struct key_ring known;
	enum bad code = all_known(&a->mem, how, &known);
	if (!code)
		code = erasures_read(path, &known, &a->mem, &a->erasures);
	if (!code)
		code = void_notes_read(path, how->assessors, &a->mem, &a->void_notes);
	for (int i = 0; i < 3; i++)
		if (!(folder[i] = folder_join(&a->mem, path, part[i])))
			return BAD_MEMORY;
	if (code)
		return code;
	if (file_kind(folder[0]) != FILE_FOLDER)
		return audit_list(a, path, false, how);
	for (int i = 0; i < 3 && !code; i++)
		if (file_kind(folder[i]) == FILE_FOLDER)
			code = audit_list(a, folder[i], i == 1, how);
	return code;
}

enum bad audit_path(struct audit *a, const char *path, const struct audit_how *how)
{
	if (!a->ids)
		a->ids = arena_new(&a->mem, struct id_set);
	if (!a->ids)
		return BAD_MEMORY;
	a->hashes_only = how->hashes_only;
	a->has_ring = how->known != NULL;
	a->has_replay = how->replay != NULL;
	if (file_kind(path) == FILE_FOLDER)
		return audit_folder(a, path, how);
	return audit_strand(a, path, false, how);
}

/* ---- witness lists --------------------------------------------------------------------------- */

enum bad audit_witness(struct audit *a, const char *path, const struct key_ring *assessors)
{
	enum bad code = witness_read(path, assessors, &a->mem, &a->witnesses, &a->diags);
	switch (code) {
	case FINE:
	case BAD_MEMORY:
	case BAD_ABSENT:
	case BAD_DENIED:
	case BAD_IO:
	case BAD_SIZE:
		return code;
	default: /* said in diags */
		a->bad_witness++;
		return FINE;
	}
}

static enum bad lose(
	struct audit *a, const struct witness *w, const struct audit_strand *s, const char *words)
{
	struct audit_loss *l = arena_new(&a->mem, struct audit_loss), **end = &a->loss;
	if (!l)
		return BAD_MEMORY;
	*l = (struct audit_loss){w, s, words, NULL};
	while (*end)
		end = &(*end)->next;
	*end = l;
	a->nloss++;
	return FINE;
}

static bool bears_out(const struct audit_strand *s, const struct witness *w)
{
	for (const struct seal *i = s->seals.first; i; i = i->next)
		if (i->worth == SEAL_HOLDS && i->body.size == w->size && i->n < s->sum.lines &&
			hash_is_equal(&i->body.root, &w->root))
			return true;
	return false;
}

/* All leaves of the strand as it is now, in `a`; BAD_ABSENT: there are fewer than the seal needs. */
static enum bad leaves_read(const struct audit_strand *s, uint64_t least, struct arena *a,
	struct hash **leaf, uint64_t *n)
{
	char *text;
	size_t len;
	enum bad code = file_read(s->path, STRAND_MOST, a, &text, &len);
	struct hash *list = code ? NULL : arena_many(a, s->seals.lines + 1, struct hash);
	const char *at = text, *end = text + len, *stop;
	uint64_t count = 0;
	if (code || !list)
		return code ? code : BAD_MEMORY;
	for (; count < s->seals.lines && (stop = memchr(at, '\n', (size_t)(end - at)));
		at = stop + 1) {
		struct chain_slice slice;
		if (chain_slice(at, (size_t)(stop - at), &slice) ||
			hash_from_hex(slice.hex, HASH_HEX, &list[count++]))
			break;
	}
	*leaf = list;
	*n = count;
	return count < least ? BAD_ABSENT : FINE;
}

/* Did the strand grow out of what was witnessed? Then the tree over its first lines is the one that was
 * sealed (RFC 9162, 2.1.4). */
static enum bad grew_from(const struct audit_strand *s, const struct witness *w, bool *out)
{
	struct arena a = {0};
	struct hash *leaf, proof[MERKLE_DEEP];
	struct merkle m = {0};
	uint64_t n;
	enum bad code = w->size ? leaves_read(s, w->size, &a, &leaf, &n) : BAD_ABSENT;
	*out = false;
	if (!code) {
		for (uint64_t i = 0; i < n; i++)
			merkle_add(&m, &leaf[i]);
		struct hash root = merkle_root(&m);
		size_t count = merkle_consistency(leaf, n, w->size, proof);
		*out = merkle_consistency_check(w->size, n, proof, count, &w->root, &root) == FINE;
	}
	arena_release(&a);
	return code == BAD_MEMORY ? code : FINE;
}

static const char *what_is_lost(const struct audit_strand *s, const struct witness *w, bool grew)
{
	if (s->seals.lines < w->size)
		return "lines that were sealed are missing at its end: it was cut off or rolled "
		       "back";
	if (grew)
		return "its lines are as they were sealed, but the seal is missing: it was cut "
		       "off, or it was never written to the end. The assessor can seal again";
	return "its lines are not the ones that were sealed: it was written anew";
}

/* Reading stopped at a line that was changed, and as many lines as were sealed are still there: that is the
 * fault, told already, and nothing is missing. BAD_MEMORY. */
static enum bad is_told(const struct audit_strand *s, const struct witness *w, bool *out)
{
	struct arena a = {0};
	char *text;
	size_t len;
	uint64_t n = 0;
	*out = false;
	if (!s->sum.fault || s->sum.fault == BAD_TORN || w->size < s->sum.lines)
		return FINE;
	enum bad code = file_read(s->path, STRAND_MOST, &a, &text, &len);
	for (size_t i = 0; !code && i < len; i++)
		n += text[i] == '\n';
	*out = n > w->size;
	arena_release(&a);
	return code == BAD_MEMORY ? code : FINE;
}

/* A history that was kept apart may be the one that was sealed. */
static enum bad compare_one(struct audit *a, const struct witness *w)
{
	const struct audit_strand *is = NULL;
	for (const struct audit_strand *s = a->first; s; s = s->next) {
		if (strcmp(s->sum.strand, w->strand) != 0)
			continue;
		if (bears_out(s, w))
			return FINE;
		if (!is || is->is_fork)
			is = s;
	}
	bool grew = false, told = false;
	if (!is && !a->has_folder)
		return FINE;
	enum bad code = is ? is_told(is, w, &told) : FINE;
	if (!code && is && !told)
		code = grew_from(is, w, &grew);
	if (code || told)
		return code;
	return lose(a, w, is,
		is ? what_is_lost(is, w, grew)
		   : "this strand was sealed once and is not here at all");
}

enum bad audit_compare(struct audit *a)
{
	enum bad code = FINE;
	a->loss = NULL;
	a->nloss = 0;
	for (const struct witness *w = a->witnesses.first; w && !code; w = w->next)
		if (*w->by)
			code = compare_one(a, w);
	return code;
}

bool audit_is_clean(const struct audit *a)
{
	return a->faulty == 0 && a->count.differs == 0 && a->count.graded_differs == 0 &&
	       a->seals_broken == 0 && a->nloss == 0 && a->forks == 0 && a->bad_witness == 0 &&
	       a->unnoted == 0;
}
