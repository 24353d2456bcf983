/* SPDX-License-Identifier: GPL-3.0-or-later */
/* barwright record seal, gather, erase */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/erase.h>
#include <barwright/record/gather.h>
#include <barwright/record/learner.h>
#include <barwright/record/seal.h>
#include <barwright/record/witness.h>

#include "cmd/phrase.h"
#include "cmd/options.h"
#include "cmd/record_parts.h"
#include "cmd/record_person.h"
#include "cmd/seal_up.h"
#include "tree/json.h"

/* ---- seal ------------------------------------------------------------------------------------ */

struct sealing {
	const struct options *o;
	struct arena *a;
	const char *data, *sitting, *witness;
	const struct seal_options *how;
	const struct opened *by;
	struct sign_pair machine;
	const char **wanted;
	size_t nwanted;
	size_t sealed;
	struct text out;
	struct json_out json;
};

static void add_safe(struct text *t, const char *s)
{
	text_add_safe(t, s, strlen(s), false);
}

/* What stands, and what was said now and does not stand. */
static void tell_already(struct sealing *x, const struct line_seal *seal)
{
	struct text *t = &x->out;
	text_addf(t, "  It was sealed before, %.16s UTC, identity ", seal->said_time);
	add_safe(t, *seal->identity_check ? seal->identity_check : "not-stated");
	text_add(t, "; nothing was added.\n");
	if (x->how->identity && strcmp(x->how->identity, seal->identity_check) != 0) {
		text_add(t, "  NOT taken: --identity ");
		add_safe(t, x->how->identity);
		text_add(t, ". A seal stands as it was made.\n");
	}
	if (x->how->time && strcmp(x->how->time, seal->said_time) != 0)
		text_addf(t, "  NOT taken: --time, %.16s UTC. A seal stands as it was made.\n",
			x->how->time);
}

static void put_safe(struct json_out *j, const char *name, const char *value)
{
	struct text clean;
	text_init(&clean);
	add_safe(&clean, value);
	j->text->out = j->text->out || clean.out;
	json_name(j, name);
	json_text(j, clean.at);
	text_release(&clean);
}

static void tell_sealed(struct sealing *x, const char *strand, const char *who,
	const struct line_seal *seal, bool already)
{
	if (x->o->json) {
		struct json_out *j = &x->json;
		json_open_object(j);
		json_name(j, "strand");
		json_text(j, strand);
		json_name(j, "who");
		json_text(j, who);
		put_safe(j, "sitting", seal->sitting);
		json_name(j, "size");
		json_whole(j, (int64_t)seal->size);
		json_name(j, "already");
		json_truth(j, already);
		put_safe(j, "identity_check", seal->identity_check);
		put_safe(j, "said_time", seal->said_time);
		json_close_object(j);
		return;
	}
	text_addf(&x->out, "%s, learner %s: %llu lines sealed, sitting ", strand, who,
		(unsigned long long)seal->size);
	add_safe(&x->out, seal->sitting);
	text_add_char(&x->out, '\n');
	if (already)
		tell_already(x, seal);
}

/* The strand of one learner. One without this sitting is passed over when none was named. */
static int seal_one(struct sealing *x, const char *who)
{
	struct strand *s;
	struct line_seal seal;
	struct text why;
	struct seal_how how = {.sitting = x->sitting,
		.identity_check = x->how->identity,
		.said_time = x->how->time,
		.pair = x->by->pair,
		.assessor = &x->by->who,
		.all_days = x->how->all_days};
	text_init(&why);
	enum bad code = strand_open(x->data, who, &x->machine, &s, &why);
	if (!code) {
		uint64_t before = strand_count(s);
		code = seal_strand(s, &how, x->a, &seal, &why);
		bool already = strand_count(s) == before;
		if (!code)
			code = witness_add(x->witness, x->by->pair, strand_own_id(s), &seal, &why);
		if (!code) {
			tell_sealed(x, strand_own_id(s), who, &seal, already);
			x->sealed++;
		}
		strand_close(s);
	}
	bool passed = code == BAD_MISSING && !x->nwanted;
	int status = !code || passed ? EXIT_DONE : cannot("not sealed: %s", why.at);
	text_release(&why);
	return status;
}

static bool is_wanted(
	const struct sealing *x, const char *path, const char *strand, const char *who)
{
	for (size_t i = 0; i < x->nwanted; i++)
		if (!strcmp(x->wanted[i], path) || !strcmp(x->wanted[i], strand) ||
			!strcmp(x->wanted[i], who))
			return true;
	return !x->nwanted;
}

static enum bad take_first(void *context, const struct strand_line *line)
{
	*(struct strand_line *)context = *line;
	return BAD_STOPPED;
}

static int seal_path(struct sealing *x, const char *path)
{
	struct arena a = {0};
	struct source *source;
	struct strand_sum sum;
	struct strand_line first = {0};
	struct strand_check check = {.hashes_only = true};
	char id[STRAND_ID + 1] = "";
	int status = EXIT_DONE;
	if (!strand_load(path, &a, &source))
		strand_read(source, &check, take_first, &first, &sum, NULL);
	if (*first.who)
		strand_id(first.who, x->machine.open, id);
	if (*first.who && is_wanted(x, path, first.strand, first.who)) {
		if (strcmp(id, first.strand) == 0)
			status = seal_one(x, first.who);
		else if (x->nwanted)
			status = cannot(
				"%s was written on another machine: seal it there", first.strand);
	}
	arena_release(&a);
	return status;
}

static int seal_all(struct sealing *x)
{
	const char **path;
	size_t n;
	struct text why;
	text_init(&why);
	int status = key_machine(x->data, &x->machine, &why) ? cannot("%s", why.at) : EXIT_DONE;
	text_release(&why);
	if (!status)
		status = strand_paths(x->data, NULL, 0, x->a, &path, &n);
	json_begin(&x->json, &x->out, false);
	if (x->o->json) {
		json_open_object(&x->json);
		json_name(&x->json, "sealed");
		json_open_list(&x->json);
	}
	for (size_t i = 0; i < n && !status; i++)
		status = seal_path(x, path[i]);
	if (x->o->json) {
		json_close_list(&x->json);
		json_close_object(&x->json);
		text_add_char(&x->out, '\n');
		x->out.out = x->out.out || json_end(&x->json);
	}
	cipher_wipe(&x->machine, sizeof x->machine);
	if (!status && !x->sealed)
		status = x->nwanted ? cannot("nothing is recorded here of a learner or strand of "
					     "that name; to see them: barwright record list")
				    : cannot("there is nothing here to seal");
	int told = put_out(&x->out, status);
	return status ? status : told;
}

/* Names become codes; codes, ids and paths stay. */
static int find_wanted(struct sealing *x, char **wanted, size_t n)
{
	struct person p;
	int status = EXIT_DONE;
	for (size_t i = 0; i < n && !status; i++) {
		status = person_find(x->data, x->a, wanted[i], &p);
		const char **more =
			status ? NULL : arena_many(x->a, x->nwanted + p.n, const char *);
		if (!status && !more)
			status = cannot("%s", bad_text(BAD_MEMORY));
		if (status)
			break;
		if (x->nwanted)
			memcpy(more, x->wanted, x->nwanted * sizeof *more);
		memcpy(more + x->nwanted, p.code, p.n * sizeof *more);
		x->wanted = more;
		x->nwanted += p.n;
	}
	return status;
}

int record_seal(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option known[] = {
		SEAL_LONG_OPTIONS, {"sitting", required_argument, NULL, 's'}, {0}};
	struct seal_options how = {0};
	struct sealing x = {.o = o, .a = a, .data = data, .how = &how};
	struct opened by;
	int c;
	optind = 1;
	while ((c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c == 's')
			x.sitting = optarg;
		else if (seal_option(&how, c, optarg) != SEAL_OPTION_TAKEN)
			return EXIT_CANNOT;
	}
	if (!how.key)
		return cannot_read_usage(&record_command, "whose seal? --key FILE");
	if (!x.sitting && optind == argc)
		return cannot_read_usage(
			&record_command, "what was watched? --sitting CODE, or name the learners");
	x.witness = how.witness ? how.witness
				: arena_format(a, "%.*switness.jsonl",
					  (int)(file_name(how.key) - how.key), how.key);
	if (!x.witness)
		return cannot("%s", bad_text(BAD_MEMORY));
	int status = find_wanted(&x, argv + optind, (size_t)(argc - optind));
	if (status)
		return status;
	status = key_open(how.key, how.phrase, &by);
	if (!status) {
		x.by = &by;
		text_init(&x.out);
		status = seal_all(&x);
		text_release(&x.out);
	}
	assessor_forget(by.pair);
	return status;
}

/* ---- gather ---------------------------------------------------------------------------------- */

static int gather_all(
	const struct options *o, struct gather *g, char **source, size_t n, bool names)
{
	struct text t;
	text_init(&t);
	enum bad code = FINE;
	for (size_t i = 0; i < n && !code; i++) {
		code = gather_source(g, source[i], &t);
		if (!code && names && file_kind(source[i]) == FILE_FOLDER)
			code = gather_names(g, source[i], &t);
	}
	int status = code ? cannot("%s\nWhat was gathered before is safe; gather again", t.at)
			  : EXIT_DONE;
	text_clear(&t);
	if (o->json && gather_json(g, &t))
		status = cannot("%s", bad_text(BAD_ENCODING));
	if (!o->json)
		gather_tell(g, &t);
	int well = g->unread ? EXIT_CANNOT : g->forks || g->faulty ? EXIT_NO : EXIT_DONE;
	int told = put_out(&t, well);
	text_release(&t);
	return status ? status : told;
}

int record_gather(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option known[] = {{"into", required_argument, NULL, 'i'},
		{"names", no_argument, NULL, 'n'}, {"accept", required_argument, NULL, 'A'}, {0}};
	struct accepted accepted = {0};
	struct gather g;
	struct text why;
	const char *into = NULL;
	char *own[] = {arena_copy(a, data, strlen(data))};
	bool names = false;
	int c, status = EXIT_DONE;
	optind = 1;
	while (!status && (c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c == 'i')
			into = optarg;
		else if (c == 'n')
			names = true;
		else if (c == 'A')
			status = accepted_add(&accepted, a, optarg);
		else
			return EXIT_CANNOT;
	}
	if (!status && !into)
		return cannot_read_usage(&record_command, "gather --into DIR [SOURCE...]");
	if (!status && optind == argc && strcmp(into, data) == 0)
		return cannot_read_usage(&record_command,
			"gather what? %s are this machine's own records; name a stick or an "
			"archive",
			into);
	if (!own[0])
		return cannot("%s", bad_text(BAD_MEMORY));
	if (!status)
		status = archive_ring(data, into, a, &accepted);
	if (status)
		return status;
	text_init(&why);
	if (gather_begin(&g, into, &accepted.ring, &why))
		status = cannot("%s", why.at);
	else
		status = optind < argc
				 ? gather_all(o, &g, argv + optind, (size_t)(argc - optind), names)
				 : gather_all(o, &g, own, 1, names);
	gather_end(&g);
	text_release(&why);
	return status;
}

/* ---- erase ----------------------------------------------------------------------------------- */

static void tell_erased_json(const struct person *p, const struct erase_sum *sum, struct text *t)
{
	text_addf(t, "{\"who\":\"%s\",\"codes\":[", p->code[0]);
	for (size_t i = 0; i < p->n; i++)
		text_addf(t, "%s\"%s\"", i ? "," : "", p->code[i]);
	text_addf(t, "],\"strands\":%zu,\"lines\":%llu,\"pieces\":%zu,\"row\":%s}\n", sum->strands,
		(unsigned long long)sum->lines, sum->pieces, sum->row ? "true" : "false");
}

static int tell_erased(const struct options *o, const struct person *p, const struct erase_sum *sum)
{
	struct text t;
	text_init(&t);
	if (o->json)
		tell_erased_json(p, sum, &t);
	for (size_t i = 0; !o->json && i < p->n; i++)
		text_addf(&t, "%s%s", i ? ", " : "", p->code[i]);
	if (!o->json)
		text_addf(&t,
			" %s erased: %llu line%s of %zu strand%s emptied%s.\nChains and seals "
			"still hold. This reaches what is here: other copies lose it when they\n"
			"are gathered with this note by somebody who accepts it; paper and "
			"exports\n"
			"do not at all.\n",
			p->n > 1 ? "are" : "is", (unsigned long long)sum->lines,
			sum->lines == 1 ? "" : "s", sum->strands, sum->strands == 1 ? "" : "s",
			sum->row ? ", the name taken off the list" : "");
	int status = put_out(&t, EXIT_DONE);
	text_release(&t);
	return status;
}

/* One code after the other; one of which nothing is here is no reason to stop when another has something. */
static enum bad erase_codes(const char *data, const struct person *p, const struct erase_how *how,
	struct erase_sum *sum, struct text *why)
{
	size_t done = 0;
	*sum = (struct erase_sum){0};
	for (size_t i = 0; i < p->n; i++) {
		struct erase_sum one;
		text_clear(why);
		enum bad bad = erase_learner(data, p->code[i], how, &one, why);
		if (bad && bad != BAD_UNKNOWN)
			return bad;
		if (bad)
			continue;
		done++;
		sum->strands += one.strands;
		sum->pieces += one.pieces;
		sum->lines += one.lines;
		sum->row = sum->row || one.row;
	}
	return done ? FINE : BAD_UNKNOWN;
}

static int erase_it(
	const struct options *o, const char *data, const struct person *p, const struct opened *by)
{
	struct sign_pair machine;
	struct erase_sum sum;
	struct text why;
	struct erase_how how = {&machine, by->pair};
	text_init(&why);
	enum bad bad = key_machine(data, &machine, &why);
	if (!bad)
		bad = erase_codes(data, p, &how, &sum, &why);
	cipher_wipe(&machine, sizeof machine);
	int status = bad ? cannot("%s", why.at) : tell_erased(o, p, &sum);
	text_release(&why);
	return status;
}

static int ask_for_yes(const struct person *p, const char *named)
{
	struct text codes;
	text_init(&codes);
	for (size_t i = 0; i < p->n; i++)
		text_addf(&codes, "%s%s", i ? ", " : "", p->code[i]);
	int status = p->n == 1 && strcmp(named, p->code[0]) == 0
			     ? cannot("what %s answered will be gone for good. To do it: add "
				      "--yes",
				       named)
			     : cannot("what %s (%s) answered will be gone for good. To do it: "
				      "add --yes",
				       named, codes.at);
	text_release(&codes);
	return status;
}

int record_erase(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option known[] = {
		SEAL_LONG_OPTIONS, {"yes", no_argument, NULL, 'y'}, {0}};
	struct seal_options how = {0};
	struct opened by;
	struct person person;
	bool yes = false;
	int c;
	optind = 1;
	while ((c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c == 'y')
			yes = true;
		else if (seal_option(&how, c, optarg) != SEAL_OPTION_TAKEN)
			return EXIT_CANNOT;
	}
	if (argc - optind != 1)
		return cannot_read_usage(&record_command, "erase takes one learner");
	int status = person_find(data, a, argv[optind], &person);
	if (status)
		return status;
	if (!yes)
		return ask_for_yes(&person, argv[optind]);
	status = key_open(how.key, how.phrase, &by);
	if (!status && by.pair)
		status = accepted_there(&by.who, data, a);
	if (!status)
		status = erase_it(o, data, &person, &by);
	assessor_forget(by.pair);
	return status;
}
