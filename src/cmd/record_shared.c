/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/record/assessor.h>
#include <barwright/record/strand.h>

#include "cmd/phrase.h"
#include "cmd/record_parts.h"
#include "export/did.h"

void secret_warn(const char *path, const char *harm)
{
	if (file_is_open_to_others(path))
		cannot("%s: others on this machine can read this secret key. %s. To mend it: "
		       "chmod 600",
			path, harm);
}

void own_key_find(const char *data, struct arena *a, struct own_key *out)
{
	struct sign_pair pair;
	struct text why;
	const char *path = folder_join(a, data, "machine.key");
	*out = (struct own_key){0};
	if (!path || file_kind(path) == FILE_NONE)
		return;
	text_init(&why);
	enum bad code = key_machine(data, &pair, &why);
	if (code)
		cannot("%s", why.at);
	text_release(&why);
	if (code)
		return;
	secret_warn(path, "Who has it can write lines in this machine's name");
	memcpy(out->known.open, pair.open, sizeof out->known.open);
	out->known.name = "this machine";
	out->ring = (struct key_ring){&out->known, 1};
	cipher_wipe(&pair, sizeof pair);
}

/* ---- assessors ------------------------------------------------------------------------------- */

int public_half(const char *name, struct arena *a, unsigned char *open, const char **called)
{
	struct assessor who;
	struct text why;
	int status = EXIT_DONE;
	if (strncmp(name, "did:", 4) == 0) {
		if (did_key_read(name, strlen(name), open))
			return cannot("%s: this is not a did:key of Ed25519", name);
		*called = "";
		return EXIT_DONE;
	}
	text_init(&why);
	if (assessor_show(name, &who, &why))
		status = cannot("%s", why.at);
	text_release(&why);
	if (status)
		return status;
	memcpy(open, who.open, SIGN_PUBLIC);
	*called = arena_copy(a, who.name, strlen(who.name));
	return *called ? EXIT_DONE : cannot("%s", bad_text(BAD_MEMORY));
}

int accepted_add(struct accepted *x, struct arena *a, const char *name)
{
	const char *called;
	struct key_known *more = arena_many(a, x->nextra + 1, struct key_known);
	if (!more)
		return cannot("%s", bad_text(BAD_MEMORY));
	int status = public_half(name, a, more[x->nextra].open, &called);
	if (status)
		return status;
	more[x->nextra].name = *called ? called : name;
	if (x->nextra)
		memcpy(more, x->extra, x->nextra * sizeof *more);
	x->extra = more;
	x->nextra++;
	return EXIT_DONE;
}

int accepted_finish(struct accepted *x, struct arena *a, const char *data)
{
	struct key_ring list = {0};
	struct text why;
	int status = EXIT_DONE;
	text_init(&why);
	if (assessor_ring(data, a, &list, &why))
		status = cannot("%s", why.at);
	text_release(&why);
	struct key_known *all = arena_many(a, list.n + x->nextra + 1, struct key_known);
	if (!status && !all)
		status = cannot("%s", bad_text(BAD_MEMORY));
	if (status)
		return status;
	for (size_t i = 0; i < list.n; i++)
		all[i] = list.at[i];
	for (size_t i = 0; i < x->nextra; i++)
		all[list.n + i] = x->extra[i];
	x->ring = (struct key_ring){all, list.n + x->nextra};
	return EXIT_DONE;
}

/* The notes of this machine count with those of accepted assessors. */
int trusted_ring(const char *data, struct arena *a, struct accepted *x)
{
	struct own_key own;
	int status = accepted_finish(x, a, data);
	if (status)
		return status;
	own_key_find(data, a, &own);
	struct key_known *all = arena_many(a, x->ring.n + 1, struct key_known);
	if (!all)
		return cannot("%s", bad_text(BAD_MEMORY));
	if (x->ring.n)
		memcpy(all, x->ring.at, x->ring.n * sizeof *all);
	if (own.ring.n)
		all[x->ring.n++] = own.known;
	x->ring.at = all;
	return EXIT_DONE;
}

int archive_ring(const char *data, const char *archive, struct arena *a, struct accepted *x)
{
	int status = trusted_ring(data, a, x);
	if (status || strcmp(data, archive) == 0)
		return status;
	x->extra = x->ring.at;
	x->nextra = x->ring.n;
	return trusted_ring(archive, a, x);
}

int accepted_there(const struct assessor *by, const char *data, struct arena *a)
{
	struct accepted list = {0};
	int status = accepted_finish(&list, a, data);
	if (status || key_find(&list.ring, by->id))
		return status;
	return cannot("the key of %s is not accepted here, so this would count for nothing. First: "
		      "barwright --data %s key accept KEY",
		by->name, data);
}

/* ---- what several words share ---------------------------------------------------------------- */

struct key_opening {
	const char *key;
	struct opened *out;
	struct text why;
};

static enum bad key_try(void *context, const char *phrase)
{
	struct key_opening *x = context;
	text_clear(&x->why);
	return assessor_unlock(x->key, phrase, &x->out->pair, &x->out->who, &x->why);
}

int key_open(const char *key, const char *phrase_file, struct opened *out)
{
	struct key_opening x = {.key = key, .out = out};
	struct phrase_use use = {.file = phrase_file,
		.prompt = "Passphrase of this key: ",
		.tries = PHRASE_TRIES,
		.open = key_try,
		.context = &x};
	*out = (struct opened){0};
	if (!key)
		return EXIT_DONE;
	secret_warn(key, "Only the passphrase still protects it");
	text_init(&x.why);
	int status = phrase_use(&use) ? EXIT_CANNOT : EXIT_DONE;
	if (status && x.why.len)
		cannot("%s", x.why.at);
	text_release(&x.why);
	return status;
}

/* ---- strands --------------------------------------------------------------------------------- */

struct found {
	struct arena *a;
	const char **path;
	size_t n, room;
};

static enum bad add_path(struct found *f, const char *path)
{
	if (f->n == f->room) {
		size_t room = f->room ? 2 * f->room : 64;
		const char **more = arena_many(f->a, room, const char *);
		if (!more)
			return BAD_MEMORY;
		if (f->n)
			memcpy(more, f->path, f->n * sizeof *more);
		f->path = more;
		f->room = room;
	}
	f->path[f->n++] = path;
	return FINE;
}

static enum bad add_folder(struct found *f, const char *path)
{
	struct folder_entry *list = NULL;
	size_t n = 0;
	const char *inner = folder_join(f->a, path, "strands");
	if (!inner)
		return BAD_MEMORY;
	if (file_kind(inner) == FILE_FOLDER)
		path = inner;
	enum bad code = folder_list(path, f->a, &list, &n);
	for (size_t i = 0; i < n && !code; i++) {
		if (list[i].kind != FILE_PLAIN || !strand_is_file_name(list[i].name))
			continue;
		const char *one = folder_join(f->a, path, list[i].name);
		code = one ? add_path(f, one) : BAD_MEMORY;
	}
	return code;
}

int strand_paths(
	const char *data, char **path, size_t n, struct arena *a, const char ***out, size_t *count)
{
	struct found f = {.a = a};
	for (size_t i = 0; i < (n ? n : 1); i++) {
		const char *one = n ? path[i] : data;
		enum bad code =
			file_kind(one) == FILE_FOLDER ? add_folder(&f, one) : add_path(&f, one);
		if (code)
			return cannot("%s: %s", one, file_advice(code));
	}
	*out = f.path;
	*count = f.n;
	return EXIT_DONE;
}
