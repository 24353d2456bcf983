/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "course/course.h"

#include <string.h>

const struct module *course_module(const struct course *c, const char *code)
{
	for (size_t i = 0; i < c->nmodule; i++)
		if (strcmp(c->module[i].code, code) == 0)
			return &c->module[i];
	return NULL;
}

const struct problem *course_problem(const struct course *c, const char *code)
{
	for (size_t low = 0, high = c->nproblem; low < high;) {
		size_t middle = low + (high - low) / 2;
		int order = strcmp(code, c->by_code[middle]->code);
		if (!order)
			return c->by_code[middle];
		if (order < 0)
			high = middle;
		else
			low = middle + 1;
	}
	return NULL;
}

const struct competency *course_competency(const struct course *c, const char *code)
{
	for (size_t i = 0; i < c->ncompetency; i++)
		if (strcmp(c->competency[i].code, code) == 0)
			return &c->competency[i];
	return NULL;
}

void course_release(struct course *c)
{
	arena_release(&c->arena);
	*c = (struct course){0};
}
