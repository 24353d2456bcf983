/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gathering strands from sticks and machines into an archive: the union of all lines, each known by its
 * strand, its place and its hash. Safe to repeat; the order of the sources makes no difference; each
 * file of the archive is replaced whole, so a stick that is pulled out or a machine that stops leaves a
 * good archive, and gathering again completes it.
 *
 * Where two lines stand at one place of one strand there are two histories (a fork): the disk was rolled
 * back, or the strand deleted and begun anew. What they share stays in ARCHIVE/strands, and each
 * history is kept whole in ARCHIVE/forks until an assessor has decided (record/void.h): then the one
 * that counts stands in ARCHIVE/strands, and the others stay in forks.
 *
 * Lines are checked by their hashes and their order; signatures and seals are for `record audit`. A
 * strand that is at fault is taken up to the fault. Where one copy of a line was erased and another was
 * not, it stays erased if a note of the erasure is accepted here (record/erase.h), else the payload is
 * kept. Names are never gathered unless asked for. */
#ifndef BARWRIGHT_RECORD_GATHER_H
#define BARWRIGHT_RECORD_GATHER_H

#include <barwright/base/bad.h>
#include <barwright/base/file.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/erase.h>
#include <barwright/record/key.h>
#include <barwright/record/void.h>

struct gather_remark {
	const char *path, *words;
	struct gather_remark *next;
};
enum { GATHER_REMARKS = 200 };

/* What has been done. Owns what it points to. */
struct gather {
	struct arena mem;
	const char *into;
	struct file guard;
	const struct key_ring *accepted;
	struct erasures erasures;
	struct void_notes voids;
	size_t files;         /* strands that were read */
	size_t changed, same; /* of these: brought something new, or nothing */
	uint64_t lines;       /* new in the archive */
	uint64_t erased;      /* payloads taken out because of a note */
	size_t forks; /* strands with more than one history that may count, among those read */
	size_t still_apart; /* strands that were decided on and have more than one history left */
	size_t faulty;      /* strands at fault, taken up to it */
	size_t foreign;     /* files named *.jsonl that are no strands */
	size_t unread;      /* could not be read: the gathering is not complete */
	size_t names;       /* rows added to the learners' list */
	size_t joined;      /* codes that the list now joins with others of the same person */
	struct gather_remark *first, *last;
	size_t nremark; /* all of them, kept or not */
};

/* Makes the archive's folder where it is missing and locks it. `accepted`: whose notes of erasures
 * count; must outlive the gathering. gather_end in every case. */
enum bad gather_begin(
	struct gather *g, const char *into, const struct key_ring *accepted, struct text *why);
/* A strand, or a folder with everything below it. FINE also when something was not read: see
 * `unread`. Other codes: the archive cannot be written (`why` tells), or memory ran out. */
enum bad gather_source(struct gather *g, const char *path, struct text *why);
/* Follows the notes of the archive: what is to be erased, which histories do not count. Gathering a
 * source does so too. */
enum bad gather_notes(struct gather *g, struct text *why);
/* The learners' list of a data folder into the archive's: rows whose code is new. A code with two
 * names is a remark, and the archive's name stays. Codes that are one person there are one here. */
enum bad gather_names(struct gather *g, const char *folder, struct text *why);
void gather_end(struct gather *g);

void gather_tell(const struct gather *g, struct text *out);
/* The same as one JSON object in one line with LF. BAD_ENCODING: a path is not UTF-8. */
enum bad gather_json(const struct gather *g, struct text *out);

#endif
