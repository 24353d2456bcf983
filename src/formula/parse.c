/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/tree.h"

#include <string.h>

/* `now` is the token looked at, `before` where the last one taken ended. */
struct parser {
	struct reader *r;
	struct tree *tree;
	struct token now;
	uint32_t before;
	int depth;
	uint32_t missing_at; /* where a missing value was reported last */
	bool stopped;        /* too deep or out of memory: nothing more is read or said */
	struct node none;    /* stands in for a piece there was no memory for, ... */
	struct token lost;   /* ... and this for a number */
};

static struct node *parse_until(struct parser *p, int rank);

static void advance(struct parser *p)
{
	p->before = p->now.start + p->now.len;
	p->now = scan_next(p->r);
}

static bool take(struct parser *p, enum token_kind kind)
{
	if (p->now.kind != kind)
		return false;
	advance(p);
	return true;
}

static struct node *node_new(struct parser *p, enum node_kind kind, uint32_t start, uint32_t end)
{
	struct node *n = arena_new(p->r->arena, struct node);
	if (!n) {
		reader_out(p->r);
		p->stopped = true;
		return &p->none;
	}
	n->kind = kind;
	n->start = start;
	n->len = end - start;
	if (p->tree->last)
		p->tree->last->later = n;
	else
		p->tree->first = n;
	p->tree->last = n;
	return n;
}

static void adopt(struct node *owner, struct node *operand)
{
	if (owner->last)
		owner->last->next = operand;
	else
		owner->first = operand;
	owner->last = operand;
	owner->n++;
}

static uint32_t end_of(const struct node *n)
{
	return n->start + n->len;
}

static struct node *wrong(struct parser *p)
{
	return node_new(p, NODE_WRONG, p->now.start, p->now.start + p->now.len);
}

static struct quote quote_token(const struct parser *p)
{
	if (p->now.kind == TOKEN_END) {
		struct quote q = {"the end"};
		return q;
	}
	return reader_quote(p->r, p->now.start, p->now.len);
}

/* After a fault: to the next token at which reading can go on, over brackets that open and close
 * on the way. */
static void skip_wreck(struct parser *p)
{
	int open = 0;
	for (; p->now.kind != TOKEN_END; advance(p)) {
		enum token_kind kind = p->now.kind;
		bool closes = kind == TOKEN_CLOSE || kind == TOKEN_LIST_END;
		if (!open &&
			(closes || kind == TOKEN_COMMA || kind == TOKEN_THEN || kind == TOKEN_ELSE))
			return;
		open += (kind == TOKEN_OPEN || kind == TOKEN_LIST) - closes;
	}
}

static bool starts_operand(enum token_kind kind)
{
	return kind == TOKEN_NUMBER || kind == TOKEN_NAME || kind == TOKEN_OPEN ||
	       kind == TOKEN_LIST || kind == TOKEN_LET || kind == TOKEN_IF || kind == TOKEN_NOT ||
	       kind == TOKEN_PI || kind == TOKEN_TRUE || kind == TOKEN_FALSE ||
	       kind == TOKEN_NOTHING;
}

/* ---- operands ------------------------------------------------------------------------------- */

/* The bracket opened at `open` must close here. */
static void expect_close(struct parser *p, enum token_kind kind, uint32_t open)
{
	if (take(p, kind) || p->stopped)
		return;
	if (p->now.kind == TOKEN_END) {
		reader_fault(
			p->r, BAD_SYNTAX, open, 1, "this %.1s is never closed", p->r->text + open);
		return;
	}
	if (p->now.kind != TOKEN_WRONG) {
		const char *shown = scan_rules[kind].shown;
		struct quote found = quote_token(p);
		reader_fault(p->r, BAD_SYNTAX, p->now.start, p->now.len ? p->now.len : 1,
			"%s stands where %s is needed", found.text, shown);
		diag_note(
			p->r->d, reader_place(p->r, open), "to close this %.1s", p->r->text + open);
	}
	skip_wreck(p);
	if (!take(p, TOKEN_CLOSE))
		take(p, TOKEN_LIST_END); /* the wrong kind of bracket closes it too */
}

/* "(a, b)" or "[a, b]", then the piece made of it, which begins at `start`. */
static struct node *parse_operands(
	struct parser *p, enum node_kind kind, enum token_kind close, uint32_t start)
{
	struct node held = {0};
	uint32_t open = p->now.start;
	advance(p);
	if (!take(p, close)) {
		do
			adopt(&held, parse_until(p, 1));
		while (take(p, TOKEN_COMMA) && !p->stopped);
		expect_close(p, close, open);
	}
	struct node *n = node_new(p, kind, start, p->before);
	n->first = held.first;
	n->last = held.last;
	n->n = held.n;
	return n;
}

static struct node *parse_group(struct parser *p)
{
	uint32_t open = p->now.start;
	advance(p);
	struct node *n = parse_until(p, 1);
	if (p->now.kind == TOKEN_COMMA && !p->stopped) {
		reader_fault(p->r, BAD_SYNTAX, p->now.start, 1,
			"a comma stands in brackets that belong to no function");
		diag_hint(p->r->d, "a list is written in [ ], and decimals with a point");
		while (take(p, TOKEN_COMMA) && !p->stopped)
			parse_until(p, 1);
		n = wrong(p);
	}
	expect_close(p, TOKEN_CLOSE, open);
	n->start = open;
	n->len = p->before - open;
	return n;
}

static void name_node(struct node *n, const struct token *name)
{
	n->name_start = name->start;
	n->name_len = name->len;
}

static struct node *parse_name(struct parser *p)
{
	struct token name = p->now;
	struct node *n;
	advance(p);
	struct local *local = reader_local(p->r, p->r->text + name.start, name.len);
	if (p->now.kind == TOKEN_OPEN) {
		n = parse_operands(p, NODE_CALL, TOKEN_CLOSE, name.start);
	} else if (local) {
		n = node_new(p, NODE_LOCAL, name.start, name.start + name.len);
		n->local = local->meaning;
		local->used = true;
	} else {
		n = node_new(p, NODE_NAME, name.start, name.start + name.len);
	}
	name_node(n, &name);
	return n;
}

static const struct token *number_keep(struct parser *p)
{
	struct token *kept = arena_new(p->r->arena, struct token);
	if (!kept) {
		reader_out(p->r);
		p->stopped = true;
		kept = &p->lost;
	}
	*kept = p->now;
	return kept;
}

static struct node *parse_number(struct parser *p)
{
	struct node *n = node_new(p, NODE_NUMBER, p->now.start, p->now.start + p->now.len);
	n->number = number_keep(p);
	advance(p);
	if (n->number->unit_len && p->now.kind == TOKEN_RAISED) {
		struct quote q = reader_quote(p->r, n->start, n->len);
		reader_fault(p->r, BAD_SYNTAX, n->start, p->now.start + p->now.len - n->start,
			"does ^ belong to the unit or to the whole number here?");
		diag_hint(p->r->d, "write (%s)^2, or the power at the unit as in 3 mm2", q.text);
	}
	return n;
}

static struct node *parse_word(struct parser *p)
{
	struct node *n = node_new(p, NODE_WORD, p->now.start, p->now.start + p->now.len);
	n->word = p->now.kind;
	advance(p);
	return n;
}

/* One of the words of an "if" or "let". When it is missing the whole is given up, and that is said
 * only if nothing else was (`faults` were counted where it began). */
static bool expect_word(struct parser *p, enum token_kind kind, uint32_t start, size_t faults)
{
	if (take(p, kind))
		return true;
	if (p->stopped)
		return false;
	if (p->now.kind != TOKEN_WRONG && faults == p->r->d->nerror) {
		struct quote found = quote_token(p);
		reader_fault(p->r, BAD_SYNTAX, p->now.start, p->now.len ? p->now.len : 1,
			"%s stands where \"%s\" is needed", found.text, scan_rules[kind].shown);
		bool is_let = p->r->text[start] == 'l'; /* else "if" */
		diag_note(p->r->d, reader_place(p->r, start), "to go with this %s",
			is_let ? "let" : "if");
		diag_hint(p->r->d, "write %s%s",
			is_let ? "let name = value then ..." : "if ... then ... else ...",
			kind == TOKEN_ELSE ? "; else is always needed, it may be \"nothing\"" : "");
	}
	skip_wreck(p);
	return take(p, kind);
}

static struct node *parse_if(struct parser *p)
{
	uint32_t start = p->now.start;
	size_t faults = p->r->d->nerror;
	struct node *part[3];
	advance(p);
	part[0] = parse_until(p, 1);
	bool then = expect_word(p, TOKEN_THEN, start, faults);
	part[1] = then ? parse_until(p, 1) : wrong(p);
	bool otherwise = then ? expect_word(p, TOKEN_ELSE, start, faults) : take(p, TOKEN_ELSE);
	part[2] = otherwise ? parse_until(p, 1) : wrong(p);
	if (!then || !otherwise)
		return wrong(p);
	struct node *n = node_new(p, NODE_IF, start, p->before);
	for (int i = 0; i < 3; i++)
		adopt(n, part[i]);
	return n;
}

/* May a "let" give this name? */
static bool is_new_name(struct parser *p, const struct token *name)
{
	const char *word = p->r->text + name->start, *why;
	size_t slot;
	if (name->kind != TOKEN_NAME) {
		struct quote found = quote_token(p);
		reader_fault(p->r, BAD_SYNTAX, name->start, name->len ? name->len : 1,
			"%s stands where let gives a name", found.text);
		diag_hint(p->r->d, "write let name = value then ...");
		return false;
	}
	if (formula_scope_find(p->r->scope, word, name->len, &slot) ||
		reader_local(p->r, word, name->len))
		why = "has a meaning already";
	else if (formula_name_is_free(word, name->len, &why))
		return true;
	reader_fault(
		p->r, BAD_REPEATED, name->start, name->len, "%.*s %s", (int)name->len, word, why);
	diag_hint(p->r->d, "let needs a name of its own");
	return false;
}

/* What follows "then", in which the name holds. */
static struct node *parse_let_body(struct parser *p, const struct token *name,
	const struct node *meaning, size_t faults, uint32_t start)
{
	struct local local = {p->r->text + name->start, name->len, meaning, false, p->r->local};
	p->r->local = &local; /* before the next token is read: "2 h" may mean two things then */
	bool then = expect_word(p, TOKEN_THEN, start, faults);
	struct node *body = then ? parse_until(p, 1) : wrong(p);
	p->r->local = local.outer;
	if (then && !local.used && faults == p->r->d->nerror && !p->stopped) {
		reader_fault(p->r, BAD_UNUSED, name->start, name->len, "%.*s is never used",
			(int)name->len, local.name);
		return wrong(p);
	}
	return body;
}

static struct node *parse_let(struct parser *p)
{
	uint32_t start = p->now.start;
	size_t faults = p->r->d->nerror;
	advance(p);
	struct token name = p->now;
	if (!is_new_name(p, &name)) {
		skip_wreck(p);
		if (take(p, TOKEN_THEN))
			parse_until(p, 1);
		return wrong(p);
	}
	advance(p);
	bool equal = expect_word(p, TOKEN_EQUAL, start, faults);
	struct node *meaning = equal ? parse_until(p, 1) : wrong(p);
	struct node *body = parse_let_body(p, &name, meaning, faults, start);
	struct node *n = node_new(p, NODE_LET, start, p->before);
	name_node(n, &name);
	adopt(n, meaning);
	adopt(n, body);
	return n;
}

/* -5 degC is one point on a scale, not the opposite of 5 degC. */
static bool is_scale_point(const struct node *n)
{
	return n->kind == NODE_NUMBER && n->number->unit.offset != 0 && !n->minus &&
	       n->start == n->number->start;
}

static struct node *parse_prefix(struct parser *p, int rank)
{
	const struct rule *rule = &scan_rules[p->now.kind];
	uint32_t start = p->now.start;
	bool is_not = p->now.kind == TOKEN_NOT;
	if (rule->prefix < rank && is_not) {
		reader_fault(p->r, BAD_SYNTAX, start, p->now.len,
			"not stands behind an operator that binds more strongly");
		diag_hint(p->r->d, "put brackets round it: (not ...)");
	}
	advance(p);
	struct node *operand = parse_until(p, rule->prefix);
	if (!is_not && is_scale_point(operand)) {
		operand->minus = true;
		operand->len += operand->start - start;
		operand->start = start;
		return operand;
	}
	struct node *n = node_new(p, NODE_PREFIX, start, p->before);
	n->op = is_not ? OP_NOT : OP_NEGATE;
	adopt(n, operand);
	return n;
}

static struct node *parse_missing(struct parser *p)
{
	if (p->now.kind == TOKEN_WRONG) { /* said already */
		advance(p);
		skip_wreck(p);
		return wrong(p);
	}
	struct quote found = quote_token(p);
	uint32_t len = p->now.len ? p->now.len : 1;
	p->missing_at = p->now.start;
	if (p->now.kind == TOKEN_END && p->before == 0)
		reader_fault(p->r, BAD_MISSING, 0, 1, "there is no formula here");
	else if (p->now.kind == TOKEN_END)
		reader_fault(p->r, BAD_SYNTAX, p->now.start, 1, "a value is missing at the end");
	else
		reader_fault(p->r, BAD_SYNTAX, p->now.start, len, "a value is missing before %s",
			found.text);
	if (p->now.kind == TOKEN_PLUS)
		diag_hint(p->r->d, "a number needs no + sign");
	return wrong(p);
}

static void refuse_behind(struct parser *p, int rank, const char *word, const char *form)
{
	if (rank <= 1)
		return;
	reader_fault(
		p->r, BAD_SYNTAX, p->now.start, p->now.len, "%s stands behind an operator", word);
	diag_hint(p->r->d, "put brackets round it: %s", form);
}

static struct node *parse_operand(struct parser *p, int rank)
{
	switch ((int)p->now.kind) {
	case TOKEN_NUMBER:
		return parse_number(p);
	case TOKEN_NAME:
		return parse_name(p);
	case TOKEN_TRUE:
	case TOKEN_FALSE:
	case TOKEN_NOTHING:
	case TOKEN_PI:
		return parse_word(p);
	case TOKEN_OPEN:
		return parse_group(p);
	case TOKEN_LIST:
		return parse_operands(p, NODE_LIST, TOKEN_LIST_END, p->now.start);
	case TOKEN_MINUS:
	case TOKEN_NOT:
		return parse_prefix(p, rank);
	case TOKEN_IF:
		refuse_behind(p, rank, "if", "(if ... then ... else ...)");
		return parse_if(p);
	case TOKEN_LET:
		refuse_behind(p, rank, "let", "(let name = value then ...)");
		return parse_let(p);
	default:
		return parse_missing(p);
	}
}

static struct node *parse_start(struct parser *p, int rank)
{
	if (p->stopped)
		return wrong(p);
	if (++p->depth > FORMULA_DEPTH) {
		reader_fault(p->r, BAD_SIZE, p->now.start, p->now.len,
			"brackets and operators are nested more than %d deep", FORMULA_DEPTH);
		diag_hint(p->r->d, "give parts of the formula names of their own");
		p->stopped = true;
		return wrong(p);
	}
	struct node *n = parse_operand(p, rank);
	p->depth--;
	return n;
}

/* ---- operators ------------------------------------------------------------------------------ */

static struct node *binary(struct parser *p, enum op op, struct node *left, struct node *right)
{
	struct node *n = node_new(p, NODE_BINARY, left->start, end_of(right));
	n->op = op;
	adopt(n, left);
	adopt(n, right);
	return n;
}

/* a < b < c, a ^ b ^ c */
static bool refuse_chain(struct parser *p, const struct node *left, const struct rule *rule)
{
	if (rule->chain != CHAIN_NEVER || scan_rules[p->now.kind].infix != rule->infix ||
		p->stopped)
		return false;
	bool power = rule->op == OP_POWER;
	reader_fault(p->r, BAD_SYNTAX, left->start, p->now.start + p->now.len - left->start,
		power ? "one power stands on another" : "comparisons cannot be chained");
	diag_hint(p->r->d, power ? "put brackets round what is raised first, as in (a^b)^c"
				 : "compare twice, as in a < b and b < c");
	return true;
}

/* Two operands with nothing between them. */
static struct node *parse_no_operator(struct parser *p, struct node *left)
{
	struct quote a = reader_quote(p->r, left->start, left->len), b = quote_token(p);
	reader_fault(p->r, BAD_SYNTAX, p->now.start, p->now.len,
		"an operator is missing between %s and %s", a.text, b.text);
	if (p->now.kind == TOKEN_NAME || p->now.kind == TOKEN_OPEN || p->now.kind == TOKEN_NUMBER)
		diag_hint(p->r->d, "write * where two values are multiplied");
	parse_until(p, 1);
	return wrong(p);
}

static struct node *parse_until(struct parser *p, int rank)
{
	struct node *left = parse_start(p, rank);
	while (!p->stopped) {
		const struct rule *rule = &scan_rules[p->now.kind];
		if (p->now.kind == TOKEN_WRONG) {
			advance(p);
			skip_wreck(p);
			left = wrong(p);
		} else if (starts_operand(p->now.kind) && left->kind != NODE_WRONG) {
			left = parse_no_operator(p, left);
		} else if (starts_operand(p->now.kind)) {
			parse_until(p, 1);
		} else if (!rule->infix || rule->infix < rank) {
			break;
		} else {
			advance(p);
			left = binary(p, rule->op, left, parse_until(p, rule->infix + 1));
			if (refuse_chain(p, left, rule))
				left = wrong(p);
		}
	}
	return left;
}

static void refuse_rest(struct parser *p)
{
	enum token_kind kind = p->now.kind;
	const char *opener = kind == TOKEN_CLOSE      ? "("
			     : kind == TOKEN_LIST_END ? "["
			     : kind == TOKEN_COMMA    ? NULL
						      : "if";
	if (opener)
		reader_fault(p->r, BAD_SYNTAX, p->now.start, p->now.len,
			"there is no %s for this %s", opener, scan_rules[kind].shown);
	else
		reader_fault(p->r, BAD_SYNTAX, p->now.start, p->now.len,
			"a comma stands outside of brackets");
	if (kind == TOKEN_COMMA)
		diag_hint(p->r->d, "a list is written in [ ], and decimals with a point");
}

void tree_parse(struct reader *r, struct tree *out)
{
	struct parser p = {.r = r, .tree = out, .missing_at = UINT32_MAX};
	*out = (struct tree){0};
	p.now = scan_next(r);
	out->top = parse_until(&p, 1);
	while (p.now.kind != TOKEN_END && !p.stopped) {
		if (p.now.kind != TOKEN_WRONG && p.now.start != p.missing_at)
			refuse_rest(&p);
		advance(&p);
		if (scan_rules[p.now.kind].infix)
			advance(&p); /* its left side is lost */
		if (p.now.kind != TOKEN_END && !p.stopped)
			parse_until(&p, 1);
	}
}
