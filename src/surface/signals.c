/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/signals.h"

#include <errno.h>
#include <limits.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/select.h>
#include <time.h>

#include <barwright/base/clock.h>

static const int stop_signals[] = {SIGINT, SIGTERM, SIGHUP};
/* What else ends a program: faults of its own, the end of the time it is allowed, strays. */
static const int crash_signals[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGSYS, SIGTRAP, SIGABRT,
	SIGQUIT, SIGXCPU, SIGALRM, SIGVTALRM, SIGPROF, SIGUSR1, SIGUSR2};
enum {
	STOP_COUNT = sizeof stop_signals / sizeof *stop_signals,
	CRASH_COUNT = sizeof crash_signals / sizeof *crash_signals
};

static volatile sig_atomic_t suspend_noted, continue_noted;
static struct sigaction before_crash[CRASH_COUNT];
static void (*restore_terminal)(void);

/* A SIGINT may be taken back by the person, so it never hides an order to end. */
static void note_stop(int signal)
{
	if (signal != SIGINT || !surface_stop)
		surface_stop = signal;
}

static void note_job(int signal)
{
	if (signal == SIGTSTP)
		suspend_noted = 1;
	else
		continue_noted = 1;
}

/* The action that stood before (death, or a sanitizer's report) then takes over. */
static void crash(int signal)
{
	if (restore_terminal)
		restore_terminal();
	for (size_t i = 0; i < CRASH_COUNT; i++)
		if (crash_signals[i] == signal)
			sigaction(signal, &before_crash[i], NULL);
	raise(signal);
}

void signals_before_crash(void (*restore)(void))
{
	restore_terminal = restore;
}

/* A stack of its own for the crash handler, since the usual one may be what ran out. */
static void crash_stack_install(void)
{
	static _Alignas(16) unsigned char room[64 * 1024];
	stack_t now;
	if (sigaltstack(NULL, &now) == 0 && (now.ss_flags & SS_DISABLE))
		sigaltstack(&(stack_t){.ss_sp = room, .ss_size = sizeof room}, NULL);
}

static void install_unless_ignored(int signal, void (*handler)(int))
{
	struct sigaction now, new = {.sa_handler = handler};
	sigemptyset(&new.sa_mask);
	if (sigaction(signal, NULL, &now) == 0 && now.sa_handler != SIG_IGN)
		sigaction(signal, &new, NULL);
}

void signals_install(void)
{
	for (size_t i = 0; i < STOP_COUNT; i++)
		install_unless_ignored(stop_signals[i], note_stop);
	struct sigaction ignore = {.sa_handler = SIG_IGN};
	sigaction(SIGPIPE, &ignore, NULL);
	sigaction(SIGXFSZ, &ignore, NULL);
	crash_stack_install();
	struct sigaction last = {.sa_handler = crash, .sa_flags = SA_ONSTACK};
	sigemptyset(&last.sa_mask);
	for (size_t i = 0; i < CRASH_COUNT; i++) {
		sigaction(crash_signals[i], &last, &before_crash[i]);
		if (before_crash[i].sa_handler == SIG_IGN)
			sigaction(crash_signals[i], &before_crash[i], NULL);
	}
}

void signals_note_suspend(void)
{
	install_unless_ignored(SIGTSTP, note_job);
	install_unless_ignored(SIGCONT, note_job);
}

/* The signals whose notes are read here, held back while they are. */
static void hold(sigset_t *usual)
{
	sigset_t held;
	sigemptyset(&held);
	for (size_t i = 0; i < STOP_COUNT; i++)
		sigaddset(&held, stop_signals[i]);
	sigaddset(&held, SIGWINCH);
	sigaddset(&held, SIGTSTP);
	sigaddset(&held, SIGCONT);
	sigprocmask(SIG_BLOCK, &held, usual);
}

bool signals_take_interrupt(void)
{
	sigset_t usual;
	hold(&usual);
	bool came = surface_stop == SIGINT;
	if (came)
		surface_stop = 0;
	sigprocmask(SIG_SETMASK, &usual, NULL);
	return came;
}

static bool take(volatile sig_atomic_t *note)
{
	bool came = *note;
	*note = 0;
	return came;
}

bool signals_take_suspend(void)
{
	return take(&suspend_noted);
}

bool signals_take_continue(void)
{
	return take(&continue_noted);
}

void signals_suspend(void)
{
	struct sigaction usual = {.sa_handler = SIG_DFL}, noting;
	sigemptyset(&usual.sa_mask);
	sigaction(SIGTSTP, &usual, &noting);
	raise(SIGTSTP);
	sigaction(SIGTSTP, &noting, NULL);
}

/* With the signals held back: waits until the descriptor, the time or a signal ends it. */
static enum wake wait_held(int fd, int ms, const sigset_t *usual)
{
	struct timespec time = {.tv_sec = ms / 1000, .tv_nsec = ms % 1000 * 1000000L};
	fd_set set;
	if (fd >= FD_SETSIZE)
		return WAKE_READY;
	FD_ZERO(&set);
	FD_SET(fd, &set);
	int n = pselect(fd + 1, &set, NULL, NULL, ms < 0 ? NULL : &time, usual);
	if (n < 0 && errno == EINTR)
		return WAKE_NEWS;
	/* Any other fault shows again, with its name, in the read that follows. */
	return n == 0 ? WAKE_TIME : WAKE_READY;
}

enum wake signals_wait(int fd, int ms, bool (*news)(void *of), void *of)
{
	sigset_t usual;
	hold(&usual);
	bool noted = surface_stop || suspend_noted || continue_noted || (news && news(of));
	enum wake wake = noted ? WAKE_NEWS : wait_held(fd, ms, &usual);
	sigprocmask(SIG_SETMASK, &usual, NULL);
	return wake;
}

int signals_ms_until(int64_t until_ms)
{
	int64_t left = until_ms - clock_boot();
	if (until_ms == INT64_MAX)
		return -1;
	return left < 0 ? 0 : left > INT_MAX ? INT_MAX : (int)left;
}

void signals_finish(void)
{
	int number = surface_stop;
	if (!number)
		return;
	struct sigaction usual = {.sa_handler = SIG_DFL};
	sigset_t open;
	sigemptyset(&open);
	sigaddset(&open, number);
	sigaction(number, &usual, NULL);
	raise(number);
	sigprocmask(SIG_UNBLOCK, &open, NULL);
	_Exit(128 + number);
}
