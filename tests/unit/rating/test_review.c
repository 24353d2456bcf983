/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

#include <barwright/record/audit.h>
#include <barwright/record/graded.h>

#include "course/load.h"
#include "rating/review.h"

static struct sign_pair machine;
static struct rubric rubric;
static struct strand *strand;

static const char rubric_text[] =
	"rubric: bench\ntitle: Bench\nabout: For tests.\nstations:\n"
	"  - {station: holes, title: Holes, weight: 60, competency: K4, source: x,\n"
	"     criteria: [{criterion: Centre, instrument: dividers, levels: [far, off, near, on],\n"
	"                 measure: {error: 0.05 mm, at-most: [0.5 mm, 0.3 mm, 0.2 mm]}}],\n"
	"     critical: [breakout]}\n"
	"  - {station: shape, title: Shape, weight: 40, competency: K3, source: x,\n"
	"     criteria: [{criterion: Form, instrument: gauge, levels: [a, b, c, d]}]}\n";

static int begin_here(void **state)
{
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	machine = pair_of(test_1);
	if (work_begin(state))
		return -1;
	clock_stop();
	code_is(file_replace(work_path("bench.yaml"), rubric_text, strlen(rubric_text), false),
		FINE);
	code_is(rubric_load(work_path("bench.yaml"), &rubric, &d), FINE);
	arena_release(&mem);
	code_is(strand_open(work_folder, "l-1", &machine, &strand, NULL), FINE);
	struct line_open open = an_open;
	open.mode = "rate";
	code_is(line_open_append(strand, &open), FINE);
	return 0;
}

static int end_here(void **state)
{
	strand_close(strand);
	rubric_release(&rubric);
	clock_replace(NULL);
	return work_end(state);
}

static void rate(const char *rater, const char *piece, const char *station, uint64_t level,
	const char *readings, uint64_t proved)
{
	struct line_rating line = {.rubric = "bench",
		.content = rubric.hash,
		.piece = piece,
		.rater = rater,
		.station = station,
		.criterion = 1,
		.level = level,
		.readings = readings,
		.proved = proved,
		.unit = *readings ? "mm" : "",
		.comment = ""};
	code_is(line_rating_append(strand, &line), FINE);
}

/* What somebody says the result is; points of levels 0 to 3 are 0, 40, 75, 100 where a rubric names
 * none. */
static void result(const char *piece, const char *verdict, const char *percent,
	const char *const verdicts[2], const char *const percents[2])
{
	static const char *const part[] = {"holes", "shape"}, *const competency[] = {"K4", "K3"};
	static const char *const needed[] = {"75.00", "75.00"};
	struct line_result line = {.of = "bench",
		.title = "Bench",
		.content = rubric.hash,
		.piece = piece,
		.by = "A",
		.verdict = verdict,
		.percent = percent,
		.needed = "70.00",
		.part = {part, 2},
		.part_competency = {competency, 2},
		.part_percent = {percents, 2},
		.part_needed = {needed, 2},
		.part_verdict = {verdicts, 2},
		.reasons = {NULL, 0}};
	code_is(line_result_append(strand, &line), FINE);
}

static const char *const reached[] = {"reached", "reached"}, *const high[] = {"75.00", "100.00"};

static void audit_says(const struct rubric *with, uint64_t equal, uint64_t differs,
	uint64_t not_made, const char *words)
{
	struct audit a;
	struct rating_review r = {.rubric = with};
	struct audit_how how = {.review = rating_review_line, .review_context = &r};
	audit_init(&a);
	code_is(audit_path(&a, strand_own_path(strand), &how), FINE);
	if (a.count.graded_equal != equal || a.count.graded_differs != differs ||
		a.count.graded_not_made != not_made)
		fail_msg("want %d same, %d different, %d not made, got %d, %d, %d", (int)equal,
			(int)differs, (int)not_made, (int)a.count.graded_equal,
			(int)a.count.graded_differs, (int)a.count.graded_not_made);
	if (words) {
		assert_non_null(a.remark);
		assert_string_equal(a.remark->words, words);
	}
	assert_int_equal(audit_is_clean(&a), differs == 0);
	arena_release(&r.arena);
	audit_release(&a);
}

/* 0.6 * 75 + 0.4 * 100 = 85; 0.24 mm proves "at most 0.3 mm" within 0.05 mm, and not 0.2 mm. */
static void ratings_and_their_result_are_worked_out_again(void **state)
{
	(void)state;
	rate("A", "1", "holes", 2, "0.24", 3);
	rate("A", "1", "shape", 3, "", 0);
	result("1", "passed", "85.00", reached, high);
	audit_says(&rubric, 2, 0, 0, NULL);
	/* another piece begins with nothing */
	static const char *const open[] = {"open", "open"}, *const none[] = {"0.00", "0.00"};
	result("2", "open", "0.00", open, none);
	audit_says(&rubric, 3, 0, 0, NULL);
	audit_says(NULL, 0, 0, 3, "its rubric is not here, or was changed since");
}

static void a_result_that_nobody_rated_is_found(void **state)
{
	(void)state;
	rate("A", "1", "holes", 1, "", 0);
	rate("A", "1", "shape", 3, "", 0);
	result("1", "passed", "85.00", reached, high);
	audit_says(&rubric, 0, 1, 0, "the result is not what the ratings come to");
}

static void a_critical_error_is_not_left_out(void **state)
{
	struct line_critical line = {.rubric = "bench",
		.content = rubric.hash,
		.piece = "1",
		.rater = "A",
		.station = "holes",
		.error = "breakout",
		.words = "seen"};
	(void)state;
	rate("A", "1", "holes", 2, "", 0);
	rate("A", "1", "shape", 3, "", 0);
	code_is(line_critical_append(strand, &line), FINE);
	result("1", "passed", "85.00", reached, high);
	static const char *const not_reached[] = {"not-reached", "reached"};
	result("1", "not-passed", "85.00", not_reached, high);
	audit_says(&rubric, 1, 1, 0, "the result is not what the ratings come to");
}

static void raters_who_differ_leave_it_open_until_it_is_agreed(void **state)
{
	static const char *const one_open[] = {"open", "reached"}, *const half[] = {
									   "0.00", "100.00"};
	struct line_agreed line = {.rubric = "bench",
		.content = rubric.hash,
		.piece = "1",
		.rater = "C",
		.station = "holes",
		.criterion = 1,
		.level = 2,
		.reason = "seen together"};
	(void)state;
	rate("A", "1", "holes", 2, "", 0);
	rate("A", "1", "shape", 3, "", 0);
	rate("B", "1", "holes", 3, "", 0);
	result("1", "open", "100.00", one_open, half);
	code_is(line_agreed_append(strand, &line), FINE);
	result("1", "passed", "85.00", reached, high);
	audit_says(&rubric, 2, 0, 0, NULL);
}

static void readings_that_prove_less_are_found(void **state)
{
	(void)state;
	rate("A", "1", "holes", 3, "0.24", 4);
	audit_says(&rubric, 0, 1, 0, "the readings do not prove what is noted");
	rate("A", "1", "shape", 3, "0.24", 4);
	audit_says(&rubric, 0, 2, 0, NULL);
}

static void running_out_of_memory_is_an_ordinary_answer(void **state)
{
	bool failed = true;
	(void)state;
	rate("A", "1", "holes", 2, "0.24", 3);
	rate("A", "1", "shape", 3, "", 0);
	result("1", "passed", "85.00", reached, high);
	for (unsigned long n = 1; failed; n++) {
		struct audit a;
		struct rating_review r = {.rubric = &rubric};
		struct audit_how how = {.review = rating_review_line, .review_context = &r};
		audit_init(&a);
		mem_fail_at(n, 0);
		enum bad code = audit_path(&a, strand_own_path(strand), &how);
		failed = mem_failed();
		mem_fail_at(0, 0);
		code_is(code, failed ? BAD_MEMORY : FINE);
		arena_release(&r.arena);
		audit_release(&a);
	}
}

int main(void)
{
#define T(name) cmocka_unit_test_setup_teardown(name, begin_here, end_here)
	const struct CMUnitTest tests[] = {
		T(ratings_and_their_result_are_worked_out_again),
		T(a_result_that_nobody_rated_is_found),
		T(a_critical_error_is_not_left_out),
		T(raters_who_differ_leave_it_open_until_it_is_agreed),
		T(readings_that_prove_less_are_found),
		T(running_out_of_memory_is_an_ordinary_answer),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
