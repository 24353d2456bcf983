/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tree/explain.h"

#include <string.h>

#include <barwright/base/utf8.h>

/* ---- looking at the line --------------------------------------------------------------------- */

/* The whole line, and how many of its bytes stand before the place. */
static const char *line_of(struct place at, size_t *len, size_t *before)
{
	const char *line = source_line(at.source, at.line, len);
	*before = 0;
	for (uint32_t col = 1; col < at.col && *before < *len; col++)
		*before += utf8_step(line + *before, *len - *before);
	return line;
}

/* The bytes of the line from a place on; *len 0 past its end. */
static const char *rest_of(struct place at, size_t *len)
{
	size_t before;
	const char *line = line_of(at, len, &before);
	*len -= before;
	return line + before;
}

static size_t blanks(const char *s, size_t len)
{
	size_t n = 0;
	while (n < len && (s[n] == ' ' || s[n] == '\t'))
		n++;
	return n;
}

static bool is_blank_at(const char *s, size_t len, size_t i)
{
	return i >= len || s[i] == ' ' || s[i] == '\t';
}

/* Is the place the first thing on its line? */
static bool is_first(struct place at)
{
	size_t len, before;
	const char *line = line_of(at, &len, &before);
	return blanks(line, before) == before;
}

/* The last byte before the place that is no blank; 0 if there is none. */
static char byte_before(struct place at)
{
	size_t len, before;
	const char *line = line_of(at, &len, &before);
	while (before && (line[before - 1] == ' ' || line[before - 1] == '\t'))
		before--;
	return before ? line[before - 1] : 0;
}

static char byte_at(struct place at)
{
	size_t len;
	const char *rest = rest_of(at, &len);
	return len ? rest[0] : 0;
}

/* The place of byte `offset` of a line. */
static struct place place_in(const struct source *s, uint32_t line, const char *text, size_t offset)
{
	return (struct place){s, line, 1 + (uint32_t)utf8_count(text, offset)};
}

/* ---- quotes ---------------------------------------------------------------------------------- */

enum { SHOWN = 60 };

/* Where a value that begins here was probably meant to end. */
static size_t value_length(const char *s, size_t len, bool flow)
{
	size_t n = 0;
	while (n < len && !(n && s[n] == '#' && is_blank_at(s, len, n - 1)) &&
		!(flow && strchr(",]}", s[n])))
		n++;
	while (n && (s[n - 1] == ' ' || s[n - 1] == '\t'))
		n--;
	return n;
}

void explain_quotes(struct place at, bool flow, struct diags *d)
{
	size_t len;
	const char *rest = rest_of(at, &len);
	len = value_length(rest, len, flow);
	bool is_long = !len || len > SHOWN;
	if (!is_long && !memchr(rest, '\'', len))
		diag_hint(d, "write '%.*s'", (int)len, rest);
	else if (!is_long && !memchr(rest, '"', len) && !memchr(rest, '\\', len))
		diag_hint(d, "write \"%.*s\"", (int)len, rest);
	else
		diag_hint(d, "put the whole value in quotes; inside '...' write a quote twice");
}

void explain_start(struct place at, bool flow, struct diags *d)
{
	size_t len;
	const char *rest = rest_of(at, &len);
	int n = len ? (int)utf8_step(rest, len) : 0;
	diag_error(d, BAD_SYNTAX, at, 1,
		"a value cannot begin with '%.*s' unless it stands in quotes", n, rest);
	explain_quotes(at, flow, d);
}

/* ---- what is told at several stops ----------------------------------------------------------- */

bool explain_blank(const struct source *s, uint32_t line, struct diags *d)
{
	static const char no_break[] = "\xC2\xA0";
	size_t len;
	const char *text = source_line(s, line, &len);
	for (size_t i = 0; i + 2 <= len; i++) {
		bool counts = blanks(text, i) == i || text[i - 1] == ':';
		if (!counts || memcmp(text + i, no_break, 2) != 0)
			continue;
		diag_error(d, BAD_SYNTAX, place_in(s, line, text, i), 1,
			"a no-break space stands where an ordinary space is needed");
		diag_hint(d, "take it out and press the space bar; it often comes with text that "
			     "was copied from a web page");
		return true;
	}
	return false;
}

static void say_tab(const struct stop *stop, struct diags *d)
{
	diag_error(d, BAD_SYNTAX, stop->at, 1, "a tab stands where spaces are needed");
	diag_hint(d, "put spaces in its place; a tab does not count as indentation");
}

static void say_indent(const struct stop *stop, struct diags *d)
{
	diag_error(d, BAD_SYNTAX, stop->at, 1, "this line does not fit under the lines above it");
	if (!stop->from.line) {
		diag_hint(d, "lines that belong together begin in the same column");
		return;
	}
	diag_hint(d, "lines that belong together begin in the same column; here that is column %u",
		(unsigned)stop->from.col);
	diag_note(d, stop->from, "the first of them is this");
}

static void say_behind(const struct stop *stop, const char *what, struct diags *d)
{
	diag_error(d, BAD_SYNTAX, stop->at, 1, "something stands behind the closing %s", what);
	diag_hint(d, "put the whole value in one pair of quotes; inside '...' write a quote twice");
}

/* ---- one function for each stop that has to be looked at ------------------------------------- */

static void say_start(const struct stop *stop, struct diags *d)
{
	if (byte_at(stop->at) == '\t')
		say_tab(stop, d);
	else
		explain_start(stop->at, stop->flow, d);
}

static void say_start_from(const struct stop *stop, struct diags *d)
{
	explain_start(stop->from.line ? stop->from : stop->at, stop->flow, d);
}

static void say_content(const struct stop *stop, struct diags *d)
{
	if (byte_at(stop->at)) {
		explain_start(stop->at, stop->flow, d);
		return;
	}
	diag_error(d, BAD_SYNTAX, stop->at, 1, "a value is missing here");
	diag_hint(d, "write it, or take away what announces it");
}

/* A colon where none can stand: twice in a line, or in a line that goes on with the value above. */
static void say_colon(const struct stop *stop, struct diags *d)
{
	const struct source *s = stop->at.source;
	if (explain_blank(s, stop->at.line, d) || explain_blank(s, stop->at.line - 1, d))
		return;
	size_t len, before, i = 0;
	const char *line = line_of(stop->at, &len, &before);
	while (i < before && !(line[i] == ':' && is_blank_at(line, len, i + 1)))
		i++;
	if (i < before) {
		size_t value = i + 1 + blanks(line + i + 1, len - i - 1);
		diag_error(d, BAD_SYNTAX, stop->at, 1, "a second ': ' stands in this line");
		explain_quotes(place_in(s, stop->at.line, line, value), false, d);
		return;
	}
	diag_error(d, BAD_SYNTAX, stop->at, 1,
		"a ': ' stands in a line that goes on with the value above");
	diag_hint(d, "to begin a new name, indent it like the names above; to go on with the text, "
		     "put all of it in quotes");
}

static void say_key(const struct stop *stop, struct diags *d)
{
	char before = byte_before(stop->at), c = byte_at(stop->at);
	if (explain_blank(stop->at.source, stop->at.line, d))
		return;
	if (!is_first(stop->at) && (before == '"' || before == '\'')) {
		say_behind(stop, "quote", d);
	} else if (!is_first(stop->at) && (before == ']' || before == '}')) {
		say_behind(stop, "bracket", d);
	} else if (is_first(stop->at) && stop->at.col != stop->from.col) {
		say_indent(stop, d);
	} else if (c == '-') {
		diag_error(d, BAD_SYNTAX, stop->at, 1,
			"an entry of a list stands where a name is needed");
		diag_hint(d, "a list stands under a name that has nothing behind its colon");
	} else {
		diag_error(d, BAD_SYNTAX, stop->at, 1, "a name is needed here");
		diag_hint(d, "write NAME: VALUE");
	}
}

static void say_dash(const struct stop *stop, struct diags *d)
{
	if (explain_blank(stop->at.source, stop->at.line, d))
		return;
	if (!is_first(stop->at)) {
		say_behind(stop, byte_before(stop->at) == ']' ? "bracket" : "quote", d);
	} else if (stop->at.col != stop->from.col) {
		say_indent(stop, d);
	} else {
		diag_error(
			d, BAD_SYNTAX, stop->at, 1, "this line stands in a list and has no '- '");
		diag_hint(d, "begin each entry of the list with '- '");
		diag_note(d, stop->from, "the list begins here");
	}
}

/* A colon or dash that has no blank behind it, in a line that should have been NAME: VALUE. */
static bool say_no_blank(struct place at, const char *rest, size_t len, struct diags *d)
{
	const char *colon = memchr(rest, ':', len);
	struct place where = at;
	if (len > 1 && rest[0] == '-') {
		diag_error(d, BAD_SYNTAX, where, 1, "a space is missing behind the '-'");
		diag_hint(d, "begin each entry of the list with '- '");
		return true;
	}
	if (!colon)
		return false;
	where.col += (uint32_t)utf8_count(rest, (size_t)(colon - rest));
	diag_error(d, BAD_SYNTAX, where, 1, "a space is missing behind the colon");
	diag_hint(d, "write NAME: VALUE");
	return true;
}

enum { KEY_MOST = 1024 }; /* characters the library looks ahead for a colon */

static void say_no_colon(const struct stop *stop, struct diags *d)
{
	struct place at = stop->from.line ? stop->from : stop->at;
	size_t len;
	const char *rest = rest_of(at, &len);
	if (explain_blank(at.source, at.line, d))
		return;
	if (len > KEY_MOST) {
		diag_error(d, BAD_SYNTAX, at, SHOWN,
			"there is no colon in the first %d characters of this line", KEY_MOST);
		diag_hint(d, "write NAME: VALUE; a text that goes on from the line above is "
			     "indented further");
		return;
	}
	if (say_no_blank(at, rest, len, d))
		return;
	diag_error(d, BAD_SYNTAX, at, (uint32_t)utf8_count(rest, len),
		"this line has no colon behind its name");
	diag_hint(d,
		"write NAME: VALUE; a text that goes on from the line above is indented further");
}

static void say_document(const struct stop *stop, struct diags *d)
{
	if (is_first(stop->at)) {
		say_indent(stop, d);
		return;
	}
	diag_error(d, BAD_SYNTAX, stop->at, 1, "something stands behind the end");
	diag_hint(d, "put the whole value in one pair of quotes");
}

/* ---- the library's sentences ----------------------------------------------------------------- */

struct rule {
	const char *problem, *context; /* parts of its sentences; null: any */
	void (*say)(const struct stop *, struct diags *);
	/* where no function is needed: */
	bool from; /* it is told where the thing begins */
	const char *words, *hint, *note;
};

#define SLASH   "use '...' quotes, in which a backslash is an ordinary character"
#define CLOSE   "end the text with the same quote; inside '...' write a quote twice"
#define OPEN    "close the bracket; text with brackets, braces or commas of its own belongs in quotes"
#define PERCENT "a line that begins with '%' has no meaning here"
#define REMOVE  "take the line away; a value that begins with '%' belongs in quotes"
#define DASH    "begin each entry on a line of its own; text that begins with '- ' belongs in quotes"

/* The first that fits counts. */
static const struct rule rules[] = {
	{.context = "directive", .from = true, .words = PERCENT, .hint = REMOVE},
	{.problem = "directive", .words = PERCENT, .hint = REMOVE},
	{.problem = "incompatible YAML document", .words = PERCENT, .hint = REMOVE},
	{.problem = "found a tab character", .say = say_tab},
	{.problem = "cannot start any token", .say = say_start},
	{.context = "an alias", .say = say_start_from},
	{.context = "an anchor", .say = say_start_from},
	{.context = "a tag", .say = say_start_from},
	{.problem = "undefined tag handle", .say = say_start_from},
	{.context = "a block scalar", .say = say_start_from},
	{.problem = "mapping keys are not allowed", .say = say_start},
	{.problem = "mapping values are not allowed", .say = say_colon},
	{.problem = "block sequence entries are not",
		.words = "a '- ' cannot stand here",
		.hint = DASH},
	{.problem = "expected node content", .say = say_content},
	{.problem = "expected key", .say = say_key},
	{.problem = "expected '-' indicator", .say = say_dash},
	{.problem = "expected ':'", .say = say_no_colon},
	{.problem = "<document start>", .say = say_document},
	{.problem = "',' or ']'",
		.words = "a comma or the closing ']' is missing before this",
		.hint = OPEN,
		.note = "the list begins here"},
	{.problem = "',' or '}'",
		.words = "a comma or the closing '}' is missing before this",
		.hint = OPEN,
		.note = "the table begins here"},
	{.problem = "end of stream",
		.from = true,
		.words = "this quote is never closed",
		.hint = CLOSE},
	{.problem = "document indicator",
		.from = true,
		.words = "this quote is never closed",
		.hint = CLOSE},
	{.problem = "unknown escape",
		.words = "this backslash has no meaning inside \"...\"",
		.hint = SLASH},
	{.context = "a quoted scalar",
		.words = "this is not the number of a character",
		.hint = SLASH},
};

static bool fits(const struct rule *rule, const struct stop *stop)
{
	return (!rule->problem || strstr(stop->problem, rule->problem)) &&
	       (!rule->context || strstr(stop->context, rule->context));
}

static void say_rule(const struct rule *rule, const struct stop *stop, struct diags *d)
{
	struct place at = rule->from && stop->from.line ? stop->from : stop->at;
	diag_error(d, BAD_SYNTAX, at, 1, "%s", rule->words);
	diag_hint(d, "%s", rule->hint);
	if (rule->note && stop->from.line)
		diag_note(d, stop->from, "%s", rule->note);
}

void explain(const struct stop *stop, struct diags *d)
{
	for (size_t i = 0; i < sizeof rules / sizeof *rules; i++) {
		if (!fits(&rules[i], stop))
			continue;
		if (rules[i].say)
			rules[i].say(stop, d);
		else
			say_rule(&rules[i], stop, d);
		return;
	}
	diag_error(d, BAD_SYNTAX, stop->at, 1, "this cannot be read: %s", stop->problem);
	diag_hint(d, "look at the quotes, brackets and indentation of this line and the one above");
}
