/* SPDX-License-Identifier: GPL-3.0-or-later */
/* barwright record audit */
#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/audit.h>
#include <barwright/record/roster.h>

#include "bench/replay.h"
#include "cmd/assessments.h"
#include "cmd/courses.h"
#include "cmd/procedures.h"
#include "cmd/options.h"
#include "cmd/record_parts.h"
#include "desk/replay.h"
#include "rating/review.h"
#include "sitting/review.h"

/* Whoever knows how to make an answer again. */
struct replays {
	struct replay desk;
	struct bench_replay bench;
	struct review sitting;
	struct rating_review rating;
};

static enum bad replay_any(void *context, const struct audit_case *what, struct audit_finding *out)
{
	struct replays *r = context;
	return bench_replay_knows(what) ? bench_replay_answer(&r->bench, what, out)
					: replay_answer(&r->desk, what, out);
}

static enum bad review_any(void *context, const struct strand_line *line,
	const struct line_open *open, struct audit_finding *out)
{
	struct replays *r = context;
	if (strcmp(open->mode, "bench") == 0)
		return bench_review_line(&r->bench, line, open, out);
	return strcmp(open->mode, "rate") == 0 ? rating_review_line(&r->rating, line, open, out)
					       : review_line(&r->sitting, line, open, out);
}

struct audit_args {
	const char **witness;
	size_t nwitness;
	struct accepted accepted;
	struct key_ring machines;
	const char *roster; /* null: none was brought */
	char **path;
	size_t npath;
	bool lines_only; /* no course is asked for, nothing is made again */
};

/* *empty: the first path without a strand. */
static int read_all(struct audit *audit, const struct audit_args *x, const struct audit_how *how,
	const char **empty)
{
	for (size_t k = 0; k < x->npath; k++) {
		size_t before = audit->strands;
		enum bad code = audit_path(audit, x->path[k], how);
		if (code)
			return cannot("%s: %s", x->path[k], file_advice(code));
		if (audit->strands == before && !*empty)
			*empty = x->path[k];
	}
	for (size_t k = 0; k < x->nwitness; k++) {
		enum bad code = audit_witness(audit, x->witness[k], how->assessors);
		if (code)
			return cannot("%s: %s", x->witness[k], file_advice(code));
	}
	enum bad code = audit_compare(audit);
	return code ? cannot("%s", bad_text(code)) : EXIT_DONE;
}

static int show(const struct options *o, const struct audit *audit)
{
	struct text t;
	text_init(&t);
	(o->json ? audit_json : audit_tell)(audit, &t);
	int status = put_out(&t, audit_is_clean(audit) ? EXIT_DONE : EXIT_NO);
	text_release(&t);
	return status;
}

static int no_strand(const char *path)
{
	return cannot(
		"%s: no strand is here, so there is nothing to check. Name a strand (its file "
		"ends in .jsonl), a folder of strands, or the folder of a machine's records",
		path);
}

/* Nothing to check is not a yes: a wrong path must not look like a record in order. */
static int audit_all(const struct options *o, struct replays *replays, const struct audit_args *x)
{
	struct audit audit;
	const char *empty = NULL;
	struct audit_how how = {.known = x->machines.n || x->roster ? &x->machines : NULL,
		.assessors = &x->accepted.ring,
		.replay = replays ? replay_any : NULL,
		.context = replays,
		.review = replays ? review_any : NULL,
		.review_context = replays};
	audit_init(&audit);
	int status = read_all(&audit, x, &how, &empty);
	if (!status && (audit.strands || audit.nloss))
		status = show(o, &audit);
	if (status != EXIT_CANNOT && empty && !audit.nloss)
		status = no_strand(empty);
	audit_release(&audit);
	return status;
}

static int with_courses(const struct options *o, struct arena *a, const struct audit_args *x)
{
	struct courses courses;
	struct procedures procedures = {0};
	struct assessments assessments = {0};
	struct rubric rubric = {0};
	if (courses_load(o, a, &courses))
		return EXIT_CANNOT;
	enum bad code = procedures_gather(courses.folder, a, &procedures);
	procedures_tell_left_out(&procedures);
	if (!code)
		code = rubrics_load(courses.folder, a, &rubric);
	if (!code)
		code = assessments_gather(courses.folder, a, &assessments);
	const struct course **list = arena_many(a, courses.n, const struct course *);
	if (!code && !list)
		code = BAD_MEMORY;
	int status = code ? cannot("%s", bad_text(code)) : EXIT_DONE;
	for (size_t k = 0; !status && k < courses.n; k++)
		list[k] = &courses.course[k];
	if (!status) {
		struct replays r = {{.course = list,
					    .ncourse = courses.n,
					    .assessment = assessments.at,
					    .nassessment = assessments.n},
			{.procedure = procedures.procedure,
				.nprocedure = procedures.n,
				.rubric = rubric.nstation ? &rubric : NULL},
			{.course = list,
				.ncourse = courses.n,
				.assessment = assessments.at,
				.nassessment = assessments.n},
			{.rubric = rubric.nstation ? &rubric : NULL}};
		status = audit_all(o, &r, x);
		arena_release(&r.desk.arena);
		arena_release(&r.bench.arena);
		arena_release(&r.sitting.arena);
		arena_release(&r.rating.arena);
	}
	rubric_release(&rubric);
	procedures_release(&procedures);
	assessments_release(&assessments);
	courses_release(&courses);
	return status;
}

/* Those of `first` before those of `then`, so that the days of a roster hold for keys of both. */
static int ring_join(struct arena *a, const struct key_ring *first, const struct key_ring *then,
	struct key_ring *out)
{
	struct key_known *all = arena_many(a, first->n + then->n + 1, struct key_known);
	if (!all)
		return cannot("%s", bad_text(BAD_MEMORY));
	for (size_t i = 0; i < first->n; i++)
		all[i] = first->at[i];
	for (size_t i = 0; i < then->n; i++)
		all[first->n + i] = then->at[i];
	*out = (struct key_ring){all, first->n + then->n};
	return EXIT_DONE;
}

static int take_keys(struct audit_args *x, const struct own_key *own, struct arena *a)
{
	struct roster roster = {0};
	struct text why;
	int status = EXIT_DONE;
	text_init(&why);
	if (x->roster && roster_read(x->roster, &x->accepted.ring, a, &roster, &why))
		status = cannot("%s", why.at);
	text_release(&why);
	if (!status)
		status = ring_join(a, &roster.machines, &own->ring, &x->machines);
	return status ? status
		      : ring_join(a, &roster.assessors, &x->accepted.ring, &x->accepted.ring);
}

int record_audit(const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	static const struct option known[] = {{"witness", required_argument, NULL, 'W'},
		{"accept", required_argument, NULL, 'A'}, {"lines-only", no_argument, NULL, 'L'},
		{"roster", required_argument, NULL, 'R'}, {0}};
	struct own_key own;
	struct audit_args x = {.witness = arena_many(a, (size_t)argc, const char *)};
	char *whole = arena_copy(a, data, strlen(data));
	int c, status = x.witness && whole ? EXIT_DONE : cannot("%s", bad_text(BAD_MEMORY));
	optind = 1;
	while (!status && (c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c == 'W')
			x.witness[x.nwitness++] = optarg;
		else if (c == 'A')
			status = accepted_add(&x.accepted, a, optarg);
		else if (c == 'L')
			x.lines_only = true;
		else if (c == 'R')
			x.roster = optarg;
		else
			return EXIT_CANNOT;
	}
	if (!status)
		status = accepted_finish(&x.accepted, a, data);
	if (status)
		return status;
	x.path = argv + optind;
	x.npath = (size_t)(argc - optind);
	if (!x.npath) {
		if (file_kind(data) == FILE_NONE)
			return no_strand(data);
		x.path = &whole;
		x.npath = 1;
	}
	own_key_find(data, a, &own);
	status = take_keys(&x, &own, a);
	if (status)
		return status;
	return x.lines_only ? audit_all(o, NULL, &x) : with_courses(o, a, &x);
}
