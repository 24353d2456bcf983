/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Leading by the hand, and letting go. The first task of a kind comes after a worked example; then the
 * steps of the solution stand beside it, but for the last one, which is to be found; with each right
 * answer one more is left to find, from the last to the first; then nothing stands there. Two wrong
 * answers in a row bring one step back.
 *
 * Worked examples first, then blanks from the last step backwards: A. Renkl, R. K. Atkinson, Educ.
 * Psychol. 38 (2003); A. Renkl, R. K. Atkinson, U. H. Maier, R. Staley, J. Exp. Educ. 70 (2002). One blank
 * more for each right answer, one less after two errors: course values. */
#ifndef BARWRIGHT_DESK_LEAD_H
#define BARWRIGHT_DESK_LEAD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "course/course.h"

struct progress_ask;
struct progress_item;

enum { LEAD_MOST = 200 };

/* How many steps of an ask can be left to find: those that come to one number, up to LEAD_MOST; 0
 * for the kinds that are not numbers. */
size_t lead_steps(const struct ask *q);
/* How many are left to find at the first task. */
unsigned char lead_first(const struct ask *q);
/* What comes after an answer that was led so far (`led`: steps that were to find, 0: alone). */
void lead_on(const struct ask *q, uint64_t led, bool right, struct progress_ask *ask);
/* Does a worked example come first? */
bool lead_wants_example(const struct problem *p, const struct progress_item *item);

/* The n-th step that can be left to find, n from 0; its place in q->step, from 0. */
const struct step *lead_step(const struct ask *q, size_t n, size_t *place);

#endif
