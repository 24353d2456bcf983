/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A person at the bench: a surface that answers from a list and keeps what it was shown, a strand on
 * the disk, leaving and coming back, and the audit that carries the record out again. */
#include "near.h"

#include "file_fault.h"
#include "strand_fixture.h"

#include <barwright/base/text.h>
#include <barwright/record/audit.h>
#include <barwright/record/graded.h>

#include "bench/ledger.h"
#include "bench/replay.h"
#include "bench/score.h"
#include "bench/session.h"
#include "surface/hear.h"
#include "unit/bench/play.h"

/* ---- a surface ------------------------------------------------------------------------------- */

struct script {
	struct surface surface;
	const char *const *line; /* what is typed; null: the input has ended */
	struct text seen;
	unsigned asked;
};

static enum bad take_page(struct surface *s, const struct page *p)
{
	struct script *x = (struct script *)s;
	for (const struct block *b = p->first; b; b = b->next) {
		if (b->text)
			text_addf(&x->seen, "%s\n", b->text);
		if (b->value)
			text_addf(&x->seen, "  %s\n", b->value);
	}
	return FINE;
}

static enum bad answer(struct surface *s, const struct question *q, struct reply *out)
{
	struct script *x = (struct script *)s;
	const char *fault;
	x->asked++;
	if (q->fault)
		text_addf(&x->seen, "fault: %s\n", q->fault);
	if (!*x->line) {
		*out = (struct reply){.kind = REPLY_LOST};
		return FINE;
	}
	for (size_t i = 0; i < q->nchoice; i++)
		text_addf(&x->seen, "choice %s\n", q->choice[i].word ? q->choice[i].word : "-");
	const char *line = *x->line++;
	if (hear_line(q, line, strlen(line), out, &fault) != HEARD_REPLY) {
		print_error("'%s' was not taken at: %s\n", line, q->prompt ? q->prompt : "");
		fail();
	}
	return FINE;
}

static const struct surface_ops ops = {take_page, take_page, answer};

/* ---- a desk ---------------------------------------------------------------------------------- */

static struct play play;
static struct sign_pair machine;
static const struct course course = {.code = "demo"};

static int begin(void **state)
{
	play = (struct play){0};
	if (!play_open(&play))
		return -1;
	machine = pair_of(test_1);
	clock_stop();
	return work_begin(state);
}

static int end(void **state)
{
	clock_replace(NULL);
	play_close(&play);
	return work_end(state);
}

static size_t hidden = SIZE_MAX; /* put on the bench for a hunt */
static const char *sitting = "sitting-1";
static bool is_given;         /* that code was asked for */
static unsigned long full_at; /* the disk is full from this write of the session on; 0: never */

static enum reply_kind sits(struct script *x, const char *const *line, const char *part,
	enum bench_mode mode, bool lines)
{
	struct bench_desk d = {.course = &course,
		.surface = &x->surface,
		.who = "l-TEST",
		.program = "barwright 0.1.0",
		.sitting = sitting,
		.is_given = is_given,
		.by_lines = lines};
	*x = (struct script){.surface = {&ops, 80, '.'}, .line = line};
	text_init(&x->seen);
	code_is(strand_open(work_folder, "l-TEST", &machine, &d.strand, NULL), FINE);
	if (full_at)
		fault_plan(1U << CALL_WRITE, full_at, true, ENOSPC);
	enum reply_kind kind = bench_session(
		&d, &play.procedure, procedure_part(&play.procedure, part), mode, hidden);
	if (full_at)
		fault_end();
	code_is(d.lost, full_at ? BAD_FULL : FINE);
	strand_close(d.strand);
	return kind;
}

static void saw(struct script *x, const char *what)
{
	if (!strstr(x->seen.at, what))
		print_error("want '%s' in:\n%s\n", what, x->seen.at);
	assert_non_null(strstr(x->seen.at, what));
}

static void saw_not(struct script *x, const char *what)
{
	if (strstr(x->seen.at, what))
		print_error("did not want '%s' in:\n%s\n", what, x->seen.at);
	assert_null(strstr(x->seen.at, what));
}

static enum bad again(void *context, const struct audit_case *what, struct audit_finding *out)
{
	assert_true(bench_replay_knows(what));
	return bench_replay_answer(context, what, out);
}

static enum bad result_again(void *context, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out)
{
	return bench_review_line(context, line, open, out);
}

static void audited(struct audit *a)
{
	struct bench_replay replay = {.procedure = &play.procedure, .nprocedure = 1};
	struct audit_how how = {.replay = again,
		.context = &replay,
		.review = result_again,
		.review_context = &replay};
	char id[STRAND_ID + 1];
	struct arena names = {0};
	strand_id("l-TEST", machine.open, id);
	audit_init(a);
	code_is(audit_path(a, strand_path(work_folder, id, &names), &how), FINE);
	arena_release(&names);
	arena_release(&replay.arena);
}

/* ---- what happens ---------------------------------------------------------------------------- */

static void a_step_is_done_by_its_word_and_nothing_is_told_before_its_time(void **state)
{
	static const char *const lines[] = {"receive", "2", "no", "look log", "look log", "verify",
		"0", "yes", "known", "what is this", "release", "yes", "", NULL};
	struct script x;
	(void)state;
	assert_int_equal(sits(&x, lines, "fabricate-the-bar", BENCH_FREE, true), REPLY_GO);
	saw(&x, "Done: Receive, disinfect and log the case.");
	saw(&x, "Unknown germs"); /* the caution, before the step */
	saw(&x, "To be seen: the entry in the log is missing or too short.\n"
		"It can be put right here: mend F01.");
	saw_not(&x, "Nothing wrong is to be seen there."); /* however often one looks */
	saw(&x, "'what' is no step and no word of the bench; help lists the words");
	saw(&x, "Refused.");
	saw(&x, "case taken without a disinfection record: left in the work");
	/* the fault was made at once and told only when the log was looked at */
	const char *done = strstr(x.seen.at, "Done: Receive"), *told = strstr(x.seen.at, "F01");
	assert_true(done && told && told > done);
	/* its cause stands in the debrief and nowhere before */
	const char *cause = strstr(x.seen.at, "case taken without a disinfection record");
	assert_true(cause && cause > strstr(x.seen.at, "Refused."));
	text_release(&x.seen);
}

static uint64_t last_attempt(void)
{
	struct arena a = {0};
	struct strand *s;
	struct ledger_run run;
	code_is(strand_open(work_folder, "l-TEST", &machine, &s, NULL), FINE);
	code_is(ledger_find(s, &a, "hand-made-bar/whole-run/free", &run), FINE);
	strand_close(s);
	uint64_t attempt = run.attempt;
	arena_release(&a);
	return attempt;
}

/* A gap at the land is 0.9 mm: the feeler says so, and says no more. */
/* A hole for a sleeve of diameter d that leans by a, through a bar of height h, with a film c round it:
 * d/cos a + h tan a + 2c (geometry). The debrief tells site, size and what was needed. */
static void the_debrief_tells_the_number_and_its_site(void **state)
{
	static const char *const lines[] = {"name F20 S11 S12", "", NULL};
	struct script x;
	(void)state;
	hidden = procedure_fault(&play.procedure, "F20", 3);
	assert_int_equal(sits(&x, lines, "fabricate-the-bar", BENCH_HUNT, true), REPLY_GO);
	hidden = SIZE_MAX;
	const char *at = strstr(x.seen.at, "hole at ");
	double is, least, h;
	int site, lean;
	assert_non_null(at);
	int got = sscanf(at,
		"hole at %d: %lf mm; at least %lf mm was needed for %d\xC2\xB0 through %lf mm",
		&site, &is, &least, &lean, &h);
	assert_int_equal(got, 5);
	assert_true(site >= 12 && site <= 46 && is < least);
	/* cylinders of 4, 4.5 or 5 mm; 0.02 mm of film a side */
	double needed = -1, a = lean * 3.14159265358979 / 180;
	for (double d = 4; d <= 5; d += 0.5) {
		double x_mm = d / cos(a) + h * tan(a) + 0.04;
		if (fabs(x_mm - least) < fabs(needed - least))
			needed = x_mm;
	}
	near("needed", least, needed, 0.0051);
	text_release(&x.seen);
}

static void a_number_is_read_without_a_word_about_it(void **state)
{
	static const char *const lines[] = {"receive 10 yes", "verify 6 yes", "matrix tipped 7 3",
		"look matrix-seat", "leave", NULL};
	struct script x;
	(void)state;
	assert_int_equal(sits(&x, lines, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw(&x, "Gap of the matrix at the land of the cast\n  0.90 mm (feeler gauge)");
	saw_not(&x, "F04");
	saw_not(&x, "Nothing wrong");
	text_release(&x.seen);
}

static void leaving_and_coming_back_goes_on_where_it_was(void **state)
{
	static const char *const first[] = {"receive", "10", "yes", "verify 5 yes", "leave", NULL};
	static const char *const second[] = {"on", "steps", "matrix seated 7 3", "leave", NULL};
	static const char *const third[] = {"new", "steps", "leave", NULL};
	struct script x;
	struct audit a;
	(void)state;
	assert_int_equal(sits(&x, first, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	text_release(&x.seen);
	assert_int_equal(sits(&x, second, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw(&x, "S02 verify: Verify cast, analogs and try-in (done)");
	saw(&x, "Done: Make the matrix over the approved try-in.");
	text_release(&x.seen);
	assert_int_equal(sits(&x, third, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw_not(&x, "(done)");
	text_release(&x.seen);
	assert_int_equal(last_attempt(), 2);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.answers, 3);
	assert_int_equal(a.count.equal, 3);
	audit_release(&a);
}

/* A caliper reads to 0.05 mm and a probe to 0.1 mm: looking again with the probe loses nothing. */
static void a_coarser_look_keeps_the_finer_reading(void **state)
{
	static const char *const coarser[] = {"receive 10 yes", "verify 6 yes", "matrix seated 7 3",
		"cylinders clean", "look tissue caliper", "look tissue probe", "look tissue probe",
		"known", "leave", NULL};
	static const char *const finer[] = {"new", "receive 10 yes", "verify 6 yes",
		"matrix seated 7 3", "cylinders clean", "look tissue probe", "look tissue caliper",
		"known", "leave", NULL};
	struct script x;
	(void)state;
	assert_int_equal(sits(&x, coarser, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	const char *known = strstr(x.seen.at, "Measured so far");
	saw(&x, "Measured so far");
	assert_true(known && strstr(known, "depth probe") && strstr(known, "vernier caliper, at "));
	text_release(&x.seen);
	assert_int_equal(sits(&x, finer, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw(&x, "Measured so far");
	known = strstr(x.seen.at, "Measured so far");
	assert_true(known && strstr(known, "vernier caliper") && !strstr(known, "depth probe"));
	text_release(&x.seen);
}

/* What leaving says, "the run goes on where you left it", holds from the start: four starts give one
 * case. Only somebody who names another sitting gets another. */
static void a_run_left_before_its_first_decision_is_the_same_again(void **state)
{
	static const char *const lines[] = {"known", "leave", NULL};
	struct script x;
	struct audit a;
	char first[4096];
	(void)state;
	for (int i = 0; i < 4; i++) {
		sitting = i ? "sitting-2" : "sitting-1"; /* drawn anew at each start */
		assert_int_equal(sits(&x, lines, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
		saw(&x, "Prescription and rules of this course");
		if (!i)
			snprintf(first, sizeof first, "%s", x.seen.at);
		assert_string_equal(x.seen.at, first);
		text_release(&x.seen);
		assert_int_equal(last_attempt(), 1);
	}
	is_given = true;
	assert_int_equal(sits(&x, lines, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	text_release(&x.seen);
	assert_int_equal(last_attempt(), 2);
	is_given = false;
	sitting = "sitting-1";
	audited(&a);
	assert_true(audit_is_clean(&a));
	audit_release(&a);
}

/* Going back from the question whether to go on is neither yes nor no. */
static void going_back_before_it_begins_leaves_the_run_as_it_is(void **state)
{
	static const char *const first[] = {"receive 10 yes", "leave", NULL};
	static const char *const second[] = {"back", NULL};
	static const char *const third[] = {"on", "steps", "leave", NULL};
	struct script x;
	(void)state;
	assert_int_equal(sits(&x, first, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	text_release(&x.seen);
	assert_int_equal(sits(&x, second, "whole-run", BENCH_FREE, true), REPLY_BACK);
	text_release(&x.seen);
	assert_int_equal(sits(&x, third, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw(&x, "S01 receive: Receive, disinfect and log the case (done)");
	text_release(&x.seen);
}

static void a_lost_terminal_loses_nothing(void **state)
{
	static const char *const first[] = {"receive", "10", "yes", "verify", "5", NULL};
	static const char *const second[] = {"on", "steps", "leave", NULL};
	struct script x;
	(void)state;
	assert_int_equal(sits(&x, first, "whole-run", BENCH_FREE, true), REPLY_LOST);
	text_release(&x.seen);
	assert_int_equal(sits(&x, second, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw(&x, "S01 receive: Receive, disinfect and log the case (done)");
	saw_not(&x, "S02 verify: Verify cast, analogs and try-in (done)");
	text_release(&x.seen);
}

/* Two writes begin a run, and each decision takes one: what could not be written is not told as done,
 * and is not done when the run goes on. */
static void what_a_full_disk_does_not_take_is_not_acknowledged(void **state)
{
	static const char *const first[] = {"receive 10 yes", "verify 5 yes", "leave", NULL};
	static const char *const second[] = {"on", "steps", "leave", NULL};
	struct script x;
	(void)state;
	full_at = 4;
	assert_int_equal(sits(&x, first, "whole-run", BENCH_FREE, true), REPLY_LOST);
	full_at = 0;
	saw(&x, "Done: Receive, disinfect and log the case.");
	saw_not(&x, "Done: Verify");
	text_release(&x.seen);
	assert_int_equal(sits(&x, second, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw(&x, "S01 receive: Receive, disinfect and log the case (done)");
	saw_not(&x, "try-in (done)");
	text_release(&x.seen);
}

static void choosing_does_the_same_as_typing(void **state)
{
	static const char *const lines[] = {"receive", "10", "yes", "look", "log", "look",
		"not-now", "other", "step", "verify", "5", "yes", "other", "wait", "30", "known",
		"", "other", "mend", "end", "scrap", "yes", "", NULL};
	struct script x;
	struct audit a;
	(void)state;
	assert_int_equal(sits(&x, lines, "whole-run", BENCH_FREE, false), REPLY_GO);
	saw(&x, "Done: Verify cast, analogs and try-in.");
	saw(&x, "Nothing wrong is to be seen there.");
	saw(&x, "Nothing has been seen that could be put right on the spot.");
	saw(&x, "Scrapped.");
	text_release(&x.seen);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.equal, 5);
	audit_release(&a);
}

/* The order of three options in run after run, asked for twice in each: the same within a run, not the
 * same in all, and what is recorded is the option and not its place. */
static void options_stand_in_another_order_in_another_run(void **state)
{
	static const char *const first[] = {"receive 10 yes", "verify 5 yes", "matrix", "seated",
		"7", "3", "matrix", "1", "7", "3", "leave", NULL};
	static const char *const more[] = {"new", "receive 10 yes", "verify 5 yes", "matrix",
		"seated", "7", "3", "matrix", "1", "7", "3", "leave", NULL};
	unsigned first_is[3] = {0};
	(void)state;
	for (int run = 0; run < 12; run++) {
		static const char *const word[] = {
			"choice seated\n", "choice placed\n", "choice tipped\n"};
		struct script x;
		const char *one[3], *two[3];
		assert_int_equal(
			sits(&x, run ? more : first, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
		for (int i = 0; i < 3; i++) {
			one[i] = strstr(x.seen.at, word[i]);
			two[i] = one[i] ? strstr(one[i] + 1, word[i]) : NULL;
			assert_non_null(two[i]);
		}
		for (int i = 0; i < 3; i++)
			assert_int_equal(one[i] < one[(i + 1) % 3], two[i] < two[(i + 1) % 3]);
		for (int i = 0; i < 3; i++)
			first_is[i] += one[i] < one[(i + 1) % 3] && one[i] < one[(i + 2) % 3];
		text_release(&x.seen);
	}
	assert_true(first_is[0] && first_is[1] && first_is[2]);
	struct audit a;
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.equal, 48);
	audit_release(&a);
}

static void guided_work_asks_why_first(void **state)
{
	static const char *const lines[] = {"receive", "1", "10", "yes", "scrap", "yes", "", NULL};
	struct script x;
	struct audit a;
	(void)state;
	assert_int_equal(sits(&x, lines, "whole-run", BENCH_GUIDED, true), REPLY_GO);
	saw(&x, "A safe start, and a case that can be traced.");
	saw(&x, "Reasons given");
	text_release(&x.seen);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.equal, 3);
	audit_release(&a);
}

static void a_hunt_ends_with_a_name(void **state)
{
	static const char *const lines[] = {"look", "known", "release", "yes", "name", "name F36",
		"steps", "nowhere", "S20", "shape", "", NULL};
	struct script x;
	struct audit a;
	(void)state;
	assert_int_equal(sits(&x, lines, "fabricate-the-bar", BENCH_HUNT, true), REPLY_GO);
	saw(&x, "Something is wrong on this bench.");
	saw(&x, "something is wrong on this bench: name it");
	saw(&x, "fault: no step is called that; steps lists them");
	saw(&x, "Could first have been found at");
	text_release(&x.seen);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.answers, 1);
	audit_release(&a);
}

static void a_fault_put_on_the_bench_is_the_one_to_name(void **state)
{
	static const char *const lines[] = {"look channels", "name F12 S06 S07", "", NULL};
	struct script x;
	struct audit a;
	(void)state;
	hidden = procedure_fault(&play.procedure, "F12", 3);
	assert_int_equal(sits(&x, lines, "fabricate-the-bar", BENCH_HUNT, true), REPLY_GO);
	hidden = SIZE_MAX;
	saw(&x, "To be seen: the driver turns stiffly.");
	saw(&x, "Found.");
	saw(&x, "The fault: F12, burr or chips in a channel. That is right.");
	saw(&x, "Made at: S06, Cut the cylinders down. That is right.");
	saw(&x, "Could first have been found at: you said S07, Choose the bar from stock; it is "
		"S06, Cut the cylinders down.");
	saw(&x, "Passed, with 75.0 %.");
	saw_not(&x, "left in the work");
	text_release(&x.seen);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.equal, 2);
	audit_release(&a);
}

/* Records from before the two steps were asked: the fault alone, and all of the score. */
static void a_name_without_steps_is_scored_as_it_was(void **state)
{
	struct bench *b = play.bench;
	struct bench_reading reading;
	struct bench_score score;
	struct deed d;
	char why[DECISION_WHY];
	unsigned char key[BENCH_KEY];
	(void)state;
	play_key(4, key);
	bench_start_hunt(b, key, procedure_part(&play.procedure, "fabricate-the-bar"),
		procedure_fault(&play.procedure, "F12", 3));
	code_is(decision_read(b, "name F12", 8, &d, why), FINE);
	code_is(decision_carry(b, &d, &reading), FINE);
	bench_score(b, NULL, &score);
	near("the fault alone", score.percent, 100, 0);
	assert_true(score.is_passed);
}

/* On a screen a line is always marked: Enter on it must do nothing that costs. */
static void the_line_that_is_marked_costs_nothing(void **state)
{
	static const char *const lines[] = {"look", "1", "receive", "5", "1", "other", "order", "1",
		"other", "1", "end", "1", "end", "release", "1", "back", "1", "back", "yes", NULL};
	struct script x;
	struct audit a;
	(void)state;
	assert_int_equal(sits(&x, lines, "whole-run", BENCH_FREE, false), REPLY_BACK);
	saw(&x, "Then not now: nothing was done.");
	saw_not(&x, "Done:");
	text_release(&x.seen);
	audited(&a);
	assert_int_equal(a.count.answers, 0);
	audit_release(&a);
}

/* Every request for memory fails in turn: the session ends, says why, and nothing is lost or leaks. */
static void memory_runs_out(const char *const *lines, bool by_lines)
{
	bool failed = true;
	for (unsigned long n = 1; failed; n += n < 60 ? 1 : 7) {
		struct bench_desk d = {.course = &course,
			.who = "l-TEST",
			.program = "x",
			.sitting = "sitting-1",
			.by_lines = by_lines};
		struct script x = {.surface = {&ops, 80, '.'}, .line = lines};
		text_init(&x.seen);
		d.surface = &x.surface;
		mem_fail_at(n, 1);
		enum reply_kind kind =
			bench_session(&d, &play.procedure, play.whole, BENCH_FREE, SIZE_MAX);
		failed = mem_failed();
		mem_fail_at(0, 0);
		if (d.lost)
			code_is(d.lost, BAD_MEMORY);
		if (!failed)
			assert_int_equal(kind, REPLY_GO);
		text_release(&x.seen);
	}
}

static void running_out_of_memory_ends_the_session_in_order(void **state)
{
	static const char *const typed[] = {"receive", "10", "yes", "known", "look", "look log",
		"steps", "scrap", "yes", "", NULL};
	static const char *const chosen[] = {"receive", "10", "yes", "known", "", "look", "log",
		"other", "order", "stone", "end", "scrap", "yes", "", NULL};
	(void)state;
	memory_runs_out(typed, true);
	memory_runs_out(chosen, false);
}

/* All 52 steps as somebody who knows would type them, from receiving to release. */
static void a_whole_run_is_recorded_scored_and_made_again(void **state)
{
	enum { LINES = 60 };
	static char typed[LINES][REPLY_ROOM];
	static const char *lines[LINES];
	struct bench *b = play.bench;
	struct stream stream;
	struct script x;
	struct audit a;
	struct text t;
	size_t n = 0;
	(void)state;
	stream_open(&stream, &(struct draw_key){"demo", "hand-made-bar/whole-run/free", "l-TEST",
				     "sitting-1", 1});
	bench_start(b, stream.key, play.whole, BENCH_FREE);
	text_init(&t);
	for (size_t i = 0; i < play.procedure.nstep; i++) {
		struct deed d = {.kind = DECIDE_DO, .what = i};
		struct bench_reading r;
		char why[DECISION_WHY];
		if (!bench_applies(b, i))
			continue;
		bench_usual(b, i, SIZE_MAX, &d.input);
		text_clear(&t);
		decision_write(b, &d, &t);
		snprintf(typed[n], REPLY_ROOM, "%s", t.at);
		code_is(decision_read(b, t.at, t.len, &d, why), FINE);
		code_is(decision_carry(b, &d, &r), FINE);
		lines[n] = typed[n];
		n++;
	}
	lines[n++] = "release";
	lines[n++] = "yes";
	lines[n++] = "";
	lines[n] = NULL;
	assert_int_equal(sits(&x, lines, "whole-run", BENCH_FREE, true), REPLY_GO);
	saw(&x, "Accepted.");
	saw(&x, "Passed, with");
	saw(&x, "Go by the flexible one");
	text_release(&x.seen);
	text_release(&t);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.equal, n - 2);
	assert_int_equal(a.count.answers, n - 2);
	assert_int_equal(a.count.graded_equal, 1);
	audit_release(&a);
}

/* ---- what a run is evidence for --------------------------------------------------------------- */

struct results {
	struct arena arena;
	struct line_result last;
	size_t n;
};
static enum bad take_result(void *context, const struct strand_line *line)
{
	struct results *x = context;
	if (line_kind(line->kind) != LINE_RESULT)
		return FINE;
	x->n++;
	return line_result_read(line, &x->arena, &x->last);
}

static struct results results_now(void)
{
	struct results x = {.n = 0};
	struct arena mem = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_check how = {0};
	char id[STRAND_ID + 1];
	strand_id("l-TEST", machine.open, id);
	code_is(strand_load(strand_path(work_folder, id, &mem), &mem, &source), FINE);
	code_is(strand_read(source, &how, take_result, &x, &sum, NULL), FINE);
	arena_release(&mem);
	return x;
}

static bool names_competency(const struct procedure *p, const char *code)
{
	for (size_t i = 0; i < p->nstep; i++)
		if (strcmp(p->step[i].competency, code) == 0)
			return true;
	return false;
}

static void a_run_counts_under_the_competencies_of_its_steps(void **state)
{
	static const char *const scrap[] = {"receive 10 yes", "scrap", "yes", "", NULL};
	static const char *const left[] = {"receive 10 yes", "leave", NULL};
	static const char *const guided[] = {"scrap", "yes", "", NULL};
	struct script x;
	struct audit a;
	(void)state;
	sits(&x, left, "whole-run", BENCH_FREE, true);
	text_release(&x.seen);
	struct results r = results_now();
	assert_int_equal(r.n, 0); /* it is not at its end */
	arena_release(&r.arena);
	sits(&x, guided, "whole-run", BENCH_GUIDED, true);
	text_release(&x.seen);
	r = results_now();
	assert_int_equal(r.n, 0); /* who is told what comes next shows nothing */
	arena_release(&r.arena);
	sits(&x, scrap, "fabricate-the-bar", BENCH_TIMED, true);
	text_release(&x.seen);
	r = results_now();
	assert_int_equal(r.n, 1);
	assert_string_equal(r.last.of, "hand-made-bar/fabricate-the-bar/timed");
	assert_string_equal(r.last.verdict, "not-passed");
	assert_true(r.last.part.n > 0);
	for (size_t n = 0; n < r.last.part.n; n++) {
		assert_true(names_competency(&play.procedure, r.last.part_competency.at[n]));
		assert_string_equal(r.last.part_verdict.at[n], "not-reached");
	}
	arena_release(&r.arena);
	audited(&a);
	assert_true(audit_is_clean(&a));
	assert_int_equal(a.count.graded_equal, 1);
	audit_release(&a);
}

/* Whoever controls the machine can sign it: it is not what the run comes to. */
static void a_result_of_ones_own_is_found(void **state)
{
	static const char *const scrap[] = {"receive 10 yes", "scrap", "yes", "", NULL};
	struct script x;
	struct audit a;
	struct strand *s;
	(void)state;
	sits(&x, scrap, "whole-run", BENCH_FREE, true);
	text_release(&x.seen);
	struct results r = results_now();
	code_is(strand_open(work_folder, "l-TEST", &machine, &s, NULL), FINE);
	struct line_open open = {.mode = "bench",
		.program = "barwright 0.1.0",
		.course = "demo",
		.sitting = "sitting-1"};
	r.last.verdict = "passed";
	code_is(line_open_append(s, &open), FINE);
	code_is(line_result_append(s, &r.last), FINE);
	strand_close(s);
	arena_release(&r.arena);
	audited(&a);
	assert_false(audit_is_clean(&a));
	assert_int_equal(a.count.graded_differs, 1);
	assert_string_equal(a.remark->words, "the result is not what the run comes to");
	audit_release(&a);
}

/* ---- a record that was tampered with before it was signed ------------------------------------- */

struct forged {
	struct line_open open;
	struct line_draw draw;
	struct line_answer answer;
};

static struct forged honest(void)
{
	struct forged f = {{.mode = "bench",
				   .program = "barwright 0.1.0",
				   .course = "demo",
				   .sitting = "sitting-1"},
		{.item = "hand-made-bar/whole-run/free",
			.content = procedure_hash(&play.procedure),
			.attempt = 1},
		{.item = "hand-made-bar/whole-run/free",
			.attempt = 1,
			.ask = 1,
			.turn = 1,
			.typed = "scrap",
			.read_as = "",
			.outcome = "scrapped",
			.slip = "",
			.tolerance = "",
			.unit = "%"}};
	struct stream stream;
	stream_open(&stream, &(struct draw_key){"demo", f.draw.item, "l-TEST", "sitting-1", 1});
	memcpy(f.draw.key, stream.key, sizeof f.draw.key);
	return f;
}

/* What scrapping at once scores, as the bench has it. */
static const char *scrapped(void)
{
	static char expected[LEDGER_NUMBER];
	struct forged f = honest();
	bench_start(play.bench, f.draw.key, play.whole, BENCH_FREE);
	bench_end(play.bench, END_SCRAPPED);
	ledger_expected(play.bench, NULL, expected);
	return expected;
}

static void forged_gives(const struct forged *f, uint64_t equal, uint64_t differs,
	uint64_t not_made, const char *words)
{
	struct strand *s;
	struct audit a;
	work_empty(work_folder);
	code_is(strand_open(work_folder, "l-TEST", &machine, &s, NULL), FINE);
	code_is(line_open_append(s, &f->open), FINE);
	code_is(line_draw_append(s, &f->draw), FINE);
	code_is(line_answer_append(s, &f->answer), FINE);
	strand_close(s);
	audited(&a);
	assert_int_equal(a.count.equal, equal);
	assert_int_equal(a.count.differs, differs);
	assert_int_equal(a.count.not_made, not_made);
	if (*words && !strstr(a.remark->words, words))
		print_error("want '%s', got '%s'\n", words, a.remark->words);
	assert_true(!*words || strstr(a.remark->words, words));
	audit_release(&a);
}

static void the_audit_tells_what_is_not_as_it_was(void **state)
{
	struct forged f = honest();
	const char *score = scrapped();
	(void)state;
	f.answer.expected = score;
	forged_gives(&f, 1, 0, 0, "");
	f.answer.expected = "100.000";
	forged_gives(&f, 0, 1, 0, "recorded is 100.000");
	f.answer.expected = score;
	f.answer.outcome = "accepted";
	forged_gives(&f, 0, 1, 0, "it ends as scrapped, recorded is accepted");
	f.answer.outcome = "scrapped";
	f.answer.ask = 2;
	forged_gives(&f, 0, 1, 0, "a decision before this one is missing");
	f.answer.ask = 1;
	f.answer.typed = "mend F1";
	forged_gives(&f, 0, 1, 0, "could not be done as the work then was");
}

static void the_audit_tells_what_cannot_be_made_again(void **state)
{
	struct forged f = honest();
	(void)state;
	f.answer.expected = scrapped();
	f.draw.key[0] ^= 1;
	forged_gives(&f, 0, 1, 0, "was not drawn for this learner");
	f = honest();
	f.answer.expected = scrapped();
	f.draw.content.byte[0] ^= 1;
	forged_gives(&f, 0, 0, 1, "its procedure was changed since");
	f = honest();
	f.answer.expected = scrapped();
	f.draw.item = f.answer.item = "other/whole-run/free";
	forged_gives(&f, 0, 0, 1, "its procedure is not here");
}

/* Shows a run of the whole work again; what was seen is left in x. */
static enum reply_kind shows_again(
	struct script *x, const char *const *line, enum bench_mode mode, size_t which)
{
	struct bench_desk d = {
		.course = &course, .who = "l-TEST", .program = "x", .by_lines = true};
	*x = (struct script){.surface = {&ops, 80, '.'}, .line = line};
	text_init(&x->seen);
	d.surface = &x->surface;
	code_is(strand_open(work_folder, "l-TEST", &machine, &d.strand, NULL), FINE);
	enum reply_kind kind = bench_again(&d, &play.procedure, play.whole, mode, SIZE_MAX, which);
	code_is(d.lost, FINE);
	strand_close(d.strand);
	return kind;
}

static int64_t minutes;
static int64_t clock_later(void)
{
	return clock_fixed() + 60000 * minutes++;
}

/* Two runs here, the first of them left and taken up again after the second, and one of the same
 * learner on another machine, whose strand was gathered; a stranger's is not listed. */
static void runs_are_listed_and_one_is_shown_whole(void **state)
{
	static const char *const first[] = {"receive 2 no", "leave", NULL};
	static const char *const between[] = {"wait 5", "leave", NULL};
	static const char *const then[] = {"on", "look log", "leave", NULL};
	static const char *const there[] = {"wait 7", "scrap", "yes", "", NULL};
	static const char *const go_first[] = {"1", "", "", NULL};
	static const char *const go[] = {"", "", "", NULL};
	static const char *const back[] = {"back", NULL};
	static const struct clock_source later = {clock_later, clock_five};
	const struct sign_pair here = machine;
	struct script x;
	(void)state;
	clock_replace(&later);
	sits(&x, first, "whole-run", BENCH_FREE, true);
	text_release(&x.seen);
	sits(&x, between, "whole-run", BENCH_TIMED, true);
	text_release(&x.seen);
	sits(&x, then, "whole-run", BENCH_FREE, true);
	text_release(&x.seen);
	machine = pair_of(test_2);
	sits(&x, there, "whole-run", BENCH_FREE, true);
	text_release(&x.seen);
	machine = here;
	assert_int_equal(shows_again(&x, go_first, BENCH_MODES, 0), REPLY_GO);
	saw(&x, "do S01 intake_contact=2 intake_logged=no");
	saw(&x, "look log");
	saw_not(&x, "wait 5");
	text_release(&x.seen);
	assert_int_equal(shows_again(&x, go, BENCH_MODES, 3), REPLY_GO);
	saw(&x, "wait 7");
	saw(&x, "Scrapped.");
	text_release(&x.seen);
	assert_int_equal(shows_again(&x, go, BENCH_TIMED, 0), REPLY_GO); /* the only one */
	saw(&x, "wait 5");
	text_release(&x.seen);
	assert_int_equal(shows_again(&x, go, BENCH_MODES, 4), REPLY_BACK);
	saw(&x, "There are only 3 of this: 1 to 3.");
	text_release(&x.seen);
	assert_int_equal(shows_again(&x, back, BENCH_MODES, 0), REPLY_BACK);
	text_release(&x.seen);
}

/* The record is shown as it was done, and at its end what nobody saw then. */
static void a_run_is_shown_again_decision_by_decision(void **state)
{
	static const char *const first[] = {"receive 2 no", "look log", "scrap", "yes", "", NULL};
	static const char *const second[] = {"", "", "", "", NULL};
	struct script x;
	struct bench_desk d = {.course = &course,
		.who = "l-TEST",
		.program = "x",
		.sitting = "y",
		.by_lines = true};
	(void)state;
	assert_int_equal(sits(&x, first, "whole-run", BENCH_FREE, true), REPLY_GO);
	text_release(&x.seen);
	x = (struct script){.surface = {&ops, 80, '.'}, .line = second};
	text_init(&x.seen);
	d.surface = &x.surface;
	code_is(strand_open(work_folder, "l-TEST", &machine, &d.strand, NULL), FINE);
	uint64_t lines = strand_count(d.strand);
	assert_int_equal(
		bench_again(&d, &play.procedure, play.whole, BENCH_FREE, SIZE_MAX, 0), REPLY_GO);
	assert_int_equal(strand_count(d.strand), lines);
	saw(&x, "do S01 intake_contact=2 intake_logged=no");
	saw(&x, "Unseen: case taken without a disinfection record (F01).");
	saw(&x, "look log");
	saw(&x, "To be seen: the entry in the log is missing or too short.");
	saw(&x, "Scrapped.");
	text_clear(&x.seen);
	assert_int_equal(
		bench_again(&d, &play.procedure, play.whole, BENCH_TIMED, SIZE_MAX, 0), REPLY_BACK);
	saw(&x, "Nothing of this is recorded yet.");
	strand_close(d.strand);
	text_release(&x.seen);
}

/* What has ended is not gone on with. */
static void a_run_that_ended_is_not_offered_again(void **state)
{
	static const char *const first[] = {"receive 10 yes", "scrap", "yes", "", NULL};
	static const char *const second[] = {"steps", "leave", NULL};
	struct script x;
	(void)state;
	assert_int_equal(sits(&x, first, "whole-run", BENCH_FREE, true), REPLY_GO);
	text_release(&x.seen);
	assert_int_equal(sits(&x, second, "whole-run", BENCH_FREE, true), REPLY_LEAVE);
	saw_not(&x, "(done)");
	text_release(&x.seen);
}

int main(void)
{
#define RUN(name) cmocka_unit_test_setup_teardown(name, begin, end)
	const struct CMUnitTest tests[] = {
		RUN(a_step_is_done_by_its_word_and_nothing_is_told_before_its_time),
		RUN(the_debrief_tells_the_number_and_its_site),
		RUN(a_number_is_read_without_a_word_about_it),
		RUN(leaving_and_coming_back_goes_on_where_it_was),
		RUN(a_coarser_look_keeps_the_finer_reading),
		RUN(a_run_left_before_its_first_decision_is_the_same_again),
		RUN(going_back_before_it_begins_leaves_the_run_as_it_is),
		RUN(a_lost_terminal_loses_nothing),
		RUN(what_a_full_disk_does_not_take_is_not_acknowledged),
		RUN(choosing_does_the_same_as_typing),
		RUN(guided_work_asks_why_first),
		RUN(options_stand_in_another_order_in_another_run),
		RUN(a_hunt_ends_with_a_name),
		RUN(running_out_of_memory_ends_the_session_in_order),
		RUN(a_fault_put_on_the_bench_is_the_one_to_name),
		RUN(a_name_without_steps_is_scored_as_it_was),
		RUN(the_line_that_is_marked_costs_nothing),
		RUN(a_whole_run_is_recorded_scored_and_made_again),
		RUN(a_run_counts_under_the_competencies_of_its_steps),
		RUN(a_result_of_ones_own_is_found),
		RUN(the_audit_tells_what_is_not_as_it_was),
		RUN(the_audit_tells_what_cannot_be_made_again),
		RUN(a_run_is_shown_again_decision_by_decision),
		RUN(runs_are_listed_and_one_is_shown_whole),
		RUN(a_run_that_ended_is_not_offered_again),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
