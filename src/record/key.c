/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * MACHINE KEY, version 1. FOLDER/machine.key, 0600, three lines, each ended by LF:
 *
 *     barwright-machine-key 1
 *     seed <64 lower-case hex digits: the Ed25519 seed of RFC 8032>
 *     open <64 lower-case hex digits: the public key>
 *
 * Valid if and only if these are all its bytes and the public key is that of the seed, so that a
 * damaged seed is noticed before it signs anything.
 */
#include <barwright/record/key.h>

#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>

#include "record/guard.h"

enum { KEY_FILE_MOST = 4096, KEY_FILE = 24 + 2 * (5 + 64 + 1) };
static const char head[] = "barwright-machine-key 1\n";

void key_id(const unsigned char open[static SIGN_PUBLIC], char out[static KEY_ID + 1])
{
	struct hash h = hash_bytes(open, SIGN_PUBLIC);
	hex_write(h.byte, KEY_ID / 2, out);
}

const struct key_known *key_find(const struct key_ring *ring, const char *id)
{
	char each[KEY_ID + 1];
	for (size_t i = 0; ring && i < ring->n; i++) {
		key_id(ring->at[i].open, each);
		if (strcmp(each, id) == 0)
			return &ring->at[i];
	}
	return NULL;
}

bool key_is_in_time(const struct key_known *k, int64_t ms)
{
	return !k->until_ms || (ms >= k->from_ms && ms <= k->until_ms);
}

static enum bad parse(const char *text, size_t len, struct sign_pair *out)
{
	unsigned char seed[SIGN_SEED], open[SIGN_PUBLIC];
	struct sign_pair pair;
	const char *s = text + sizeof head - 1;
	if (len != KEY_FILE || memcmp(text, head, sizeof head - 1) != 0)
		return BAD_SYNTAX;
	if (memcmp(s, "seed ", 5) != 0 || hex_read(s + 5, 64, seed, SIGN_SEED) || s[69] != '\n')
		return BAD_SYNTAX;
	s += 70;
	if (memcmp(s, "open ", 5) != 0 || hex_read(s + 5, 64, open, SIGN_PUBLIC) || s[69] != '\n')
		return BAD_SYNTAX;
	sign_pair_from_seed(seed, &pair);
	cipher_wipe(seed, sizeof seed);
	bool fits = memcmp(pair.open, open, SIGN_PUBLIC) == 0;
	if (fits)
		*out = pair;
	cipher_wipe(&pair, sizeof pair);
	return fits ? FINE : BAD_SYNTAX;
}

static enum bad load(const char *path, struct sign_pair *out)
{
	char *text;
	size_t len;
	if (file_kind(path) == FILE_OTHER)
		return BAD_TYPE; /* a pipe would be waited for */
	enum bad code = file_read(path, KEY_FILE_MOST, NULL, &text, &len);
	if (code)
		return code == BAD_SIZE ? BAD_SYNTAX : code;
	code = parse(text, len, out);
	cipher_wipe(text, len);
	mem_drop(text);
	return code;
}

static enum bad make(const char *path, struct sign_pair *out)
{
	unsigned char seed[SIGN_SEED];
	char seed_hex[65], open_hex[65], text[KEY_FILE + 1];
	struct sign_pair pair;
	random_bytes(seed, sizeof seed);
	sign_pair_from_seed(seed, &pair);
	hex_write(seed, SIGN_SEED, seed_hex);
	hex_write(pair.open, SIGN_PUBLIC, open_hex);
	snprintf(text, sizeof text, "%sseed %s\nopen %s\n", head, seed_hex, open_hex);
	enum bad code = file_replace(path, text, KEY_FILE, true);
	if (!code)
		*out = pair;
	cipher_wipe(seed, sizeof seed);
	cipher_wipe(seed_hex, sizeof seed_hex);
	cipher_wipe(text, sizeof text);
	cipher_wipe(&pair, sizeof pair);
	return code;
}

/* Under a lock: of two programs that find no key, one makes it and the other one loads it. */
static enum bad load_or_make(const char *folder, const char *path, struct sign_pair *out)
{
	struct file guard;
	enum bad code = load(path, out);
	if (code != BAD_ABSENT)
		return code;
	code = folder_make(folder);
	if (!code)
		code = guard_take(folder, &guard);
	if (code)
		return code;
	code = load(path, out);
	if (code == BAD_ABSENT)
		code = make(path, out);
	file_close(&guard);
	return code;
}

enum bad key_machine(const char *folder, struct sign_pair *out, struct text *why)
{
	struct arena a = {0};
	enum bad code = cipher_start();
	const char *path = folder_join(&a, folder, "machine.key");
	if (!code)
		code = path ? load_or_make(folder, path, out) : BAD_MEMORY;
	if (code && why) {
		file_words(code, path ? path : folder, why);
		if (code == BAD_SYNTAX)
			text_add(why, "; the key of this machine is damaged. Put it back from a "
				      "copy, or set it aside to let a new one be made: records "
				      "then begin anew");
	}
	arena_release(&a);
	return code;
}
