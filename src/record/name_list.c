/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "record/name_list.h"

#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>

/* Controls of a terminal, and what turns the order of a text round: names go into tables and on paper as
 * they are. Joiners and single marks of direction belong to some names. */
static bool may_stand_in_name(uint32_t code)
{
	static const uint32_t no[][2] = {
		{0, 0x1f}, {0x7f, 0x9f}, {0x2028, 0x202e}, {0x2066, 0x2069}};
	for (size_t i = 0; i < sizeof no / sizeof *no; i++)
		if (code >= no[i][0] && code <= no[i][1])
			return false;
	return true;
}

enum bad name_check(const char *s, size_t len, size_t most)
{
	if (len < 1 || len > most)
		return BAD_SIZE;
	if (utf8_valid(s, len) != len)
		return BAD_ENCODING;
	uint32_t code = 0;
	for (size_t i = 0; i < len; i += utf8_step(s + i, len - i))
		if (!utf8_read(s + i, len - i, &code) || !may_stand_in_name(code))
			return BAD_ENCODING;
	return FINE;
}

static bool is_row(const struct name_list_form *f, const char *line, size_t len)
{
	return len > f->key_len && f->is_key(line, f->key_len) && line[f->key_len] == '\t' &&
	       name_check(line + f->key_len + 1, len - f->key_len - 1, f->name_most) == FINE;
}

static enum bad check(struct name_list *l)
{
	const struct name_list_form *f = l->form;
	const char *at = l->text.at, *end = at + l->text.len, *stop;
	size_t head = strlen(f->head);
	l->fault_line = 1;
	if (l->text.len < head || memcmp(at, f->head, head) != 0)
		return BAD_SYNTAX;
	for (at += head; at < end; at = stop + 1) {
		stop = memchr(at, '\n', (size_t)(end - at));
		l->fault_line++;
		if (!is_row(f, at, (size_t)(stop - at)))
			return BAD_SYNTAX;
	}
	l->fault_line = 0;
	return FINE;
}

/* What editors leave is taken away: a mark of byte order first, CR before LF; and the last LF is put where
 * one left it out. In a copy, one byte longer at most. */
static size_t tidy(char *to, const char *text, size_t len)
{
	size_t n = 0, i = len >= 3 && memcmp(text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
	for (; i < len; i++)
		if (text[i] != '\r' || i + 1 == len || text[i + 1] != '\n')
			to[n++] = text[i];
	if (n && to[n - 1] != '\n')
		to[n++] = '\n';
	return n;
}

static enum bad take(struct name_list *l, struct arena *a, const char *text, size_t len)
{
	char *whole = arena_get(a, len + 1);
	if (!whole)
		return BAD_MEMORY;
	l->text = (struct slice){whole, tidy(whole, text, len)};
	return check(l);
}

enum bad name_list_load(
	const struct name_list_form *form, const char *path, struct arena *a, struct name_list *out)
{
	char *text;
	size_t len;
	*out = (struct name_list){.form = form};
	enum bad code = file_read(path, form->bytes_most, a, &text, &len);
	if (code == BAD_ABSENT) {
		out->text = (struct slice){form->head, strlen(form->head)};
		return FINE;
	}
	if (code == BAD_SIZE) /* of the list, not of a name */
		return BAD_SYNTAX;
	return code ? code : take(out, a, text, len);
}

bool name_list_next(const struct name_list *l, size_t *at, struct name_row *out)
{
	size_t key = l->form->key_len, from = *at ? *at : strlen(l->form->head);
	if (from >= l->text.len)
		return false;
	const char *line = l->text.at + from, *stop = memchr(line, '\n', l->text.len - from);
	out->key = (struct slice){line, key};
	out->name = (struct slice){line + key + 1, (size_t)(stop - line) - key - 1};
	*at = (size_t)(stop + 1 - l->text.at);
	return true;
}

size_t name_list_count(const struct name_list *l)
{
	struct name_row row;
	size_t at = 0, n = 0;
	while (name_list_next(l, &at, &row))
		n++;
	return n;
}

void name_list_words(const struct name_list *l, enum bad code, const char *path, struct text *why)
{
	if (code != BAD_SYNTAX) {
		file_words(code, path, why);
		return;
	}
	text_add_safe(why, path, strlen(path), false);
	if (l->fault_line)
		text_addf(why, ", line %zu", l->fault_line);
	text_addf(why, ": the list of %s is damaged: ", l->form->what);
	if (l->fault_line == 1)
		text_addf(why, "it begins with \"%.*s\". ", (int)strlen(l->form->head) - 1,
			l->form->head);
	else if (l->fault_line)
		text_addf(why, "a line is %s. ", l->form->lines);
	else
		text_add(why, "it is too large. ");
	text_add(why, "Mend it in an editor, or put it back from a copy");
}
