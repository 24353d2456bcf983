/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/erase.h>
#include <barwright/record/learner.h>
#include <barwright/record/lines.h>

#include "cmd/command.h"
#include "cmd/courses.h"
#include "cmd/programme.h"
#include "cmd/record_parts.h"
#include "cmd/record_person.h"
#include "tree/json.h"

/* ---- list ------------------------------------------------------------------------------------ */

/* Answers that were scored, as an audit counts them, and apart from them what was decided at the bench. */
struct counted {
	uint64_t answers, decisions;
	bool at_bench;
};

static void count_kind(struct counted *n, const struct strand_line *line, struct arena *a)
{
	struct line_open open;
	struct line_answer answer;
	enum line_kind kind = line_kind(line->kind);
	if (kind == LINE_OPEN)
		n->at_bench = !line_open_read(line, a, &open) && strcmp(open.mode, "bench") == 0;
	else if (kind == LINE_ANSWER && n->at_bench)
		n->decisions++;
	else if (kind == LINE_ANSWER && !line_answer_read(line, a, &answer))
		n->answers += !line_answer_is_held(&answer);
}

static enum bad count_line(void *context, const struct strand_line *line)
{
	struct arena a = {0};
	if (!line->erased)
		count_kind(context, line, &a);
	arena_release(&a);
	return FINE;
}

/* What "record list" walks through. */
struct listing {
	const struct learner_row *row;
	size_t nrow;
	struct erasures erased;
	struct text *t;
	struct json_out *j; /* null: for people */
};

static const char *name_in(const struct listing *l, const char *who)
{
	for (size_t i = 0; i < l->nrow; i++)
		if (strcmp(l->row[i].code, who) == 0)
			return l->row[i].name;
	return "";
}

static void list_json(const struct listing *l, const struct strand_sum *sum,
	const struct counted *n, const char *last)
{
	struct json_out *j = l->j;
	json_open_object(j);
	json_name(j, "strand");
	json_text(j, sum->strand);
	json_name(j, "who");
	json_text(j, sum->who);
	json_name(j, "learner");
	json_text(j, learner_person(l->row, l->nrow, sum->who));
	json_name(j, "lines");
	json_whole(j, (int64_t)sum->lines);
	json_name(j, "answers");
	json_whole(j, (int64_t)n->answers);
	json_name(j, "decisions");
	json_whole(j, (int64_t)n->decisions);
	json_name(j, "last");
	json_text(j, last);
	const struct erasure *e = erasure_of(&l->erased, sum->strand);
	char day[TIME_TEXT] = "";
	if (e)
		time_write(e->at_ms, day);
	json_name(j, "erased");
	json_text(j, day);
	json_close_object(j);
}

static void add_count(struct text *t, uint64_t n, const char *what)
{
	text_addf(t, "  %6llu %s%s", (unsigned long long)n, what, n == 1 ? " " : "s");
}

static void list_tell(const struct listing *l, const struct strand_sum *sum,
	const struct counted *n, const char *last)
{
	const char *name = name_in(l, sum->who);
	const char *person = learner_person(l->row, l->nrow, sum->who);
	char day[TIME_TEXT];
	struct text *t = l->t;
	text_add(t, sum->strand);
	add_count(t, sum->lines, "line");
	add_count(t, n->answers, "answer");
	if (n->decisions) {
		add_count(t, n->decisions, "decision");
		text_add(t, " at the bench");
	}
	text_add(t, "  ");
	text_addf(t, "last %.16s UTC  %s", last, sum->who);
	if (*name) {
		text_add(t, "  ");
		text_add_safe(t, name, strlen(name), false);
	}
	if (strcmp(person, sum->who) != 0)
		text_addf(t, "  same as %s", person);
	const struct erasure *e = erasure_of(&l->erased, sum->strand);
	if (e) {
		time_write(e->at_ms, day);
		text_addf(t, "\n%-14s  erased on request on %.10s, noted by ", "", day);
		text_add_safe(t, e->by, strlen(e->by), false);
	}
	text_add_char(t, '\n');
}

static void list_words(const struct listing *l, const char *path, const char *words)
{
	if (l->j) {
		json_open_object(l->j);
		json_name(l->j, "file");
		json_text(l->j, file_name(path));
		json_name(l->j, "words");
		json_text(l->j, words);
		json_close_object(l->j);
		return;
	}
	text_add_safe(l->t, file_name(path), strlen(file_name(path)), false);
	text_addf(l->t, ": %s\n", words);
}

static void list_one(const struct listing *l, const char *path)
{
	struct arena a = {0};
	struct source *source;
	struct strand_sum sum = {0};
	struct strand_check how = {.hashes_only = true};
	struct counted n = {0};
	char last[TIME_TEXT] = "", words[120];
	enum bad code = strand_load(path, &a, &source);
	if (!code)
		code = strand_read(source, &how, count_line, &n, &sum, NULL);
	if (code && code != BAD_TORN) {
		snprintf(words, sizeof words, "%s; see: barwright record audit", bad_text(code));
		list_words(l, path, words);
	} else if (sum.lines == 0) { /* it has neither learner nor time */
		list_words(l, path, "nothing is recorded in it yet");
	} else {
		time_write(sum.last_ms, last);
		(l->j ? list_json : list_tell)(l, &sum, &n, last);
	}
	arena_release(&a);
}

static int list_all(struct listing *l, struct arena *a, const char *folder)
{
	struct folder_entry *entry = NULL;
	size_t n = 0, shown = 0;
	enum bad code = folder_list(folder, a, &entry, &n);
	if (code && code != BAD_ABSENT)
		return cannot_file(code, folder);
	for (size_t k = 0; k < n; k++) {
		if (entry[k].kind != FILE_PLAIN || !strand_is_file_name(entry[k].name))
			continue;
		const char *path = folder_join(a, folder, entry[k].name);
		l->t->out = l->t->out || !path;
		if (path)
			list_one(l, path);
		shown++;
	}
	if (!shown && !l->j)
		text_add(l->t, "Nothing is recorded yet.\n");
	return EXIT_DONE;
}

/* A list of learners that is damaged keeps nobody from seeing what there is. */
static int run_list(const struct options *o, struct arena *a, const char *data)
{
	struct learner_row *row = NULL;
	struct json_out j;
	struct text t, why;
	struct accepted trusted = {0};
	struct listing l = {.t = &t, .j = o->json ? &j : NULL};
	const char *folder = strand_folder(data, a);
	if (!folder)
		return cannot("%s", bad_text(BAD_MEMORY));
	text_init(&t);
	text_init(&why);
	if (learner_list(data, a, &row, &l.nrow, &why))
		cannot("%s", why.at);
	l.row = row;
	if (trusted_ring(data, a, &trusted) || erasures_read(data, &trusted.ring, a, &l.erased))
		l.erased = (struct erasures){0};
	json_begin(&j, &t, false);
	if (o->json) {
		json_open_object(&j);
		json_name(&j, "strands");
		json_open_list(&j);
	}
	int status = list_all(&l, a, folder);
	if (o->json) {
		json_close_list(&j);
		json_close_object(&j);
		text_add_char(&t, '\n');
		t.out = t.out || json_end(&j);
	}
	if (!status)
		status = put_out(&t, EXIT_DONE);
	text_release(&why);
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
	{"same", record_same},
	{"known", record_known},
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
		return cannot_read_usage(&record_command,
			"list, audit, matrix, transcript, seal, gather, void, same, known, erase, "
			"export or verify?");
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
	"what is recorded: list, audit, seal, gather, same, erase, export, matrix, transcript",
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
	"       [--witness FILE] [--phrase FILE] [--all-days] [LEARNER...]\n"
	"              an assessor seals what was just watched, on the machine it was written\n"
	"              on. --sitting: in every strand that has this sitting. LEARNER, a name, a\n"
	"              code or a strand's id, alone: the last sitting there. The witness list\n"
	"              is witness.jsonl beside the key, or FILE. TIME is by the assessor's watch:\n"
	"              09:30, or 2026-11-25 09:30. A seal stands as it was made. --all-days: a\n"
	"              sitting that was opened again on another day was watched on all of them.\n"
	"  gather --into DIR [--names] [--accept KEY]... [SOURCE...]\n"
	"              add the strands of sticks and machines to an archive; safe to repeat.\n"
	"              Without SOURCE this machine's own, for a stick: never copy the data folder\n"
	"              itself, its machine.key would go along, and keys stay where they were\n"
	"              made. Names stay apart unless --names takes the list of learners along.\n"
	"  void --in DIR --key FILE --because WORDS HISTORY\n"
	"              of one strand the archive DIR may hold several histories that do not go\n"
	"              together; until one counts, none does. An assessor says here which one\n"
	"              does not: a file of DIR/forks.\n"
	"  same CODE CODE..., same --apart CODE\n"
	"              who worked on two machines has a code on each: from here on they are one\n"
	"              person, in matrix, transcript, table, attempts and erase. Only the list of\n"
	"              learners changes, never a strand; --apart undoes it.\n"
	"  known CODE NAME\n"
	"              a learner brings along the code of another machine and goes on under it\n"
	"              here: --learner CODE\n"
	"  erase [--key FILE] --yes LEARNER\n"
	"              take out what a learner (code or name) answered, and the name; chains\n"
	"              and seals still hold. With --key the assessor signs the note of it.\n"
	"  export --csv | --xapi | --credential --key FILE | --line N\n"
	"         [--names] [--base ADDRESS] [--out FILE] [--accept KEY]... [WHOSE...]\n"
	"              a table, statements (xAPI 1.0.3), a verifiable credential for each\n"
	"              competency reached in a sealed result, or one line with its proof (N\n"
	"              counts from 0, as in the table). WHOSE: a file, a folder, a strand's id, a\n"
	"              learner's code or name\n"
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
