/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/function.h"

#include <string.h>

/* The pages of an author's reference, in its order. */
static const struct page {
	const char *title;
	const struct function *row;
	const size_t *n;
} pages[] = {
	{"Mathematics and lists", function_plain, &function_plain_rows},
	{"The arch", function_arch, &function_arch_rows},
	{"Space and holes", function_space, &function_space_rows},
	{"Load on the sites", function_loads, &function_loads_rows},
	{"A flexible bar", function_frame, &function_frame_rows},
	{"Sections, beams, strength", function_beam, &function_beam_rows},
	{"At the bench", function_bench, &function_bench_rows},
	{"Readings", function_readings, &function_readings_rows},
	{"Planning", function_planning, &function_planning_rows},
};

struct function_table function_table(size_t i)
{
	if (i >= sizeof pages / sizeof *pages)
		return (struct function_table){NULL, NULL, 0};
	return (struct function_table){pages[i].title, pages[i].row, *pages[i].n};
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
