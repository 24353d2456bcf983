/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times of day, options, pairs of slips and the mistakes named without an author's help, on problems
 * whose numbers are fixed by their conditions; and running out of memory. */
#include "problems.h"

#include <barwright/item/sample.h>
#include <barwright/item/score.h>

/* 1.2 MPa on a ram of 40 mm: pi/4 * 40^2 * 1.2 = 1507.964 N; worked by hand, as are the rest. */
static const char press[] =
	"problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: worked by hand\n"
	"draws:\n"
	"  gauge: {from: 12.0 bar, to: 12.5 bar, step: 0.5 bar, exact: true}\n"
	"  ram_diameter: {from: 40 mm, to: 41 mm, step: 1 mm, exact: true}\n"
	"  n: {choice: [3, 2000], exact: true}\n"
	"let:\n"
	"  area: {formula: pi / 4 * ram_diameter^2, unit: mm2}\n"
	"  force: {formula: gauge * area, unit: N}\n"
	"require: [gauge < 12.2 bar, ram_diameter < 40.5 mm, n < 10]\n"
	"text: \"{gauge} {ram_diameter} {n}\"\n"
	"asks:\n"
	"  - ask: force of all\n"
	"    unit: N\n"
	"    places: 1\n"
	"    answer: n * force\n"
	"    steps: [{name: force, formula: gauge * area}, {name: all, formula: n * force}]\n"
	"    slips:\n"
	"      - {slip: one-ram, with: {n: 1}, say: one}\n"
	"      - {slip: square, with: {area: ram_diameter^2}, say: square}\n"
	"      - {slip: by-area, formula: gauge * area / n, say: shared}\n"
	"      - {slip: double, formula: 2 * n * force, alone: true, say: twice}\n";

/* 12 bar are 1.2 MPa, twice that 2.4; 4 mm times 5 mm are 20 mm2. */
static const char both_ways[] =
	"problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: worked by hand\n"
	"draws:\n"
	"  gauge: {from: 12.0 bar, to: 12.5 bar, step: 0.5 bar, exact: true}\n"
	"  inner_diameter: {choice: [4 mm, 7 mm], exact: true}\n"
	"  outer_diameter: {choice: [5 mm, 8 mm], exact: true}\n"
	"require: [gauge < 12.2 bar, inner_diameter < 5 mm, outer_diameter < 6 mm]\n"
	"text: \"{gauge} {inner_diameter} {outer_diameter}\"\n"
	"asks:\n"
	"  - ask: in MPa\n"
	"    unit: MPa\n"
	"    places: 2\n"
	"    answer: 2 * gauge\n"
	"    steps: [{name: twice, formula: 2 * gauge}]\n"
	"    slips:\n"
	"      - {slip: once, formula: gauge, say: once}\n"
	"      - {slip: thrice, formula: 3 * gauge, say: thrice}\n"
	"      - {slip: four, formula: 4 * gauge, say: four}\n"
	"  - ask: product\n"
	"    unit: mm2\n"
	"    places: 1\n"
	"    answer: inner_diameter * outer_diameter\n"
	"    steps: [{name: product, formula: inner_diameter * outer_diameter}]\n"
	"    slips:\n"
	"      - {slip: inner, formula: inner_diameter^2, say: inner}\n"
	"      - {slip: outer, formula: outer_diameter^2, say: outer}\n"
	"      - {slip: third, formula: inner_diameter * outer_diameter / 3, say: third}\n";

/* 2.0 in are 50.8 mm; left as they are 2.0; the wrong way round 2 / 25.4 = 0.0787. */
static const char inches[] =
	"problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: worked by hand\n"
	"draws:\n"
	"  wide: {from: 2.0 in, to: 2.1 in, step: 0.1 in, exact: true}\n"
	"  rest: {choice: [1 mm, 2 mm], exact: true}\n"
	"let: {half: {formula: wide / 2, unit: mm, places: 0}}\n"
	"require: [wide < 2.05 in, rest < 1.5 mm]\n"
	"text: \"{wide} {rest}\"\n"
	"asks:\n"
	"  - ask: in millimetres\n"
	"    unit: mm\n"
	"    places: 1\n"
	"    answer: 2 * half + 0 * rest\n"
	"    steps: [{name: w, formula: wide}]\n"
	"    slips:\n"
	"      - {slip: a, formula: 3 * wide, say: a}\n"
	"      - {slip: b, formula: 4 * wide, say: b}\n"
	"      - {slip: c, formula: 5 * wide, say: c}\n";

static const char clock[] =
	"problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: worked by hand\n"
	"days: [Monday, Tuesday, Thursday]\n"
	"draws:\n"
	"  start: {from: 1410 min, to: 1415 min, step: 5 min, exact: true}\n"
	"  rest: {choice: [60 min, 70 min], exact: true}\n"
	"require: [start < 1412 min, rest < 65 min]\n"
	"text: \"{start:clock} {start:days} {rest}\"\n"
	"asks:\n"
	"  - ask: day and time\n"
	"    kind: time\n"
	"    days: true\n"
	"    answer: start + rest\n"
	"    steps: [{name: end, formula: start + rest, unit: days}]\n"
	"    slips:\n"
	"      - {slip: start, formula: start, say: s}\n"
	"      - {slip: before, formula: start - rest, say: b}\n"
	"      - {slip: twice, formula: start + 2 * rest, say: t}\n"
	"  - ask: time alone\n"
	"    kind: time\n"
	"    answer: start + rest\n"
	"    steps: [{say: s}]\n"
	"    slips:\n"
	"      - {slip: start, formula: start, say: s}\n"
	"      - {slip: before, formula: start - rest, say: b}\n"
	"      - {slip: twice, formula: start + 2 * rest, say: t}\n";

static const char options[] =
	"problem: p\ntitle: t\ncompetency: K1\nlevel: 1\nsource: worked by hand\n"
	"draws:\n"
	"  a: {from: 1 mm, to: 2 mm, step: 1 mm, exact: true}\n"
	"  b: {from: 5 mm, to: 6 mm, step: 1 mm, exact: true}\n"
	"require: [a < 1.5 mm, b < 5.5 mm]\n"
	"text: \"{a} {b}\"\n"
	"asks:\n"
	"  - ask: one\n"
	"    kind: choice\n"
	"    shuffle: false\n"
	"    options:\n"
	"      - {option: \"{a}\", right: a > b, slip: smaller, say: no}\n"
	"      - {option: \"{b}\", right: b > a, say: no}\n"
	"      - {option: neither, say: look}\n"
	"  - ask: several\n"
	"    kind: choices\n"
	"    shuffle: false\n"
	"    options: [{option: x, right: true}, {option: y, slip: why, say: n}, {option: z, "
	"right: true}]\n"
	"  - ask: by rank\n"
	"    kind: order\n"
	"    shuffle: false\n"
	"    entries:\n"
	"      - {entry: \"last {b}\", rank: b, slip: hasty, say: early}\n"
	"      - {entry: \"first {a}\", rank: a}\n"
	"      - {entry: also first, rank: a}\n"
	"      - {entry: never, rank: nothing, say: never}\n"
	"  - ask: after\n"
	"    kind: order\n"
	"    shuffle: false\n"
	"    entries: [{entry: one, name: one}, {entry: two, after: [one]}, {entry: free}]\n"
	"  - ask: pairs\n"
	"    kind: match\n"
	"    shuffle: false\n"
	"    pairs: [{pair: p, with: x}, {pair: q, with: y, slip: mixed}]\n"
	"    others: [z]\n";

struct world {
	struct course course;
	struct arena arena;
	struct instance *i;
};

static void open_world(struct world *w, const char *text)
{
	struct stream s;
	*w = (struct world){0};
	problem_load(text, &w->course);
	stream_open(&s, &(struct draw_key){"c", "p", "who", "now", 1});
	code_is(instance_new(&w->arena, &w->course.module[0].problem[0], &w->i), FINE);
	code_is(instance_draw(w->i, &s), FINE);
}

static void close_world(struct world *w)
{
	course_release(&w->course);
	arena_release(&w->arena);
}

struct row {
	size_t ask;
	const char *typed;
	enum outcome outcome;
	const char *slip;
	const char *told; /* a part of what is told */
};

static void rows_hold(const struct instance *i, const struct row *row, size_t n)
{
	for (size_t k = 0; k < n; k++) {
		struct score s;
		struct text told, slip;
		text_init(&told);
		text_init(&slip);
		score_typed(i, row[k].ask, row[k].typed, strlen(row[k].typed), &s);
		score_slip_add(i, row[k].ask, &s, &slip);
		score_tell(i, row[k].ask, &s, '.', &told);
		if (s.outcome != row[k].outcome || strcmp(slip.at, row[k].slip) ||
			!strstr(told.at, row[k].told))
			fail_msg("ask %zu, '%s': want %s '%s' \"%s\", got %s '%s' \"%s\"",
				row[k].ask, row[k].typed, outcome_word(row[k].outcome), row[k].slip,
				row[k].told, outcome_word(s.outcome), slip.at, told.at);
		text_release(&told);
		text_release(&slip);
	}
}

/* Right: 3 * 1507.964 = 4523.89 N. One psi is 0.00689476 MPa, one bar 0.1 MPa. */
static void mistakes_are_named_alone_and_in_pairs(void **state)
{
	static const struct row rows[] = {
		{0, "4523.9", OUTCOME_RIGHT, "", ""},
		{0, "4.5239 kN", OUTCOME_RIGHT, "", ""},
		{0, "1508.0", OUTCOME_SLIP, "one-ram", "one"},
		{0, "5760", OUTCOME_SLIP, "square", "square"},                  /* 3 * 1.2 * 1600 */
		{0, "1920", OUTCOME_TWO_SLIPS, "one-ram+square", "Two things"}, /* 1.2 * 1600 */
		{0, "9047.8", OUTCOME_SLIP, "double", "twice"},
		{0, "4.52", OUTCOME_UNIT, "", "In kN"},
		/* the gauge shows bar, so that both are told */
		{0, "45238.9", OUTCOME_UNIT, "", "as if it were given in MPa. Or the decimal sign"},
		{0, "311.9", OUTCOME_UNIT, "", "gauge is taken as if it were given in psi"},
		{0, "-4523.9", OUTCOME_SIGN, "", "sign"},
		{0, "4532.9", OUTCOME_SWAPPED, "", "changed places"},
		{0, "452.4", OUTCOME_TENFOLD, "", "one place off"},
		{0, "1131.0", OUTCOME_RADIUS, "", "ram diameter"},  /* a quarter */
		{0, "18095.6", OUTCOME_RADIUS, "", "ram diameter"}, /* four times */
		{0, "4524", OUTCOME_ROUNDED, "", "rounded"},
		{0, "777", OUTCOME_WRONG, "", "cannot be told"},
	};
	struct world w;
	(void)state;
	open_world(&w, press);
	near("answer", w.i->ask[0].answer, 4523.893421, 1e-5);
	rows_hold(w.i, rows, sizeof rows / sizeof *rows);
	close_world(&w);
}

/* Where two readings of a number are as good, both are told. */
static void what_may_be_two_things_is_told_as_two(void **state)
{
	static const struct row rows[] = {
		{0, "2.4", OUTCOME_RIGHT, "", ""},
		{0, "24 bar", OUTCOME_RIGHT, "", ""},
		{0, "24", OUTCOME_UNIT, "", "In bar this would be right; asked for is MPa. Or the"},
		{0, "24 MPa", OUTCOME_UNIT, "",
			"when the gauge is taken as if it were given in MPa. Or the decimal"},
		{0, "0.24", OUTCOME_TENFOLD, "", "one place off"}, /* nothing here is 10 MPa */
		{0, "348.1", OUTCOME_UNIT, "", "In psi this would be right; asked for is MPa."},
		{1, "20.0", OUTCOME_RIGHT, "", ""},
		{1, "10.0", OUTCOME_RADIUS, "", "inner diameter (or another of the values)"},
		{1, "508.0", OUTCOME_UNIT, "",
			"inner diameter (or another of the values) is taken as if it were given in "
			"inches."},
		{1, "200.0", OUTCOME_TENFOLD, "",
			"one place off"}, /* nobody reads a caliper in cm */
		{1, "0.20", OUTCOME_UNIT, "",
			"In cm\xC2\xB2 this would be right; asked for is mm\xC2\xB2."},
	};
	struct world w;
	(void)state;
	open_world(&w, both_ways);
	rows_hold(w.i, rows, sizeof rows / sizeof *rows);
	close_world(&w);
}

static void turning_units_round_is_named(void **state)
{
	static const struct row rows[] = {
		{0, "50.8", OUTCOME_RIGHT, "", ""},
		{0, "2.00", OUTCOME_UNIT, "", "In inches this would be right"},
		{0, "0.0787", OUTCOME_UNIT, "", "Between inches and mm it was divided"},
		{0, "50.8 in", OUTCOME_UNIT, "", "right in mm, not in inches"},
		{0, "50", OUTCOME_ROUNDED, "", "rounded"}, /* half is 25.4, rounded to 25 */
	};
	struct world w;
	(void)state;
	open_world(&w, inches);
	rows_hold(w.i, rows, sizeof rows / sizeof *rows);
	close_world(&w);
}

/* 23:30 and an hour: 00:30 of the next day. */
static void times_are_read_with_and_without_the_day(void **state)
{
	static const struct row rows[] = {
		{0, "Tuesday 00:30", OUTCOME_RIGHT, "", ""},
		{0, "tue 0:30", OUTCOME_RIGHT, "", ""},
		{0, "Tu., 0.30", OUTCOME_RIGHT, "", ""},
		{0, "Monday 24:00", OUTCOME_WRONG, "", "cannot be told"},
		{0, "Monday 23:30", OUTCOME_SLIP, "start", "s"},
		{0, "mon 22:30", OUTCOME_SLIP, "before", "b"},
		{0, "Monday 00:30", OUTCOME_HALF_DAY, "", "12 or 24"},
		{0, "Tuesday 12:30", OUTCOME_HALF_DAY, "", "12 or 24"},
		{0, "t 0:30", OUTCOME_UNREAD, "", "name of the day"},
		{0, "Tuesday", OUTCOME_UNREAD, "", "name of the day"},
		{0, "0:30", OUTCOME_UNREAD, "", "the day is asked for too"},
		{0, "Tuesday 0:60", OUTCOME_UNREAD, "", "name of the day"},
		{0, "Tuesday 25:00", OUTCOME_UNREAD, "", "name of the day"},
		{0, "Wednesday 0:30", OUTCOME_UNREAD, "", "name of the day"},
		{1, "00:30", OUTCOME_RIGHT, "", ""},
		{1, "24:30", OUTCOME_UNREAD, "", "hours and minutes"},
		{1, "0:30 x", OUTCOME_UNREAD, "", "hours and minutes"},
		{1, "Tuesday 0:30", OUTCOME_UNREAD, "", "hours and minutes"},
		{1, "12:30", OUTCOME_HALF_DAY, "", "12 or 24"},
		{1, "23:30", OUTCOME_SLIP, "start", "s"},
		{1, "1:31", OUTCOME_WRONG, "", "cannot be told"},
		{1, "", OUTCOME_UNREAD, "", "hours and minutes"},
	};
	struct world w;
	struct text t;
	(void)state;
	open_world(&w, clock);
	text_init(&t);
	instance_text_add(w.i, &w.i->problem->text, '.', &t);
	assert_string_equal(t.at, "23:30 Monday 23:30 60 min");
	text_release(&t);
	rows_hold(w.i, rows, sizeof rows / sizeof *rows);
	close_world(&w);
}

static void options_are_scored_by_their_letters(void **state)
{
	static const struct row rows[] = {
		{0, "b", OUTCOME_RIGHT, "", ""},
		{0, " B.", OUTCOME_RIGHT, "", ""},
		{0, "a", OUTCOME_SLIP, "smaller", "no"},
		{0, "c", OUTCOME_WRONG, "", "look"},
		{0, "d", OUTCOME_UNREAD, "", "no option"},
		{0, "ab", OUTCOME_UNREAD, "", "one letter"},
		{0, "3", OUTCOME_UNREAD, "", "letters"},
		{0, "", OUTCOME_UNREAD, "", "letters"},
		{1, "a c", OUTCOME_RIGHT, "", ""},
		{1, "c,a", OUTCOME_RIGHT, "", ""},
		{1, "ac", OUTCOME_RIGHT, "", ""},
		{1, "a", OUTCOME_WRONG, "", "1 is missing"},
		{1, "abc", OUTCOME_SLIP, "why", "n"},
		{1, "aa", OUTCOME_UNREAD, "", "twice"},
		{2, "b c a", OUTCOME_RIGHT, "", ""},
		{2, "cba", OUTCOME_RIGHT, "", ""},
		{2, "c > b > a", OUTCOME_RIGHT, "", ""},
		{2, "a b c", OUTCOME_SLIP, "hasty", "\"last 5 mm\" stands too early. early"},
		{2, "bcad", OUTCOME_WRONG, "", "does not belong here. never"},
		{2, "b a", OUTCOME_SLIP, "hasty", "1 is missing"},
		{3, "abc", OUTCOME_RIGHT, "", ""},
		{3, "c a b", OUTCOME_RIGHT, "", ""},
		{3, "a c b", OUTCOME_RIGHT, "", ""},
		{3, "b a c", OUTCOME_WRONG, "", "\"two\" stands too early."},
		{3, "ab", OUTCOME_UNREAD, "", "not all are there"},
	};
	struct world w;
	(void)state;
	open_world(&w, options);
	rows_hold(w.i, rows, sizeof rows / sizeof *rows);
	close_world(&w);
}

/* The right column is shuffled in any case: letters are looked up. */
static void pairs_are_scored_by_row_and_letter(void **state)
{
	struct world w;
	char right[16], mixed[16];
	(void)state;
	open_world(&w, options);
	const struct instance_ask *q = &w.i->ask[4];
	char x = 0, y = 0;
	for (int k = 0; k < 3; k++) {
		x = q->with[k] == 0 ? (char)('a' + k) : x;
		y = q->with[k] == 1 ? (char)('a' + k) : y;
	}
	snprintf(right, sizeof right, "2%c, 1 - %c", y, x);
	snprintf(mixed, sizeof mixed, "%c%c", y, x);
	rows_hold(w.i,
		(struct row[]){{4, right, OUTCOME_RIGHT, "", ""},
			{4, mixed, OUTCOME_SLIP, "mixed", "goes with something else"},
			{4, "1a", OUTCOME_UNREAD, "", "each row"},
			{4, "3a 1b", OUTCOME_UNREAD, "", "no such row"},
			{4, "0a 1b", OUTCOME_UNREAD, "", "no such row"},
			{4, "1a 1b", OUTCOME_UNREAD, "", "twice"},
			{4, "1d 2a", OUTCOME_UNREAD, "", "number and letter"}},
		7);
	close_world(&w);
}

static void a_step_is_scored_in_its_own_unit(void **state)
{
	struct world w;
	struct score s;
	(void)state;
	open_world(&w, press);
	const struct step *step = &w.i->problem->ask[0].step[0];
	const struct {
		const char *typed;
		enum outcome outcome;
	} row[] = {{"1507.96", OUTCOME_RIGHT}, {"1.50796 kN", OUTCOME_RIGHT},
		{"1508", OUTCOME_WRONG}, {"1507.96 mm", OUTCOME_UNREAD}, {"x", OUTCOME_UNREAD},
		{"1 furlong", OUTCOME_UNREAD}};
	for (size_t k = 0; k < sizeof row / sizeof *row; k++) {
		score_step(w.i, step, row[k].typed, strlen(row[k].typed), &s);
		if (s.outcome != row[k].outcome)
			fail_msg("'%s': want %s, got %s", row[k].typed,
				outcome_word(row[k].outcome), outcome_word(s.outcome));
	}
	close_world(&w);
}

/* Gauge 12.0 bar, ram 40 mm, n 3: digits 3 + 2 + 1; two steps; nearest slip by-area, 502.65 N. */
static void features_tell_what_can_be_seen(void **state)
{
	struct world w;
	struct features f;
	(void)state;
	open_world(&w, press);
	instance_features(w.i, &f);
	assert_int_equal(f.readings, 3);
	assert_int_equal(f.digits, 6);
	assert_int_equal(f.steps, 2);
	near("largest", f.largest, 40, 1e-12);
	near("skew", f.skew, 0, 0);
	/* 5760 - 4523.893 = 1236.107 N is the nearest; tolerance 0.05 N, half the digit asked for. */
	near("gap", f.gap, 1236.106579 / 0.05, 1e-2);
	close_world(&w);
}

static void running_out_of_memory_is_a_code(void **state)
{
	static const char *const texts[] = {press, clock, options};
	(void)state;
	for (size_t t = 0; t < 3; t++) {
		struct world w;
		open_world(&w, texts[t]);
		for (unsigned long n = 1;; n++) {
			struct arena a = {0};
			struct sample s;
			mem_fail_at(n, 0);
			enum bad code = sample_take(&a, w.i->problem, 10, 5000, &s);
			int failed = mem_failed();
			mem_fail_at(0, 0);
			arena_release(&a);
			code_is(code, failed ? BAD_MEMORY : FINE);
			if (!failed)
				break;
		}
		close_world(&w);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(mistakes_are_named_alone_and_in_pairs),
		cmocka_unit_test(what_may_be_two_things_is_told_as_two),
		cmocka_unit_test(turning_units_round_is_named),
		cmocka_unit_test(times_are_read_with_and_without_the_day),
		cmocka_unit_test(options_are_scored_by_their_letters),
		cmocka_unit_test(pairs_are_scored_by_row_and_letter),
		cmocka_unit_test(a_step_is_scored_in_its_own_unit),
		cmocka_unit_test(features_tell_what_can_be_seen),
		cmocka_unit_test(running_out_of_memory_is_a_code),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
