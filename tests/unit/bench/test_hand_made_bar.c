/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The procedure of the courses against what practice says of it: the order of its steps, and where
 * each of its faults is made, could first be caught, and shows. Both tables stand here as they were
 * put together from the trade, apart from the file under test. */
#include "near.h"

#include <stdlib.h>
#include <unistd.h>

#include "bench/rehearse.h"
#include "bench/score.h"
#include "unit/bench/play.h"

static int begin(void **state)
{
	static struct play play;
	play = (struct play){0};
	*state = &play;
	return play_open(&play) ? 0 : -1;
}

static int end(void **state)
{
	play_close(*state);
	return 0;
}

/* ---- the order ------------------------------------------------------------------------------- */

/* A B: A must be finished before B starts. Common practice of the trade. */
static const char edges[][2][4] = {
	{"S01", "S02"},
	{"S02", "S03"},
	{"S02", "S04"},
	{"S03", "S05"},
	{"S04", "S05"},
	{"S05", "S06"},
	{"S05", "S07"},
	{"S05", "S08"},
	{"S07", "S08"},
	{"S06", "S09"},
	{"S08", "S09"},
	{"S09", "S10"},
	{"S10", "S11"},
	{"S11", "S12"},
	{"S06", "S12"},
	{"S12", "S13"},
	{"S12", "S14"},
	{"S14", "S15"},
	{"S15", "S16"},
	{"S16", "S18"},
	{"S14", "S17"},
	{"S17", "S18"},
	{"S13", "S20"},
	{"S18", "S19"},
	{"S19", "S20"},
	{"S20", "S21"},
	{"S20", "S22"},
	{"S21", "S23"},
	{"S22", "S23"},
	{"S03", "S23"},
	{"S23", "S24"},
	{"S24", "S25"},
	{"S25", "S26"},
	{"S26", "S27"},
	{"S27", "S28"},
	{"S28", "S29"},
	{"S29", "S30"},
	{"S30", "S31"},
	{"S31", "S32"},
	{"S32", "S33"},
	{"S33", "S34"},
	{"S33", "S35"},
	{"S33", "S36"},
	{"S34", "S37"},
	{"S35", "S37"},
	{"S37", "S38"},
	{"S36", "S40"},
	{"S38", "S40"},
	{"S39", "S40"},
	{"S37", "S39"},
	{"S34", "S40"},
	{"S40", "S41"},
	{"S41", "S42"},
	{"S42", "S43"},
	{"S43", "S44"},
	{"S44", "S45"},
	{"S45", "S46"},
	{"S45", "S47"},
	{"S46", "S47"},
	{"S47", "S48"},
	{"S47", "S49"},
	{"S48", "S49"},
	{"S49", "S50"},
	{"S50", "S51"},
	{"S51", "S52"},
};
enum { EDGES = sizeof edges / sizeof *edges };

static void every_edge_of_the_order_is_kept_and_no_other_stands_there(void **state)
{
	struct play *p = *state;
	const struct procedure *pr = &p->procedure;
	size_t n = 0;
	assert_int_equal(pr->nstep, 52);
	for (size_t i = 0; i < EDGES; i++) {
		size_t from = procedure_step(pr, edges[i][0], 3),
		       to = procedure_step(pr, edges[i][1], 3);
		assert_true(from < pr->nstep && to < pr->nstep);
		if (!(pr->step[to].after >> from & 1))
			print_error("%s should come after %s\n", edges[i][1], edges[i][0]);
		assert_true(pr->step[to].after >> from & 1);
	}
	for (size_t i = 0; i < pr->nstep; i++)
		for (size_t k = 0; k < pr->nstep; k++)
			n += pr->step[i].after >> k & 1;
	assert_int_equal(n, EDGES);
}

/* tsort (POSIX.1-2017, XCU) is from outside: it reads the pairs of the file under test and must find
 * no circle, and the order it finds must be one the bench follows without leaving anything out. */
static void tsort_finds_an_order_that_the_bench_takes(void **state)
{
	struct play *p = *state;
	const struct procedure *pr = &p->procedure;
	char name[] = "/tmp/barwright-edges-XXXXXX", command[80], line[64];
	int fd = mkstemp(name);
	FILE *f = fd < 0 ? NULL : fdopen(fd, "w");
	unsigned char key[BENCH_KEY];
	size_t n = 0;
	assert_non_null(f);
	for (size_t i = 0; i < pr->nstep; i++)
		for (size_t k = 0; k < pr->nstep; k++)
			if (pr->step[i].after >> k & 1)
				fprintf(f, "%s %s\n", pr->step[k].code, pr->step[i].code);
	fclose(f);
	snprintf(command, sizeof command, "tsort %s 2>&1", name);
	f = popen(command, "r");
	assert_non_null(f);
	play_key(3, key);
	bench_start(p->bench, key, p->whole, BENCH_FREE);
	while (fgets(line, sizeof line, f)) {
		size_t step = procedure_step(pr, line, strcspn(line, "\n")), at;
		if (step == SIZE_MAX)
			print_error("tsort says: %s", line);
		assert_true(step < pr->nstep);
		assert_true(!bench_applies(p->bench, step) || bench_is_next(p->bench, step));
		assert_true(bench_work_on(p->bench, step, step, SIZE_MAX, &at));
		n++;
	}
	assert_int_equal(pclose(f), 0);
	unlink(name);
	assert_int_equal(n, pr->nstep);
	assert_int_equal(p->bench->orders, 0);
	code_is(bench_end(p->bench, END_ACCEPTED), FINE);
	assert_int_equal(p->bench->end, END_ACCEPTED);
}

/* Left free by the order, by practice: these 19 pairs and no others. */
static void nineteen_pairs_are_free(void **state)
{
	const struct procedure *pr = &((struct play *)*state)->procedure;
	size_t n = 0;
	for (size_t i = 0; i < pr->nstep; i++)
		for (size_t k = i + 1; k < pr->nstep; k++)
			n += !(pr->step[i].before >> k & 1) && !(pr->step[k].before >> i & 1);
	assert_int_equal(n, 19);
}

/* ---- the faults ------------------------------------------------------------------------------ */

/* Where its cause acts, where the earliest check would catch it, where it shows by itself (D1
 * delivery, D2 service). Common practice of the trade. */
static const struct {
	const char *code, *made, *check, *shows;
} catalogue[] = {
	{"F01", "S01", "S01", "S52"},
	{"F02", "S02", "S02", "S22"},
	{"F03", "S02", "S02", "D1"},
	{"F04", "S03", "S03", "S23"},
	{"F05", "S03", "S03", "S23"},
	{"F06", "S03", "S03", "S05"},
	{"F07", "S04", "S04", "S12"},
	{"F08", "S05", "S05", "S23"},
	{"F09", "S05", "S05", "S23"},
	{"F10", "S06", "S06", "S18"},
	{"F11", "S06", "S06", "S23"},
	{"F12", "S06", "S06", "S22"},
	{"F13", "S07", "S07", "S50"},
	{"F14", "S07", "S07", "S23"},
	{"F15", "S07", "S07", "D2"},
	{"F16", "S13", "S13", "D2"},
	{"F17", "S09", "S09", "S12"},
	{"F18", "S10", "S10", "S12"},
	{"F19", "S11", "S11", "S18"},
	{"F20", "S11", "S12", "S22"},
	{"F21", "S11", "S11", "S11"},
	{"F22", "S11", "S11", "S12"},
	{"F23", "S12", "S12", "S22"},
	{"F24", "S14", "S14", "D2"},
	{"F25", "S14", "S14", "S15"},
	{"F26", "S14", "S14", "S22"},
	{"F27", "S15", "S15", "D2"},
	{"F28", "S16", "S16", "D2"},
	{"F29", "S16", "S16", "D2"},
	{"F30", "S17", "S17", "S19"},
	{"F31", "S17", "S17", "D2"},
	{"F32", "S18", "S18", "S21"},
	{"F33", "S18", "S18", "S22"},
	{"F34", "S18", "S18", "S22"},
	{"F35", "S19", "S19", "S20"},
	{"F36", "S20", "S20", "S50"},
	{"F37", "S20", "S20", "D2"},
	{"F38", "S20", "S20", "S50"},
	{"F39", "S21", "S21", "S47"},
	{"F40", "S21", "S21", "D1"},
	{"F41", "S23", "S23", "S45"},
	{"F42", "S23", "S23", "S25"},
	{"F43", "S24", "S24", "S50"},
	{"F44", "S25", "S25", "D1"},
	{"F45", "S26", "S26", "S44"},
	{"F46", "S27", "S27", "S45"},
	{"F47", "S28", "S28", "S44"},
	{"F48", "S29", "S29", "S33"},
	{"F49", "S29", "S29", "S33"},
	{"F50", "S29", "S29", "S45"},
	{"F51", "S30", "S30", "S33"},
	{"F52", "S31", "S31", "S45"},
	{"F53", "S32", "S32", "S33"},
	{"F54", "S33", "S33", "S44"},
	{"F55", "S33", "S33", "D2"},
	{"F56", "S34", "S34", "S44"},
	{"F57", "S34", "S34", "D2"},
	{"F58", "S35", "S35", "D2"},
	{"F59", "S36", "S36", "D2"},
	{"F60", "S37", "S37", "S47"},
	{"F61", "S38", "S38", "S45"},
	{"F62", "S39", "S39", "S47"},
	{"F63", "S39", "S39", "S45"},
	{"F64", "S40", "S40", "S45"},
	{"F65", "S40", "S40", "S44"},
	{"F66", "S40", "S40", "S47"},
	{"F67", "S40", "S40", "S44"},
	{"F68", "S41", "S41", "S44"},
	{"F69", "S42", "S42", "S46"},
	{"F70", "S42", "S42", "D2"},
	{"F71", "S42", "S42", "S44"},
	{"F72", "S43", "S43", "S47"},
	{"F73", "S44", "S44", "S45"},
	{"F74", "S45", "S45", "S47"},
	{"F75", "S46", "S46", "D2"},
	{"F76", "S46", "S46", "S50"},
	{"F77", "S47", "S47", "D1"},
	{"F78", "S48", "S48", "D2"},
	{"F79", "S48", "S48", "S48"},
	{"F80", "S49", "S49", "S50"},
	{"F81", "S50", "S50", "D1"},
	{"F82", "S51", "S51", "S52"},
	{"F83", "S52", "S52", "D2"},
};
enum { CATALOGUE = sizeof catalogue / sizeof *catalogue };

static size_t place_of(const struct procedure *p, const char *where)
{
	return strcmp(where, "D1") == 0   ? AT_DELIVERY
	       : strcmp(where, "D2") == 0 ? AT_SERVICE
					  : procedure_step(p, where, strlen(where));
}

static void every_fault_stands_where_practice_puts_it(void **state)
{
	const struct procedure *pr = &((struct play *)*state)->procedure;
	assert_int_equal(pr->nfault, CATALOGUE);
	for (size_t i = 0; i < CATALOGUE; i++) {
		size_t k = procedure_fault(pr, catalogue[i].code, 3);
		assert_true(k < pr->nfault);
		const struct fault *f = &pr->fault[k];
		if (f->made != place_of(pr, catalogue[i].made) ||
			f->check_at != place_of(pr, catalogue[i].check) ||
			f->shows != place_of(pr, catalogue[i].shows))
			print_error("%s stands elsewhere\n", catalogue[i].code);
		assert_int_equal(f->made, place_of(pr, catalogue[i].made));
		assert_int_equal(f->check_at, place_of(pr, catalogue[i].check));
		assert_int_equal(f->shows, place_of(pr, catalogue[i].shows));
	}
}

/* Brings it about, and watches every decision: not known before its step is done or left out, and,
 * when nobody looks, not before the step where it shows. */
static bool comes_about(struct play *p, size_t fault, size_t shows, uint32_t n)
{
	struct bench *b = p->bench;
	const struct fault_mark *m = &b->fault[fault];
	unsigned char key[BENCH_KEY];
	size_t at, made = p->procedure.fault[fault].made;
	play_key(n, key);
	bench_start(b, key, p->whole, BENCH_FREE);
	for (size_t i = 0; i < p->procedure.nstep; i++) {
		if (!bench_work_on(b, i, i, fault, &at))
			break;
		assert_false(m->is_there && b->step[made].state == STEP_OPEN);
		assert_false(
			m->is_shown && shows < AT_DELIVERY && b->step[shows].state != STEP_DONE);
		assert_false(m->is_shown && shows >= AT_DELIVERY);
		if (m->is_there && shows < AT_DELIVERY && b->step[shows].state == STEP_DONE)
			assert_true(m->is_shown);
	}
	if (!m->is_there)
		return false;
	bench_end(b, END_ACCEPTED);
	assert_true(m->is_shown);
	assert_true(m->made_s >= 0 && m->shown_s >= m->made_s && m->could_s >= m->made_s);
	return true;
}

static void every_fault_can_be_brought_about_and_shows_where_practice_says(void **state)
{
	struct play *p = *state;
	for (size_t i = 0; i < CATALOGUE; i++) {
		size_t k = procedure_fault(&p->procedure, catalogue[i].code, 3);
		bool found = false;
		for (uint32_t n = 0; n < 40 && !found; n++)
			found = comes_about(p, k, place_of(&p->procedure, catalogue[i].shows), n);
		if (!found)
			print_error("%s never comes about\n", catalogue[i].code);
		assert_true(found);
	}
}

/* A look at the right moment finds it, and no look does before it is made. */
static void every_fault_is_found_by_its_check_and_not_before(void **state)
{
	struct play *p = *state;
	struct bench *b = p->bench;
	const struct procedure *pr = &p->procedure;
	for (size_t k = 0; k < pr->nfault; k++) {
		bool found = false;
		for (uint32_t n = 0; n < 40 && !found; n++) {
			unsigned char key[BENCH_KEY];
			struct bench_reading r;
			size_t at;
			play_key(n, key);
			bench_start(b, key, p->whole, BENCH_FREE);
			for (size_t i = 0; i < pr->nstep && !found; i++) {
				if (!bench_work_on(b, i, i, k, &at))
					break;
				if (bench_can_look(b, pr->fault[k].look))
					bench_look(b, pr->fault[k].look, SIZE_MAX, &r);
				assert_false(b->fault[k].is_found && !b->fault[k].is_there);
				found = b->fault[k].is_found && !b->fault[k].is_shown;
			}
			/* what shows at its own step is seen at once */
			found = found || (b->fault[k].is_there &&
						 pr->fault[k].shows == pr->fault[k].check_at);
		}
		if (!found)
			print_error("%s is found by no look\n", pr->fault[k].code);
		assert_true(found);
	}
}

/* ---- runs ------------------------------------------------------------------------------------ */

static void who_knows_is_accepted_in_every_case(void **state)
{
	struct play *p = *state;
	struct bench_score score;
	for (uint32_t n = 0; n < 500; n++) {
		size_t part = n % p->procedure.npart;
		unsigned char key[BENCH_KEY];
		size_t at;
		play_key(n, key);
		bench_start(p->bench, key, part, BENCH_FREE);
		assert_true(bench_work_on(p->bench, p->bench->from, p->bench->to, SIZE_MAX, &at));
		code_is(bench_end(p->bench, END_ACCEPTED), FINE);
		bench_score(p->bench, NULL, &score);
		if (p->bench->end != END_ACCEPTED || !score.is_passed)
			print_error("key %u, %s: ended as %s with %.1f %%\n", n,
				p->procedure.part[part].code, bench_end_word[p->bench->end],
				score.percent);
		assert_int_equal(p->bench->end, END_ACCEPTED);
		assert_true(score.is_passed);
		assert_int_equal(p->bench->orders + p->bench->windows, 0);
	}
}

/* One answer, as far from usual as it may be, in work that is otherwise done as by somebody who knows:
 * these alone do no harm, and this is why. All others must cost the pass in some case. Common practice
 * of the trade, where no number stands. */
static const struct {
	const char *ask, *end, *why;
} harmless[] = {
	{"intake_contact", "most", "longer than the label asks"},
	{"matrix_wall", "most", "a thick matrix does not flex"},
	{"keys", "most", "more keys than three"},
	{"debris", "blown", "0.04 mm, under what a feeler tells"},
	{"burr", "brushed", "0.05 mm, the driver turns"},
	{"thick", "3.5", "the least height that is allowed; it costs points"},
	{"thick", "4.0", "thinner than what fits; it costs points"},
	{"wax_cooled", "most", "cold wax does not move"},
	{"lean", "block", "1 degree in 8 mm is inside the film"},
	{"drill_heat", "quick", "under the heat that chars, and backed"},
	{"grain", "least", "fine alumina, the dose is kept"},
	{"bath_time", "most", "a clean face stays clean"},
	{"coat", "least", "thin is what the primer asks for"},
	{"expired", "least", "in date"},
	{"seat_time", "least", "well inside the working time"},
	{"cement_wait", "most", "set through"},
	{"shaped", "most", "nothing is ground off"},
	{"corner", "most", "the rounder the less notch"},
	{"hollow", "flat", "not concave"},
	{"analog_torque", "most", "firm"},
	{"putty_bed", "most", "thick enough to fill"},
	{"bubbles", "hand", "by hand for 60 s is taught too"},
	{"draft", "most", "it opens"},
	{"parting_film", "most", "the halves part"},
	{"set_time", "most", "a night is as good as an hour"},
	{"medium_coats", "most", "it parts; it costs points"},
	{"reblast", "most", "the whole bar, 12 s/cm2"},
	{"wiped", "most", "wetted; it costs points"},
	{"trials", "most", "no flash is left"},
	{"bath_rise", "least", "slow"},
	{"bath_rise", "most", "the flask follows slowly up to the hold; it costs points"},
	{"hold_time", "most", "long"},
	{"boil_time", "most", "it takes out monomer"},
	{"water_over", "most", "covered"},
	{"air_cool", "most", "slow"},
	{"open_at", "least", "cold"},
	{"blow", "taps", "on the stone, not on the resin"},
	{"resin_left", "most", "bulky; it costs points"},
	{"polish", "most", "one step more"},
	{"analogs_tried", "most", "all there are"},
	{"screws_loosened", "most", "all there are"},
	{"plugs", "most", "all there are"},
	{"screws_tight", "most", "all there are"},
	{"analogs_plugged", "most", "all there are"},
	{"seat_screws", "most", "all there are"},
	{"covers", "most", "all there are"},
	{"drivers_tried", "most", "all there are"},
	{"outgoing_contact", "most", "longer than the label asks"},
};

static bool is_harmless(const char *ask, const char *end)
{
	for (size_t i = 0; i < sizeof harmless / sizeof *harmless; i++)
		if (strcmp(harmless[i].ask, ask) == 0 && strcmp(harmless[i].end, end) == 0)
			return true;
	return false;
}

/* True when it is passed in every case that has the step, and differs from what is usual in one. */
static bool always_passes(struct play *p, size_t step, size_t ask, double value)
{
	struct bench *b = p->bench;
	size_t n = 0, at;
	for (uint32_t k = 0; k < 12; k++) {
		unsigned char key[BENCH_KEY];
		struct bench_input input;
		struct bench_score score;
		bool same = true;
		play_key(k, key);
		bench_start(b, key, p->whole, BENCH_FREE);
		if (!bench_applies(b, step))
			continue;
		assert_true(!step || bench_work_on(b, 0, step - 1, SIZE_MAX, &at));
		bench_usual(b, step, SIZE_MAX, &input);
		for (size_t i = 0; i < each_count(b->procedure->step[step].ask[ask].each, b->nsite);
			i++) {
			same &= input.value[ask][i] == value;
			input.value[ask][i] = value;
		}
		if (bench_do(b, step, &input))
			return false;
		if (step + 1 < b->procedure->nstep)
			bench_work_on(b, step + 1, b->to, SIZE_MAX, &at);
		bench_end(b, END_ACCEPTED);
		bench_score(b, NULL, &score);
		if (!score.is_passed)
			return false;
		n += !same;
	}
	return n > 0;
}

static void extreme_is(struct play *p, size_t step, size_t ask, double value, const char *end)
{
	const char *name = p->procedure.step[step].ask[ask].name;
	bool harms = !always_passes(p, step, ask, value);
	if (harms == is_harmless(name, end))
		print_error("%s at %s %s\n", name, end, harms ? "does harm" : "does no harm");
	assert_true(harms != is_harmless(name, end));
}

static void no_extreme_answer_passes_but_those_that_do_no_harm(void **state)
{
	struct play *p = *state;
	for (size_t i = 0; i < p->procedure.nstep; i++)
		for (size_t k = 0; k < p->procedure.step[i].nask; k++) {
			const struct hand_ask *x = &p->procedure.step[i].ask[k];
			for (size_t c = 0; x->kind == HAND_CHOICE && c < x->nchoice; c++)
				extreme_is(p, i, k, x->choice[c].value, x->choice[c].word);
			if (x->kind != HAND_CHOICE) {
				extreme_is(p, i, k, x->kind == HAND_TRUTH ? 0 : x->low, "least");
				extreme_is(p, i, k, x->kind == HAND_TRUTH ? 1 : x->high, "most");
			}
		}
}

static void twenty_novices_end_with_their_faults_explained(void **state)
{
	struct play *p = *state;
	struct bench *b = p->bench;
	size_t faulty = 0;
	for (uint32_t n = 0; n < 20; n++) {
		unsigned char key[BENCH_KEY];
		uint32_t random = 77 + n;
		struct bench_input input;
		play_key(1000 + n, key);
		bench_start(b, key, p->whole, BENCH_FREE);
		for (size_t i = 0; i < p->procedure.nstep; i++) {
			if (!bench_applies(b, i) || play_below(&random, 100) < 4)
				continue;
			play_input(b, i, 15, &random, &input);
			bench_do(b, i, &input);
		}
		code_is(bench_end(b, END_ACCEPTED), FINE);
		assert_true(
			b->end == END_ACCEPTED || b->end == END_REFUSED || b->end == END_RETURNED);
		for (size_t k = 0; k < p->procedure.nfault; k++) {
			const struct fault_mark *m = &b->fault[k];
			if (!m->is_there)
				continue;
			faulty++;
			assert_true(m->is_shown && m->made_s >= 0 && m->shown_s >= m->made_s);
			assert_true(
				*p->procedure.fault[k].seen && *p->procedure.fault[k].remedy.text);
		}
	}
	assert_true(faulty >= 20);
}

/* The long one, half a minute: BENCH_RUNS=100000 make t T=bench/test_hand_made_bar */
static unsigned long runs_wanted(void)
{
	const char *s = getenv("BENCH_RUNS");
	return s ? strtoul(s, NULL, 10) : 2000;
}

static void random_runs_break_nothing_and_never_come_to_a_dead_end(void **state)
{
	struct play *p = *state;
	struct bench *b = p->bench;
	unsigned long ended[ENDS] = {0}, runs = runs_wanted();
	for (uint32_t n = 0; n < runs; n++) {
		unsigned char key[BENCH_KEY];
		uint32_t random = n * 2654435761U + 1;
		double clock_s = 0;
		play_key(n, key);
		bench_start(b, key, n % p->procedure.npart, (enum bench_mode)(n / 7 % BENCH_MODES));
		for (int i = 0; i < 120 && !b->end; i++) {
			play_anything(b, &random);
			const char *broken = play_is_broken(b, &clock_s);
			if (broken)
				print_error("run %u, decision %d: %s\n", n, i, broken);
			assert_null(broken);
			assert_true(b->end || play_goes_on(b));
		}
		if (!b->end)
			bench_end(b, b->mode == BENCH_HUNT ? END_SCRAPPED : END_ACCEPTED);
		assert_true(b->end);
		ended[b->end]++;
	}
	assert_true(ended[END_REFUSED] > 0);
}

/* Two runs of the same decisions, one of which looks at everything all the time: what was made is the
 * same to the last bit; only the clock is not. */
static void measuring_changes_nothing_but_the_clock(void **state)
{
	struct play *p = *state;
	struct play other = {0};
	assert_true(play_open(&other));
	for (uint32_t n = 0; n < 30; n++) {
		unsigned char key[BENCH_KEY];
		struct bench_reading r;
		uint32_t random = n + 5;
		play_key(n, key);
		bench_start(p->bench, key, p->whole, BENCH_FREE);
		bench_start(other.bench, key, p->whole, BENCH_FREE);
		for (size_t i = 0; i < p->procedure.nstep; i++) {
			struct bench_input input;
			/* dough and primer age while one looks: that is the clock, left out here */
			bool ages = i >= procedure_step(&p->procedure, "S14", 3);
			if (!bench_applies(p->bench, i))
				continue;
			play_input(p->bench, i, 20, &random, &input);
			enum bad first = bench_do(p->bench, i, &input);
			enum bad second = bench_do(other.bench, i, &input);
			code_is(second, first);
			for (size_t k = 0; k < p->procedure.nlook && !ages; k++)
				if (bench_can_look(other.bench, k))
					code_is(bench_look(other.bench, k, SIZE_MAX, &r), FINE);
		}
		assert_true(other.bench->looks > 50);
		for (size_t s = GIVEN_COUNT; s < p->procedure.scope.n; s++) {
			const struct formula_value *a = bench_value(p->bench, s);
			const struct formula_value *c = bench_value(other.bench, s);
			const struct formula_name *name = &p->procedure.scope.name[s];
			if (name->len > 3 && memcmp(name->name, "at_", 3) == 0)
				continue;
			if (name->len == 8 && memcmp(name->name, "pack_age", 8) == 0)
				continue;
			assert_int_equal(a->n, c->n);
			if (a->list)
				assert_memory_equal(a->list, c->list, a->n * sizeof *a->list);
			else
				assert_memory_equal(&a->number, &c->number, sizeof a->number);
		}
		for (size_t k = 0; k < p->procedure.nfault; k++)
			assert_int_equal(
				p->bench->fault[k].is_there, other.bench->fault[k].is_there);
	}
	play_close(&other);
}

/* A bath that rises by 5 K a minute up to the hold brings no fault, but not the full points either: the
 * debrief says what level 3 asks for, and says nothing to who reached it. */
static void points_lost_by_numbers_alone_are_explained(void **state)
{
	struct play *p = *state;
	struct bench *b = p->bench;
	size_t at, cure = procedure_step(&p->procedure, "S42", 3);
	for (int fast = 0; fast < 2; fast++) {
		unsigned char key[BENCH_KEY];
		struct bench_input input;
		struct bench_score score;
		play_key(4, key);
		bench_start(b, key, p->whole, BENCH_FREE);
		assert_true(bench_work_on(b, 0, cure - 1, SIZE_MAX, &at));
		bench_usual(b, cure, SIZE_MAX, &input);
		if (fast)
			input.value[0][0] = 5.0 / 60;
		code_is(bench_do(b, cure, &input), FINE);
		assert_true(bench_work_on(b, cure + 1, b->to, SIZE_MAX, &at));
		code_is(bench_end(b, END_ACCEPTED), FINE);
		bench_score(b, NULL, &score);
		assert_int_equal(b->end, END_ACCEPTED);
		for (size_t i = 0; i < score.n; i++) {
			bool is_it = fast && strcmp(score.station[i].station, "resin") == 0;
			assert_int_equal(score.station[i].level, is_it ? 2 : 3);
			assert_true((score.station[i].asks != NULL) == is_it);
		}
	}
}

/* A loose analog is found when all are tried: half an hour less five minutes of work, then a day in
 * which nobody stands by, and what the day was for. Who tries none is not told, and does not wait. */
static void a_day_of_waiting_is_told_and_not_attended(void **state)
{
	struct play *p = *state;
	struct bench *b = p->bench;
	size_t at, verify = procedure_step(&p->procedure, "S02", 3), loose = 0;
	for (uint32_t n = 0; n < 40; n++) {
		unsigned char key[BENCH_KEY];
		struct bench_input input;
		bool held = false;
		play_key(n, key);
		bench_start(b, key, p->whole, BENCH_FREE);
		assert_true(bench_work_on(b, 0, verify - 1, SIZE_MAX, &at));
		double clock_s = bench_clock_s(b), attended_s = b->attended_s;
		bench_usual(b, verify, SIZE_MAX, &input);
		if (n % 4 == 0)
			input.value[0][0] = 0;
		code_is(bench_do(b, verify, &input), FINE);
		for (size_t i = b->first_new; i < b->nlog; i++)
			held |= b->log[i].kind == HAPPENED_HELD && b->log[i].what == verify;
		near("attended", b->attended_s - attended_s, 25 * 60, 1e-6);
		near("clock", bench_clock_s(b) - clock_s, 25 * 60 + (held ? 86400 : 0), 1e-6);
		assert_false(held && n % 4 == 0);
		loose += held;
	}
	assert_true(loose > 0 && loose < 30);
}

/* The loads are those of the bar as it now is. */
static void the_loads_follow_the_bar(void **state)
{
	struct play *p = *state;
	struct bench *b = p->bench;
	unsigned char key[BENCH_KEY];
	size_t at, shape = procedure_step(&p->procedure, "S20", 3);
	struct bench_input input;
	play_key(5, key);
	bench_start(b, key, p->whole, BENCH_FREE);
	assert_true(bench_work_on(b, 0, shape - 1, SIZE_MAX, &at));
	double before = bench_value(b, GIVEN_PLACE_STRESS)->list[0];
	double height = bench_value(b, p->procedure.core[CORE_BAR_HEIGHT])->list[0];
	bench_usual(b, shape, SIZE_MAX, &input);
	input.value[0][0] = height / 2;
	code_is(bench_do(b, shape, &input), FINE);
	double after = bench_value(b, GIVEN_PLACE_STRESS)->list[0];
	/* half the height, four times the stress (plain bending), but for the hand's 0.05 mm */
	near("half as high", after / before, 4, 0.2);
}

/* The lines of a run, read again, make the same run. */
static void a_run_made_again_from_its_lines_is_the_same(void **state)
{
	struct play *p = *state;
	struct play other = {0};
	struct text line;
	text_init(&line);
	assert_true(play_open(&other));
	for (uint32_t n = 0; n < 20; n++) {
		unsigned char key[BENCH_KEY];
		uint32_t random = n + 1;
		play_key(n, key);
		bench_start(p->bench, key, p->whole, BENCH_FREE);
		bench_start(other.bench, key, p->whole, BENCH_FREE);
		for (size_t i = 0; i < p->procedure.nstep; i++) {
			struct deed d = {.kind = DECIDE_DO, .what = i}, again;
			struct bench_reading r;
			char why[DECISION_WHY];
			if (!bench_applies(p->bench, i))
				continue;
			play_input(p->bench, i, 20, &random, &d.input);
			text_clear(&line);
			decision_write(p->bench, &d, &line);
			code_is(decision_read(p->bench, line.at, line.len, &again, why), FINE);
			enum bad first = decision_carry(p->bench, &again, &r);
			code_is(decision_read(other.bench, line.at, line.len, &again, why), FINE);
			code_is(decision_carry(other.bench, &again, &r), first);
		}
		bench_end(p->bench, END_ACCEPTED);
		bench_end(other.bench, END_ACCEPTED);
		assert_int_equal(p->bench->nlog, other.bench->nlog);
		for (size_t i = 0; i < p->bench->nlog; i++) {
			assert_int_equal(p->bench->log[i].kind, other.bench->log[i].kind);
			assert_int_equal(p->bench->log[i].what, other.bench->log[i].what);
			assert_true(p->bench->log[i].at_s == other.bench->log[i].at_s);
		}
	}
	text_release(&line);
	play_close(&other);
}

/* Is the hidden fault there, alone, unseen, and found when everything is looked at? */
static void is_hidden_well(struct bench *b, uint32_t n)
{
	const struct procedure *pr = b->procedure;
	struct bench_reading r;
	size_t there = 0;
	for (size_t k = 0; k < pr->nfault; k++)
		there += b->fault[k].is_there;
	if (there != 1 || !b->fault[b->seeded].is_there)
		print_error("key %u: %s is hidden, %zu are there\n", n, pr->fault[b->seeded].code,
			there);
	assert_true(there == 1 && b->fault[b->seeded].is_there);
	assert_false(b->fault[b->seeded].is_shown);
	for (size_t k = 0; k < pr->nlook; k++)
		if (bench_can_look(b, k))
			bench_look(b, k, SIZE_MAX, &r);
	if (!b->fault[b->seeded].is_found)
		print_error("key %u: %s is found by no look\n", n, pr->fault[b->seeded].code);
	assert_true(b->fault[b->seeded].is_found);
}

static void a_hunt_hides_one_fault_that_can_be_found(void **state)
{
	struct play *p = *state;
	for (uint32_t n = 0; n < 400; n++) {
		unsigned char key[BENCH_KEY];
		play_key(n, key);
		bench_start(p->bench, key, n % p->procedure.npart, BENCH_HUNT);
		assert_true(p->bench->seeded != SIZE_MAX);
		is_hidden_well(p->bench, n);
		code_is(bench_name(p->bench,
				&(struct hunt_answer){p->bench->seeded, SIZE_MAX, SIZE_MAX}),
			FINE);
		assert_int_equal(p->bench->end, END_ACCEPTED);
	}
}

/* But those two that show at the very step where they are made. */
static void every_fault_can_be_hidden(void **state)
{
	struct play *p = *state;
	const struct procedure *pr = &p->procedure;
	for (size_t k = 0; k < pr->nfault; k++) {
		unsigned char key[BENCH_KEY];
		play_key((uint32_t)k, key);
		bench_start_hunt(p->bench, key, p->whole, k);
		if (pr->fault[k].shows == pr->fault[k].made) {
			assert_true(p->bench->seeded == SIZE_MAX);
			continue;
		}
		if (p->bench->seeded != k)
			print_error("%s cannot be hidden\n", pr->fault[k].code);
		assert_true(p->bench->seeded == k);
		is_hidden_well(p->bench, (uint32_t)k);
	}
}

/* The fault is half of it, each step a quarter: course values. Without the fault nothing passes. */
static void a_hunt_is_rated_by_all_three_answers(void **state)
{
	static const struct {
		const char *fault, *made, *check;
		double percent;
		bool passed;
	} said[] = {
		{"F20", "S11", "S12", 100, true},
		{"F20", "S11", "S11", 75, true},
		{"F20", "S12", "S12", 75, true},
		{"F20", "S12", "S11", 50, false},
		{"F12", "S11", "S12", 50, false},
		{"F12", "S12", "S11", 0, false},
	};
	struct play *p = *state;
	const struct procedure *pr = &p->procedure;
	for (size_t i = 0; i < sizeof said / sizeof *said; i++) {
		unsigned char key[BENCH_KEY];
		struct bench_score score;
		play_key(9, key);
		bench_start_hunt(p->bench, key, p->whole, procedure_fault(pr, "F20", 3));
		const struct hunt_answer answer = {procedure_fault(pr, said[i].fault, 3),
			procedure_step(pr, said[i].made, 3), procedure_step(pr, said[i].check, 3)};
		code_is(bench_name(p->bench, &answer), FINE);
		bench_score(p->bench, NULL, &score);
		near(said[i].fault, score.percent, said[i].percent, 0);
		assert_int_equal(score.is_passed, said[i].passed);
	}
}

/* Steps of 5, 5 and 10 min and a quarter more, looks of 12 min together: whether the bar fits or not. */
static void the_clock_does_not_tell_that_a_case_is_to_be_referred(void **state)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct procedure p;
	struct bench *b;
	size_t referred = 0;
	(void)state;
	code_is(procedure_load("courses/procedures/space-for-the-bar.yaml", &p, &d), FINE);
	code_is(bench_new(&a, &p, &b), FINE);
	for (uint32_t n = 0; n < 30; n++) {
		unsigned char key[BENCH_KEY];
		play_key(n, key);
		bench_start(b, key, 0, BENCH_TIMED);
		referred += bench_truth(b, p.refer);
		near("limit", b->limit_s, (20 * 1.25 + 12) * 60, 1e-6);
	}
	assert_true(referred > 0 && referred < 30);
	procedure_release(&p);
	arena_release(&a);
}

/* Too short a contact is a fault: what the label asks must be known from the start. */
static void the_label_of_the_disinfectant_is_known(void **state)
{
	struct play *p = *state;
	const struct procedure *pr = &p->procedure;
	size_t fault = procedure_fault(pr, "F01", 3), step = procedure_step(pr, "S01", 3), slot;
	struct bench_input input;
	unsigned char key[BENCH_KEY];
	bool is_seen = false;
	assert_true(formula_scope_find(&pr->scope, "label_contact", 13, &slot));
	for (size_t i = 0; i < pr->nproperty; i++)
		is_seen |= pr->property[i].slot == slot && pr->property[i].seen;
	assert_true(is_seen);
	for (int less = 0; less < 2; less++) {
		play_key(3, key);
		bench_start(p->bench, key, p->whole, BENCH_FREE);
		bench_usual(p->bench, step, SIZE_MAX, &input);
		input.value[0][0] = bench_value(p->bench, slot)->number - less * 60;
		code_is(bench_do(p->bench, step, &input), FINE);
		assert_int_equal(p->bench->fault[fault].is_there, less);
	}
}

/* The first key whose case is to be referred back, or, `wrong`, is not. */
static void start_referred(struct bench *b, bool wrong)
{
	for (uint32_t n = 0; n < 100; n++) {
		unsigned char key[BENCH_KEY];
		play_key(n, key);
		bench_start(b, key, 0, BENCH_FREE);
		if (bench_truth(b, b->procedure->refer) != wrong)
			return;
	}
	fail_msg("no such case in 100");
}

static void carry_line(struct bench *b, const char *line, size_t len)
{
	struct deed d;
	struct bench_reading reading;
	struct text again;
	char why[DECISION_WHY];
	code_is(decision_read(b, line, len, &d, why), FINE);
	text_init(&again);
	decision_write(b, &d, &again);
	assert_int_equal(again.len, len);
	assert_memory_equal(again.at, line, len);
	text_release(&again);
	code_is(decision_carry(b, &d, &reading), FINE);
}

/* The room for the bar is the height of the matrix less tissue and layers: who has measured neither
 * cannot know. A line of old has no finding: it is rated by what was looked at. */
static void referring_back_rests_on_what_was_measured(void **state)
{
	static const struct {
		const char *lines;
		double percent;
		enum referral what;
		bool wrong;
	} rows[] = {
		{"refer", 0, REFERRAL_BLIND, false},
		{"refer heights", 0, REFERRAL_BLIND, false},
		{"look heights;refer heights", 0, REFERRAL_BLIND, false},
		{"look heights;look tissue;refer heights", 100, REFERRAL_GOOD, false},
		{"look heights;look tissue probe;refer tissue", 100, REFERRAL_GOOD, false},
		{"look heights;look tissue;refer", 100, REFERRAL_GOOD, false},
		{"look heights;look tissue;refer sheet", 50, REFERRAL_OTHER, false},
		{"do H2 bar=3.5;look room;refer room", 100, REFERRAL_GOOD, false},
		{"do H2 bar=3.5;look sheet;refer sheet", 0, REFERRAL_BLIND, false},
		{"look heights;look tissue;refer heights", 0, REFERRAL_WRONG, true},
	};
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct procedure p;
	struct bench *b;
	(void)state;
	code_is(procedure_load("courses/procedures/space-for-the-bar.yaml", &p, &d), FINE);
	code_is(bench_new(&a, &p, &b), FINE);
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct bench_score score;
		start_referred(b, rows[i].wrong);
		for (const char *at = rows[i].lines; *at; at += *at == ';') {
			size_t len = strcspn(at, ";");
			carry_line(b, at, len);
			at += len;
		}
		bench_score(b, NULL, &score);
		near(rows[i].lines, score.percent, rows[i].percent, 0);
		assert_int_equal(score.referral, rows[i].what);
		assert_int_equal(score.is_passed, rows[i].percent > 99);
	}
	procedure_release(&p);
	arena_release(&a);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_edge_of_the_order_is_kept_and_no_other_stands_there),
		cmocka_unit_test(tsort_finds_an_order_that_the_bench_takes),
		cmocka_unit_test(nineteen_pairs_are_free),
		cmocka_unit_test(every_fault_stands_where_practice_puts_it),
		cmocka_unit_test(every_fault_can_be_brought_about_and_shows_where_practice_says),
		cmocka_unit_test(every_fault_is_found_by_its_check_and_not_before),
		cmocka_unit_test(who_knows_is_accepted_in_every_case),
		cmocka_unit_test(no_extreme_answer_passes_but_those_that_do_no_harm),
		cmocka_unit_test(twenty_novices_end_with_their_faults_explained),
		cmocka_unit_test(random_runs_break_nothing_and_never_come_to_a_dead_end),
		cmocka_unit_test(measuring_changes_nothing_but_the_clock),
		cmocka_unit_test(points_lost_by_numbers_alone_are_explained),
		cmocka_unit_test(a_day_of_waiting_is_told_and_not_attended),
		cmocka_unit_test(the_loads_follow_the_bar),
		cmocka_unit_test(a_run_made_again_from_its_lines_is_the_same),
		cmocka_unit_test(a_hunt_hides_one_fault_that_can_be_found),
		cmocka_unit_test(every_fault_can_be_hidden),
		cmocka_unit_test(the_clock_does_not_tell_that_a_case_is_to_be_referred),
		cmocka_unit_test(a_hunt_is_rated_by_all_three_answers),
		cmocka_unit_test(the_label_of_the_disinfectant_is_known),
		cmocka_unit_test(referring_back_rests_on_what_was_measured),
	};
	return cmocka_run_group_tests(tests, begin, end);
}
