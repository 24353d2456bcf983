/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * STRAND, version 1. A file of lines, each ended by one LF (0x0A):
 *
 *     [<payload>,"<hash>","<signature>"]
 *
 * payload    an object in canonical JSON (RFC 8785) without null and fractions (record/canon.h), or
 *            the word null where it was erased on request
 * hash       64 lower-case hex digits: SHA-256 of the byte 0x00 and the payload's bytes, the leaf
 *            hash of RFC 9162, 2.1.1; worked out before an erasure, which leaves it as it is
 * signature  86 characters of base64url without padding (RFC 4648, 5): Ed25519 (RFC 8032) over the
 *            25 bytes "vocational-record/line/1" LF and the 32 bytes of the hash
 *
 * The suffix from the payload's end to the LF is 157 bytes, so the payload is cut out by length,
 * and what is hashed is these very bytes, never what a JSON program makes of them. The members, all
 * there and no others, in this order:
 *
 *     at      UTC with milliseconds, "2026-11-25T09:30:15.000Z"
 *     body    an object; what it holds depends on kind (record/lines.h)
 *     boot    milliseconds since the machine started
 *     id      a random UUID, version 4, lower case (RFC 9562)
 *     key     the first 16 hex digits of SHA-256(public key that signed)
 *     kind    1 to 32 of a-z and -
 *     n       the line's place in the strand, from 0
 *     prev    the hash of line n - 1; 64 zeros at n = 0
 *     salt    32 random hex digits, so that an erased short payload cannot be guessed from its hash
 *     strand  the strand's id: 1 to 64 of A-Z a-z 0-9 . _ -, a letter or digit first
 *     v       1
 *     who     the learner's code, of the same form
 *
 * Line n of a strand is VALID if and only if line n - 1 is, or n = 0, and
 *  (1) it ends in LF and has at most 65536 bytes with it;
 *  (2) it has the frame above, by position alone;
 *  (3) hash is 64 lower-case digits and, unless the payload is null, fits the payload's bytes;
 *  (4) signature is canonical base64url (spare bits 0) and fits the hash under the key that `key`
 *      names, or, where the payload is null, under any key known by then;
 *  (5) the payload is null or has the form above;
 *  (6) n counts on by one, and prev is the hash of the line before;
 *  (7) strand and who are those of the lines before, and id was not there before;
 *  (8) the key is known: the reader vouches for it; or `machine_pk` (64 hex digits, the public key)
 *      in the body of an `open` or `recovered` line has introduced it: at n = 0 this very line,
 *      after that an earlier valid one; or `assessor_pk` in the body of this line or of an earlier
 *      valid one has, where kind is seal, rating, void or erasure.
 * Of a null payload (5) to (7) ask nothing, so an `open`, a `recovered` and a `seal` are never erased;
 * a key that signed one may also be introduced later. A key that is known says who signed, not that
 * anybody accepts it: whether a seal or a rating counts is up to the reader's own list.
 *
 * A strand is good up to its first line that is not valid; nothing after that counts. Bytes behind
 * the last LF are a torn tail: not a line at all. A strand that ends early, at a line's end, is
 * valid: the chain cannot show that lines are missing there.
 *
 * A later version keeps the frame, (1) to (3), and the member v with its own number.
 */
#include <barwright/record/chain.h>

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/record/merkle.h>

#include "record/canon.h"

static const char domain[] = "vocational-record/line/1\n";
enum { DOMAIN_LEN = sizeof domain - 1, SIGNATURE_TEXT = 86 };
_Static_assert(CHAIN_SUFFIX == 2 + HASH_HEX + 3 + SIGNATURE_TEXT + 2, "the suffix is fixed");

static void signed_bytes(const struct hash *h, unsigned char out[static DOMAIN_LEN + HASH_BYTES])
{
	memcpy(out, domain, DOMAIN_LEN);
	memcpy(out + DOMAIN_LEN, h->byte, HASH_BYTES);
}

/* ---- the forms of the texts ------------------------------------------------------------------ */

/* Every line has some eighty such characters, so no strchr here. */
static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_hex_digit(char c)
{
	return is_digit(c) || (c >= 'a' && c <= 'f');
}

static bool is_name_sign(char c)
{
	return is_digit(c) || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.' ||
	       c == '_' || c == '-';
}

static bool is_name(const char *s, size_t len)
{
	for (size_t i = 0; i < len; i++)
		if (!is_name_sign(s[i]))
			return false;
	return len >= 1 && len <= CHAIN_NAME && *s != '.' && *s != '_' && *s != '-';
}

static bool is_kind(const char *s, size_t len)
{
	for (size_t i = 0; i < len; i++)
		if ((s[i] < 'a' || s[i] > 'z') && s[i] != '-')
			return false;
	return len >= 1 && len <= CHAIN_KIND;
}

/* x: a lower-case hex digit, y: one of 8 9 a b. */
static bool is_uuid(const char *s, size_t len)
{
	static const char form[] = "xxxxxxxx-xxxx-4xxx-yxxx-xxxxxxxxxxxx";
	if (len != CHAIN_UUID)
		return false;
	for (size_t i = 0; i < len; i++) {
		bool fits = form[i] == 'x' ? is_hex_digit(s[i])
			    : form[i] == 'y'
				    ? s[i] == '8' || s[i] == '9' || s[i] == 'a' || s[i] == 'b'
				    : s[i] == form[i];
		if (!fits)
			return false;
	}
	return true;
}

static bool is_hex(const char *s, size_t len)
{
	for (size_t i = 0; i < len; i++)
		if (!is_hex_digit(s[i]))
			return false;
	return true;
}

static bool is_key(const char *s, size_t len)
{
	return len == KEY_ID && is_hex(s, len);
}

bool chain_is_name(const char *s)
{
	return is_name(s, strlen(s));
}

/* ---- writing --------------------------------------------------------------------------------- */

static void write_payload(struct pen *p, const struct strand_line *line)
{
	char at[TIME_TEXT];
	time_write(line->at_ms, at);
	pen_raw(p, "{");
	pen_member(p, "at");
	pen_text(p, at);
	pen_member(p, "body");
	pen_bytes(p, line->body, line->body_len);
	pen_member(p, "boot");
	pen_count(p, (uint64_t)line->boot_ms);
	pen_member(p, "id");
	pen_text(p, line->id);
	pen_member(p, "key");
	pen_text(p, line->key);
	pen_member(p, "kind");
	pen_text(p, line->kind);
	pen_member(p, "n");
	pen_count(p, line->n);
	pen_member(p, "prev");
	pen_hex(p, line->prev.byte, HASH_BYTES);
	pen_member(p, "salt");
	pen_hex(p, line->salt, CHAIN_SALT);
	pen_member(p, "strand");
	pen_text(p, line->strand);
	pen_member(p, "v");
	pen_count(p, CHAIN_VERSION);
	pen_member(p, "who");
	pen_text(p, line->who);
	pen_raw(p, "}");
}

static void write_suffix(struct pen *p, const struct hash *h, const struct sign_pair *pair)
{
	unsigned char message[DOMAIN_LEN + HASH_BYTES], signature[SIGN_BYTES];
	char text[SIGNATURE_TEXT + 1];
	signed_bytes(h, message);
	sign_make(pair, message, sizeof message, signature);
	base64url_write(signature, SIGN_BYTES, text, sizeof text);
	pen_raw(p, ",");
	pen_hex(p, h->byte, HASH_BYTES);
	pen_raw(p, ",\"");
	pen_bytes(p, text, SIGNATURE_TEXT);
	pen_raw(p, "\"]\n");
}

static bool has_form(const struct strand_line *line)
{
	return is_name(line->strand, strlen(line->strand)) &&
	       is_name(line->who, strlen(line->who)) && is_kind(line->kind, strlen(line->kind)) &&
	       is_uuid(line->id, strlen(line->id)) && line->boot_ms >= 0;
}

enum bad chain_line_write(
	struct strand_line *line, const struct sign_pair *pair, char *out, size_t room, size_t *len)
{
	if (!has_form(line))
		return BAD_SYNTAX;
	if (line->body_len > CHAIN_BODY_MOST)
		return BAD_SIZE;
	enum bad code = canon_check(line->body, line->body_len, 1, NULL, NULL);
	if (code)
		return code == BAD_SIZE ? BAD_SIZE : BAD_SYNTAX;
	key_id(pair->open, line->key);
	struct pen p = {out, 0, room < CHAIN_LINE_MOST ? room : CHAIN_LINE_MOST, FINE};
	pen_raw(&p, "[");
	write_payload(&p, line);
	if (p.bad)
		return p.bad;
	struct hash h = merkle_leaf(out + 1, p.len - 1);
	write_suffix(&p, &h, pair);
	if (p.bad)
		return p.bad;
	line->hash = h;
	*len = p.len;
	return FINE;
}

/* ---- slicing and checking -------------------------------------------------------------------- */

enum bad chain_slice(const char *line, size_t len, struct chain_slice *out)
{
	if (len < 1 + 2 + CHAIN_SUFFIX || line[0] != '[')
		return BAD_SYNTAX;
	const char *suffix = line + len - CHAIN_SUFFIX, *hex = suffix + 2;
	const char *signature = hex + HASH_HEX + 3;
	if (memcmp(suffix, ",\"", 2) != 0 || memcmp(hex + HASH_HEX, "\",\"", 3) != 0 ||
		memcmp(signature + SIGNATURE_TEXT, "\"]", 2) != 0)
		return BAD_SYNTAX;
	*out = (struct chain_slice){line + 1, (size_t)(suffix - (line + 1)), hex, signature};
	return FINE;
}

static bool is_erased(const struct chain_slice *s)
{
	return s->payload_len == 4 && memcmp(s->payload, "null", 4) == 0;
}

enum bad chain_hash(const struct chain_slice *s, struct hash *out)
{
	struct hash stated;
	if (hash_from_hex(s->hex, HASH_HEX, &stated))
		return BAD_SYNTAX;
	if (!is_erased(s)) {
		struct hash real = merkle_leaf(s->payload, s->payload_len);
		if (!hash_is_equal(&real, &stated))
			return BAD_CHAIN;
	}
	*out = stated;
	return FINE;
}

enum bad chain_signature(const struct chain_slice *s, const struct hash *h,
	const unsigned char open[static SIGN_PUBLIC])
{
	unsigned char message[DOMAIN_LEN + HASH_BYTES], signature[SIGN_BYTES];
	if (base64url_read(s->signature, SIGNATURE_TEXT, signature, SIGN_BYTES))
		return BAD_SYNTAX;
	signed_bytes(h, message);
	return sign_holds(open, message, sizeof message, signature) ? FINE : BAD_SEAL;
}

/* ---- the payload ----------------------------------------------------------------------------- */

/* A text that fits into room with its 0 and has its form. */
static bool take(struct slice value, bool (*has)(const char *, size_t), char *out, size_t room)
{
	struct slice text;
	if (!canon_plain(value, &text) || text.len >= room || !has(text.at, text.len))
		return false;
	memcpy(out, text.at, text.len);
	out[text.len] = '\0';
	return true;
}

static bool take_hex(struct slice value, unsigned char *out, size_t n)
{
	struct slice text;
	return canon_plain(value, &text) && hex_read(text.at, text.len, out, n) == FINE;
}

static bool take_time(struct slice value, int64_t *ms)
{
	struct slice text;
	return canon_plain(value, &text) && time_read(text.at, text.len, ms) == FINE;
}

static bool take_count(struct slice value, uint64_t *out)
{
	return canon_count(value, out) == FINE;
}

enum member { AT, BODY, BOOT, ID, KEY, KIND, N, PREV, SALT, STRAND, V, WHO, MEMBERS };

static const char *const member_name[MEMBERS] = {
	"at", "body", "boot", "id", "key", "kind", "n", "prev", "salt", "strand", "v", "who"};

static bool take_member(enum member which, struct slice value, struct strand_line *line)
{
	uint64_t count = 0;
	switch (which) {
	case AT:
		return take_time(value, &line->at_ms);
	case BODY:
		line->body = value.at;
		line->body_len = value.len;
		return *value.at == '{';
	case BOOT:
		if (!take_count(value, &count))
			return false;
		line->boot_ms = (int64_t)count;
		return true;
	case ID:
		return take(value, is_uuid, line->id, sizeof line->id);
	case KEY:
		return take(value, is_key, line->key, sizeof line->key);
	case KIND:
		return take(value, is_kind, line->kind, sizeof line->kind);
	case N:
		return take_count(value, &line->n);
	case PREV:
		return take_hex(value, line->prev.byte, HASH_BYTES);
	case SALT:
		return take_hex(value, line->salt, CHAIN_SALT);
	case STRAND:
		return take(value, is_name, line->strand, sizeof line->strand);
	case V:
		return take_count(value, &count) && count == CHAIN_VERSION;
	case WHO:
		return take(value, is_name, line->who, sizeof line->who);
	default:
		return false;
	}
}

static enum bad no(enum bad code, const char *at, const struct chain_slice *s, const char *why,
	size_t *where, const char **words)
{
	*where = (size_t)(at - s->payload);
	*words = why;
	return code;
}

/* Members of another version may be others, so what is wrong with them here is not their fault. */
static bool is_other_version(const struct chain_slice *s, struct slice *value)
{
	struct slice all = {s->payload, s->payload_len};
	uint64_t v;
	return canon_member(all, "v", value) && !canon_count(*value, &v) && v != CHAIN_VERSION;
}

/* BAD_MISSING, BAD_TYPE or BAD_UNKNOWN with place and words, or all members into *line. */
static enum bad take_all(
	const struct chain_slice *s, struct strand_line *line, size_t *where, const char **words)
{
	struct slice name, value;
	const char *at = s->payload;
	for (int i = 0; i < MEMBERS; i++) {
		if (!canon_next(&at, &name, &value) || !slice_is(name, member_name[i]))
			return no(BAD_MISSING, at, s,
				"the members are not those of a line: at, body, boot, id, key, "
				"kind, n, prev, salt, strand, v, who",
				where, words);
		if (!take_member((enum member)i, value, line))
			return no(BAD_TYPE, value.at, s, "this value does not have its form", where,
				words);
	}
	if (canon_next(&at, &name, &value))
		return no(BAD_UNKNOWN, name.at, s, "a line has no such member", where, words);
	return FINE;
}

/* Behind kind stand n, prev, salt, strand, v and who, which hold no quote of their own and are never
 * longer than this. */
bool chain_kind_is(const struct chain_slice *s, const char *kind)
{
	enum { BEHIND = 400 };
	static const char name[] = "\"kind\":\"";
	size_t n = sizeof name - 1, len = strlen(kind);
	const char *first =
		s->payload_len > BEHIND ? s->payload + s->payload_len - BEHIND : s->payload;
	const char *at = s->payload + s->payload_len;
	for (at -= s->payload_len < n ? s->payload_len : n; at > first; at--)
		if (*at == '"' && memcmp(at, name, n) == 0)
			break;
	size_t left = (size_t)(s->payload + s->payload_len - at);
	return left > n + len && memcmp(at, name, n) == 0 && memcmp(at + n, kind, len) == 0 &&
	       at[n + len] == '"';
}

enum bad chain_payload(
	const struct chain_slice *s, struct strand_line *out, size_t *where, const char **words)
{
	struct strand_line line = {.hash = out->hash};
	struct slice value;
	if (is_erased(s)) {
		line.erased = true;
		*out = line;
		return FINE;
	}
	enum bad code = canon_check(s->payload, s->payload_len, 0, where, words);
	if (code)
		return code;
	code = take_all(s, &line, where, words);
	if (code && is_other_version(s, &value))
		return no(BAD_VERSION, value.at, s,
			"this line was written in another version of the format; this program "
			"reads version 1",
			where, words);
	if (!code)
		*out = line;
	return code;
}
