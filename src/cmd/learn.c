/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "cmd/options.h"
#include "cmd/sit_down.h"
#include "drill/learn.h"

struct learn_args {
	const char *topic;
	const struct module *module;
};

static int find_module(void *context, const struct course *c)
{
	struct learn_args *a = context;
	struct text t;
	a->module = a->topic ? course_module(c, a->topic) : NULL;
	if (a->module)
		return EXIT_DONE;
	text_init(&t);
	for (size_t k = 0; k < c->nmodule; k++)
		text_addf(
			&t, "\n  barwright learn %s    %s", c->module[k].code, c->module[k].title);
	int status =
		a->topic ? cannot("the course has no topic '%s'. Its lessons:%s", a->topic, t.at)
			 : cannot("which lesson?%s", t.at);
	text_release(&t);
	return status;
}

static enum how do_learn(struct desk *d, void *context)
{
	const struct learn_args *a = context;
	return learn_run(d, a->module);
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"unrecorded", no_argument, NULL, 'u'}, {0}};
	struct learn_args a = {0};
	struct at_desk at = {.prepare = find_module, .what = do_learn, .context = &a};
	int c;
	optind = 0;
	while ((c = option_next(&learn_command, argc, argv, known)) != -1) {
		if (c == '?')
			return EXIT_CANNOT;
		at.unrecorded = true;
	}
	if (argc - optind > 1)
		return cannot_read_usage(&learn_command, "one topic at a time");
	a.topic = argv[optind];
	return sit_down(o, &at);
}

const struct command learn_command = {
	"learn",
	"barwright learn [--unrecorded] TOPIC",
	"read the lessons of a topic",
	"TOPIC is the code of a topic; without it they are listed. After the last page its\n"
	"tasks can be practised.\n"
	"  --unrecorded     keep no record of what is practised then\n",
	run,
};
