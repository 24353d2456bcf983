/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "near.h"

#include <barwright/record/learner.h>

#include "file_fault.h"
#include "script_surface.h"
#include "strand_fixture.h"

#include "desk/replay.h"
#include "room.h"
#include "sitting/past.h"
#include "sitting/review.h"

/* ---- what a strand holds --------------------------------------------------------------------- */

struct count {
	const char *kind, *words;
	size_t n;
};
static enum bad count_line(void *context, const struct strand_line *line)
{
	struct count *c = context;
	char body[4000];
	snprintf(body, sizeof body, "%.*s", (int)line->body_len, line->body);
	c->n += strcmp(line->kind, c->kind) == 0 && strstr(body, c->words);
	return FINE;
}
/* Lines of a kind that hold these words. The whole strand is checked with it. */
static size_t lines_with(const char *who, const char *kind, const char *words)
{
	struct source s = load(strand_at(who));
	struct count c = {kind, words, 0};
	struct strand_check how = {0};
	struct strand_sum sum;
	code_is(strand_read(&s, &how, count_line, &c, &sum, NULL), FINE);
	unload(&s);
	return c.n;
}

/* The right answer to what the page shows last: "3 times the width" and "The width is 4.2 mm". */
static const char *right_answer(const struct script_surface *x)
{
	static char text[20];
	const char *at = x->said.at, *width = NULL, *times = NULL, *found;
	while ((found = strstr(at, "The width is ")))
		width = found, at = found + 1;
	for (at = x->said.at; (found = strstr(at, "Asked: ")); at = found + 1)
		times = found;
	assert_non_null(width);
	snprintf(text, sizeof text, "%.2f", atof(width + 13) * atof(times + 7));
	return text;
}

/* A candidate who reads: "right" in the script stands for the right answer. */
static const struct surface_ops *plain;
static enum bad reading_ask(struct surface *s, const struct question *q, struct reply *out)
{
	struct script_surface *x = (struct script_surface *)s;
	enum bad code = plain->ask(s, q, out);
	if (!code && out->kind == REPLY_TEXT && strcmp(out->text, "right") == 0)
		snprintf(out->text, sizeof out->text, "%s", right_answer(x));
	return code;
}
static struct sitting_how read_and_sit(
	const char *who, struct script_surface *x, const char *const *line, enum how *end)
{
	static struct surface_ops reading;
	struct sitting_how how = {0};
	script_open(x, line);
	plain = x->surface.ops;
	reading = *plain;
	reading.ask = reading_ask;
	x->surface.ops = &reading;
	code_is(sit_once(who, x, &how, end), FINE);
	return how;
}

/* ---- the tests ------------------------------------------------------------------------------- */

static void all_right_passes_and_nothing_is_said_before(void **state)
{
	static const char *const line[] = {
		"begin", "right", "right", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && how.passed && end == HOW_DONE);
	script_says(&x, "Passed: 100 % of all points.");
	script_says(&x, "K1, One: 2 of 2 points, 100 %; 50 % are needed: reached");
	script_says(&x, "(1 of 3, 10 min left)");
	*strstr(x.said.at, "Passed") = 0; /* before the result */
	script_says(&x, "Edges cut.");
	script_says_not(&x, "Not once."); /* what to watch for would give the slip away */
	script_says_not(&x, "ight:");
	script_says_not(&x, "Not right");
	assert_int_equal(lines_with("l-1", "draw", ""), 3);
	assert_int_equal(lines_with("l-1", "answer", "\"outcome\":\"right\""), 3);
	assert_int_equal(lines_with("l-1", "result", "\"verdict\":\"passed\""), 1);
	script_close(&x);
}

static const char *code_said(const struct script_surface *x, char out[static 17])
{
	const char *at = strstr(x->said.at, "Sitting: ");
	assert_non_null(at);
	snprintf(out, 17, "%.16s", at + 9);
	return out;
}

static void who_starts_again_finds_the_same_form(void **state)
{
	static const char *const look[] = {"later", NULL};
	static const char *const whole[] = {
		"begin", "right", "right", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	char code[3][17];
	enum how end;
	(void)state;
	room_unnamed = true;
	for (int k = 0; k < 2; k++) {
		sit_with("l-1", &x, look);
		code_said(&x, code[k]);
		script_close(&x);
	}
	assert_string_equal(code[0], code[1]);
	assert_string_not_equal(code[0], "0123456789abcdef");
	assert_true(read_and_sit("l-1", &x, whole, &end).passed);
	assert_string_equal(code_said(&x, code[2]), code[0]);
	script_close(&x);
	read_and_sit("l-2", &x, whole, &end); /* another candidate has another one */
	assert_string_not_equal(code_said(&x, code[1]), code[0]);
	script_close(&x);
	room_unnamed = false;
}

static void a_critical_task_that_is_wrong_fails_the_whole(void **state)
{
	static const char *const line[] = {
		"begin", "right", "right", "0.1", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "66.67 %; 60 % are needed: reached");
	script_says(&x, "task 3, Title of tenfold, must be wholly right and is not");
	script_close(&x);
}

static void answers_may_be_changed_and_marked_until_they_are_handed_in(void **state)
{
	static const char *const line[] = {"begin", "0.1", "mark", "previous", "right", "right",
		"next", "1", "right", "list", "3", "right", "hand-in", "no", "hand-in", "hand-in",
		"", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	script_says(&x, "Your answer so far: 0.1");
	script_says(&x, "Marked: you want to look at it again.");
	script_says(&x, "Answered: 2 of 3.");
	if (!how.is_done || !how.passed)
		fail_msg("%s", x.said.at);
	assert_int_equal(lines_with("l-1", "answer", "\"outcome\":\"held\""), 5);
	assert_int_equal(lines_with("l-1", "answer", "\"outcome\":\"right\""), 3); /* what counts */
	assert_int_equal(lines_with("l-1", "answer", "\"turn\":3"), 2);
	assert_int_equal(lines_with("l-1", "mark", "\"is_on\":1"), 1);
	script_close(&x);
}

static void enter_alone_neither_begins_nor_hands_in(void **state)
{
	static const char *const line[] = {"=", "begin", "right", "mark", "right", "right", "=",
		"mark", "list", "=", "hand-in", "=", "hand-in", "", NULL};
	static const char fault[] = "!! nothing is chosen beforehand";
	struct script_surface x;
	enum how end;
	size_t refused = 0;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && how.passed);
	for (const char *at = x.said.at; (at = strstr(at, fault)); at++)
		refused++;
	assert_int_equal(refused, 3); /* to begin, on the list, to hand in */
	script_close(&x);
}

static void handing_in_from_a_question_asks_once_more(void **state)
{
	static const char *const line[] = {"begin", "right", "Hand-In", "no", "right", "right",
		"hand-in", "hand-in", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && how.passed);
	script_says(&x, "2 of 3 are not answered; they count as wrong.");
	assert_int_equal(lines_with("l-1", "answer", "and-"), 0); /* it is no answer */
	script_close(&x);
}

static void what_cannot_be_read_is_asked_again_and_not_recorded(void **state)
{
	static const char *const line[] = {"begin", "about two", "right", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	read_and_sit("l-1", &x, line, &end);
	assert_int_equal(end, HOW_LOST);
	script_says(&x, "Your answer ! a number has to come first");
	assert_int_equal(lines_with("l-1", "answer", ""), 1);
	script_close(&x);
}

static void a_late_answer_is_kept_and_not_counted(void **state)
{
	static const char *const line[] = {
		"begin", "right", "@500", "right", "@101", "right", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "(3 of 3, 2 min left)");
	script_says(&x, "The time is over");
	script_says(&x, "1 answer came after the time was over: kept, not counted");
	script_says(&x, "66.67 % of all points");
	assert_int_equal(lines_with("l-1", "answer", "\"late_ms\":1000"), 1);
	assert_int_equal(lines_with("l-1", "answer", "late_ms"), 1);
	assert_int_equal(lines_with("l-1", "close", "\"time\""), 1);
	script_close(&x);
}

/* Somebody is typing when the time is over: the page goes, what stood there is kept and not counted. */
static void what_stands_in_the_field_at_the_end_is_kept_and_not_counted(void **state)
{
	static const struct {
		const char *typed, *says;
		unsigned kept;
	} rows[] = {
		{"~0.1",
			"\"0.1\" stood in the field and was not given with Enter in time: it is "
			"kept",
			1},
		{"~about two", "\"about two\" stood in the field", 0},
		{"~", "What was answered in time counts.", 0},
		{"~next", "What was answered in time counts.", 0},
	};
	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		const char *line[] = {"begin", "right", "right", rows[i].typed, "", NULL};
		char who[] = "l-1";
		struct script_surface x;
		enum how end;
		who[2] = (char)('1' + i);
		struct sitting_how how = read_and_sit(who, &x, line, &end);
		assert_true(how.is_done && !how.passed);
		script_says(&x, "== The time is over");
		script_says(&x, rows[i].says);
		script_says(&x, "66.67 % of all points");
		assert_int_equal(lines_with(who, "answer", "late_ms"), rows[i].kept);
		assert_int_equal(lines_with(who, "close", "\"time\""), 1);
		script_close(&x);
	}
}

static void an_answer_in_time_is_not_replaced_by_a_late_one(void **state)
{
	static const char *const line[] = {
		"begin", "right", "right", "right", "3", "@700", "0.1", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && how.passed);
	script_close(&x);
}

/* A candidate with an editor finds nothing that helps. */
static void nothing_of_the_right_answer_is_written_before_it_is_handed_in(void **state)
{
	static const char *const line[] = {"begin", "0.1", "previous", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	read_and_sit("l-1", &x, line, &end);
	struct source s = load(strand_at("l-1"));
	assert_null(strstr(s.text, right_answer(&x)));
	unload(&s);
	assert_int_equal(lines_with("l-1", "answer",
				 "\"expected\":\"\",\"hints\":0,\"item\":\"twice\",\"outcome\":"
				 "\"held\""),
		1);
	script_close(&x);
}

/* Cuts the strand behind line n, as if the power had failed then. */
static bool cut_behind(const char *who, const struct source *whole, size_t n, int64_t *boot_ms)
{
	const char *at = whole->text;
	for (size_t k = 0; k < n; k++) {
		at = strchr(at, '\n');
		if (!at)
			return false;
		at++;
	}
	const char *line = at - 1;
	while (line > whole->text && line[-1] != '\n')
		line--;
	*boot_ms = atoll(strstr(line, "\"boot\":") + 7);
	code_is(file_replace(strand_at(who), whole->text, (size_t)(at - whole->text), true), FINE);
	return true;
}

/* Every reply takes a minute. Wherever the power fails, the next start shows the question that was shown
 * last, with all the time that had been left when the last line was written, and it can be finished. */
static void power_may_fail_between_any_two_lines(void **state)
{
	static const char *const line[] = {
		"begin", "right", "mark", "next", "right", "2", "right", "list", NULL};
	static const char *const again[] = {"go-on", NULL};
	static const char *const rest[] = {
		"go-on", "list", "1", "right", "right", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	struct sitting_how how = {0};
	enum how end;
	int64_t boot, began = 0;
	size_t resumed = 0;
	(void)state;
	script_open(&x, line);
	static struct surface_ops reading;
	plain = x.surface.ops;
	reading = *plain;
	reading.ask = reading_ask;
	x.surface.ops = &reading;
	x.each_s = 60;
	code_is(sit_once("l-1", &x, &how, &end), FINE);
	script_close(&x);
	began = 1000000 + 60000; /* the reply "begin" takes a minute; the time starts after it */
	struct source whole = load(strand_at("l-1"));
	for (size_t n = 1; cut_behind("l-1", &whole, n, &boot); n++) {
		struct arena mem = {0};
		struct past past;
		char left[60];
		work_empty(work_path("strands"));
		cut_behind("l-1", &whole, n, &boot);
		code_is(past_read(strand_at("l-1"), "theory", &mem, &past), FINE);
		if (past.is_unfinished) {
			uint64_t at = past.at;
			uint64_t minutes = 10 - (uint64_t)(boot - began) / 60000;
			if (past.used_ms != (uint64_t)(boot - began))
				fail_msg("behind line %zu: used %llu, want %lld", n,
					(unsigned long long)past.used_ms,
					(long long)(boot - began));
			script_clock(); /* the machine starts anew: its clock counts from less */
			script_now += 900000;
			script_boot = 5000;
			sit_with("l-1", &x, again);
			snprintf(left, sizeof left,
				at ? "(%llu of 3, %llu min left)" : "%.0llu(%llu min left)",
				(unsigned long long)at, (unsigned long long)minutes);
			script_says(&x, "This sitting was interrupted.");
			script_says(&x, left);
			script_close(&x);
			how = read_and_sit("l-1", &x, rest, &end);
			if (!how.is_done || !how.passed)
				fail_msg("behind line %zu it could not be finished:\n%s", n,
					x.said.at);
			script_says(&x, "it was interrupted 2 times");
			script_close(&x);
			resumed++;
		}
		arena_release(&mem);
	}
	unload(&whole);
	assert_true(resumed > 15);
}

/* Once an answer was scored nothing may be changed any more: the next start ends the sitting. */
static void power_may_fail_while_it_is_handed_in(void **state)
{
	static const char *const line[] = {
		"begin", "right", "right", "right", "hand-in", "hand-in", "", NULL};
	static const char *const nothing[] = {"", NULL};
	struct script_surface x;
	enum how end;
	int64_t boot;
	size_t ended = 0;
	(void)state;
	read_and_sit("l-1", &x, line, &end);
	script_close(&x);
	struct source whole = load(strand_at("l-1"));
	for (size_t n = 1; cut_behind("l-1", &whole, n, &boot); n++) {
		struct arena mem = {0};
		struct past past;
		code_is(past_read(strand_at("l-1"), "theory", &mem, &past), FINE);
		if (past.is_unfinished && past.is_handed_in) {
			struct sitting_how how = sit_with("l-1", &x, nothing);
			assert_true(how.is_done && how.passed);
			script_says_not(&x, "Your answer");
			script_close(&x);
			assert_int_equal(lines_with("l-1", "answer", "\"outcome\":\"right\""), 3);
			assert_int_equal(lines_with("l-1", "result", ""), 1);
			ended++;
		}
		arena_release(&mem);
	}
	unload(&whole);
	assert_int_equal(ended, 3);
}

static void who_leaves_on_purpose_does_not_stop_the_clock(void **state)
{
	static const char *const leave[] = {"begin", "right", "!leave"};
	static const char *const again[] = {"go-on", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	read_and_sit("l-1", &x, leave, &end);
	assert_int_equal(end, HOW_LEAVE);
	script_close(&x);
	script_pass(240);
	sit_with("l-1", &x, again);
	script_says(&x, "(2 of 3, 6 min left)");
	script_close(&x);
	/* and whoever comes back too late has only what was answered in time */
	static const char *const leave_again[] = {"go-on", "!leave"};
	read_and_sit("l-1", &x, leave_again, &end);
	script_close(&x);
	script_pass(1000);
	struct sitting_how how = sit_with("l-1", &x, again);
	assert_true(how.is_done && !how.passed);
	script_says(&x, "the time was over before it was handed in");
	script_close(&x);
}

static void a_clock_that_is_moved_is_noticed_and_gives_no_time(void **state)
{
	static const char *const line[] = {"begin", "right", "@wall -3600", "@60", "right",
		"@wall 7200", "right", "hand-in", "hand-in", "", NULL};
	static const char *const steady[] = {
		"begin", "right", "@wall 1", "right", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	struct sitting_how how = read_and_sit("l-1", &x, line, &end);
	assert_true(how.is_done && how.passed);
	script_says(&x, "(3 of 3, 9 min left)");
	script_says(&x, "the machine's clock was set back by 3600 s during the sitting");
	script_says(&x, "the machine's clock was set forward by 7200 s during the sitting");
	assert_int_equal(lines_with("l-1", "clock", "back"), 1);
	assert_int_equal(lines_with("l-1", "clock", "forward"), 1);
	script_close(&x);
	script_clock();
	read_and_sit("l-2", &x, steady, &end);
	script_says_not(&x, "clock was set");
	script_close(&x);
}

static void a_clock_moved_while_the_program_was_closed_is_noticed_too(void **state)
{
	static const char *const line[] = {"begin", "right", NULL};
	static const char *const rest[] = {
		"go-on", "right", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	enum how end;
	(void)state;
	read_and_sit("l-1", &x, line, &end);
	script_close(&x);
	script_boot = 3000; /* another start of the machine */
	script_now -= 600000;
	struct sitting_how how = read_and_sit("l-1", &x, rest, &end);
	assert_true(how.is_done);
	script_says(&x, "the machine's clock was set back by 600 s");
	script_close(&x);
}

static void attempts_and_the_wait_between_them_are_kept(void **state)
{
	static const char *const line[] = {"begin", "list", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	struct sitting_how how = {0};
	(void)state;
	how = sit_with("l-1", &x, line);
	assert_true(how.is_done && !how.passed);
	script_close(&x);
	script_pass(86000);
	how = sit_with("l-1", &x, line);
	assert_non_null(strstr(how.refused, "may begin in 6 min, not before"));
	script_close(&x);
	script_now -= 90000000; /* setting the clock back does not help */
	how = sit_with("l-1", &x, line);
	assert_non_null(how.refused);
	script_close(&x);
	script_now += 90000000 + 500000;
	how = sit_with("l-1", &x, line);
	assert_true(how.is_done);
	script_says(&x, "Attempt: 2 of 2");
	script_close(&x);
	script_pass(900000);
	how = sit_with("l-1", &x, line);
	assert_non_null(strstr(how.refused, "may be sat 2 times, and was"));
	script_close(&x);
}

static void setting_the_clock_back_in_a_sitting_does_not_shorten_the_wait(void **state)
{
	static const char *const line[] = {
		"begin", "list", "@wall -86400", "1", "1", "hand-in", "hand-in", "", NULL};
	static const char *const again[] = {"begin", NULL};
	struct script_surface x;
	(void)state;
	struct sitting_how how = sit_with("l-1", &x, line);
	assert_true(how.is_done);
	script_close(&x);
	script_now += 86400000; /* and it is put right afterwards */
	script_pass(60);
	how = sit_with("l-1", &x, again);
	assert_non_null(strstr(how.refused, "the next attempt at 'Theory' may begin in "));
	script_close(&x);
}

static void attempts_on_another_machine_count_once_they_are_gathered_here(void **state)
{
	static const char *const line[] = {"begin", "list", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	struct sitting_how how = {0};
	(void)state;
	how = sit_with("l-1", &x, line);
	script_close(&x);
	machine = pair_of(test_2);
	how = sit_with("l-2", &x, line); /* somebody else's strands do not count */
	assert_true(how.is_done);
	script_close(&x);
	script_pass(60);
	how = sit_with("l-1", &x, line);
	assert_non_null(strstr(how.refused, "the next attempt at 'Theory' may begin in "));
	script_close(&x);
	script_pass(86400);
	how = sit_with("l-1", &x, line);
	script_says(&x, "Attempt: 2 of 2");
	script_close(&x);
	machine = pair_of(test_1);
	script_pass(86400);
	how = sit_with("l-1", &x, line);
	assert_non_null(strstr(how.refused, "may be sat 2 times, and was"));
	script_close(&x);
}

static void attempts_under_another_code_of_the_same_person_count(void **state)
{
	static const char *const line[] = {"begin", "list", "hand-in", "hand-in", "", NULL};
	static const char *const codes[] = {"l-0000000A", "l-0000000B"};
	struct script_surface x;
	struct sitting_how how = {0};
	(void)state;
	put("learners.txt", "barwright-learners 1\nl-0000000A\tAda\nl-0000000B\tAda\n");
	how = sit_with(codes[0], &x, line);
	assert_true(how.is_done);
	script_close(&x);
	script_pass(60);
	code_is(learner_join(work_folder, codes, 2, NULL), FINE);
	how = sit_with(codes[1], &x, line);
	assert_non_null(how.refused);
	assert_non_null(strstr(how.refused, "the next attempt at 'Theory' may begin in "));
	script_close(&x);
	code_is(learner_part(work_folder, codes[1], NULL), FINE); /* two persons of one name */
	how = sit_with(codes[1], &x, line);
	assert_true(how.is_done);
	script_close(&x);
}

static void only_those_on_the_list_may_sit_and_some_have_more_time(void **state)
{
	static const char *const line[] = {"later", NULL};
	struct script_surface x;
	struct sitting_how how = {0};
	(void)state;
	load_theory("candidates: [{candidate: l-1, extra: 5 min}, {candidate: l-2}]\n");
	how = sit_with("l-3", &x, line);
	assert_non_null(strstr(how.refused, "'l-3' is not on the list"));
	script_close(&x);
	how = sit_with("l-1", &x, line);
	assert_null(how.refused);
	script_says(&x, "Time: 15 min, of it 5 min that were granted to you");
	script_close(&x);
	assert_int_equal(file_kind(strand_at("l-1")), FILE_PLAIN);
	how = sit_with("l-2", &x, line);
	script_says(&x, "Time: 10 min\n");
	script_close(&x);
	load_theory("");
}

static void a_course_that_changed_meanwhile_stops_it(void **state)
{
	static const char *const line[] = {"begin", "1", NULL};
	struct script_surface x;
	(void)state;
	sit_with("l-1", &x, line);
	script_close(&x);
	put_problem("twice", "K1", 1, 5);
	load_course();
	struct sitting_how how = sit_with("l-1", &x, line);
	assert_non_null(strstr(how.refused, "were changed since it began"));
	script_close(&x);
	put_course();
	load_course();
	static const char *const again[] = {"go-on", NULL};
	how = sit_with("l-1", &x, again);
	assert_null(how.refused);
	script_says(&x, "(2 of 3, 10 min left)");
	script_close(&x);
}

/* Every n-th write fails once: it ends in words, nothing acknowledged is lost, and the next start
 * goes on to the end. */
static void each_write_fails_in_turn(void **state)
{
	static const char *const line[] = {
		"begin", "right", "right", "right", "hand-in", "hand-in", "", NULL};
	static const char *const rest[] = {
		"go-on", "list", "1", "right", "right", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	enum how end = HOW_DONE;
	bool reached = true;
	(void)state;
	for (unsigned long n = 1; reached; n++) {
		struct sitting_how how = {0};
		static struct surface_ops reading;
		if (file_kind(work_path("strands")) == FILE_FOLDER)
			work_empty(work_path("strands"));
		script_clock();
		script_open(&x, line);
		plain = x.surface.ops;
		reading = *plain;
		reading.ask = reading_ask;
		x.surface.ops = &reading;
		fault_plan(1u << CALL_WRITE | 1u << CALL_FSYNC, n, false, ENOSPC);
		enum bad code = sit_once("l-1", &x, &how, &end);
		reached = plan.reached;
		fault_end();
		script_close(&x);
		if (!reached)
			assert_true(!code && how.is_done && how.passed);
		if (code || how.is_done)
			continue;
		/* a line that was not acknowledged may be there all the same, but whole */
		if (file_kind(strand_at("l-1")) == FILE_PLAIN &&
			lines_with("l-1", "result", "passed"))
			continue;
		how = read_and_sit("l-1", &x, rest, &end);
		if (!how.is_done)
			how = read_and_sit("l-1", &x, line, &end); /* nothing had begun */
		if (!how.is_done || !how.passed)
			fail_msg("after write %lu it could not be finished", n);
		script_close(&x);
		lines_with("l-1", "result", "");
	}
}

static void each_piece_of_memory_is_missing_in_turn(void **state)
{
	static const char *const line[] = {"begin", "right", "mark", "list", "2", "right", "!back",
		"hand-in", "hand-in", "", NULL};
	bool failed = true;
	(void)state;
	for (unsigned long n = 1; failed; n++) {
		struct script_surface x;
		struct sitting_how how = {0};
		enum how end = HOW_DONE;
		char *room = malloc(1 << 16); /* the script's own memory does not count */
		if (file_kind(work_path("strands")) == FILE_FOLDER)
			work_empty(work_path("strands"));
		script_clock();
		script_open(&x, line);
		x.said.at = room;
		x.said.room = 1 << 16;
		*room = 0;
		plain = x.surface.ops;
		static struct surface_ops reading;
		reading = *plain;
		reading.ask = reading_ask;
		x.surface.ops = &reading;
		mem_fail_at(n, 0);
		enum bad code = sit_once("l-1", &x, &how, &end);
		failed = mem_failed();
		mem_fail_at(0, 0);
		if (!failed)
			assert_true(!code && how.is_done);
		if (code)
			code_is(code, BAD_MEMORY);
		else if (how.is_done)
			assert_int_equal(lines_with("l-1", "result", ""), 1);
		free(room);
		x.said = (struct text){0};
		text_init(&x.said);
		assert_true(n < 5000);
	}
}

static void two_candidates_get_forms_of_their_own(void **state)
{
	static const char *const line[] = {"begin", "list", NULL};
	struct script_surface x;
	size_t thrice = 0;
	(void)state;
	for (int k = 0; k < 24; k++) {
		char who[24];
		snprintf(who, sizeof who, "l-%d", k);
		sit_with(who, &x, line);
		thrice += strstr(x.said.at, "Title of thrice") != NULL;
		script_close(&x);
	}
	/* each has one of the two with probability 1/2: all the same once in 2^23 */
	assert_true(thrice > 0 && thrice < 24);
}

/* Audits the strand of l-1 with the assessment at hand. */
static void audit_now(struct audit *out)
{
	static const struct course *courses[] = {&course};
	static struct assessment *assessments[] = {&theory};
	struct review review = {
		.course = courses, .ncourse = 1, .assessment = assessments, .nassessment = 1};
	struct replay replay = {.course = courses, .ncourse = 1};
	struct audit_how how = {.replay = replay_answer,
		.context = &replay,
		.review = review_line,
		.review_context = &review};
	audit_init(out);
	code_is(audit_path(out, strand_at("l-1"), &how), FINE);
	arena_release(&review.arena);
	arena_release(&replay.arena);
}

/* Whoever controls the machine can sign a result of their own; it is not what the answers come to. */
static void a_result_that_was_made_up_is_found(void **state)
{
	static const char *const wrong[] = {"begin", "0.1", "mark", "0.1", "0.1", NULL};
	static const char *const one[] = {"60.00"};
	struct script_surface x;
	struct audit audit;
	struct strand *s;
	(void)state;
	sit_with("l-1", &x, wrong);
	script_close(&x);
	audit_now(&audit);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.count.graded_equal, 1); /* the form */
	audit_release(&audit);
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	struct line_open open = an_open;
	open.mode = "sit";
	open.course = "small";
	open.content = course_hash(&course);
	code_is(line_open_append(s, &open), FINE);
	struct line_result made_up = {.of = "theory",
		.content = theory.hash,
		.verdict = "passed",
		.percent = "100.00",
		.needed = "60.00",
		.part = {one, 1},
		.part_competency = {one, 1},
		.part_percent = {one, 1},
		.part_needed = {one, 1},
		.part_verdict = {one, 1}};
	code_is(line_result_append(s, &made_up), FINE);
	strand_close(s);
	audit_now(&audit);
	assert_false(audit_is_clean(&audit));
	assert_int_equal(audit.count.graded_differs, 1);
	assert_string_equal(audit.remark->words, "the result is not what the answers come to");
	audit_release(&audit);
}

static void a_form_of_ones_own_choice_is_found(void **state)
{
	static const char *const easy[] = {"twice", "thrice", "twice"};
	struct audit audit;
	struct strand *s;
	(void)state;
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	struct line_open open = an_open;
	open.mode = "sit";
	open.course = "small";
	open.content = course_hash(&course);
	code_is(line_open_append(s, &open), FINE);
	struct line_form form = {.assessment = "theory",
		.title = "Theory",
		.content = theory.hash,
		.attempt = 1,
		.limit_ms = 600000,
		.items = {easy, 3}};
	code_is(line_form_append(s, &form), FINE);
	strand_close(s);
	audit_now(&audit);
	assert_false(audit_is_clean(&audit));
	assert_string_equal(
		audit.remark->words, "the form is not the one drawn for this candidate");
	audit_release(&audit);
	load_theory("candidates: [{candidate: l-1}]\n"); /* another file */
	audit_now(&audit);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.count.graded_not_made, 1);
	audit_release(&audit);
	load_theory("");
}

static void a_whole_sitting_is_made_again(void **state)
{
	static const char *const line[] = {"begin", "right", "0.1", NULL};
	static const char *const rest[] = {
		"go-on", "right", "1", "0.1", "list", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	struct audit audit;
	enum how end;
	(void)state;
	read_and_sit("l-1", &x, line, &end);
	script_close(&x);
	struct sitting_how how = read_and_sit("l-1", &x, rest, &end);
	assert_true(how.is_done);
	script_close(&x);
	audit_now(&audit);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.count.graded_equal, 2);
	assert_int_equal(audit.count.equal, 3); /* held ones are not counted, scored ones are */
	assert_int_equal(audit.count.answers, 3);
	audit_release(&audit);
}

/* Programs before this one scored every answer when it was given. A wrong answer as they wrote it: the line
 * has the outcome and what is right, and is never `held`. */
static void answer_of_before(struct strand *s, const struct past *p, size_t place)
{
	struct arena a = {0};
	struct stream stream;
	struct instance *i;
	struct score score;
	struct desk d = {.course = &course, .strand = s};
	struct line_answer line = {.attempt = 1, .turn = 1, .took_ms = 1000, .typed = "0.1"};
	const struct problem *problem = course_problem(&course, p->form.items.at[place]);
	assert_non_null(problem);
	stream_open(&stream, &(struct draw_key){course.code, problem->code, "l-1", p->sitting, 1});
	code_is(instance_new(&a, problem, &i), FINE);
	code_is(instance_draw(i, &stream), FINE);
	struct line_draw draw = {
		.item = problem->code, .content = problem_hash(problem), .attempt = 1};
	memcpy(draw.key, stream.key, sizeof draw.key);
	code_is(line_draw_append(s, &draw), FINE);
	score_typed(i, 0, "0.1", 3, &score);
	code_is(desk_answer(&d, i, 0, &score, &line), FINE);
	arena_release(&a);
}

static void begun_before(void)
{
	static const char *const begin[] = {"begin", NULL};
	struct script_surface x;
	struct arena a = {0};
	struct past p;
	struct strand *s;
	enum how end;
	read_and_sit("l-1", &x, begin, &end);
	script_close(&x);
	code_is(past_read(strand_at("l-1"), "theory", &a, &p), FINE);
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	struct line_open open = an_open;
	open.mode = "sit";
	open.course = "small";
	open.content = course_hash(&course);
	open.sitting = p.sitting;
	code_is(line_open_append(s, &open), FINE);
	answer_of_before(s, &p, 0);
	answer_of_before(s, &p, 1);
	code_is(line_place_append(s, &(struct line_place){2, 5000}), FINE);
	strand_close(s);
	arena_release(&a);
}

/* One answer stays, one is changed, one is new; stopped in between, and audited like any other. */
static void a_sitting_that_an_older_program_began_goes_on(void **state)
{
	static const char *const stopped[] = {"go-on", "next", "right", NULL};
	static const char *const rest[] = {"go-on", "1", "right", "hand-in", "hand-in", "", NULL};
	struct script_surface x;
	struct audit audit;
	enum how end;
	(void)state;
	begun_before();
	struct sitting_how how = read_and_sit("l-1", &x, stopped, &end);
	script_says(&x, "This sitting was interrupted.");
	script_says(&x, "Your answer so far: 0.1");
	assert_false(how.is_done);
	script_close(&x);
	how = read_and_sit("l-1", &x, rest, &end);
	assert_true(how.is_done && how.passed);
	script_says(&x, "66.67 % of all points");
	script_close(&x);
	audit_now(&audit);
	assert_true(audit_is_clean(&audit));
	assert_int_equal(audit.count.graded_equal, 2);
	audit_release(&audit);
}

static void an_answer_that_was_not_given_is_found(void **state)
{
	static const char *const wrong[] = {"begin", "0.1", "0.1", NULL};
	static const char *const none[] = {"0.00"};
	struct script_surface x;
	struct audit audit;
	struct strand *s;
	(void)state;
	sit_with("l-1", &x, wrong);
	script_close(&x);
	code_is(strand_open(work_folder, "l-1", &machine, &s, NULL), FINE);
	struct line_answer other = {.item = "twice",
		.attempt = 1,
		.ask = 1,
		.turn = 1,
		.typed = "8.00",
		.read_as = "8.00 mm",
		.outcome = "right",
		.slip = "",
		.expected = "8.00",
		.tolerance = "0.01",
		.unit = "mm"};
	struct line_result made_up = {.of = "theory",
		.content = theory.hash,
		.verdict = "passed",
		.percent = "100.00",
		.needed = "60.00",
		.part = {none, 1},
		.part_competency = {none, 1},
		.part_percent = {none, 1},
		.part_needed = {none, 1},
		.part_verdict = {none, 1}};
	struct line_open open = an_open;
	open.mode = "sit";
	open.course = "small";
	open.content = course_hash(&course);
	code_is(line_open_append(s, &open), FINE);
	code_is(line_answer_append(s, &other), FINE);
	code_is(line_result_append(s, &made_up), FINE);
	strand_close(s);
	audit_now(&audit);
	assert_false(audit_is_clean(&audit));
	bool found = false;
	for (const struct audit_remark *r = audit.remark; r; r = r->next)
		found |= strcmp(r->words, "an answer was scored that was not given") == 0;
	assert_true(found);
	audit_release(&audit);
}

int main(void)
{
#define A(t) cmocka_unit_test_setup_teardown(t, room_begin, room_end)
	const struct CMUnitTest tests[] = {
		A(all_right_passes_and_nothing_is_said_before),
		A(who_starts_again_finds_the_same_form),
		A(a_critical_task_that_is_wrong_fails_the_whole),
		A(answers_may_be_changed_and_marked_until_they_are_handed_in),
		A(enter_alone_neither_begins_nor_hands_in),
		A(handing_in_from_a_question_asks_once_more),
		A(what_cannot_be_read_is_asked_again_and_not_recorded),
		A(a_late_answer_is_kept_and_not_counted),
		A(what_stands_in_the_field_at_the_end_is_kept_and_not_counted),
		A(an_answer_in_time_is_not_replaced_by_a_late_one),
		A(power_may_fail_between_any_two_lines),
		A(power_may_fail_while_it_is_handed_in),
		A(nothing_of_the_right_answer_is_written_before_it_is_handed_in),
		A(who_leaves_on_purpose_does_not_stop_the_clock),
		A(a_clock_that_is_moved_is_noticed_and_gives_no_time),
		A(a_clock_moved_while_the_program_was_closed_is_noticed_too),
		A(attempts_and_the_wait_between_them_are_kept),
		A(setting_the_clock_back_in_a_sitting_does_not_shorten_the_wait),
		A(attempts_on_another_machine_count_once_they_are_gathered_here),
		A(attempts_under_another_code_of_the_same_person_count),
		A(only_those_on_the_list_may_sit_and_some_have_more_time),
		A(a_course_that_changed_meanwhile_stops_it),
		A(each_write_fails_in_turn),
		A(each_piece_of_memory_is_missing_in_turn),
		A(two_candidates_get_forms_of_their_own),
		A(a_result_that_was_made_up_is_found),
		A(a_form_of_ones_own_choice_is_found),
		A(a_sitting_that_an_older_program_began_goes_on),
		A(an_answer_that_was_not_given_is_found),
		A(a_whole_sitting_is_made_again),
	};
	return cmocka_run_group_tests(tests, NULL, NULL);
}
