/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/seal_up.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/assessor.h>
#include <barwright/record/seal.h>
#include <barwright/record/witness.h>

#include "cmd/command.h"
#include "cmd/phrase.h"
#include "cmd/record_parts.h"

bool seal_option(struct seal_options *o, int letter, const char *value)
{
	switch (letter) {
	case 'K':
		o->key = value;
		return true;
	case 'I':
		o->identity = value;
		return true;
	case 'T':
		o->time = value;
		return true;
	case 'W':
		o->witness = value;
		return true;
	case 'P':
		o->phrase = value;
		return true;
	default:
		return false;
	}
}

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
	struct seal_how how = {sitting, o->identity, o->time, pair, who};
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

static int with_phrase(struct strand *s, const char *sitting, const struct seal_options *o,
	const char *phrase, struct text *why)
{
	struct sign_pair *pair = NULL;
	struct assessor who;
	struct arena a = {0};
	enum bad code = assessor_unlock(o->key, phrase, &pair, &who, why);
	if (!code)
		code = sealed(s, sitting, o, pair, &who, &a, why);
	assessor_forget(pair);
	arena_release(&a);
	if (code)
		return cannot(
			"it is recorded but not sealed: %s", why->len ? why->at : bad_text(code));
	tell_sealed(&who);
	return EXIT_DONE;
}

int seal_up(struct strand *s, const char *sitting, const struct seal_options *o)
{
	char *phrase = NULL;
	struct text why;
	if (!o->key) {
		fprintf(stderr, "barwright: this is not sealed: it counts as practice until an "
				"assessor seals the record.\n");
		return EXIT_DONE;
	}
	secret_warn(o->key, "Only the passphrase still protects it");
	if (phrase_ask(o->phrase, "Passphrase of the assessor's key: ", &phrase))
		return EXIT_CANNOT;
	text_init(&why);
	int status = with_phrase(s, sitting, o, phrase, &why);
	text_release(&why);
	secret_drop(phrase);
	return status;
}
