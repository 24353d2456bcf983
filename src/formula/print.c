/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/formula/formula.h>

#include <string.h>

#include <barwright/base/unit.h>

#include "formula/code.h"

/* Ranks are those of scan_rules; a piece that is never torn apart has RANK_WHOLE. */
enum { RANK_ANY = 0, RANK_IF = 5, RANK_WHOLE = 100 };
#define EVERY SIZE_MAX

struct printer {
	const struct formula *f;
	const struct formula_value *values;
	formula_show *show; /* null: names as they are */
	void *context;
	struct text *out;
	bool said;      /* as a person writes it, not as it is typed */
	size_t element; /* not EVERY: of each list only this one */
};

static void print(const struct printer *p, const struct node *n);

static const struct node *operand(const struct node *n, size_t k)
{
	const struct node *o = n->first;
	while (k--)
		o = o->next;
	return o;
}

/* With values there are no names: what a local one stands for is shown in its place. */
static const struct node *seen(const struct printer *p, const struct node *n)
{
	for (;;)
		if (p->show && n->kind == NODE_LOCAL)
			n = n->local;
		else if (p->show && n->kind == NODE_LET)
			n = n->last;
		else if (p->element != EVERY && n->kind == NODE_LIST)
			n = operand(n, p->element);
		else
			return n;
}

/* ---- functions that have a way of writing of their own ---------------------------------------- */

enum said {
	SAID_NOT,
	SAID_ROOT,
	SAID_SIZE,
	SAID_LEAST,
	SAID_MOST,
	SAID_NEAREST,
	SAID_DOWN,
	SAID_UP,
	SAID_SUM,
	SAID_UP_TO,
	SAID_FROM,
	SAID_AT_LEAST,
	SAID_AT_MOST,
};

static bool is_call_of(const struct printer *p, const struct node *n, const char *name)
{
	return p->said && n->kind == NODE_CALL && strlen(name) == n->name_len &&
	       memcmp(name, p->f->text.text + n->name_start, n->name_len) == 0;
}

static enum said said_of(const struct printer *p, const struct node *n)
{
	static const struct {
		const char *function;
		enum said said;
	} rows[] = {
		{"sqrt", SAID_ROOT},
		{"abs", SAID_SIZE},
		{"min", SAID_LEAST},
		{"max", SAID_MOST},
		{"round", SAID_NEAREST},
		{"floor", SAID_DOWN},
		{"round_down", SAID_DOWN},
		{"ceiling", SAID_UP},
		{"round_up", SAID_UP},
		{"sum", SAID_SUM},
		{"sum_of_products", SAID_SUM},
		{"largest_up_to", SAID_UP_TO},
		{"smallest_from", SAID_FROM},
	};
	if (is_call_of(p, n, "at") && is_call_of(p, n->last, "index_of_min"))
		return SAID_AT_LEAST;
	if (is_call_of(p, n, "at") && is_call_of(p, n->last, "index_of_max"))
		return SAID_AT_MOST;
	for (size_t k = 0; k < sizeof rows / sizeof *rows; k++)
		if (is_call_of(p, n, rows[k].function))
			return rows[k].said;
	return SAID_NOT;
}

/* How many values of a list can be written one by one; 0: it is not known, or there are too many to
 * follow. */
enum { TERMS_MOST = 12 };

static size_t terms_of(const struct printer *p, const struct node *n)
{
	size_t terms = 0;
	n = seen(p, n);
	if (n->kind == NODE_LIST)
		terms = n->n;
	else if (n->kind == NODE_NAME && p->show)
		terms = p->values[n->slot].n;
	for (const struct node *o = n->first;
		o && (n->kind == NODE_BINARY || n->kind == NODE_PREFIX); o = o->next) {
		size_t these = o->sort.kind == FORMULA_LIST ? terms_of(p, o) : 0;
		if (o->sort.kind == FORMULA_LIST && (!these || (terms && these != terms)))
			return 0;
		terms = these ? these : terms;
	}
	return terms <= TERMS_MOST ? terms : 0;
}

/* Of a sum or a sum of products: its terms, 0 when it is told in words. */
static size_t sum_terms(const struct printer *p, const struct node *n)
{
	size_t terms = terms_of(p, n->first);
	return n->n == 1 || (n->n == 2 && terms_of(p, n->last) == terms) ? terms : 0;
}

static int rank_said(const struct printer *p, const struct node *n)
{
	switch (said_of(p, n)) {
	case SAID_NOT:
	case SAID_ROOT:
	case SAID_SIZE:
		return RANK_WHOLE;
	case SAID_SUM:
		return sum_terms(p, n) ? scan_op_rank(OP_ADD) : RANK_IF;
	default:
		return RANK_IF;
	}
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
	case NODE_CALL:
		return rank_said(p, n);
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

/* Said, a name of several words has blanks between them. */
static void print_own_name(const struct printer *p, const struct node *n)
{
	const char *name = p->f->text.text + n->name_start;
	for (size_t k = 0; k < n->name_len; k++)
		text_add_char(p->out, p->said && name[k] == '_' ? ' ' : name[k]);
}

static void print_name(const struct printer *p, const struct node *n)
{
	if (!p->show) {
		print_own_name(p, n);
		return;
	}
	const struct formula_value *value = &p->values[n->slot];
	struct formula_type type = {n->sort.kind, n->sort.dim};
	struct formula_value one;
	if (value->list && p->element != EVERY) {
		type.kind = FORMULA_NUMBER;
		one = (struct formula_value){.number = value->list[p->element]};
		value = &one;
	}
	p->show(p->context, n->slot, &type, value, p->out);
}

/* The raised sign of a power that has one; null: it has none. */
static const char *raised(const struct printer *p, const struct node *n)
{
	n = seen(p, n);
	if (!p->said || n->kind != NODE_NUMBER || n->minus || n->number->unit_len ||
		n->number->digits != 1)
		return NULL;
	char digit = p->f->text.text[n->number->start];
	return digit == '2' ? "²" : digit == '3' ? "³" : digit == '4' ? "⁴" : NULL;
}

static void print_binary(const struct printer *p, const struct node *n)
{
	int rank = scan_op_rank(n->op);
	if (n->op == OP_POWER && raised(p, n->last)) {
		print_base(p, n->first);
		text_add(p->out, raised(p, n->last));
		return;
	}
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
		print_bracketed(p, o, p->said && n->n > 1 && rank_of(p, o) <= RANK_IF);
		text_add(p->out, o->next ? ", " : "");
	}
	text_add(p->out, close);
}

/* A list as it stands in a sentence, "3.50, 4.00 mm", without its brackets. */
static void print_unbracketed(const struct printer *p, const struct node *n)
{
	struct text piece = apart(p, n);
	char *close = strchr(piece.at, ']');
	if (rank_of(p, n) > RANK_IF && piece.at[0] == '[' && close &&
		piece.at + strcspn(piece.at + 1, "[") + 1 > close && !strchr(close + 1, ']')) {
		text_add_bytes(p->out, piece.at + 1, (size_t)(close - piece.at - 1));
		text_add(p->out, close + 1);
		p->out->out |= piece.out;
		text_release(&piece);
		return;
	}
	add_apart(p, &piece, rank_of(p, n) <= RANK_IF);
}

/* "the larger of a and b", "the largest of a, b and c", "the largest of 3.50, 4.00 mm" */
static void say_choice(
	const struct printer *p, const struct node *n, const char *two, const char *many)
{
	text_addf(p->out, "the %s of ", n->n == 2 ? two : many);
	for (const struct node *o = n->first; o; o = o->next) {
		if (n->n == 1)
			print_unbracketed(p, o);
		else
			print_bracketed(p, o, rank_of(p, o) <= RANK_IF);
		text_add(p->out, !o->next ? "" : o->next->next ? ", " : " and ");
	}
}

static void say_rounded(const struct printer *p, const struct node *n, const char *where)
{
	print_bracketed(p, n->first, rank_of(p, n->first) < RANK_WHOLE);
	text_addf(p->out, " rounded%s", where);
	if (n->n < 2)
		return;
	text_add(p->out, " to a multiple of ");
	print_bracketed(p, n->last, rank_of(p, n->last) < RANK_WHOLE);
}

/* "6 * 75 + 10 * 40", or in words where there are too many or only the names are at hand. */
static void say_sum(const struct printer *p, const struct node *n)
{
	size_t terms = sum_terms(p, n);
	int rank = scan_op_rank(n->n > 1 ? OP_MULTIPLY : OP_ADD) + 1;
	for (size_t k = 0; k < terms; k++) {
		struct printer one = *p;
		one.element = k;
		text_add(p->out, k ? " + " : "");
		print_behind(&one, n->first, rank);
		text_add(p->out, n->n > 1 ? " * " : "");
		if (n->n > 1)
			print_behind(&one, n->last, rank);
	}
	if (terms)
		return;
	text_add(p->out, n->n > 1 ? "the sum of all products of " : "the sum of ");
	print_unbracketed(p, n->first);
	text_add(p->out, n->n > 1 ? " and " : "");
	if (n->n > 1)
		print_unbracketed(p, n->last);
}

/* "√5", "√(a + b)" */
static void say_root(const struct printer *p, const struct node *n)
{
	struct text piece = apart(p, n->first);
	text_add(p->out, "√");
	add_apart(p, &piece, strspn(piece.at, "0123456789.") != piece.len);
}

/* "|a - b|"; not one in another, where nobody sees which bars belong together. */
static void say_size(const struct printer *p, const struct node *n)
{
	struct text piece = apart(p, n->first);
	bool bars = !strchr(piece.at, '|');
	text_add(p->out, bars ? "|" : "abs(");
	add_apart(p, &piece, false);
	text_add_char(p->out, bars ? '|' : ')');
}

/* "the largest of 3.5, 4.0 mm up to 3.7 mm" */
static void say_stock(
	const struct printer *p, const struct node *n, const char *which, const char *limit)
{
	text_addf(p->out, "the %s of ", which);
	print_unbracketed(p, n->first);
	text_addf(p->out, " %s ", limit);
	print_bracketed(p, n->last, rank_of(p, n->last) <= RANK_IF);
}

/* "the one of teeth where space is least": the place in the one list is that in the other. */
static void say_where(const struct printer *p, const struct node *n, const char *which)
{
	text_add(p->out, "the one of ");
	print_unbracketed(p, n->first);
	text_add(p->out, " where ");
	print_unbracketed(p, n->last->first);
	text_addf(p->out, " is %s", which);
}

static void print_call(const struct printer *p, const struct node *n)
{
	switch (said_of(p, n)) {
	case SAID_ROOT:
		say_root(p, n);
		break;
	case SAID_SIZE:
		say_size(p, n);
		break;
	case SAID_LEAST:
		say_choice(p, n, "smaller", "least");
		break;
	case SAID_MOST:
		say_choice(p, n, "larger", "largest");
		break;
	case SAID_NEAREST:
		say_rounded(p, n, n->n > 1 ? "" : " to a whole number");
		break;
	case SAID_DOWN:
		say_rounded(p, n, " down");
		break;
	case SAID_UP:
		say_rounded(p, n, " up");
		break;
	case SAID_SUM:
		say_sum(p, n);
		break;
	case SAID_UP_TO:
		say_stock(p, n, "largest", "up to");
		break;
	case SAID_FROM:
		say_stock(p, n, "smallest", "not below");
		break;
	case SAID_AT_LEAST:
		say_where(p, n, "least");
		break;
	case SAID_AT_MOST:
		say_where(p, n, "largest");
		break;
	case SAID_NOT:
		print_bytes(p, n->name_start, n->name_len);
		text_add_char(p->out, '(');
		print_operands(p, n, ")");
		break;
	}
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
	print_own_name(p, n);
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
		print_own_name(p, n);
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
		print_call(p, n);
		break;
	case NODE_WRONG:
		break;
	}
}

void formula_print(const struct formula *f, struct text *out)
{
	struct printer p = {f, NULL, NULL, NULL, out, false, EVERY};
	print(&p, f->tree.top);
}

void formula_print_values(const struct formula *f, const struct formula_value *values,
	formula_show *show, void *context, struct text *out)
{
	struct printer p = {f, values, show, context, out, false, EVERY};
	print(&p, f->tree.top);
}

void formula_say(const struct formula *f, const struct formula_value *values, formula_show *show,
	void *context, struct text *out)
{
	struct printer p = {f, values, show, context, out, true, EVERY};
	print(&p, f->tree.top);
}
