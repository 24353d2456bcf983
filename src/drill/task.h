/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Inside this folder: one instance in front of the learner, drawn, recorded and told about. */
#ifndef BARWRIGHT_DRILL_TASK_H
#define BARWRIGHT_DRILL_TASK_H

#include <stdbool.h>
#include <stdint.h>

#include <barwright/item/instance.h>
#include <barwright/item/score.h>

#include "desk/desk.h"
#include "surface/page.h"

struct task {
	struct desk *desk;
	struct instance *instance;
	uint64_t attempt;            /* 0: a worked example */
	uint64_t solutions;          /* worked solutions seen in this task */
	bool alone;                  /* the learner wants no help with it */
	bool is_unfair;              /* no instance could be drawn; there is nothing to show */
	struct arena arena;          /* the instance and the pages about it */
	unsigned long number, count; /* "task 3 of 10"; count 0: no end */
	const char *left_out;        /* what stands before the first page of it; null: nothing */
};

struct turn {
	size_t ask;
	uint64_t number; /* which try, from 1 */
	size_t led;      /* steps of the worked solution that are left to find; 0: alone */
	int64_t since_ms;
	/* The last wrong reply that was explained, and what was told; null: none yet. */
	const char *typed, *told;
};

/* task.c: draws the next instance of a problem, or an example, and records that; where none is fair,
 * only sets t->is_unfair. */
enum how task_draw(struct task *t, const struct problem *p);
enum how task_example_draw(struct task *t, const struct problem *p);
/* Records an answer and counts it; a step that was filled in is only recorded. */
enum bad task_settle(
	struct task *t, const struct turn *turn, const char *typed, const struct score *s);
enum bad task_settle_step(struct task *t, const struct turn *turn, size_t place, const char *typed,
	const struct score *s);
/* Begins the first page of a task: with what was left out before it, said once. */
void task_begin(struct task *t, struct page *p, const char *title, const char *note);
/* Begins a page about the task; shows it in place of the last one, or tells it below. */
void task_page(struct task *t, struct page *p, const char *title, const char *note);
enum how task_show(struct task *t, const struct page *p);
enum how task_tell(struct task *t, const struct page *p);
/* Tells the worked solution of an ask; where it comes from only with the first one of a task. */
enum how task_tell_steps(struct task *t, size_t ask);
/* Was this word typed, in capitals or not? */
bool task_is_word(const char *typed, const char *word);
/* Asks; HOW_DONE when there is a reply of the wanted kind. */
enum how task_ask(struct task *t, const struct question *q, struct reply *r);

/* lead.c: shows a worked example and asks whether the learner wants to be led (t->alone). */
enum how example_run(struct task *t, const struct problem *p);
/* How many steps of an ask are left to find now; 0: nothing is shown. */
size_t led_now(const struct task *t, size_t ask);
/* Lets the learner fill in the steps before the last one. *end: the ask is over. */
enum how led_run(struct task *t, const struct turn *turn, bool *end);

#endif
