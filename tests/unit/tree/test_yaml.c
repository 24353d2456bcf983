/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is not read, and what its author is told, word for word. That each of these texts is
 * faulty, or read otherwise than it looks, follows from YAML 1.2.2; where the rule is this house's
 * own (one document, no aliases, no tags, names are words) the header of the tree says so. */
#include "reading.h"

#include <stdlib.h>
#include <time.h>

static const struct {
	const char *why, *text;
	enum bad code;
	bool given; /* the rest could be read */
	const char *told;
} refusals[] = {
	{"an alias, or a formula that begins with a star", "a: *w\n", BAD_SYNTAX, true,
		"x.yaml:1:4: error: a value cannot begin with '*' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: *w\n"
		"      |    ^\n"
		"hint: write '*w'\n"},
	{"a formula that goes on after the star", "a: *w * L\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '*' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: *w * L\n"
		"      |    ^\n"
		"hint: write '*w * L'\n"},
	{"a star and a blank", "a: * 2\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '*' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: * 2\n"
		"      |    ^\n"
		"hint: write '* 2'\n"},
	{"an alias in a list, both told", "a: [*w, 1, *h]\n", BAD_SYNTAX, true,
		"x.yaml:1:5: error: a value cannot begin with '*' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: [*w, 1, *h]\n"
		"      |     ^\n"
		"hint: write '*w'\n"
		"x.yaml:1:12: error: a value cannot begin with '*' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: [*w, 1, *h]\n"
		"      |            ^\n"
		"hint: write '*h'\n"},
	{"an alias as a key", "*w : 1\n", BAD_SYNTAX, true,
		"x.yaml:1:1: error: a value cannot begin with '*' unless it stands in quotes "
		"[syntax]\n"
		"    1 | *w : 1\n"
		"      | ^\n"
		"hint: write '*w : 1'\n"},
	{"an anchor", "a: &x y\n", BAD_SYNTAX, true,
		"x.yaml:1:4: error: a value cannot begin with '&' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: &x y\n"
		"      |    ^\n"
		"hint: write '&x y'\n"},
	{"an anchor on a map", "a: &x\n  b: 1\n", BAD_SYNTAX, true,
		"x.yaml:1:4: error: a value cannot begin with '&' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: &x\n"
		"      |    ^\n"
		"hint: write '&x'\n"},
	{"a tag", "a: !x y\n", BAD_SYNTAX, true,
		"x.yaml:1:4: error: a value cannot begin with '!' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: !x y\n"
		"      |    ^\n"
		"hint: write '!x y'\n"},
	{"a tag of the standard", "a: !!int 5\n", BAD_SYNTAX, true,
		"x.yaml:1:4: error: a value cannot begin with '!' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: !!int 5\n"
		"      |    ^\n"
		"hint: write '!!int 5'\n"},
	{"a tag without a name", "a: ! 'b'\n", BAD_SYNTAX, true,
		"x.yaml:1:4: error: a value cannot begin with '!' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: ! 'b'\n"
		"      |    ^\n"
		"hint: write \"! 'b'\"\n"},
	{"a merge key", "<<: {a: 1}\n", BAD_SYNTAX, true,
		"x.yaml:1:1: error: '<<' does not copy another map here [syntax]\n"
		"    1 | <<: {a: 1}\n"
		"      | ^~\n"
		"hint: write the entries out\n"},
	{"a key twice", "a: 1\nb: 2\na: 3\n", BAD_REPEATED, true,
		"x.yaml:3:1: error: 'a' stands here twice [repeated]\n"
		"    3 | a: 3\n"
		"      | ^\n"
		"x.yaml:1:1: note: the first is this\n"
		"hint: keep one of them\n"},
	{"a key twice in braces", "a: {left: 1, right: 2, left: 3}\n", BAD_REPEATED, true,
		"x.yaml:1:24: error: 'left' stands here twice [repeated]\n"
		"    1 | a: {left: 1, right: 2, left: 3}\n"
		"      |                        ^~~~\n"
		"x.yaml:1:5: note: the first is this\n"
		"hint: keep one of them\n"},
	{"a key three times", "a: 1\na: 2\na: 3\n", BAD_REPEATED, true,
		"x.yaml:2:1: error: 'a' stands here twice [repeated]\n"
		"    2 | a: 2\n"
		"      | ^\n"
		"x.yaml:1:1: note: the first is this\n"
		"hint: keep one of them\n"
		"x.yaml:3:1: error: 'a' stands here twice [repeated]\n"
		"    3 | a: 3\n"
		"      | ^\n"
		"x.yaml:1:1: note: the first is this\n"
		"hint: keep one of them\n"},
	{"a key twice among many",
		"a: 1\nb: 1\nc: 1\nd: 1\ne: 1\nf: 1\ng: 1\nh: 1\ni: 1\nc: 2\nb: 2\n", BAD_REPEATED,
		true,
		"x.yaml:10:1: error: 'c' stands here twice [repeated]\n"
		"   10 | c: 2\n"
		"      | ^\n"
		"x.yaml:3:1: note: the first is this\n"
		"hint: keep one of them\n"
		"x.yaml:11:1: error: 'b' stands here twice [repeated]\n"
		"   11 | b: 2\n"
		"      | ^\n"
		"x.yaml:2:1: note: the first is this\n"
		"hint: keep one of them\n"},
	{"a map as key", "a: {{n}}\n", BAD_TYPE, true,
		"x.yaml:1:5: error: this cannot be a name [wrong-type]\n"
		"    1 | a: {{n}}\n"
		"      |     ^\n"
		"hint: a name is a plain word; text that begins with '{' or '[' belongs in "
		"quotes\n"},
	{"a list as key", "[a]: b\n", BAD_TYPE, true,
		"x.yaml:1:1: error: this cannot be a name [wrong-type]\n"
		"    1 | [a]: b\n"
		"      | ^\n"
		"hint: a name is a plain word; text that begins with '{' or '[' belongs in "
		"quotes\n"},
	{"a block as key", "? |\n  a\n: b\n", BAD_TYPE, true,
		"x.yaml:1:3: error: this cannot be a name [wrong-type]\n"
		"    1 | ? |\n"
		"      |   ^\n"
		"hint: a name is a plain word; text that begins with '{' or '[' belongs in "
		"quotes\n"},
	{"a key of nothing", "? \n: b\n", BAD_MISSING, true,
		"x.yaml:1:2: error: a name is missing before the colon [missing]\n"
		"    1 | ? \n"
		"      |  ^\n"
		"hint: write NAME: VALUE\n"},
	{"a colon without a name", ": b\n", BAD_SYNTAX, false,
		"x.yaml:1:1: error: a name is needed here [syntax]\n"
		"    1 | : b\n"
		"      | ^\n"
		"hint: write NAME: VALUE\n"},
	{"two documents", "a: 1\n---\nb: 2\n", BAD_COUNT, false,
		"x.yaml:2:1: error: a second document begins here [wrong-count]\n"
		"    2 | ---\n"
		"      | ^\n"
		"hint: a file holds one: take the line '---' away or make two files\n"},
	{"an empty file", "", BAD_MISSING, false,
		"x.yaml: error: there is nothing in this file [missing]\n"},
	{"nothing but comments", "# c\n", BAD_MISSING, false,
		"x.yaml: error: there is nothing in this file [missing]\n"},
	{"nothing but a line of dashes", "---\n", BAD_MISSING, false,
		"x.yaml: error: there is nothing in this file [missing]\n"},
	{"a percent sign", "a: %5\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '%' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: %5\n"
		"      |    ^\n"
		"hint: write '%5'\n"},
	{"a percent sign in braces", "a: {p: %5}\n", BAD_SYNTAX, false,
		"x.yaml:1:8: error: a value cannot begin with '%' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: {p: %5}\n"
		"      |        ^\n"
		"hint: write '%5'\n"},
	{"an at sign", "a: @x # here\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '@' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: @x # here\n"
		"      |    ^\n"
		"hint: write '@x'\n"},
	{"a backtick", "a: `x`\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '`' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: `x`\n"
		"      |    ^\n"
		"hint: write '`x`'\n"},
	{"a comparison", "a: > 3 mm\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '>' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: > 3 mm\n"
		"      |    ^\n"
		"hint: write '> 3 mm'\n"},
	{"a bar", "a: |w|\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '|' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: |w|\n"
		"      |    ^\n"
		"hint: write '|w|'\n"},
	{"a question mark", "a: ? b\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '?' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: ? b\n"
		"      |    ^\n"
		"hint: write '? b'\n"},
	{"a question mark in brackets", "a: [?x, b]\n", BAD_SYNTAX, true,
		"x.yaml:1:5: error: a value cannot begin with '?' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: [?x, b]\n"
		"      |     ^\n"
		"hint: write '?x'\n"},
	{"a closing bracket", "a: ]\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with ']' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: ]\n"
		"      |    ^\n"
		"hint: write ']'\n"},
	{"a comma", "a: ,\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with ',' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: ,\n"
		"      |    ^\n"
		"hint: write ','\n"},
	{"a quote in the value too", "a: @it's\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '@' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: @it's\n"
		"      |    ^\n"
		"hint: write \"@it's\"\n"},
	{"both quotes in the value", "a: @it's \"x\"\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a value cannot begin with '@' unless it stands in quotes "
		"[syntax]\n"
		"    1 | a: @it's \"x\"\n"
		"      |    ^\n"
		"hint: put the whole value in quotes; inside '...' write a quote twice\n"},
	{"colon and space in a value", "a: b: c\n", BAD_SYNTAX, false,
		"x.yaml:1:5: error: a second ': ' stands in this line [syntax]\n"
		"    1 | a: b: c\n"
		"      |     ^\n"
		"hint: write 'b: c'\n"},
	{"colon and space after quotes", "a: \"b\": c\n", BAD_SYNTAX, false,
		"x.yaml:1:7: error: a second ': ' stands in this line [syntax]\n"
		"    1 | a: \"b\": c\n"
		"      |       ^\n"
		"hint: write '\"b\": c'\n"},
	{"a comment that was none", "a: w #b\n", FINE, true,
		"x.yaml:1:6: warning: this is a comment and not part of the value [unused]\n"
		"    1 | a: w #b\n"
		"      |      ^~\n"
		"hint: if it belongs to the value, put the whole value in quotes; if it is a "
		"comment, write a space behind the '#'\n"},
	{"a comment and no value", "a: #b\n", FINE, true,
		"x.yaml:1:4: warning: this is a comment and not part of the value [unused]\n"
		"    1 | a: #b\n"
		"      |    ^~\n"
		"hint: if it belongs to the value, put the whole value in quotes; if it is a "
		"comment, write a space behind the '#'\n"},
	{"indented under a value", "a: 1\n  b: 2\n", BAD_SYNTAX, false,
		"x.yaml:2:4: error: a ': ' stands in a line that goes on with the value above "
		"[syntax]\n"
		"    2 |   b: 2\n"
		"      |    ^\n"
		"hint: to begin a new name, indent it like the names above; to go on with the "
		"text, put all of it in quotes\n"},
	{"indented between", "a:\n  b: 1\n c: 2\n", BAD_SYNTAX, false,
		"x.yaml:3:2: error: this line does not fit under the lines above it [syntax]\n"
		"    3 |  c: 2\n"
		"      |  ^\n"
		"x.yaml:1:1: note: the first of them is this\n"
		"hint: lines that belong together begin in the same column; here that is column "
		"1\n"},
	{"a list indented between", "a:\n  - x\n - y\n", BAD_SYNTAX, false,
		"x.yaml:3:2: error: this line does not fit under the lines above it [syntax]\n"
		"    3 |  - y\n"
		"      |  ^\n"
		"x.yaml:1:1: note: the first of them is this\n"
		"hint: lines that belong together begin in the same column; here that is column "
		"1\n"},
	{"less than the first line", " a: 1\nb: 2\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: this line does not fit under the lines above it [syntax]\n"
		"    2 | b: 2\n"
		"      | ^\n"
		"hint: lines that belong together begin in the same column\n"},
	{"a map under a list", "- a\nb: c\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: this line stands in a list and has no '- ' [syntax]\n"
		"    2 | b: c\n"
		"      | ^\n"
		"x.yaml:1:1: note: the list begins here\n"
		"hint: begin each entry of the list with '- '\n"},
	{"a list under a value", "a: b\n- c\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: an entry of a list stands where a name is needed [syntax]\n"
		"    2 | - c\n"
		"      | ^\n"
		"hint: a list stands under a name that has nothing behind its colon\n"},
	{"a list behind a colon", "a: - b\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: a '- ' cannot stand here [syntax]\n"
		"    1 | a: - b\n"
		"      |    ^\n"
		"hint: begin each entry on a line of its own; text that begins with '- ' belongs in "
		"quotes\n"},
	{"no space behind the colon", "a: 1\nb:2\nc: 3\n", BAD_SYNTAX, false,
		"x.yaml:2:2: error: a space is missing behind the colon [syntax]\n"
		"    2 | b:2\n"
		"      |  ^\n"
		"hint: write NAME: VALUE\n"},
	{"no space behind the dash", "- a\n-b\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: a space is missing behind the '-' [syntax]\n"
		"    2 | -b\n"
		"      | ^\n"
		"hint: begin each entry of the list with '- '\n"},
	{"no colon", "a: 1\nthe rest of it\nc: 2\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: this line has no colon behind its name [syntax]\n"
		"    2 | the rest of it\n"
		"      | ^~~~~~~~~~~~~~\n"
		"hint: write NAME: VALUE; a text that goes on from the line above is indented "
		"further\n"},
	{"a tab in the indentation", "a:\n\tb: 1\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: a tab stands where spaces are needed [syntax]\n"
		"    2 |  b: 1\n"
		"      | ^\n"
		"hint: put spaces in its place; a tab does not count as indentation\n"},
	{"a tab under a value", "a: 1\n\tb: 1\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: a tab stands where spaces are needed [syntax]\n"
		"    2 |  b: 1\n"
		"      | ^\n"
		"hint: put spaces in its place; a tab does not count as indentation\n"},
	{"a tab in a block", "a: |\n\tx\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: a tab stands where spaces are needed [syntax]\n"
		"    2 |  x\n"
		"      | ^\n"
		"hint: put spaces in its place; a tab does not count as indentation\n"},
	{"a no-break space behind a colon", "a:\302\2401\nb: 2\n", BAD_SYNTAX, false,
		"x.yaml:1:3: error: a no-break space stands where an ordinary space is needed "
		"[syntax]\n"
		"    1 | a:\302\2401\n"
		"      |   ^\n"
		"hint: take it out and press the space bar; it often comes with text that was "
		"copied from a web page\n"},
	{"a list not closed", "a: [1, 2\nb: 3\n", BAD_SYNTAX, false,
		"x.yaml:2:2: error: a comma or the closing ']' is missing before this [syntax]\n"
		"    2 | b: 3\n"
		"      |  ^\n"
		"x.yaml:1:4: note: the list begins here\n"
		"hint: close the bracket; text with brackets, braces or commas of its own belongs "
		"in quotes\n"},
	{"a map not closed", "a: {x: 1\nb: 3\n", BAD_SYNTAX, false,
		"x.yaml:2:2: error: a comma or the closing '}' is missing before this [syntax]\n"
		"    2 | b: 3\n"
		"      |  ^\n"
		"x.yaml:1:4: note: the table begins here\n"
		"hint: close the bracket; text with brackets, braces or commas of its own belongs "
		"in quotes\n"},
	{"more than a list", "a: [b, c]d\n", BAD_SYNTAX, false,
		"x.yaml:1:10: error: something stands behind the closing bracket [syntax]\n"
		"    1 | a: [b, c]d\n"
		"      |          ^\n"
		"hint: put the whole value in one pair of quotes; inside '...' write a quote "
		"twice\n"},
	{"a quote not closed", "a: \"abc\nb: c\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: this quote is never closed [syntax]\n"
		"    1 | a: \"abc\n"
		"      |    ^\n"
		"hint: end the text with the same quote; inside '...' write a quote twice\n"},
	{"a quote not closed before a line of dashes", "a: 'abc\n---\n", BAD_SYNTAX, false,
		"x.yaml:1:4: error: this quote is never closed [syntax]\n"
		"    1 | a: 'abc\n"
		"      |    ^\n"
		"hint: end the text with the same quote; inside '...' write a quote twice\n"},
	{"a quote inside quotes", "a: 'it's'\n", BAD_SYNTAX, false,
		"x.yaml:1:8: error: something stands behind the closing quote [syntax]\n"
		"    1 | a: 'it's'\n"
		"      |        ^\n"
		"hint: put the whole value in one pair of quotes; inside '...' write a quote "
		"twice\n"},
	{"more than a quote", "- \"x\" y\n", BAD_SYNTAX, false,
		"x.yaml:1:7: error: something stands behind the closing quote [syntax]\n"
		"    1 | - \"x\" y\n"
		"      |       ^\n"
		"hint: put the whole value in one pair of quotes; inside '...' write a quote "
		"twice\n"},
	{"a backslash in double quotes", "a: \"\\q\"\n", BAD_SYNTAX, false,
		"x.yaml:1:5: error: this backslash has no meaning inside \"...\" [syntax]\n"
		"    1 | a: \"\\q\"\n"
		"      |     ^\n"
		"hint: use '...' quotes, in which a backslash is an ordinary character\n"},
	{"a number of no character", "a: \"\\xZZ\"\n", BAD_SYNTAX, false,
		"x.yaml:1:7: error: this is not the number of a character [syntax]\n"
		"    1 | a: \"\\xZZ\"\n"
		"      |       ^\n"
		"hint: use '...' quotes, in which a backslash is an ordinary character\n"},
	{"half a pair", "a: \"\\ud800\"\n", BAD_SYNTAX, false,
		"x.yaml:1:7: error: this is not the number of a character [syntax]\n"
		"    1 | a: \"\\ud800\"\n"
		"      |       ^\n"
		"hint: use '...' quotes, in which a backslash is an ordinary character\n"},
	{"a zero in double quotes", "a: \"x\\0y\"\n", BAD_ENCODING, true,
		"x.yaml:1:4: error: a text cannot hold the character U+0000 [encoding]\n"
		"    1 | a: \"x\\0y\"\n"
		"      |    ^~~~~~\n"
		"hint: use '...' quotes, in which a backslash is an ordinary character\n"},
	{"a zero in a key", "\"x\\0y\": 1\n", BAD_ENCODING, true,
		"x.yaml:1:1: error: a text cannot hold the character U+0000 [encoding]\n"
		"    1 | \"x\\0y\": 1\n"
		"      | ^~~~~~\n"
		"hint: use '...' quotes, in which a backslash is an ordinary character\n"},
	{"another version", "%YAML 2.0\n---\na: 1\n", BAD_SYNTAX, false,
		"x.yaml:1:1: error: a line that begins with '%' has no meaning here [syntax]\n"
		"    1 | %YAML 2.0\n"
		"      | ^\n"
		"hint: take the line away; a value that begins with '%' belongs in quotes\n"},
	{"a percent sign first", "%x\na: 1\n", BAD_SYNTAX, false,
		"x.yaml:1:1: error: a line that begins with '%' has no meaning here [syntax]\n"
		"    1 | %x\n"
		"      | ^\n"
		"hint: take the line away; a value that begins with '%' belongs in quotes\n"},
	{"something behind the value", "[a]\n]\n", BAD_SYNTAX, false,
		"x.yaml:2:1: error: this line does not fit under the lines above it [syntax]\n"
		"    2 | ]\n"
		"      | ^\n"
		"hint: lines that belong together begin in the same column\n"},
	{"a byte order mark does not shift the place", "\357\273\277a: @x\n", BAD_SYNTAX, false,
		"x.yaml:1:5: error: a value cannot begin with '@' unless it stands in quotes "
		"[syntax]\n"
		"    1 | <U+FEFF>a: @x\n"
		"      |            ^\n"
		"hint: write '@x'\n"},
	{"a byte order mark inside", "a: \357\273\277x\n", BAD_ENCODING, false,
		"x.yaml:1:4: error: the invisible character U+FEFF cannot stand in this file "
		"[encoding]\n"
		"    1 | a: <U+FEFF>x\n"
		"      |    ^~~~~~~~\n"
		"hint: take it out\n"},
	{"an escape character", "a: \033[2J\n", BAD_ENCODING, false,
		"x.yaml:1:4: error: the invisible character U+001B cannot stand in this file "
		"[encoding]\n"
		"    1 | a: <U+001B>[2J\n"
		"      |    ^~~~~~~~\n"
		"hint: take it out\n"},
	{"a next-line character", "a: x\302\205y\n", BAD_ENCODING, false,
		"x.yaml:1:5: error: the invisible character U+0085 cannot stand in this file "
		"[encoding]\n"
		"    1 | a: x<U+0085>y\n"
		"      |     ^~~~~~~~\n"
		"hint: take it out\n"},
	{"a line separator", "a: x\342\200\250y\n", BAD_ENCODING, false,
		"x.yaml:1:5: error: the invisible character U+2028 cannot stand in this file "
		"[encoding]\n"
		"    1 | a: x<U+2028>y\n"
		"      |     ^~~~~~~~\n"
		"hint: take it out\n"},
	{"a carriage return alone", "a: 1\rb: 2\n", BAD_ENCODING, false,
		"x.yaml:1:5: error: the invisible character U+000D cannot stand in this file "
		"[encoding]\n"
		"    1 | a: 1<U+000D>b: 2\n"
		"      |     ^~~~~~~~\n"
		"hint: save the file with the line ends of Unix or Windows\n"},
	{"a word that runs backwards", "a: x\342\200\256y\nb: \342\201\246z\n", FINE, true,
		"x.yaml:1:5: warning: the invisible character U+202E changes the order in which "
		"this line is shown [encoding]\n"
		"    1 | a: x<U+202E>y\n"
		"      |     ^~~~~~~~\n"
		"hint: take it out unless the text runs from right to left\n"},
	{"a place counts characters, not bytes", "gr\303\266\303\237e: @x\n", BAD_SYNTAX, false,
		"x.yaml:1:8: error: a value cannot begin with '@' unless it stands in quotes "
		"[syntax]\n"
		"    1 | gr\303\266\303\237e: @x\n"
		"      |        ^\n"
		"hint: write '@x'\n"},
	{"Windows line ends", "a: 1\r\nb: @x\r\n", BAD_SYNTAX, false,
		"x.yaml:2:4: error: a value cannot begin with '@' unless it stands in quotes "
		"[syntax]\n"
		"    2 | b: @x\n"
		"      |    ^\n"
		"hint: write '@x'\n"},

};

static void faults_are_told_with_place_and_hint(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof refusals / sizeof *refusals; i++) {
		struct reading r;
		read_text(&r, refusals[i].text);
		told(refusals[i].why, &r.d, refusals[i].told);
		code_is(r.code, refusals[i].code);
		if ((r.tree != NULL) != refusals[i].given)
			fail_msg("%s: tree %s", refusals[i].why, r.tree ? "given" : "not given");
		reading_end(&r);
	}
}

static void bytes_that_are_no_text_are_refused(void **state)
{
	static const struct {
		const char *why, *bytes;
		size_t len;
		const char *told;
	} cases[] = {
		{"Latin-1",
			"a: gr\xF6\xDF"
			"e\n",
			9,
			"x.yaml:1:6: error: byte F6 here is not UTF-8 text [encoding]\n"
			"    1 | a: gr<F6><DF>e\n"
			"      |      ^~~~\n"
			"hint: save the file as UTF-8; most editors offer it under \"save as\"\n"},
		{"a zero", "a: \0\n", 5,
			"x.yaml:1:4: error: the invisible character U+0000 cannot stand in this "
			"file [encoding]\n"
			"    1 | a: <U+0000>\n"
			"      |    ^~~~~~~~\n"
			"hint: save the file as UTF-8 text\n"},
		{"UTF-16, high byte first",
			"\xFE\xFF\0a\0:\0 \0"
			"1",
			10,
			"x.yaml:1:1: error: byte FE here is not UTF-8 text [encoding]\n"
			"    1 | <FE><FF><U+0000>a<U+0000>:<U+0000> <U+0000>1\n"
			"      | ^~~~\n"
			"hint: save the file as UTF-8; most editors offer it under \"save as\"\n"},
		{"a character cut short at the end", "a: \xE2\x82", 5,
			"x.yaml:1:4: error: byte E2 here is not UTF-8 text [encoding]\n"
			"    1 | a: <E2><82>\n"
			"      |    ^~~~\n"
			"hint: save the file as UTF-8; most editors offer it under \"save as\"\n"},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r;
		read_bytes(&r, cases[i].bytes, cases[i].len);
		told(cases[i].why, &r.d, cases[i].told);
		code_is(r.code, BAD_ENCODING);
		assert_null(r.tree);
		reading_end(&r);
	}
}

/* ---- hostile texts ------------------------------------------------------------------------------ */

static char *repeated(const char *piece, size_t n)
{
	size_t len = strlen(piece);
	char *made = malloc(n * len + 1);
	assert_non_null(made);
	for (size_t i = 0; i < n; i++)
		memcpy(made + i * len, piece, len);
	made[n * len] = '\0';
	return made;
}

/* Processor time, so that a busy machine does not count. */
static double seconds(void)
{
	return (double)clock() / CLOCKS_PER_SEC;
}

/* Without limits of its own the library takes many seconds for the deep ones (its time grows with
 * the square of the nesting); here a second is allowed for the sanitizers' sake. */
static void hostile_texts_end_soon(void **state)
{
	static const struct {
		const char *why, *piece;
		size_t n;
		enum bad code;
	} cases[] = {
		{"128 kB of brackets in one line", "[", 131072, BAD_SIZE},
		{"brackets, line by line", "[\n", 131072, BAD_SIZE},
		{"braces in lines", "{a:\n", 131072, BAD_SIZE},
		{"braces as names", "{a,\n", 131072, BAD_TYPE},
		{"dashes", "- ", 8000, BAD_SIZE},
		{"question marks", "? ", 8000, BAD_TYPE},
		{"a megabyte of aliases", "- *a\n", 200000, BAD_SYNTAX},
		{"a megabyte of anchors", "- &a\n", 200000, BAD_SYNTAX},
		{"a list that holds itself", "- &a [*a, *a, *a, *a, *a, *a, *a, *a]\n", 27000,
			BAD_SYNTAX},
		{"one name a hundred thousand times", "a: 1\n", 190000, BAD_REPEATED},
		{"comments that were none", "- a #b\n", 140000, FINE},
		{"documents", "---\n", 200000, BAD_COUNT},
		{"quotes left open", "'\n", 500001, BAD_SYNTAX},
		{"one long line", "aaaaaaaa", 131072, BAD_SIZE},
		{"more values than are read", "- \n", TREE_NODES + 1, BAD_SIZE},
		{"a byte more than is read", "a", TREE_BYTES + 1, BAD_SIZE},
	};
	(void)state;
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		struct reading r;
		char *text = repeated(cases[i].piece, cases[i].n);
		double start = seconds();
		read_text(&r, text);
		near(cases[i].why, seconds() - start, 0, 1);
		if (r.code != cases[i].code)
			print_error("%s\n", cases[i].why);
		code_is(r.code, cases[i].code);
		reading_end(&r);
		free(text);
	}
}

static void depth_32_is_read_and_33_is_not(void **state)
{
	static const char *const open[] = {"[", "- ", "{a: ", "? "};
	static const char *const close[] = {"]", "", "}", ""};
	(void)state;
	for (size_t k = 0; k < sizeof open / sizeof *open; k++)
		for (size_t deep = TREE_DEPTH; deep <= TREE_DEPTH + 1; deep++) {
			struct reading r;
			char *before = repeated(open[k], deep), *after = repeated(close[k], deep);
			char text[512];
			snprintf(text, sizeof text, "%sx%s\n", before, after);
			read_text(&r, text);
			if (k == 3) /* a map as the name of a map: never read, but counted */
				code_is(r.code, BAD_TYPE);
			else
				code_is(r.code, deep > TREE_DEPTH ? BAD_SIZE : FINE);
			assert_int_equal(r.tree != NULL, deep <= TREE_DEPTH);
			reading_end(&r);
			free(before);
			free(after);
		}
}

static void size_limits_are_told(void **state)
{
	(void)state;
	struct reading r;
	char *text = repeated("a", TREE_BYTES + 1);
	read_text(&r, text);
	told("bytes", &r.d,
		"x.yaml: error: the file has 1048577 bytes; at most 1048576 are read [too-large]\n"
		"hint: part it into several files\n");
	reading_end(&r);
	free(text);

	text = repeated("[", TREE_DEPTH + 1);
	read_text(&r, text);
	told("depth", &r.d,
		"x.yaml:1:33: error: lists and maps are nested more than 32 deep here [too-large]\n"
		"    1 | [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[\n"
		"      |                                 ^\n"
		"hint: close brackets that were left open; a text with brackets belongs in "
		"quotes\n");
	reading_end(&r);
	free(text);

	text = repeated("- \n", TREE_NODES); /* and the list itself */
	read_text(&r, text);
	told("values", &r.d,
		"x.yaml:200000:2: error: there are more than 200000 values in this file "
		"[too-large]\n"
		"200000 | - \n"
		"      |  ^\n"
		"hint: part it into several files\n");
	reading_end(&r);
	free(text);
}

static void longest_line_is_read(void **state)
{
	(void)state;
	struct reading r;
	char *text = repeated("a", TREE_LINE + 1);
	read_bytes(&r, text, TREE_LINE + 1);
	assert_int_equal(r.d.nerror, 1);
	assert_string_equal(r.d.first->words, "this line has more than 16384 bytes");
	reading_end(&r);
	text[TREE_LINE] = '\0';
	read_bytes(&r, text, TREE_LINE);
	code_is(r.code, FINE);
	assert_int_equal(r.tree->len, TREE_LINE);
	reading_end(&r);
	free(text);
}

static void a_name_of_more_than_1024_characters_is_told(void **state)
{
	(void)state;
	struct reading r;
	char *name = repeated("a", 1030);
	struct text text;
	text_init(&text);
	text_addf(&text, "b: 1\n%s: 2\n", name);
	read_bytes(&r, text.at, text.len);
	code_is(r.code, BAD_SYNTAX);
	near("line", r.d.first->place.line, 2, 0);
	assert_string_equal(
		r.d.first->words, "there is no colon in the first 1024 characters of this line");
	reading_end(&r);
	text_release(&text);
	free(name);
}

static void control_characters_from_escapes_are_shown_safely(void **state)
{
	(void)state;
	struct reading r;
	read_text(&r, "\"\\e[2Jx\\u202e\\x9b\": 1\n");
	code_is(r.code, FINE);
	code_is(tree_unknown(r.tree, &r.d), BAD_UNKNOWN);
	told("unknown", &r.d,
		"x.yaml:1:2: error: nothing here is called '<U+001B>[2Jx<U+202E><U+009B>' "
		"[unknown-name]\n"
		"    1 | \"\\e[2Jx\\u202e\\x9b\": 1\n"
		"      |  ^~~~~~~~~~~~~~~~\n");
	reading_end(&r);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(faults_are_told_with_place_and_hint),
		cmocka_unit_test(bytes_that_are_no_text_are_refused),
		cmocka_unit_test(hostile_texts_end_soon),
		cmocka_unit_test(depth_32_is_read_and_33_is_not),
		cmocka_unit_test(size_limits_are_told),
		cmocka_unit_test(longest_line_is_read),
		cmocka_unit_test(a_name_of_more_than_1024_characters_is_told),
		cmocka_unit_test(control_characters_from_escapes_are_shown_safely),
	};
	return cmocka_run_group_tests_name("tree/yaml", tests, NULL, NULL);
}
