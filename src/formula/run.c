/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/formula/formula.h>

#include <float.h>
#include <string.h>

#include "formula/code.h"
#include "formula/value.h"

/* One run. Numbers that wait lie below `top`, lists in list[0..nlist). */
struct run {
	const struct formula *f;
	const struct formula_value *value;
	struct formula_work *work;
	double *top;
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

static void list_make(struct run *r, size_t n)
{
	r->top -= n;
	memcpy(r->work->room[r->nlist], r->top, n * sizeof *r->top);
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

static enum bad call_list(struct run *r, const struct function *f, struct call *c)
{
	double made[FORMULA_LENGTH];
	c->out = made;
	enum bad code = value_call(f, c);
	r->why = c->why;
	if (code)
		return code;
	memcpy(r->work->room[r->nlist], made, c->nout * sizeof *made);
	list_put(r, c->nout);
	return FINE;
}

/* The arguments for element i: a list's element where the parameter is given a list. */
static void pick(const struct code *at, size_t n, const double *number,
	const struct formula_span *list, size_t i, double *argument)
{
	for (size_t k = 0; k < n; k++)
		argument[k] = at->b >> k & 1 ? (list++)->at[i] : *number++;
}

static enum bad call_each(struct run *r, const struct code *at)
{
	const struct function *f = r->f->function[at->a];
	size_t n = function_parameters(f);
	r->top -= n - at->c;
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
		pick(at, n, r->top, list, i, argument);
		enum bad code = value_call(f, &c);
		if (code)
			return refuse(r, code, c.why);
		out[i] = made;
	}
	list_put(r, length);
	return FINE;
}

/* ---- the machine ---------------------------------------------------------------------------- */

#define LEFT_T  (*--r.top)
#define LEFT_X  x
#define LEFT_S  (r.value[at->a].number)
#define LEFT_C  (constant[at->a])
#define RIGHT_X x
#define RIGHT_S (r.value[at->b].number)
#define RIGHT_C (constant[at->b])

#define MARGIN value_margin(a, b, at->c ? VALUE_SLACK : 0)

/* What each binary operator does to a and b; x is the result. */
#define DO_ADD        x = a + b
#define DO_SUBTRACT   x = a - b
#define DO_MULTIPLY   x = a * b
#define DO_DIVIDE     x = a / b
#define DO_LEAST      x = a < b ? a : a >= b ? b : NAN
#define DO_MOST       x = a > b ? a : a <= b ? b : NAN
#define DO_EQUAL      x = fabs(a - b) <= MARGIN
#define DO_UNEQUAL    x = fabs(a - b) > MARGIN
#define DO_LESS       x = a < b - MARGIN
#define DO_LESS_EQUAL x = a <= b + MARGIN
#define DO_MORE       x = a > b + MARGIN
#define DO_MORE_EQUAL x = a >= b - MARGIN

/* What must hold: division by 0 and overflow give infinities, or NaN from operands that are not. */
#define CHECK_SUM \
	if (fabs(x) > DBL_MAX) \
	goto too_large
#define CHECK_ORDER \
	if (isunordered(a, b)) \
	goto met_nothing
#define CHECK_ADD      CHECK_SUM
#define CHECK_SUBTRACT CHECK_SUM
#define CHECK_MULTIPLY CHECK_SUM
#define CHECK_DIVIDE \
	if (b == 0) \
		goto by_zero; \
	CHECK_SUM
#define CHECK_LEAST      (void)0
#define CHECK_MOST       (void)0
#define CHECK_EQUAL      CHECK_ORDER
#define CHECK_UNEQUAL    CHECK_ORDER
#define CHECK_LESS       CHECK_ORDER
#define CHECK_LESS_EQUAL CHECK_ORDER
#define CHECK_MORE       CHECK_ORDER
#define CHECK_MORE_EQUAL CHECK_ORDER

#define CASE(name, left, right) \
	case CODE_##name##_##left##right: { \
		double a = LEFT_##left, b = RIGHT_##right; \
		DO_##name; \
		CHECK_##name; \
		break; \
	}
#define CASES(name) CODE_PLACES(CASE, name)

/* Arguments on the stacks to a call. */
#define TAKE_ARGUMENTS(c) \
	struct call c; \
	r.top -= at->b; \
	r.nlist -= at->c; \
	c = (struct call) \
	{ \
		r.top, at->b, work->list + r.nlist, &x, 0, NULL \
	}

enum bad formula_run(const struct formula *f, const struct formula_value *values,
	struct formula_work *work, struct formula_value *out)
{
	struct run r = {f, values, work, work->number, 0, NULL};
	const double *constant = f->constant;
	const struct code *at = f->code;
	enum bad code = FINE;
	double x = 0;
	for (;; at++) {
		switch ((enum code_kind)at->kind) {
			CODE_BINARIES(CASES)
		case CODE_SLOT:
			x = values[at->a].number;
			break;
		case CODE_CONSTANT:
			x = constant[at->a];
			break;
		case CODE_TRUTH:
			if (isnan(values[at->a].number))
				goto met_nothing;
			x = values[at->a].number != 0;
			break;
		case CODE_PUSH:
			*r.top++ = x;
			break;
		case CODE_KEEP_SLOT:
			*r.top++ = values[at->a].number;
			break;
		case CODE_KEEP_CONSTANT:
			*r.top++ = constant[at->a];
			break;
		case CODE_NEGATE:
			x = -x;
			break;
		case CODE_NOT:
			x = x == 0;
			break;
		case CODE_SQUARE:
			x = x * x;
			CHECK_SUM;
			break;
		case CODE_POWER:
			code = value_power(*--r.top, x, &x, &r.why);
			break;
		case CODE_JUMP:
			at = f->code + at->a - 1;
			break;
		case CODE_JUMP_FALSE:
			if (x == 0)
				at = f->code + at->a - 1;
			break;
		case CODE_JUMP_TRUE:
			if (x != 0)
				at = f->code + at->a - 1;
			break;
		case CODE_CALL: {
			TAKE_ARGUMENTS(c);
			code = value_call(f->function[at->a], &c);
			r.why = c.why;
			break;
		}
		case CODE_CALL_LIST: {
			TAKE_ARGUMENTS(c);
			code = call_list(&r, f->function[at->a], &c);
			break;
		}
		case CODE_CALL_EACH:
			code = call_each(&r, at);
			break;
		case CODE_LIST_SLOT:
			code = list_slot(&r, at->a);
			break;
		case CODE_LIST_MAKE:
			list_make(&r, at->b);
			break;
		case CODE_LIST_NEGATE:
			list_negate(&r);
			break;
		case CODE_LIST_LIST:
			code = list_list(&r, (enum op)at->b);
			break;
		case CODE_LIST_NUMBER:
			code = list_number(&r, (enum op)at->b, x);
			break;
		case CODE_NUMBER_LIST:
			code = number_list(&r, (enum op)at->b, x);
			break;
		case CODE_END:
			*out = (struct formula_value){x, NULL, 0};
			return FINE;
		case CODE_END_LIST:
			*out = (struct formula_value){0, work->list[0].at, work->list[0].n};
			return FINE;
		case CODE_KINDS:
			break;
		}
		if (code)
			goto refused;
	}
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
