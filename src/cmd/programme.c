/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/programme.h"

#include <stdio.h>
#include <string.h>

#include <barwright/base/clock.h>
#include <barwright/base/file.h>
#include <barwright/record/assessor.h>
#include <barwright/record/learner.h>

#include "cmd/courses.h"
#include "cmd/options.h"
#include "cmd/record_parts.h"
#include "cmd/record_person.h"
#include "course/programme.h"
#include "print/paper.h"
#include "programme/view.h"

struct view_args {
	const char *programme, *svg;
	const char *learner; /* null: all */
	const char *data;
	const struct learner_row *row; /* the list of learners */
	size_t nrow;
	struct arena *arena;
};

/* ---- what is there --------------------------------------------------------------------------- */

/* The first name that any code of this person has. */
static const char *name_of(const struct view_args *x, const char *who)
{
	for (size_t k = 0; k < x->nrow; k++)
		if (*x->row[k].name && strcmp(x->row[k].person, who) == 0)
			return x->row[k].name;
	return NULL;
}

static const char *name_find(void *context, const char *who)
{
	return name_of(context, who);
}

static const char *person_find_in_list(void *context, const char *code)
{
	const struct view_args *x = context;
	return learner_person(x->row, x->nrow, code);
}

/* --programme, or programme.yaml in the course's folder. */
static const char *programme_path(
	const struct view_args *x, const struct courses *courses, const struct course *c)
{
	if (x->programme)
		return x->programme;
	const char *own = arena_format(x->arena, "%s/programme.yaml", courses->folder);
	if (own && file_kind(own) == FILE_PLAIN)
		return own;
	own = arena_format(x->arena, "%s/%s/programme.yaml", courses->folder, c->code);
	return own && file_kind(own) == FILE_PLAIN ? own : NULL;
}

static int load_programme(
	const char *path, const struct course *c, struct arena *a, struct programme *out)
{
	struct diags d = {.arena = a};
	struct text words;
	int status = EXIT_DONE;
	enum bad code = programme_load(path, c, out, &d);
	text_init(&words);
	if (code) {
		file_words(code, path, &words);
		status = cannot("%s", words.at);
	} else if (d.nerror) {
		diags_print(&d, &words);
		fputs(words.at, stderr);
		status = cannot("%s has faults and cannot be used", path);
	}
	text_release(&words);
	return status;
}

static int gather(struct evidence *e, const struct view_args *x, char **path, size_t n)
{
	struct text words;
	int status = EXIT_DONE;
	char *own = strand_folder(x->data, x->arena);
	if (!own)
		return cannot("%s", bad_text(BAD_MEMORY));
	text_init(&words);
	for (size_t k = 0; k < (n ? n : 1) && !status; k++) {
		const char *at = n ? path[k] : own;
		enum bad code = evidence_add(e, at);
		if (!code || (!n && code == BAD_ABSENT))
			continue;
		file_words(code, at, &words);
		status = cannot("%s", words.at);
	}
	text_release(&words);
	return !status && evidence_end(e) ? cannot("%s", bad_text(BAD_MEMORY)) : status;
}

/* ---- what is said ---------------------------------------------------------------------------- */

/* FILE for the first sheet; for more of them FILE with "-2", "-3" before its end. */
static const char *sheet_path(const char *svg, size_t sheet, struct arena *a)
{
	const char *dot = strrchr(file_name(svg), '.');
	size_t len = dot ? (size_t)(dot - svg) : strlen(svg);
	if (!sheet)
		return svg;
	return arena_format(a, "%.*s-%zu%s", (int)len, svg, sheet + 1, svg + len);
}

/* Every sheet says whose it is. */
static const char *sheet_title(const struct view_args *x)
{
	const char *name = name_of(x, x->learner);
	char day[TIME_TEXT];
	time_write(clock_now(), day);
	return arena_format(x->arena, "Transcript of %s%s%s, %.10s", x->learner, name ? " " : "",
		name ? name : "", day);
}

/* What stands under the last heading is not torn over two sheets where it fits on one: the heading begins the
 * next sheet. BAD_MEMORY. */
static enum bad keep_end(struct arena *a, const char *const **line, size_t *n)
{
	const char *const *old = *line;
	size_t from = *n - 1;
	while (from && (!*old[from] || *old[from] == ' '))
		from--;
	size_t blank = (PAPER_LINES - from % PAPER_LINES) % PAPER_LINES;
	if (*n - from <= blank || *n - from > PAPER_LINES)
		return FINE;
	const char **made = arena_many(a, *n + blank, const char *);
	if (!made)
		return BAD_MEMORY;
	for (size_t k = 0; k < *n + blank; k++)
		made[k] = k < from ? old[k] : k < from + blank ? "" : old[k - blank];
	*line = made;
	*n += blank;
	return FINE;
}

static int write_sheets(const struct view_args *x, const struct text *words)
{
	const char *title = sheet_title(x);
	const char *const *line;
	size_t n;
	struct text sheet;
	int status = EXIT_DONE;
	enum bad code = paper_lines(x->arena, words->at, &line, &n);
	if (!code)
		code = keep_end(x->arena, &line, &n);
	text_init(&sheet);
	for (size_t k = 0; !code && !status && k < paper_sheets(n); k++) {
		const char *path = sheet_path(x->svg, k, x->arena);
		text_clear(&sheet);
		code = path && title ? paper_sheet(title, line, n, k, &sheet) : BAD_MEMORY;
		if (!code)
			code = put_file(path, "<?xml", sheet.at, sheet.len, false);
		if (code)
			status = cannot("%s: %s", x->svg, file_advice(code));
		else
			fprintf(stderr, "barwright: wrote %s\n", path);
	}
	text_release(&sheet);
	return code && !status ? cannot("%s", bad_text(code)) : status;
}

static int tell(const struct options *o, const struct view_args *x, const struct view_of *v)
{
	struct text out;
	int status = EXIT_DONE;
	text_init(&out);
	if (x->svg) {
		view_transcript(v, x->learner, &out);
		status = out.out ? cannot("%s", bad_text(BAD_MEMORY)) : write_sheets(x, &out);
	} else {
		if (x->learner)
			(o->json ? view_transcript_json : view_transcript)(v, x->learner, &out);
		else
			(o->json ? view_matrix_json : view_matrix)(v, &out);
		status = out.out ? cannot("%s", bad_text(BAD_MEMORY)) : put_out(&out, EXIT_DONE);
	}
	text_release(&out);
	return status;
}

/* A code that some strand carries, or the name that goes with one. */
static int find_learner(struct view_args *x, const struct evidence *e)
{
	struct person person;
	int status = person_find(x->data, x->arena, x->learner, &person);
	for (const struct looked *l = e->looked; !status && l; l = l->next)
		if (strcmp(l->who, person.code[0]) == 0) {
			x->learner = l->who;
			return EXIT_DONE;
		}
	return status ? status : cannot("no record here is of '%s'", x->learner);
}

static int list_learners(struct view_args *x)
{
	struct learner_row *row = NULL;
	struct text why;
	text_init(&why);
	int status = learner_list(x->data, x->arena, &row, &x->nrow, &why) ? cannot("%s", why.at)
									   : EXIT_DONE;
	text_release(&why);
	x->row = row;
	return status;
}

/* Notes that count here: of accepted assessors and of this machine. */
static int erasures_find(struct view_args *x, struct erasures *out)
{
	struct accepted trusted = {0};
	int status = trusted_ring(x->data, x->arena, &trusted);
	if (!status && erasures_read(x->data, &trusted.ring, x->arena, out))
		status = cannot("%s", bad_text(BAD_MEMORY));
	return status;
}

static int view(const struct options *o, struct view_args *x, const struct courses *courses,
	char **path, size_t n)
{
	struct key_ring ring;
	struct programme programme = {0};
	struct erasures erased = {0};
	struct text why;
	const struct course *c = courses_choose(courses, o);
	if (!c)
		return EXIT_CANNOT;
	struct evidence e = {.arena = x->arena,
		.course = &c,
		.ncourse = 1,
		.ring = &ring,
		.person = person_find_in_list,
		.context = x};
	const char *at = programme_path(x, courses, c);
	int status = at ? load_programme(at, c, x->arena, &programme) : EXIT_DONE;
	if (!status)
		status = list_learners(x);
	text_init(&why);
	if (!status && assessor_ring(x->data, x->arena, &ring, &why))
		status = cannot("%s", why.len ? why.at : "the list of assessors cannot be read");
	text_release(&why);
	if (!status)
		status = erasures_find(x, &erased);
	if (!status)
		status = gather(&e, x, path, n);
	if (!status && x->learner)
		status = find_learner(x, &e);
	if (!status) {
		struct view_of v = {
			&e, c, at ? &programme : NULL, name_find, x, clock_now(), &erased};
		status = tell(o, x, &v);
	}
	programme_release(&programme);
	return status;
}

static int run(const struct options *o, struct view_args *x, int argc, char **argv)
{
	static const struct option known[] = {{"programme", required_argument, NULL, 'p'},
		{"svg", required_argument, NULL, 'v'}, {0}};
	bool one = strcmp(argv[0], "transcript") == 0;
	struct courses courses;
	int c;
	optind = 0;
	while ((c = option_next(&record_command, argc, argv, known)) != -1) {
		if (c == 'v' && !one)
			return cannot_read_usage(&record_command, "--svg goes with a transcript");
		if (c == '?')
			return EXIT_CANNOT;
		x->programme = c == 'p' ? optarg : x->programme;
		x->svg = c == 'v' ? optarg : x->svg;
	}
	if (one && optind == argc)
		return cannot_read_usage(&record_command, "whose transcript?");
	if (one)
		x->learner = argv[optind++];
	if (courses_load(o, x->arena, &courses))
		return EXIT_CANNOT;
	int status = view(o, x, &courses, argv + optind, (size_t)(argc - optind));
	courses_release(&courses);
	return status;
}

int programme_matrix(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	struct view_args x = {.data = data, .arena = a};
	return run(o, &x, argc, argv);
}

int programme_transcript(
	const struct options *o, struct arena *a, const char *data, int argc, char **argv)
{
	struct view_args x = {.data = data, .arena = a};
	return run(o, &x, argc, argv);
}
