/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Writing strands. A line is whole in memory before the first byte of it is written; it is written
 * with one call, and acknowledged when fsync has returned. What a stop at any moment leaves behind
 * is whole lines and at most one piece without LF, which the next opening sets aside:
 *
 *   1. the piece goes to ID.torn-<hash>.pending beside the strand, synced;
 *   2. the strand is cut to its last LF, synced;
 *   3. a `recovered` line with length and SHA-256 of the piece is appended;
 *   4. the file loses ".pending".
 * A stop between any two of these is made good by the next opening, which does 3 and 4 for every
 * pending file it finds; at worst two `recovered` lines tell of the same piece. */
#include <barwright/record/strand.h>

#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/file.h>

#include "record/canon.h"

static const char pending[] = ".pending";

struct strand {
	struct file file;
	struct sign_pair pair;
	struct arena mem; /* path and folder */
	const char *path, *folder;
	const char *room;  /* the file that keeps room, beside it */
	bool is_reserved;  /* by this run */
	bool is_looked_at; /* and nothing is added */
	uint64_t n;        /* of the next line */
	struct hash head;  /* of the last line */
	size_t torn;
	const char *why; /* static */
	char id[STRAND_ID + 1];
	char who[CHAIN_NAME + 1];
	char line[CHAIN_LINE_MOST]; /* room, so that a line can be built when memory is gone */
	char body[CHAIN_BODY_MOST];
};

/* ---- where they are -------------------------------------------------------------------------- */

void strand_id(const char *who, const unsigned char machine[static SIGN_PUBLIC],
	char out[static STRAND_ID + 1])
{
	static const char domain[] = "barwright/strand/1\n";
	struct hash_state s;
	hash_start(&s);
	hash_add(&s, domain, sizeof domain - 1);
	hash_add(&s, machine, SIGN_PUBLIC);
	hash_add(&s, who, strlen(who));
	struct hash h = hash_end(&s);
	memcpy(out, "s-", 2);
	hex_write(h.byte, (STRAND_ID - 2) / 2, out + 2);
}

char *strand_folder(const char *data, struct arena *a)
{
	return folder_join(a, data, "strands");
}

bool strand_is_file_name(const char *name)
{
	static const char end[] = ".jsonl";
	size_t n = strlen(name), most = sizeof end - 1;
	return n > most && strcmp(name + n - most, end) == 0;
}

char *strand_path(const char *data, const char *id, struct arena *a)
{
	char *folder = strand_folder(data, a);
	return folder ? arena_format(a, "%s/%s.jsonl", folder, id) : NULL;
}

/* ---- adding a line --------------------------------------------------------------------------- */

static void uuid_draw(char out[static CHAIN_UUID + 1])
{
	unsigned char r[16];
	char hex[33];
	random_bytes(r, sizeof r);
	r[6] = (unsigned char)((r[6] & 0x0f) | 0x40);
	r[8] = (unsigned char)((r[8] & 0x3f) | 0x80);
	hex_write(r, sizeof r, hex);
	snprintf(out, CHAIN_UUID + 1, "%.8s-%.4s-%.4s-%.4s-%.12s", hex, hex + 8, hex + 12, hex + 16,
		hex + 20);
}

/* Does the body spell out this key? Rule 8 of chain.c asks it of the first line and of an
 * assessor's. */
static bool names_key(
	const char *member, const struct sign_pair *pair, const char *body, size_t len)
{
	unsigned char open[SIGN_PUBLIC];
	struct slice value, hex, all = {body, len};
	return canon_check(body, len, 1, NULL, NULL) == FINE && canon_member(all, member, &value) &&
	       canon_plain(value, &hex) && hex_read(hex.at, hex.len, open, SIGN_PUBLIC) == FINE &&
	       memcmp(open, pair->open, SIGN_PUBLIC) == 0;
}

static enum bad build(struct strand *s, const struct sign_pair *pair, const char *kind,
	const char *body, size_t body_len, size_t *len)
{
	int64_t boot = clock_boot();
	struct strand_line line = {.n = s->n,
		.prev = s->head,
		.at_ms = clock_now(),
		.boot_ms = boot < 0 ? 0 : boot, /* whatever the system says, the line is kept */
		.body = body,
		.body_len = body_len};
	if (strlen(kind) > CHAIN_KIND)
		return BAD_SYNTAX;
	memcpy(line.kind, kind, strlen(kind) + 1);
	memcpy(line.strand, s->id, sizeof s->id);
	memcpy(line.who, s->who, sizeof s->who);
	uuid_draw(line.id);
	random_bytes(line.salt, sizeof line.salt);
	enum bad code = chain_line_write(&line, pair, s->line, sizeof s->line, len);
	if (!code)
		s->head = line.hash;
	return code;
}

static enum bad add_line(struct strand *s, const struct sign_pair *pair, const char *kind,
	const char *body, size_t body_len)
{
	struct hash head = s->head;
	size_t len = 0;
	bool may_begin = strcmp(kind, "open") == 0 || strcmp(kind, "recovered") == 0;
	if (s->n == 0 && (!may_begin || !names_key("machine_pk", &s->pair, body, body_len)))
		return BAD_ORDER;
	enum bad code = build(s, pair, kind, body, body_len, &len);
	if (!code)
		code = file_append(&s->file, s->line, len);
	if (code)
		s->head = head;
	else
		s->n++;
	return code;
}

static enum bad append(struct strand *s, const struct sign_pair *pair, const char *kind,
	const char *body, size_t len)
{
	s->why = "";
	if (s->is_looked_at) {
		s->why = file_advice(BAD_BUSY);
		return BAD_BUSY;
	}
	if (s->file.spoiled) {
		s->why = "the disk did not confirm an earlier line: nothing more is recorded until "
			 "the program is started again";
		return BAD_IO;
	}
	enum bad code = add_line(s, pair, kind, body, len);
	if (code == BAD_FULL && !s->file.spoiled && file_remove(s->room) == FINE)
		code = add_line(s, pair, kind, body, len);
	if (code)
		s->why = file_advice(code);
	return code;
}

enum bad strand_reserve(struct strand *s)
{
	enum bad code = file_reserve(s->room, STRAND_ROOM);
	s->is_reserved = s->is_reserved || !code;
	if (code)
		s->why = file_advice(code);
	return code;
}

enum bad strand_append(struct strand *s, const char *kind, const char *body, size_t len)
{
	return append(s, &s->pair, kind, body, len);
}

enum bad strand_append_by(struct strand *s, const struct sign_pair *pair, const char *kind,
	const char *body, size_t len)
{
	if (s->n == 0 || !names_key("assessor_pk", pair, body, len)) {
		s->why = bad_text(BAD_ORDER);
		return BAD_ORDER;
	}
	return append(s, pair, kind, body, len);
}

/* ---- the end of the file --------------------------------------------------------------------- */

/* The last bytes of the file: enough for a torn piece and two whole lines. */
enum { TAIL_MOST = 3 * CHAIN_LINE_MOST };
struct tail {
	char *at; /* from mem_get */
	size_t len;
	bool is_all;               /* they are the whole file */
	struct slice last, before; /* whole lines without LF; at null: there is none */
	struct slice torn;         /* behind the last LF */
};

static enum bad tail_load(const struct file *f, struct tail *t)
{
	int64_t from = f->len > TAIL_MOST ? f->len - TAIL_MOST : 0;
	*t = (struct tail){.len = (size_t)(f->len - from), .is_all = from == 0};
	t->at = mem_get(t->len + 1);
	return t->at ? file_read_at(f, from, t->at, t->len) : BAD_MEMORY;
}

/* Start of the line that ends before `end`; null when it begins before the tail. */
static const char *line_start(const struct tail *t, const char *end)
{
	const char *s = end;
	while (s > t->at && s[-1] != '\n')
		s--;
	return s > t->at || t->is_all ? s : NULL;
}

static bool take_line(const struct tail *t, const char *lf, struct slice *out)
{
	const char *start = line_start(t, lf);
	if (!start)
		return false;
	*out = (struct slice){start, (size_t)(lf - start)};
	return true;
}

/* False: what stands here is too long for a strand. */
static bool tail_cut_up(struct tail *t)
{
	const char *end = t->at + t->len, *torn = line_start(t, end);
	if (!torn)
		return false;
	t->torn = (struct slice){torn, (size_t)(end - torn)};
	if (t->torn.len >= CHAIN_LINE_MOST)
		return false;
	if (torn == t->at)
		return true;
	if (!take_line(t, torn - 1, &t->last) || t->last.len >= CHAIN_LINE_MOST)
		return false;
	if (t->last.at > t->at)
		take_line(t, t->last.at - 1, &t->before);
	return true;
}

/* ---- opening --------------------------------------------------------------------------------- */

static enum bad no(struct text *why, enum bad code, const char *path, const char *words)
{
	if (why) {
		file_words(code, path, why);
		text_add(why, *words ? "; " : "");
		text_add(why, words);
	}
	return code;
}

static const char set_aside_words[] = "so nothing is added to it. Check it with \"barwright record "
				      "audit\"; to go on, move the file elsewhere and keep it";

/* When the last line was erased it does not tell its number: the lines are counted. */
static enum bad count_all(struct strand *s)
{
	struct arena a = {0};
	struct source *source;
	struct strand_sum sum;
	struct key_known own = {.name = ""};
	memcpy(own.open, s->pair.open, SIGN_PUBLIC);
	struct key_ring ring = {&own, 1};
	struct strand_check how = {.known = &ring, .hashes_only = true};
	enum bad code = strand_load(s->path, &a, &source);
	if (!code)
		code = strand_read(source, &how, NULL, NULL, &sum, NULL);
	if (code == BAD_TORN)
		code = FINE;
	if (!code)
		s->n = sum.lines;
	arena_release(&a);
	return code;
}

static enum bad check_follows(
	const struct strand *s, const struct tail *t, const struct strand_line *last)
{
	struct chain_slice slice;
	struct hash h;
	if (strcmp(last->strand, s->id) != 0 || strcmp(last->who, s->who) != 0)
		return BAD_CHAIN;
	if (!t->before.at)
		return FINE;
	if (chain_slice(t->before.at, t->before.len, &slice) ||
		hash_from_hex(slice.hex, HASH_HEX, &h))
		return BAD_SYNTAX;
	return hash_is_equal(&h, &last->prev) ? FINE : BAD_CHAIN;
}

/* Hash, form, signature (when the line is this machine's; a seal is somebody else's) and whether it
 * follows from the line before. */
static enum bad check_last(struct strand *s, const struct tail *t)
{
	struct chain_slice slice;
	struct strand_line line = {0};
	size_t where;
	const char *words;
	char own[KEY_ID + 1];
	enum bad code = chain_slice(t->last.at, t->last.len, &slice);
	if (!code)
		code = chain_hash(&slice, &line.hash);
	if (!code)
		code = chain_payload(&slice, &line, &where, &words);
	if (code)
		return code;
	s->head = line.hash;
	key_id(s->pair.open, own);
	if (line.erased)
		return count_all(s);
	s->n = line.n + 1;
	if (strcmp(line.key, own) == 0)
		code = chain_signature(&slice, &line.hash, s->pair.open);
	return code ? code : check_follows(s, t, &line);
}

static enum bad last_fault(struct text *why, enum bad code, const char *path)
{
	if (code == BAD_VERSION)
		return no(why, code, path,
			"a newer program wrote its last line; use that program, or another data "
			"folder");
	if (code == BAD_SYNTAX || code == BAD_CHAIN || code == BAD_SEAL)
		return no(why, code, path, set_aside_words);
	if (code == BAD_MEMORY || code == BAD_IO)
		return no(why, code, path, "");
	return no(why, BAD_SYNTAX, path, set_aside_words);
}

/* Steps 1 and 2 of the top. */
static enum bad set_aside(struct strand *s, struct slice torn)
{
	struct hash h = hash_bytes(torn.at, torn.len);
	char hex[HASH_HEX + 1];
	hash_hex(&h, hex);
	const char *path =
		arena_format(&s->mem, "%s/%s.torn-%.16s%s", s->folder, s->id, hex, pending);
	enum bad code = path ? file_replace(path, torn.at, torn.len, true) : BAD_MEMORY;
	if (!code)
		code = file_cut(&s->file, s->file.len - (int64_t)torn.len);
	if (!code)
		s->torn = torn.len;
	return code;
}

static enum bad append_recovered(struct strand *s, const char *bytes, size_t len)
{
	struct hash h = hash_bytes(bytes, len);
	struct pen p = {s->body, 0, sizeof s->body, FINE};
	pen_raw(&p, "{");
	pen_member(&p, "length");
	pen_count(&p, len);
	pen_member(&p, "machine_pk");
	pen_hex(&p, s->pair.open, SIGN_PUBLIC);
	pen_member(&p, "sha256");
	pen_hex(&p, h.byte, HASH_BYTES);
	pen_raw(&p, "}");
	return p.bad ? p.bad : add_line(s, &s->pair, "recovered", s->body, p.len);
}

/* Steps 3 and 4. */
static enum bad note_one(struct strand *s, const char *name)
{
	char *bytes, *from = folder_join(&s->mem, s->folder, name);
	size_t len, keep = strlen(name) - (sizeof pending - 1);
	if (!from)
		return BAD_MEMORY;
	enum bad code = file_read(from, CHAIN_LINE_MOST, &s->mem, &bytes, &len);
	if (!code)
		code = append_recovered(s, bytes, len);
	if (code)
		return code;
	char *to = arena_format(&s->mem, "%s/%.*s", s->folder, (int)keep, name);
	return to ? file_rename(from, to) : BAD_MEMORY;
}

static bool is_pending(const struct strand *s, const char *name)
{
	size_t id = strlen(s->id), len = strlen(name), end = sizeof pending - 1;
	return len > id + end && memcmp(name, s->id, id) == 0 &&
	       strncmp(name + id, ".torn-", 6) == 0 && strcmp(name + len - end, pending) == 0;
}

static enum bad note_pending(struct strand *s)
{
	struct folder_entry *list;
	size_t n;
	enum bad code = folder_list(s->folder, &s->mem, &list, &n);
	for (size_t i = 0; !code && i < n; i++)
		if (is_pending(s, list[i].name))
			code = note_one(s, list[i].name);
	return code;
}

/* The file is open and locked; its end is read, checked and put in order. */
static enum bad settle(struct strand *s, struct text *why)
{
	struct tail t;
	enum bad code = tail_load(&s->file, &t);
	if (code)
		no(why, code, s->path, "");
	else if (!tail_cut_up(&t))
		code = last_fault(why, BAD_SYNTAX, s->path);
	else if (t.last.at && (code = check_last(s, &t)))
		code = last_fault(why, code, s->path);
	else {
		if (t.torn.len)
			code = set_aside(s, t.torn);
		if (!code)
			code = note_pending(s);
		if (code)
			no(why, code, s->path, "");
	}
	mem_drop(t.at);
	return code;
}

static enum bad open_file(struct strand *s, struct text *why)
{
	s->room = arena_format(&s->mem, "%s.room", s->path);
	if (!s->room)
		return no(why, BAD_MEMORY, s->path, "");
	enum bad code = file_open(s->path, &s->file);
	if (code)
		return no(why, code, s->path, "");
	/* a new name must last; one made by a run that was killed may not have been synced yet */
	code = folder_sync(s->folder);
	return code ? no(why, code, s->folder, "") : FINE;
}

static enum bad strand_new(const char *who, const struct sign_pair *pair, const char *where,
	struct strand **out, struct text *why)
{
	enum bad code = cipher_start();
	if (code)
		return no(why, code, where, "");
	if (!chain_is_name(who))
		return no(why, BAD_SYNTAX, who,
			"a learner's code has 1 to 64 of A-Z a-z 0-9 . _ -, a letter or digit "
			"first");
	struct strand *s = mem_get(sizeof *s);
	if (!s)
		return no(why, BAD_MEMORY, where, "");
	memset(s, 0, sizeof *s);
	s->file.fd = -1;
	s->pair = *pair;
	s->why = "";
	memcpy(s->who, who, strlen(who) + 1);
	strand_id(who, pair->open, s->id);
	*out = s;
	return FINE;
}

static enum bad finish_open(struct strand *s, enum bad code, struct strand **out, struct text *why)
{
	if (!code)
		code = open_file(s, why);
	if (!code)
		code = settle(s, why);
	if (code)
		strand_close(s);
	else
		*out = s;
	return code;
}

enum bad strand_open(const char *data, const char *who, const struct sign_pair *machine,
	struct strand **out, struct text *why)
{
	struct strand *s;
	enum bad code = strand_new(who, machine, data, &s, why);
	if (code)
		return code;
	s->folder = strand_folder(data, &s->mem);
	s->path = s->folder ? strand_path(data, s->id, &s->mem) : NULL;
	if (!s->path)
		code = no(why, BAD_MEMORY, data, "");
	if (!code && (code = folder_make(s->folder)))
		no(why, code, s->folder, "");
	return finish_open(s, code, out, why);
}

enum bad strand_open_at(const char *path, const char *who, const struct sign_pair *pair,
	struct strand **out, struct text *why)
{
	struct strand *s;
	enum bad code = strand_new(who, pair, path, &s, why);
	if (code)
		return code;
	size_t dir = (size_t)(file_name(path) - path);
	s->path = arena_copy(&s->mem, path, strlen(path));
	s->folder = dir ? arena_copy(&s->mem, path, dir) : arena_copy(&s->mem, ".", 1);
	if (!s->path || !s->folder)
		code = no(why, BAD_MEMORY, path, "");
	return finish_open(s, code, out, why);
}

enum bad strand_look(const char *data, const char *who, const struct sign_pair *machine,
	struct strand **out, struct text *why)
{
	struct strand *s;
	enum bad code = strand_new(who, machine, data, &s, why);
	if (code)
		return code;
	s->is_looked_at = true;
	s->path = strand_path(data, s->id, &s->mem);
	code = s->path ? count_all(s) : BAD_MEMORY;
	if (code) {
		no(why, code, s->path ? s->path : data, "");
		strand_close(s);
		return code;
	}
	*out = s;
	return FINE;
}

void strand_close(struct strand *s)
{
	if (!s)
		return;
	if (s->is_reserved)
		file_remove(s->room);
	file_close(&s->file);
	arena_release(&s->mem);
	cipher_wipe(&s->pair, sizeof s->pair);
	mem_drop(s);
}

/* ---- what it is ------------------------------------------------------------------------------ */

const char *strand_why(const struct strand *s)
{
	return s->why;
}

bool strand_is_writable(const struct strand *s)
{
	return !s->file.spoiled && !s->is_looked_at;
}

uint64_t strand_count(const struct strand *s)
{
	return s->n;
}

struct hash strand_head(const struct strand *s)
{
	return s->head;
}

struct hash strand_private(const struct strand *s, const char *words)
{
	static const char own[] = "barwright private";
	unsigned char signature[SIGN_BYTES];
	struct hash_state state;
	hash_start(&state);
	hash_add(&state, own, sizeof own);
	hash_add(&state, words, strlen(words));
	struct hash digest = hash_end(&state);
	char text[sizeof own + HASH_HEX];
	memcpy(text, own, sizeof own - 1);
	hash_hex(&digest, text + sizeof own - 1);
	sign_make(&s->pair, text, sizeof text - 1, signature);
	struct hash made = hash_bytes(signature, sizeof signature);
	cipher_wipe(signature, sizeof signature);
	return made;
}

const char *strand_own_id(const struct strand *s)
{
	return s->id;
}

const char *strand_own_path(const struct strand *s)
{
	return s->path;
}

const unsigned char *strand_machine(const struct strand *s)
{
	return s->pair.open;
}

size_t strand_torn(const struct strand *s)
{
	return s->torn;
}

char *strand_scratch(struct strand *s)
{
	return s->body;
}
