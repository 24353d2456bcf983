/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Texts with values in them.
 *
 *	{name}      the value of a draw or let, with its unit, in the places it is declared with
 *	{name:1}    the same with 1 decimal place (0 to 9)
 *	{name:clock}, {name:days}   a time counted from midnight of day 1 as "14:35", "day 2, 14:35"
 *	{{          a brace
 *
 * A closing brace alone is a closing brace. */
#include "course/doc.h"

#include <string.h>

#include <barwright/base/nearest.h>
#include <barwright/base/utf8.h>

/* One text being cut into pieces. */
struct cut {
	struct doc *doc;
	const struct names *names;
	struct tree *t;
	const char *s;
	size_t len;
	struct piece *piece;
	size_t n;
};

static void add_plain(struct cut *k, size_t from, size_t end)
{
	if (end > from)
		k->piece[k->n++] = (struct piece){k->s + from, end - from, NO_SLOT, -1};
}

static void fault(
	struct cut *k, enum bad code, size_t at, size_t len, const char *words, const char *hint)
{
	diag_error(k->doc->diags, code, tree_place(k->t, at), (uint32_t)utf8_count(k->s + at, len),
		"%s", words);
	diag_hint(k->doc->diags, "%s", hint);
}

static void unknown(struct cut *k, size_t at, size_t len)
{
	const struct formula_scope *scope = k->names->scope;
	struct nearest near = {.wanted = k->s + at, .len = len};
	if (names_is_lost(k->names, k->s + at, len))
		return;
	diag_error(k->doc->diags, BAD_UNKNOWN, tree_place(k->t, at),
		(uint32_t)utf8_count(k->s + at, len), "no draw and no 'let' is called '%.*s'",
		(int)len, k->s + at);
	for (size_t i = 0; i < scope->n; i++)
		nearest_offer(&near, scope->name[i].name, scope->name[i].len);
	if (near.word)
		diag_hint(k->doc->diags, "did you mean '%.*s'?", (int)near.word_len, near.word);
	else
		diag_hint(k->doc->diags, "a brace that is to be shown is written '{{'");
}

/* What stands behind the colon: a digit or a word. */
static bool read_form(const struct cut *k, const char *s, size_t len, int *out)
{
	static const struct {
		const char *word;
		int form;
	} forms[] = {{"clock", PLACES_CLOCK}, {"days", PLACES_DAYS}};
	if (len == 1 && *s >= '0' && *s <= '9') {
		*out = *s - '0';
		return true;
	}
	for (size_t i = 0; k->doc->clock && i < sizeof forms / sizeof *forms; i++)
		if (strlen(forms[i].word) == len && memcmp(forms[i].word, s, len) == 0) {
			*out = forms[i].form;
			return true;
		}
	return false;
}

static bool is_time(struct dim dim)
{
	return dim_is_equal(dim, (struct dim){.power[DIM_TIME] = 1});
}

/* The value named in s[at..end), which stands between braces: "r" or "r:1". */
static void add_value(struct cut *k, size_t at, size_t end)
{
	const char *s = k->s, *colon = memchr(s + at, ':', end - at);
	size_t name_end = colon ? (size_t)(colon - s) : end, slot;
	int places = -1;
	if (colon && !read_form(k, s + name_end + 1, end - name_end - 1, &places)) {
		fault(k, BAD_SYNTAX, name_end, end - name_end,
			"one digit from 0 to 9 is needed between ':' and '}'",
			"'{name:1}' shows a value with 1 decimal place; 'clock' and 'days' show a "
			"time of day");
		return;
	}
	if (name_end == at) {
		fault(k, BAD_SYNTAX, at - 1, end + 1 - (at - 1),
			"no name stands between the braces",
			"write '{name}', or '{{' for a brace that is to be shown");
		return;
	}
	if (!formula_scope_find(k->names->scope, s + at, name_end - at, &slot)) {
		unknown(k, at, name_end - at);
		return;
	}
	struct formula_name *name = &k->names->scope->name[slot];
	name->used++;
	if (name->type.kind == FORMULA_TRUTH)
		fault(k, BAD_TYPE, at, name_end - at, "a truth cannot be shown in a text",
			"show the values that it compares");
	if (places < PLACES_SHOWN && !is_time(name->type.dim))
		fault(k, BAD_UNIT, at, name_end - at, "only a time can be shown like this",
			"'{name:clock}' shows a time counted from midnight");
	k->piece[k->n++] = (struct piece){.slot = (int)slot, .places = places};
}

static void pieces(struct cut *k)
{
	size_t from = 0;
	const char *open;
	while ((open = memchr(k->s + from, '{', k->len - from))) {
		size_t at = (size_t)(open - k->s);
		if (at + 1 < k->len && open[1] == '{') {
			add_plain(k, from, at + 1);
			from = at + 2;
			continue;
		}
		add_plain(k, from, at);
		const char *close = memchr(open, '}', k->len - at);
		if (!close) {
			fault(k, BAD_SYNTAX, at, 1, "this brace is never closed",
				"write '{name}', or '{{' for a brace that is to be shown");
			return;
		}
		from = (size_t)(close - k->s) + 1;
		add_value(k, at + 1, from - 1);
	}
	add_plain(k, from, k->len);
}

void template_read(struct doc *c, const struct names *n, struct tree *t, struct template *out)
{
	struct cut k = {.doc = c, .names = n, .t = t, .s = doc_text(c, t)};
	k.len = strlen(k.s);
	size_t braces = 0;
	for (const char *at = k.s; (at = strchr(at, '{')); at++)
		braces++;
	k.piece = doc_many(c, 2 * braces + 1, struct piece);
	if (!k.piece)
		return;
	pieces(&k);
	*out = (struct template){k.piece, k.n};
}
