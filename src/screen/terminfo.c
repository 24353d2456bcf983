/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "screen/terminfo.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "surface/charset.h"

#include "screen/curses_door.h"
#include <term.h> /* last: it takes words like "lines" as macros */

const char *terminfo_bytes(const char *name)
{
	const char *bytes = tigetstr(name);
	return bytes == (const char *)-1 ? NULL : bytes;
}

static enum bad refuse(struct text *why, const char *before, const char *kind, const char *after)
{
	text_add(why, before);
	charset_add(why, kind, strlen(kind), false, charset_is_utf8());
	text_add(why, after);
	return BAD_TERMINAL;
}

enum bad terminfo_check(struct text *why)
{
	const char *kind = getenv("TERM");
	int known = 0;
	if (!kind || !*kind)
		return refuse(why, "TERM is not set, so the kind of terminal is not known", "", "");
	if (setupterm(kind, STDOUT_FILENO, &known) != OK)
		return refuse(why, "no description is installed for terminals of the kind \"", kind,
			"\" (TERM); most understand TERM=xterm-256color");
	bool places = terminfo_bytes("cup") && terminfo_bytes("clear");
	del_curterm(cur_term);
	if (!places)
		return refuse(why, "a terminal of the kind \"", kind,
			"\" (TERM) cannot place the cursor");
	return FINE;
}

/* ---- the farewell ----------------------------------------------------------------------------- */

static char *farewell;
static size_t farewell_len, farewell_room;

static int keep_byte(int c)
{
	if (farewell_len < farewell_room)
		farewell[farewell_len++] = (char)c;
	return c;
}

size_t terminfo_farewell(char *out, size_t room)
{
	static const char *const names[] = {"BD", "sgr0", "op", "cnorm", "rmkx", "rmcup"};
	farewell = out;
	farewell_len = 0;
	farewell_room = room;
	for (size_t i = 0; i < sizeof names / sizeof *names; i++) {
		const char *bytes = terminfo_bytes(names[i]);
		if (bytes)
			tputs(bytes, 1, keep_byte);
	}
	farewell = NULL;
	return farewell_len;
}
