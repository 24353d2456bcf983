/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cmd/topics.h"

#include <string.h>

#include <barwright/base/nearest.h>

int topic_unknown(const struct course *c, const char *topic, const char *also)
{
	struct text list;
	struct nearest near = {.wanted = topic, .len = strlen(topic)};
	text_init(&list);
	for (size_t k = 0; k < c->nmodule; k++) {
		const struct module *m = &c->module[k];
		text_addf(&list, "\n  %-12s %s", m->code, m->title);
		nearest_offer(&near, m->code, strlen(m->code));
	}
	for (size_t k = 0; *also && k < c->nproblem; k++)
		nearest_offer(&near, c->by_code[k]->code, strlen(c->by_code[k]->code));
	int status = near.word ? cannot("course '%s' has no topic%s '%s'; did you mean '%s'?",
					 c->code, also, topic, near.word)
			       : cannot("course '%s' has no topic%s '%s'. Its topics:%s\n"
					"For those of another course: --course CODE",
					 c->code, also, topic, list.at);
	text_release(&list);
	return status;
}
