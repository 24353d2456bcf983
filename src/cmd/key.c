/* SPDX-License-Identifier: GPL-3.0-or-later */
/* barwright key */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/assessor.h>

#include "cmd/courses.h"
#include "cmd/key_parts.h"
#include "cmd/options.h"
#include "cmd/phrase.h"
#include "cmd/record_parts.h"
#include "export/did.h"
#include "tree/json.h"

/* ---- one key --------------------------------------------------------------------------------- */

static void put(struct json_out *j, const char *name, const char *value)
{
	json_name(j, name);
	json_text(j, value);
}

static void key_json(struct json_out *j, const char *role, const char *file, const char *name,
	const unsigned char *open)
{
	char did[DID_KEY], finger[FINGERPRINT], id[KEY_ID + 1], hex[2 * SIGN_PUBLIC + 1];
	did_key(open, did);
	key_fingerprint(open, finger);
	key_id(open, id);
	hex_write(open, SIGN_PUBLIC, hex);
	json_open_object(j);
	put(j, "role", role);
	put(j, "name", name);
	put(j, "key", id);
	put(j, "public", hex);
	put(j, "did", did);
	put(j, "fingerprint", finger);
	put(j, "file", file);
	json_close_object(j);
}

static void key_tell(struct text *t, const char *name, const unsigned char *open)
{
	char did[DID_KEY], finger[FINGERPRINT], id[KEY_ID + 1];
	did_key(open, did);
	key_fingerprint(open, finger);
	key_id(open, id);
	text_add(t, "name         ");
	text_add_safe(t, name, strlen(name), false);
	text_addf(t, "\nnumber       %s, as it stands in records\n", id);
	text_addf(t, "to hand out  %s\n", did);
	text_addf(t, "fingerprint  %.35s\n             %s\n", finger, finger + 36);
}

static int show_key(const struct options *o, const char *file, const struct assessor *who)
{
	struct text t;
	text_init(&t);
	if (o->json) {
		struct json_out j;
		json_begin(&j, &t, false);
		key_json(&j, "assessor", file, who->name, who->open);
		text_add_char(&t, '\n');
		t.out = t.out || json_end(&j);
	} else {
		key_tell(&t, who->name, who->open);
	}
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

/* ---- new ------------------------------------------------------------------------------------- */

static void offer_words(void)
{
	char offer[PHRASE_OFFER];
	phrase_offer(offer);
	fprintf(stderr,
		"The key is locked with a passphrase of at least %d characters; it is not shown\n"
		"while you type. If you have none in mind, these words were drawn for you and\n"
		"for nobody else. Keep them in another place than the key:\n\n    %s\n\n",
		PHRASE_LEAST, offer);
	cipher_wipe(offer, sizeof offer);
}

/* A key while it is made. */
struct making {
	const char *name, *file;
	const char *first; /* what was typed first; null: it stands in a file */
	struct assessor who;
	struct text why;
};

/* BAD_REPEATED: it was not the same again. */
static enum bad make_with(void *context, const char *phrase)
{
	struct making *m = context;
	if (m->first && strcmp(m->first, phrase) != 0)
		return BAD_REPEATED;
	return assessor_make(m->file, m->name, phrase, NULL, &m->who, &m->why);
}

/* *again: what was typed cannot lock a key, or was not the same both times. */
static enum bad type_twice(struct making *m, bool *again)
{
	struct phrase_use second = {
		.prompt = "The same again: ", .tries = 1, .open = make_with, .context = m};
	char *first = NULL;
	*again = false;
	enum bad code = phrase_ask(NULL, "Passphrase: ", &first);
	if (code)
		return code;
	if (phrase_check(first, strlen(first))) {
		*again = true;
		fprintf(stderr, "It wants at least %d characters, without controls. Another one:\n",
			PHRASE_LEAST);
	} else {
		m->first = first;
		code = phrase_use(&second);
		m->first = NULL;
		if (code == BAD_REPEATED && !m->why.len) {
			*again = true;
			fprintf(stderr, "That was not the same. Once more, both times:\n");
		}
	}
	secret_drop(first);
	return code;
}

/* Typed twice, or from a file. */
static enum bad make_locked(struct making *m, const char *phrase_file)
{
	struct phrase_use from_file = {.file = phrase_file, .open = make_with, .context = m};
	enum bad code;
	bool again;
	if (phrase_file)
		return phrase_use(&from_file);
	offer_words();
	do
		code = type_twice(m, &again);
	while (again);
	return code;
}

static int make_key(
	const struct options *o, const char *name, const char *file, const char *phrase_file)
{
	struct making m = {.name = name, .file = file};
	if (file_kind(file) != FILE_NONE)
		return cannot("%s: something of this name is there already", file);
	text_init(&m.why);
	int status = make_locked(&m, phrase_file) ? EXIT_CANNOT : EXIT_DONE;
	if (status && m.why.len)
		cannot("%s", m.why.at);
	text_release(&m.why);
	if (status)
		return status;
	fprintf(stderr,
		"Keep this file on a medium of your own. Nobody can open it without the\n"
		"passphrase, nor make it anew. Who reads your seals has to accept it once:\n"
		"barwright key accept FILE\n\n");
	return show_key(o, file, &m.who);
}

static int key_new(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"key", required_argument, NULL, 'K'},
		{"phrase", required_argument, NULL, 'P'}, {0}};
	const char *file = NULL, *phrase = NULL;
	int c;
	optind = 1;
	while ((c = option_next(&key_command, argc, argv, known)) != -1) {
		if (c == 'K')
			file = optarg;
		else if (c == 'P')
			phrase = optarg;
		else
			return EXIT_CANNOT;
	}
	if (!file || argc - optind != 1)
		return cannot_read_usage(&key_command, "key new NAME --key FILE");
	return make_key(o, argv[optind], file, phrase);
}

/* ---- show, list, accept ---------------------------------------------------------------------- */

static int key_show(const struct options *o, int argc, char **argv)
{
	struct assessor who;
	struct text why;
	if (argc != 2)
		return cannot_read_usage(&key_command, "key show FILE");
	text_init(&why);
	int status = assessor_show(argv[1], &who, &why) ? cannot("%s", why.at) : EXIT_DONE;
	text_release(&why);
	return status ? status : show_key(o, argv[1], &who);
}

static void list_ring(const struct key_ring *ring, struct text *t)
{
	for (size_t i = 0; i < ring->n; i++) {
		text_add_char(t, '\n');
		key_tell(t, ring->at[i].name, ring->at[i].open);
	}
}

static void list_tell(const struct key_ring *own, const struct key_ring *accepted, struct text *t)
{
	text_add(t, own->n ? "This machine signs every line it records with its own key:\n"
			   : "This machine has no key yet; it makes one with its first record.\n");
	list_ring(own, t);
	text_add(t, accepted->n
			    ? "\nAssessors whose seals count here:\n"
			    : "\nNo assessor is accepted here yet: seals count for nothing. See "
			      "barwright key accept\n");
	list_ring(accepted, t);
}

static void list_json(const struct key_ring *own, const struct key_ring *accepted, struct text *t)
{
	struct json_out j;
	json_begin(&j, t, false);
	json_open_object(&j);
	json_name(&j, "keys");
	json_open_list(&j);
	for (size_t i = 0; i < own->n; i++)
		key_json(&j, "machine", "", own->at[i].name, own->at[i].open);
	for (size_t i = 0; i < accepted->n; i++)
		key_json(&j, "assessor", "", accepted->at[i].name, accepted->at[i].open);
	json_close_list(&j);
	json_close_object(&j);
	text_add_char(t, '\n');
	t->out = t->out || json_end(&j);
}

static int key_list(const struct options *o, struct arena *a, const char *data)
{
	struct accepted accepted = {0};
	struct own_key own;
	struct text t;
	int status = accepted_finish(&accepted, a, data);
	if (status)
		return status;
	own_key_find(data, a, &own);
	text_init(&t);
	(o->json ? list_json : list_tell)(&own.ring, &accepted.ring, &t);
	status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

static int key_accept(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	struct assessor who = {.name = ""};
	struct text why;
	const char *name;
	if (argc != 2 && argc != 3)
		return cannot_read_usage(&key_command, "key accept FILE|did:key:... [NAME]");
	int status = public_half(argv[1], a, who.open, &name);
	if (status)
		return status;
	name = argc == 3 ? argv[2] : name;
	if (!*name)
		return cannot_read_usage(&key_command, "whose key is it? Add a name");
	text_init(&why);
	enum bad code = assessor_accept(data, name, who.open, &why);
	if (code)
		status = cannot("%s", why.len ? why.at : bad_text(code));
	text_release(&why);
	if (status)
		return status;
	snprintf(who.name, sizeof who.name, "%s", name);
	fprintf(stderr, "Accepted. Have you compared the fingerprint with the assessor?\n");
	return show_key(o, argv[1], &who);
}

/* ---- the command ----------------------------------------------------------------------------- */

static int run_word(const struct options *o, struct arena *a, int argc, char **argv)
{
	const char *data = data_folder(o, a);
	if (argc < 2)
		return cannot_read_usage(&key_command, "new, show, list, accept or roster?");
	if (strcmp(argv[1], "new") == 0)
		return key_new(o, argc - 1, argv + 1);
	if (strcmp(argv[1], "show") == 0)
		return key_show(o, argc - 1, argv + 1);
	if (strcmp(argv[1], "roster") == 0)
		return key_roster(o, a, argc - 1, argv + 1);
	if (!data)
		return cannot("there is no HOME; name the folder of the records: --data DIR");
	if (strcmp(argv[1], "list") == 0 && argc == 2)
		return key_list(o, a, data);
	if (strcmp(argv[1], "accept") == 0)
		return key_accept(o, a, data, argc - 1, argv + 1);
	return cannot_read_usage(&key_command, "'%s' is not known here", argv[argc == 2 ? 1 : 2]);
}

static int run(const struct options *o, int argc, char **argv)
{
	struct arena a = {0};
	if (cipher_start())
		return cannot("the system has no randomness to give");
	int status = run_word(o, &a, argc, argv);
	arena_release(&a);
	return status;
}

const struct command key_command = {
	"key",
	"barwright key new NAME --key FILE | show FILE | list | accept FILE|DID [NAME] |\n       "
	"roster --key FILE --out FILE LIST",
	"make and show an assessor's key",
	"  new     make a key, locked under a passphrase that is typed twice (or the first line\n"
	"          of --phrase FILE). Put FILE on a medium of your own, not on a machine of\n"
	"          students.\n"
	"  show    what may be known of it: its number in records, its public key to hand out\n"
	"          (a did:key), and a fingerprint to be read out and compared\n"
	"  list    the key of this machine, and whose seals and erasures are accepted here\n"
	"  accept  accept one: a key file (no passphrase is needed) or a did:key with a name.\n"
	"          Anybody can make a key. Compare the fingerprint with the assessor first.\n"
	"  roster  sign a list of a school's assessors and machines with the school's own key,\n"
	"          which is kept away from both. LIST is a text, a line each: assessor or\n"
	"          machine, a did:key or key file, first and last day (2026-09-01), a name.\n"
	"          Whoever accepts that key audits with: record audit --roster FILE\n"
	"Who is accepted stands in assessors.txt of the data folder; delete a line to take it\n"
	"back.\n",
	run,
};
