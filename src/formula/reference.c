/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The reference page, from the tables that the compiler works by. */
#include <barwright/formula/formula.h>

#include <string.h>

#include "formula/function.h"

static const char opening[] =
	"# The formula language\n"
	"\n"
	"Answers, steps, slips and conditions of a course are formulas: arithmetic with units, as "
	"on\n"
	"paper. A formula is checked when the course is checked: names, numbers of arguments, and "
	"that\n"
	"only like is added to like.\n"
	"\n"
	"- A number may have a unit: `3.5 mm`, `2 bar`, `20 GPa`, `5 deg`, `25 %`, `150 N mm`, `5 "
	"N/mm`.\n"
	"  The unit belongs to its number, so `10 N / 2 mm` is 5 N/mm and `3 mm^2` is three "
	"square\n"
	"  millimetres. Decimals are written with a point. Units are converted by themselves.\n"
	"- A name stands for a value that the document gives. `2 h` is two hours; write `2 * h` "
	"for a name.\n"
	"- `[3.5 mm, 4 mm]` is a list. Arithmetic of a list and a number works on each value; of "
	"two\n"
	"  lists, value by value. A function of numbers that is given a list works on each value "
	"too.\n"
	"- `let r = diameter / 2 then pi * r^2` gives a name to something that a formula needs "
	"more "
	"than\n"
	"  once, or that reads better with one.\n"
	"- `if a > b then x else y` chooses. `else` is always needed; it may be `nothing`.\n"
	"- `nothing` means that nothing fits and the case is referred back. Arithmetic carries it "
	"on; ask\n"
	"  with `is_nothing(x)` before comparing.\n"
	"- Comparisons forgive the rounding of decimals: `16 mm - 14.6 mm - 1.4 mm = 0` is true.\n"
	"- A plain `0` goes with every unit. All other numbers without a unit are plain numbers.\n"
	"- Angles need their unit; `arc_angle(radius, along)` makes one from an arc.\n"
	"- `20 degC` is a point on a scale; differences are in `K`: `75 degC - 20 degC` is 55 K.\n"
	"\n";

/* Rows of the table of precedence, the most binding first. */
static void add_operators(struct text *out)
{
	text_add(out, "## Operators\n\nThose higher up are computed first.\n\n");
	for (int rank = 99; rank > 0; rank--) {
		bool any = false;
		for (int k = 0; k <= TOKEN_RAISED; k++) {
			const struct rule *r = &scan_rules[k];
			if (r->infix != rank && r->prefix != rank)
				continue;
			text_add(out, any ? ", " : "- ");
			text_addf(out,
				k == TOKEN_IF      ? "`%s a then b else c`"
				: k == TOKEN_LET   ? "`%s x = a then b`"
				: r->infix == rank ? "`a %s b`"
						   : "`%s a`",
				r->shown);
			any = true;
		}
		text_add(out, any ? "\n" : "");
	}
	text_add(out, "\n`a < b < c` and `a ^ b ^ c` are refused: write brackets, or compare "
		      "twice.\n\n");
}

static const char *kind_word(enum formula_kind kind)
{
	return kind == FORMULA_LIST ? "list of " : "";
}

static void add_dim(struct dim dim, struct text *out)
{
	struct text name;
	text_init(&name);
	dim_add_name(dim, &name);
	const char *words = name.at;
	if (strncmp(words, "a ", 2) == 0)
		words += 2;
	else if (strncmp(words, "an ", 3) == 0)
		words += 3;
	text_add(out, words);
	out->out |= name.out;
	text_release(&name);
}

/* "A", "root of A", "A B", "length" */
static void add_quantity(struct dim dim, int a, int b, struct text *out)
{
	static const char *const shown[] = {"", "root of ", ""};
	if (a)
		text_addf(out, "%sA", shown[a]);
	if (b)
		text_addf(out, "%sB", a ? " " : "");
	if (!a && !b)
		add_dim(dim, out);
}

static void add_parameters(const struct function *f, struct text *out)
{
	for (size_t i = 0; i < function_parameters(f); i++) {
		const struct parameter *p = &f->parameter[i];
		text_addf(out, "%s%s: %s", i ? "; " : "", p->name, kind_word(p->kind));
		add_quantity(p->dim, p->like == LIKE_A ? 2 : 0, p->like == LIKE_B ? 2 : 0, out);
	}
}

static void add_result(const struct function *f, struct text *out)
{
	text_add(out, kind_word(f->gives.kind));
	if (f->gives.kind == FORMULA_TRUTH)
		text_add(out, "truth");
	else
		add_quantity(f->gives.dim, f->gives.a, f->gives.b, out);
}

void formula_function_add(size_t i, struct text *form, struct text *takes, struct text *gives)
{
	const struct function *f = function_row(i);
	if (!f)
		return;
	function_add_form(f, form);
	add_parameters(f, takes);
	add_result(f, gives);
}

static void add_function(const struct function *f, struct text *out)
{
	text_add(out, "- `");
	function_add_form(f, out);
	text_addf(out, "`: %s.\n  Takes ", f->does);
	add_parameters(f, out);
	text_add(out, "; gives ");
	add_result(f, out);
	text_add(out, ".\n");
	if (f->source)
		text_addf(out, "  Source: %s.\n", f->source);
}

void formula_reference(struct text *out)
{
	text_add(out, opening);
	add_operators(out);
	text_add(out, "## Functions\n\nA letter stands for one kind of quantity throughout a row.\n"
		      "Where \"the same\" begins a row, it is the same as in the row before.\n");
	for (size_t t = 0; function_table(t).title; t++) {
		struct function_table table = function_table(t);
		text_addf(out, "\n### %s\n\n", table.title);
		for (size_t i = 0; i < table.n; i++)
			add_function(&table.row[i], out);
	}
}
