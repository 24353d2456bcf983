/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Kinds, dimensions and constants: one walk along the chain of pieces. */
#include "formula/check.h"

#include "formula/value.h"

/* ---- what pieces know of themselves --------------------------------------------------------- */

void node_spoil(struct node *n)
{
	n->sort.wrong = true;
}

void node_know(struct node *n, double value)
{
	n->constant = true;
	n->value = value;
}

bool node_operands_known(const struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next)
		if (!o->constant)
			return false;
	return true;
}

bool node_operand_wrong(const struct node *n)
{
	for (const struct node *a = n->first; a; a = a->next)
		if (a->sort.wrong)
			return true;
	return false;
}

double node_slack(const struct node *n)
{
	const struct sort *a = &n->first->sort, *b = &n->last->sort;
	return value_slack(a->any_dim ? b->dim : a->dim);
}

static void fold_operator(struct reader *r, struct node *n)
{
	double value = 0;
	const char *why = "";
	if (n->sort.kind == FORMULA_LIST || !node_operands_known(n))
		return;
	double a = n->first->value, b = n->n > 1 ? n->first->next->value : 0;
	enum bad code = value_apply(n->op, a, b, node_slack(n), &value, &why);
	if (code)
		words_cannot_compute(r, n, code, why);
	else
		node_know(n, value);
}

static void fold_if(struct node *n)
{
	if (!n->first->constant || n->sort.kind == FORMULA_LIST)
		return;
	const struct node *part = n->first->value != 0 ? n->first->next : n->last;
	if (part->constant)
		node_know(n, part->value);
}

/* ---- operators ------------------------------------------------------------------------------ */

static bool is_number(const struct node *n)
{
	return n->sort.kind == FORMULA_NUMBER;
}

static void operand_fault(
	struct reader *r, struct node *n, const struct node *operand, const char *needed)
{
	struct quote q = words_quote(r, operand);
	reader_fault(r, BAD_TYPE, operand->start, operand->len, "%s is %s where %s is needed",
		q.text, words_of(r, operand).text, needed);
	words_note_name(r, operand);
	node_spoil(n);
}

/* The operands must be numbers or lists of numbers. */
static bool check_arithmetic(struct reader *r, struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next)
		if (o->sort.kind == FORMULA_TRUTH)
			operand_fault(r, n, o, "a number");
	return !n->sort.wrong;
}

static bool same_dim(const struct sort *a, const struct sort *b)
{
	return a->any_dim || b->any_dim || dim_is_equal(a->dim, b->dim);
}

static void dim_fault(struct reader *r, struct node *n, const struct node *a, const struct node *b,
	const char *what)
{
	struct quote qa = words_quote(r, a), qb = words_quote(r, b);
	bool truth = a->sort.kind == FORMULA_TRUTH || b->sort.kind == FORMULA_TRUTH;
	enum bad code = truth ? BAD_TYPE : BAD_UNIT;
	reader_fault(r, code, n->start, n->len, "%s is %s, %s is %s: they cannot be %s", qa.text,
		words_of(r, a).text, qb.text, words_of(r, b).text, what);
	words_hint_unit(r, a, b->sort.dim);
	words_hint_unit(r, b, a->sort.dim);
	words_note_name(r, b);
	words_note_name(r, a);
	node_spoil(n);
}

/* What two things of one dimension give together. */
static void join(struct sort *out, const struct sort *a, const struct sort *b)
{
	out->dim = a->any_dim ? b->dim : a->dim;
	out->any_dim = a->any_dim && b->any_dim;
	out->point = a->point || b->point;
	out->nothing = a->nothing || b->nothing;
	if (a->kind == FORMULA_LIST || b->kind == FORMULA_LIST)
		out->kind = FORMULA_LIST;
}

static void check_sum(struct reader *r, struct node *n)
{
	const struct node *a = n->first, *b = n->last;
	bool add = n->op == OP_ADD;
	if (!same_dim(&a->sort, &b->sort)) {
		dim_fault(r, n, a, b, add ? "added" : "subtracted");
		return;
	}
	join(&n->sort, &a->sort, &b->sort);
	if (add && a->sort.point && b->sort.point) {
		struct quote qa = words_quote(r, a), qb = words_quote(r, b);
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s and %s are both points on a temperature scale: they cannot be added",
			qa.text, qb.text);
		diag_hint(r->d, "write a difference in K, as in 20 degC + 5 K");
		node_spoil(n);
	} else if (!add && b->sort.point) {
		n->sort.point = false;
	}
}

static bool refuse_points(struct reader *r, struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next) {
		if (!o->sort.point)
			continue;
		struct quote q = words_quote(r, o);
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s is a point on a temperature scale: it can only be compared, moved and "
			"subtracted",
			q.text);
		diag_hint(r->d, "write a difference in K");
		node_spoil(n);
		return true;
	}
	return false;
}

static void check_product(struct reader *r, struct node *n)
{
	const struct sort *a = &n->first->sort, *b = &n->last->sort;
	int sign = n->op == OP_MULTIPLY ? 1 : -1;
	join(&n->sort, a, b);
	n->sort.any_dim = false;
	if (refuse_points(r, n))
		return;
	if (n->op == OP_DIVIDE && n->last->constant && n->last->value == 0) {
		words_cannot_compute(r, n, BAD_RANGE, value_by_zero);
		return;
	}
	if (dim_times(a->dim, b->dim, sign, &n->sort.dim)) {
		reader_fault(
			r, BAD_RANGE, n->start, n->len, "the power of a unit becomes too large");
		node_spoil(n);
	}
}

/* power * exponent as a whole number, when it is one. */
static bool whole_power(int power, double exponent, int8_t *out)
{
	double exact = power * exponent, whole = floor(exact + 0.5);
	if (fabs(exact - whole) > 1e-9 || fabs(whole) > 100)
		return false;
	*out = (int8_t)whole;
	return true;
}

bool dim_raise(struct dim base, double exponent, struct dim *out)
{
	for (int i = 0; i < DIM_COUNT; i++)
		if (!whole_power(base.power[i], exponent, &out->power[i]))
			return false;
	return true;
}

static void check_power(struct reader *r, struct node *n)
{
	const struct node *base = n->first, *exponent = n->last;
	struct quote q = words_quote(r, exponent);
	n->sort.kind = base->sort.kind;
	n->sort.nothing = base->sort.nothing || exponent->sort.nothing;
	if (refuse_points(r, n))
		return;
	if (exponent->sort.kind == FORMULA_LIST) {
		operand_fault(r, n, exponent, "one number");
	} else if (!dim_is_none(exponent->sort.dim)) {
		reader_fault(r, BAD_UNIT, exponent->start, exponent->len,
			"%s is %s where a plain number is needed as a power", q.text,
			words_of(r, exponent).text);
		node_spoil(n);
	} else if (!dim_is_none(base->sort.dim) && !exponent->constant) {
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s is %s: only a power written as a number can be taken of it",
			words_quote(r, base).text, words_of(r, base).text);
		node_spoil(n);
	} else if (!dim_is_none(base->sort.dim) &&
		   !dim_raise(base->sort.dim, exponent->value, &n->sort.dim)) {
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s is %s: its power %s has no unit that makes sense",
			words_quote(r, base).text, words_of(r, base).text, q.text);
		node_spoil(n);
	}
}

static bool is_comparison(enum op op)
{
	return op >= OP_EQUAL && op <= OP_MORE_EQUAL;
}

static bool refuse_nothing(struct reader *r, struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next) {
		if (o->kind != NODE_WORD || o->word != TOKEN_NOTHING)
			continue;
		struct quote q = words_quote(r, o == n->first ? n->last : n->first);
		reader_fault(r, BAD_TYPE, n->start, n->len, "nothing cannot be compared");
		diag_hint(r->d, "write is_nothing(%s)", q.text);
		node_spoil(n);
		return true;
	}
	return false;
}

static void check_comparison(struct reader *r, struct node *n)
{
	const struct node *a = n->first, *b = n->last;
	n->sort.kind = FORMULA_TRUTH;
	if (refuse_nothing(r, n))
		return;
	for (const struct node *o = a; o; o = o->next)
		if (o->sort.kind == FORMULA_LIST) {
			operand_fault(r, n, o, "one number");
			diag_hint(r->d, "compare min(...), max(...) or at(..., 1) of the list");
		}
	if (n->sort.wrong)
		return;
	bool sides = n->op == OP_EQUAL || n->op == OP_UNEQUAL;
	if (a->sort.kind != b->sort.kind ||
		(a->sort.kind == FORMULA_NUMBER && !same_dim(&a->sort, &b->sort)))
		dim_fault(r, n, a, b, "compared");
	else if (a->sort.kind == FORMULA_TRUTH && !sides)
		check_arithmetic(r, n);
}

static void check_logic(struct reader *r, struct node *n)
{
	n->sort.kind = FORMULA_TRUTH;
	for (const struct node *o = n->first; o; o = o->next)
		if (o->sort.kind != FORMULA_TRUTH)
			operand_fault(r, n, o, "a truth (a comparison)");
}

static void check_binary(struct reader *r, struct node *n)
{
	if (n->op == OP_AND || n->op == OP_OR)
		check_logic(r, n);
	else if (is_comparison(n->op))
		check_comparison(r, n);
	else if (!check_arithmetic(r, n))
		return;
	else if (n->op == OP_ADD || n->op == OP_SUBTRACT)
		check_sum(r, n);
	else if (n->op == OP_POWER)
		check_power(r, n);
	else
		check_product(r, n);
	if (!n->sort.wrong)
		fold_operator(r, n);
}

static void check_prefix(struct reader *r, struct node *n)
{
	if (n->op == OP_NOT) {
		check_logic(r, n);
	} else if (check_arithmetic(r, n)) {
		n->sort = n->first->sort;
		refuse_points(r, n);
	}
	if (!n->sort.wrong)
		fold_operator(r, n);
}

static void check_if(struct reader *r, struct node *n)
{
	const struct node *condition = n->first, *a = condition->next, *b = n->last;
	if (condition->sort.kind != FORMULA_TRUTH)
		operand_fault(r, n, condition, "a truth (a comparison)");
	if (a->sort.kind != b->sort.kind) {
		struct quote qa = words_quote(r, a), qb = words_quote(r, b);
		reader_fault(r, BAD_TYPE, n->start, n->len,
			"%s is %s, %s is %s: then and else must give the same kind", qa.text,
			words_of(r, a).text, qb.text, words_of(r, b).text);
		node_spoil(n);
	} else if (!same_dim(&a->sort, &b->sort)) {
		dim_fault(r, n, a, b, "results of one if");
	} else if (!n->sort.wrong) {
		n->sort.kind = a->sort.kind;
		join(&n->sort, &a->sort, &b->sort);
		fold_if(n);
	}
}

static void check_list(struct reader *r, struct node *n)
{
	n->sort.kind = FORMULA_LIST;
	n->sort.any_dim = true;
	if (!n->n || n->n > FORMULA_LENGTH) {
		reader_fault(r, BAD_COUNT, n->start, n->len,
			"a list of %u values: it can have 1 to %d", n->n, FORMULA_LENGTH);
		node_spoil(n);
	}
	const struct node *first = NULL;
	for (const struct node *o = n->first; o && !n->sort.wrong; o = o->next) {
		if (!is_number(o))
			operand_fault(r, n, o, "one number");
		else if (first && !same_dim(&first->sort, &o->sort))
			dim_fault(r, n, first, o, "in one list");
		if (!o->sort.any_dim && !first)
			first = o;
		join(&n->sort, &n->sort, &o->sort);
	}
}

/* ---- leaves --------------------------------------------------------------------------------- */

static void check_number(struct node *n)
{
	const struct token *t = n->number;
	double value = n->minus ? t->unit.offset - t->bare * t->unit.factor : t->value;
	n->sort.dim = t->unit.dim;
	n->sort.any_dim = value == 0 && !t->unit_len;
	n->sort.point = t->unit.offset != 0;
	node_know(n, value);
}

static void check_word(struct node *n)
{
	bool truth = n->word == TOKEN_TRUE || n->word == TOKEN_FALSE;
	n->sort.kind = truth ? FORMULA_TRUTH : FORMULA_NUMBER;
	n->sort.any_dim = n->sort.nothing = n->word == TOKEN_NOTHING;
	node_know(n, truth                      ? n->word == TOKEN_TRUE
		     : n->word == TOKEN_NOTHING ? formula_nothing()
						: 3.14159265358979323846);
}

/* As what the name stands for. */
static void check_local(struct node *n)
{
	const struct node *meaning = n->local;
	n->sort = meaning->sort;
	if (meaning->constant)
		node_know(n, meaning->value);
}

static void check_let(struct node *n)
{
	n->sort = n->last->sort;
	if (n->last->constant)
		node_know(n, n->last->value);
}

/* What a name stands for is worked out wherever the name stands: names of names of names could make
 * a short text a very long formula. */
static void weigh(struct reader *r, struct node *n)
{
	uint64_t sum = 1 + (n->kind == NODE_LOCAL ? n->local->weight : 0);
	for (const struct node *o = n->first; o; o = o->next)
		sum += o->weight;
	n->weight = sum > FORMULA_BYTES ? FORMULA_BYTES + 1 : (uint32_t)sum;
	if (sum <= FORMULA_BYTES || n->sort.wrong)
		return;
	reader_fault(r, BAD_SIZE, n->start, n->len,
		"with what its names stand for this has more than %d parts", FORMULA_BYTES);
	node_spoil(n);
}

static bool operand_wrong(const struct node *n)
{
	return n->kind != NODE_CALL && node_operand_wrong(n);
}

static void check_node(struct reader *r, const struct tree *t, struct node *n)
{
	if (n->kind == NODE_WRONG || operand_wrong(n)) {
		node_spoil(n);
		return;
	}
	switch (n->kind) {
	case NODE_NUMBER:
		check_number(n);
		break;
	case NODE_WORD:
		check_word(n);
		break;
	case NODE_NAME:
		check_name(r, t, n);
		break;
	case NODE_LOCAL:
		check_local(n);
		break;
	case NODE_LET:
		check_let(n);
		break;
	case NODE_PREFIX:
		check_prefix(r, n);
		break;
	case NODE_BINARY:
		check_binary(r, n);
		break;
	case NODE_IF:
		check_if(r, n);
		break;
	case NODE_LIST:
		check_list(r, n);
		break;
	case NODE_CALL:
		check_call(r, t, n);
		break;
	case NODE_WRONG:
		break;
	}
}

void tree_check(struct reader *r, struct tree *t)
{
	for (struct node *n = t->first; n && r->code != BAD_MEMORY; n = n->later) {
		check_node(r, t, n);
		weigh(r, n);
	}
}
