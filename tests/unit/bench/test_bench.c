/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The engine on a procedure of three steps: what is refused, left out, undone, used up, found, mended.
 * What is wanted follows from the text of the procedure. */
#include "near.h"

#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/text.h>

#include "bench/decide.h"
#include "bench/plan.h"
#include "bench/rehearse.h"
#include "bench/score.h"
#include "tree/tree.h"
#include "unit/course/small_procedure.h"

enum { A, B, C };
enum { F1, F2 };

struct rod {
	struct arena arena;
	struct source source;
	struct diags diags;
	struct procedure procedure;
	struct bench *bench;
};
static const unsigned char key[BENCH_KEY] = {1};

static int begin(void **state)
{
	static struct rod r;
	struct tree *root;
	r = (struct rod){.source = {"rod.yaml", small_procedure, strlen(small_procedure)}};
	r.diags.arena = &r.arena;
	*state = &r;
	if (cipher_start() || tree_read(&r.arena, &r.source, &r.diags, &root) ||
		procedure_read(&r.arena, &r.source, root, &r.diags, &r.procedure) ||
		r.diags.nerror || bench_new(&r.arena, &r.procedure, &r.bench))
		return -1;
	bench_start(r.bench, key, 0, BENCH_FREE);
	return 0;
}

static int end(void **state)
{
	arena_release(&((struct rod *)*state)->arena);
	return 0;
}

static double value_of(struct bench *b, const char *name)
{
	size_t slot;
	assert_true(formula_scope_find(&b->procedure->scope, name, strlen(name), &slot));
	return bench_value(b, slot)->number;
}

static enum bad typed(struct bench *b, const char *line)
{
	struct deed d;
	struct bench_reading r;
	char why[DECISION_WHY];
	enum bad code = decision_read(b, line, strlen(line), &d, why);
	return code ? code : decision_carry(b, &d, &r);
}

static void a_step_takes_its_time_and_its_material(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	code_is(typed(b, "cut 25"), FINE);
	near("clock", bench_clock_s(b), 600, 1e-9);
	near("one rod is left", b->stock[0], 1, 1e-12);
	near("money", b->money, 4, 1e-12);
	near("cut to 25 mm and the hand's tenth", value_of(b, "length"), 25, 0.1);
	assert_true(value_of(b, "length") != 25);
	assert_true(value_of(b, "did_A") == 1);
}

static void the_hand_is_the_same_for_the_same_key_only(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	const unsigned char other[BENCH_KEY] = {2};
	typed(b, "cut 25");
	double first = value_of(b, "length");
	bench_start(b, key, 0, BENCH_FREE);
	typed(b, "cut 25");
	assert_true(value_of(b, "length") == first);
	typed(b, "cut 25");
	assert_true(value_of(b, "length") != first);
	bench_start(b, other, 0, BENCH_FREE);
	typed(b, "cut 25");
	assert_true(value_of(b, "length") != first);
}

static void what_cannot_be_done_is_refused_and_changes_nothing(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	code_is(typed(b, "bore 4 yes slow"), BAD_ORDER);
	assert_string_equal(b->why, "there is no rod");
	code_is(typed(b, "cut 99"), BAD_SYNTAX);
	code_is(typed(b, "mend F1"), BAD_ORDER);
	code_is(typed(b, "remake new-rod"), BAD_ORDER);
	code_is(typed(b, "look hole"), BAD_ORDER);
	code_is(typed(b, "look rod"), BAD_ORDER);
	near("clock", bench_clock_s(b), 0, 0);
	assert_int_equal(b->nlog, 0);
	code_is(typed(b, "cut 25"), FINE);
	code_is(typed(b, "look rod loupe"), BAD_ORDER);
	code_is(typed(b, "cut 25"), FINE);
	code_is(typed(b, "cut 25"), BAD_MISSING); /* the third rod */
	code_is(typed(b, "order rods"), FINE);
	near("10 + 10 + 60 min", bench_clock_s(b), 4800, 1e-9);
	code_is(typed(b, "cut 25"), FINE);
}

static void a_step_done_again_takes_back_what_it_undoes(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	typed(b, "cut 25");
	typed(b, "bore 4 no slow");
	assert_true(b->fault[F2].is_there && b->step[B].state == STEP_DONE);
	code_is(typed(b, "cut 24"), FINE);
	assert_int_equal(b->step[B].state, STEP_OPEN);
	assert_false(b->fault[F2].is_there);
	assert_true(value_of(b, "did_B") == 0);
}

static void what_is_left_out_counts_when_a_later_step_is_done(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	struct bench_score score;
	typed(b, "cut 25");
	assert_int_equal(b->step[B].state, STEP_OPEN);
	assert_false(b->fault[F2].is_there);
	code_is(typed(b, "give"), FINE);
	assert_int_equal(b->step[B].state, STEP_LEFT_OUT);
	assert_true(b->fault[F2].is_there); /* nobody cleaned it */
	assert_int_equal(b->orders, 1);
	assert_true(b->critical_order);
	code_is(typed(b, "release"), FINE);
	assert_int_equal(b->end, END_REFUSED);
	bench_score(b, NULL, &score);
	assert_true(score.is_critical && !score.is_passed);
	assert_int_equal(score.station[0].level, 0);
}

static void a_fault_is_made_found_and_mended_in_this_order(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	typed(b, "cut 25");
	typed(b, "bore 4 no slow");
	assert_true(b->fault[F2].is_there && !b->fault[F2].is_found && !bench_is_known(b, F2));
	code_is(typed(b, "mend F2"), BAD_ORDER); /* nobody has seen it */
	code_is(typed(b, "look hole"), FINE);
	assert_true(bench_is_known(b, F2) && bench_can_mend(b, F2));
	code_is(typed(b, "mend F2"), FINE);
	assert_false(b->fault[F2].is_there);
	near("it cost two minutes", b->fault[F2].cost_s, 120, 1e-9);
	assert_true(value_of(b, "clean") == 1);
}

/* A short rod: the caliper tells by its number, never in words; at the end it shows by itself. */
static void a_reading_tells_by_its_number(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	struct bench_reading r;
	typed(b, "cut 10");
	assert_true(b->fault[F1].is_there);
	code_is(bench_look(b, 0, SIZE_MAX, &r), FINE);
	assert_int_equal(r.n, 1);
	near("read", r.value[0], value_of(b, "length"), 0.02 + 0.025 + 1e-9);
	near("in steps of the caliper", remainder(r.value[0], 0.05), 0, 1e-9);
	assert_true(b->fault[F1].is_found && !bench_is_known(b, F1));
	typed(b, "bore 4 yes slow");
	typed(b, "give");
	assert_true(b->fault[F1].is_shown && bench_is_known(b, F1));
	code_is(typed(b, "remake new-rod"), FINE);
	assert_false(b->fault[F1].is_there);
	/* ten of cutting and ten of boring, and the rod, are lost with it */
	near("three minutes, and twenty lost", b->fault[F1].cost_s, (3 + 10 + 10) * 60, 1e-9);
	near("one rod lost", b->fault[F1].cost_money, 4, 1e-9);
	assert_int_equal(b->step[A].state, STEP_OPEN);
	near("no rod", value_of(b, "length"), 0, 0);
}

static void a_window_that_is_missed_does_its_harm(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	typed(b, "cut 25");
	code_is(typed(b, "wait 29 min"), FINE);
	typed(b, "bore 4 yes slow");
	assert_int_equal(b->windows, 0);
	bench_start(b, key, 0, BENCH_FREE);
	typed(b, "cut 25");
	typed(b, "wait 31");
	typed(b, "bore 4 yes slow");
	assert_int_equal(b->windows, 1);
}

static void who_knows_is_accepted_and_the_end_is_the_end(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	struct bench_score score;
	size_t at;
	assert_true(bench_work_on(b, A, C, SIZE_MAX, &at));
	code_is(typed(b, "release"), FINE);
	assert_int_equal(b->end, END_ACCEPTED);
	bench_score(b, NULL, &score);
	near("score", score.percent, 100, 0);
	assert_true(score.is_passed);
	code_is(typed(b, "cut 25"), BAD_STOPPED);
	code_is(typed(b, "look rod"), BAD_STOPPED);
	code_is(typed(b, "remake new-rod"), BAD_STOPPED);
	code_is(typed(b, "wait 5"), BAD_STOPPED);
	code_is(typed(b, "scrap"), BAD_STOPPED);
	code_is(typed(b, "order rods"), BAD_STOPPED);
	code_is(typed(b, "mend F2"), BAD_STOPPED);
}

static void time_is_up_when_it_is(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	bench_start(b, key, 0, BENCH_TIMED);
	near("10 + 10 + 1 min and a quarter, and looks of 2 and 1 min", b->limit_s,
		(21 * 1.25 + 3) * 60, 1e-6);
	typed(b, "cut 25");
	code_is(typed(b, "wait 60"), FINE);
	assert_true(b->time_is_up);
	assert_int_equal(b->end, END_REFUSED);
}

static void a_fault_left_for_service_comes_back(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	size_t at;
	assert_true(bench_work_on(b, A, C, F2, &at));
	code_is(typed(b, "release"), FINE);
	assert_int_equal(b->end, END_RETURNED);
}

static void a_refused_step_leaves_what_the_hands_made(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	typed(b, "cut 25");
	typed(b, "cut 26");
	double made = value_of(b, "cut_to");
	code_is(typed(b, "cut 10"), BAD_MISSING);
	assert_true(value_of(b, "cut_to") == made);
	assert_false(b->fault[F1].is_there);
}

/* Done again by its own step: the time of the second cut is what the known fault cost. */
static void doing_it_again_is_the_price_of_the_fault_that_is_known(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	typed(b, "cut 10");
	typed(b, "look rod");
	typed(b, "cut 25");
	near("ten minutes", b->fault[F1].cost_s, 600, 1e-9);
	near("and another rod", b->fault[F1].cost_money, 4, 1e-9);
}

static void a_caliper_is_not_always_right(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	size_t off = 0;
	typed(b, "cut 25");
	double exact = round(value_of(b, "length") / 0.05) * 0.05;
	for (int i = 0; i < 200; i++) {
		struct bench_reading r;
		code_is(bench_look(b, 0, SIZE_MAX, &r), FINE);
		off += fabs(r.value[0] - exact) > 1e-9;
	}
	/* off by up to 0.02 either way, in steps of 0.05: now one, now the next */
	assert_true(off > 0 || fabs(exact - value_of(b, "length")) < 0.005);
	assert_true(off < 200);
}

static void what_is_not_finished_is_refused(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	typed(b, "cut 25");
	code_is(bench_wait(b, 1), FINE);
	struct bench_input input;
	bench_usual(b, A, SIZE_MAX, &input);
	code_is(bench_do(b, A, &input), FINE);
	bench_usual(b, B, SIZE_MAX, &input);
	code_is(bench_do(b, B, &input), FINE);
	code_is(typed(b, "release"), FINE);
	assert_int_equal(b->end, END_REFUSED);
	assert_false(b->fault[F1].is_there || b->fault[F2].is_there);
}

static void what_is_worked_out_follows_what_is_set(void **state)
{
	struct bench *b = ((struct rod *)*state)->bench;
	size_t slot;
	assert_true(formula_scope_find(&b->procedure->scope, "length", 6, &slot));
	double wanted = value_of(b, "wanted");
	near("nothing yet", value_of(b, "missing"), wanted, 0);
	values_set_number(b, slot, 7);
	near("seven less", value_of(b, "missing"), wanted - 7, 1e-12);
}

/* 3 without a fault, 2 when one showed and was put right, 1 with one left, 0 with a critical one. */
static void levels_are_lost_as_the_faults_ask(void **state)
{
	static const struct {
		const char *line[8];
		int level;
	} runs[] = {
		{{"usual A", "usual B", "give", "release"}, 3},
		{{"usual A", "bore 4 no slow", "look hole", "mend F2", "give", "release"}, 3},
		{{"cut 10", "usual B", "give", "remake new-rod", "usual A", "usual B", "give",
			 "release"},
			2},
		{{"usual A", "bore 4 no slow", "give", "release"}, 1},
		{{"cut 10", "usual B", "give", "release"}, 0},
	};
	struct bench *b = ((struct rod *)*state)->bench;
	for (size_t i = 0; i < sizeof runs / sizeof *runs; i++) {
		struct bench_score score;
		bench_start(b, key, 0, BENCH_FREE);
		for (size_t k = 0; k < 8 && runs[i].line[k]; k++) {
			size_t at, step = strcmp(runs[i].line[k], "usual A") == 0 ? A : B;
			if (strncmp(runs[i].line[k], "usual", 5) == 0)
				assert_true(bench_work_on(b, step, step, SIZE_MAX, &at));
			else
				code_is(typed(b, runs[i].line[k]), FINE);
		}
		bench_score(b, NULL, &score);
		if (score.station[0].level != runs[i].level)
			print_error("run %zu: want level %d, got %d\n", i, runs[i].level,
				score.station[0].level);
		assert_int_equal(score.station[0].level, runs[i].level);
	}
}

/* ---- the words ------------------------------------------------------------------------------- */

static void a_line_comes_back_as_it_was_meant(void **state)
{
	static const char *const lines[][2] = {
		{"cut 25", "do A cut_to=25"},
		{"do a cut_to=25,5", "do A cut_to=25.5"},
		{"A 2.5cm", "do A cut_to=25"},
		{"bore 4/4.5 yes fast", "do B bore=4/4.5 clean=yes speed=fast"},
		{"bore 4, 4.5 yes fast", "do B bore=4/4.5 clean=yes speed=fast"},
		{"bore 4,0, 4,5 yes fast", "do B bore=4/4.5 clean=yes speed=fast"},
		{"bore 4,25; yes fast", "do B bore=4.25/4.25 clean=yes speed=fast"},
		{"do B speed=slow clean=no bore=3", "do B bore=3/3 clean=no speed=slow"},
		{"measure rod", "look rod"},
		{"look rod with caliper", "look rod caliper"},
		{"mend f2", "mend F2"},
		{"remake new-rod", "remake new-rod"},
		{"order rods", "order rods"},
		{"wait 1.5 h", "wait 90.000000"},
		{"why A B", "why A B"},
		{"release", "release"},
		{"refer", "refer"},
		{"scrap", "scrap"},
		{"name F1", "name F1"},
	};
	struct bench *b = ((struct rod *)*state)->bench;
	struct text got;
	text_init(&got);
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		struct deed d;
		char why[DECISION_WHY];
		code_is(decision_read(b, lines[i][0], strlen(lines[i][0]), &d, why), FINE);
		text_clear(&got);
		decision_write(b, &d, &got);
		if (strcmp(got.at, lines[i][1]) != 0)
			print_error(
				"'%s': want '%s', got '%s'\n", lines[i][0], lines[i][1], got.at);
		assert_string_equal(got.at, lines[i][1]);
	}
	text_release(&got);
}

static void a_line_that_means_nothing_is_told_why(void **state)
{
	static const char *const lines[][2] = {
		{"", "nothing was typed"},
		{"sing", "'sing' is no step and no word of the bench"},
		{"do sing", "no step is called 'sing'"},
		{"cut a", ""},
		{"cut 1", "1 is no sensible answer"},
		{"cut 99", "99 is no sensible answer: 5 to 50 mm"},
		{"cut 20 N", "no 'N'"},
		{"cut depth=3", "the step asks for no 'depth=3'"},
		{"cut 25 26", "the step asks for no '26'"},
		{"bore 1/2/3 yes slow", "more than 2 values"},
		{"bore 4 maybe slow", "neither yes nor no"},
		{"bore 4 yes quickly", "'quickly' is none of the choices"},
		{"look", "look at what?"},
		{"look moon", "nothing to look at is called 'moon'"},
		{"look rod ruler", "no tool is called 'ruler'"},
		{"mend", "mend what?"},
		{"mend F9", "'F9'"},
		{"wait long", "wait how many minutes?"},
		{"wait 3 mm", "wait how many minutes?"},
		{"why A", "which reason?"},
		{"do", "do which step?"},
	};
	struct bench *b = ((struct rod *)*state)->bench;
	for (size_t i = 0; i < sizeof lines / sizeof *lines; i++) {
		struct deed d;
		char why[DECISION_WHY] = "";
		code_is(decision_read(b, lines[i][0], strlen(lines[i][0]), &d, why), BAD_SYNTAX);
		if (!strstr(why, lines[i][1]))
			print_error("'%s': want '%s' in '%s'\n", lines[i][0], lines[i][1], why);
		assert_non_null(strstr(why, lines[i][1]));
	}
}

/* ---- for its author -------------------------------------------------------------------------- */

static void rehearsing(const char *from, const char *to, const char *told)
{
	struct rod r = {.source = {"rod.yaml", NULL, 0}};
	char text[sizeof small_procedure + 200];
	const char *at = strstr(small_procedure, from);
	struct tree *root;
	struct text got;
	assert_non_null(at);
	snprintf(text, sizeof text, "%.*s%s%s", (int)(at - small_procedure), small_procedure, to,
		at + strlen(from));
	r.source.text = text;
	r.source.len = strlen(text);
	r.diags.arena = &r.arena;
	text_init(&got);
	code_is(tree_read(&r.arena, &r.source, &r.diags, &root), FINE);
	code_is(procedure_read(&r.arena, &r.source, root, &r.diags, &r.procedure), FINE);
	if (!r.diags.nerror)
		code_is(rehearse(&r.arena, &r.procedure, &r.diags), FINE);
	diags_print(&r.diags, &got);
	if (*told ? !strstr(got.at, told) : got.len > 0)
		print_error("want '%s', got:\n%s\n", told, got.at);
	assert_true(*told ? strstr(got.at, told) != NULL : !got.len);
	text_release(&got);
	arena_release(&r.arena);
}

static void a_rehearsal_finds_what_reading_cannot(void **state)
{
	(void)state;
	rehearsing("source: made up for tests", "source: made up", "");
	rehearsing("to: 10 mm}]", "to: wanted}]",
		"F1 never shows: what 'bring' does never makes its condition true");
	rehearsing("when: did_A, else", "when: not did_A, else", "B cannot be reached");
	rehearsing("when: missing > 0.5 mm", "when: missing < 0.5 mm",
		"F1 comes about although everything is done as usual");
	rehearsing("below: 19.5 mm", "below: 9 mm",
		"F1 is never found: 'rod' can be looked at and does not tell it");
	rehearsing("    word: give\n", "    word: give\n    only: wanted > 90 mm\n",
		"C cannot be reached: its 'only' holds in none of 24 cases that were drawn");
	rehearsing("    time: 5 min * speed", "    time: 5 min / (speed - 1)", "gave no result");
	rehearsing("bring: [{step: B, set: clean, to: 1 = 2}]", "bring: [{skip: A}]",
		"F2 never shows: on the way B is refused");
}

int main(void)
{
#define RUN(name) cmocka_unit_test_setup_teardown(name, begin, end)
	const struct CMUnitTest tests[] = {
		RUN(a_step_takes_its_time_and_its_material),
		RUN(the_hand_is_the_same_for_the_same_key_only),
		RUN(what_cannot_be_done_is_refused_and_changes_nothing),
		RUN(a_step_done_again_takes_back_what_it_undoes),
		RUN(what_is_left_out_counts_when_a_later_step_is_done),
		RUN(a_fault_is_made_found_and_mended_in_this_order),
		RUN(a_reading_tells_by_its_number),
		RUN(a_window_that_is_missed_does_its_harm),
		RUN(who_knows_is_accepted_and_the_end_is_the_end),
		RUN(time_is_up_when_it_is),
		RUN(a_fault_left_for_service_comes_back),
		RUN(a_refused_step_leaves_what_the_hands_made),
		RUN(doing_it_again_is_the_price_of_the_fault_that_is_known),
		RUN(a_caliper_is_not_always_right),
		RUN(what_is_not_finished_is_refused),
		RUN(what_is_worked_out_follows_what_is_set),
		RUN(levels_are_lost_as_the_faults_ask),
		RUN(a_line_comes_back_as_it_was_meant),
		RUN(a_line_that_means_nothing_is_told_why),
		RUN(a_rehearsal_finds_what_reading_cannot),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
