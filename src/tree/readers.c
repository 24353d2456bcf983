/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The typed readers of tree.h. */
#include <assert.h>
#include <math.h>
#include <string.h>

#include <barwright/base/nearest.h>
#include <barwright/base/number.h>
#include <barwright/base/text.h>
#include <barwright/base/unit.h>
#include <barwright/base/utf8.h>

#include "tree/tree.h"

/* ---- texts and words ------------------------------------------------------------------------- */

enum bad tree_text(struct tree *t, struct diags *d, const char **out)
{
	enum bad code = tree_is(t, TREE_SCALAR, d);
	if (!code)
		*out = t->text;
	return code;
}

static bool text_is(const struct tree *t, const char *word)
{
	return t->len == strlen(word) && memcmp(t->text, word, t->len) == 0;
}

enum bad tree_truth(struct tree *t, struct diags *d, bool *out)
{
	enum bad code = tree_is(t, TREE_SCALAR, d);
	if (code)
		return code;
	if (t->quoted || (!text_is(t, "true") && !text_is(t, "false"))) {
		code = tree_fault(t, d, BAD_TYPE, "%s is %s where true or false is needed",
			tree_name(t), tree_shown(t));
		diag_hint(d, "write true or false%s", t->quoted ? " without quotes" : "");
		return code;
	}
	*out = t->text[0] == 't';
	return FINE;
}

/* "upper, lower"; the first few when there are many. Lives in the arena. */
static const char *word_list(struct arena *a, const char *const *words, size_t n)
{
	enum { LISTED = 16 };
	struct text list;
	text_init(&list);
	for (size_t i = 0; i < n && i < LISTED; i++)
		text_addf(&list, "%s%s", i ? ", " : "", words[i]);
	if (n > LISTED)
		text_add(&list, ", ...");
	const char *made = list.out ? NULL : arena_copy(a, list.at, list.len);
	text_release(&list);
	return made ? made : "(no memory left for the words)";
}

static enum bad refuse_word(struct tree *t, const char *const *words, size_t n, struct diags *d)
{
	struct nearest search = {.wanted = t->text, .len = t->len};
	for (size_t i = 0; i < n; i++)
		nearest_offer(&search, words[i], strlen(words[i]));
	enum bad code = tree_fault(t, d, BAD_UNKNOWN, "%s is %s; it can be: %s", tree_name(t),
		tree_shown(t), word_list(t->arena, words, n));
	if (search.word)
		diag_hint(d, "did you mean '%s'?", search.word);
	else
		diag_hint(d, "write one of these words");
	return code;
}

enum bad tree_word(struct tree *t, const char *const *words, size_t n, struct diags *d, size_t *out)
{
	enum bad code = tree_is(t, TREE_SCALAR, d);
	if (code)
		return code;
	for (size_t i = 0; i < n; i++)
		if (text_is(t, words[i])) {
			*out = i;
			return FINE;
		}
	return refuse_word(t, words, n, d);
}

/* ---- plain numbers --------------------------------------------------------------------------- */

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Bytes at the start that make a number with a point: sign, digits, point, digits. */
static size_t number_length(const char *s, size_t len)
{
	size_t n = len && (s[0] == '-' || s[0] == '+');
	while (n < len && (is_digit(s[n]) || s[n] == '.'))
		n++;
	return n;
}

/* A 0 before other digits: some programs read 012 as ten. */
static bool has_leading_zero(const char *s, size_t len)
{
	size_t n = len && (s[0] == '-' || s[0] == '+');
	return n + 1 < len && s[n] == '0' && is_digit(s[n + 1]);
}

static bool has_comma(const struct tree *t)
{
	size_t n = number_length(t->text, t->len);
	return n && n + 1 < t->len && t->text[n] == ',' && is_digit(t->text[n + 1]);
}

/* `wanted`: "a whole number". The hint gives way where it can be told what was meant. */
static enum bad refuse_number(struct tree *t, const char *wanted, const char *hint, struct diags *d)
{
	enum bad code = tree_fault(
		t, d, BAD_TYPE, "%s is %s where %s is needed", tree_name(t), tree_shown(t), wanted);
	if (has_comma(t))
		hint = "write a decimal point, not a comma";
	else if (has_leading_zero(t->text, t->len))
		hint = "write it without the 0 in front";
	else if (t->quoted && number_length(t->text, t->len) == t->len)
		hint = "take the quotes away: what stands in quotes is a text";
	diag_hint(d, "%s", hint);
	return code;
}

/* Optional minus, digits; BAD_SIZE beyond int64. */
static enum bad whole_read(const char *s, size_t len, int64_t *out)
{
	bool minus = len && s[0] == '-';
	int64_t n = 0;
	if (len == minus || has_leading_zero(s, len))
		return BAD_SYNTAX;
	for (size_t i = minus; i < len; i++) {
		if (!is_digit(s[i]))
			return BAD_SYNTAX;
		int digit = s[i] - '0';
		if (n < (INT64_MIN + digit) / 10)
			return BAD_SIZE;
		n = n * 10 - digit; /* kept negative: that side reaches one further */
	}
	if (!minus && n == INT64_MIN)
		return BAD_SIZE;
	*out = minus ? n : -n;
	return FINE;
}

static enum bad refuse_range(struct tree *t, int64_t low, int64_t high, struct diags *d)
{
	long long from = low, to = high;
	if (low == INT64_MIN && high == INT64_MAX)
		return tree_fault(t, d, BAD_RANGE, "%s has too many digits", tree_name(t));
	if (high == INT64_MAX)
		return tree_fault(t, d, BAD_RANGE, "%s is %s; it must be %lld or more",
			tree_name(t), tree_shown(t), from);
	if (low == INT64_MIN)
		return tree_fault(t, d, BAD_RANGE, "%s is %s; it must be %lld or less",
			tree_name(t), tree_shown(t), to);
	return tree_fault(t, d, BAD_RANGE, "%s is %s; it must be from %lld to %lld", tree_name(t),
		tree_shown(t), from, to);
}

enum bad tree_whole(struct tree *t, int64_t low, int64_t high, struct diags *d, int64_t *out)
{
	int64_t n;
	enum bad code = tree_is(t, TREE_SCALAR, d);
	if (code)
		return code;
	code = t->quoted ? BAD_SYNTAX : whole_read(t->text, t->len, &n);
	if (code == BAD_SYNTAX)
		return refuse_number(t, "a whole number", "write it in digits, for example 3", d);
	if (code || n < low || n > high)
		return refuse_range(t, low, high, d);
	*out = n;
	return FINE;
}

static enum bad refuse_digits(struct tree *t, struct diags *d)
{
	enum bad code = tree_fault(t, d, BAD_SIZE, "%s has too many digits", tree_name(t));
	diag_hint(d, "at most 15 digits are read, %d of them behind the point", DECIMAL_PLACES);
	return code;
}

/* ---- numbers with units ---------------------------------------------------------------------- */

/* "a length", in the arena. */
static const char *dim_words(struct arena *a, struct dim dim)
{
	struct text name;
	text_init(&name);
	dim_add_name(dim, &name);
	const char *made = name.out ? NULL : arena_copy(a, name.at, name.len);
	text_release(&name);
	return made ? made : "another quantity";
}

/* What is asked for: the unit of a bare number. */
struct wanted {
	const char *name;
	struct unit of;
};

static struct wanted want(const char *unit)
{
	size_t fault, fault_len;
	struct wanted wanted = {.name = unit};
	enum bad code = unit_read(unit, strlen(unit), &wanted.of, &fault, &fault_len);
	assert(!code); /* the caller's own word */
	(void)code;
	return wanted;
}

static const char *example(struct arena *a, const struct wanted *wanted)
{
	const char *made = arena_format(
		a, "write for example 3.5%s%s", *wanted->name ? " " : "", wanted->name);
	return made ? made : "write a number with its unit";
}

/* Spaces between number and unit: ordinary, no-break, thin and narrow no-break. */
static size_t space_length(const char *s, size_t len)
{
	size_t i = 0;
	uint32_t code;
	for (;;) {
		size_t n = utf8_read(s + i, len - i, &code);
		bool is_space =
			n && (code == ' ' || code == 0xA0 || code == 0x2009 || code == 0x202F);
		if (!is_space)
			return i;
		i += n;
	}
}

static enum bad refuse_unit(struct tree *t, enum bad code, size_t offset, size_t len,
	const struct wanted *wanted, struct diags *d)
{
	const char *unit = t->text + offset;
	const char *near = code == BAD_UNKNOWN ? unit_nearest(unit, len) : NULL;
	uint32_t span = t->straight ? (uint32_t)utf8_count(unit, len) : t->span;
	if (code == BAD_UNKNOWN)
		diag_error(d, code, tree_place(t, offset), span, "there is no unit '%.*s'",
			(int)(len > 40 ? 40 : len), unit);
	else
		diag_error(d, code, tree_place(t, offset), span, "this unit of %s cannot be read",
			tree_name(t));
	if (near)
		diag_hint(d, "did you mean '%s'?", near);
	else
		diag_hint(d, "%s", example(t->arena, wanted));
	t->broken = true;
	return code;
}

static enum bad refuse_dim(
	struct tree *t, struct dim got, const struct wanted *wanted, struct diags *d)
{
	enum bad code = tree_fault(t, d, BAD_UNIT, "%s is %s, %s, where %s is needed", tree_name(t),
		tree_shown(t), dim_words(t->arena, got), dim_words(t->arena, wanted->of.dim));
	diag_hint(d, "%s", example(t->arena, wanted));
	return code;
}

static enum bad read_unit(
	struct tree *t, size_t at, const struct wanted *wanted, struct diags *d, struct unit *out)
{
	size_t fault, fault_len;
	struct unit made;
	enum bad code = unit_read(t->text + at, t->len - at, &made, &fault, &fault_len);
	if (code)
		return refuse_unit(t, code, at + fault, fault_len, wanted, d);
	if (!dim_is_equal(made.dim, wanted->of.dim))
		return refuse_dim(t, made.dim, wanted, d);
	*out = made;
	return FINE;
}

enum bad tree_number(struct tree *t, const char *wanted, const char *hint, struct diags *d,
	struct decimal *out, size_t *unit_at)
{
	struct decimal number;
	enum bad code = tree_is(t, TREE_SCALAR, d);
	if (code)
		return code;
	size_t n = number_length(t->text, t->len);
	code = decimal_read(t->text, n, &number);
	if (code == BAD_SIZE)
		return refuse_digits(t, d);
	if (code || has_leading_zero(t->text, n) || has_comma(t))
		return refuse_number(t, wanted, hint, d);
	*out = number;
	*unit_at = n + space_length(t->text + n, t->len - n);
	return FINE;
}

/* Its value in SI-mm. */
static enum bad value_read(
	struct tree *t, const struct wanted *wanted, struct diags *d, double *out)
{
	struct decimal number;
	struct unit of = wanted->of;
	size_t at;
	enum bad code = tree_is(t, TREE_SCALAR, d);
	if (!code)
		code = tree_number(
			t, dim_words(t->arena, of.dim), example(t->arena, wanted), d, &number, &at);
	if (!code && at < t->len)
		code = read_unit(t, at, wanted, d, &of);
	if (!code)
		*out = decimal_value(number) * of.factor + of.offset;
	return code;
}

enum bad tree_quantity(struct tree *t, const char *unit, struct diags *d, double *out)
{
	return tree_quantity_in(t, unit, -INFINITY, INFINITY, d, out);
}

static enum bad refuse_outside(
	struct tree *t, const char *unit, double low, double high, struct diags *d)
{
	const char *blank = *unit ? " " : "";
	if (isinf(high))
		return tree_fault(t, d, BAD_RANGE, "%s is %s; it must be %g%s%s or more",
			tree_name(t), tree_shown(t), low, blank, unit);
	if (isinf(low))
		return tree_fault(t, d, BAD_RANGE, "%s is %s; it must be %g%s%s or less",
			tree_name(t), tree_shown(t), high, blank, unit);
	return tree_fault(t, d, BAD_RANGE, "%s is %s; it must be from %g to %g%s%s", tree_name(t),
		tree_shown(t), low, high, blank, unit);
}

enum bad tree_quantity_in(
	struct tree *t, const char *unit, double low, double high, struct diags *d, double *out)
{
	struct wanted wanted = want(unit);
	double inside;
	enum bad code = value_read(t, &wanted, d, &inside);
	if (code)
		return code;
	/* 2.007 m comes out as 2007.0000000000002 mm: a limit holds to within rounding. */
	double value = (inside - wanted.of.offset) / wanted.of.factor;
	double slack = 1e-12 * fabs(value);
	if (value < low - slack || value > high + slack)
		return refuse_outside(t, unit, low, high, d);
	*out = inside;
	return FINE;
}

/* ---- lists of each --------------------------------------------------------------------------- */

/* Room for the children of a list, at least one piece. */
static enum bad list_room(struct tree *t, size_t size, struct arena *a, struct diags *d, void **out)
{
	enum bad code = tree_is(t, TREE_LIST, d);
	if (code)
		return code;
	void *room = arena_list(a, t->count ? t->count : 1, size);
	if (!room) {
		d->out = 1;
		return BAD_MEMORY;
	}
	*out = room;
	return FINE;
}

static enum bad first_of(enum bad code, enum bad next)
{
	return code ? code : next;
}

enum bad tree_wholes(struct tree *t, int64_t low, int64_t high, struct arena *a, struct diags *d,
	int64_t **out, size_t *n)
{
	void *room;
	enum bad code = list_room(t, sizeof **out, a, d, &room);
	if (code)
		return code;
	int64_t *list = room, *at = list;
	for (struct tree *child = t->first; child; child = child->next)
		code = first_of(code, tree_whole(child, low, high, d, at++));
	if (code)
		return code;
	*out = list;
	*n = t->count;
	return FINE;
}

enum bad tree_quantities(
	struct tree *t, const char *unit, struct arena *a, struct diags *d, double **out, size_t *n)
{
	void *room;
	enum bad code = list_room(t, sizeof **out, a, d, &room);
	if (code)
		return code;
	double *list = room, *at = list;
	for (struct tree *child = t->first; child; child = child->next)
		code = first_of(code, tree_quantity(child, unit, d, at++));
	if (code)
		return code;
	*out = list;
	*n = t->count;
	return FINE;
}
