/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Erasing a person from the records, while every chain and every seal still verifies.
 *
 * The payload of a line is replaced by null; hash and signature stay, so the next line still follows
 * from it and a seal's root is still the root. `open`, `recovered` and `seal` lines are kept: they name
 * the keys the chain needs and hold nothing a learner wrote. Pieces of torn lines beside the strand go,
 * and so does the row of the learners' list: the code that is left in the kept lines is then
 * nobody's.
 *
 * Each erasure is noted first, in DATA/erasures/ID.jsonl, a strand of its own (`who` is "erasures",
 * lines of kind "erasure" with size, strand, who): an archive that has the strand from elsewhere
 * takes the payloads out too when it gathers a note signed by a key it accepts. A copy that nobody
 * brings back is out of reach. */
#ifndef BARWRIGHT_RECORD_ERASE_H
#define BARWRIGHT_RECORD_ERASE_H

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/record/key.h>
#include <barwright/record/strand.h>

/* Is this line kept when a person is erased, or has it no payload any more? */
bool erase_spares(const struct chain_slice *line);
/* A strand with the payloads of its first `upto` lines taken out, where they are not spared; what is
 * not a whole line is left out. *lines: how many payloads. */
void erase_text(const struct source *s, uint64_t upto, struct text *out, uint64_t *lines);

struct erase_how {
	const struct sign_pair *machine;
	const struct sign_pair *assessor; /* signs the notes; null: the machine does */
};
struct erase_sum {
	size_t strands, pieces; /* strands of this person; torn pieces taken away */
	uint64_t lines;         /* payloads taken out in this run */
	bool row;               /* the row of the learners' list was there */
};
/* Everything of the learner with this code under the data folder. Interrupted at any moment it can be
 * run again. BAD_UNKNOWN: there is neither a strand nor a row with this code; BAD_BUSY: a strand of it
 * is open in another program. `why` may be null. */
enum bad erase_learner(const char *data, const char *code, const struct erase_how *how,
	struct erase_sum *out, struct text *why);

/* The notes a reader accepts. */
struct erasure {
	const char *strand, *who;
	uint64_t size;
	const char *by; /* whose key signed it, as the reader knows it */
	int64_t at_ms;
	struct erasure *next;
};
struct erasures {
	struct erasure *first;
	size_t n, nstranger; /* nstranger: notes signed by keys that are not accepted */
};
/* From DATA/erasures, in `a`; none when there is no such folder. Lists at fault count up to the
 * fault. */
enum bad erasures_read(
	const char *data, const struct key_ring *accepted, struct arena *a, struct erasures *out);
/* The note that reaches furthest in a strand; null: none. */
const struct erasure *erasure_of(const struct erasures *e, const char *strand);
/* How many lines of a strand are to be without payload; 0: none. */
uint64_t erasures_upto(const struct erasures *e, const char *strand);

#endif
