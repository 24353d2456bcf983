/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/item/sample.h>

#include "bench/rehearse.h"
#include "cmd/coverage.h"
#include "cmd/options.h"
#include "cmd/start_file.h"
#include "course/check.h"

/* ---- as JSON --------------------------------------------------------------------------------- */

static void json_unit(struct text *out, uint32_t unit)
{
	text_addf(out, "\\u%04x", (unsigned)unit);
}

/* One character: as it is where a terminal may see it, else escaped, so that nothing is lost. */
static void json_char(struct text *out, const char *s, size_t len, uint32_t code)
{
	if (code == '"' || code == '\\')
		text_add_char(out, '\\');
	if (utf8_is_safe(code))
		text_add_bytes(out, s, len);
	else if (code < 0x10000)
		json_unit(out, code);
	else {
		json_unit(out, 0xD800 + ((code - 0x10000) >> 10));
		json_unit(out, 0xDC00 + ((code - 0x10000) & 0x3FF));
	}
}

/* A text in quotes, or null; a faulty byte becomes U+FFFD. */
static void json_text(struct text *out, const char *name, const char *s)
{
	text_addf(out, "\"%s\":", name);
	if (!s) {
		text_add(out, "null");
		return;
	}
	size_t len = strlen(s);
	text_add_char(out, '"');
	for (size_t i = 0, n; i < len; i += n ? n : 1) {
		uint32_t code;
		n = utf8_read(s + i, len - i, &code);
		if (n)
			json_char(out, s + i, n, code);
		else
			json_unit(out, 0xFFFD);
	}
	text_add_char(out, '"');
}

static void json_place(struct text *out, struct place at)
{
	json_text(out, "file", at.source ? at.source->name : NULL);
	text_addf(out, ",\"line\":%u,\"col\":%u", (unsigned)at.line, (unsigned)at.col);
}

static void json_fault(struct text *out, const struct diag *one)
{
	text_add_char(out, '{');
	json_place(out, one->place);
	text_addf(out, ",\"span\":%u,\"severity\":\"%s\",", (unsigned)one->span,
		one->severity == SEVERITY_ERROR ? "error" : "warning");
	json_text(out, "code", bad_word(one->code));
	text_add_char(out, ',');
	json_text(out, "words", one->words);
	text_add_char(out, ',');
	json_text(out, "hint", one->hint);
	text_add(out, ",\"note\":");
	if (one->note) {
		text_add_char(out, '{');
		json_place(out, one->note_place);
		text_add_char(out, ',');
		json_text(out, "words", one->note);
		text_add_char(out, '}');
	} else {
		text_add(out, "null");
	}
	text_add_char(out, '}');
}

static void json_faults(struct text *out, const struct diags *d)
{
	text_add(out, "\"faults\":[");
	for (const struct diag *one = d->first; one; one = one->next) {
		text_add(out, one == d->first ? "\n" : ",\n");
		json_fault(out, one);
	}
	text_add(out, d->first ? "\n]" : "]");
}

/* ---- what was checked ------------------------------------------------------------------------ */

static const struct {
	size_t offset; /* in struct check_counts */
	const char *one, *many;
} counted[] = {
	{offsetof(struct check_counts, files), "file", "files"},
	{offsetof(struct check_counts, courses), "course", "courses"},
	{offsetof(struct check_counts, modules), "module", "modules"},
	{offsetof(struct check_counts, lessons), "lesson", "lessons"},
	{offsetof(struct check_counts, problems), "problem", "problems"},
	{offsetof(struct check_counts, items), "item", "items"},
	{offsetof(struct check_counts, procedures), "procedure", "procedures"},
	{offsetof(struct check_counts, steps), "step", "steps"},
	{offsetof(struct check_counts, faults), "bench-fault", "bench-faults"},
	{offsetof(struct check_counts, rubrics), "rubric", "rubrics"},
	{offsetof(struct check_counts, stations), "station", "stations"},
	{offsetof(struct check_counts, cases), "case", "cases"},
	{offsetof(struct check_counts, assessments), "assessment", "assessments"},
	{offsetof(struct check_counts, programmes), "programme", "programmes"},
};
enum { COUNTED = sizeof counted / sizeof *counted };

static size_t count_of(const struct check *c, size_t k)
{
	return *(const size_t *)((const char *)&c->n + counted[k].offset);
}

/* One object: every fault, and how much was checked. */
static void add_json(struct text *out, const struct check *c)
{
	text_add_char(out, '{');
	json_faults(out, c->diags);
	text_add(out, ",\n\"counts\":{");
	for (size_t k = 0; k < COUNTED; k++)
		text_addf(out, "\"%s\":%zu,", counted[k].many, count_of(c, k));
	text_addf(out, "\"errors\":%zu,\"warnings\":%zu}}\n", c->diags->nerror, c->diags->nwarning);
}

static void count_add(struct text *out, size_t n, const char *one, const char *many)
{
	if (n)
		text_addf(out, "%s%zu %s", out->len ? ", " : "", n, n == 1 ? one : many);
}

/* "3 files, 2 problems, 1 lesson: no faults". */
static void closing_line(struct text *out, const struct check *c)
{
	struct text line;
	text_init(&line);
	for (size_t k = 0; k < COUNTED; k++)
		count_add(&line, count_of(c, k), counted[k].one, counted[k].many);
	text_add(out, line.len ? line.at : "no course files");
	text_add(out, ": ");
	text_clear(&line);
	count_add(&line, c->diags->nerror, "error", "errors");
	count_add(&line, c->diags->nwarning, "warning", "warnings");
	text_add(out, line.len ? line.at : "no faults");
	text_add_char(out, '\n');
	out->out = out->out || line.out;
	text_release(&line);
}

/* ---- checking -------------------------------------------------------------------------------- */

static int path_check(struct check *c, const char *path)
{
	enum bad code =
		file_kind(path) == FILE_FOLDER ? check_folder(c, path) : check_file(c, path);
	return code ? cannot_file(code, path) : EXIT_DONE;
}

static int check_paths(const struct options *o, char **path, int n)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	struct check c = {
		.arena = &arena, .diags = &d, .problem = sample_check, .procedure = rehearse};
	struct text out;
	int status = EXIT_DONE;
	text_init(&out);
	for (int i = 0; i < n; i++)
		if (path_check(&c, path[i]))
			status = EXIT_CANNOT;
	if (check_end(&c) || d.out)
		status = cannot("%s", bad_text(BAD_MEMORY));
	if (o->json)
		add_json(&out, &c);
	else
		diags_print(&d, &out);
	if (!o->json && (c.n.files || !status))
		closing_line(&out, &c);
	if (!status && d.nerror)
		status = EXIT_NO;
	status = put_out(&out, status);
	text_release(&out);
	arena_release(&arena);
	return status;
}

/* --new takes the kind as its value and the name as what stands behind. */
static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {
		{"coverage", no_argument, NULL, 'c'}, {"new", required_argument, NULL, 'n'}, {0}};
	const char *kind = NULL;
	bool covers = false;
	int c;
	optind = 0;
	while ((c = option_next(&check_command, argc, argv, known)) != -1) {
		if (c == '?')
			return EXIT_CANNOT;
		kind = c == 'n' ? optarg : kind;
		covers |= c == 'c';
	}
	if (kind && (covers || argc - optind != 1))
		return cannot_read_usage(&check_command, "--new takes a kind and one name");
	if (optind == argc)
		return cannot_read_usage(&check_command, "which files or folders?");
	if (kind)
		return start_file(kind, argv[optind]);
	return covers ? coverage(o, argv + optind, argc - optind)
		      : check_paths(o, argv + optind, argc - optind);
}

const struct command check_command = {
	"check",
	"barwright check [--json] PATH...\n"
	"       barwright check --coverage [--json] COURSE...\n"
	"       barwright check --new KIND NAME",
	"check files of courses, rubrics, procedures, cases and assessments",
	"Every fault of every file is shown with its place and what to do, and what only many "
	"draws\n"
	"of a task show. A folder with a course.yaml in it is checked as a whole course; of any "
	"other\n"
	"folder, all .yaml files in it and below.\n"
	"  --coverage  which problems and items a course has for each competency\n"
	"  --new       write a file to start from, with remarks: KIND is course, module, lesson,\n"
	"              problem, item, assessment, programme, procedure, rubric or case; NAME is\n"
	"              its path. Nothing is written over.\n\n"
	"Exit status: 0 no errors (there may be warnings), 1 errors or a competency that has "
	"nothing,\n"
	"2 something could not be read or written.\n",
	run,
};
