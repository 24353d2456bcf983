/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * LEARNERS, version 1. FOLDER/learners.txt, 0600: the line "barwright-learners 1", then one line a
 * learner: the code, one TAB, the name; each line ended by LF (record/name_list.h says what editors may
 * make of that). Valid if and only if every line has this form, codes have theirs (learner.h), and names
 * are UTF-8 without controls. Of two lines with one name or one code the first counts. A person may
 * change or delete lines in an editor.
 */
#include <barwright/record/learner.h>

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>

#include "record/guard.h"
#include "record/name_list.h"

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

static const struct name_list_form learners = {.head = "barwright-learners 1\n",
	.what = "learners",
	.lines = "a code (l- and eight more characters), one TAB, a name",
	.key_len = LEARNER_CODE,
	.name_most = LEARNER_NAME_MOST,
	.bytes_most = 16 << 20,
	.is_key = is_code};

/* The first row with this name or this code; one of them is null. */
static bool find(
	const struct name_list *list, const char *name, const char *code, struct name_row *out)
{
	struct name_row row;
	for (size_t at = 0; name_list_next(list, &at, &row);)
		if (name ? slice_is(row.name, name) : slice_is(row.key, code)) {
			*out = row;
			return true;
		}
	return false;
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

static enum bad add(const struct name_list *list, const char *path, const char *name, char *code)
{
	struct text whole;
	struct name_row taken;
	do
		draw_code(code);
	while (find(list, NULL, code, &taken));
	text_init(&whole);
	text_add_bytes(&whole, list->text.at, list->text.len);
	text_addf(&whole, "%s\t%s\n", code, name);
	enum bad bad = whole.out ? BAD_MEMORY : file_replace(path, whole.at, whole.len, true);
	text_release(&whole);
	return bad;
}

static enum bad find_code(
	const char *path, const char *name, struct arena *a, struct name_list *list, char *code)
{
	struct name_row row;
	enum bad bad = name_list_load(&learners, path, a, list);
	if (bad)
		return bad;
	if (!find(list, name, NULL, &row))
		return BAD_UNKNOWN;
	memcpy(code, row.key.at, LEARNER_CODE);
	return FINE;
}

/* The list is replaced as a whole, so it may be read without the lock; only who adds to it needs
 * that, and looks again. */
static enum bad find_or_add(const char *folder, const char *path, const char *name, struct arena *a,
	struct name_list *list, char *code)
{
	struct file guard;
	enum bad bad = find_code(path, name, a, list, code);
	if (bad != BAD_UNKNOWN)
		return bad;
	bad = folder_make(folder);
	if (!bad)
		bad = guard_take(folder, &guard);
	if (bad)
		return bad;
	bad = find_code(path, name, a, list, code);
	if (bad == BAD_UNKNOWN)
		bad = add(list, path, name, code);
	file_close(&guard);
	return bad;
}

static void tell(const struct name_list *list, enum bad bad, const char *path, struct text *why)
{
	if (bad == BAD_SIZE || bad == BAD_ENCODING)
		text_addf(why, "a learner's name has 1 to %d bytes of UTF-8 without controls",
			LEARNER_NAME_MOST);
	else
		name_list_words(list, bad, path, why);
}

enum bad learner_code(
	const char *folder, const char *name, char out[static LEARNER_CODE + 1], struct text *why)
{
	struct arena a = {0};
	struct name_list list = {.form = &learners};
	char code[LEARNER_CODE + 1] = "";
	name = name && *name ? name : "learner";
	enum bad bad = name_check(name, strlen(name), LEARNER_NAME_MOST);
	if (!bad)
		bad = cipher_start();
	const char *path = folder_join(&a, folder, "learners.txt");
	if (!bad)
		bad = path ? find_or_add(folder, path, name, &a, &list, code) : BAD_MEMORY;
	if (!bad)
		memcpy(out, code, sizeof code);
	else if (why)
		tell(&list, bad, path ? path : folder, why);
	arena_release(&a);
	return bad;
}

enum bad learner_name(const char *folder, const char *code, struct arena *a, const char **name)
{
	struct name_list list;
	struct name_row row;
	const char *path = folder_join(a, folder, "learners.txt");
	enum bad bad = path ? name_list_load(&learners, path, a, &list) : BAD_MEMORY;
	if (bad)
		return bad;
	if (!find(&list, NULL, code, &row))
		return BAD_UNKNOWN;
	const char *copy = arena_copy(a, row.name.at, row.name.len);
	if (!copy)
		return BAD_MEMORY;
	*name = copy;
	return FINE;
}

/* ---- the whole list -------------------------------------------------------------------------- */

static enum bad rows_read(
	const struct name_list *from, struct arena *a, struct learner_row **list, size_t *n)
{
	struct learner_row *row = arena_many(a, name_list_count(from) + 1, struct learner_row);
	struct name_row one;
	size_t count = 0;
	if (!row)
		return BAD_MEMORY;
	for (size_t at = 0; name_list_next(from, &at, &one); count++) {
		row[count].code = arena_copy(a, one.key.at, one.key.len);
		row[count].name = arena_copy(a, one.name.at, one.name.len);
		if (!row[count].code || !row[count].name)
			return BAD_MEMORY;
	}
	*list = row;
	*n = count;
	return FINE;
}

enum bad learner_list(
	const char *folder, struct arena *a, struct learner_row **list, size_t *n, struct text *why)
{
	struct name_list from = {.form = &learners};
	const char *path = folder_join(a, folder, "learners.txt");
	enum bad bad = path ? name_list_load(&learners, path, a, &from) : BAD_MEMORY;
	if (!bad)
		bad = rows_read(&from, a, list, n);
	if (bad && why)
		tell(&from, bad, path ? path : folder, why);
	return bad;
}

/* The list without the rows of `code`, and with a row of `name` behind it when there is one. */
static enum bad rewrite(
	const struct name_list *list, const char *path, const char *code, const char *name)
{
	struct name_row row;
	struct text whole;
	size_t found = 0;
	text_init(&whole);
	text_add(&whole, learners.head);
	for (size_t at = 0; name_list_next(list, &at, &row);) {
		if (slice_is(row.key, code))
			found++;
		else
			text_addf(&whole, "%.*s\t%.*s\n", LEARNER_CODE, row.key.at,
				(int)row.name.len, row.name.at);
	}
	if (name)
		text_addf(&whole, "%s\t%s\n", code, name);
	enum bad bad = whole.out ? BAD_MEMORY : FINE;
	if (!bad && name && found)
		bad = BAD_REPEATED;
	if (!bad && !name && !found)
		bad = BAD_UNKNOWN;
	if (!bad)
		bad = file_replace(path, whole.at, whole.len, true);
	text_release(&whole);
	return bad;
}

static enum bad change(const char *folder, const char *code, const char *name, struct text *why)
{
	struct arena a = {0};
	struct file guard;
	struct name_list list = {.form = &learners};
	const char *path = folder_join(&a, folder, "learners.txt");
	enum bad bad = path ? guard_take(folder, &guard) : BAD_MEMORY;
	if (!bad) {
		bad = name_list_load(&learners, path, &a, &list);
		if (!bad)
			bad = rewrite(&list, path, code, name);
		file_close(&guard);
	}
	if (bad && bad != BAD_UNKNOWN && bad != BAD_REPEATED && why)
		tell(&list, bad, path ? path : folder, why);
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
	enum bad bad = name_check(name, strlen(name), LEARNER_NAME_MOST);
	return bad ? bad : change(folder, code, name, why);
}
