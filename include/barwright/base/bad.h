/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Everything that can go wrong, in one list: code, stable word, sentence.
 *
 * A function that can fail returns `enum bad`; one that returns anything else cannot. FINE is 0, so
 * `if (code)` reads "if it went wrong". Unless its header says otherwise, a function that fails
 * has changed nothing its caller can see. The floor that computes returns the code alone; the
 * floor that holds the text adds the place and the words (base/diag.h). */
#ifndef BARWRIGHT_BASE_BAD_H
#define BARWRIGHT_BASE_BAD_H

#define BAD_LIST(X) \
	X(MEMORY, "out-of-memory", "there is not enough memory") \
	X(RANGE, "out-of-range", "a value lies outside what is allowed here") \
	X(COUNT, "wrong-count", "there are too few or too many of them") \
	X(ORDER, "wrong-order", "they stand in the wrong order") \
	X(SINGULAR, "no-unique-answer", "the given things do not fix one answer") \
	X(NOTHING, "nothing-fits", "no value of the list fits") \
	X(SYNTAX, "syntax", "this cannot be read as it is written") \
	X(ENCODING, "encoding", "these bytes are not clean UTF-8 text") \
	X(UNKNOWN, "unknown-name", "nothing has this name") \
	X(UNIT, "unit-clash", "the units do not go together") \
	X(TYPE, "wrong-type", "this kind of value does not go here") \
	X(MISSING, "missing", "something needed is not there") \
	X(REPEATED, "repeated", "this is there twice") \
	X(UNUSED, "unused", "this is never used") \
	X(SIZE, "too-large", "this is larger, deeper or longer than allowed") \
	X(UNFAIR, "no-fair-instance", "no fair instance was found") \
	X(ABSENT, "no-such-file", "there is no such file or folder") \
	X(DENIED, "not-permitted", "the system does not permit it") \
	X(FULL, "disk-full", "there is no room left on the disk") \
	X(IO, "input-output", "reading or writing failed") \
	X(BUSY, "in-use", "somebody else is using it") \
	X(VERSION, "other-version", "this was made by another version") \
	X(CHAIN, "broken-chain", "this does not follow from what stands before it") \
	X(SEAL, "bad-signature", "the signature does not fit") \
	X(TORN, "torn-tail", "the last line is not complete") \
	X(TERMINAL, "terminal", "the terminal cannot be used") \
	X(USAGE, "usage", "the command line cannot be understood") \
	X(STOPPED, "stopped", "it was stopped from outside") \
	X(CROWDED, "too-many-open", "too many files are open on this system")

enum bad {
	FINE = 0,
#define X(name, word, text) BAD_##name,
	BAD_LIST(X)
#undef X
		BAD_COUNT_OF_CODES
};

/* The stable word ("unit-clash") and the sentence of a code. Static text, never null; FINE gives
 * "fine" and "nothing went wrong". Tests and people search for the word, so it never changes. */
const char *bad_word(enum bad code);
const char *bad_text(enum bad code);

#endif
