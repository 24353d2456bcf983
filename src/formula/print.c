/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/formula/formula.h>

#include <string.h>

#include <barwright/base/unit.h>

#include "formula/code.h"

/* Ranks are those of scan_rules; a piece that is never torn apart has RANK_WHOLE. */
enum { RANK_ANY = 0, RANK_IF = 5, RANK_WHOLE = 100 };

struct printer {
	const struct formula *f;
	const struct formula_value *values;
	formula_show *show; /* null: names as they are */
	void *context;
	struct text *out;
};

static void print(const struct printer *p, const struct node *n);

/* With values there are no names: what a local one stands for is shown in its place. */
static const struct node *seen(const struct printer *p, const struct node *n)
{
	while (p->show && (n->kind == NODE_LOCAL || n->kind == NODE_LET))
		n = n->kind == NODE_LOCAL ? n->local : n->last;
	return n;
}

static int rank_of(const struct printer *p, const struct node *n)
{
	n = seen(p, n);
	switch (n->kind) {
	case NODE_PREFIX:
	case NODE_BINARY:
		return scan_op_rank(n->op);
	case NODE_LET:
	case NODE_IF:
		return RANK_IF;
	case NODE_NUMBER:
		return n->minus ? scan_op_rank(OP_NEGATE) : RANK_WHOLE;
	default:
		return RANK_WHOLE;
	}
}

static void print_bracketed(const struct printer *p, const struct node *n, bool brackets)
{
	if (brackets)
		text_add_char(p->out, '(');
	print(p, n);
	if (brackets)
		text_add_char(p->out, ')');
}

/* A piece by itself, to see how it looks before it is put behind something. */
static struct text apart(const struct printer *p, const struct node *n)
{
	struct text piece;
	struct printer inner = *p;
	text_init(&piece);
	inner.out = &piece;
	print(&inner, n);
	return piece;
}

static void add_apart(const struct printer *p, struct text *piece, bool brackets)
{
	if (brackets)
		text_add_char(p->out, '(');
	text_add_bytes(p->out, piece->at, piece->len);
	if (brackets)
		text_add_char(p->out, ')');
	p->out->out |= piece->out;
	text_release(piece);
}

/* Behind a sign: never another minus without brackets. */
static void print_behind(const struct printer *p, const struct node *n, int rank)
{
	struct text piece = apart(p, n);
	add_apart(p, &piece, rank_of(p, n) < rank || piece.at[0] == '-');
}

/* In front of ^: a number with a unit, or a value shown with one, needs brackets. */
static void print_base(const struct printer *p, const struct node *n)
{
	struct text piece = apart(p, n);
	bool bare = strspn(piece.at, "0123456789.") == piece.len;
	enum node_kind kind = seen(p, n)->kind;
	bool leaf = kind == NODE_NUMBER || (kind == NODE_NAME && p->show);
	add_apart(p, &piece, rank_of(p, n) <= scan_op_rank(OP_POWER) || (leaf && !bare));
}

static void print_bytes(const struct printer *p, uint32_t start, uint32_t len)
{
	text_add_bytes(p->out, p->f->text.text + start, len);
}

static void print_number(const struct printer *p, const struct node *n)
{
	text_add(p->out, n->minus ? "-" : "");
	print_bytes(p, n->number->start, n->number->digits);
	struct text unit;
	text_init(&unit);
	unit_add_printed(p->f->text.text + n->number->unit_start, n->number->unit_len, &unit);
	if (unit.len && !unit_is_close(unit.at))
		text_add_char(p->out, ' ');
	text_add_bytes(p->out, unit.at, unit.len);
	p->out->out |= unit.out;
	text_release(&unit);
}

static void print_name(const struct printer *p, const struct node *n)
{
	if (!p->show) {
		print_bytes(p, n->name_start, n->name_len);
		return;
	}
	struct formula_type type = {n->sort.kind, n->sort.dim};
	p->show(p->context, n->slot, &type, &p->values[n->slot], p->out);
}

static void print_binary(const struct printer *p, const struct node *n)
{
	int rank = scan_op_rank(n->op);
	if (n->op == OP_POWER) {
		print_base(p, n->first);
		text_add_char(p->out, '^');
	} else {
		bool chain = n->op < OP_EQUAL || n->op > OP_MORE_EQUAL;
		print_bracketed(p, n->first, rank_of(p, n->first) < rank + !chain);
		text_addf(p->out, " %s ", scan_op_word(n->op));
	}
	print_behind(p, n->last, rank + 1);
}

static void print_operands(const struct printer *p, const struct node *n, const char *close)
{
	for (const struct node *o = n->first; o; o = o->next) {
		print(p, o);
		text_add(p->out, o->next ? ", " : "");
	}
	text_add(p->out, close);
}

static void print_if(const struct printer *p, const struct node *n)
{
	text_add(p->out, "if ");
	print(p, n->first);
	text_add(p->out, " then ");
	print(p, n->first->next);
	text_add(p->out, " else ");
	print(p, n->last);
}

static void print_let(const struct printer *p, const struct node *n)
{
	text_add(p->out, "let ");
	print_bytes(p, n->name_start, n->name_len);
	text_add(p->out, " = ");
	print(p, n->first);
	text_add(p->out, " then ");
	print(p, n->last);
}

static void print(const struct printer *p, const struct node *n)
{
	n = seen(p, n);
	switch (n->kind) {
	case NODE_LOCAL:
		print_bytes(p, n->name_start, n->name_len);
		break;
	case NODE_LET:
		print_let(p, n);
		break;
	case NODE_NUMBER:
		print_number(p, n);
		break;
	case NODE_WORD:
		text_add(p->out, scan_rules[n->word].shown);
		break;
	case NODE_NAME:
		print_name(p, n);
		break;
	case NODE_PREFIX:
		text_add(p->out, n->op == OP_NOT ? "not " : "-");
		print_behind(p, n->first, n->op == OP_NOT ? RANK_WHOLE : scan_op_rank(n->op));
		break;
	case NODE_BINARY:
		print_binary(p, n);
		break;
	case NODE_IF:
		print_if(p, n);
		break;
	case NODE_LIST:
		text_add_char(p->out, '[');
		print_operands(p, n, "]");
		break;
	case NODE_CALL:
		print_bytes(p, n->name_start, n->name_len);
		text_add_char(p->out, '(');
		print_operands(p, n, ")");
		break;
	case NODE_WRONG:
		break;
	}
}

void formula_print(const struct formula *f, struct text *out)
{
	struct printer p = {f, NULL, NULL, NULL, out};
	print(&p, f->tree.top);
}

void formula_print_values(const struct formula *f, const struct formula_value *values,
	formula_show *show, void *context, struct text *out)
{
	struct printer p = {f, values, show, context, out};
	print(&p, f->tree.top);
}
