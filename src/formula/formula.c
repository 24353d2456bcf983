/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/formula/formula.h>

#include <string.h>

#include "formula/code.h"

enum { NAME_BYTES = 64, NAMES = 65535 };

/* ---- scope ---------------------------------------------------------------------------------- */

bool formula_scope_find(
	const struct formula_scope *scope, const char *name, size_t len, size_t *slot)
{
	for (size_t i = 0; scope && i < scope->n; i++)
		/* most names differ in length or last letter */
		if (scope->name[i].len == len && scope->name[i].name[len - 1] == name[len - 1] &&
			memcmp(scope->name[i].name, name, len) == 0) {
			*slot = i;
			return true;
		}
	return false;
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}

static bool is_name(const char *name, size_t len)
{
	for (size_t i = 0; i < len; i++)
		if (!is_letter(name[i]) &&
			(i == 0 || (name[i] != '_' && (name[i] < '0' || name[i] > '9'))))
			return false;
	return len > 0 && len <= NAME_BYTES;
}

bool formula_name_is_free(const char *name, size_t len, const char **why)
{
	size_t row;
	if (!is_name(name, len))
		*why = "is no name: a letter, then letters, digits and _, 64 at most";
	else if (scan_is_word(name, len))
		*why = "is a word of the formula language";
	else if (function_find(name, len, 0, &row))
		*why = "is a function of the formula language";
	else
		return true;
	return false;
}

static enum bad make_room(struct arena *a, struct formula_scope *scope)
{
	if (scope->n < scope->room)
		return FINE;
	size_t room = scope->room ? 2 * scope->room : 16;
	struct formula_name *more = arena_many(a, room, struct formula_name);
	if (!more)
		return BAD_MEMORY;
	if (scope->n)
		memcpy(more, scope->name, scope->n * sizeof *more);
	scope->name = more;
	scope->room = room;
	return FINE;
}

enum bad formula_scope_add(
	struct arena *a, struct formula_scope *scope, const struct formula_name *name, size_t *slot)
{
	const char *why;
	if (!formula_name_is_free(name->name, name->len, &why))
		return BAD_SYNTAX;
	if (formula_scope_find(scope, name->name, name->len, slot))
		return BAD_REPEATED;
	if (scope->n >= NAMES)
		return BAD_SIZE;
	enum bad code = make_room(a, scope);
	if (code)
		return code;
	scope->name[scope->n] = *name;
	scope->name[scope->n].used = 0;
	*slot = scope->n++;
	return FINE;
}

/* ---- compiling ------------------------------------------------------------------------------ */

static enum bad check_size(struct reader *r)
{
	if (r->len > FORMULA_BYTES) {
		reader_fault(r, BAD_SIZE, 0, (uint32_t)1, "a formula of %zu bytes, %d at most",
			r->len, FORMULA_BYTES);
		diag_hint(r->d, "give parts of the formula names of their own");
	} else if (r->scope && r->scope->n > NAMES) {
		reader_fault(r, BAD_SIZE, 0, 1, "too many names");
	}
	return r->code;
}

/* A formula without names has one result for ever: if that is a code, it is a fault of the text.
 * Constant numbers were computed on the way; this is for lists. */
static void try_constant(struct reader *r, const struct formula *f)
{
	struct formula_work work;
	struct formula_value value;
	enum bad code = formula_run(f, NULL, &work, &value);
	if (!code)
		return;
	const struct node *n = f->from[work.failed];
	struct quote q = reader_quote(r, n->start, n->len);
	reader_fault(r, code, n->start, n->len, "%s cannot be computed: it %s", q.text, work.why);
}

static enum bad compile(struct reader *r, struct formula *f)
{
	tree_parse(r, &f->tree);
	if (r->code != BAD_MEMORY)
		tree_check(r, &f->tree);
	if (!r->code)
		r->code = code_make(r, f);
	if (!r->code && !f->tree.top->constant && formula_is_constant(f))
		try_constant(r, f);
	if (r->d->out)
		reader_out(r);
	if (r->code)
		return r->code;
	const struct sort *top = &f->tree.top->sort;
	f->result = (struct formula_type){top->kind, top->dim};
	f->any_dim = top->any_dim;
	f->text = *r;
	f->text.scope = NULL;
	f->text.d = NULL;
	return FINE;
}

enum bad formula_compile(struct arena *a, const char *text, size_t len, struct place at,
	bool straight, struct formula_scope *scope, struct diags *d, struct formula **out)
{
	struct reader r = {.arena = a,
		.text = text,
		.len = len,
		.at = at,
		.straight = straight,
		.scope = scope,
		.d = d};
	if (check_size(&r))
		return r.code;
	struct formula *f = arena_new(a, struct formula);
	r.text = arena_copy(a, text, len);
	if (!f || !r.text)
		return BAD_MEMORY;
	enum bad code = compile(&r, f);
	if (!code)
		*out = f;
	return code;
}

/* ---- asking --------------------------------------------------------------------------------- */

struct formula_type formula_result(const struct formula *f)
{
	return f->result;
}

bool formula_fits(const struct formula *f, struct formula_type want)
{
	if (f->result.kind != want.kind)
		return false;
	return want.kind == FORMULA_TRUTH || f->any_dim || dim_is_equal(f->result.dim, want.dim);
}

bool formula_uses(const struct formula *f, size_t slot)
{
	for (const struct node *n = f->tree.first; n; n = n->later)
		if (n->kind == NODE_NAME && n->slot == slot)
			return true;
	return false;
}

bool formula_uses_any(const struct formula *f, const unsigned char *mark)
{
	for (const struct node *n = f->tree.first; n; n = n->later)
		if (n->kind == NODE_NAME && mark[n->slot])
			return true;
	return false;
}

void formula_mark_used(const struct formula *f, unsigned char *mark)
{
	for (const struct node *n = f->tree.first; n; n = n->later)
		if (n->kind == NODE_NAME)
			mark[n->slot] = 1;
}

bool formula_is_constant(const struct formula *f)
{
	for (const struct node *n = f->tree.first; n; n = n->later)
		if (n->kind == NODE_NAME)
			return false;
	return true;
}

bool formula_may_be_nothing(const struct formula *f)
{
	return f->tree.top->sort.nothing;
}
