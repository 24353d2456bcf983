/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "script_surface.h"
#include "strand_fixture.h"

#include "course/load.h"
#include "rating/book.h"
#include "rating/rate.h"

static struct sign_pair machine;
static struct rubric rubric;
static const struct course course = {
	.code = "small", .title = "Small", .about = "", .language = "en", .version = "1"};

static const char rubric_text[] =
	"rubric: bench\ntitle: Bench\nabout: For tests.\n%sstations:\n"
	"  - {station: holes, title: Holes, weight: 60, competency: K4, source: x,\n"
	"     criteria: [{criterion: Centre, instrument: dividers, levels: [far, off, near, on],\n"
	"                 measure: {error: 0.05 mm, at-most: [0.5 mm, 0.3 mm, 0.2 mm]}},\n"
	"                {criterion: Edge, instrument: eye, levels: [torn, rough, clean, fine]}],\n"
	"     critical: [breakout, dust]}\n"
	"  - {station: shape, title: Shape, weight: 40, competency: K3, source: x,\n"
	"     criteria: [{criterion: Form, instrument: gauge, levels: [a, b, c, d]}]}\n";

static void load_rubric(const char *more)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	char text[1200];
	snprintf(text, sizeof text, rubric_text, more);
	code_is(file_replace(work_path("bench.yaml"), text, strlen(text), false), FINE);
	rubric_release(&rubric);
	code_is(rubric_load(work_path("bench.yaml"), &rubric, &d), FINE);
	assert_int_equal(d.nerror, 0);
	arena_release(&mem);
}

static int begin_here(void **state)
{
	machine = pair_of(test_1);
	if (work_begin(state))
		return -1;
	load_rubric("");
	script_clock();
	return 0;
}

static int end_here(void **state)
{
	rubric_release(&rubric);
	clock_replace(NULL);
	return work_end(state);
}

static enum bad rate_once(struct script_surface *x, struct rate_how *how, enum how *end)
{
	struct desk d = {.course = &course,
		.rubric = &rubric,
		.surface = &x->surface,
		.who = "l-1",
		.mode = "rate",
		.program = "test",
		.sitting = "0123456789abcdef"};
	how->piece = how->piece ? how->piece : "1";
	enum bad code = strand_open(work_folder, "l-1", &machine, &d.strand, NULL);
	if (code)
		return code;
	*end = rate_run(&d, how);
	desk_end(&d, "left");
	strand_close(d.strand);
	desk_release(&d);
	return FINE;
}

static struct rate_how rate_with(
	const char *rater, bool moderate, struct script_surface *x, const char *const *line)
{
	struct rate_how how = {.rater = rater, .moderate = moderate};
	enum how end;
	script_open(x, line);
	code_is(rate_once(x, &how, &end), FINE);
	return how;
}

static void book_now(struct arena *a, struct book *b)
{
	char id[STRAND_ID + 1];
	strand_id("l-1", machine.open, id);
	code_is(book_read(strand_path(work_folder, id, a), &rubric, "1", a, b), FINE);
}

/* Level 3 proved at the centre, 2 at the edge, 3 in form: stations at 2 and 3. */
static const char *const good[] = {
	"holes", "0.14 0.10", "3", "2", "done", "shape", "3", "done", "finish", "", NULL};

static void a_rated_piece_has_a_sum_a_verdict_and_reasons(void **state)
{
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, good);
	assert_true(how.is_done && how.passed);
	script_says(&x, "By the readings: excellent (at most 0.20 mm) is proved.");
	/* 0.6 * 75 + 0.4 * 100 */
	script_says(&x, "Passed: 85 %.");
	script_close(&x);
}

static void enter_alone_rates_nothing(void **state)
{
	static const char *const line[] = {"holes", "0.1", "=", "3", "=", "2", "critical", "=",
		"none", "done", "shape", "=", "3", "done", "=", "finish", "", NULL};
	static const char fault[] = "!! nothing is chosen beforehand";
	struct script_surface x;
	size_t refused = 0;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	assert_true(how.is_done && how.passed);
	for (const char *at = x.said.at; (at = strstr(at, fault)); at++)
		refused++;
	assert_int_equal(refused, 5);
	script_close(&x);
}

static void a_critical_error_can_be_told_before_the_points_are_rated(void **state)
{
	static const char *const line[] = {
		"holes", "!back", "critical", "1", "it broke out", "done", "finish", "", NULL};
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "Not passed: 0 %");
	script_says(&x, "show again: Holes; a critical error was seen");
	script_close(&x);
}

static void what_nobody_rated_is_named(void **state)
{
	static const char *const line[] = {
		"holes", "0.1", "3", "!back", "done", "finish", "", NULL};
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "open: Holes; not rated yet: Edge");
	script_says(&x, "open: Shape is not rated yet");
	script_close(&x);
}

static void what_readings_do_not_prove_needs_a_sentence(void **state)
{
	static const char *const line[] = {"holes", "a lot", "0.18", "3", "seen under the loupe",
		"1", "chips", "done", "shape", "2", "done", "finish", "", NULL};
	struct script_surface x;
	struct arena a = {0};
	struct book b;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	script_says(&x, "? Readings, in mm ! a number has to come first");
	script_says(&x, "whether excellent (at most 0.20 mm) is kept cannot be told");
	script_says(&x, "? Why more than the readings prove?");
	script_says(&x, "? What is the matter?");
	script_says(&x, "show again: Holes; Edge: below, rough");
	assert_true(how.is_done && !how.passed); /* 0.6 * 40 + 0.4 * 75 = 54 */
	script_says(&x, "Not passed: 54 %.");
	book_now(&a, &b);
	const struct line_rating *one = book_of(&b, "A", "holes", 1);
	assert_string_equal(one->readings, "0.18");
	assert_string_equal(one->comment, "seen under the loupe");
	assert_true(one->level == 3 && one->proved == 3); /* competent, and 1 */
	arena_release(&a);
	script_close(&x);
}

static void a_level_that_a_reading_rules_out_is_not_given(void **state)
{
	/* 0.6 mm is beyond "at most 0.5 mm" by more than the 0.05 mm of the dividers: only 0 is left */
	static const char *const line[] = {"holes", "0.1 0.6", "3", "1", "0", "looks fine", "1",
		"it broke out", "3", "done", "shape", "3", "done", "finish", "", NULL};
	struct script_surface x;
	struct arena a = {0};
	struct book b;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	script_says(&x, "? Level? ! the readings rule this level out");
	script_says(&x, "? Which critical error?");
	assert_true(how.is_done && !how.passed);
	book_now(&a, &b);
	assert_true(book_of(&b, "A", "holes", 1)->level == 0);
	assert_true(book_has_critical(&b, "A", "holes"));
	arena_release(&a);
	script_close(&x);
}

static void between_two_limits_no_critical_error_is_asked_about(void **state)
{
	/* 0.4 mm keeps 0.5 mm and not 0.3 mm */
	static const char *const line[] = {"holes", "0.4", "2", "1", "off", "3", "done", "shape",
		"3", "done", "finish", "", NULL};
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	assert_true(how.is_done);
	script_says(&x, "? Level? ! the readings rule this level out");
	script_says_not(&x, "? Which critical error?");
	script_close(&x);
}

static void a_critical_error_fails_whatever_the_sum(void **state)
{
	static const char *const line[] = {"holes", "0.1", "3", "3", "critical", "2",
		"no extraction", "done", "shape", "3", "done", "finish", "", NULL};
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, line);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "Not passed: 100 %.");
	script_says(&x, "no points make up for one");
	script_says(&x, "show again: Holes; a critical error was seen");
	script_close(&x);
}

static void a_photo_is_kept_by_name_and_hash(void **state)
{
	char path[256];
	const char *line[] = {"shape", "3", "photo", "/no/such/file", path, "done", "!back", NULL};
	struct script_surface x;
	struct arena a = {0};
	struct book b;
	(void)state;
	snprintf(path, sizeof path, "%s", work_path("bar.jpg"));
	code_is(file_replace(path, "abc", 3, false), FINE);
	rate_with("A", false, &x, line);
	script_says(&x, "? Photo ! there is no such file");
	book_now(&a, &b);
	assert_int_equal(b.photos, 1);
	/* SHA-256 of "abc": FIPS 180-4, example */
	char *bytes, id[STRAND_ID + 1];
	size_t len;
	strand_id("l-1", machine.open, id);
	code_is(file_read(strand_path(work_folder, id, &a), 1 << 20, &a, &bytes, &len), FINE);
	assert_non_null(
		strstr(bytes, "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"));
	assert_non_null(strstr(bytes, "\"name\":\"bar.jpg\""));
	arena_release(&a);
	script_close(&x);
}

static void a_second_rater_is_blind_and_differences_are_settled_with_both_kept(void **state)
{
	static const char *const second[] = {"holes", "0.14", "2", "2", "critical", "1", "torn out",
		"done", "shape", "1", "bulge", "done", "finish", "", NULL};
	static const char *const settle[] = {
		"", "3", "measured together", "falls", "old crack", "2", "within form", "", NULL};
	struct script_surface x;
	struct arena a = {0};
	struct book b;
	(void)state;
	rate_with("A", false, &x, good);
	script_close(&x);
	struct rate_how how = rate_with("B", false, &x, second);
	assert_true(how.is_done && !how.passed);
	*strstr(x.said.at, "(result)") = 0; /* before the end nothing of what A said is shown */
	script_says(&x, "- Holes: not rated yet");
	script_says_not(&x, "3, excellent;");
	script_close(&x);
	how = rate_with("C", true, &x, settle);
	script_says(&x, "To be settled: 3");
	script_says(&x, "A and B: 1 of 3 points at the same level");
	script_says(&x, "A: excellent; read 0.14 0.10");
	script_says(&x, "B: critical: breakout; torn out");
	assert_true(how.is_done && how.passed);
	script_says(&x, "Passed: 75 %.");
	script_says(&x, "settled by C: 3 differences.");
	script_says_not(&x, "one of the raters");
	book_now(&a, &b);
	assert_int_equal(book_of(&b, "A", "shape", 1)->level, 3);
	assert_int_equal(book_of(&b, "B", "shape", 1)->level, 1);
	assert_string_equal(book_of(&b, "B", "shape", 1)->comment, "bulge");
	assert_int_equal(book_level(&b, "shape", 1), 2);
	assert_string_equal(book_settled(&b, "shape", 1)->reason, "within form");
	assert_string_equal(book_settled(&b, "shape", 1)->rater, "C");
	assert_false(book_is_critical(&b, "holes"));
	arena_release(&a);
	script_close(&x);
}

/* A rubric of one station with twelve points, so that figures of agreement are worth telling. */
static void load_twelve_points(void)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	struct text text;
	text_init(&text);
	text_add(&text, "rubric: bench\ntitle: Bench\nabout: For tests.\nstations:\n"
			"  - {station: all, title: All, weight: 100, competency: K4, source: x,\n"
			"     criteria: [");
	for (int n = 0; n < 12; n++)
		text_addf(&text, "%s{criterion: Point %d, instrument: eye, levels: [a, b, c, d]}",
			n ? ",\n  " : "", n);
	text_add(&text, "]}\n");
	code_is(file_replace(work_path("bench.yaml"), text.at, text.len, false), FINE);
	rubric_release(&rubric);
	code_is(rubric_load(work_path("bench.yaml"), &rubric, &d), FINE);
	assert_int_equal(d.nerror, 0);
	arena_release(&mem);
	text_release(&text);
}

/* Levels 3 2 3, 2 2 3, 1 1 2 of three raters, four times: worked out in Python from Cohen 1968 with linear
 * weights, and from the mean squares 1.0505 between the points, 3.1111 between the raters, 0.0808 of the rest. */
static void three_raters_are_compared_in_pairs_and_together(void **state)
{
	static const int level[3][3] = {{3, 2, 1}, {2, 2, 1}, {3, 3, 2}};
	static const char *const digit[] = {"0", "1", "2", "3"};
	static const char *const nothing[] = {NULL};
	static const char *const name[] = {"A", "B", "C"};
	struct script_surface x;
	(void)state;
	load_twelve_points();
	for (size_t k = 0; k < 3; k++) {
		const char *line[40] = {"all"};
		size_t n = 1;
		for (int point = 0; point < 12; point++) {
			line[n++] = digit[level[k][point % 3]];
			if (level[k][point % 3] < 2)
				line[n++] = "off";
		}
		line[n++] = "done";
		line[n++] = "finish";
		line[n++] = "";
		rate_with(name[k], false, &x, line);
		script_close(&x);
	}
	rate_with("D", true, &x, nothing);
	script_says(&x, "A and B: 8 of 12 points at the same level; weighted kappa 0.57");
	script_says(&x, "A and C: 4 of 12 points at the same level; weighted kappa 0.25");
	script_says(&x, "All of them: 12 points; intraclass correlation of one rater 0.49");
	script_says(&x, "Weighted kappa (Cohen 1968, linear weights): how far two raters agree");
	script_says(&x, "Settled by: D");
	script_close(&x);
}

/* Two or three points make no figure: "0.00" would look like a finding. */
static void few_points_make_no_figure_of_agreement(void **state)
{
	static const char *const nothing[] = {NULL};
	struct script_surface x;
	(void)state;
	rate_with("A", false, &x, good);
	script_close(&x);
	rate_with("B", false, &x, good);
	script_close(&x);
	rate_with("C", true, &x, nothing);
	script_says(&x, "A and B: 3 of 3 points at the same level\n");
	script_says_not(&x, "appa");
	script_close(&x);
}

/* It can be done, two of them may have talked it over; but it is said, before and in the result. */
static void who_settles_their_own_difference_is_named(void **state)
{
	static const char *const second[] = {
		"holes", "0.1", "2", "2", "done", "shape", "3", "done", "finish", "", NULL};
	static const char *const settle[] = {"", "2", "looked again", "", NULL};
	struct script_surface x;
	(void)state;
	rate_with("A", false, &x, good);
	script_close(&x);
	rate_with("B", false, &x, second);
	script_close(&x);
	struct rate_how how = rate_with("B", true, &x, settle);
	assert_true(how.is_done);
	script_says(&x, "B is one of the raters. A third person should settle");
	script_says(&x, "settled by B, one of the raters: 1 difference.");
	script_close(&x);
}

static void what_is_not_settled_is_open(void **state)
{
	static const char *const second[] = {
		"holes", "0.1", "2", "2", "done", "shape", "3", "done", "finish", "", NULL};
	static const char *const nobody[] = {NULL};
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("B", true, &x, nobody);
	assert_non_null(strstr(how.refused, "fewer than two raters"));
	script_close(&x);
	rate_with("A", false, &x, good);
	script_close(&x);
	how = rate_with("B", false, &x, second);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "Open: 100 % of what is rated so far.");
	script_says(&x, "open: the raters differ on Holes; Centre");
	script_close(&x);
}

static void a_rubric_of_another_version_does_not_count(void **state)
{
	static const char *const nothing[] = {"finish", "", NULL};
	struct script_surface x;
	(void)state;
	rate_with("A", false, &x, good);
	script_close(&x);
	load_rubric("pass: 60\n");
	struct rate_how how = rate_with("A", false, &x, nothing);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "3 entries of this piece were made with another version of this rubric");
	script_says(&x, "stations still open: 2 of 2");
	script_close(&x);
	load_rubric("");
	how = rate_with("A", false, &x, nothing);
	assert_true(how.passed);
	script_close(&x);
}

static void a_rating_that_was_stopped_goes_on(void **state)
{
	static const char *const part[] = {"holes", "0.14 0.10", "3", NULL};
	static const char *const rest[] = {
		"holes", "2", "done", "shape", "3", "done", "finish", "", NULL};
	struct script_surface x;
	(void)state;
	struct rate_how how = rate_with("A", false, &x, part);
	assert_false(how.is_done);
	script_close(&x);
	how = rate_with("A", false, &x, rest);
	assert_true(how.is_done && how.passed);
	script_says(&x, "- Holes: begun");
	script_says(&x, "Passed: 85 %.");
	script_close(&x);
}

static void each_write_fails_in_turn(void **state)
{
	bool reached = true;
	(void)state;
	for (unsigned long n = 1; reached; n++) {
		struct script_surface x;
		struct rate_how how = {.rater = "A"};
		struct arena a = {0};
		struct book b;
		enum how end = HOW_DONE;
		if (file_kind(work_path("strands")) == FILE_FOLDER)
			work_empty(work_path("strands"));
		script_open(&x, good);
		fault_plan(1u << CALL_WRITE | 1u << CALL_FSYNC, n, false, EIO);
		enum bad code = rate_once(&x, &how, &end);
		reached = plan.reached;
		fault_end();
		script_close(&x);
		if (!reached)
			assert_true(!code && how.passed);
		else if (!code && !how.is_done)
			assert_int_equal(end, HOW_BROKEN);
		/* what was acknowledged can be read, and the next start ends it */
		if (code || how.is_done)
			continue;
		book_now(&a, &b);
		arena_release(&a);
		static const char *const again[] = {"holes", "again", "0.1", "excellent",
			"competent", "done", "shape", "again", "excellent", "done", "finish", "",
			NULL};
		static const char *const fresh[] = {"holes", "0.1", "excellent", "competent",
			"done", "shape", "excellent", "done", "finish", "", NULL};
		how = rate_with("A", false, &x, fresh);
		script_close(&x);
		if (!how.is_done) {
			how = rate_with("A", false, &x, again);
			script_close(&x);
		}
		assert_true(how.is_done && how.passed);
	}
}

static void each_piece_of_memory_is_missing_in_turn(void **state)
{
	bool failed = true;
	(void)state;
	for (unsigned long n = 1; failed; n++) {
		static char room[1 << 16];
		struct script_surface x;
		struct rate_how how = {.rater = "A"};
		enum how end = HOW_DONE;
		if (file_kind(work_path("strands")) == FILE_FOLDER)
			work_empty(work_path("strands"));
		script_open(&x, good);
		x.said.at = room;
		x.said.room = sizeof room;
		*room = 0;
		mem_fail_at(n, 0);
		enum bad code = rate_once(&x, &how, &end);
		failed = mem_failed();
		mem_fail_at(0, 0);
		if (!failed)
			assert_true(!code && how.passed);
		if (code)
			code_is(code, BAD_MEMORY);
		text_init(&x.said);
		assert_true(n < 5000);
	}
}

int main(void)
{
#define A(t) cmocka_unit_test_setup_teardown(t, begin_here, end_here)
	const struct CMUnitTest tests[] = {
		A(a_rated_piece_has_a_sum_a_verdict_and_reasons),
		A(enter_alone_rates_nothing),
		A(a_critical_error_can_be_told_before_the_points_are_rated),
		A(what_nobody_rated_is_named),
		A(what_readings_do_not_prove_needs_a_sentence),
		A(a_level_that_a_reading_rules_out_is_not_given),
		A(between_two_limits_no_critical_error_is_asked_about),
		A(a_critical_error_fails_whatever_the_sum),
		A(a_photo_is_kept_by_name_and_hash),
		A(a_second_rater_is_blind_and_differences_are_settled_with_both_kept),
		A(three_raters_are_compared_in_pairs_and_together),
		A(few_points_make_no_figure_of_agreement),
		A(who_settles_their_own_difference_is_named),
		A(what_is_not_settled_is_open),
		A(a_rubric_of_another_version_does_not_count),
		A(a_rating_that_was_stopped_goes_on),
		A(each_write_fails_in_turn),
		A(each_piece_of_memory_is_missing_in_turn),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
