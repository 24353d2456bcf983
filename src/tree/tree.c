/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "tree/tree.h"

#include <string.h>

#include <barwright/base/nearest.h>
#include <barwright/base/utf8.h>

#include "tree/explain.h"
#include "tree/keys.h"

enum { ASKED_TOGETHER = 6 };
struct tree_asked {
	struct tree_asked *next;
	size_t n;
	const char *key[ASKED_TOGETHER]; /* of the child found, or a copy */
};

/* ---- words ----------------------------------------------------------------------------------- */

enum { SHOWN = 40 };

/* A document's text in a message: in quotes, cut between characters. */
static const char *quoted(struct arena *a, const char *s, size_t len, const char *otherwise)
{
	size_t n = len > SHOWN ? SHOWN : len;
	while (n < len && n && ((unsigned char)s[n] & 0xC0) == 0x80)
		n--;
	const char *made = arena_format(a, "'%.*s%s'", (int)n, s, n < len ? "..." : "");
	return made ? made : otherwise;
}

const char *tree_shown(const struct tree *t)
{
	return quoted(t->arena, t->text, t->len, "this");
}

const char *tree_name(const struct tree *t)
{
	if (t->key)
		return quoted(t->arena, t->key, t->key_len, "this");
	if (!t->parent)
		return "this file";
	const char *made = t->parent->key ? arena_format(t->arena, "entry %zu of %s", t->index + 1,
						    tree_name(t->parent))
					  : arena_format(t->arena, "entry %zu", t->index + 1);
	return made ? made : "this entry";
}

static bool is_nothing(const struct tree *t)
{
	return t->kind == TREE_SCALAR && !t->len && !t->quoted;
}

static const char *kind_words(const struct tree *t)
{
	return t->kind == TREE_MAP ? "a table" : t->kind == TREE_LIST ? "a list" : "a single value";
}

/* ---- places and faults ----------------------------------------------------------------------- */

/* Inside a literal block each line of the value is a line of the source behind the same blanks. */
static struct place place_in_block(const struct tree *t, size_t offset)
{
	size_t start = 0;
	struct place p = {t->place.source, t->place.line + 1, 1};
	for (size_t i = 0; i < offset; i++)
		if (t->text[i] == '\n') {
			start = i + 1;
			p.line++;
		}
	size_t len, wanted = strcspn(t->text + start, "\n");
	const char *line = source_line(p.source, p.line, &len);
	if (wanted > len || memcmp(line + len - wanted, t->text + start, wanted) != 0)
		return t->place;
	p.col += (uint32_t)utf8_count(line, len - wanted + offset - start);
	return p;
}

struct place tree_place(const struct tree *t, size_t offset)
{
	struct place p = t->place;
	if (offset > t->len)
		offset = t->len;
	while (offset && ((unsigned char)t->text[offset] & 0xC0) == 0x80)
		offset--; /* to the beginning of its character */
	if (t->straight)
		p.col += (uint32_t)utf8_count(t->text, offset);
	else if (t->block)
		p = place_in_block(t, offset);
	return p;
}

enum bad tree_fault(struct tree *t, struct diags *d, enum bad code, const char *format, ...)
{
	if (!t || t->broken)
		return code;
	va_list args;
	va_start(args, format);
	const char *words = arena_vformat(t->arena, format, args);
	va_end(args);
	t->broken = t->kind == TREE_SCALAR;
	if (!words) {
		d->out = 1;
		return BAD_MEMORY;
	}
	diag_error(d, code, t->place, t->span, "%s", words);
	return code;
}

/* ---- finding --------------------------------------------------------------------------------- */

static bool was_asked(const struct tree *map, const char *key)
{
	for (const struct tree_asked *asked = map->asked; asked; asked = asked->next)
		for (size_t i = 0; i < asked->n; i++)
			if (strcmp(asked->key[i], key) == 0)
				return true;
	return false;
}

/* Kept in the order of asking. When memory runs out only a suggestion is lost. */
static void ask(struct tree *map, const char *key)
{
	struct tree_asked *last = map->asked_last;
	if (!last || last->n == ASKED_TOGETHER) {
		struct tree_asked *more = arena_new(map->arena, struct tree_asked);
		if (!more)
			return;
		if (last)
			last->next = more;
		else
			map->asked = more;
		map->asked_last = last = more;
	}
	last->key[last->n++] = key;
}

static void ask_in_vain(struct tree *map, const char *key, size_t len)
{
	const char *copy = was_asked(map, key) ? NULL : arena_copy(map->arena, key, len);
	if (copy)
		ask(map, copy);
}

struct tree *tree_find(struct tree *map, const char *key)
{
	if (!map || map->kind != TREE_MAP)
		return NULL;
	size_t len = strlen(key);
	struct tree *found = keys_find(map, key, len);
	if (!found) {
		ask_in_vain(map, key, len);
		return NULL;
	}
	if (!found->used)
		ask(map, found->key);
	found->used = true;
	return found;
}

struct tree *tree_need(struct tree *map, const char *key, struct diags *d)
{
	if (!map || tree_is(map, TREE_MAP, d))
		return NULL;
	struct tree *found = tree_find(map, key);
	if (found)
		return found;
	if (map->key)
		diag_error(d, BAD_MISSING, map->key_place, map->key_span, "'%s' is missing in %s",
			key, tree_name(map));
	else
		diag_error(d, BAD_MISSING, map->place, 1, "'%s' is missing%s", key,
			map->parent ? " here" : "");
	return NULL;
}

struct tree *tree_at(const struct tree *list, size_t i)
{
	return list && list->kind == TREE_LIST && i < list->count ? list->at[i] : NULL;
}

static void hint_kind(const struct tree *t, enum tree_kind wanted, struct diags *d)
{
	const char *colon = memchr(t->text, ':', t->len);
	if (wanted == TREE_SCALAR && t->flow)
		diag_hint(d, "a text or formula that begins with '%c' belongs in quotes",
			t->kind == TREE_LIST ? '[' : '{');
	else if (wanted == TREE_SCALAR)
		diag_hint(d, "write one value behind the colon");
	else if (wanted == TREE_LIST && t->text[0] == '-')
		diag_hint(d, "write a space behind the '-'");
	else if (wanted == TREE_LIST)
		diag_hint(d, "write [a, b], or each entry on a line of its own with '- '");
	else if (colon)
		diag_hint(d, "write a space behind the colon");
	else
		diag_hint(d, "write NAME: VALUE, one on each line");
}

/* Is it worth looking at the line for a no-break space? Not when the words would not be kept. */
static bool may_be_blank(const char *text, const struct diags *d)
{
	return d->nerror < DIAGS_KEPT && strstr(text, "\xC2\xA0");
}

static enum bad refuse_nothing(struct tree *t, struct diags *d)
{
	enum bad code = tree_fault(t, d, BAD_MISSING, "%s has no value", tree_name(t));
	diag_hint(d, "write the value, or take the line away");
	return code;
}

enum bad tree_is(struct tree *t, enum tree_kind wanted, struct diags *d)
{
	static const char *const words[] = {"a single value", "a list", "a table"};
	if (!t)
		return BAD_MISSING;
	if (t->broken)
		return BAD_SYNTAX;
	if (is_nothing(t))
		return refuse_nothing(t, d);
	if (t->kind == wanted)
		return FINE;
	if (may_be_blank(t->text, d) && explain_blank(t->place.source, t->place.line, d)) {
		t->broken = true;
		return BAD_SYNTAX;
	}
	enum bad code = tree_fault(t, d, BAD_TYPE, "%s is %s where %s is needed", tree_name(t),
		kind_words(t), words[wanted]);
	hint_kind(t, wanted, d);
	t->broken = true;
	return code;
}

static struct nearest nearest_asked(const struct tree *map, const struct tree *t)
{
	struct nearest n = {.wanted = t->key, .len = t->key_len};
	for (const struct tree_asked *asked = map->asked; asked; asked = asked->next)
		for (size_t i = 0; i < asked->n; i++) {
			size_t len = strlen(asked->key[i]);
			if (!keys_find(map, asked->key[i], len))
				nearest_offer(&n, asked->key[i], len);
		}
	return n;
}

enum { LISTED = 16 };

static void hint_known(const struct tree *map, struct diags *d)
{
	struct text list;
	text_init(&list);
	size_t n = 0;
	for (const struct tree_asked *asked = map->asked; asked; asked = asked->next)
		for (size_t i = 0; i < asked->n && n < LISTED; i++)
			text_addf(&list, "%s%s", n++ ? ", " : "", asked->key[i]);
	if (n)
		diag_hint(d, "known here: %s%s", list.at, n == LISTED ? ", ..." : "");
	if (list.out)
		d->out = 1;
	text_release(&list);
}

/* {from: 4,0 mm} is read as from: 4 and a key '0 mm' without a value. */
static bool is_decimal_comma(const struct tree *t)
{
	return is_nothing(t) && t->key[0] >= '0' && t->key[0] <= '9';
}

static enum bad refuse_unknown(struct tree *map, struct tree *t, struct diags *d)
{
	struct nearest n = {0};
	t->used = t->broken = true;
	if (d->nerror < DIAGS_KEPT) /* else it is counted and not kept */
		n = nearest_asked(map, t);
	if (may_be_blank(t->key, d) && explain_blank(t->key_place.source, t->key_place.line, d))
		return BAD_UNKNOWN;
	diag_error(d, BAD_UNKNOWN, t->key_place, t->key_span, "nothing here is called %s",
		tree_name(t));
	if (n.word)
		diag_hint(d, "did you mean '%s'?", n.word);
	else if (is_decimal_comma(t))
		diag_hint(d, "write a decimal point, not a comma");
	else if (is_nothing(t) && strchr(t->key, ':'))
		diag_hint(d, "write a space behind the colon");
	else
		hint_known(map, d);
	return BAD_UNKNOWN;
}

enum bad tree_unknown(struct tree *map, struct diags *d)
{
	enum bad code = tree_is(map, TREE_MAP, d);
	if (code)
		return code;
	for (struct tree *child = map->first; child; child = child->next)
		if (!child->used)
			code = refuse_unknown(map, child, d);
	return code;
}
