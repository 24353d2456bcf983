/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bench: one whole random run (120 decisions, the case drawn and all) against the millisecond it
 * may take; a run of somebody who knows against the same; and the procedure from disk to typed steps
 * with compiled formulas against libyaml building its own tree of the same bytes. */
#include "bench.h"

#include <math.h>
#include <string.h>
#include <yaml.h>

#include <barwright/base/file.h>

#include "course/load.h"
#include "unit/bench/play.h"

static struct play play;

static double random_run(void *context)
{
	uint32_t *n = context;
	double start = bench_now_us();
	play_random_run(play.bench, play.whole, ++*n);
	return bench_now_us() - start;
}

static double known_run(void *context)
{
	uint32_t *n = context;
	unsigned char key[BENCH_KEY];
	size_t at;
	double start = bench_now_us();
	play_key(++*n, key);
	bench_start(play.bench, key, play.whole, BENCH_FREE);
	bench_work_on(play.bench, play.bench->from, play.bench->to, SIZE_MAX, &at);
	bench_end(play.bench, END_ACCEPTED);
	return bench_now_us() - start;
}

static double a_millisecond(void *context)
{
	(void)context;
	return 1000;
}

static const char path[] = "courses/procedures/hand-made-bar.yaml";

static double load(void *context)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct procedure p;
	(void)context;
	double start = bench_now_us();
	if (procedure_load(path, &p, &d) || d.nerror)
		exit(1);
	procedure_release(&p);
	arena_release(&a);
	return bench_now_us() - start;
}

static double tree(void *context)
{
	struct arena a = {0};
	yaml_parser_t parser;
	yaml_document_t document;
	char *bytes;
	size_t len;
	(void)context;
	double start = bench_now_us();
	if (file_read(path, COURSE_FILE_BYTES, &a, &bytes, &len))
		exit(1);
	yaml_parser_initialize(&parser);
	yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, len);
	if (!yaml_parser_load(&parser, &document))
		exit(1);
	yaml_document_delete(&document);
	yaml_parser_delete(&parser);
	arena_release(&a);
	return bench_now_us() - start;
}

int main(void)
{
	uint32_t n = 0;
	if (!play_open(&play))
		return 1;
	bench_ratio("one random run at the bench / a millisecond", "aim 1", 1001, random_run,
		a_millisecond, &n);
	bench_ratio("one run of all 52 steps / a millisecond", "aim 1", 1001, known_run,
		a_millisecond, &n);
	bench_ratio("procedure load / libyaml's tree of the same bytes", "aim 1.5", 101, load, tree,
		NULL);
	play_close(&play);
	return 0;
}
