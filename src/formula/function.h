/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a formula can call: one table of rows for the compiler, the runs and the reference page. A
 * name may have several rows (min of a list, min of some numbers): the first that fits the number
 * and kinds of the arguments is taken.
 *
 * A function whose arguments and result are all numbers may be given lists too: it then works
 * for each element, and what is a number goes with every element. */
#ifndef BARWRIGHT_FORMULA_FUNCTION_H
#define BARWRIGHT_FORMULA_FUNCTION_H

#include <barwright/formula/formula.h>

#include "formula/scan.h"

enum { FUNCTION_PARAMETERS = 12 };

/* Dimension of a parameter: the one named, or a letter that stands for one dimension throughout
 * a row. */
enum like { LIKE_DIM, LIKE_A, LIKE_B };

struct parameter {
	const char *name;
	enum formula_kind kind;
	enum like like;
	struct dim dim;
};

/* Numbers and lists of the arguments, each in their order, and where the result goes: out[0], or
 * out[0..nout) with room for FORMULA_LENGTH. `why` may be set when a code is returned. */
struct call {
	const double *number;
	size_t n;
	const struct formula_span *list;
	double *out;
	size_t nout;
	const char *why;
};

enum refers { REFERS_WHEN_GIVEN, REFERS_WHEN_LAST, REFERS_NEVER, REFERS_AT_WILL };

struct function {
	const char *name;
	struct parameter parameter[FUNCTION_PARAMETERS];
	bool more; /* the last parameter may be repeated */
	/* Result: its own dimension times A^(a/2) times B^(b/2). */
	struct {
		enum formula_kind kind;
		struct dim dim;
		int a, b;
	} gives;
	/* Called only when no argument is or holds nothing, unless it looks itself; else the
	 * result is nothing. Codes: base/bad.h. */
	enum bad (*run)(struct call *c);
	bool looks;         /* is called with nothing too */
	enum refers refers; /* when it gives nothing */
	enum op op;         /* the machine has a code of its own for it; OP_NONE: it has not */
	const char *does;   /* one line, for the reference page */
	const char *source; /* of the formula; null: plain mathematics */
};

/* Row i of all rows; null past the last. */
const struct function *function_row(size_t i);
/* The first row of this name from row `from` on, its number in *at; null: none. */
const struct function *function_find(const char *name, size_t len, size_t from, size_t *at);
size_t function_parameters(const struct function *f);
/* "round(value, step)" */
void function_add_form(const struct function *f, struct text *out);

/* The tables behind function_row, in their order, with their headings on the reference page. */
extern const struct function function_plain[], function_arch[], function_space[], function_loads[],
	function_frame[], function_beam[], function_bench[], function_readings[],
	function_planning[];
extern const size_t function_plain_rows, function_arch_rows, function_space_rows,
	function_loads_rows, function_frame_rows, function_beam_rows, function_bench_rows,
	function_readings_rows, function_planning_rows;
struct function_table {
	const char *title;
	const struct function *row;
	size_t n;
};
/* Null title past the last. */
struct function_table function_table(size_t i);

/* One row; the second form for functions that may give nothing. */
#define ROW_(name_, gives_, run_, does_, source_, ...) \
	{ \
		.name = name_, .parameter = {__VA_ARGS__}, .gives = gives_, .run = run_, \
		.does = does_, .source = source_ \
	}
#define ROW_REFERS_(name_, gives_, run_, does_, source_, ...) \
	{ \
		.name = name_, .parameter = {__VA_ARGS__}, .gives = gives_, .run = run_, \
		.refers = REFERS_AT_WILL, .does = does_, .source = source_ \
	}

/* Dimensions in rows. */
#define NUMBER_ \
	{ \
		{ \
			0 \
		} \
	}
#define LENGTH_ \
	{ \
		{ \
			1 \
		} \
	}
#define AREA_ \
	{ \
		{ \
			2 \
		} \
	}
#define VOLUME_ \
	{ \
		{ \
			3 \
		} \
	}
#define INERTIA_ \
	{ \
		{ \
			4 \
		} \
	}
#define MASS_ \
	{ \
		{ \
			0, 1 \
		} \
	}
#define DENSITY_ \
	{ \
		{ \
			-3, 1 \
		} \
	}
#define TIME_ \
	{ \
		{ \
			0, 0, 1 \
		} \
	}
#define SPEED_ \
	{ \
		{ \
			1, 0, -1 \
		} \
	}
#define ANGLE_ \
	{ \
		{ \
			0, 0, 0, 1 \
		} \
	}
#define FORCE_ \
	{ \
		{ \
			1, 1, -2 \
		} \
	}
#define STRESS_ \
	{ \
		{ \
			-1, 1, -2 \
		} \
	}
#define SPRING_ \
	{ \
		{ \
			0, 1, -2 \
		} \
	}
#define MOMENT_ \
	{ \
		{ \
			2, 1, -2 \
		} \
	}
#define BENDING_ \
	{ \
		{ \
			3, 1, -2 \
		} \
	}

/* Results: a number or list of one dimension, or of A, or of a power of A (halves) and B. */
#define GIVES_(...) \
	{ \
		FORMULA_NUMBER, __VA_ARGS__, 0, 0 \
	}
#define GIVES_LIST_(...) \
	{ \
		FORMULA_LIST, __VA_ARGS__, 0, 0 \
	}
#define GIVES_TRUTH_ \
	{ \
		FORMULA_TRUTH, NUMBER_, 0, 0 \
	}
#define GIVES_A_ \
	{ \
		FORMULA_NUMBER, NUMBER_, 2, 0 \
	}
#define GIVES_LIST_A_ \
	{ \
		FORMULA_LIST, NUMBER_, 2, 0 \
	}
#define GIVES_AB_(a, b) \
	{ \
		FORMULA_NUMBER, NUMBER_, a, b \
	}

/* Parameters: a number or list of one dimension, or of the dimension A or B. */
#define N_(name, ...) \
	{ \
		name, FORMULA_NUMBER, LIKE_DIM, __VA_ARGS__ \
	}
#define L_(name, ...) \
	{ \
		name, FORMULA_LIST, LIKE_DIM, __VA_ARGS__ \
	}
#define NA_(name) \
	{ \
		name, FORMULA_NUMBER, LIKE_A, NUMBER_ \
	}
#define NB_(name) \
	{ \
		name, FORMULA_NUMBER, LIKE_B, NUMBER_ \
	}
#define LA_(name) \
	{ \
		name, FORMULA_LIST, LIKE_A, NUMBER_ \
	}
#define LB_(name) \
	{ \
		name, FORMULA_LIST, LIKE_B, NUMBER_ \
	}

#endif
