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

static const struct hash *content_hash(struct content *c)
{
	if (!c->is_known)
		c->hash = hash_bytes(c->file->text, c->file->len);
	c->is_known = true;
	return &c->hash;
}

struct hash problem_hash(const struct problem *p)
{
	return p->content ? *content_hash(p->content) : hash_bytes(p->file->text, p->file->len);
}

struct hash course_hash(const struct course *c)
{
	struct hash_state all;
	hash_start(&all);
	for (struct content *file = c->content; file; file = file->next)
		hash_add(&all, content_hash(file)->byte, HASH_BYTES);
	return hash_end(&all);
}

bool problem_is_same(const struct problem *p, const struct hash *then)
{
	struct hash now = problem_hash(p);
	return hash_is_equal(&now, then);
}

bool course_is_same(const struct course *c, const struct hash *then)
{
	struct hash now = course_hash(c);
	return hash_is_equal(&now, then);
}

void course_release(struct course *c)
{
	arena_release(&c->arena);
	*c = (struct course){0};
}
