/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>
#include <barwright/record/assessor.h>

#include "cmd/assessments.h"
#include "cmd/options.h"
#include "cmd/courses.h"
#include "cmd/phrase.h"
#include "cmd/record_person.h"
#include "cmd/seal_up.h"
#include "cmd/sit_down.h"
#include "course/load.h"
#include "sitting/locked.h"
#include "sitting/sitting.h"

enum { LOCKED_BYTES = 2 * COURSE_FILE_BYTES };

struct sit_args {
	const char *name;              /* of the assessment: a code or a path */
	const struct options *options; /* with the candidate's name */
	struct assessment what;
	struct sitting_how how;
	struct seal_options seal;
};

/* ---- the file -------------------------------------------------------------------------------- */

static bool is_file(const char *path)
{
	return path && file_kind(path) == FILE_PLAIN;
}

/* FOLDER/assessments/NAME.yaml or .locked. */
static const char *in_course(const char *folder, const char *name, struct arena *a)
{
	static const char *const ends[] = {"yaml", "locked"};
	for (size_t k = 0; k < sizeof ends / sizeof *ends; k++) {
		const char *path = arena_format(a, "%s/assessments/%s.%s", folder, name, ends[k]);
		if (is_file(path))
			return path;
	}
	return NULL;
}

/* A path, or the code of an assessment of one of the courses. */
static const char *find(const struct options *o, const char *name, struct arena *a)
{
	struct folder_entry *entry;
	size_t n;
	const char *folder = courses_folder(o, a);
	const char *path = strchr(name, '/') || is_file(name) ? name : in_course(folder, name, a);
	if (path || folder_list(folder, a, &entry, &n))
		return path ? path : name;
	for (size_t k = 0; k < n && !path; k++) {
		const char *one = folder_join(a, folder, entry[k].name);
		if (one && entry[k].kind == FILE_FOLDER)
			path = in_course(one, name, a);
	}
	return path ? path : name;
}

/* A locked assessment while its passphrase is asked for. */
struct unlocking {
	const char *locked, *why;
	size_t locked_len, len;
	struct arena *a;
	char *bytes;
};

static enum bad unlock_with(void *context, const char *phrase)
{
	struct unlocking *u = context;
	return locked_open(u->locked, u->locked_len, phrase, u->a, &u->bytes, &u->len, &u->why);
}

static enum bad unlock(
	const struct sit_args *x, const char *path, struct arena *a, char **bytes, size_t *len)
{
	struct unlocking u = {.locked = *bytes, .locked_len = *len, .why = "", .a = a};
	struct phrase_use use = {.file = x->seal.key ? NULL : x->seal.phrase,
		.prompt = "Passphrase of the assessment: ",
		.tries = PHRASE_TRIES,
		.open = unlock_with,
		.context = &u};
	enum bad code = phrase_use(&use);
	if (code && *u.why)
		cannot("%s cannot be opened: %s", path, u.why);
	if (code)
		return code;
	*bytes = u.bytes;
	*len = u.len;
	return FINE;
}

static int tell_faults(const struct diags *d, const char *path)
{
	struct text t;
	text_init(&t);
	diags_print(d, &t);
	fputs(t.at, stderr);
	text_release(&t);
	return cannot("%s has faults and cannot be used", path);
}

static int load(const struct options *o, struct sit_args *x, struct arena *a)
{
	char *bytes;
	size_t len;
	struct diags d = {.arena = a};
	const char *path = find(o, x->name, a);
	enum bad code = file_read(path, LOCKED_BYTES, a, &bytes, &len);
	if (file_kind(path) == FILE_NONE && !strchr(path, '/')) {
		cannot("there is no assessment '%s'", path);
		assessments_list(courses_folder(o, a));
		return EXIT_CANNOT;
	}
	if (code)
		return cannot_file(code, path);
	if (locked_is(bytes, len) && unlock(x, path, a, &bytes, &len))
		return EXIT_CANNOT;
	code = assessment_of(path, bytes, len, &x->what, &d);
	if (code)
		return cannot("%s", bad_text(code));
	return d.nerror ? tell_faults(&d, path) : EXIT_DONE;
}

/* ---- sitting --------------------------------------------------------------------------------- */

/* Whoever is not on the list leaves no learner and no record behind. */
static int is_guest(const struct sit_args *x, struct arena *a)
{
	struct person p = {0};
	const char *name = x->options->learner, *data = data_folder(x->options, a);
	const char *why = sitting_no_guest(&x->what, name, NULL, a);
	int status = why && data ? person_find(data, a, name, &p) : EXIT_DONE;
	for (size_t k = 0; why && k < p.n; k++)
		if (!sitting_no_guest(&x->what, name, p.code[k], a))
			why = NULL;
	if (status || !why)
		return status;
	cannot("%s", why);
	return EXIT_NO;
}

static int may_begin(void *context, const struct course *c)
{
	struct sit_args *x = context;
	struct arena a = {0};
	struct diags d = {.arena = &a};
	enum bad code = assessment_bank(&x->what, c, &d);
	int status = code       ? cannot("%s", bad_text(code))
		     : d.nerror ? tell_faults(&d, x->what.code)
				: is_guest(x, &a);
	arena_release(&a);
	return status;
}

static enum how do_sit(struct desk *d, void *context)
{
	struct sit_args *x = context;
	return sitting_run(d, &x->how);
}

static int after_sitting(struct desk *d, void *context)
{
	struct sit_args *x = context;
	if (x->how.refused) {
		cannot("%s", x->how.refused);
		return EXIT_NO;
	}
	if (!x->how.is_done)
		return EXIT_NO;
	int status = seal_up(d->strand, d->sitting, &x->seal);
	return status ? status : x->how.passed ? EXIT_DONE : EXIT_NO;
}

static int sit(const struct options *o, struct sit_args *x, const char *sitting)
{
	struct arena a = {0};
	struct options own = *o;
	struct at_desk at = {.prepare = may_begin,
		.what = do_sit,
		.after = after_sitting,
		.context = x,
		.sitting = sitting,
		.mode = "sit"};
	if (cipher_start())
		return cannot("the system has no randomness to give");
	int status = seal_look(&x->seal, NULL);
	if (!status)
		status = load(o, x, &a);
	x->options = &own;
	if (!status)
		status = sit_down_named(&own, x->what.title, "Who sits it? Your name", &a);
	if (!status) {
		x->how.what = &x->what;
		x->how.is_named = sitting != NULL;
		x->how.sealing = x->seal.key != NULL;
		own.course = x->what.course;
		status = sit_down(&own, &at);
	}
	assessment_release(&x->what);
	arena_release(&a);
	return status;
}

/* ---- locking --------------------------------------------------------------------------------- */

/* What a locked file hides and what it does not: nobody should trust it with more. */
static void tell_locked(const struct assessment *what, const char *from, const char *to)
{
	size_t own = 0, places = assessment_places(what);
	for (size_t n = 0; n < places; n++) {
		const struct assessment_row *row = assessment_place(what, n);
		own += row->item && assessment_own(what, row->item);
	}
	printf("%s is locked. Until it is opened nobody reads what is in it: the blueprint, the "
	       "cut\n"
	       "scores, who may sit it, and its %zu own %s.\n",
		to, what->nown, what->nown == 1 ? "task" : "tasks");
	if (own < places)
		printf("Not hidden: the tasks that are drawn from the course for %zu of %zu "
		       "places; "
		       "they can be\nread in the course's folder. Their numbers are drawn for each "
		       "candidate.\n",
			places - own, places);
	printf("Keep %s off the machines of the candidates. For an audit it has to lie with the\n"
	       "assessments of the course again.\n",
		from);
}

/* An assessment while it is locked. */
struct locking {
	const char *bytes, *to;
	size_t len;
	struct text why;
};

static enum bad lock_with(void *context, const char *phrase)
{
	struct locking *l = context;
	struct arena a = {0};
	char *locked;
	size_t len;
	if (phrase_check(phrase, strlen(phrase))) {
		text_addf(&l->why,
			"a passphrase has at least %d characters; six words are easy to remember",
			PHRASE_LEAST);
		return BAD_SIZE;
	}
	enum bad code = locked_make(l->bytes, l->len, phrase, NULL, &a, &locked, &len);
	if (!code)
		code = put_file(l->to, "barwright locked ", locked, len, false);
	if (code)
		file_words(code, l->to, &l->why);
	arena_release(&a);
	return code;
}

static int lock_write(const char *bytes, size_t len, const char *to, const char *phrase_file)
{
	struct locking l = {.bytes = bytes, .to = to, .len = len};
	struct phrase_use use = {.file = phrase_file,
		.prompt = "Passphrase for the assessment: ",
		.tries = 1,
		.open = lock_with,
		.context = &l};
	text_init(&l.why);
	int status = phrase_use(&use) ? EXIT_CANNOT : EXIT_DONE;
	if (status && l.why.len)
		cannot("%s", l.why.at);
	text_release(&l.why);
	return status;
}

/* A file with faults is not locked: it would be found out in the room. */
static int lock(const char *from, const char *to, const char *phrase_file)
{
	struct arena a = {0};
	struct assessment what = {0};
	struct diags d = {.arena = &a};
	char *bytes;
	size_t len;
	if (cipher_start())
		return cannot("the system has no randomness to give");
	enum bad code = file_read(from, COURSE_FILE_BYTES, &a, &bytes, &len);
	int status = code ? cannot("%s: %s", from, file_advice(code)) : EXIT_DONE;
	if (!status && (code = assessment_of(from, bytes, len, &what, &d)))
		status = cannot("%s", bad_text(code));
	if (!status && d.nerror)
		status = tell_faults(&d, from);
	if (!status)
		status = lock_write(bytes, len, to, phrase_file);
	if (!status)
		tell_locked(&what, from, to);
	assessment_release(&what);
	arena_release(&a);
	return status;
}

/* ---- the command ----------------------------------------------------------------------------- */

static int which_one(const struct options *o)
{
	struct arena a = {0};
	cannot("which assessment?");
	assessments_list(courses_folder(o, &a));
	arena_release(&a);
	return EXIT_CANNOT;
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"sitting", required_argument, NULL, 's'},
		{"lock", no_argument, NULL, 'l'}, SEAL_LONG_OPTIONS, {0}};
	struct sit_args x = {0};
	const char *sitting = NULL;
	bool locking = false;
	int c;
	optind = 0;
	while ((c = option_next(&sit_command, argc, argv, known)) != -1) {
		if (c == 's' && !option_is_code(optarg, SITTING_CODE - 1))
			return cannot_read_usage(&sit_command,
				"a sitting's code is 1 to %d letters, digits and -",
				SITTING_CODE - 1);
		if (c == '?')
			return EXIT_CANNOT;
		sitting = c == 's' ? optarg : sitting;
		locking |= c == 'l';
		if (seal_option(&x.seal, c, optarg) == SEAL_OPTION_BAD)
			return EXIT_CANNOT;
	}
	if (argc == optind && !locking)
		return which_one(o);
	if (argc - optind != (locking ? 2 : 1))
		return cannot_read_usage(
			&sit_command, locking ? "--lock takes the file and the new one"
					      : "one assessment at a time");
	if (locking)
		return lock(argv[optind], argv[optind + 1], x.seal.phrase);
	x.name = argv[optind];
	return sit(o, &x, sitting);
}

const struct command sit_command = {
	"sit",
	"barwright sit [--sitting CODE] [--key FILE ...] ASSESSMENT\n"
	"       barwright sit --lock FILE OUT",
	"take a graded assessment",
	"ASSESSMENT is the code of one of the courses' assessments, or a file. Everybody gets a "
	"form "
	"of their\nown; each answer is recorded at once; a sitting that was interrupted goes on "
	"where it "
	"was.\nAttempts are counted in the records of this machine, and in those that were "
	"gathered into the\nsame folder: an attempt on another machine is not seen before.\n"
	"Exit status 1 when it is not passed or not finished.\n"
	"  --sitting CODE   the code the assessor gives out for this sitting\n"
	"  --lock           lock an assessment's file, with the tasks that stand in it, under a\n"
	"                   passphrase, to be opened in the room\n"
	"With a key the sitting counts as assessed, without one as practice:\n"
	"  --key FILE       the assessor's key: seals the record when it is over\n"
	"  --identity HOW   how the assessor knew who it was: photo-card, known-in-person, ...\n"
	"  --time TIME      by the assessor's own watch: 09:30, or 2026-11-25 09:30\n"
	"  --witness FILE   the assessor's list of seals (witness.jsonl beside the key)\n"
	"  --phrase FILE    a file whose first line is the passphrase, where nobody can type it\n",
	run,
};
