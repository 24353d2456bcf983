/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "formula/function.h"

#include <string.h>

const struct function *function_row(size_t i)
{
	const struct {
		const struct function *row;
		size_t n;
	} tables[] = {{function_plain, function_plain_rows},
		{function_design, function_design_rows}, {function_bench, function_bench_rows}};
	for (size_t t = 0; t < sizeof tables / sizeof *tables; t++) {
		if (i < tables[t].n)
			return &tables[t].row[i];
		i -= tables[t].n;
	}
	return NULL;
}

const struct function *function_find(const char *name, size_t len, size_t from, size_t *at)
{
	const struct function *f;
	for (size_t i = from; (f = function_row(i)) != NULL; i++)
		if (strlen(f->name) == len && memcmp(f->name, name, len) == 0) {
			*at = i;
			return f;
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
