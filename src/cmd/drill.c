/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <stdlib.h>
#include <string.h>

#include <barwright/base/number.h>

#include "cmd/options.h"
#include "cmd/sit_down.h"
#include "cmd/topics.h"
#include "drill/drill.h"

struct drill_args {
	const char *topic; /* a module's or a problem's code; null: mixed */
	const struct module *module;
	const struct problem *problem;
	unsigned long count;
	bool alone;
};

static const struct module *module_of(const struct course *c, const struct problem *p)
{
	for (size_t k = 0; k < c->nmodule; k++) {
		const struct module *m = &c->module[k];
		if (p >= m->problem && p < m->problem + m->nproblem)
			return m;
	}
	return NULL;
}

static int find_topic(void *context, const struct course *c)
{
	struct drill_args *a = context;
	if (!a->topic)
		return EXIT_DONE;
	a->module = course_module(c, a->topic);
	if (a->module)
		return a->module->nproblem ? EXIT_DONE
					   : cannot("'%s' has lessons but no tasks", a->topic);
	a->problem = course_problem(c, a->topic);
	if (!a->problem)
		return topic_unknown(c, a->topic, " and no task");
	a->module = module_of(c, a->problem);
	return EXIT_DONE;
}

static enum how do_drill(struct desk *d, void *context)
{
	const struct drill_args *a = context;
	d->alone = a->alone;
	return drill_run(d, a->module, a->problem, a->count);
}

static bool read_count(const char *s, unsigned long *out)
{
	struct decimal d;
	if (decimal_read(s, strlen(s), &d) || d.places || d.digits < 1 || d.digits > 100000)
		return false;
	*out = (unsigned long)d.digits;
	return true;
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"count", required_argument, NULL, 'c'},
		{"sitting", required_argument, NULL, 's'}, {"unrecorded", no_argument, NULL, 'u'},
		{"alone", no_argument, NULL, 'a'}, {0}};
	struct drill_args a = {0};
	struct at_desk at = {.prepare = find_topic, .what = do_drill, .context = &a};
	int c;
	optind = 0;
	while ((c = option_next(&drill_command, argc, argv, known)) != -1) {
		if (c == 'c' && !read_count(optarg, &a.count))
			return cannot_read_usage(
				&drill_command, "--count takes a whole number from 1");
		if (c == 's' && !option_is_code(optarg, SITTING_CODE - 1))
			return cannot_read_usage(&drill_command,
				"a sitting's code is 1 to %d letters, digits and -",
				SITTING_CODE - 1);
		if (c == '?')
			return EXIT_CANNOT;
		at.sitting = c == 's' ? optarg : at.sitting;
		at.unrecorded |= c == 'u';
		a.alone |= c == 'a';
	}
	if (argc - optind > 1)
		return cannot_read_usage(&drill_command, "one topic at a time");
	a.topic = argv[optind];
	return sit_down(o, &at);
}

const struct command drill_command = {
	"drill",
	"barwright drill [--alone] [--count N] [--sitting CODE] [--unrecorded] [TOPIC]",
	"practise tasks whose numbers are drawn anew each time",
	"TOPIC is the code of a topic or of one task; without it the topics are mixed,\n"
	"what is due first. The first task of a kind comes after a worked example.\n"
	"  --alone          no worked example first, and no steps given\n"
	"  --count N        stop after N tasks\n"
	"  --sitting CODE   name the sitting: with the same code a learner gets the same\n"
	"                   numbers again\n"
	"  --unrecorded     keep no record of this sitting\n",
	run,
};
