/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/formula/formula.h>

#include <float.h>
#include <string.h>

#include "formula/code.h"
#include "formula/value.h"

/* One run. Lists that wait lie in list[0..nlist). Numbers lie below a pointer of their own, which
 * stays out of here, as the number at hand does, so that both can be kept in registers. */
struct run {
	const struct formula *f;
	const struct formula_value *value;
	struct formula_work *work;
	size_t nlist;
	const char *why;
};

static enum bad refuse(struct run *r, enum bad code, const char *why)
{
	r->why = why;
	return code;
}

/* ---- lists ---------------------------------------------------------------------------------- */

/* Puts a list that lies in its own room on the stack, at the next place. */
static void list_put(struct run *r, size_t n)
{
	r->work->list[r->nlist] = (struct formula_span){r->work->room[r->nlist], n};
	r->nlist++;
}

static enum bad list_slot(struct run *r, size_t slot)
{
	const struct formula_value *v = &r->value[slot];
	if (v->n > FORMULA_LENGTH)
		return refuse(r, BAD_COUNT, "is a list that is too long");
	r->work->list[r->nlist++] = (struct formula_span){v->list, v->n};
	return FINE;
}

static void list_make(struct run *r, const double *number, size_t n)
{
	memcpy(r->work->room[r->nlist], number, n * sizeof *number);
	list_put(r, n);
}

static void list_negate(struct run *r)
{
	struct formula_span s = r->work->list[--r->nlist];
	double *out = r->work->room[r->nlist];
	for (size_t i = 0; i < s.n; i++)
		out[i] = -s.at[i];
	list_put(r, s.n);
}

/* Either side may be one number, then its step is 0. Element i is read before it is overwritten. */
static enum bad list_apply(struct run *r, enum op op, size_t n, const double *a, size_t a_step,
	const double *b, size_t b_step)
{
	double *out = r->work->room[r->nlist];
	for (size_t i = 0; i < n; i++) {
		enum bad code = value_apply(op, a[i * a_step], b[i * b_step], 0, &out[i], &r->why);
		if (code)
			return code;
	}
	list_put(r, n);
	return FINE;
}

static enum bad list_list(struct run *r, enum op op)
{
	struct formula_span b = r->work->list[--r->nlist], a = r->work->list[--r->nlist];
	if (a.n != b.n)
		return refuse(r, BAD_COUNT, "is given two lists of unequal length");
	return list_apply(r, op, a.n, a.at, 1, b.at, 1);
}

static enum bad list_number(struct run *r, enum op op, double x)
{
	struct formula_span a = r->work->list[--r->nlist];
	return list_apply(r, op, a.n, a.at, 1, &x, 0);
}

static enum bad number_list(struct run *r, enum op op, double x)
{
	struct formula_span b = r->work->list[--r->nlist];
	return list_apply(r, op, b.n, &x, 0, b.at, 1);
}

/* ---- calls ---------------------------------------------------------------------------------- */

/* at->b numbers from `number` on and the top at->c lists to function at->a. */
static enum bad call(struct run *r, const struct code *at, const double *number, struct call *c)
{
	r->nlist -= at->c;
	c->number = number;
	c->n = at->b;
	c->list = r->work->list + r->nlist;
	c->nout = 0;
	enum bad code = value_call(r->f->function[at->a], c);
	r->why = c->why;
	return code;
}

static enum bad call_number(struct run *r, const struct code *at, const double *number, double *out)
{
	double made[FORMULA_LENGTH]; /* as much as any function may write */
	struct call c = {.out = made};
	enum bad code = call(r, at, number, &c);
	if (!code)
		*out = made[0];
	return code;
}

static enum bad call_list(struct run *r, const struct code *at, const double *number)
{
	double made[FORMULA_LENGTH];
	struct call c = {.out = made};
	enum bad code = call(r, at, number, &c);
	if (code)
		return code;
	memcpy(r->work->room[r->nlist], made, c.nout * sizeof *made);
	list_put(r, c.nout);
	return FINE;
}

/* The arguments for element i: a list's element where the parameter is given a list. */
static void pick(const struct code *at, size_t n, const double *number,
	const struct formula_span *list, size_t i, double *argument)
{
	for (size_t k = 0; k < n; k++)
		argument[k] = at->b >> k & 1 ? (list++)->at[i] : *number++;
}

static enum bad call_each(struct run *r, const struct code *at, const double *number)
{
	const struct function *f = r->f->function[at->a];
	size_t n = function_parameters(f);
	r->nlist -= at->c;
	const struct formula_span *list = r->work->list + r->nlist;
	double *out = r->work->room[r->nlist], argument[FUNCTION_PARAMETERS];
	size_t length = list[0].n;
	for (size_t k = 1; k < at->c; k++)
		if (list[k].n != length)
			return refuse(r, BAD_COUNT, "is given lists of unequal length");
	for (size_t i = 0; i < length; i++) {
		double made;
		struct call c = {argument, n, NULL, &made, 0, NULL};
		pick(at, n, number, list, i, argument);
		enum bad code = value_call(f, &c);
		if (code)
			return refuse(r, code, c.why);
		out[i] = made;
	}
	list_put(r, length);
	return FINE;
}

/* ---- the machine ---------------------------------------------------------------------------- */

#define LEFT_T  (*--top)
#define LEFT_X  x
#define LEFT_S  (values[at->a].number)
#define LEFT_C  (constant[at->a])
#define RIGHT_X x
#define RIGHT_Y y
#define RIGHT_S (values[at->b].number)
#define RIGHT_C (constant[at->b])
#define TO_X    x
#define TO_Y    y

#define MARGIN value_margin(a, b, at->c ? VALUE_SLACK : 0)

/* What each binary operator makes of a and b. */
#define OF_ADD        (a + b)
#define OF_SUBTRACT   (a - b)
#define OF_MULTIPLY   (a * b)
#define OF_DIVIDE     (a / b)
#define OF_LEAST      (a < b ? a : a >= b ? b : NAN)
#define OF_MOST       (a > b ? a : a <= b ? b : NAN)
#define OF_EQUAL      (fabs(a - b) <= MARGIN)
#define OF_UNEQUAL    (fabs(a - b) > MARGIN)
#define OF_LESS       (a < b - MARGIN)
#define OF_LESS_EQUAL (a <= b + MARGIN)
#define OF_MORE       (a > b + MARGIN)
#define OF_MORE_EQUAL (a >= b - MARGIN)

/* What must hold: division by 0 and overflow give infinities, which would be NaN or 0 later on;
 * comparisons of nothing would be false. */
#define CHECK_SIZE(made) \
	if (fabs(made) > DBL_MAX) \
	goto too_large
#define CHECK_ORDER \
	if (isunordered(a, b)) \
	goto met_nothing
#define CHECK_ADD      CHECK_SIZE(made)
#define CHECK_SUBTRACT CHECK_SIZE(made)
#define CHECK_MULTIPLY CHECK_SIZE(made)
#define CHECK_DIVIDE \
	if (b == 0) \
		goto by_zero; \
	CHECK_SIZE(made)
#define CHECK_LEAST      (void)0
#define CHECK_MOST       (void)0
#define CHECK_EQUAL      CHECK_ORDER
#define CHECK_UNEQUAL    CHECK_ORDER
#define CHECK_LESS       CHECK_ORDER
#define CHECK_LESS_EQUAL CHECK_ORDER
#define CHECK_MORE       CHECK_ORDER
#define CHECK_MORE_EQUAL CHECK_ORDER

/* Every code jumps to the next one by itself: processors foresee many jumps better than one, and
 * long formulas run twice as fast as with a switch. Labels as values are an extension that gcc and
 * clang share. */
#define NEXT goto *jump[(++at)->kind]
#define NEXT_UNLESS(code) \
	if (code) \
		goto refused; \
	NEXT
#define LABEL(name, to, left, right) &&do_##name##_##to##left##right,
#define LABELS(name)                 CODE_PLACES(LABEL, name)
#define LABEL_OTHER(name)            &&do_##name,
#define PART(name, to, left, right) \
	do_##name##_##to##left##right: \
	{ \
		double a = LEFT_##left, b = RIGHT_##right, made = OF_##name; \
		CHECK_##name; \
		TO_##to = made; \
		NEXT; \
	}
#define PARTS(name) CODE_PLACES(PART, name)

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wpedantic"

enum bad formula_run(const struct formula *f, const struct formula_value *values,
	struct formula_work *work, struct formula_value *out)
{
	static const void *const jump[] = {CODE_BINARIES(LABELS) CODE_OTHERS(LABEL_OTHER)};
	struct run r = {f, values, work, 0, NULL};
	const double *constant = f->constant;
	const struct code *at = f->code;
	double x = 0, y = 0, got = 0, *top = work->number;
	enum bad code = FINE;
	goto *jump[at->kind];

	CODE_BINARIES(PARTS)
do_SLOT:
	x = values[at->a].number;
	NEXT;
do_CONSTANT:
	x = constant[at->a];
	NEXT;
do_TRUTH:
	if (isnan(values[at->a].number))
		goto met_nothing;
	x = values[at->a].number != 0;
	NEXT;
do_PUSH:
	*top++ = x;
	NEXT;
do_KEEP_SLOT:
	*top++ = values[at->a].number;
	NEXT;
do_KEEP_CONSTANT:
	*top++ = constant[at->a];
	NEXT;
do_NEGATE:
	x = -x;
	NEXT;
do_NOT:
	x = x == 0;
	NEXT;
do_SQUARE:
	x = x * x;
	CHECK_SIZE(x);
	NEXT;
do_JUMP:
	at = f->code + at->a - 1;
	NEXT;
do_JUMP_FALSE:
	if (x == 0)
		at = f->code + at->a - 1;
	NEXT;
do_JUMP_TRUE:
	if (x != 0)
		at = f->code + at->a - 1;
	NEXT;
do_POWER:
	code = value_power(*--top, x, &got, &r.why);
	x = got;
	NEXT_UNLESS(code);
do_CALL:
	top -= at->b;
	code = call_number(&r, at, top, &got);
	x = got;
	NEXT_UNLESS(code);
do_CALL_LIST:
	top -= at->b;
	code = call_list(&r, at, top);
	NEXT_UNLESS(code);
do_CALL_EACH:
	top -= function_parameters(f->function[at->a]) - at->c;
	code = call_each(&r, at, top);
	NEXT_UNLESS(code);
do_LIST_SLOT:
	code = list_slot(&r, at->a);
	NEXT_UNLESS(code);
do_LIST_MAKE:
	top -= at->b;
	list_make(&r, top, at->b);
	NEXT;
do_LIST_NEGATE:
	list_negate(&r);
	NEXT;
do_LIST_LIST:
	code = list_list(&r, (enum op)at->b);
	NEXT_UNLESS(code);
do_LIST_NUMBER:
	code = list_number(&r, (enum op)at->b, x);
	NEXT_UNLESS(code);
do_NUMBER_LIST:
	code = number_list(&r, (enum op)at->b, x);
	NEXT_UNLESS(code);
do_END:
	*out = (struct formula_value){x, NULL, 0};
	return FINE;
do_END_LIST:
	*out = (struct formula_value){0, work->list[0].at, work->list[0].n};
	return FINE;

by_zero:
	code = refuse(&r, BAD_RANGE, value_by_zero);
	goto refused;
too_large:
	code = refuse(&r, BAD_RANGE, value_too_large);
	goto refused;
met_nothing:
	code = refuse(&r, BAD_NOTHING, value_met_nothing);
refused:
	work->failed = (uint32_t)(at - f->code);
	work->why = r.why;
	return code;
}

#pragma GCC diagnostic pop

/* "/", "at", "round": what stands at the code that failed. */
static const char *failed_word(const struct node *n)
{
	if (n->kind == NODE_CALL)
		return n->function->name;
	return n->kind == NODE_PREFIX || n->kind == NODE_BINARY ? scan_op_word(n->op)
	       : n->kind == NODE_IF                             ? "if"
	       : n->kind == NODE_NAME                           ? "a value"
								: "a list";
}

void formula_failed(
	const struct formula *f, const struct formula_work *work, struct formula_failure *out)
{
	const struct node *n = f->from[work->failed < f->ncode ? work->failed : f->ncode - 1];
	*out = (struct formula_failure){failed_word(n), work->why ? work->why : "is refused",
		reader_place(&f->text, n->start), reader_span(&f->text, n->start, n->len)};
}
