/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each case runs in a child of its own and tells by its exit what happened. */
#include "near.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/wait.h>
#include <unistd.h>

#include <barwright/base/bad.h>

#include "surface/signals.h"

/* The exit status of body in a child; -N when signal N ended it. */
static int in_child(int (*body)(void))
{
	int status;
	pid_t child = fork();
	if (child == 0)
		_exit(body());
	assert_int_equal(waitpid(child, &status, 0), child);
	return WIFEXITED(status) ? WEXITSTATUS(status) : -WTERMSIG(status);
}

static int stop_by(int number)
{
	signals_install();
	raise(number);
	if (surface_stop != number)
		return 1;
	signals_finish();
	return 2;
}

static int stop_by_term(void)
{
	return stop_by(SIGTERM);
}

static int stop_by_hangup(void)
{
	return stop_by(SIGHUP);
}

static int stop_by_interrupt(void)
{
	return stop_by(SIGINT);
}

static int hangup_ignored(void)
{
	signal(SIGHUP, SIG_IGN);
	signals_install();
	raise(SIGHUP);
	signals_finish();
	return surface_stop ? 1 : 40;
}

static int interrupt_after_term(void)
{
	signals_install();
	raise(SIGTERM);
	raise(SIGINT);
	if (signals_take_interrupt())
		return 1;
	signals_finish();
	return 2;
}

static int interrupt_taken_back(void)
{
	signals_install();
	raise(SIGINT);
	if (!signals_take_interrupt() || signals_take_interrupt())
		return 1;
	signals_finish();
	return 41;
}

static int writing_to_nobody(void)
{
	int ends[2];
	signals_install();
	if (pipe(ends) || close(ends[0]))
		return 1;
	return write(ends[1], "x", 1) < 0 && errno == EPIPE ? 42 : 2;
}

static void farewell(void)
{
	if (write(STDERR_FILENO, "", 0) == 0)
		_exit(43);
}

static int crash_runs_the_farewell(void)
{
	signals_install();
	signals_before_crash(farewell);
	abort();
}

static int stray_signal_runs_the_farewell(void)
{
	signals_install();
	signals_before_crash(farewell);
	raise(SIGUSR1);
	return 1;
}

static int stray_signal_ignored(void)
{
	signal(SIGQUIT, SIG_IGN);
	signals_install();
	signals_before_crash(farewell);
	raise(SIGQUIT);
	return 44;
}

static int time_is_up(void)
{
	signals_install();
	raise(SIGXCPU);
	return 1;
}

static int crash_without_farewell(void)
{
	signals_install();
	abort();
}

static void signals_do_what_they_should(void **state)
{
	(void)state;
	static const struct {
		const char *why;
		int (*body)(void);
		int want;
	} cases[] = {
		{"SIGTERM is noted, and kills at the end", stop_by_term, -SIGTERM},
		{"SIGHUP", stop_by_hangup, -SIGHUP},
		{"SIGINT", stop_by_interrupt, -SIGINT},
		{"an ignored SIGHUP stays ignored", hangup_ignored, 40},
		{"Ctrl-C does not hide an order to end", interrupt_after_term, -SIGTERM},
		{"Ctrl-C can be taken back, once", interrupt_taken_back, 41},
		{"a closed pipe is an error, no death", writing_to_nobody, 42},
		{"a crash runs the farewell", crash_runs_the_farewell, 43},
		{"so does a signal nobody expects", stray_signal_runs_the_farewell, 43},
		{"an ignored SIGQUIT stays ignored", stray_signal_ignored, 44},
		{"the end of the time allowed kills", time_is_up, -SIGXCPU},
		{"and dies of its own signal", crash_without_farewell, -SIGABRT},
	};
	for (size_t i = 0; i < sizeof cases / sizeof *cases; i++) {
		int got = in_child(cases[i].body);
		if (got != cases[i].want)
			fail_msg("%s: ended with %d, want %d", cases[i].why, got, cases[i].want);
	}
}

static bool no_news(void *of)
{
	++*(int *)of;
	return false;
}

static bool news(void *of)
{
	++*(int *)of;
	return true;
}

static void waiting_ends_for_input_time_and_news(void **state)
{
	(void)state;
	int ends[2], asked = 0;
	assert_int_equal(pipe(ends), 0);
	assert_int_equal(signals_wait(ends[0], 10, no_news, &asked), WAKE_TIME);
	assert_int_equal(signals_wait(ends[0], -1, news, &asked), WAKE_NEWS);
	assert_int_equal(write(ends[1], "x", 1), 1);
	assert_int_equal(signals_wait(ends[0], -1, no_news, &asked), WAKE_READY);
	assert_int_equal(asked, 3);
	close(ends[1]);
	char c;
	assert_int_equal(read(ends[0], &c, 1), 1);
	assert_int_equal(signals_wait(ends[0], -1, NULL, NULL), WAKE_READY); /* its end */
	surface_stop = SIGTERM; /* came before the waiting: it must not be slept through */
	assert_int_equal(signals_wait(STDIN_FILENO, -1, NULL, NULL), WAKE_NEWS);
	surface_stop = 0;
	close(ends[0]);
}

int main(void)
{
	/* nohup and shells that run this in the background ignore some of them. */
	static const int all[] = {SIGHUP, SIGINT, SIGQUIT, SIGTERM};
	for (size_t k = 0; k < sizeof all / sizeof *all; k++)
		signal(all[k], SIG_DFL);
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(signals_do_what_they_should),
		cmocka_unit_test(waiting_ends_for_input_time_and_news),
	};
	return cmocka_run_group_tests_name("signals", tests, NULL, NULL);
}
