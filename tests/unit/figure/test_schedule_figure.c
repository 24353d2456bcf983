/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drawing.h"

#include "arena.h"
#include "out_of_memory.h"

#include <barwright/base/mem.h>

#include "figure/schedule_figure.h"

enum { MIN = 60, HOUR = 3600 };

static struct figure *drawn(const struct schedule_picture *p)
{
	struct figure *f = NULL;

	code_is(schedule_figure(&arena, p, 62, schedule_rows(p), &f), FINE);
	return f;
}

/* A long cure by hand: on Wednesday 16:30, 51 minutes up to 74 degrees, 8 hours held, 45 minutes to
 * cool: 17:21, Thursday 01:21 and 02:06. The bench is closed from 17:00 to 8:00. */
static const struct schedule_step cure[] = {
	{"heat", 16.5 * HOUR, 16.5 * HOUR + 51 * MIN, true, 0},
	{"hold", 16.5 * HOUR + 51 * MIN, 24.5 * HOUR + 51 * MIN, true, 0},
	{"cool", 24.5 * HOUR + 51 * MIN, 24.5 * HOUR + 96 * MIN, true, 0},
	{"deflask", 32 * HOUR, 33 * HOUR, false, 0},
};
static const char *const days[] = {"Wed", "Thu"};
static const double night[] = {17 * HOUR, 32 * HOUR};

static void steps_stand_to_scale_over_the_clock(void **state)
{
	(void)state;
	struct schedule_picture p = {.step = cure,
		.n = 4,
		.clock = true,
		.timed = true,
		.has_deadline = true,
		.deadline_s = 34 * HOUR,
		.closed = night,
		.nclosed = 1,
		.day = days,
		.nday = 2};
	struct figure *f = drawn(&p);

	drawing_is(f, "                                     due Thu 10:00 ▼\n"
		      "heat     ══░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░       51 min\n"
		      "hold      ░════════════════════░░░░░░░░░░░░░░░░       480 min\n"
		      "cool      ░░░░░░░░░░░░░░░░░░░░░══░░░░░░░░░░░░░░       45 min\n"
		      "deflask   ░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░░▒▒▒    60 min\n"
		      "         ─────────┬────────┬─────────┬─────────┬────\n"
		      "                  20:00    00:00     04:00     08:00\n"
		      "                  Wed      Thu\n"
		      "▒ with hands  ═ by itself  ░ closed\n");
	fact_is_told(f, "heat: from Wed 16:30 to Wed 17:21, 51 min, by itself");
	fact_is_told(f, "hold: from Wed 17:21 to Thu 01:21, 480 min, by itself");
	fact_is_told(f, "deflask: from Thu 08:00 to Thu 09:00, 60 min");
	fact_is_told(f, "due at Thu 10:00");
	fact_is_told(f, "closed from Wed 17:00 to Thu 08:00");
}

/* 1, 3 and 5 minutes share 9 minutes of 44 columns: 4.9, 14.7 and 24.4. */
static void lengths_are_in_proportion(void **state)
{
	(void)state;
	const struct schedule_step step[] = {{"sandy", 0, 1 * MIN, false, 0},
		{"sticky", 1 * MIN, 4 * MIN, false, 0}, {"dough", 4 * MIN, 9 * MIN, false, 0}};
	struct schedule_picture p = {.step = step, .n = 3};
	struct figure *f = drawn(&p);
	const struct canvas *c = f->canvas;
	const double want[] = {44 / 9.0, 3 * 44 / 9.0, 5 * 44 / 9.0};

	for (int row = 0; row < 3; row++) {
		int cells = 0;
		for (int col = 0; col < c->cols; col++)
			cells += c->cell[row * c->cols + col].glyph == 0x2592;
		near(step[row].name, cells, want[row], 1);
	}
	ascii_drawing_is(f, "sandy   %%%%%                                         1 min\n"
			    "sticky       %%%%%%%%%%%%%%%                          3 min\n"
			    "dough                       %%%%%%%%%%%%%%%%%%%%%%%%  5 min\n"
			    "        +-----------------------+-------------------  min\n"
			    "        0                       5\n"
			    "% with hands\n");
	fact_is_told(f, "dough: from 4 to 9 min, 5 min");
}

/* Every bar is as long as the next, whatever the step takes, and no time stands there but what is
 * given. */
static void nothing_can_be_counted_off_what_is_asked(void **state)
{
	(void)state;
	const struct schedule_step step[] = {
		{"verify", 700 * MIN, 750 * MIN, false, SCHEDULE_START},
		{"polish", 750 * MIN, 880 * MIN, false, SCHEDULE_START},
		{"clean and disinfect", 880 * MIN, 900 * MIN, false, 0}};
	struct schedule_picture p = {
		.step = step, .n = 3, .clock = true, .has_deadline = true, .deadline_s = 900 * MIN};
	struct figure *f = drawn(&p);

	drawing_is(f, "verify               ?▒▒▒▒▒▒▒▒▒                      50 min\n"
		      "polish                         ?▒▒▒▒▒▒▒▒▒            130 min\n"
		      "clean and disinfect                      ▒▒▒▒▒▒▒▒▒▒  20 min\n"
		      "                                                  ▲\n"
		      "                                          due 15:00\n"
		      "▒ with hands  ? asked for\n");
	fact_is_told(f, "polish: 130 min, starts at ?");
	fact_is_told(f, "due at 15:00");
	for (size_t i = 0; i < f->nword; i++)
		assert_null(strstr(f->words[i], "12:30"));
	assert_string_equal(f->title, "The steps in order, not to scale");
}

static void length_and_total_may_be_asked(void **state)
{
	(void)state;
	const struct schedule_step step[] = {{"heat", 480 * MIN, 531 * MIN, true, SCHEDULE_LENGTH},
		{"hold", 531 * MIN, 1011 * MIN, true, SCHEDULE_END}};
	struct schedule_picture p = {
		.step = step, .n = 2, .clock = true, .begins = true, .total_asked = true};
	struct figure *f = drawn(&p);

	drawing_is(f, "heat    ═══════════?══════════                        ?\n"
		      "hold                          ═════════════════════?  480 min\n"
		      "in all  ├──────────────────────────────────────────┤  ?\n"
		      "        ▲\n"
		      "        08:00\n"
		      "═ by itself  ? asked for\n");
	fact_is_told(f, "begins at 08:00");
	fact_is_told(f, "heat: ?, by itself");
	fact_is_told(f, "hold: 480 min, by itself, ends at ?");
	fact_is_told(f, "in all: ?");
}

/* Start, end and length beside each other would tell the one that is asked for by the others. */
static void given_times_do_not_tell_the_asked_one(void **state)
{
	(void)state;
	const struct schedule_step step[] = {{"pack", 8 * HOUR, 9 * HOUR, false, SCHEDULE_END},
		{"rest", 9 * HOUR, 10 * HOUR, true, SCHEDULE_LENGTH}};
	struct schedule_picture p = {.step = step, .n = 2, .clock = true, .timed = true};
	struct figure *f = drawn(&p);

	fact_is_told(f, "pack: from 08:00 to ?");
	fact_is_told(f, "rest: from 09:00 to 10:00, ?, by itself");
}

static void what_cannot_be_drawn_is_refused(void **state)
{
	(void)state;
	struct figure *f = NULL;
	struct schedule_step step[] = {{"a", 0, HOUR, false, 0}, {"b", HOUR, 2 * HOUR, false, 0}};
	const double back[] = {2 * HOUR, HOUR}, far[] = {0, 1.0 / 0.0};
	struct schedule_picture p = {.step = step, .n = 2};

	code_is(schedule_figure(&arena, &p, 45, 10, &f), BAD_SIZE);
	code_is(schedule_figure(&arena, &p, 62, schedule_rows(&p) - 1, &f), BAD_SIZE);
	p.closed = back, p.nclosed = 1;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_RANGE);
	p.closed = far;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_RANGE);
	p.nclosed = 0, p.has_deadline = true, p.deadline_s = 0.0 / 0.0;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_RANGE);
	p.has_deadline = false, p.n = 0;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_COUNT);
	p.n = 2, step[1].end_s = 0;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_RANGE);
	step[1].end_s = 61 * 24.0 * HOUR;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_RANGE);
	step[1].end_s = 1e300;
	code_is(schedule_figure(&arena, &p, 62, 20, &f), BAD_RANGE);
	assert_null(f);
}

static enum bad draw(void *p)
{
	struct figure *f = NULL;
	struct arena own = {0};
	enum bad code = schedule_figure(&own, p, 62, schedule_rows(p), &f);

	arena_release(&own);
	return code;
}

static void running_out_of_memory_is_a_code(void **state)
{
	(void)state;
	struct schedule_picture p = {.step = cure,
		.n = 4,
		.clock = true,
		.has_deadline = true,
		.deadline_s = 34 * HOUR,
		.closed = night,
		.nclosed = 1,
		.day = days,
		.nday = 2};

	runs_out_of_memory("to scale", draw, &p);
	p.total_asked = true;
	p.begins = true;
	runs_out_of_memory("in order", draw, &p);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test_teardown(steps_stand_to_scale_over_the_clock, release),
		cmocka_unit_test_teardown(lengths_are_in_proportion, release),
		cmocka_unit_test_teardown(nothing_can_be_counted_off_what_is_asked, release),
		cmocka_unit_test_teardown(length_and_total_may_be_asked, release),
		cmocka_unit_test_teardown(given_times_do_not_tell_the_asked_one, release),
		cmocka_unit_test_teardown(what_cannot_be_drawn_is_refused, release),
		cmocka_unit_test(running_out_of_memory_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
