/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/options.h"

#include <string.h>

#include <barwright/base/nearest.h>

/* ---- those of every command ------------------------------------------------------------------ */

static const struct {
	const char *name;
	size_t flag, value; /* offset in struct options of a bool or of a text */
	bool is_flag;
} option_list[] = {
	{"--plain", offsetof(struct options, plain), 0, true},
	{"--words", offsetof(struct options, words), 0, true},
	{"--json", offsetof(struct options, json), 0, true},
	{"--data", 0, offsetof(struct options, data), false},
	{"--courses", 0, offsetof(struct options, courses), false},
	{"--course", 0, offsetof(struct options, course), false},
	{"--learner", 0, offsetof(struct options, learner), false},
};
enum { OPTION_LIST = sizeof option_list / sizeof *option_list };

int options_take(struct options *o, char **argv, int *at)
{
	for (size_t k = 0; k < OPTION_LIST; k++) {
		size_t len = strlen(option_list[k].name);
		const char *arg = argv[*at];
		if (option_list[k].is_flag && strcmp(arg, option_list[k].name) == 0) {
			*(bool *)((char *)o + option_list[k].flag) = true;
			return 1;
		}
		if (option_list[k].is_flag || strncmp(arg, option_list[k].name, len) ||
			(arg[len] && arg[len] != '='))
			continue;
		const char *value = arg[len] ? arg + len + 1 : argv[*at + 1];
		if (!value || !*value)
			return -1;
		*(const char **)((char *)o + option_list[k].value) = value;
		*at += !arg[len];
		return 1;
	}
	return 0;
}

/* ---- what is wrong --------------------------------------------------------------------------- */

/* How long the name is in "--name" or "--name=value". */
static size_t name_len(const char *word)
{
	return strcspn(word, "=");
}

void option_near_add(struct text *out, const char *word, const struct option *known)
{
	static const char *const more[] = {"help", "version"};
	if (strncmp(word, "--", 2) != 0)
		return;
	struct nearest near = {.wanted = word + 2, .len = name_len(word + 2)};
	for (; known && known->name; known++)
		nearest_offer(&near, known->name, strlen(known->name));
	for (size_t k = 0; k < OPTION_LIST; k++)
		nearest_offer(&near, option_list[k].name + 2, strlen(option_list[k].name + 2));
	for (size_t k = 0; k < sizeof more / sizeof *more; k++)
		nearest_offer(&near, more[k], strlen(more[k]));
	if (near.word)
		text_addf(out, " (did you mean '--%s'?)", near.word);
}

static const struct option *option_of(const struct option *known, int letter)
{
	for (; known->name; known++)
		if (known->val == letter)
			return known;
	return NULL;
}

/* "--alone=3", where --alone takes no value. */
static bool has_needless_value(const char *word, const struct option *o)
{
	return o && o->has_arg == no_argument && strncmp(word, "--", 2) == 0 && strchr(word, '=') &&
	       strncmp(word + 2, o->name, name_len(word + 2)) == 0;
}

static bool means_several(const char *word, const struct option *known)
{
	size_t n = 0, len = name_len(word + 2);
	for (; known->name; known++)
		n += strncmp(word + 2, known->name, len) == 0;
	return n > 1;
}

/* getopt gives the letter in optopt where it is one of a bundle like "-xy", and 0 for a whole word. */
static int refuse(const struct command *c, const char *word, const struct option *known)
{
	struct text near;
	text_init(&near);
	if (has_needless_value(word, option_of(known, optopt)))
		cannot_read_usage(c, "--%s takes no value", option_of(known, optopt)->name);
	else if (optopt)
		cannot_read_usage(
			c, "-%c is not known here; options are whole words with --", optopt);
	else if (means_several(word, known))
		cannot_read_usage(c, "%s may mean more than one option; write it out", word);
	else {
		option_near_add(&near, word, known);
		cannot_read_usage(
			c, "%.*s is not known here%s", (int)name_len(word), word, near.at);
	}
	text_release(&near);
	return '?';
}

int option_next(const struct command *c, int argc, char **argv, const struct option *known)
{
	int got = getopt_long(argc, argv, ":", known, NULL);
	if (got == '?')
		return refuse(c, argv[optind - 1], known);
	if (got == ':') {
		cannot_read_usage(c, "--%s wants a value", option_of(known, optopt)->name);
		return '?';
	}
	return got;
}

bool option_is_code(const char *s, size_t most)
{
	size_t n = strspn(s, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-");
	return n && n <= most && !s[n];
}
