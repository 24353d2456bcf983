/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What higher floors hang into a check, and what the file system can do to one. What is told about
 * the files themselves stands in tests/text/check. */
#include "small_course.h"

#include <errno.h>

#include "course/check.h"
#include "course/procedure.h"
#include "small_procedure.h"

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

static size_t handed_up;

static enum bad take_procedure(struct arena *a, const struct procedure *p, struct diags *d)
{
	(void)a, (void)d;
	assert_string_equal(p->code, "rod");
	handed_up++;
	return FINE;
}

/* Higher floors work it through, and only when it can be read. */
static void a_procedure_without_a_fault_is_handed_up(void **state)
{
	static const struct {
		const char *why, *from, *to;
		size_t handed;
	} rows[] = {
		{"good", "made up for tests", "made up", 1},
		{"faulty", "step: A", "step: 'A B'", 0},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct checked k;
		char text[sizeof small_procedure + 40];
		const char *at = strstr(small_procedure, rows[i].from);
		assert_non_null(at);
		snprintf(text, sizeof text, "%.*s%s%s", (int)(at - small_procedure),
			small_procedure, rows[i].to, at + strlen(rows[i].from));
		struct source file = {"rod.yaml", text, strlen(text)};
		begin(&k);
		handed_up = 0;
		k.check.procedure = take_procedure;
		code_is(check_text(&k.check, &file), FINE);
		code_is(check_end(&k.check), FINE);
		same_whole(rows[i].why, handed_up, rows[i].handed);
		same_whole(rows[i].why, k.check.n.procedures, 1);
		same_whole(rows[i].why, k.check.n.steps, rows[i].handed ? 3 : 0);
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

static void a_link_to_a_folder_is_not_followed(void **state)
{
	struct shelf s;
	struct checked k;
	char link[100];
	(void)state;
	shelf_open(&s);
	shelf_put(&s, "one.yaml", "what: x\n");
	snprintf(link, sizeof link, "%s/round", s.folder);
	assert_int_equal(symlink(".", link), 0);
	begin(&k);
	code_is(check_folder(&k.check, s.folder), FINE);
	same_whole("files", k.check.n.files, 1);
	bool is_told = false;
	for (const struct diag *one = k.diags.first; one; one = one->next)
		is_told = is_told || strcmp(one->place.source->name, link) == 0;
	assert_true(is_told);
	assert_int_equal(unlink(link), 0);
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
		cmocka_unit_test(a_procedure_without_a_fault_is_handed_up),
		cmocka_unit_test(a_path_that_cannot_be_read_is_a_code),
		cmocka_unit_test(folders_are_followed_sixteen_deep),
		cmocka_unit_test(a_link_to_a_folder_is_not_followed),
		cmocka_unit_test(files_that_may_not_be_read_are_told),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
