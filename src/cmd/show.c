/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For authors: what students will get of one problem or item. */
#include <string.h>
#include <unistd.h>

#include <barwright/base/file.h>
#include <barwright/base/number.h>
#include <barwright/item/instance.h>
#include <barwright/item/sample.h>

#include "cmd/courses.h"
#include "cmd/options.h"
#include "cmd/show_formulas.h"
#include "cmd/show_json.h"
#include "course/check.h"
#include "desk/author.h"
#include "line/line.h"
#include "surface/charset.h"
#include "surface/signals.h"

enum { SHOWN_MOST = 1000, SAMPLE_FAIR = 1000, SAMPLE_TRIES = 20000 };

struct wish {
	uint64_t seed;
	unsigned long count;
};

/* ---- showing --------------------------------------------------------------------------------- */

static enum bad draw_one(struct instance *i, uint64_t seed)
{
	struct stream s;
	stream_open(&s, &(struct draw_key){"show", i->problem->code, "", "", seed});
	return instance_draw(i, &s);
}

static enum bad show_page(struct surface *s, struct page *p)
{
	return p->out ? BAD_MEMORY : surface_show(s, p);
}

static enum bad show_instance(struct surface *s, struct instance *i, uint64_t seed)
{
	struct arena a = {0};
	struct page page;
	enum bad code = draw_one(i, seed);
	const char *note =
		arena_format(&a, "%s, task %llu", i->problem->competency, (unsigned long long)seed);
	page_init(&page, &a, i->problem->title, note);
	if (code == BAD_UNFAIR)
		page_add(&page, BLOCK_BAD, "None of %d draws makes a fair task.", INSTANCE_TRIES);
	else if (!code)
		author_instance(&page, i, s->columns, s->decimal);
	if (!code || code == BAD_UNFAIR)
		code = show_page(s, &page);
	arena_release(&a);
	return code;
}

static enum bad show_sample(struct surface *s, struct arena *a, const struct problem *p)
{
	struct sample sample;
	struct page page;
	enum bad code = sample_take(a, p, SAMPLE_FAIR, SAMPLE_TRIES, &sample);
	if (code)
		return code;
	page_init(&page, a, p->title, p->code);
	author_sample(&page, &sample, s->decimal);
	return show_page(s, &page);
}

static enum bad show_words(
	const struct options *o, const struct problem *p, const struct wish *w, struct arena *a)
{
	struct line_options how = {STDIN_FILENO, STDOUT_FILENO, 0, o->words, false};
	struct instance *i;
	signals_install();
	struct surface *s = line_open(&how);
	enum bad code = s ? instance_new(a, p, &i) : BAD_MEMORY;
	for (unsigned long k = 0; !code && k < w->count; k++)
		code = show_instance(s, i, w->seed + k);
	if (!code && !p->is_fixed)
		code = show_sample(s, a, p);
	line_close(s);
	return code;
}

/* ---- as JSON --------------------------------------------------------------------------------- */

static enum bad json_instances(
	struct json_out *out, const struct problem *p, const struct wish *w, struct arena *a)
{
	struct instance *i;
	enum bad code = instance_new(a, p, &i);
	json_name(out, "instances");
	json_open_list(out);
	for (unsigned long k = 0; !code && k < w->count; k++) {
		code = draw_one(i, w->seed + k);
		if (!code)
			show_json_instance(out, i, w->seed + k);
		code = code == BAD_UNFAIR ? FINE : code;
	}
	json_close_list(out);
	return code;
}

static enum bad json_all(
	const struct problem *p, const struct wish *w, struct arena *a, struct text *text)
{
	struct json_out out;
	struct sample sample;
	enum bad code = sample_take(a, p, SAMPLE_FAIR, SAMPLE_TRIES, &sample);
	if (code)
		return code;
	json_begin(&out, text, true);
	json_open_object(&out);
	json_name(&out, "item");
	json_text(&out, p->code);
	json_name(&out, "title");
	json_text(&out, p->title);
	json_name(&out, "competency");
	json_text(&out, p->competency);
	json_name(&out, "level");
	json_whole(&out, p->level);
	code = json_instances(&out, p, w, a);
	json_name(&out, "sample");
	show_json_sample(&out, &sample);
	json_close_object(&out);
	text_add_char(text, '\n');
	return code ? code : json_end(&out);
}

static int show_json(const struct problem *p, const struct wish *w, struct arena *a)
{
	struct text text;
	text_init(&text);
	enum bad code = json_all(p, w, a, &text);
	int status = code ? cannot("%s", bad_text(code)) : put_out(&text, EXIT_DONE);
	text_release(&text);
	return status;
}

static int show(const struct options *o, const struct problem *p, const struct wish *w)
{
	struct arena a = {0};
	int status = EXIT_DONE;
	if (o->json) {
		status = show_json(p, w, &a);
	} else {
		enum bad code = show_words(o, p, w, &a);
		if (code)
			status = cannot("%s", bad_text(code));
	}
	arena_release(&a);
	return status;
}

/* ---- finding it ------------------------------------------------------------------------------ */

static enum bad take(void *to, const struct problem *p, struct diags *d)
{
	(void)d;
	*(const struct problem **)to = p;
	return FINE;
}

/* From a file that may stand anywhere; its faults are told as "check" tells them. */
static int show_file(const struct options *o, const char *path, const struct wish *w)
{
	struct arena arena = {0};
	struct diags d = {.arena = &arena};
	const struct problem *p = NULL;
	struct check c = {.arena = &arena, .diags = &d, .problem = take, .to = &p};
	int status = EXIT_DONE;
	struct text words;
	text_init(&words);
	enum bad code = check_file(&c, path);
	if (code) {
		status = cannot_file(code, path);
	} else if (!p && d.nerror) {
		diags_print(&d, &words);
		status = put_out(&words, EXIT_NO);
	} else if (!p) {
		status = cannot("'%s' is neither a problem nor an item", path);
	} else {
		status = show(o, p, w);
	}
	text_release(&words);
	arena_release(&arena);
	return status;
}

static int show_code(const struct options *o, const char *code, const struct wish *w)
{
	struct arena a = {0};
	struct courses courses;
	int status = EXIT_CANNOT;
	if (!courses_load(o, &a, &courses)) {
		const struct course *c = courses_choose(&courses, o);
		const struct problem *p = c ? course_problem(c, code) : NULL;
		if (p)
			status = show(o, p, w);
		else if (c)
			cannot("course '%s' has no problem or item '%s'", c->code, code);
		courses_release(&courses);
	}
	arena_release(&a);
	return status;
}

static bool is_path(const char *s)
{
	size_t len = strlen(s);
	return strchr(s, '/') || (len > 5 && strcmp(s + len - 5, ".yaml") == 0);
}

/* ---- the command ----------------------------------------------------------------------------- */

static bool read_whole(const char *s, int64_t low, int64_t high, int64_t *out)
{
	struct decimal d;
	if (decimal_read(s, strlen(s), &d) || d.places || d.digits < low || d.digits > high)
		return false;
	*out = d.digits;
	return true;
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"seed", required_argument, NULL, 's'},
		{"count", required_argument, NULL, 'c'}, {0}};
	struct wish w = {1, 1};
	int64_t n;
	int c;
	optind = 0;
	while ((c = option_next(&show_command, argc, argv, known)) != -1) {
		if (c == 's' && read_whole(optarg, 0, INT32_MAX, &n))
			w.seed = (uint64_t)n;
		else if (c == 'c' && read_whole(optarg, 0, SHOWN_MOST, &n))
			w.count = (unsigned long)n;
		else if (c == 's' || c == 'c')
			return cannot_read_usage(&show_command,
				"--%s takes a whole number from 0 to %d",
				c == 's' ? "seed" : "count", c == 's' ? INT32_MAX : SHOWN_MOST);
		else
			return EXIT_CANNOT;
	}
	int left = argc - optind;
	if ((left == 1 || left == 2) && strcmp(argv[optind], "formulas") == 0)
		return show_formulas(o, argv[optind + 1]);
	if (left != 1)
		return cannot_read_usage(&show_command, "which problem or item? one at a time");
	return is_path(argv[optind]) ? show_file(o, argv[optind], &w)
				     : show_code(o, argv[optind], &w);
}

const struct command show_command = {
	"show",
	"barwright show [--seed N] [--count M] [--json] ITEM\n"
	"       barwright show [--json] formulas [FUNCTION]",
	"show what students get of a problem or item",
	"For authors. ITEM is the code of a problem or item of the course, or a file. Shown are M "
	"tasks\n"
	"with answers, slips, pairs of slips and worked solutions; then how many draws are fair, "
	"what\n"
	"stands in the way of the others, and how the answers are spread. \"formulas\" shows the "
	"language\n"
	"of formulas, or one of its functions.\n"
	"  --seed N    which tasks (1): N, N + 1, and so on; the same number gives the same task\n"
	"  --count M   how many (1)\n\n"
	"Exit status: 0 shown, 1 the file has faults, 2 it cannot be found or read.\n",
	run,
};
