/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/seal_up.h"

#include <stdio.h>
#include <string.h>
#include <time.h>

#include <barwright/base/cipher.h>
#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/assessor.h>
#include <barwright/record/seal.h>
#include <barwright/record/witness.h>

#include "cmd/command.h"
#include "cmd/phrase.h"
#include "cmd/record_parts.h"

/* ---- options --------------------------------------------------------------------------------- */

static bool digits_read(const char **s, int n, int *out)
{
	int value = 0;
	for (; n; n--, (*s)++) {
		if (**s < '0' || **s > '9')
			return false;
		value = 10 * value + (**s - '0');
	}
	*out = value;
	return true;
}

static bool pass(const char **s, const char *one_of)
{
	if (!**s || !strchr(one_of, **s))
		return false;
	(*s)++;
	return true;
}

/* "09:30", "9:30", "2026-11-25 09:30" by the clock on the wall, as this machine knows its place. */
static bool wall_read(const char *s, int64_t *ms)
{
	time_t now = (time_t)(clock_now() / 1000);
	struct tm t = {0};
	int year, month, day;
	if (!localtime_r(&now, &t))
		return false;
	if (strlen(s) > 5) {
		if (!digits_read(&s, 4, &year) || !pass(&s, "-") || !digits_read(&s, 2, &month) ||
			!pass(&s, "-") || !digits_read(&s, 2, &day) || !pass(&s, " T"))
			return false;
		t.tm_year = year - 1900;
		t.tm_mon = month - 1;
		t.tm_mday = day;
	}
	if (!digits_read(&s, s[0] && s[1] == ':' ? 1 : 2, &t.tm_hour) || !pass(&s, ":") ||
		!digits_read(&s, 2, &t.tm_min) || *s || t.tm_hour > 23 || t.tm_min > 59)
		return false;
	t.tm_sec = 0;
	t.tm_isdst = -1;
	struct tm want = t;
	time_t at = mktime(&t);
	/* mktime takes the 31st of a short month for the 1st of the next */
	if (at == (time_t)-1 || t.tm_mday != want.tm_mday || t.tm_mon != want.tm_mon)
		return false;
	*ms = (int64_t)at * 1000;
	return true;
}

static enum seal_option take_time(struct seal_options *o, const char *value)
{
	int64_t ms;
	if (time_read(value, strlen(value), &ms) && !wall_read(value, &ms)) {
		cannot("--time %s: this is no time. By the watch, as 09:30 or 2026-11-25 09:30",
			value);
		return SEAL_OPTION_BAD;
	}
	time_write(ms, o->time_text);
	o->time = o->time_text;
	return SEAL_OPTION_TAKEN;
}

enum seal_option seal_option(struct seal_options *o, int letter, const char *value)
{
	switch (letter) {
	case 'K':
		o->key = value;
		return SEAL_OPTION_TAKEN;
	case 'I':
		o->identity = value;
		return SEAL_OPTION_TAKEN;
	case 'T':
		return take_time(o, value);
	case 'W':
		o->witness = value;
		return SEAL_OPTION_TAKEN;
	case 'P':
		o->phrase = value;
		return SEAL_OPTION_TAKEN;
	case 'D':
		o->all_days = true;
		return SEAL_OPTION_TAKEN;
	default:
		return SEAL_OPTION_NONE;
	}
}

/* ---- sealing --------------------------------------------------------------------------------- */

static const char *witness_path(const struct seal_options *o, struct arena *a)
{
	if (o->witness)
		return o->witness;
	return arena_format(a, "%.*switness.jsonl", (int)(file_name(o->key) - o->key), o->key);
}

static enum bad sealed(struct strand *s, const char *sitting, const struct seal_options *o,
	const struct sign_pair *pair, const struct assessor *who, struct arena *a, struct text *why)
{
	struct line_seal seal;
	struct seal_how how = {sitting, o->identity, o->time, pair, who, o->all_days};
	const char *list = witness_path(o, a);
	enum bad code = list ? seal_strand(s, &how, a, &seal, why) : BAD_MEMORY;
	if (!code)
		code = witness_add(list, pair, strand_own_id(s), &seal, why);
	return code;
}

static void tell_sealed(const struct assessor *who)
{
	struct text t;
	text_init(&t);
	text_add(&t, "barwright: sealed by ");
	text_add_safe(&t, who->name, strlen(who->name), false);
	text_addf(&t, ", key %s.\n", who->id);
	fputs(t.at, stderr);
	text_release(&t);
}

struct sealing_up {
	struct strand *s;
	const char *sitting;
	const struct seal_options *o;
	struct sign_pair *pair;
	struct assessor who;
	struct text why;
};

static enum bad unlock(void *context, const char *phrase)
{
	struct sealing_up *x = context;
	text_clear(&x->why);
	return assessor_unlock(x->o->key, phrase, &x->pair, &x->who, &x->why);
}

/* As a shell reads it back. */
static void add_word(struct text *t, const char *option, const char *value)
{
	static const char plain[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ"
				    "0123456789-_./:+@";
	if (!value)
		return;
	text_addf(t, " %s%s", option, *option ? " " : "");
	if (*value && strspn(value, plain) == strlen(value)) {
		text_add(t, value);
		return;
	}
	text_add_char(t, '\'');
	for (; *value; value++)
		text_add(t, *value == '\'' ? "'\\''" : (char[2]){*value, 0});
	text_add_char(t, '\'');
}

/* The data folder of a strand, from DATA/strands/ID.jsonl. */
static void add_data(struct text *t, const struct strand *s)
{
	struct text data;
	const char *path = strand_own_path(s), *end = file_name(path);
	text_init(&data);
	text_add_bytes(&data, path, (size_t)(end - path));
	if (data.len > 9 && strcmp(data.at + data.len - 9, "/strands/") == 0) {
		data.at[data.len - 9] = '\0';
		add_word(t, "--data", data.at);
	}
	text_release(&data);
}

static void tell_later(void *context)
{
	const struct sealing_up *x = context;
	struct text t, safe;
	text_init(&t);
	text_init(&safe);
	text_add(&t, "barwright");
	add_data(&t, x->s);
	text_add(&t, " record seal");
	add_word(&t, "--key", x->o->key);
	add_word(&t, "--sitting", x->sitting);
	add_word(&t, "--identity", x->o->identity);
	add_word(&t, "--time", x->o->time);
	add_word(&t, "--witness", x->o->witness);
	add_word(&t, "", strand_own_id(x->s));
	text_add_safe(&safe, t.at, t.len, false);
	fprintf(stderr,
		"barwright: it is recorded but not sealed, so it counts as practice. To seal it "
		"later,\non this machine:\n\n    %s\n\n",
		safe.at);
	text_release(&safe);
	text_release(&t);
}

static int seal_opened(struct sealing_up *x)
{
	struct arena a = {0};
	text_clear(&x->why);
	enum bad code = sealed(x->s, x->sitting, x->o, x->pair, &x->who, &a, &x->why);
	arena_release(&a);
	if (!code) {
		tell_sealed(&x->who);
		return EXIT_DONE;
	}
	cannot("it could not be sealed: %s", x->why.len ? x->why.at : bad_text(code));
	tell_later(x);
	return EXIT_CANNOT;
}

int seal_look(const struct seal_options *o, struct assessor *who)
{
	struct assessor aside;
	struct text why;
	int status = EXIT_DONE;
	if (!o->key)
		return EXIT_DONE;
	text_init(&why);
	enum bad code = assessor_show(o->key, who ? who : &aside, &why);
	if (code)
		status = cannot("%s\nNothing was begun. Name the file of the assessor's key: "
				"--key FILE",
			why.len ? why.at : bad_text(code));
	text_release(&why);
	return status;
}

int seal_up(struct strand *s, const char *sitting, const struct seal_options *o)
{
	struct sealing_up x = {.s = s, .sitting = sitting, .o = o};
	struct phrase_use use = {.file = o->phrase,
		.prompt = "Passphrase of the assessor's key: ",
		.tries = PHRASE_TRIES,
		.open = unlock,
		.gave_up = tell_later,
		.context = &x};
	if (!o->key) {
		fprintf(stderr, "barwright: this is not sealed: it counts as practice until an "
				"assessor seals the record.\n");
		return EXIT_DONE;
	}
	secret_warn(o->key, "Only the passphrase still protects it");
	text_init(&x.why);
	int status = phrase_use(&use) ? EXIT_CANNOT : seal_opened(&x);
	if (!x.pair && x.why.len)
		cannot("%s", x.why.at);
	assessor_forget(x.pair);
	text_release(&x.why);
	return status;
}
