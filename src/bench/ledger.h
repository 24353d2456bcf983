/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs in a strand: which line says what, written and found again.
 *
 * A run is recorded in the kinds every sitting has. `open` has the mode "bench"; `draw` names the run
 * as an item, CODE/PART/MODE (and :FAULT where one was put on the bench), with the hash of the procedure's file, the attempt and the key; each
 * decision that was carried out is an `answer` of that item: `ask` its number from 1, `typed` its line
 * (bench/decide.h), `outcome` "done" or, for the decision that ended the run, how it ended, `expected`
 * the clock behind it in minutes, or the score in per cent when the run ended; then, unless it was
 * guided, a `result` by competency (bench/verdict.h). Coming back writes
 * `open` and `draw` again, with the same sitting, attempt and key, and goes on counting. */
#ifndef BARWRIGHT_BENCH_LEDGER_H
#define BARWRIGHT_BENCH_LEDGER_H

#include <barwright/record/lines.h>

#include "bench/bench.h"
#include "bench/decide.h"

enum { LEDGER_ITEM = 200, LEDGER_SITTING = 64 };

/* The name of a run as an item; of mode BENCH_MODES: of a run in any mode, for ledger_find. */
void ledger_item(const struct procedure *p, size_t part, enum bench_mode mode, size_t fault,
	char out[static LEDGER_ITEM]);
/* And back: the code of the procedure, the part and the mode. BAD_SYNTAX: it is no such name. */
struct ledger_name {
	char code[LEDGER_ITEM], part[LEDGER_ITEM], fault[LEDGER_ITEM]; /* fault: "" for none */
	enum bench_mode mode;
};
enum bad ledger_item_read(const char *item, struct ledger_name *out);

/* Starts a run as its name says; false when the procedure has no such part or fault. */
bool ledger_start(
	struct bench *b, const struct ledger_name *name, const unsigned char key[static BENCH_KEY]);

/* The last run of an item in a strand. */
struct ledger_run {
	bool is_there, is_open; /* open: it has not ended */
	char item[LEDGER_ITEM];
	uint64_t attempt;
	struct hash content;
	unsigned char key[BENCH_KEY];
	char sitting[LEDGER_SITTING];
	const char **typed; /* its decisions, in the arena */
	size_t n;
};
/* FINE also when there is none. BAD_MEMORY, or codes of reading the strand. */
enum bad ledger_find(
	const struct strand *s, struct arena *a, const char *item, struct ledger_run *out);

/* All runs of an item that a learner worked, in the order they were begun, from every strand in a
 * folder: on one machine, or gathered from several. In `a`. A strand that cannot be read to its end
 * gives what stands before; BAD_MEMORY, or codes of reading the folder. */
struct ledger_past {
	struct ledger_run run;
	int64_t began_ms;
	const char *outcome;  /* how it ended; "" for one that has not */
	const char *expected; /* then its per cent */
};
enum bad ledger_list(const char *folder, const char *who, struct arena *a, const char *item,
	struct ledger_past **list, size_t *n);
/* The same of one strand that is open: what can be gone on with here. */
enum bad ledger_own(const struct strand *strand, const char *who, struct arena *a, const char *item,
	struct ledger_past **list, size_t *n);
/* Was the last run of just this item left unfinished, after one decision or more, on the procedure as
 * it is? */
bool ledger_is_unfinished(
	const struct ledger_past *list, size_t n, const char *item, const struct hash *content);

/* What `expected` and `outcome` say of the run as it now is. */
enum { LEDGER_NUMBER = 32 };
const char *ledger_outcome(const struct bench *b);
void ledger_expected(struct bench *b, const struct rubric *r, char out[static LEDGER_NUMBER]);

#endif
