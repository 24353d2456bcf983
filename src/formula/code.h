/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The compiled form: codes for a small machine with two numbers at hand, X and Y, a stack of numbers
 * and a stack of lists. All kinds are known beforehand, so no code asks for one.
 *
 * A binary operator has a code for each place its operands come from, so that names and
 * constants are never moved first: X and Y are the numbers at hand, T the top of the stack, S a
 * slot, C a constant. The first letter is where the result goes. Y serves for a right operand
 * made of two names or constants: a * b + c * d is XSS, YSS, XXY. */
#ifndef BARWRIGHT_FORMULA_CODE_H
#define BARWRIGHT_FORMULA_CODE_H

#include "formula/function.h"
#include "formula/tree.h"

/* Binary operators with codes of their own, in the order of enum op. */
#define CODE_BINARIES(M) \
	M(ADD) \
	M(SUBTRACT) \
	M(MULTIPLY) \
	M(DIVIDE) \
	M(LEAST) \
	M(MOST) \
	M(EQUAL) \
	M(UNEQUAL) \
	M(LESS) \
	M(LESS_EQUAL) \
	M(MORE) \
	M(MORE_EQUAL)

/* Where results go and operands come from, in the order of enum places. */
#define CODE_PLACES(M, name) \
	M(name, X, T, X) \
	M(name, X, X, S) \
	M(name, X, X, C) \
	M(name, X, S, X) \
	M(name, X, C, X) \
	M(name, X, S, S) \
	M(name, X, S, C) \
	M(name, X, C, S) \
	M(name, Y, S, S) \
	M(name, Y, S, C) \
	M(name, Y, C, S) \
	M(name, X, X, Y)
enum places {
	PLACE_XTX,
	PLACE_XXS,
	PLACE_XXC,
	PLACE_XSX,
	PLACE_XCX,
	PLACE_XSS,
	PLACE_XSC,
	PLACE_XCS,
	PLACE_YSS,
	PLACE_YSC,
	PLACE_YCS,
	PLACE_XXY,
	PLACES
};

/* The others; a, b and c are fields of the code. */
#define CODE_OTHERS(M) \
	M(SLOT)          /* X = slot a */ \
	M(CONSTANT)      /* X = constant a */ \
	M(TRUTH)         /* as SLOT, refusing nothing */ \
	M(PUSH)          /* put X on the stack */ \
	M(KEEP_SLOT)     /* put slot a on the stack */ \
	M(KEEP_CONSTANT) /* put constant a on the stack */ \
	M(NEGATE)        /* X = -X */ \
	M(NOT)           /* X = not X */ \
	M(SQUARE)        /* X = X * X */ \
	M(POWER)         /* X = top ^ X */ \
	M(JUMP)          /* go to a */ \
	M(JUMP_FALSE)    /* go to a if X is false */ \
	M(JUMP_TRUE)     /* go to a if X is true */ \
	M(CALL)          /* function a, b numbers, c lists: X = result */ \
	M(CALL_LIST)     /* the same, result on the stack of lists */ \
	M(CALL_EACH)     /* function a for each element; bits of b: which are lists, c of them */ \
	M(LIST_SLOT)     /* put the list of slot a on the stack of lists */ \
	M(LIST_MAKE)     /* a list of the top b numbers */ \
	M(LIST_NEGATE)   /* each of the top list */ \
	M(LIST_LIST)     /* operator b on the two top lists */ \
	M(LIST_NUMBER)   /* top list, operator b, X */ \
	M(NUMBER_LIST)   /* X, operator b, top list */ \
	M(END)           /* the result is X */ \
	M(END_LIST)      /* the result is the top list */

enum code_kind {
#define PLACE(name, to, left, right) CODE_##name##_##to##left##right,
#define BINARY(name)                 CODE_PLACES(PLACE, name)
	CODE_BINARIES(BINARY)
#undef BINARY
#undef PLACE
#define OTHER(name) CODE_##name,
		CODE_OTHERS(OTHER)
#undef OTHER
};

struct code {
	uint16_t kind, a, b, c;
};

/* A formula lives in the arena of its compile. */
struct formula {
	const struct code *code;
	size_t ncode;
	const double *constant;
	const struct function *const *function;
	const struct node *const *from; /* the piece behind each code */
	struct tree tree;
	struct reader text; /* a copy of the text, and its place */
	struct formula_type result;
	bool any_dim;
};

/* Makes the codes of a checked tree without faults. BAD_SIZE when too many numbers or lists would
 * have to wait at once (reported), BAD_MEMORY. */
enum bad code_make(struct reader *r, struct formula *f);

#endif
