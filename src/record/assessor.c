/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * ASSESSOR'S KEY, version 1. Seven lines, each ended by LF:
 *
 *     barwright-assessor-key 1
 *     name <UTF-8 without controls, 1 to 100 bytes>
 *     open <64 lower-case hex digits: the Ed25519 public key>
 *     argon2id <passes> <memory in KiB>
 *     salt <32 hex digits>
 *     nonce <48 hex digits>
 *     locked <96 hex digits>
 *
 * locked  the 32 bytes of the Ed25519 seed (RFC 8032), locked with XChaCha20-Poly1305 under the key that
 *         Argon2id (RFC 9106, one lane) makes of passphrase and salt. Bound to it, as associated data,
 *         are the bytes of the first five lines, so that neither name nor public key nor cost can be
 *         exchanged unnoticed.
 *
 * ASSESSORS, version 1. DATA/assessors.txt: the line "barwright-assessors 1", then one line each: 64
 * hex digits of the public key, one TAB, the name. A person may change or delete lines in an editor.
 */
#include <barwright/record/assessor.h>

#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>

#include "record/canon.h"
#include "record/guard.h"
#include "record/name_list.h"

enum { KEY_MOST = 4096, LIST_MOST = 1 << 20, LOCKED = SIGN_SEED + LOCK_EXTRA };
static const char key_head[] = "barwright-assessor-key ";

void key_fingerprint(const unsigned char open[static SIGN_PUBLIC], char out[static FINGERPRINT])
{
	struct hash h = hash_bytes(open, SIGN_PUBLIC);
	char hex[HASH_HEX + 1];
	hash_hex(&h, hex);
	for (int i = 0; i < 8; i++)
		snprintf(out + 9 * i, 10, "%.8s%s", hex + 8 * i, i < 7 ? " " : "");
}

/* ---- the file -------------------------------------------------------------------------------- */

struct key_file {
	struct assessor who;
	unsigned char salt[PHRASE_SALT], nonce[LOCK_NONCE], locked[LOCKED];
	size_t bound; /* bytes of the first five lines */
};

/* The rest of the line at *at behind "WORD ", whose LF is passed. */
static bool take_line(const char **at, const char *end, const char *word, struct slice *out)
{
	size_t n = strlen(word);
	const char *stop = memchr(*at, '\n', (size_t)(end - *at));
	if (!stop || (size_t)(stop - *at) <= n || memcmp(*at, word, n) != 0 || (*at)[n] != ' ')
		return false;
	*out = (struct slice){*at + n + 1, (size_t)(stop - (*at + n + 1))};
	*at = stop + 1;
	return true;
}

static bool take_hex(
	const char **at, const char *end, const char *word, unsigned char *out, size_t n)
{
	struct slice hex;
	return take_line(at, end, word, &hex) && hex_read(hex.at, hex.len, out, n) == FINE;
}

/* One to seven digits without a leading zero, at *at. */
static bool take_count(const char **at, const char *end, uint32_t *out)
{
	uint32_t n = 0;
	const char *s = *at;
	while (s < end && *s >= '0' && *s <= '9' && s - *at < 7)
		n = n * 10 + (uint32_t)(*s++ - '0');
	if (s == *at || **at == '0')
		return false;
	*at = s;
	*out = n;
	return true;
}

static bool take_cost(const char **at, const char *end, struct phrase_cost *out)
{
	struct slice line;
	if (!take_line(at, end, "argon2id", &line))
		return false;
	const char *s = line.at, *stop = s + line.len;
	return take_count(&s, stop, &out->passes) && s < stop && *s++ == ' ' &&
	       take_count(&s, stop, &out->memory_KiB) && s == stop;
}

static enum bad parse(const char *text, size_t len, struct key_file *out)
{
	struct key_file f = {0};
	struct slice name;
	const char *at = text + sizeof key_head - 1, *end = text + len;
	if (len < sizeof key_head + 1 || memcmp(text, key_head, sizeof key_head - 1) != 0)
		return BAD_SYNTAX;
	if (memcmp(at, "1\n", 2) != 0)
		return BAD_VERSION;
	at += 2;
	if (!take_line(&at, end, "name", &name) ||
		name_check(name.at, name.len, ASSESSOR_NAME_MOST) ||
		!take_hex(&at, end, "open", f.who.open, SIGN_PUBLIC) ||
		!take_cost(&at, end, &f.who.cost) ||
		!take_hex(&at, end, "salt", f.salt, PHRASE_SALT))
		return BAD_SYNTAX;
	f.bound = (size_t)(at - text);
	if (!take_hex(&at, end, "nonce", f.nonce, LOCK_NONCE) ||
		!take_hex(&at, end, "locked", f.locked, LOCKED) || at != end)
		return BAD_SYNTAX;
	memcpy(f.who.name, name.at, name.len);
	key_id(f.who.open, f.who.id);
	*out = f;
	return FINE;
}

static enum bad load(const char *path, char **text, struct key_file *out)
{
	size_t len;
	enum bad code = file_read(path, KEY_MOST, NULL, text, &len);
	if (code)
		return code == BAD_SIZE ? BAD_SYNTAX : code;
	code = parse(*text, len, out);
	if (code)
		mem_drop(*text);
	return code;
}

static enum bad say(struct text *why, enum bad code, const char *path)
{
	if (!code || !why)
		return code;
	text_add_safe(why, path, strlen(path), false);
	switch (code) {
	case BAD_SYNTAX:
		text_add(why, ": this is not an assessor's key, or it is damaged");
		break;
	case BAD_VERSION:
		text_add(why, ": a newer program made this key");
		break;
	case BAD_SEAL:
		text_add(why, ": the passphrase does not open this key, or the file was changed");
		break;
	case BAD_REPEATED:
		text_add(why, ": something of this name is there already; a key is never "
			      "overwritten");
		break;
	default:
		text_addf(why, ": %s", file_advice(code));
	}
	return code;
}

/* ---- making ---------------------------------------------------------------------------------- */

/* The first five lines into `t`. */
static void add_bound(struct text *t, const struct key_file *f)
{
	char hex[2 * SIGN_PUBLIC + 1], salt[2 * PHRASE_SALT + 1];
	hex_write(f->who.open, SIGN_PUBLIC, hex);
	hex_write(f->salt, PHRASE_SALT, salt);
	text_addf(t, "%s1\nname %s\nopen %s\nargon2id %" PRIu32 " %" PRIu32 "\nsalt %s\n", key_head,
		f->who.name, hex, f->who.cost.passes, f->who.cost.memory_KiB, salt);
}

static void add_locked(struct text *t, const struct key_file *f)
{
	char nonce[2 * LOCK_NONCE + 1], locked[2 * LOCKED + 1];
	hex_write(f->nonce, LOCK_NONCE, nonce);
	hex_write(f->locked, LOCKED, locked);
	text_addf(t, "nonce %s\nlocked %s\n", nonce, locked);
}

/* Seed, pair and key of the passphrase, in locked memory. */
struct secrets {
	unsigned char seed[SIGN_SEED], key[LOCK_KEY];
	struct sign_pair pair;
};

static enum bad lock_new(struct key_file *f, struct secrets *s, const char *phrase, struct text *t)
{
	random_bytes(s->seed, SIGN_SEED);
	random_bytes(f->salt, PHRASE_SALT);
	random_bytes(f->nonce, LOCK_NONCE);
	sign_pair_from_seed(s->seed, &s->pair);
	memcpy(f->who.open, s->pair.open, SIGN_PUBLIC);
	key_id(f->who.open, f->who.id);
	enum bad code = phrase_key(phrase, strlen(phrase), f->salt, &f->who.cost, s->key);
	if (code)
		return code;
	add_bound(t, f);
	lock_bytes(s->key, f->nonce, t->at, t->len, s->seed, SIGN_SEED, f->locked);
	add_locked(t, f);
	return t->out ? BAD_MEMORY : FINE;
}

static enum bad make(const char *path, struct key_file *f, const char *phrase)
{
	struct text t;
	if (file_kind(path) != FILE_NONE)
		return BAD_REPEATED;
	struct secrets *s = secret_get(sizeof *s);
	if (!s)
		return BAD_MEMORY;
	text_init(&t);
	enum bad code = lock_new(f, s, phrase, &t);
	if (!code)
		code = file_replace(path, t.at, t.len, true);
	text_release(&t);
	secret_drop(s);
	return code;
}

enum bad assessor_make(const char *path, const char *name, const char *phrase,
	const struct phrase_cost *cost, struct assessor *out, struct text *why)
{
	struct key_file f = {.who.cost = cost ? *cost : phrase_cost_usual};
	enum bad code = name_check(name, strlen(name), ASSESSOR_NAME_MOST);
	if (code && why)
		text_addf(why, "a name has 1 to %d bytes of UTF-8 without controls",
			ASSESSOR_NAME_MOST);
	if (code)
		return code;
	memcpy(f.who.name, name, strlen(name) + 1);
	code = phrase_check(phrase, strlen(phrase));
	if (code && why)
		text_addf(why, "a passphrase has at least %d characters and no controls",
			PHRASE_LEAST);
	if (code)
		return code;
	code = cipher_start();
	if (!code)
		code = make(path, &f, phrase);
	if (!code)
		*out = f.who;
	return say(why, code, path);
}

/* ---- opening --------------------------------------------------------------------------------- */

enum bad assessor_show(const char *path, struct assessor *out, struct text *why)
{
	struct key_file f;
	char *text;
	enum bad code = cipher_start();
	if (!code)
		code = load(path, &text, &f);
	if (code)
		return say(why, code, path);
	mem_drop(text);
	*out = f.who;
	return FINE;
}

static enum bad unlock(
	const char *text, const struct key_file *f, const char *phrase, struct secrets *s)
{
	enum bad code = phrase_key(phrase, strlen(phrase), f->salt, &f->who.cost, s->key);
	if (!code)
		code = unlock_bytes(s->key, f->nonce, text, f->bound, f->locked, LOCKED, s->seed);
	if (code)
		return code == BAD_RANGE ? BAD_SYNTAX : code;
	sign_pair_from_seed(s->seed, &s->pair);
	return memcmp(s->pair.open, f->who.open, SIGN_PUBLIC) == 0 ? FINE : BAD_SEAL;
}

enum bad assessor_unlock(const char *path, const char *phrase, struct sign_pair **pair,
	struct assessor *out, struct text *why)
{
	struct key_file f;
	char *text;
	enum bad code = cipher_start();
	if (!code)
		code = load(path, &text, &f);
	if (code)
		return say(why, code, path);
	struct secrets *s = secret_get(sizeof *s);
	struct sign_pair *p = secret_get(sizeof *p);
	code = s && p ? unlock(text, &f, phrase, s) : BAD_MEMORY;
	if (!code) {
		*p = s->pair;
		*pair = p;
		*out = f.who;
	} else {
		secret_drop(p);
	}
	secret_drop(s);
	mem_drop(text);
	return say(why, code, path);
}

void assessor_forget(struct sign_pair *pair)
{
	secret_drop(pair);
}

/* ---- those a reader accepts ------------------------------------------------------------------ */

static bool is_public_half(const char *s, size_t len)
{
	unsigned char open[SIGN_PUBLIC];
	return hex_read(s, len, open, SIGN_PUBLIC) == FINE;
}

static const struct name_list_form assessors = {.head = "barwright-assessors 1\n",
	.what = "assessors",
	.lines = "64 hex digits of the key, one TAB, a name",
	.key_len = 2 * SIGN_PUBLIC,
	.name_most = ASSESSOR_NAME_MOST,
	.bytes_most = LIST_MOST,
	.is_key = is_public_half};

static enum bad ring_read(const struct name_list *list, struct arena *a, struct key_ring *out)
{
	struct key_known *known = arena_many(a, name_list_count(list) + 1, struct key_known);
	struct name_row row;
	size_t n = 0;
	if (!known)
		return BAD_MEMORY;
	for (size_t at = 0; name_list_next(list, &at, &row); n++) {
		known[n].name = arena_copy(a, row.name.at, row.name.len);
		if (!known[n].name || hex_read(row.key.at, row.key.len, known[n].open, SIGN_PUBLIC))
			return BAD_MEMORY;
	}
	*out = (struct key_ring){known, n};
	return FINE;
}

enum bad assessor_ring(const char *data, struct arena *a, struct key_ring *out, struct text *why)
{
	struct name_list list = {.form = &assessors};
	enum bad code = cipher_start();
	const char *path = folder_join(a, data, "assessors.txt");
	if (!code)
		code = path ? name_list_load(&assessors, path, a, &list) : BAD_MEMORY;
	if (!code)
		code = ring_read(&list, a, out);
	if (code && why)
		name_list_words(&list, code, path ? path : data, why);
	return code;
}

static bool is_listed(const struct name_list *list, const char *hex)
{
	struct name_row row;
	for (size_t at = 0; name_list_next(list, &at, &row);)
		if (slice_is(row.key, hex))
			return true;
	return false;
}

static enum bad add(
	const struct name_list *list, const char *path, const char *name, const unsigned char *open)
{
	struct text t;
	char hex[2 * SIGN_PUBLIC + 1];
	hex_write(open, SIGN_PUBLIC, hex);
	if (is_listed(list, hex))
		return FINE;
	text_init(&t);
	text_add_bytes(&t, list->text.at, list->text.len);
	text_addf(&t, "%s\t%s\n", hex, name);
	enum bad code = t.out ? BAD_MEMORY : file_replace(path, t.at, t.len, true);
	text_release(&t);
	return code;
}

enum bad assessor_accept(const char *data, const char *name,
	const unsigned char open[static SIGN_PUBLIC], struct text *why)
{
	struct arena a = {0};
	struct file guard;
	struct name_list list = {.form = &assessors};
	enum bad code = name_check(name, strlen(name), ASSESSOR_NAME_MOST);
	if (!code)
		code = cipher_start();
	const char *path = folder_join(&a, data, "assessors.txt");
	if (!code)
		code = path ? folder_make(data) : BAD_MEMORY;
	if (!code)
		code = guard_take(data, &guard);
	if (!code) {
		code = name_list_load(&assessors, path, &a, &list);
		if (!code)
			code = add(&list, path, name, open);
		file_close(&guard);
	}
	if (code && why)
		name_list_words(&list, code, path ? path : data, why);
	arena_release(&a);
	return code;
}
