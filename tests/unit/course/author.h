/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the tests of the course floor share: a document read from a text, a folder of files that goes
 * away again, and a comparison of what the author is told. */
#ifndef BARWRIGHT_TESTS_AUTHOR_H
#define BARWRIGHT_TESTS_AUTHOR_H

#include "near.h"
#include "told.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include <barwright/base/file.h>

#include "course/doc.h"
#include "course/load.h"

/* ---- one text -------------------------------------------------------------------------------- */

struct author {
	struct arena arena;
	struct source source;
	struct diags diags;
	struct doc doc;
	struct document file;
};

/* The text must stay; `w` must not move. */
static inline void author_writes(struct author *w, const char *text)
{
	*w = (struct author){.source = {"x.yaml", text, strlen(text)}};
	w->diags.arena = &w->arena;
	w->doc = (struct doc){.arena = &w->arena, .aside = &w->arena, .diags = &w->diags};
	document_read(&w->doc, &w->source, &w->file);
}

static inline void author_ends(struct author *w)
{
	arena_release(&w->arena);
}

static inline void same_text_at(
	const char *file, int line, const char *why, const char *got, const char *want)
{
	if (got && want && strcmp(got, want) == 0)
		return;
	print_error("%s:%d: %s: want \"%s\", got \"%s\"\n", file, line, why, want ? want : "(null)",
		got ? got : "(null)");
	_fail(file, line);
}
#define same_text(why, got, want) same_text_at(__FILE__, __LINE__, (why), (got), (want))

static inline void same_whole_at(
	const char *file, int line, const char *why, long long got, long long want)
{
	if (got == want)
		return;
	print_error("%s:%d: %s: want %lld, got %lld\n", file, line, why, want, got);
	_fail(file, line);
}
#define same_whole(why, got, want) \
	same_whole_at(__FILE__, __LINE__, (why), (long long)(got), (long long)(want))

/* ---- a folder of files ------------------------------------------------------------------------ */

struct shelf {
	char folder[64];
};

static inline void shelf_open(struct shelf *s)
{
	memcpy(s->folder, "/tmp/barwright-course-XXXXXX", 29);
	assert_non_null(mkdtemp(s->folder));
}

/* Puts a file into it; `name` may have folders in front. */
static inline void shelf_put(const struct shelf *s, const char *name, const char *text)
{
	char path[256];
	snprintf(path, sizeof path, "%s/%s", s->folder, name);
	char *slash = strrchr(path, '/');
	*slash = 0;
	code_is(folder_make(path), FINE);
	*slash = '/';
	code_is(file_replace(path, text, strlen(text), false), FINE);
}

static inline void shelf_close(struct shelf *s)
{
	char command[128];
	snprintf(command, sizeof command, "rm -r %s", s->folder);
	assert_int_equal(system(command), 0);
}

#endif
