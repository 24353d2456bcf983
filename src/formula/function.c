/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/function.h"

#include <string.h>

struct function_table function_table(size_t i)
{
	switch (i) {
	case 0:
		return (struct function_table){
			"Mathematics and lists", function_plain, function_plain_rows};
	case 1:
		return (struct function_table){"Bar design", function_design, function_design_rows};
	case 2:
		return (struct function_table){
			"A flexible bar", function_frame, function_frame_rows};
	case 3:
		return (struct function_table){"At the bench", function_bench, function_bench_rows};
	case 4:
		return (struct function_table){
			"Planning", function_planning, function_planning_rows};
	default:
		return (struct function_table){NULL, NULL, 0};
	}
}

const struct function *function_row(size_t i)
{
	for (size_t t = 0; function_table(t).title; t++) {
		struct function_table table = function_table(t);
		if (i < table.n)
			return &table.row[i];
		i -= table.n;
	}
	return NULL;
}

static bool is_called(const struct function *f, const char *name, size_t len)
{
	return *f->name == *name && strncmp(f->name, name, len) == 0 && !f->name[len];
}

const struct function *function_find(const char *name, size_t len, size_t from, size_t *at)
{
	size_t before = 0;
	for (size_t t = 0; len && function_table(t).title; t++) {
		struct function_table table = function_table(t);
		for (size_t i = from > before ? from - before : 0; i < table.n; i++)
			if (is_called(&table.row[i], name, len)) {
				*at = before + i;
				return &table.row[i];
			}
		before += table.n;
	}
	return NULL;
}

size_t function_parameters(const struct function *f)
{
	size_t n = 0;
	while (n < FUNCTION_PARAMETERS && f->parameter[n].name)
		n++;
	return n;
}

void function_add_form(const struct function *f, struct text *out)
{
	text_addf(out, "%s(", f->name);
	for (size_t i = 0; i < function_parameters(f); i++)
		text_addf(out, "%s%s", i ? ", " : "", f->parameter[i].name);
	text_add(out, f->more ? ", ...)" : ")");
}

const char *formula_function(size_t i, const char **does, const char **source)
{
	const struct function *f = function_row(i);
	if (!f)
		return NULL;
	*does = f->does;
	*source = f->source;
	return f->name;
}
