/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bench on a terminal: the work is seen above its menu in 24 rows, and neither a kill in the middle
 * of a step, nor a window that changes, nor Ctrl-C loses what was done. */
#include "pty.h"

static char program[512], data[64];

/* The program stands two folders above this test: BUILD/tests/pty/test_bench, BUILD/barwright. */
static int find_program(void **state)
{
	char self[400];
	ssize_t n = readlink("/proc/self/exe", self, sizeof self - 1);
	(void)state;
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
	snprintf(data, sizeof data, "/tmp/barwright-bench-XXXXXX");
	return mkdtemp(data) ? 0 : -1;
}

static int drop_data(void **state)
{
	char command[128];
	(void)state;
	snprintf(command, sizeof command, "rm -rf %s", data);
	return system(command);
}

static void begin(struct pty *p)
{
	static const char *argv[] = {program, "--data", data, "--courses", "courses", "bench",
		"--sitting", "pty", "fabricate-the-bar", NULL};
	pty_start(p, (struct pty_options){
			     .argv = (char *const *)(uintptr_t)argv, .rows = 24, .cols = 80});
}

/* What the record says that was made again. */
static void audit_counts(const char *words)
{
	char command[700], out[4096];
	snprintf(command, sizeof command,
		"LC_ALL=C.UTF-8 %s --data %s --courses courses record audit 2>&1", program, data);
	FILE *f = popen(command, "r");
	assert_non_null(f);
	out[fread(out, 1, sizeof out - 1, f)] = '\0';
	while (fgetc(f) != EOF)
		;
	assert_int_equal(WEXITSTATUS(pclose(f)), 0);
	if (!strstr(out, words))
		fail_msg("the audit does not say '%s':\n%s", words, out);
}

static void receive(struct pty *p)
{
	pty_sees(p, "Receive, disinfect and log the case");
	pty_send(p, "\r");
	pty_sees(p, "Contact time of the disinfectant");
	pty_send(p, "10\r");
	pty_sees(p, "Write product, lot and times in the log?");
	pty_send(p, "2\r");
	pty_sees(p, "Done: Receive, disinfect and log the case.");
}

static void the_work_is_seen_above_its_menu(void **state)
{
	struct pty p;
	(void)state;
	begin(&p);
	receive(&p);
	pty_sees(&p, "0 h 20 min");
	pty_sees(&p, "patient's left");
	pty_sees(&p, "\xE2\x97\x8F"); /* a cylinder */
	pty_sees(&p, "Verify cast, analogs and try-in");
	pty_sees(&p, "End the work here");
	pty_send(&p, "\033");
	pty_sees(&p, "Leave the bench? The work stays as it is");
	pty_send(&p, "\r"); /* what is marked is to stay */
	pty_loses(&p, "Leave the bench?");
	pty_sees(&p, "What do you do?");
	pty_send(&p, "\033");
	pty_loses(&p, "What do you do?");
	pty_sees(&p, "Leave the bench?");
	pty_send(&p, "2\r");
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
	audit_counts("1 the same, 0 different");
}

static void a_kill_in_the_middle_of_a_step_loses_that_step_alone(void **state)
{
	struct pty p;
	(void)state;
	begin(&p);
	receive(&p);
	pty_send(&p, "\r");
	pty_sees(&p, "How many analogs are tried");
	pty_send(&p, "5\r");
	pty_sees(&p, "Try the verification index");
	kill(p.child, SIGKILL);
	pty_ended(&p);
	pty_close(&p);
	begin(&p);
	pty_sees(&p, "A run of this is unfinished, after 1 decision.");
	pty_send(&p, "\r");
	pty_sees(&p, "free, 0 h 20 min");
	pty_sees(&p, "Verify cast, analogs and try-in");
	pty_send(&p, KEY_CTRL_C_);
	pty_sees(&p, "The run goes on where you left it.");
	pty_send(&p, KEY_CTRL_C_);
	assert_int_equal(pty_ended(&p), 0);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
	audit_counts("1 the same, 0 different");
}

static void a_window_that_changes_shows_the_same_work(void **state)
{
	struct pty p;
	(void)state;
	begin(&p);
	receive(&p);
	pty_resize(&p, 60, 200);
	pty_sees(&p, "End the work here");
	pty_sees(&p, "Done: Receive, disinfect and log the case.");
	pty_resize(&p, 24, 80);
	pty_sees(&p, "End the work here");
	pty_send(&p, "q");
	pty_sees(&p, "The run goes on where you left it.");
	pty_send(&p, "q");
	pty_ended(&p);
	assert_true(pty_is_restored(&p));
	pty_close(&p);
	audit_counts("1 the same, 0 different");
}

int main(void)
{
#define RUN(name) cmocka_unit_test_setup_teardown(name, fresh_data, drop_data)
	const struct CMUnitTest tests[] = {
		RUN(the_work_is_seen_above_its_menu),
		RUN(a_kill_in_the_middle_of_a_step_loses_that_step_alone),
		RUN(a_window_that_changes_shows_the_same_work),
	};
	return cmocka_run_group_tests(tests, find_program, NULL);
}
