/* SPDX-License-Identifier: GPL-3.0-or-later */
/*
 * barwright key roster: signs a list of keys. The list is a text that a person writes, a line each:
 *
 *     assessor KEY FIRST-DAY LAST-DAY NAME
 *     machine KEY FIRST-DAY LAST-DAY NAME
 *
 * KEY is a did:key or a key file, days are 2026-09-01; empty lines and those with # first are left out.
 */
#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/roster.h>

#include "cmd/key_parts.h"
#include "cmd/options.h"
#include "cmd/record_parts.h"
#include "tree/json.h"

enum { LIST_MOST = 1 << 20 };

struct listing {
	const char *path;
	unsigned line;
	struct arena *a;
	struct key_known *assessor, *machine;
	size_t nassessor, nmachine;
};

/* The next word of a line; "" at its end. */
static char *next_word(char **at)
{
	char *word = *at + strspn(*at, " \t");
	size_t n = strcspn(word, " \t");
	*at = word + n + (word[n] != 0);
	word[n] = 0;
	return word;
}

static int fault(const struct listing *l, const char *words)
{
	return cannot("%s, line %u: %s", l->path, l->line, words);
}

/* Of a key that stood there twice nobody could say which days and which name are meant. */
static bool is_listed(const struct key_known *list, size_t n, const unsigned char *open)
{
	for (size_t i = 0; i < n; i++)
		if (memcmp(list[i].open, open, SIGN_PUBLIC) == 0)
			return true;
	return false;
}

static int take_row(struct listing *l, char *line)
{
	const char *kind = next_word(&line), *key = next_word(&line), *called;
	const char *from = next_word(&line), *until = next_word(&line);
	bool is_machine = strcmp(kind, "machine") == 0;
	struct key_known row = {0};
	int64_t other;
	if (!is_machine && strcmp(kind, "assessor") != 0)
		return fault(l, "a line begins with assessor or machine");
	if (roster_day(from, strlen(from), &row.from_ms, &other) ||
		roster_day(until, strlen(until), &other, &row.until_ms) ||
		row.from_ms > row.until_ms)
		return fault(l, "behind the key want the first and the last day, as in 2026-09-01 "
				"2027-08-31");
	row.name = line + strspn(line, " \t");
	if (!*row.name)
		return fault(l, "behind the days want a name");
	int status = public_half(key, l->a, row.open, &called);
	if (!status && (is_listed(l->assessor, l->nassessor, row.open) ||
			       is_listed(l->machine, l->nmachine, row.open)))
		status = fault(l, "this key stands in the list already");
	if (!status)
		*(is_machine ? &l->machine[l->nmachine++] : &l->assessor[l->nassessor++]) = row;
	return status;
}

static int take_list(struct listing *l, char *text, size_t len)
{
	int status = EXIT_DONE;
	if (memchr(text, 0, len) || utf8_valid(text, len) != len)
		return cannot("%s: this is not a text in UTF-8", l->path);
	for (char *at = text, *stop; *at && !status; at = stop) {
		size_t n = strcspn(at, "\r\n");
		stop = at + n + (at[n] == '\r' && at[n + 1] == '\n') + (at[n] != 0);
		at[n] = 0;
		l->line++;
		if (*at && *at != '#')
			status = take_row(l, at);
	}
	if (!status && !l->nassessor && !l->nmachine)
		status = cannot("%s: it lists nobody", l->path);
	return status;
}

static int read_list(struct listing *l)
{
	char *text;
	size_t len, rows = 1;
	enum bad code = file_read_named(l->path, LIST_MOST, l->a, &text, &len);
	if (code)
		return cannot("%s: %s", l->path, file_advice(code));
	for (size_t i = 0; i < len; i++)
		rows += text[i] == '\n' || text[i] == '\r';
	l->assessor = arena_many(l->a, rows, struct key_known);
	l->machine = arena_many(l->a, rows, struct key_known);
	if (!l->assessor || !l->machine)
		return cannot("%s", bad_text(BAD_MEMORY));
	return take_list(l, text, len);
}

static int tell(const struct options *o, const struct listing *l, const char *by, const char *out)
{
	struct text t;
	struct json_out j;
	text_init(&t);
	if (o->json) {
		json_begin(&j, &t, false);
		json_open_object(&j);
		json_name(&j, "file");
		json_text(&j, out);
		json_name(&j, "assessors");
		json_whole(&j, (int64_t)l->nassessor);
		json_name(&j, "machines");
		json_whole(&j, (int64_t)l->nmachine);
		json_close_object(&j);
		text_add_char(&t, '\n');
		t.out = t.out || json_end(&j);
	} else {
		text_add(&t, "Signed by ");
		text_add_safe(&t, by, strlen(by), false);
		text_addf(&t,
			": %zu assessor%s, %zu machine%s.\nWho audits with it accepts the school's "
			"key once and then names the file:\nbarwright record audit --roster FILE\n",
			l->nassessor, l->nassessor == 1 ? "" : "s", l->nmachine,
			l->nmachine == 1 ? "" : "s");
	}
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

static int write_roster(const struct listing *l, const struct opened *by, const char *out)
{
	struct text t;
	const struct key_ring assessors = {l->assessor, l->nassessor};
	const struct key_ring machines = {l->machine, l->nmachine};
	text_init(&t);
	enum bad code = roster_write(&assessors, &machines, by->who.name, by->pair, &t);
	int status = code ? cannot("%s: %s", l->path, bad_text(code)) : EXIT_DONE;
	if (!status && (code = put_file(out, "barwright-roster ", t.at, t.len, false)))
		status = cannot("%s: %s", out, file_advice(code));
	text_release(&t);
	return status;
}

int key_roster(const struct options *o, struct arena *a, int argc, char **argv)
{
	static const struct option known[] = {{"key", required_argument, NULL, 'K'},
		{"phrase", required_argument, NULL, 'P'}, {"out", required_argument, NULL, 'o'},
		{0}};
	const char *key = NULL, *phrase = NULL, *out = NULL;
	struct listing l = {.a = a};
	struct opened by;
	int c;
	optind = 1;
	while ((c = option_next(&key_command, argc, argv, known)) != -1) {
		if (c == 'K')
			key = optarg;
		else if (c == 'P')
			phrase = optarg;
		else if (c == 'o')
			out = optarg;
		else
			return EXIT_CANNOT;
	}
	if (!key || !out || argc - optind != 1)
		return cannot_read_usage(&key_command, "key roster --key FILE --out FILE LIST");
	l.path = argv[optind];
	int status = read_list(&l);
	if (status)
		return status;
	status = key_open(key, phrase, &by);
	if (!status)
		status = write_roster(&l, &by, out);
	if (!status)
		status = tell(o, &l, by.who.name, out);
	assessor_forget(by.pair);
	return status;
}
