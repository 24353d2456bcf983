/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include <barwright/base/file.h>

#include "cmd/bench.h"
#include "cmd/options.h"
#include "cmd/procedures.h"
#include "cmd/sit_down.h"

struct bench_args {
	const char *name; /* a part's or a procedure's code, or a file; null: say what there is */
	const struct options *options;
	enum bench_mode mode;
	struct procedures all;
	const struct procedure *procedure;
	size_t part;
	const char *fault_code; /* put on the bench for a hunt; null: any */
	size_t fault;
	bool has_mode;
	bool has_sitting;
	bool again;   /* show a run instead of working one */
	size_t which; /* that one; 0: the only one, or a choice */
};

static int list_names(const struct bench_args *a)
{
	struct text t;
	text_init(&t);
	for (size_t i = 0; i < a->all.n; i++)
		for (size_t k = 0; k < a->all.procedure[i].npart; k++)
			text_addf(&t, "\n  %-20s %s", a->all.procedure[i].part[k].code,
				a->all.procedure[i].part[k].title);
	int status = a->name ? cannot("there is no procedure '%s'. There are:%s", a->name, t.at)
			     : cannot("which procedure? There are:%s", t.at);
	text_release(&t);
	return status;
}

static int find_part(struct bench_args *a)
{
	for (size_t i = 0; a->name && i < a->all.n; i++) {
		const struct procedure *p = &a->all.procedure[i];
		a->procedure = p;
		a->part = procedure_part(p, a->name);
		if (a->part != SIZE_MAX)
			return EXIT_DONE;
		a->part = p->npart - 1;
		if (strcmp(p->code, a->name) == 0 || a->all.is_file)
			return EXIT_DONE;
	}
	return list_names(a);
}

static int no_fault(const struct procedure *p, const char *code)
{
	if (!p->nfault)
		return cannot("the procedure has no faults, so none called '%s'", code);
	if (p->nfault == 1)
		return cannot("the procedure has no fault '%s'; its only one is %s", code,
			p->fault[0].code);
	return cannot("the procedure has no fault '%s'; it has %zu, %s to %s", code, p->nfault,
		p->fault[0].code, p->fault[p->nfault - 1].code);
}

static int find_fault(struct bench_args *a)
{
	const struct procedure *p = a->procedure;
	a->fault = SIZE_MAX;
	if (!a->fault_code)
		return EXIT_DONE;
	a->fault = procedure_fault(p, a->fault_code, strlen(a->fault_code));
	if (a->fault == SIZE_MAX)
		return no_fault(p, a->fault_code);
	if (p->fault[a->fault].made < p->part[a->part].from ||
		p->fault[a->fault].made > p->part[a->part].to)
		return cannot("%s is not made in this part of the work", p->fault[a->fault].code);
	return EXIT_DONE;
}

struct bench_desk bench_desk_of(const struct desk *d, const struct options *o)
{
	return (struct bench_desk){.course = d->course,
		.rubric = d->rubric,
		.surface = d->surface,
		.strand = d->strand,
		.who = d->who,
		.program = d->program,
		.sitting = d->sitting,
		.by_lines = o->plain};
}

static enum how do_bench(struct desk *d, void *context)
{
	const struct bench_args *a = context;
	struct bench_desk desk = bench_desk_of(d, a->options);
	desk.is_given = a->has_sitting;
	if (!a->again)
		desk_keeps(d, "The run goes on where you left it.");
	enum how how =
		how_of(a->again ? bench_again(&desk, a->procedure, a->part,
					  a->has_mode ? a->mode : BENCH_MODES, a->fault, a->which)
				: bench_session(&desk, a->procedure, a->part, a->mode, a->fault));
	return desk.lost ? desk_broken(d, desk.lost) : how;
}

static bool read_mode(const char *word, enum bench_mode *out)
{
	for (int i = 0; i < BENCH_MODES; i++)
		if (strcmp(bench_mode_word[i], word) == 0) {
			*out = (enum bench_mode)i;
			return true;
		}
	return false;
}

/* The number of a run, from 1. */
static bool is_number(const char *s)
{
	return *s >= '1' && *s <= '9' && strspn(s, "0123456789") == strlen(s) && strlen(s) < 6;
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"mode", required_argument, NULL, 'm'},
		{"fault", required_argument, NULL, 'f'}, {"again", no_argument, NULL, 'a'},
		{"sitting", required_argument, NULL, 's'}, {"unrecorded", no_argument, NULL, 'u'},
		{0}};
	struct bench_args a = {.options = o};
	struct at_desk at = {.what = do_bench, .context = &a};
	int c;
	optind = 0;
	while ((c = option_next(&bench_command, argc, argv, known)) != -1) {
		if (c == 'm' && !read_mode(optarg, &a.mode))
			return cannot_read_usage(
				&bench_command, "--mode is free, guided, timed or hunt");
		if (c == 's' && (!*optarg || strlen(optarg) >= SITTING_CODE))
			return cannot_read_usage(&bench_command,
				"a sitting's code is 1 to %d letters, digits and -",
				SITTING_CODE - 1);
		if (c == '?')
			return EXIT_CANNOT;
		a.has_mode |= c == 'm' || c == 'f';
		if (c == 'f') {
			a.fault_code = optarg;
			a.mode = BENCH_HUNT;
		}
		at.sitting = c == 's' ? optarg : at.sitting;
		a.has_sitting |= c == 's';
		at.unrecorded |= c == 'u';
		a.again |= c == 'a';
		at.only_reads |= c == 'a';
	}
	for (int i = optind; i < argc; i++) {
		if (a.again && !a.which && is_number(argv[i]))
			a.which = strtoul(argv[i], NULL, 10);
		else if (a.name)
			return cannot_read_usage(&bench_command, "one procedure at a time");
		else
			a.name = argv[i];
	}
	int status = procedures_load(o, a.name, &a.all);
	if (!status)
		status = find_part(&a);
	if (!status)
		status = find_fault(&a);
	if (!status)
		status = sit_down(o, &at);
	procedures_release(&a.all);
	return status;
}

const struct command bench_command = {
	"bench",
	"barwright bench [--mode MODE] [--fault CODE] [--sitting CODE] [--unrecorded] PROCEDURE\n"
	"barwright bench --again [--mode MODE] PROCEDURE [NUMBER]",
	"work a procedure in the simulator",
	"PROCEDURE is the code of a part (fabricate-the-bar, process-the-resin), of a whole "
	"procedure, "
	"or a\nfile. You decide every step and every number; nothing is put right for you, and a "
	"fault "
	"shows where\nit would show. Leaving and coming back goes on where you were.\n"
	"  --mode MODE      free (the usual one); guided: asks why before each step; timed: "
	"against "
	"the\n                   clock of the bench; hunt: something is wrong, find it\n"
	"  --fault CODE     for whoever sets a hunt: this fault is on the bench, F12\n"
	"  --again          show a run of it, decision by decision, and what nobody saw then: the\n"
	"                   one with this number, else one from the list of all; of the mode that\n"
	"                   is named, else of any. With --data of a folder that strands were\n"
	"                   gathered in, and --learner, runs from all machines\n"
	"  --sitting CODE   name the sitting: with the same code a learner gets the same case "
	"again\n"
	"  --unrecorded     keep no record of this run\n",
	run,
};
