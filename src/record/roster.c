/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * ROSTER, version 1. Lines of UTF-8, each ended by LF:
 *
 *     barwright-roster 1
 *     school <64 lower-case hex digits: the public key that signs> <name>
 *     assessor <64 hex digits> <first day> <last day> <name>        as many as there are
 *     machine <64 hex digits> <first day> <last day> <name>         as many as there are
 *     signed <86 characters of base64url without padding>
 *
 * Days are UTC, "2026-09-01", both of them included. The signature is Ed25519 (RFC 8032) over the
 * 19 bytes "barwright/roster/1" LF and the SHA-256 of all bytes before the line "signed".
 */
#include <barwright/record/roster.h>

#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/assessor.h>

#include "record/canon.h"
#include "record/name_list.h"

enum { ROSTER_MOST = 1 << 20, SIGNATURE_TEXT = 86, DAY = 10, HEX = 2 * SIGN_PUBLIC };
static const char head[] = "barwright-roster 1\n";
static const char domain[] = "barwright/roster/1\n";
enum { DOMAIN_LEN = sizeof domain - 1 };

static void signed_bytes(
	const char *text, size_t len, unsigned char out[static DOMAIN_LEN + HASH_BYTES])
{
	struct hash h = hash_bytes(text, len);
	memcpy(out, domain, DOMAIN_LEN);
	memcpy(out + DOMAIN_LEN, h.byte, HASH_BYTES);
}

enum bad roster_day(const char *s, size_t len, int64_t *first_ms, int64_t *last_ms)
{
	char text[TIME_TEXT] = "yyyy-mm-ddT00:00:00.000Z";
	int64_t first;
	if (len != DAY)
		return BAD_SYNTAX;
	memcpy(text, s, DAY);
	enum bad code = time_read(text, strlen(text), &first);
	if (code)
		return code;
	*first_ms = first;
	*last_ms = first + INT64_C(86400000) - 1;
	return FINE;
}

/* ---- writing --------------------------------------------------------------------------------- */

static enum bad add_row(struct text *out, const char *kind, const struct key_known *k)
{
	char hex[HEX + 1], from[TIME_TEXT], until[TIME_TEXT];
	enum bad code = name_check(k->name, strlen(k->name), ASSESSOR_NAME_MOST);
	if (!code && (k->from_ms > k->until_ms || !k->until_ms))
		code = BAD_RANGE;
	if (code)
		return code;
	hex_write(k->open, SIGN_PUBLIC, hex);
	time_write(k->from_ms, from);
	time_write(k->until_ms, until);
	text_addf(out, "%s %s %.10s %.10s %s\n", kind, hex, from, until, k->name);
	return FINE;
}

enum bad roster_write(const struct key_ring *assessors, const struct key_ring *machines,
	const char *school, const struct sign_pair *pair, struct text *out)
{
	unsigned char message[DOMAIN_LEN + HASH_BYTES], signature[SIGN_BYTES];
	char hex[HEX + 1], text[SIGNATURE_TEXT + 1];
	size_t start = out->len;
	enum bad code = name_check(school, strlen(school), ASSESSOR_NAME_MOST);
	hex_write(pair->open, SIGN_PUBLIC, hex);
	text_addf(out, "%sschool %s %s\n", head, hex, school);
	for (size_t i = 0; i < assessors->n && !code; i++)
		code = add_row(out, "assessor", &assessors->at[i]);
	for (size_t i = 0; i < machines->n && !code; i++)
		code = add_row(out, "machine", &machines->at[i]);
	if (code || out->out)
		return code ? code : BAD_MEMORY;
	signed_bytes(out->at + start, out->len - start, message);
	sign_make(pair, message, sizeof message, signature);
	base64url_write(signature, SIGN_BYTES, text, sizeof text);
	text_addf(out, "signed %s\n", text);
	return out->out ? BAD_MEMORY : FINE;
}

/* ---- reading --------------------------------------------------------------------------------- */

struct reading {
	const char *at, *end;
	size_t line; /* that is being read, from 1 */
	struct arena *a;
};

/* The rest of the next line behind "WORD "; false, and nothing is passed, when it is another one. */
static bool take(struct reading *r, const char *word, struct slice *out)
{
	size_t n = strlen(word);
	const char *stop = memchr(r->at, '\n', (size_t)(r->end - r->at));
	if (!stop || (size_t)(stop - r->at) <= n || memcmp(r->at, word, n) != 0 || r->at[n] != ' ')
		return false;
	*out = (struct slice){r->at + n + 1, (size_t)(stop - r->at) - n - 1};
	r->at = stop + 1;
	r->line++;
	return true;
}

static bool take_key(struct slice *rest, unsigned char *out)
{
	if (rest->len <= HEX || rest->at[HEX] != ' ' || hex_read(rest->at, HEX, out, SIGN_PUBLIC))
		return false;
	*rest = (struct slice){rest->at + HEX + 1, rest->len - HEX - 1};
	return true;
}

static bool take_day(struct slice *rest, int64_t *first, int64_t *last)
{
	if (rest->len <= DAY || rest->at[DAY] != ' ' || roster_day(rest->at, DAY, first, last))
		return false;
	*rest = (struct slice){rest->at + DAY + 1, rest->len - DAY - 1};
	return true;
}

static enum bad row_read(struct reading *r, struct slice row, struct key_known *out)
{
	int64_t other;
	if (!take_key(&row, out->open) || !take_day(&row, &out->from_ms, &other) ||
		!take_day(&row, &other, &out->until_ms) || out->from_ms > out->until_ms ||
		name_check(row.at, row.len, ASSESSOR_NAME_MOST))
		return BAD_SYNTAX;
	out->name = arena_copy(r->a, row.at, row.len);
	return out->name ? FINE : BAD_MEMORY;
}

static enum bad rows_read(struct reading *r, const char *word, struct key_ring *out)
{
	size_t room = (size_t)(r->end - r->at) / (HEX + 2 * DAY + 4) + 1, n = 0;
	struct key_known *list = arena_many(r->a, room, struct key_known);
	struct slice row;
	if (!list)
		return BAD_MEMORY;
	while (take(r, word, &row)) {
		enum bad code = row_read(r, row, &list[n++]);
		if (code) {
			r->line--;
			return code;
		}
	}
	*out = (struct key_ring){list, n};
	return FINE;
}

static enum bad parse(
	struct reading *r, const char *text, const struct key_ring *accepted, struct roster *out)
{
	unsigned char open[SIGN_PUBLIC], message[DOMAIN_LEN + HASH_BYTES], signature[SIGN_BYTES];
	struct slice school, proof;
	size_t start = sizeof head - 1;
	if ((size_t)(r->end - text) < start || memcmp(text, head, start - 2) != 0)
		return BAD_SYNTAX;
	if (memcmp(text, head, start) != 0)
		return BAD_VERSION;
	r->at += start;
	r->line = 2;
	if (!take(r, "school", &school) || !take_key(&school, open) ||
		name_check(school.at, school.len, ASSESSOR_NAME_MOST))
		return BAD_SYNTAX;
	enum bad code = rows_read(r, "assessor", &out->assessors);
	if (!code)
		code = rows_read(r, "machine", &out->machines);
	if (code)
		return code;
	signed_bytes(text, (size_t)(r->at - text), message);
	if (!take(r, "signed", &proof) || r->at != r->end ||
		base64url_read(proof.at, proof.len, signature, SIGN_BYTES))
		return BAD_SYNTAX;
	if (!sign_holds(open, message, sizeof message, signature))
		return BAD_SEAL;
	char id[KEY_ID + 1];
	key_id(open, id);
	const struct key_known *by = key_find(accepted, id);
	out->by = by ? by->name : "";
	return by ? FINE : BAD_UNKNOWN;
}

static void tell(enum bad code, const char *path, size_t line, struct text *why)
{
	text_add_safe(why, path, strlen(path), false);
	if (code == BAD_SYNTAX)
		text_addf(why, ", line %zu: this is not a school's roster, or it is damaged", line);
	else if (code == BAD_VERSION)
		text_add(why, ": a newer program made this roster");
	else if (code == BAD_SEAL)
		text_add(why, ": this roster was changed since the school signed it");
	else if (code == BAD_UNKNOWN)
		text_add(why, ": the key that signed this roster is not accepted here. Compare its "
			      "fingerprint with the school, then: barwright key accept");
	else
		text_addf(why, ": %s", file_advice(code));
}

enum bad roster_read(const char *path, const struct key_ring *accepted, struct arena *a,
	struct roster *out, struct text *why)
{
	char *text;
	size_t len;
	struct roster found = {0};
	struct reading r = {.a = a, .line = 1};
	enum bad code = cipher_start();
	if (!code)
		code = file_read(path, ROSTER_MOST, a, &text, &len);
	if (code == BAD_SIZE)
		code = BAD_SYNTAX;
	else if (!code) {
		r.at = text;
		r.end = text + len;
		code = parse(&r, text, accepted, &found);
	}
	if (!code)
		*out = found;
	else if (why)
		tell(code, path, r.line, why);
	return code;
}
