/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The options every command knows, and the way to the command. */
#include <signal.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/nearest.h>

#include "cmd/help.h"
#include "cmd/home.h"
#include "cmd/options.h"
#include "surface/charset.h"

static const struct command *const commands[] = {&drill_command, &learn_command, &bench_command,
	&sit_command, &rate_command, &work_command, &check_command, &show_command, &record_command,
	&key_command};
enum { COMMANDS = sizeof commands / sizeof *commands };

static int show_version(void)
{
	struct text t;
	text_init(&t);
	text_add(&t, "barwright " BARWRIGHT_VERSION "\nLicence GPL-3.0-or-later: "
		     "free software, no warranty.\n");
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

/* ---- the command line ------------------------------------------------------------------------ */

/* What was asked, with the options of every command taken out of argv. */
struct request {
	struct options options;
	bool help, version;
	int argc;
	char **argv;
};

/* Compacts argv in place; BAD_USAGE is said already. */
static enum bad read_request(int argc, char **argv, struct request *r)
{
	*r = (struct request){.argv = argv};
	bool open = true; /* "--" ends the options */
	for (int at = 1; at < argc; at++) {
		int taken = open ? options_take(&r->options, argv, &at) : 0;
		if (taken < 0) {
			cannot("%s wants a value", argv[at]);
			return BAD_USAGE;
		}
		if (taken)
			continue;
		open = open && strcmp(argv[at], "--") != 0;
		if (open && (!strcmp(argv[at], "--help") || !strcmp(argv[at], "-h")))
			r->help = true;
		else if (open && !strcmp(argv[at], "--version"))
			r->version = true;
		else
			argv[r->argc++] = argv[at];
	}
	argv[r->argc] = NULL;
	return FINE;
}

static const struct command *find_command(const char *name)
{
	for (size_t k = 0; k < COMMANDS; k++)
		if (strcmp(commands[k]->name, name) == 0)
			return commands[k];
	return NULL;
}

static int unknown_command(const char *name)
{
	struct nearest near = {.wanted = name, .len = strlen(name)};
	for (size_t k = 0; k < COMMANDS; k++)
		nearest_offer(&near, commands[k]->name, strlen(commands[k]->name));
	if (near.word)
		cannot("there is no command '%s'; did you mean '%s'?", name, near.word);
	else
		cannot("there is no command '%s'", name);
	fprintf(stderr, "Try 'barwright --help'.\n");
	return EXIT_CANNOT;
}

static int unknown_option(const char *word)
{
	struct text near;
	text_init(&near);
	option_near_add(&near, word, NULL);
	cannot("%s is not known here%s", word, near.at);
	fprintf(stderr, "Try 'barwright --help'.\n");
	text_release(&near);
	return EXIT_CANNOT;
}

int main(int argc, char **argv)
{
	struct request r;
	if (file_hold_standard())
		return EXIT_CANNOT; /* there may be nobody to tell */
	charset_start();
	signal(SIGXFSZ, SIG_IGN); /* a file that may not grow is an error, not an end */
	if (read_request(argc, argv, &r))
		return EXIT_CANNOT;
	if (r.version)
		return show_version();
	if (r.argc && strcmp(r.argv[0], "--") == 0) {
		r.argv++;
		r.argc--;
	}
	bool unrecorded = r.argc == 1 && strcmp(r.argv[0], "--unrecorded") == 0;
	if (!r.argc || unrecorded)
		return r.help ? help_show(commands, COMMANDS) : home_open(&r.options, unrecorded);
	if (*r.argv[0] == '-')
		return unknown_option(r.argv[0]);
	const struct command *c = find_command(r.argv[0]);
	if (!c)
		return unknown_command(r.argv[0]);
	return r.help ? help_show_command(c) : c->run(&r.options, r.argc, r.argv);
}
