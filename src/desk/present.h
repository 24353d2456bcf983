/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Instances as pages: what is given, the drawing, what is asked, the worked solution. */
#ifndef BARWRIGHT_DESK_PRESENT_H
#define BARWRIGHT_DESK_PRESENT_H

#include <barwright/item/instance.h>
#include <barwright/item/score.h>

#include "course/course.h"
#include "surface/page.h"

/* Text, given values, drawing and caution of an instance: nothing that gives the way away. */
void present_task(struct page *p, const struct instance *i, int columns, char sign);
/* The same with what the author says to watch for, for practice. */
void present_problem(struct page *p, const struct instance *i, int columns, char sign);
/* "Asked, 1 of 3: ..." where there are several, with how many decimals where fewer would be too coarse;
 * then the options, if it has any. */
void present_ask(struct page *p, const struct instance *i, size_t ask, char sign);
/* The worked solution as far as it is not left to find: the last `led` of its steps that come to a
 * number stand there as "name = ?". */
void present_led(struct page *p, const struct instance *i, size_t ask, size_t led, char sign);
/* How an ask of this kind is answered, as a line of help; null where there is nothing to say. */
const char *present_how(enum asked kind);
/* The verdict on what was typed: right with tolerance, or the mistake it betrays. */
void present_score(struct page *p, const struct instance *i, size_t ask, const struct score *s,
	const char *typed, char sign);
/* The worked solution of one ask with the numbers of this instance; and where it comes from. */
void present_solution(struct page *p, const struct instance *i, size_t ask, char sign);
void present_source(struct page *p, const struct problem *problem);
/* The answer of an ask that was given up. */
void present_answer(struct page *p, const struct instance *i, size_t ask, char sign);

#endif
