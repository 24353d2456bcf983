/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/scan.h"

#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include <barwright/base/utf8.h>

const struct rule scan_rules[] = {
#define X(name, shown, prefix, infix, chain, op) {shown, prefix, infix, CHAIN_##chain, OP_##op},
	TOKENS(X)
#undef X
};
enum { RULES = sizeof scan_rules / sizeof *scan_rules };

static const struct rule *op_rule(enum op op)
{
	if (op == OP_NEGATE)
		return &scan_rules[TOKEN_MINUS];
	for (size_t i = 0; i < RULES; i++)
		if (scan_rules[i].op == op)
			return &scan_rules[i];
	return &scan_rules[TOKEN_END];
}

const char *scan_op_word(enum op op)
{
	return op_rule(op)->shown;
}

int scan_op_rank(enum op op)
{
	const struct rule *rule = op_rule(op);
	return op == OP_NEGATE || op == OP_NOT ? rule->prefix : rule->infix;
}

/* Signs, the longer ones first. Those with `instead` belong to other notations: reported, then
 * read as what they mean there (WRONG: nothing one could go on with). */
static const struct {
	const char *sign;
	enum token_kind kind;
	const char *instead;
} signs[] = {
	{"<=", TOKEN_LESS_EQUAL, NULL},
	{">=", TOKEN_MORE_EQUAL, NULL},
	{"<>", TOKEN_UNEQUAL, NULL},
	{"==", TOKEN_EQUAL, "="},
	{"!=", TOKEN_UNEQUAL, "<>"},
	{"=<", TOKEN_LESS_EQUAL, "<="},
	{"=>", TOKEN_MORE_EQUAL, ">="},
	{"**", TOKEN_RAISED, "^"},
	{"&&", TOKEN_AND, "and"},
	{"||", TOKEN_OR, "or"},
	{"(", TOKEN_OPEN, NULL},
	{")", TOKEN_CLOSE, NULL},
	{"[", TOKEN_LIST, NULL},
	{"]", TOKEN_LIST_END, NULL},
	{",", TOKEN_COMMA, NULL},
	{"=", TOKEN_EQUAL, NULL},
	{"<", TOKEN_LESS, NULL},
	{">", TOKEN_MORE, NULL},
	{"+", TOKEN_PLUS, NULL},
	{"-", TOKEN_MINUS, NULL},
	{"*", TOKEN_TIMES, NULL},
	{"/", TOKEN_OVER, NULL},
	{"^", TOKEN_RAISED, NULL},
	{";", TOKEN_COMMA, ","},
	{"{", TOKEN_OPEN, "("},
	{"}", TOKEN_CLOSE, ")"},
	{"&", TOKEN_AND, "and"},
	{"|", TOKEN_OR, "or"},
	{"!", TOKEN_NOT, "not"},
	/* typeset signs, as they come when a formula is pasted from a text */
	{"\xE2\x88\x92", TOKEN_MINUS, NULL},      /* U+2212 minus */
	{"\xC3\x97", TOKEN_TIMES, NULL},          /* U+00D7 times */
	{"\xC2\xB7", TOKEN_TIMES, NULL},          /* U+00B7 middle dot */
	{"\xE2\x8B\x85", TOKEN_TIMES, NULL},      /* U+22C5 dot operator */
	{"\xC3\xB7", TOKEN_OVER, NULL},           /* U+00F7 division */
	{"\xE2\x89\xA4", TOKEN_LESS_EQUAL, NULL}, /* U+2264 */
	{"\xE2\x89\xA5", TOKEN_MORE_EQUAL, NULL}, /* U+2265 */
	{"\xE2\x89\xA0", TOKEN_UNEQUAL, NULL},    /* U+2260 */
	{"\xC2\xB2", TOKEN_WRONG, "^2"},
	{"\xC2\xB3", TOKEN_WRONG, "^3"},
	{"\xE2\x88\x9A", TOKEN_WRONG, "sqrt(...)"},
	{"\xCF\x80", TOKEN_PI, NULL}, /* U+03C0 */
	{"%", TOKEN_WRONG, "the % right behind a number, as in 25 %"},
	{"\"", TOKEN_WRONG, "names without quotation marks"},
	{"'", TOKEN_WRONG, "names without quotation marks"},
	{"?", TOKEN_WRONG, "if ... then ... else ..."},
};
enum { SIGNS = sizeof signs / sizeof *signs };

/* ---- places and messages -------------------------------------------------------------------- */

struct place reader_place(const struct reader *r, uint32_t start)
{
	struct place p = r->at;
	if (!r->straight)
		return p;
	for (size_t i = 0; i < start && i < r->len; i += utf8_step(r->text + i, r->len - i)) {
		if (r->text[i] == '\n') {
			p.line++;
			p.col = 1;
		} else {
			p.col++;
		}
	}
	return p;
}

uint32_t reader_span(const struct reader *r, uint32_t start, uint32_t len)
{
	uint32_t span = 0;
	size_t i = start;
	while (r->straight && i < r->len && i < (size_t)start + len && r->text[i] != '\n') {
		i += utf8_step(r->text + i, r->len - i);
		span++;
	}
	return span ? span : 1;
}

void reader_fault(
	struct reader *r, enum bad code, uint32_t start, uint32_t len, const char *format, ...)
{
	va_list args;
	va_start(args, format);
	char *words = arena_vformat(r->d->arena, format, args);
	va_end(args);
	if (!words)
		reader_out(r);
	diag_error(r->d, code, reader_place(r, start), reader_span(r, start, len), "%s",
		words ? words : bad_text(code));
	if (!r->code)
		r->code = code;
}

void reader_out(struct reader *r)
{
	r->code = BAD_MEMORY;
}

struct quote reader_quote(const struct reader *r, uint32_t start, uint32_t len)
{
	struct quote q;
	size_t n = 0;
	for (size_t i = start, end = (size_t)start + len; i < end;) {
		size_t bytes = utf8_step(r->text + i, r->len - i);
		if (n + bytes > QUOTE_BYTES) {
			memcpy(q.text + n, "...", 3);
			n += 3;
			break;
		}
		memcpy(q.text + n, r->text + i, bytes);
		if (q.text[n] == '\n' || q.text[n] == '\0')
			q.text[n] = ' ';
		n += bytes;
		i += bytes;
	}
	q.text[n] = '\0';
	return q;
}

/* ---- numbers and units ---------------------------------------------------------------------- */

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_letter(char c)
{
	return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}

static char at(const struct reader *r, size_t i)
{
	return i < r->len ? r->text[i] : '\0';
}

static bool starts(const struct reader *r, size_t i, const char *sign)
{
	if (at(r, i) != *sign)
		return false;
	size_t n = strlen(sign);
	return i + n <= r->len && memcmp(r->text + i, sign, n) == 0;
}

static bool is_blank(char c)
{
	return c == ' ' || c == '\t' || c == '\n' || c == '\r';
}

/* No-break and thin spaces come with pasted texts. */
static size_t blank_bytes(const struct reader *r, size_t i)
{
	static const char *const wide[] = {"\xC2\xA0", "\xE2\x80\x89", "\xE2\x80\xAF"};
	if (is_blank(at(r, i)))
		return 1;
	for (size_t k = 0; k < sizeof wide / sizeof *wide; k++)
		if (starts(r, i, wide[k]))
			return strlen(wide[k]);
	return 0;
}

static size_t skip_blanks(const struct reader *r, size_t i)
{
	for (size_t n; (n = blank_bytes(r, i)) > 0;)
		i += n;
	return i;
}

static size_t digits_end(const struct reader *r, size_t i)
{
	while (is_digit(at(r, i)))
		i++;
	return i;
}

/* The end of "12", "3.5" or "81e-6". */
static size_t number_end(const struct reader *r, size_t i)
{
	i = digits_end(r, i);
	if (at(r, i) == '.' && is_digit(at(r, i + 1)))
		i = digits_end(r, i + 1);
	if (at(r, i) == 'e' || at(r, i) == 'E') {
		size_t sign = at(r, i + 1) == '-' || at(r, i + 1) == '+';
		if (is_digit(at(r, i + 1 + sign)))
			i = digits_end(r, i + 1 + sign);
	}
	return i;
}

/* Letters of a unit name: ASCII, the two mu, the degree sign; or the percent sign alone. */
static size_t unit_name_end(const struct reader *r, size_t i)
{
	if (at(r, i) == '%')
		return i + 1;
	for (;;) {
		if (is_letter(at(r, i)))
			i++;
		else if (starts(r, i, "\xC2\xB5") || starts(r, i, "\xCE\xBC") ||
			 starts(r, i, "\xC2\xB0"))
			i += 2;
		else
			return i;
	}
}

/* "2", "^2", "^-1" or a superscript behind a unit name. */
static size_t unit_power_end(const struct reader *r, size_t i)
{
	if (starts(r, i, "\xC2\xB2") || starts(r, i, "\xC2\xB3"))
		return i + 2;
	if (starts(r, i, "\xE2\x81") && at(r, i + 2) >= '\xB4' && at(r, i + 2) <= '\xB9')
		return i + 3; /* 4 to 9 */
	size_t k = i + (at(r, i) == '^');
	k += k > i && at(r, k) == '-';
	return is_digit(at(r, k)) ? digits_end(r, k) : i;
}

bool scan_is_word(const char *s, size_t len)
{
	for (size_t i = 0; i < RULES; i++) {
		const char *shown = scan_rules[i].shown;
		if (len && *shown == *s && strncmp(shown, s, len) == 0 && !shown[len])
			return is_letter(*s) && !memchr(s, ' ', len);
	}
	return false;
}

static bool is_unit(const char *s, size_t len)
{
	struct unit unit;
	size_t fault, fault_len;
	return len && unit_read(s, len, &unit, &fault, &fault_len) == FINE;
}

/* Where a unit goes on at byte i behind the one before: directly behind a stroke or a times
 * sign, or behind blanks ("N mm"); 0 when what stands there is no unit. */
static size_t unit_more(const struct reader *r, size_t i)
{
	static const char *const joints[] = {"/", "*", "\xC2\xB7", "\xE2\x8B\x85"};
	size_t next = skip_blanks(r, i);
	for (size_t k = 0; k < sizeof joints / sizeof *joints; k++)
		if (starts(r, i, joints[k]))
			next = i + strlen(joints[k]);
	size_t end = unit_name_end(r, next);
	if (next == i || end == next || scan_is_word(r->text + next, end - next) ||
		!is_unit(r->text + next, end - next))
		return 0;
	return next;
}

struct local *reader_local(const struct reader *r, const char *name, size_t len)
{
	struct local *l = r->local;
	while (l && (l->len != len || memcmp(l->name, name, len) != 0))
		l = l->outer;
	return l;
}

/* "2 h" or "10 N/h" where h is a name too: only the author knows what is meant. */
static void refuse_double_sense(struct reader *r, struct token *t, size_t start, size_t end)
{
	const char *word = r->text + start;
	int n = (int)(end - start);
	bool unit = is_unit(word, end - start), behind_unit = start > t->unit_start;
	size_t slot;
	if (!reader_local(r, word, end - start) &&
		!formula_scope_find(r->scope, word, end - start, &slot))
		return;
	reader_fault(r, BAD_SYNTAX, t->start, (uint32_t)(end - t->start),
		unit ? "%.*s is a unit, and a name of this document too"
		     : "%.*s stands right behind a number, but it is a name, not a unit",
		n, word);
	t->kind = TOKEN_WRONG;
	if (behind_unit)
		diag_hint(r->d,
			"write blanks round the sign for the name; if the unit is meant, give the "
			"name another name");
	else
		diag_hint(r->d,
			unit ? "write %.*s * %.*s for the name; if the unit is meant, give the "
			       "name another name"
			     : "write %.*s * %.*s",
			(int)t->digits, r->text + t->start, n, word);
}

static void report_unit(struct reader *r, struct token *t, enum bad code, size_t fault, size_t len)
{
	const char *word = r->text + t->unit_start + fault;
	uint32_t start = (uint32_t)(t->unit_start + fault), n = (uint32_t)len;
	const char *near = unit_nearest(word, len);
	size_t slot;
	if (formula_scope_find(r->scope, word, len, &slot))
		return; /* said already */
	if (code == BAD_UNKNOWN)
		reader_fault(r, code, start, n, "%.*s is not a unit", (int)len, word);
	else
		reader_fault(r, code, t->unit_start, t->unit_len, "%.*s cannot be read as a unit",
			(int)t->unit_len, r->text + t->unit_start);
	if (code == BAD_UNKNOWN && near)
		diag_hint(r->d, "did you mean %s?", near);
	else if (code == BAD_UNKNOWN)
		diag_hint(r->d, "a word behind a number is its unit; write * before a name");
}

/* Finds the unit behind a number: from t->unit_start to the end of what reads as one unit. */
static void scan_unit(struct reader *r, struct token *t)
{
	size_t start = skip_blanks(r, r->i), end = unit_name_end(r, start);
	t->unit = (struct unit){1, 0, {{0}}};
	if (end == start || scan_is_word(r->text + start, end - start))
		return;
	t->unit_start = (uint32_t)start;
	refuse_double_sense(r, t, start, end);
	end = unit_power_end(r, end);
	for (size_t more; (more = unit_more(r, end)) > 0;) {
		end = unit_name_end(r, more);
		refuse_double_sense(r, t, more, end);
		end = unit_power_end(r, end);
	}
	t->unit_len = (uint32_t)(end - start);
	r->i = end;
	size_t fault, len;
	enum bad code = unit_read(r->text + t->unit_start, t->unit_len, &t->unit, &fault, &len);
	if (code) {
		report_unit(r, t, code, fault, len);
		t->kind = TOKEN_WRONG;
	}
}

static void scan_value(struct reader *r, struct token *t)
{
	char digits[64];
	if (t->digits >= sizeof digits) {
		reader_fault(r, BAD_SIZE, t->start, t->digits, "a number of %u digits: 63 at most",
			(unsigned)t->digits);
		t->kind = TOKEN_WRONG;
		return;
	}
	memcpy(digits, r->text + t->start, t->digits);
	digits[t->digits] = '\0';
	t->bare = strtod(digits, NULL);
	if (!(t->bare <= DBL_MAX)) {
		reader_fault(r, BAD_RANGE, t->start, t->digits, "this number is too large");
		t->kind = TOKEN_WRONG;
	}
}

/* "1 000" and "1.2.3": a number cannot follow a number. */
static void refuse_torn_number(struct reader *r, struct token *t)
{
	size_t next = skip_blanks(r, r->i);
	size_t point = next + (at(r, next) == '.');
	if (!is_digit(at(r, point))) {
		if (point > next) {
			reader_fault(r, BAD_SYNTAX, (uint32_t)next, 1,
				"digits are missing behind the point");
			r->i = point;
		}
		return;
	}
	size_t end = number_end(r, point);
	reader_fault(r, BAD_SYNTAX, t->start, (uint32_t)(end - t->start),
		"two numbers stand side by side");
	diag_hint(r->d, "write large numbers without blanks (12500), one point at most (3.5), and "
			"commas between the values of a list");
	r->i = end;
	t->kind = TOKEN_WRONG;
}

static struct token scan_number(struct reader *r)
{
	struct token t = {.kind = TOKEN_NUMBER, .start = (uint32_t)r->i};
	r->i = number_end(r, r->i + (at(r, r->i) == '.'));
	t.digits = (uint32_t)(r->i - t.start);
	scan_value(r, &t);
	refuse_torn_number(r, &t);
	scan_unit(r, &t);
	t.len = (uint32_t)(r->i - t.start);
	t.value = t.bare * t.unit.factor + t.unit.offset;
	if (t.kind == TOKEN_NUMBER && !(fabs(t.value) <= DBL_MAX)) {
		reader_fault(r, BAD_RANGE, t.start, t.len, "this number is too large");
		t.kind = TOKEN_WRONG;
	}
	return t;
}

/* ---- names, signs --------------------------------------------------------------------------- */

static struct token scan_name(struct reader *r)
{
	struct token t = {.kind = TOKEN_NAME, .start = (uint32_t)r->i};
	while (is_letter(at(r, r->i)) || is_digit(at(r, r->i)))
		r->i++;
	t.len = (uint32_t)(r->i - t.start);
	if (!scan_is_word(r->text + t.start, t.len))
		return t;
	for (int kind = 0; kind < RULES; kind++)
		if (strlen(scan_rules[kind].shown) == t.len &&
			memcmp(scan_rules[kind].shown, r->text + t.start, t.len) == 0)
			t.kind = (enum token_kind)kind;
	return t;
}

static struct token scan_stranger(struct reader *r)
{
	uint32_t code, start = (uint32_t)r->i;
	size_t n = utf8_read(r->text + r->i, r->len - r->i, &code);
	r->i += n ? n : 1;
	if (!n)
		reader_fault(r, BAD_ENCODING, start, 1, "a byte that is not UTF-8 text");
	else if (code < 0x20 || !utf8_is_safe(code))
		reader_fault(
			r, BAD_SYNTAX, start, 1, "an invisible character, U+%04X", (unsigned)code);
	else
		reader_fault(r, BAD_SYNTAX, start, (uint32_t)n, "%.*s has no meaning in a formula",
			(int)n, r->text + start);
	if (n && code >= 0x80)
		diag_hint(r->d, "names are made of the letters a to z, digits and _");
	return (struct token){.kind = TOKEN_WRONG, .start = start, .len = (uint32_t)(n ? n : 1)};
}

static struct token scan_sign(struct reader *r)
{
	for (size_t k = 0; k < SIGNS; k++) {
		if (!starts(r, r->i, signs[k].sign))
			continue;
		struct token t = {
			signs[k].kind, (uint32_t)r->i, (uint32_t)strlen(signs[k].sign), .value = 0};
		r->i += t.len;
		if (signs[k].instead) {
			reader_fault(r, BAD_SYNTAX, t.start, t.len, "%s is not used here",
				signs[k].sign);
			diag_hint(r->d, "write %s", signs[k].instead);
		}
		return t;
	}
	return scan_stranger(r);
}

struct token scan_next(struct reader *r)
{
	r->i = skip_blanks(r, r->i);
	char c = at(r, r->i);
	if (r->i >= r->len)
		return (struct token){.kind = TOKEN_END, .start = (uint32_t)r->len};
	if (is_digit(c) || (c == '.' && is_digit(at(r, r->i + 1))))
		return scan_number(r);
	if (is_letter(c))
		return scan_name(r);
	return scan_sign(r);
}
