/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Deciding a fork. Where one strand has two histories (record/gather.h) nobody can tell from the bytes
 * which one is to count. An assessor says which one does not, in a line of kind "void" that the assessor
 * signs, among the notes of the archive (DATA/erasures, as notes of erasures are); nothing is changed or
 * thrown away.
 *
 * Body of the line (names in this order; texts unless said otherwise):
 *
 *     assessor_pk  64 hex digits: the public key that signs this line
 *     because      why, for whoever reads the record later
 *     head         hash of the last line of the history that does not count
 *     size         a count: the lines of that history
 *     strand       its strand
 *
 * Every history that holds this line, and so grew out of that one, does not count either. The other
 * one, when no third is left, takes its place in ARCHIVE/strands at the next gathering. */
#ifndef BARWRIGHT_RECORD_VOID_H
#define BARWRIGHT_RECORD_VOID_H

#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/key.h>

struct void_note {
	const char *strand, *because;
	const char *by; /* name on the reader's ring */
	uint64_t size;
	struct hash head;
	const struct void_note *next;
};
struct void_notes {
	const struct void_note *first;
	size_t n, nstranger; /* nstranger: notes signed by keys that are not accepted */
};
/* From DATA/erasures, in `a`; none when there is no such folder. What a machine signed with the key of its
 * own list counts for nothing, whoever accepts it: that an assessor decides. */
enum bad void_notes_read(
	const char *data, const struct key_ring *accepted, struct arena *a, struct void_notes *out);
/* The note that line n, of this hash, is the end of a history that does not count; null: there is none. */
const struct void_note *void_note_on(
	const struct void_notes *v, uint64_t n, const struct hash *line);

/* Notes under DATA that the history in the file `path` does not count. BAD_SYNTAX, BAD_VERSION: it is
 * no strand; BAD_MISSING: no `because`; and as strand_append. `why` may be null. */
enum bad void_history(const char *data, const char *path, const char *because,
	const struct sign_pair *machine, const struct sign_pair *assessor, struct text *why);

#endif
