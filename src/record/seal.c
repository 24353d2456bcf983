/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/record/seal.h>

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/record/lines.h>
#include <barwright/record/merkle.h>

#include "record/body.h"

enum { SIGNATURE_TEXT = 86 };

/* ---- the body -------------------------------------------------------------------------------- */

enum bad line_seal_write(const struct line_seal *x, char *out, size_t room, size_t *len)
{
	struct pen p = body_begin(out, room);
	body_put_hex(&p, "assessor_pk", x->assessor, SIGN_PUBLIC);
	body_put_text(&p, "by", x->by);
	body_put_hex(&p, "head", x->head.byte, HASH_BYTES);
	body_put_text(&p, "identity_check", x->identity_check);
	body_put_hex(&p, "root", x->root.byte, HASH_BYTES);
	body_put_text(&p, "said_time", x->said_time);
	if (x->has_signatures)
		body_put_hex(&p, "signatures", x->signatures.byte, HASH_BYTES);
	body_put_text(&p, "sitting", x->sitting);
	body_put_count(&p, "size", x->size);
	return body_finish(&p, len);
}

static const char *text_or_none(struct body *b, const char *name)
{
	return body_has(b, name) ? body_text(b, name) : "";
}

enum bad line_seal_read(const struct strand_line *line, struct arena *a, struct line_seal *out)
{
	struct body b = body_of(line, "seal", a);
	struct line_seal x = {.size = body_count(&b, "size"),
		.by = body_text(&b, "by"),
		.identity_check = text_or_none(&b, "identity_check"),
		.said_time = text_or_none(&b, "said_time"),
		.sitting = text_or_none(&b, "sitting"),
		.has_signatures = body_has(&b, "signatures")};
	body_hex(&b, "head", x.head.byte, HASH_BYTES);
	body_hex(&b, "root", x.root.byte, HASH_BYTES);
	if (x.has_signatures)
		body_hex(&b, "signatures", x.signatures.byte, HASH_BYTES);
	if (body_has(&b, "assessor_pk"))
		body_hex(&b, "assessor_pk", x.assessor, SIGN_PUBLIC);
	if (!b.bad)
		*out = x;
	return b.bad;
}

/* ---- finding those of a strand --------------------------------------------------------------- */

/* What a seal fixes, of the lines so far. */
struct so_far {
	struct merkle tree;
	struct hash_state signatures;
	struct hash head;
};

static void so_far_add(struct so_far *f, const struct chain_slice *s, const struct hash *h)
{
	merkle_add(&f->tree, h);
	hash_add(&f->signatures, s->signature, SIGNATURE_TEXT);
	f->head = *h;
}

static void so_far_fill(const struct so_far *f, struct line_seal *out)
{
	struct hash_state copy = f->signatures;
	out->size = f->tree.size;
	out->head = f->head;
	out->root = merkle_root(&f->tree);
	out->signatures = hash_end(&copy);
	out->has_signatures = true;
}

static const char *what_is_broken(const struct so_far *f, const struct strand_line *line,
	const struct line_seal *is, const unsigned char *key)
{
	static const unsigned char none[SIGN_PUBLIC];
	struct line_seal want;
	so_far_fill(f, &want);
	if (memcmp(is->assessor, none, SIGN_PUBLIC) != 0 &&
		memcmp(is->assessor, key, SIGN_PUBLIC) != 0)
		return "it names another key than the one it is signed with";
	if (is->size != want.size || line->n != want.size)
		return "it does not stand where it was put: lines are missing or were put in";
	if (!hash_is_equal(&is->head, &want.head) || !hash_is_equal(&is->root, &want.root))
		return "the lines before it are not the ones that were sealed";
	if (is->has_signatures && !hash_is_equal(&is->signatures, &want.signatures))
		return "a signature before it is not the one that was sealed";
	return "";
}

/* By the assessor's own watch where it was stated. */
static int64_t time_of(const struct seal *s)
{
	int64_t ms = s->at_ms;
	time_read(s->body.said_time, strlen(s->body.said_time), &ms);
	return ms;
}

static void judge(const struct so_far *f, const struct chain_slice *slice,
	const struct strand_line *line, const struct key_ring *ring, struct seal *s)
{
	const struct key_known *by = key_find(ring, line->key);
	s->accepted_as = by ? by->name : "";
	s->worth = SEAL_BROKEN;
	if (!by) {
		s->worth = SEAL_STRANGER;
		s->words = "its key is not one that is accepted here";
	} else if (chain_signature(slice, &line->hash, by->open)) {
		s->words = "its signature does not fit";
	} else {
		s->words = what_is_broken(f, line, &s->body, by->open);
		s->worth = *s->words ? SEAL_BROKEN : SEAL_HOLDS;
	}
	if (s->worth == SEAL_HOLDS && !key_is_in_time(by, time_of(s))) {
		s->worth = SEAL_STRANGER;
		s->words = "the school's roster does not list its key for that day";
	}
}

struct finder {
	const struct key_ring *ring;
	struct arena *a;
	struct so_far so_far;
	struct seals seals;
	struct seal *last;
};

static void keep(struct finder *f, struct seal *s)
{
	if (f->last)
		f->last->next = s;
	else
		f->seals.first = s;
	f->last = s;
	f->seals.n++;
	if (s->worth != SEAL_HOLDS)
		return;
	f->seals.nhold++;
	f->seals.fixed = s->body.size;
	if (s->body.has_signatures)
		f->seals.checked = s->body.size;
}

/* A line that may be a seal. One that this program cannot use is passed over, and counted as odd by
 * whoever reads the lines. */
static enum bad look_at(struct finder *f, const struct chain_slice *slice, const struct hash *h)
{
	struct strand_line line = {.hash = *h};
	size_t where;
	const char *words;
	struct seal *s = arena_new(f->a, struct seal);
	if (!s)
		return BAD_MEMORY;
	if (chain_payload(slice, &line, &where, &words) || line.erased)
		return FINE;
	enum bad code = line_seal_read(&line, f->a, &s->body);
	if (code)
		return code == BAD_MEMORY ? code : FINE;
	s->n = line.n;
	s->at_ms = line.at_ms;
	memcpy(s->key, line.key, sizeof s->key);
	judge(&f->so_far, slice, &line, f->ring, s);
	keep(f, s);
	return FINE;
}

enum bad seals_find(
	const struct source *s, const struct key_ring *ring, struct arena *a, struct seals *out)
{
	struct finder f = {.ring = ring, .a = a};
	const char *at = s->text, *end = at + s->len, *stop;
	enum bad code = FINE;
	hash_start(&f.so_far.signatures);
	for (; !code && at < end && (stop = memchr(at, '\n', (size_t)(end - at))); at = stop + 1) {
		struct chain_slice slice;
		struct hash h;
		if (chain_slice(at, (size_t)(stop - at), &slice) || chain_hash(&slice, &h))
			break;
		if (chain_kind_is(&slice, "seal"))
			code = look_at(&f, &slice, &h);
		so_far_add(&f.so_far, &slice, &h);
	}
	f.seals.lines = f.so_far.tree.size;
	if (!code)
		*out = f.seals;
	return code;
}

const struct seal *seal_of(const struct seals *seals, uint64_t n, const char *sitting)
{
	for (const struct seal *s = seals->first; s; s = s->next)
		if (s->worth == SEAL_HOLDS && n < s->body.size && *sitting &&
			strcmp(s->body.sitting, sitting) == 0)
			return s;
	return NULL;
}

/* ---- making one ------------------------------------------------------------------------------ */

/* What is read back before it is sealed. */
struct look {
	struct arena *a;
	const char *wanted;        /* sitting; null: any */
	const char *sitting;       /* the last one that is wanted; null: none yet */
	int64_t first_ms, last_ms; /* when that was opened for the first and the last time */
	struct line_seal last_seal;
	struct strand_line last; /* its texts are not to be used */
};

static void note_open(struct look *l, const char *sitting, int64_t ms)
{
	if (!l->sitting || strcmp(l->sitting, sitting) != 0)
		l->first_ms = ms;
	l->sitting = sitting;
	l->last_ms = ms;
}

static enum bad look_on(void *context, const struct strand_line *line)
{
	struct look *l = context;
	struct line_open open;
	l->last = *line;
	if (line->erased)
		return FINE;
	if (line_kind(line->kind) == LINE_SEAL) {
		enum bad code = line_seal_read(line, l->a, &l->last_seal);
		return code == BAD_MEMORY ? code : FINE;
	}
	if (line_kind(line->kind) != LINE_OPEN)
		return FINE;
	enum bad code = line_open_read(line, l->a, &open);
	if (!code && (!l->wanted || strcmp(l->wanted, open.sitting) == 0))
		note_open(l, open.sitting, line->at_ms);
	return code == BAD_MEMORY ? code : FINE;
}

static enum bad so_far_of(const struct source *s, struct so_far *out)
{
	const char *at = s->text, *end = at + s->len, *stop;
	*out = (struct so_far){0};
	hash_start(&out->signatures);
	for (; at < end && (stop = memchr(at, '\n', (size_t)(end - at))); at = stop + 1) {
		struct chain_slice slice;
		struct hash h;
		enum bad code = chain_slice(at, (size_t)(stop - at), &slice);
		if (!code)
			code = chain_hash(&slice, &h);
		if (code)
			return code;
		so_far_add(out, &slice, &h);
	}
	return FINE;
}

/* The whole strand, from the disk: what is sealed is what is there. */
static enum bad read_back(const struct strand *s, const struct seal_how *how, struct arena *a,
	struct look *look, struct so_far *so_far)
{
	struct source *source;
	struct strand_sum sum;
	struct key_known known[2] = {{.name = "machine"}, {.name = "assessor"}};
	struct key_ring ring = {known, 2};
	struct strand_check check = {.known = &ring};
	memcpy(known[0].open, strand_machine(s), SIGN_PUBLIC);
	memcpy(known[1].open, how->pair->open, SIGN_PUBLIC);
	enum bad code = strand_load(strand_own_path(s), a, &source);
	if (!code)
		code = strand_read(source, &check, look_on, look, &sum, NULL);
	if (!code)
		code = so_far_of(source, so_far);
	struct hash head = strand_head(s);
	if (!code && (so_far->tree.size != strand_count(s) || !hash_is_equal(&so_far->head, &head)))
		code = BAD_CHAIN;
	return code;
}

static bool is_sealed_already(const struct look *l, const struct assessor *by)
{
	return !l->last.erased && line_kind(l->last.kind) == LINE_SEAL &&
	       strcmp(l->last.key, by->id) == 0 && strcmp(l->last_seal.sitting, l->sitting) == 0;
}

static enum bad no(struct text *why, enum bad code, const struct strand *s, const char *words)
{
	if (why) {
		text_addf(why, "%s: ", strand_own_id(s));
		text_add(why, words);
	}
	return code;
}

/* Nobody watches for longer at a stretch. */
#define HALF_A_DAY_ms (12 * 3600 * INT64_C(1000))

static bool is_of_several_days(const struct look *l)
{
	int64_t between = l->last_ms - l->first_ms;
	return between > HALF_A_DAY_ms || between < -HALF_A_DAY_ms;
}

static enum bad refuse_days(struct text *why, const struct strand *s, const struct look *l)
{
	char first[TIME_TEXT], last[TIME_TEXT], words[300];
	time_write(l->first_ms, first);
	time_write(l->last_ms, last);
	snprintf(words, sizeof words,
		"sitting %.40s was opened at %.16s and again at %.16s UTC, and a seal says that "
		"all of "
		"it was watched. If it was, add --all-days; else let what is watched be a sitting "
		"of "
		"its own",
		l->sitting, first, last);
	return no(why, BAD_ORDER, s, words);
}

static enum bad append(struct strand *s, const struct seal_how *how, struct line_seal *x)
{
	size_t len;
	enum bad code = line_seal_write(x, strand_scratch(s), CHAIN_BODY_MOST, &len);
	return code ? code : strand_append_by(s, how->pair, "seal", strand_scratch(s), len);
}

enum bad seal_strand(struct strand *s, const struct seal_how *how, struct arena *a,
	struct line_seal *out, struct text *why)
{
	struct look look = {.a = a, .wanted = how->sitting};
	struct so_far so_far;
	char now[TIME_TEXT];
	struct line_seal x = {.by = how->assessor->name,
		.identity_check = how->identity_check ? how->identity_check : "not-stated",
		.said_time = how->said_time};
	enum bad code = read_back(s, how, a, &look, &so_far);
	if (code)
		return no(why, code, s,
			"it does not hold as it is and was not sealed: see barwright record audit");
	if (!look.sitting)
		return no(why, BAD_MISSING, s, "it holds no such sitting");
	if (is_sealed_already(&look, how->assessor)) {
		x = look.last_seal;
	} else if (!how->all_days && is_of_several_days(&look)) {
		return refuse_days(why, s, &look);
	} else {
		so_far_fill(&so_far, &x);
		x.sitting = look.sitting;
		memcpy(x.assessor, how->pair->open, SIGN_PUBLIC);
		time_write(clock_now(), now);
		if (!x.said_time && !(x.said_time = arena_copy(a, now, strlen(now))))
			return no(why, BAD_MEMORY, s, bad_text(BAD_MEMORY));
		code = append(s, how, &x);
	}
	if (code)
		return no(why, code, s, *strand_why(s) ? strand_why(s) : bad_text(code));
	if (out)
		*out = x;
	return FINE;
}
