/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Simulated students on every problem of the courses: one who is right, to the edge of what is
 * accepted; one who makes exactly one named slip; one who makes two at once; one who reads a value
 * with two digits changed over; one who types anything. What they type is worked out by the author's
 * formulas, rounded as a person writes it; what the program makes of it comes from the typed text
 * alone.
 *
 * BARWRIGHT_INSTANCES sets how many instances of each problem are drawn (10000; fewer where the
 * sanitizers slow it down). With BARWRIGHT_FIGURES set the shares are printed, problem by problem. */
#include "demo.h"

#include <stdlib.h>
#include <string.h>

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
	struct tally reading; /* told: the digits of a reading, or a slip it cannot be told from */
	struct tally stray;   /* told: anything but that it cannot be told */
	unsigned long stray_reading;
};

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

/* ---- a reading with two digits changed over -------------------------------------------------- */

/* The answer once more, everything worked out anew from the draws as they are. */
static double answer_now(const struct instance *i, size_t ask)
{
	const struct problem *p = i->problem;
	static double room[512][FORMULA_LENGTH];
	struct formula_value *kept = malloc((p->scope.n + 1) * sizeof *kept), v;
	enum bad code = FINE;
	assert_non_null(kept);
	memcpy(kept, i->value, p->scope.n * sizeof *kept);
	for (size_t n = 0; n < p->nlet && !code; n++) {
		code = formula_run(p->let[n].formula, i->value, i->work, &v);
		if (!code && v.list) {
			memcpy(room[n], v.list, v.n * sizeof *v.list);
			v.list = room[n];
		}
		if (!code)
			i->value[p->let[n].slot] = v;
	}
	if (!code)
		code = formula_run(p->ask[ask].answer, i->value, i->work, &v);
	memcpy(i->value, kept, p->scope.n * sizeof *kept);
	free(kept);
	return code ? formula_nothing() : v.number;
}

/* What is answered when the reading of a draw is taken as it stands in `t`. */
static void with_reading(const struct instance *i, size_t ask, const struct draw *d,
	const struct text *t, struct tally *out)
{
	const struct instance_ask *q = &i->ask[ask];
	double *reading = &i->value[d->slot].number, kept = *reading;
	struct decimal read;
	struct score s;
	assert_int_equal(decimal_read(t->at, t->len, &read), FINE);
	*reading = decimal_value(read) * d->shown.unit.factor + d->shown.unit.offset;
	double wrong = answer_now(i, ask);
	*reading = kept;
	if (formula_is_nothing(wrong) || fabs(wrong - q->answer) <= 2 * q->tolerance)
		return;
	type_value(i, ask, wrong, -1, &s);
	out->asked++;
	out->told += s.outcome == OUTCOME_SWAPPED;
}

static void with_digits_swapped(
	const struct instance *i, size_t ask, const struct draw *d, struct tally *out)
{
	struct shown bare = d->shown;
	struct text t;
	text_init(&t);
	bare.unit_text = "";
	shown_add(&bare, i->value[d->slot].number, -1, '.', &t);
	for (size_t k = 0; k + 1 < t.len; k++) {
		size_t next = t.at[k + 1] == '.' ? k + 2 : k + 1;
		char a = t.at[k], b = t.at[next];
		if (a == '.' || a == '-' || a == b || (k == 0 && b == '0' && t.at[1] != '.'))
			continue;
		t.at[k] = b;
		t.at[next] = a;
		with_reading(i, ask, d, &t, out);
		t.at[k] = a;
		t.at[next] = b;
	}
	text_release(&t);
}

static void with_swapped_reading(const struct instance *i, size_t ask, struct tally *out)
{
	for (size_t n = 0; n < i->problem->ndraw; n++) {
		const struct draw *d = &i->problem->draw[n];
		if (!i->value[d->slot].list && !d->shown.clock)
			with_digits_swapped(i, ask, d, out);
	}
}

/* ---- any number at all ----------------------------------------------------------------------- */

/* From half of the answer to one and a half of it, with the places asked for. */
static void with_any_number(
	const struct instance *i, size_t ask, struct stream *any, struct tallies *out)
{
	struct score s;
	double share = 0.5 + stream_below(any, 1000001) / 1e6;
	type_value(i, ask, i->ask[ask].answer * share, -1, &s);
	if (s.outcome == OUTCOME_RIGHT)
		return;
	out->stray.asked++;
	out->stray.told += s.outcome != OUTCOME_WRONG;
	out->stray_reading += s.outcome == OUTCOME_SWAPPED && s.slot != NO_SLIP_FITS;
}

/* ---- all of them ----------------------------------------------------------------------------- */

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

/* Of an exact answer there are a few values only: those two students say nothing there. */
static bool is_measured(const struct instance *i, size_t ask)
{
	const struct ask *q = &i->problem->ask[ask];
	return q->kind == ASKED_NUMBER && q->tolerance != TOLERANCE_EXACT &&
	       !formula_is_nothing(i->ask[ask].answer);
}

static void students_work(
	const struct instance *i, unsigned long n, struct stream *any, struct tallies *out)
{
	for (size_t ask = 0; ask < i->problem->nask; ask++) {
		if (i->problem->ask[ask].noffer) {
			right_letters(i, ask);
			continue;
		}
		the_right_one(i, ask);
		with_one_slip(i, ask, &out->one);
		with_two_slips(i, ask, &out->two);
		if (n % 10 || !is_measured(i, ask))
			continue;
		with_swapped_reading(i, ask, &out->reading);
		with_any_number(i, ask, any, out);
	}
}

static void work_through(const struct problem *p, unsigned long count, struct tallies *out)
{
	struct arena a = {0};
	struct instance *i;
	struct stream s, any;
	*out = (struct tallies){.problem = p};
	stream_open(&any, &(struct draw_key){"course", p->code, "student", "any", 1});
	assert_int_equal(instance_new(&a, p, &i), FINE);
	stream_open(&s, &(struct draw_key){"course", p->code, "student", "one", 1});
	for (unsigned long n = 0; n < count; n++) {
		if (instance_draw(i, &s))
			fail_msg("%s: no fair instance", p->code);
		students_work(i, n, &any, out);
	}
	arena_release(&a);
}

static double share(const struct tally *x)
{
	return x->asked ? 100.0 * (double)x->told / (double)x->asked : 100;
}

static void reaches(const char *where, const struct tally *x, unsigned least, const char *who)
{
	if (x->told * 100 < x->asked * least)
		fail_msg("%s: the student who %s was told so in %lu of %lu cases, and %u %% "
			 "are wanted",
			where, who, x->told, x->asked, least);
}

static void print_figures(const struct tallies *t)
{
	print_message("%-20s one %6.2f %% of %7lu, two %6.2f %% of %7lu, reading %6.2f %% of %6lu, "
		      "any number told as something %5.2f %% of %5lu\n",
		t->problem ? t->problem->code : "all", share(&t->one), t->one.asked, share(&t->two),
		t->two.asked, share(&t->reading), t->reading.asked,
		t->stray.asked ? share(&t->stray) : 0, t->stray.asked);
}

static void tally_add(struct tally *sum, const struct tally *x)
{
	sum->asked += x->asked;
	sum->told += x->told;
}

static void tallies_add(struct tallies *sum, const struct tallies *t)
{
	tally_add(&sum->one, &t->one);
	tally_add(&sum->two, &t->two);
	tally_add(&sum->reading, &t->reading);
	tally_add(&sum->stray, &t->stray);
	sum->stray_reading += t->stray_reading;
}

static void students_are_told_what_they_did(void **state)
{
	(void)state;
	unsigned long count = instances();
	struct tallies all = {0};
	for (size_t k = 0; k < demo.nproblem; k++) {
		struct tallies t;
		work_through(
			demo.by_code[k], demo.by_code[k]->is_fixed ? count / 100 + 1 : count, &t);
		if (getenv("BARWRIGHT_FIGURES") && t.one.asked)
			print_figures(&t);
		reaches(t.problem->code, &t.one, 98, "made one slip");
		reaches(t.problem->code, &t.two, 85, "made two slips");
		tallies_add(&all, &t);
	}
	print_figures(&all);
	reaches("all problems", &all.reading, 80, "read a value with two digits changed over");
	/* Who types anything should rarely be told of a mistake, and hardly ever of that one. */
	if (all.stray.told * 100 > 8 * all.stray.asked ||
		all.stray_reading * 100 > 2 * all.stray.asked)
		fail_msg("of %lu numbers that mean nothing %lu were told as a mistake, %lu as "
			 "digits of a reading",
			all.stray.asked, all.stray.told, all.stray_reading);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(students_are_told_what_they_did),
	};
	return cmocka_run_group_tests(tests, demo_open, demo_close);
}
