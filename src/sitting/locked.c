/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A locked file:
 *
 *	"barwright locked 1\n"
 *	passes, memory in KiB   of Argon2id, 4 bytes each, little-endian
 *	salt                    16 bytes
 *	head                    24 bytes of the stream
 *	pieces                  of 4096 bytes and 17; the last one shorter or as long, and marked as
 *	                        the last inside what is locked
 *
 * All before the head is bound to the first piece. The key is Argon2id of passphrase and salt; the pieces
 * are the secretstream of base/cipher.h, so none can be changed, moved or left out, and the end cannot be
 * cut off unnoticed. */
#include "sitting/locked.h"

#include <string.h>

static const char magic[] = "barwright locked ";
static const char version[] = "1\n";
enum {
	MAGIC = sizeof magic - 1,
	VERSION = sizeof version - 1,
	FRONT = MAGIC + VERSION + 8 + PHRASE_SALT,
	PIECE = 4096,
	LOCKED_PIECE = PIECE + PIECE_EXTRA
};

bool locked_is(const char *bytes, size_t len)
{
	return len >= MAGIC && memcmp(bytes, magic, MAGIC) == 0;
}

static void put_32(unsigned char *to, uint32_t n)
{
	for (int i = 0; i < 4; i++)
		to[i] = (unsigned char)(n >> 8 * i);
}

static uint32_t get_32(const unsigned char *from)
{
	return (uint32_t)from[0] | (uint32_t)from[1] << 8 | (uint32_t)from[2] << 16 |
	       (uint32_t)from[3] << 24;
}

/* ---- locking --------------------------------------------------------------------------------- */

static void front_write(unsigned char *to, const struct phrase_cost *cost)
{
	memcpy(to, magic, MAGIC);
	memcpy(to + MAGIC, version, VERSION);
	put_32(to + MAGIC + VERSION, cost->passes);
	put_32(to + MAGIC + VERSION + 4, cost->memory_KiB);
	random_bytes(to + MAGIC + VERSION + 8, PHRASE_SALT);
}

static size_t pieces_write(const unsigned char key[static LOCK_KEY], const unsigned char *front,
	const char *bytes, size_t len, unsigned char *to)
{
	struct piece_state s;
	size_t at = PIECE_HEAD;
	piece_lock_start(&s, key, to);
	for (size_t from = 0;; from += PIECE) {
		bool is_last = len - from <= PIECE;
		size_t n = is_last ? len - from : PIECE;
		piece_lock(&s, front, from ? 0 : FRONT, bytes + from, n, is_last, to + at);
		at += n + PIECE_EXTRA;
		if (is_last)
			break;
	}
	cipher_wipe(&s, sizeof s);
	return at;
}

enum bad locked_make(const char *bytes, size_t len, const char *phrase,
	const struct phrase_cost *cost, struct arena *a, char **out, size_t *out_len)
{
	unsigned char key[LOCK_KEY];
	size_t pieces = len / PIECE + 1;
	unsigned char *made = arena_get(a, FRONT + PIECE_HEAD + len + pieces * PIECE_EXTRA);
	if (!made)
		return BAD_MEMORY;
	cost = cost ? cost : &phrase_cost_usual;
	front_write(made, cost);
	enum bad code = phrase_key(phrase, strlen(phrase), made + FRONT - PHRASE_SALT, cost, key);
	if (code)
		return code;
	*out_len = FRONT + pieces_write(key, made, bytes, len, made + FRONT);
	*out = (char *)made;
	cipher_wipe(key, sizeof key);
	return FINE;
}

/* ---- opening --------------------------------------------------------------------------------- */

struct opening {
	const unsigned char *locked;
	size_t len;
	const char **why;
};

static enum bad say(const struct opening *o, enum bad code, const char *why)
{
	*o->why = why;
	return code;
}

static enum bad pieces_read(
	const struct opening *o, struct piece_state *s, char *to, size_t *to_len)
{
	size_t at = FRONT + PIECE_HEAD, n = 0;
	for (bool is_last = false; !is_last;) {
		size_t len = o->len - at < LOCKED_PIECE ? o->len - at : LOCKED_PIECE;
		bool first = at == FRONT + PIECE_HEAD;
		if (len < PIECE_EXTRA)
			return say(o, BAD_TORN, "the file is cut off: fetch it again");
		if (piece_unlock(
			    s, o->locked, first ? FRONT : 0, o->locked + at, len, to + n, &is_last))
			return first ? say(o, BAD_SEAL,
					       "the passphrase is wrong, or the file was damaged")
			       : len < LOCKED_PIECE
				       ? say(o, BAD_TORN,
						 "the file is cut off or damaged: fetch it again")
				       : say(o, BAD_CHAIN, "the file was damaged: fetch it again");
		n += len - PIECE_EXTRA;
		at += len;
		if (is_last && at != o->len)
			return say(o, BAD_SYNTAX, "something stands behind the end of the file");
	}
	*to_len = n;
	return FINE;
}

static enum bad front_read(const struct opening *o, struct phrase_cost *cost)
{
	if (!locked_is((const char *)o->locked, o->len))
		return say(o, BAD_SYNTAX, "this is no locked file");
	if (o->len >= MAGIC + VERSION && memcmp(o->locked + MAGIC, version, VERSION) != 0)
		return say(o, BAD_VERSION, "the file was locked by another version of the program");
	if (o->len < FRONT + PIECE_HEAD + PIECE_EXTRA)
		return say(o, BAD_TORN, "the file is cut off: fetch it again");
	*cost = (struct phrase_cost){
		get_32(o->locked + MAGIC + VERSION), get_32(o->locked + MAGIC + VERSION + 4)};
	return FINE;
}

enum bad locked_open(const char *locked, size_t len, const char *phrase, struct arena *a,
	char **out, size_t *out_len, const char **why)
{
	const struct opening o = {(const unsigned char *)locked, len, why};
	struct phrase_cost cost;
	struct piece_state s;
	unsigned char key[LOCK_KEY];
	enum bad code = front_read(&o, &cost);
	if (code)
		return code;
	char *bytes = arena_get(a, len + 1);
	code = bytes ? phrase_key(
			       phrase, strlen(phrase), o.locked + FRONT - PHRASE_SALT, &cost, key)
		     : BAD_MEMORY;
	if (code)
		return say(&o, code,
			code == BAD_RANGE ? "the file was damaged at its beginning: fetch it again"
					  : bad_text(code));
	code = piece_unlock_start(&s, key, o.locked + FRONT);
	cipher_wipe(key, sizeof key);
	code = code ? say(&o, BAD_SEAL, "the passphrase is wrong, or the file was damaged")
		    : pieces_read(&o, &s, bytes, out_len);
	cipher_wipe(&s, sizeof s);
	if (code)
		return code;
	bytes[*out_len] = 0;
	*out = bytes;
	return FINE;
}
