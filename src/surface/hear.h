/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a typed line means as a reply to a question: the same on every surface. */
#ifndef BARWRIGHT_SURFACE_HEAR_H
#define BARWRIGHT_SURFACE_HEAR_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "surface/surface.h"

/* Words that mean the same everywhere: name, word, what it does. A question's own choices come
 * first, so a list may have an entry "back" of its own. */
#define SPOKEN(X) \
	X(BACK, "back", "go back one page") \
	X(LEAVE, "leave", "leave the program") \
	X(HELP, "?", "say what can be typed here")

enum spoken {
#define X(name, word, text) SPOKEN_##name,
	SPOKEN(X)
#undef X
		SPOKEN_COUNT
};
/* Static texts; `which` below SPOKEN_COUNT. */
const char *spoken_word(enum spoken which);
const char *spoken_text(enum spoken which);

enum heard {
	HEARD_REPLY, /* *out is the reply */
	HEARD_HELP,  /* the person asks what can be typed */
	HEARD_FAULT  /* *fault says, in a static sentence, why the line was not taken */
};
/* `line` is any bytes without its line end; blanks around it do not count. Numbers of a list are
 * those that stand there (question_number); a word may be typed in capitals. Writes *out or *fault, whichever the result names. */
enum heard hear_line(const struct question *q, const char *line, size_t len, struct reply *out,
	const char **fault);

/* May this code point stand in a reply? No controls, nothing invisible or reordering. */
bool hear_is_typable(uint32_t code);

#endif
