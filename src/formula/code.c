/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/code.h"

#include <string.h>

/* Codes being made. Counts first (out is null), then writes: two equal walks instead of growing
 * arrays. */
struct maker {
	struct formula *f;
	struct code *code;
	double *constant;
	const struct function **function;
	const struct node **from;
	size_t ncode, nconstant, nfunction;
	size_t numbers, lists, most_numbers, most_lists; /* waiting now, and at most */
	bool counting;
};

static void make(struct maker *m, const struct node *n);

static size_t put(struct maker *m, const struct node *n, int kind, size_t a, size_t b, size_t c)
{
	if (!m->counting) {
		m->code[m->ncode] =
			(struct code){(uint16_t)kind, (uint16_t)a, (uint16_t)b, (uint16_t)c};
		m->from[m->ncode] = n;
	}
	return m->ncode++;
}

/* Lets the jump at `at` go to the next code. */
static void land(struct maker *m, size_t at)
{
	if (!m->counting)
		m->code[at].a = (uint16_t)m->ncode;
}

static size_t constant(struct maker *m, double value)
{
	if (!m->counting)
		m->constant[m->nconstant] = value;
	return m->nconstant++;
}

static size_t function(struct maker *m, const struct function *f)
{
	if (!m->counting)
		m->function[m->nfunction] = f;
	return m->nfunction++;
}

static void wait_number(struct maker *m)
{
	if (++m->numbers > m->most_numbers)
		m->most_numbers = m->numbers;
}

static void wait_list(struct maker *m)
{
	if (++m->lists > m->most_lists)
		m->most_lists = m->lists;
}

static bool is_list(const struct node *n)
{
	return n->sort.kind == FORMULA_LIST;
}

/* A number that needs no code to get at. */
static bool is_slot(const struct node *n)
{
	return n->kind == NODE_NAME && !is_list(n);
}

static bool is_near(const struct node *n)
{
	return n->constant || is_slot(n);
}

static size_t near_index(struct maker *m, const struct node *n)
{
	return n->constant ? constant(m, n->value) : n->slot;
}

static void make_near(struct maker *m, const struct node *n)
{
	int kind = n->constant                     ? CODE_CONSTANT
		   : n->sort.kind == FORMULA_TRUTH ? CODE_TRUTH
						   : CODE_SLOT;
	put(m, n, kind, near_index(m, n), 0, 0);
}

static void push(struct maker *m, const struct node *n)
{
	put(m, n, CODE_PUSH, 0, 0, 0);
	wait_number(m);
}

/* Makes n and leaves it on the stack instead of at hand. */
static void make_waiting(struct maker *m, const struct node *n)
{
	if (is_near(n) && n->sort.kind != FORMULA_TRUTH) {
		put(m, n, n->constant ? CODE_KEEP_CONSTANT : CODE_KEEP_SLOT, near_index(m, n), 0,
			0);
		wait_number(m);
		return;
	}
	make(m, n);
	push(m, n);
}

/* ---- binary operators ----------------------------------------------------------------------- */

static int binary_code(enum op op, enum places places)
{
	return (int)(op - OP_ADD) * PLACES + (int)places;
}

/* Two near operands, not both constant, to X (`places` PLACE_XSS) or Y (PLACE_YSS). */
static void make_near_pair(struct maker *m, const struct node *n, enum op op, const struct node *a,
	const struct node *b, enum places places)
{
	enum places with = a->constant ? places + 2 : b->constant ? places + 1 : places;
	size_t left = near_index(m, a);
	put(m, n, binary_code(op, with), left, near_index(m, b), node_slack(n) > 0);
}

/* An operator on two numbers, both of them near. */
static bool is_near_pair(const struct node *n)
{
	return n->kind == NODE_BINARY && !n->constant && n->op >= OP_ADD &&
	       n->op <= OP_MORE_EQUAL && is_near(n->first) && is_near(n->last);
}

/* An operator on two numbers; which code depends on what is near. c: slack of comparisons. */
static void make_numbers(struct maker *m, const struct node *n, enum op op, const struct node *a,
	const struct node *b)
{
	size_t c = node_slack(n) > 0;
	if (is_near(a) && is_near(b) && !(a->constant && b->constant)) {
		make_near_pair(m, n, op, a, b, PLACE_XSS);
	} else if (is_near(b)) {
		make(m, a);
		put(m, n, binary_code(op, b->constant ? PLACE_XXC : PLACE_XXS), 0, near_index(m, b),
			c);
	} else if (is_near(a)) {
		make(m, b);
		put(m, n, binary_code(op, a->constant ? PLACE_XCX : PLACE_XSX), near_index(m, a), 0,
			c);
	} else if (is_near_pair(b)) {
		make(m, a);
		make_near_pair(m, b, b->op, b->first, b->last, PLACE_YSS);
		put(m, n, binary_code(op, PLACE_XXY), 0, 0, c);
	} else {
		make_waiting(m, a);
		make(m, b);
		put(m, n, binary_code(op, PLACE_XTX), 0, 0, c);
		m->numbers--;
	}
}

static void make_list_operator(struct maker *m, const struct node *n)
{
	const struct node *a = n->first, *b = n->last;
	if (is_list(a) && is_list(b)) {
		make(m, a);
		make(m, b);
		put(m, n, CODE_LIST_LIST, 0, n->op, 0);
		m->lists--;
	} else {
		make(m, is_list(a) ? a : b);
		make(m, is_list(a) ? b : a);
		put(m, n, is_list(a) ? CODE_LIST_NUMBER : CODE_NUMBER_LIST, 0, n->op, 0);
	}
}

static void make_power(struct maker *m, const struct node *n)
{
	if (n->last->constant && n->last->value == 2) {
		make(m, n->first);
		put(m, n, CODE_SQUARE, 0, 0, 0);
		return;
	}
	make_waiting(m, n->first);
	make(m, n->last);
	put(m, n, CODE_POWER, 0, 0, 0);
	m->numbers--;
}

/* and, or: the second is left out when the first decides. */
static void make_logic(struct maker *m, const struct node *n)
{
	make(m, n->first);
	size_t jump = put(m, n, n->op == OP_AND ? CODE_JUMP_FALSE : CODE_JUMP_TRUE, 0, 0, 0);
	make(m, n->last);
	land(m, jump);
}

static void make_binary(struct maker *m, const struct node *n)
{
	if (is_list(n))
		make_list_operator(m, n);
	else if (n->op == OP_AND || n->op == OP_OR)
		make_logic(m, n);
	else if (n->op == OP_POWER)
		make_power(m, n);
	else
		make_numbers(m, n, n->op, n->first, n->last);
}

/* ---- the rest ------------------------------------------------------------------------------- */

static void make_prefix(struct maker *m, const struct node *n)
{
	make(m, n->first);
	put(m, n,
		n->op == OP_NOT ? CODE_NOT
		: is_list(n)    ? CODE_LIST_NEGATE
				: CODE_NEGATE,
		0, 0, 0);
}

static void make_if(struct maker *m, const struct node *n)
{
	const struct node *then = n->first->next;
	make(m, n->first);
	size_t otherwise = put(m, n, CODE_JUMP_FALSE, 0, 0, 0);
	make(m, then);
	size_t end = put(m, n, CODE_JUMP, 0, 0, 0);
	m->lists -= is_list(n); /* only one of the two is made */
	land(m, otherwise);
	make(m, n->last);
	land(m, end);
}

static void make_list(struct maker *m, const struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next)
		make_waiting(m, o);
	m->numbers -= n->n;
	put(m, n, CODE_LIST_MAKE, 0, n->n, 0);
	wait_list(m);
}

/* min and max of two or more numbers, one after the other. */
static void make_chain(struct maker *m, const struct node *n)
{
	const struct node *a = n->first;
	enum op op = n->function->op;
	make_numbers(m, n, op, a, a->next);
	for (const struct node *b = a->next->next; b; b = b->next) {
		if (is_near(b)) {
			put(m, n, binary_code(op, b->constant ? PLACE_XXC : PLACE_XXS), 0,
				near_index(m, b), 0);
			continue;
		}
		push(m, n);
		make(m, b);
		put(m, n, binary_code(op, PLACE_XTX), 0, 0, 0);
		m->numbers--;
	}
}

static void make_call(struct maker *m, const struct node *n)
{
	if (n->function->op != OP_NONE && !n->each) {
		make_chain(m, n);
		return;
	}
	size_t lists = 0;
	for (const struct node *a = n->first; a; a = a->next) {
		if (is_list(a))
			make(m, a);
		else
			make_waiting(m, a);
		lists += is_list(a);
	}
	m->numbers -= n->n - lists;
	m->lists -= lists;
	int kind = n->each ? CODE_CALL_EACH : is_list(n) ? CODE_CALL_LIST : CODE_CALL;
	put(m, n, kind, function(m, n->function), n->each ? n->each : n->n - lists, lists);
	if (is_list(n))
		wait_list(m);
}

static void make(struct maker *m, const struct node *n)
{
	if (is_near(n)) {
		make_near(m, n);
		return;
	}
	switch (n->kind) {
	case NODE_LOCAL:
		make(m, n->local);
		break;
	case NODE_LET:
		make(m, n->last);
		break;
	case NODE_NAME:
		put(m, n, CODE_LIST_SLOT, n->slot, 0, 0);
		wait_list(m);
		break;
	case NODE_PREFIX:
		make_prefix(m, n);
		break;
	case NODE_BINARY:
		make_binary(m, n);
		break;
	case NODE_IF:
		make_if(m, n);
		break;
	case NODE_LIST:
		make_list(m, n);
		break;
	case NODE_CALL:
		make_call(m, n);
		break;
	case NODE_NUMBER:
	case NODE_WORD:
	case NODE_WRONG:
		break; /* constants; there is nothing wrong any more */
	}
}

static void make_all(struct maker *m, bool counting)
{
	const struct node *top = m->f->tree.top;
	m->counting = counting;
	m->ncode = m->nconstant = m->nfunction = m->numbers = m->lists = 0;
	make(m, top);
	put(m, top, is_list(top) ? CODE_END_LIST : CODE_END, 0, 0, 0);
}

static enum bad refuse_size(struct reader *r, const char *what, int most)
{
	reader_fault(r, BAD_SIZE, 0, (uint32_t)r->len, "more than %d %s wait at once", most, what);
	diag_hint(r->d, "give parts of the formula names of their own");
	return BAD_SIZE;
}

enum bad code_make(struct reader *r, struct formula *f)
{
	struct maker m = {.f = f};
	make_all(&m, true);
	if (m.most_numbers > FORMULA_NUMBERS)
		return refuse_size(r, "numbers", FORMULA_NUMBERS);
	if (m.most_lists > FORMULA_LISTS)
		return refuse_size(r, "lists", FORMULA_LISTS);
	m.code = arena_many(r->arena, m.ncode, struct code);
	m.constant = arena_many(r->arena, m.nconstant, double);
	m.function = arena_many(r->arena, m.nfunction, const struct function *);
	m.from = arena_many(r->arena, m.ncode, const struct node *);
	if (!m.code || !m.constant || !m.function || !m.from)
		return BAD_MEMORY;
	make_all(&m, false);
	f->code = m.code;
	f->ncode = m.ncode;
	f->constant = m.constant;
	f->function = m.function;
	f->from = m.from;
	return FINE;
}
