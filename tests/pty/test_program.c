/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole program on a terminal: a learner opens it, drills, leaves, is cut off; what the screen shows
 * is what the plain surface says, and the record holds what was acknowledged. */
#include "pty.h"

#include <sys/stat.h>

static char program[512], data[64];

/* The program stands two folders above this test: BUILD/tests/pty/test_program, BUILD/barwright. */
static int find_program(void **state)
{
	(void)state;
	char self[400];
	ssize_t n = readlink("/proc/self/exe", self, sizeof self - 1);
	assert_true(n > 0);
	self[n] = '\0';
	for (int k = 0; k < 3; k++)
		*strrchr(self, '/') = '\0';
	snprintf(program, sizeof program, "%s/barwright", self);
	return 0;
}

static int fresh_data(void **state)
{
	(void)state;
	snprintf(data, sizeof data, "/tmp/barwright-pty-XXXXXX");
	return mkdtemp(data) ? 0 : -1;
}

static int drop_data(void **state)
{
	(void)state;
	char command[128];
	snprintf(command, sizeof command, "rm -rf %s", data);
	return system(command);
}

/* Runs the program without a terminal and gives back what it printed and its exit status. */
static int say(const char *args, const char *input, char *out, size_t room)
{
	char command[2048];
	snprintf(command, sizeof command,
		"printf '%s' | LC_ALL=C.UTF-8 %s --data %s --courses courses %s 2>&1", input,
		program, data, args);
	FILE *f = popen(command, "r");
	assert_non_null(f);
	size_t n = fread(out, 1, room - 1, f);
	out[n] = '\0';
	return WEXITSTATUS(pclose(f));
}

static void audit_finds(const char *words)
{
	static char out[1 << 16];
	assert_int_equal(say("record audit", "", out, sizeof out), 0);
	if (!strstr(out, words))
		fail_msg("the audit does not say '%s':\n%s", words, out);
}

static void begin(
	struct pty *p, int rows, int cols, const char *const *args, const char *const *env)
{
	static const char *argv[16];
	size_t n = 0;
	argv[n++] = program;
	argv[n++] = "--data";
	argv[n++] = data;
	argv[n++] = "--courses";
	argv[n++] = "courses";
	while (*args && n < 15)
		argv[n++] = *args++;
	argv[n] = NULL;
	pty_start(p, (struct pty_options){.argv = (char *const *)(uintptr_t)argv,
			     .rows = rows,
			     .cols = cols,
			     .env = env});
}

static const char *const no_args[] = {NULL};
static const char *const drill_spread[] = {
	"drill", "--alone", "--sitting", "pty", "centre-spread", NULL};

static void it_opens_on_what_the_course_holds(void **state)
{
	(void)state;
	struct pty p;
	begin(&p, 24, 80, no_args, NULL);
	pty_sees(&p, "What the course holds");
	pty_sees(&p, "A-P spread");
	pty_sees(&p, "No task is practised yet");
	pty_sees(&p, "Practise what is due");
	pty_send(&p, "4\r");
	pty_sees(&p, "Which work?");
	pty_sees(&p, "Is there room for a bar?");
	pty_send(&p, "\033");
	pty_sees(&p, "What would you like to do?");
	pty_loses(&p, "Which work?");
	pty_send(&p, "q");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
}

static void a_wrong_number_is_answered_and_recorded(void **state)
{
	(void)state;
	struct pty p;
	begin(&p, 24, 80, drill_spread, NULL);
	pty_sees(&p, "A-P spread between centres");
	pty_sees(&p, "Your answer");
	pty_send(&p, "1,2,3\r");
	pty_sees(&p, "more than one decimal sign");
	pty_send(&p, "\b\b3\r"); /* what was typed is kept: 1,23 */
	pty_sees(&p, "Not right");
	pty_sees(&p, "What now?");
	pty_send(&p, "2");
	pty_send(&p, "\r");
	pty_sees(&p, "Go on?");
	pty_sees(&p, "Answer:");
	pty_send(&p, "2\r");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
	audit_finds("1 answer, ");
	audit_finds("1 the same, 0 different");
}

static void ctrl_c_asks_once_and_loses_nothing(void **state)
{
	(void)state;
	struct pty p;
	begin(&p, 24, 80, drill_spread, NULL);
	pty_sees(&p, "Your answer");
	pty_send(&p, "7\r");
	pty_sees(&p, "What now?");
	pty_send(&p, KEY_CTRL_C_);
	pty_settle(&p, 200);
	pty_send(&p, KEY_CTRL_C_);
	pty_ended(&p);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
	audit_finds("1 answer, ");
}

static void a_closed_window_loses_nothing(void **state)
{
	(void)state;
	struct pty p;
	begin(&p, 24, 80, drill_spread, NULL);
	pty_sees(&p, "Your answer");
	pty_send(&p, "7\r");
	pty_sees(&p, "What now?");
	pty_hang_up(&p);
	pty_ended(&p);
	pty_close(&p);
	audit_finds("1 answer, ");
	audit_finds("1 the same");
}

static void the_window_may_change_its_size(void **state)
{
	(void)state;
	struct pty p;
	begin(&p, 24, 80, drill_spread, NULL);
	pty_sees(&p, "Your answer");
	pty_send(&p, "97."); /* wrong, whatever is drawn */
	pty_resize(&p, 10, 40);
	pty_settle(&p, 200);
	pty_resize(&p, 40, 120);
	pty_sees(&p, "patient's right");
	pty_sees(&p, "97.");
	pty_send(&p, "5\r");
	pty_sees(&p, "What now?");
	pty_send(&p, "3\r");
	pty_sees(&p, "Go on?");
	pty_send(&p, "2\r");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* Without the brackets round a note and the colon behind a label. */
static const char *bare(char *word)
{
	size_t n = strlen(word);
	if (n && (word[n - 1] == ')' || word[n - 1] == ':'))
		word[n - 1] = '\0';
	return *word == '(' ? word + 1 : word;
}

/* Every word of the plain dialogue, its own talk and the drawing left out, stands on a large screen too. */
static void the_screen_shows_what_the_plain_surface_says(void **state)
{
	(void)state;
	static char plain[1 << 16], shown[PTY_CELLS];
	struct pty p;
	static const char *const same[] = {
		"drill", "--alone", "--sitting", "pty", "--unrecorded", "one-site", NULL};
	say("--plain --words drill --alone --sitting pty --unrecorded one-site", "steps\\n", plain,
		sizeof plain);
	begin(&p, 90, 120, same, NULL);
	pty_sees(&p, "Your answer");
	pty_send(&p, "steps\r");
	pty_sees(&p, "Asked, 2 of 2");
	memcpy(shown, pty_look(&p), sizeof shown);
	pty_send(&p, KEY_CTRL_C_);
	pty_settle(&p, 100);
	pty_send(&p, KEY_CTRL_C_);
	pty_ended(&p);
	pty_close(&p);
	char *end = strstr(plain, "Asked, 2 of 2");
	assert_non_null(end);
	*end = '\0';
	/* What only the plain surface says: the drawing in words, how to type. */
	char *figure = strstr(plain, "Figure:"), *after = strstr(plain, "\n\nAsked, 1 of 2");
	assert_true(figure && after && figure < after);
	memset(figure, ' ', (size_t)(after - figure));
	for (char *line = strtok_r(plain, "\n", &end); line; line = strtok_r(NULL, "\n", &end)) {
		if (*line == '>' || *line == '(' || strncmp(line, "Your answer", 11) == 0 ||
			strncmp(line, "Also:", 5) == 0)
			continue;
		char *rest;
		for (char *word = strtok_r(line, " ", &rest); word;
			word = strtok_r(NULL, " ", &rest))
			if (!strstr(shown, bare(word)))
				fail_msg("'%s' is not on the screen:\n%s", word, shown);
	}
}

static void a_terminal_that_cannot_do_it_is_told_so(void **state)
{
	(void)state;
	static const char *const unknown[] = {"TERM=no-such-terminal", NULL};
	struct pty p;
	begin(&p, 24, 80, no_args, unknown);
	pty_sees(&p, "--plain");
	assert_int_equal(pty_ended(&p), 2);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
}

static void without_utf8_it_draws_in_ascii(void **state)
{
	(void)state;
	static const char *const plain[] = {"LC_ALL=C", NULL};
	struct pty p;
	begin(&p, 40, 100, drill_spread, plain);
	pty_sees(&p, "Your answer");
	for (const char *at = pty_look(&p); *at; at++)
		if ((unsigned char)*at > 126)
			fail_msg("a byte that is not ASCII:\n%s", pty_look(&p));
	pty_send(&p, KEY_CTRL_C_);
	pty_settle(&p, 100);
	pty_send(&p, KEY_CTRL_C_);
	pty_ended(&p);
	pty_close(&p);
}

static void a_worked_example_comes_first_and_then_steps_are_given(void **state)
{
	static const char *const args[] = {"drill", "--sitting", "pty", "centre-spread", NULL};
	(void)state;
	struct pty p;
	begin(&p, 40, 100, args, NULL);
	pty_sees(&p, "a worked example");
	pty_sees(&p, "Work one yourself");
	pty_send(&p, "1");
	pty_send(&p, "\r");
	pty_sees(&p, "task 1");
	pty_sees(&p, "Your answer");
	pty_send(&p, "1\r");
	pty_sees(&p, "Not right");
	pty_send(&p, KEY_CTRL_C_);
	pty_settle(&p, 200);
	pty_send(&p, KEY_CTRL_C_);
	pty_ended(&p);
	pty_close(&p);
	audit_finds("2 tasks drawn, 1 answer, ");
	audit_finds("1 the same, 0 different");
}

static void what_was_done_stands_on_the_home_page_next_time(void **state)
{
	(void)state;
	static char out[1 << 16];
	struct pty p;
	assert_int_equal(say("--plain --words drill --alone --count 1 thickness",
				 "12\\non\\n13\\non\\n", out, sizeof out),
		0);
	begin(&p, 30, 100, no_args, NULL);
	pty_sees(&p, "0 of 2 right");
	pty_sees(&p, "The last answer was not right");
	pty_sees(&p, "Bar thickness: last answer not right");
	pty_send(&p, "q");
	assert_int_equal(pty_ended(&p), 0);
	pty_close(&p);
}

/* What is graded has a name on it: it is asked for on both surfaces, and Esc makes nothing. */
static void who_sits_or_is_rated_is_asked_for_their_name(void **state)
{
	(void)state;
	static const char *const sit[] = {"sit", "first-steps", NULL};
	static const char *const sit_plain[] = {"--plain", "sit", "first-steps", NULL};
	static const char *const rate[] = {"rate", "--rater", "B. Lund", "bench", NULL};
	char strands[128];
	struct pty p;
	begin(&p, 24, 80, sit, NULL);
	pty_sees(&p, "Who sits it? Your name");
	pty_send(&p, "\033");
	assert_int_equal(pty_ended(&p), 1);
	pty_close(&p);
	snprintf(strands, sizeof strands, "%s/strands", data);
	assert_int_equal(access(strands, F_OK), -1);
	begin(&p, 24, 80, sit_plain, NULL);
	pty_sees(&p, "Who sits it? Your name");
	pty_send(&p, "Ada Lindqvist\r");
	pty_sees(&p, "Candidate: Ada Lindqvist");
	pty_send(&p, "leave\r");
	assert_int_equal(pty_ended(&p), 1);
	pty_close(&p);
	begin(&p, 24, 80, rate, NULL);
	pty_sees(&p, "Whose work is it? Their name");
	pty_send(&p, "Ada Lindqvist\r");
	pty_sees(&p, "Which station?");
	pty_sees(&p, "Ada Lindqvist");
	pty_send(&p, "q");
	assert_int_equal(pty_ended(&p), 1);
	pty_close(&p);
}

int main(void)
{
#define WITH_DATA(f) cmocka_unit_test_setup_teardown(f, fresh_data, drop_data)
	const struct CMUnitTest tests[] = {
		WITH_DATA(it_opens_on_what_the_course_holds),
		WITH_DATA(a_wrong_number_is_answered_and_recorded),
		WITH_DATA(ctrl_c_asks_once_and_loses_nothing),
		WITH_DATA(a_closed_window_loses_nothing),
		WITH_DATA(the_window_may_change_its_size),
		WITH_DATA(the_screen_shows_what_the_plain_surface_says),
		WITH_DATA(a_terminal_that_cannot_do_it_is_told_so),
		WITH_DATA(without_utf8_it_draws_in_ascii),
		WITH_DATA(a_worked_example_comes_first_and_then_steps_are_given),
		WITH_DATA(what_was_done_stands_on_the_home_page_next_time),
		WITH_DATA(who_sits_or_is_rated_is_asked_for_their_name),
	};
	return cmocka_run_group_tests(tests, find_program, NULL);
}
