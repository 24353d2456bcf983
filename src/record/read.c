/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reading and checking strands. The rules are at the top of chain.c; their numbers stand here. */
#include <barwright/record/strand.h>

#include <inttypes.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>

#include "record/canon.h"
#include "record/id_set.h"

/* A strand has one machine; a few keys more, for one that changed its key in order. */
enum { KEYS_MOST = 16 };

struct reader {
	const struct source *source;
	const struct strand_check *how;
	struct diags *d;
	struct strand_sum sum;
	struct id_set own_ids;
	struct id_set *ids;
	unsigned char key[KEYS_MOST][SIGN_PUBLIC]; /* introduced by the strand itself */
	size_t nkey;
	const unsigned char *last_key; /* of the last line */
};

/* One line while it is checked. */
struct candidate {
	const char *at;
	size_t len; /* without LF */
	struct chain_slice slice;
	struct strand_line line;
	bool is_signed; /* the signature was seen to hold */
};

/* ---- saying what is wrong -------------------------------------------------------------------- */

static struct place place_of(const struct reader *r, const char *at)
{
	return source_place(r->source, (size_t)(at - r->source->text));
}

static void hint_what_holds(const struct reader *r)
{
	if (r->sum.lines)
		diag_hint(r->d,
			"the %" PRIu64 " line%s before it hold%s and count; nothing from here on "
			"counts. Compare with another copy of this strand",
			r->sum.lines, r->sum.lines == 1 ? "" : "s", r->sum.lines == 1 ? "s" : "");
	else
		diag_hint(r->d, "nothing of this strand counts. Compare with another copy of it");
}

/* Notes the first fault, at `at`, underlining `span` bytes. */
static enum bad fault(
	struct reader *r, enum bad code, const char *at, size_t span, const char *words)
{
	r->sum.fault = code;
	struct place p = place_of(r, at);
	r->sum.fault_line = p.line;
	if (r->d) {
		diag_error(r->d, code, p, (uint32_t)span, "%s", words);
		hint_what_holds(r);
	}
	return code;
}

static enum bad torn(struct reader *r, const char *at, size_t len)
{
	r->sum.fault = BAD_TORN;
	r->sum.torn_len = len;
	struct place p = place_of(r, at);
	r->sum.fault_line = p.line;
	if (r->d) {
		diag_warn(r->d, BAD_TORN, p, 1,
			"the last line is not complete (%zu bytes): the program or the machine "
			"stopped while it was written, or the file was cut here",
			len);
		diag_hint(r->d,
			"it does not count; the %" PRIu64 " whole line%s before it hold%s. It is "
			"set aside when the strand is next written to",
			r->sum.lines, r->sum.lines == 1 ? "" : "s", r->sum.lines == 1 ? "s" : "");
	}
	return BAD_TORN;
}

/* ---- keys ------------------------------------------------------------------------------------ */

static const unsigned char *key_of(const struct reader *r, const char *id)
{
	char each[KEY_ID + 1];
	for (size_t i = 0; i < r->nkey; i++) {
		key_id(r->key[i], each);
		if (strcmp(each, id) == 0)
			return r->key[i];
	}
	const struct key_known *known = key_find(r->how->known, id);
	return known ? known->open : NULL;
}

/* The public key that a line of these kinds spells out. */
static bool introduced(const struct strand_line *line, unsigned char out[static SIGN_PUBLIC])
{
	struct slice value, hex, body = {line->body, line->body_len};
	if (strcmp(line->kind, "open") != 0 && strcmp(line->kind, "recovered") != 0)
		return false;
	return canon_member(body, "machine_pk", &value) && canon_plain(value, &hex) &&
	       hex_read(hex.at, hex.len, out, SIGN_PUBLIC) == FINE;
}

static enum bad introduce(struct reader *r, const struct candidate *c)
{
	unsigned char open[SIGN_PUBLIC];
	char id[KEY_ID + 1];
	if (!introduced(&c->line, open))
		return FINE;
	key_id(open, id);
	for (size_t i = 0; i < r->nkey; i++)
		if (memcmp(r->key[i], open, SIGN_PUBLIC) == 0)
			return FINE;
	if (r->nkey == KEYS_MOST)
		return fault(r, BAD_SIZE, c->at, 1, "this strand names more than 16 keys");
	memcpy(r->key[r->nkey++], open, SIGN_PUBLIC);
	return FINE;
}

/* ---- the rules ------------------------------------------------------------------------------- */

static enum bad check_frame(struct reader *r, struct candidate *c)
{
	if (c->len + 1 > CHAIN_LINE_MOST)
		return fault(r, BAD_SIZE, c->at, 1, "this line is longer than 65536 bytes");
	if (chain_slice(c->at, c->len, &c->slice))
		return fault(r, BAD_SYNTAX, c->at, c->len,
			"this is not a line of a strand: [payload,\"hash\",\"signature\"]");
	return FINE;
}

static enum bad check_hash(struct reader *r, struct candidate *c)
{
	enum bad code = chain_hash(&c->slice, &c->line.hash);
	if (code == BAD_SYNTAX)
		return fault(r, code, c->slice.hex, HASH_HEX, "a hash is 64 lower-case hex digits");
	if (code)
		return fault(r, code, c->slice.hex, HASH_HEX,
			"this line was changed after it was written: its hash does not fit it");
	return FINE;
}

static enum bad sign_fault(struct reader *r, enum bad code, const struct candidate *c)
{
	if (code == BAD_SYNTAX)
		return fault(r, code, c->slice.signature, 86,
			"a signature is 86 characters of canonical base64url");
	return fault(r, code, c->slice.signature, 86,
		"the signature does not fit: this line was not written by the machine whose key it "
		"names");
}

/* Before anything is parsed: does the signature hold under the key of the line before? */
static void try_last_key(struct reader *r, struct candidate *c)
{
	if (r->last_key && !r->how->hashes_only)
		c->is_signed = chain_signature(&c->slice, &c->line.hash, r->last_key) == FINE;
}

static enum bad check_payload(struct reader *r, struct candidate *c)
{
	size_t where = 0;
	const char *words = "";
	enum bad code = chain_payload(&c->slice, &c->line, &where, &words);
	if (code)
		return fault(r, code, c->slice.payload + where, 1, words);
	return FINE;
}

static enum bad check_signature(struct reader *r, struct candidate *c)
{
	const unsigned char *key = key_of(r, c->line.key);
	if (!key) {
		char words[160];
		snprintf(words, sizeof words,
			"this line is signed with the key %s, which is not known here",
			c->line.key);
		fault(r, BAD_UNKNOWN, c->slice.signature, 86, words);
		if (r->d)
			diag_hint(r->d, "read again with the public key of whoever signed it");
		return BAD_UNKNOWN;
	}
	if (r->how->hashes_only || (c->is_signed && key == r->last_key))
		return FINE;
	enum bad code = chain_signature(&c->slice, &c->line.hash, key);
	if (code)
		return sign_fault(r, code, c);
	r->last_key = key;
	return FINE;
}

/* An erased line does not say who signed it: any key known by now may have. */
static enum bad check_erased(struct reader *r, struct candidate *c)
{
	enum bad code = c->is_signed || r->how->hashes_only ? FINE : BAD_SEAL;
	for (size_t i = 0; code && i < r->nkey; i++)
		code = chain_signature(&c->slice, &c->line.hash, r->key[i]);
	for (size_t i = 0; code && r->how->known && i < r->how->known->n; i++)
		code = chain_signature(&c->slice, &c->line.hash, r->how->known->at[i].open);
	if (code)
		return sign_fault(r, code, c);
	c->line.n = r->sum.lines;
	c->line.prev = r->sum.head;
	return FINE;
}

/* A fault at the value of a member. */
static enum bad member_fault(struct reader *r, enum bad code, const struct candidate *c,
	const char *member, const char *words)
{
	struct slice value, all = {c->slice.payload, c->slice.payload_len};
	if (!canon_member(all, member, &value))
		value = (struct slice){c->at, 1};
	return fault(r, code, value.at, value.len, words);
}

static enum bad check_order(struct reader *r, const struct candidate *c)
{
	char words[160];
	if (c->line.n != r->sum.lines) {
		snprintf(words, sizeof words,
			"line %" PRIu64 " should stand here and this is line %" PRIu64
			": lines were taken out, put in or moved",
			r->sum.lines, c->line.n);
		return member_fault(r, BAD_CHAIN, c, "n", words);
	}
	if (!hash_is_equal(&c->line.prev, &r->sum.head))
		return member_fault(r, BAD_CHAIN, c, "prev",
			"this line does not follow from the one before it: one of them comes from "
			"elsewhere");
	return FINE;
}

static enum bad check_names(struct reader *r, const struct candidate *c)
{
	bool is_new = false;
	if (*r->sum.strand && strcmp(c->line.strand, r->sum.strand) != 0)
		return member_fault(
			r, BAD_CHAIN, c, "strand", "this line belongs to another strand");
	if (*r->sum.who && strcmp(c->line.who, r->sum.who) != 0)
		return member_fault(r, BAD_CHAIN, c, "who", "this line belongs to another learner");
	enum bad code = id_set_add(r->ids, c->line.id, &is_new);
	if (!code && !is_new)
		code = member_fault(r, BAD_REPEATED, c, "id",
			"a line with this id was there before, in this strand or in another one: "
			"is this a copy?");
	return code;
}

/* What a good line adds to the sum. */
static void count(struct reader *r, const struct candidate *c)
{
	struct strand_sum *sum = &r->sum;
	sum->head = c->line.hash;
	sum->lines++;
	sum->good_len += c->len + 1;
	if (c->line.erased) {
		sum->erased++;
		return;
	}
	if (!*sum->strand) {
		memcpy(sum->strand, c->line.strand, sizeof sum->strand);
		memcpy(sum->who, c->line.who, sizeof sum->who);
		memcpy(sum->machine, c->line.key, sizeof sum->machine);
		sum->machine_known = key_find(r->how->known, c->line.key) != NULL;
		sum->first_ms = sum->last_ms = c->line.at_ms;
	}
	sum->set_back += c->line.at_ms < sum->last_ms;
	sum->last_ms = c->line.at_ms;
}

static enum bad check_line(struct reader *r, struct candidate *c)
{
	enum bad code = check_frame(r, c);
	if (!code)
		code = check_hash(r, c);
	if (code)
		return code;
	try_last_key(r, c);
	code = check_payload(r, c);
	if (code)
		return code;
	if (c->line.erased)
		return check_erased(r, c);
	if (r->sum.lines == 0) /* rule 8: the first line introduces its own key */
		code = introduce(r, c);
	if (!code)
		code = check_signature(r, c);
	if (!code)
		code = check_order(r, c);
	if (!code)
		code = check_names(r, c);
	return code ? code : introduce(r, c);
}

static enum bad read_lines(struct reader *r,
	enum bad (*each)(void *context, const struct strand_line *line), void *context)
{
	const char *at = r->source->text, *end = at + r->source->len;
	while (at < end) {
		const char *stop = memchr(at, '\n', (size_t)(end - at));
		if (!stop)
			return torn(r, at, (size_t)(end - at));
		struct candidate c = {.at = at, .len = (size_t)(stop - at)};
		enum bad code = check_line(r, &c);
		if (code)
			return code;
		count(r, &c);
		code = each ? each(context, &c.line) : FINE;
		if (code)
			return code;
		at = stop + 1;
	}
	return FINE;
}

enum bad strand_read(const struct source *s, const struct strand_check *how,
	enum bad (*each)(void *context, const struct strand_line *line), void *context,
	struct strand_sum *out, struct diags *d)
{
	static const struct strand_check plain;
	struct reader r = {.source = s, .how = how ? how : &plain, .d = d};
	r.ids = r.how->ids ? r.how->ids : &r.own_ids;
	r.sum.hashes_only = r.how->hashes_only;
	enum bad code = read_lines(&r, each, context);
	id_set_release(&r.own_ids);
	if (code != BAD_MEMORY)
		*out = r.sum;
	return code;
}

enum bad strand_load(const char *path, struct arena *a, struct source **out)
{
	struct source *s = arena_new(a, struct source);
	char *name = arena_copy(a, path, strlen(path)), *text;
	size_t len;
	if (!s || !name)
		return BAD_MEMORY;
	enum bad code = file_read(path, STRAND_MOST, a, &text, &len);
	if (code)
		return code;
	*s = (struct source){name, text, len};
	*out = s;
	return FINE;
}

const char *strand_cut_words(void)
{
	return "A strand that was cut off at the end of a line looks whole: only a seal, or the "
	       "witness list of whoever sealed it, shows that lines are missing at its end. And "
	       "whoever controls the machine could have written all of it anew: only what stands "
	       "before a seal is safe from that.";
}
