/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scoring and naming the mistake, on a problem whose numbers are fixed. */
#include "problems.h"

#include <barwright/item/score.h>

/* The lowest site governs: of 16.0, 14.6, 13.9, 15.2 less 9.3 it leaves 4.6, and the thickest of the stock
 * that fits is 4.5 (common practice of the trade; worked by hand). */
static const char fixed[] =
	"problem: p\n"
	"title: t\n"
	"competency: K1\n"
	"level: 1\n"
	"source: worked by hand\n"
	"draws:\n"
	"  low: {from: 13.90 mm, to: 13.95 mm, step: 0.05 mm}\n"
	"  rest: {from: 9.30 mm, to: 9.35 mm, step: 0.05 mm, exact: true}\n"
	"  least: {choice: [3.5 mm, 9 mm], exact: true}\n"
	"require: [low < 13.92 mm, rest < 9.32 mm, least < 4 mm]\n"
	"text: \"{low} less {rest}\"\n"
	"asks:\n"
	"  - ask: left\n"
	"    unit: mm\n"
	"    places: 2\n"
	"    answer: low - rest\n"
	"    steps: [{say: subtract}]\n"
	"    slips:\n"
	"      - {slip: nothing-off, formula: low, say: \"{rest} come off\"}\n"
	"      - {slip: twice, formula: low - 2 * rest, say: once is enough}\n"
	"      - {slip: only-off, formula: rest, say: this comes off}\n"
	"  - ask: stock\n"
	"    unit: mm\n"
	"    places: 1\n"
	"    tolerance: exact\n"
	"    refer: nothing fits\n"
	"    answer: \"stock_choice([3.5 mm, 4 mm, 4.5 mm, 5 mm], low - rest, least)\"\n"
	"    steps: [{say: subtract}]\n"
	"    slips:\n"
	"      - {slip: up, formula: \"smallest_from([5 mm, 6 mm], low - rest)\", say: too thick}\n"
	"      - {slip: none, formula: \"stock_choice([9 mm], low - rest, least)\", say: it fits}\n"
	"      - {slip: thin, formula: least, say: thicker fits}\n"
	"  - ask: stock from another list\n"
	"    unit: mm\n"
	"    places: 1\n"
	"    tolerance: exact\n"
	"    refer: nothing fits\n"
	"    answer: \"stock_choice([5 mm, 6 mm], low - rest, least)\"\n"
	"    steps: [{say: subtract}]\n"
	"    slips:\n"
	"      - {slip: forced, formula: \"smallest_from([5 mm, 6 mm], low - rest)\", say: too "
	"thick}\n"
	"      - {slip: thin, formula: least, say: not in the list}\n"
	"      - {slip: thick, formula: 6 mm + 0 * low, say: too thick by far}\n"
	"  - ask: film\n"
	"    unit: um\n"
	"    places: 0\n"
	"    tolerance: 1 um\n"
	"    why: the gauge\n"
	"    answer: (low - 13.8 mm) * rest / rest + 0.4 um\n"
	"    steps: [{say: subtract}]\n"
	"    slips:\n"
	"      - {slip: hundredths, formula: (low - 13.8 mm) / 10, say: hundredths}\n"
	"      - {slip: both, formula: 2 * (low - 13.8 mm), say: both sides}\n"
	"      - {slip: half, formula: (low - 13.8 mm) / 2, say: one side}\n"
	"  - ask: in inches\n"
	"    of: in\n"
	"    places: 3\n"
	"    tolerance: 0.001\n"
	"    why: the gauge\n"
	"    answer: low / 1 in\n"
	"    steps: [{say: divide}]\n"
	"    slips:\n"
	"      - {slip: millimetres, formula: low / 1 mm, say: turn it into inches}\n"
	"      - {slip: tenth, formula: low / 10 mm, say: not into cm}\n"
	"      - {slip: turned, formula: 1 in / low, say: the other way round}\n";

struct world {
	struct course course;
	struct arena arena;
	struct instance *instance;
};

static int set_up(void **state)
{
	static struct world w;
	struct stream s;
	problem_load(fixed, &w.course);
	stream_open(&s, &(struct draw_key){"c", "p", "who", "now", 1});
	assert_int_equal(instance_new(&w.arena, &w.course.module[0].problem[0], &w.instance), FINE);
	assert_int_equal(instance_draw(w.instance, &s), FINE);
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

static void tolerance_is_the_instruments(void **state)
{
	struct world *w = *state;
	/* One reading of 0.05 mm (half digit 0.025) with sensitivity 1, plus half the asked digit 0.005:
	 * JCGM 100:2008, 5.1.2. */
	near("tolerance", w->instance->ask[0].tolerance, 0.03, 1e-12);
	near("answer", w->instance->ask[0].answer, 4.6, 1e-12);
	near("stock", w->instance->ask[1].answer, 4.5, 1e-12);
	assert_true(formula_is_nothing(w->instance->ask[2].answer));
}

static const struct {
	size_t ask;
	const char *typed;
	enum outcome outcome;
	long slip;
	const char *told; /* a part of what is told */
} cases[] = {
	{0, "4.6", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{0, "4,60 mm", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{0, "4.63", OUTCOME_RIGHT, NO_SLIP_FITS, ""}, /* the edge belongs to it */
	{0, "4.57", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{0, "4.64", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "0.46 cm", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{0, "0.1811 in", OUTCOME_RIGHT, NO_SLIP_FITS, ""}, /* 4.6/25.4 */
	{0, "13.9", OUTCOME_SLIP, 0, "9.30 mm come off"},
	{0, "-4.7", OUTCOME_SLIP, 1, "once is enough"},
	{0, "9,3", OUTCOME_SLIP, 2, "this comes off"},
	{0, "0.181", OUTCOME_UNIT, NO_SLIP_FITS, "In inches this would be right"},
	{0, "0.46", OUTCOME_UNIT, NO_SLIP_FITS,
		"In cm this would be right; asked for is mm. Or the decimal sign"},
	{0, "0.46 mm", OUTCOME_TENFOLD, NO_SLIP_FITS, "one place off"},
	{0, "0.5", OUTCOME_WRONG, NO_SLIP_FITS,
		"cannot be told"}, /* half a centimetre fits too much */
	{0, "4.6 cm", OUTCOME_UNIT, NO_SLIP_FITS, "right in mm, not in cm"},
	{0, "4.6 N", OUTCOME_UNIT, NO_SLIP_FITS, "right in mm, not in N"},
	{0, "-4.6", OUTCOME_SIGN, NO_SLIP_FITS, "sign"},
	{0, "6.4", OUTCOME_SWAPPED, NO_SLIP_FITS, "changed places. "},
	{0, "6.4 cm", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"}, /* that are 64 mm */
	{0, "3.79", OUTCOME_SWAPPED, NO_SLIP_FITS, "changed places in the low. "}, /* 13.09 */
	{0, "22.60", OUTCOME_SWAPPED, NO_SLIP_FITS, "in the low. "},               /* 31.90 */
	{0, "4.87", OUTCOME_SWAPPED, NO_SLIP_FITS, "in the rest. "},               /* 9.03 */
	{0, "3.8", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"}, /* a digit less fits too much */
	/* 19.30 less 9.30 or 13.90 less 3.90 */
	{0, "10.00", OUTCOME_SWAPPED, NO_SLIP_FITS, "in the low (or another of the values). "},
	{0, "46", OUTCOME_TENFOLD, NO_SLIP_FITS, "one place off"},
	{0, "7.11", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "refer", OUTCOME_UNREAD, NO_SLIP_FITS, "number"},
	{0, "7 N", OUTCOME_UNREAD, NO_SLIP_FITS, "another kind"},
	{0, "7 furlong", OUTCOME_UNREAD, NO_SLIP_FITS, "not known"},
	{0, "thick", OUTCOME_UNREAD, NO_SLIP_FITS, "number"},
	{0, "", OUTCOME_UNREAD, NO_SLIP_FITS, "nothing was typed"},
	{0, "1e308", OUTCOME_UNREAD, NO_SLIP_FITS, "without an exponent"},
	{0, "4.6E0", OUTCOME_UNREAD, NO_SLIP_FITS, "without an exponent"},
	{0, "1e-308", OUTCOME_UNREAD, NO_SLIP_FITS, "without an exponent"},
	{0, "inf", OUTCOME_UNREAD, NO_SLIP_FITS, "number"},
	{0, "nan", OUTCOME_UNREAD, NO_SLIP_FITS, "number"},
	{0, "0", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "-0", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "0.00", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "0.000000001", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "999999999999999", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "-999999999999999", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{0, "999999999999999 L", OUTCOME_UNREAD, NO_SLIP_FITS, "another kind"},
	{0, "9999999999999999", OUTCOME_UNREAD, NO_SLIP_FITS, "too many digits"},
	{0, "4.60000000000000000000000000000000", OUTCOME_UNREAD, NO_SLIP_FITS, "too long"},
	{1, "4.5", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{1, "5", OUTCOME_SLIP, 0, "too thick"},
	{1, "3.5", OUTCOME_SLIP, 2, "thicker fits"},
	{1, "4", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{1, "Refer back", OUTCOME_REFERRED, NO_SLIP_FITS, "need not go back"},
	{2, " refer ", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{2, "none", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{2, "5", OUTCOME_NOT_REFERRED, 0, "too thick"},
	{2, "3.5", OUTCOME_NOT_REFERRED, 1, "not in the list"},
	{2, "4.6", OUTCOME_NOT_REFERRED, NO_SLIP_FITS, "Stop, and refer"},
	/* The tolerance of 100.4 is not that of a slip's 10; and where the way leads to the answer all the
	 * same, as with the unit of a value that falls out, nothing is named. */
	{3, "100", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{3, "10", OUTCOME_SLIP, 0, "hundredths"},
	{3, "9", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{3, "0", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{3, "99", OUTCOME_WRONG, NO_SLIP_FITS, "cannot be told"},
	{3, "0.1", OUTCOME_UNIT, NO_SLIP_FITS, "In mm this would be right"},
	/* 13.90 mm / 25.4 = 0.547 in. Who writes the unit that is counted is as right as who does not; the
	 * reading typed again in its own unit is no answer to "how many inches". */
	{4, "0.547", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{4, "0.547 in", OUTCOME_RIGHT, NO_SLIP_FITS, ""},
	{4, "13.9", OUTCOME_SLIP, 0, "turn it into inches"},
	{4, "13.9 in", OUTCOME_SLIP, 0, "turn it into inches"},
	{4, "13.9 mm", OUTCOME_UNREAD, NO_SLIP_FITS, "in one unit, and another"},
	{4, "0.547 N", OUTCOME_UNREAD, NO_SLIP_FITS, "in one unit, and another"},
};

static void each_reply_is_told_what_it_is(void **state)
{
	struct world *w = *state;
	for (size_t k = 0; k < sizeof cases / sizeof *cases; k++) {
		struct score s;
		struct text t;
		text_init(&t);
		score_typed(w->instance, cases[k].ask, cases[k].typed, strlen(cases[k].typed), &s);
		score_tell(w->instance, cases[k].ask, &s, '.', &t);
		if (s.outcome != cases[k].outcome || s.slip != cases[k].slip ||
			!strstr(t.at, cases[k].told))
			fail_msg("ask %zu, '%s': want %s slip %ld '...%s...', got %s slip %ld '%s'",
				cases[k].ask, cases[k].typed, outcome_word(cases[k].outcome),
				cases[k].slip, cases[k].told, outcome_word(s.outcome), s.slip,
				t.at);
		text_release(&t);
	}
}

/* In an assessment a unit of another kind is not read, be the number right or wrong: nothing tells. */
static void a_unit_of_another_kind_tells_nothing_where_it_must_not(void **state)
{
	struct world *w = *state;
	static const char *const typed[] = {"4.6 N", "4.7 N"};
	struct score s[2];
	for (size_t k = 0; k < 2; k++) {
		score_typed(w->instance, 0, typed[k], strlen(typed[k]), &s[k]);
		score_hide_unit(&s[k]);
		assert_int_equal(s[k].outcome, OUTCOME_UNREAD);
	}
	assert_string_equal(s[0].why, s[1].why);
	score_typed(w->instance, 0, "4.6 cm", 6, &s[0]);
	score_hide_unit(&s[0]);
	assert_int_equal(s[0].outcome, OUTCOME_UNIT); /* of its kind: it is read, and counts as wrong */
}

/* Kilobytes of one letter, one digit or blanks: a sentence, and at once. */
static void what_is_absurdly_long_is_not_read(void **state)
{
	struct world *w = *state;
	static char long_text[100000];
	for (const char *c = "9a .-e\xC2"; *c; c++)
		for (size_t ask = 0; ask < 3; ask++) {
			struct score s;
			memset(long_text, *c, sizeof long_text);
			score_typed(w->instance, ask, long_text, sizeof long_text, &s);
			assert_int_equal(s.outcome, OUTCOME_UNREAD);
			assert_true(s.why && *s.why);
		}
}

static void what_is_recorded_scores_again_as_it_was(void **state)
{
	struct world *w = *state;
	struct text expected, tolerance;
	text_init(&expected);
	text_init(&tolerance);
	score_expected(w->instance, 0, &expected, &tolerance);
	assert_string_equal(expected.at, "4.600000");
	assert_string_equal(tolerance.at, "0.030000");
	text_clear(&expected);
	text_clear(&tolerance);
	score_expected(w->instance, 2, &expected, &tolerance);
	assert_string_equal(expected.at, "none");
	text_release(&expected);
	text_release(&tolerance);
}

static void every_outcome_has_a_word_that_reads_back(void **state)
{
	(void)state;
	for (int o = 0; o < OUTCOME_COUNT; o++) {
		enum outcome back;
		code_is(outcome_read(outcome_word((enum outcome)o), &back), FINE);
		assert_int_equal(back, o);
	}
	enum outcome none;
	code_is(outcome_read("perhaps", &none), BAD_UNKNOWN);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(tolerance_is_the_instruments),
		cmocka_unit_test(each_reply_is_told_what_it_is),
		cmocka_unit_test(a_unit_of_another_kind_tells_nothing_where_it_must_not),
		cmocka_unit_test(what_is_absurdly_long_is_not_read),
		cmocka_unit_test(what_is_recorded_scores_again_as_it_was),
		cmocka_unit_test(every_outcome_has_a_word_that_reads_back),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
