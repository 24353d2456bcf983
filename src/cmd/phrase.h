/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking for a passphrase. */
#ifndef BARWRIGHT_CMD_PHRASE_H
#define BARWRIGHT_CMD_PHRASE_H

#include <barwright/base/bad.h>

/* How often a passphrase may be typed wrong. */
enum { PHRASE_TRIES = 3 };
struct phrase_use {
	const char *file; /* its first line; null: it is typed at the terminal, after `prompt` */
	const char *prompt;
	int tries; /* at the terminal: how often it may be wrong */
	/* What is done with it. BAD_SEAL: it is the wrong one. Nothing that is typed shows meanwhile. */
	enum bad (*open)(void *context, const char *phrase);
	/* Null, or called once when nothing came of it, also before a signal (Ctrl-C) ends the program. */
	void (*gave_up)(void *context);
	void *context;
};
/* FINE, what `open` said last, or why there was no passphrase, which is said on stderr; BAD_STOPPED: a
 * signal came and did not end the program. What was typed while `open` worked is forgotten. */
enum bad phrase_use(const struct phrase_use *u);

/* The first line of `file`; or, when it is null, what is typed at the terminal after `prompt`, which
 * is not shown. In memory of secret_get, to be given back with secret_drop. Says on stderr why there is
 * none. BAD_TERMINAL: there is no terminal to ask at. */
enum bad phrase_ask(const char *file, const char *prompt, char **out);

#endif
