/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Text of a formula to tokens, and the place of every byte for messages. */
#ifndef BARWRIGHT_FORMULA_SCAN_H
#define BARWRIGHT_FORMULA_SCAN_H

#include <barwright/formula/formula.h>

/* What an operator does. ADD to MORE_EQUAL have machine codes for every kind of operand (code.h),
 * which keep this order; OP_LEAST and OP_MOST are min and max of two numbers. */
enum op {
	OP_NONE,
	OP_ADD,
	OP_SUBTRACT,
	OP_MULTIPLY,
	OP_DIVIDE,
	OP_LEAST,
	OP_MOST,
	OP_EQUAL,
	OP_UNEQUAL,
	OP_LESS,
	OP_LESS_EQUAL,
	OP_MORE,
	OP_MORE_EQUAL,
	OP_POWER,
	OP_AND,
	OP_OR,
	OP_NOT,
	OP_NEGATE
};

/* Does a second operator of the same rank follow? "a - b - c" reads from the left, "a < b < c" and
 * "a ^ b ^ c" are refused, since people read them in more than one way. */
enum chain { CHAIN_LEFT, CHAIN_NEVER };

/* Every token with its row in the table of precedence (Pratt 1973, "Top down operator precedence"):
 * how strongly it binds what follows it at the start of an operand, how strongly it binds
 * between two operands (0: it does not stand there), and what chains of it do. */
#define TOKENS(X) \
	X(END, "the end", 0, 0, LEFT, NONE) \
	X(WRONG, "something unreadable", 0, 0, LEFT, NONE) \
	X(NUMBER, "a number", 0, 0, LEFT, NONE) \
	X(NAME, "a name", 0, 0, LEFT, NONE) \
	X(TRUE, "true", 0, 0, LEFT, NONE) \
	X(FALSE, "false", 0, 0, LEFT, NONE) \
	X(NOTHING, "nothing", 0, 0, LEFT, NONE) \
	X(PI, "pi", 0, 0, LEFT, NONE) \
	X(LET, "let", 5, 0, LEFT, NONE) \
	X(IF, "if", 5, 0, LEFT, NONE) \
	X(THEN, "then", 0, 0, LEFT, NONE) \
	X(ELSE, "else", 0, 0, LEFT, NONE) \
	X(OPEN, "(", 0, 0, LEFT, NONE) \
	X(CLOSE, ")", 0, 0, LEFT, NONE) \
	X(LIST, "[", 0, 0, LEFT, NONE) \
	X(LIST_END, "]", 0, 0, LEFT, NONE) \
	X(COMMA, ",", 0, 0, LEFT, NONE) \
	X(OR, "or", 0, 10, LEFT, OR) \
	X(AND, "and", 0, 20, LEFT, AND) \
	X(NOT, "not", 30, 0, LEFT, NOT) \
	X(EQUAL, "=", 0, 40, NEVER, EQUAL) \
	X(UNEQUAL, "<>", 0, 40, NEVER, UNEQUAL) \
	X(LESS, "<", 0, 40, NEVER, LESS) \
	X(LESS_EQUAL, "<=", 0, 40, NEVER, LESS_EQUAL) \
	X(MORE, ">", 0, 40, NEVER, MORE) \
	X(MORE_EQUAL, ">=", 0, 40, NEVER, MORE_EQUAL) \
	X(PLUS, "+", 0, 50, LEFT, ADD) \
	X(MINUS, "-", 70, 50, LEFT, SUBTRACT) \
	X(TIMES, "*", 0, 60, LEFT, MULTIPLY) \
	X(OVER, "/", 0, 60, LEFT, DIVIDE) \
	X(RAISED, "^", 0, 80, NEVER, POWER)

enum token_kind {
#define X(name, shown, prefix, infix, chain, op) TOKEN_##name,
	TOKENS(X)
#undef X
};

struct rule {
	const char *shown;
	int prefix, infix;
	enum chain chain;
	enum op op;
};
extern const struct rule scan_rules[];
/* The sign or word of an operator: "+", "and". */
const char *scan_op_word(enum op op);
/* Its rank between two operands (or before one: OP_NOT, OP_NEGATE). */
int scan_op_rank(enum op op);
/* Is this a word of the language ("if", "pi", ...)? */
bool scan_is_word(const char *s, size_t len);

struct token {
	enum token_kind kind;
	uint32_t start, len; /* bytes of the text */
	/* of a number: how many bytes are digits, where its unit stands, and the value without
	 * and with unit */
	uint32_t digits, unit_start, unit_len;
	double bare, value;
	struct unit unit;
};

struct node;

/* A name given by "let", as long as it holds. */
struct local {
	const char *name;
	size_t len;
	const struct node *meaning;
	bool used;
	struct local *outer;
};

/* One formula being read: its text, where that stands, where faults go. `code` is the first
 * fault's. */
struct reader {
	struct arena *arena;
	const char *text;
	size_t len, i;
	struct place at;
	bool straight;
	struct formula_scope *scope;
	struct local *local; /* the innermost; null: none */
	struct diags *d;
	enum bad code;
};
/* The local name that holds here; null: there is none. */
struct local *reader_local(const struct reader *r, const char *name, size_t len);

/* The next token; faults in it are reported, and then it is what was most likely meant, or
 * WRONG. */
struct token scan_next(struct reader *r);

struct place reader_place(const struct reader *r, uint32_t start);
uint32_t reader_span(const struct reader *r, uint32_t start, uint32_t len);
void reader_fault(struct reader *r, enum bad code, uint32_t start, uint32_t len, const char *format,
	...) __attribute__((format(printf, 5, 6)));
/* Memory ran out: nothing is reported, the code is set. */
void reader_out(struct reader *r);

/* A piece of the text for a message: one line, cut when long. */
enum { QUOTE_BYTES = 40 };
struct quote {
	char text[QUOTE_BYTES + 4];
};
struct quote reader_quote(const struct reader *r, uint32_t start, uint32_t len);

#endif
