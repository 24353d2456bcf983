/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * LEARNERS, version 1. FOLDER/learners.txt, 0600: the line "barwright-learners 1", then one line a
 * learner: the code, one TAB, the name; each line ended by LF. Valid if and only if every line has
 * this form, codes have theirs (learner.h), and names are UTF-8 without controls. Of two lines with
 * one name or one code the first counts. A person may change or delete lines in an editor.
 */
#include <barwright/record/learner.h>

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>

#include "record/canon.h"
#include "record/guard.h"

enum { LIST_MOST = 16 << 20 };
static const char head[] = "barwright-learners 1\n";
static const char digit[] = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

static bool is_code(const char *s, size_t len)
{
	if (len != LEARNER_CODE || memcmp(s, "l-", 2) != 0)
		return false;
	for (size_t i = 2; i < len; i++)
		if (!s[i] || !strchr(digit, s[i]))
			return false;
	return true;
}

static enum bad check_name(const char *s, size_t len)
{
	if (len < 1 || len > LEARNER_NAME_MOST)
		return BAD_SIZE;
	if (utf8_valid(s, len) != len)
		return BAD_ENCODING;
	for (size_t i = 0; i < len; i++)
		if ((unsigned char)s[i] < 0x20 || s[i] == 0x7f)
			return BAD_ENCODING;
	return FINE;
}

struct entry {
	const char *code, *name;
	size_t name_len;
};

/* The entry of the line at *at, which moves behind it. BAD_NOTHING at the end. */
static enum bad entry_read(const char **at, const char *end, struct entry *out)
{
	const char *s = *at, *stop;
	if (s == end)
		return BAD_NOTHING;
	stop = memchr(s, '\n', (size_t)(end - s));
	if (!stop || stop - s < LEARNER_CODE + 2 || !is_code(s, LEARNER_CODE) ||
		s[LEARNER_CODE] != '\t')
		return BAD_SYNTAX;
	const char *name = s + LEARNER_CODE + 1;
	if (check_name(name, (size_t)(stop - name)))
		return BAD_SYNTAX;
	*out = (struct entry){s, name, (size_t)(stop - name)};
	*at = stop + 1;
	return FINE;
}

static bool is_same(const char *a, size_t len, const char *b)
{
	return strlen(b) == len && memcmp(a, b, len) == 0;
}

/* The first entry with this name or this code; one of them is null. BAD_UNKNOWN: there is none, and
 * the whole list is in order. */
static enum bad find(
	const char *text, size_t len, const char *name, const char *code, struct entry *out)
{
	const char *at = text + sizeof head - 1, *end = text + len;
	enum bad bad = BAD_UNKNOWN;
	struct entry e;
	if (len < sizeof head - 1 || memcmp(text, head, sizeof head - 1) != 0)
		return BAD_SYNTAX;
	for (;;) {
		enum bad read = entry_read(&at, end, &e);
		if (read)
			return read == BAD_NOTHING ? bad : read;
		bool fits = name ? is_same(e.name, e.name_len, name)
				 : is_same(e.code, LEARNER_CODE, code);
		if (fits && bad) {
			*out = e;
			bad = FINE;
		}
	}
}

/* The list as it is, or an empty one. */
static enum bad list_load(const char *path, struct arena *a, char **text, size_t *len)
{
	if (file_kind(path) == FILE_OTHER)
		return BAD_TYPE; /* a pipe would be waited for */
	enum bad code = file_read(path, LIST_MOST, a, text, len);
	if (code == BAD_SIZE) /* of the list, not of a name */
		return BAD_SYNTAX;
	if (code != BAD_ABSENT)
		return code;
	*text = arena_copy(a, head, sizeof head - 1);
	*len = sizeof head - 1;
	return *text ? FINE : BAD_MEMORY;
}

static void draw_code(char out[static LEARNER_CODE + 1])
{
	unsigned char r[LEARNER_CODE - 2];
	random_bytes(r, sizeof r);
	memcpy(out, "l-", 2);
	for (size_t i = 0; i < sizeof r; i++)
		out[2 + i] = digit[r[i] % 32];
	out[LEARNER_CODE] = '\0';
}

static enum bad add(const char *path, const char *text, size_t len, const char *name, char *code)
{
	struct text whole;
	struct entry taken;
	do
		draw_code(code);
	while (find(text, len, NULL, code, &taken) == FINE);
	text_init(&whole);
	text_add_bytes(&whole, text, len);
	text_addf(&whole, "%s\t%s\n", code, name);
	enum bad bad = whole.out ? BAD_MEMORY : file_replace(path, whole.at, whole.len, true);
	text_release(&whole);
	return bad;
}

static enum bad find_code(
	const char *path, const char *name, struct arena *a, struct slice *list, char *code)
{
	struct entry e;
	char *text;
	enum bad bad = list_load(path, a, &text, &list->len);
	if (bad)
		return bad;
	list->at = text;
	bad = find(text, list->len, name, NULL, &e);
	if (!bad)
		memcpy(code, e.code, LEARNER_CODE);
	return bad;
}

/* The list is replaced as a whole, so it may be read without the lock; only who adds to it needs
 * that, and looks again. */
static enum bad find_or_add(
	const char *folder, const char *path, const char *name, struct arena *a, char *code)
{
	struct file guard;
	struct slice list;
	enum bad bad = find_code(path, name, a, &list, code);
	if (bad != BAD_UNKNOWN)
		return bad;
	bad = folder_make(folder);
	if (!bad)
		bad = guard_take(folder, &guard);
	if (bad)
		return bad;
	bad = find_code(path, name, a, &list, code);
	if (bad == BAD_UNKNOWN)
		bad = add(path, list.at, list.len, name, code);
	file_close(&guard);
	return bad;
}

static void tell(enum bad bad, const char *path, struct text *why)
{
	if (bad == BAD_SIZE || bad == BAD_ENCODING) {
		text_addf(why, "a learner's name has 1 to %d bytes of UTF-8 without controls",
			LEARNER_NAME_MOST);
		return;
	}
	file_words(bad, path, why);
	if (bad == BAD_SYNTAX)
		text_add(why, "; the list of learners is damaged: mend it in an editor");
}

enum bad learner_code(
	const char *folder, const char *name, char out[static LEARNER_CODE + 1], struct text *why)
{
	struct arena a = {0};
	char code[LEARNER_CODE + 1] = "";
	name = name && *name ? name : "learner";
	enum bad bad = check_name(name, strlen(name));
	if (!bad)
		bad = cipher_start();
	const char *path = folder_join(&a, folder, "learners.txt");
	if (!bad)
		bad = path ? find_or_add(folder, path, name, &a, code) : BAD_MEMORY;
	if (!bad)
		memcpy(out, code, sizeof code);
	else if (why)
		tell(bad, path ? path : folder, why);
	arena_release(&a);
	return bad;
}

enum bad learner_name(const char *folder, const char *code, struct arena *a, const char **name)
{
	struct entry e;
	char *text;
	size_t len;
	const char *path = folder_join(a, folder, "learners.txt");
	enum bad bad = path ? list_load(path, a, &text, &len) : BAD_MEMORY;
	if (!bad)
		bad = find(text, len, NULL, code, &e);
	if (bad)
		return bad;
	const char *copy = arena_copy(a, e.name, e.name_len);
	if (!copy)
		return BAD_MEMORY;
	*name = copy;
	return FINE;
}

/* ---- the whole list -------------------------------------------------------------------------- */

static enum bad row_copy(const struct entry *e, struct arena *a, struct learner_row *out)
{
	out->code = arena_copy(a, e->code, LEARNER_CODE);
	out->name = arena_copy(a, e->name, e->name_len);
	return out->code && out->name ? FINE : BAD_MEMORY;
}

static enum bad rows_read(
	const char *text, size_t len, struct arena *a, struct learner_row **list, size_t *n)
{
	const char *at = text + sizeof head - 1, *end = text + len;
	struct learner_row *row = arena_many(a, len / (LEARNER_CODE + 3) + 1, struct learner_row);
	struct entry e;
	enum bad bad = row ? FINE : BAD_MEMORY;
	size_t count = 0;
	if (!bad && (len < sizeof head - 1 || memcmp(text, head, sizeof head - 1) != 0))
		bad = BAD_SYNTAX;
	while (!bad && !(bad = entry_read(&at, end, &e)))
		bad = row_copy(&e, a, &row[count++]);
	if (bad != BAD_NOTHING)
		return bad;
	*list = row;
	*n = count;
	return FINE;
}

enum bad learner_list(
	const char *folder, struct arena *a, struct learner_row **list, size_t *n, struct text *why)
{
	char *text;
	size_t len;
	const char *path = folder_join(a, folder, "learners.txt");
	enum bad bad = path ? list_load(path, a, &text, &len) : BAD_MEMORY;
	if (!bad)
		bad = rows_read(text, len, a, list, n);
	if (bad && why)
		tell(bad, path ? path : folder, why);
	return bad;
}

/* The list without the rows of `code`, and with a row of `name` behind it when there is one. */
static enum bad rewrite(const char *path, struct arena *a, const char *code, const char *name)
{
	struct learner_row *row;
	struct text whole;
	char *text;
	size_t len, n, found = 0;
	enum bad bad = list_load(path, a, &text, &len);
	if (!bad)
		bad = rows_read(text, len, a, &row, &n);
	if (bad)
		return bad;
	text_init(&whole);
	text_add(&whole, head);
	for (size_t i = 0; i < n; i++) {
		if (strcmp(row[i].code, code) == 0)
			found++;
		else
			text_addf(&whole, "%s\t%s\n", row[i].code, row[i].name);
	}
	if (name)
		text_addf(&whole, "%s\t%s\n", code, name);
	bad = whole.out         ? BAD_MEMORY
	      : name && found   ? BAD_REPEATED
	      : !name && !found ? BAD_UNKNOWN
				: FINE;
	if (!bad)
		bad = file_replace(path, whole.at, whole.len, true);
	text_release(&whole);
	return bad;
}

static enum bad change(const char *folder, const char *code, const char *name, struct text *why)
{
	struct arena a = {0};
	struct file guard;
	const char *path = folder_join(&a, folder, "learners.txt");
	enum bad bad = path ? guard_take(folder, &guard) : BAD_MEMORY;
	if (!bad) {
		bad = rewrite(path, &a, code, name);
		file_close(&guard);
	}
	if (bad && bad != BAD_UNKNOWN && bad != BAD_REPEATED && why)
		tell(bad, path ? path : folder, why);
	arena_release(&a);
	return bad;
}

enum bad learner_remove(const char *folder, const char *code, struct text *why)
{
	return change(folder, code, NULL, why);
}

enum bad learner_add(const char *folder, const char *code, const char *name, struct text *why)
{
	if (!is_code(code, strlen(code)))
		return BAD_SYNTAX;
	enum bad bad = check_name(name, strlen(name));
	return bad ? bad : change(folder, code, name, why);
}
