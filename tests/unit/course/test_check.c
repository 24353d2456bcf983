/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What higher floors hang into a check, and what the file system can do to one. What is told about
 * the files themselves stands in tests/text/check. */
#include "small_course.h"

#include <errno.h>

#include "course/check.h"

struct checked {
	struct arena arena;
	struct diags diags;
	struct check check;
	char seen[100];
};

static void begin(struct checked *k)
{
	memset(k, 0, sizeof *k);
	k->diags.arena = &k->arena;
	k->check = (struct check){.arena = &k->arena, .diags = &k->diags};
}

static enum bad note_code(void *to, const struct problem *p, struct diags *d)
{
	struct checked *k = to;
	assert_ptr_equal(d, &k->diags);
	snprintf(k->seen + strlen(k->seen), sizeof k->seen - strlen(k->seen), "%s ", p->code);
	return FINE;
}

static void good_problems_are_handed_up(void **state)
{
	(void)state;
	struct shelf s;
	struct checked k;
	shelf_open(&s);
	put_small_course(&s);
	shelf_put(&s, "two/Zeta.yaml", small_problem("Zeta", "K9"));
	begin(&k);
	k.check.problem = note_code;
	k.check.to = &k;
	code_is(check_folder(&k.check, s.folder), FINE);
	code_is(check_end(&k.check), FINE);
	same_text("all but the faulty one", k.seen, "alpha beta ");
	same_whole("errors", k.diags.nerror, 1);
	same_whole("files", k.check.n.files, 7);
	same_whole("problems", k.check.n.problems, 3);
	same_whole("lessons", k.check.n.lessons, 1);
	same_whole("modules", k.check.n.modules, 2);
	arena_release(&k.arena);
	shelf_close(&s);
}

static enum bad refuse(void *to, const struct problem *p, struct diags *d)
{
	(void)to, (void)p, (void)d;
	return BAD_STOPPED;
}

static void a_code_from_above_ends_the_check(void **state)
{
	(void)state;
	struct shelf s;
	struct checked k;
	char path[100];
	shelf_open(&s);
	put_small_course(&s);
	begin(&k);
	k.check.problem = refuse;
	code_is(check_folder(&k.check, s.folder), BAD_STOPPED);
	snprintf(path, sizeof path, "%s/one/alpha.yaml", s.folder);
	code_is(check_file(&k.check, path), BAD_STOPPED);
	arena_release(&k.arena);
	shelf_close(&s);
}

static enum bad read_menu(
	struct arena *a, const struct source *file, struct tree *root, struct diags *d)
{
	const char *soup;
	(void)a;
	assert_string_equal(file->name, "menu.yaml");
	tree_find(root, "menu");
	tree_text(tree_need(root, "soup", d), d, &soup);
	tree_unknown(root, d);
	return FINE;
}

static void higher_floors_know_more_kinds(void **state)
{
	(void)state;
	static const struct check_kind kinds[] = {{"menu", read_menu}};
	static const struct {
		const char *why, *text, *want;
	} rows[] = {
		{"good", "menu: x\nsoup: y\n", ""},
		{"faulty", "menu: x\n",
			"menu.yaml:1:1: error: 'soup' is missing [missing]\n"
			"    1 | menu: x\n"
			"      | ^\n"},
		{"near", "menus: x\n",
			"menu.yaml:1:1: error: a file that begins with 'menus' is of no kind known "
			"here [unknown-name]\n"
			"    1 | menus: x\n"
			"      | ^~~~~\n"
			"hint: did you mean 'menu'?\n"},
		{"late", "soup: x\nmenu: y\n",
			"menu.yaml:1:1: error: a file that begins with 'soup' is of no kind known "
			"here [unknown-name]\n"
			"    1 | soup: x\n"
			"      | ^~~~\n"
			"hint: put the line with 'menu' at the top\n"},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct checked k;
		struct source file = {"menu.yaml", rows[i].text, strlen(rows[i].text)};
		begin(&k);
		k.check.kind = kinds;
		k.check.nkind = 1;
		code_is(check_text(&k.check, &file), FINE);
		code_is(check_end(&k.check), FINE);
		told(rows[i].why, &k.diags, rows[i].want);
		same_whole(rows[i].why, k.check.n.others, i < 2);
		arena_release(&k.arena);
	}
}

static void a_path_that_cannot_be_read_is_a_code(void **state)
{
	(void)state;
	struct checked k;
	begin(&k);
	code_is(check_file(&k.check, "/nowhere/at/all.yaml"), BAD_ABSENT);
	code_is(check_folder(&k.check, "/nowhere/at/all"), BAD_ABSENT);
	code_is(check_file(&k.check, "/"), BAD_TYPE);
	same_whole("nothing told", k.diags.nerror + k.diags.nwarning, 0);
	same_whole("nothing counted", k.check.n.files, 0);
	arena_release(&k.arena);
}

static void folders_are_followed_sixteen_deep(void **state)
{
	(void)state;
	struct shelf s;
	struct checked k;
	char deep[100] = "";
	shelf_open(&s);
	for (int i = 0; i < 16; i++)
		memcpy(deep + 2 * i, "d/", 3);
	shelf_put(&s, "d/x.yaml", "what: x\n");
	snprintf(deep + 32, sizeof deep - 32, "x.yaml");
	shelf_put(&s, deep, "what: x\n");
	begin(&k);
	code_is(check_folder(&k.check, s.folder), FINE);
	same_whole("both read", k.check.n.files, 2);
	snprintf(deep + 32, sizeof deep - 32, "d/x.yaml");
	shelf_put(&s, deep, "what: x\n");
	code_is(check_folder(&k.check, s.folder), FINE);
	same_whole("both read again, the third not", k.check.n.files, 4);
	bool is_told = false;
	for (const struct diag *one = k.diags.first; one; one = one->next)
		is_told = is_told || strcmp(one->words, "the folders are nested too deeply") == 0;
	assert_true(is_told);
	arena_release(&k.arena);
	shelf_close(&s);
}

/* Refuses to open what ends in `denied`. */
static const char *denied;
static int open_some(const char *path, int flags, mode_t mode)
{
	size_t len = strlen(path), n = strlen(denied);
	if (len >= n && strcmp(path + len - n, denied) == 0) {
		errno = EACCES;
		return -1;
	}
	return file_system_real()->open(path, flags, mode);
}

static void files_that_may_not_be_read_are_told(void **state)
{
	(void)state;
	static const struct {
		const char *file, *words, *name;
	} rows[] = {
		{"/course.yaml", "course.yaml cannot be read", ""},
		{"/one/module.yaml", NULL, "/course.yaml"},
		{"/one/alpha.yaml", NULL, "/one/module.yaml"},
		{"/one/stray.yaml", NULL, "/one/stray.yaml"},
	};
	struct file_system table = *file_system_real();
	table.open = open_some;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct shelf s;
		struct checked k;
		char place[100];
		shelf_open(&s);
		put_small_course(&s);
		shelf_put(&s, "one/stray.yaml", small_problem("stray", "K1"));
		begin(&k);
		denied = rows[i].file;
		file_system_replace(&table);
		enum bad code = check_folder(&k.check, s.folder);
		file_system_replace(NULL);
		code_is(code, FINE);
		same_whole(rows[i].file, k.diags.nerror, 1);
		code_is(k.diags.first->code, BAD_DENIED);
		if (rows[i].words)
			same_text(rows[i].file, k.diags.first->words, rows[i].words);
		snprintf(place, sizeof place, "%s%s", s.folder, rows[i].name);
		same_text(rows[i].file, k.diags.first->place.source->name, place);
		arena_release(&k.arena);
		shelf_close(&s);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(good_problems_are_handed_up),
		cmocka_unit_test(a_code_from_above_ends_the_check),
		cmocka_unit_test(higher_floors_know_more_kinds),
		cmocka_unit_test(a_path_that_cannot_be_read_is_a_code),
		cmocka_unit_test(folders_are_followed_sixteen_deep),
		cmocka_unit_test(files_that_may_not_be_read_are_told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
