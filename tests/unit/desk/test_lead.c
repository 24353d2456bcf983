/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Leading and letting go, and what keeps going wrong: from answers as a strand holds them. */
#include "../item/problems.h"

#include "desk/habit.h"
#include "desk/lead.h"
#include "desk/progress.h"

static const char text[] = "problem: p\n"
			   "title: Three steps\n"
			   "competency: K1\n"
			   "level: 1\n"
			   "source: made up\n"
			   "draws:\n"
			   "  a: {from: 1.0 mm, to: 9.0 mm, step: 0.1 mm}\n"
			   "  b: {from: 21.0 mm, to: 29.0 mm, step: 0.1 mm}\n"
			   "text: \"{a} {b}\"\n"
			   "asks:\n"
			   "  - ask: sum\n"
			   "    unit: mm\n"
			   "    places: 1\n"
			   "    answer: a + 2 * b\n"
			   "    steps:\n"
			   "      - {name: one, formula: a}\n"
			   "      - {say: only words}\n"
			   "      - {name: two, formula: 2 * b}\n"
			   "      - {name: sum, formula: a + 2 * b}\n"
			   "    slips:\n"
			   "      - {slip: once, formula: a + b, say: twice}\n"
			   "      - {slip: less, formula: 2 * b - a, say: more}\n"
			   "      - {slip: thrice, formula: a + 3 * b, say: twice}\n";

struct world {
	struct course course;
	struct arena arena;
	struct progress progress;
	const struct problem *problem;
};

static int set_up(void **state)
{
	static struct world w;
	w = (struct world){0};
	problem_load(text, &w.course);
	w.problem = &w.course.module[0].problem[0];
	assert_int_equal(progress_init(&w.progress, &w.arena, &w.course), FINE);
	*state = &w;
	return 0;
}

static int tear_down(void **state)
{
	struct world *w = *state;
	course_release(&w->course);
	arena_release(&w->arena);
	return 0;
}

static const struct progress_ask *ask_of(const struct world *w)
{
	return &progress_of(&w->progress, w->problem)->ask[0];
}

static void answer(struct world *w, enum outcome outcome, const char *slip, uint64_t led)
{
	static int64_t now_ms = 1000;
	progress_answered(&w->progress, w->problem,
		&(struct progress_answer){.first_try = true,
			.is_alone = !led,
			.led = led,
			.slip = slip,
			.outcome = outcome,
			.at_ms = now_ms++});
}

/* Two words, three numbers: 3 can be left to find. */
static void steps_that_come_to_a_number_are_counted(void **state)
{
	struct world *w = *state;
	size_t place;
	assert_int_equal(lead_steps(&w->problem->ask[0]), 3);
	assert_string_equal(lead_step(&w->problem->ask[0], 1, &place)->name, "two");
	assert_int_equal(place, 2);
	assert_null(lead_step(&w->problem->ask[0], 3, &place));
}

/* Each row: how the learner answers the task that is led so far; how the next one is led. */
static void each_right_answer_takes_a_step_away_and_two_wrong_ones_bring_one_back(void **state)
{
	static const struct {
		bool right;
		unsigned char next;
	} row[] = {{true, 2}, {false, 2}, {true, 3}, {false, 3}, {false, 2}, {false, 2}, {false, 1},
		{false, 1}, {false, 1}, {true, 2}, {true, 3}, {true, 0}, {true, 0}, {false, 0},
		{false, 3}, {true, 0}};
	struct world *w = *state;
	assert_int_equal(ask_of(w)->led, 1);
	for (size_t k = 0; k < sizeof row / sizeof *row; k++) {
		answer(w, row[k].right ? OUTCOME_RIGHT : OUTCOME_WRONG, "", ask_of(w)->led);
		if (ask_of(w)->led != row[k].next)
			fail_msg("row %zu: want %d steps to find, got %d", k, row[k].next,
				ask_of(w)->led);
	}
}

static void who_works_alone_stays_alone(void **state)
{
	struct world *w = *state;
	assert_true(lead_wants_example(w->problem, progress_of(&w->progress, w->problem)));
	answer(w, OUTCOME_WRONG, "", 0);
	assert_int_equal(ask_of(w)->led, 0);
	assert_false(lead_wants_example(w->problem, progress_of(&w->progress, w->problem)));
	answer(w, OUTCOME_RIGHT, "", 0);
	assert_int_equal(ask_of(w)->led, 0);
}

static void an_example_is_shown_once(void **state)
{
	struct world *w = *state;
	progress_example(&w->progress, w->problem);
	assert_false(lead_wants_example(w->problem, progress_of(&w->progress, w->problem)));
	assert_int_equal(ask_of(w)->led, 1);
}

static void only_what_was_done_alone_counts_as_right(void **state)
{
	struct world *w = *state;
	answer(w, OUTCOME_RIGHT, "", 1);
	answer(w, OUTCOME_RIGHT, "", 0);
	assert_int_equal(progress_of(&w->progress, w->problem)->answered, 1);
	assert_int_equal(progress_of(&w->progress, w->problem)->right, 1);
}

/* ---- what keeps going wrong ------------------------------------------------------------------ */

static size_t habits(struct world *w, struct habit **h)
{
	size_t n;
	assert_int_equal(habits_find(&w->progress, &w->arena, h, &n), FINE);
	return n;
}

static void one_sitting_is_not_enough(void **state)
{
	struct world *w = *state;
	struct habit *h;
	w->progress.sittings = 1;
	for (int k = 0; k < 3; k++)
		answer(w, OUTCOME_SLIP, "once", 0);
	assert_int_equal(habits(w, &h), 0);
}

static void the_same_slip_in_two_sittings_is_reported(void **state)
{
	struct world *w = *state;
	struct habit *h;
	w->progress.sittings = 1;
	answer(w, OUTCOME_SLIP, "once", 0);
	answer(w, OUTCOME_RIGHT, "", 0);
	w->progress.sittings = 2;
	answer(w, OUTCOME_SLIP, "once", 0);
	assert_int_equal(habits(w, &h), 1);
	assert_string_equal(h[0].code, "once");
	assert_int_equal(h[0].seen, 2);
	assert_int_equal(h[0].of, 3);
	/* Right rule 0.5 and twice (0.1/1000), slip 0.25 with 0.9 0.9 and once 0.1/1000, others 0.25
	 * and three times 0.1/1000: 0.25*0.81e-4 / (0.25*0.81e-4 + 0.5*0.9e-8) = 0.999778 */
	near("belief", h[0].belief, 0.999778, 1e-6);
}

static void two_slips_at_once_show_both(void **state)
{
	struct world *w = *state;
	struct habit *h;
	w->progress.sittings = 1;
	answer(w, OUTCOME_TWO_SLIPS, "once+less", 0);
	w->progress.sittings = 2;
	answer(w, OUTCOME_SLIP, "less", 0);
	assert_int_equal(habits(w, &h), 1);
	assert_string_equal(h[0].code, "less");
}

static void right_answers_make_it_go_away(void **state)
{
	struct world *w = *state;
	struct habit *h;
	w->progress.sittings = 1;
	answer(w, OUTCOME_UNIT, "", 0);
	w->progress.sittings = 2;
	answer(w, OUTCOME_UNIT, "", 0);
	assert_int_equal(habits(w, &h), 1);
	assert_string_equal(h[0].code, "unit");
	for (int k = 0; k < 3; k++)
		answer(w, OUTCOME_RIGHT, "", 0);
	assert_int_equal(habits(w, &h), 0);
}

int main(void)
{
#define WITH_WORLD(f) cmocka_unit_test_setup_teardown(f, set_up, tear_down)
	const struct CMUnitTest tests[] = {
		WITH_WORLD(steps_that_come_to_a_number_are_counted),
		WITH_WORLD(each_right_answer_takes_a_step_away_and_two_wrong_ones_bring_one_back),
		WITH_WORLD(who_works_alone_stays_alone),
		WITH_WORLD(an_example_is_shown_once),
		WITH_WORLD(only_what_was_done_alone_counts_as_right),
		WITH_WORLD(one_sitting_is_not_enough),
		WITH_WORLD(the_same_slip_in_two_sittings_is_reported),
		WITH_WORLD(two_slips_at_once_show_both),
		WITH_WORLD(right_answers_make_it_go_away),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
