/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the bodies of lines hold: one struct a kind, written in canonical order and read back
 * strictly. Numbers that are not counts are decimal texts ("12.350"), never floating point, so that
 * what is hashed is what was meant. Texts are UTF-8; a null text is written as "" and comes back as
 * "". A body may hold more members than a struct here names: a later program may add some, and
 * older ones leave them alone. */
#ifndef BARWRIGHT_RECORD_LINES_H
#define BARWRIGHT_RECORD_LINES_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>
#include <barwright/record/strand.h>

#define LINE_KINDS(X) \
	X(OPEN, "open")           /* a sitting begins */ \
	X(DRAW, "draw")           /* an instance of an item was drawn and shown */ \
	X(ANSWER, "answer")       /* something was answered and scored */ \
	X(CLOSE, "close")         /* the sitting ended in order */ \
	X(RECOVERED, "recovered") /* a torn tail was set aside */ \
	X(FORM, "form")           /* record/graded.h: a candidate's form of an assessment */ \
	X(PLACE, "place")         /* what was shown to the candidate, and when */ \
	X(MARK, "mark")           /* something was marked, to be looked at again */ \
	X(CLOCK, "clock")         /* the machine's clock was moved */ \
	X(RESULT, "result")       /* of a sitting or of a rated piece */ \
	X(RATING, "rating")       /* an assessor judged bench work */ \
	X(CRITICAL, "critical")   /* an assessor saw a critical error */ \
	X(PHOTO, "photo")         /* a picture of the work */ \
	X(AGREED, "agreed")       /* two assessors differed and settled it */ \
	X(SEAL, "seal")           /* an assessor fixed all lines before */ \
	X(VOID, "void")           /* an earlier line does not count */

enum line_kind {
	LINE_OTHER, /* a kind of a later program */
#define X(name, word) LINE_##name,
	LINE_KINDS(X)
#undef X
};
enum line_kind line_kind(const char *word);
const char *line_kind_word(enum line_kind kind); /* "other" for LINE_OTHER */

/* A sitting begins. */
struct line_open {
	const char *mode;    /* "drill", "sit", "bench", ... */
	const char *program; /* "barwright 0.1.0" */
	const char *course;  /* id of the course; "" when there is none */
	struct hash content; /* SHA-256 of the course as loaded; all 0 when there is none */
	const char *sitting; /* code of the sitting; goes into the key of every draw */
	unsigned char machine[SIGN_PUBLIC]; /* filled in by line_open_append */
};

/* An instance was drawn. With open and draw it can be made again. */
struct line_draw {
	const char *item;      /* id of the item in its course */
	struct hash content;   /* SHA-256 of the item as written, so a changed item is noticed */
	uint64_t attempt;      /* counts draws of this item by this learner: part of the key */
	unsigned char key[32]; /* struct stream's key: all the randomness of the instance */
	/* What makes it hard, as far as it can be seen (barwright/item/instance.h, struct features);
	 * lines of earlier programs have none. `attempt` is 0 for a worked example. */
	bool has_features;
	uint64_t readings, digits, steps, tries;
	const char *largest, *skew, *gap; /* decimal texts */
};

/* One ask of an instance was answered. In a sitting that is graded nothing of the right answer is written
 * before it is handed in: then `outcome` is LINE_HELD, `slip`, `expected` and `tolerance` are "", and
 * the answers that count stand once more behind, scored. */
enum { LINE_OUTCOME_MOST = 32 };
#define LINE_HELD "held"
struct line_answer {
	const char *item;
	uint64_t attempt;      /* that of its draw */
	uint64_t ask;          /* which of the things asked, from 1 */
	uint64_t turn;         /* which try at this ask, from 1 */
	uint64_t hints;        /* hints seen before answering */
	uint64_t took_ms;      /* from showing to answering */
	uint64_t late_ms;      /* graded: so long after the time was over; then it does not count */
	const char *typed;     /* exactly what was typed */
	const char *read_as;   /* how it was read: "12.35 mm"; "" when it could not be */
	const char *outcome;   /* "right", "slip", "wrong", "refer", ...: 1 to 32 of a-z and - */
	const char *slip;      /* name of the slip; "" when none */
	const char *expected;  /* decimal text, or the key of a fixed item */
	const char *tolerance; /* decimal text; "" when there is none */
	const char *unit;      /* of expected and tolerance; "" when there is none */
	/* Written when not 0. `led`: the worked solution stood beside it with so many of its last steps
	 * left to find. `step`: not the ask itself was answered but this step of it, from 1. */
	uint64_t led, step;
};

/* The sitting ended in order. */
struct line_close {
	uint64_t answers, right;
	const char *reason; /* "done", "left", "time", ... */
};

/* A torn tail was set aside (written by strand_open). */
struct line_recovered {
	uint64_t len;
	struct hash content;
	unsigned char machine[SIGN_PUBLIC];
};

/* Body into out (room bytes; nothing is allocated), its length in *len. BAD_SIZE: does not fit;
 * BAD_ENCODING: a text is not UTF-8; BAD_RANGE: a count above 2^53 - 1; BAD_SYNTAX: an outcome is
 * not a word. */
enum bad line_open_write(const struct line_open *x, char *out, size_t room, size_t *len);
enum bad line_draw_write(const struct line_draw *x, char *out, size_t room, size_t *len);
enum bad line_answer_write(const struct line_answer *x, char *out, size_t room, size_t *len);
enum bad line_close_write(const struct line_close *x, char *out, size_t room, size_t *len);

/* Write and append in one step; fail as strand_append does, and take no memory either. */
enum bad line_open_append(struct strand *s, const struct line_open *x);
enum bad line_draw_append(struct strand *s, const struct line_draw *x);
enum bad line_answer_append(struct strand *s, const struct line_answer *x);
enum bad line_close_append(struct strand *s, const struct line_close *x);

bool line_answer_is_held(const struct line_answer *x);

/* The body of a good line, its texts in `a`. BAD_TYPE: a line of another kind, or erased;
 * BAD_MISSING: a member is not there or not of its type; BAD_MEMORY. */
enum bad line_open_read(const struct strand_line *line, struct arena *a, struct line_open *out);
enum bad line_draw_read(const struct strand_line *line, struct arena *a, struct line_draw *out);
enum bad line_answer_read(const struct strand_line *line, struct arena *a, struct line_answer *out);
enum bad line_close_read(const struct strand_line *line, struct arena *a, struct line_close *out);
enum bad line_recovered_read(
	const struct strand_line *line, struct arena *a, struct line_recovered *out);

#endif
