/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tree of a formula. Every piece stands on a chain in the order in which it was made,
 * operands before what is made of them, so that checking is a walk along the chain. */
#ifndef BARWRIGHT_FORMULA_TREE_H
#define BARWRIGHT_FORMULA_TREE_H

#include <barwright/formula/formula.h>

#include "formula/scan.h"

enum node_kind {
	NODE_WRONG,  /* a fault was reported here; nothing more is said about it */
	NODE_NUMBER, /* a number with its unit */
	NODE_WORD,   /* true, false, nothing, pi */
	NODE_NAME,
	NODE_LOCAL,  /* a name given by "let" */
	NODE_LET,    /* what the name stands for, and what it is named for */
	NODE_PREFIX, /* - or not before one operand */
	NODE_BINARY,
	NODE_IF, /* condition, then, else */
	NODE_LIST,
	NODE_CALL
};

/* What checking finds out about a piece. */
struct sort {
	enum formula_kind kind;
	struct dim dim;
	bool any_dim; /* plain 0 or nothing: goes with every dimension */
	bool point;   /* a temperature on a scale (20 degC), not a difference (20 K) */
	bool nothing; /* may be nothing */
	bool wrong;   /* a fault was reported in it */
};

struct function;

struct node {
	enum node_kind kind;
	enum op op;                       /* of PREFIX, BINARY */
	enum token_kind word;             /* of WORD */
	uint32_t start, len;              /* bytes of the text, brackets around it included */
	uint32_t n;                       /* operands */
	struct node *first, *last, *next; /* operands; the next operand of the same owner */
	struct node *later;               /* the one made next */
	union {
		const struct token *number;      /* of NUMBER */
		const struct function *function; /* of CALL, once found */
		size_t slot;                     /* of NAME */
		const struct node *local;        /* of LOCAL: what the name stands for */
	};
	uint32_t name_len;   /* of NAME, LOCAL, LET, CALL: bytes of the name, at `start` or ... */
	uint32_t name_start; /* ... where brackets begin */
	unsigned each;       /* of CALL: bit i set: parameter i is a number, given a list */
	bool minus;          /* of NUMBER: a point on a scale below its zero, -5 degC */
	bool constant;       /* a number or truth known already: */
	double value;
	uint32_t weight; /* pieces to be worked out, those that a name stands for each time */
	struct sort sort;
};

struct tree {
	struct node *top;
	struct node *first, *last; /* the chain */
};

/* Reads the whole text; faults go to the reader, and the tree then has WRONG pieces. Only memory
 * can stop it: then r->code is BAD_MEMORY. */
void tree_parse(struct reader *r, struct tree *out);
/* Finds names and functions, kinds, dimensions and constants. */
void tree_check(struct reader *r, struct tree *t);
/* Slack (value.h) of a comparison. */
double node_slack(const struct node *n);

#endif
