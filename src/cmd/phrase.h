/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Asking for a passphrase. */
#ifndef BARWRIGHT_CMD_PHRASE_H
#define BARWRIGHT_CMD_PHRASE_H

#include <barwright/base/bad.h>

/* The first line of `file`; or, when it is null, what is typed at the terminal after `prompt`, which
 * is not shown. In memory of secret_get, to be given back with secret_drop. Says on stderr why there is
 * none. BAD_TERMINAL: there is no terminal to ask at. */
enum bad phrase_ask(const char *file, const char *prompt, char **out);

#endif
