/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo course from disk to typed problems with compiled formulas, against libyaml building its own
 * tree of the same bytes (read from disk too). */
#include "bench.h"

#include <string.h>
#include <yaml.h>

#include <barwright/base/cipher.h>
#include <barwright/base/file.h>

#include "course/load.h"

enum { FILES = 1024 };
static const char *path[FILES];
static size_t npath;
static struct arena names;

static void collect(const char *folder)
{
	struct folder_entry *entry;
	size_t n;
	if (folder_list(folder, &names, &entry, &n))
		exit(1);
	for (size_t k = 0; k < n; k++) {
		const char *whole = folder_join(&names, folder, entry[k].name);
		size_t len = strlen(whole);
		if (entry[k].kind == FILE_FOLDER)
			collect(whole);
		else if (len > 5 && !strcmp(whole + len - 5, ".yaml")) {
			if (npath == FILES)
				exit(1);
			path[npath++] = whole;
		}
	}
}

static double ours(void *context)
{
	struct arena a = {0};
	struct diags d = {.arena = &a};
	struct course c;
	double start = bench_now_us();
	if (course_load(context, &c, &d) || d.nerror)
		exit(1);
	course_release(&c);
	arena_release(&a);
	return bench_now_us() - start;
}

static void load_document(const char *bytes, size_t len)
{
	yaml_parser_t parser;
	yaml_document_t document;
	yaml_parser_initialize(&parser);
	yaml_parser_set_input_string(&parser, (const unsigned char *)bytes, len);
	if (!yaml_parser_load(&parser, &document))
		exit(1);
	yaml_document_delete(&document);
	yaml_parser_delete(&parser);
}

static double base(void *context)
{
	(void)context;
	double start = bench_now_us();
	for (size_t k = 0; k < npath; k++) {
		struct arena a = {0};
		char *bytes;
		size_t len;
		if (file_read(path[k], COURSE_FILE_BYTES, &a, &bytes, &len))
			exit(1);
		load_document(bytes, len);
		arena_release(&a);
	}
	return bench_now_us() - start;
}

int main(void)
{
	static char course[] = "courses/hand-made-bar";
	if (cipher_start())
		return 1;
	collect(course);
	bench_ratio("course load / libyaml's tree of the same bytes", "aim 1.5", 301, ours, base,
		course);
	arena_release(&names);
	return 0;
}
