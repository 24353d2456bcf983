/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/sit_down.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/base/utf8.h>
#include <barwright/record/learner.h>

#include "cmd/courses.h"
#include "cmd/newcomer.h"
#include "course/load.h"
#include "line/line.h"
#include "screen/screen.h"
#include "surface/signals.h"

/* ---- the strand ------------------------------------------------------------------------------ */

static enum bad open_or_look(const char *data, const char *who, const struct sign_pair *machine,
	bool only_reads, struct strand **out, struct text *why)
{
	enum bad code = strand_open(data, who, machine, out, why);
	if (code != BAD_BUSY || !only_reads)
		return code;
	text_clear(why);
	return strand_look(data, who, machine, out, why);
}

static enum bad open_strand(const struct options *o, bool only_reads, struct arena *a,
	struct strand **out, char *who, struct text *why)
{
	struct sign_pair machine;
	const char *data = data_folder(o, a);
	if (!data) {
		text_add(why, "there is no HOME; name the folder of the records: --data DIR");
		return BAD_MISSING;
	}
	if (file_kind(data) == FILE_PLAIN || file_kind(data) == FILE_OTHER) {
		text_add_safe(why, data, strlen(data), false);
		text_add(why, ": this is not a folder");
		return BAD_TYPE;
	}
	enum bad code = key_machine(data, &machine, why);
	if (code)
		return code;
	if (o->learner && learner_is_code(o->learner)) /* it stands for itself */
		memcpy(who, o->learner, LEARNER_CODE + 1);
	else
		code = learner_code(data, o->learner, who, why);
	if (!code)
		code = open_or_look(data, who, &machine, only_reads, out, why);
	cipher_wipe(&machine, sizeof machine);
	return code;
}

/* Reads what the record holds already; nothing is added to one that cannot be read to its end. */
static enum bad count_strand(struct desk *d, struct text *why)
{
	enum bad code = desk_count(d);
	if (!code || code == BAD_MEMORY || !d->strand)
		return code;
	file_words(code == BAD_IO ? code : BAD_SYNTAX, strand_own_path(d->strand), why);
	text_add(why,
		"; so nothing is added to it. Check it with \"barwright record audit\"; to go "
		"on, move the file elsewhere and keep it");
	return code;
}

static int say_unrecorded(const struct at_desk *at, enum bad code, const struct text *why)
{
	return cannot("nothing can be recorded: %s%s", why->len ? why->at : bad_text(code),
		at->mode ? "" : "\nTo practise all the same, without a record: add --unrecorded");
}

static void say_torn(const struct strand *s)
{
	if (strand_torn(s))
		fprintf(stderr,
			"barwright: the record's last line was not complete (%zu bytes); it was "
			"set "
			"aside beside the record, and the record goes on.\n",
			strand_torn(s));
}

/* ---- the surface ----------------------------------------------------------------------------- */

struct view {
	struct surface *surface;
	struct screen *screen; /* null: the surface is a plain one */
};

static int open_plain(const struct options *o, struct view *v)
{
	struct line_options how = {STDIN_FILENO, STDOUT_FILENO, 0, o->words, false};
	v->surface = line_open(&how);
	return v->surface ? EXIT_DONE : cannot("%s", bad_text(BAD_MEMORY));
}

static int open_screen(struct view *v)
{
	struct text why;
	text_init(&why);
	enum bad code = screen_open(&v->screen, &why);
	int status = EXIT_DONE;
	if (code)
		status = cannot("%s\nWithout a full-screen terminal: add --plain",
			why.len ? why.at : bad_text(code));
	else
		v->surface = screen_surface(v->screen);
	text_release(&why);
	return status;
}

static int open_view(const struct options *o, struct view *v)
{
	signals_install();
	return o->plain ? open_plain(o, v) : open_screen(v);
}

static void close_view(struct view *v)
{
	if (v->screen)
		screen_close(v->screen);
	else
		line_close(v->surface);
	*v = (struct view){0};
}

/* ---- who it is ------------------------------------------------------------------------------- */

static int ask_name(struct surface *s, const char *title, const char *prompt, struct reply *out)
{
	struct arena a = {0};
	struct page p;
	struct question q = {.kind = ASK_LINE, .prompt = prompt};
	page_init(&p, &a, title, NULL);
	page_add(&p, BLOCK_TEXT,
		"The record goes under this name: write it as it stands on the list, if there is "
		"one, and the same each time.");
	enum bad code = p.out ? BAD_MEMORY : surface_show(s, &p);
	if (!code)
		code = surface_ask(s, &q, out);
	arena_release(&a);
	return code ? cannot("%s", bad_text(code)) : EXIT_DONE;
}

int sit_down_named(struct options *o, const char *title, const char *prompt, struct arena *a)
{
	struct view v = {0};
	struct reply r = {.kind = REPLY_LEAVE};
	if (o->learner && *o->learner)
		return EXIT_DONE;
	if (!isatty(STDIN_FILENO))
		return cannot("whose record is it? name the candidate: --learner NAME");
	int status = open_view(o, &v);
	if (status)
		return status;
	v.surface->kept = "Nothing was recorded.";
	status = ask_name(v.surface, title, prompt, &r);
	close_view(&v);
	signals_finish();
	if (!status && r.kind != REPLY_TEXT)
		status = EXIT_NO;
	if (!status && !(o->learner = arena_copy(a, r.text, strlen(r.text))))
		status = cannot("%s", bad_text(BAD_MEMORY));
	return status;
}

/* ---- the whole course ------------------------------------------------------------------------ */

/* Read after the first page is there. What it has to say waits until the screen is closed. */
struct whole {
	const char *path;
	struct course course;
	size_t nerror;
};

static enum bad whole_load(void *at, const struct course **out)
{
	struct whole *w = at;
	struct arena mem = {0};
	struct diags d = {.arena = &mem};
	enum bad code = course_load(w->path, &w->course, &d);
	w->nerror = d.nerror;
	*out = &w->course;
	arena_release(&mem);
	return code;
}

static void whole_release(struct whole *w)
{
	courses_tell_faults(w->nerror, w->path);
	course_release(&w->course);
}

/* ---- at the desk ----------------------------------------------------------------------------- */

static const char *end_reason(enum how how)
{
	return how == HOW_LOST ? "stopped" : how == HOW_BROKEN ? "broken" : "left";
}

static int tell_end(const struct desk *d, enum how how)
{
	if (!d->lost && how != HOW_BROKEN)
		return EXIT_DONE;
	const char *why = d->strand ? strand_why(d->strand) : "";
	return cannot("this sitting ended early: %s\nEverything acknowledged before is recorded.",
		*why ? why : bad_text(d->lost ? d->lost : BAD_IO));
}

/* To who left before the end: what was told when they were asked whether they meant it. */
static void tell_kept(const struct desk *d, enum how how, const char *kept)
{
	if (how != HOW_DONE && how != HOW_BROKEN && d->strand && kept)
		fprintf(stderr, "%s\n", kept);
}

static int work_at(struct desk *d, const struct options *o, const struct at_desk *at)
{
	struct view v = {0};
	int status = open_view(o, &v);
	if (status)
		return status;
	d->surface = v.surface;
	enum how how = at->what(d, at->context);
	const char *kept = v.surface->kept;
	desk_end(d, end_reason(how));
	close_view(&v);
	tell_kept(d, how, kept);
	status = tell_end(d, how);
	return status || !at->after ? status : at->after(d, at->context);
}

static int with_strand(const struct options *o, const struct at_desk *at, const struct course *c,
	struct whole *whole, const struct rubric *rubric, struct arena *a)
{
	char who[LEARNER_CODE + 1] = "nobody";
	struct desk d = {.course = c,
		.rubric = at->rubric         ? at->rubric
			  : rubric->nstation ? rubric
					     : NULL,
		.who = who,
		.name = o->learner,
		.mode = at->mode ? at->mode : "drill",
		.program = "barwright " BARWRIGHT_VERSION,
		.whole = whole ? whole_load : NULL,
		.whole_at = whole};
	struct text why;
	int status = EXIT_DONE;
	text_init(&why);
	struct strand *strand = NULL;
	enum bad code =
		at->unrecorded ? FINE : open_strand(o, at->only_reads, a, &strand, who, &why);
	d.strand = strand;
	if (!code)
		code = count_strand(&d, &why);
	if (code) {
		status = say_unrecorded(at, code, &why);
	} else {
		if (d.strand)
			say_torn(d.strand);
		if (at->sitting)
			snprintf(d.sitting, sizeof d.sitting, "%s", at->sitting);
		else
			sitting_code(d.sitting);
		status = work_at(&d, o, at);
	}
	strand_close(strand);
	desk_release(&d);
	text_release(&why);
	return status;
}

/* Line by line there is no page to wait for: what the course's faults are is said before it begins. */
static bool has_heads(const struct options *o, const struct at_desk *at)
{
	return at->heads && !o->plain;
}

static int with_course(const struct options *o, const struct at_desk *at, struct arena *a,
	const struct courses *courses)
{
	const struct course *c = courses_choose(courses, o);
	struct rubric rubric = {0};
	struct options own = *o;
	if (!c)
		return EXIT_CANNOT;
	struct whole whole = {.path = courses->path[c - courses->course]};
	int status = at->prepare ? at->prepare(at->context, c) : EXIT_DONE;
	if (!status && !at->unrecorded)
		status = newcomer_ask(&own, data_folder(o, a), a);
	if (status)
		return status;
	enum bad code = rubrics_load(courses->folder, a, &rubric);
	status = code ? cannot("the rubrics cannot be read: %s", bad_text(code))
		      : with_strand(&own, at, c, has_heads(o, at) ? &whole : NULL, &rubric, a);
	whole_release(&whole);
	rubric_release(&rubric);
	return status;
}

int sit_down(const struct options *o, const struct at_desk *at)
{
	struct arena a = {0};
	struct courses courses;
	if (cipher_start())
		return cannot("the system has no randomness to give");
	int status = EXIT_CANNOT;
	if (!(has_heads(o, at) ? courses_heads : courses_load)(o, &a, &courses)) {
		status = with_course(o, at, &a, &courses);
		courses_release(&courses);
	}
	arena_release(&a);
	signals_finish();
	return status;
}
