/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the readers of a procedure's parts share. Names are declared before anything that mentions
 * them is read: properties, asks and steps first, then lets, then all the rest. */
#ifndef BARWRIGHT_COURSE_PROCEDURE_PARTS_H
#define BARWRIGHT_COURSE_PROCEDURE_PARTS_H

#include "course/doc.h"
#include "course/procedure.h"

struct reading {
	struct doc *doc;
	struct names names;
	struct procedure *p;
	struct work_step *step; /* those of `p`, while they are filled in */
	enum each *each;
	bool *is_set; /* by slot: something gives it a value */
};

struct dim time_dim(void);
/* Gives a name a slot; false and told when it is no good name. */
bool slot_add(struct reading *r, struct tree *at, const char *name, size_t len,
	struct formula_type type, const struct shown *shown, enum each each, size_t *slot);
/* A formula of one of these kinds and this dimension; null when faulty or `t` is null. */
const struct formula *formula_of(
	struct reading *r, struct tree *t, unsigned kinds, struct dim dim, const char *what);
const struct formula *truth_of(struct reading *r, struct tree *t);
const struct formula *time_of(struct reading *r, struct tree *t);
/* A duration that does not change: "5 min". 0 when `t` is null. */
double duration_of(struct reading *r, struct tree *t);
enum each each_of(struct reading *r, struct tree *t);
/* The step that a code names; SIZE_MAX and told when there is none or `t` is faulty. */
size_t step_of(struct reading *r, struct tree *t);
step_set steps_of(struct reading *r, struct tree *t);
/* Text of a key that may be left out: null then. */
const char *text_or_null(struct reading *r, struct tree *map, const char *key);

void sets_read(struct reading *r, struct tree *t, struct set_values *out);
void uses_read(struct reading *r, struct tree *t, struct use_stuffs *out);
void cans_read(struct reading *r, struct tree *t, struct can_dos *out);

/* procedure_steps.c */
void steps_declare(struct reading *r, struct tree *t);
void steps_read(struct reading *r, struct tree *t);
void looks_read(struct reading *r, struct tree *t);
void backs_read(struct reading *r, struct tree *t);
void orders_read(struct reading *r, struct tree *t);
void windows_read(struct reading *r, struct tree *t);
/* A value on a scale, "74 degC" in K; false and told when it is no such. */
bool point_of(struct reading *r, struct tree *t, struct dim dim, double *out);
/* How many asks all steps have together. */
size_t asks_count(struct tree *steps);

/* procedure_faults.c */
void faults_read(struct reading *r, struct tree *t);
void rates_read(struct reading *r, struct tree *t);

/* procedure_graph.c: what can only be told when all is read. Also works out work_step.before. */
void procedure_graph(struct reading *r);

#endif
