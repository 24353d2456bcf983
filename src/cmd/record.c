/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/learner.h>
#include <barwright/record/lines.h>

#include "cmd/command.h"
#include "cmd/courses.h"
#include "cmd/programme.h"
#include "cmd/record_parts.h"
#include "tree/json.h"

/* ---- list ------------------------------------------------------------------------------------ */

static enum bad count_answer(void *context, const struct strand_line *line)
{
	uint64_t *answers = context;
	*answers += !line->erased && line_kind(line->kind) == LINE_ANSWER;
	return FINE;
}

static void list_json(
	struct text *t, const struct strand_sum *sum, uint64_t answers, const char *last)
{
	struct json_out j;
	json_begin(&j, t, false);
	json_open_object(&j);
	json_name(&j, "strand");
	json_text(&j, sum->strand);
	json_name(&j, "who");
	json_text(&j, sum->who);
	json_name(&j, "lines");
	json_whole(&j, (int64_t)sum->lines);
	json_name(&j, "answers");
	json_whole(&j, (int64_t)answers);
	json_name(&j, "last");
	json_text(&j, last);
	json_close_object(&j);
	text_add_char(t, '\n');
}

static void list_tell(struct text *t, const struct strand_sum *sum, uint64_t answers,
	const char *last, const char *name)
{
	text_addf(t, "%s  %6llu lines  %6llu answers  ", sum->strand,
		(unsigned long long)sum->lines, (unsigned long long)answers);
	text_addf(t, "last %.16s UTC  %s", last, sum->who);
	if (*name) {
		text_add(t, "  ");
		text_add_safe(t, name, strlen(name), false);
	}
	text_add_char(t, '\n');
}

/* One whose first line was never finished: it has neither learner nor time. */
static void list_empty(const struct options *o, struct text *t, const char *path)
{
	if (o->json)
		return;
	text_add_safe(t, file_name(path), strlen(file_name(path)), false);
	text_add(t, ": nothing is recorded in it yet\n");
}

static void list_one(const struct options *o, struct text *t, const char *data, const char *path)
{
	struct arena a = {0};
	struct source *source;
	struct strand_sum sum = {0};
	struct strand_check how = {.hashes_only = true};
	uint64_t answers = 0;
	const char *name = "";
	char last[TIME_TEXT] = "";
	enum bad code = strand_load(path, &a, &source);
	if (!code)
		code = strand_read(source, &how, count_answer, &answers, &sum, NULL);
	if (code && code != BAD_TORN) {
		text_add_safe(t, file_name(path), strlen(file_name(path)), false);
		text_addf(t, ": %s; see: barwright record audit\n", bad_text(code));
	} else if (sum.lines == 0) {
		list_empty(o, t, path);
	} else {
		learner_name(data, sum.who, &a, &name);
		time_write(sum.last_ms, last);
		if (o->json)
			list_json(t, &sum, answers, last);
		else
			list_tell(t, &sum, answers, last, name);
	}
	arena_release(&a);
}

static int run_list(const struct options *o, struct arena *a, const char *data)
{
	struct folder_entry *entry = NULL;
	size_t n = 0, shown = 0;
	struct text t;
	const char *folder = strand_folder(data, a);
	if (!folder)
		return cannot("%s", bad_text(BAD_MEMORY));
	enum bad code = folder_list(folder, a, &entry, &n);
	if (code && code != BAD_ABSENT)
		return cannot_file(code, folder);
	text_init(&t);
	for (size_t k = 0; k < n; k++) {
		size_t len = strlen(entry[k].name);
		if (entry[k].kind != FILE_PLAIN || len < 6 ||
			strcmp(entry[k].name + len - 6, ".jsonl"))
			continue;
		const char *path = folder_join(a, folder, entry[k].name);
		t.out = t.out || !path;
		if (path)
			list_one(o, &t, data, path);
		shown++;
	}
	if (!shown && !o->json)
		text_add(&t, "Nothing is recorded yet.\n");
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

/* ---- the command ----------------------------------------------------------------------------- */

static int run_list_word(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	if (argc > 1)
		return cannot_read_usage(&record_command, "'%s' is not known here", argv[1]);
	return run_list(o, a, data);
}

static const struct {
	const char *name;
	int (*run)(
		const struct options *o, struct arena *a, const char *data, int argc, char **argv);
} word[] = {
	{"list", run_list_word},
	{"audit", record_audit},
	{"matrix", programme_matrix},
	{"transcript", programme_transcript},
	{"seal", record_seal},
	{"gather", record_gather},
	{"void", record_void},
	{"erase", record_erase},
	{"export", record_export},
	{"verify", record_verify},
};

static int run_word(const struct options *o, struct arena *a, int argc, char **argv)
{
	const char *data = data_folder(o, a);
	if (!data)
		return cannot("there is no HOME; name the folder of the records: --data DIR");
	if (argc < 2)
		return cannot_read_usage(&record_command, "list, audit, matrix, transcript, seal, "
							  "gather, erase, export or verify?");
	for (size_t i = 0; i < sizeof word / sizeof *word; i++)
		if (strcmp(argv[1], word[i].name) == 0)
			return word[i].run(o, a, data, argc - 1, argv + 1);
	return cannot_read_usage(&record_command, "'%s' is not known here", argv[1]);
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

const struct command record_command = {
	"record",
	"barwright record WORD [ARGUMENT...]",
	"what is recorded: list, audit, seal, gather, void, erase, export, matrix, transcript",
	"  list        every strand of this machine: learner, lines, answers, last entry\n"
	"  audit [--witness FILE]... [--accept KEY]... [--roster FILE] [--lines-only]\n"
	"        [PATH...]\n"
	"              check every line and every seal, hold them against assessors' witness\n"
	"              lists, make every task again from its key, and score every answer,\n"
	"              reading and result again. PATH is a strand or a folder of them; without\n"
	"              it all of this machine. Exit status 1 when something does not hold. Only\n"
	"              what an accepted assessor sealed counts as assessed. --roster: whom and\n"
	"              which machines the school vouches for (barwright key --help).\n"
	"              --lines-only needs no course and makes nothing again.\n"
	"  seal --key FILE [--sitting CODE] [--identity HOW] [--time TIME]\n"
	"       [--witness FILE] [--phrase FILE] [LEARNER...]\n"
	"              an assessor seals what was just watched, on the machine it was written\n"
	"              on. --sitting: in every strand that has this sitting. LEARNER, a name, a\n"
	"              code or a strand's id, alone: the last sitting there. The witness list\n"
	"              is witness.jsonl beside the key, or FILE.\n"
	"  gather --into DIR [--names] [--accept KEY]... SOURCE...\n"
	"              add the strands of sticks and machines to an archive; safe to repeat.\n"
	"              Names stay apart unless --names takes the list of learners along.\n"
	"  void --in DIR --key FILE --because WORDS HISTORY\n"
	"              of one strand the archive DIR may hold several histories that do not go\n"
	"              together; until one counts, none does. An assessor says here which one\n"
	"              does not: a file of DIR/forks.\n"
	"  erase [--key FILE] --yes LEARNER\n"
	"              take out what a learner (code or name) answered, and the name; chains\n"
	"              and seals still hold. With --key the assessor signs the note of it.\n"
	"  export --csv | --xapi | --credential --key FILE | --line N\n"
	"         [--names] [--base ADDRESS] [--out FILE] [--accept KEY]... [PATH...]\n"
	"              a table, statements (xAPI 1.0.3), a verifiable credential for each\n"
	"              competency reached in a sealed result, or one line with its proof (N\n"
	"              counts from 0, as in the table)\n"
	"  verify [--accept KEY]... FILE...\n"
	"              check credentials and proofs of lines. Exit status 1 when one does not\n"
	"              hold or its key is not accepted. KEY is a key file or a did:key.\n"
	"  matrix [--programme FILE]\n"
	"              learners and competencies: evidence, last result, sealed or not, and\n"
	"              what is missing for whom by the programme's own codes\n"
	"  transcript [--programme FILE] [--svg FILE] LEARNER\n"
	"              all evidence of one learner, a code or a name; --svg for paper.\n"
	"              --programme is programme.yaml of the course, or FILE.\n",
	run,
};
