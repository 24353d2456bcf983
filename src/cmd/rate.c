/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdio.h>
#include <string.h>

#include <barwright/base/file.h>
#include <barwright/record/assessor.h>

#include "cmd/options.h"
#include "cmd/courses.h"
#include "cmd/record_person.h"
#include "cmd/seal_up.h"
#include "cmd/sit_down.h"
#include "course/load.h"
#include "rating/rate.h"

struct rate_args {
	struct rate_how how;
	struct seal_options seal;
	const char *sitting;
	const struct options *options; /* with the candidate's name */
	const struct rubric *rubric;
};

/* ---- the rubric ------------------------------------------------------------------------------ */

/* A path, or the code of a rubric in the folder beside the courses. */
static const char *find(const struct options *o, const char *name, struct arena *a)
{
	static const char *const beside[] = {"../rubrics", "../../rubrics"};
	const char *folder = courses_folder(o, a);
	if (strchr(name, '/') || file_kind(name) == FILE_PLAIN)
		return name;
	for (size_t k = 0; k < sizeof beside / sizeof *beside; k++) {
		const char *path = arena_format(a, "%s/%s/%s.yaml", folder, beside[k], name);
		if (path && file_kind(path) == FILE_PLAIN)
			return path;
	}
	return name;
}

static int load(const char *path, struct arena *a, struct rubric *out)
{
	struct diags d = {.arena = a};
	struct text words;
	int status = EXIT_DONE;
	enum bad code = rubric_load(path, out, &d);
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

/* ---- before anything is made ----------------------------------------------------------------- */

/* The candidate under any of the names and codes that are one person. */
static int is_other_person(const struct rate_args *x, const char *data, struct arena *a)
{
	struct learner_row *row = NULL;
	struct person p;
	size_t n = 0;
	const char *refused = rate_refusal(x->how.rater, x->options->learner, NULL);
	int status = person_find(data, a, x->options->learner, &p);
	if (!status && learner_list(data, a, &row, &n, NULL))
		n = 0;
	for (size_t k = 0; !status && !refused && k < n; k++)
		if (person_has(&p, row[k].code))
			refused = rate_refusal(x->how.rater, row[k].name, row[k].code);
	if (!status && refused)
		status = cannot("%s", refused);
	return status;
}

static bool has_station(const struct rubric *r, const char *code)
{
	for (size_t n = 0; n < r->nstation; n++)
		if (strcmp(r->station[n].code, code) == 0)
			return true;
	return false;
}

/* What is refused anyhow leaves no learner and no record behind. */
static int may_begin(void *context, const struct course *c)
{
	struct rate_args *x = context;
	struct arena a = {0};
	const char *data = data_folder(x->options, &a), **path;
	char *name = arena_copy(&a, x->options->learner, strlen(x->options->learner));
	size_t n;
	(void)c;
	int status = name && data ? is_other_person(x, data, &a) : EXIT_DONE;
	if (!status && x->how.station && !has_station(x->rubric, x->how.station))
		status = cannot("the rubric has no station '%s'", x->how.station);
	if (!status && name && data && x->how.moderate)
		status = strands_meant(data, &name, 1, &a, &path, &n);
	arena_release(&a);
	return status;
}

/* ---- rating ---------------------------------------------------------------------------------- */

static enum how do_rate(struct desk *d, void *context)
{
	struct rate_args *x = context;
	desk_keeps(d, "Nothing was rated.");
	return rate_run(d, &x->how);
}

static int after_rating(struct desk *d, void *context)
{
	struct rate_args *x = context;
	if (x->how.refused) {
		cannot("%s", x->how.refused);
		return EXIT_NO;
	}
	if (!d->is_open && !x->how.is_done)
		return EXIT_NO;
	int status = seal_up(d->strand, d->sitting, &x->seal);
	return status ? status : x->how.passed ? EXIT_DONE : EXIT_NO;
}

/* The rater is who is named, or the one whose key seals. */
static int name_rater(struct rate_args *x, struct assessor *key)
{
	if (!x->how.rater && !x->seal.key)
		return cannot("who rates? name the rater, --rater NAME, or the assessor's key, "
			      "--key FILE");
	int status = seal_look(&x->seal, key);
	if (!status && !x->how.rater)
		x->how.rater = key->name;
	return status;
}

static int rate(const struct options *o, struct rate_args *x, const char *name)
{
	struct arena a = {0};
	struct rubric rubric = {0};
	struct assessor key;
	struct options own = *o;
	struct at_desk at = {.prepare = may_begin,
		.what = do_rate,
		.after = after_rating,
		.context = x,
		.sitting = x->sitting,
		.rubric = &rubric,
		.mode = "rate"};
	x->how.sealing = x->seal.key != NULL;
	x->options = &own;
	x->rubric = &rubric;
	int status = name_rater(x, &key);
	if (!status)
		status = load(find(o, name, &a), &a, &rubric);
	if (!status)
		status = sit_down_named(
			&own, "Rating bench work", "Whose work is it? Their name", &a);
	if (!status)
		status = sit_down(&own, &at);
	rubric_release(&rubric);
	arena_release(&a);
	return status;
}

/* ---- the command ----------------------------------------------------------------------------- */

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"piece", required_argument, NULL, 'p'},
		{"rater", required_argument, NULL, 'r'}, {"station", required_argument, NULL, 't'},
		{"moderate", no_argument, NULL, 'm'}, {"sitting", required_argument, NULL, 's'},
		SEAL_LONG_OPTIONS, {0}};
	struct rate_args x = {.how = {.piece = "1"}};
	int c;
	optind = 0;
	while ((c = option_next(&rate_command, argc, argv, known)) != -1) {
		if (c == '?')
			return EXIT_CANNOT;
		if ((c == 's' && !option_is_code(optarg, SITTING_CODE - 1)) ||
			(c == 'p' && !option_is_code(optarg, PIECE_MOST)))
			return cannot_read_usage(&rate_command,
				"the code of a %s is 1 to %d letters, digits and -",
				c == 's' ? "sitting" : "piece",
				c == 's' ? SITTING_CODE - 1 : PIECE_MOST);
		x.sitting = c == 's' ? optarg : x.sitting;
		x.how.piece = c == 'p' ? optarg : x.how.piece;
		x.how.rater = c == 'r' ? optarg : x.how.rater;
		x.how.station = c == 't' ? optarg : x.how.station;
		x.how.moderate |= c == 'm';
		if (seal_option(&x.seal, c, optarg) == SEAL_OPTION_BAD)
			return EXIT_CANNOT;
	}
	if (argc - optind != 1)
		return cannot_read_usage(&rate_command, "which rubric?");
	return rate(o, &x, argv[optind]);
}

const struct command rate_command = {
	"rate",
	"barwright rate --learner NAME [--rater NAME] [--piece CODE] [--station CODE] "
	"[--moderate]\n"
	"                      [--key FILE ...] RUBRIC",
	"an instructor rates bench work",
	"RUBRIC is the code of a rubric, or its file. Readings are judged with the instrument's "
	"error; "
	"a\nsecond rater starts the same command under another name and does not see what the "
	"first "
	"one\nsaid. Exit status 1 when the work does not pass, or something is open.\n"
	"  --learner NAME   whose work it is\n"
	"  --rater NAME     who rates; without it, who the key belongs to\n"
	"  --piece CODE     which piece of work, when a candidate shows it again (1)\n"
	"  --station CODE   this station only\n"
	"  --moderate       settle what two raters differ on; what each of them said is kept\n"
	"With a key the rating counts as assessed, without one as practice:\n"
	"  --key FILE       the assessor's key: seals the record when it is over\n"
	"  --identity HOW   how the assessor knew whose work it is\n"
	"  --time TIME      by the assessor's own watch: 09:30, or 2026-11-25 09:30\n"
	"  --witness FILE   the assessor's list of seals (witness.jsonl beside the key)\n"
	"  --phrase FILE    a file whose first line is the passphrase, where nobody can type it\n",
	run,
};
