/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/newcomer.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/file.h>
#include <barwright/record/learner.h>

#include "cmd/record_person.h"

enum { ANSWER = LEARNER_NAME_MOST + 2 };

static bool can_ask(void)
{
	return isatty(STDIN_FILENO) && isatty(STDERR_FILENO);
}

/* One line without its end, byte by byte: what follows is for others. "" at the end of input. */
static void answer_read(char out[static ANSWER])
{
	size_t n = 0;
	char c;
	while (read(STDIN_FILENO, &c, 1) == 1 && c != '\n')
		if (n < ANSWER - 1 && (n || c != ' '))
			out[n++] = c;
	while (n && (out[n - 1] == ' ' || out[n - 1] == '\r'))
		n--;
	out[n] = '\0';
}

/* ---- a code ---------------------------------------------------------------------------------- */

/* A code in small letters, or nearly one. */
static bool is_meant_as_code(const char *s)
{
	return strlen(s) == LEARNER_CODE && (s[0] == 'l' || s[0] == 'L') && s[1] == '-' &&
	       strspn(s + 2, "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz") ==
		       LEARNER_CODE - 2;
}

static int ask_code(const struct options *o, const char *data, struct arena *a)
{
	char name[ANSWER];
	if (code_is_known(data, a, o->learner))
		return EXIT_DONE;
	if (!can_ask())
		return cannot("%s: nothing is known of this code on this machine. Look whether it "
			      "is written right.\nTo go on here under the code of another machine: "
			      "barwright record known %s NAME",
			o->learner, o->learner);
	fprintf(stderr,
		"barwright: nothing is known of the code %s on this machine.\n"
		"If you bring it from another machine, and it is written right, type the name\n"
		"that goes with it; to stop, press Enter: ",
		o->learner);
	answer_read(name);
	if (!*name)
		return cannot("nothing was recorded");
	return known_add(data, o->learner, name);
}

/* ---- a name ---------------------------------------------------------------------------------- */

/* Capitals as small letters, runs of blanks as one, none at the ends. */
static const char *folded(struct arena *a, const char *s)
{
	char *out = arena_get(a, strlen(s) + 1);
	size_t n = 0;
	if (!out)
		return NULL;
	for (; *s; s++) {
		char c = *s == '\t' ? ' ' : *s;
		if (c != ' ' || (n && out[n - 1] != ' '))
			out[n++] = (char)(c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c);
	}
	n -= n && out[n - 1] == ' ';
	out[n] = '\0';
	return out;
}

/* The name here that this one is another spelling of; null: there is none, or it is one itself. */
static const char *nearly(const char *data, struct arena *a, const char *name)
{
	struct learner_row *row;
	const char *near = NULL, *is = folded(a, name);
	size_t n;
	if (!is || learner_list(data, a, &row, &n, NULL))
		return NULL;
	for (size_t i = 0; i < n; i++) {
		const char *other = folded(a, row[i].name);
		if (strcmp(row[i].name, name) == 0)
			return NULL;
		if (!near && other && *other && strcmp(other, is) == 0)
			near = row[i].name;
	}
	return near;
}

static int ask_name(struct options *o, const char *near)
{
	char answer[ANSWER];
	cannot("'%s' is new on this machine; known here: %s", o->learner, near);
	if (!can_ask())
		return EXIT_DONE;
	fprintf(stderr, "Is that the same person? yes, or no to begin another record: ");
	answer_read(answer);
	if (strcmp(answer, "yes") == 0 || strcmp(answer, "y") == 0) {
		o->learner = near;
		return EXIT_DONE;
	}
	if (strcmp(answer, "no") == 0 || strcmp(answer, "n") == 0)
		return EXIT_DONE;
	return cannot("nothing was recorded");
}

int newcomer_ask(struct options *o, const char *data, struct arena *a)
{
	if (!o->learner || !data || file_kind(data) == FILE_PLAIN)
		return EXIT_DONE;
	if (learner_is_code(o->learner))
		return ask_code(o, data, a);
	const char *near = nearly(data, a, o->learner);
	if (near)
		return ask_name(o, near);
	if (is_meant_as_code(o->learner))
		return cannot("%s: a code is l- and eight digits or capital letters, without I, L, "
			      "O and U",
			o->learner);
	return EXIT_DONE;
}
