/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A decision as one line of text: what is typed, what is recorded, what is made again from a record.
 * Every decision goes through this text, so that a replay does the same bits.
 *
 *	do S06 kept=5.10/5.05/4.30/4.95/5.20 burr=plugged     a step; numbers in the unit of their ask
 *	why S06 S07         guided: the reason given for S06 is that of S07
 *	look walls caliper  with the usual tool when none is named
 *	mend F12            put right what has been seen
 *	remake new-bar      a way back
 *	order stone
 *	wait 30             minutes
 *	name F10 S06 S06    hunt: this is it, made at this step, and this one's check would have found
 *	                    it first (records of old have the fault alone)
 *	refer heights       what shows that it cannot be made (records of old have the word alone)
 *	release, scrap
 *
 * Words of a step may stand for its code; "do" may be left out; so may values that come in the order
 * of the asks: "cut 5.10/5.05/4.30/4.95/5.20 plugged". One value goes for all sites. */
#ifndef BARWRIGHT_BENCH_DECIDE_H
#define BARWRIGHT_BENCH_DECIDE_H

#include <barwright/base/text.h>

#include "bench/bench.h"

#define DECISIONS(X) \
	X(DO, "do", "STEP", "do a step; its word alone does as well") \
	X(WHY, "why", "STEP STEP", NULL) \
	X(LOOK, "look", "WHAT [TOOL]", \
		"look at the work or measure it; alone: what can be looked at") \
	X(MEND, "mend", "FAULT", "put right on the spot what has shown; alone: what that is") \
	X(REMAKE, "remake", "WAY", "go back and make some of it again; alone: the ways back") \
	X(ORDER, "order", "MATERIAL", "have more material brought; alone: what there is") \
	X(WAIT, "wait", "MINUTES", "let time go by") \
	X(NAME, "name", "FAULT", \
		"say which fault it is; then you are asked where it was made and where it could " \
		"first have been found; alone: the faults of this part") \
	X(RELEASE, "release", "", "hand the work over: it is finished") \
	X(REFER, "refer", "[FINDING]", \
		"refer the case back: it cannot be made as prescribed; you are asked what shows " \
		"it") \
	X(SCRAP, "scrap", "", "give the work up")

enum decision_kind {
#define X(name, word, takes, does) DECIDE_##name,
	DECISIONS(X)
#undef X
		DECISION_KINDS
};
struct decision_word {
	const char *word, *takes, *does;
};
extern const struct decision_word decision_words[DECISION_KINDS];

struct deed {
	enum decision_kind kind;
	size_t what; /* step, look, fault, way back, material; of DECIDE_REFER the look that shows
			it (SIZE_MAX: not said) */
	size_t other; /* the tool (SIZE_MAX: the usual one); the step whose reason was given, or where
			 a named fault was made (SIZE_MAX: not said) */
	size_t check; /* of a named fault: the step that could have found it first; or SIZE_MAX */
	double seconds;
	struct bench_input input; /* DECIDE_DO */
	bool has_input;           /* all its asks were answered in the text */
};

/* A unit as a person reads it: "um" with its sign, "degC" with the degree, "mm2" with a raised 2. */
const char *decision_unit(const char *unit);

/* Are its choices sizes, as those of a sheet? They are typed as numbers, not by their places. */
bool choice_is_number(const struct hand_ask *ask);

enum { DECISION_WHY = 160 };
/* BAD_SYNTAX, and a sentence for the person in why. A step whose asks are not answered is no fault:
 * has_input is false. */
enum bad decision_read(const struct bench *b, const char *text, size_t len, struct deed *out,
	char why[static DECISION_WHY]);
/* Values of one ask as typed by a person: blanks, '/' or ';' between them, with or without units, with
 * comma or point; one value for all. The same errors. */
enum bad decision_values(const struct bench *b, const struct hand_ask *ask, const char *text,
	size_t len, double *out, char why[static DECISION_WHY]);
/* The line that decision_read reads as the same. */
void decision_write(const struct bench *b, const struct deed *d, struct text *out);
/* Carries it out; the reading of a look. Codes of bench.h. */
enum bad decision_carry(struct bench *b, const struct deed *d, struct bench_reading *reading);

#endif
