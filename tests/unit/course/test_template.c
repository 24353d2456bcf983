/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts with values, as pieces. Each row writes the pieces down: plain text as it is, a value as
 * <slot> or <slot:places>. */
#include "author.h"

struct cut {
	struct author author;
	struct formula_scope scope;
	struct formula_name name[2];
	struct names names;
	struct template made;
};

static void cut(struct cut *c, const char *text)
{
	memset(c, 0, sizeof *c);
	author_writes(&c->author, text);
	c->name[0] = (struct formula_name){.name = "r", .len = 1};
	c->name[1] = (struct formula_name){.name = "long_name", .len = 9};
	c->scope = (struct formula_scope){c->name, 2, 2};
	c->names = (struct names){.scope = &c->scope};
	template_read(&c->author.doc, &c->names, c->author.file.root, &c->made);
}

static void write_pieces(const struct template *t, struct text *out)
{
	for (size_t i = 0; i < t->n; i++)
		if (t->piece[i].slot == NO_SLOT)
			text_add_bytes(out, t->piece[i].text, t->piece[i].len);
		else if (t->piece[i].places < 0)
			text_addf(out, "<%d>", t->piece[i].slot);
		else
			text_addf(out, "<%d:%d>", t->piece[i].slot, t->piece[i].places);
}

static void pieces_are_plain_text_and_values(void **state)
{
	(void)state;
	static const struct {
		const char *why, *text, *want;
		size_t n;
	} rows[] = {
		{"plain", "no values", "no values", 1},
		{"one value", "\"{r}\"", "<0>", 1},
		{"in the middle", "x {r} y", "x <0> y", 3},
		{"side by side", "\"{r}{long_name:3}\"", "<0><1:3>", 2},
		{"no places", "x {r:0}", "x <0:0>", 2},
		{"brace", "x {{r} y", "x {r} y", 2},
		{"brace at the end", "x {{", "x {", 1},
		{"brace before a value", "x {{{r}}", "x {<0>}", 3},
		{"two braces", "x {{{{ y", "x {{ y", 3},
		{"closing brace", "x } y", "x } y", 1},
		{"accents", "\303\251 {r} \303\251", "\303\251 <0> \303\251", 3},
		{"line ends at the end are cut", "|\n  x {r}\n  y\n\n", "x <0>\ny", 3},
		{"folded", ">\n  x\n  {r}\n", "x <0>", 2},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct cut c;
		struct text got;
		text_init(&got);
		cut(&c, rows[i].text);
		told_nothing(rows[i].why, &c.author.diags);
		write_pieces(&c.made, &got);
		same_text(rows[i].why, got.at, rows[i].want);
		same_whole(rows[i].why, c.made.n, rows[i].n);
		text_release(&got);
		author_ends(&c.author);
	}
}

static void values_count_as_uses(void **state)
{
	(void)state;
	struct cut c;
	cut(&c, "x {r} {r:1} {{long_name}");
	same_whole("r", c.name[0].used, 2);
	same_whole("long_name", c.name[1].used, 0);
	author_ends(&c.author);
}

static void a_fault_stands_where_the_name_is(void **state)
{
	(void)state;
	struct cut c;
	cut(&c, "|\n  first\n    \303\251 {q}\n");
	told("in a block", &c.author.diags,
		"x.yaml:3:8: error: no draw and no 'let' is called 'q' [unknown-name]\n"
		"    3 |     \303\251 {q}\n"
		"      |        ^\n"
		"hint: a brace that is to be shown is written '{{'\n");
	author_ends(&c.author);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(pieces_are_plain_text_and_values),
		cmocka_unit_test(values_count_as_uses),
		cmocka_unit_test(a_fault_stands_where_the_name_is),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
