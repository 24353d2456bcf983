/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Simulated students on every problem of the courses: one who is right, to the edge of what is
 * accepted; one who makes exactly one named slip; one who makes two at once. What they type is
 * worked out by the author's formulas, rounded as a person writes it; what the program makes of it
 * comes from the typed text alone.
 *
 * BARWRIGHT_INSTANCES sets how many instances of each problem are drawn (10000; fewer where the
 * sanitizers slow it down). */
#include "problems.h"

#include <barwright/item/instance.h>
#include <barwright/item/score.h>

#ifdef __SANITIZE_ADDRESS__
enum { USUAL_INSTANCES = 100 };
#else
enum { USUAL_INSTANCES = 10000 };
#endif

struct tally {
	unsigned long asked, told;
};

struct tallies {
	const struct problem *problem;
	struct tally one, two;
};

static struct course demo;

static int set_up(void **state)
{
	(void)state;
	demo_load(&demo);
	return 0;
}

static int tear_down(void **state)
{
	(void)state;
	course_release(&demo);
	return 0;
}

static unsigned long instances(void)
{
	const char *n = getenv("BARWRIGHT_INSTANCES");
	return n ? strtoul(n, NULL, 10) : USUAL_INSTANCES;
}

/* `places` -1: as shown. */
static void type_value(
	const struct instance *i, size_t ask, double value, int places, struct score *out)
{
	struct text t;
	struct shown bare = i->problem->ask[ask].shown;
	text_init(&t);
	bare.unit_text = "";
	shown_add(&bare, value, places, '.', &t);
	score_typed(i, ask, t.at, t.len, out);
	text_release(&t);
}

static void is_right(const struct instance *i, size_t ask, double value, int places)
{
	struct score s;
	type_value(i, ask, value, places, &s);
	if (s.outcome != OUTCOME_RIGHT)
		fail_msg("%s, ask %zu: %.9g (answer %.9g, tolerance %.9g) scores as %s",
			i->problem->code, ask + 1, value, i->ask[ask].answer, i->ask[ask].tolerance,
			outcome_word(s.outcome));
}

/* As shown, and just inside both edges. Nine decimal places are what can be typed. */
static void the_right_one(const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	double answer = i->ask[ask].answer, tolerance = i->ask[ask].tolerance;
	if (formula_is_nothing(answer))
		return;
	is_right(i, ask, answer, -1);
	if (q->kind == ASKED_TIME || tolerance < 1e-6 * q->shown.unit.factor)
		return;
	is_right(i, ask, answer + tolerance * (1 - 1e-6), 9);
	is_right(i, ask, answer - tolerance * (1 - 1e-6), 9);
}

static void with_one_slip(const struct instance *i, size_t ask, struct tally *out)
{
	for (size_t n = 0; n < i->problem->ask[ask].nslip; n++) {
		struct score s;
		if (formula_is_nothing(i->ask[ask].slip[n]))
			continue;
		type_value(i, ask, i->ask[ask].slip[n], -1, &s);
		out->asked++;
		out->told += s.slip == (long)n && s.second == NO_SLIP_FITS;
	}
}

static void with_two_slips(const struct instance *i, size_t ask, struct tally *out)
{
	const struct instance_ask *q = &i->ask[ask];
	for (size_t k = 0; k < q->npair; k++) {
		struct score s;
		if (formula_is_nothing(q->pair[k].value))
			continue;
		type_value(i, ask, q->pair[k].value, -1, &s);
		out->asked++;
		out->told +=
			s.slip == (long)q->pair[k].first && s.second == (long)q->pair[k].second;
	}
}

static void right_letters(const struct instance *i, size_t ask)
{
	struct text t;
	struct score s;
	text_init(&t);
	instance_letters_add(i, ask, &t);
	score_typed(i, ask, t.at, t.len, &s);
	if (s.outcome != OUTCOME_RIGHT)
		fail_msg("%s, ask %zu: '%s' scores as %s", i->problem->code, ask + 1, t.at,
			outcome_word(s.outcome));
	text_release(&t);
}

static void students_work(const struct instance *i, struct tallies *out)
{
	for (size_t ask = 0; ask < i->problem->nask; ask++)
		if (i->problem->ask[ask].noffer) {
			right_letters(i, ask);
		} else {
			the_right_one(i, ask);
			with_one_slip(i, ask, &out->one);
			with_two_slips(i, ask, &out->two);
		}
}

static void work_through(const struct problem *p, unsigned long count, struct tallies *out)
{
	struct arena a = {0};
	struct instance *i;
	struct stream s;
	*out = (struct tallies){.problem = p};
	assert_int_equal(instance_new(&a, p, &i), FINE);
	stream_open(&s, &(struct draw_key){"course", p->code, "student", "one", 1});
	for (unsigned long n = 0; n < count; n++) {
		if (instance_draw(i, &s))
			fail_msg("%s: no fair instance", p->code);
		students_work(i, out);
	}
	arena_release(&a);
}

static void reaches(const struct tallies *t, const struct tally *x, unsigned least, const char *who)
{
	if (x->told * 100 < x->asked * least)
		fail_msg("%s: the student who made %s was told so in %lu of %lu cases, and %u %% "
			 "are wanted",
			t->problem->code, who, x->told, x->asked, least);
}

static void students_are_told_what_they_did(void **state)
{
	(void)state;
	unsigned long count = instances();
	for (size_t k = 0; k < demo.nproblem; k++) {
		struct tallies t;
		work_through(
			demo.by_code[k], demo.by_code[k]->is_fixed ? count / 100 + 1 : count, &t);
		reaches(&t, &t.one, 98, "one slip");
		reaches(&t, &t.two, 85, "two slips");
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(students_are_told_what_they_did),
	};
	return cmocka_run_group_tests(tests, set_up, tear_down);
}
