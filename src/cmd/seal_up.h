/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How an assessor's options seal what was just sat or rated. */
#ifndef BARWRIGHT_CMD_SEAL_UP_H
#define BARWRIGHT_CMD_SEAL_UP_H

#include <barwright/record/strand.h>

struct seal_options {
	const char *key;      /* --key FILE: null: nothing is sealed */
	const char *identity; /* --identity HOW */
	const char *time; /* --time TIME: by the assessor's watch, as a record has it; null: none */
	char time_text[25];
	const char *witness; /* --witness FILE; null: witness.jsonl beside the key */
	const char *phrase;  /* --phrase FILE */
	bool all_days;       /* --all-days: of a sitting of several days all was watched */
};
/* For getopt_long: the options above, and the letters they come back as. */
#define SEAL_LONG_OPTIONS \
	{"key", required_argument, NULL, 'K'}, {"identity", required_argument, NULL, 'I'}, \
		{"time", required_argument, NULL, 'T'}, {"witness", required_argument, NULL, 'W'}, \
		{"all-days", no_argument, NULL, 'D'}, \
	{ \
		"phrase", required_argument, NULL, 'P' \
	}
/* Takes one of them. A time is 09:30 (of today), 2026-11-25 09:30, both by the clock on the wall, or a whole
 * one in UTC; another one is said on stderr and is SEAL_OPTION_BAD. */
enum seal_option { SEAL_OPTION_NONE, SEAL_OPTION_TAKEN, SEAL_OPTION_BAD };
enum seal_option seal_option(struct seal_options *o, int letter, const char *value);

/* Before the work: can the key's file be read, and is it an assessor's key? Its passphrase is asked for only at the
 * end. `who` may be null. EXIT_DONE also when there is no key; else it is said on stderr what is wrong. */
struct assessor;
int seal_look(const struct seal_options *o, struct assessor *who);
/* Asks for the passphrase, seals the strand for this sitting, notes it in the witness list, and says so on
 * stderr. When nothing comes of it, says how it is sealed later. EXIT_DONE also when there is no key: then it
 * says that nothing is sealed. */
int seal_up(struct strand *s, const char *sitting, const struct seal_options *o);

#endif
