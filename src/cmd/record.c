/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <getopt.h>
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/audit.h>
#include <barwright/record/learner.h>

#include "bench/replay.h"
#include "cmd/command.h"
#include "cmd/courses.h"
#include "cmd/programme.h"
#include "cmd/procedures.h"
#include "desk/replay.h"

/* ---- this machine's key ---------------------------------------------------------------------- */

/* The public key of this machine, if it has one; reading a record makes none. */
struct own_key {
	struct key_known known;
	struct key_ring ring;
};

static void own_key_find(const char *data, struct arena *a, struct own_key *out)
{
	struct sign_pair pair;
	*out = (struct own_key){0};
	if (file_kind(folder_join(a, data, "machine.key")) != FILE_PLAIN ||
		key_machine(data, &pair, NULL))
		return;
	memcpy(out->known.open, pair.open, sizeof out->known.open);
	out->known.name = "this machine";
	out->ring = (struct key_ring){&out->known, 1};
	cipher_wipe(&pair, sizeof pair);
}

/* ---- audit ----------------------------------------------------------------------------------- */

/* Whoever knows how to make an answer again. */
struct replays {
	struct replay desk;
	struct bench_replay bench;
};

static enum bad replay_any(void *context, const struct audit_case *what, struct audit_finding *out)
{
	struct replays *r = context;
	return bench_replay_knows(what) ? bench_replay_answer(&r->bench, what, out)
					: replay_answer(&r->desk, what, out);
}

static int audit_paths(const struct options *o, struct replays *replays, const struct own_key *own,
	char **path, size_t n)
{
	struct audit audit;
	struct audit_how how = {
		.known = own->ring.n ? &own->ring : NULL, .replay = replay_any, .context = replays};
	struct text t;
	int status = EXIT_DONE;
	audit_init(&audit);
	text_init(&t);
	for (size_t k = 0; k < n && !status; k++) {
		enum bad code = audit_path(&audit, path[k], &how);
		if (code) {
			file_words(code, path[k], &t);
			status = cannot("%s", t.at);
		}
	}
	if (!status) {
		(o->json ? audit_json : audit_tell)(&audit, &t);
		status = put_out(&t, audit_is_clean(&audit) ? EXIT_DONE : EXIT_NO);
	}
	text_release(&t);
	audit_release(&audit);
	return status;
}

static int run_audit(
	const struct options *o, struct arena *a, const char *data, char **path, size_t n)
{
	struct courses courses;
	struct procedures procedures = {0};
	struct rubric rubric = {0};
	struct own_key own;
	char *whole = strand_folder(data, a);
	if (courses_load(o, a, &courses))
		return EXIT_CANNOT;
	enum bad code = procedures_gather(courses.folder, a, &procedures);
	if (!code)
		code = rubrics_load(courses.folder, a, &rubric);
	const struct course **list = arena_many(a, courses.n, const struct course *);
	int status = list && whole ? EXIT_DONE : cannot("%s", bad_text(BAD_MEMORY));
	if (code)
		status = cannot("%s", bad_text(code));
	for (size_t k = 0; !status && k < courses.n; k++)
		list[k] = &courses.course[k];
	if (!status) {
		struct replays r = {{.course = list, .ncourse = courses.n},
			{.procedure = procedures.procedure,
				.nprocedure = procedures.n,
				.rubric = rubric.nstation ? &rubric : NULL}};
		own_key_find(data, a, &own);
		status = audit_paths(o, &r, &own, n ? path : &whole, n ? n : 1);
		arena_release(&r.desk.arena);
		arena_release(&r.bench.arena);
	}
	rubric_release(&rubric);
	procedures_release(&procedures);
	courses_release(&courses);
	return status;
}

/* ---- list ------------------------------------------------------------------------------------ */

static enum bad count_answer(void *context, const struct strand_line *line)
{
	uint64_t *answers = context;
	*answers += !line->erased && line_kind(line->kind) == LINE_ANSWER;
	return FINE;
}

static void list_one(const struct options *o, struct text *t, const char *data, const char *path,
	struct arena *a)
{
	struct source *source;
	struct strand_sum sum;
	struct strand_check how = {.hashes_only = true};
	uint64_t answers = 0;
	const char *name = "";
	char last[TIME_TEXT] = "";
	enum bad code = strand_load(path, a, &source);
	if (!code)
		code = strand_read(source, &how, count_answer, &answers, &sum, NULL);
	if (code && code != BAD_TORN) {
		text_addf(t, "%s: %s; see: barwright record audit\n", file_name(path),
			bad_text(code));
		return;
	}
	learner_name(data, sum.who, a, &name);
	time_write(sum.last_ms, last);
	if (o->json)
		text_addf(t,
			"{\"strand\":\"%s\",\"who\":\"%s\",\"lines\":%llu,\"answers\":%llu,"
			"\"last\":\"%s\"}\n",
			sum.strand, sum.who, (unsigned long long)sum.lines,
			(unsigned long long)answers, last);
	else {
		text_addf(t, "%s  %6llu lines  %6llu answers  last %.16s UTC  %s", sum.strand,
			(unsigned long long)sum.lines, (unsigned long long)answers, last, sum.who);
		if (*name) {
			text_add(t, "  ");
			text_add_safe(t, name, strlen(name), false);
		}
		text_add_char(t, '\n');
	}
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
	text_init(&t);
	if (code && code != BAD_ABSENT) {
		file_words(code, folder, &t);
		int status = cannot("%s", t.at);
		text_release(&t);
		return status;
	}
	for (size_t k = 0; k < n; k++) {
		size_t len = strlen(entry[k].name);
		if (entry[k].kind != FILE_PLAIN || len < 6 ||
			strcmp(entry[k].name + len - 6, ".jsonl"))
			continue;
		list_one(o, &t, data, folder_join(a, folder, entry[k].name), a);
		shown++;
	}
	if (!shown && !o->json)
		text_add(&t, "Nothing is recorded yet.\n");
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

/* ---- the command ----------------------------------------------------------------------------- */

static int run_word(const struct options *o, struct arena *a, int argc, char **argv)
{
	const char *data = data_folder(o, a);
	if (!data)
		return cannot("there is no HOME; name the folder of the records: --data DIR");
	if (argc < 2)
		return cannot_read_usage(&record_command, "list, audit, matrix or transcript?");
	if (strcmp(argv[1], "list") == 0 && argc == 2)
		return run_list(o, a, data);
	if (strcmp(argv[1], "audit") == 0)
		return run_audit(o, a, data, argv + 2, (size_t)argc - 2);
	if (strcmp(argv[1], "matrix") == 0)
		return programme_matrix(o, a, data, argc - 1, argv + 1);
	if (strcmp(argv[1], "transcript") == 0)
		return programme_transcript(o, a, data, argc - 1, argv + 1);
	return cannot_read_usage(
		&record_command, "'%s' is not known here", argv[argc == 2 ? 1 : 2]);
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
	"barwright record list | audit [PATH...] | matrix [PATH...] | transcript LEARNER [PATH...]",
	"list and audit what is recorded, show who can do what",
	"  list    every strand of this machine: learner, lines, answers, last entry\n"
	"  audit   check every line, make every task again from its key and score every answer "
	"again;\n"
	"          PATH is a strand or a folder of them, without it all of this machine.\n"
	"          Exit status 1 when something does not hold.\n"
	"  matrix      learners and competencies: evidence, last result, sealed or not, and what "
	"is "
	"missing\n"
	"              for whom by the programme's own codes\n"
	"  transcript  all evidence of one learner, a code or a name; --svg FILE for paper.\n"
	"              Both take --programme FILE (programme.yaml of the course).\n",
	run,
};
