/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "surface/signals.h"

#include <errno.h>
#include <signal.h>
#include <stdlib.h>
#include <sys/select.h>
#include <time.h>

static const int stop_signals[] = {SIGINT, SIGTERM, SIGHUP};
static const int crash_signals[] = {SIGSEGV, SIGBUS, SIGFPE, SIGILL, SIGABRT, SIGQUIT};
enum {
	STOP_COUNT = sizeof stop_signals / sizeof *stop_signals,
	CRASH_COUNT = sizeof crash_signals / sizeof *crash_signals
};

static struct sigaction before_crash[CRASH_COUNT];
static void (*restore_terminal)(void);

/* A SIGINT may be taken back by the person, so it never hides an order to end. */
static void note_stop(int signal)
{
	if (signal != SIGINT || !surface_stop)
		surface_stop = signal;
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

void signals_install(void)
{
	struct sigaction stop = {.sa_handler = note_stop}, now;
	sigemptyset(&stop.sa_mask);
	for (size_t i = 0; i < STOP_COUNT; i++)
		if (sigaction(stop_signals[i], NULL, &now) == 0 && now.sa_handler != SIG_IGN)
			sigaction(stop_signals[i], &stop, NULL);
	struct sigaction ignore = {.sa_handler = SIG_IGN};
	sigaction(SIGPIPE, &ignore, NULL);
	sigaction(SIGXFSZ, &ignore, NULL);
	crash_stack_install();
	struct sigaction last = {.sa_handler = crash, .sa_flags = SA_ONSTACK};
	sigemptyset(&last.sa_mask);
	for (size_t i = 0; i < CRASH_COUNT; i++)
		sigaction(crash_signals[i], &last, &before_crash[i]);
}

enum wake signals_wait(int fd, int ms, bool (*news)(void *of), void *of)
{
	sigset_t held, usual;
	sigemptyset(&held);
	for (size_t i = 0; i < STOP_COUNT; i++)
		sigaddset(&held, stop_signals[i]);
	sigaddset(&held, SIGWINCH);
	sigprocmask(SIG_BLOCK, &held, &usual);
	enum wake wake = WAKE_NEWS;
	if (fd >= FD_SETSIZE) {
		wake = WAKE_READY;
	} else if (!surface_stop && !(news && news(of))) {
		struct timespec time = {.tv_sec = ms / 1000, .tv_nsec = ms % 1000 * 1000000L};
		fd_set set;
		FD_ZERO(&set);
		FD_SET(fd, &set);
		int n = pselect(fd + 1, &set, NULL, NULL, ms < 0 ? NULL : &time, &usual);
		/* Any fault but an interruption shows again, with its name, in the read that follows. */
		bool stirred = n < 0 && errno == EINTR;
		wake = stirred ? WAKE_NEWS : n == 0 ? WAKE_TIME : WAKE_READY;
	}
	sigprocmask(SIG_SETMASK, &usual, NULL);
	return wake;
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
