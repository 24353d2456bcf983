/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * LEARNERS, version 1. FOLDER/learners.txt, 0600: the line "barwright-learners 1", then one line a
 * learner: the code, one TAB, the name; each line ended by LF (record/name_list.h says what editors may
 * make of that). Valid if and only if every line has this form, codes have theirs (learner.h), and names
 * are UTF-8 without controls. Of two lines with one name or one code the first counts. A person may
 * change or delete lines in an editor.
 *
 * A line whose name is "same as " and a code is no name: both codes are one person, and so are all that
 * are joined with either. Such lines stand behind the names. A program of before reads them as one more
 * name of a code that has one already, which does not count, keeps them when it adds a line, and takes them
 * away with their code.
 */
#include <barwright/record/learner.h>

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>

#include "record/guard.h"
#include "record/joined.h"
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

bool learner_is_code(const char *s)
{
	return is_code(s, strlen(s));
}

/* The first row with this name or this code; one of them is null. */
static bool find(
	const struct name_list *list, const char *name, const char *code, struct name_row *out)
{
	struct name_row row;
	struct slice other;
	for (size_t at = 0; name_list_next(list, &at, &row);)
		if (joined_row(row.name, &other))
			continue;
		else if (name ? slice_is(row.name, name) : slice_is(row.key, code)) {
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
		text_addf(why,
			"a learner's name has 1 to %d bytes of UTF-8 without controls, and is not "
			"\"same as\" a code",
			LEARNER_NAME_MOST);
	else
		name_list_words(list, bad, path, why);
}

static enum bad name_read(const char *name)
{
	struct slice other;
	enum bad bad = name_check(name, strlen(name), LEARNER_NAME_MOST);
	return !bad && joined_row((struct slice){name, strlen(name)}, &other) ? BAD_ENCODING : bad;
}

enum bad learner_code(
	const char *folder, const char *name, char out[static LEARNER_CODE + 1], struct text *why)
{
	struct arena a = {0};
	struct name_list list = {.form = &learners};
	char code[LEARNER_CODE + 1] = "";
	name = name && *name ? name : "learner";
	enum bad bad = name_read(name);
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

static enum bad row_put(struct learner_row *to, struct arena *a, const struct joined *j,
	const char *code, struct slice name)
{
	to->code = arena_copy(a, code, LEARNER_CODE);
	to->name = arena_copy(a, name.at, name.len);
	if (!to->code || !to->name)
		return BAD_MEMORY;
	const char *person = joined_person(j, to->code);
	to->person = person ? person : to->code;
	return FINE;
}

/* Names first, then codes that the list joins and has no name for. */
static enum bad rows_read(
	const struct name_list *from, struct arena *a, struct learner_row **list, size_t *n)
{
	struct joined j;
	struct name_row one;
	struct slice other, none = {"", 0};
	size_t count = 0;
	enum bad bad = joined_read(from, NULL, 0, a, &j);
	struct learner_row *row =
		bad ? NULL : arena_many(a, name_list_count(from) + j.n + 1, struct learner_row);
	if (!row)
		return BAD_MEMORY;
	for (size_t at = 0; !bad && name_list_next(from, &at, &one);)
		if (!joined_row(one.name, &other))
			bad = row_put(&row[count++], a, &j, one.key.at, one.name);
	for (size_t i = 0; !bad && i < j.n; i++)
		if (!find(from, NULL, j.at[i].code, &one))
			bad = row_put(&row[count++], a, &j, j.at[i].code, none);
	if (bad)
		return bad;
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

const char *learner_person(const struct learner_row *row, size_t n, const char *code)
{
	for (size_t i = 0; i < n; i++)
		if (strcmp(row[i].code, code) == 0)
			return row[i].person;
	return code;
}

/* ---- changes --------------------------------------------------------------------------------- */

/* What is to be another way in the list; what is not asked for is null. */
struct change {
	const char *gone;        /* a code: all its rows */
	const char *apart;       /* a code: what joins it with others */
	const char *code, *name; /* a row more */
	const char *const *same; /* codes that are one person */
	size_t nsame;
};

static enum bad look(const struct name_list *list, const struct change *c)
{
	struct joined j;
	struct arena a = {0};
	struct name_row row;
	const char *code = c->gone ? c->gone : c->apart;
	enum bad bad = joined_read(list, NULL, 0, &a, &j);
	if (!bad && c->name && find(list, NULL, c->code, &row))
		bad = BAD_REPEATED;
	if (!bad && code && !joined_person(&j, code) && (c->apart || !find(list, NULL, code, &row)))
		bad = BAD_UNKNOWN;
	arena_release(&a);
	return bad;
}

/* The whole list as it is to be: names, then joins. */
static enum bad write_list(
	const struct name_list *list, const struct change *c, struct arena *a, struct text *whole)
{
	struct joined j;
	struct name_row row;
	struct slice other;
	enum bad bad = joined_read(list, c->same, c->nsame, a, &j);
	text_add(whole, learners.head);
	for (size_t at = 0; name_list_next(list, &at, &row);)
		if (!joined_row(row.name, &other) && !(c->gone && slice_is(row.key, c->gone)))
			text_addf(whole, "%.*s\t%.*s\n", LEARNER_CODE, row.key.at,
				(int)row.name.len, row.name.at);
	if (c->name)
		text_addf(whole, "%s\t%s\n", c->code, c->name);
	if (!bad)
		joined_write(&j, c->gone ? c->gone : c->apart, whole);
	return bad ? bad : whole->out ? BAD_MEMORY : FINE;
}

static enum bad rewrite(
	const struct name_list *list, const char *path, const struct change *c, struct arena *a)
{
	struct text whole;
	enum bad bad = look(list, c);
	text_init(&whole);
	if (!bad)
		bad = write_list(list, c, a, &whole);
	if (!bad)
		bad = file_replace(path, whole.at, whole.len, true);
	text_release(&whole);
	return bad;
}

static enum bad change(const char *folder, const struct change *c, struct text *why)
{
	struct arena a = {0};
	struct file guard;
	struct name_list list = {.form = &learners};
	const char *path = folder_join(&a, folder, "learners.txt");
	enum bad bad = path ? guard_take(folder, &guard) : BAD_MEMORY;
	if (!bad) {
		bad = name_list_load(&learners, path, &a, &list);
		if (!bad)
			bad = rewrite(&list, path, c, &a);
		file_close(&guard);
	}
	if (bad && bad != BAD_UNKNOWN && bad != BAD_REPEATED && why)
		tell(&list, bad, path ? path : folder, why);
	arena_release(&a);
	return bad;
}

enum bad learner_remove(const char *folder, const char *code, struct text *why)
{
	return change(folder, &(struct change){.gone = code}, why);
}

enum bad learner_add(const char *folder, const char *code, const char *name, struct text *why)
{
	if (!learner_is_code(code))
		return BAD_SYNTAX;
	enum bad bad = name_read(name);
	return bad ? bad : change(folder, &(struct change){.code = code, .name = name}, why);
}

enum bad learner_join(const char *folder, const char *const *code, size_t n, struct text *why)
{
	for (size_t i = 0; i < n; i++)
		if (!learner_is_code(code[i]))
			return BAD_SYNTAX;
	return change(folder, &(struct change){.same = code, .nsame = n}, why);
}

enum bad learner_part(const char *folder, const char *code, struct text *why)
{
	return change(folder, &(struct change){.apart = code}, why);
}
