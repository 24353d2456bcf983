/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Signals. A program that holds a terminal and a record must not just die: the handlers note what
 * was asked in surface_stop, the program saves and closes, and signals_finish then dies of the
 * signal after all, so that whoever started it sees why. */
#ifndef BARWRIGHT_SURFACE_SIGNALS_H
#define BARWRIGHT_SURFACE_SIGNALS_H

#include <stdbool.h>
#include <stdint.h>

#include "surface/surface.h"

/* Once, before a surface opens (ncurses leaves handlers alone that it finds). SIGINT, SIGTERM and
 * SIGHUP set surface_stop, but what the caller has set to be ignored (nohup) stays ignored.
 * SIGPIPE and SIGXFSZ are ignored: writing then says what is wrong. Faults (SIGSEGV, ...,
 * SIGABRT), SIGQUIT, SIGXCPU, timers and SIGUSR1 and 2 give the terminal back before they end the
 * program. */
void signals_install(void);

/* What gives the terminal back in a crash; async-signal-safe. Null: nothing. */
void signals_before_crash(void (*restore)(void));

/* For a surface that must leave the terminal tidy before the program is suspended: from now on
 * SIGTSTP (Ctrl-Z) and SIGCONT are only noted. What was to be ignored stays ignored. */
void signals_note_suspend(void);

/* Notes that end the waiting; each is forgotten once taken. */
bool signals_take_interrupt(void); /* surface_stop was SIGINT, and is now 0 */
bool signals_take_suspend(void);   /* SIGTSTP came */
bool signals_take_continue(void);  /* SIGCONT came */
/* Stops the program as SIGTSTP would have; returns when it is continued. */
void signals_suspend(void);

enum wake {
	WAKE_READY, /* the descriptor can be read, or is at its end */
	WAKE_TIME,  /* the time is over */
	WAKE_NEWS   /* a signal came, or `news` said so */
};
/* Waits until fd can be read, at most ms milliseconds (negative: for ever), or until a signal comes:
 * none is lost between a look at surface_stop and the waiting. `news`, when not null, is asked once
 * with the signals held back; if it says true there is no waiting. */
enum wake signals_wait(int fd, int ms, bool (*news)(void *of), void *of);

/* The milliseconds for signals_wait until that moment of clock_boot; INT64_MAX: for ever. */
int signals_ms_until(int64_t until_ms);

/* After everything is saved and closed: if surface_stop is set, dies of that signal. Returns only
 * if nothing asked to stop. */
void signals_finish(void);

#endif
