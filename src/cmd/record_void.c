/* SPDX-License-Identifier: GPL-3.0-or-later */
/* barwright record void: which of several histories of one strand does not count. */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/gather.h>
#include <barwright/record/void.h>

#include "cmd/options.h"
#include "cmd/record_parts.h"
#include "cmd/seal_up.h"
#include "tree/json.h"

struct voiding {
	const char *data, *archive, *because;
	const char *history; /* its file among the archive's forks */
	struct opened by;
	struct accepted accepted;
};

static int tell(const struct options *o, const struct voiding *v, size_t apart)
{
	struct text t;
	struct json_out j;
	text_init(&t);
	if (o->json) {
		json_begin(&j, &t, false);
		json_open_object(&j);
		json_name(&j, "void");
		json_text(&j, v->history);
		json_name(&j, "still_apart");
		json_whole(&j, (int64_t)apart);
		json_close_object(&j);
		text_add_char(&t, '\n');
		t.out = t.out || json_end(&j);
	} else {
		text_add_safe(&t, v->history, strlen(v->history), false);
		text_add(&t, " does not count from now on. It is kept where it is.\n");
		if (apart)
			text_add(&t, "Other histories still stand apart; see: barwright record "
				     "audit\n");
		else
			text_add(&t, "What is left of that strand counts again.\n");
	}
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

static enum bad note_it(const struct voiding *v, struct text *why)
{
	struct sign_pair machine;
	enum bad code = key_machine(v->data, &machine, why);
	if (!code)
		code = void_history(v->archive, v->history, v->because, &machine, v->by.pair, why);
	cipher_wipe(&machine, sizeof machine);
	return code;
}

static int void_it(const struct options *o, const struct voiding *v)
{
	struct gather g;
	struct text why;
	text_init(&why);
	enum bad code = gather_begin(&g, v->archive, &v->accepted.ring, &why);
	if (!code)
		code = note_it(v, &why);
	if (!code)
		code = gather_notes(&g, &why);
	int status =
		code ? cannot("%s", why.len ? why.at : bad_text(code)) : tell(o, v, g.still_apart);
	gather_end(&g);
	text_release(&why);
	return status;
}

/* A path or a name among the archive's forks. */
static int find_history(struct voiding *v, struct arena *a, const char *name)
{
	const char *forks = folder_join(a, v->archive, "forks");
	v->history = forks ? folder_join(a, forks, file_name(name)) : NULL;
	if (!v->history)
		return cannot("%s", bad_text(BAD_MEMORY));
	if (file_kind(v->history) != FILE_PLAIN)
		return cannot("%s: no such history stands apart here. Those that do are named by: "
			      "barwright record audit %s",
			v->history, v->archive);
	return EXIT_DONE;
}

static int is_accepted(const struct voiding *v)
{
	if (key_find(&v->accepted.ring, v->by.who.id))
		return EXIT_DONE;
	return cannot("the key of %s is not accepted here, so the word would count for nothing: "
		      "barwright key accept",
		v->by.who.name);
}

int record_void(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option known[] = {SEAL_LONG_OPTIONS,
		{"in", required_argument, NULL, 'i'}, {"because", required_argument, NULL, 'b'},
		{0}};
	struct seal_options how = {0};
	struct voiding v = {.data = data};
	int c;
	optind = 1;
	while ((c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c == 'i')
			v.archive = optarg;
		else if (c == 'b')
			v.because = optarg;
		else if (seal_option(&how, c, optarg) != SEAL_OPTION_TAKEN)
			return EXIT_CANNOT;
	}
	if (!v.archive || !how.key || argc - optind != 1)
		return cannot_read_usage(
			&record_command, "void --in DIR --key FILE --because WORDS HISTORY");
	if (!v.because || !*v.because)
		return cannot_read_usage(&record_command, "why does it not count? --because WORDS");
	int status = find_history(&v, a, argv[optind]);
	if (!status)
		status = archive_ring(data, v.archive, a, &v.accepted);
	if (!status)
		status = key_open(how.key, how.phrase, &v.by);
	if (!status)
		status = is_accepted(&v);
	if (!status)
		status = void_it(o, &v);
	assessor_forget(v.by.pair);
	return status;
}
