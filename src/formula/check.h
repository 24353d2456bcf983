/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the parts of checking share: check.c (operators and leaves), call.c (names and calls),
 * words.c (the words of messages). */
#ifndef BARWRIGHT_FORMULA_CHECK_H
#define BARWRIGHT_FORMULA_CHECK_H

#include "formula/tree.h"

/* A fault was reported here: nothing more is said about this piece or what is made of it. */
void node_spoil(struct node *n);
/* The value of this piece is known already. */
void node_know(struct node *n, double value);
bool node_operands_known(const struct node *n);
bool node_operand_wrong(const struct node *n);
/* Every power times the exponent; false when one would not be a whole number, or too large. */
bool dim_raise(struct dim base, double exponent, struct dim *out);

void check_name(struct reader *r, const struct tree *t, struct node *n);
void check_call(struct reader *r, const struct tree *t, struct node *n);

/* "a length", "a list, each value a length", "a truth (true or false)". */
struct described {
	char text[96];
};
struct described words_of(struct reader *r, const struct node *n);
struct described words_of_type(struct reader *r, enum formula_kind kind, struct dim dim);
/* The text of a piece. */
struct quote words_quote(const struct reader *r, const struct node *n);
/* Notes where the name that a piece consists of was declared. */
void words_note_name(struct reader *r, const struct node *n);
/* Hints at the unit that a bare number may be missing where this dimension is wanted. */
void words_hint_unit(struct reader *r, const struct node *bare, struct dim wanted);
/* Reports that a constant piece has no value, and spoils it. */
void words_cannot_compute(struct reader *r, struct node *n, enum bad code, const char *why);

#endif
