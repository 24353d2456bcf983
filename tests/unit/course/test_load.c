/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whole courses and rubrics from folders. */
#include "small_course.h"

struct loaded {
	struct arena arena;
	struct diags diags;
	struct course course;
	enum bad code;
};

static void load(struct loaded *l, const char *folder)
{
	memset(l, 0, sizeof *l);
	l->diags.arena = &l->arena;
	l->code = course_load(folder, &l->course, &l->diags);
}

static void unload(struct loaded *l)
{
	course_release(&l->course);
	arena_release(&l->arena);
}

static void course_is_read_in_the_order_of_its_lists(void **state)
{
	(void)state;
	struct shelf s;
	struct loaded l;
	shelf_open(&s);
	put_small_course(&s);
	load(&l, s.folder);
	code_is(l.code, FINE);
	told_nothing("course", &l.diags);
	const struct course *c = &l.course;
	same_text("code", c->code, "small");
	same_text("title", c->title, "A small course");
	same_text("version", c->version, "3");
	same_text("language", c->language, "en");
	same_whole("modules", c->nmodule, 2);
	same_text("first module", c->module[0].code, "two");
	same_text("second module", c->module[1].code, "one");
	same_whole("problems", c->module[1].nproblem, 2);
	same_text("first problem", c->module[1].problem[0].code, "beta");
	same_whole("stations", c->module[1].nstation, 2);
	same_text("station", c->module[1].station[1], "shape");
	same_whole("line of a station", c->module[1].station_place[1].line, 6);
	same_whole("column of a station", c->module[1].station_place[1].col, 19);
	unload(&l);
	shelf_close(&s);
}

static void what_is_in_a_course_is_found_by_code(void **state)
{
	(void)state;
	struct shelf s;
	struct loaded l;
	shelf_open(&s);
	put_small_course(&s);
	load(&l, s.folder);
	static const char *const codes[] = {"Zeta", "alpha", "beta"};
	same_whole("problems", l.course.nproblem, 3);
	for (size_t i = 0; i < 3; i++) {
		same_text("in order", l.course.by_code[i]->code, codes[i]);
		assert_ptr_equal(course_problem(&l.course, codes[i]), l.course.by_code[i]);
	}
	assert_null(course_problem(&l.course, "gamma"));
	assert_null(course_problem(&l.course, ""));
	assert_ptr_equal(course_module(&l.course, "one"), &l.course.module[1]);
	assert_null(course_module(&l.course, "three"));
	same_text("competency", course_competency(&l.course, "K1.2")->title, "Two");
	assert_null(course_competency(&l.course, "K2"));
	unload(&l);
	assert_null(course_problem(&l.course, "alpha"));
	shelf_close(&s);
}

static void lesson_keeps_its_passages(void **state)
{
	(void)state;
	static const char *const texts[] = {"H", "T", "I", "a  b", "C", "S", ""};
	struct shelf s;
	struct loaded l;
	shelf_open(&s);
	put_small_course(&s);
	load(&l, s.folder);
	const struct lesson *x = &l.course.module[1].lesson[0];
	same_text("code", x->code, "first");
	same_whole("pages", x->npage, 1);
	same_whole("passages", x->page[0].n, 8);
	for (size_t i = 0; i < 7; i++) {
		same_whole("kind", x->page[0].passage[i].kind, i);
		same_text("text", x->page[0].passage[i].text, texts[i]);
	}
	same_whole("figure", x->page[0].passage[6].figure.kind, FIGURE_ARC);
	const struct figure_spec *f = &x->page[0].passage[7].figure;
	size_t n;
	same_whole("figure", f->kind, FIGURE_SCHEDULE);
	same_text("second step", figure_spec_texts(f, "steps", &n)[1], "hold");
	same_whole("steps", n, 2);
	assert_non_null(figure_spec_field(f, "durations"));
	assert_null(figure_spec_texts(f, "unattended", &n));
	same_whole("none", n, 0);
	unload(&l);
	shelf_close(&s);
}

static void a_fault_closes_its_own_file_only(void **state)
{
	(void)state;
	/* What is put in the place of a good file, and how many modules, problems, lessons are left. */
	static const struct {
		const char *why, *file, *text;
		size_t errors, modules, problems, lessons;
	} rows[] = {
		{"problem with a fault", "one/alpha.yaml", "problem: alpha\n", 7, 2, 2, 1},
		{"problem that is no YAML", "one/alpha.yaml", "problem: [\n", 1, 2, 2, 1},
		{"problem that is a lesson", "one/alpha.yaml", "lesson: x\n", 1, 2, 2, 1},
		{"problem of an unknown competency", "one/alpha.yaml", NULL, 1, 2, 2, 1},
		{"lesson with a fault", "one/lesson.yaml", "lesson: x\ntitle: x\n", 1, 2, 3, 0},
		{"module with a fault", "one/module.yaml",
			"module: one\nabout: x\nlessons: [lesson.yaml]\n", 1, 1, 1, 0},
		{"module of another name", "one/module.yaml",
			"module: uno\ntitle: x\nabout: x\nlessons: [lesson.yaml]\n", 1, 1, 1, 0},
		{"module that names what is not there", "one/module.yaml",
			"module: one\ntitle: x\nabout: x\nlessons: [lesson.yaml, gone.yaml]\n", 1,
			2, 1, 1},
		{"course with a fault", "course.yaml",
			"course: small\nabout: x\nversion: x\ncompetencies: {K1: x, K1.2: x}\n"
			"modules: [one, two]\n",
			1, 2, 3, 1},
		{"course that is no YAML", "course.yaml", "course: [\n", 1, 0, 0, 0},
		{"course that is a list", "course.yaml", "[course]\n", 1, 0, 0, 0},
	};
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct shelf s;
		struct loaded l;
		size_t lessons = 0;
		shelf_open(&s);
		put_small_course(&s);
		shelf_put(&s, rows[i].file,
			rows[i].text ? rows[i].text : small_problem("alpha", "K9"));
		load(&l, s.folder);
		code_is(l.code, FINE);
		for (size_t k = 0; k < l.course.nmodule; k++)
			lessons += l.course.module[k].nlesson;
		same_whole(rows[i].why, l.diags.nerror, rows[i].errors);
		same_whole(rows[i].why, l.course.nmodule, rows[i].modules);
		same_whole(rows[i].why, l.course.nproblem, rows[i].problems);
		same_whole(rows[i].why, lessons, rows[i].lessons);
		assert_non_null(l.course.title);
		assert_non_null(l.course.about);
		unload(&l);
		shelf_close(&s);
	}
}

static void a_course_without_a_readable_head_takes_the_name_of_its_folder(void **state)
{
	(void)state;
	struct shelf s;
	struct loaded l;
	shelf_open(&s);
	shelf_put(&s, "course.yaml", "course: [\n");
	load(&l, s.folder);
	same_text("code", l.course.code, file_name(s.folder));
	same_text("language", l.course.language, "en");
	unload(&l);
	shelf_close(&s);
}

static void hashes_are_those_of_the_bytes(void **state)
{
	(void)state;
	struct shelf s;
	struct loaded l, again;
	struct hash_state sum;
	shelf_open(&s);
	put_small_course(&s);
	load(&l, s.folder);
	const char *a = small_problem("alpha", "K1");
	struct hash want = hash_bytes(a, strlen(a));
	assert_true(problem_is_same(course_problem(&l.course, "alpha"), &want));
	/* Of the course: over the hashes in the order of reading. */
	static const char *const files[] = {"course.yaml", "two/module.yaml", "two/Zeta.yaml",
		"one/module.yaml", "one/lesson.yaml", "one/beta.yaml", "one/alpha.yaml"};
	hash_start(&sum);
	for (size_t i = 0; i < sizeof files / sizeof *files; i++) {
		char path[200], *bytes;
		size_t len;
		snprintf(path, sizeof path, "%s/%s", s.folder, files[i]);
		code_is(file_read(path, 10000, NULL, &bytes, &len), FINE);
		struct hash one = hash_bytes(bytes, len);
		hash_add(&sum, one.byte, HASH_BYTES);
		mem_drop(bytes);
	}
	want = hash_end(&sum);
	assert_true(course_is_same(&l.course, &want));
	shelf_put(&s, "one/alpha.yaml", small_problem("alpha", "K1.2"));
	load(&again, s.folder);
	want = course_hash(&again.course);
	assert_false(course_is_same(&l.course, &want));
	unload(&again);
	unload(&l);
	shelf_close(&s);
}

/* What a first page shows is the same, whether the whole course was read or its heads. */
static void the_same(const struct course *heads, const struct course *whole)
{
	same_text("code", heads->code, whole->code);
	same_text("title", heads->title, whole->title);
	same_text("about", heads->about, whole->about);
	same_whole("modules", heads->nmodule, whole->nmodule);
	same_whole("all problems", heads->nproblem, whole->nproblem);
	struct arena a = {0};
	for (size_t m = 0; m < whole->nmodule; m++) {
		const struct module *h = &heads->module[m], *w = &whole->module[m];
		same_text("module", h->code, w->code);
		same_text("title of a module", h->title, w->title);
		same_whole("lessons", h->nlesson, w->nlesson);
		same_whole("problems", h->nproblem, w->nproblem);
		same_whole("fixed items", h->nfixed, w->nfixed);
		for (size_t k = 0; k < w->nproblem; k++) {
			same_text("problem", h->problem[k].code, w->problem[k].code);
			same_text("title of a problem", problem_title(&h->problem[k], &a),
				w->problem[k].title);
			same_whole("fixed", h->problem[k].is_fixed, w->problem[k].is_fixed);
			assert_ptr_equal(course_problem(heads, w->problem[k].code), &h->problem[k]);
		}
	}
	arena_release(&a);
}

static void heads_are_those_of_the_whole_course(void **state)
{
	(void)state;
	static const char folder[] = "courses/hand-made-bar";
	struct loaded l;
	struct course heads;
	load(&l, folder);
	code_is(course_heads(folder, &heads), FINE);
	assert_true(heads.nproblem > 100);
	the_same(&heads, &l.course);
	course_release(&heads);
	unload(&l);
}

/* Put in the place of the first line or two of a problem. */
static void title_with(const char *head, const char *want)
{
	struct shelf s;
	struct course c;
	struct arena a = {0};
	char text[4000];
	const char *rest = strstr(small_problem("alpha", "K1"), "competency:");
	shelf_open(&s);
	put_small_course(&s);
	snprintf(text, sizeof text, "%s%s", head, rest);
	shelf_put(&s, "one/alpha.yaml", text);
	code_is(course_heads(s.folder, &c), FINE);
	same_whole("all problems", c.nproblem, 3);
	same_text(head, problem_title(course_problem(&c, "alpha"), &a), want);
	arena_release(&a);
	course_release(&c);
	shelf_close(&s);
}

static void the_title_of_a_head_is_read_when_it_is_asked_for(void **state)
{
	(void)state;
	static const char *const head[][2] = {
		{"problem: alpha\ntitle: Two: words\n", ""},
		{"problem: alpha\ntitle: \"Two: words\"\n", "Two: words"},
		{"problem: alpha\ntitle: Two\n  words\n", "Two words"},
		{"problem: alpha\r\ntitle: Two words\r\n", "Two words"},
		{"title: Two words\nproblem: alpha\n", "Two words"},
		{"problem: alpha\n", ""},
		{"problem: alpha\ntitle: t\nnonsense: [\n", ""},
		{"problem: alpha\ntitle: t\nnonsense: x\n", "t"},
	};
	for (size_t k = 0; k < sizeof head / sizeof *head; k++)
		title_with(head[k][0], head[k][1]);
}

static void a_code_that_is_not_the_name_of_its_file_is_told(void **state)
{
	(void)state;
	struct shelf s;
	struct loaded l;
	shelf_open(&s);
	put_small_course(&s);
	shelf_put(&s, "one/alpha.yaml", small_problem("alpine", "K1"));
	load(&l, s.folder);
	same_whole("told", l.diags.nerror, 1);
	same_text("words", l.diags.first->words,
		"it calls itself 'alpine', but its file is 'alpha.yaml'");
	assert_null(course_problem(&l.course, "alpine"));
	same_whole("the others", l.course.nproblem, 2);
	unload(&l);
	shelf_close(&s);
}

static void no_course_is_a_code(void **state)
{
	(void)state;
	struct shelf s;
	struct loaded l;
	shelf_open(&s);
	load(&l, s.folder);
	code_is(l.code, BAD_ABSENT);
	assert_null(l.course.code);
	same_whole("nothing told", l.diags.nerror, 0);
	unload(&l);
	shelf_put(&s, "course.yaml/x", "");
	load(&l, s.folder);
	code_is(l.code, BAD_TYPE);
	unload(&l);
	shelf_close(&s);
}

/* ---- rubrics --------------------------------------------------------------------------------- */

static void rubric_is_read(void **state)
{
	(void)state;
	struct shelf s;
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct rubric r;
	char path[100];
	shelf_open(&s);
	shelf_put(&s, "bench.yaml", small_rubric);
	snprintf(path, sizeof path, "%s/bench.yaml", s.folder);
	code_is(rubric_load(path, &r, &d), FINE);
	told_nothing("bench", &d);
	same_text("code", r.code, "bench");
	same_whole("points", r.points[2], 80);
	same_whole("stations", r.nstation, 2);
	same_whole("weight", r.station[0].weight, 60);
	same_whole("critical", r.station[0].ncritical, 2);
	same_text("critical", r.station[0].critical[1], "dust");
	same_whole("none", r.station[1].ncritical, 0);
	same_text("level", r.station[1].criterion[0].level[3], "d");
	struct hash want = hash_bytes(small_rubric, strlen(small_rubric));
	assert_true(hash_is_equal(&r.hash, &want));
	rubric_release(&r);
	rubric_release(&r);
	arena_release(&arena);
	shelf_close(&s);
}

static void a_faulty_rubric_has_no_stations(void **state)
{
	(void)state;
	struct shelf s;
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct rubric r;
	char path[100];
	shelf_open(&s);
	shelf_put(&s, "bench.yaml", strchr(small_rubric, '\n') + 1);
	snprintf(path, sizeof path, "%s/bench.yaml", s.folder);
	code_is(rubric_load(path, &r, &d), FINE);
	same_whole("told", d.nerror, 1);
	same_whole("stations", r.nstation, 0);
	rubric_release(&r);
	snprintf(path, sizeof path, "%s/gone.yaml", s.folder);
	code_is(rubric_load(path, &r, &d), BAD_ABSENT);
	same_whole("not told", d.nerror, 1);
	assert_null(r.code);
	arena_release(&arena);
	shelf_close(&s);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(course_is_read_in_the_order_of_its_lists),
		cmocka_unit_test(what_is_in_a_course_is_found_by_code),
		cmocka_unit_test(lesson_keeps_its_passages),
		cmocka_unit_test(a_fault_closes_its_own_file_only),
		cmocka_unit_test(a_course_without_a_readable_head_takes_the_name_of_its_folder),
		cmocka_unit_test(hashes_are_those_of_the_bytes),
		cmocka_unit_test(heads_are_those_of_the_whole_course),
		cmocka_unit_test(the_title_of_a_head_is_read_when_it_is_asked_for),
		cmocka_unit_test(a_code_that_is_not_the_name_of_its_file_is_told),
		cmocka_unit_test(no_course_is_a_code),
		cmocka_unit_test(rubric_is_read),
		cmocka_unit_test(a_faulty_rubric_has_no_stations),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
