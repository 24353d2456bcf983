/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is read: values, places, keys; what is found and what is not. */
#include "reading.h"

/* ---- values and places ---------------------------------------------------------------------------- */

/* Each text holds one value under the key `a`; the values are those YAML 1.2.2 gives them. */
static const struct {
	const char *why, *text, *value;
	uint32_t line, col, span;
	bool quoted, straight, block;
} scalars[] = {
	{"plain", "a: x\n", "x", 1, 4, 1, false, true, false},
	{"a formula", "a: w*L^2/8 - 3.5 mm\n", "w*L^2/8 - 3.5 mm", 1, 4, 16, false, true, false},
	{"more blanks", "a:    x   # note\n", "x", 1, 7, 1, false, true, false},
	{"no is a text", "a: no\n", "no", 1, 4, 2, false, true, false},
	{"as is 012", "a: 012\n", "012", 1, 4, 3, false, true, false},
	{"and 1:30", "a: 1:30\n", "1:30", 1, 4, 4, false, true, false},
	{"and null", "a: ~\n", "~", 1, 4, 1, false, true, false},
	{"a hash without a blank", "a: w#b\n", "w#b", 1, 4, 3, false, true, false},
	{"characters, not bytes", "a: größe°\n", "größe°", 1, 4, 6, false, true, false},
	{"single quotes", "a: 'x y'\n", "x y", 1, 5, 3, true, true, false},
	{"double quotes", "a: \"x y\"\n", "x y", 1, 5, 3, true, true, false},
	{"empty quotes", "a: ''\n", "", 1, 5, 1, true, true, false},
	{"a doubled quote", "a: 'it''s'\n", "it's", 1, 5, 5, true, false, false},
	{"only a doubled quote", "a: ''''\n", "'", 1, 5, 2, true, false, false},
	{"an escape", "a: \"x\\ty\"\n", "x\ty", 1, 5, 4, true, false, false},
	{"an escaped backslash", "a: \"\\\\\"\n", "\\", 1, 5, 2, true, false, false},
	{"an escape above U+FFFF", "a: \"\\U0001F600\"\n", "\xF0\x9F\x98\x80", 1, 5, 10, true,
		false, false},
	{"plain over two lines", "a: x\n  y\n", "x y", 1, 4, 1, false, false, false},
	{"quoted over two lines", "a: 'x\n  y'\n", "x y", 1, 5, 1, true, false, false},
	{"literal block", "a: |\n  x\n   y\n", "x\n y\n", 1, 4, 1, true, false, true},
	{"stripped block", "a: |-\n  x\n", "x", 1, 4, 1, true, false, true},
	{"folded block", "a: >\n  x\n  y\n", "x y\n", 1, 4, 1, true, false, false},
	{"under its key", "a:\n  x\n", "x", 2, 3, 1, false, true, false},
	{"nothing: placed at the key", "a:\n", "", 1, 1, 1, false, false, false},
	{"Windows line ends", "b: 1\r\na: x\r\n", "x", 2, 4, 1, false, true, false},
	{"behind a byte order mark",
		"\xEF\xBB\xBF"
		"a: x\n",
		"x", 1, 5, 1, false, true, false},
	{"on a line after one",
		"\xEF\xBB\xBF\n"
		"a: x\n",
		"x", 2, 4, 1, false, true, false},
	{"in braces", "{b: 1, a: x}\n", "x", 1, 11, 1, false, true, false},
	{"a percent behind a number", "{b: 1, a: 5 %}\n", "5 %", 1, 11, 3, false, true, false},
};

static void scalars_have_value_and_place(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof scalars / sizeof *scalars; i++) {
		struct reading r;
		read_text(&r, scalars[i].text);
		struct tree *t = tree_find(r.tree, "a");
		if (r.code || !t)
			fail_msg("%s: not read: %s", scalars[i].why,
				r.d.first ? r.d.first->words : "no such key");
		if (strcmp(t->text, scalars[i].value) != 0 || t->len != strlen(scalars[i].value))
			fail_msg("%s: want '%s', got '%s'", scalars[i].why, scalars[i].value,
				t->text);
		near(scalars[i].why, t->place.line, scalars[i].line, 0);
		near(scalars[i].why, t->place.col, scalars[i].col, 0);
		near(scalars[i].why, t->span, scalars[i].span, 0);
		near(scalars[i].why, t->quoted, scalars[i].quoted, 0);
		near(scalars[i].why, t->straight, scalars[i].straight, 0);
		near(scalars[i].why, t->block, scalars[i].block, 0);
		reading_end(&r);
	}
}

static void lists_and_maps_have_children_in_order(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "stock: [3.5, 4.0, 4.5]\n"
		      "sites:\n"
		      "  - {tooth: 45, x: -17.0}\n"
		      "  - tooth: 43\n"
		      "    \"x\": 2\n"
		      "none: []\n"
		      "empty: {}\n");
	code_is(r.code, FINE);
	assert_int_equal(r.tree->kind, TREE_MAP);
	assert_int_equal(r.tree->count, 4);
	struct tree *stock = tree_find(r.tree, "stock"), *sites = tree_find(r.tree, "sites");
	assert_int_equal(stock->kind, TREE_LIST);
	assert_true(stock->flow);
	assert_int_equal(stock->span, 15);
	assert_int_equal(stock->count, 3);
	assert_string_equal(tree_at(stock, 2)->text, "4.5");
	assert_ptr_equal(tree_at(stock, 1)->parent, stock);
	assert_int_equal(tree_at(stock, 1)->index, 1);
	assert_null(tree_at(stock, 3));
	assert_null(tree_at(r.tree, 0));
	assert_null(tree_at(NULL, 0));
	assert_int_equal(sites->place.line, 3);
	assert_int_equal(sites->place.col, 3);
	assert_false(sites->flow);
	struct tree *x = tree_find(tree_at(sites, 1), "x");
	assert_int_equal(x->key_place.line, 5);
	assert_int_equal(x->key_place.col, 6); /* inside its quotes */
	assert_int_equal(x->key_span, 1);
	assert_string_equal(x->text, "2");
	assert_int_equal(tree_find(r.tree, "none")->count, 0);
	assert_int_equal(tree_find(r.tree, "empty")->kind, TREE_MAP);
	reading_end(&r);
}

static void many_keys_are_found(void **state)
{
	(void)state;
	struct text made;
	text_init(&made);
	for (int i = 0; i < 300; i++)
		text_addf(&made, "k%d: %d\n", (i * 7) % 300, i);
	struct reading r;
	read_bytes(&r, made.at, made.len);
	code_is(r.code, FINE);
	for (int i = 0; i < 300; i++) {
		char key[16], want[16];
		snprintf(key, sizeof key, "k%d", (i * 7) % 300);
		snprintf(want, sizeof want, "%d", i);
		assert_string_equal(tree_find(r.tree, key)->text, want);
	}
	assert_null(tree_find(r.tree, "k300"));
	assert_null(tree_find(r.tree, "k"));
	assert_null(tree_find(r.tree, ""));
	reading_end(&r);
	text_release(&made);
}

static void place_of_a_byte_is_exact_where_it_can_be(void **state)
{
	static const struct {
		const char *why, *text;
		size_t offset;
		uint32_t line, col;
	} cases[] = {
		{"plain", "a: stock + 2\n", 8, 1, 12},
		{"behind characters of two bytes", "a: größe + 2\n", 8, 1, 10},
		{"in quotes", "a: 'w + 2'\n", 4, 1, 9},
		{"past the end", "a: w\n", 9, 1, 5},
		{"first line of a block", "a: |\n  one\n  two\n", 2, 2, 5},
		{"second line of a block", "a: |\n  one\n  two\n", 5, 3, 4},
		{"a line indented further", "a: |\n  one\n    two\n", 6, 3, 5},
		{"behind an empty line", "a: |\n  one\n\n  two\n", 5, 4, 3},
		{"after leading empty lines", "a: |\n\n\n  one\n", 3, 4, 4},
		{"the block is told how far it is indented", "a: |2\n    one\n", 2, 2, 5},
		{"Windows line ends", "a: |\r\n  one\r\n  two\r\n", 5, 3, 4},
		{"characters in a block", "a: |\n  ö°ö\n", 4, 2, 5},
		{"a folded block is placed as a whole", "a: >\n  one\n  two\n", 5, 1, 4},
		{"so is an escape", "a: \"x\\ty\"\n", 2, 1, 5},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r;
		read_text(&r, cases[i].text);
		code_is(r.code, FINE);
		struct place p = tree_place(tree_find(r.tree, "a"), cases[i].offset);
		near(cases[i].why, p.line, cases[i].line, 0);
		near(cases[i].why, p.col, cases[i].col, 0);
		reading_end(&r);
	}
}

/* ---- going on after a fault --------------------------------------------------------------------- */

static void what_follows_a_refused_value_is_read(void **state)
{
	(void)state;
	struct reading r;
	const char *out = "untouched";
	read_text(&r, "a: *w\nb: 1\n{x: 1}: lost\nb: 2\n<<: {q: 1}\nc: good\n");
	code_is(r.code, BAD_SYNTAX);
	assert_int_equal(r.d.nerror, 4);
	assert_int_equal(r.tree->count, 4);
	code_is(tree_text(tree_find(r.tree, "a"), &r.d, &out), BAD_SYNTAX);
	assert_string_equal(out, "untouched");
	code_is(tree_text(tree_find(r.tree, "b"), &r.d, &out), FINE);
	assert_string_equal(out, "1");
	code_is(tree_text(tree_find(r.tree, "c"), &r.d, &out), FINE);
	assert_string_equal(out, "good");
	code_is(tree_unknown(r.tree, &r.d), FINE);
	assert_int_equal(r.d.nerror, 4);
	reading_end(&r);
}

/* ---- keys --------------------------------------------------------------------------------------- */

static void unknown_keys_are_told_with_the_nearest(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "tilte: x\nstok: 3\nwidth: 8\nzzz: 1\nbar: {modlus: 1}\n");
	tree_find(r.tree, "title");
	tree_find(r.tree, "stock");
	tree_find(r.tree, "width");
	struct tree *bar = tree_find(r.tree, "bar");
	tree_find(bar, "modulus");
	tree_find(bar, "modulus");
	code_is(tree_unknown(r.tree, &r.d), BAD_UNKNOWN);
	code_is(tree_unknown(bar, &r.d), BAD_UNKNOWN);
	code_is(tree_unknown(bar, &r.d), FINE); /* each is told once */
	told("unknown", &r.d,
		"x.yaml:1:1: error: nothing here is called 'tilte' [unknown-name]\n"
		"    1 | tilte: x\n"
		"      | ^~~~~\n"
		"hint: did you mean 'title'?\n"
		"x.yaml:2:1: error: nothing here is called 'stok' [unknown-name]\n"
		"    2 | stok: 3\n"
		"      | ^~~~\n"
		"hint: did you mean 'stock'?\n"
		"x.yaml:4:1: error: nothing here is called 'zzz' [unknown-name]\n"
		"    4 | zzz: 1\n"
		"      | ^~~\n"
		"hint: known here: title, stock, width, bar\n"
		"x.yaml:5:7: error: nothing here is called 'modlus' [unknown-name]\n"
		"    5 | bar: {modlus: 1}\n"
		"      |       ^~~~~~\n"
		"hint: did you mean 'modulus'?\n");
	reading_end(&r);
}

static void a_decimal_comma_is_seen(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "a: {x: 4,0 mm, y: 3,0 mm}\n");
	code_is(r.code, BAD_SYNTAX);
	struct tree *a = tree_find(r.tree, "a");
	tree_find(a, "x");
	tree_find(a, "y");
	code_is(tree_unknown(a, &r.d), FINE); /* and nothing more is said about it */
	told("comma", &r.d,
		"x.yaml:1:8: error: '4,0 mm' has a comma where a point is needed [syntax]\n"
		"    1 | a: {x: 4,0 mm, y: 3,0 mm}\n"
		"      |        ^~~~~~\n"
		"hint: numbers in these files have a point: 4.0 mm\n"
		"x.yaml:1:19: error: '3,0 mm' has a comma where a point is needed [syntax]\n"
		"    1 | a: {x: 4,0 mm, y: 3,0 mm}\n"
		"      |                   ^~~~~~\n"
		"hint: numbers in these files have a point: 3.0 mm\n");
	reading_end(&r);
}

static void a_decimal_comma_with_a_blank_is_seen(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "a: {x: 4, 0 mm}\n");
	code_is(r.code, FINE);
	struct tree *a = tree_find(r.tree, "a");
	tree_find(a, "x");
	code_is(tree_unknown(a, &r.d), BAD_UNKNOWN);
	told("unknown", &r.d,
		"x.yaml:1:11: error: nothing here is called '0 mm' [unknown-name]\n"
		"    1 | a: {x: 4, 0 mm}\n"
		"      |           ^~~~\n"
		"hint: write a decimal point, not a comma\n");
	reading_end(&r);
}

static void slips_of_the_hand_in_keys_are_seen(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "a: {x:1}\n\xC2\xA0 b: 2\n");
	code_is(r.code, FINE);
	struct tree *a = tree_find(r.tree, "a");
	tree_find(a, "x");
	code_is(tree_unknown(a, &r.d), BAD_UNKNOWN);
	code_is(tree_unknown(r.tree, &r.d), BAD_UNKNOWN);
	told("unknown", &r.d,
		"x.yaml:1:5: error: nothing here is called 'x:1' [unknown-name]\n"
		"    1 | a: {x:1}\n"
		"      |     ^~~\n"
		"hint: write a space behind the colon\n"
		"x.yaml:2:1: error: a no-break space stands where an ordinary space is needed "
		"[syntax]\n"
		"    2 | \xC2\xA0 b: 2\n"
		"      | ^\n"
		"hint: take it out and press the space bar; it often comes with text that was "
		"copied from a web page\n");
	reading_end(&r);
}

static void missing_keys_are_told_where_they_should_be(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "bar: {width: 8}\nsites:\n  - {x: 1}\n");
	assert_null(tree_need(r.tree, "case", &r.d));
	struct tree *bar = tree_need(r.tree, "bar", &r.d);
	assert_null(tree_need(bar, "stock", &r.d));
	assert_null(tree_need(tree_at(tree_find(r.tree, "sites"), 0), "y", &r.d));
	assert_null(tree_need(NULL, "z", &r.d));
	told("missing", &r.d,
		"x.yaml:1:1: error: 'case' is missing [missing]\n"
		"    1 | bar: {width: 8}\n"
		"      | ^\n"
		"x.yaml:1:1: error: 'stock' is missing in 'bar' [missing]\n"
		"    1 | bar: {width: 8}\n"
		"      | ^~~\n"
		"x.yaml:3:5: error: 'y' is missing here [missing]\n"
		"    3 |   - {x: 1}\n"
		"      |     ^\n");
	reading_end(&r);
}

/* ---- kinds -------------------------------------------------------------------------------------- */

static const struct {
	const char *why, *text;
	enum tree_kind wanted;
	enum bad code;
	const char *told;
} kinds[] = {
	{"a map", "a: {x: 1}\n", TREE_MAP, FINE, ""},
	{"a map of nothing", "a: {}\n", TREE_MAP, FINE, ""},
	{"a list of nothing", "a: []\n", TREE_LIST, FINE, ""},
	{"a scalar", "a: x\n", TREE_SCALAR, FINE, ""},
	{"an empty text", "a: ''\n", TREE_SCALAR, FINE, ""},
	{"nothing for a list", "a:\n", TREE_LIST, BAD_MISSING,
		"x.yaml:1:1: error: 'a' has no value [missing]\n"
		"    1 | a:\n"
		"      | ^\n"
		"hint: write the value, or take the line away\n"},
	{"nothing for a scalar", "a: # later\n", TREE_SCALAR, BAD_MISSING,
		"x.yaml:1:1: error: 'a' has no value [missing]\n"
		"    1 | a: # later\n"
		"      | ^\n"
		"hint: write the value, or take the line away\n"},
	{"a lone value for a list", "a: 3.5\n", TREE_LIST, BAD_TYPE,
		"x.yaml:1:4: error: 'a' is a single value where a list is needed [wrong-type]\n"
		"    1 | a: 3.5\n"
		"      |    ^~~\n"
		"hint: write [a, b], or each entry on a line of its own with '- '\n"},
	{"dashes without a blank", "a:\n  -x\n  -y\n", TREE_LIST, BAD_TYPE,
		"x.yaml:2:3: error: 'a' is a single value where a list is needed [wrong-type]\n"
		"    2 |   -x\n"
		"      |   ^~\n"
		"hint: write a space behind the '-'\n"},
	{"a map for a list", "a: {x: 1}\n", TREE_LIST, BAD_TYPE,
		"x.yaml:1:4: error: 'a' is a table where a list is needed [wrong-type]\n"
		"    1 | a: {x: 1}\n"
		"      |    ^~~~~~\n"
		"hint: write [a, b], or each entry on a line of its own with '- '\n"},
	{"a colon without a blank", "a:\n  x:1\n", TREE_MAP, BAD_TYPE,
		"x.yaml:2:3: error: 'a' is a single value where a table is needed [wrong-type]\n"
		"    2 |   x:1\n"
		"      |   ^~~\n"
		"hint: write a space behind the colon\n"},
	{"a colon with a no-break space",
		"a:\n  x:\xC2\xA0"
		"1\n",
		TREE_MAP, BAD_SYNTAX,
		"x.yaml:2:5: error: a no-break space stands where an ordinary space is needed "
		"[syntax]\n"
		"    2 |   x:\xC2\xA0"
		"1\n"
		"      |     ^\n"
		"hint: take it out and press the space bar; it often comes with text that was "
		"copied from a web page\n"},
	{"a text for a map", "a: x\n", TREE_MAP, BAD_TYPE,
		"x.yaml:1:4: error: 'a' is a single value where a table is needed [wrong-type]\n"
		"    1 | a: x\n"
		"      |    ^\n"
		"hint: write NAME: VALUE, one on each line\n"},
	{"brackets around a formula", "a: [w + 2 mm]\n", TREE_SCALAR, BAD_TYPE,
		"x.yaml:1:4: error: 'a' is a list where a single value is needed [wrong-type]\n"
		"    1 | a: [w + 2 mm]\n"
		"      |    ^~~~~~~~~~\n"
		"hint: a text or formula that begins with '[' belongs in quotes\n"},
	{"braces around a name", "a: {w}\n", TREE_SCALAR, BAD_TYPE,
		"x.yaml:1:4: error: 'a' is a table where a single value is needed [wrong-type]\n"
		"    1 | a: {w}\n"
		"      |    ^~~\n"
		"hint: a text or formula that begins with '{' belongs in quotes\n"},
	{"lines for a value", "a:\n  - x\n", TREE_SCALAR, BAD_TYPE,
		"x.yaml:2:3: error: 'a' is a list where a single value is needed [wrong-type]\n"
		"    2 |   - x\n"
		"      |   ^\n"
		"hint: write one value behind the colon\n"},
};

static void another_kind_is_told_once(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof kinds / sizeof *kinds; i++) {
		struct reading r;
		read_text(&r, kinds[i].text);
		code_is(r.code, FINE);
		struct tree *t = tree_find(r.tree, "a");
		code_is(tree_is(t, kinds[i].wanted, &r.d), kinds[i].code);
		if (kinds[i].code)
			code_is(tree_is(t, kinds[i].wanted, &r.d), BAD_SYNTAX);
		told(kinds[i].why, &r.d, kinds[i].told);
		reading_end(&r);
	}
}

static void a_file_of_another_kind_is_told(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "just a text\n");
	assert_null(tree_need(r.tree, "case", &r.d));
	assert_null(tree_need(r.tree, "jaw", &r.d));
	assert_null(tree_find(r.tree, "jaw"));
	code_is(tree_unknown(r.tree, &r.d), BAD_SYNTAX);
	told("root", &r.d,
		"x.yaml:1:1: error: this file is a single value where a table is needed "
		"[wrong-type]\n"
		"    1 | just a text\n"
		"      | ^~~~~~~~~~~\n"
		"hint: write NAME: VALUE, one on each line\n");
	reading_end(&r);
	read_text(&r, "- 1\n");
	code_is(tree_unknown(r.tree, &r.d), BAD_TYPE);
	code_is(tree_unknown(r.tree, &r.d), BAD_SYNTAX);
	assert_int_equal(r.d.nerror, 1);
	reading_end(&r);
}

/* ---- names in messages ---------------------------------------------------------------------------- */

static void values_have_names(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "stock: [3, 4]\nwhere: [[1, 2]]\n"
		      "a-name-of-more-than-forty-letters-gr\xC3\xB6\xC3\xB6\xC3\xB6\xC3\xB6: 1\n");
	struct tree *stock = tree_find(r.tree, "stock"), *where = tree_find(r.tree, "where");
	assert_string_equal(tree_name(r.tree), "this file");
	assert_string_equal(tree_name(stock), "'stock'");
	assert_string_equal(tree_name(tree_at(stock, 1)), "entry 2 of 'stock'");
	assert_string_equal(tree_name(tree_at(tree_at(where, 0), 1)), "entry 2");
	assert_string_equal(tree_name(where->next),
		"'a-name-of-more-than-forty-letters-gr\xC3\xB6\xC3\xB6...'");
	assert_string_equal(tree_shown(tree_at(stock, 0)), "'3'");
	reading_end(&r);
}

static void a_loaders_own_fault_is_told_once_for_a_scalar(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "a: 5\nb: {c: 1}\n");
	struct tree *a = tree_find(r.tree, "a"), *b = tree_find(r.tree, "b");
	code_is(tree_fault(a, &r.d, BAD_RANGE, "%s is odd", tree_name(a)), BAD_RANGE);
	code_is(tree_fault(a, &r.d, BAD_RANGE, "and again"), BAD_RANGE);
	code_is(tree_fault(b, &r.d, BAD_ORDER, "one thing"), BAD_ORDER);
	code_is(tree_fault(b, &r.d, BAD_ORDER, "another thing"), BAD_ORDER);
	code_is(tree_fault(NULL, &r.d, BAD_ORDER, "nothing"), BAD_ORDER);
	assert_non_null(tree_need(b, "c", &r.d));
	told("faults", &r.d,
		"x.yaml:1:4: error: 'a' is odd [out-of-range]\n"
		"    1 | a: 5\n"
		"      |    ^\n"
		"x.yaml:2:4: error: one thing [wrong-order]\n"
		"    2 | b: {c: 1}\n"
		"      |    ^~~~~~\n"
		"x.yaml:2:4: error: another thing [wrong-order]\n"
		"    2 | b: {c: 1}\n"
		"      |    ^~~~~~\n");
	reading_end(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(scalars_have_value_and_place),
		cmocka_unit_test(lists_and_maps_have_children_in_order),
		cmocka_unit_test(many_keys_are_found),
		cmocka_unit_test(place_of_a_byte_is_exact_where_it_can_be),
		cmocka_unit_test(what_follows_a_refused_value_is_read),
		cmocka_unit_test(unknown_keys_are_told_with_the_nearest),
		cmocka_unit_test(a_decimal_comma_is_seen),
		cmocka_unit_test(a_decimal_comma_with_a_blank_is_seen),
		cmocka_unit_test(slips_of_the_hand_in_keys_are_seen),
		cmocka_unit_test(missing_keys_are_told_where_they_should_be),
		cmocka_unit_test(another_kind_is_told_once),
		cmocka_unit_test(a_file_of_another_kind_is_told),
		cmocka_unit_test(values_have_names),
		cmocka_unit_test(a_loaders_own_fault_is_told_once_for_a_scalar),
	};
	return cmocka_run_group_tests_name("tree/tree", tests, NULL, NULL);
}
