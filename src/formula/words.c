/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/check.h"

#include <string.h>

#include "formula/function.h"

struct described words_of_type(struct reader *r, enum formula_kind kind, struct dim dim)
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

struct described words_of(struct reader *r, const struct node *n)
{
	return words_of_type(r, n->sort.kind, n->sort.dim);
}

struct quote words_quote(const struct reader *r, const struct node *n)
{
	return reader_quote(r, n->start, n->len);
}

void words_note_name(struct reader *r, const struct node *n)
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

void words_hint_unit(struct reader *r, const struct node *bare, struct dim wanted)
{
	const char *unit = usual_unit(wanted);
	if (!unit || !dim_is_none(bare->sort.dim))
		return;
	if (has_decimal_comma(r, bare))
		diag_hint(r->d, "decimals are written with a point: %.*s.%c",
			(int)bare->number->digits, r->text + bare->number->start,
			r->text[bare->start + bare->len + 1]);
	else if (bare->kind == NODE_NUMBER)
		diag_hint(r->d, "give the number its unit, for example %.*s %s",
			(int)bare->number->digits, r->text + bare->number->start, unit);
	else if (dim_is_equal(wanted, (struct dim)ANGLE_))
		diag_hint(r->d, "write angles with their unit, 30 deg; an arc over its radius "
				"becomes one by * 1 rad");
}

void words_cannot_compute(struct reader *r, struct node *n, enum bad code, const char *why)
{
	struct quote q = words_quote(r, n);
	reader_fault(r, code, n->start, n->len, "%s cannot be computed: it %s", q.text, why);
	node_spoil(n);
}
