/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Checking of names and calls: which is meant, what it is given, what it gives. */
#include "formula/check.h"

#include <string.h>

#include <barwright/base/nearest.h>

#include "formula/function.h"
#include "formula/value.h"

/* ---- names ---------------------------------------------------------------------------------- */

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

void check_name(struct reader *r, const struct tree *t, struct node *n)
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
	node_spoil(n);
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

/* ---- calls ---------------------------------------------------------------------------------- */

static void report_unknown_function(struct reader *r, const struct tree *t, struct node *n)
{
	const char *name = r->text + n->name_start;
	size_t slot;
	node_spoil(n);
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

/* May it work for each element of a list, when given n arguments? */
static bool may_lift(const struct function *f, size_t n)
{
	if (n != function_parameters(f) || f->gives.kind != FORMULA_NUMBER || !n)
		return false;
	for (size_t i = 0; i < n; i++)
		if (f->parameter[i].kind != FORMULA_NUMBER)
			return false;
	return true;
}

/* Argument i of n. */
static bool fits_kind(const struct function *f, const struct node *argument, size_t i, size_t n)
{
	enum formula_kind wanted = parameter(f, i)->kind, given = argument->sort.kind;
	return argument->sort.wrong || wanted == given ||
	       (given == FORMULA_LIST && wanted == FORMULA_NUMBER && may_lift(f, n));
}

static bool fits_kinds(const struct function *f, const struct node *n)
{
	size_t i = 0;
	for (const struct node *a = n->first; a; a = a->next, i++)
		if (!fits_kind(f, a, i, n->n))
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
	reader_fault(r, BAD_COUNT, n->start, n->len, "%.*s is given %u argument%s",
		(int)n->name_len, r->text + n->name_start, n->n, n->n == 1 ? "" : "s");
	diag_hint(r->d, "write %s", forms.at);
	text_release(&forms);
	node_spoil(n);
}

static void report_kind(struct reader *r, struct node *n, const struct function *f)
{
	size_t i = 0;
	for (struct node *a = n->first; a; a = a->next, i++) {
		if (fits_kind(f, a, i, n->n))
			continue;
		const struct parameter *p = parameter(f, i);
		struct quote q = words_quote(r, a);
		reader_fault(r, BAD_TYPE, a->start, a->len,
			"%s is %s where %s needs a %s as \"%s\"", q.text, words_of(r, a).text,
			f->name,
			p->kind == FORMULA_LIST    ? "list"
			: p->kind == FORMULA_TRUTH ? "truth"
						   : "number",
			p->name);
		words_note_name(r, a);
	}
	node_spoil(n);
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
	struct quote q = words_quote(r, a);
	struct dim wanted = by ? by->sort.dim : p->dim;
	if (by) {
		struct quote qb = words_quote(r, by);
		reader_fault(r, BAD_UNIT, a->start, a->len,
			"%s is %s, %s is %s: %s needs the same of both", q.text,
			words_of(r, a).text, qb.text, words_of(r, by).text, n->function->name);
	} else {
		reader_fault(r, BAD_UNIT, a->start, a->len, "%s is %s where %s needs %s as \"%s\"",
			q.text, words_of(r, a).text, n->function->name,
			words_of_type(r, p->kind, wanted).text, p->name);
	}
	words_hint_unit(r, a, wanted);
	words_note_name(r, a);
	node_spoil(n);
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
	return !by || (dim_raise(by->sort.dim, halves / 2.0, &part) &&
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
	struct quote q = words_quote(r, by);
	reader_fault(r, BAD_UNIT, n->start, n->len,
		"%s is %s: its root has no unit that makes sense", q.text, words_of(r, by).text);
	node_spoil(n);
}

static void fold_call(struct reader *r, struct node *n)
{
	double number[FORMULA_LENGTH], out[FORMULA_LENGTH];
	struct call c = {number, 0, NULL, out, 0, NULL};
	const struct function *f = n->function;
	if (n->sort.kind == FORMULA_LIST || !node_operands_known(n))
		return;
	for (const struct node *a = n->first; a; a = a->next)
		number[c.n++] = a->value;
	enum bad code = value_call(f, &c);
	if (code)
		words_cannot_compute(r, n, code, c.why ? c.why : "is refused");
	else
		node_know(n, out[0]);
}

void check_call(struct reader *r, const struct tree *t, struct node *n)
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
	if (node_operand_wrong(n))
		node_spoil(n);
	if (!n->sort.wrong)
		set_result(r, n, &letters);
	if (!n->sort.wrong)
		fold_call(r, n);
}
