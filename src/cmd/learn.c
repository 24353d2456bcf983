/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/options.h"
#include "cmd/sit_down.h"
#include "cmd/topics.h"
#include "drill/learn.h"
#include "drill/topic.h"

struct learn_args {
	const char *topic;
	const struct module *module;
};

static int find_module(void *context, const struct course *c)
{
	struct learn_args *a = context;
	a->module = a->topic ? course_module(c, a->topic) : NULL;
	return a->topic && !a->module ? topic_unknown(c, a->topic, "") : EXIT_DONE;
}

static enum how do_learn(struct desk *d, void *context)
{
	struct learn_args *a = context;
	enum how how = a->module ? HOW_DONE : topic_ask(d, "Read a lesson", &a->module);
	return how ? how : learn_run(d, a->module);
}

static int run(const struct options *o, int argc, char **argv)
{
	static const struct option known[] = {{"unrecorded", no_argument, NULL, 'u'}, {0}};
	struct learn_args a = {0};
	struct at_desk at = {
		.prepare = find_module, .what = do_learn, .context = &a, .only_reads = true};
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
	"barwright learn [--unrecorded] [TOPIC]",
	"read the lessons of a topic",
	"TOPIC is the code of a topic; without it you are asked. After the last page its\n"
	"tasks can be practised.\n"
	"  --unrecorded     keep no record of what is practised then\n",
	run,
};
