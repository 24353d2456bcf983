/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this floor: what the readers of all kinds of document share. A document is one file. What is
 * kept of it (its bytes, texts, formulas) lives in one arena, its tree in another, which ends when it
 * has been read.
 *
 * Readers report each fault once and read on: a null node, or one already told to be faulty, is
 * passed over in silence. So what they give is only good when the diags counted no new error;
 * whoever reads a document compares before and after. Texts are never null, lists never point
 * nowhere. When memory runs out `out` is set, and all that was read is to be thrown away. */
#ifndef BARWRIGHT_COURSE_DOC_H
#define BARWRIGHT_COURSE_DOC_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/formula/formula.h>

#include "course/course.h"
#include "tree/tree.h"

struct doc {
	struct arena *arena; /* for what is kept */
	struct arena *aside; /* for trees, and words of messages */
	struct diags *diags;
	bool out;
	const char *unit_text; /* the unit read last, since most of a document's are the same */
	size_t unit_len;
	struct unit unit;
	const struct clock *clock; /* of the problem being read: struct problem; null: none */
};

/* Was it fine? Notes when it was not for want of memory. */
bool doc_fine(struct doc *c, enum bad code);
/* n zeroed pieces of one type, n at least 1 taken, kept; null (and noted) when memory ran out. */
#define doc_many(c, n, type) ((type *)doc_list((c), (n), sizeof(type)))
void *doc_list(struct doc *c, size_t n, size_t size);
/* A kept copy, "" when memory ran out. */
const char *doc_keep(struct doc *c, const char *s, size_t len);

/* ---- words ----------------------------------------------------------------------------------- */

enum {
	CODE_MOST = 64,     /* bytes of a code */
	LINE_MOST = 160,    /* characters of a title, a label, a question */
	TEXT_MOST = 6000,   /* characters of any other text */
	CHILDREN_MOST = 500 /* of one list or map: readers may compare each with each */
};

/* Any text, without the line ends at its end. */
const char *doc_text(struct doc *c, struct tree *t);
/* One line of it. */
const char *doc_line(struct doc *c, struct tree *t);
/* A name for machines: letters, digits, - . and _, the first a letter or digit. */
const char *doc_code(struct doc *c, struct tree *t);
/* The name of a file in the same folder: a code that ends in ".yaml". */
const char *doc_file(struct doc *c, struct tree *t);
/* A list of texts of one line; none when `t` is null. */
const char *const *doc_lines(struct doc *c, struct tree *t, size_t *n);
/* "true" or "false"; false when `t` is null. */
bool doc_truth(struct doc *c, struct tree *t);
int doc_whole(struct doc *c, struct tree *t, int low, int high, int otherwise);

/* First child of a list or map that has 1 to CHILDREN_MOST, else null and told why. */
struct tree *doc_children(struct doc *c, struct tree *t, enum tree_kind kind);
/* The value of a map that has one key only, "say: ...", with its key marked as known; or null. */
struct tree *doc_only(struct doc *c, struct tree *t, const char *example);

/* "a length", "a plain number"; not kept. */
const char *doc_dim(struct doc *c, struct dim dim);

/* ---- units and quantities -------------------------------------------------------------------- */

/* A number with any unit, as it is written. */
struct quantity {
	struct decimal number;
	const char *unit; /* ends in 0; "" for a plain number */
	size_t unit_len;
	struct unit of;
};
bool doc_quantity(struct doc *c, struct tree *t, struct quantity *out);
/* The unit of `q` as a factor: a difference of two temperatures has no zero point. */
double quantity_span(const struct quantity *q);

/* A unit as a value of its own: "mm", "" for plain numbers. */
bool doc_unit(struct doc *c, struct tree *t, struct unit *out, const char **text);
/* The unit in which values of this dimension are shown when the author names none. */
bool doc_usual_unit(struct doc *c, struct dim dim, struct unit *out, const char **text);

/* ---- names and formulas ---------------------------------------------------------------------- */

enum { USUAL_PLACES = 2 };

/* What the formulas of a document may mention; all zero: nothing. */
struct names {
	struct formula_scope *scope;
	struct shown *shown;      /* one a slot */
	bool *fixed;              /* by slot: depends on no draw */
	size_t nfixed, ndraw;     /* fixed ones; slots below ndraw are draws */
	bool *whole;              /* by slot: a plain whole number; null: none is known to be */
	const struct tree **lost; /* names whose own declaration is faulty: nothing more is said */
	size_t nlost;
	const struct tree
		*now; /* being declared, and behind it what comes later; null: all is declared */
};
/* Gives the key of `t` a slot; false when it is no good name. */
bool names_add(struct doc *c, struct names *n, struct tree *t, struct formula_type type,
	const struct shown *shown, size_t *slot);
/* Its declaration is faulty. */
void names_lose(struct names *n, const struct tree *t);
bool names_is_lost(const struct names *n, const char *name, size_t len);
/* Does the result change from draw to draw? */
bool names_vary(const struct names *n, const struct formula *f);

/* A formula; null when it is faulty or mentions a lost name. A YAML list of values is read as the
 * list it looks like: [xp, 0 mm, xq]. */
struct formula *doc_formula(struct doc *c, const struct names *n, struct tree *t);

/* May the result be of these kinds? bit 1 << FORMULA_NUMBER and so on. Told at `t` if not. */
enum { A_NUMBER = 1 << FORMULA_NUMBER, A_TRUTH = 1 << FORMULA_TRUTH, A_LIST = 1 << FORMULA_LIST };
bool doc_kind(struct doc *c, struct tree *t, const struct formula *f, unsigned kinds);
/* Is it (or are its elements) of this dimension? `what` begins the message: "the slip". */
bool doc_fits(
	struct doc *c, struct tree *t, const struct formula *f, struct dim dim, const char *what);

/* 'unit' and 'places' of a map, as fit for the result of `f`; the usual ones where the map (which
 * may be null) says nothing, no places for what is always whole. The units 'clock' and 'days' show a time
 * of day. */
bool doc_shown(struct doc *c, const struct names *n, struct tree *map, const struct formula *f,
	struct shown *out);
/* Warns at `t` where the unit was left out and the usual one is none that is used at the bench. */
void doc_shown_tell(struct doc *c, struct tree *t, struct tree *map, const struct shown *shown);
/* Unit, its text and places of a time of day: whole minutes. */
void doc_clock(struct shown *out);

/* Takes the faults back that came after *d was `kept`. */
void doc_forget(struct diags *d, const struct diags *kept);

/* ---- parts of documents ---------------------------------------------------------------------- */

/* template.c */
void template_read(struct doc *c, const struct names *n, struct tree *t, struct template *out);
/* draw.c: gives the type the name has, as far as it could be made out (true). */
bool draw_read(struct doc *c, const struct names *n, const struct draw *before, struct tree *t,
	struct draw *out, struct formula_type *type);
/* ask.c: one thing asked; of a fixed item, `t` is the item and much may be left out. */
void ask_read(struct doc *c, const struct names *n, struct tree *t, bool fixed, struct ask *out);
bool doc_is_truth_word(const struct tree *t); /* true or false, not in quotes */
/* options.c: the options of the kinds that have any */
void options_read(struct doc *c, const struct names *n, struct tree *t, struct ask *out);
/* figures.c: none when `t` is null */
void figure_read(struct doc *c, const struct names *n, struct tree *t, struct figure_spec *out);

/* problem.c, item.c, lesson.c, rubric.c, assessment.c, programme.c: a whole file. `course` knows the
 * competencies; null: any is taken. */
void problem_read(
	struct doc *c, struct tree *root, const struct course *course, struct problem *out);
void item_read(struct doc *c, struct tree *root, const struct course *course, struct problem *out);
/* Code, title, competency and so on; `kind` is the key with the code. */
void problem_head_read(struct doc *c, struct tree *root, const char *kind,
	const struct course *course, struct problem *out);
void lesson_read(struct doc *c, struct tree *root, struct lesson *out);
void rubric_read(struct doc *c, struct tree *root, struct rubric *out);
struct assessment;
struct document;
void assessment_read(struct doc *c, const struct document *file, struct assessment *out);
struct programme;
void programme_read(
	struct doc *c, struct tree *root, const struct course *course, struct programme *out);
/* module.c: course.yaml and module.yaml. What they name is read by others: `modules` and `names`
 * give the first name of each list, or null. */
struct module_names {
	struct tree *lessons, *problems, *items;
};
void course_read(struct doc *c, struct tree *root, struct course *out, struct tree **modules);
void module_read(struct doc *c, struct tree *root, struct module *out, struct module_names *names);

/* load.c: a whole course folder into the arena of `c`; out->arena stays empty. BAD_ABSENT and so on
 * when there is no course.yaml; BAD_MEMORY. */
struct claims;
struct check_counts;
enum bad course_gather(struct doc *c, const char *folder, struct claims *claims,
	struct check_counts *counts, struct course *out);

/* ---- files ----------------------------------------------------------------------------------- */

struct document {
	const struct source *file;
	struct tree *root; /* null when it could not be read as YAML: then that is told */
	size_t before;     /* errors there were before this file */
};
struct hash document_hash(const struct document *d); /* SHA-256 of its bytes */
/* `file` and its bytes must outlive the document. */
void document_read(struct doc *c, const struct source *file, struct document *out);
/* A file that is to be read first; a code of file_read. */
enum bad document_open(struct doc *c, const char *path, struct document *out);
/* Tells at `t`, which names it, why a file cannot be read (a code of file_read). */
void file_fault(struct doc *c, struct tree *t, enum bad code, const char *path);
/* Is the file of this kind? Its first key tells; what else it is, or that it is nothing, is told. */
bool document_is(struct doc *c, const struct document *d, const char *kind);
/* The kinds of file, by the key they begin with; check.c has a function for each. */
#define DOCUMENT_KINDS(X) \
	X(course) \
	X(module) \
	X(lesson) X(problem) X(item) X(rubric) X(case) X(procedure) X(assessment) X(programme)
extern const char *const document_kinds[]; /* ends in null */
/* Tells when the code that a file gives itself is not its name without ".yaml". */
void doc_code_is_name(struct doc *c, struct tree *code);
/* Which of them the first key tells, or -1. */
int document_kind(const struct tree *root);

#endif
