/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "export/single.h"

#include <string.h>

#include <barwright/record/merkle.h>
#include <barwright/record/strand.h>

#include "tree/json.h"

static const char type[] = "barwright-line-proof";

/* ---- making ---------------------------------------------------------------------------------- */

/* The lines of a strand that was read to its end. */
struct lines {
	struct hash *hash;
	const char **at;
	size_t *len;
	uint64_t n;
};

static enum bad lines_of(const struct source *s, uint64_t most, struct arena *a, struct lines *out)
{
	struct lines l = {arena_many(a, most + 1, struct hash),
		arena_many(a, most + 1, const char *), arena_many(a, most + 1, size_t), 0};
	const char *at = s->text, *stop;
	if (!l.hash || !l.at || !l.len)
		return BAD_MEMORY;
	for (; l.n < most && (stop = strchr(at, '\n')); at = stop + 1, l.n++) {
		struct chain_slice slice;
		l.at[l.n] = at;
		l.len[l.n] = (size_t)(stop - at);
		enum bad code = chain_slice(at, l.len[l.n], &slice);
		if (!code)
			code = chain_hash(&slice, &l.hash[l.n]);
		if (code)
			return code;
	}
	*out = l;
	return FINE;
}

static const struct seal *seal_over(const struct seals *seals, uint64_t n)
{
	for (const struct seal *s = seals->first; s; s = s->next)
		if (s->worth == SEAL_HOLDS && n < s->body.size)
			return s;
	return NULL;
}

static void put_bytes(struct json_out *j, const char *name, const char *s, size_t len)
{
	json_name(j, name);
	json_text_bytes(j, s, len);
}

static enum bad write(const struct lines *l, uint64_t n, const struct seal *seal, struct text *out)
{
	struct hash proof[MERKLE_DEEP];
	struct json_out j;
	size_t count = merkle_inclusion(l->hash, seal->body.size, n, proof);
	json_begin_canonical(&j, out);
	json_open_object(&j);
	put_bytes(&j, "line", l->at[n], l->len[n]);
	json_name(&j, "n");
	json_whole(&j, (int64_t)n);
	json_name(&j, "proof");
	json_open_list(&j);
	for (size_t i = 0; i < count; i++) {
		char hex[HASH_HEX + 1];
		hash_hex(&proof[i], hex);
		json_text(&j, hex);
	}
	json_close_list(&j);
	put_bytes(&j, "seal", l->at[seal->n], l->len[seal->n]);
	json_name(&j, "type");
	json_text(&j, type);
	json_name(&j, "v");
	json_whole(&j, 1);
	json_close_object(&j);
	text_add_char(out, '\n');
	return json_end(&j);
}

enum bad single_write(const struct source *s, const struct key_ring *assessors, uint64_t n,
	struct text *out, struct diags *d)
{
	struct arena a = {0};
	struct seals seals;
	struct strand_sum sum;
	struct lines lines;
	struct strand_check check = {.known = assessors};
	enum bad code = seals_find(s, assessors, &a, &seals);
	check.checked = seals.checked;
	if (!code)
		code = strand_read(s, &check, NULL, NULL, &sum, d);
	if (code == BAD_TORN)
		code = FINE;
	if (!code && n >= sum.lines)
		code = BAD_RANGE;
	const struct seal *seal = code ? NULL : seal_over(&seals, n);
	if (!code && !seal)
		code = BAD_SEAL;
	if (!code)
		code = lines_of(s, sum.lines, &a, &lines);
	if (!code)
		code = write(&lines, n, seal, out);
	arena_release(&a);
	return code;
}

/* ---- checking -------------------------------------------------------------------------------- */

static enum bad no(struct text *why, enum bad code, const char *words)
{
	if (why)
		text_add(why, words);
	return code;
}

/* A line as text: frame, hash, payload. */
static enum bad read_line(const char *text, struct chain_slice *slice, struct strand_line *line)
{
	size_t where;
	const char *words;
	*line = (struct strand_line){0};
	enum bad code = chain_slice(text, strlen(text), slice);
	if (!code)
		code = chain_hash(slice, &line->hash);
	return code ? code : chain_payload(slice, line, &where, &words);
}

static enum bad read_proof(const struct json *list, struct hash *out, size_t *n)
{
	*n = 0;
	if (!list || list->kind != JSON_LIST || list->count > MERKLE_DEEP)
		return BAD_SYNTAX;
	for (const struct json *i = list->first; i; i = i->next) {
		const char *hex;
		if (json_text_of(i, &hex) || hash_from_hex(hex, strlen(hex), &out[(*n)++]))
			return BAD_SYNTAX;
	}
	return FINE;
}

static enum bad check_seal(const char *text, const struct key_ring *assessors, struct arena *a,
	struct single *out, struct text *why)
{
	struct chain_slice slice;
	struct strand_line line;
	char id[KEY_ID + 1];
	if (read_line(text, &slice, &line) || line.erased || line_seal_read(&line, a, &out->seal))
		return no(why, BAD_SYNTAX, "its seal is not a line that seals");
	const struct key_known *by = key_find(assessors, line.key);
	const unsigned char *open = by ? by->open : out->seal.assessor;
	key_id(open, id);
	if (strcmp(id, line.key) != 0 || chain_signature(&slice, &line.hash, open))
		return no(why, BAD_SEAL, "its seal is not signed with the key it names");
	if (line.n != out->seal.size)
		return no(why, BAD_CHAIN, "its seal does not stand where it was put");
	if (!out->line.erased && strcmp(line.strand, out->line.strand) != 0)
		return no(why, BAD_CHAIN, "its seal belongs to another strand");
	memcpy(out->key, line.key, sizeof out->key);
	out->accepted_as = by ? by->name : "";
	return FINE;
}

static enum bad check(const struct json *j, const struct key_ring *assessors, struct arena *a,
	struct single *out, struct text *why)
{
	struct hash proof[MERKLE_DEEP];
	struct chain_slice slice;
	const char *line, *seal, *is;
	int64_t n, v;
	size_t count;
	if (json_text_of(json_find(j, "type"), &is) || strcmp(is, type) != 0)
		return no(why, BAD_TYPE, "this is not the proof of a line");
	if (json_whole_of(json_find(j, "v"), 1, 1, &v))
		return no(why, BAD_VERSION, "this proof is of another version");
	if (json_text_of(json_find(j, "line"), &line) ||
		json_text_of(json_find(j, "seal"), &seal) ||
		json_whole_of(json_find(j, "n"), 0, JSON_WHOLE_MAX, &n) ||
		read_proof(json_find(j, "proof"), proof, &count))
		return no(why, BAD_SYNTAX, "something of the proof is missing or has another form");
	if (read_line(line, &slice, &out->line))
		return no(why, BAD_CHAIN, "the line was changed: its hash does not fit it");
	if (!out->line.erased && out->line.n != (uint64_t)n)
		return no(why, BAD_CHAIN, "the line stood at another place");
	enum bad code = check_seal(seal, assessors, a, out, why);
	if (code)
		return code;
	if (merkle_inclusion_check(
		    &out->line.hash, (uint64_t)n, out->seal.size, proof, count, &out->seal.root))
		return no(why, BAD_CHAIN, "the line does not stand in what was sealed");
	return FINE;
}

enum bad single_check(const char *text, size_t len, const struct key_ring *assessors,
	struct arena *a, struct single *out, struct text *why)
{
	struct json *j;
	struct single x = {0};
	struct json_fault fault = {0, ""};
	enum bad code = json_read(a, text, len, &j, &fault);
	if (code)
		return no(why, code, *fault.why ? fault.why : bad_text(code));
	code = check(j, assessors, a, &x, why);
	if (!code)
		*out = x;
	return code;
}
