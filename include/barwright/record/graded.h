/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What graded work leaves in a strand beside the lines of record/lines.h: the form of a sitting, what was
 * shown when, marks, moved clocks, results; ratings of bench work, critical errors, photos, and what two
 * assessors agreed on. As there: texts are UTF-8, null is written as "", members may be added by
 * later programs and never change.
 *
 * A sitting of an assessment is `open` (mode "sit"), `form`, one `draw` for each place of the form, then
 * `place`, `answer`, `mark` and `clock` as it goes; when it is handed in, the answers that count once
 * more, scored (LINE_HELD in record/lines.h), `result`, `close`. After a stop it goes on with `open`
 * of the same sitting and the draws again. A rating is `open` (mode "rate"), then its lines,
 * `result`, `close`. */
#ifndef BARWRIGHT_RECORD_GRADED_H
#define BARWRIGHT_RECORD_GRADED_H

#include <barwright/base/bad.h>
#include <barwright/base/cipher.h>
#include <barwright/base/mem.h>
#include <barwright/record/strand.h>

struct texts {
	const char *const *at;
	size_t n;
};

/* A candidate's form. */
struct line_form {
	const char *assessment, *title;
	struct hash content; /* SHA-256 of the assessment's file */
	uint64_t attempt;    /* which of this candidate's, from 1; part of the key of the form */
	uint64_t limit_ms;   /* all the time there is, extra_ms included */
	uint64_t extra_ms;
	struct texts items; /* codes, in the order of the places */
};
/* Something was shown. */
struct line_place {
	uint64_t at; /* which of the things asked in the whole form, from 1; 0: the list of them */
	uint64_t used_ms; /* of the time, when it was shown */
};
struct line_mark {
	uint64_t at; /* as in line_place */
	uint64_t is_on;
};
/* The clock of the wall ran away from the one that counts since the machine started. */
struct line_clock {
	uint64_t by_ms;
	const char *way; /* "forward", "back" */
};
/* What came out. The lists go together: one entry a competency (sitting, run at the bench) or station
 * (rating). */
struct line_result {
	const char *of, *title;            /* code and title of the assessment or rubric */
	struct hash content;               /* of its file */
	const char *piece;                 /* rating: which piece of work; sitting: "" */
	const char *by;                    /* rating: who rated, "A, B"; sitting: "" */
	const char *verdict;               /* "passed", "not-passed", "open" */
	const char *percent, *needed;      /* decimal texts */
	uint64_t attempt, used_ms, breaks; /* sitting: interruptions */
	struct texts part;                 /* competency or station code */
	struct texts part_competency;      /* which competency it is evidence for */
	struct texts part_percent, part_needed;
	struct texts part_verdict; /* "reached", "not-reached", "open" */
	struct texts reasons;      /* sentences for a person */
};

/* One criterion of one station. */
struct line_rating {
	const char *rubric;
	struct hash content; /* of the rubric's file */
	const char *piece, *rater, *station;
	uint64_t criterion;   /* from 1 */
	uint64_t level;       /* chosen, 0 to 3 */
	uint64_t proved;      /* level that the readings prove, and 1; 0: no instrument */
	const char *readings; /* as typed */
	const char *unit;     /* that bare numbers took */
	const char *comment;
};
struct line_critical {
	const char *rubric;
	struct hash content;
	const char *piece, *rater, *station;
	const char *error; /* the rubric's words */
	const char *words; /* what was seen */
};
struct line_photo {
	const char *rubric;
	struct hash content;
	const char *piece, *rater, *station;
	const char *name; /* of the file, without its folder */
	struct hash sha256;
	uint64_t size;
};
struct line_agreed {
	const char *rubric;
	struct hash content;
	const char *piece, *rater, *station; /* rater: who settled it */
	uint64_t criterion, level;
	const char *reason;
};

/* The number in a decimal text of a result; 0 when there is none. */
double result_number(const char *decimal);

/* Body into out; as the writers of lines.h. */
enum bad line_form_write(const struct line_form *x, char *out, size_t room, size_t *len);
enum bad line_place_write(const struct line_place *x, char *out, size_t room, size_t *len);
enum bad line_mark_write(const struct line_mark *x, char *out, size_t room, size_t *len);
enum bad line_clock_write(const struct line_clock *x, char *out, size_t room, size_t *len);
enum bad line_result_write(const struct line_result *x, char *out, size_t room, size_t *len);
enum bad line_rating_write(const struct line_rating *x, char *out, size_t room, size_t *len);
enum bad line_critical_write(const struct line_critical *x, char *out, size_t room, size_t *len);
enum bad line_photo_write(const struct line_photo *x, char *out, size_t room, size_t *len);
enum bad line_agreed_write(const struct line_agreed *x, char *out, size_t room, size_t *len);

/* Write and append in one step, without memory. */
enum bad line_form_append(struct strand *s, const struct line_form *x);
enum bad line_place_append(struct strand *s, const struct line_place *x);
enum bad line_mark_append(struct strand *s, const struct line_mark *x);
enum bad line_clock_append(struct strand *s, const struct line_clock *x);
enum bad line_result_append(struct strand *s, const struct line_result *x);
enum bad line_rating_append(struct strand *s, const struct line_rating *x);
enum bad line_critical_append(struct strand *s, const struct line_critical *x);
enum bad line_photo_append(struct strand *s, const struct line_photo *x);
enum bad line_agreed_append(struct strand *s, const struct line_agreed *x);

/* As the readers of lines.h. Lists that go together have the same length, else BAD_MISSING. */
enum bad line_form_read(const struct strand_line *l, struct arena *a, struct line_form *out);
enum bad line_place_read(const struct strand_line *l, struct arena *a, struct line_place *out);
enum bad line_mark_read(const struct strand_line *l, struct arena *a, struct line_mark *out);
enum bad line_clock_read(const struct strand_line *l, struct arena *a, struct line_clock *out);
enum bad line_result_read(const struct strand_line *l, struct arena *a, struct line_result *out);
enum bad line_rating_read(const struct strand_line *l, struct arena *a, struct line_rating *out);
enum bad line_critical_read(
	const struct strand_line *l, struct arena *a, struct line_critical *out);
enum bad line_photo_read(const struct strand_line *l, struct arena *a, struct line_photo *out);
enum bad line_agreed_read(const struct strand_line *l, struct arena *a, struct line_agreed *out);

#endif
