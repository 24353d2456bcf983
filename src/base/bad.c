/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <barwright/base/bad.h>

static const struct {
	const char *word, *text;
} entries[BAD_COUNT_OF_CODES] = {[FINE] = {"fine", "nothing went wrong"},
#define X(name, word, text) [BAD_##name] = {word, text},
	BAD_LIST(X)
#undef X
};

static enum bad known(enum bad code)
{
	return (unsigned)code < BAD_COUNT_OF_CODES ? code : BAD_RANGE;
}

const char *bad_word(enum bad code)
{
	return entries[known(code)].word;
}

const char *bad_text(enum bad code)
{
	return entries[known(code)].text;
}
