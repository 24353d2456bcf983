/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/file.h>

#include "cmd/options.h"
#include "line/line.h"
#include "print/svg.h"
#include "surface/signals.h"
#include "work/report.h"
#include "work/work_json.h"

struct work_args {
	const char *path, *svg;
};

/* Faults and unusual values to stderr, as compilers do. */
static void say_faults(const struct diags *d)
{
	struct text t;

	text_init(&t);
	diags_print(d, &t);
	fputs(t.at, stderr);
	text_release(&t);
}

static int put_json(const struct work_result *w, int status)
{
	struct text t;

	text_init(&t);
	enum bad code = work_json(w, &t);
	status = code ? cannot("%s", bad_text(code)) : put_out(&t, status);
	text_release(&t);
	return status;
}

static int put_svg(struct arena *a, const struct work_result *w, const char *path, int status)
{
	struct arch_picture arch;
	struct stack_picture stack;
	struct text t;
	const char *title = arena_format(a, "Case %s", w->file->code);
	enum bad code = title ? work_arch_picture(a, w, &arch) : BAD_MEMORY;

	text_init(&t);
	if (!code)
		code = work_stack_picture(a, w, &stack);
	if (!code)
		code = svg_sheet(a, title, &arch, &stack, &t);
	if (code)
		status = cannot("the drawing could not be made: %s", bad_text(code));
	else if ((code = put_file(path, "<?xml", t.at, t.len, false)))
		status = cannot_file(code, path);
	text_release(&t);
	return status;
}

static int put_report(
	const struct options *o, struct arena *a, const struct work_result *w, int status)
{
	struct page p;
	struct line_options how = {
		.in = STDIN_FILENO, .out = STDOUT_FILENO, .words_only = o->words};
	enum bad code = work_report(a, w, &p);

	if (code)
		return cannot("%s", bad_text(code));
	signals_install();
	struct surface *s = line_open(&how);
	if (!s)
		return cannot("%s", bad_text(BAD_MEMORY));
	code = surface_show(s, &p);
	line_close(s);
	return code ? cannot("the output could not be written: %s", bad_text(code)) : status;
}

/* "--svg *.yaml" must not draw over a case. */
static bool is_drawing_place(const char *path)
{
	const char *end = strrchr(file_name(path), '.');

	return file_kind(path) != FILE_PLAIN || (end && strcmp(end, ".svg") == 0);
}

static int work_case(const struct options *o, const struct work_args *args, struct arena *a)
{
	struct diags d = {.arena = a};
	struct source source;
	struct case_file file;
	struct work_result w;
	enum bad code = case_load_file(a, args->path, &source, &d, &file);

	if (code && !d.nerror)
		return cannot_file(code, args->path);
	say_faults(&d);
	if (code)
		return cannot("%s is not worked: %zu fault%s in it", args->path, d.nerror,
			d.nerror == 1 ? "" : "s");
	code = work_run(a, &file, &w);
	if (code)
		return cannot("%s cannot be worked: %s", args->path, bad_text(code));
	int status = w.refer ? EXIT_NO : EXIT_DONE;
	if (args->svg)
		status = put_svg(a, &w, args->svg, status);
	if (status == EXIT_CANNOT)
		return status;
	return o->json ? put_json(&w, status) : put_report(o, a, &w, status);
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"svg", required_argument, NULL, 's'}, {0}};
	struct work_args args = {0};
	struct arena a = {0};
	int c;

	optind = 0;
	while ((c = option_next(&work_command, argc, argv, known)) != -1) {
		if (c == '?')
			return EXIT_CANNOT;
		args.svg = optarg;
	}
	if (argc - optind != 1)
		return cannot_read_usage(
			&work_command, argc == optind ? "which case?" : "one case at a time");
	if (args.svg && !*args.svg)
		return cannot_read_usage(&work_command, "--svg wants a file name");
	if (args.svg && !is_drawing_place(args.svg))
		return cannot("%s is there already and does not end in .svg; nothing is drawn over "
			      "it",
			args.svg);
	args.path = argv[optind];
	int status = work_case(o, &args, &a);
	arena_release(&a);
	return status;
}

const struct command work_command = {
	"work",
	"barwright work [--json] [--svg FILE] CASE.yaml",
	"run a real case through the calculations that students practise",
	"Reads a case file and shows spread and cantilevers, heights and cut-down, the loads on "
	"the\n"
	"sites by two models, the bar's strength and where each limit comes from.\n\n"
	"  --json       the results as one JSON object\n"
	"  --svg FILE   the drawings as an SVG file, besides\n\n"
	"Exit status: 0 within the rules of the case, 1 to be referred back, 2 it cannot be "
	"worked.\n"
	"A worked case does not replace the prescription, the suppliers' instructions, local rules "
	"or\n"
	"licensed practice.\n",
	run,
};
