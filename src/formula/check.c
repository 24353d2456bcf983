/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Names, counts, kinds, dimensions, constants: one walk along the chain of pieces. */
#include "formula/tree.h"

#include <string.h>

#include <barwright/base/nearest.h>

#include "formula/function.h"
#include "formula/value.h"

/* ---- words for messages --------------------------------------------------------------------- */

/* "a length", "a list, each a length", "a truth". */
struct described {
	char text[96];
};

static struct described describe_type(struct reader *r, enum formula_kind kind, struct dim dim)
{
	struct described d = {""};
	struct text name;
	text_init(&name);
	dim_add_name(dim, &name);
	if (kind == FORMULA_TRUTH)
		snprintf(d.text, sizeof d.text, "a truth (true or false)");
	else
		snprintf(d.text, sizeof d.text, "%s%s",
			kind == FORMULA_LIST ? "a list, each value " : "", name.at);
	if (name.out)
		reader_out(r);
	text_release(&name);
	return d;
}

static struct described describe(struct reader *r, const struct node *n)
{
	return describe_type(r, n->sort.kind, n->sort.dim);
}

static struct quote quote(const struct reader *r, const struct node *n)
{
	return reader_quote(r, n->start, n->len);
}

/* A piece whose fault has been reported: silent from here on. */
static void spoil(struct node *n)
{
	n->sort.wrong = true;
}

/* Where the name that a piece consists of was declared. */
static void note_name(struct reader *r, const struct node *n)
{
	if (n->kind != NODE_NAME || !r->scope->name[n->slot].declared.source)
		return;
	diag_note(r->d, r->scope->name[n->slot].declared, "%.*s is declared here", (int)n->name_len,
		r->text + n->name_start);
}

/* A unit to write behind a bare number where this dimension is needed; null: none comes to mind. */
static const char *usual_unit(struct dim dim)
{
	static const char *const usual[] = {
		"mm", "MPa", "N", "deg", "min", "g", "K", "mm2", "mm3", "N mm", "N/mm", "g/cm3"};
	for (size_t i = 0; i < sizeof usual / sizeof *usual; i++) {
		struct unit unit;
		size_t fault, len;
		if (!unit_read(usual[i], strlen(usual[i]), &unit, &fault, &len) &&
			dim_is_equal(unit.dim, dim))
			return usual[i];
	}
	return NULL;
}

/* "3,5 mm": a number that stops at a comma with a digit right behind it. */
static bool has_decimal_comma(const struct reader *r, const struct node *n)
{
	size_t end = (size_t)n->start + n->len;
	return n->kind == NODE_NUMBER && end + 1 < r->len && r->text[end] == ',' &&
	       r->text[end + 1] >= '0' && r->text[end + 1] <= '9';
}

/* Two operands that do not go together because one is a bare number. */
static void hint_unit(struct reader *r, const struct node *bare, struct dim wanted)
{
	const char *unit = usual_unit(wanted);
	if (!unit || !dim_is_none(bare->sort.dim))
		return;
	if (has_decimal_comma(r, bare))
		diag_hint(r->d, "decimals are written with a point: %.*s.%c",
			(int)bare->number.digits, r->text + bare->number.start,
			r->text[bare->start + bare->len + 1]);
	else if (bare->kind == NODE_NUMBER)
		diag_hint(r->d, "give the number its unit, for example %.*s %s",
			(int)bare->number.digits, r->text + bare->number.start, unit);
	else if (dim_is_equal(wanted, (struct dim)ANGLE_))
		diag_hint(r->d, "write angles with their unit, 30 deg; an arc over its radius "
				"becomes one by * 1 rad");
}

/* ---- values that are known already ---------------------------------------------------------- */

static void set_value(struct node *n, double value)
{
	n->constant = true;
	n->value = value;
}

static void fold_fault(struct reader *r, struct node *n, enum bad code, const char *why)
{
	struct quote q = quote(r, n);
	reader_fault(r, code, n->start, n->len, "%s cannot be computed: it %s", q.text, why);
	spoil(n);
}

static bool operands_known(const struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next)
		if (!o->constant)
			return false;
	return true;
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
	if (n->sort.kind == FORMULA_LIST || !operands_known(n))
		return;
	double a = n->first->value, b = n->n > 1 ? n->first->next->value : 0;
	enum bad code = value_apply(n->op, a, b, node_slack(n), &value, &why);
	if (code)
		fold_fault(r, n, code, why);
	else
		set_value(n, value);
}

static void fold_if(struct node *n)
{
	if (!n->first->constant || n->sort.kind == FORMULA_LIST)
		return;
	const struct node *part = n->first->value != 0 ? n->first->next : n->last;
	if (part->constant)
		set_value(n, part->value);
}

/* ---- operators ------------------------------------------------------------------------------ */

static bool is_number(const struct node *n)
{
	return n->sort.kind == FORMULA_NUMBER;
}

static void operand_fault(
	struct reader *r, struct node *n, const struct node *operand, const char *needed)
{
	struct quote q = quote(r, operand);
	reader_fault(r, BAD_TYPE, operand->start, operand->len, "%s is %s where %s is needed",
		q.text, describe(r, operand).text, needed);
	note_name(r, operand);
	spoil(n);
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
	struct quote qa = quote(r, a), qb = quote(r, b);
	bool truth = a->sort.kind == FORMULA_TRUTH || b->sort.kind == FORMULA_TRUTH;
	enum bad code = truth ? BAD_TYPE : BAD_UNIT;
	reader_fault(r, code, n->start, n->len, "%s is %s, %s is %s: they cannot be %s", qa.text,
		describe(r, a).text, qb.text, describe(r, b).text, what);
	hint_unit(r, a, b->sort.dim);
	hint_unit(r, b, a->sort.dim);
	note_name(r, b);
	note_name(r, a);
	spoil(n);
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
		struct quote qa = quote(r, a), qb = quote(r, b);
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s and %s are both points on a temperature scale: they cannot be added",
			qa.text, qb.text);
		diag_hint(r->d, "write a difference in K, as in 20 degC + 5 K");
		spoil(n);
	} else if (!add && b->sort.point) {
		n->sort.point = false;
	}
}

static bool refuse_points(struct reader *r, struct node *n)
{
	for (const struct node *o = n->first; o; o = o->next) {
		if (!o->sort.point)
			continue;
		struct quote q = quote(r, o);
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s is a point on a temperature scale: it can only be compared, moved and "
			"subtracted",
			q.text);
		diag_hint(r->d, "write a difference in K");
		spoil(n);
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
		fold_fault(r, n, BAD_RANGE, value_by_zero);
		return;
	}
	if (dim_times(a->dim, b->dim, sign, &n->sort.dim)) {
		reader_fault(
			r, BAD_RANGE, n->start, n->len, "the power of a unit becomes too large");
		spoil(n);
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

static bool raise_dim(struct dim base, double exponent, struct dim *out)
{
	for (int i = 0; i < DIM_COUNT; i++)
		if (!whole_power(base.power[i], exponent, &out->power[i]))
			return false;
	return true;
}

static void check_power(struct reader *r, struct node *n)
{
	const struct node *base = n->first, *exponent = n->last;
	struct quote q = quote(r, exponent);
	n->sort.kind = base->sort.kind;
	n->sort.nothing = base->sort.nothing || exponent->sort.nothing;
	if (refuse_points(r, n))
		return;
	if (exponent->sort.kind == FORMULA_LIST) {
		operand_fault(r, n, exponent, "one number");
	} else if (!dim_is_none(exponent->sort.dim)) {
		reader_fault(r, BAD_UNIT, exponent->start, exponent->len,
			"%s is %s where a plain number is needed as a power", q.text,
			describe(r, exponent).text);
		spoil(n);
	} else if (!dim_is_none(base->sort.dim) && !exponent->constant) {
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s is %s: only a power written as a number can be taken of it",
			quote(r, base).text, describe(r, base).text);
		spoil(n);
	} else if (!dim_is_none(base->sort.dim) &&
		   !raise_dim(base->sort.dim, exponent->value, &n->sort.dim)) {
		reader_fault(r, BAD_UNIT, n->start, n->len,
			"%s is %s: its power %s has no unit that makes sense", quote(r, base).text,
			describe(r, base).text, q.text);
		spoil(n);
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
		struct quote q = quote(r, o == n->first ? n->last : n->first);
		reader_fault(r, BAD_TYPE, n->start, n->len, "nothing cannot be compared");
		diag_hint(r->d, "write is_nothing(%s)", q.text);
		spoil(n);
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
	if (a->sort.kind != b->sort.kind)
		dim_fault(r, n, a, b, "compared");
	else if (a->sort.kind == FORMULA_TRUTH && !sides)
		check_arithmetic(r, n);
	else if (a->sort.kind == FORMULA_NUMBER && !same_dim(&a->sort, &b->sort))
		dim_fault(r, n, a, b, "compared");
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
		struct quote qa = quote(r, a), qb = quote(r, b);
		reader_fault(r, BAD_TYPE, n->start, n->len,
			"%s is %s, %s is %s: then and else must give the same kind", qa.text,
			describe(r, a).text, qb.text, describe(r, b).text);
		spoil(n);
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
			"a list of %zu values: it can have 1 to %d", n->n, FORMULA_LENGTH);
		spoil(n);
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

/* ---- names and functions -------------------------------------------------------------------- */

/* Was the same unknown name reported before? */
static bool is_repeated(const struct reader *r, const struct tree *t, const struct node *n)
{
	for (const struct node *o = t->first; o && o != n; o = o->later)
		if (o->kind == n->kind && o->sort.wrong && o->name_len == n->name_len &&
			memcmp(r->text + o->name_start, r->text + n->name_start, n->name_len) == 0)
			return true;
	return false;
}

static void offer_names(struct reader *r, struct nearest *near)
{
	for (size_t i = 0; r->scope && i < r->scope->n; i++)
		nearest_offer(near, r->scope->name[i].name, r->scope->name[i].len);
}

static void offer_functions(struct nearest *near)
{
	const struct function *f;
	for (size_t i = 0; (f = function_row(i)) != NULL; i++)
		nearest_offer(near, f->name, strlen(f->name));
}

static void hint_nearest(struct reader *r, const struct node *n, bool call)
{
	struct nearest near = {.wanted = r->text + n->name_start, .len = n->name_len};
	struct unit unit;
	size_t fault, len;
	if (call)
		offer_functions(&near);
	else
		offer_names(r, &near);
	if (near.word)
		diag_hint(r->d, "did you mean %.*s?", (int)near.word_len, near.word);
	else if (!call && !unit_read(near.wanted, near.len, &unit, &fault, &len))
		diag_hint(r->d, "a unit follows its number, as in 1 %.*s", (int)near.len,
			near.wanted);
}

static void check_name(struct reader *r, const struct tree *t, struct node *n)
{
	const char *name = r->text + n->name_start;
	size_t row;
	if (formula_scope_find(r->scope, name, n->name_len, &n->slot)) {
		struct formula_name *known = &r->scope->name[n->slot];
		known->used++;
		n->sort.kind = known->type.kind;
		n->sort.dim = known->type.dim;
		return;
	}
	spoil(n);
	if (is_repeated(r, t, n))
		return;
	if (function_find(name, n->name_len, 0, &row)) {
		reader_fault(r, BAD_UNKNOWN, n->name_start, n->name_len,
			"%.*s is a function, not a value", (int)n->name_len, name);
		diag_hint(r->d, "write its arguments behind it: %.*s(...)", (int)n->name_len, name);
		return;
	}
	reader_fault(r, BAD_UNKNOWN, n->name_start, n->name_len, "nothing here is called %.*s",
		(int)n->name_len, name);
	hint_nearest(r, n, false);
}

static void report_unknown_function(struct reader *r, const struct tree *t, struct node *n)
{
	const char *name = r->text + n->name_start;
	size_t slot;
	spoil(n);
	if (is_repeated(r, t, n))
		return;
	bool value = formula_scope_find(r->scope, name, n->name_len, &slot);
	reader_fault(r, BAD_UNKNOWN, n->name_start, n->name_len,
		value ? "%.*s is a value, not a function" : "there is no function %.*s",
		(int)n->name_len, name);
	if (value)
		diag_hint(r->d, "write %.*s * (...) to multiply", (int)n->name_len, name);
	else
		hint_nearest(r, n, true);
}

static bool fits_count(const struct function *f, size_t n)
{
	size_t wanted = function_parameters(f);
	return n == wanted || (f->more && n > wanted && n <= FORMULA_LENGTH);
}

/* Parameter i; the last one again for what is beyond it. */
static const struct parameter *parameter(const struct function *f, size_t i)
{
	size_t n = function_parameters(f);
	return &f->parameter[i < n ? i : n - 1];
}

/* May it work for each element of a list? */
static bool may_lift(const struct function *f)
{
	if (f->more || f->gives.kind != FORMULA_NUMBER || !function_parameters(f))
		return false;
	for (size_t i = 0; i < function_parameters(f); i++)
		if (f->parameter[i].kind != FORMULA_NUMBER)
			return false;
	return true;
}

static bool fits_kind(const struct function *f, const struct node *argument, size_t i)
{
	enum formula_kind wanted = parameter(f, i)->kind, given = argument->sort.kind;
	return argument->sort.wrong || wanted == given ||
	       (given == FORMULA_LIST && wanted == FORMULA_NUMBER && may_lift(f));
}

static bool fits_kinds(const struct function *f, const struct node *n)
{
	size_t i = 0;
	for (const struct node *a = n->first; a; a = a->next, i++)
		if (!fits_kind(f, a, i))
			return false;
	return true;
}

static void report_count(struct reader *r, struct node *n)
{
	struct text forms;
	text_init(&forms);
	const struct function *f;
	for (size_t i = 0; (f = function_find(r->text + n->name_start, n->name_len, i, &i)) != NULL;
		i++) {
		text_add(&forms, forms.len ? " or " : "");
		function_add_form(f, &forms);
	}
	if (forms.out)
		reader_out(r);
	reader_fault(r, BAD_COUNT, n->start, n->len, "%.*s is given %zu argument%s",
		(int)n->name_len, r->text + n->name_start, n->n, n->n == 1 ? "" : "s");
	diag_hint(r->d, "write %s", forms.at);
	text_release(&forms);
	spoil(n);
}

static void report_kind(struct reader *r, struct node *n, const struct function *f)
{
	size_t i = 0;
	for (struct node *a = n->first; a; a = a->next, i++) {
		if (fits_kind(f, a, i))
			continue;
		const struct parameter *p = parameter(f, i);
		struct quote q = quote(r, a);
		reader_fault(r, BAD_TYPE, a->start, a->len,
			"%s is %s where %s needs a %s as \"%s\"", q.text, describe(r, a).text,
			f->name,
			p->kind == FORMULA_LIST    ? "list"
			: p->kind == FORMULA_TRUTH ? "truth"
						   : "number",
			p->name);
		note_name(r, a);
	}
	spoil(n);
}

/* The row that fits; null when a fault was reported. */
static const struct function *choose(struct reader *r, struct node *n)
{
	const struct function *f, *by_count = NULL;
	for (size_t i = 0; (f = function_find(r->text + n->name_start, n->name_len, i, &i)) != NULL;
		i++) {
		if (!fits_count(f, n->n))
			continue;
		if (fits_kinds(f, n))
			return f;
		by_count = by_count ? by_count : f;
	}
	if (by_count)
		report_kind(r, n, by_count);
	else
		report_count(r, n);
	return NULL;
}

/* What the letters A and B of a row stand for in this call, and which argument said so. */
struct letters {
	const struct node *by[3];
};

static void report_argument(struct reader *r, struct node *n, const struct node *a,
	const struct parameter *p, const struct node *by)
{
	struct quote q = quote(r, a);
	struct dim wanted = by ? by->sort.dim : p->dim;
	if (by) {
		struct quote qb = quote(r, by);
		reader_fault(r, BAD_UNIT, a->start, a->len,
			"%s is %s, %s is %s: %s needs the same of both", q.text,
			describe(r, a).text, qb.text, describe(r, by).text, n->function->name);
	} else {
		reader_fault(r, BAD_UNIT, a->start, a->len, "%s is %s where %s needs %s as \"%s\"",
			q.text, describe(r, a).text, n->function->name,
			describe_type(r, p->kind, wanted).text, p->name);
	}
	hint_unit(r, a, wanted);
	note_name(r, a);
	spoil(n);
}

static void check_arguments(struct reader *r, struct node *n, struct letters *letters)
{
	size_t i = 0;
	for (const struct node *a = n->first; a; a = a->next, i++) {
		const struct parameter *p = parameter(n->function, i);
		const struct node **by = &letters->by[p->like];
		if (a->sort.wrong)
			continue;
		n->sort.nothing |= a->sort.nothing;
		if (a->sort.kind == FORMULA_LIST && p->kind == FORMULA_NUMBER)
			n->each |= 1u << i;
		if (a->sort.any_dim || p->kind == FORMULA_TRUTH)
			continue;
		if (p->like != LIKE_DIM && !*by)
			*by = a;
		else if (!dim_is_equal(p->like == LIKE_DIM ? p->dim : (*by)->sort.dim, a->sort.dim))
			report_argument(r, n, a, p, *by);
	}
}

/* The root or power of a letter's dimension that goes into the result. */
static bool letter_dim(const struct node *by, int halves, struct dim *out)
{
	struct dim part = {{0}};
	return !by || (raise_dim(by->sort.dim, halves / 2.0, &part) &&
			      dim_times(*out, part, 1, out) == FINE);
}

static void set_result(struct reader *r, struct node *n, const struct letters *letters)
{
	const struct function *f = n->function;
	n->sort.kind = n->each ? FORMULA_LIST : f->gives.kind;
	n->sort.dim = f->gives.dim;
	n->sort.any_dim =
		(f->gives.a && !letters->by[LIKE_A]) || (f->gives.b && !letters->by[LIKE_B]);
	if (f->refers == REFERS_WHEN_LAST)
		n->sort.nothing = n->last->sort.nothing;
	else if (f->refers != REFERS_WHEN_GIVEN)
		n->sort.nothing = f->refers == REFERS_AT_WILL;
	if (letter_dim(letters->by[LIKE_A], f->gives.a, &n->sort.dim) &&
		letter_dim(letters->by[LIKE_B], f->gives.b, &n->sort.dim))
		return;
	const struct node *by = letters->by[LIKE_A];
	struct quote q = quote(r, by);
	reader_fault(r, BAD_UNIT, n->start, n->len,
		"%s is %s: its root has no unit that makes sense", q.text, describe(r, by).text);
	spoil(n);
}

static void fold_call(struct reader *r, struct node *n)
{
	double number[FORMULA_LENGTH], out[FORMULA_LENGTH];
	struct call c = {number, 0, NULL, out, 0, NULL};
	const struct function *f = n->function;
	if (n->sort.kind == FORMULA_LIST || !operands_known(n))
		return;
	for (const struct node *a = n->first; a; a = a->next)
		number[c.n++] = a->value;
	enum bad code = value_call(f, &c);
	if (code)
		fold_fault(r, n, code, c.why ? c.why : "is refused");
	else
		set_value(n, out[0]);
}

static bool argument_wrong(const struct node *n)
{
	for (const struct node *a = n->first; a; a = a->next)
		if (a->sort.wrong)
			return true;
	return false;
}

static void check_call(struct reader *r, const struct tree *t, struct node *n)
{
	struct letters letters = {{NULL}};
	size_t row;
	if (!function_find(r->text + n->name_start, n->name_len, 0, &row)) {
		report_unknown_function(r, t, n);
		return;
	}
	n->function = choose(r, n);
	if (!n->function)
		return;
	check_arguments(r, n, &letters);
	if (argument_wrong(n))
		spoil(n);
	if (!n->sort.wrong)
		set_result(r, n, &letters);
	if (!n->sort.wrong)
		fold_call(r, n);
}

/* ---- leaves --------------------------------------------------------------------------------- */

static void check_number(struct node *n)
{
	const struct token *t = &n->number;
	double value = n->minus ? t->unit.offset - t->bare * t->unit.factor : t->value;
	n->sort.dim = t->unit.dim;
	n->sort.any_dim = value == 0 && !t->unit_len;
	n->sort.point = t->unit.offset != 0;
	set_value(n, value);
}

static void check_word(struct node *n)
{
	bool truth = n->word == TOKEN_TRUE || n->word == TOKEN_FALSE;
	n->sort.kind = truth ? FORMULA_TRUTH : FORMULA_NUMBER;
	n->sort.any_dim = n->sort.nothing = n->word == TOKEN_NOTHING;
	set_value(n, truth                      ? n->word == TOKEN_TRUE
		     : n->word == TOKEN_NOTHING ? formula_nothing()
						: 3.14159265358979323846);
}

static bool operand_wrong(const struct node *n)
{
	return n->kind != NODE_CALL && argument_wrong(n);
}

static void check_node(struct reader *r, const struct tree *t, struct node *n)
{
	if (n->kind == NODE_WRONG || operand_wrong(n)) {
		spoil(n);
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
	for (struct node *n = t->first; n && r->code != BAD_MEMORY; n = n->later)
		check_node(r, t, n);
}
