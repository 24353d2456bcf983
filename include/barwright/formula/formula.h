/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The formula language in which an author writes answers, steps, slips and conditions:
 *
 *   if least >= 3.5 mm then largest_up_to(stock, least) else nothing
 *   min(factor * spread, 15 mm)          2 * pi * radius * height          matrix - underside
 *
 *   let r = diameter / 2 then pi * r^2
 *
 * Numbers with units, + - * / ^, comparisons, and/or/not, if/then/else, lists, names, functions, and
 * names of a formula's own: what such a name stands for is worked out wherever the name stands.
 * A formula is checked once (names, counts, kinds, dimensions; every fault with its place) and then
 * runs any number of times without allocating. No loops, no state: the same values give the same
 * result. Inside everything is SI-mm (base/unit.h).
 *
 * Comparisons forgive the rounding of decimals: values count as equal when they differ by less than
 * 1e-12 of their sizes, or by less than 1e-11 mm, N, MPa, rad, s, K (masses and densities: by the
 * share alone).
 *
 * Results of + - * / ^n, comparisons, min, max, abs, sqrt, floor and the like are the same bits on
 * every machine with IEEE 754 doubles. sin, cos, tan, exp, ln and x^p for other p come from
 * the machine's libm and may differ in the last bit: compare with a tolerance, never hash them. */
#ifndef BARWRIGHT_FORMULA_FORMULA_H
#define BARWRIGHT_FORMULA_FORMULA_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include <barwright/base/bad.h>
#include <barwright/base/diag.h>
#include <barwright/base/mem.h>
#include <barwright/base/text.h>
#include <barwright/base/unit.h>

enum {
	FORMULA_BYTES = 4096,  /* longest text */
	FORMULA_DEPTH = 64,    /* deepest nesting of brackets, calls, signs and "if" */
	FORMULA_LENGTH = 64,   /* longest list */
	FORMULA_NUMBERS = 256, /* numbers and ... */
	FORMULA_LISTS = 32     /* ... lists waiting at one time while a formula runs */
};

enum formula_kind { FORMULA_NUMBER, FORMULA_TRUTH, FORMULA_LIST };

struct formula_type {
	enum formula_kind kind;
	struct dim dim; /* of a number, of each element of a list; none for a truth */
};

/* ---- names ---------------------------------------------------------------------------------- */

struct formula_name {
	const char *name; /* need not end in 0 */
	size_t len;
	struct formula_type type;
	struct place declared;
	int used; /* how often the formulas compiled so far mention it */
};

/* The names a formula may use; name[i] finds its value in slot i at run time. All zero: none. The
 * list belongs to whoever fills it and may grow between two compiles. */
struct formula_scope {
	struct formula_name *name;
	size_t n, room;
};

/* Adds a name (its text is not copied; `used` becomes 0) and gives its slot. The list is taken
 * from the arena. BAD_REPEATED (then *slot is the one that has it), BAD_SYNTAX when
 * formula_name_is_free says no, BAD_MEMORY. */
enum bad formula_scope_add(struct arena *a, struct formula_scope *scope,
	const struct formula_name *name, size_t *slot);
bool formula_scope_find(
	const struct formula_scope *scope, const char *name, size_t len, size_t *slot);
/* May a document give something this name? A letter, then letters, digits and _ (ASCII), at most
 * 64, and not a word or function of the language. If not, *why is a phrase for "NAME ..."
 * (static). */
bool formula_name_is_free(const char *name, size_t len, const char **why);

/* ---- compiling ------------------------------------------------------------------------------ */

struct formula;

/* Reads and checks text[0..len). It stands at `at` in a source; if `straight`, byte k of it
 * stands at column at.col + (code points before k), line breaks in the text counting as lines;
 * else every fault is placed at `at`. All faults found go to `d`, and the code of the first is
 * the result; then *out is untouched. `scope` may be null: no names. The formula lives in `a`;
 * it does not keep pointers to `text` or `scope`. */
enum bad formula_compile(struct arena *a, const char *text, size_t len, struct place at,
	bool straight, struct formula_scope *scope, struct diags *d, struct formula **out);

struct formula_type formula_result(const struct formula *f);
/* Does the result go where `want` is asked? Same kind and dimension; plain 0 and `nothing` go with
 * every dimension. */
bool formula_fits(const struct formula *f, struct formula_type want);
bool formula_uses(const struct formula *f, size_t slot);
/* mark has a byte for each slot of the scope. Does it use one whose mark is not 0? And: marks those that it
 * uses, and leaves the others as they are. */
bool formula_uses_any(const struct formula *f, const unsigned char *mark);
void formula_mark_used(const struct formula *f, unsigned char *mark);
/* Uses no name at all. */
bool formula_is_constant(const struct formula *f);
/* Is the result a plain whole number (or a list of such) whatever the values, as far as the formula shows?
 * whole[slot] says so of each name; null: of none. */
bool formula_is_whole(const struct formula *f, const bool *whole);
/* Can the result be "nothing" although all values are something? (false: surely not) */
bool formula_may_be_nothing(const struct formula *f);

/* ---- running -------------------------------------------------------------------------------- */

/* A number, or a truth as 0 or 1, in `number`; a list in list[0..n). NaN as number or element
 * means "nothing": nothing fits, refer back. Arithmetic and functions carry it on; infinities
 * must not come in. */
struct formula_value {
	double number;
	const double *list;
	size_t n;
};

struct formula_span {
	const double *at;
	size_t n;
};

/* What a run needs; any number of formulas may share one, one after the other. Its contents mean
 * nothing to callers and need no preparation. About 20 kB. */
struct formula_work {
	uint32_t failed;
	const char *why;
	double number[FORMULA_NUMBERS];
	struct formula_span list[FORMULA_LISTS];
	double room[FORMULA_LISTS][FORMULA_LENGTH];
};

/* values[i] for slot i, as far as the formula uses it. The list of a result stands in `work`
 * until its next run, or is one of `values`. BAD_RANGE: division by 0, root of a negative
 * number, overflow, an index outside its list, a value a function refuses; BAD_COUNT: lists of
 * unequal or impossible length; BAD_NOTHING: a comparison or condition met "nothing" (ask
 * is_nothing first); other codes as the calculation core gives them. On a code *out is
 * untouched. */
enum bad formula_run(const struct formula *f, const struct formula_value *values,
	struct formula_work *work, struct formula_value *out);
bool formula_is_nothing(double number);
double formula_nothing(void);

/* After formula_run gave a code: which operator or function failed, where, and why. */
struct formula_failure {
	const char *word; /* "/", "at", "stock_choice" */
	const char *why;  /* "divides by 0"; static text, never null */
	struct place at;
	uint32_t span;
};
void formula_failed(
	const struct formula *f, const struct formula_work *work, struct formula_failure *out);

/* ---- showing -------------------------------------------------------------------------------- */

/* The formula as text in one canonical layout, units with their signs, "7°", "mm²"; it compiles to the same
 * formula. */
void formula_print(const struct formula *f, struct text *out);
/* For worked solutions: the same with every name replaced by what `show` adds for its value, for
 * example "13.05 mm"; brackets are set where a sign or a unit needs them. `show` gets the slot. */
typedef void formula_show(void *context, size_t slot, const struct formula_type *type,
	const struct formula_value *value, struct text *out);
void formula_print_values(const struct formula *f, const struct formula_value *values,
	formula_show *show, void *context, struct text *out);
/* As a person writes it for a reader, "√(a² + b²)", "the larger of a and b", "(a / b) rounded down",
 * "6 * 75 + 10 * 40": no longer what compiles. With `show` null the names stay, with blanks for "_", else
 * their values stand in their place; of a list `show` may be given one value. */
void formula_say(const struct formula *f, const struct formula_value *values, formula_show *show,
	void *context, struct text *out);

/* Reference page of the language and all its functions, made from the tables that the compiler uses
 * (Markdown). */
void formula_reference(struct text *out);
/* One function by number, for tables, tests and completion: its name and "name(a, b) -> what";
 * null past the last. A name with several forms comes several times. */
const char *formula_function(size_t i, const char **does, const char **source);
/* More of that row: how it is written, "round(x, step)"; what it takes, "x: A; step: A", where a letter
 * stands for one kind of quantity; what it gives, "A". Nothing past the last. */
void formula_function_add(size_t i, struct text *form, struct text *takes, struct text *gives);

#endif
