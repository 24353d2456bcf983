/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

#include <barwright/record/graded.h>

#include "programme/view.h"

static struct sign_pair machine, ortiz;
static struct assessor ortiz_name = {.name = "A. Ortiz"};
static struct key_known known;
static const struct key_ring ring = {&known, 1};

static const struct competency codes[] = {
	{"K1", "One", {0}}, {"K1.1", "One one", {0}}, {"K2", "Two", {0}}};
static const struct problem drilled = {.code = "spread", .competency = "K2"};
static const struct problem *by_code[] = {&drilled};
static const struct module a_module = {
	.code = "m", .title = "M", .problem = &drilled, .nproblem = 1};
static const struct course course = {.code = "demo",
	.title = "A course",
	.version = "1",
	.competency = codes,
	.ncompetency = 3,
	.module = &a_module,
	.nmodule = 1,
	.by_code = by_code,
	.nproblem = 1};
static const struct course *courses[] = {&course};

static int begin_here(void **state)
{
	machine = pair_of(test_1);
	ortiz = pair_of(test_2);
	memcpy(known.open, ortiz.open, sizeof known.open);
	memcpy(ortiz_name.open, ortiz.open, sizeof ortiz.open);
	key_id(ortiz.open, ortiz_name.id);
	known.name = "A. Ortiz";
	clock_stop();
	return work_begin(state);
}

static int end_here(void **state)
{
	clock_replace(NULL);
	return work_end(state);
}

/* One sitting with one part a competency; sealed or not. Each takes a second. */
struct part {
	const char *code, *percent;
	bool reached;
};
static void sit(struct strand *s, const char *sitting, const char *of, const char *piece,
	uint64_t attempt, const struct part *part, size_t n, bool seal)
{
	static const char *const station[] = {"holes", "shape", "wax"};
	const char *name[4], *code[4], *percent[4], *needed[4], *verdict[4];
	struct arena a = {0};
	struct line_open open = an_open;
	open.mode = *piece ? "rate" : "sit";
	open.sitting = sitting;
	fixed_now += 1000;
	code_is(line_open_append(s, &open), FINE);
	for (size_t k = 0; k < n; k++) {
		code[k] = part[k].code;
		name[k] = *piece ? station[k] : part[k].code;
		percent[k] = part[k].percent;
		needed[k] = "60.00";
		verdict[k] = part[k].reached ? "reached" : "not-reached";
	}
	struct line_result r = {.of = of,
		.title = of,
		.verdict = "passed",
		.percent = "80.00",
		.needed = "60.00",
		.piece = piece,
		.by = *piece ? "B. Lund" : "",
		.attempt = attempt,
		.part = {name, n},
		.part_competency = {code, n},
		.part_percent = {percent, n},
		.part_needed = {needed, n},
		.part_verdict = {verdict, n}};
	code_is(line_result_append(s, &r), FINE);
	if (seal) {
		struct seal_how how = {.sitting = sitting, .pair = &ortiz, .assessor = &ortiz_name};
		code_is(seal_strand(s, &how, &a, NULL, NULL), FINE);
	}
	arena_release(&a);
}

static struct strand *strand_of(const char *who)
{
	struct strand *s = NULL;
	code_is(strand_open(work_folder, who, &machine, &s, NULL), FINE);
	return s;
}

static void gather(struct arena *a, struct evidence *e)
{
	*e = (struct evidence){.arena = a, .course = courses, .ncourse = 1, .ring = &ring};
	code_is(evidence_add(e, work_path("strands")), FINE);
	code_is(evidence_end(e), FINE);
}

static const char *seen(const struct evidence *e, bool json, struct text *out)
{
	static const char *const both[] = {"K1", "K2"}, *const one[] = {"K1"};
	static const struct outcome_code outcomes[] = {
		{"LO 1", "Both", both, 2, 1}, {"LO 2", "Twice", one, 1, 2}};
	static const struct programme programme = {
		.code = "p", .title = "A programme", .outcome = outcomes, .noutcome = 2};
	struct view_of v = {e, &course, &programme, NULL, NULL, fixed_now, NULL};
	text_init(out);
	(json ? view_matrix_json : view_matrix)(&v, out);
	return out->at;
}

static void only_what_is_under_an_accepted_seal_is_assessed(void **state)
{
	static const struct part good[] = {{"K1", "80.00", true}},
				 best[] = {{"K1", "100.00", true}};
	struct arena a = {0};
	struct evidence e;
	struct text t;
	(void)state;
	struct strand *s = strand_of("l-1");
	sit(s, "room-1", "theory", "", 1, good, 1, true);
	sit(s, "room-2", "theory", "", 2, best, 1, false); /* forged or not: nobody watched it */
	strand_close(s);
	gather(&a, &e);
	struct evidence_sum sum = evidence_sum(&e, "l-1", "K1");
	assert_int_equal(sum.assessed, 1);
	assert_int_equal(sum.unsealed, 1);
	near("best is not the unsealed one", sum.best->value, 80, 0);
	assert_string_equal(sum.last->assessor, "A. Ortiz");
	assert_non_null(strstr(seen(&e, false, &t), "K1        ok 80\n"));
	/* sealed, reached, best, last, unsealed, drills, when, whose word */
	assert_non_null(strstr(t.at, "  K1           1        1   80 %   80 %         1        -  "
				     "2026-11-25  A. Ortiz\n"));
	assert_non_null(strstr(t.at, "LO 1  Both: missing K2 (0 of 1)"));
	assert_non_null(
		strstr(t.at, "A competency with parts, as K1 with K1.1, stands as its weakest "
			     "part.\n"));
	assert_non_null(strstr(t.at, "LO 2  Twice: missing K1 (1 of 2)"));
	text_release(&t);
	/* to a reader who accepts nobody it is all practice */
	struct evidence none = {.arena = &a, .course = courses, .ncourse = 1};
	code_is(evidence_add(&none, work_path("strands")), FINE);
	code_is(evidence_end(&none), FINE);
	assert_int_equal(evidence_sum(&none, "l-1", "K1").assessed, 0);
	arena_release(&a);
}

static void a_later_result_of_the_same_work_takes_the_place_of_the_earlier(void **state)
{
	static const struct part poor[] = {{"K2", "40.00", false}},
				 good[] = {{"K2", "75.00", true}};
	struct arena a = {0};
	struct evidence e;
	(void)state;
	struct strand *s = strand_of("l-1");
	sit(s, "room-1", "bench", "1", 0, poor, 1, true);
	sit(s, "room-2", "bench", "1", 0, good, 1, true);
	sit(s, "room-3", "bench", "2", 0, poor, 1, true);
	strand_close(s);
	gather(&a, &e);
	struct evidence_sum sum = evidence_sum(&e, "l-1", "K2");
	assert_int_equal(sum.assessed, 2); /* pieces 1 and 2 */
	assert_int_equal(sum.reached, 1);
	near("best", sum.best->value, 75, 0);
	near("last", sum.last->value, 40, 0);
	arena_release(&a);
}

static void parts_of_one_work_are_one_piece_of_evidence(void **state)
{
	static const struct part three[] = {
		{"K1", "70.00", true}, {"K1.1", "40.00", false}, {"K2", "90.00", true}};
	static const struct part members[] = {{"K1.1", "40.00", false}, {"K1.1", "90.00", true}};
	struct arena a = {0};
	struct evidence e;
	(void)state;
	struct strand *s = strand_of("l-1");
	sit(s, "room-1", "theory", "", 1, three, 3, true);
	strand_close(s);
	s = strand_of("l-2");
	sit(s, "room-1", "bench", "1", 0, members, 2, true);
	strand_close(s);
	gather(&a, &e);
	struct evidence_sum whole = evidence_sum(&e, "l-1", "K1");
	assert_true(whole.assessed == 1 && whole.reached == 1);
	near("the part of the family speaks for it", whole.best->value, 70, 0);
	struct evidence_sum member = evidence_sum(&e, "l-1", "K1.1");
	assert_true(member.assessed == 1 && member.reached == 0);
	/* two stations of one piece: good enough when both are */
	struct evidence_sum two = evidence_sum(&e, "l-2", "K1");
	assert_true(two.assessed == 1 && two.reached == 0);
	near("a piece stands as its weakest station", two.best->value, 40, 0);
	near("a piece stands as its weakest station", two.last->value, 40, 0);
	arena_release(&a);
}

/* A run at the simulated bench, as bench/ledger.h says it: only the decision that ends it carries per
 * cent. */
static void run_bench(struct strand *s, const char *sitting, const char *percent, bool seal)
{
	struct arena a = {0};
	struct line_open open = an_open;
	struct line_answer x = {.item = "making/whole/free",
		.attempt = 1,
		.turn = 1,
		.typed = "wait 5",
		.read_as = "",
		.outcome = "done",
		.slip = "",
		.expected = "5.000",
		.tolerance = "",
		.unit = "min"};
	open.mode = "bench";
	open.sitting = sitting;
	fixed_now += 1000;
	code_is(line_open_append(s, &open), FINE);
	x.ask = 1;
	code_is(line_answer_append(s, &x), FINE);
	x.ask = 2;
	x.typed = "end accepted";
	x.outcome = "accepted";
	x.expected = percent;
	x.unit = "%";
	code_is(line_answer_append(s, &x), FINE);
	struct seal_how how = {.sitting = sitting, .pair = &ortiz, .assessor = &ortiz_name};
	if (seal)
		code_is(seal_strand(s, &how, &a, NULL, NULL), FINE);
	arena_release(&a);
}

static void runs_at_the_bench_are_shown_sealed_or_as_practice(void **state)
{
	struct arena a = {0};
	struct evidence e;
	struct text t;
	(void)state;
	struct strand *s = strand_of("l-1");
	run_bench(s, "room-1", "92.500", true);
	run_bench(s, "room-2", "40.000", false);
	strand_close(s);
	gather(&a, &e);
	struct benched_sum sum = benched_sum(&e, "l-1");
	assert_true(sum.runs == 2 && sum.assessed == 1);
	near("best", sum.best->value, 92.5, 0);
	near("last", sum.last->value, 40, 0);
	assert_non_null(strstr(seen(&e, false, &t), "At the simulated bench: 2 runs, sealed 1, "
						    "best 92.5 %, last 40 % on 2026-11-25\n"));
	text_release(&t);
	struct view_of v = {&e, &course, NULL, NULL, NULL, fixed_now, NULL};
	text_init(&t);
	view_transcript(&v, "l-1", &t);
	const char *practice = strstr(t.at, "\nPractice"),
		   *good = strstr(t.at, " 92.5 %  accepted ");
	const char *poor = strstr(t.at, "   40 %  accepted ");
	assert_true(practice && good && poor && good < practice && practice < poor);
	assert_non_null(strstr(good,
		"sealed by A. Ortiz\n                making/whole/free; identity: not stated\n"));
	text_release(&t);
	arena_release(&a);
}

static void drills_are_practice_and_nothing_else(void **state)
{
	struct arena a = {0};
	struct evidence e;
	struct text t;
	(void)state;
	struct strand *s = strand_of("l-1");
	code_is(add_some(s, 5), FINE); /* answers 0 to 3, every other one right */
	strand_close(s);
	gather(&a, &e);
	struct evidence_sum sum = evidence_sum(&e, "l-1", "K2");
	assert_true(sum.assessed == 0 && sum.answers == 4 && sum.right == 2);
	assert_non_null(strstr(seen(&e, false, &t), "K2        (2/4)\n"));
	assert_non_null(strstr(t.at, "Nobody has anything in: K1\n"));
	text_release(&t);
	arena_release(&a);
}

static void a_strand_with_a_fault_gives_nothing_and_is_named(void **state)
{
	static const struct part good[] = {{"K1", "80.00", true}};
	struct arena a = {0};
	struct evidence e;
	struct text t;
	char id[STRAND_ID + 1], path[256];
	(void)state;
	struct strand *s = strand_of("l-1");
	sit(s, "room-1", "theory", "", 1, good, 1, true);
	strand_close(s);
	strand_id("l-1", machine.open, id);
	snprintf(path, sizeof path, "%s", strand_path(work_folder, id, &a));
	struct source whole = load(path);
	char *bytes = (char *)(uintptr_t)whole.text;
	bytes[strstr(bytes, "80.00") - bytes] = '9';
	code_is(file_replace(path, bytes, whole.len, true), FINE);
	unload(&whole);
	gather(&a, &e);
	assert_int_equal(e.faulty, 1);
	assert_int_equal(evidence_sum(&e, "l-1", "K1").assessed, 0);
	assert_non_null(strstr(seen(&e, false, &t), "Not counted: "));
	assert_non_null(strstr(t.at, id));
	text_release(&t);
	arena_release(&a);
}

static void each_piece_of_memory_is_missing_in_turn(void **state)
{
	static const struct part three[] = {
		{"K1", "70.00", true}, {"K1.1", "40.00", false}, {"K2", "90.00", true}};
	bool failed = true;
	(void)state;
	struct strand *s = strand_of("l-1");
	sit(s, "room-1", "theory", "", 1, three, 3, true);
	strand_close(s);
	for (unsigned long n = 1; failed; n++) {
		struct arena a = {0};
		struct text t;
		struct evidence e = {.arena = &a, .course = courses, .ncourse = 1, .ring = &ring};
		mem_fail_at(n, 0);
		enum bad code = evidence_add(&e, work_path("strands"));
		if (!code)
			code = evidence_end(&e);
		bool said = !code;
		if (said) {
			seen(&e, n % 2, &t);
		}
		failed = mem_failed();
		mem_fail_at(0, 0);
		if (code)
			code_is(code, BAD_MEMORY);
		else if (t.out != failed)
			fail_msg("request %lu: out %d, failed %d", n, (int)t.out, (int)failed);
		if (said)
			text_release(&t);
		arena_release(&a);
	}
}

int main(void)
{
#define A(t) cmocka_unit_test_setup_teardown(t, begin_here, end_here)
	const struct CMUnitTest tests[] = {
		A(only_what_is_under_an_accepted_seal_is_assessed),
		A(a_later_result_of_the_same_work_takes_the_place_of_the_earlier),
		A(parts_of_one_work_are_one_piece_of_evidence),
		A(runs_at_the_bench_are_shown_sealed_or_as_practice),
		A(drills_are_practice_and_nothing_else),
		A(a_strand_with_a_fault_gives_nothing_and_is_named),
		A(each_piece_of_memory_is_missing_in_turn),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
