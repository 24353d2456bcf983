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
	struct named_key {
		unsigned char open[SIGN_PUBLIC];
		char id[KEY_ID + 1];
	} key[KEYS_MOST]; /* introduced by the strand itself */
	size_t nkey;
	const unsigned char *last_key; /* of the last line */
	bool has_later; /* keys that later lines of assessors spell out were looked for */
	unsigned char later[KEYS_MOST][SIGN_PUBLIC];
	size_t nlater;
	int64_t last_boot_ms;
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
			"the %" PRIu64 " line%s before it hold%s and count%s; nothing from here on "
			"counts. Compare with another copy of this strand",
			r->sum.lines, r->sum.lines == 1 ? "" : "s", r->sum.lines == 1 ? "s" : "",
			r->sum.lines == 1 ? "s" : "");
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
	for (size_t i = 0; i < r->nkey; i++)
		if (memcmp(r->key[i].id, id, KEY_ID) == 0)
			return r->key[i].open;
	const struct key_known *known = key_find(r->how->known, id);
	return known ? known->open : NULL;
}

static bool is_one_of(const char *kind, const char *const *list)
{
	while (*list && strcmp(*list, kind) != 0)
		list++;
	return *list;
}

/* The public key that a line of these kinds spells out: its machine's, or its assessor's. */
static bool introduced(const struct strand_line *line, bool assessor, unsigned char *out)
{
	static const char *const by_machine[] = {"open", "recovered", NULL};
	static const char *const by_assessor[] = {"seal", "rating", "void", "erasure", NULL};
	struct slice value, hex, body = {line->body, line->body_len};
	if (!is_one_of(line->kind, assessor ? by_assessor : by_machine))
		return false;
	return canon_member(body, assessor ? "assessor_pk" : "machine_pk", &value) &&
	       canon_plain(value, &hex) && hex_read(hex.at, hex.len, out, SIGN_PUBLIC) == FINE;
}

/* BAD_SIZE: there is no room for it. */
static enum bad keep_key(struct reader *r, const unsigned char *open)
{
	for (size_t i = 0; i < r->nkey; i++)
		if (memcmp(r->key[i].open, open, SIGN_PUBLIC) == 0)
			return FINE;
	if (r->nkey == KEYS_MOST)
		return BAD_SIZE;
	struct named_key *k = &r->key[r->nkey++];
	memcpy(k->open, open, SIGN_PUBLIC);
	key_id(open, k->id);
	return FINE;
}

static enum bad introduce(struct reader *r, const struct candidate *c, bool assessor)
{
	unsigned char open[SIGN_PUBLIC];
	if (!introduced(&c->line, assessor, open))
		return FINE;
	if (keep_key(r, open))
		return fault(r, BAD_SIZE, c->at, 1, "this strand names more than 16 keys");
	return FINE;
}

/* The key that a later line of an assessor spells out; false: it is not such a line. */
static bool spelt_out(const char *at, size_t len, unsigned char *out)
{
	static const char *const kind[] = {"seal", "rating", "void", "erasure"};
	struct chain_slice slice;
	struct strand_line line = {0};
	size_t where;
	const char *words;
	bool may_be = false;
	if (chain_slice(at, len, &slice))
		return false;
	for (size_t i = 0; i < sizeof kind / sizeof *kind; i++)
		may_be = may_be || chain_kind_is(&slice, kind[i]);
	return may_be && chain_payload(&slice, &line, &where, &words) == FINE && !line.erased &&
	       introduced(&line, true, out);
}

/* Is the hash of an erased line signed with a key that a later line spells out? That line proves
 * itself when its turn comes; until then the key is only tried. They are looked for once. */
static bool is_signed_by_later(struct reader *r, const struct candidate *c)
{
	const char *at = c->at + c->len + 1, *end = r->source->text + r->source->len, *stop;
	for (; !r->has_later && at < end; at = stop + 1) {
		unsigned char open[SIGN_PUBLIC];
		stop = memchr(at, '\n', (size_t)(end - at));
		if (!stop || r->nlater == KEYS_MOST)
			break;
		if (!spelt_out(at, (size_t)(stop - at), open))
			continue;
		bool is_new = true;
		for (size_t i = 0; i < r->nlater; i++)
			is_new = is_new && memcmp(r->later[i], open, SIGN_PUBLIC) != 0;
		if (is_new)
			memcpy(r->later[r->nlater++], open, SIGN_PUBLIC);
	}
	r->has_later = true;
	for (size_t i = 0; i < r->nlater; i++)
		if (chain_signature(&c->slice, &c->line.hash, r->later[i]) == FINE)
			return true;
	return false;
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

/* Hash and signature of this line were checked against a seal. */
static bool is_checked(const struct reader *r)
{
	return r->sum.lines < r->how->checked;
}

static enum bad check_hash(struct reader *r, struct candidate *c)
{
	enum bad code = is_checked(r) ? hash_from_hex(c->slice.hex, HASH_HEX, &c->line.hash)
				      : chain_hash(&c->slice, &c->line.hash);
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
	if (r->last_key && !r->how->hashes_only && !is_checked(r))
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
	if (r->how->hashes_only || is_checked(r) || (c->is_signed && key == r->last_key))
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
	bool is_done = c->is_signed || r->how->hashes_only || is_checked(r);
	enum bad code = is_done ? FINE : BAD_SEAL;
	for (size_t i = 0; code && i < r->nkey; i++)
		code = chain_signature(&c->slice, &c->line.hash, r->key[i].open);
	for (size_t i = 0; code && r->how->known && i < r->how->known->n; i++)
		code = chain_signature(&c->slice, &c->line.hash, r->how->known->at[i].open);
	if (code && is_signed_by_later(r, c))
		code = FINE;
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

/* The clock against the machine's own count since it started, which nobody sets. A restart begins
 * that count anew, and what happened in between cannot be told. */
static void watch_clock(struct reader *r, const struct strand_line *line)
{
	enum { SLACK_MS = 120 * 1000 };
	int64_t drift = (line->at_ms - r->sum.last_ms) - (line->boot_ms - r->last_boot_ms);
	bool same_run = line->boot_ms >= r->last_boot_ms;
	if (line->at_ms < r->sum.last_ms || (same_run && drift < -SLACK_MS))
		r->sum.set_back++;
	else if (same_run && drift > SLACK_MS)
		r->sum.set_forward++;
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
		r->last_boot_ms = c->line.boot_ms;
	}
	watch_clock(r, &c->line);
	sum->last_ms = c->line.at_ms;
	r->last_boot_ms = c->line.boot_ms;
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
	code = introduce(r, c, true);
	if (!code && r->sum.lines == 0) /* rule 8: the first line introduces its own key */
		code = introduce(r, c, false);
	if (!code)
		code = check_signature(r, c);
	if (!code)
		code = check_order(r, c);
	if (!code)
		code = check_names(r, c);
	return code ? code : introduce(r, c, false);
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
