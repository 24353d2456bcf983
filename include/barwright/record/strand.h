/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Strands: the append-only record of one learner on one machine, a file of lines each of which
 * fixes the one before it by its hash and is signed by the machine.
 *
 * What a strand shows by itself: no line was changed, taken out, put in or moved since it was
 * written by somebody without the machine's key. What it cannot show: lines cut off at its end, at
 * a line's border; work re-signed by somebody who controls the machine; who sat in front of it. */
#ifndef BARWRIGHT_RECORD_STRAND_H
#define BARWRIGHT_RECORD_STRAND_H

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/chain.h>
#include <barwright/record/key.h>

/* ---- where they are -------------------------------------------------------------------------- */

/* The id of the strand of a learner on a machine: "s-" and 12 hex digits, the same each time. */
enum { STRAND_ID = 14 };
void strand_id(const char *who, const unsigned char machine[static SIGN_PUBLIC],
	char out[static STRAND_ID + 1]);
/* DATA/strands, and in it ID.jsonl; in `a`; null when memory ran out. */
char *strand_folder(const char *data, struct arena *a);
char *strand_path(const char *data, const char *id, struct arena *a);
/* Is it the name a strand's file has, something and ".jsonl"? */
bool strand_is_file_name(const char *name);

/* ---- writing --------------------------------------------------------------------------------- */

struct strand; /* one that is open for writing: locked, its end known and checked; or looked at */

/* Opens the strand of `who` (1 to 64 of A-Z a-z 0-9 . _ -) under the data folder, making folder and
 * file at first use. The pair is copied. Its last line is checked; a torn tail (the program or the
 * machine stopped while writing) is moved to a file beside it and a `recovered` line says so.
 *
 * FINE, and otherwise, with nothing written and a sentence in `why` (may be null):
 *   BAD_BUSY     another program writes to it       BAD_FULL    no room on the disk
 *   BAD_DENIED   not permitted, read-only           BAD_IO      the disk failed
 *   BAD_VERSION  made by another version            BAD_MEMORY
 *   BAD_SYNTAX, BAD_CHAIN, BAD_SEAL                 its last line was changed: it is not continued
 * The caller closes it. */
enum bad strand_open(const char *data, const char *who, const struct sign_pair *machine,
	struct strand **out, struct text *why);

/* One that is only looked at, while another program writes to it: no lock, nothing is changed, a torn
 * tail is passed over; strand_append is BAD_BUSY, and strand_head is not known. */
enum bad strand_look(const char *data, const char *who, const struct sign_pair *machine,
	struct strand **out, struct text *why);

/* The same as strand_open for a strand that stands elsewhere, in a folder that exists: a witness list on a medium, a
 * list of the office. Torn tails are set aside beside it. */
enum bad strand_open_at(const char *path, const char *who, const struct sign_pair *pair,
	struct strand **out, struct text *why);

/* Adds one line and returns when the disk has it: only then may a person be told that it is
 * recorded. `body` is a JSON object in the canonical subset (see chain.c; line_..._write of lines.h
 * make them). The first line of a strand must be of kind `open` (BAD_ORDER). Takes no memory. On
 * failure the line is not recorded and strand_why tells why; after a failed sync the strand accepts
 * nothing more (BAD_IO). */
enum bad strand_append(struct strand *s, const char *kind, const char *body, size_t len);
/* The same, signed by somebody else (an assessor): the body must spell out that public key as
 * "assessor_pk", else BAD_ORDER. Not for the first line. */
enum bad strand_append_by(struct strand *s, const struct sign_pair *pair, const char *kind,
	const char *body, size_t len);
/* Keeps room on the disk for what a sitting will record, so that a disk that others fill does not end it:
 * when a line finds no room, what was kept is given back and the line is written after all. Until
 * strand_close. BAD_FULL: there is not that much room now, and graded work should not begin;
 * strand_why tells. */
enum { STRAND_ROOM = 1 << 20 };
enum bad strand_reserve(struct strand *s);
/* Why the last strand_append failed, for a person; never null, "" when it did not. */
const char *strand_why(const struct strand *s);
/* May lines still be added? */
bool strand_is_writable(const struct strand *s);

/* Lines it has now, the hash of the last (all 0 when none), what it is and where. */
uint64_t strand_count(const struct strand *s);
struct hash strand_head(const struct strand *s);
const char *strand_own_id(const struct strand *s);
const char *strand_own_path(const struct strand *s);
const unsigned char *strand_machine(const struct strand *s); /* SIGN_PUBLIC bytes */
/* What only the machine of this strand works out of some words, and always the same: the SHA-256 of its
 * signature of them, behind words of their own that no line begins with. */
struct hash strand_private(const struct strand *s, const char *words);
/* Bytes that strand_open set aside as a torn tail; 0: none. */
size_t strand_torn(const struct strand *s);
/* CHAIN_BODY_MOST bytes to build the next body in, so that none need be asked for. */
char *strand_scratch(struct strand *s);

/* Closes and forgets; accepts null. Everything acknowledged is already on the disk. */
void strand_close(struct strand *s);

/* ---- reading and checking -------------------------------------------------------------------- */

struct strand_check {
	const struct key_ring *known; /* keys the reader vouches for; null: none */
	bool hashes_only;             /* leave the signatures out: some ten times as fast */
	uint64_t checked; /* lines from the start whose hashes and signatures were checked already,
	                     against a seal (struct seals) */
	struct id_set *ids; /* ids seen in other strands (record/id_set.h); null: this one only */
};

/* What a strand is worth. */
struct strand_sum {
	uint64_t lines;  /* good ones from the start: up to the end or to the first fault */
	size_t good_len; /* their bytes */
	size_t torn_len; /* bytes behind the last LF */
	uint64_t erased; /* of these lines: those whose payload was taken out */
	uint64_t set_back,
		set_forward; /* times the clock was: it reads less than one line before, or
	                                   ran two minutes off what the machine counted itself */
	struct hash head;    /* hash of the last good line; all 0 when none */
	int64_t first_ms, last_ms;
	char strand[CHAIN_NAME + 1]; /* "" when no line told */
	char who[CHAIN_NAME + 1];
	char machine[KEY_ID + 1]; /* key of the machine that wrote it */
	bool machine_known;       /* it is on the ring */
	bool hashes_only;         /* signatures were left out */
	enum bad fault;           /* FINE, or the first fault */
	uint32_t fault_line;      /* its line in the file, from 1; 0: none */
};

/* Checks a strand from its first byte to its first fault, handing each good line to `each` (may be
 * null), whose code other than FINE ends the reading and is returned. A line counts only when its
 * LF is there and all rules at the top of chain.c hold. The first fault goes to `d` (may be null)
 * with place, words and hint; a torn tail is a warning, anything else an error. *out is written in
 * every case but BAD_MEMORY. Returns out->fault, or what `each` returned. What `each` is handed
 * lives until it returns.
 *
 * A strand that was cut at a line's end is FINE here: see strand_cut_words. */
enum bad strand_read(const struct source *s, const struct strand_check *how,
	enum bad (*each)(void *context, const struct strand_line *line), void *context,
	struct strand_sum *out, struct diags *d);

/* The same for a file, whose bytes are loaded into `a`, as is the source that places in `d` point
 * to. Files over STRAND_MOST bytes are BAD_SIZE. */
enum { STRAND_MOST = 256 << 20 };
enum bad strand_load(const char *path, struct arena *a, struct source **out);

/* What the chain alone cannot show, in two sentences for every report about strands. Static. */
const char *strand_cut_words(void);

#endif
